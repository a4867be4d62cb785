//! One start week told: its odds, days, money and losses over the weather years, and what a job begun then needs. It must never take part in the living.

use std::collections::{BTreeMap, BTreeSet};

use jiff::civil::Date;
use reckoning::Money;
use weather::{Kind, Weather};

use crate::almanac::{Season, SeasonRun, SeasonWeek, Start};
use crate::calendar::{add_days, days_between, said};
use crate::odds::{at_rank, eight_in_ten, rank};
use crate::reasons::{last_wall, waits};
use crate::sheet::hangs;
use crate::{CoatSpecification, WaitReason, WorksError, YearRun};

/// Reasons told of a week.
const REASONS_TOLD: usize = 3;

/// What came of a start.
pub(crate) fn week(start: &Start, runs: &[YearRun]) -> Result<SeasonWeek, WorksError> {
    let pricing = start.pricing()?;
    let first = start.inputs.window.start;
    let told: Vec<SeasonRun> = runs
        .iter()
        .map(|run| SeasonRun {
            year: run.year,
            finished: run.finished,
            cost: pricing.before_tax(run),
            redone: u32::try_from(run.losses.len()).unwrap_or(u32::MAX),
        })
        .collect();
    let years = told.len();
    let mut days: Vec<f64> = told.iter().filter_map(|run| run.finished).map(|last| days_between(first, last) as f64 + 1.0).collect();
    days.sort_by(f64::total_cmp);
    let day = |share: f64| read(&days, share, years).map(|days| days.ceil() as u32);
    let mut money: Vec<f64> = told.iter().filter(|run| run.finished.is_some()).map(|run| run.cost.to_f64()).collect();
    money.sort_by(f64::total_cmp);
    let currency = &start.inputs.rates.currency;
    let cost = |share: f64| read(&money, share, years).map(|amount| Money::from_f64(amount, currency.clone()));
    let finish = |days: Option<u32>| days.map(|days| add_days(first, i64::from(days) - 1));
    let mut finishes: Vec<Date> = told.iter().filter_map(|run| run.finished).collect();
    finishes.sort_unstable();

    let middle = day(0.5);
    let by = eight_in_ten(&finishes, years, &start.stages.sheet.time);
    let eight = by.and_then(|by| u32::try_from(days_between(first, by) + 1).ok());
    let visits: u32 = runs.iter().map(|run| run.damping_visits).sum();
    let mut week = SeasonWeek {
        start: first,
        finished_years: u32::try_from(days.len()).unwrap_or(u32::MAX),
        days: (middle, eight),
        finish: (finish(middle), by),
        cost: (cost(0.5), cost(0.8)),
        redone: (told.iter().filter(|run| run.redone > 0).count() as u32, told.iter().map(|run| run.redone).sum()),
        kept: None,
        damping_visits: f64::from(visits) / years.max(1) as f64,
        protection: protection(start),
        held: held(runs),
        runs: told,
    };
    week.kept = start.finish_by.map(|by| week.finished_by(by));
    Ok(week)
}

/// A value at its plotting position among so many years, those that are missing from the values counting as worst.
fn read(values: &[f64], share: f64, years: usize) -> Option<f64> {
    let rank = rank(share, years).filter(|rank| rank.ceil() as usize <= values.len())?;
    at_rank(values, rank)
}

/// Mean days by reason of the wall that finishes last, closed days left out.
fn held(runs: &[YearRun]) -> Vec<(WaitReason, f64)> {
    let mut days: BTreeMap<WaitReason, u32> = BTreeMap::new();
    for (reason, count) in runs.iter().filter_map(last_wall).flat_map(waits) {
        if !matches!(reason, WaitReason::Weekend | WaitReason::Break | WaitReason::GangElsewhere | WaitReason::Visit) {
            *days.entry(reason).or_default() += count;
        }
    }
    let mut held: Vec<(WaitReason, f64)> = days
        .into_iter()
        .map(|(reason, days)| (reason, f64::from(days) / runs.len().max(1) as f64))
        .filter(|&(_, days)| days >= 0.5)
        .collect();
    held.sort_by(|one, other| other.1.total_cmp(&one.1).then(one.0.cmp(&other.0)));
    held.truncate(REASONS_TOLD);
    held
}

/// What is hung after each coat, once for all walls that agree.
fn protection(start: &Start) -> String {
    let coats = start.stages.specification.walls.iter().flat_map(|wall| &wall.coats);
    let words: BTreeSet<String> = coats.map(|coat| hung(start, coat)).collect();
    words.into_iter().collect::<Vec<_>>().join("; or ")
}

fn hung(start: &Start, coat: &CoatSpecification) -> String {
    let protection = &coat.protection;
    if !hangs(protection) {
        return "no cover".to_owned();
    }
    let name = start.inputs.catalogue.covers.get(&protection.cover).map_or(protection.cover.clone(), |cover| cover.name.to_lowercase());
    let damp = match (protection.damp_days, protection.wettings_a_day) {
        (0, _) | (_, 0) => String::new(),
        (days, wettings) => format!(", wetted {wettings} × a day for {days}"),
    };
    format!("{name} for {} days a coat{damp}", protection.days)
}

/// The start whose cost in 8 years of 10 is least, among those that keep the client's date so often where he has one; where no start is finished so often, none.
pub(crate) fn best(weeks: &[SeasonWeek]) -> Option<usize> {
    let keeps = |week: &SeasonWeek| match week.kept {
        Some(kept) => rank(0.8, week.runs.len()).is_some_and(|rank| f64::from(kept) >= rank),
        None => true,
    };
    let costs = weeks.iter().enumerate().filter_map(|(number, week)| week.cost.1.as_ref().map(|cost| (!keeps(week), cost.amount, number)));
    costs.min().map(|(_, _, number)| number)
}

/// Why weather gives no odds.
pub(crate) fn no_odds(weather: &Weather) -> String {
    match weather.kind {
        Kind::Typical => "One typical year gives no odds: it shows neither the good nor the bad one.".to_owned(),
        _ => format!(
            "{} weather years give no odds: at least {} are needed. The figures are those of the years there are.",
            weather.years.len(),
            Weather::FEWEST_YEARS_FOR_ODDS
        ),
    }
}

/// The answer in words.
pub(crate) fn sentence(season: &Season) -> String {
    let mut said_first = match season.best.map(|best| &season.weeks[best]) {
        Some(week) => {
            let cost = week.cost.1.as_ref().map_or(String::new(), |cost| format!(" for {} before tax or less", cost.to_tens()));
            let by = week.finish.1.map_or(String::new(), said);
            format!("Begun on {}, the job costs least: 8 years in 10 it is finished by {by}{cost}.", said(week.start))
        }
        None if season.no_odds.is_some() => {
            "No week of the year can be told from another by its odds, as there are too few years for any.".to_owned()
        }
        None => "In no week of the year can the job be begun so that 8 years in 10 finish it.".to_owned(),
    };
    if let Some(own) = season.own.filter(|&own| Some(own) != season.best).map(|own| &season.weeks[own]) {
        let what = match (&own.finish.1, &own.cost.1) {
            (Some(by), Some(cost)) => format!("is finished by {} for {} or less", said(*by), cost.to_tens()),
            _ => format!("is finished in {} of {} years", own.finished_years, season.years),
        };
        said_first.push_str(&format!(" Begun on {} as the job has it, it {what}.", said(own.start)));
    }
    said_first + " The scaffold comes with each start."
}
