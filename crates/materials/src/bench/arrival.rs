//! What came on the lorry: a delivered sand or lime against the one ordered, what it does to the mix, and whether to send it back.

use reckoning::{Finding, Grade};
use serde::Serialize;

use super::error::Checks;
use super::{BenchError, Coat, Grading, LimeForm, LimeMeasured, PRACTICE, equivalent_parts, finding, judge_grading};
use crate::{Catalogue, Lime, LimeKind, Mix, Mortar, Sand, voids_share};

/// What the delivery does to a cubic metre of mortar, and the verdict.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Arrival {
    /// The entry as delivered, for the job's own catalogue.
    pub parts: f64,
    /// The mix as ordered.
    pub ordered: Mortar,
    /// The same proportions with what was delivered.
    pub same_parts: Mortar,
    /// The proportions that make up for it.
    pub adjusted: Mortar,
    /// Lime for the adjusted mix over that of the ordered one, by mass: what it does to the price of lime.
    pub lime_ratio: f64,
    /// Portlandite of the adjusted mix over that of the ordered one: time to carbonate grows with it.
    pub portlandite_ratio: f64,
    /// Verdict and reasons, the heaviest first: "stop" is "send it back".
    pub findings: Vec<Finding>,
}

/// A delivered sand in the place of an ordered one: `grading` by its sieves, `loose_kg_m3` by a weighed measure of dry sand.
///
/// The adjusted mix keeps the lime over the voids as it was ordered.
///
/// # Errors
/// Parts or entries the yield model refuses; a bulk density outside what can be.
pub fn arrival_of_sand(
    catalogue: &Catalogue,
    mix: &Mix,
    coat: &Coat,
    grading: &Grading,
    loose_kg_m3: f64,
) -> Result<(Sand, Arrival), Vec<BenchError>> {
    let mut checks = Checks::default();
    checks.number("The loose density of the sand delivered", loose_kg_m3, 1000.0, 2100.0, " kg/m³");
    checks.done()?;
    let ordered_sand = catalogue.sand(&mix.sand).map_err(one)?;
    let delivered = Sand {
        name: format!("{}, as delivered", ordered_sand.name),
        loose_kg_m3,
        largest_mm: grading.largest_mm().unwrap_or(ordered_sand.largest_mm),
        fines_share: grading.fines().map_or(ordered_sand.fines_share, |row| row.passing),
        ..ordered_sand.clone()
    };
    let voids = |sand: &Sand| voids_share(sand.loose_kg_m3, sand.particle_kg_m3);
    let parts = (mix.sand_parts * voids(ordered_sand) / voids(&delivered)).clamp(0.25, 6.0);
    let mut own = catalogue.clone();
    own.sands.insert(mix.sand.clone(), delivered.clone());
    let mut findings = judge_grading(grading, coat);
    findings.push(changed_size(ordered_sand, &delivered));
    findings.push(changed_voids(mix, voids(ordered_sand), voids(&delivered), parts));
    let arrival = arrival(catalogue, &own, mix, parts, findings)?;
    Ok((delivered, arrival))
}

/// A delivered lime in the place of an ordered one. The adjusted mix keeps portlandite between air limes and binder mass between hydraulic ones.
///
/// # Errors
/// As [`arrival_of_sand`].
pub fn arrival_of_lime(catalogue: &Catalogue, mix: &Mix, delivered: &LimeMeasured) -> Result<(Lime, Arrival), Vec<BenchError>> {
    let ordered = catalogue.lime(&mix.lime).map_err(one)?;
    let entry = delivered.entry(ordered)?;
    let spoken = measured(ordered);
    let exchanged = equivalent_parts(&spoken, delivered, mix.sand_parts)?;
    let mut findings = exchanged.findings;
    if ordered.kind != entry.kind {
        let says = format!("{} was ordered and a lime of another kind came.", ordered.name);
        let reason = "It sets, cures and weathers in another way, and the programme was made for the one ordered.";
        findings.push(finding(Grade::Stop, "other-lime", says, reason, PRACTICE, "Send it back, or specify the work afresh."));
    } else if (exchanged.parts / mix.sand_parts - 1.0).abs() <= 0.05 {
        findings.push(finding(
            Grade::Agrees,
            "lime-strength",
            "A litre of it is worth what was ordered, within 5 %.",
            "Boxes measure volume, and lime works by mass.",
            PRACTICE,
            "",
        ));
    } else {
        let says = format!("A litre of it is worth {:.2} of what was ordered.", exchanged.parts / mix.sand_parts);
        let remedy = format!("Gauge it 1 : {:.2}, or let a light putty stiffen and weigh again.", exchanged.parts);
        findings.push(finding(Grade::Think, "lime-strength", says, "Boxes measure volume, and lime works by mass.", PRACTICE, remedy));
    }
    // The yield model speaks quicklime as its putty, so its parts do not change with the quicklime's own bulk.
    let parts = if entry.kind == LimeKind::Quicklime { mix.sand_parts } else { exchanged.parts.clamp(0.25, 6.0) };
    let mut own = catalogue.clone();
    own.limes.insert(mix.lime.clone(), entry.clone());
    let arrival = arrival(catalogue, &own, mix, parts, findings)?;
    Ok((entry, arrival))
}

