//! Answers worked by hand, refusals, and what must hold for any made instance.
#![allow(clippy::unwrap_used, clippy::expect_used)]

mod made;

use proptest::prelude::*;
use schedule::{
    Aim, Due, Ended, Gang, Gap, Instance, Refusal, Scaffold, Settings, SolveError, Span, Stretch, Task, Wait, Way, first, refusals, solve,
    three,
};

const STEPS: Settings = Settings { seed: 7, rounds: 300, steps: 20_000 };

fn task(name: &str, slots: u32) -> Task {
    Task { name: name.to_owned(), ways: vec![Way { gang: 0, slots }], ..Task::default() }
}

fn gang(name: &str) -> Gang {
    Gang { name: name.to_owned(), ..Gang::default() }
}

/// Two walls of three coats, one gang, always five slots between coats.
fn two_walls() -> Instance {
    let names = ["a scud", "a straightening", "a finish", "b scud", "b straightening", "b finish"];
    let gap = |before: usize| Gap { before, after: before + 1, wait: Wait::Always(5) };
    Instance {
        slots: 60,
        gangs: vec![gang("the gang")],
        tasks: names.iter().map(|name| task(name, 2)).collect(),
        gaps: vec![gap(0), gap(1), gap(3), gap(4)],
        ..Instance::default()
    }
}

fn proved(instance: &Instance, aim: Aim) -> i64 {
    let answer = solve(instance, aim, STEPS, &|| false).unwrap();
    assert_eq!(answer.ended, Ended::Proved);
    assert_eq!(answer.bound, answer.plan.costs.aim(aim));
    assert_eq!(instance.judge(&answer.plan.tasks).unwrap(), answer.plan.costs);
    answer.bound
}

// By hand: wall a works 0–2, 7–9, 14–16; wall b fits into its waits, 2–4, 9–11, 16–18. The last coat of b can end no sooner, since the gang has 12
// slots of work and each wall at least 2 + 5 + 2 + 5 + 2 = 16; one of the two begins at 2 or later.
#[test]
fn the_gang_works_on_one_wall_while_the_other_cures() {
    assert_eq!(proved(&two_walls(), Aim::Finish), 18);
}

// By hand: with one set of scaffold the second wall begins when the first is finished: 16 + 16.
#[test]
fn one_scaffold_puts_one_wall_after_the_other() {
    let mut instance = two_walls();
    instance.scaffolds = vec![Scaffold { name: "scaffold".to_owned(), sets: 1, closed: Vec::new() }];
    let span = |first: usize| Span { name: format!("wall {first}"), scaffold: 0, first, last: first + 2, stays: 0, per_slot: 0 };
    instance.spans = vec![span(0), span(3)];
    assert_eq!(proved(&instance, Aim::Finish), 32);
    // It stands three slots longer after each: 16 + 3 + 16.
    instance.spans.iter_mut().for_each(|span| span.stays = 3);
    assert_eq!(proved(&instance, Aim::Finish), 35);
}

// By hand: the first coat ends at 2 and then waits 20; begun five slots later it ends at 7 and waits 4, so that the second ends at 13 and not at 24.
#[test]
fn whoever_waits_for_spring_is_done_sooner() {
    let waits = (0..=60).map(|end| if end < 7 { 20 } else { 4 }).collect();
    let instance = Instance {
        slots: 60,
        gangs: vec![gang("the gang")],
        tasks: vec![task("scud", 2), task("finish", 2)],
        gaps: vec![Gap { before: 0, after: 1, wait: Wait::ByEnd(waits) }],
        ..Instance::default()
    };
    assert_eq!(proved(&instance, Aim::Finish), 13);
}

// By hand: slots 4 to 6 are closed, so that a task of three begun at 2 pauses and ends at 8; unbroken it must begin at 7 and ends at 10, unless it
// begins at 0 or 1. A task of one goes first, so 0 is taken: 1 to 4.
#[test]
fn closed_slots_pause_a_task_or_push_it() {
    let mut instance = Instance {
        slots: 20,
        closed: vec![Stretch { from: 4, to: 7 }],
        gangs: vec![gang("the gang")],
        tasks: vec![task("long", 3)],
        ..Instance::default()
    };
    instance.tasks[0].not_before = 2;
    assert_eq!(proved(&instance, Aim::Finish), 8);
    instance.tasks[0].unbroken = true;
    assert_eq!(proved(&instance, Aim::Finish), 10);
}

