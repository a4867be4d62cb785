//! Freezing in pores: how full, how cold, how much heat.

use crate::PhysicsError;
use crate::constants::{FUSION_J_KG, ICE_DENSITY_KG_M3, WATER_DENSITY_KG_M3, ZERO_CELSIUS_K};
use crate::error::positive;

/// Degree of saturation above which freezing water cannot find room in its own pores: the ratio of the densities of ice and water, 0.917.
pub const CLOSED_VESSEL_SATURATION: f64 = ICE_DENSITY_KG_M3 / WATER_DENSITY_KG_M3;

/// Degree of saturation of the open pores, 0 to 1: S = w/(1000·porosity).
#[inline]
pub fn saturation(water_kg_m3: f64, porosity: f64) -> f64 {
    water_kg_m3 / (WATER_DENSITY_KG_M3 * porosity)
}

/// Depression of the freezing point of water in a round pore, K.
///
/// ΔT = 64.67/(r − 0.57), r in nm. Brun, Lallemand, Quinson and Eyraud, Thermochimica Acta 21 (1977) 59 (freezing). Range: radius above 2 nm, depression below 40 K.
///
/// # Errors
/// A radius at or below 0.57 nm, where pore water does not freeze by this law.
pub fn pore_depression_k(pore_radius_m: f64) -> Result<f64, PhysicsError> {
    let free_nm =
        positive("the freezing of pore water", "pore radius less its unfreezing film of 0.57 nm (nm)", pore_radius_m * 1e9 - 0.57)?;
    Ok(64.67 / free_nm)
}

/// Freezing point of water held at a suction with ice at the pressure of the air, K.
///
/// T = T₀·(1 − p_c/(ρ_w·L_f)): the generalised Clausius–Clapeyron relation, linear form. Range: suction to 3e7 Pa (25 K), where it is 4 % off.
#[inline]
pub fn freezing_point_k(suction_pa: f64) -> f64 {
    ZERO_CELSIUS_K * (1.0 - suction_pa / (WATER_DENSITY_KG_M3 * FUSION_J_KG))
}

/// Heat set free when a mass of water freezes, J/m²: L_f·m.
#[inline]
pub fn freezing_heat_j_m2(water_kg_m2: f64) -> f64 {
    FUSION_J_KG * water_kg_m2
}
