//! season/1: the almanac of start weeks on the wire. Its types are written out here, so that the almanac's own may change; nothing volatile stands in it.

use std::collections::BTreeSet;

use reckoning::Money as Sum;
use serde::Serialize;

use super::money::Money;
use super::programme::{Gate, gate, name};

/// Name and version of the form.
pub const SEASON_FORMAT: &str = "season/1";

/// The almanac as season/1 JSON, indented, ending in a line break. The same almanac gives the same text.
pub fn season_json(season: &works::Season) -> String {
    let mut text = serde_json::to_string_pretty(&Season::of(season)).unwrap_or_else(|_| "{}".to_owned());
    text.push('\n');
    text
}

#[derive(Serialize)]
struct Season<'s> {
    format: &'static str,
    sentence: &'s str,
    years: u32,
    no_odds: Option<&'s str>,
    finish_by: Option<String>,
    /// Start of the job as it stands, and the start whose cost in 8 years of 10 is least.
    own: Option<String>,
    best: Option<String>,
    weeks: Vec<Week<'s>>,
    walls: Vec<Wall<'s>>,
    gate: Vec<Gate<'s>>,
    cell_steps: u64,
}

impl<'s> Season<'s> {
    fn of(season: &'s works::Season) -> Self {
        let start = |week: Option<usize>| week.and_then(|week| season.weeks.get(week)).map(|week| week.start.to_string());
        Self {
            format: SEASON_FORMAT,
            sentence: &season.sentence,
            years: season.years,
            no_odds: season.no_odds.as_deref(),
            finish_by: season.finish_by.map(|date| date.to_string()),
            own: start(season.own),
            best: start(season.best),
            weeks: season.weeks.iter().map(Week::of).collect(),
            walls: season.walls.iter().map(Wall::of).collect(),
            gate: gate(&season.gate),
            cell_steps: season.cell_steps,
        }
    }
}

/// The middle year, and what 8 years in 10 do not pass.
#[derive(Serialize)]
struct Spread<T> {
    middle: Option<T>,
    eight_in_ten: Option<T>,
}

#[derive(Serialize)]
struct Week<'s> {
    start: String,
    finished_years: u32,
    kept: Option<u32>,
    days: Spread<u32>,
    finish: Spread<String>,
    /// Years finished by each day on which one or more finish: the odds of being done by any day.
    finished_by: Vec<By>,
    cost: Spread<Money<'s>>,
    redone_years: u32,
    redone_coats: u32,
    damping_visits: f64,
    protection: &'s str,
    held: Vec<Held>,
    /// In the order of the weather years.
    runs: Vec<Run<'s>>,
}

#[derive(Serialize)]
struct By {
    date: String,
    years: u32,
}

#[derive(Serialize)]
struct Held {
    reason: &'static str,
    mean_days: f64,
}

#[derive(Serialize)]
struct Run<'s> {
    year: i32,
    finished: Option<String>,
    cost: Money<'s>,
    redone: u32,
}

impl<'s> Week<'s> {
    fn of(week: &'s works::SeasonWeek) -> Self {
        let day = |date: Option<jiff::civil::Date>| date.map(|date| date.to_string());
        let money = |sum: &'s Option<Sum>| sum.as_ref().map(Money::of);
        let run =
            |run: &'s works::SeasonRun| Run { year: run.year, finished: day(run.finished), cost: Money::of(&run.cost), redone: run.redone };
        let dates: BTreeSet<jiff::civil::Date> = week.runs.iter().filter_map(|run| run.finished).collect();
        Self {
            start: week.start.to_string(),
            finished_years: week.finished_years,
            kept: week.kept,
            days: Spread { middle: week.days.0, eight_in_ten: week.days.1 },
            finish: Spread { middle: day(week.finish.0), eight_in_ten: day(week.finish.1) },
            finished_by: dates.into_iter().map(|date| By { date: date.to_string(), years: week.finished_by(date) }).collect(),
            cost: Spread { middle: money(&week.cost.0), eight_in_ten: money(&week.cost.1) },
            redone_years: week.redone.0,
            redone_coats: week.redone.1,
            damping_visits: week.damping_visits,
            protection: &week.protection,
            held: week.held.iter().map(|&(reason, mean_days)| Held { reason: name(reason), mean_days }).collect(),
            runs: week.runs.iter().map(run).collect(),
        }
    }
}

#[derive(Serialize)]
struct Wall<'s> {
    slug: &'s str,
    name: &'s str,
    faces_deg: f64,
    faces: &'static str,
    last_safe: Option<String>,
    safe_again: Option<String>,
    says: &'s str,
    weeks: Vec<WallWeek>,
}

#[derive(Serialize)]
struct WallWeek {
    from: String,
    years: u32,
    safe: u32,
}

impl<'s> Wall<'s> {
    fn of(wall: &'s works::WallSeason) -> Self {
        let week = |week: &works::WallWeek| WallWeek { from: week.from.to_string(), years: week.years, safe: week.safe };
        Self {
            slug: &wall.slug,
            name: &wall.name,
            faces_deg: wall.faces_deg,
            faces: survey::compass(wall.faces_deg),
            last_safe: wall.last_safe.map(|date| date.to_string()),
            safe_again: wall.safe_again.map(|date| date.to_string()),
            says: &wall.says,
            weeks: wall.weeks.iter().map(week).collect(),
        }
    }
}
