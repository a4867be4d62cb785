//! Live checks of the solver against OR-Tools CP-SAT, a general-purpose constraint solver, its version pinned in `tests/reference/requirements.txt` (other
//! tool). The instances are made from named seeds (`tests/made/mod.rs`); their sizes were chosen so that CP-SAT ends its proof in seconds. They need
//! `HARLWRIGHT_PYTHON`, set by `cargo xtask test`; without it they fail.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::print_stderr)]

#[path = "../../../tests/reference/harness.rs"]
mod harness;
mod made;

use schedule::{Aim, Ended, Instance, Settings, first, solve};
use serde_json::{Value, json};

/// Each proof of ours takes fewer steps than this: five seconds on two busy cores at the pace `Settings::default` names. Seconds themselves are printed
/// by `cargo bench -p schedule`, since a test that reads the clock fails on a busy machine.
const OUR_STEPS: u64 = 30_000;

fn asked(instance: &Instance, aim: Aim) -> Value {
    json!({ "instance": made::wire(instance), "aim": match aim { Aim::Finish => "finish", Aim::Cost => "cost" } })
}

fn theirs(cases: &[(Instance, Aim)], seconds: u32) -> Vec<Value> {
    let cases: Vec<Value> = cases.iter().map(|(instance, aim)| asked(instance, *aim)).collect();
    let answer = harness::run("schedule.py", &json!({ "cases": cases, "seconds": seconds, "workers": 2 }));
    answer["cases"].as_array().unwrap().clone()
}

/// Our proved best equals theirs, and ours is there in few enough steps.
fn compare(sizes: &[(u64, u32, u32, u32)], aim: Aim) {
    let cases: Vec<(Instance, Aim)> =
        sizes.iter().map(|&(seed, walls, coats, weeks)| (made::made(seed, walls, coats, weeks), aim)).collect();
    let theirs = theirs(&cases, 60);
    assert_eq!(theirs.len(), sizes.len());
    for (((instance, _), theirs), size) in cases.iter().zip(&theirs).zip(sizes) {
        assert!(instance.tasks.len() <= 24);
        let ours = solve(instance, aim, Settings::default(), &|| false).unwrap();
        assert_eq!(theirs["status"], "OPTIMAL", "{size:?}: CP-SAT ended without a proof, so nothing was compared: {theirs}");
        assert_eq!(ours.ended, Ended::Proved, "{size:?}");
        assert_eq!(json!(ours.plan.costs.aim(aim)), theirs["value"], "{size:?}");
        assert_eq!(instance.judge(&ours.plan.tasks).unwrap(), ours.plan.costs, "{size:?}");
        assert!(ours.steps < OUR_STEPS, "{size:?}: {} steps", ours.steps);
    }
}

/// Seed, walls, coats of each, weeks: what CP-SAT proved within seconds when these were chosen.
const FINISHED: [(u64, u32, u32, u32); 7] =
    [(1, 2, 3, 8), (2, 2, 4, 10), (4, 3, 4, 12), (5, 3, 4, 12), (6, 4, 3, 12), (8, 4, 4, 14), (9, 5, 3, 12)];

/// The same for money, whose proof takes CP-SAT longer.
const COSTED: [(u64, u32, u32, u32); 5] = [(1, 2, 3, 8), (2, 2, 4, 10), (4, 3, 4, 12), (5, 3, 4, 12), (8, 4, 4, 14)];

/// Up to 24 tasks: minutes, so only where `HARLWRIGHT_LONG` is set.
const LONG: [(u64, u32, u32, u32); 8] =
    [(3, 3, 3, 20), (7, 4, 4, 24), (10, 5, 4, 36), (11, 5, 4, 36), (12, 6, 3, 24), (13, 6, 4, 36), (14, 6, 4, 24), (15, 8, 3, 36)];

#[test]
fn the_proved_least_finish_is_cp_sats() {
    compare(&FINISHED, Aim::Finish);
    if std::env::var_os("HARLWRIGHT_LONG").is_some() {
        compare(&LONG, Aim::Finish);
    }
}

#[test]
fn the_proved_least_cost_is_cp_sats() {
    compare(&COSTED, Aim::Cost);
}

// Above some size neither ends: then the bound lies beneath what was found, by ours and by theirs, and no equality is claimed.
#[test]
fn on_larger_ones_the_bound_stays_beneath() {
    for (seed, walls, coats, weeks) in [(16, 8, 4, 45), (17, 8, 5, 50), (18, 10, 4, 50), (19, 10, 4, 60), (20, 12, 4, 60)] {
        let instance = made::made(seed, walls, coats, weeks);
        let soon = first(&instance, Aim::Cost, Settings::default()).unwrap().expect("the weeks are enough");
        let ours = solve(&instance, Aim::Cost, Settings { steps: 4_000, ..Settings::default() }, &|| false).unwrap();
        let found = ours.plan.costs.total();
        assert!(ours.bound <= found && found <= soon.costs.total(), "{seed}: {} {found} {}", ours.bound, soon.costs.total());
        assert_eq!(instance.judge(&ours.plan.tasks).unwrap(), ours.plan.costs, "{seed}");
        let theirs = &theirs(&[(instance.clone(), Aim::Cost)], 4)[0];
        if let Some(bound) = theirs["bound"].as_i64() {
            assert!(bound <= found, "{seed}: CP-SAT proves that nothing comes to less than {bound}, and ours claims {found}");
        }
        if let Some(value) = theirs["value"].as_i64() {
            assert!(ours.bound <= value, "{seed}: we prove that nothing comes to less than {}, and CP-SAT has {value}", ours.bound);
        }
        let gap = 100.0 * ours.open(Aim::Cost) as f64 / found as f64;
        eprintln!("{seed}: {} tasks, found {found}, bound {}, gap {gap:.1} %; CP-SAT {theirs}", instance.tasks.len(), ours.bound);
    }
}
