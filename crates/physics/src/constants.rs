//! Physical constants: each named, with its unit and the authority behind it.

/// Molar gas constant, J/(mol K). CODATA 2018, exact.
pub const GAS_CONSTANT_J_MOLK: f64 = 8.314_462_618;
/// Molar mass of water, kg/mol. IUPAC standard atomic weights (H 1.008, O 15.999), as IAPWS rounds it.
pub const WATER_MOLAR_KG_MOL: f64 = 0.018_015_268;
/// Gas constant of water vapour, J/(kg K): the molar gas constant over the molar mass.
pub const VAPOUR_GAS_J_KGK: f64 = GAS_CONSTANT_J_MOLK / WATER_MOLAR_KG_MOL;
/// Molar mass of dry air, kg/mol. Picard et al., Metrologia 45 (2008) 149, at the CO₂ content of that time.
pub const DRY_AIR_MOLAR_KG_MOL: f64 = 0.028_965_46;
/// Stefan–Boltzmann constant, W/(m² K⁴). CODATA 2018, exact.
pub const STEFAN_BOLTZMANN_W_M2K4: f64 = 5.670_374_419e-8;
/// Temperature of 0 °C, K. Exact by definition.
pub const ZERO_CELSIUS_K: f64 = 273.15;
/// Standard atmosphere, Pa. Exact by definition.
pub const STANDARD_ATMOSPHERE_PA: f64 = 101_325.0;
/// Standard gravity, m/s². Exact by definition.
pub const GRAVITY_M_S2: f64 = 9.806_65;

/// Density of liquid water used in Kelvin's equation and in storage, kg/m³. The round value of EN 15026; 0.2 % above the true one at 20 °C.
pub const WATER_DENSITY_KG_M3: f64 = 1000.0;
/// Specific heat of liquid water, J/(kg K), mean of 0 to 30 °C. The value of the EN 15026 and HAMSTAD benchmarks is 4187; IAPWS gives 4180 to 4220.
pub const WATER_HEAT_J_KGK: f64 = 4187.0;
/// Specific heat of water vapour at constant pressure, J/(kg K), near 10 °C. ASHRAE Handbook of Fundamentals, psychrometrics.
pub const VAPOUR_HEAT_J_KGK: f64 = 1860.0;
/// Specific heat of dry air at constant pressure, J/(kg K). ASHRAE Handbook of Fundamentals, psychrometrics.
pub const DRY_AIR_HEAT_J_KGK: f64 = 1006.0;
/// Specific heat of ice near 0 °C, J/(kg K). CRC Handbook of Chemistry and Physics.
pub const ICE_HEAT_J_KGK: f64 = 2100.0;
/// Density of ice at 0 °C, kg/m³. IAPWS R10-06 (2009): 916.7.
pub const ICE_DENSITY_KG_M3: f64 = 916.7;
/// Heat of fusion of water at 0 °C, J/kg. IAPWS R10-06 (2009): 333.4 kJ/kg.
pub const FUSION_J_KG: f64 = 333_400.0;
/// Triple point of water, K. The definition of the kelvin before 2019; still true to 1e-7.
pub const TRIPLE_POINT_K: f64 = 273.16;
/// Pressure at the triple point of water, Pa. Guildner, Johnson and Jones 1976, as used by IAPWS.
pub const TRIPLE_POINT_PA: f64 = 611.657;

/// Celsius to kelvin.
#[inline]
pub fn kelvin(temperature_c: f64) -> f64 {
    temperature_c + ZERO_CELSIUS_K
}

/// Kelvin to Celsius.
#[inline]
pub fn celsius(temperature_k: f64) -> f64 {
    temperature_k - ZERO_CELSIUS_K
}
