//! Tests of a sand that need a jug and a jar: voids, bulking, silt; and what its origin and a test for organic matter say.

use reckoning::{Finding, Grade};
use serde::Serialize;

use super::error::Checks;
use super::{BenchError, PRACTICE, finding};

/// Readings of a void test further apart than this, share of volume, are worth repeating: common practice, no source.
const WIDE_VOIDS: f64 = 0.03;
/// Most silt a jar may show, share of the sand's volume: BS 882 field guide, from memory.
const MOST_SILT: f64 = 0.08;

/// Result of a void test.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Voids {
    /// Share of voids in the dry sand, 0 to 1: mean of the readings.
    pub voids: f64,
    /// Greatest less least reading.
    pub spread: f64,
    /// Most parts of dry sand to one of lime putty that leave no void unfilled: 1 over the voids. A coat usually carries more lime.
    pub most_parts: f64,
    /// What to think of it.
    pub findings: Vec<Finding>,
}

/// Voids from dry sand (mL) and the water that just rose to its surface (mL), one pair for each reading.
///
/// # Errors
/// No reading or more than twenty; volumes outside 50 mL to 20 L; water outside 0.15 to 0.65 of the sand.
pub fn void_test(readings: &[(f64, f64)]) -> Result<Voids, Vec<BenchError>> {
    let mut checks = Checks::default();
    if readings.is_empty() || readings.len() > 20 {
        let remedy = "Take three readings with fresh dry sand.";
        checks.0.push(BenchError::Count { what: "Readings of the void test", found: readings.len(), least: 1, most: 20, remedy });
    }
    for (sand_ml, water_ml) in readings {
        checks.number("The dry sand in the measure", *sand_ml, 50.0, 20_000.0, " mL");
        checks.number("The water as a share of the sand", water_ml / sand_ml, 0.15, 0.65, "");
    }
    checks.done()?;
    let shares: Vec<f64> = readings.iter().map(|(sand, water)| water / sand).collect();
    let voids = shares.iter().sum::<f64>() / shares.len() as f64;
    let spread = shares.iter().copied().fold(0.0, f64::max) - shares.iter().copied().fold(1.0, f64::min);
    let says =
        format!("The voids hold {:.0} % of the sand's volume: 1 : {:.2} is the leanest mix that fills them.", 100.0 * voids, 1.0 / voids);
    let reason =
        "Lime that does not fill the voids leaves a weak, thirsty mortar. Coats usually carry 5 to 15 % more lime than the voids ask for.";
    let mut findings = vec![finding(Grade::Note, "voids", says, reason, PRACTICE, "Take this as the least lime, not as the mix.")];
    if readings.len() < 3 || spread > WIDE_VOIDS {
        let says = format!("{} reading(s), {:.1} points apart.", readings.len(), 100.0 * spread);
        let remedy = "Repeat with oven-dry sand until three readings lie within three points: damp sand has bulked and deceives.";
        findings.push(finding(Grade::Think, "void-readings", says, "One reading may be a chance one.", PRACTICE, remedy));
    }
    Ok(Voids { voids, spread, most_parts: 1.0 / voids, findings })
}

/// How fine a sand is, for its bulking.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Fineness {
    /// Fineness modulus below 1.8.
    Fine,
    /// From 1.8 to 2.6.
    Medium,
    /// Above 2.6.
    Coarse,
}

impl Fineness {
    /// By fineness modulus: the middle of where the bands of EN 13139 overlap (CF 4.0 to 2.4, MF 2.8 to 1.5, FF 2.1 to 0.6; from memory).
    pub fn of_modulus(modulus: f64) -> Self {
        if modulus < 1.8 {
            Self::Fine
        } else if modulus <= 2.6 {
            Self::Medium
        } else {
            Self::Coarse
        }
    }
}

/// Bulking of a damp sand.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Bulking {
    /// Damp volume over dry volume, less one.
    pub bulking: f64,
    /// True if a jar measured it, false if it was read from a table.
    pub measured: bool,
}

/// Bulking from a jar: height of the damp sand, and of the same sand flooded and settled, in one unit.
///
/// # Errors
/// Heights that are not above zero; a flooded sand that stands higher than the damp one; bulking above 60 %.
pub fn bulking_jar(damp: f64, flooded: f64) -> Result<Bulking, Vec<BenchError>> {
    let mut checks = Checks::default();
    checks.number("The height of the damp sand", damp, 1e-3, 1e4, "");
    checks.number("The height of the flooded sand", flooded, 1e-3, 1e4, "");
    if flooded > damp {
        checks.contradiction(
            format!("The flooded sand stands at {flooded}, higher than the damp sand at {damp}: sand settles in water, it does not rise."),
            "See whether the two heights were exchanged.",
        );
    } else if damp > 1.6 * flooded {
        checks.contradiction(
            format!("From {damp} to {flooded} would be a bulking above 60 %, more than any sand shows."),
            "Fill the jar again without pressing, and flood it slowly.",
        );
    }
    checks.done()?;
    Ok(Bulking { bulking: (damp - flooded) / flooded, measured: true })
}

