//! A good plan soon: one schedule after another from orders a little changed, kept when better or hardly worse. The same seed makes the same plan. It
//! proves nothing; [`crate::exact`] does.

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

use crate::axis::Compiled;
use crate::serial::{Order, Schedule, Serial, Set};
use crate::{Aim, Plan};

/// A missed open slot of a deadline counts as this: more than anything that could be gained by missing it.
const MISSED: i64 = 1_000_000_000;
/// Rounds without gain after which the search goes back to the best.
const PATIENCE: u32 = 150;
/// Longest a task holds back in one change, in open slots.
const MOST_DELAY: u32 = 24;

/// Searches for so many rounds; `None` where no order led to a plan that keeps every rule.
pub(crate) fn search(compiled: &Compiled, aim: Aim, seed: u64, rounds: u32) -> Option<(Plan, Vec<Set>)> {
    let mut search = Search { compiled, aim, draws: ChaCha8Rng::seed_from_u64(seed), serial: Serial::new(compiled) };
    let best = search.run(rounds)?;
    let best = polished(compiled, aim, best);
    let costs = best.costs(compiled)?;
    Some((Plan { tasks: best.placed(compiled), costs }, best.set))
}

struct Search<'c> {
    compiled: &'c Compiled<'c>,
    aim: Aim,
    draws: ChaCha8Rng,
    serial: Serial<'c>,
}

impl Search<'_> {
    fn run(&mut self, rounds: u32) -> Option<Schedule> {
        let mut now = self.first_order();
        let (mut cost_now, mut best) = (i64::MAX, None::<(i64, Schedule, Order)>);
        let mut idle = 0;
        for round in 0..rounds {
            let order = if round == 0 { now.clone() } else { self.changed(&now) };
            let Some((cost, schedule)) = self.tried(&order) else { continue };
            // Hardly worse: by a share that shrinks to nothing.
            let slack = (cost_now / 200).saturating_mul(i64::from(rounds - round)) / i64::from(rounds);
            if cost <= cost_now.saturating_add(slack) {
                (now, cost_now) = (order.clone(), cost);
            }
            if best.as_ref().is_none_or(|&(least, ..)| cost < least) {
                best = Some((cost, schedule, order));
                idle = 0;
            } else {
                idle += 1;
            }
            if idle > PATIENCE
                && let Some((cost, _, order)) = &best
            {
                (now, cost_now, idle) = (order.clone(), *cost, 0);
            }
        }
        best.filter(|(_, schedule, _)| schedule.missed == 0).map(|(_, schedule, _)| schedule)
    }

    fn tried(&mut self, order: &Order) -> Option<(i64, Schedule)> {
        let schedule = self.serial.run(order)?;
        let missed = MISSED.saturating_mul(i64::try_from(schedule.missed).unwrap_or(i64::MAX));
        let cost = if schedule.missed == 0 { self.compiled.weigh(self.aim, &schedule.set) } else { missed };
        Some((cost, schedule))
    }

    /// The task with the longest way to the end first.
    fn first_order(&self) -> Order {
        let tasks = &self.compiled.tasks;
        let mut tail = vec![0_usize; tasks.len()];
        for &task in self.compiled.order().iter().rev() {
            let follow = tasks[task].gaps_after.iter().map(|&gap| {
                let gap = &self.compiled.gaps[gap];
                let wait = gap.earliest.iter().enumerate().map(|(end, &from)| from.saturating_sub(end)).min().unwrap_or(0);
                wait + tail[gap.after]
            });
            tail[task] = follow.max().unwrap_or(0) + tasks[task].ways.iter().map(|way| way.length).min().unwrap_or(0);
        }
        let longest = tail.iter().copied().max().unwrap_or(0);
        Order {
            rank: tail.iter().map(|&tail| u32::try_from((longest - tail) * 16).unwrap_or(u32::MAX)).collect(),
            delay: vec![0; tasks.len()],
            way: vec![None; tasks.len()],
        }
    }

    fn below(&mut self, count: usize) -> usize {
        // The multiply-shift of Lemire (2019): even enough for a search, and never out of bounds.
        usize::try_from((u64::from(self.draws.next_u32()) * count as u64) >> 32).unwrap_or(0)
    }

    fn changed(&mut self, order: &Order) -> Order {
        let mut order = order.clone();
        let count = order.rank.len();
        for _ in 0..=self.below(3) {
            let task = self.below(count);
            match self.below(8) {
                0..=2 => {
                    let other = self.below(count);
                    order.rank.swap(task, other);
                }
                3 | 4 => order.rank[task] = self.near(&order, count),
                5 => order.delay[task] = self.below(MOST_DELAY as usize + 1),
                6 => order.delay[task] = 0,
                _ => {
                    let ways = self.compiled.tasks[task].ways.len();
                    order.way[task] = Some(self.below(ways + 1)).filter(|&way| way < ways);
                }
            }
        }
        order
    }

    /// A rank beside that of a task drawn.
    fn near(&mut self, order: &Order, count: usize) -> u32 {
        let beside = order.rank[self.below(count)];
        if self.below(2) == 0 { beside.saturating_sub(1) } else { beside.saturating_add(1) }
    }
}

/// Moves one task at a time to wherever the plan becomes cheapest with all others where they are, until no move helps.
fn polished(compiled: &Compiled, aim: Aim, mut schedule: Schedule) -> Schedule {
    let mut least = compiled.weigh(aim, &schedule.set);
    loop {
        let before = least;
        for task in 0..schedule.set.len() {
            for set in places(compiled, &schedule, task) {
                let old = std::mem::replace(&mut schedule.set[task], set);
                let cost = compiled.weigh(aim, &schedule.set);
                if cost < least && compiled.undisturbed(task, &schedule.set) {
                    least = cost;
                } else {
                    schedule.set[task] = old;
                }
            }
        }
        if least == before {
            return schedule;
        }
    }
}

/// Where a task could lie between what comes before and after it.
fn places(compiled: &Compiled, schedule: &Schedule, task: usize) -> Vec<Set> {
    let gap = |&gap: &usize| &compiled.gaps[gap];
    let from = compiled.tasks[task].gaps_before.iter().map(gap).map(|gap| gap.earliest[schedule.set[gap.before].end]).max().unwrap_or(0);
    let follows =
        |end: usize| compiled.tasks[task].gaps_after.iter().map(gap).all(|gap| gap.earliest[end] <= schedule.set[gap.after].start);
    let ways = compiled.tasks[task].ways.iter().enumerate();
    let found = ways.flat_map(|(way, done)| {
        let starts = (from..compiled.axis.len()).filter(|&start| done.may_begin[start]);
        starts.map(move |start| Set { start, end: start + done.length, way })
    });
    found.filter(|set| set.end <= compiled.tasks[task].latest_end && follows(set.end)).collect()
}
