//! The best plan with its proof, or the best found with a bound beneath it: a proof by cases under a bound from prices, and a search that halves what lies
//! between on the constraint solver, in turns. The budget is a count of their own steps, so that the same question has the same answer; a clock may only cancel. It must never call a plan best that is
//! not proved.

use std::cell::Cell;
use std::rc::Rc;

use pumpkin_conflict_resolvers::resolvers::ResolutionResolver;
use pumpkin_core::Solver;
use pumpkin_core::branching::branchers::autonomous_search::AutonomousSearch;
use pumpkin_core::branching::branchers::dynamic_brancher::DynamicBrancher;
use pumpkin_core::branching::branchers::independent_variable_value_brancher::IndependentVariableValueBrancher;
use pumpkin_core::branching::value_selection::InDomainMin;
use pumpkin_core::branching::variable_selection::{InputOrder, Smallest};
use pumpkin_core::branching::{Brancher, BrancherEvent, SelectionContext};
use pumpkin_core::options::SolverOptions;
use pumpkin_core::predicate;
use pumpkin_core::predicates::Predicate;
use pumpkin_core::rand::SeedableRng;
use pumpkin_core::rand::rngs::SmallRng;
use pumpkin_core::results::{SatisfactionResultUnderAssumptions as Found, SolutionReference};
use pumpkin_core::termination::TerminationCondition;
use pumpkin_core::variables::DomainId;

use crate::axis::Compiled;
use crate::forest::Forest;
use crate::insert::Insert;
use crate::model::Model;
use crate::objective::Objective;
use crate::relaxed::{Charges, Relaxed};
use crate::serial::{Schedule, Set};
use crate::tree::Tree;
use crate::{Aim, Ended, Plan, Refusal, SolveError};

/// Steps of the first try at a goal; each try that ends without an answer doubles them.
const FIRST_TRY: u64 = 4_000;
/// Steps of the first turn of each half of the search; each turn doubles them, and the proof by cases, whose steps are shorter, has more.
const FIRST_TURN: u64 = 4_000;
const LONG_TURN: u64 = 8 * FIRST_TURN;
const CASES_TO_ONE: u64 = 3;
/// Rounds in which the first plan is bettered by laying walls anew.
const BETTERED: u32 = 200;
/// Steps between two looks at whether somebody has cancelled.
const LOOK_UP: u64 = 256;

/// True from a decision until the next conflict. The solver can be stopped then and asked again; stopped with every decision undone it could not.
#[derive(Clone, Debug, Default)]
struct Decided(Rc<Cell<bool>>);

/// A brancher that tells whether the last thing that happened was a decision.
#[derive(Debug)]
struct Telling<B> {
    brancher: B,
    decided: Decided,
}

impl<B: Brancher> Brancher for Telling<B> {
    fn next_decision(&mut self, context: &mut SelectionContext) -> Option<Predicate> {
        self.decided.0.set(true);
        self.brancher.next_decision(context)
    }

    fn on_conflict(&mut self) {
        self.decided.0.set(false);
        self.brancher.on_conflict();
    }

    fn on_backtrack(&mut self) {
        self.brancher.on_backtrack();
    }

    fn on_solution(&mut self, solution: SolutionReference) {
        self.brancher.on_solution(solution);
    }

    fn on_unassign_integer(&mut self, variable: DomainId, value: i32) {
        self.brancher.on_unassign_integer(variable, value);
    }

    fn on_appearance_in_conflict_predicate(&mut self, predicate: Predicate) {
        self.brancher.on_appearance_in_conflict_predicate(predicate);
    }

    fn on_restart(&mut self) {
        self.brancher.on_restart();
    }

    fn synchronise(&mut self, context: &mut SelectionContext) {
        self.brancher.synchronise(context);
    }

    fn is_restart_pointless(&mut self) -> bool {
        self.brancher.is_restart_pointless()
    }

    fn subscribe_to_events(&self) -> Vec<BrancherEvent> {
        self.brancher.subscribe_to_events()
    }
}

