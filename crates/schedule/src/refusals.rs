//! Why an instance has no plan, said before anything is searched: each refusal names the constraint that binds, in a sentence. It must never refuse what
//! can be planned.

use thiserror::Error;

use crate::axis::Compiled;
use crate::{Instance, Stretch, Wait};

/// Why an instance cannot be planned.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum Refusal {
    /// Nothing is asked.
    #[error("There is no task to plan.")]
    NoTasks,
    /// A part names another that is not there.
    #[error("{who} names {what} number {found}, and there are {count}.")]
    NotThere {
        /// The part that names.
        who: String,
        /// What it names.
        what: &'static str,
        /// The number it gives.
        found: usize,
        /// How many there are.
        count: usize,
    },
    /// A table has the wrong length.
    #[error("{who} has a table of {found} entries where {wanted} are needed.")]
    Table {
        /// Whose it is.
        who: String,
        /// Entries found.
        found: usize,
        /// Entries needed.
        wanted: usize,
    },
    /// Nobody ever works.
    #[error("The calendar has no working time: all of its {slots} slots are closed.")]
    NoWorkingTime {
        /// Slots of the calendar.
        slots: u32,
    },
    /// Nobody is named for a task, or it takes no time.
    #[error("Nobody can do {task}: it names no gang.")]
    Nobody {
        /// The task.
        task: String,
    },
    /// A way that takes no time.
    #[error("{gang} would need no time at all for {task}: a task takes at least one slot.")]
    NoTime {
        /// The task.
        task: String,
        /// The gang.
        gang: String,
    },
    /// A gang that is never there.
    #[error("{gang} is away in every open slot, and nobody else can do {task}.")]
    GangNeverThere {
        /// The gang.
        gang: String,
        /// The task.
        task: String,
    },
    /// A scaffold that can never stand.
    #[error("{scaffold} is never free, and {span} needs it: {why}.")]
    ScaffoldNeverFree {
        /// The scaffold.
        scaffold: String,
        /// The span that needs it.
        span: String,
        /// Why.
        why: String,
    },
    /// Tasks that wait for each other.
    #[error("These tasks wait for each other in a ring, so none can be first: {}.", tasks.join(", "))]
    Ring {
        /// The tasks.
        tasks: Vec<String>,
    },
    /// A task that fits nowhere.
    #[error("{task} can begin nowhere: {why}.")]
    NoPlace {
        /// The task.
        task: String,
        /// What leaves it no place.
        why: String,
    },
    /// A deadline that cannot be met even by a task with every gang to itself.
    #[error("{task} must have ended by slot {deadline} and cannot end before slot {earliest}, whatever the gangs do: {chain}.")]
    Deadline {
        /// The task.
        task: String,
        /// Its deadline.
        deadline: u32,
        /// The earliest end.
        earliest: u32,
        /// The tasks that lead to it, with the earliest end of each.
        chain: String,
    },
    /// More work before a date than there are gangs for.
    #[error("{work} slots of work must have ended by slot {by}, and the gangs have {room} open slots until then.")]
    TooMuchWork {
        /// Open slots of work.
        work: usize,
        /// The date.
        by: u32,
        /// Open slots of all gangs.
        room: usize,
    },
    /// Deadlines that cannot all be met, found by proof.
    #[error("No order keeps all dates, by proof. These cannot all be met: {}.", deadlines.join(", "))]
    Deadlines {
        /// Tasks and their deadlines.
        deadlines: Vec<String>,
    },
    /// No plan within the slots, found by proof.
    #[error("No order fits into {slots} slots, by proof.")]
    TooShort {
        /// Slots.
        slots: u32,
    },
    /// A sum of money too large to reckon with.
    #[error("The charges may come to {found} pence, and the most that can be reckoned with is {most}.")]
    TooDear {
        /// Most the charges may come to.
        found: i64,
        /// The most there may be.
        most: i64,
    },
}

