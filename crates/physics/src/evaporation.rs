//! Water leaving a wet surface: two published rates for fresh concrete slabs, and the film law that suits a wall. The first two were made
//! for slabs at the temperature of their surface; a wall in shade cools as it dries, which only the film law with its heat balance knows.

use crate::air::saturation_iapws_pa;
use crate::constants::celsius;

/// Evaporation by Uno's formula, kg/(m² s).
///
/// E = 5·((T_c + 18)^2.5 − r·(T_a + 18)^2.5)·(V + 4)·1e-6 kg/(m² h), T in °C, V in km/h. Uno, ACI Materials Journal 95 (1998) 365.
/// `wind_m_s` 0.5 m above the surface. Range: 10 to 35 °C, wind to 11 m/s; negative where dew would form, not a number below −18 °C.
pub fn uno_kg_m2s(surface_k: f64, air_k: f64, humidity: f64, wind_m_s: f64) -> f64 {
    let drive = to_two_and_a_half(celsius(surface_k) + 18.0) - humidity * to_two_and_a_half(celsius(air_k) + 18.0);
    5e-6 * drive * (3.6 * wind_m_s + 4.0) / 3600.0
}

/// x to the power 2.5; not a number for a negative one.
fn to_two_and_a_half(x: f64) -> f64 {
    x * x * x.sqrt()
}

/// Evaporation by Menzel's formula, kg/(m² s), on which the chart of ACI 305 rests.
///
/// E = 0.315·(p_sat(T_c) − r·p_sat(T_a))·(0.253 + 0.060·V) kg/(m² h), p in kPa, V in km/h. Menzel 1954, as given by Uno (1998); in the units of its
/// origin 0.44·(e₀ − e_a)·(0.253 + 0.096·V) lb/(ft² h), with e in psi and V in mph. Range: 5 to 40 °C, wind to 11 m/s.
pub fn menzel_kg_m2s(surface_k: f64, air_k: f64, humidity: f64, wind_m_s: f64) -> f64 {
    let drive_kpa = (saturation_iapws_pa(surface_k) - humidity * saturation_iapws_pa(air_k)) / 1000.0;
    0.315 * drive_kpa * (0.253 + 0.060 * 3.6 * wind_m_s) / 3600.0
}

/// Evaporation through the air film, kg/(m² s): E = β·(p_face − p_air); negative for dew.
///
/// β from [`crate::surface::vapour_film_s_m`]; the temperature of the face from [`crate::surface::Face::rest_k`].
#[inline]
pub fn film_kg_m2s(vapour_film_s_m: f64, face_pa: f64, air_pa: f64) -> f64 {
    vapour_film_s_m * (face_pa - air_pa)
}
