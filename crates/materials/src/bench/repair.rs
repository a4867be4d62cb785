//! The nearest sensible repair mix to an old mortar, with its reasons. It copies the kind and the fatness, never a number to two places.

use reckoning::{Finding, Grade};
use serde::Serialize;

use super::{Grading, OldMortar, PRACTICE, finding};
use crate::Catalogue;

/// Where the cementation index divides limes, and the lime proposed: Eckel and Boynton, from memory.
const CLASSES: [(f64, &str, &str); 4] = [
    (0.3, "putty-cl90", "air lime"),
    (0.5, "nhl-2", "feebly hydraulic"),
    (0.7, "nhl-3-5", "moderately hydraulic"),
    (1.1, "nhl-5", "eminently hydraulic"),
];
/// Range wider than this, most over least, tells little.
const WIDE: f64 = 1.5;

/// A repair mix.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Repair {
    /// Lime of the catalogue.
    pub lime: String,
    /// Sand of the catalogue nearest to the residue; `None` if the residue was not sieved.
    pub sand: Option<String>,
    /// Parts of dry sand to one of lime, by volume, to the nearest half.
    pub parts: f64,
    /// Reasons and doubts.
    pub findings: Vec<Finding>,
}

/// The nearest sensible repair mix; `residue` is the sieved residue, if it was sieved.
pub fn repair_mix(old: &OldMortar, residue: Option<&Grading>, catalogue: &Catalogue) -> Repair {
    let (lime, kind) = match old.cementation {
        None => (CLASSES[0].1, "taken as air lime: no hydraulic part was looked for"),
        Some(index) => CLASSES.iter().find(|row| index < row.0).map_or((CLASSES[3].1, "beyond eminently hydraulic"), |row| (row.1, row.2)),
    };
    let ratio = if lime == CLASSES[0].1 { old.volume.putty } else { old.volume.hydraulic };
    let parts = ((2.0 * ratio.likely).round() / 2.0).clamp(1.0, 3.0);
    let says = format!(
        "The old binder is {kind}; the sand was about {:.1} parts to one of lime ({:.1} to {:.1}).",
        ratio.likely, ratio.least, ratio.most
    );
    let reason = "A repair no harder and no tighter than the old work weathers with it and spares the stone.";
    let source = "cementation index after Eckel and Boynton, from memory; the rounding is common practice, no source";
    let mut findings = vec![finding(
        Grade::Note,
        "repair",
        says,
        reason,
        source,
        format!("Try {lime} 1 : {parts} on a panel, and judge it beside the old work."),
    )];
    findings.extend(doubts(old, ratio.least, ratio.most, ratio.likely, parts));
    let sand = residue.and_then(|grading| nearest_sand(grading, catalogue));
    if sand.is_none() {
        let says = "The residue was not sieved, so no sand is proposed.";
        findings.push(finding(
            Grade::Think,
            "repair-sand",
            says,
            "Half of the old face is its sand: colour, size, shape.",
            PRACTICE,
            "Sieve the residue and match it by eye, wet and dry.",
        ));
    }
    findings.sort_by_key(|finding| finding.grade);
    Repair { lime: lime.to_owned(), sand, parts, findings }
}

fn doubts(old: &OldMortar, least: f64, most: f64, likely: f64, parts: f64) -> Vec<Finding> {
    let mut all = Vec::new();
    if old.cementation.is_none() {
        let says = "No soluble silica was measured: a hydraulic lime would look like an air lime here.";
        all.push(finding(
            Grade::Think,
            "hydraulic-unknown",
            says,
            "Acid dissolves both.",
            PRACTICE,
            "Have soluble silica measured, or a thin section looked at, before a hydraulic lime is ruled out.",
        ));
    }
    if old.cementation.is_some_and(|index| index >= CLASSES[3].0) {
        let says = "The index lies above that of any natural hydraulic lime: cement or a pozzolan is likely.";
        all.push(finding(
            Grade::Stop,
            "cement",
            says,
            "A cement mortar is no pattern for an old wall.",
            PRACTICE,
            "Have a thin section looked at; do not copy this mix.",
        ));
    }
    if most > WIDE * least {
        let says = format!("The range is wide: 1 : {least:.1} to 1 : {most:.1}.");
        all.push(finding(
            Grade::Think,
            "wide-range",
            says,
            "One analysis with these doubts cannot tell a fat mix from a lean one.",
            PRACTICE,
            "Take a larger sample, or have the shell counted under a microscope.",
        ));
    }
    if (parts - likely).abs() > 0.5 {
        let says = format!("The old mix reads 1 : {likely:.1}; 1 : {parts} is as far as a harl goes.");
        all.push(finding(
            Grade::Think,
            "clamped",
            says,
            "Old mortar looks lean where lime was washed out, and rich where fines were lost.",
            PRACTICE,
            "Ask whether the sample came from weathered or patched work.",
        ));
    }
    all
}

/// The catalogue sand whose largest grain and fines lie nearest.
fn nearest_sand(grading: &Grading, catalogue: &Catalogue) -> Option<String> {
    let largest = grading.largest_mm()?;
    let fines = grading.fines().map_or(0.03, |row| row.passing);
    let distance = |sand: &crate::Sand| physics::numbers::ln(sand.largest_mm / largest).abs() + 5.0 * (sand.fines_share - fines).abs();
    catalogue.sands.iter().min_by(|a, b| distance(a.1).total_cmp(&distance(b.1))).map(|(name, _)| name.clone())
}
