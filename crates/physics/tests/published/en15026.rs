//! The material functions of EN 15026:2007, Annex A. The constants agree digit for digit with published code; the standard itself was not
//! at hand. Numbers: *computed apart* with NumPy. The step itself is checked where it is solved.

use physics::air::suction_of_humidity_pa;
use physics::constants::kelvin;
use physics::en15026::{conductivity_s, heat_conductivity_w_mk, suction_pa, vapour_permeability_s, water_kg_m3};
use physics::moisture::VanGenuchten;

use super::near;

/// Limit: the decimals given; 1e-4 of the suction, because the gas constant of vapour was rounded to 461.5 there.
#[test]
fn retention() {
    let start = suction_of_humidity_pa(0.5, kelvin(20.0)).unwrap();
    let face = suction_of_humidity_pa(0.95, kelvin(30.0)).unwrap();
    near("suction at the start (Pa)", start, 9.3775e7, 1e-4 * 9.3775e7);
    near("suction at the face (Pa)", face, 7.1761e6, 1e-4 * 7.1761e6);
    near("water at the start (kg/m³)", water_kg_m3(start), 42.943, 2e-3);
    near("water at the face (kg/m³)", water_kg_m3(face), 128.299, 2e-3);
    near("water at 80 %, 20 °C (kg/m³)", water_kg_m3(suction_of_humidity_pa(0.8, kelvin(20.0)).unwrap()), 79.257, 3e-3);
}

/// The retention is van Genuchten's with a 8e-8 per Pa and n 1.6; the two must agree. *Exact*.
#[test]
fn retention_is_van_genuchten() {
    let curve = VanGenuchten::new(146.0, 8e-8, 1.6).unwrap();
    for suction in [0.0, 1e3, 1e6, 7.1761e6, 9.3775e7, 1e9] {
        near("water (kg/m³)", curve.water_kg_m3(suction), water_kg_m3(suction), 1e-12);
    }
    near("inverse (Pa)", curve.suction_pa(80.0).unwrap(), suction_pa(80.0).unwrap(), 1e-6);
}

/// Limit: the figures given.
#[test]
fn transport() {
    let conductivity =
        [(20.0, 2.683e-20), (42.943, 8.429e-19), (73.0, 8.887e-18), (100.0, 4.839e-17), (128.299, 2.072e-16), (146.0, 1.648e-15)];
    for (water, expected) in conductivity {
        near("liquid conductivity (s)", conductivity_s(water), expected, 6e-4 * expected);
    }
    for (water, expected) in [(42.943, 9.107e-13), (100.0, 5.557e-13), (128.299, 2.319e-13)] {
        near("vapour permeability (s)", vapour_permeability_s(water, kelvin(20.0)), expected, 3e-4 * expected);
    }
    near("heat conductivity (W/mK)", heat_conductivity_w_mk(100.0), 3.08, 1e-12);
}
