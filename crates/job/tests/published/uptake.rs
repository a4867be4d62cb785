//! Uptake of water: from a free surface (Crank, The Mathematics of Diffusion, 2nd edition, 3.3: m = A·√t with A = 2·(w_s − w_0)·√(D/π)) and under a rain of
//! constant rate until it ponds (Carslaw and Jaeger, Conduction of Heat in Solids, 2nd edition, 2.9, constant flux). Exact solutions for a constant diffusivity.

use physics::numbers::erfc;

use crate::{at, close, run, totals};

const D: f64 = 1e-7;
const START: f64 = 2.0;
const FULL: f64 = 200.0;

/// Limit: 0.2 % of the uptake and of the full content. The face takes its first water through half a cell of 0.05 mm.
#[test]
fn free_water_is_taken_up_with_the_square_root_of_time() {
    let result = run("absorption-constant-diffusivity.toml");
    let absorption = 2.0 * (FULL - START) * (D / std::f64::consts::PI).sqrt();
    for time_s in [60.0, 600.0, 3600.0_f64] {
        let exact = absorption * time_s.sqrt();
        close(&format!("uptake, {time_s} s"), totals(&result, time_s).outer_water_kg_m2, exact, 0.002 * exact);
        for depth_m in [0.005, 0.01, 0.02, 0.04] {
            let exact = START + (FULL - START) * erfc(depth_m / (2.0 * (D * time_s).sqrt()));
            let found = at(&result, time_s, depth_m).water_kg_m3;
            close(&format!("water at {depth_m} m, {time_s} s"), found, exact, 0.002 * FULL);
        }
    }
}

/// The face rises as 2·q·√(t/(πD)) and is full at (π²/16)·(A/q)² = 3079 s. Limits: 1 % of the time to ponding; 0.2 % of the full content.
#[test]
fn rain_is_all_taken_up_until_it_ponds() {
    let result = run("rain-until-ponding.toml");
    let rain_kg_m2s = 1e-3;
    let ponding_s = std::f64::consts::PI * (D * (FULL - START).powi(2)) / (4.0 * rain_kg_m2s * rain_kg_m2s);
    close("time to ponding as in the trial", ponding_s, 3079.1, 0.1);
    for time_s in [0.25 * 3079.0, 0.99 * 3079.0] {
        let totals = totals(&result, time_s);
        close("all taken up", totals.outer_water_kg_m2, rain_kg_m2s * time_s, 1e-9);
        assert!(totals.run_off_kg_m2 <= 1e-12, "nothing runs off before {ponding_s} s");
        let face = START + 2.0 * rain_kg_m2s * (time_s / (std::f64::consts::PI * D)).sqrt();
        close(&format!("water at the face, {time_s} s"), at(&result, time_s, 0.0).water_kg_m3, face, 0.002 * FULL);
    }
    assert!(totals(&result, 1.01 * 3079.0).run_off_kg_m2 > 0.0, "water runs off after {ponding_s} s");
}

/// The lime-like material of the rain-and-drying case: A = 0.0570 ± 0.0003 kg/(m² s^½) (other tool: own reference program). The limit is its uncertainty.
#[test]
fn the_lime_like_material_takes_up_water_as_computed() {
    let result = run("absorption-lime-like.toml");
    for time_s in [600.0, 3600.0, 14_400.0_f64] {
        let found = totals(&result, time_s).outer_water_kg_m2 / time_s.sqrt();
        close(&format!("A after {time_s} s"), found, 0.0570, 0.0003);
    }
}