// By hand: two tasks of one slot ten slots apart. Two visits cost 2 × 50; kept waiting the gang has one visit, and 10 slots of time at 3 pence are no
// dearer either way, since the gap stands. With patience 9 it leaves, with patience 10 it stays.
#[test]
fn a_gang_without_patience_comes_twice() {
    let mut instance = Instance {
        slots: 30,
        gangs: vec![Gang { visit: 50, patience: 9, ..gang("the gang") }],
        tasks: vec![task("one", 1), task("two", 1)],
        gaps: vec![Gap { before: 0, after: 1, wait: Wait::Always(10) }],
        per_slot: 3,
        ..Instance::default()
    };
    assert_eq!(proved(&instance, Aim::Cost), 2 * 50 + 3 * 12);
    instance.gangs[0].patience = 10;
    assert_eq!(proved(&instance, Aim::Cost), 50 + 3 * 12);
}

// By hand: scaffold at 4 pence a slot stands 1 + 6 + 1 = 8 slots, and lateness of 10 pence a slot from 8 on: begun at 0 it ends at 8 with no lateness.
// A charge of 100 for beginning before slot 3 is more than three slots of lateness: it begins at 3, 4 × 8 + 10 × 3.
#[test]
fn lateness_is_weighed_against_risk() {
    let mut instance = Instance {
        slots: 30,
        gangs: vec![gang("the gang")],
        scaffolds: vec![Scaffold { name: "scaffold".to_owned(), sets: 1, closed: Vec::new() }],
        tasks: vec![task("one", 1), Task { due: Some(Due { by: 8, per_slot: 10 }), ..task("two", 1) }],
        gaps: vec![Gap { before: 0, after: 1, wait: Wait::Always(6) }],
        spans: vec![Span { name: "wall".to_owned(), scaffold: 0, first: 0, last: 1, stays: 0, per_slot: 4 }],
        ..Instance::default()
    };
    assert_eq!(proved(&instance, Aim::Cost), 32);
    instance.tasks[0].charge = (0..30).map(|slot| if slot < 3 { 100 } else { 0 }).collect();
    assert_eq!(proved(&instance, Aim::Cost), 62);
}

fn one_refusal(instance: &Instance) -> Refusal {
    let refused = refusals(instance);
    assert_eq!(refused.len(), 1, "{refused:?}");
    refused[0].clone()
}

#[test]
fn each_refusal_names_what_binds() {
    let mut deadline = two_walls();
    deadline.tasks[2].deadline = Some(15);
    let said = one_refusal(&deadline).to_string();
    assert_eq!(
        said,
        "a finish must have ended by slot 15 and cannot end before slot 16, whatever the gangs do: a scud ends at slot 2, then a straightening ends at \
         slot 9, then a finish ends at slot 16."
    );
    let closed = Instance { closed: vec![Stretch { from: 0, to: 60 }], ..two_walls() };
    assert_eq!(one_refusal(&closed), Refusal::NoWorkingTime { slots: 60 });
    let mut nobody = two_walls();
    nobody.tasks[4].ways.clear();
    assert_eq!(one_refusal(&nobody), Refusal::Nobody { task: "b straightening".to_owned() });
    let mut away = two_walls();
    away.gangs[0].away = vec![Stretch { from: 0, to: 60 }];
    assert!(refusals(&away).iter().all(|refusal| matches!(refusal, Refusal::GangNeverThere { .. })));
    let mut scaffold = two_walls();
    scaffold.scaffolds = vec![Scaffold { name: "the tower".to_owned(), sets: 1, closed: vec![Stretch { from: 0, to: 60 }] }];
    scaffold.spans = vec![Span { name: "wall a".to_owned(), scaffold: 0, first: 0, last: 2, stays: 0, per_slot: 0 }];
    assert_eq!(one_refusal(&scaffold).to_string(), "the tower is never free, and wall a needs it: it may stand in no open slot.");
    scaffold.scaffolds[0] = Scaffold { name: "the tower".to_owned(), sets: 0, closed: Vec::new() };
    assert_eq!(one_refusal(&scaffold).to_string(), "the tower is never free, and wall a needs it: there is no set of it.");
    let mut ring = two_walls();
    ring.gaps.push(Gap { before: 2, after: 0, wait: Wait::Always(0) });
    assert!(matches!(one_refusal(&ring), Refusal::Ring { tasks } if tasks.len() == 3));
    let mut much = two_walls();
    much.tasks.iter_mut().for_each(|task| (task.deadline, task.ways[0].slots) = (Some(26), 5));
    assert_eq!(one_refusal(&much).to_string(), "30 slots of work must have ended by slot 26, and the gangs have 26 open slots until then.");
    let short = refusals(&Instance { slots: 12, ..two_walls() });
    assert_eq!(short.len(), 2, "each wall is told of: {short:?}");
    for (refusal, wall) in short.iter().zip(["a", "b"]) {
        let said = format!("{wall} finish can begin nowhere: it can follow {wall} straightening at no slot within the 12");
        assert!(refusal.to_string().starts_with(&said), "{refusal}");
    }
    let missing = Instance { gangs: Vec::new(), ..two_walls() };
    assert_eq!(refusals(&missing).len(), 6);
    assert_eq!(one_refusal(&Instance { tasks: Vec::new(), gaps: Vec::new(), ..two_walls() }), Refusal::NoTasks);
}

