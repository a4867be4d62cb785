//! What is to be made least, as a variable of the constraint solver: the last end along the open slots, or money in the largest unit that divides every
//! charge. It must never weigh by anything but the instance's own charges.

use pumpkin_core::predicate;
use pumpkin_core::predicates::Predicate;
use pumpkin_core::variables::{DomainId, TransformableVariable};

use crate::axis::Compiled;
use crate::model::{Model, View};
use crate::serial::Set;
use crate::{Aim, Refusal};

/// Most units of money that the solver reckons with: sums of them must stay within 32 bits.
const MOST_UNITS: i64 = 1 << 29;

/// What is to be made least.
pub(crate) struct Objective {
    pub(crate) variable: DomainId,
    aim: Aim,
    /// Pence in a unit.
    unit: i64,
}

impl Objective {
    /// The value of a schedule as the solver reckons it.
    pub(crate) fn of(&self, compiled: &Compiled, sets: &[Set]) -> i32 {
        match self.aim {
            Aim::Finish => Model::number(sets.iter().map(|set| set.end).max().unwrap_or(0)),
            Aim::Cost => i32::try_from(compiled.weigh(Aim::Cost, sets) / self.unit).unwrap_or(i32::MAX),
        }
    }

    /// Pence in a unit, or one for slots.
    pub(crate) fn unit(&self) -> i64 {
        self.unit
    }

    /// A value of the solver in slots or pence.
    pub(crate) fn told(&self, compiled: &Compiled, value: i32) -> i64 {
        match self.aim {
            Aim::Finish => i64::from(compiled.axis.end(usize::try_from(value).unwrap_or(0))),
            Aim::Cost => i64::from(value) * self.unit,
        }
    }

    /// The predicate that a plan is no worse than a value.
    pub(crate) fn at_most(&self, value: i32) -> Predicate {
        let variable = self.variable;
        predicate![variable <= value]
    }
}

/// The largest amount that divides all charges, and the most they may come to.
fn unit_and_most(compiled: &Compiled) -> (i64, i64) {
    let instance = compiled.instance;
    let slots = i64::from(instance.slots);
    let dues = instance.tasks.iter().filter_map(|task| task.due);
    let mut charges: Vec<(i64, i64)> = dues.map(|due| (i64::from(due.per_slot), slots)).collect();
    charges.extend(instance.tasks.iter().flat_map(|task| task.charge.iter().map(|&pence| (i64::from(pence), 0))));
    charges.extend(instance.tasks.iter().map(|task| (task.charge.iter().copied().max().map_or(0, i64::from), 1)));
    let longest = |span: &crate::Span| slots + i64::from(span.stays);
    charges.extend(instance.spans.iter().map(|span| (i64::from(span.per_slot), longest(span))));
    charges.extend(instance.gangs.iter().map(|gang| (gang.visit, instance.tasks.len() as i64)));
    charges.push((instance.per_slot, slots));
    let unit = charges.iter().fold(0, |unit, &(pence, _)| common(unit, pence));
    let most = charges.iter().fold(0_i64, |most, &(pence, times)| most.saturating_add(pence.saturating_mul(times)));
    (unit.max(1), most)
}

/// The greatest common divisor (Euclid).
fn common(one: i64, other: i64) -> i64 {
    if other == 0 { one } else { common(other, one % other) }
}

/// Refuses sums of money too large for the solver.
pub(crate) fn too_dear(compiled: &Compiled) -> Option<Refusal> {
    let (unit, found) = unit_and_most(compiled);
    let most = MOST_UNITS.saturating_mul(unit);
    (found > most).then_some(Refusal::TooDear { found, most })
}

