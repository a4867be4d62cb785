//! Hydraulic set: equivalent age against published forms, water and heat against the books, and a mason's coat judged by it.
#![allow(clippy::unwrap_used, clippy::expect_used)]
mod common;

use std::sync::Arc;

use common::*;
use curing::calibration::set_law;
use curing::kernel::{Column, FaceCondition, SetLaw, Settings};
use curing::{Action, Bench, CoatModel, Criterion, Layer, MaterialTables};
use materials::HydraulicSet;

fn nhl() -> HydraulicSet {
    HydraulicSet { belite_kg_m3: 100.0, final_set_h: 30.0 }
}

fn column(law: SetLaw, freezing: bool) -> Column<1> {
    let material = MaterialTables::from_moisture(&straightening(8e-3).mortar.fresh).unwrap().setting(Some(law));
    let layer = Layer { material: Arc::new(material), widths_m: vec![1e-3; 8], carbonation: None };
    Column::new(vec![layer], 1, Settings { tolerance_y: 1e-4, tolerance_k: 1e-4, freezing, ..Settings::default() }).unwrap()
}

/// A thin wet layer held at a temperature for so many hours; gives its equivalent age, h, afterwards.
fn hold(column: &mut Column<1>, celsius: f64, suction_pa: f64, hours: usize) -> f64 {
    let held = [FaceCondition::fixed(celsius + 273.15, suction_pa)];
    for _ in 0..hours {
        assert!(column.advance(&[true], 3600.0, &[300.0], &held, &held)[0].is_none());
    }
    let ages: Vec<f64> = column.layer_ages_s(0, 0).collect();
    ages.iter().sum::<f64>() / ages.len() as f64 / 3600.0
}

/// Temperature-adjusted age of EN 1992-1-1:2004, formula (B.10) (published): t_T = Σ exp(−(4000/(273 + T) − 13.65))·Δt, which is equivalent age by
/// ASTM C1074 with an activation energy over R of 4000 K and 20 °C. The standard rounds 4000/293.15 to 13.65 (0.005 of a unit: 0.5 %).
/// Two days at 5 °C, one at 20 °C, four at 12 °C, one at 32 °C: its own formula gives the truth for this history.
#[test]
fn equivalent_age_is_that_of_en_1992() {
    let law = SetLaw { activation_j_mol: 4000.0 * 8.314_462_618, heat_j_m3: 0.0, ..set_law(&nhl()) };
    let mut column = column(law, false);
    column.set_uniform(0, 278.15, 2e3);
    let mut published_h = 0.0;
    for (celsius, days) in [(5.0, 2), (20.0, 1), (12.0, 4), (32.0, 1)] {
        published_h += libm::exp(-(4000.0 / (273.0 + celsius) - 13.65)) * 24.0 * f64::from(days);
        let ours_h = hold(&mut column, celsius, 2e3, 24 * days as usize);
        println!("{celsius} °C: {ours_h:.2} h, by the standard {published_h:.2} h");
        assert!((ours_h / published_h - 1.0).abs() < 0.01, "{ours_h} {published_h}");
    }
}

/// ASTM C1074, equivalent age with the activation energy of the calibration: 28 days at 10 °C are 15.68 days at 20 °C (worked in the house's reference
/// sheet from the standard's formula; the formula is published, the example computed).
#[test]
fn twenty_eight_days_at_10_degrees_are_sixteen_at_20() {
    let mut column = column(SetLaw { heat_j_m3: 0.0, ..set_law(&nhl()) }, false);
    column.set_uniform(0, 283.15, 2e3);
    let days = hold(&mut column, 10.0, 2e3, 24 * 28) / 24.0;
    assert!((days / 15.68 - 1.0).abs() < 0.005, "{days}");
}

/// Drying by the form of Bažant and Najjar 1972 (published): 0.760 at 90 %, 0.166 at 80 %. Frost stops it altogether.
#[test]
fn it_nearly_stands_still_when_dry_and_stops_in_frost() {
    let law = SetLaw { heat_j_m3: 0.0, binds_kg_m3: 0.0, ..set_law(&nhl()) };
    for (humidity, slowed) in [(0.90, 0.760), (0.80, 0.165)] {
        let suction_pa = curing::material::suction_of_humidity_pa(humidity, 293.15);
        let mut column = column(law, false);
        column.set_uniform(0, 293.15, suction_pa);
        let hours = hold(&mut column, 20.0, suction_pa, 100);
        assert!((hours / 100.0 - slowed).abs() < 0.002, "{humidity}: {hours}");
    }
    let mut frozen = column(law, true);
    frozen.set_uniform(0, 269.15, 1e5);
    assert_eq!(hold(&mut frozen, -4.0, 1e5, 48), 0.0);
}