// By hand: each wall alone can end at 16, both together cannot (18 is proved above). The proof names both dates and not the third, which is easy.
#[test]
fn dates_that_contradict_each_other_are_named() {
    let mut instance = two_walls();
    instance.tasks[2].deadline = Some(17);
    instance.tasks[5].deadline = Some(17);
    instance.tasks.push(Task { deadline: Some(50), ..task("easy", 1) });
    let error = solve(&instance, Aim::Finish, STEPS, &|| false).unwrap_err();
    let SolveError::Refused(refused) = error else { panic!("{error}") };
    let [Refusal::Deadlines { deadlines }] = refused.as_slice() else { panic!("{refused:?}") };
    let mut deadlines = deadlines.clone();
    deadlines.sort();
    assert_eq!(deadlines, ["a finish by slot 17", "b finish by slot 17"]);
}

#[test]
fn shorter_waits_are_no_dearer_and_longer_ones_no_cheaper() {
    let best = made::made(3, 3, 3, 24);
    let stretched = |by: u32| {
        let mut other = best.clone();
        for gap in &mut other.gaps {
            if let Wait::ByEnd(waits) = &mut gap.wait {
                waits.iter_mut().for_each(|wait| *wait = *wait * by / 10);
            }
        }
        other
    };
    let answers = three([&best, &stretched(8), &stretched(13)], Aim::Cost, STEPS, &|| false).unwrap();
    let (riskier, safer) = (answers.riskier.unwrap(), answers.safer.unwrap());
    assert!([&answers.best, &riskier.0, &safer.0].iter().all(|answer| answer.ended == Ended::Proved));
    assert!(riskier.1.cost < 0 && safer.1.cost > 0, "{} {}", riskier.1.cost, safer.1.cost);
    assert_eq!(riskier.1.cost, riskier.0.plan.costs.total() - answers.best.plan.costs.total());
}

#[test]
fn a_budget_and_a_call_to_stop_are_told_apart() {
    let instance = made::made(16, 8, 4, 40);
    let spent = solve(&instance, Aim::Cost, Settings { steps: 3_000, ..STEPS }, &|| false).unwrap();
    assert_eq!(spent.ended, Ended::BudgetSpent);
    assert!(spent.bound <= spent.plan.costs.total() && spent.told(Aim::Cost, "pence").contains("none can come to less than"));
    let cancelled = solve(&instance, Aim::Cost, STEPS, &|| true).unwrap();
    assert_eq!(cancelled.ended, Ended::Cancelled);
    assert!(cancelled.told(Aim::Cost, "pence").starts_with("Cancelled after"));
    assert_eq!(instance.judge(&cancelled.plan.tasks).unwrap(), cancelled.plan.costs);
    assert_eq!(
        spent,
        solve(&instance, Aim::Cost, Settings { steps: 3_000, ..STEPS }, &|| false).unwrap(),
        "the same question, another answer"
    );
}

/// The best end of a few tasks by trying every beginning and gang.
fn by_force(instance: &Instance, aim: Aim) -> Option<i64> {
    fn go(instance: &Instance, aim: Aim, placed: &mut Vec<schedule::Placed>, best: &mut Option<i64>) {
        let Some(task) = instance.tasks.get(placed.len()) else {
            if let Ok(costs) = instance.judge(placed) {
                let cost = costs.aim(aim);
                *best = Some(best.map_or(cost, |least: i64| least.min(cost)));
            }
            return;
        };
        for way in &task.ways {
            for start in 0..instance.slots {
                for end in start + way.slots..=(start + way.slots + 4).min(instance.slots) {
                    placed.push(schedule::Placed { start, end, gang: way.gang });
                    go(instance, aim, placed, best);
                    placed.pop();
                }
            }
        }
    }
    let mut best = None;
    go(instance, aim, &mut Vec::new(), &mut best);
    best
}

