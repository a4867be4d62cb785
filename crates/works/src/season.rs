//! The programme: the job run forward in every weather year, the middle of the runs, the odds, and why each waiting day waits.

use std::sync::Arc;

use jiff::civil::Date;
use reckoning::{Reckoning, Reckonings, Unit, Value};
use survey::Survey;
use weather::{FaceClimate, Weather};

use crate::calendar::{add_days, days_between};
use crate::forward::{run_by_thumb, wait_days};
use crate::reasons::{last_wall, sentence, waits};
use crate::sheet::JobSheet;
use crate::thumb::Rule;
use crate::years::{Years, climates};
use crate::{
    GapsBy, Inputs, Odds, Programme, Quantities, Specification, Task, WaitReason, WallRun, Watch, WorksError, YearRun, before, lay_down,
    odds,
};

/// The whole programme: forward from the start date in each weather year with the curing engine behind every coat, or once by rule of thumb
/// when there is no weather.
///
/// In this stage the foreman knows the weather of the working day exactly; the engine runs each wall as one column at the middle thickness of
/// its coats, and a coat laid over several days counts from its last half-day.
///
/// # Errors
/// [`WorksError`] names the constraint that leaves no programme.
pub fn programme(
    survey: &Survey,
    specification: &Specification,
    quantities: &Quantities,
    inputs: &Inputs,
    weather: Option<&Weather>,
    watch: &dyn Watch,
) -> Result<Programme, WorksError> {
    let sheet = JobSheet::new(survey, specification, quantities, inputs)?;
    let climates = match weather {
        Some(weather) => climates(&sheet, survey, weather)?,
        None => Vec::new(),
    };
    programme_under(&sheet, survey, specification, inputs, weather, &climates, watch)
}

/// [`programme`] for a job sheet and climates that stand already.
pub(crate) fn programme_under(
    sheet: &JobSheet,
    survey: &Survey,
    specification: &Specification,
    inputs: &Inputs,
    weather: Option<&Weather>,
    climates: &[Arc<FaceClimate>],
    watch: &dyn Watch,
) -> Result<Programme, WorksError> {
    check_deadline(sheet, inputs)?;
    let (runs, cell_steps) = match weather {
        Some(weather) => {
            let years = Years::new(sheet, survey, specification, &inputs.catalogue, weather, climates)?;
            let all: Vec<usize> = (0..weather.years.len()).collect();
            years.run(&all, watch)?
        }
        None => (vec![run_by_thumb(sheet, Rule::Thumb)], 0),
    };
    assemble(sheet, survey, specification, inputs, weather, runs, cell_steps)
}

/// Refuses a finish that no weather could keep, naming what binds.
fn check_deadline(sheet: &JobSheet, inputs: &Inputs) -> Result<(), WorksError> {
    let Some(finish_by) = inputs.window.finish_by else { return Ok(()) };
    let run = run_by_thumb(sheet, Rule::Soonest);
    let Some(earliest) = run.finished.filter(|&earliest| earliest > finish_by) else { return Ok(()) };
    let last = last_wall(&run);
    let binding = last
        .map(waits)
        .and_then(|waits| waits.first().copied())
        .map_or("by the work itself".to_owned(), |(reason, days)| format!("{} ({days} days)", reason.words()));
    Err(WorksError::ImpossibleDeadline {
        finish_by,
        earliest,
        wall: last.map_or(String::new(), |wall| name_of(sheet, &wall.slug)),
        binding,
        start_by: add_days(sheet.start, -days_between(finish_by, earliest)),
    })
}

fn name_of(sheet: &JobSheet, slug: &str) -> String {
    sheet.walls.iter().find(|wall| wall.slug == slug).map_or(slug.to_owned(), |wall| wall.name.clone())
}