impl Model<'_> {
    /// Adds what is to be made least.
    pub(crate) fn objective(&mut self, aim: Aim) -> Objective {
        match aim {
            Aim::Finish => {
                let slots = Self::number(self.compiled.axis.len());
                let last = self.integer(0, slots);
                for task in 0..self.tasks.len() {
                    let end = self.tasks[task].end;
                    self.at_most(vec![end, last.scaled(-1)], 0);
                }
                Objective { variable: last, aim, unit: 1 }
            }
            Aim::Cost => {
                let (unit, most) = unit_and_most(self.compiled);
                let units = |pence: i64| i32::try_from(pence / unit).unwrap_or(i32::MAX);
                let mut terms = self.own_charges(&units);
                terms.extend(self.span_charges(&units));
                terms.extend(self.visit_charges(&units));
                terms.extend(self.time_charge(&units));
                let total = self.integer(0, units(most));
                terms.push(total.scaled(-1));
                self.at_most(terms, 0);
                Objective { variable: total, aim, unit }
            }
        }
    }

    /// A variable that is at least what a table tells.
    fn by_table(&mut self, at: View, table: &[i32]) -> View {
        let (least, most) = (table.iter().copied().min().unwrap_or(0), table.iter().copied().max().unwrap_or(0));
        let value = self.integer(least, most).scaled(1);
        self.at_least_by_table(at, table, value);
        value
    }

    /// Slots at which work has ended, by open slot.
    fn ends(&self) -> Vec<i32> {
        (0..=self.compiled.axis.len()).map(|rank| i32::try_from(self.compiled.axis.end(rank)).unwrap_or(i32::MAX)).collect()
    }

    /// Lateness of each task, and its charge by when it begins.
    fn own_charges(&mut self, units: &dyn Fn(i64) -> i32) -> Vec<View> {
        let compiled = self.compiled;
        let mut terms = Vec::new();
        for (number, task) in compiled.instance.tasks.iter().enumerate() {
            let (start, end) = (self.tasks[number].start, self.tasks[number].end);
            if let Some(due) = task.due.filter(|due| due.per_slot > 0) {
                let late = |rank: usize| i64::from(due.per_slot) * i64::from(compiled.axis.end(rank).saturating_sub(due.by));
                let table: Vec<i32> = (0..=compiled.axis.len()).map(|rank| units(late(rank))).collect();
                terms.push(self.by_table(end, &table));
            }
            if !task.charge.is_empty() {
                let charge = |rank: usize| i64::from(task.charge[compiled.axis.start(rank) as usize]);
                let table: Vec<i32> = (0..compiled.axis.len()).map(|rank| units(charge(rank))).collect();
                terms.push(self.by_table(start.scaled(1), &table));
            }
        }
        terms
    }

    /// What each span costs while it stands: from its beginning to its end, and never less than its tasks need from that beginning.
    fn span_charges(&mut self, units: &dyn Fn(i64) -> i32) -> Vec<View> {
        let compiled = self.compiled;
        let slots = compiled.axis.len();
        let mut terms = Vec::new();
        for (number, span) in compiled.instance.spans.iter().enumerate().filter(|(_, span)| span.per_slot > 0) {
            let (start, end) = (self.tasks[span.first].start, self.tasks[span.last].end);
            let stays = i32::try_from(span.stays).unwrap_or(i32::MAX);
            let ends: Vec<i32> = self.ends().iter().map(|end| end.saturating_add(stays)).collect();
            let to = self.by_table(end, &ends);
            // Counted from the last open slot backwards, the table of beginnings rises too.
            let begins: Vec<i32> = (0..slots).rev().map(|rank| -i32::try_from(compiled.axis.start(rank)).unwrap_or(i32::MAX)).collect();
            let from = self.by_table(start.scaled(-1).offset(Self::number(slots) - 1), &begins);
            let least = compiled.least_standing(number);
            let stands = self.by_table(start.scaled(1), &least);
            let stands = self.longer(stands, ends.last().copied().unwrap_or(0));
            self.at_most(vec![to, from, stands.scaled(-1)], 0);
            terms.push(stands.scaled(units(i64::from(span.per_slot))));
        }
        terms
    }

    /// A variable that is at least another, and may be as much as `most`.
    fn longer(&mut self, other: View, most: i32) -> View {
        let value = self.integer(0, most.max(0)).scaled(1);
        self.at_most(vec![other, value.scaled(-1)], 0);
        value
    }

    fn time_charge(&mut self, units: &dyn Fn(i64) -> i32) -> Option<View> {
        if self.compiled.instance.per_slot <= 0 {
            return None;
        }
        let ends = self.ends();
        let last = self.integer(0, ends.last().copied().unwrap_or(0)).scaled(1);
        for task in 0..self.tasks.len() {
            let end = self.tasks[task].end;
            self.at_least_by_table(end, &ends, last);
        }
        Some(last.scaled(units(self.compiled.instance.per_slot)))
    }

    /// A visit for each task before which its gang has done nothing for longer than its patience.
    fn visit_charges(&mut self, units: &dyn Fn(i64) -> i32) -> Vec<View> {
        let compiled = self.compiled;
        let mut terms = Vec::new();
        let mut of_gang: Vec<Vec<View>> = vec![Vec::new(); compiled.instance.gangs.len()];
        for task in 0..self.tasks.len() {
            for (number, way) in compiled.tasks[task].ways.iter().enumerate() {
                let gang = &compiled.instance.gangs[way.gang];
                if gang.visit <= 0 {
                    continue;
                }
                let visit = self.visit(task, number);
                of_gang[way.gang].push(visit);
                terms.push(visit.scaled(units(gang.visit)));
            }
        }
        // Whoever has a task that nobody else can do comes at least once.
        for (gang, visits) in of_gang.into_iter().enumerate().filter(|(_, visits)| !visits.is_empty()) {
            let needed = compiled.tasks.iter().any(|task| task.ways.iter().all(|way| way.gang == gang));
            if needed {
                self.at_most(visits.into_iter().map(|visit| visit.scaled(-1)).collect(), -1);
            }
        }
        terms
    }

    /// 1 where a task, done in this way, begins a visit.
    fn visit(&mut self, task: usize, way: usize) -> View {
        let compiled = self.compiled;
        let gang = compiled.tasks[task].ways[way].gang;
        let patience = i32::try_from(compiled.instance.gangs[gang].patience).unwrap_or(i32::MAX / 2);
        let visit = self.literal();
        let mut clause = vec![visit.get_true_predicate()];
        clause.extend(self.tasks[task].way.map(|chosen| predicate![chosen != Self::number(way)]));
        for other in (0..self.tasks.len()).filter(|&other| other != task) {
            let Some(same) = compiled.tasks[other].ways.iter().position(|one| one.gang == gang) else { continue };
            let stayed = self.precedes(other, task);
            let (end, start) = (self.tasks[other].end, self.tasks[task].start);
            self.at_most_if(vec![start.scaled(1), end.scaled(-1)], patience, stayed);
            if let Some(chosen) = self.tasks[other].way {
                self.clause([stayed.get_false_predicate(), predicate![chosen == Self::number(same)]]);
            }
            clause.push(stayed.get_true_predicate());
        }
        self.clause(clause);
        visit.get_integer_variable().scaled(1)
    }
}

