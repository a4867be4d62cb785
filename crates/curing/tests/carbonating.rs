//! What carbonation does to a coat beside turning its lime: the heat it gives, the water it sets free, the pores it narrows, each against hand figures
//! from a chemistry handbook, in columns through whose faces nothing passes but carbon dioxide.
#![allow(clippy::unwrap_used, clippy::expect_used)]
mod common;

use std::sync::Arc;

use common::*;
use curing::kernel::{Carbonation, Column, FaceCondition, PoreLaw, Settings};
use curing::{Layer, MaterialTables};

/// Standard enthalpies of formation, kJ/mol (CRC Handbook of Chemistry and Physics; from memory): portlandite, carbon dioxide, calcite, liquid water.
const FORMATION_KJ_MOL: [f64; 4] = [-985.2, -393.5, -1207.6, -285.8];
/// Molar masses, g/mol, and densities, g/cm³ (the same; densities of portlandite 2.24 and calcite 2.71 from memory).
const PORTLANDITE: (f64, f64) = (74.09, 2.24);
const CALCITE: (f64, f64) = (100.09, 2.71);
const WATER_G_MOL: f64 = 18.015;
/// Specific heat of water, kJ/(kg K).
const WATER_KJ_KGK: f64 = 4.187;

const LIME_MOL_M3: f64 = 4900.0;
const POROSITY: f64 = 0.40;

fn law(narrows: bool, feeds_back: bool) -> Carbonation {
    Carbonation {
        portlandite_mol_m3: LIME_MOL_M3,
        porosity: POROSITY,
        pores: PoreLaw::Power { factor: 1.0, porosity: 2.74, air: 0.0 },
        rate_per_s: 1e3,
        activation_j_mol: 0.0,
        humidity_ramp: (0.0, 0.0),
        film_saturation: 0.0,
        narrows,
        feeds_back,
    }
}

fn column(law: Carbonation, thickness_m: f64, cells: usize) -> Column<1> {
    let material = MaterialTables::from_moisture(&scud().mortar.fresh).unwrap();
    let widths_m = vec![thickness_m / cells as f64; cells];
    let layer = Layer { material: Arc::new(material), widths_m, carbonation: Some(law) };
    let settings = Settings { tolerance_y: 1e-6, tolerance_k: 1e-6, ..Settings::default() };
    let mut column = Column::new(vec![layer], 1, settings).unwrap();
    column.set_uniform(0, 288.15, 5e6);
    column
}

/// Nothing passes but carbon dioxide, of outdoor air, through a film.
fn breathes(film_m_s: f64) -> FaceCondition {
    FaceCondition { co2_mol_m3: 0.018, co2_m_s: film_m_s, ..FaceCondition::sealed() }
}

/// A coat of 5 mm that takes up air slowly and loses neither heat nor water: each mole turned gives 114.7 kJ and 18.0 g of water, which is what its
/// temperature and its water say.
#[test]
fn a_coat_that_loses_nothing_warms_by_the_heat_of_the_reaction_and_keeps_its_water() {
    let [portlandite, gas, calcite, water] = FORMATION_KJ_MOL;
    let heat_kj_mol = portlandite + gas - calcite - water;
    assert!((heat_kj_mol - 114.7).abs() < 0.05);
    let thickness_m = 5e-3;
    let mut column = column(law(true, true), thickness_m, 10);
    let before = column.contents(0);
    let was_k = column.outer_face(0).temperature_k;
    for _ in 0..24 {
        assert!(column.advance(&[true], 3600.0, &[600.0], &[FaceCondition::sealed()], &[breathes(4e-4)])[0].is_none());
    }
    let (after, books) = (column.contents(0), *column.books(0));
    let turned = before.portlandite_mol_m2 - after.portlandite_mol_m2;
    assert!(turned > 0.3 && (books.taken_up_mol_m2 / turned - 1.0).abs() < 1e-9, "carbon dioxide taken up is lime turned: {turned}");
    let freed_kg_m2 = turned * WATER_G_MOL / 1000.0;
    assert!(((after.water_kg_m2 - before.water_kg_m2) / freed_kg_m2 - 1.0).abs() < 1e-4, "{} {freed_kg_m2}", after.water_kg_m2);
    // Heat capacity by hand: dry mortar of 1650 kg/m³ at 0.85 kJ/(kg K), and its water.
    let capacity_kj_m2k = thickness_m * 1650.0 * 0.85 + 0.5 * (before.water_kg_m2 + after.water_kg_m2) * WATER_KJ_KGK;
    let warmed_k = column.outer_face(0).temperature_k - was_k;
    let by_hand_k = turned * heat_kj_mol / capacity_kj_m2k;
    println!("{turned:.3} mol/m² turned: warmer by {warmed_k:.3} K, by hand {by_hand_k:.3} K; water freed {freed_kg_m2:.4} kg/m²");
    assert!((warmed_k / by_hand_k - 1.0).abs() < 0.005, "{warmed_k} {by_hand_k}");
    assert!(column.balance(0).energy.residual.abs() < 1e-8 * books.heat_moved_j_m2.max(1.0) + 1e-5);
}

/// With the feedback switched off the same coat stays as warm and as wet as it was.
#[test]
fn without_the_feedback_it_neither_warms_nor_wets() {
    let mut column = column(law(true, false), 5e-3, 10);
    let before = column.contents(0);
    for _ in 0..24 {
        assert!(column.advance(&[true], 3600.0, &[600.0], &[FaceCondition::sealed()], &[breathes(4e-4)])[0].is_none());
    }
    let after = column.contents(0);
    assert!(before.portlandite_mol_m2 - after.portlandite_mol_m2 > 0.3);
    assert!((after.water_kg_m2 - before.water_kg_m2).abs() < 1e-12 && (column.outer_face(0).temperature_k - 288.15).abs() < 1e-9);
}

/// Calcite takes 3.86 cm³ more room a mole than portlandite (molar masses over densities), so 4900 mol/m³ narrow 40.0 % of pores to 38.1 %. Behind a sharp
/// front all lime has turned, and what is taken up grows as the root of the diffusivity there: with D as porosity to the power 2.74 it comes to
/// √(0.381/0.400)^2.74 = 0.935 of what pores that keep their width let in.
#[test]
fn calcite_narrows_the_pores_by_its_molar_volume() {
    let growth_m3_mol = (CALCITE.0 / CALCITE.1 - PORTLANDITE.0 / PORTLANDITE.1) * 1e-6;
    let narrowed = POROSITY - LIME_MOL_M3 * growth_m3_mol;
    assert!((growth_m3_mol * 1e6 - 3.86).abs() < 0.01 && (narrowed - 0.381).abs() < 1e-3);
    let by_hand = libm::pow(narrowed / POROSITY, 0.5 * 2.74);
    let taken_up = |narrows: bool| {
        let mut column = column(law(narrows, false), 20e-3, 200);
        for _ in 0..24 * 60 {
            assert!(column.advance(&[true], 3600.0, &[3600.0], &[FaceCondition::sealed()], &[breathes(10.0)])[0].is_none());
        }
        column.books(0).taken_up_mol_m2
    };
    let (narrowing, keeping) = (taken_up(true), taken_up(false));
    println!("taken up in 60 days: {narrowing:.2} of {keeping:.2} mol/m², {:.4}; by hand {by_hand:.4}", narrowing / keeping);
    assert!((narrowing / keeping / by_hand - 1.0).abs() < 0.01, "{narrowing} {keeping} {by_hand}");
}
