//! Made instances from a named seed: walls of a few coats each, gaps that are long in the dark of the year and short in its light, gangs, scaffolds, weekends.
//! Invented; nothing in them was tuned to either solver.
#![allow(dead_code, reason = "each test that includes this file uses a part of it")]

use schedule::{Due, Gang, Gap, Instance, Scaffold, Span, Stretch, Task, Wait, Way};
use serde_json::{Value, json};

/// Seed, walls, coats of each, weeks.
pub type Size = (u64, u32, u32, u32);

/// Fifteen instances of 6 to 24 tasks.
pub const ALL: [Size; 15] = [
    (1, 2, 3, 8),
    (2, 2, 4, 10),
    (3, 3, 3, 20),
    (4, 3, 4, 12),
    (5, 3, 4, 12),
    (6, 4, 3, 12),
    (7, 4, 4, 24),
    (8, 4, 4, 14),
    (9, 5, 3, 12),
    (10, 5, 4, 36),
    (11, 5, 4, 36),
    (12, 6, 3, 24),
    (13, 6, 4, 36),
    (14, 6, 4, 24),
    (15, 8, 3, 36),
];

/// Five larger ones, on which neither solver ends.
pub const LARGER: [Size; 5] = [(16, 8, 4, 45), (17, 8, 5, 50), (18, 10, 4, 50), (19, 10, 4, 60), (20, 12, 4, 60)];

/// Numbers of a linear congruential generator (Knuth's MMIX constants) from a named seed.
pub struct Draws(pub u64);

impl Draws {
    /// A number from nought to one below `count`.
    pub fn below(&mut self, count: u32) -> u32 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        u32::try_from((self.0 >> 33) % u64::from(count)).unwrap_or(0)
    }

    /// A number between two, both included.
    pub fn between(&mut self, least: u32, most: u32) -> u32 {
        least + self.below(most - least + 1)
    }
}

/// Days of a week, the last two of them closed.
const WEEK: u32 = 7;

/// An instance of so many walls with so many coats each, over so many weeks.
pub fn made(seed: u64, walls: u32, coats: u32, weeks: u32) -> Instance {
    let mut draws = Draws(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15));
    (0..8).for_each(|_| {
        draws.below(2);
    });
    let slots = weeks * WEEK;
    let gangs = draws.between(1, 3).min(walls);
    let sets = draws.between(1, 3);
    let mut instance = Instance {
        slots,
        closed: (0..weeks).map(|week| Stretch { from: week * WEEK + 5, to: week * WEEK + 7 }).collect(),
        gangs: (0..gangs).map(|gang| made_gang(&mut draws, gang, slots)).collect(),
        scaffolds: vec![Scaffold { name: "Scaffold".to_owned(), sets, closed: Vec::new() }],
        per_slot: 100 * i64::from(draws.between(0, 20)),
        ..Instance::default()
    };
    for wall in 0..walls {
        made_wall(&mut instance, &mut draws, wall, coats);
    }
    instance
}

fn made_gang(draws: &mut Draws, gang: u32, slots: u32) -> Gang {
    let from = draws.below(slots);
    let away = if draws.below(3) == 0 { vec![Stretch { from, to: (from + draws.between(2, 10)).min(slots) }] } else { Vec::new() };
    Gang { name: format!("Gang {}", gang + 1), away, visit: 100 * i64::from(draws.between(50, 200)), patience: draws.between(0, 4) }
}

fn made_wall(instance: &mut Instance, draws: &mut Draws, wall: u32, coats: u32) {
    let first = instance.tasks.len();
    let gangs = instance.gangs.len();
    for coat in 0..coats {
        let own = draws.below(3) == 0;
        let one = draws.below(u32::try_from(gangs).unwrap_or(1)) as usize;
        let length = draws.between(1, 3);
        let may = (0..gangs).filter(|&gang| !own || gang == one);
        let ways: Vec<Way> = may.map(|gang| Way { gang, slots: length + if own { 0 } else { draws.below(2) } }).collect();
        let last = coat + 1 == coats;
        instance.tasks.push(Task {
            name: format!("wall {} coat {}", wall + 1, coat + 1),
            ways,
            unbroken: draws.below(4) == 0,
            due: (last && draws.below(2) == 0).then(|| Due { by: instance.slots / 3, per_slot: 100 * draws.between(1, 30) }),
            charge: if draws.below(4) == 0 { season(draws, instance.slots, 100, 40) } else { Vec::new() },
            ..Task::default()
        });
        if coat > 0 {
            let after = instance.tasks.len() - 1;
            let mut waits = season(draws, instance.slots, 1, 12);
            waits.push(2);
            instance.gaps.push(Gap { before: after - 1, after, wait: Wait::ByEnd(waits) });
        }
    }
    instance.spans.push(Span {
        name: format!("wall {}", wall + 1),
        scaffold: 0,
        first,
        last: instance.tasks.len() - 1,
        stays: draws.below(3),
        per_slot: 100 * draws.between(1, 12),
    });
}

/// Numbers that fall and rise with the season, unevenly, in steps of `unit`: one for each slot.
fn season(draws: &mut Draws, slots: u32, unit: u32, swing: u32) -> Vec<u32> {
    let (dark, least) = (draws.below(slots), draws.between(2, 6));
    let at = |slot: u32, rough: u32| {
        let away = slot.abs_diff(dark).min(slots / 2);
        unit * (least + swing * (slots / 2 - away) / (slots / 2) + rough)
    };
    (0..slots).map(|slot| at(slot, draws.below(3))).collect()
}

/// An instance as the reference script reads it.
pub fn wire(instance: &Instance) -> Value {
    let stretches = |list: &[Stretch]| list.iter().map(|stretch| json!([stretch.from, stretch.to])).collect::<Vec<_>>();
    let wait = |wait: &Wait| match wait {
        Wait::Always(slots) => vec![*slots; instance.slots as usize + 1],
        Wait::ByEnd(slots) => slots.clone(),
    };
    json!({
        "slots": instance.slots,
        "closed": stretches(&instance.closed),
        "per_slot": instance.per_slot,
        "gangs": instance.gangs.iter().map(|gang| json!({
            "away": stretches(&gang.away), "visit": gang.visit, "patience": gang.patience,
        })).collect::<Vec<_>>(),
        "scaffolds": instance.scaffolds.iter().map(|one| json!({ "sets": one.sets, "closed": stretches(&one.closed) })).collect::<Vec<_>>(),
        "tasks": instance.tasks.iter().map(|task| json!({
            "ways": task.ways.iter().map(|way| json!([way.gang, way.slots])).collect::<Vec<_>>(),
            "not_before": task.not_before, "deadline": task.deadline, "starts": stretches(&task.starts), "unbroken": task.unbroken,
            "due": task.due.map(|due| json!([due.by, due.per_slot])), "charge": task.charge,
        })).collect::<Vec<_>>(),
        "gaps": instance.gaps.iter().map(|gap| json!({
            "before": gap.before, "after": gap.after, "wait": wait(&gap.wait),
        })).collect::<Vec<_>>(),
        "spans": instance.spans.iter().map(|span| json!({
            "scaffold": span.scaffold, "first": span.first, "last": span.last, "stays": span.stays, "per_slot": span.per_slot,
        })).collect::<Vec<_>>(),
    })
}
