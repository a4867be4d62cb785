//! The instance as a model of the constraint solver: which variables, which constraints. Along the open slots a task has a constant length for each way of
//! doing it; what may follow when stands in clauses, one for each slot at which the answer changes. It must never search.

use pumpkin_constraints as constraints;
use pumpkin_core::Solver;
use pumpkin_core::constraints::Constraint;
use pumpkin_core::predicate;
use pumpkin_core::predicates::Predicate;
use pumpkin_core::proof::ConstraintTag;
use pumpkin_core::results::{ProblemSolution, SolutionReference};
use pumpkin_core::variables::{AffineView, DomainId, Literal, TransformableVariable};
use pumpkin_propagators::disjunctive::ArgDisjunctiveTask;

use crate::axis::Compiled;
use crate::forest::Forest;
use crate::relaxed::Domain;
use crate::serial::Set;

pub(crate) type View = AffineView<DomainId>;

/// A task in the model.
pub(crate) struct TaskInModel {
    pub(crate) start: DomainId,
    pub(crate) end: View,
    /// Which way it is done; `None` where there is but one.
    pub(crate) way: Option<DomainId>,
}

/// The model: the solver with the variables that tell a plan.
pub(crate) struct Model<'c> {
    pub(crate) compiled: &'c Compiled<'c>,
    pub(crate) solver: Solver,
    pub(crate) tasks: Vec<TaskInModel>,
    pub(crate) tag: ConstraintTag,
}

impl<'c> Model<'c> {
    /// The model of every rule, deadlines among them where they are to hold from the beginning.
    pub(crate) fn new(compiled: &'c Compiled<'c>, mut solver: Solver, deadlines: bool) -> Self {
        let tag = solver.new_constraint_tag();
        let mut model = Self { compiled, solver, tasks: Vec::new(), tag };
        for task in 0..compiled.tasks.len() {
            model.add_task(task, deadlines);
        }
        model.add_gaps();
        model.add_gangs();
        model.add_spans();
        model
    }

    pub(crate) fn number(count: usize) -> i32 {
        i32::try_from(count).unwrap_or(i32::MAX)
    }

    /// True once the constraints so far contradict each other; the solver takes no more then, and needs no more.
    fn over(&self) -> bool {
        self.solver.is_inconsistent()
    }

    /// A whole number between two.
    pub(crate) fn integer(&mut self, least: i32, most: i32) -> DomainId {
        if self.over() { self.solver.new_sparse_integer(vec![least]) } else { self.solver.new_bounded_integer(least, most) }
    }

    /// A clause.
    pub(crate) fn clause(&mut self, predicates: impl IntoIterator<Item = Predicate>) {
        if !self.over() {
            self.solver.add_clause(predicates, self.tag);
        }
    }

    fn post(&mut self, constraint: impl Constraint) {
        if !self.over() {
            self.solver.add_constraint(constraint).post();
        }
    }

    /// `terms` add up to no more than `most`.
    pub(crate) fn at_most(&mut self, terms: Vec<View>, most: i32) {
        self.post(constraints::less_than_or_equals(terms, most, self.tag));
    }

    /// `terms` add up to no more than `most` where a literal is true.
    pub(crate) fn at_most_if(&mut self, terms: Vec<View>, most: i32, if_true: Literal) {
        if !self.over() {
            self.solver.add_constraint(constraints::less_than_or_equals(terms, most, self.tag)).implied_by(if_true);
        }
    }

    /// A new yes or no.
    pub(crate) fn literal(&mut self) -> Literal {
        self.solver.new_literal()
    }

    fn add_task(&mut self, number: usize, deadlines: bool) {
        let task = &self.compiled.tasks[number];
        let slots = self.compiled.axis.len();
        let latest = if deadlines { task.latest_end } else { slots };
        let may = |way: usize, rank: usize| {
            let way = &task.ways[way];
            way.may_begin[rank] && rank + way.length <= latest
        };
        let ways = task.ways.len();
        let begins: Vec<i32> = (0..slots).filter(|&rank| (0..ways).any(|way| may(way, rank))).map(Self::number).collect();
        let start = match (begins.first(), begins.last()) {
            (Some(&first), Some(&last)) if last - first + 1 == Self::number(begins.len()) => self.integer(first, last),
            (Some(_), _) => self.solver.new_sparse_integer(begins.clone()),
            // No place at all: a variable that the clause beneath rules out.
            (None, _) => self.integer(0, 0),
        };
        if begins.is_empty() {
            self.clause([predicate![start >= 1]]);
        }
        let (end, way) = self.end_of(number, start);
        if let Some(way) = way {
            for &begin in &begins {
                let rank = usize::try_from(begin).unwrap_or(0);
                for number in (0..ways).filter(|&number| !may(number, rank)) {
                    let number = Self::number(number);
                    self.clause([predicate![start != begin], predicate![way != number]]);
                }
            }
        }
        self.tasks.push(TaskInModel { start, end, way });
    }

