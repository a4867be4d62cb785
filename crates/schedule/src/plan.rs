//! A plan, and what it costs: judged afresh from the instance, slot by slot, by whoever made it. It must never trust a search about its own result.

use crate::{Aim, Instance, Wait};

/// When each task begins and who does it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Plan {
    /// Per task, in the order of the instance.
    pub tasks: Vec<Placed>,
    /// What it costs.
    pub costs: Costs,
}

/// A task in its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Placed {
    /// Slot in which it begins.
    pub start: u32,
    /// Slot at which it has ended.
    pub end: u32,
    /// Gang that does it.
    pub gang: usize,
}

/// What a plan costs, in pence, and when it ends.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Costs {
    /// Slot at which the last task has ended.
    pub finish: u32,
    /// Visits of each gang.
    pub visits: Vec<u32>,
    /// Pence for visits.
    pub visit: i64,
    /// Pence for ending late.
    pub late: i64,
    /// Pence for scaffold that stands.
    pub scaffold: i64,
    /// Pence charged for when tasks begin.
    pub charged: i64,
    /// Pence for time until the end.
    pub time: i64,
}

impl Costs {
    /// All of it, in pence.
    pub fn total(&self) -> i64 {
        self.visit + self.late + self.scaffold + self.charged + self.time
    }

    /// What is to be made least.
    pub fn aim(&self, aim: Aim) -> i64 {
        match aim {
            Aim::Finish => i64::from(self.finish),
            Aim::Cost => self.total(),
        }
    }
}

impl Instance {
    /// What a plan costs that keeps every rule.
    ///
    /// # Errors
    /// The first rule it breaks, in a sentence.
    pub fn judge(&self, tasks: &[Placed]) -> Result<Costs, String> {
        if tasks.len() != self.tasks.len() {
            return Err(format!("{} tasks are placed of {}", tasks.len(), self.tasks.len()));
        }
        for (number, placed) in tasks.iter().enumerate() {
            self.judge_task(number, placed)?;
        }
        self.judge_gaps(tasks)?;
        self.judge_gangs(tasks)?;
        self.judge_spans(tasks)?;
        Ok(self.costs(tasks))
    }

    fn is_open(&self, slot: u32) -> bool {
        !self.closed.iter().any(|closed| closed.holds(slot))
    }

    fn judge_task(&self, number: usize, placed: &Placed) -> Result<(), String> {
        let task = &self.tasks[number];
        let name = &task.name;
        let Some(way) = task.ways.iter().find(|way| way.gang == placed.gang) else {
            return Err(format!("{name} is given to a gang that cannot do it"));
        };
        if placed.end <= placed.start || placed.end > self.slots {
            return Err(format!("{name} lies outside the {} slots", self.slots));
        }
        let worked = (placed.start..placed.end).filter(|&slot| self.is_open(slot)).count();
        if worked != way.slots as usize || !self.is_open(placed.start) || !self.is_open(placed.end - 1) {
            return Err(format!("{name} has {worked} open slots and needs {}", way.slots));
        }
        if task.unbroken && placed.end - placed.start != way.slots {
            return Err(format!("{name} is broken off"));
        }
        if placed.start < task.not_before || task.deadline.is_some_and(|deadline| placed.end > deadline) {
            return Err(format!("{name} lies before its first slot or after its deadline"));
        }
        if !task.starts.is_empty() && !task.starts.iter().any(|stretch| stretch.holds(placed.start)) {
            return Err(format!("{name} begins in a slot that is not allowed"));
        }
        let away = &self.gangs[placed.gang].away;
        if (placed.start..placed.end).any(|slot| self.is_open(slot) && away.iter().any(|away| away.holds(slot))) {
            return Err(format!("{name} lies where its gang is away"));
        }
        Ok(())
    }

    fn judge_gaps(&self, tasks: &[Placed]) -> Result<(), String> {
        for gap in &self.gaps {
            let end = tasks[gap.before].end;
            let kept = gap.wait.after(end).is_some_and(|wait| tasks[gap.after].start >= end.saturating_add(wait));
            if !kept {
                let (before, after) = (&self.tasks[gap.before].name, &self.tasks[gap.after].name);
                return Err(format!("{after} begins too soon after {before}, which ends at {end}"));
            }
        }
        Ok(())
    }

    fn judge_gangs(&self, tasks: &[Placed]) -> Result<(), String> {
        for (first, one) in tasks.iter().enumerate() {
            for (second, other) in tasks.iter().enumerate().skip(first + 1) {
                if one.gang == other.gang && one.start < other.end && other.start < one.end {
                    let names = (&self.tasks[first].name, &self.tasks[second].name);
                    return Err(format!("{} and {} are done by one gang at once", names.0, names.1));
                }
            }
        }
        Ok(())
    }

