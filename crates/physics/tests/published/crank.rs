//! Diffusion with an immobile store. Source: Crank, The Mathematics of Diffusion, 2nd edition, 13.2. Numbers: *exact solution*, the root found apart with SciPy.

use physics::PhysicsError;
use physics::exact::{slab_profile, stefan_front};
use physics::moisture::ponding_bounds_s;

use super::near;

/// Limit: the figures given. For small ratios Λ → √(r/2), the quasi-steady law: 1.6 % above at 0.1, 2e-4 % at 1e-5.
#[test]
fn stefan() {
    for (ratio, front) in [(1.0, 0.62006), (0.1, 0.220_016), (0.01, 0.070_593_3)] {
        near("Λ", stefan_front(ratio).unwrap(), front, 6e-6);
    }
    near("quasi-steady at 0.1", (0.1_f64 / 2.0).sqrt() / stefan_front(0.1).unwrap(), 1.016, 6e-4);
    near("quasi-steady at 1e-5", (1e-5_f64 / 2.0).sqrt() / stefan_front(1e-5).unwrap(), 1.0, 2e-6);
    assert!(matches!(stefan_front(0.0), Err(PhysicsError::OutOfRange { .. })));
}

/// A time too short for the series is refused, not summed wrongly.
#[test]
fn slab_refuses_the_first_instant() {
    assert!(matches!(slab_profile(0.1, 0.2, 6e-10, 1.0, 80.0, (20.0, 30.0)), Err(PhysicsError::OutOfRange { .. })));
}

/// Ponding under a steady flux: A²/(2i²) for a sharp front (Green and Ampt), (π²/16)·(A/i)² for a constant diffusivity. *Exact solution* of both ends: for constant D,
/// A = 2Δw·√(D/π) and the face reaches Δw after t = π·D·Δw²/(4·i²) = (π²/16)·(A/i)².
#[test]
fn ponding() {
    let (diffusivity, range, rain) = (1e-8_f64, 200.0, 2e-4);
    let absorption = 2.0 * range * (diffusivity / core::f64::consts::PI).sqrt();
    let linear_s = core::f64::consts::PI * diffusivity * range * range / (4.0 * rain * rain);
    let (first, last) = ponding_bounds_s(absorption, rain).unwrap();
    near("last (s)", last / linear_s, 1.0, 1e-14);
    near("first over last", first / last, 0.5 / 0.616_850_275, 1e-9);
    assert!(matches!(ponding_bounds_s(0.1, 0.0), Err(PhysicsError::OutOfRange { .. })));
}
