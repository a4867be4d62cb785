//! Published checks of the engine: the shipped trial files, read and run as a user runs them, against values the engine did not make. One file
//! per source, with its citation, a provenance word beside each number and its tolerance explained. They stand here, on the floor that can read
//! a trial file, and check the kernel of `curing` below it.
#![allow(clippy::unwrap_used, clippy::expect_used)]

mod carbonation;
mod conduction;
mod drying;
mod en15026;
mod freezing;
mod hamstad_2;
mod hamstad_5;
#[path = "../../../../tests/reference/harness.rs"]
mod harness;
mod rain_and_drying;
mod steady_vapour;
mod uptake;

use std::path::PathBuf;

use curing::trial::{Profile, ProfilePoint, Totals, TrialResult};

/// Share of the water held below which it cannot be known what moved.
const ROUNDING: f64 = 1e-15;

/// Reads and runs a shipped trial, and checks that its books close: water, carbon and energy to 1e-8 of what moved, water no closer than the rounding of
/// what is held (where moisture is switched off less than that moves).
pub fn run(name: &str) -> TrialResult {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../examples/trials");
    let text = std::fs::read_to_string(folder.join(name)).unwrap();
    let files = |file: &str| std::fs::read_to_string(folder.join(file)).map_err(|error| error.to_string());
    let trial = job::trial::read(&text, name, &files).unwrap_or_else(|problems| panic!("{name}: {problems:#?}"));
    let result = curing::trial::run(&trial).unwrap_or_else(|error| panic!("{name}: {error}"));
    closes(&result);
    result
}

fn closes(result: &TrialResult) {
    let books = result.books;
    let held = result.totals.last().map_or(0.0, |totals| totals.water_kg_m2);
    let all = [
        ("water", books.water_residual_kg_m2, books.water_moved_kg_m2 + ROUNDING / 1e-8 * held),
        ("carbon", books.carbon_residual_mol_m2, books.carbon_moved_mol_m2),
        ("energy", books.energy_residual_j_m2, books.energy_moved_j_m2),
    ];
    for (what, residual, moved) in all {
        assert!(residual.abs() <= 1e-8 * moved, "{}: {what} is off by {residual:e} of {moved:e} moved", result.title);
    }
}

/// The profile at a reported time.
pub fn profile(result: &TrialResult, time_s: f64) -> &Profile {
    result.profiles.iter().find(|profile| (profile.time_s - time_s).abs() < 1e-6).expect("the time is reported")
}

/// The state at a reported time and depth.
pub fn at(result: &TrialResult, time_s: f64, depth_m: f64) -> ProfilePoint {
    let points = &profile(result, time_s).points;
    *points.iter().find(|point| (point.depth_m - depth_m).abs() < 1e-9).expect("the depth is reported")
}

/// The totals at a reported time.
pub fn totals(result: &TrialResult, time_s: f64) -> Totals {
    *result.totals.iter().find(|totals| (totals.time_s - time_s).abs() < 1e-6).expect("the time is reported")
}

/// Asserts that a value lies within a limit of what it should be, and prints how far it is off.
pub fn close(what: &str, found: f64, should_be: f64, limit: f64) {
    println!("{what}: {found:.6} for {should_be:.6}, off by {:.2e}, limit {limit:.2e}", found - should_be);
    assert!((found - should_be).abs() <= limit, "{what}: {found}, should be {should_be} within {limit}");
}