fn assemble(
    sheet: &JobSheet,
    survey: &Survey,
    specification: &Specification,
    inputs: &Inputs,
    weather: Option<&Weather>,
    mut runs: Vec<YearRun>,
    cell_steps: u64,
) -> Result<Programme, WorksError> {
    let middle = odds::middle(&runs);
    for (number, run) in runs.iter_mut().enumerate() {
        if number != middle {
            run.walls.iter_mut().for_each(|wall| wall.days = Vec::new());
        }
    }
    let (odds, no_odds) = match odds::odds(&runs, weather) {
        Ok(odds) => (Some(odds), None),
        Err(why) => (None, Some(why)),
    };
    let last = last_wall(&runs[middle]);
    let waits = last.map(waits).unwrap_or_default();
    let name = last.map_or(String::new(), |wall| name_of(sheet, &wall.slug).to_lowercase());
    let waits_sentence = sentence(sheet.start, &runs[middle], &name, &waits);
    let laid = lay_down(specification, &inputs.catalogue, &runs[middle], inputs.about.dated);
    let before = before::before(survey, specification, inputs, &laid)?;
    let gaps_by = if weather.is_some() { GapsBy::Engine } else { GapsBy::RuleOfThumb };
    let mut reckonings = before::reckonings(&before, sheet.start);
    reckonings.take_over(run_reckonings(sheet, survey, &runs[middle], odds.as_ref(), &waits, gaps_by));
    Ok(Programme { before, runs, middle, odds, no_odds, gaps_by, waits, waits_sentence, cell_steps, reckonings })
}

const ENGINE: &str = "the curing engine, hour by hour, in the middle weather year; the test on the wall decides";
const THUMB: &str = "a week between coats, two in a cold month: common practice, no source";

fn run_reckonings(
    sheet: &JobSheet,
    survey: &Survey,
    run: &YearRun,
    odds: Option<&Odds>,
    waits: &[(WaitReason, u32)],
    gaps_by: GapsBy,
) -> Reckonings {
    let source = if gaps_by == GapsBy::Engine { ENGINE } else { THUMB };
    let mut kept = Reckonings::default();
    kept.keep(finish(sheet, run, waits, source));
    if let Some(odds) = odds {
        kept.keep(eight_in_ten(odds));
    }
    for reckoning in totals(run) {
        kept.keep(reckoning);
    }
    for (wall, wall_sheet) in run.walls.iter().zip(&sheet.walls) {
        let dampness = survey.building.walls.iter().find(|found| found.slug == wall.slug).map(|found| {
            let known = &found.dampness.middle;
            let value = Value::number(known.value * 100.0, Unit::PerCent, 0);
            Reckoning::given(
                format!("walls.{}.dampness.middle", wall.slug),
                "Wetness of the masonry found",
                value,
                known.source.clone(),
                known.assumed,
            )
        });
        for pair in wall.tasks.windows(2) {
            for reckoning in coat_reckonings(wall, &pair[0], &pair[1], dampness.as_ref(), source) {
                kept.keep(reckoning);
            }
        }
        if let Some(last) = wall.tasks.last() {
            let label = format!("Last day on the {}", wall_sheet.name.to_lowercase());
            kept.keep(Reckoning::worked(
                format!("walls.{}.finish", wall.slug),
                label,
                Value::Date(last.to.to_string()),
                "last day of its last task in the middle run",
                Vec::new(),
                source,
            ));
        }
    }
    kept
}

fn start(sheet: &JobSheet) -> Reckoning {
    Reckoning::given("window.start", "First day of the job", Value::Date(sheet.start.to_string()), "the job file", false)
}

fn finish(sheet: &JobSheet, run: &YearRun, waits: &[(WaitReason, u32)], source: &str) -> Reckoning {
    let mut inputs = vec![start(sheet)];
    let waiting: u32 = waits.iter().map(|&(_, days)| days).sum();
    if let Some(finish) = run.finished {
        let worked = days_between(sheet.start, finish) + 1 - i64::from(waiting);
        let label = "Days worked on the wall that finishes last";
        inputs.push(Reckoning::given("programme.worked", label, Value::number(worked as f64, Unit::Day, 0), "outputs and areas", false));
    }
    for &(reason, days) in waits {
        let path = format!("programme.waits.{}", reason.letter());
        let label = format!("Waiting {}", reason.words());
        inputs.push(Reckoning::given(path, label, Value::number(f64::from(days), Unit::Day, 0), source, false));
    }
    let value =
        run.finished.map_or_else(|| Value::Text(run.unfinished.clone().unwrap_or_default()), |finish| Value::Date(finish.to_string()));
    Reckoning::worked(
        "finish",
        "Last day of work in the middle run",
        value,
        "first day + days worked + days waited − 1, on the wall that finishes last",
        inputs,
        source,
    )
}

fn eight_in_ten(odds: &Odds) -> Reckoning {
    let label = format!("Date by which {} of {} weather years are finished", odds.eight_in_ten_years, odds.years);
    let formula = format!("finish dates in order, read at rank 0.8 × ({} + 1), rounded up to a whole day", odds.years);
    let source = "plotting position k/(n + 1), Weibull 1939, as in handbooks of hydrology";
    let inputs = odds.finishes.iter().enumerate().map(|(number, finish)| {
        Reckoning::given(
            format!("finish.years.{}", number + 1),
            format!("Finish number {}", number + 1),
            Value::Date(finish.to_string()),
            "the runs",
            false,
        )
    });
    Reckoning::worked("finish.eight-in-ten", label, Value::Date(odds.eight_in_ten.to_string()), formula, inputs.collect(), source)
}