/// Counts the solver's steps, and stops it.
struct Steps<'w> {
    decided: Decided,
    taken: u64,
    /// Where the try at hand ends.
    until: u64,
    most: u64,
    cancel: &'w dyn Fn() -> bool,
    cancelled: bool,
}

impl TerminationCondition for Steps<'_> {
    fn should_stop(&mut self) -> bool {
        if self.taken.is_multiple_of(LOOK_UP) && (self.cancel)() {
            self.cancelled = true;
        }
        let over = self.cancelled || self.taken >= self.until.min(self.most);
        self.taken += 1;
        over && self.decided.0.get()
    }
}

/// What the search came to.
pub(crate) struct Outcome {
    pub(crate) plan: Option<Plan>,
    pub(crate) bound: i64,
    pub(crate) ended: Ended,
    pub(crate) steps: u64,
}

/// An answer to one try.
enum Try {
    Better(Vec<Set>),
    Impossible,
    Unknown,
}

/// How the solver chooses what to decide.
type Search = Telling<AutonomousSearch<DynamicBrancher>>;

/// The search.
struct Exact<'c, 'f, 'w> {
    compiled: &'c Compiled<'c>,
    model: Model<'c>,
    objective: Objective,
    brancher: Search,
    resolver: ResolutionResolver,
    steps: Steps<'w>,
    tree: Tree<'f, 'w>,
    best: Option<Vec<Set>>,
    /// Steps of the next try at a goal, and whether it aims at the middle.
    length: u64,
    boldly: bool,
}

fn solver(seed: u64) -> Solver {
    Solver::with_options(SolverOptions { random_generator: SmallRng::seed_from_u64(seed), ..SolverOptions::default() })
}

/// Beginnings first, the earliest of them at its earliest; then all the rest at its least.
fn brancher(model: &Model, decided: &Decided) -> Search {
    let starts: Vec<DomainId> = model.tasks.iter().map(|task| task.start).collect();
    let all: Vec<DomainId> = model.solver.get_solution_reference().get_domains().collect();
    let begin: Box<dyn Brancher> = Box::new(IndependentVariableValueBrancher::new(Smallest::new(&starts), InDomainMin));
    let rest: Box<dyn Brancher> = Box::new(IndependentVariableValueBrancher::new(InputOrder::new(&all), InDomainMin));
    Telling { brancher: AutonomousSearch::new(DynamicBrancher::new(vec![begin, rest])), decided: decided.clone() }
}

/// Searches for the best plan within a budget of steps, in turns: the proof by cases, and the constraint solver, which learns what cannot be.
///
/// # Errors
/// A proof that there is no plan; a plan that the two halves of the solver judge differently.
pub(crate) fn exact(
    compiled: &Compiled,
    aim: Aim,
    (seed, most): (u64, u64),
    first: Option<Vec<Set>>,
    cancel: &dyn Fn() -> bool,
) -> Result<Outcome, SolveError> {
    let mut model = Model::new(compiled, solver(seed), true);
    let objective = model.objective(aim);
    let decided = Decided::default();
    let brancher = brancher(&model, &decided);
    let steps = Steps { decided, taken: 0, until: 0, most, cancel, cancelled: false };
    let forest = Forest::new(compiled);
    let charges = Charges::new(&forest, aim, objective.unit());
    let mut insert = Insert::new(&forest, &charges, (aim, objective.unit()), seed);
    let best = first.as_ref().map(|first| {
        let sets = insert.better(first, BETTERED);
        (compiled.in_units(aim, objective.unit(), &sets), sets)
    });
    let relaxed = Relaxed::new(&forest, &charges, (aim, objective.unit()));
    let tree = Tree::new(relaxed, insert, best, cancel);
    let resolver = ResolutionResolver::default();
    let mut exact = Exact { compiled, model, objective, brancher, resolver, steps, tree, best: None, length: FIRST_TRY, boldly: false };
    exact.run(aim, first)
}

