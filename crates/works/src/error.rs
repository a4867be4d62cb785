//! What can stop the road from a survey to a price: complete sentences that name the binding constraint.

use jiff::civil::Date;

use crate::calendar::day;

/// Why no plan can be made.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum WorksError {
    /// Several things at once, so that all can be put right together.
    #[error("{}", .0.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))]
    Several(Vec<WorksError>),
    /// There is nothing to harl.
    #[error("The job has no wall to harl: give at least one wall with an area above nothing.")]
    NoWalls,
    /// No day of the week is worked.
    #[error("The calendar has no working days: name at least one day of the week that is worked.")]
    NoWorkingDays,
    /// The breaks swallow everything.
    #[error(
        "The calendar leaves no working day between {} and {}: every one of them falls in a break. Shorten the breaks or move the start.",
        day(*.from),
        day(*.to)
    )]
    AllBreak {
        /// First day looked at.
        from: Date,
        /// Last day looked at.
        to: Date,
    },
    /// The working day has no hours.
    #[error(
        "The working day runs from {from} to {to}, which leaves fewer than two whole hours: the end must come at least two hours after the start."
    )]
    NoWorkingHours {
        /// Start of the day.
        from: String,
        /// End of it.
        to: String,
    },
    /// There is no gang.
    #[error("The job has no gang: name at least one gang with one mason.")]
    NoGang,
    /// A gang without a mason.
    #[error("The gang “{gang}” has no mason: nobody in it can throw a coat. Give it at least one mason, or leave the gang out.")]
    NobodyInTheGang {
        /// The gang.
        gang: String,
    },
    /// No wall may be scaffolded.
    #[error("The scaffold is never free: the job allows 0 walls to be scaffolded at once. Allow at least one, or leave the limit out.")]
    ScaffoldNeverFree,
    /// The scaffold comes so late that no foreman waits for it.
    #[error(
        "The scaffold is never free for this job: it stands only from {}, more than {most} days after the start on {}. Bring it forward or move the start.",
        day(*.from),
        day(*.start)
    )]
    ScaffoldTooFarOff {
        /// First day it stands.
        from: Date,
        /// First day of the job.
        start: Date,
        /// Days for which a job is followed.
        most: i64,
    },
    /// The scaffold comes after the deadline.
    #[error(
        "The scaffold stands only from {}, after the latest finish the client allows, {}: bring it forward or move the finish.",
        day(*.from),
        day(*.finish_by)
    )]
    ScaffoldTooLate {
        /// First day it stands.
        from: Date,
        /// Latest finish.
        finish_by: Date,
    },
    /// The start lies after the deadline.
    #[error("The job is to start on {} and to be finished by {}, which is earlier: move one of them.", day(*.start), day(*.finish_by))]
    FinishBeforeStart {
        /// First day.
        start: Date,
        /// Latest finish.
        finish_by: Date,
    },
    /// Even in perfect weather the job is longer.
    #[error(
        "The job cannot be finished by {}: even if every day were fit and every coat ready at its least age, the last day is {} with the walls in this order. \
         The wall that finishes last ({wall}) waits longest {binding}. Start by {}, or allow until {}, at the least: weather takes more.",
        day(*.finish_by),
        day(*.earliest),
        day(*.start_by),
        day(*.earliest)
    )]
    ImpossibleDeadline {
        /// Latest finish asked.
        finish_by: Date,
        /// Earliest possible finish.
        earliest: Date,
        /// The wall that sets it.
        wall: String,
        /// What binds, in words.
        binding: String,
        /// Start that would just do, by shifting the calendar.
        start_by: Date,
    },
    /// An output that is not a positive number.
    #[error("The output for {what} is {value}: it must be a positive number of square metres (or metres) in a gang's day.")]
    Output {
        /// The work.
        what: String,
        /// As given.
        value: String,
    },
    /// A rate below nothing.
    #[error("The rate for {what} is {value}: money rates must not be below nothing.")]
    Rate {
        /// The rate.
        what: String,
        /// As given.
        value: String,
    },
    /// The survey date cannot be read.
    #[error("The survey is dated “{found}”, which is not a date: write it as year-month-day, for example 2026-03-14.")]
    SurveyDate {
        /// As given.
        found: String,
    },
    /// A name that the catalogue does not know.
    #[error("{place} names the {kind} “{name}”, which is neither in the catalogue nor among the job's own entries.")]
    NotInCatalogue {
        /// Where.
        place: String,
        /// Lime, sand, masonry, cover.
        kind: &'static str,
        /// The name.
        name: String,
    },
    /// Two stages do not speak of the same walls.
    #[error("The wall “{wall}” stands in the specification but not in the {stage}: make all stages from the same survey.")]
    WallMissing {
        /// The wall.
        wall: String,
        /// The stage.
        stage: &'static str,
    },
    /// The survey cannot be measured.
    #[error("{said}")]
    Survey {
        /// The survey's own sentence.
        said: String,
    },
    /// The weather has no hours.
    #[error("The weather has no hours: read at least one whole year.")]
    NoWeather,
    /// The weather has no rain.
    #[error(
        "The weather of {place} gives no rain, so no plan can be made from it: use a file with hourly rain, or give the rain of each month beside it, or leave the weather out and plan by rule of thumb."
    )]
    NoRain {
        /// The place.
        place: String,
    },
    /// More than is planned in one go.
    #[error(
        "The job is too large to be planned in one go: {walls} walls in {years} weather years over about {days} days from the survey to the end are more \
         than {most} days of walls. Give fewer weather years, plan the building in parts, or survey it again nearer the start."
    )]
    TooLarge {
        /// Walls.
        walls: usize,
        /// Weather years.
        years: usize,
        /// Days from the survey to the end by rule of thumb.
        days: u64,
        /// Days of walls allowed.
        most: u64,
    },
    /// The engine refused a wall before its first hour.
    #[error("The wall “{wall}” cannot be simulated: {why}")]
    Engine {
        /// The wall.
        wall: String,
        /// The engine's own sentence.
        why: String,
    },
    /// A protection policy that does not exist.
    #[error("There is no protection called “{found}”: give nothing, hessian-by-rule, sheltered or heated.")]
    NoSuchPolicy {
        /// As given.
        found: String,
    },
    /// A wall that the job does not have.
    #[error("The job has no wall called “{found}”: it has {}.", .walls.join(", "))]
    NoSuchWall {
        /// As given.
        found: String,
        /// Short names of its walls.
        walls: Vec<String>,
    },
    /// A weather year that the weather does not have.
    #[error("The weather has no year {found}: it has {first} to {last}. Give one of these, or none to take the first.")]
    NoSuchWeatherYear {
        /// As given.
        found: i32,
        /// First year it has.
        first: i32,
        /// Last year it has.
        last: i32,
    },
    /// A start after the weather ends.
    #[error(
        "The start, {}, lies after the weather ends with {last}, and that weather is of its own years: give a start up to {last}, or name the weather year to          take instead.",
        day(*.from)
    )]
    AfterTheWeather {
        /// As given.
        from: Date,
        /// Last year of the weather.
        last: i32,
    },
    /// A weather year with a gap.
    #[error("The weather year {year} has a gap: {fault}. Fill it or leave the year out.")]
    WeatherGap {
        /// The year.
        year: i32,
        /// What was found.
        fault: String,
    },
    /// One coat cannot be impatient.
    #[error("The {wall} has one coat alone, so that no next coat can be thrown too soon: ask for a wall of two coats or more.")]
    OneCoatOnly {
        /// The wall.
        wall: String,
    },
    /// No order of work was found.
    #[error("No order of work was found. {why}")]
    NoOrder {
        /// Why, in sentences.
        why: String,
    },
    /// The person who asked has called it off.
    #[error("It was called off before it was finished; nothing comes of it, and nothing was written.")]
    Cancelled,
}

impl WorksError {
    /// One error out of many: none gives `Ok`.
    pub(crate) fn gather(mut all: Vec<WorksError>) -> Result<(), WorksError> {
        match all.len() {
            0 => Ok(()),
            1 => Err(all.remove(0)),
            _ => Err(WorksError::Several(all)),
        }
    }
}
