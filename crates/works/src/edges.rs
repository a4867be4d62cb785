//! What the length of the straight-edge costs on one wall: mortar and passes at once, days and money quickly from a saved table of ready-time against
//! thickness, or slowly by the full run. The quick answer is marked; it must never stand in a plan.

use curing::calibration::data::{Care, Still};
use curing::calibration::watch::watch as watch_coat;
use jiff::civil::Date;
use materials::Mix;
use rayon::prelude::*;
use reckoning::Money;
use serde::{Deserialize, Serialize};
use survey::{Slug, WallFound};
use weather::Weather;

use crate::calendar::days_between;
use crate::climates::WallClimate;
use crate::column::{coat_model, wall_model};
use crate::forward::run_by_thumb;
use crate::pricing::Pricing;
use crate::road::{Stages, plan};
use crate::thumb::Rule;
use crate::{CoatKind, CoatSpecification, Inputs, Watch, WorksError, YearRun};

/// Lengths of edge on the curve, m.
pub const EDGES_M: [f64; 10] = [0.3, 0.45, 0.6, 0.9, 1.2, 1.5, 1.8, 2.1, 2.4, 3.0];

/// Thicknesses at which a straightening coat is watched for the table, m.
const WATCHED_M: [f64; 5] = [0.003, 0.006, 0.009, 0.012, 0.015];

/// Days from the start over which the air of the table is taken.
const AIR_DAYS: usize = 60;

/// Air of the table where the job names no weather: a guess.
const AIR_GUESSED: Still = Still { air_c: 10.0, humidity: 0.85 };

/// Days that the coats of a wall take to be ready, by thickness, in air that stands still: made once, saved, and read by the quick answer.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ReadyTable {
    /// The wall.
    pub wall: Slug,
    /// What air it was made in, in words.
    pub basis: String,
    /// Its rows; those of one mix by rising thickness.
    pub rows: Vec<ReadyRow>,
}

/// A coat of one mix and thickness.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ReadyRow {
    /// Lime, by catalogue name.
    pub lime: String,
    /// Sand, by catalogue name.
    pub sand: String,
    /// Parts of sand to one of lime.
    pub sand_parts: f64,
    /// Thickness, m.
    pub thickness_m: f64,
    /// Days from the throw until the next coat may follow; `None` if not within 120.
    pub days: Option<f64>,
}

/// One length of edge.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct EdgeChoice {
    /// Length of the edge, m.
    pub edge_m: f64,
    /// Mean thickness of the straightening, cover within it, m.
    pub mean_m: f64,
    /// Mortar of the straightening to be mixed, m³.
    pub mortar_m3: f64,
    /// Passes, those that dub out hollows alone counted.
    pub passes: usize,
    /// Thickest pass at its 90th percentile, m.
    pub thickest_m: f64,
    /// Day on which this wall alone would be finished; `None` if it is not this season.
    pub finish: Option<Date>,
    /// Days from the start of the job to that day.
    pub days: Option<i64>,
    /// Price of this wall alone before tax; `None` with the day.
    pub before_tax: Option<Money>,
    /// True where days and money come from the saved table; false where the wall was run through the weather.
    pub quick: bool,
}

/// What lengths of edge come to.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct EdgeCurve {
    /// The wall.
    pub wall: Slug,
    /// What its relief is known by.
    pub relief: String,
    /// What days and money rest on.
    pub basis: String,
    /// The lengths, rising.
    pub choices: Vec<EdgeChoice>,
    /// The length the job is planned with, m.
    pub own_edge_m: f64,
}

