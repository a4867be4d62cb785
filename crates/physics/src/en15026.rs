//! The material of the benchmark of EN 15026:2007, Annex A: a semi-infinite region whose face is stepped from 20 °C and 50 % to 30 °C and 95 %
//! relative humidity. Functions only; the equations are solved elsewhere. Ranges: suction from 0 upwards, water from 0 to 146 kg/m³.

use crate::PhysicsError;
use crate::air::vapour_permeability_en15026_s;
use crate::numbers::{exp, pow};

/// Water content at saturation, kg/m³.
pub const SATURATION_KG_M3: f64 = 146.0;
/// Volumetric heat capacity dry, J/(m³ K); water adds 4187 J/(kg K).
pub const DRY_HEAT_J_M3K: f64 = 1.824e6;

/// Water content at a suction, kg/m³: w = 146/(1 + (8e-8·p_c)^1.6)^0.375.
pub fn water_kg_m3(suction_pa: f64) -> f64 {
    SATURATION_KG_M3 / pow(1.0 + pow(8e-8 * suction_pa.max(0.0), 1.6), 0.375)
}

/// Suction at a water content, Pa: p_c = 0.125e8·((146/w)^(1/0.375) − 1)^0.625.
///
/// # Errors
/// A content of zero or less, or above 146.
pub fn suction_pa(water_kg_m3: f64) -> Result<f64, PhysicsError> {
    if water_kg_m3 > 0.0 && water_kg_m3 <= SATURATION_KG_M3 {
        Ok(0.125e8 * pow(pow(SATURATION_KG_M3 / water_kg_m3, 1.0 / 0.375) - 1.0, 0.625))
    } else {
        Err(PhysicsError::OutOfRange {
            law: "the retention of EN 15026, Annex A",
            quantity: "water content (kg/m³)",
            found: water_kg_m3,
            allowed: "above 0 and at most 146",
        })
    }
}

/// Vapour permeability, kg/(m s Pa): δ = (26.1e-6/200)/(R_v·T)·(1 − w/146)/(0.503·(1 − w/146)² + 0.497).
pub fn vapour_permeability_s(water_kg_m3: f64, temperature_k: f64) -> f64 {
    let dry = 1.0 - water_kg_m3 / SATURATION_KG_M3;
    vapour_permeability_en15026_s(temperature_k) / 200.0 * dry / (0.503 * dry * dry + 0.497)
}

/// Liquid conductivity on suction, kg/(m s Pa): the exponential of a polynomial of fifth degree in w − 73.
pub fn conductivity_s(water_kg_m3: f64) -> f64 {
    let y = water_kg_m3 - 73.0;
    exp(-39.2619 + y * (0.0704 + y * (-1.7420e-4 + y * (-2.7953e-6 + y * (-1.1566e-7 + y * 2.5969e-9)))))
}

/// Heat conductivity, W/(m K): λ = 1.5 + 0.0158·w.
pub fn heat_conductivity_w_mk(water_kg_m3: f64) -> f64 {
    1.5 + 0.0158 * water_kg_m3
}
