//! Moist air: saturation pressure and its inverse, humidity, wet bulb, and how vapour and carbon dioxide diffuse through it.
//!
//! **The engine's saturation pressure** is [`saturation_pa`]: the water formula of EN ISO 13788:2012, continued below 0 °C over supercooled
//! water. Chosen because weather records give humidity over water at every temperature; because pore water stays liquid below 0 °C, held by
//! suction; because it has no kink at 0 °C for a solver to trip on, and an exact inverse and slope; and because the EN 15026
//! benchmark is stated with it. Against IAPWS it is low by 0.05 to 0.16 % from 0 to 30 °C; against Murphy and Koop (2005) over supercooled
//! water by 0.3 % at −10 °C and 0.75 % at −20 °C. Over ice (hoar frost on a face) use [`saturation_ice_pa`].

use crate::PhysicsError;
use crate::constants::{
    DRY_AIR_HEAT_J_KGK, STANDARD_ATMOSPHERE_PA, TRIPLE_POINT_K, TRIPLE_POINT_PA, VAPOUR_GAS_J_KGK, VAPOUR_HEAT_J_KGK, WATER_DENSITY_KG_M3,
    ZERO_CELSIUS_K, celsius,
};
use crate::error::positive;
use crate::numbers::{bisect, exp, ln, pow};

/// A Magnus form p = p₀·exp(a·t/(b + t)), t in °C.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Magnus {
    at_zero_pa: f64,
    a: f64,
    b_c: f64,
}

const ISO_WATER: Magnus = Magnus { at_zero_pa: 610.5, a: 17.269, b_c: 237.3 };
const ISO_ICE: Magnus = Magnus { at_zero_pa: 610.5, a: 21.875, b_c: 265.5 };
const WMO_WATER: Magnus = Magnus { at_zero_pa: 611.2, a: 17.62, b_c: 243.12 };
const WMO_ICE: Magnus = Magnus { at_zero_pa: 611.2, a: 22.46, b_c: 272.62 };

impl Magnus {
    #[inline]
    fn pressure_pa(self, temperature_k: f64) -> f64 {
        let t = celsius(temperature_k);
        self.at_zero_pa * exp(self.a * t / (self.b_c + t))
    }

    #[inline]
    fn slope_pa_k(self, temperature_k: f64) -> f64 {
        let below = self.b_c + celsius(temperature_k);
        self.pressure_pa(temperature_k) * self.a * self.b_c / (below * below)
    }

    fn temperature_k(self, pressure_pa: f64) -> f64 {
        let u = ln(pressure_pa / self.at_zero_pa);
        ZERO_CELSIUS_K + self.b_c * u / (self.a - u)
    }
}

/// Saturation pressure of water vapour over liquid water, Pa: the engine's own form.
///
/// p = 610.5·exp(17.269·t/(237.3 + t)), t in °C. EN ISO 13788:2012, Annex E, for t ≥ 0, continued over supercooled water below.
/// Range: −40 to 60 °C (233 to 333 K); error in the head of this module.
#[inline]
pub fn saturation_pa(temperature_k: f64) -> f64 {
    ISO_WATER.pressure_pa(temperature_k)
}

/// Slope of [`saturation_pa`] with temperature, Pa/K.
///
/// dp/dT = p·17.269·237.3/(237.3 + t)². Range as [`saturation_pa`].
#[inline]
pub fn saturation_slope_pa_k(temperature_k: f64) -> f64 {
    ISO_WATER.slope_pa_k(temperature_k)
}

/// Temperature at which vapour of the given pressure is saturated over water, K: the dew point, and the exact inverse of [`saturation_pa`].
///
/// t = 237.3·u/(17.269 − u), u = ln(p/610.5). EN ISO 13788:2012, Annex E, continued below 0 °C. Range: 20 to 20,000 Pa.
///
/// # Errors
/// A pressure of zero or less, or so high (above 1.9e10 Pa) that the form has no temperature.
pub fn dew_point_k(vapour_pa: f64) -> Result<f64, PhysicsError> {
    inverse("the dew point", ISO_WATER, vapour_pa)
}

/// Temperature at which vapour of the given pressure is saturated over ice, K: the frost point, and the inverse of [`saturation_ice_pa`].
///
/// t = 265.5·u/(21.875 − u), u = ln(p/610.5). EN ISO 13788:2012, Annex E. Range: 10 to 610.5 Pa.
///
/// # Errors
/// A pressure of zero or less, or beyond the form's pole.
pub fn frost_point_k(vapour_pa: f64) -> Result<f64, PhysicsError> {
    inverse("the frost point", ISO_ICE, vapour_pa)
}

