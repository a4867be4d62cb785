//! How long the first search takes, how many steps and seconds the proof, beside OR-Tools CP-SAT on the same made instances with as many threads as it
//! is told (`WORKERS`, two where nothing is said; ours has one). Not a test: it prints. `cargo bench -p schedule --bench solver`.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::print_stdout)]

#[path = "../../../tests/reference/harness.rs"]
mod harness;
#[path = "../tests/made/mod.rs"]
mod made;

use std::time::Instant;

use made::{ALL, LARGER};
use schedule::{Aim, Settings, first, solve};
use serde_json::json;

fn main() {
    let settings =
        Settings { steps: std::env::var("STEPS").ok().and_then(|steps| steps.parse().ok()).unwrap_or(60_000), ..Settings::default() };
    let workers: u32 = std::env::var("WORKERS").ok().and_then(|workers| workers.parse().ok()).unwrap_or(2);
    let only: Option<u64> = std::env::var("ONLY").ok().and_then(|seed| seed.parse().ok());
    println!("seed tasks gangs sets aim | first: ms, value | ours: s, steps, value, bound, ended | CP-SAT: s, value, bound, status");
    for (seed, walls, coats, weeks) in ALL.into_iter().chain(LARGER).filter(|case| only.is_none_or(|only| case.0 == only)) {
        let instance = made::made(seed, walls, coats, weeks);
        for (aim, name) in [(Aim::Finish, "finish"), (Aim::Cost, "cost")] {
            let begun = Instant::now();
            let soon = first(&instance, aim, settings);
            let first_ms = begun.elapsed().as_secs_f64() * 1e3;
            let begun = Instant::now();
            let ours = solve(&instance, aim, settings, &|| false);
            let ours_s = begun.elapsed().as_secs_f64();
            let theirs = if std::env::var_os("ALONE").is_some() {
                json!({})
            } else {
                let asked = json!({ "cases": [{ "instance": made::wire(&instance), "aim": name }], "seconds": 8, "workers": workers });
                harness::run("schedule.py", &asked)["cases"][0].clone()
            };
            let soon = soon.map(|plan| plan.map(|plan| plan.costs.aim(aim)));
            println!(
                "{seed} {} {} {} {name} | {first_ms:.0} {soon:?} | {ours_s:.2} {} | {theirs}",
                instance.tasks.len(),
                instance.gangs.len(),
                instance.scaffolds[0].sets,
                ours.map_or_else(
                    |error| error.to_string(),
                    |answer| format!("{} {} {} {:?}", answer.steps, answer.plan.costs.aim(aim), answer.bound, answer.ended)
                )
            );
        }
    }
}
