//! The answer: a good plan soon, then the best with its proof, or the best found with its bound. It must never hide which of them it is.

use thiserror::Error;

use crate::axis::Compiled;
use crate::exact::{Outcome, exact};
use crate::objective::too_dear;
use crate::serial::Set;
use crate::{Aim, Difference, Instance, Plan, Refusal, refusals, search::search};

/// How long and from which seed to search. Nothing here is a clock: the same settings find the same plan on every machine of one word length.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Settings {
    /// Seed of every draw.
    pub seed: u64,
    /// Schedules tried by the first search.
    pub rounds: u32,
    /// Steps, at most: one is a reckoning of the bound from prices, a round of bettering a plan, or all that follows from one decision of the constraint
    /// solver.
    pub steps: u64,
}

impl Default for Settings {
    /// Measured on two busy cores (`benches/solver.rs`): the first search takes 5 to 20 ms for 24 tasks and up to 40 ms for 48; 60 000 steps take 3 to 6 s
    /// for 18 to 24 tasks and 15 to 23 s for 32 to 48.
    fn default() -> Self {
        Self { seed: 1, rounds: 1_500, steps: 100_000 }
    }
}

/// How a search ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ended {
    /// No plan is better: proved.
    Proved,
    /// The budget of steps was spent before the proof.
    BudgetSpent,
    /// Somebody cancelled; another run may end elsewhere.
    Cancelled,
}

/// A plan, and how good it is known to be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Answer {
    /// The best plan found.
    pub plan: Plan,
    /// No plan can come to less, in slots or pence as the aim was.
    pub bound: i64,
    /// How the search ended.
    pub ended: Ended,
    /// Steps taken.
    pub steps: u64,
}

impl Answer {
    /// How much better a plan could still be: nought where it is proved.
    pub fn open(&self, aim: Aim) -> i64 {
        self.plan.costs.aim(aim) - self.bound
    }

    /// In one sentence, what is known of the plan; `unit` names what is counted ("half-days", "pence").
    pub fn told(&self, aim: Aim, unit: &str) -> String {
        let (found, bound) = (self.plan.costs.aim(aim), self.bound);
        match self.ended {
            Ended::Proved => format!("Proved: no order comes to less than {found} {unit}."),
            Ended::BudgetSpent => {
                format!("The best found in {} steps comes to {found} {unit}; none can come to less than {bound}.", self.steps)
            }
            Ended::Cancelled => {
                format!(
                    "Cancelled after {} steps: the best found so far comes to {found} {unit}; none can come to less than {bound}.",
                    self.steps
                )
            }
        }
    }
}

/// Why there is no answer.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum SolveError {
    /// There is no plan.
    #[error("{}", .0.iter().map(ToString::to_string).collect::<Vec<_>>().join(" "))]
    Refused(Vec<Refusal>),
    /// Neither a plan nor a proof that there is none was found.
    #[error("No plan was found in {steps} steps{}, and none was proved impossible. Allow more steps, or loosen the dates.", if *cancelled { ", then the search was cancelled" } else { "" })]
    NotFound {
        /// Steps taken.
        steps: u64,
        /// True when somebody cancelled.
        cancelled: bool,
    },
    /// A plan that one half of the solver made and another rejects.
    #[error("A plan was made that breaks a rule ({rule}): this is a fault of the program, please report it.")]
    Disagree {
        /// The rule.
        rule: String,
    },
}

/// A feasible plan in a few hundredths of a second, without any proof; `None` where the search met none.
///
/// # Errors
/// Every reason why there is no plan, where one can be seen at once.
pub fn first(instance: &Instance, aim: Aim, settings: Settings) -> Result<Option<Plan>, SolveError> {
    let compiled = checked(instance)?;
    Ok(search(&compiled, aim, settings.seed, settings.rounds).map(|(plan, _)| plan))
}

/// The best plan, with its proof or its bound. `cancel` is asked every now and then.
///
/// # Errors
/// Every reason why there is no plan; no plan found within the budget.
pub fn solve(instance: &Instance, aim: Aim, settings: Settings, cancel: &dyn Fn() -> bool) -> Result<Answer, SolveError> {
    let compiled = checked(instance)?;
    if let Some(refusal) = too_dear(&compiled) {
        return Err(SolveError::Refused(vec![refusal]));
    }
    let first: Option<Vec<Set>> = search(&compiled, aim, settings.seed, settings.rounds).map(|(_, sets)| sets);
    let Outcome { plan, bound, ended, steps } = exact(&compiled, aim, (settings.seed, settings.steps), first, cancel)?;
    match plan {
        Some(plan) => Ok(Answer { plan, bound, ended, steps }),
        None => Err(SolveError::NotFound { steps, cancelled: ended == Ended::Cancelled }),
    }
}

fn checked(instance: &Instance) -> Result<Compiled<'_>, SolveError> {
    let refused = refusals(instance);
    if refused.is_empty() { Ok(Compiled::new(instance)) } else { Err(SolveError::Refused(refused)) }
}

/// Three answers to one question under waits of three confidences, and what differs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Three {
    /// Under the waits asked for.
    pub best: Answer,
    /// Under shorter waits: no dearer, and more often wrong. `None` where there is no such plan.
    pub riskier: Option<(Answer, Difference)>,
    /// Under longer waits: no cheaper, and less often wrong. `None` where no plan keeps them.
    pub safer: Option<(Answer, Difference)>,
}

/// Answers one question under waits of three confidences: as asked, shorter, and longer. Only the waits and the charges may differ between them.
///
/// # Errors
/// As [`solve`], for the question as asked. The other two may have no plan; that is told by their absence.
pub fn three([best, riskier, safer]: [&Instance; 3], aim: Aim, settings: Settings, cancel: &dyn Fn() -> bool) -> Result<Three, SolveError> {
    let best = solve(best, aim, settings, cancel)?;
    let beside = |instance: &Instance| match solve(instance, aim, settings, cancel) {
        Ok(answer) => {
            let difference = best.plan.against(&answer.plan);
            Ok(Some((answer, difference)))
        }
        Err(SolveError::Refused(_) | SolveError::NotFound { .. }) => Ok(None),
        Err(error) => Err(error),
    };
    let (riskier, safer) = (beside(riskier)?, beside(safer)?);
    Ok(Three { best, riskier, safer })
}