fn inverse(law: &'static str, form: Magnus, vapour_pa: f64) -> Result<f64, PhysicsError> {
    let vapour = positive(law, "vapour pressure (Pa)", vapour_pa)?;
    if ln(vapour / form.at_zero_pa) < form.a {
        Ok(form.temperature_k(vapour))
    } else {
        Err(PhysicsError::OutOfRange { law, quantity: "vapour pressure (Pa)", found: vapour, allowed: "below the pole of the form" })
    }
}

/// Saturation pressure over ice, Pa.
///
/// p = 610.5·exp(21.875·t/(265.5 + t)). EN ISO 13788:2012, Annex E, for t < 0. Range: −40 to 0 °C; above 0 °C there is no ice and the number means nothing.
#[inline]
pub fn saturation_ice_pa(temperature_k: f64) -> f64 {
    ISO_ICE.pressure_pa(temperature_k)
}

/// Saturation pressure as EN ISO 13788:2012, Annex E gives it: over water from 0 °C up, over ice below. For comparison with that standard; it has a kink at 0 °C.
#[inline]
pub fn saturation_iso13788_pa(temperature_k: f64) -> f64 {
    if temperature_k >= ZERO_CELSIUS_K { saturation_pa(temperature_k) } else { saturation_ice_pa(temperature_k) }
}

/// Inverse of [`saturation_iso13788_pa`], K: dew point at or above 610.5 Pa, frost point below.
///
/// # Errors
/// As [`dew_point_k`].
pub fn dew_point_iso13788_k(vapour_pa: f64) -> Result<f64, PhysicsError> {
    if vapour_pa >= ISO_WATER.at_zero_pa { dew_point_k(vapour_pa) } else { frost_point_k(vapour_pa) }
}

/// Saturation pressure over water in the Magnus form of the WMO, Pa.
///
/// p = 611.2·exp(17.62·t/(243.12 + t)). WMO-No. 8, Guide to Instruments and Methods of Observation, Annex 4.B. Range: −45 to 60 °C.
#[inline]
pub fn saturation_wmo_pa(temperature_k: f64) -> f64 {
    WMO_WATER.pressure_pa(temperature_k)
}

/// Saturation pressure over ice in the Magnus form of the WMO, Pa.
///
/// p = 611.2·exp(22.46·t/(272.62 + t)). WMO-No. 8, Annex 4.B. Range: −65 to 0 °C.
#[inline]
pub fn saturation_wmo_ice_pa(temperature_k: f64) -> f64 {
    WMO_ICE.pressure_pa(temperature_k)
}

/// Saturation pressure over liquid water, Pa, to reference accuracy.
///
/// ln(p/p_c) = (T_c/T)·Σ aᵢ·τ^nᵢ, τ = 1 − T/T_c. Wagner and Pruss, J. Phys. Chem. Ref. Data 22 (1993) 783; IAPWS SR1-86 (1992).
/// Range: 273.16 to 647.096 K; below it runs on smoothly over supercooled water (0.1 % high at −20 °C against Murphy and Koop). Above the critical point: not a number.
pub fn saturation_iapws_pa(temperature_k: f64) -> f64 {
    const CRITICAL_K: f64 = 647.096;
    const CRITICAL_PA: f64 = 22.064e6;
    const TERMS: [(f64, f64); 6] =
        [(-7.85951783, 1.0), (1.84408259, 1.5), (-11.7866497, 3.0), (22.6807411, 3.5), (-15.9618719, 4.0), (1.80122502, 7.5)];
    let tau = 1.0 - temperature_k / CRITICAL_K;
    let sum: f64 = TERMS.iter().map(|&(a, n)| a * pow(tau, n)).sum();
    CRITICAL_PA * exp(CRITICAL_K / temperature_k * sum)
}