fn totals(run: &YearRun) -> Vec<Reckoning> {
    let gangs = |what: &str, unit: Unit, of: fn(&crate::GangRun) -> f64| -> Vec<Reckoning> {
        let leaf = |gang: &crate::GangRun| {
            let slug = gang.name.to_lowercase().replace(' ', "-");
            Reckoning::given(
                format!("programme.{what}.{slug}"),
                gang.name.clone(),
                Value::number(of(gang), unit, 1),
                "the middle run",
                false,
            )
        };
        run.gangs.iter().map(leaf).collect()
    };
    vec![
        Reckoning::worked(
            "programme.visits",
            "Visits to the job",
            Value::number(f64::from(run.visits), Unit::Visit, 0),
            "runs of a gang's working days without a break of more than a weekend, added up",
            gangs("visits", Unit::Visit, |gang| f64::from(gang.visits)),
            "the middle run",
        ),
        Reckoning::worked(
            "programme.gang-days",
            "Days worked by the gangs",
            Value::number(run.gang_days, Unit::Day, 1),
            "half-days worked by each gang, added up",
            gangs("gang-days", Unit::Day, |gang| gang.days),
            "the middle run",
        ),
        Reckoning::worked(
            "programme.damping-visits",
            "Damping visits by a hand",
            Value::number(f64::from(run.damping_visits), Unit::Visit, 0),
            "wettings on days when no gang is on the job, one visit for all walls",
            Vec::new(),
            "the specification's rule of protection, in the middle run",
        ),
        Reckoning::worked(
            "programme.scaffold",
            "Scaffold, square metres times weeks",
            Value::number(run.scaffold_m2_weeks, Unit::One, 0),
            "for each wall its face in m² × started weeks from the day it is scaffolded to its last day of work",
            Vec::new(),
            "the middle run",
        ),
    ]
}

/// When a coat was ready, and how long the next waited.
fn coat_reckonings(wall: &WallRun, task: &Task, next: &Task, dampness: Option<&Reckoning>, source: &str) -> Vec<Reckoning> {
    let base = match task.slug.as_str() {
        "preparation" => format!("walls.{}.preparation", wall.slug),
        coat => format!("walls.{}.coats.{coat}", wall.slug),
    };
    let placed = Reckoning::given(
        format!("{base}.placed"),
        format!("{} placed", task.name),
        Value::Date(task.to.to_string()),
        "the middle run",
        false,
    );
    let mut kept = Vec::new();
    if let Some(ready) = task.ready {
        let mut inputs = vec![placed];
        inputs.extend(dampness.cloned());
        let formula = if task.decides.is_empty() {
            "done".to_owned()
        } else {
            format!("first morning on which every rule holds; what decided: {}", task.decides)
        };
        kept.push(Reckoning::worked(
            format!("{base}.ready"),
            format!("{} ready for the next", task.name),
            Value::Date(ready.to_string()),
            formula,
            inputs,
            source,
        ));
    }
    let inputs: Vec<Reckoning> = next
        .waited
        .iter()
        .enumerate()
        .map(|(number, wait)| {
            let label = format!("{} to {}, {}", wait.from, wait.to, wait.reason.words());
            Reckoning::given(
                format!("{base}.wait.{}", number + 1),
                label,
                Value::number(f64::from(wait_days(wait)), Unit::Day, 0),
                source,
                false,
            )
        })
        .collect();
    let days: u32 = next.waited.iter().map(wait_days).sum();
    let label = format!("Days waited between {} and {}", task.name.to_lowercase(), next.name.to_lowercase());
    kept.push(Reckoning::worked(
        format!("{base}.wait"),
        label,
        Value::number(f64::from(days), Unit::Day, 0),
        "the waits added up",
        inputs,
        source,
    ));
    kept
}

/// First day of work of a kind on any wall in a run.
pub(crate) fn first_day(run: &YearRun, wanted: impl Fn(&WallRun, &Task) -> bool) -> Option<Date> {
    run.walls.iter().flat_map(|wall| wall.tasks.iter().filter(|task| wanted(wall, task)).map(|task| task.from)).min()
}