/// The form's own numbers as the calibration tells them.
#[test]
fn the_degree_is_what_the_calibration_says() {
    let degree = |days: f64| set_law(&nhl()).degree(days * 86_400.0);
    assert!((degree(28.0) / degree(365.0) - 0.45).abs() < 0.01);
    assert!((degree(90.0) / degree(365.0) - 0.70).abs() < 0.01);
    assert!((degree(7.0) / degree(28.0) - 0.46).abs() < 0.01);
    assert!(degree(0.0) < 1e-6);
}

/// A sealed layer loses the water that is bound and warms by the heat of its set, and the books say so.
#[test]
fn a_sealed_layer_binds_water_and_warms() {
    let law = set_law(&nhl());
    let mut column = column(law, false);
    column.set_uniform(0, 288.15, 2e4);
    let before = column.contents(0);
    let sealed = [FaceCondition::sealed()];
    for _ in 0..24 * 28 {
        assert!(column.advance(&[true], 3600.0, &[3600.0], &sealed, &sealed)[0].is_none());
    }
    let (after, degree) = (column.contents(0), column.layer_set(0, 0));
    assert!(degree > 0.15, "{degree}");
    let bound = before.water_kg_m2 - after.water_kg_m2;
    assert!((bound / (degree * law.binds_kg_m3 * 8e-3) - 1.0).abs() < 1e-9, "{bound} {degree}");
    assert!(column.outer_face(0).temperature_k > 288.15 + 1.0);
    let books = column.balance(0);
    assert!(
        books.water.residual.abs() <= 1e-8 * books.water.moved && books.energy.residual.abs() <= 1e-8 * books.energy.moved,
        "{books:?}"
    );
}

/// Hours after throwing at which a rule was first met.
fn met_after_h(coat: CoatModel, celsius: f64, humidity: f64, wind_m_s: f64, rule: Criterion, covered: bool) -> Option<f64> {
    let mut bench = Bench::new(&sandstone(0.3), &[coat], steady(celsius, humidity, wind_m_s), &[0]).unwrap();
    until_ready(&mut bench, covered.then(|| hessian(0.15)), 10, 20, |_, _| {});
    bench.look(0).rules.iter().find(|look| look.criterion == rule).and_then(|look| look.met_after_h)
}

/// A coat of NHL 3.5 on a dampish wall behind wet hessian: firm by its final set (30 h at 20 °C) and hard enough by 4 days at 20 °C, both stretched by the
/// cold as equivalent age has it; the same mortar without its set waits for the air.
#[test]
fn a_hydraulic_coat_is_judged_by_its_set() {
    let with = || of_catalogue("nhl-3-5", 2.0, 12e-3);
    let without = || {
        let mut coat = with();
        coat.mortar.set = None;
        coat
    };
    for (celsius, speed) in [(15.0, 0.752), (8.0, 0.496)] {
        let firm = met_after_h(with(), celsius, 0.9, 1.0, Criterion::Firm, true).unwrap();
        let hard = met_after_h(with(), celsius, 0.9, 1.0, Criterion::Carbonated, true).unwrap();
        let by_air = met_after_h(without(), celsius, 0.9, 1.0, Criterion::Carbonated, true);
        println!("{celsius} °C: firm after {firm} h, set for the next after {hard} h, by the air alone {by_air:?}");
        assert!(firm <= 30.0 / speed * 1.1 + 1.0, "{firm}");
        assert!((hard / (96.0 / speed) - 1.0).abs() < 0.10, "{hard}");
        assert!(by_air.is_none_or(|hours| hours > hard));
    }
}

/// Left bare in hot wind it dries before it sets: its set stands still, and it is no further on after a fortnight than behind wet hessian in days.
#[test]
fn a_hydraulic_coat_that_dries_does_not_set() {
    let set = |covered: bool| {
        let mut bench = Bench::new(&sandstone(0.05), &[of_catalogue("nhl-3-5", 2.0, 10e-3)], steady(26.0, 0.45, 5.0), &[0]).unwrap();
        bench.act(0, Action::Throw).unwrap();
        if covered {
            bench.act(0, Action::Hang(hessian(0.15))).unwrap();
        }
        for _ in 0..24 * 14 / 4 {
            if covered {
                bench.act(0, Action::Wet(0.9)).unwrap();
            }
            bench.advance(4);
        }
        bench.look(0).coats[0].set
    };
    let (bare, tended) = (set(false), set(true));
    println!("after a fortnight: bare {bare:.3}, tended {tended:.3}");
    assert!(bare < 0.5 * tended);
}
