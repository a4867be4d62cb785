//! What a schedule costs and whether a moved task fits, reckoned along the open slots for the search, which asks thousands of times. The last word has
//! [`crate::Instance::judge`], which reckons afresh from the instance. It must never be what a plan is told by.

use crate::Aim;
use crate::axis::Compiled;
use crate::serial::Set;

impl Compiled<'_> {
    /// What is to be made least, of a schedule that keeps every rule.
    pub(crate) fn weigh(&self, aim: Aim, sets: &[Set]) -> i64 {
        let finish = i64::from(sets.iter().map(|set| self.axis.end(set.end)).max().unwrap_or(0));
        match aim {
            Aim::Finish => finish,
            Aim::Cost => {
                let own: i64 = sets.iter().enumerate().map(|(task, set)| self.own(task, set)).sum();
                let spans: i64 = (0..self.spans.len()).map(|span| self.span(span, sets)).sum();
                own + spans + self.visits(sets) + self.instance.per_slot * finish
            }
        }
    }

    /// Lateness and charge of a task.
    pub(crate) fn own(&self, task: usize, set: &Set) -> i64 {
        let told = &self.instance.tasks[task];
        let end = self.axis.end(set.end);
        let late = told.due.map_or(0, |due| i64::from(due.per_slot) * i64::from(end.saturating_sub(due.by)));
        late + told.charge.get(self.axis.start(set.start) as usize).map_or(0, |&pence| i64::from(pence))
    }

    fn span(&self, number: usize, sets: &[Set]) -> i64 {
        let (span, told) = (&self.spans[number], &self.instance.spans[number]);
        let stands = self.axis.end(sets[span.last].end).saturating_add(told.stays) - self.axis.start(sets[span.first].start);
        i64::from(told.per_slot) * i64::from(stands)
    }

    fn visits(&self, sets: &[Set]) -> i64 {
        let mut by_gang: Vec<(usize, usize, usize)> =
            sets.iter().enumerate().map(|(task, set)| (self.tasks[task].ways[set.way].gang, set.start, set.end)).collect();
        by_gang.sort_unstable();
        let cost = |at: usize| {
            let (gang, start, _) = by_gang[at];
            let told = &self.instance.gangs[gang];
            let stayed = at.checked_sub(1).is_some_and(|before| {
                let (other, _, end) = by_gang[before];
                other == gang && start.saturating_sub(end) <= told.patience as usize
            });
            if stayed { 0 } else { told.visit }
        };
        (0..by_gang.len()).map(cost).sum()
    }

    /// True when a task that has been moved disturbs no other on its gang and no scaffold.
    pub(crate) fn undisturbed(&self, task: usize, sets: &[Set]) -> bool {
        let gang = |task: usize| self.tasks[task].ways[sets[task].way].gang;
        let clash = |other: usize| {
            other != task && gang(other) == gang(task) && sets[other].start < sets[task].end && sets[task].start < sets[other].end
        };
        if (0..sets.len()).any(clash) {
            return false;
        }
        let touched = |span: &&crate::axis::CompiledSpan| span.first == task || span.last == task;
        let scaffolds: Vec<usize> = self.spans.iter().filter(touched).map(|span| span.scaffold).collect();
        self.spans.iter().filter(|span| scaffolds.contains(&span.scaffold)).all(|span| self.stands(span, sets))
    }

    fn stands(&self, span: &crate::axis::CompiledSpan, sets: &[Set]) -> bool {
        let (from, end) = (sets[span.first].start, sets[span.last].end);
        let around = span.around.iter().all(|&(latest_end, first)| end <= latest_end || from >= first);
        let others = self.spans.iter().filter(|other| other.scaffold == span.scaffold);
        let at_once = others.filter(|other| sets[other.first].start <= from && from < other.free_again[sets[other.last].end]).count();
        around && at_once <= self.instance.scaffolds[span.scaffold].sets as usize
    }
}
