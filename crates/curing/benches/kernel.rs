//! Nanoseconds per cell-step (one cell, one hour, all balances, iterations and sub-steps counted) of wall-seasons in one lane and in many, on one
//! thread, by its processor time; tables are made beforehand. Run with `cargo bench -p curing`.
#![allow(clippy::unwrap_used, clippy::expect_used)]

#[path = "../tests/common/mod.rs"]
mod common;

use common::{changing, finish, hessian, sandstone, scud, straightening};
use curing::kernel::{Settings, Vectors};
use curing::{Action, Bench, Numerics};

/// Processor seconds of this thread where the system tells them, else of the clock.
fn seconds() -> f64 {
    let told = std::fs::read_to_string("/proc/thread-self/schedstat").ok();
    let nanoseconds = told.and_then(|text| text.split_whitespace().next().and_then(|first| first.parse::<f64>().ok()));
    nanoseconds.map_or_else(|| std::time::UNIX_EPOCH.elapsed().map_or(0.0, |since| since.as_secs_f64()), |nanoseconds| nanoseconds * 1e-9)
}

/// Runs a season of three coats, thrown when ready or after six weeks, behind hessian damped for three days, looked at once a day.
fn season(members: usize, days: usize, numerics: Numerics) -> (f64, u64, usize, u64) {
    let climate = changing(7, 8760, 9.0, 1.0);
    let first: Vec<usize> = (0..members).map(|member| 24 * 17 * member).collect();
    let coats = [scud(), straightening(12e-3), finish()];
    let mut bench = Bench::with_numerics(&sandstone(0.3), &coats, climate, &first, numerics).unwrap();
    let started = seconds();
    let mut thrown = vec![0_usize; members];
    let mut since = vec![0_usize; members];
    for day in 0..days {
        for member in 0..members {
            let look = bench.look(member);
            let due = if thrown[member] == 0 { day >= 14 } else { look.ready || since[member] > 42 };
            if due && thrown[member] < 3 {
                bench.act(member, Action::Throw).unwrap();
                bench.act(member, Action::Hang(hessian(0.15))).unwrap();
                thrown[member] += 1;
                since[member] = 0;
            }
            if thrown[member] > 0 && since[member] < 3 {
                bench.act(member, Action::Wet(0.9)).unwrap();
            }
            since[member] += 1;
        }
        bench.advance(24);
    }
    let failed = (0..members).filter(|&member| bench.failed(member).is_some()).count();
    (seconds() - started, bench.cell_steps(), failed, bench.iterations())
}

fn main() {
    let pool = rayon::ThreadPoolBuilder::new().num_threads(1).build().unwrap();
    let asked: Option<usize> = std::env::args().find_map(|argument| argument.parse().ok());
    let base = Numerics::default();
    for lanes in [1, 8].into_iter().filter(|&lanes| asked.is_none_or(|asked| asked == lanes)) {
        for vectors in [Vectors::Baseline, Vectors::AtMostAvx2, Vectors::Best] {
            let numerics = Numerics { lanes, settings: Settings { vectors, ..base.settings }, ..base };
            let (seconds, cell_steps, failed, iterations) =
                (0..5).map(|_| pool.install(|| season(lanes, 160, numerics))).min_by(|a, b| a.0.total_cmp(&b.0)).unwrap();
            println!(
                "{lanes:>2} lanes, {vectors:?}, 160 days: {seconds:.3} s, {cell_steps} cell-steps, {:.1} ns each; {failed} failed; {iterations} iterations",
                seconds * 1e9 / cell_steps as f64
            );
        }
    }
}