fn one(error: crate::MaterialsError) -> Vec<BenchError> {
    vec![BenchError::Mix(error)]
}

fn arrival(ordered: &Catalogue, own: &Catalogue, mix: &Mix, parts: f64, mut findings: Vec<Finding>) -> Result<Arrival, Vec<BenchError>> {
    let adjusted_mix = Mix { sand_parts: parts, ..mix.clone() };
    let (before, same) = (ordered.mortar(mix).map_err(one)?, own.mortar(mix).map_err(one)?);
    let adjusted = own.mortar(&adjusted_mix).map_err(one)?;
    findings.sort_by_key(|finding| finding.grade);
    Ok(Arrival {
        parts,
        lime_ratio: adjusted.lime_kg_m3 / before.lime_kg_m3,
        portlandite_ratio: adjusted.portlandite_mol_m3 / before.portlandite_mol_m3,
        ordered: before,
        same_parts: same,
        adjusted,
        findings,
    })
}

/// A catalogue lime as if it had been weighed.
fn measured(lime: &Lime) -> LimeMeasured {
    let litre_kg = lime.bulk_kg_m3 / 1000.0;
    let solids = crate::putty_solids_share(lime.bulk_kg_m3);
    let form = match lime.kind {
        LimeKind::Putty => LimeForm::Putty { purity: (lime.portlandite_share / solids).min(1.0) },
        LimeKind::Hydrate => LimeForm::Hydrate { purity: lime.portlandite_share },
        LimeKind::Quicklime => LimeForm::Quicklime { purity: (lime.portlandite_share / physics::lime::SLAKED_KG_KG).min(1.0) },
        LimeKind::Hydraulic => LimeForm::Hydraulic { class_mpa: lime.class_mpa.unwrap_or(2.0), purity: lime.portlandite_share },
    };
    LimeMeasured { name: lime.name.clone(), form, litre_kg }
}

fn changed_size(ordered: &Sand, delivered: &Sand) -> Finding {
    let says = format!("The largest grain is {} mm; {} mm was ordered.", delivered.largest_mm, ordered.largest_mm);
    let (reason, ratio) = ("The size of the grain sets the texture of a thrown face.", delivered.largest_mm / ordered.largest_mm);
    if (0.75..=1.3).contains(&ratio) {
        return finding(Grade::Agrees, "size-delivered", says, reason, PRACTICE, "");
    }
    let grade = if (0.45..=2.2).contains(&ratio) { Grade::Think } else { Grade::Stop };
    let remedy = if grade == Grade::Stop {
        "Send it back: it is another sand."
    } else {
        "Use it only where the coat takes that size; throw a panel first."
    };
    finding(grade, "size-delivered", says, reason, PRACTICE, remedy)
}

fn changed_voids(mix: &Mix, ordered: f64, delivered: f64, parts: f64) -> Finding {
    let says = format!("Its voids are {:.0} %; those of the sand ordered are {:.0} %.", 100.0 * delivered, 100.0 * ordered);
    let reason = "Voids are filled by lime: a sand with more of them needs more lime, and a mix kept as it was would be lean.";
    if (delivered - ordered).abs() <= 0.02 {
        return finding(Grade::Agrees, "voids-delivered", says, reason, PRACTICE, "");
    }
    let remedy = format!("Mix 1 : {parts:.2} instead of 1 : {:.2}, or send it back.", mix.sand_parts);
    finding(Grade::Think, "voids-delivered", says, reason, PRACTICE, remedy)
}
