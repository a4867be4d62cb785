//! The order of work: which wall first, when to start, which gang on which wall, so that the expected cost with a stated charge for lateness and risk is
//! least. A solver orders the pieces of work under gaps read from the lookahead at three confidences; the day-by-day foreman then lives each order, and
//! the neighbours of the best, in the same weather years. It must never call an order best that the foreman has not lived.

mod asked;
mod choice;
mod judge;
mod order;
mod soonest;

use std::collections::BTreeSet;

use jiff::civil::Date;
use rayon::prelude::*;
use reckoning::Money;
use rust_decimal::Decimal;
use schedule::{Aim, Answer, Ended, Settings, SolveError, solve};
use survey::Slug;
use weather::Weather;

use crate::road::Stages;
use crate::{Inputs, Watch, WorksError};
use asked::{Confidence, Question};
use choice::{Lived, chosen, differs, rank};
use judge::Judge;
use order::Order;

/// Steps of the solver for each of the three questions: some seconds.
const STEPS: u64 = 40_000;
/// Rounds in which the neighbours of the best order so far are lived.
const ROUNDS: usize = 2;

/// The order of work, up to three times, and the job as it stands beside them.
#[derive(Clone, Debug, PartialEq)]
pub struct OrderOfWork {
    /// Weather years in which each was lived; none by rule of thumb.
    pub years: u32,
    /// Orders lived.
    pub lived: u32,
    /// Charged for each day beyond the date the client fixed.
    pub late_a_day: Money,
    /// Share of what the dearest quarter of the years costs above the mean that is charged for risk, 0 to 1.
    pub risk_share: Decimal,
    /// The walls in the order of the job, begun on its start.
    pub as_it_stands: Judged,
    /// The best of all that were lived; then a cheaper but riskier one and a safer but dearer one, where there are such.
    pub orders: Vec<Ordered>,
    /// What the solver found under waits of each confidence, and what that came to where the foreman lived it.
    pub solved: Vec<Solved>,
    /// What is missing, in sentences: an order the solver did not find, or one that is cheaper or safer than the best.
    pub missing: Vec<String>,
    /// What was left out or taken for granted.
    pub notes: Vec<String>,
}

impl OrderOfWork {
    /// The share charged for risk, per cent.
    pub fn risk_percent(&self) -> Decimal {
        (self.risk_share * Decimal::ONE_HUNDRED).normalize()
    }
}

/// One order of work.
#[derive(Clone, Debug, PartialEq)]
pub struct Ordered {
    /// What it is among the three, as it came out.
    pub name: &'static str,
    /// Day on which it is begun.
    pub start: Date,
    /// First day of scaffold.
    pub scaffold_from: Date,
    /// Walls in the order in which they are begun.
    pub walls: Vec<Slug>,
    /// Walls that one gang alone works on, by the gang's place in the job.
    pub gangs: Vec<(Slug, usize)>,
    /// The pieces of work as the solver placed them; none where the order is none of the solver's own.
    pub pieces: Vec<Piece>,
    /// Where it comes from and what is known of it, in a sentence.
    pub known: String,
    /// What differs: of the best from the job as it stands, of another from the best.
    pub differs: String,
    /// What it comes to where the foreman lives it.
    pub judged: Judged,
}

