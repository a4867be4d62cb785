//! Carbonation: the quasi-steady moving front x = √(2·D·c·t/b) (Crank, The Mathematics of Diffusion, 2nd edition, 13.2, for a small driving concentration),
//! the same behind a film, and the law of a finite rate (exact solutions; the last derived in `physics::lime`, live against SciPy's method of lines, which
//! shares no step with it). Limits: 1 % of the uptake; the front within a cell is interpolated.

use physics::lime::{FiniteRate, front_after_m};

use crate::{close, harness, run, totals};

const DAY_S: f64 = 86_400.0;
const AIR: f64 = 0.01746;
const LIME: f64 = 2500.0;

#[test]
fn the_front_moves_with_the_square_root_of_time() {
    let result = run("carbonation-front.toml");
    for day in [1.0, 7.0, 14.0, 28.0] {
        let exact = (2.0 * 1e-7 * AIR * day * DAY_S / LIME).sqrt();
        let totals = totals(&result, day * DAY_S);
        close(&format!("uptake depth, {day} d, mm"), totals.uptake_m * 1000.0, exact * 1000.0, 0.01 * exact * 1000.0);
        close(&format!("front, {day} d, mm"), totals.front_m * 1000.0, exact * 1000.0, 0.02 * exact * 1000.0 + 0.01);
    }
    // Reckoned apart from this code: 1.8382 mm after 28 days (exact solution).
    close("uptake depth, 28 d, mm", totals(&result, 28.0 * DAY_S).uptake_m * 1000.0, 1.8382, 0.018);
}

/// Diffusivity after Millington and Quirk at porosity 0.30, saturation 0.30, 20 °C: 9.551e-7 m²/s; film 0.005 m/s: 5.49 mm after 28 days (exact solution).
#[test]
fn a_film_holds_the_front_back() {
    let result = run("carbonation-film.toml");
    for day in [7.0, 28.0] {
        let exact = front_after_m(0.0, 9.551e-7, 0.005, AIR, LIME, day * DAY_S).unwrap();
        close(&format!("uptake depth, {day} d, mm"), totals(&result, day * DAY_S).uptake_m * 1000.0, exact * 1000.0, 0.01 * exact * 1000.0);
    }
    close("uptake depth, 28 d, mm", totals(&result, 28.0 * DAY_S).uptake_m * 1000.0, 5.49, 0.055);
}

fn finite() -> FiniteRate {
    FiniteRate { diffusivity_m2_s: 1e-7, rate_per_s: 3.0, capacity_mol_m3: LIME, air_mol_m3: AIR, film_m_s: f64::INFINITY }
}

#[test]
fn a_finite_rate_follows_its_exact_law() {
    let result = run("carbonation-finite-rate.toml");
    for day in [1.0, 7.0, 14.0, 28.0] {
        let exact = finite().uptake_mol_m2(day * DAY_S).unwrap();
        close(&format!("uptake, {day} d"), totals(&result, day * DAY_S).carbon_mol_m2, exact, 0.01 * exact);
    }
    let exact = finite().depth_of_share_m(0.5, 28.0 * DAY_S).unwrap();
    close("front, 28 d, mm", totals(&result, 28.0 * DAY_S).front_m * 1000.0, exact * 1000.0, 0.02 * exact * 1000.0);
}

#[test]
fn a_finite_rate_is_what_scipy_finds_today() {
    let result = run("carbonation-finite-rate.toml");
    let days = [7.0, 28.0];
    let question = serde_json::json!({
        "diffusivity_m2_s": 1e-7, "rate_per_s": 3.0, "capacity_mol_m3": LIME, "air_mol_m3": AIR, "film_m_s": null,
        "length_m": 0.02, "nodes": 401, "times_s": days.map(|day| day * DAY_S), "shares": [0.5],
    });
    let answer = harness::run("moving_front.py", &question);
    let ours: Vec<f64> = days.iter().map(|day| totals(&result, day * DAY_S).carbon_mol_m2).collect();
    harness::assert_close("uptake", &ours, &harness::numbers(&answer["uptake_mol_m2"]), 0.0, 0.01);
}
