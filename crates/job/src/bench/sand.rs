//! The sand file: sieves, voids, bulking, silt and origin of each sand, the coat that wants it, a blend, and a delivery against what was ordered.

use materials::bench::{
    Blend, BlendSand, Bulking, Coat, Fineness, FinenessModulus, Grading, Laying, Silt, TargetPoint, Voids, arrival_of_sand, blend,
    bulking_by_moisture, bulking_jar, judge_grading, judge_organic, judge_origin, silt_jar, void_test,
};
use materials::{Catalogue, Sand};
use reckoning::Finding;
use rust_decimal::Decimal;
use rust_decimal::prelude::FromPrimitive;
use serde::Serialize;

use super::{ArrivalReport, Delivered, delivery_money, grading, mix, pairs, read, sand_entry, tell};
use crate::problem::Problem;
use crate::trial::reader::{Section, from_to};

/// What the tests say of one sand.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SandResult {
    /// Name.
    pub name: String,
    /// Curve.
    pub grading: Grading,
    /// Fineness modulus.
    pub fineness_modulus: Option<FinenessModulus>,
    /// Sizes below which a tenth, three tenths, half and six tenths lie, mm.
    pub sizes_mm: [Option<f64>; 4],
    /// D60/D10.
    pub uniformity: Option<f64>,
    /// D30²/(D10·D60).
    pub curvature: Option<f64>,
    /// Void test.
    pub voids: Option<Voids>,
    /// Bulking.
    pub bulking: Option<Bulking>,
    /// Silt jar.
    pub silt: Option<Silt>,
    /// What to think of it.
    pub findings: Vec<Finding>,
}

/// A blend with its price.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BlendReport {
    /// The sands, in order.
    pub names: Vec<String>,
    /// The blend.
    pub blend: Blend,
    /// Price of a tonne of it, in the money of the file; `None` unless every sand has a price.
    pub price_per_t: Option<Decimal>,
    /// The blend as an entry for the job file's own catalogue, TOML: with it specification, order, curing and price use the blend.
    pub entry: String,
}

/// What the bench says of the file.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SandReport {
    /// Title of the file.
    pub title: String,
    /// The coat that wants it.
    pub coat: Option<Coat>,
    /// Each sand.
    pub sands: Vec<SandResult>,
    /// The curve a blend should come nearest to; empty for none.
    pub target: Vec<TargetPoint>,
    /// The blend, if a target was set.
    pub blend: Option<BlendReport>,
    /// The first sand against what was ordered, if that was said.
    pub arrival: Option<ArrivalReport>,
}

/// A sand as read.
struct SandRead {
    result: SandResult,
    loose_kg_m3: Option<f64>,
    particle_kg_m3: f64,
    share: (f64, f64),
    price: Option<Decimal>,
}

/// Reads a sand file and works it.
///
/// # Errors
/// Every problem at once: of the text, of the fields, and of measurements that cannot be true.
pub fn read_sand(text: &str, name: &str) -> Result<SandReport, Vec<Problem>> {
    read(text, name, whole)
}

fn whole(root: &Section<'_, '_>) -> Option<SandReport> {
    let title = root.needs_text("title", "Say in one line what is tested.");
    let coat = root.section("coat").map(|section| coat(&section));
    let sections = root.sections("sands");
    if sections.is_empty() {
        root.missing("sands", "At least one sand is tested.", "Add [[sands]] with name, sieves_mm and passing_percent.");
    }
    let asked = coat.as_ref().and_then(Option::as_ref);
    let sands: Vec<Option<SandRead>> = sections.iter().map(|section| sand(section, asked)).collect();
    let target = root.section("target");
    let points = target.as_ref().map(target_points);
    let ordered = root.section("ordered");
    let catalogue = Catalogue::shipped();
    let mut prices = None;
    let mix = ordered.as_ref().map(|section| {
        let mix = mix(section, &catalogue);
        prices = super::prices(section);
        section.finish();
        mix
    });
    root.finish();
    let sands: Vec<SandRead> = sands.into_iter().collect::<Option<_>>()?;
    let mut wished = Vec::new();
    let blend = match (target, points) {
        (Some(section), Some(points)) => {
            wished = points?;
            Some(blended(&section, &sands, &wished)?)
        }
        _ => None,
    };
    let arrival = match (ordered, mix) {
        (Some(section), Some(mix)) => {
            let mix = mix?;
            let first = sands.first()?;
            let coat = asked.copied().unwrap_or(Coat { laying: Laying::Trowelled, thickness_mm: 12.0 });
            let loose = needs_loose(&section, first)?;
            let (delivered, arrival) = tell(&section, arrival_of_sand(&catalogue, &mix, &coat, &first.result.grading, loose))?;
            let entry = sand_entry(&format!("{}-delivered", mix.sand), &mix.sand, &delivered);
            let money =
                delivery_money(&arrival, prices, (catalogue.limes.get(&mix.lime).map_or(1000.0, |lime| lime.unit_kg), delivered.unit_kg));
            Some(ArrivalReport { mix, arrival, entry, money, delivered: Delivered::Sand(delivered) })
        }
        _ => None,
    };
    Some(SandReport {
        title: title?.to_owned(),
        coat: asked.copied(),
        target: wished,
        sands: sands.into_iter().map(|sand| sand.result).collect(),
        blend,
        arrival,
    })
}