    /// The end of a task and the way it is done.
    fn end_of(&mut self, number: usize, start: DomainId) -> (View, Option<DomainId>) {
        let ways = &self.compiled.tasks[number].ways;
        let lengths: Vec<i32> = ways.iter().map(|way| Self::number(way.length)).collect();
        let way = (ways.len() > 1).then(|| self.integer(0, Self::number(ways.len()) - 1));
        let (least, most) = (lengths.iter().copied().min().unwrap_or(0), lengths.iter().copied().max().unwrap_or(0));
        let Some(way) = way.filter(|_| least < most) else { return (start.offset(least), way) };
        let slots = Self::number(self.compiled.axis.len());
        let end = self.integer(least, slots);
        self.at_most(vec![start.scaled(1), end.scaled(-1)], -least);
        self.at_most(vec![end.scaled(1), start.scaled(-1)], most);
        for (number, &length) in (0..).zip(&lengths) {
            let done = self.solver.new_literal_for_predicate(predicate![way == number], self.tag);
            self.at_most_if(vec![start.scaled(1), end.scaled(-1)], -length, done);
            self.at_most_if(vec![end.scaled(1), start.scaled(-1)], length, done);
        }
        (end.scaled(1), Some(way))
    }

    /// `value` is at least what a table tells of `at`, entry by entry from nought.
    pub(crate) fn at_least_by_table(&mut self, at: View, table: &[i32], value: View) {
        let mut least_from_here = table.to_vec();
        for entry in (1..table.len()).rev() {
            least_from_here[entry - 1] = least_from_here[entry - 1].min(least_from_here[entry]);
        }
        let mut said = i32::MIN;
        for (entry, (&exact, &least)) in (0..).zip(table.iter().zip(&least_from_here)) {
            if least > said {
                self.clause([predicate![at <= entry - 1], predicate![value >= least]]);
                said = least;
            }
            if exact > least {
                self.clause([predicate![at != entry], predicate![value >= exact]]);
            }
        }
    }

    fn add_gaps(&mut self) {
        for gap in &self.compiled.gaps {
            let (end, start) = (self.tasks[gap.before].end, self.tasks[gap.after].start);
            let table: Vec<i32> = gap.earliest.iter().map(|&rank| Self::number(rank)).collect();
            self.at_least_by_table(end, &table, start.scaled(1));
        }
    }

    /// One task at a time on each gang.
    fn add_gangs(&mut self) {
        for gang in 0..self.compiled.instance.gangs.len() {
            let alone: Vec<usize> = (0..self.tasks.len()).filter(|&task| self.only(task) == Some(gang)).collect();
            if alone.len() > 1 {
                let tasks = alone.iter().map(|&task| ArgDisjunctiveTask {
                    start_time: self.tasks[task].start,
                    processing_time: Self::number(self.compiled.tasks[task].ways[0].length),
                });
                let tasks: Vec<_> = tasks.collect();
                self.post(constraints::disjunctive_strict(tasks, self.tag));
            }
        }
        for first in 0..self.tasks.len() {
            for second in first + 1..self.tasks.len() {
                self.add_pair(first, second);
            }
        }
        self.add_all_gangs();
    }

    /// The one gang that can do a task.
    fn only(&self, task: usize) -> Option<usize> {
        match self.compiled.tasks[task].ways.as_slice() {
            [way] => Some(way.gang),
            _ => None,
        }
    }

    /// True when one task must come after the other anyhow.
    fn follows(&self, one: usize, other: usize) -> bool {
        let mut reached = vec![one];
        let mut next = 0;
        while next < reached.len() {
            for &gap in &self.compiled.tasks[reached[next]].gaps_after {
                let after = self.compiled.gaps[gap].after;
                if !reached.contains(&after) {
                    reached.push(after);
                }
            }
            next += 1;
        }
        reached.contains(&other)
    }

    /// One before the other, or different gangs.
    fn add_pair(&mut self, first: usize, second: usize) {
        let compiled = self.compiled;
        let shared = |one: &crate::axis::CompiledWay| compiled.tasks[second].ways.iter().any(|other| other.gang == one.gang);
        if !compiled.tasks[first].ways.iter().any(shared) || self.follows(first, second) || self.follows(second, first) {
            return;
        }
        let forward = self.precedes(first, second);
        let backward = self.precedes(second, first);
        for (one, way) in compiled.tasks[first].ways.iter().enumerate() {
            for (other, _) in compiled.tasks[second].ways.iter().enumerate().filter(|(_, other)| other.gang == way.gang) {
                let mut clause = vec![forward.get_true_predicate(), backward.get_true_predicate()];
                clause.extend(self.tasks[first].way.map(|way| predicate![way != Self::number(one)]));
                clause.extend(self.tasks[second].way.map(|way| predicate![way != Self::number(other)]));
                self.clause(clause);
            }
        }
    }

    /// A literal that puts one task before another.
    pub(crate) fn precedes(&mut self, before: usize, after: usize) -> Literal {
        let literal = self.literal();
        let (end, start) = (self.tasks[before].end, self.tasks[after].start);
        self.at_most_if(vec![end, start.scaled(-1)], 0, literal);
        literal
    }

