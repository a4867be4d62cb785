//! The almanac: the whole job begun in every week of a year, lived through in every weather year by the programme's own foreman with the engine behind
//! him: odds, days, money and coats lost for each start, and the last safe first coat of each wall. Starts whose walls have had the same history follow the
//! same columns, which changes no bit of any course. It must never decide otherwise than the programme does.

mod life;
mod safe;
mod week;

use std::sync::Arc;

use jiff::civil::Date;
use reckoning::Money;
use serde::Serialize;
use survey::Slug;
use weather::Weather;

pub(crate) use crate::almanac::life::Life;
use crate::almanac::life::Lived;
use crate::calendar::{add_days, days_between};
use crate::climates::climates;
use crate::pricing::Pricing;
use crate::road::Stages;
use crate::season::check_deadline;
use crate::years::{Joined, Years};
use crate::{GateItem, Inputs, WaitReason, Watch, WorksError, gate};

/// Starts in a year.
pub const WEEKS: usize = 52;

/// The almanac of start weeks.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Season {
    /// Weather years behind it.
    pub years: u32,
    /// Why the years give no odds; the figures are then those of the years there are.
    pub no_odds: Option<String>,
    /// Latest finish the client allows, if any.
    pub finish_by: Option<Date>,
    /// One start a week, in order; one of them is the job's own where that lies within the year.
    pub weeks: Vec<SeasonWeek>,
    /// Place in `weeks` of the job's own start.
    pub own: Option<usize>,
    /// Place in `weeks` of the start whose cost in 8 years of 10 is least, among those that are finished so often.
    pub best: Option<usize>,
    /// Per wall, in the order of the job.
    pub walls: Vec<WallSeason>,
    /// The answer in a sentence or two.
    pub sentence: String,
    /// What must be true on the day, and which of it is true now.
    pub gate: Vec<GateItem>,
    /// Cells times hours the engine stepped.
    pub cell_steps: u64,
}

/// The job begun in one week.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SeasonWeek {
    /// First day on the wall.
    pub start: Date,
    /// What came of it in each weather year.
    pub runs: Vec<SeasonRun>,
    /// Years finished at all.
    pub finished_years: u32,
    /// Days from the start to the finish in the middle year and in 8 years of 10; `None` beyond the years that finish.
    pub days: (Option<u32>, Option<u32>),
    /// Day by which half the years, and about 8 in 10, are finished.
    pub finish: (Option<Date>, Option<Date>),
    /// Price before tax in the middle of the years, and what about 8 in 10 do not pass, each year with the coats it lost.
    pub cost: (Option<Money>, Option<Money>),
    /// Years in which a coat had to be redone, and coats redone in all years together.
    pub redone: (u32, u32),
    /// Years finished by the latest day the client allows.
    pub kept: Option<u32>,
    /// Mean visits of a hand to damp the hessian.
    pub damping_visits: f64,
    /// Protection asked for by the specification of a job begun then, in words.
    pub protection: String,
    /// What held the wall that finishes last, mean days a year, most first: three at most, closed days left out.
    pub held: Vec<(WaitReason, f64)>,
}

impl SeasonWeek {
    /// Years finished by a day.
    pub fn finished_by(&self, date: Date) -> u32 {
        self.runs.iter().filter(|run| run.finished.is_some_and(|finished| finished <= date)).count() as u32
    }

    /// Years finished by the end of each month, from the month of the first finish to that of the last; nothing where no year finishes.
    pub fn by_month_end(&self) -> Vec<(Date, u32)> {
        let finishes = || self.runs.iter().filter_map(|run| run.finished);
        let (Some(mut end), Some(last)) = (finishes().min().map(Date::last_of_month), finishes().max().map(Date::last_of_month)) else {
            return Vec::new();
        };
        let mut told = vec![(end, self.finished_by(end))];
        while end < last {
            end = add_days(end, 1).last_of_month();
            told.push((end, self.finished_by(end)));
        }
        told
    }
}

impl Season {
    /// Starts one after the other that ask for the same protection, first and last, with it in words.
    pub fn protections(&self) -> Vec<(Date, Date, &str)> {
        let mut told: Vec<(Date, Date, &str)> = Vec::new();
        for week in &self.weeks {
            match told.last_mut() {
                Some((_, last, words)) if *words == week.protection => *last = week.start,
                _ => told.push((week.start, week.start, &week.protection)),
            }
        }
        told
    }
}

/// One start in one weather year.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SeasonRun {
    /// Weather year.
    pub year: i32,
    /// Last day on the job.
    pub finished: Option<Date>,
    /// Price before tax with the coats it lost.
    pub cost: Money,
    /// Coats redone.
    pub redone: u32,
}

