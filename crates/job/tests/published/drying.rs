//! Drying of a wet slab of constant diffusivity through one face, the other sealed: at a constant rate until the face is dry, then at a falling one.
//! Carslaw and Jaeger, Conduction of Heat in Solids, 2nd edition, 3.8 (constant flux) and 3.3 (face held), joined at the time the face runs dry (exact
//! solution; the constant rate holds while the air in the pores of the face is saturated, which the trial's retention curve does to 1 % of the rate
//! until the face is below a thousandth of its water).
//! Limit: 0.5 % of the water at the start.

use physics::air::saturation_pa;
use physics::numbers::{cos, exp};

use crate::{close, profile, run, totals};

const D: f64 = 5e-9;
const THICK: f64 = 0.02;
const START: f64 = 150.0;
const PI: f64 = std::f64::consts::PI;

fn rate_kg_m2s() -> f64 {
    2e-8 * 0.5 * saturation_pa(293.15)
}

/// Constant flux; `y` from the sealed face, m.
fn first_stage(y: f64, time_s: f64) -> f64 {
    let fourier = D * time_s / (THICK * THICK);
    let sum: f64 = (1..400)
        .map(|n| {
            let sign = if n % 2 == 0 { 1.0 } else { -1.0 };
            let n = f64::from(n);
            sign / (n * n) * exp(-n * n * PI * PI * fourier) * cos(n * PI * y / THICK)
        })
        .sum();
    let shape = fourier + (3.0 * y * y - THICK * THICK) / (6.0 * THICK * THICK) - 2.0 / (PI * PI) * sum;
    START - rate_kg_m2s() * THICK / D * shape
}

/// Time at which the face is dry, s.
fn dry_face_s() -> f64 {
    let (mut early, mut late) = (1.0, 1e7);
    for _ in 0..200 {
        let middle = 0.5 * (early + late);
        if first_stage(THICK, middle) > 0.0 { early = middle } else { late = middle }
    }
    early
}

/// Face held dry from `dry_face_s` on.
fn second_stage(y: f64, time_s: f64) -> f64 {
    let dry = dry_face_s();
    (0..60).map(|m| mode(m, dry) * cos((f64::from(m) + 0.5) * PI * y / THICK) * decay(m, time_s - dry)).sum()
}

fn mode(m: i32, dry_s: f64) -> f64 {
    let strips = 2000;
    let value = |i: i32| {
        let y = THICK * f64::from(i) / f64::from(strips);
        first_stage(y, dry_s) * cos((f64::from(m) + 0.5) * PI * y / THICK)
    };
    let inner: f64 = (1..strips).map(|i| value(i) * if i % 2 == 1 { 4.0 } else { 2.0 }).sum();
    2.0 / THICK * (value(0) + inner + value(strips)) * THICK / f64::from(strips) / 3.0
}

fn decay(m: i32, time_s: f64) -> f64 {
    let eigenvalue = (f64::from(m) + 0.5) * PI / THICK;
    exp(-D * eigenvalue * eigenvalue * time_s)
}

#[test]
fn drying_goes_through_its_two_stages() {
    let result = run("drying-two-stages.toml");
    let dry = dry_face_s();
    println!("the face is dry after {:.2} h", dry / 3600.0);
    let (mut constant, mut falling) = (0, 0);
    for hours in [6.0, 12.0, 24.0, 30.0, 36.0, 48.0] {
        let time_s = hours * 3600.0;
        for point in &profile(&result, time_s).points {
            let y = THICK - point.depth_m;
            let exact = if time_s < dry { first_stage(y, time_s) } else { second_stage(y, time_s) };
            close(&format!("water at {} m, {hours} h", point.depth_m), point.water_kg_m3, exact, 0.005 * START);
        }
        let flow = totals(&result, time_s).outer_flow_kg_m2s;
        if time_s < dry {
            constant += 1;
            close(&format!("flow, {hours} h"), -flow, rate_kg_m2s(), 0.01 * rate_kg_m2s());
        } else {
            falling += 1;
            assert!(-flow < 0.8 * rate_kg_m2s(), "the rate falls after the face is dry: {flow}");
        }
    }
    assert!(constant >= 3 && falling >= 2, "both stages are seen");
}
