//! Drying of a wet slab of constant diffusivity through one face, the other sealed: at a constant rate until the face is dry, then at a falling one.
//! Carslaw and Jaeger, Conduction of Heat in Solids, 2nd edition, 3.8 (constant flux) and 3.3 (face held), joined at the time the face runs dry (exact
//! solution; the constant rate holds while the air in the pores of the face is saturated, which the trial's retention curve does to 0.1 % of the rate
//! until the face is below a thousandth of its water).
//! Limit: 0.2 % of the water at the start; 0.3 % of the rate.

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

/// The second stage: the face held dry from the time it ran dry, as a sum of modes that begin with what the first stage left.
struct SecondStage {
    dry_s: f64,
    modes: Vec<f64>,
}

impl SecondStage {
    fn new() -> Self {
        let dry_s = dry_face_s();
        let strips = 2000;
        let left: Vec<f64> = (0..=strips).map(|i| first_stage(THICK * f64::from(i) / f64::from(strips), dry_s)).collect();
        let modes = (0..60)
            .map(|m| {
                let value = |i: i32| left[i as usize] * cos(eigenvalue(m) * THICK * f64::from(i) / f64::from(strips));
                let inner: f64 = (1..strips).map(|i| value(i) * if i % 2 == 1 { 4.0 } else { 2.0 }).sum();
                2.0 * (value(0) + inner + value(strips)) / f64::from(strips) / 3.0
            })
            .collect();
        Self { dry_s, modes }
    }

    /// Water at a distance from the sealed face, m.
    fn water(&self, y: f64, time_s: f64) -> f64 {
        let mode = |(m, size): (usize, &f64)| {
            let eigenvalue = eigenvalue(m as i32);
            size * cos(eigenvalue * y) * exp(-D * eigenvalue * eigenvalue * (time_s - self.dry_s))
        };
        self.modes.iter().enumerate().map(mode).sum()
    }
}

fn eigenvalue(m: i32) -> f64 {
    (f64::from(m) + 0.5) * PI / THICK
}

#[test]
fn drying_goes_through_its_two_stages() {
    let result = run("drying-two-stages.toml");
    let falling_stage = SecondStage::new();
    let dry = falling_stage.dry_s;
    println!("the face is dry after {:.2} h", dry / 3600.0);
    let (mut constant, mut falling) = (0, 0);
    for hours in [6.0, 12.0, 24.0, 30.0, 36.0, 48.0] {
        let time_s = hours * 3600.0;
        for point in &profile(&result, time_s).points {
            let y = THICK - point.depth_m;
            let exact = if time_s < dry { first_stage(y, time_s) } else { falling_stage.water(y, time_s) };
            close(&format!("water at {} m, {hours} h", point.depth_m), point.water_kg_m3, exact, 0.002 * START);
        }
        let flow = totals(&result, time_s).outer_flow_kg_m2s;
        if time_s < dry {
            constant += 1;
            close(&format!("flow, {hours} h"), -flow, rate_kg_m2s(), 0.003 * rate_kg_m2s());
        } else {
            falling += 1;
            assert!(-flow < 0.8 * rate_kg_m2s(), "the rate falls after the face is dry: {flow}");
        }
    }
    assert!(constant >= 3 && falling >= 2, "both stages are seen");
}
