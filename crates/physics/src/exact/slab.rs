//! Diffusion in a slab between two faces held at fixed values: the exact series, as for HAMSTAD benchmark 2 without its films.

use core::f64::consts::PI;

use crate::PhysicsError;
use crate::error::positive;
use crate::numbers::{exp, sin};

/// Terms beyond which exp(−n²…) is below the last bit at the smallest time allowed.
const TERMS: usize = 4000;

/// Value at a depth in a slab that began uniform, faces held from then on.
///
/// w = w_l + (w_r − w_l)·x/X + Σ b_n·sin(nπx/X)·exp(−D·(nπ/X)²·t), b_n = (2/(nπ))·((w_0 − w_l) − (−1)ⁿ·(w_0 − w_r)). Crank, The Mathematics of Diffusion,
/// 2nd edition, 4.3.1. Range: D·t/X² ≥ 1e-6; 0 ≤ x ≤ X.
///
/// # Errors
/// A thickness, diffusivity or time of zero or less, or a D·t/X² below 1e-6, where the series converges too slowly.
pub fn slab_profile(
    depth_m: f64,
    thickness_m: f64,
    diffusivity_m2_s: f64,
    time_s: f64,
    start: f64,
    faces: (f64, f64),
) -> Result<f64, PhysicsError> {
    let fourier = fourier(thickness_m, diffusivity_m2_s, time_s)?;
    let share = depth_m / thickness_m;
    let mut sum = faces.0 + (faces.1 - faces.0) * share;
    for n in 1..=TERMS {
        let order = n as f64 * PI;
        let decay = exp(-order * order * fourier);
        if decay < 1e-300 {
            break;
        }
        sum += coefficient(n, start, faces) * sin(order * share) * decay;
    }
    Ok(sum)
}

/// Mean over the slab of [`slab_profile`]: the even terms of the series vanish, the odd ones give b_n·2/(nπ).
///
/// # Errors
/// As [`slab_profile`].
pub fn slab_mean(thickness_m: f64, diffusivity_m2_s: f64, time_s: f64, start: f64, faces: (f64, f64)) -> Result<f64, PhysicsError> {
    let fourier = fourier(thickness_m, diffusivity_m2_s, time_s)?;
    let mut sum = 0.5 * (faces.0 + faces.1);
    for n in (1..=TERMS).step_by(2) {
        let order = n as f64 * PI;
        sum += coefficient(n, start, faces) * 2.0 / order * exp(-order * order * fourier);
    }
    Ok(sum)
}

fn fourier(thickness_m: f64, diffusivity_m2_s: f64, time_s: f64) -> Result<f64, PhysicsError> {
    let law = "diffusion in a slab";
    let thickness = positive(law, "thickness (m)", thickness_m)?;
    let number = positive(law, "diffusivity (m²/s)", diffusivity_m2_s)? * positive(law, "time (s)", time_s)? / (thickness * thickness);
    if number >= 1e-6 {
        Ok(number)
    } else {
        Err(PhysicsError::OutOfRange { law, quantity: "diffusivity × time / thickness²", found: number, allowed: "1e-6 or more" })
    }
}

fn coefficient(n: usize, start: f64, faces: (f64, f64)) -> f64 {
    let sign = if n.is_multiple_of(2) { 1.0 } else { -1.0 };
    2.0 / (n as f64 * PI) * ((start - faces.0) - sign * (start - faces.1))
}
