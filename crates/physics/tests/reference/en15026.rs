//! The reference solution of the step of EN 15026:2007, Annex A, that numerical columns are held against: solved live, and held here against the values that an
//! independent implicit finite-volume program gave (*computed apart*), so that a change of either is seen. Also the functions of `en15026` at its ends.

use physics::air::suction_of_humidity_pa;
use physics::constants::kelvin;
use physics::en15026::water_kg_m3;
use serde_json::json;

use super::harness::{assert_close, numbers, run};

const DAY_S: f64 = 86_400.0;
/// The finite-volume program's own error, in kg/m³ and K, was stated as 0.07 and 0.026.
const WATER_KG_M3: f64 = 0.07;
const TEMPERATURE_K: f64 = 0.026;
/// Molar mass of water 18.015268 here, 18.01528 g/mol there.
const MOLAR_MASS_KG_M3: f64 = 5e-5;

#[test]
fn similarity_solution() {
    let water = [
        (7.0, 5.0, 80.29),
        (7.0, 10.0, 51.90),
        (30.0, 20.0, 52.77),
        (30.0, 50.0, 43.04),
        (365.0, 10.0, 118.83),
        (365.0, 50.0, 64.10),
        (365.0, 100.0, 46.04),
    ];
    let heat =
        [(7.0, 0.5, 26.640), (7.0, 1.0, 23.839), (30.0, 1.0, 26.748), (30.0, 3.0, 22.067), (365.0, 5.0, 25.470), (365.0, 10.0, 22.276)];
    let mut eta: Vec<f64> = vec![0.0];
    eta.extend(water.iter().map(|(days, mm, _)| mm / 1000.0 / (days * DAY_S).sqrt()));
    eta.extend(heat.iter().map(|(days, m, _)| m / (days * DAY_S).sqrt()));
    eta.push(0.05);
    let found = run("en15026_similarity.py", &json!({ "eta_m_s05": eta }));
    let (w, t) = (numbers(&found["w_kg_m3"]), numbers(&found["t_c"]));
    assert_close("water", &w[1..=7], &water.map(|row| row.2), WATER_KG_M3, 0.0);
    assert_close("temperature", &t[8..14], &heat.map(|row| row.2), TEMPERATURE_K, 0.0);
    assert_close("uptake", &[found["uptake_kg_m2_s05"].as_f64().unwrap()], &[5.7924e-4], 1e-8, 0.0);
    assert!(found["residual"].as_f64().unwrap() < 1e-6);
    let ends = [(0.95, 30.0), (0.5, 20.0)].map(|(humidity, t_c)| water_kg_m3(suction_of_humidity_pa(humidity, kelvin(t_c)).unwrap()));
    assert_close("water at the ends", &ends, &[w[0], w[14]], MOLAR_MASS_KG_M3, 0.0);
}
