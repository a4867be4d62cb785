//! The specification: coats in order for each wall, each with binder, sand, proportions, thickness, placing, protection and interval.

use materials::{Mix, Mortar};
use reckoning::{Finding, Reckonings};
use serde::Serialize;
use survey::Slug;

use crate::protect::Policy;
use crate::{CoatKind, Inputs, Placing};

mod choose;
mod coats;
mod passes;
mod reckon;
mod rules;
mod season;
mod words;

pub(crate) use passes::{PASS_ABSOLUTE_M, PASS_LIMIT_M};
pub(crate) use reckon::known;
pub use season::FROST_SEASON;
pub(crate) use season::days_until_frost;

/// Specifies the coats of every wall and checks them against good practice.
///
/// Never fails: a lime or sand that the catalogue does not hold, or a mix outside the yield model, is a finding of grade stop, and the shipped putty and
/// sharp sand stand in so that the rest can still be judged. A wall the survey did not measure gets no coats.
pub fn specify(survey: &survey::Survey, inputs: &Inputs) -> Specification {
    let choice = choose::lime(survey, inputs);
    let mut bench = coats::Bench::new(inputs, &choice.lime);
    let walls: Vec<WallSpecification> =
        survey.building.walls.iter().zip(&survey.walls).map(|(found, measured)| coats::wall(&mut bench, found, measured)).collect();
    let panel = words::panel(&walls);
    let mut findings = bench.faults;
    findings.push(choice.finding);
    findings.extend(rules::check(survey, inputs, &walls, &panel));
    findings.sort_by_key(|finding| finding.grade);
    let reckonings = reckon::figures(survey, inputs, &walls);
    Specification { walls, panel, preparation: words::preparation(survey), findings, reckonings }
}

/// The specification of the whole job.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Specification {
    /// Per wall.
    pub walls: Vec<WallSpecification>,
    /// The sample panel.
    pub panel: Panel,
    /// Preparation in sentences, in order of work.
    pub preparation: Vec<String>,
    /// Every rule checked.
    pub findings: Vec<Finding>,
    /// Reckonings of the shown figures.
    pub reckonings: Reckonings,
}

/// What one wall gets.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WallSpecification {
    /// The wall.
    pub slug: Slug,
    /// Coats, the one against the stone first; a straightening in several passes stands as several coats.
    pub coats: Vec<CoatSpecification>,
    /// Limewash.
    pub limewash: Limewash,
}

/// One coat.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CoatSpecification {
    /// Stable name, for example `straightening-2`.
    pub slug: Slug,
    /// Name shown.
    pub name: String,
    /// Kind.
    pub kind: CoatKind,
    /// Mix.
    pub mix: Mix,
    /// The mortar that follows from it.
    pub mortar: Mortar,
    /// Thickness at the 10th, 50th and 90th percentile of the places where it lies, m.
    pub thickness_m: [f64; 3],
    /// Mean thickness over the whole face, from which volume is taken, m; a pass in the hollows alone has a mean below its percentiles.
    pub mean_thickness_m: f64,
    /// Thrown or laid.
    pub placing: Placing,
    /// Largest grain, mm.
    pub largest_grain_mm: f64,
    /// Cover hung after it.
    pub protection: Protection,
    /// Least days before the next coat.
    pub least_wait_days: f64,
    /// The test to make on the wall before the next coat, the nail test named first.
    pub test: String,
    /// How it is placed, in one or two sentences.
    pub method: String,
}

/// Cover after a coat, by rule.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Protection {
    /// Catalogue name of the cover.
    pub cover: String,
    /// Days it hangs.
    pub days: u32,
    /// Days it is kept damp.
    pub damp_days: u32,
    /// Wettings a day while damp.
    pub wettings_a_day: u32,
    /// The policy that tends the coat in place of a number of days; the days above are then none.
    pub policy: Option<Policy>,
}

impl Protection {
    /// A coat tended by a policy, whose cover is what the policy hangs.
    pub(crate) fn by(policy: Policy) -> Self {
        let cover = match policy {
            Policy::Nothing => "none",
            Policy::HessianByRule => "damp-hessian",
            Policy::Sheltered => "roofed-shelter",
            Policy::Heated => "heated-shelter",
        };
        Self { cover: cover.to_owned(), days: 0, damp_days: 0, wettings_a_day: 0, policy: Some(policy) }
    }
}

/// Limewash.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Limewash {
    /// Coats.
    pub coats: u32,
    /// Water to one measure of putty.
    pub water_parts: f64,
    /// Least hours between coats.
    pub interval_h: f64,
    /// Lime, catalogue name.
    pub lime: String,
    /// Colour in words.
    pub colour: String,
    /// Least days after the finish coat.
    pub least_wait_days: f64,
}

/// The sample panel.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Panel {
    /// Size, m².
    pub area_m2: f64,
    /// Where and how, in sentences.
    pub words: String,
    /// Days before the start it must be begun.
    pub lead_days: u32,
}
