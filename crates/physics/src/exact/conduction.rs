//! Heat into a half-space: a step at the face, with and without a film, and a yearly or daily wave.

use core::f64::consts::PI;

use crate::numbers::{erfc, erfc_scaled, exp};

/// Share of a step of the face's temperature felt at a depth, 0 to 1.
///
/// θ = erfc(x/(2·√(a·t))). Carslaw and Jaeger, Conduction of Heat in Solids, 2nd edition, 2.5. Range: depth ≥ 0, time > 0.
pub fn step_fixed(depth_m: f64, diffusivity_m2_s: f64, time_s: f64) -> f64 {
    erfc(depth_m / (2.0 * (diffusivity_m2_s * time_s).sqrt()))
}

/// Share of a step of the air's temperature felt at a depth behind a film, 0 to 1.
///
/// θ = erfc(A) − exp(h·x/k + h²·a·t/k²)·erfc(A + h·√(a·t)/k), A = x/(2·√(a·t)). Carslaw and Jaeger, 2nd edition, 2.7. Written with the scaled
/// complementary error function, which does not overflow. Range: depth ≥ 0, time > 0, conductivity > 0.
pub fn step_convective(depth_m: f64, film_w_m2k: f64, conductivity_w_mk: f64, diffusivity_m2_s: f64, time_s: f64) -> f64 {
    let reach_m = (diffusivity_m2_s * time_s).sqrt();
    let a = depth_m / (2.0 * reach_m);
    erfc(a) - exp(-a * a) * erfc_scaled(a + film_w_m2k * reach_m / conductivity_w_mk)
}

/// Depth at which a periodic change of the face's temperature is down to 1/e, m: d = √(a·P/π). Carslaw and Jaeger, 2nd edition, 2.6.
pub fn damping_depth_m(diffusivity_m2_s: f64, period_s: f64) -> f64 {
    (diffusivity_m2_s * period_s / PI).sqrt()
}

/// Amplitude left at a depth, 0 to 1, and lag behind the face, in radians of the period: (exp(−x/d), x/d).
pub fn periodic_amplitude(depth_m: f64, damping_depth_m: f64) -> (f64, f64) {
    let lag_rad = depth_m / damping_depth_m;
    (exp(-lag_rad), lag_rad)
}