fn coat(section: &Section<'_, '_>) -> Option<Coat> {
    let laying = section.needs_choice("laying", &[("trowelled", Laying::Trowelled), ("thrown", Laying::Thrown)]);
    let thickness_mm = section.needs_number("thickness_mm", from_to(1.0, 60.0));
    section.finish();
    Some(Coat { laying: laying?, thickness_mm: thickness_mm? })
}

fn sand(section: &Section<'_, '_>, coat: Option<&Coat>) -> Option<SandRead> {
    let name = section.needs_text("name", "Name the sand.");
    let curve = grading(section);
    let (loose, particle) = (section.number("loose_kg_l", from_to(1.0, 2.2)), section.number("particle_kg_l", from_to(2.0, 3.5)));
    let least = section.number("least_percent", from_to(0.0, 100.0)).unwrap_or(0.0);
    let most = section.number("most_percent", from_to(0.0, 100.0)).unwrap_or(100.0);
    let price = section.number("price_per_t", from_to(0.0, 1e6)).and_then(Decimal::from_f64);
    let voids =
        pairs(section, ("void_sand_ml", 50.0, 20_000.0), ("void_water_ml", 1.0, 20_000.0)).and_then(|rows| tell(section, void_test(&rows)));
    let silt = heights(section, "sand_height_mm", "silt_height_mm").and_then(|(sand, silt)| tell(section, silt_jar(sand, silt)));
    let mut findings = jar_findings(section);
    let jar = heights(section, "damp_height_mm", "flooded_height_mm").and_then(|(damp, flooded)| tell(section, bulking_jar(damp, flooded)));
    let moisture = section.number("moisture_percent", from_to(0.0, 40.0));
    section.finish();
    let grading = curve?;
    let modulus = grading.fineness_modulus();
    let by_table = || {
        let fineness = Fineness::of_modulus(modulus?.value);
        tell(section, bulking_by_moisture(moisture? / 100.0, fineness))
    };
    let bulking = jar.or_else(by_table);
    findings.extend(coat.map(|coat| judge_grading(&grading, coat)).unwrap_or_default());
    findings.extend(voids.iter().flat_map(|voids| voids.findings.clone()));
    findings.extend(silt.iter().map(|silt| silt.finding.clone()));
    findings.sort_by_key(|finding| finding.grade);
    let result = SandResult {
        name: name?.to_owned(),
        fineness_modulus: modulus,
        sizes_mm: [0.1, 0.3, 0.5, 0.6].map(|share| grading.size_mm(share)),
        uniformity: grading.uniformity(),
        curvature: grading.curvature(),
        grading,
        voids,
        bulking,
        silt,
        findings,
    };
    let particle_kg_m3 = 1000.0 * particle.unwrap_or(2.65);
    Some(SandRead { result, loose_kg_m3: loose.map(|loose| 1000.0 * loose), particle_kg_m3, share: (least / 100.0, most / 100.0), price })
}

/// Origin and organic matter, where they were said.
fn jar_findings(section: &Section<'_, '_>) -> Vec<Finding> {
    const ORIGINS: [(&str, &str); 4] = [("pit", "pit"), ("river", "river"), ("beach", "beach"), ("unknown", "unknown")];
    let origin = section.choice("origin", &ORIGINS);
    let chloride = section.number("chloride_percent", from_to(0.0, 10.0)).map(|percent| percent / 100.0);
    let mut findings = Vec::new();
    if origin.is_some() || chloride.is_some() {
        findings.push(judge_origin(origin.unwrap_or("unknown"), chloride));
    }
    if section.has("organic_darker") {
        findings.push(judge_organic(section.flag("organic_darker", false)));
    }
    findings
}

/// Two heights of a jar, both or neither.
fn heights(section: &Section<'_, '_>, first: &'static str, second: &'static str) -> Option<(f64, f64)> {
    if !section.has(first) && !section.has(second) {
        return None;
    }
    let (a, b) = (section.needs_number(first, from_to(0.0, 10_000.0)), section.needs_number(second, from_to(0.0, 10_000.0)));
    Some((a?, b?))
}

