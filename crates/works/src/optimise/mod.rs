//! The order of work: which wall first, when to start, which scaffold when, so that the expected cost with a stated charge for lateness is least. A solver
//! orders the pieces of work under gaps read from the lookahead at three confidences; the day-by-day foreman then lives each order, and its
//! neighbours, in the same weather years. It must never call an order best that the foreman has not lived.

mod asked;
mod judge;

use jiff::civil::Date;
use reckoning::Money;
use schedule::{Aim, Answer, Ended, Settings, SolveError, solve};
use survey::Slug;
use weather::Weather;

use crate::road::Stages;
use crate::{Inputs, Watch, WorksError};
use asked::{Confidence, Question};
use judge::Judge;

/// Steps of the solver for each of the three questions: some seconds.
const STEPS: u64 = 40_000;

/// The order of work, three times, and the job as it stands beside them.
#[derive(Clone, Debug, PartialEq)]
pub struct OrderOfWork {
    /// Weather years in which each was lived; none by rule of thumb.
    pub years: u32,
    /// Charged for each day beyond the date the client fixed.
    pub late_a_day: Money,
    /// The walls in the order of the job, begun on its start.
    pub as_it_stands: Judged,
    /// The orders found, by the waits the solver took: best, riskier, safer; two may be equal.
    pub orders: Vec<Ordered>,
    /// Why one of them is missing, in sentences.
    pub missing: Vec<String>,
    /// What was left out or taken for granted.
    pub notes: Vec<String>,
}

/// One order of work.
#[derive(Clone, Debug, PartialEq)]
pub struct Ordered {
    /// What it is among the three.
    pub name: &'static str,
    /// How long each coat was taken to need, in words.
    pub gaps: &'static str,
    /// Day on which it is begun.
    pub start: Date,
    /// Walls in the order in which they are begun.
    pub walls: Vec<Slug>,
    /// The pieces of work as the solver placed them; none where the foreman lives a neighbour of its order better.
    pub pieces: Vec<Piece>,
    /// What is known of it, in a sentence.
    pub known: String,
    /// What it comes to where the foreman lives it.
    pub judged: Judged,
}

/// A piece of work in its place.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// Wall and work, in words.
    pub name: String,
    /// Gang the solver gave it to.
    pub gang: String,
    /// First day.
    pub from: Date,
    /// Last day.
    pub to: Date,
}

/// What an order comes to in the weather years.
#[derive(Clone, Debug, PartialEq)]
pub struct Judged {
    /// Mean cost before tax, with the charge for lateness.
    pub expected: Money,
    /// Finish of the middle year; `None` where that is not finished this season.
    pub middle: Option<Date>,
    /// Latest finish of the years that finish.
    pub latest: Option<Date>,
    /// Years not finished this season.
    pub unfinished: u32,
    /// Years finished by the date the client fixed; `None` where there is none.
    pub kept: Option<u32>,
    /// Mean visits.
    pub visits: f64,
    /// Mean coats lost.
    pub lost: f64,
}

/// Finds the order of work. The same inputs give the same answer bit for bit, unless it is called off.
///
/// # Errors
/// [`WorksError`] names what leaves no order at all.
pub fn order_of_work(inputs: &Inputs, weather: Option<&Weather>, watch: &dyn Watch) -> Result<OrderOfWork, WorksError> {
    let stages = Stages::of(inputs)?;
    let judge = Judge::new(inputs, &stages, weather, watch)?;
    let question = Question::new(inputs, &stages, weather, &judge.years, watch)?;
    let standing: Vec<Slug> = stages.sheet.walls.iter().map(|wall| wall.slug.clone()).collect();
    let as_it_stands = judge.lived(&standing, inputs.window.start)?;
    let mut found = OrderOfWork {
        years: if weather.is_some() { u32::try_from(judge.years.len()).unwrap_or(u32::MAX) } else { 0 },
        late_a_day: judge.late_a_day.clone(),
        as_it_stands,
        orders: Vec::new(),
        missing: Vec::new(),
        notes: question.notes(),
    };
    // By rule of thumb there is but one confidence.
    let asked = if weather.is_some() { Confidence::ALL.len() } else { 1 };
    for confidence in Confidence::ALL.into_iter().take(asked) {
        match ordered(&question, &judge, confidence, inputs.seed, watch) {
            Ok(ordered) => found.orders.push(ordered),
            Err(Missing::Why(why)) => found.missing.push(format!("{}: {why}", confidence.name())),
            Err(Missing::Works(error)) => return Err(error),
        }
    }
    if found.orders.is_empty() {
        return Err(WorksError::NoOrder { why: found.missing.join(" ") });
    }
    if found.orders.iter().all(|ordered| judge::rank(&found.as_it_stands) <= judge::rank(&ordered.judged)) {
        found.notes.insert(0, "No order found is cheaper than the job as it stands, where the foreman lives them: leave it so.".to_owned());
    }
    Ok(found)
}

/// Why an order is missing.
enum Missing {
    Why(String),
    Works(WorksError),
}

impl From<WorksError> for Missing {
    fn from(error: WorksError) -> Self {
        Missing::Works(error)
    }
}

fn ordered(question: &Question, judge: &Judge, confidence: Confidence, seed: u64, watch: &dyn Watch) -> Result<Ordered, Missing> {
    let instance = question.instance(confidence);
    let settings = Settings { seed, steps: STEPS, ..Settings::default() };
    let answer = solve(&instance, Aim::Cost, settings, &|| watch.cancelled()).map_err(|error| match error {
        _ if watch.cancelled() => Missing::Works(WorksError::Cancelled),
        SolveError::Refused(_) | SolveError::NotFound { .. } | SolveError::Disagree { .. } => {
            Missing::Why(format!("{error} (Slots are half-days from {}.)", crate::calendar::day(question.from)))
        }
    })?;
    let (walls, start) = question.order(&answer.plan);
    let (polished, begun, judged) = judge.polished(walls.clone(), start)?;
    let as_placed = polished == walls && begun == start;
    Ok(Ordered {
        name: confidence.name(),
        gaps: confidence.words(),
        start: begun,
        walls: polished,
        pieces: if as_placed { question.pieces(&answer.plan) } else { Vec::new() },
        known: if as_placed { known(&answer) } else { NEIGHBOUR.to_owned() },
        judged,
    })
}

/// What is known of an order that the foreman lives better than the one the solver found.
const NEIGHBOUR: &str = "Better than the solver's own order, as the foreman lives it: two walls exchanged, or the start moved by a week. Nothing is proved of it.";

/// What the solver knows of its answer, in a sentence.
fn known(answer: &Answer) -> String {
    let money = |pence: i64| format!("{}", pence / 100);
    let (found, bound) = (money(answer.plan.costs.total()), money(answer.bound));
    let what = "visits, lateness, scaffold, plant and stated risk";
    match answer.ended {
        Ended::Proved => format!("Proved under these gaps: no order comes to less than {found} for {what}."),
        Ended::BudgetSpent => {
            format!("The best found in {} steps comes to {found} for {what}; none can come to less than {bound}.", answer.steps)
        }
        Ended::Cancelled => format!("Cancelled: the best found so far comes to {found} for {what}; none can come to less than {bound}."),
    }
}
