//! Liquid water at ordinary pressure: density, viscosity, surface tension, and what follows for its rise in pores.

use crate::constants::{GRAVITY_M_S2, ZERO_CELSIUS_K, celsius};
use crate::numbers::pow;

/// Density of water at one atmosphere, kg/m³.
///
/// The rational form of Kell, J. Chem. Eng. Data 20 (1975) 97, t in °C. Range: 0 to 100 °C, and to −20 °C supercooled within 0.1 %.
pub fn density_kg_m3(temperature_k: f64) -> f64 {
    let t = celsius(temperature_k);
    let above = 999.83952 + t * (16.945176 + t * (-7.987_040_1e-3 + t * (-46.170_461e-6 + t * (105.563_02e-9 - t * 280.542_53e-12))));
    above / (1.0 + 16.879_850e-3 * t)
}

/// Dynamic viscosity of water at one atmosphere, Pa s.
///
/// η = 1e-6·(280.68·θ^−1.9 + 511.45·θ^−7.7 + 61.131·θ^−19.6 + 0.45903·θ^−40), θ = T/300 K. Pátek et al., J. Phys. Chem. Ref. Data 38 (2009) 21;
/// also IAPWS SR6-08. Range: 253 to 383 K, 1 %.
pub fn viscosity_pa_s(temperature_k: f64) -> f64 {
    let theta = temperature_k / 300.0;
    1e-6 * (280.68 * pow(theta, -1.9) + 511.45 * pow(theta, -7.7) + 61.131 * pow(theta, -19.6) + 0.45903 * pow(theta, -40.0))
}

/// Surface tension of water against its vapour, N/m.
///
/// σ = 0.2358·τ^1.256·(1 − 0.625·τ), τ = 1 − T/647.096. IAPWS R1-76 (2014). Range: triple point to critical point, and to −25 °C supercooled.
pub fn surface_tension_n_m(temperature_k: f64) -> f64 {
    let tau = 1.0 - temperature_k / 647.096;
    0.2358 * pow(tau, 1.256) * (1.0 - 0.625 * tau)
}

/// Radius of the largest round pore that a suction leaves full, m, with a contact angle of zero.
///
/// r = 2·σ/p_c. Young and Laplace. Range: suction above 0; infinite at 0.
pub fn pore_radius_m(suction_pa: f64, temperature_k: f64) -> f64 {
    2.0 * surface_tension_n_m(temperature_k) / suction_pa
}

/// Height to which water stands in a round pore, m: h = 2·σ/(ρ·g·r), Jurin's law. An upper bound: a wall that dries stays below it.
pub fn capillary_rise_m(pore_radius_m: f64, temperature_k: f64) -> f64 {
    2.0 * surface_tension_n_m(temperature_k) / (density_kg_m3(temperature_k) * GRAVITY_M_S2 * pore_radius_m)
}

/// Factor by which a water absorption coefficient at 20 °C changes with temperature.
///
/// A(T)/A(293.15) = √((σ/η)(T)/(σ/η)(293.15)): suction drives and viscosity hinders. Hall and Hoff, Water Transport in Brick, Stone and Concrete, scaling of
/// sorptivity. Exactly 1 at 293.15 K. Range: 0 to 50 °C.
pub fn absorption_factor(temperature_k: f64) -> f64 {
    const REFERENCE_K: f64 = ZERO_CELSIUS_K + 20.0;
    let ease = |t| surface_tension_n_m(t) / viscosity_pa_s(t);
    (ease(temperature_k) / ease(REFERENCE_K)).sqrt()
}
