//! The instance seen along its open slots alone, numbered from nought: there a task has a constant length, and closed slots live on in the tables of
//! what may follow when. Everything that searches works here. It must never decide anything.

use crate::{Instance, Stretch};

/// Which open slot is which.
#[derive(Clone, Debug)]
pub(crate) struct Axis {
    /// Slot of each open slot, in order.
    slot: Vec<u32>,
    /// For each slot, and one more, the first open slot at or after it, by number; the count of open slots where none is left.
    open_from: Vec<usize>,
}

impl Axis {
    pub(crate) fn new(instance: &Instance) -> Self {
        let slot: Vec<u32> = (0..instance.slots).filter(|&slot| !instance.closed.iter().any(|closed| closed.holds(slot))).collect();
        let open_from = (0..=instance.slots).map(|at| slot.partition_point(|&open| open < at)).collect();
        Self { slot, open_from }
    }

    /// Open slots.
    pub(crate) fn len(&self) -> usize {
        self.slot.len()
    }

    /// Slot in which an open slot lies.
    pub(crate) fn start(&self, rank: usize) -> u32 {
        self.slot[rank]
    }

    /// Slot at which work has ended whose last open slot is the one before `rank`.
    pub(crate) fn end(&self, rank: usize) -> u32 {
        rank.checked_sub(1).map_or(0, |last| self.slot[last] + 1)
    }

    /// First open slot at or after a slot, by number.
    pub(crate) fn from(&self, slot: u32) -> usize {
        self.open_from.get(slot as usize).copied().unwrap_or(self.slot.len())
    }

    /// Open slots in a stretch.
    pub(crate) fn open_in(&self, stretch: Stretch) -> usize {
        self.from(stretch.to).saturating_sub(self.from(stretch.from))
    }
}

/// A way of doing a task, along the open slots.
#[derive(Clone, Debug)]
pub(crate) struct CompiledWay {
    pub(crate) gang: usize,
    pub(crate) length: usize,
    /// Where it may begin, deadlines left aside.
    pub(crate) may_begin: Vec<bool>,
}

/// A task, along the open slots.
#[derive(Clone, Debug)]
pub(crate) struct CompiledTask {
    pub(crate) ways: Vec<CompiledWay>,
    /// Latest end the deadline allows.
    pub(crate) latest_end: usize,
    /// Places of the gaps after it and before it.
    pub(crate) gaps_after: Vec<usize>,
    pub(crate) gaps_before: Vec<usize>,
    /// Spans it begins and ends.
    pub(crate) begins: Vec<usize>,
}

/// A gap: by the end of the earlier task, the first open slot in which the later may begin; the count of open slots for never.
#[derive(Clone, Debug)]
pub(crate) struct CompiledGap {
    pub(crate) before: usize,
    pub(crate) after: usize,
    pub(crate) earliest: Vec<usize>,
}

/// A span: by the end of its last task, the first open slot in which another may stand on the same set.
#[derive(Clone, Debug)]
pub(crate) struct CompiledSpan {
    pub(crate) scaffold: usize,
    pub(crate) first: usize,
    pub(crate) last: usize,
    pub(crate) free_again: Vec<usize>,
    /// Per stretch in which none may stand: the latest end before it, and the first beginning after it.
    pub(crate) around: Vec<(usize, usize)>,
}

/// The instance along the open slots.
#[derive(Clone, Debug)]
pub(crate) struct Compiled<'a> {
    pub(crate) instance: &'a Instance,
    pub(crate) axis: Axis,
    pub(crate) tasks: Vec<CompiledTask>,
    pub(crate) gaps: Vec<CompiledGap>,
    pub(crate) spans: Vec<CompiledSpan>,
}

impl<'a> Compiled<'a> {
    /// Compiles an instance whose parts are known to name each other rightly.
    pub(crate) fn new(instance: &'a Instance) -> Self {
        let axis = Axis::new(instance);
        let gaps = compiled_gaps(instance, &axis);
        let tasks = (0..instance.tasks.len()).map(|task| compiled_task(instance, &axis, &gaps, task)).collect();
        let spans = compiled_spans(instance, &axis);
        Self { instance, axis, tasks, gaps, spans }
    }

