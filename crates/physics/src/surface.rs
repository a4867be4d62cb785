//! What passes between a face and the air, sun and sky before it: film coefficients for heat, vapour and carbon dioxide, and the
//! temperature at which a face comes to rest.

use crate::PhysicsError;
use crate::air::{air_density_kg_m3, co2_diffusivity_m2_s, saturation_pa, vapour_diffusivity_m2_s};
use crate::constants::{DRY_AIR_HEAT_J_KGK, STANDARD_ATMOSPHERE_PA, STEFAN_BOLTZMANN_W_M2K4, VAPOUR_GAS_J_KGK};
use crate::numbers::{bisect, pow};

/// Convective heat transfer coefficient of an outer face in wind, W/(m² K).
///
/// h = 4 + 4·v. EN ISO 6946:2017, Annex C. `wind_m_s` is the wind near the face, commonly 0.3 to 0.6 of the open wind at 10 m. Range: 0 to 10 m/s.
#[inline]
pub fn convective_w_m2k(wind_m_s: f64) -> f64 {
    4.0 + 4.0 * wind_m_s
}

/// Convective heat transfer coefficient indoors at a wall, heat flowing sideways, W/(m² K). EN ISO 6946:2017, Annex C.
pub const CONVECTIVE_INDOORS_W_M2K: f64 = 2.5;

/// Long-wave heat transfer coefficient about a mean temperature, W/(m² K).
///
/// h = 4·ε·σ·T³. EN ISO 6946:2017, Annex C. Range: faces within 20 K of their surroundings, 1 %.
#[inline]
pub fn radiative_w_m2k(emissivity: f64, mean_k: f64) -> f64 {
    4.0 * emissivity * STEFAN_BOLTZMANN_W_M2K4 * mean_k * mean_k * mean_k
}

/// Heat resistance of the air film at an outer face, m² K/W: 1/(4 + 4·v + 4·ε·σ·T³). EN ISO 6946:2017, Annex C.
pub fn outer_film_m2k_w(wind_m_s: f64, emissivity: f64, mean_k: f64) -> f64 {
    1.0 / (convective_w_m2k(wind_m_s) + radiative_w_m2k(emissivity, mean_k))
}

/// Vapour transfer coefficient that goes with a convective heat transfer coefficient, kg/(m² s Pa), as building physics rounds it.
///
/// β = 7e-9·h. Künzel 1995, from the Lewis relation. Range: ordinary air temperatures.
#[inline]
pub fn vapour_film_s_m(convective_w_m2k: f64) -> f64 {
    7e-9 * convective_w_m2k
}

/// The same from first principles, kg/(m² s Pa).
///
/// β = h/(ρ·c_p·R_v·T)·(D_v·ρ·c_p/λ)^(2/3), λ = 0.0242 + 7.2e-5·t W/(m K) for air: the Lewis relation with exponent 2/3 (Chilton and Colburn 1934).
/// 1.6 to 1.9 % above [`vapour_film_s_m`] between 0 and 30 °C at ordinary pressure.
pub fn vapour_film_lewis_s_m(convective_w_m2k: f64, temperature_k: f64, vapour_pa: f64, pressure_pa: f64) -> f64 {
    let conductivity_w_mk = 0.0242 + 7.2e-5 * crate::constants::celsius(temperature_k);
    let volumetric_j_m3k = air_density_kg_m3(pressure_pa, vapour_pa, temperature_k) * DRY_AIR_HEAT_J_KGK;
    let inverse_lewis = vapour_diffusivity_m2_s(temperature_k, pressure_pa) * volumetric_j_m3k / conductivity_w_mk;
    convective_w_m2k / (volumetric_j_m3k * VAPOUR_GAS_J_KGK * temperature_k) * pow(inverse_lewis, 2.0 / 3.0)
}

/// Carbon dioxide transfer coefficient that goes with a vapour transfer coefficient, m/s (on concentration in air).
///
/// k = β·R_v·T·(D_CO₂/D_v)^(2/3): the same boundary layer, with the diffusivity of carbon dioxide (Chilton and Colburn 1934).
pub fn co2_film_m_s(vapour_film_s_m: f64, temperature_k: f64) -> f64 {
    co2_film_of_m_s(vapour_film_s_m, temperature_k, co2_beside_vapour(temperature_k))
}

/// The same where [`co2_beside_vapour`] of the temperature is known already, m/s.
pub fn co2_film_of_m_s(vapour_film_s_m: f64, temperature_k: f64, beside_vapour: f64) -> f64 {
    vapour_film_s_m * VAPOUR_GAS_J_KGK * temperature_k * beside_vapour
}

