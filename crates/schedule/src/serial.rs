//! One schedule from one order: tasks are placed one after another, each in the first place that fits. It searches nothing; [`crate::search`] does.

use crate::axis::Compiled;
use crate::{Costs, Placed};

/// How to place the tasks: who comes first, who holds back, who does it.
#[derive(Clone, Debug)]
pub(crate) struct Order {
    /// Rank of each task among those that may be placed: the lowest first.
    pub(crate) rank: Vec<u32>,
    /// Open slots by which it begins later than it could.
    pub(crate) delay: Vec<usize>,
    /// The way it is done; `None` for the one that ends first.
    pub(crate) way: Vec<Option<usize>>,
}

/// A task placed, along the open slots.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Set {
    pub(crate) start: usize,
    pub(crate) end: usize,
    pub(crate) way: usize,
}

/// A schedule along the open slots.
#[derive(Clone, Debug)]
pub(crate) struct Schedule {
    pub(crate) set: Vec<Set>,
    /// Open slots by which deadlines are missed, all together.
    pub(crate) missed: usize,
}

impl Schedule {
    pub(crate) fn placed(&self, compiled: &Compiled) -> Vec<Placed> {
        let placed = |(number, set): (usize, &Set)| Placed {
            start: compiled.axis.start(set.start),
            end: compiled.axis.end(set.end),
            gang: compiled.tasks[number].ways[set.way].gang,
        };
        self.set.iter().enumerate().map(placed).collect()
    }

    /// What the schedule costs, where it keeps every deadline and every other rule.
    pub(crate) fn costs(&self, compiled: &Compiled) -> Option<Costs> {
        compiled.instance.judge(&self.placed(compiled)).ok()
    }
}

/// Places tasks.
pub(crate) struct Serial<'c> {
    compiled: &'c Compiled<'c>,
    /// Per gang and open slot, whether it works.
    busy: Vec<Vec<bool>>,
    /// Per scaffold and set, the first open slot from which it is free; `None` while a span stands on it whose end is not placed yet.
    sets: Vec<Vec<Option<usize>>>,
    /// Set on which each span stands.
    on: Vec<usize>,
    set: Vec<Option<Set>>,
    waits_for: Vec<usize>,
    missed: usize,
}

impl<'c> Serial<'c> {
    pub(crate) fn new(compiled: &'c Compiled<'c>) -> Self {
        Self {
            compiled,
            busy: Vec::new(),
            sets: Vec::new(),
            on: vec![0; compiled.spans.len()],
            set: Vec::new(),
            waits_for: Vec::new(),
            missed: 0,
        }
    }

    fn clear(&mut self) {
        let (compiled, instance) = (self.compiled, self.compiled.instance);
        self.busy.resize(instance.gangs.len(), Vec::new());
        for busy in &mut self.busy {
            busy.clear();
            busy.resize(compiled.axis.len(), false);
        }
        self.sets = instance.scaffolds.iter().map(|scaffold| vec![Some(0); scaffold.sets as usize]).collect();
        self.set = vec![None; compiled.tasks.len()];
        self.waits_for = compiled.tasks.iter().map(|task| task.gaps_before.len()).collect();
        self.missed = 0;
    }

    /// Places every task; `None` where one finds no place.
    pub(crate) fn run(&mut self, order: &Order) -> Option<Schedule> {
        self.clear();
        for _ in 0..self.compiled.tasks.len() {
            let next = self.next(order)?;
            self.place(next, order)?;
        }
        let set = self.set.iter().copied().collect::<Option<Vec<_>>>()?;
        Some(Schedule { set, missed: self.missed })
    }

    /// The first task in order that waits for none and finds a set for every span it begins.
    fn next(&self, order: &Order) -> Option<usize> {
        let ready = |&task: &usize| self.set[task].is_none() && self.waits_for[task] == 0 && self.has_sets(task);
        (0..self.set.len()).filter(ready).min_by_key(|&task| (order.rank[task], task))
    }

    fn has_sets(&self, task: usize) -> bool {
        self.compiled.tasks[task].begins.iter().all(|&span| self.free_set(span).is_some())
    }