impl Exact<'_, '_, '_> {
    fn run(&mut self, aim: Aim, first: Option<Vec<Set>>) -> Result<Outcome, SolveError> {
        if let Some(first) = first {
            self.begin_with(&first)?;
            self.best = Some(first);
        }
        let proved = self.in_turns(aim)?;
        let bound = match (&self.best, proved) {
            (Some(best), true) => self.objective.of(self.compiled, best),
            _ => self.model.solver.lower_bound(&self.objective.variable).max(self.least_by_cases()),
        };
        let ended = match proved {
            true => Ended::Proved,
            false if self.steps.cancelled || self.tree.cancelled => Ended::Cancelled,
            false => Ended::BudgetSpent,
        };
        let plan = match &self.best {
            Some(best) => Some(self.plan(aim, best)?),
            None => None,
        };
        let steps = self.steps.taken + self.tree.steps;
        Ok(Outcome { plan, bound: self.objective.told(self.compiled, bound), ended, steps })
    }

    /// The bound of the proof by cases, as the solver reckons.
    fn least_by_cases(&self) -> i32 {
        self.tree.bound().and_then(|units| i32::try_from(units).ok()).unwrap_or(0)
    }

    /// The proof by cases and the constraint solver in turns, each longer than the last; true when either has proved the best plan.
    fn in_turns(&mut self, aim: Aim) -> Result<bool, SolveError> {
        let most = self.steps.most;
        // The constraint solver is the better of the two at an end and goes first and long there, the proof by cases at money.
        let (mut cases, mut turn) = match aim {
            Aim::Finish => (0, LONG_TURN),
            Aim::Cost => (FIRST_TURN, FIRST_TURN),
        };
        loop {
            let left = most.saturating_sub(self.steps.taken + self.tree.steps);
            if cases > 0 && self.by_cases(cases.min(left))? {
                return Ok(true);
            }
            let left = most.saturating_sub(self.steps.taken + self.tree.steps);
            self.steps.most = self.steps.taken + left.min(turn);
            if self.narrow()? {
                return Ok(true);
            }
            let spent = self.steps.taken + self.tree.steps >= most;
            if spent || self.steps.cancelled || self.tree.cancelled {
                return Ok(false);
            }
            turn = turn.saturating_mul(2);
            cases = turn.saturating_mul(CASES_TO_ONE);
        }
    }

    /// Goes on with the proof by cases, and tells the constraint solver what came of it.
    fn by_cases(&mut self, steps: u64) -> Result<bool, SolveError> {
        if let Some(best) = &self.best {
            let units = i64::from(self.objective.of(self.compiled, best));
            if self.tree.best.as_ref().is_none_or(|&(least, _)| units < least) {
                self.tree.best = Some((units, best.clone()));
            }
        }
        let begun = self.tree.whole.is_some();
        let over = self.tree.go_on(steps);
        self.best = self.tree.best.as_ref().map(|(_, sets)| sets.clone());
        if over {
            return if self.best.is_some() { Ok(true) } else { Err(self.refused()) };
        }
        let (variable, bound) = (self.objective.variable, self.least_by_cases());
        self.model.clause([predicate![variable >= bound]]);
        if !begun
            && self.best.is_some()
            && let Some(whole) = &self.tree.whole
        {
            self.model.keep_to(self.tree.forest(), whole);
        }
        Ok(false)
    }

    /// Tells the solver of a plan: it must agree that it is one, and will begin its search near it.
    fn begin_with(&mut self, first: &[Set]) -> Result<(), SolveError> {
        let value = self.objective.of(self.compiled, first);
        let mut held = self.model.holding(first);
        held.push(self.objective.at_most(value));
        match self.attempt(&held, u64::MAX) {
            Try::Impossible => Err(SolveError::Disagree { rule: "the constraint solver refuses the first plan".to_owned() }),
            Try::Better(_) | Try::Unknown => Ok(()),
        }
    }

    /// Raises the bound and betters the plan until they meet (true) or the budget is spent.
    fn narrow(&mut self) -> Result<bool, SolveError> {
        loop {
            if self.model.solver.is_inconsistent() {
                return if self.best.is_some() { Ok(true) } else { Err(self.refused()) };
            }
            let least = self.model.solver.lower_bound(&self.objective.variable);
            let goal = match &self.best {
                None => i32::MAX,
                Some(best) => {
                    let value = self.objective.of(self.compiled, best);
                    if least >= value {
                        return Ok(true);
                    }
                    if self.boldly { least + (value - 1 - least) / 2 } else { value - 1 }
                }
            };
            let assumed: Vec<Predicate> = if goal == i32::MAX { Vec::new() } else { vec![self.objective.at_most(goal)] };
            match self.attempt(&assumed, self.length) {
                Try::Better(sets) => self.best = Some(sets),
                Try::Impossible if self.best.is_none() => return Err(self.refused()),
                Try::Impossible => {
                    let variable = self.objective.variable;
                    self.model.clause([predicate![variable >= goal + 1]]);
                    if self.model.solver.is_inconsistent() {
                        return Ok(true);
                    }
                    let value = self.best.as_ref().map_or(i32::MAX, |best| self.objective.of(self.compiled, best));
                    if goal + 1 >= value {
                        return Ok(true);
                    }
                }
                Try::Unknown if self.steps.cancelled || self.steps.taken >= self.steps.most => return Ok(false),
                Try::Unknown => {
                    self.length = self.length.saturating_mul(2);
                    self.boldly = !self.boldly && self.best.is_some();
                }
            }
        }
    }

    /// Allows the next try so many steps.
    fn begin(&mut self, length: u64) {
        self.steps.until = self.steps.taken.saturating_add(length);
        self.steps.decided.0.set(false);
    }

    fn attempt(&mut self, assumed: &[Predicate], length: u64) -> Try {
        self.begin(length);
        let found = self.model.solver.satisfy_under_assumptions(&mut self.brancher, &mut self.steps, &mut self.resolver, assumed);
        match found {
            Found::Satisfiable(satisfiable) => Try::Better(crate::model::read(self.compiled, &self.model.tasks, satisfiable.solution())),
            Found::UnsatisfiableUnderAssumptions(_) | Found::Unsatisfiable(_) => Try::Impossible,
            Found::Unknown(_) => Try::Unknown,
        }
    }

    fn plan(&self, aim: Aim, sets: &[Set]) -> Result<Plan, SolveError> {
        let tasks = Schedule { set: sets.to_vec(), missed: 0 }.placed(self.compiled);
        let costs = self.compiled.instance.judge(&tasks).map_err(|rule| SolveError::Disagree { rule })?;
        let (weighed, judged) = (self.compiled.weigh(aim, sets), costs.aim(aim));
        if weighed != judged {
            return Err(SolveError::Disagree { rule: format!("the plan weighs {weighed} in the search and {judged} when judged") });
        }
        Ok(Plan { tasks, costs })
    }

    /// Which deadlines cannot all be met.
    fn refused(&mut self) -> SolveError {
        let mut model = Model::new(self.compiled, solver(0), false);
        let dated: Vec<usize> = (0..model.tasks.len()).filter(|&task| self.compiled.instance.tasks[task].deadline.is_some()).collect();
        let assumed: Vec<Predicate> = dated.iter().map(|&task| met(&model, task)).collect();
        let mut brancher = brancher(&model, &self.steps.decided);
        self.begin(u64::MAX);
        let found = model.solver.satisfy_under_assumptions(&mut brancher, &mut self.steps, &mut self.resolver, &assumed);
        let core = match found {
            Found::UnsatisfiableUnderAssumptions(mut unsatisfiable) => unsatisfiable.extract_core(),
            _ => return SolveError::Refused(vec![Refusal::TooShort { slots: self.compiled.instance.slots }]),
        };
        let binding = dated.iter().zip(&assumed).filter(|(_, predicate)| core.contains(predicate)).map(|(&task, _)| {
            let task = &self.compiled.instance.tasks[task];
            format!("{} by slot {}", task.name, task.deadline.unwrap_or(0))
        });
        SolveError::Refused(vec![Refusal::Deadlines { deadlines: binding.collect() }])
    }
}

/// The predicate that a task meets its deadline.
fn met(model: &Model, task: usize) -> Predicate {
    let (end, latest) = (model.tasks[task].end, Model::number(model.compiled.tasks[task].latest_end));
    predicate![end <= latest]
}
