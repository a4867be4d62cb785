//! The question: tasks, the gangs that can do them, scaffolds that stand while they are done, gaps between them that depend on when one ends, and what
//! time costs. It must never know what a task is for: time is counted in whole slots from nought, money in whole pence.

/// A stretch of slots: the first, and the one after the last.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stretch {
    /// First slot.
    pub from: u32,
    /// Slot after the last.
    pub to: u32,
}

impl Stretch {
    /// True when a slot lies in it.
    pub fn holds(self, slot: u32) -> bool {
        self.from <= slot && slot < self.to
    }
}

/// The whole question. Slots are of equal length (a day, or half of one) and all of them count in a gap; work is done in open slots alone.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Instance {
    /// Slots that may be used: everything must end by this slot.
    pub slots: u32,
    /// Slots in which nobody works. A task that reaches one pauses, and holds its gang.
    pub closed: Vec<Stretch>,
    /// Those who work, one task at a time each.
    pub gangs: Vec<Gang>,
    /// What stands while a span of tasks is done.
    pub scaffolds: Vec<Scaffold>,
    /// The work.
    pub tasks: Vec<Task>,
    /// What must lie between two tasks.
    pub gaps: Vec<Gap>,
    /// Tasks that need a scaffold from the first to the last.
    pub spans: Vec<Span>,
    /// Pence for each slot until the last task ends.
    pub per_slot: i64,
}

/// Somebody who works, on one task at a time.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Gang {
    /// Name, for sentences.
    pub name: String,
    /// Stretches in which it is not to be had; no task of its may reach into one.
    pub away: Vec<Stretch>,
    /// Pence for each visit.
    pub visit: i64,
    /// Open slots it may stand idle between two tasks before it leaves and must come again.
    pub patience: u32,
}

/// Scaffold of one kind.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Scaffold {
    /// Name, for sentences.
    pub name: String,
    /// How many can stand at once.
    pub sets: u32,
    /// Stretches in which none may stand.
    pub closed: Vec<Stretch>,
}

/// A piece of work.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Task {
    /// Name, for sentences.
    pub name: String,
    /// Who can do it, and in how many open slots.
    pub ways: Vec<Way>,
    /// First slot in which it may begin.
    pub not_before: u32,
    /// It must have ended by this slot.
    pub deadline: Option<u32>,
    /// Slots in which it may begin; empty for any.
    pub starts: Vec<Stretch>,
    /// True when no closed slot may lie within it.
    pub unbroken: bool,
    /// What it costs to end late.
    pub due: Option<Due>,
    /// Pence by the slot in which it begins, such as a stated charge for risk; empty for none, else one for each slot.
    pub charge: Vec<u32>,
}

/// A gang that can do a task, and the open slots it needs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Way {
    /// Place of the gang in the instance.
    pub gang: usize,
    /// Open slots, at least one.
    pub slots: u32,
}

/// A date that may be missed at a price.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Due {
    /// Slot by which it should have ended.
    pub by: u32,
    /// Pence for each slot it ends later.
    pub per_slot: u32,
}

/// What must lie between the end of one task and the beginning of another.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Gap {
    /// Place of the earlier task.
    pub before: usize,
    /// Place of the later task.
    pub after: usize,
    /// How long.
    pub wait: Wait,
}

/// Slots that must pass, open and closed alike.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Wait {
    /// Always as many.
    Always(u32),
    /// By the slot at which the earlier task has ended (one for each slot, and one more for the end of the last); [`Wait::NEVER`] where the later
    /// task cannot follow at all.
    ByEnd(Vec<u32>),
}

impl Wait {
    /// An end after which the later task cannot follow.
    pub const NEVER: u32 = u32::MAX;

    /// Slots to wait after an end, `None` where the later task cannot follow.
    pub fn after(&self, end: u32) -> Option<u32> {
        match self {
            Wait::Always(slots) => Some(*slots),
            Wait::ByEnd(slots) => slots.get(end as usize).copied().filter(|&slots| slots != Self::NEVER),
        }
    }
}

/// Tasks that need one set of a scaffold, from the beginning of the first to the end of the last and a while longer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Span {
    /// Name, for sentences.
    pub name: String,
    /// Place of the scaffold.
    pub scaffold: usize,
    /// Place of the task that begins it.
    pub first: usize,
    /// Place of the task that ends it: the first itself, or one that follows it.
    pub last: usize,
    /// Slots that it stands after the last task has ended.
    pub stays: u32,
    /// Pence for each slot that it stands.
    pub per_slot: u32,
}

/// What is to be made least.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Aim {
    /// The slot at which the last task ends.
    Finish,
    /// Pence: visits, lateness, scaffold, charges, and time until the end.
    Cost,
}