    /// What follows from there being no more gangs than there are, whoever does what.
    fn add_all_gangs(&mut self) {
        let gangs = self.compiled.instance.gangs.len();
        let many = self.tasks.iter().any(|task| task.way.is_some());
        if !many || gangs >= self.tasks.len() {
            return;
        }
        let least = |task: usize| self.compiled.tasks[task].ways.iter().map(|way| way.length).min().unwrap_or(0);
        let starts: Vec<DomainId> = self.tasks.iter().map(|task| task.start).collect();
        let lengths: Vec<i32> = (0..self.tasks.len()).map(|task| Self::number(least(task))).collect();
        let each = vec![1; starts.len()];
        self.post(constraints::cumulative(starts, lengths, each, Self::number(gangs), self.tag));
    }

    /// No more spans at once than there are sets, and none where none may stand.
    fn add_spans(&mut self) {
        let compiled = self.compiled;
        let mut free_again = Vec::new();
        for span in &compiled.spans {
            let free = self.integer(0, Self::number(compiled.axis.len()));
            let table: Vec<i32> = span.free_again.iter().map(|&rank| Self::number(rank)).collect();
            self.at_least_by_table(self.tasks[span.last].end, &table, free.scaled(1));
            free_again.push(free);
            let (start, end) = (self.tasks[span.first].start, self.tasks[span.last].end);
            for &(latest_end, first) in &span.around {
                let (latest_end, first) = (Self::number(latest_end), Self::number(first));
                self.clause([predicate![end <= latest_end], predicate![start >= first]]);
            }
        }
        for scaffold in 0..compiled.instance.scaffolds.len() {
            let on: Vec<usize> = (0..compiled.spans.len()).filter(|&span| compiled.spans[span].scaffold == scaffold).collect();
            self.add_scaffold(&on, &free_again, compiled.instance.scaffolds[scaffold].sets);
        }
    }

    /// At the beginning of each span, fewer others stand than there are sets.
    fn add_scaffold(&mut self, on: &[usize], free_again: &[DomainId], sets: u32) {
        if on.len() <= sets as usize {
            return;
        }
        for &span in on {
            let mut standing = Vec::new();
            for &other in on.iter().filter(|&&other| other != span) {
                let (mine, its) = (self.tasks[self.compiled.spans[span].first].start, self.tasks[self.compiled.spans[other].first].start);
                let (over, later, stands) = (self.literal(), self.literal(), self.literal());
                self.at_most_if(vec![free_again[other].scaled(1), mine.scaled(-1)], 0, over);
                self.at_most_if(vec![mine.scaled(1), its.scaled(-1)], -1, later);
                self.clause([over, later, stands].map(|literal| literal.get_true_predicate()));
                standing.push(stands.get_integer_variable().scaled(1));
            }
            self.at_most(standing, i32::try_from(sets).unwrap_or(i32::MAX) - 1);
        }
    }

    /// Keeps starts and ways to what a domain leaves open.
    pub(crate) fn keep_to(&mut self, forest: &Forest, domain: &Domain) {
        for task in 0..self.tasks.len() {
            let (start, way) = (self.tasks[task].start, self.tasks[task].way);
            let (from, to) = domain.within[task];
            self.clause([predicate![start >= Self::number(from)]]);
            self.clause([predicate![start <= Self::number(to)]]);
            let (mut starts, mut ways) = (vec![false; forest.slots], vec![false; self.compiled.tasks[task].ways.len()]);
            for choice in domain.of(forest, task) {
                let set = forest.set(task, choice);
                (starts[set.start], ways[set.way]) = (true, true);
            }
            for at in (from..to + 1).filter(|&at| !starts[at]) {
                let at = Self::number(at);
                self.clause([predicate![start != at]]);
            }
            for number in (0..ways.len()).filter(|&number| !ways[number]) {
                let number = Self::number(number);
                way.into_iter().for_each(|way| self.clause([predicate![way != number]]));
            }
        }
    }

    /// The predicates that hold the model to a schedule.
    pub(crate) fn holding(&self, sets: &[Set]) -> Vec<Predicate> {
        let hold = |(task, set): (&TaskInModel, &Set)| {
            let (start, at) = (task.start, Self::number(set.start));
            let way = task.way.map(|way| predicate![way == Self::number(set.way)]);
            std::iter::once(predicate![start == at]).chain(way)
        };
        self.tasks.iter().zip(sets).flat_map(hold).collect()
    }
}

/// The schedule of a solution.
pub(crate) fn read(compiled: &Compiled, tasks: &[TaskInModel], solution: SolutionReference) -> Vec<Set> {
    let value = |variable: DomainId| usize::try_from(solution.get_integer_value(variable)).unwrap_or(0);
    let set = |(task, compiled): (&TaskInModel, &crate::axis::CompiledTask)| {
        let (start, way) = (value(task.start), task.way.map_or(0, value));
        Set { start, end: start + compiled.ways[way].length, way }
    };
    tasks.iter().zip(&compiled.tasks).map(set).collect()
}
