//! A wet half-space that freezes from its face: Neumann's solution, Carslaw and Jaeger, Conduction of Heat in Solids, 2nd edition, 11.2 (exact solution).
//! Limit: 1 % of the step of the face for temperature; frozen through before the front and not at all behind it, a cell either way.

use physics::exact::{Freezing, freezing_front};

use crate::{at, close, run};

#[test]
fn a_freezing_front_is_neumanns() {
    let result = run("freezing-front.toml");
    let water = 300.0;
    let case = Freezing {
        face_k: 267.15,
        freezing_k: physics::frost::freezing_point_k(1e4),
        start_k: 277.15,
        conductivity_w_mk: (1.2, 1.2),
        heat_j_m3k: (1.5e6 + 2100.0 * water, 1.5e6 + 4187.0 * water),
        latent_j_m3: 333_400.0 * water,
    };
    let front = freezing_front(&case).unwrap();
    for hours in [6.0, 12.0, 24.0] {
        let time_s = hours * 3600.0;
        let frozen_m = 2.0 * front * (case.conductivity_w_mk.0 / case.heat_j_m3k.0 * time_s).sqrt();
        for depth_m in [0.005, 0.01, 0.02, 0.04, 0.06, 0.08, 0.1, 0.15, 0.2, 0.3] {
            let (point, place) = (at(&result, time_s, depth_m), format!("{depth_m} m, {hours} h"));
            close(&place, point.temperature_c, case.temperature_k(front, depth_m, time_s) - 273.15, 0.1);
            if (depth_m - frozen_m).abs() > 0.003 {
                let ice = if depth_m < frozen_m { water } else { 0.0 };
                close(&format!("ice at {place}"), point.ice_kg_m3.unwrap(), ice, 0.01 * water);
            }
        }
    }
}
