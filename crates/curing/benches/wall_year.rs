//! One wall-year, 40 cells, heat and moisture without carbon dioxide: the engine alone and in lanes beside SciPy's stiff integrator (LSODA, banded
//! Jacobian, right-hand side compiled by Numba) and an implicit solver written by hand with Numba, each with its error against a tight reference; then
//! what the machine can do at most. Processor time of one thread, least of several runs, all at one moment, so that ratios survive a busy machine.
//! Run with `cargo bench -p curing --bench wall_year`, with the interpreter of `cargo xtask test` in `HARLWRIGHT_PYTHON`.
#![allow(clippy::unwrap_used, clippy::expect_used)]

#[path = "../tests/common/mod.rs"]
mod common;
#[path = "../../../tests/reference/harness.rs"]
mod harness;

use std::hint::black_box;
use std::sync::Arc;
use std::time::Instant;

use common::wall_year::{CELLS, column, course, live, rms, told, weather};
use curing::Numerics;
use curing::kernel::{Column, Settings, Width};
use weather::FaceClimate;

const RUNS: usize = 5;

/// Processor seconds of this thread where the system tells them, else seconds of the clock.
fn seconds() -> f64 {
    let told = std::fs::read_to_string("/proc/thread-self/schedstat").ok();
    let nanoseconds = told.and_then(|text| text.split_whitespace().next().and_then(|first| first.parse::<f64>().ok()));
    nanoseconds.map_or_else(|| START.with(|start| start.elapsed().as_secs_f64()), |nanoseconds| nanoseconds * 1e-9)
}

thread_local! {
    static START: Instant = Instant::now();
}

fn least(mut run: impl FnMut()) -> f64 {
    (0..RUNS)
        .map(|_| {
            let began = seconds();
            run();
            seconds() - began
        })
        .fold(f64::INFINITY, f64::min)
}

/// Seconds a member-year and iterations an hour of a block of `L` years.
fn ours<const L: usize>(years: &[Arc<FaceClimate>; L], settings: Settings, longest_s: f64) -> (f64, f64)
where
    Column<L>: Width<L>,
{
    let mut iterations = 0;
    let hours = years[0].air_k.len();
    let least = least(|| {
        let mut column = column::<L>(settings);
        live(&mut column, years, longest_s, |_| {});
        iterations = column.iterations();
    });
    (least / L as f64, iterations as f64 / hours as f64)
}

fn main() {
    let hours: usize = std::env::args().find_map(|argument| argument.parse().ok()).unwrap_or(8760);
    let settings = Numerics::default().settings;
    let years: [Arc<FaceClimate>; 8] = std::array::from_fn(|year| weather(7 + year as u64, hours));
    let answer = harness::run("wall_year.py", &told(&years[0], Some(2)));
    let truth = (harness::numbers(&answer["t_k"]), harness::numbers(&answer["humidity"]));
    let each = |seconds: f64| seconds * 1e9 / (hours * CELLS) as f64;
    let mut baselines = Vec::new();
    for solver in answer["solvers"].as_array().unwrap() {
        let name = solver["name"].as_str().unwrap();
        let error = harness::numbers(&solver["error"]);
        let taken = solver["seconds"].as_f64().unwrap();
        println!("{name}: {taken:.3} s, {:.0} ns a cell-step, RMS error {:.4} K, {:.5} of humidity", each(taken), error[0], error[1]);
        baselines.push((name.to_owned(), taken));
    }
    let beside = |name: &str, taken: f64, iterations: f64, error: Option<(f64, f64)>| {
        let error = error.map_or(String::new(), |(k, humidity)| format!(", RMS error {k:.4} K, {humidity:.5} of humidity"));
        println!("{name}: {taken:.4} s a member, {:.1} ns a cell-step, {iterations:.2} solves an hour{error}", each(taken));
        for (baseline, theirs) in &baselines {
            println!("    {:.1} times as fast as {baseline}", theirs / taken);
        }
    };
    for longest_s in [3600.0, 1800.0, 900.0] {
        let found = course(&years[0], settings, longest_s);
        let error = (rms(&found.0, &truth.0), rms(&found.1, &truth.1));
        let (taken, iterations) = ours::<1>(&[Arc::clone(&years[0])], settings, longest_s);
        beside(&format!("one lane, steps of {longest_s} s"), taken, iterations, Some(error));
    }
    let (taken, iterations) = ours::<8>(&years, settings, 3600.0);
    beside("eight lanes, eight years, steps of 3600 s", taken, iterations, None);
    machine();
}

/// Multiply-adds and memory traffic at most, with the instructions every machine of the kind has.
fn machine() {
    const WIDE: usize = 32;
    const TURNS: usize = 4_000_000;
    let mut numbers = black_box([1.0_f64; WIDE]);
    let (by, more) = (black_box(0.999_999), black_box(1e-6));
    let taken = least(|| {
        for _ in 0..TURNS {
            for number in &mut numbers {
                *number = *number * by + more;
            }
        }
        black_box(&mut numbers);
    });
    println!("multiplications and additions, unfused, baseline vectors: {:.2} a ns", (2 * WIDE * TURNS) as f64 / (taken * 1e9));
    for (what, length, turns) in [("first cache", 1 << 10, 200_000), ("second cache", 1 << 14, 10_000), ("memory", 1 << 23, 10)] {
        let (a, b) = (black_box(vec![1.0_f64; length]), black_box(vec![2.0_f64; length]));
        let mut c = vec![0.0_f64; length];
        let taken = least(|| {
            for _ in 0..turns {
                for ((c, a), b) in c.iter_mut().zip(&a).zip(&b) {
                    *c = a + by * b;
                }
                black_box(&mut c);
            }
        });
        println!("c = a + s b in {what}: {:.1} bytes a ns", (24 * length * turns) as f64 / (taken * 1e9));
    }
}
