//! Maturity. Sources: Arrhenius as in ASTM C1074; Freiesleben Hansen and Pedersen, Nordisk Betong 1 (1977) 21; Saul, Magazine of Concrete Research 2 (1951) 127; Bažant and Najjar,
//! Materials and Structures 5 (1972) 3 (formulae, from memory). Numbers: *computed apart*; limit 0.1 %.

use physics::constants::kelvin;
use physics::hydration::{activation_cold_j_mol, drying_factor, equivalent_age_factor, nurse_saul_factor};

use super::near;

#[test]
fn equivalent_age() {
    let table = [
        (33_500.0, [0.366, 0.477, 0.556, 0.615, 0.788, 1.259, 1.574]),
        (40_000.0, [0.301, 0.413, 0.496, 0.560, 0.752, 1.317, 1.718]),
        (45_000.0, [0.259, 0.370, 0.455, 0.521, 0.726, 1.363, 1.839]),
    ];
    for (activation, row) in table {
        for (t_c, factor) in [0.0, 5.0, 8.0, 10.0, 15.0, 25.0, 30.0].iter().zip(row) {
            near("factor", equivalent_age_factor(activation, kelvin(*t_c)), factor, 6e-4);
        }
    }
    near("28 days at 10 °C (days at 20 °C)", 28.0 * equivalent_age_factor(40_000.0, kelvin(10.0)), 15.68, 0.01);
    assert_eq!(equivalent_age_factor(40_000.0, kelvin(20.0)).to_bits(), 1.0_f64.to_bits());
}

#[test]
fn activation_in_the_cold() {
    let factor = |t_c| equivalent_age_factor(activation_cold_j_mol(kelvin(t_c)), kelvin(t_c));
    for (t_c, expected) in [(0.0, 0.151), (5.0, 0.2926), (10.0, 0.497), (15.0, 0.748)] {
        near("factor", factor(t_c), expected, 6e-4);
    }
}

#[test]
fn nurse_saul() {
    near("28 days at 10 °C (days at 20 °C)", 28.0 * nurse_saul_factor(kelvin(10.0)), 18.67, 0.01);
    near("5 °C", nurse_saul_factor(kelvin(5.0)), 0.5, 1e-12);
    assert_eq!(nurse_saul_factor(kelvin(-12.0)).to_bits(), 0.0_f64.to_bits());
}

#[test]
fn drying() {
    for (humidity, factor) in [(1.0, 1.0), (0.95, 0.981), (0.9, 0.760), (0.8, 0.165), (0.7, 0.038)] {
        near("factor", drying_factor(humidity), factor, 6e-4);
    }
}