/// How easily carbon dioxide passes a boundary layer beside vapour: (D_CO₂/D_v)^(2/3) (Chilton and Colburn 1934).
pub fn co2_beside_vapour(temperature_k: f64) -> f64 {
    let ratio =
        co2_diffusivity_m2_s(temperature_k, STANDARD_ATMOSPHERE_PA) / vapour_diffusivity_m2_s(temperature_k, STANDARD_ATMOSPHERE_PA);
    pow(ratio, 2.0 / 3.0)
}

/// Long-wave heat a grey face takes in, W/m²: ε·(incident − σ·T⁴), negative when it loses.
#[inline]
pub fn longwave_w_m2(emissivity: f64, incident_w_m2: f64, face_k: f64) -> f64 {
    let square = face_k * face_k;
    emissivity * (incident_w_m2 - STEFAN_BOLTZMANN_W_M2K4 * square * square)
}

/// Temperature of air that would heat a face as air and sun together do, K: T + α·I/h, the sol-air temperature (EN ISO 52016-1 and common use).
pub fn sol_air_k(air_k: f64, absorptance: f64, sun_w_m2: f64, film_w_m2k: f64) -> f64 {
    air_k + absorptance * sun_w_m2 / film_w_m2k
}

/// A face at rest between its surroundings and what is behind it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Face {
    /// Air temperature, K.
    pub air_k: f64,
    /// Vapour pressure of the air, Pa.
    pub vapour_pa: f64,
    /// Convective heat transfer coefficient, W/(m² K).
    pub convective_w_m2k: f64,
    /// Vapour transfer coefficient, kg/(m² s Pa); zero for a face that neither dries nor gathers dew.
    pub vapour_film_s_m: f64,
    /// Heat of evaporation, J/kg.
    pub latent_j_kg: f64,
    /// Relative humidity at the face, 0 to 1; 1 for a wet face.
    pub face_humidity: f64,
    /// Long-wave emissivity, 0 to 1; zero leaves radiation out.
    pub emissivity: f64,
    /// Long-wave falling on the face, W/m².
    pub longwave_w_m2: f64,
    /// Sun absorbed, W/m².
    pub sun_w_m2: f64,
    /// Heat conductance to what is behind, W/(m² K); zero for none.
    pub behind_w_m2k: f64,
    /// Temperature behind, K.
    pub behind_k: f64,
}

impl Face {
    /// Heat a face at a temperature takes in, W/m²: convection, sun, long-wave, conduction from behind, less evaporation.
    pub fn gain_w_m2(&self, face_k: f64) -> f64 {
        self.convective_w_m2k * (self.air_k - face_k)
            + self.sun_w_m2
            + longwave_w_m2(self.emissivity, self.longwave_w_m2, face_k)
            + self.behind_w_m2k * (self.behind_k - face_k)
            - self.latent_j_kg * self.evaporation_kg_m2s(face_k)
    }

    /// Water leaving the face, kg/(m² s): β·(φ·p_sat(T) − p_v); negative for dew.
    pub fn evaporation_kg_m2s(&self, face_k: f64) -> f64 {
        self.vapour_film_s_m * (self.face_humidity * saturation_pa(face_k) - self.vapour_pa)
    }

    /// Temperature at which the face gains nothing, K. For a wet face with only air before it this is its wet-bulb temperature.
    ///
    /// # Errors
    /// [`PhysicsError::NoRoot`] when no temperature between 173 and 423 K balances the face, for instance with every coefficient zero.
    pub fn rest_k(&self) -> Result<f64, PhysicsError> {
        bisect("the heat balance of a face", "K", 173.15, 423.15, |t| self.gain_w_m2(t))
    }
}

/// Temperature of a wet face with no radiation and nothing behind it, K: h·(T_a − T_s) = L·β·(p_sat(T_s) − p_v).
///
/// # Errors
/// As [`Face::rest_k`].
pub fn wet_face_k(air_k: f64, vapour_pa: f64, convective_w_m2k: f64, vapour_film_s_m: f64, latent_j_kg: f64) -> Result<f64, PhysicsError> {
    Face {
        air_k,
        vapour_pa,
        convective_w_m2k,
        vapour_film_s_m,
        latent_j_kg,
        face_humidity: 1.0,
        emissivity: 0.0,
        longwave_w_m2: 0.0,
        sun_w_m2: 0.0,
        behind_w_m2k: 0.0,
        behind_k: air_k,
    }
    .rest_k()
}