/// Three tasks, two gangs, a scaffold, in so few slots that every plan can be tried.
fn tiny(seed: u64) -> Instance {
    let mut draws = made::Draws(seed);
    (0..5).for_each(|_| {
        draws.below(2);
    });
    let slots = 11;
    let at = draws.between(2, 8);
    let mut waits = || (0..=slots).map(|_| draws.below(4)).collect::<Vec<_>>();
    let wait = Wait::ByEnd(waits());
    let mut tasks: Vec<Task> = ["one", "two", "three"].iter().map(|name| task(name, draws.between(1, 2))).collect();
    for task in &mut tasks {
        if draws.below(2) == 0 {
            task.ways.push(Way { gang: 1, slots: draws.between(1, 2) });
        }
        task.unbroken = draws.below(2) == 0;
        task.charge = if draws.below(2) == 0 { (0..slots).map(|_| draws.below(40)).collect() } else { Vec::new() };
        task.due = (draws.below(2) == 0).then(|| Due { by: draws.below(slots), per_slot: draws.below(20) });
        task.deadline = (draws.below(4) == 0).then(|| draws.between(5, slots));
    }
    let gangs = ["first", "second"].map(|name| Gang { visit: i64::from(draws.below(60)), patience: draws.below(3), ..gang(name) });
    let stay = draws.below(2);
    let span = |first: usize, last: usize, per_slot: u32| Span { name: "wall".to_owned(), scaffold: 0, first, last, stays: stay, per_slot };
    Instance {
        slots,
        closed: vec![Stretch { from: at, to: at + 2 }],
        gangs: gangs.to_vec(),
        scaffolds: vec![Scaffold { name: "scaffold".to_owned(), sets: 1, closed: vec![Stretch { from: 9, to: 9 + draws.below(2) }] }],
        spans: vec![span(0, 1, draws.below(9)), span(2, 2, draws.below(9))],
        tasks,
        gaps: vec![Gap { before: 0, after: 1, wait }],
        per_slot: i64::from(draws.below(9)),
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]

    // Identity: the proved best is the best of all plans there are.
    #[test]
    fn nothing_beats_the_proved_best(seed in any::<u64>()) {
        let instance = tiny(seed);
        for aim in [Aim::Finish, Aim::Cost] {
            match (solve(&instance, aim, STEPS, &|| false), by_force(&instance, aim)) {
                (Ok(answer), Some(best)) => {
                    prop_assert_eq!(answer.ended, Ended::Proved);
                    prop_assert_eq!(answer.plan.costs.aim(aim), best);
                }
                (Err(SolveError::Refused(_)), None) => {}
                (ours, forced) => prop_assert!(false, "{:?} against {:?}", ours, forced),
            }
        }
    }

    // Property: whatever the first search finds keeps every rule, and it finds something wherever nothing but its own order stands in the way.
    #[test]
    fn the_first_plan_keeps_every_rule(seed in any::<u64>(), walls in 1_u32..5, coats in 1_u32..4) {
        let instance = made::made(seed, walls, coats, 30);
        let plan = first(&instance, Aim::Cost, STEPS).unwrap().expect("thirty weeks are enough");
        prop_assert_eq!(instance.judge(&plan.tasks).unwrap(), plan.costs);
    }
}

// Found by the property above, where time costs nothing: its price must then be nothing too, or the bound lies over the best.
#[test]
fn time_that_costs_nothing_has_no_price() {
    let instance = tiny(14_487_111_421_730_735_097);
    assert_eq!(instance.per_slot, 0);
    let ours = solve(&instance, Aim::Cost, STEPS, &|| false).unwrap();
    assert_eq!((ours.ended, Some(ours.plan.costs.total())), (Ended::Proved, by_force(&instance, Aim::Cost)));
}

// A stretch of nothing, in which a scaffold is said to be closed, keeps no wall from standing through it.
#[test]
fn a_stretch_of_nothing_shuts_nothing() {
    let shut = tiny(14_487_111_421_730_735_097);
    assert!(shut.scaffolds[0].closed.iter().all(|stretch| stretch.from == stretch.to));
    let mut open = shut.clone();
    open.scaffolds[0].closed.clear();
    let costs = |instance: &Instance| solve(instance, Aim::Cost, STEPS, &|| false).unwrap().plan.costs;
    assert_eq!(costs(&shut), costs(&open));
}
