//! Molar masses and heats of the reactions of lime against the `chemicals` library (CRC Handbook).

use physics::constants::WATER_MOLAR_KG_MOL;
use physics::lime::{
    CALCITE_MOLAR_KG_MOL, CARBONATION_J_MOL, CO2_MOLAR_KG_MOL, PORTLANDITE_MOLAR_KG_MOL, QUICKLIME_MOLAR_KG_MOL, SLAKING_J_MOL,
};
use serde_json::json;

use super::harness::{assert_close, numbers, run};

/// Atomic weights are rounded to four or five figures.
const MOLAR_MASS: f64 = 2e-5;
/// The handbook prints heats to 0.1 kJ/mol; a reaction adds up to five of them.
const HEAT_J_MOL: f64 = 250.0;

#[test]
fn lime_agrees_with_the_handbook() {
    let asked = json!([["1305-78-8", "s"], ["1305-62-0", "s"], ["471-34-1", "s"], ["124-38-9", "g"], ["7732-18-5", "l"]]);
    let table: Vec<Vec<f64>> = run("chemistry.py", &asked).as_array().unwrap().iter().map(numbers).collect();
    let masses: Vec<f64> = table.iter().map(|row| row[0]).collect();
    let ours = [QUICKLIME_MOLAR_KG_MOL, PORTLANDITE_MOLAR_KG_MOL, CALCITE_MOLAR_KG_MOL, CO2_MOLAR_KG_MOL, WATER_MOLAR_KG_MOL];
    assert_close("molar mass", &ours, &masses, 0.0, MOLAR_MASS);
    let heat: Vec<f64> = table.iter().map(|row| row[1]).collect();
    let slaking = heat[0] + heat[4] - heat[1];
    let carbonation = heat[1] + heat[3] - heat[2] - heat[4];
    assert_close("heats of slaking and carbonation", &[SLAKING_J_MOL, CARBONATION_J_MOL], &[slaking, carbonation], HEAT_J_MOL, 0.0);
}
