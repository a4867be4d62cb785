//! Heat conduction. Source: Carslaw and Jaeger, Conduction of Heat in Solids, 2nd edition, 2.4–2.7 and 11.2. Numbers: *exact solution*, evaluated apart with SciPy;
//! error functions *published*: Abramowitz and Stegun, Handbook of Mathematical Functions, table 7.1.

use physics::exact::{Freezing, damping_depth_m, freezing_front, periodic_amplitude, stefan_front, step_convective, step_fixed};
use physics::numbers::{erf, erfc, erfc_scaled};

use super::near;

/// *Published*, ten figures. Limit: half the last.
#[test]
fn error_function() {
    for (x, table) in
        [(0.1, 0.112_462_916_0), (0.5, 0.520_499_877_8), (1.0, 0.842_700_792_9), (1.5, 0.966_105_146_5), (2.0, 0.995_322_265_0)]
    {
        near("erf", erf(x), table, 6e-11);
        near("erfc", erfc(x), 1.0 - table, 6e-11);
    }
    near("exp(25)·erfc(5) by the series 7.1.23", erfc_scaled(5.0), 0.110_704_637_7, 6e-11);
}

/// *Exact solution*, limit: the decimals given (5e-6).
#[test]
fn convective_step() {
    near("θ at the face", step_convective(0.0, 25.0, 1.5, 1e-6, 3600.0), 0.57242, 6e-6);
    near("θ at 50 mm", step_convective(0.05, 25.0, 1.5, 1e-6, 3600.0), 0.27343, 6e-6);
    near("θ behind no film", step_convective(0.05, 1e9, 1.5, 1e-6, 3600.0), step_fixed(0.05, 1e-6, 3600.0), 1e-6);
    assert!(step_convective(0.0, 1e4, 0.1, 1e-6, 1e9) > 0.9999, "the product form would overflow here");
}

/// *Exact solution*: 0.1658 m a day, 3.169 m a year of 365.25 days at 1e-6 m²/s.
#[test]
fn damping() {
    near("a day (m)", damping_depth_m(1e-6, 86_400.0), 0.1658, 6e-5);
    near("a year (m)", damping_depth_m(1e-6, 365.25 * 86_400.0), 3.169, 6e-4);
    near("one depth down", periodic_amplitude(0.3, 0.3).0, 0.367_879_441_171_442_3, 1e-15);
}

fn wet_mortar(start_k: f64) -> Freezing {
    Freezing { face_k: 263.15, freezing_k: 273.15, start_k, conductivity_w_mk: (1.4, 1.0), heat_j_m3k: (1.9e6, 2.4e6), latent_j_m3: 80e6 }
}

/// With the liquid at its freezing point Neumann's front is Stefan's. *Exact solution*. Limit: rounding.
#[test]
fn neumann_tends_to_stefan() {
    let case = wet_mortar(273.15);
    near("Λ", freezing_front(&case).unwrap(), stefan_front(1.9e6 * 10.0 / 80e6).unwrap(), 1e-13);
}

/// At the front both sides stand at the freezing point, and the heat that arrives less the heat that leaves freezes the water: Stefan's condition by
/// differences. *Exact solution*. Limit: 1e-5 for differences over 1e-4 of the depth.
#[test]
fn neumann_keeps_the_heat_balance() {
    let case = wet_mortar(278.15);
    let front = freezing_front(&case).unwrap();
    let time = 86_400.0;
    let frozen_m2_s = case.conductivity_w_mk.0 / case.heat_j_m3k.0;
    let depth = 2.0 * front * (frozen_m2_s * time).sqrt();
    let at = |x| case.temperature_k(front, x, time);
    near("at the front (K)", at(depth * (1.0 - 1e-12)), 273.15, 1e-9);
    let step = 1e-4 * depth;
    let leaving = case.conductivity_w_mk.0 * (1.5 * 273.15 - 2.0 * at(depth - step) + 0.5 * at(depth - 2.0 * step)) / step;
    let arriving = case.conductivity_w_mk.1 * (-1.5 * 273.15 + 2.0 * at(depth + step) - 0.5 * at(depth + 2.0 * step)) / step;
    let speed = front * (frozen_m2_s / time).sqrt();
    near("heat balance at the front", (leaving - arriving) / (case.latent_j_m3 * speed), 1.0, 1e-5);
}