/// Saturation (sublimation) pressure over ice, Pa, to reference accuracy.
///
/// ln(p/p_t) = θ⁻¹·Σ aᵢ·θ^bᵢ, θ = T/273.16. IAPWS R14-08 (2011), equation 6. Range: 50 to 273.16 K.
pub fn saturation_ice_iapws_pa(temperature_k: f64) -> f64 {
    const TERMS: [(f64, f64); 3] = [(-21.2144006, 0.003_333_333_33), (27.3203819, 1.206_666_67), (-6.10598130, 1.703_333_33)];
    let theta = temperature_k / TRIPLE_POINT_K;
    let sum: f64 = TERMS.iter().map(|&(a, b)| a * pow(theta, b)).sum();
    TRIPLE_POINT_PA * exp(sum / theta)
}

/// Relative humidity of air in balance with water held at a suction, 0 to 1.
///
/// φ = exp(−p_c/(ρ_w·R_v·T)). Kelvin's equation, as in EN 15026:2007. Range: suction ≥ 0.
#[inline]
pub fn humidity_of_suction(suction_pa: f64, temperature_k: f64) -> f64 {
    exp(-suction_pa / (WATER_DENSITY_KG_M3 * VAPOUR_GAS_J_KGK * temperature_k))
}

/// Suction in balance with air of a relative humidity, Pa: the inverse of [`humidity_of_suction`].
///
/// p_c = −ρ_w·R_v·T·ln φ. Range: humidity above 0; at 1 and above the suction is 0.
///
/// # Errors
/// A humidity of zero or less, which would need an endless suction.
pub fn suction_of_humidity_pa(humidity: f64, temperature_k: f64) -> Result<f64, PhysicsError> {
    let humidity = positive("Kelvin's equation", "relative humidity (0 to 1)", humidity)?;
    Ok((-WATER_DENSITY_KG_M3 * VAPOUR_GAS_J_KGK * temperature_k * ln(humidity)).max(0.0))
}

/// Mass of water vapour in a cubic metre of air, kg/m³ (absolute humidity).
///
/// v = p_v/(R_v·T), the ideal gas law. Range: ordinary pressures, error below 0.2 %.
#[inline]
pub fn vapour_density_kg_m3(vapour_pa: f64, temperature_k: f64) -> f64 {
    vapour_pa / (VAPOUR_GAS_J_KGK * temperature_k)
}

/// Density of moist air, kg/m³.
///
/// ρ = (p − p_v)/(R_a·T) + p_v/(R_v·T), the ideal gas law.
pub fn air_density_kg_m3(pressure_pa: f64, vapour_pa: f64, temperature_k: f64) -> f64 {
    const DRY_AIR_GAS_J_KGK: f64 = crate::constants::GAS_CONSTANT_J_MOLK / crate::constants::DRY_AIR_MOLAR_KG_MOL;
    (pressure_pa - vapour_pa) / (DRY_AIR_GAS_J_KGK * temperature_k) + vapour_density_kg_m3(vapour_pa, temperature_k)
}

/// Humidity ratio, kg of vapour to one of dry air.
///
/// x = 0.62198·p_v/(p − p_v): the ratio of the molar masses. Range: vapour pressure below the air's.
pub fn humidity_ratio(vapour_pa: f64, pressure_pa: f64) -> f64 {
    crate::constants::WATER_MOLAR_KG_MOL / crate::constants::DRY_AIR_MOLAR_KG_MOL * vapour_pa / (pressure_pa - vapour_pa)
}

/// Wet-bulb temperature of an aspirated psychrometer, K.
///
/// The t_w for which p_v = p_sat(t_w) − γ·p·(t − t_w), γ = 6.53e-4·(1 + 0.000944·t_w) per kelvin. WMO-No. 8, Annex 4.B, over water.
/// Range: 0 to 50 °C, ordinary pressures.
///
/// # Errors
/// A vapour pressure of zero or less, or above saturation at the air's temperature.
pub fn wet_bulb_aspirated_k(temperature_k: f64, vapour_pa: f64, pressure_pa: f64) -> Result<f64, PhysicsError> {
    let law = "the wet bulb of an aspirated psychrometer";
    let dew = dew_point_k(vapour_pa)?;
    bisect(law, "K", dew.min(temperature_k), temperature_k, |t| {
        let gamma = 6.53e-4 * (1.0 + 0.000_944 * celsius(t)) * pressure_pa;
        saturation_pa(t) - gamma * (temperature_k - t) - vapour_pa
    })
}

