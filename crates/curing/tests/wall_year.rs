//! A year of heat and moisture in a wall hour by hour, beside SciPy's LSODA (version pinned in `tests/reference/requirements.txt`), run live on the same
//! cells: closed forms instead of tables, its own choice of steps and order, within 0.003 K and 3e-5 of humidity of a far tighter run (other tool with version).
//!
//! Found: 0.20 K and 0.005 of humidity at steps of an hour, 0.053 K and 0.0014 at a quarter, 0.013 K and 0.0003 at a sixteenth, root of the mean square
//! over eight cells of which five lie in the outer 20 mm: what is left is the first order of the step, in weather whose sun jumps from hour to hour.
#![allow(clippy::unwrap_used, clippy::expect_used)]
mod common;
#[path = "../../../tests/reference/harness.rs"]
mod harness;

use common::wall_year::{course, rms, told, weather};
use curing::Numerics;
use curing::kernel::Settings;

const HOURS: usize = 8760;

#[test]
fn a_wall_year_is_that_of_a_stiff_integrator() {
    let climate = weather(7, HOURS);
    let answer = harness::run("wall_year.py", &told(&climate, None));
    let (t, humidity) = (harness::numbers(&answer["t_k"]), harness::numbers(&answer["humidity"]));
    let apart = |settings: Settings, longest_s: f64| {
        let ours = course(&climate, settings, longest_s);
        (rms(&ours.0, &t), rms(&ours.1, &humidity))
    };
    let engine = Numerics::default().settings;
    let by_step: Vec<(f64, f64)> = [3600.0, 900.0, 225.0].into_iter().map(|longest_s| apart(engine, longest_s)).collect();
    println!("steps of 3600, 900 and 225 s: {by_step:?}");
    // What backward Euler leaves falls with the step; what is left at the shortest is the tables.
    let limits = [(0.30, 6e-3), (0.08, 2e-3), (0.03, 1e-3)];
    for ((found, limit), step) in by_step.iter().zip(limits).zip(["an hour", "a quarter", "a sixteenth"]) {
        assert!(found.0 < limit.0 && found.1 < limit.1, "steps of {step}: {found:?}");
    }
    // Without latent heat the two are told apart at once, so the check can fail.
    let dry_heat = apart(Settings { latent_j_kg: 0.0, ..engine }, 900.0);
    println!("without latent heat: {dry_heat:?}");
    assert!(dry_heat.0 > 3.0 * by_step[1].0, "{dry_heat:?}");
}
