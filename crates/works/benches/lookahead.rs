//! The lookahead: four walls, thirty weather years, 52 start weeks under one policy, as fast as two threads go; simulated hours and cell-steps printed
//! beside the time, and the most memory held. Run with `cargo bench -p works --bench lookahead`; `-- percentiles` runs every coat's ends as well,
//! `-- nothing`, `-- sheltered`, `-- heated` another policy.
#![allow(clippy::unwrap_used, clippy::expect_used)]

#[path = "../tests/works/fixture.rs"]
#[allow(dead_code, unused_imports, reason = "the tests use the rest")]
mod fixture;

use std::time::Instant;

use jiff::civil::date;
use works::Unwatched;
use works::protect::{Foresight, LookaheadAsked, Policy, lookahead};

const YEARS: usize = 30;
const WEEKS: usize = 52;

fn main() {
    let given: Vec<String> = std::env::args().collect();
    let has = |word: &str| given.iter().any(|argument| argument == word);
    let policy = Policy::ALL.into_iter().find(|policy| has(policy.name())).unwrap_or(Policy::HessianByRule);
    let mut job = fixture::job(&["north", "east", "south", "west"]);
    for (wall, faces_deg) in job.inputs.building.walls.iter_mut().zip([0.0, 90.0, 180.0, 270.0]) {
        wall.faces_deg = faces_deg;
    }
    job.inputs.building.surveyed_on = "2026-03-02".to_owned();
    let weather = weather::invented::years(7, YEARS).unwrap();
    let asked = LookaheadAsked {
        policies: vec![policy],
        foresight: Foresight::Imperfect,
        from: date(2026, 4, 6),
        weeks: WEEKS,
        client_wets: false,
        percentiles: has("percentiles"),
    };
    for threads in [1, 2].into_iter().filter(|&threads| threads == 1 || !has("one")) {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        let started = Instant::now();
        let ahead = pool.install(|| lookahead(&job.inputs, &weather, &asked, &Unwatched)).unwrap();
        let seconds = started.elapsed().as_secs_f64();
        println!(
            "{}, {threads} threads: {seconds:.2} s; 4 walls × {YEARS} years × {WEEKS} starts = {} starts, {} courses followed; {:.2} million hours, {:.0} \
             million cell-steps, {:.1} ns of one thread each{}",
            policy.name(),
            ahead.followed.1,
            ahead.followed.0,
            ahead.hours as f64 / 1e6,
            ahead.cell_steps as f64 / 1e6,
            seconds * threads as f64 * 1e9 / ahead.cell_steps as f64,
            memory()
        );
        let week = &ahead.walls[0].policies[0].weeks[0];
        println!("  north, first week: {:?} days in the middle, {:?} in eight of ten", week.days.middle, week.days.eight_in_ten);
    }
}

/// Most memory held so far, where the system tells it.
fn memory() -> String {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    status.lines().find(|line| line.starts_with("VmHWM")).map_or(String::new(), |line| format!("; {}", line.replace(['\t', ' '], "")))
}
