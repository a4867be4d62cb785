//! The cloth that freezes: how long it takes, what it gives back when it thaws, and how books close behind it.
#![allow(clippy::unwrap_used, clippy::expect_used)]
mod common;

use std::sync::Arc;

use common::*;
use curing::kernel::{Cloth, Column, FaceCondition, Settings};
use curing::{Action, Bench, Layer, MaterialTables, Numerics};

const FUSION_J_KG: f64 = 333_400.0;
const WATER_J_KGK: f64 = 4_187.0;

/// A soaked cloth that hangs free of the wall, in air without vapour exchange.
fn cloth(outer_w_m2k: f64, outer_s_m: f64) -> Cloth {
    Cloth {
        gap_w_m2k: 0.0,
        gap_s_m: 0.0,
        gap_emissivity: 0.0,
        outer_w_m2k,
        outer_s_m,
        outer_emissivity: 0.0,
        longwave_w_m2: 0.0,
        absorbed_w_m2: 0.0,
        dry_heat_j_m2k: 400.0,
        hygroscopic_kg_m2: 0.06,
        holds_kg_m2: 0.9,
    }
}

fn column(freezing: bool) -> Column<1> {
    let stone = MaterialTables::from_moisture(&sandstone(0.3).masonry).unwrap();
    let layer = Layer { material: Arc::new(stone), widths_m: vec![2e-3; 20], carbonation: None };
    let settings = Settings { tolerance_y: 1e-3, tolerance_k: 1e-3, freezing, ..Settings::default() };
    let mut column = Column::new(vec![layer], 1, settings).unwrap();
    column.set_uniform(0, 278.15, 1e5);
    column.hang(0, 400.0, 0.06, 0.9, 278.15);
    column
}

fn air(celsius: f64, cloth: Cloth, vapour_pa: f64) -> [FaceCondition; 1] {
    [FaceCondition { cloth: Some(cloth), ..FaceCondition::film(celsius + 273.15, vapour_pa, 0.0, 0.0) }]
}

fn hold(column: &mut Column<1>, outer: &[FaceCondition; 1], steps: usize, step_s: f64) {
    for _ in 0..steps {
        assert!(column.advance(&[true], step_s, &[step_s], &[FaceCondition::sealed()], outer)[0].is_none());
    }
}

/// Exact solution of a thin body in a film: it cools to 0 °C in (C/h)·ln(ΔT₁/ΔT₀), and its free water then freezes at the rate h·ΔT, to the half of the
/// fifth of a kelvin in which it freezes. Heat capacity, film and latent heat are given, so nothing is fitted.
#[test]
fn a_soaked_cloth_freezes_in_the_time_its_heat_takes() {
    let film = 4.0;
    let capacity = 400.0 + 0.9 * WATER_J_KGK;
    let cools_s = capacity / film * libm::log(10.0 / 5.0);
    let freezes_s = 0.84 * FUSION_J_KG / (film * 4.9);
    let mut column = column(true);
    let frost = air(-5.0, cloth(film, 0.0), 300.0);
    let mut half_frozen_s = 0.0;
    let step_s = 60.0;
    for step in 1..1000 {
        hold(&mut column, &frost, 1, step_s);
        if column.cloth_ice_kg_m2(0) >= 0.42 {
            half_frozen_s = f64::from(step) * step_s;
            break;
        }
    }
    let truth_s = cools_s + 0.5 * freezes_s;
    println!("half frozen after {half_frozen_s} s, exact {truth_s:.0} s");
    assert!((half_frozen_s / truth_s - 1.0).abs() < 0.02, "{half_frozen_s} {truth_s}");
    assert!((column.cloth(0).1 - 273.05).abs() < 0.02);
}

#[test]
fn freezing_and_thawing_gives_back_what_was() {
    let mut column = column(true);
    let before = column.contents(0);
    hold(&mut column, &air(-8.0, cloth(10.0, 0.0), 300.0), 48, 3600.0);
    assert!((column.cloth_ice_kg_m2(0) - 0.84).abs() < 1e-9 && column.cloth(0).1 < 273.15 - 7.0);
    hold(&mut column, &air(5.0, cloth(10.0, 0.0), 600.0), 48, 3600.0);
    assert_eq!(column.cloth_ice_kg_m2(0), 0.0);
    let (after, balance) = (column.contents(0), column.balance(0));
    assert!(
        (after.water_kg_m2 - before.water_kg_m2).abs() < 1e-9 && (after.energy_j_m2 - before.energy_j_m2).abs() < 5.0,
        "{before:?} {after:?}"
    );
    assert!(balance.energy.residual.abs() <= 1e-8 * balance.energy.moved, "{balance:?}");
}

/// Without its switch nothing freezes: the same cloth is undercooled.
#[test]
fn the_switch_keeps_the_cloth_liquid() {
    let mut column = column(false);
    hold(&mut column, &air(-8.0, cloth(10.0, 0.0), 300.0), 48, 3600.0);
    assert_eq!(column.cloth_ice_kg_m2(0), 0.0);
    assert!((column.cloth(0).1 - 265.15).abs() < 0.1);
}

/// Over ice: at −8 °C water's pressure is 335 Pa and ice's 310 Pa (WMO-No. 8, from memory). In air at 320 Pa a frozen cloth gathers hoar, an undercooled one
/// loses water.
#[test]
fn hoar_grows_on_a_frozen_cloth() {
    let gained = |freezing: bool| {
        let mut column = column(freezing);
        hold(&mut column, &air(-8.0, cloth(10.0, 0.0), 320.0), 48, 3600.0);
        let before = column.cloth(0).0;
        hold(&mut column, &air(-8.0, cloth(10.0, 7e-8), 320.0), 48, 3600.0);
        let balance = column.balance(0);
        assert!(balance.water.residual.abs() <= 1e-8 * balance.water.moved && balance.energy.residual.abs() <= 1e-8 * balance.energy.moved);
        column.cloth(0).0 - before
    };
    assert!(gained(true) > 0.0 && gained(false) < 0.0);
}

/// A bench freezes unless it is told not to; a winter behind wet hessian closes its books to 1e-8 of what moved.
#[test]
fn a_bench_freezes_behind_wet_hessian() {
    assert!(Numerics::default().settings.freezing);
    let mut bench = Bench::new(&sandstone(0.4), &[scud(), straightening(12e-3)], changing(71, 3000, -2.0, 2.0), &[0, 700, 1400]).unwrap();
    for hour in 0..1000_usize {
        for member in 0..3 {
            if hour == 20 {
                bench.act(member, Action::Throw).unwrap();
                bench.act(member, Action::Hang(hessian(0.15))).unwrap();
            }
            if hour == 200 {
                bench.act(member, Action::Throw).unwrap();
            }
            if hour > 20 && hour % 12 == 0 {
                bench.act(member, Action::Wet(0.9)).unwrap();
            }
        }
        bench.advance(1);
    }
    for member in 0..3 {
        assert!(bench.failed(member).is_none(), "{}", bench.failed(member).unwrap());
        let books = bench.balance(member);
        for (what, closure) in [("water", books.water), ("carbon", books.carbon), ("energy", books.energy)] {
            assert!(closure.residual.abs() <= 1e-8 * closure.moved, "{what}: {closure:?}");
        }
    }
}
