//! Moving fronts: Stefan's (one phase, a boundary layer that fills an immobile store) and Neumann's (two phases, freezing).

use core::f64::consts::PI;

use crate::PhysicsError;
use crate::error::positive;
use crate::numbers::{bisect, erf, erfc, exp};

/// The constant Λ of Stefan's front X = 2·Λ·√(D·t).
///
/// √π·Λ·exp(Λ²)·erf(Λ) = r, r the driving concentration over the capacity of the immobile store. Crank, The Mathematics of Diffusion, 2nd edition, 13.2.
/// For small r, Λ → √(r/2). Range: 0 < r ≤ 1e6.
///
/// # Errors
/// A ratio of zero or less, or above 1e6.
pub fn stefan_front(ratio: f64) -> Result<f64, PhysicsError> {
    let ratio = positive("Stefan's front", "driving concentration over capacity", ratio)?;
    bisect("Stefan's front", "(no unit)", 0.0, 5.0, |l| PI.sqrt() * l * exp(l * l) * erf(l) - ratio)
}

/// A half-space of liquid that freezes from its face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Freezing {
    /// Temperature the face is held at, K.
    pub face_k: f64,
    /// Temperature of freezing, K.
    pub freezing_k: f64,
    /// Temperature at the start, K.
    pub start_k: f64,
    /// Heat conductivity frozen and unfrozen, W/(m K).
    pub conductivity_w_mk: (f64, f64),
    /// Heat capacity frozen and unfrozen, J/(m³ K).
    pub heat_j_m3k: (f64, f64),
    /// Heat set free by freezing, J/m³.
    pub latent_j_m3: f64,
}

/// The constant Λ of Neumann's freezing front X = 2·Λ·√(a_f·t), a_f the diffusivity frozen.
///
/// exp(−Λ²)/erf(Λ) − (λ_u/λ_f)·√(a_f/a_u)·(T_0 − T_m)/(T_m − T_s)·exp(−Λ²·a_f/a_u)/erfc(Λ·√(a_f/a_u)) = Λ·√π·L/(C_f·(T_m − T_s)).
/// Carslaw and Jaeger, Conduction of Heat in Solids, 2nd edition, 11.2. Range: face below freezing, start at or above it, no change of volume.
///
/// # Errors
/// A face not below freezing, a start below it, or a property of zero or less.
pub fn freezing_front(case: &Freezing) -> Result<f64, PhysicsError> {
    let law = "Neumann's freezing front";
    let drop_k = positive(law, "freezing temperature less the face's (K)", case.freezing_k - case.face_k)?;
    let over_k = crate::error::not_negative(law, "starting temperature less that of freezing (K)", case.start_k - case.freezing_k)?;
    for (name, found) in [
        ("heat conductivity frozen (W/m K)", case.conductivity_w_mk.0),
        ("heat conductivity unfrozen (W/m K)", case.conductivity_w_mk.1),
        ("heat capacity frozen (J/m³K)", case.heat_j_m3k.0),
        ("heat capacity unfrozen (J/m³K)", case.heat_j_m3k.1),
        ("latent heat (J/m³)", case.latent_j_m3),
    ] {
        positive(law, name, found)?;
    }
    let frozen_m2_s = case.conductivity_w_mk.0 / case.heat_j_m3k.0;
    let unfrozen_m2_s = case.conductivity_w_mk.1 / case.heat_j_m3k.1;
    let nu = (frozen_m2_s / unfrozen_m2_s).sqrt();
    let share = case.conductivity_w_mk.1 / case.conductivity_w_mk.0 * nu * over_k / drop_k;
    let load = PI.sqrt() * case.latent_j_m3 / (case.heat_j_m3k.0 * drop_k);
    bisect(law, "(no unit)", 1e-12, 5.0, |l| {
        let unfrozen = if over_k > 0.0 { share / crate::numbers::erfc_scaled(l * nu) } else { 0.0 };
        exp(-l * l) / erf(l) - unfrozen - load * l
    })
}

impl Freezing {
    /// Temperature at a depth and a time, K, given the constant Λ of [`freezing_front`].
    ///
    /// Frozen: T_s + (T_m − T_s)·erf(η)/erf(Λ), η = x/(2·√(a_f·t)); unfrozen: T_0 − (T_0 − T_m)·erfc(η·ν)/erfc(Λ·ν), ν = √(a_f/a_u).
    pub fn temperature_k(&self, front: f64, depth_m: f64, time_s: f64) -> f64 {
        let frozen_m2_s = self.conductivity_w_mk.0 / self.heat_j_m3k.0;
        let nu = (frozen_m2_s * self.heat_j_m3k.1 / self.conductivity_w_mk.1).sqrt();
        let eta = depth_m / (2.0 * (frozen_m2_s * time_s).sqrt());
        if eta < front {
            self.face_k + (self.freezing_k - self.face_k) * erf(eta) / erf(front)
        } else {
            self.start_k - (self.start_k - self.freezing_k) * erfc(eta * nu) / erfc(front * nu)
        }
    }
}
