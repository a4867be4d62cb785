//! Freezing in pores. Sources: Brun, Lallemand, Quinson and Eyraud, Thermochimica Acta 21 (1977) 59 (formula, from memory); IAPWS R10-06 for ice. Numbers: *computed apart*.

use physics::PhysicsError;
use physics::constants::celsius;
use physics::frost::{CLOSED_VESSEL_SATURATION, freezing_heat_j_m2, freezing_point_k, pore_depression_k, saturation};
use physics::water::surface_tension_n_m;

use super::near;

#[test]
fn depression_in_pores() {
    for (radius_nm, depression) in [(10.0, 6.858), (50.0, 1.308), (100.0, 0.650), (1000.0, 0.0647)] {
        near("depression (K)", pore_depression_k(radius_nm * 1e-9).unwrap(), depression, 6e-4);
    }
    assert!(matches!(pore_depression_k(0.5e-9), Err(PhysicsError::OutOfRange { .. })));
}

#[test]
fn saturation_and_room_for_ice() {
    near("saturation", saturation(240.0, 0.30), 0.80, 1e-15);
    near("closed vessel", CLOSED_VESSEL_SATURATION, 0.917, 5e-4);
    near("expansion", 1.0 / CLOSED_VESSEL_SATURATION - 1.0, 0.0905, 5e-4);
}

/// 20 mm of coat with 250 kg/m³ of water: 1.67 MJ/m². *Computed apart* with 334 kJ/kg.
#[test]
fn heat_of_freezing() {
    near("heat (MJ/m²)", freezing_heat_j_m2(0.020 * 250.0) / 1e6, 1.67, 0.005);
}

/// The suction law against Brun's pores: air-dried water behind a meniscus of 100 nm (2σ/r) freezes at −1.2 °C, about twice the depression of a full pore of that radius, since the tension
/// of water against air is about twice that against ice (0.0757 and 0.03 N/m). *Computed here*, for the order of magnitude.
#[test]
fn suction_lowers_the_freezing_point() {
    let suction = 2.0 * surface_tension_n_m(273.15) / 100e-9;
    let ratio = -celsius(freezing_point_k(suction)) / pore_depression_k(100e-9).unwrap();
    assert!((1.5..2.5).contains(&ratio), "{ratio}");
}
