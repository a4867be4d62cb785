//! What grid, step and tolerance do to readiness, in ten invented weathers on two stones, bare and behind hessian (computed here).
#![allow(clippy::unwrap_used, clippy::expect_used)]
mod common;
use common::*;
use curing::kernel::Settings;
use curing::{Bench, Numerics};

/// Days to ready of scud and straightening, thrown one after the other, in one invented weather.
fn days(case: u64, numerics: Numerics) -> Vec<Option<f64>> {
    let climate = changing(100 + case, 8760, 5.0 + 3.0 * (case % 4) as f64, (case % 3) as f64 * 0.5);
    let wall = if case.is_multiple_of(2) { sandstone(0.15 + 0.03 * (case % 5) as f64) } else { granite(0.3) };
    let cover = (case % 3 != 1).then(|| hessian(0.15));
    let coats = [scud(), straightening(6e-3 + 2e-3 * (case % 4) as f64)];
    let mut bench = Bench::with_numerics(&wall, &coats, climate, &[24 * 90], numerics).unwrap();
    bench.advance(24 * 7);
    let mut days = Vec::new();
    for _ in 0..2 {
        let (ready, _) = until_ready(&mut bench, cover.clone(), 3, 40, |_, _| {});
        days.push(ready);
    }
    let balance = bench.balance(0);
    for closure in [balance.water, balance.carbon, balance.energy] {
        assert!(closure.residual.abs() < 1e-8 * closure.moved, "{balance:?}");
    }
    days
}

/// Half a day is the promise; the tolerances of the hourly run may cost no more than an hour. A case not ready within 40 days must be so in all.
#[test]
fn grid_step_and_tolerance_hardly_matter() {
    let base = Numerics::default();
    let tight = Numerics { settings: Settings { tolerance_y: 1e-4, tolerance_k: 1e-4, ..base.settings }, ..base };
    let fine = Numerics { fineness: 2, ..base };
    let short = Numerics { longest_step_s: 600.0, fresh_step_s: 60.0, ..base };
    for case in 0..10 {
        let reference = days(case, base);
        for (what, limit, numerics) in [("tolerance", 1.01 / 24.0, tight), ("grid", 0.5, fine), ("step", 0.5, short)] {
            let other = days(case, numerics);
            println!("case {case}, {what}: {reference:.2?} and {other:.2?}");
            for (a, b) in reference.iter().zip(&other) {
                match (a, b) {
                    (Some(a), Some(b)) => assert!((a - b).abs() <= limit, "case {case}, {what}: {a} and {b}"),
                    (None, None) => {}
                    (a, b) => panic!("case {case}, {what}: {a:?} and {b:?}"),
                }
            }
        }
    }
}