/// The year as one wall sees it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WallSeason {
    /// The wall.
    pub slug: Slug,
    /// Its name.
    pub name: String,
    /// Where it faces, degrees from north by east.
    pub faces_deg: f64,
    /// By the week in which its first coat goes on: weather years looked at, and those in which all goes well from there.
    pub weeks: Vec<WallWeek>,
    /// Monday-to-Sunday week, given by its first day, in which the first coat is safe for the last time before it no longer is; `None` where it never is,
    /// or never ceases to be.
    pub last_safe: Option<Date>,
    /// First week in which it is safe again after that.
    pub safe_again: Option<Date>,
    /// The same in a sentence.
    pub says: String,
}

/// First coats of a wall thrown in one week.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct WallWeek {
    /// First day of the week.
    pub from: Date,
    /// Weather years in which some start came to a first coat on this wall in this week.
    pub years: u32,
    /// Of these, the years in which every such start finished the wall without losing a coat and without being held long by frost and cold.
    pub safe: u32,
}

/// Looks the whole job's starts over: one a week for a year, from the first on or after the day of the plan that falls on the weekday of the job's start.
///
/// Every start in every weather year is lived through with the engine, as a plan of that start would be; the same weather years serve all of them.
/// Latest dates of the client bind nothing here: they are counted. The scaffold comes with each start, as [`Inputs::begun_on`] has it.
///
/// # Errors
/// What leaves no programme; a call to stop.
pub fn season(inputs: &Inputs, weather: &Weather, watch: &dyn Watch) -> Result<Season, WorksError> {
    season_of(inputs, weather, WEEKS, watch)
}

/// [`season`] for fewer or more weeks.
///
/// # Errors
/// As [`season`].
pub fn season_of(inputs: &Inputs, weather: &Weather, weeks: usize, watch: &dyn Watch) -> Result<Season, WorksError> {
    let first = first_start(inputs);
    let joined = Arc::new(Joined::of(weather, inputs.seed)?);
    let weeks = weeks.max(1);
    let mut starts = Vec::with_capacity(weeks);
    for week in 0..weeks {
        if watch.cancelled() {
            return Err(WorksError::Cancelled);
        }
        watch.progress("starts specified", week, weeks);
        starts.push(Start::new(inputs, add_days(first, 7 * week as i64))?);
    }
    let own = Stages::of(&inputs.begun_on(inputs.window.start))?;
    let faces = climates(&own.sheet, &own.survey, weather)?;
    let mut years = Vec::new();
    for Start { inputs, stages, .. } in &starts {
        let Stages { survey, specification, sheet, .. } = stages;
        years.push(Years::on(sheet, survey, specification, inputs, weather, &faces, Arc::clone(&joined))?);
    }
    // All starts go on from the same bare walls, so these begin on the same day.
    let begins = years.iter().map(|years| years.first_day).min().unwrap_or(first);
    years.iter_mut().for_each(|years| years.first_day = begins);
    let numbers: Vec<usize> = (0..weather.years.len()).collect();
    let Lived { runs, cell_steps } = Life::new(&years, watch)?.live(&numbers)?;
    let told = starts.iter().zip(&runs).map(|(start, runs)| week::week(start, runs)).collect::<Result<Vec<_>, _>>()?;
    let walls = safe::walls(&own, first, weeks, &runs);
    let no_odds = if weather.gives_odds() { None } else { Some(week::no_odds(weather)) };
    let mut season = Season {
        years: u32::try_from(weather.years.len()).unwrap_or(u32::MAX),
        no_odds,
        finish_by: inputs.window.finish_by,
        own: told.iter().position(|week| week.start == inputs.window.start),
        best: week::best(&told),
        weeks: told,
        walls,
        sentence: String::new(),
        gate: gate::gate(&own.survey, &own.specification, inputs)?,
        cell_steps,
    };
    season.sentence = week::sentence(&season);
    // The client's date binds no start here, but one that no weather lets the job's own start keep is told.
    if let Err(error) = check_deadline(&own.sheet, inputs) {
        season.sentence += &format!(" {error}");
    }
    Ok(season)
}

/// First start: on the weekday of the job's own, on or after the day of the plan, or the job's own where that is earlier.
fn first_start(inputs: &Inputs) -> Date {
    let own = inputs.window.start;
    let weeks = days_between(inputs.about.dated, own).div_euclid(7);
    add_days(own, -7 * weeks.max(0))
}

/// A start with all that is worked out before its first day.
pub(crate) struct Start {
    inputs: Inputs,
    stages: Stages,
    /// Latest day the client allows: counted, not kept to.
    finish_by: Option<Date>,
}

impl Start {
    fn new(inputs: &Inputs, start: Date) -> Result<Self, WorksError> {
        let finish_by = inputs.window.finish_by;
        let inputs = inputs.begun_on(start);
        let stages = Stages::of(&inputs)?;
        Ok(Self { inputs, stages, finish_by })
    }

    fn pricing(&self) -> Result<Pricing<'_>, WorksError> {
        Pricing::new(&self.stages.survey, &self.stages.specification, &self.stages.quantities, &self.inputs)
    }
}