fn target_points(section: &Section<'_, '_>) -> Option<Vec<TargetPoint>> {
    let wished = pairs(section, ("sieves_mm", 0.01, 125.0), ("passing_percent", 0.0, 100.0));
    if !section.has("sieves_mm") {
        section.missing("sieves_mm", "The target is a list of sieves with what should pass.", "Add sieves_mm and passing_percent.");
    }
    let count = wished.as_ref().map_or(0, Vec::len);
    let limit = |key: &'static str, otherwise: f64| {
        let list = section.numbers(key, from_to(0.0, 100.0)).unwrap_or_else(|| vec![otherwise; count]);
        if list.len() != count {
            section.contradicts(
                key,
                format!("`{key}` has {} numbers for {count} sieves.", list.len()),
                "Every sieve has one limit.",
                "Make the lists equally long.",
            );
        }
        list
    };
    let (least, most) = (limit("least_percent", 0.0), limit("most_percent", 100.0));
    section.finish();
    let rows = wished?.into_iter().zip(least.into_iter().zip(most));
    Some(
        rows.map(|((opening_mm, passing), (low, high))| TargetPoint {
            opening_mm,
            passing: passing / 100.0,
            limits: (low / 100.0, high / 100.0),
        })
        .collect(),
    )
}

fn needs_loose(section: &Section<'_, '_>, sand: &SandRead) -> Option<f64> {
    if sand.loose_kg_m3.is_none() {
        section.missing(
            "loose_kg_l",
            format!("{} needs loose_kg_l: the mass of a litre of it, dry and loose.", sand.result.name),
            "Weigh a struck measure and add loose_kg_l to the sand.",
        );
    }
    sand.loose_kg_m3
}

fn blended(section: &Section<'_, '_>, sands: &[SandRead], points: &[TargetPoint]) -> Option<BlendReport> {
    let loose: Vec<Option<f64>> = sands.iter().map(|sand| needs_loose(section, sand)).collect();
    let loose: Vec<f64> = loose.into_iter().collect::<Option<_>>()?;
    let given: Vec<BlendSand> = sands
        .iter()
        .zip(loose)
        .map(|(sand, loose_kg_m3)| BlendSand {
            name: sand.result.name.clone(),
            grading: sand.result.grading.clone(),
            loose_kg_m3,
            particle_kg_m3: sand.particle_kg_m3,
            share: sand.share,
        })
        .collect();
    let blend = tell(section, blend(&given, points))?;
    let price = |(sand, share): (&SandRead, &f64)| Some(sand.price? * Decimal::from_f64(*share)?);
    let price_per_t: Option<Decimal> = sands.iter().zip(&blend.shares).map(price).sum::<Option<Decimal>>().map(|sum| sum.round_dp(2));
    let names: Vec<String> = given.into_iter().map(|sand| sand.name).collect();
    let entry = blend_entry(&names, sands, &blend);
    Some(BlendReport { names, blend, price_per_t, entry })
}

/// Sand of the catalogue that a blend is taken to be like where the bench says nothing of it: its unit of sale, moisture and colour.
const BLEND_LIKE: &str = "sharp-0-4";

/// The blend as a job's own entry. Its loose density lies between that of sands side by side and that of sands that fill each other's gaps: the middle of the
/// two, to be weighed when it is mixed.
fn blend_entry(names: &[String], sands: &[SandRead], blend: &Blend) -> String {
    let solid: f64 = sands.iter().zip(&blend.shares).map(|(sand, share)| share / sand.particle_kg_m3).sum();
    let particle_kg_m3 = 1.0 / solid;
    let voids = 0.5 * (blend.voids.0 + blend.voids.1);
    let parts: Vec<String> = names.iter().zip(&blend.shares).map(|(name, share)| format!("{:.0} % {name}", 100.0 * share)).collect();
    let catalogue = Catalogue::shipped();
    let Some(like) = catalogue.sands.get(BLEND_LIKE) else { return String::new() };
    let sand = Sand {
        name: format!("Blend of {}", parts.join(", ")),
        loose_kg_m3: particle_kg_m3 * (1.0 - voids),
        particle_kg_m3,
        // The least sieve that all of it passes, as far as the target's sieves can say.
        largest_mm: blend.grading.largest_mm().unwrap_or(4.0),
        fines_share: blend.grading.fines().map_or(0.0, |row| row.passing),
        ..like.clone()
    };
    sand_entry("own-blend", BLEND_LIKE, &sand)
}