/// An order as the solver found it.
#[derive(Clone, Debug, PartialEq)]
pub struct Solved {
    /// How long each coat was taken to need, in words.
    pub gaps: &'static str,
    /// What the solver knows of it, in a sentence.
    pub known: String,
    /// The pieces of work by when they begin, as it placed them.
    pub pieces: Vec<Piece>,
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
    /// Mean cost before tax with the charges for lateness and risk: what is made least.
    pub expected: Money,
    /// Mean cost before tax.
    pub cost: Money,
    /// Mean charge for lateness.
    pub late: Money,
    /// Charge for risk.
    pub risk: Money,
    /// Mean cost with lateness of the dearest quarter of the years.
    pub dear: Money,
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

/// Finds the order of work. The same inputs give the same answer bit for bit, on any number of threads, unless it is called off.
///
/// # Errors
/// [`WorksError`] names what leaves no order at all.
pub fn order_of_work(inputs: &Inputs, weather: Option<&Weather>, watch: &dyn Watch) -> Result<OrderOfWork, WorksError> {
    let stages = Stages::of(inputs)?;
    soonest::check(inputs)?;
    let judge = Judge::new(inputs, &stages, weather, watch)?;
    let question = Question::new(inputs, &stages, weather, &judge.years, watch)?;
    if let Some(why) = question.out_of_sight() {
        return Err(WorksError::NoOrder { why });
    }
    // By rule of thumb there is but one confidence.
    let asked = if weather.is_some() { Confidence::ALL.len() } else { 1 };
    let answers: Vec<_> =
        Confidence::ALL[..asked].par_iter().map(|&confidence| (confidence, solved(&question, confidence, inputs.seed, watch))).collect();
    let mut missing = Vec::new();
    let mut plans = Vec::new();
    for (confidence, answer) in answers {
        match answer {
            Ok(answer) => plans.push((confidence, question.order(&answer.plan), answer)),
            Err(Missing::Why(why)) => missing.push((confidence, why)),
            Err(Missing::Works(error)) => return Err(error),
        }
    }
    if plans.is_empty() {
        // What forbids every order is mostly the same whatever the waits.
        let whys: BTreeSet<String> = missing.into_iter().map(|(_, why)| why).collect();
        return Err(WorksError::NoOrder { why: whys.into_iter().collect::<Vec<_>>().join(" ") });
    }
    let unsolved = missing.into_iter().map(|(confidence, why)| format!("Where {} the solver finds no order: {why}", confidence.words()));
    let stands = Order {
        walls: stages.sheet.walls.iter().map(|wall| wall.slug.clone()).collect(),
        start: inputs.window.start,
        gangs: inputs.running.gang_of.clone(),
    };
    let first = std::iter::once(stands).chain(plans.iter().map(|(_, order, _)| order.clone()));
    let lived = all_lived(&judge, inputs, first)?;
    let found = |order: &Order| lived.iter().find(|lived| lived.order == *order).map(|lived| lived.judged.clone());
    let mut told = OrderOfWork {
        years: if weather.is_some() { u32::try_from(judge.years.len()).unwrap_or(u32::MAX) } else { 0 },
        lived: u32::try_from(lived.len()).unwrap_or(u32::MAX),
        late_a_day: judge.late_a_day.clone(),
        risk_share: inputs.running.risk_share,
        as_it_stands: lived[0].judged.clone(),
        orders: Vec::new(),
        solved: Vec::new(),
        missing: unsolved.collect(),
        notes: question.notes(),
    };
    if let Some(weather) = weather.filter(|weather| !weather.gives_odds()) {
        let (years, fewest) = (weather.years.len(), Weather::FEWEST_YEARS_FOR_ODDS);
        told.notes.push(format!(
            "{years} weather years give no odds: at least {fewest} are needed. What an order comes to is that of the years there are."
        ));
    }
    for (confidence, order, answer) in &plans {
        let pieces = question.pieces(&answer.plan);
        let solved = found(order).map(|judged| Solved { gaps: confidence.words(), known: known(answer, inputs), pieces, judged });
        told.solved.extend(solved);
    }
    name(&mut told, inputs, &lived, &question, &plans);
    Ok(told)
}

/// The orders given and, round by round, the neighbours of the best of all, each lived once; the first given stands first.
fn all_lived(judge: &Judge, inputs: &Inputs, first: impl Iterator<Item = Order>) -> Result<Vec<Lived>, WorksError> {
    let mut known: BTreeSet<Order> = BTreeSet::new();
    let mut next: Vec<Order> = first.collect();
    let mut lived: Vec<Lived> = Vec::new();
    let mut about: Option<Order> = None;
    for round in 0..=ROUNDS {
        next.retain(|order| known.insert(order.clone()));
        let judged = judge.lived(&next)?;
        lived.extend(next.drain(..).zip(judged).map(|(order, judged)| Lived { order, judged }));
        let best = &lived[chosen(&lived).best].order;
        if round == ROUNDS || about.as_ref() == Some(best) {
            break;
        }
        next = best.neighbours(inputs.window.start, inputs.gangs.len(), &inputs.running.gang_of);
        about = Some(best.clone());
    }
    Ok(lived)
}

/// Names the orders by how they came out, with what differs.
fn name(told: &mut OrderOfWork, inputs: &Inputs, lived: &[Lived], question: &Question, plans: &[(Confidence, Order, Answer)]) {
    let three = chosen(lived);
    let best = &lived[three.best];
    let ordered = |name: &'static str, at: usize, differs: String| {
        let Lived { order, judged } = &lived[at];
        let plan = plans.iter().find(|(_, placed, _)| placed == order);
        let pieces = plan.filter(|(_, order, answer)| question.keeps(&answer.plan, order));
        let pieces = pieces.map_or_else(Vec::new, |(_, _, answer)| question.pieces(&answer.plan));
        let known = match plan {
            Some((confidence, _, answer)) => format!("As the solver placed it where {}. {}", confidence.words(), known(answer, inputs)),
            None if at == 0 => "The job as it stands.".to_owned(),
            None => NEIGHBOUR.to_owned(),
        };
        let scaffold_from = inputs.begun_on(order.start).scaffold.from.value;
        let gangs = order.gangs.iter().map(|(wall, &gang)| (wall.clone(), gang)).collect();
        let (start, walls, judged) = (order.start, order.walls.clone(), judged.clone());
        Ordered { name, start, scaffold_from, walls, gangs, pieces, known, differs, judged }
    };
    let beside_itself = if three.best == 0 { String::new() } else { differs(best, &lived[0], "the job as it stands", inputs) };
    told.orders.push(ordered(BEST, three.best, beside_itself));
    for (name, at, none) in [(RISKIER, three.riskier, NO_RISKIER), (SAFER, three.safer, NO_SAFER)] {
        match at {
            Some(at) => told.orders.push(ordered(name, at, differs(&lived[at], best, "the best", inputs))),
            None => told.missing.push(none.to_owned()),
        }
    }
    if rank(&lived[0].judged) <= rank(&best.judged) {
        told.notes.insert(0, "No order found is cheaper than the job as it stands, where the foreman lives them: leave it so.".to_owned());
    }
}