/// Why an instance cannot be planned, all reasons at once; empty for one that may be.
pub fn refusals(instance: &Instance) -> Vec<Refusal> {
    let mut refused = not_there(instance);
    refused.extend(tables(instance));
    if instance.tasks.is_empty() {
        refused.push(Refusal::NoTasks);
    }
    if !refused.is_empty() {
        return refused;
    }
    let compiled = Compiled::new(instance);
    if compiled.axis.len() == 0 {
        return vec![Refusal::NoWorkingTime { slots: instance.slots }];
    }
    refused.extend(nobody(&compiled));
    refused.extend(never_free(&compiled));
    let order = compiled.order();
    if order.len() < instance.tasks.len() {
        let in_ring = (0..instance.tasks.len()).filter(|task| !order.contains(task));
        refused.push(Refusal::Ring { tasks: in_ring.map(|task| instance.tasks[task].name.clone()).collect() });
    }
    if refused.is_empty() {
        refused.extend(out_of_reach(&compiled, &order));
    }
    if refused.is_empty() {
        refused.extend(too_much_work(&compiled));
    }
    refused
}

fn not_there(instance: &Instance) -> Vec<Refusal> {
    let (tasks, gangs, scaffolds) = (instance.tasks.len(), instance.gangs.len(), instance.scaffolds.len());
    let mut named: Vec<(String, &'static str, usize, usize)> = Vec::new();
    for task in &instance.tasks {
        named.extend(task.ways.iter().map(|way| (task.name.clone(), "gang", way.gang, gangs)));
    }
    for (number, gap) in instance.gaps.iter().enumerate() {
        named.extend([gap.before, gap.after].map(|task| (format!("Gap {number}"), "task", task, tasks)));
    }
    for span in &instance.spans {
        named.extend([span.first, span.last].map(|task| (span.name.clone(), "task", task, tasks)));
        named.push((span.name.clone(), "scaffold", span.scaffold, scaffolds));
    }
    let missing = named.into_iter().filter(|&(_, _, found, count)| found >= count);
    missing.map(|(who, what, found, count)| Refusal::NotThere { who, what, found, count }).collect()
}

fn tables(instance: &Instance) -> Vec<Refusal> {
    let mut refused = Vec::new();
    for (number, gap) in instance.gaps.iter().enumerate() {
        if let Wait::ByEnd(waits) = &gap.wait
            && waits.len() != Wait::entries(instance.slots)
        {
            refused.push(Refusal::Table { who: format!("Gap {number}"), found: waits.len(), wanted: Wait::entries(instance.slots) });
        }
    }
    for task in &instance.tasks {
        if !task.charge.is_empty() && task.charge.len() != instance.slots as usize {
            refused.push(Refusal::Table { who: task.name.clone(), found: task.charge.len(), wanted: instance.slots as usize });
        }
    }
    refused
}

fn nobody(compiled: &Compiled) -> Vec<Refusal> {
    let instance = compiled.instance;
    let mut refused = Vec::new();
    for task in &instance.tasks {
        if task.ways.is_empty() {
            refused.push(Refusal::Nobody { task: task.name.clone() });
        }
        for way in task.ways.iter().filter(|way| way.slots == 0) {
            refused.push(Refusal::NoTime { task: task.name.clone(), gang: instance.gangs[way.gang].name.clone() });
        }
        let never = |gang: usize| {
            let there = |rank: usize| !instance.gangs[gang].away.iter().any(|away| away.holds(compiled.axis.start(rank)));
            !(0..compiled.axis.len()).any(there)
        };
        if let Some(way) = task.ways.first()
            && task.ways.iter().all(|way| never(way.gang))
        {
            refused.push(Refusal::GangNeverThere { gang: instance.gangs[way.gang].name.clone(), task: task.name.clone() });
        }
    }
    refused
}

fn never_free(compiled: &Compiled) -> Vec<Refusal> {
    let instance = compiled.instance;
    let mut refused = Vec::new();
    for span in &instance.spans {
        let scaffold = &instance.scaffolds[span.scaffold];
        let free = (0..compiled.axis.len()).any(|rank| !scaffold.closed.iter().any(|closed| closed.holds(compiled.axis.start(rank))));
        let why = match (scaffold.sets, free) {
            (0, _) => "there is no set of it".to_owned(),
            (_, false) => "it may stand in no open slot".to_owned(),
            _ => continue,
        };
        refused.push(Refusal::ScaffoldNeverFree { scaffold: scaffold.name.clone(), span: span.name.clone(), why });
    }
    refused
}

/// The earliest end of each task with every gang and scaffold to itself, and what it waits for.
struct Reach {
    earliest_end: usize,
    after: Option<usize>,
}

/// Tasks that cannot be reached within the slots, and deadlines that cannot be met.
fn out_of_reach(compiled: &Compiled, order: &[usize]) -> Vec<Refusal> {
    let instance = compiled.instance;
    let mut reach: Vec<Option<Reach>> = instance.tasks.iter().map(|_| None).collect();
    let mut refused = Vec::new();
    for &number in order {
        let task = &compiled.tasks[number];
        let before = task.gaps_before.iter().map(|&gap| &compiled.gaps[gap]);
        let mut held = (0, None);
        for gap in before {
            // A predecessor out of reach has been refused already.
            let Some(from) = &reach[gap.before] else { return refused };
            let soonest = gap.earliest[from.earliest_end..].iter().min().copied().unwrap_or(compiled.axis.len());
            held = held.max((soonest, Some(gap.before)));
        }
        match earliest_end(task, held.0) {
            Some(earliest_end) => reach[number] = Some(Reach { earliest_end, after: held.1 }),
            None => {
                refused.push(no_place(compiled, number, held));
                continue;
            }
        }
        let end = reach[number].as_ref().map_or(0, |reach| reach.earliest_end);
        if let Some(deadline) = instance.tasks[number].deadline
            && compiled.axis.end(end) > deadline
        {
            let (task, earliest) = (instance.tasks[number].name.clone(), compiled.axis.end(end));
            refused.push(Refusal::Deadline { task, deadline, earliest, chain: chain(compiled, &reach, number) });
        }
    }
    refused
}

fn earliest_end(task: &crate::axis::CompiledTask, from: usize) -> Option<usize> {
    let first =
        |way: &crate::axis::CompiledWay| (from..way.may_begin.len()).find(|&rank| way.may_begin[rank]).map(|rank| rank + way.length);
    task.ways.iter().filter_map(first).min()
}

fn no_place(compiled: &Compiled, number: usize, (held, by): (usize, Option<usize>)) -> Refusal {
    let instance = compiled.instance;
    let task = instance.tasks[number].name.clone();
    let anywhere = earliest_end(&compiled.tasks[number], 0).is_some();
    let why = match by.map(|by| &instance.tasks[by].name) {
        Some(before) if anywhere && held >= compiled.axis.len() => {
            format!("it can follow {before} at no slot within the {}", instance.slots)
        }
        Some(before) if anywhere => {
            format!("after {before} it may begin at slot {}, and none of its slots comes later", compiled.axis.start(held))
        }
        _ => format!("no stretch of open slots within the {} is long enough where it may begin and its gang is there", instance.slots),
    };
    Refusal::NoPlace { task, why }
}

/// The tasks that lead to one, each with its earliest end, the first of them first.
fn chain(compiled: &Compiled, reach: &[Option<Reach>], number: usize) -> String {
    let mut links = Vec::new();
    let mut at = Some(number);
    while let Some(task) = at {
        let Some(found) = &reach[task] else { break };
        links.push(format!("{} ends at slot {}", compiled.instance.tasks[task].name, compiled.axis.end(found.earliest_end)));
        at = found.after;
    }
    links.reverse();
    links.join(", then ")
}

/// The work that must have ended by each date, against the open slots of all gangs until then.
fn too_much_work(compiled: &Compiled) -> Option<Refusal> {
    let instance = compiled.instance;
    let by = |number: usize| instance.tasks[number].deadline.unwrap_or(instance.slots).min(instance.slots);
    let mut dates: Vec<u32> = (0..instance.tasks.len()).map(by).collect();
    dates.sort_unstable();
    dates.dedup();
    dates.into_iter().find_map(|date| {
        let least = |number: usize| compiled.tasks[number].ways.iter().map(|way| way.length).min().unwrap_or(0);
        let work: usize = (0..instance.tasks.len()).filter(|&number| by(number) <= date).map(least).sum();
        let open = |gang: &crate::Gang| {
            let there = |rank: usize| !gang.away.iter().any(|away| away.holds(compiled.axis.start(rank)));
            let until = compiled.axis.open_in(Stretch { from: 0, to: date });
            (0..until).filter(|&rank| there(rank)).count()
        };
        let room: usize = instance.gangs.iter().map(open).sum();
        (work > room).then_some(Refusal::TooMuchWork { work, by: date, room })
    })
}
