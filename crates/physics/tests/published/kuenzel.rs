//! Moisture functions from few data. Source: Künzel, Simultaneous heat and moisture transport in building components, 1995 (formulae, from memory). Units of absorption
//! from EN 998-1 and EN 1015-18. Numbers: *exact* arithmetic of the formulae, *computed apart*.

use physics::moisture::{
    Kuenzel, absorbed_kg_m2, absorption_from_per_h05, absorption_from_per_min05, kuenzel_diffusivity_m2_s, kuenzel_flux_potential_kg_ms,
};

use super::near;

/// w_80 5, w_f 250: b = 0.8·245/195. *Exact*.
#[test]
fn retention() {
    let curve = Kuenzel::new(5.0, 250.0).unwrap();
    near("b", curve.b(), 1.005_128_205, 5e-10);
    near("water at 80 % (kg/m³)", curve.water_kg_m3(0.8), 5.0, 1e-12);
    near("water at 100 % (kg/m³)", curve.water_kg_m3(1.0), 250.0, 1e-9);
    near("inverse", curve.humidity(curve.water_kg_m3(0.93)), 0.93, 1e-12);
    assert!(Kuenzel::new(200.0, 250.0).is_err());
}

/// A 0.15, w_f 250: 1.368e-6 m²/s full, a thousandth of it dry. *Exact*.
#[test]
fn diffusivity() {
    near("full (1e-6 m²/s)", 1e6 * kuenzel_diffusivity_m2_s(0.15, 250.0, 250.0), 1.368, 1e-12);
    near("dry (1e-9 m²/s)", 1e9 * kuenzel_diffusivity_m2_s(0.15, 250.0, 0.0), 1.368, 1e-12);
}

/// The flux potential is the integral of the diffusivity. Limit: Simpson's rule over 1,000 strips.
#[test]
fn flux_potential_is_the_integral() {
    let strips = 1000;
    let width = 180.0 / f64::from(strips);
    let at = |i: i32| kuenzel_diffusivity_m2_s(0.15, 250.0, f64::from(i) * width);
    let sum: f64 = (0..strips).step_by(2).map(|i| at(i) + 4.0 * at(i + 1) + at(i + 2)).sum::<f64>() * width / 3.0;
    near("potential", kuenzel_flux_potential_kg_ms(0.15, 250.0, 180.0) / sum, 1.0, 1e-9);
}

/// EN 998-1 classes: W1 0.40 and W2 0.20 kg/(m² min^½). *Exact*.
#[test]
fn units_of_absorption() {
    near("W1", absorption_from_per_min05(0.40), 0.05164, 5e-6);
    near("W2", absorption_from_per_min05(0.20), 0.02582, 5e-6);
    near("1.5 kg/(m² min^½)", absorption_from_per_min05(1.5), 0.19365, 5e-6);
    near("60 kg/(m² h^½)", absorption_from_per_h05(60.0), 1.0, 1e-15);
    near("A 0.02 for a day (kg/m²)", absorbed_kg_m2(0.02, 86_400.0), 5.879, 5e-4);
}
