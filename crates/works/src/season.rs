//! The programme: the job run forward in every weather year, the middle of the runs, the odds, and why each waiting day waits.

use jiff::civil::Date;
use survey::Survey;
use weather::Weather;

use crate::calendar::{add_days, days_between};
use crate::climates::{WallClimate, climates};
use crate::ends;
use crate::explain::Told;
use crate::forward::run_by_thumb;
use crate::limits;
use crate::reasons::{inside, last_wall, sentence, waits, what_set_the_dates};
use crate::sheet::JobSheet;
use crate::spoilt;
use crate::thumb::Rule;
use crate::visits;
use crate::watch::Unreported;
use crate::years::Years;
use crate::{
    Ends, GapsBy, Inputs, Programme, Quantities, Specification, Task, WaitReason, WallRun, Watch, WorksError, YearRun, before, gate,
    lay_down, odds,
};

/// The whole programme: forward from the start date in each weather year with the curing engine behind every coat, or once by rule of thumb
/// when there is no weather.
///
/// The foreman knows what `Inputs::foresight` lets him know of the weather to come; the engine runs each wall as one column at the middle thickness of
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
    climates: &[WallClimate],
    watch: &dyn Watch,
) -> Result<Programme, WorksError> {
    check_deadline(sheet, inputs)?;
    let Some(weather) = weather else {
        return assemble(sheet, survey, specification, inputs, None, vec![run_by_thumb(sheet, Rule::Thumb)], (None, 0));
    };
    let years = Years::new(sheet, survey, specification, inputs, weather, climates)?;
    let all: Vec<usize> = (0..weather.years.len()).collect();
    let (runs, cell_steps) = years.run(&all, watch)?;
    let years = years.with_ends(survey, specification, &inputs.catalogue, climates)?;
    let (at_ends, more_steps) = years.run(&[odds::middle(&runs)], &Unreported(watch))?;
    let ends = at_ends.first().map(ends::of);
    assemble(sheet, survey, specification, inputs, Some(weather), runs, (ends, cell_steps + more_steps))
}

/// Refuses a finish that no weather could keep, naming what binds.
pub(crate) fn check_deadline(sheet: &JobSheet, inputs: &Inputs) -> Result<(), WorksError> {
    let Some(finish_by) = inputs.window.finish_by else { return Ok(()) };
    // The soonest of all waits for no other wall.
    let run = run_by_thumb(&JobSheet { holding: None, ..sheet.clone() }, Rule::Soonest);
    let Some(earliest) = run.finished.filter(|&earliest| earliest > finish_by) else { return Ok(()) };
    let last = last_wall(&run);
    let binding =
        last.map(waits).and_then(|waits| waits.first().copied()).map_or("for nothing but its own work".to_owned(), |(reason, days)| {
            match reason {
                WaitReason::GangElsewhere => {
                    format!("for the gang to come from other walls ({days} days), which another gang would shorten")
                }
                _ => format!("{} ({days} days)", reason.words()),
            }
        });
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
    (ends, cell_steps): (Option<Ends>, u64),
) -> Result<Programme, WorksError> {
    let middle = odds::middle(&runs);
    for (number, run) in runs.iter_mut().enumerate() {
        if number != middle {
            run.walls.iter_mut().for_each(|wall| wall.days = Vec::new());
        }
    }
    let (odds, no_odds) = match odds::odds(&runs, weather, &sheet.time) {
        Ok(odds) => (Some(odds), None),
        Err(why) => (None, Some(why)),
    };
    let last = last_wall(&runs[middle]);
    let waits = last.map(waits).unwrap_or_default();
    let name = last.map_or(String::new(), |wall| inside(&name_of(sheet, &wall.slug)));
    let mut waits_sentence = sentence(sheet.start, &runs[middle], &name, &waits);
    let mut findings = if weather.is_some() { limits::notes(survey, specification, &inputs.catalogue) } else { Vec::new() };
    if weather.is_some() {
        findings.push(spoilt::finding(sheet, specification, &runs));
        findings.extend(limits::drying_out(sheet, &runs[middle]));
        findings.extend(ends.as_ref().and_then(|ends| ends::finding(ends, sheet, &runs[middle])));
    }
    waits_sentence += &visits::told(&runs[middle], sheet);
    findings.extend(limits::days_off(inputs, &runs[middle]));
    if weather.is_some() {
        waits_sentence.extend(what_set_the_dates(&runs[middle]).map(|told| format!(" {told}")));
    }
    let laid = lay_down(specification, &inputs.catalogue, &runs[middle], inputs.about.dated);
    let before = before::before(survey, specification, inputs, &laid)?;
    let gaps_by = if weather.is_some() { GapsBy::Engine } else { GapsBy::RuleOfThumb };
    let mut reckonings = before::reckonings(&before, sheet.start);
    let told = Told { sheet, survey, outputs: &inputs.rates.outputs, run: &runs[middle], waits: &waits, gaps_by };
    reckonings.take_over(told.reckonings(odds.as_ref()));
    reckonings.take_over(ends.as_ref().map(ends::reckonings).unwrap_or_default());
    let gate = gate::gate(survey, specification, inputs)?;
    Ok(Programme { before, gate, runs, middle, odds, no_odds, gaps_by, ends, waits, waits_sentence, findings, cell_steps, reckonings })
}

/// First day of work of a kind on any wall in a run.
pub(crate) fn first_day(run: &YearRun, wanted: impl Fn(&WallRun, &Task) -> bool) -> Option<Date> {
    run.walls.iter().flat_map(|wall| wall.tasks.iter().filter(|task| wanted(wall, task)).map(|task| task.from)).min()
}