const BEST: &str = "Best";
const RISKIER: &str = "Cheaper but riskier";
const SAFER: &str = "Safer but dearer";
const NO_RISKIER: &str =
    "No order that was lived is cheaper than the best in the mean of the years and riskier: there is nothing to gain by a risk.";
const NO_SAFER: &str = "No order that was lived is dearer than the best in the mean of the years and safer: there is no more safety to be bought with the order of work.";
/// What is known of an order that the foreman lives better than those the solver found.
const NEIGHBOUR: &str = "It differs from an order of the solver's by two walls exchanged, the start moved by a week, or a wall given to another gang. Nothing is proved of it.";

/// Why an order is missing.
enum Missing {
    Why(String),
    Works(WorksError),
}

fn solved(question: &Question, confidence: Confidence, seed: u64, watch: &dyn Watch) -> Result<Answer, Missing> {
    let instance = question.instance(confidence);
    let settings = Settings { seed, steps: STEPS, ..Settings::default() };
    solve(&instance, Aim::Cost, settings, &|| watch.cancelled()).map_err(|error| match error {
        _ if watch.cancelled() => Missing::Works(WorksError::Cancelled),
        SolveError::Refused(_) | SolveError::NotFound { .. } | SolveError::Disagree { .. } => {
            Missing::Why(format!("{error} (Slots are half-days from {}.)", crate::calendar::day(question.from)))
        }
    })
}

/// What the solver knows of its answer, in a sentence.
fn known(answer: &Answer, inputs: &Inputs) -> String {
    let money = |pence: i64| Money::new(Decimal::new(pence, 2), inputs.rates.currency.clone()).to_tens();
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