    fn judge_spans(&self, tasks: &[Placed]) -> Result<(), String> {
        for span in &self.spans {
            let scaffold = &self.scaffolds[span.scaffold];
            let (from, to) = self.stands(span, tasks);
            if scaffold.closed.iter().any(|closed| closed.from < closed.to && from < closed.to && closed.from < to) {
                return Err(format!("{} stands where no {} may", span.name, scaffold.name));
            }
            // The most that stand at once, stand at the beginning of one of them.
            let others = self.spans.iter().filter(|other| other.scaffold == span.scaffold);
            let at_once = others.map(|other| self.stands(other, tasks)).filter(|&(begins, ends)| begins <= from && from < ends).count();
            if at_once > scaffold.sets as usize {
                return Err(format!("{at_once} spans stand at once on {} sets of {}", scaffold.sets, scaffold.name));
            }
        }
        Ok(())
    }

    /// First slot in which a span stands, and the slot after the last.
    fn stands(&self, span: &crate::Span, tasks: &[Placed]) -> (u32, u32) {
        (tasks[span.first].start, tasks[span.last].end.saturating_add(span.stays))
    }

    fn costs(&self, tasks: &[Placed]) -> Costs {
        let finish = tasks.iter().map(|placed| placed.end).max().unwrap_or(0);
        let visits: Vec<u32> = (0..self.gangs.len()).map(|gang| self.visits(gang, tasks)).collect();
        let late = self
            .tasks
            .iter()
            .zip(tasks)
            .filter_map(|(task, placed)| task.due.map(|due| i64::from(due.per_slot) * i64::from(placed.end.saturating_sub(due.by))));
        let charged =
            self.tasks.iter().zip(tasks).map(|(task, placed)| task.charge.get(placed.start as usize).map_or(0, |&pence| i64::from(pence)));
        let scaffold = self.spans.iter().map(|span| {
            let (from, to) = self.stands(span, tasks);
            i64::from(span.per_slot) * i64::from(to - from)
        });
        Costs {
            finish,
            visit: self.gangs.iter().zip(&visits).map(|(gang, &visits)| gang.visit * i64::from(visits)).sum(),
            visits,
            late: late.sum(),
            scaffold: scaffold.sum(),
            charged: charged.sum(),
            time: self.per_slot * i64::from(finish),
        }
    }

    /// Visits of a gang: its tasks in order of time, a new visit after more open slots without work than it has patience for.
    fn visits(&self, gang: usize, tasks: &[Placed]) -> u32 {
        let mut its: Vec<(u32, u32)> = tasks.iter().filter(|placed| placed.gang == gang).map(|placed| (placed.start, placed.end)).collect();
        its.sort_unstable();
        let patience = self.gangs[gang].patience as usize;
        let gone = its.windows(2).filter(|pair| (pair[0].1..pair[1].0).filter(|&slot| self.is_open(slot)).count() > patience);
        u32::try_from(gone.count()).unwrap_or(u32::MAX) + u32::from(!its.is_empty())
    }
}

/// What differs between two plans of the same tasks.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Difference {
    /// Slots by which the second ends later; negative for earlier.
    pub finish: i64,
    /// Pence by which it costs more; negative for less.
    pub cost: i64,
    /// Visits by which it has more; negative for fewer.
    pub visits: i64,
    /// Slots by which each task begins later, in the order of the instance; negative for earlier.
    pub starts: Vec<i64>,
    /// Tasks that another gang does, by place.
    pub other_gang: Vec<usize>,
    /// True when the tasks begin in another order.
    pub other_order: bool,
}

impl Plan {
    /// What differs in another plan of the same tasks.
    pub fn against(&self, other: &Plan) -> Difference {
        let pairs = || self.tasks.iter().zip(&other.tasks);
        let all = |plan: &Plan| plan.costs.visits.iter().map(|&visits| i64::from(visits)).sum::<i64>();
        Difference {
            finish: i64::from(other.costs.finish) - i64::from(self.costs.finish),
            cost: other.costs.total() - self.costs.total(),
            visits: all(other) - all(self),
            starts: pairs().map(|(one, two)| i64::from(two.start) - i64::from(one.start)).collect(),
            other_gang: pairs().enumerate().filter(|(_, (one, two))| one.gang != two.gang).map(|(task, _)| task).collect(),
            other_order: self.order() != other.order(),
        }
    }

    /// Tasks by when they begin.
    pub fn order(&self) -> Vec<usize> {
        let mut order: Vec<usize> = (0..self.tasks.len()).collect();
        order.sort_by_key(|&task| (self.tasks[task].start, task));
        order
    }
}

impl Wait {
    /// Entries a table must have for so many slots.
    pub(crate) fn entries(slots: u32) -> usize {
        slots as usize + 1
    }
}