/// Bulking by moisture: per cent of the dry mass, then fine, medium and coarse sand, per cent. Peaks and the ends are from site handbooks (fine sand 20 to
/// 35 % at 4 to 6 % of moisture, 25 to 30 % at 5 %, about 10 % at 10 %); what lies between is common practice, no source.
const BULKING: [(f64, [f64; 3]); 7] = [
    (0.0, [0.0, 0.0, 0.0]),
    (2.0, [18.0, 15.0, 10.0]),
    (4.0, [30.0, 25.0, 15.0]),
    (5.5, [35.0, 28.0, 18.0]),
    (8.0, [32.0, 22.0, 13.0]),
    (10.0, [25.0, 10.0, 6.0]),
    (20.0, [8.0, 0.0, 0.0]),
];

/// Bulking from the moisture of a sand, share of its dry mass, where no jar was filled; beyond 20 % as at 20 %.
///
/// # Errors
/// Moisture outside 0 to 0.4.
pub fn bulking_by_moisture(moisture: f64, fineness: Fineness) -> Result<Bulking, Vec<BenchError>> {
    let mut checks = Checks::default();
    checks.number("The moisture of the sand", moisture, 0.0, 0.4, " of its dry mass");
    checks.done()?;
    let column = fineness as usize;
    let percent = 100.0 * moisture;
    let between = BULKING.windows(2).find(|pair| percent <= pair[1].0).map(|pair| {
        let along = (percent - pair[0].0) / (pair[1].0 - pair[0].0);
        pair[0].1[column] + along * (pair[1].1[column] - pair[0].1[column])
    });
    Ok(Bulking { bulking: between.unwrap_or(BULKING[6].1[column]) / 100.0, measured: false })
}

/// Parts of damp sand to measure out for parts of dry sand.
pub fn damp_parts(dry_parts: f64, bulking: f64) -> f64 {
    dry_parts * (1.0 + bulking)
}

/// True parts of dry sand in parts measured damp.
pub fn true_parts(damp_parts: f64, bulking: f64) -> f64 {
    damp_parts / (1.0 + bulking)
}

/// Result of a silt jar.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Silt {
    /// Silt over sand, by height.
    pub share: f64,
    /// What to think of it.
    pub finding: Finding,
}

/// Silt from a jar shaken with salt water and left three hours: heights of the sand and of the silt above it, in one unit.
///
/// # Errors
/// A height below zero or none for the sand.
pub fn silt_jar(sand: f64, silt: f64) -> Result<Silt, Vec<BenchError>> {
    let mut checks = Checks::default();
    checks.number("The height of the sand", sand, 1e-3, 1e4, "");
    checks.number("The height of the silt", silt, 0.0, 1e4, "");
    checks.done()?;
    let share = silt / sand;
    let says = format!("The silt stands {:.1} % as high as the sand; at most {:.0} % is usual.", 100.0 * share, 100.0 * MOST_SILT);
    let (reason, source) =
        ("Silt and clay coat the grains and part them from the lime.", "BS 882 field guide (8 % by volume), from memory");
    let found = if share <= MOST_SILT {
        finding(Grade::Agrees, "silt", says, reason, source, "")
    } else {
        finding(
            Grade::Think,
            "silt",
            says,
            reason,
            source,
            "Have the fines washed out and weighed on 0.063 mm; use it only if at most 5 % by mass passes.",
        )
    };
    Ok(Silt { share, finding: found })
}

/// What the origin of a sand says of salt: `origin` as "pit", "river", "beach" or "unknown", with the chloride found, share of mass, if it was measured.
pub fn judge_origin(origin: &str, chloride: Option<f64>) -> Finding {
    let reason = "Chlorides draw damp, blow the face and rust every tie and nail behind it; no washing on site takes them out for certain.";
    let source = "EN 13139 (chlorides to be declared; 0.06 % is a usual limit where metal is embedded), from memory";
    match chloride {
        Some(share) if share > 0.0006 => {
            let says = format!("The sand holds {:.3} % of chlorides.", 100.0 * share);
            finding(Grade::Stop, "chlorides", says, reason, source, "Do not use it; ask for washed pit sand with a declaration.")
        }
        Some(share) => finding(Grade::Agrees, "chlorides", format!("Chlorides were measured: {:.3} %.", 100.0 * share), reason, source, ""),
        None if origin == "beach" => finding(
            Grade::Stop,
            "chlorides",
            "The sand comes from a beach and its chlorides are not known.",
            reason,
            source,
            "Have them measured before any of it is mixed.",
        ),
        None if origin == "pit" => {
            finding(Grade::Note, "chlorides", "Pit sand seldom holds chlorides.", reason, source, "Ask the pit for its declaration.")
        }
        None => finding(
            Grade::Think,
            "chlorides",
            "The chlorides of this sand are not known.",
            reason,
            source,
            "Ask where it was dug, and for the declaration.",
        ),
    }
}

/// What the caustic-soda colour test for organic matter says: true if the liquid was darker than the standard.
pub fn judge_organic(darker: bool) -> Finding {
    let (reason, source) =
        ("Humus and sugar slow a hydraulic lime and stain the face.", "EN 1744-1 clause 15 (humus, sodium hydroxide test), from memory");
    if darker {
        let says = "The liquid over the sand was darker than the standard.";
        return finding(Grade::Think, "organic", says, reason, source, "Have its effect on setting tested, or take another sand.");
    }
    finding(Grade::Agrees, "organic", "The liquid over the sand was no darker than the standard.", reason, source, "")
}