    /// Tasks in an order in which each comes after those it must follow; shorter than the tasks where they wait for each other in a ring.
    pub(crate) fn order(&self) -> Vec<usize> {
        let mut left: Vec<usize> = self.tasks.iter().map(|task| task.gaps_before.len()).collect();
        let mut order: Vec<usize> = (0..left.len()).filter(|&task| left[task] == 0).collect();
        let mut next = 0;
        while next < order.len() {
            for &gap in &self.tasks[order[next]].gaps_after {
                let after = self.gaps[gap].after;
                left[after] -= 1;
                if left[after] == 0 {
                    order.push(after);
                }
            }
            next += 1;
        }
        order
    }
}

fn compiled_gaps(instance: &Instance, axis: &Axis) -> Vec<CompiledGap> {
    let earliest = |gap: &crate::Gap, end: usize| {
        let ended = axis.end(end);
        gap.wait.after(ended).map_or(axis.len(), |wait| axis.from(ended.saturating_add(wait)))
    };
    let compiled = |gap: &crate::Gap| CompiledGap {
        before: gap.before,
        after: gap.after,
        earliest: (0..=axis.len()).map(|end| earliest(gap, end)).collect(),
    };
    instance.gaps.iter().map(compiled).collect()
}

fn compiled_task(instance: &Instance, axis: &Axis, gaps: &[CompiledGap], number: usize) -> CompiledTask {
    let task = &instance.tasks[number];
    let way = |way: &crate::Way| {
        let length = way.slots as usize;
        let away = &instance.gangs[way.gang].away;
        let may = |rank: usize| {
            let end = rank + length;
            if end > axis.len() {
                return false;
            }
            let (from, to) = (axis.start(rank), axis.end(end));
            let listed = task.starts.is_empty() || task.starts.iter().any(|stretch| stretch.holds(from));
            let whole = !task.unbroken || to - from == way.slots;
            let there =
                away.iter().filter(|away| away.from < away.to).all(|away| axis.from(away.to) <= rank || axis.from(away.from) >= end);
            from >= task.not_before && listed && whole && there
        };
        CompiledWay { gang: way.gang, length, may_begin: (0..axis.len()).map(may).collect() }
    };
    let places = |wanted: &dyn Fn(&CompiledGap) -> bool| (0..gaps.len()).filter(|&gap| wanted(&gaps[gap])).collect();
    CompiledTask {
        ways: task.ways.iter().map(way).collect(),
        latest_end: task.deadline.map_or(axis.len(), |deadline| axis.from(deadline)),
        gaps_after: places(&|gap| gap.before == number),
        gaps_before: places(&|gap| gap.after == number),
        begins: (0..instance.spans.len()).filter(|&span| instance.spans[span].first == number).collect(),
    }
}

fn compiled_spans(instance: &Instance, axis: &Axis) -> Vec<CompiledSpan> {
    let around = |span: &crate::Span, stretch: &Stretch| {
        let latest_end = (0..=axis.len()).rfind(|&end| axis.end(end).saturating_add(span.stays) <= stretch.from).unwrap_or(0);
        (latest_end, axis.from(stretch.to))
    };
    // A stretch of nothing shuts nothing: work may go on through it.
    let shut = |scaffold: usize| instance.scaffolds[scaffold].closed.iter().filter(|stretch| stretch.from < stretch.to);
    let compiled = |span: &crate::Span| CompiledSpan {
        scaffold: span.scaffold,
        first: span.first,
        last: span.last,
        free_again: (0..=axis.len()).map(|end| axis.from(axis.end(end).saturating_add(span.stays))).collect(),
        around: shut(span.scaffold).map(|stretch| around(span, stretch)).collect(),
    };
    instance.spans.iter().map(compiled).collect()
}