/// Watches each mix of the wall at every thickness that a pass may have. A fraction of a second; the table is good until materials, wall, cover, start or
/// weather change.
///
/// # Errors
/// A wall that the job has not, or that the engine refuses; a call to stop.
pub fn ready_table(inputs: &Inputs, weather: Option<&Weather>, wall: &str, watch: &dyn Watch) -> Result<ReadyTable, WorksError> {
    let inputs = alone(inputs, wall)?;
    let stages = Stages::of(&inputs)?;
    let found = &inputs.building.walls[0];
    let still = weather.map_or(AIR_GUESSED, |weather| air_after(weather, inputs.window.start));
    let model = wall_model(found, &inputs.catalogue, &WallClimate { face: still.climate(), far: None })?;
    let wanted = wanted(&stages.specification.walls[0].coats);
    let rows = wanted
        .par_iter()
        .map(|(coat, thickness_m)| {
            if watch.cancelled() {
                return Err(WorksError::Cancelled);
            }
            let coat = CoatSpecification { thickness_m: [*thickness_m; 3], ..(*coat).clone() };
            let model_of_coat = coat_model(&coat);
            let damp = inputs.catalogue.covers.get(&coat.protection.cover).is_some_and(|cover| cover.wetted);
            let care = if damp { Care::Tended } else { Care::Bare };
            let engine = |error: String| WorksError::Engine { wall: wall.to_owned(), why: error };
            let seen = watch_coat(&inputs.catalogue, &model, &model_of_coat, still, care).map_err(|error| engine(error.to_string()))?;
            let Mix { lime, sand, sand_parts } = coat.mix;
            let days = seen.wait(model_of_coat.thresholds.uptake_m, true).days;
            Ok(ReadyRow { lime, sand, sand_parts, thickness_m: *thickness_m, days })
        })
        .collect::<Result<Vec<ReadyRow>, WorksError>>()?;
    let whence = if weather.is_some() {
        "the mean of the weather's first sixty days from the start"
    } else {
        "a guess, for the job names no weather"
    };
    let basis = format!(
        "single coats on this wall in air that stands still at {:.0} °C and {:.0} % ({whence})",
        still.air_c,
        100.0 * still.humidity
    );
    Ok(ReadyTable { wall: wall.to_owned(), basis, rows })
}

/// The mixes of a wall with the thicknesses to watch: every thickness for a straightening, its own for the rest.
fn wanted(coats: &[CoatSpecification]) -> Vec<(&CoatSpecification, f64)> {
    let mut wanted: Vec<(&CoatSpecification, f64)> = Vec::new();
    for coat in coats {
        let own = [coat.thickness_m[1]];
        let thicknesses: &[f64] = if coat.kind == CoatKind::Straightening { &WATCHED_M } else { &own };
        for thickness_m in thicknesses {
            if !wanted.iter().any(|(known, thickness)| known.mix == coat.mix && (thickness - thickness_m).abs() < 1e-9) {
                wanted.push((coat, *thickness_m));
            }
        }
    }
    wanted
}

/// Mean air of the days after a date, over all weather years.
fn air_after(weather: &Weather, start: Date) -> Still {
    let first = 24 * usize::try_from(start.day_of_year() - 1).unwrap_or(0);
    let (mut air_c, mut humidity, mut count) = (0.0, 0.0, 0.0);
    for year in &weather.years {
        let hours = year.hours().max(1);
        for hour in (first..first + 24 * AIR_DAYS).map(|hour| hour % hours) {
            if let (Some(air), Some(damp)) = (year.air_c.get(hour), year.humidity.get(hour)) {
                air_c += air;
                humidity += damp;
                count += 1.0;
            }
        }
    }
    if count > 0.0 { Still { air_c: air_c / count, humidity: (humidity / count).min(0.98) } } else { AIR_GUESSED }
}

impl ReadyTable {
    /// Days of a mix at a thickness: straight between the rows, the nearest row beyond them. `None` where a row is not ready, or the mix is not there.
    pub fn days(&self, mix: &Mix, thickness_m: f64) -> Option<f64> {
        let of_mix = |row: &&ReadyRow| row.lime == mix.lime && row.sand == mix.sand && row.sand_parts == mix.sand_parts;
        let mut rows: Vec<&ReadyRow> = self.rows.iter().filter(of_mix).collect();
        rows.sort_by(|one, other| one.thickness_m.total_cmp(&other.thickness_m));
        let above = rows.partition_point(|row| row.thickness_m < thickness_m);
        let thick = rows.get(above).or(rows.last())?;
        let thin = above.checked_sub(1).and_then(|below| rows.get(below)).unwrap_or(thick);
        let span_m = thick.thickness_m - thin.thickness_m;
        let share = if span_m > 0.0 { (thickness_m - thin.thickness_m) / span_m } else { 0.0 };
        Some(thin.days? + share * (thick.days? - thin.days?))
    }
}