    /// The set that is free first.
    fn free_set(&self, span: usize) -> Option<(usize, usize)> {
        let sets = &self.sets[self.compiled.spans[span].scaffold];
        sets.iter().enumerate().filter_map(|(set, free)| free.map(|free| (free, set))).min()
    }

    fn place(&mut self, task: usize, order: &Order) -> Option<()> {
        let compiled = self.compiled;
        let mut from = 0;
        for &gap in &compiled.tasks[task].gaps_before {
            let gap = &compiled.gaps[gap];
            from = from.max(gap.earliest[self.set[gap.before]?.end]);
        }
        for &span in &compiled.tasks[task].begins {
            let (free, set) = self.free_set(span)?;
            self.on[span] = set;
            self.sets[compiled.spans[span].scaffold][set] = None;
            from = from.max(free);
        }
        let found = self.first_place(task, from + order.delay[task], order.way[task])?;
        self.put(task, found);
        Some(())
    }

    fn put(&mut self, task: usize, set: Set) {
        let compiled = self.compiled;
        let gang = compiled.tasks[task].ways[set.way].gang;
        self.busy[gang][set.start..set.end].fill(true);
        self.set[task] = Some(set);
        self.missed += set.end.saturating_sub(compiled.tasks[task].latest_end);
        for &gap in &compiled.tasks[task].gaps_after {
            self.waits_for[compiled.gaps[gap].after] -= 1;
        }
        for (number, span) in compiled.spans.iter().enumerate().filter(|(_, span)| span.last == task) {
            self.sets[span.scaffold][self.on[number]] = Some(span.free_again[set.end]);
        }
    }

    /// The place, of those that fit, from which what follows may begin soonest; for a task that nothing follows, the one that ends first.
    fn first_place(&self, task: usize, from: usize, way: Option<usize>) -> Option<Set> {
        let ways = 0..self.compiled.tasks[task].ways.len();
        let mut best: Option<(usize, Set)> = None;
        for way in ways.filter(|&one| way.is_none_or(|wanted| wanted == one)) {
            let mut rank = from;
            // A later beginning cannot lead to less than its own end.
            while let Some(set) = self.fits(task, way, rank).filter(|set| best.is_none_or(|(reached, _)| set.end < reached)) {
                let reached = self.reached(task, set.end);
                if best.is_none_or(|(least, _)| reached < least) {
                    best = Some((reached, set));
                }
                rank = set.start + 1;
            }
        }
        best.map(|(_, set)| set)
    }

    /// The first open slot in which all that follows may begin.
    fn reached(&self, task: usize, end: usize) -> usize {
        let gaps = &self.compiled.tasks[task].gaps_after;
        gaps.iter().map(|&gap| self.compiled.gaps[gap].earliest[end]).max().unwrap_or(end)
    }

    fn fits(&self, task: usize, way: usize, from: usize) -> Option<Set> {
        let compiled = &self.compiled.tasks[task].ways[way];
        let (busy, length) = (&self.busy[compiled.gang], compiled.length);
        let mut start = from;
        loop {
            start = (start..compiled.may_begin.len()).find(|&rank| compiled.may_begin[rank])?;
            let end = start + length;
            match (start..end).rfind(|&rank| busy[rank]) {
                Some(taken) => start = taken + 1,
                None if self.may_stand(task, start, end) => return Some(Set { start, end, way }),
                None => start += 1,
            }
        }
    }

    /// True when no span that the task begins or ends would stand where it may not.
    fn may_stand(&self, task: usize, start: usize, end: usize) -> bool {
        self.compiled.spans.iter().filter(|span| span.first == task || span.last == task).all(|span| {
            let from = if span.first == task { Some(start) } else { self.set[span.first].map(|set| set.start) };
            let to = (span.last == task).then_some(end);
            span.around.iter().all(|&(latest_end, first)| {
                let before = to.map_or_else(|| from.is_some_and(|from| from < latest_end), |to| to <= latest_end);
                before || from.is_some_and(|from| from >= first)
            })
        })
    }
}
