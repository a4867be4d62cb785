//! What grid, step and tolerance do to readiness.
#![allow(clippy::unwrap_used, clippy::expect_used)]
mod common;
use common::*;
use curing::kernel::Settings;
use curing::*;

/// Days to ready of scud and straightening, thrown one after the other, in one invented weather.
fn days(case: u64, numerics: Numerics) -> (Vec<f64>, u64) {
    let climate = changing(100 + case, 8760, 5.0 + 3.0 * (case % 4) as f64, (case % 3) as f64 * 0.5);
    let wall = if case.is_multiple_of(2) { sandstone(0.15 + 0.03 * (case % 5) as f64) } else { granite(0.3) };
    let cover = (case % 3 != 1).then(|| hessian(0.15));
    let coats = [scud(), straightening(6e-3 + 2e-3 * (case % 4) as f64)];
    let mut bench = Bench::with_numerics(&wall, &coats, climate, &[24 * 90], numerics).unwrap();
    bench.advance(24 * 7);
    let mut days = Vec::new();
    for _ in 0..2 {
        let (ready, _) = until_ready(&mut bench, cover.clone(), 3, 40, |_, _| {});
        days.push(ready.unwrap_or(f64::NAN));
    }
    let balance = bench.balance(0);
    for closure in [balance.water, balance.carbon, balance.energy] {
        assert!(closure.residual.abs() < 1e-8 * closure.moved, "{balance:?}");
    }
    (days, bench.iterations())
}

#[test]
fn grid_step_and_tolerance() {
    let base = Numerics::default();
    let tight = Numerics { settings: Settings { tolerance_y: 1e-4, tolerance_k: 1e-4, ..base.settings }, ..base };
    let fine = Numerics { fineness: 2, ..base };
    let short = Numerics { longest_step_s: 600.0, fresh_step_s: 60.0, ..base };
    for case in 0..10 {
        println!(
            "{case}: base {:.2?} tight {:.2?} fine {:.2?} short {:.2?}",
            days(case, base),
            days(case, tight),
            days(case, fine),
            days(case, short)
        );
    }
}