/// What each length of edge comes to on one wall, quickly: mortar and passes as the plan itself would have them; days with every working day fit and each
/// coat waiting as the table says; money for this wall alone, at the job's own rates.
///
/// # Errors
/// A wall that the job has not, or what leaves no plan.
pub fn edge_curve(inputs: &Inputs, table: &ReadyTable, edges_m: &[f64]) -> Result<EdgeCurve, WorksError> {
    let inputs = alone(inputs, &table.wall)?;
    let mut choices = edges_m.par_iter().map(|&edge_m| quick(&inputs, table, edge_m)).collect::<Result<Vec<_>, WorksError>>()?;
    choices.sort_by(|one, other| one.edge_m.total_cmp(&other.edge_m));
    let relief = Stages::of(&inputs)?.survey.walls[0].relief.basis.clone();
    Ok(EdgeCurve {
        wall: table.wall.clone(),
        relief,
        basis: format!("quick: {}; every working day fit; this wall alone", table.basis),
        choices,
        own_edge_m: inputs.system.straight_edge_m.value,
    })
}

fn quick(inputs: &Inputs, table: &ReadyTable, edge_m: f64) -> Result<EdgeChoice, WorksError> {
    let inputs = ruled_with(inputs, edge_m);
    let mut stages = Stages::of(&inputs)?;
    let mut never = false;
    for (sheet, coat) in stages.sheet.walls[0].coats.iter_mut().zip(&stages.specification.walls[0].coats) {
        match table.days(&coat.mix, coat.thickness_m[1]) {
            Some(days) => sheet.least_wait_days = sheet.least_wait_days.max(days),
            None => never = true,
        }
    }
    let run = run_by_thumb(&stages.sheet, Rule::Soonest);
    let mut choice = choice(&stages, &inputs, edge_m, &run)?;
    if never {
        (choice.finish, choice.days, choice.before_tax) = (None, None, None);
    }
    Ok(choice)
}

/// One length of edge on one wall by the full run through the weather: the middle year's finish and price.
///
/// # Errors
/// As [`plan`].
pub fn edge_by_the_weather(
    inputs: &Inputs,
    weather: Option<&Weather>,
    wall: &str,
    edge_m: f64,
    watch: &dyn Watch,
) -> Result<EdgeChoice, WorksError> {
    let inputs = ruled_with(&alone(inputs, wall)?, edge_m);
    let stages = Stages::of(&inputs)?;
    let plan = plan(&inputs, weather, watch)?;
    let run = &plan.programme.runs[plan.programme.middle];
    let mut choice = choice(&stages, &inputs, edge_m, run)?;
    choice.quick = false;
    choice.before_tax = choice.before_tax.map(|_| plan.price.before_tax.clone());
    Ok(choice)
}

fn choice(stages: &Stages, inputs: &Inputs, edge_m: f64, run: &YearRun) -> Result<EdgeChoice, WorksError> {
    let coats = stages.specification.walls[0].coats.iter().zip(&stages.quantities.walls[0].coats);
    let own: Vec<_> = coats.filter(|(coat, _)| coat.kind == CoatKind::Straightening).collect();
    let pricing = Pricing::new(&stages.survey, &stages.specification, &stages.quantities, inputs)?;
    Ok(EdgeChoice {
        edge_m,
        mean_m: own.iter().map(|(coat, _)| coat.mean_thickness_m).sum(),
        mortar_m3: own.iter().map(|(_, amount)| amount.mixed_m3).sum(),
        passes: own.len(),
        thickest_m: own.iter().map(|(coat, _)| coat.thickness_m[2]).fold(0.0, f64::max),
        finish: run.finished,
        days: run.finished.map(|finish| days_between(inputs.window.start, finish)),
        before_tax: run.finished.map(|_| pricing.before_tax(run)),
        quick: true,
    })
}

/// The job with one of its walls alone.
fn alone(inputs: &Inputs, wall: &str) -> Result<Inputs, WorksError> {
    let mut inputs = inputs.clone();
    let known: Vec<Slug> = inputs.building.walls.iter().map(|wall| wall.slug.clone()).collect();
    inputs.building.walls.retain(|found: &WallFound| found.slug == wall);
    if inputs.building.walls.is_empty() {
        return Err(WorksError::NoSuchWall { found: wall.to_owned(), walls: known });
    }
    for cause in &mut inputs.building.causes_of_damp {
        let everywhere = cause.walls.is_empty();
        cause.walls.retain(|slug| slug == wall);
        if !everywhere && cause.walls.is_empty() {
            cause.state = survey::DampState::Sound;
        }
    }
    inputs.window.finish_by = None;
    Ok(inputs)
}

fn ruled_with(inputs: &Inputs, edge_m: f64) -> Inputs {
    let mut inputs = inputs.clone();
    inputs.system.straight_edge_m = reckoning::Known::answered(edge_m);
    inputs
}
