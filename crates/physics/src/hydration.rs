//! How far a hydraulic binder has set: equivalent age by temperature, and how drying slows it.

use crate::constants::{GAS_CONSTANT_J_MOLK, ZERO_CELSIUS_K};
use crate::numbers::exp;

/// Reference temperature of equivalent age, K: 20 °C.
pub const REFERENCE_K: f64 = ZERO_CELSIUS_K + 20.0;

/// Speed of hydration relative to 20 °C, by an activation energy.
///
/// f = exp(−(E/R)·(1/T − 1/293.15)). Arrhenius; as equivalent age in ASTM C1074 and EN 13670. Exactly 1 at 293.15 K.
/// `activation_j_mol`: 33,500 to 45,000 for Portland cements; none is agreed for natural hydraulic limes (40,000, with 30,000 to 50,000 as its range, is an assumption).
/// Range: 0 to 60 °C; below 0 °C hydration is to be taken as stopped.
#[inline]
pub fn equivalent_age_factor(activation_j_mol: f64, temperature_k: f64) -> f64 {
    exp(-activation_j_mol / GAS_CONSTANT_J_MOLK * (1.0 / temperature_k - 1.0 / REFERENCE_K))
}

/// Activation energy that grows in the cold, J/mol.
///
/// E = 33,500 at 20 °C and above, 33,500 + 1,470·(20 − t) below. Freiesleben Hansen and Pedersen, Nordisk Betong 1 (1977) 21. For Portland cement.
#[inline]
pub fn activation_cold_j_mol(temperature_k: f64) -> f64 {
    33_500.0 + 1_470.0 * (REFERENCE_K - temperature_k).max(0.0)
}

/// Speed of hydration relative to 20 °C by the maturity of Nurse and Saul: f = (t + 10)/30, zero below −10 °C.
///
/// Saul, Magazine of Concrete Research 2 (1951) 127, datum −10 °C. Too kind to the cold when compared with Arrhenius at 40 kJ/mol.
#[inline]
pub fn nurse_saul_factor(temperature_k: f64) -> f64 {
    ((temperature_k - ZERO_CELSIUS_K + 10.0) / 30.0).max(0.0)
}

/// Slowing of hydration by drying, 0 to 1.
///
/// β = 1/(1 + (7.5 − 7.5·φ)⁴). Bažant and Najjar, Materials and Structures 5 (1972) 3, the form used for hydration since. Range: 0 ≤ φ ≤ 1; 1 at saturation, 0.17 at 80 %.
#[inline]
pub fn drying_factor(humidity: f64) -> f64 {
    let square = (7.5 - 7.5 * humidity) * (7.5 - 7.5 * humidity);
    1.0 / (1.0 + square * square)
}