impl Compiled<'_> {
    /// By where its first task begins, the fewest slots that a span stands with every gang to itself; the whole length where it cannot follow.
    fn least_standing(&self, number: usize) -> Vec<i32> {
        let (span, stays) = (&self.spans[number], self.instance.spans[number].stays);
        let soonest: Vec<Vec<usize>> = self.gaps.iter().map(|gap| soonest_from(&gap.earliest)).collect();
        let order = self.order();
        let least = |rank: usize| {
            let mut end: Vec<Option<usize>> = vec![None; self.tasks.len()];
            for &task in order.iter().skip_while(|&&task| task != span.first) {
                let length = self.tasks[task].ways.iter().map(|way| way.length).min().unwrap_or(0);
                let held = self.tasks[task].gaps_before.iter();
                let from = held.filter_map(|&gap| end[self.gaps[gap].before].map(|end| soonest[gap][end.min(self.axis.len())])).max();
                let from = if task == span.first { Some(rank) } else { from };
                end[task] = from.map(|from| from + length);
            }
            let stands = end[span.last].map_or(0, |end| self.axis.end(end.min(self.axis.len())).saturating_add(stays));
            i32::try_from(stands.saturating_sub(self.axis.start(rank))).unwrap_or(i32::MAX)
        };
        (0..self.axis.len()).map(least).collect()
    }
}

/// The least entry from each on.
fn soonest_from(table: &[usize]) -> Vec<usize> {
    let mut soonest = table.to_vec();
    for entry in (1..table.len()).rev() {
        soonest[entry - 1] = soonest[entry - 1].min(soonest[entry]);
    }
    soonest
}