/// Thermodynamic wet-bulb (adiabatic saturation) temperature, K.
///
/// The t* for which the enthalpy of the air with the water it takes up to saturation at t* is unchanged:
/// x = ((L − (c_w − c_v)·t*)·x_s(t*) − c_a·(t − t*))/(L + c_v·t − c_w·t*), L = 2.501e6 J/kg, t in °C. ASHRAE Handbook of Fundamentals, psychrometrics.
/// Range: 0 to 50 °C.
///
/// # Errors
/// As [`wet_bulb_aspirated_k`].
pub fn wet_bulb_k(temperature_k: f64, vapour_pa: f64, pressure_pa: f64) -> Result<f64, PhysicsError> {
    const EVAPORATION_J_KG: f64 = 2.501e6;
    const WATER_J_KGK: f64 = 4186.0;
    let law = "the thermodynamic wet bulb";
    let dew = dew_point_k(vapour_pa)?;
    let air_c = celsius(temperature_k);
    let ratio = humidity_ratio(vapour_pa, pressure_pa);
    bisect(law, "K", dew.min(temperature_k), temperature_k, |t| {
        let wet_c = celsius(t);
        let saturated = humidity_ratio(saturation_pa(t), pressure_pa);
        let taken = (EVAPORATION_J_KG - (WATER_J_KGK - VAPOUR_HEAT_J_KGK) * wet_c) * saturated - DRY_AIR_HEAT_J_KGK * (air_c - wet_c);
        taken - ratio * (EVAPORATION_J_KG + VAPOUR_HEAT_J_KGK * air_c - WATER_J_KGK * wet_c)
    })
}

/// Heat of evaporation of water, J/kg.
///
/// L = 2.5009e6 − 2366·t, t in °C: a straight line through the IAPWS-95 values at 0 and 30 °C, within 0.01 % of them between, 0.05 % from −20 to 60 °C.
#[inline]
pub fn evaporation_j_kg(temperature_k: f64) -> f64 {
    2.5009e6 - 2366.0 * celsius(temperature_k)
}

/// Heat of sublimation of ice, J/kg, taken constant at its value at 0 °C (evaporation plus fusion); it changes by 0.2 % down to −40 °C (Murphy and Koop 2005).
pub const SUBLIMATION_J_KG: f64 = 2.5009e6 + crate::constants::FUSION_J_KG;

/// Permeability of still air to water vapour, kg/(m s Pa), as temperature and pressure set it.
///
/// δ₀ = 2.0e-7·T^0.81/p. Künzel 1995 (Simultaneous heat and moisture transport in building components), after Schirmer 1938. Range: −20 to 60 °C.
/// The usual form of building physics; 7.5 % above the review of Massman (1998) at every temperature.
#[inline]
pub fn vapour_permeability_s(temperature_k: f64, pressure_pa: f64) -> f64 {
    2.0e-7 * pow(temperature_k, 0.81) / pressure_pa
}

/// Permeability of still air to water vapour in the EN 15026 and HAMSTAD benchmarks, kg/(m s Pa): δ₀ = 26.1e-6/(R_v·T).
#[inline]
pub fn vapour_permeability_en15026_s(temperature_k: f64) -> f64 {
    26.1e-6 / (VAPOUR_GAS_J_KGK * temperature_k)
}

/// Permeability of still air to water vapour as EN ISO 13788:2012 rounds it for hand reckoning, kg/(m s Pa).
pub const VAPOUR_PERMEABILITY_ISO13788_S: f64 = 2.0e-10;

/// Diffusivity of water vapour in still air, m²/s: [`vapour_permeability_s`] times R_v·T. 2.50e-5 at 10 °C, where Massman (1998) gives 2.32e-5.
#[inline]
pub fn vapour_diffusivity_m2_s(temperature_k: f64, pressure_pa: f64) -> f64 {
    vapour_permeability_s(temperature_k, pressure_pa) * VAPOUR_GAS_J_KGK * temperature_k
}

/// Diffusivity of carbon dioxide in still air, m²/s.
///
/// D = 1.38e-5·(T/273.15)^1.75·(101325/p). The value at 0 °C is Massman's (Atmospheric Environment 32 (1998) 1111: 1.381e-5 m²/s); the exponent 1.75 is
/// Fuller, Schettler and Giddings'. Range: −20 to 60 °C, 5 %.
#[inline]
pub fn co2_diffusivity_m2_s(temperature_k: f64, pressure_pa: f64) -> f64 {
    1.38e-5 * pow(temperature_k / ZERO_CELSIUS_K, 1.75) * (STANDARD_ATMOSPHERE_PA / pressure_pa)
}
