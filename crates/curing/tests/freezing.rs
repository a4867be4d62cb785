//! Pore water that freezes: Neumann's front, the plateau of a wet coat, closed books whatever the frost, and a wall that is itself again after a thaw.
#![allow(clippy::unwrap_used, clippy::expect_used)]
mod common;

use std::sync::Arc;

use common::*;
use curing::kernel::{Column, FaceCondition, Layer, Settings};
use curing::{Action, Bench, Function, Liquid, MaterialFunctions, MaterialTables, Numerics, VapourInAir};
use physics::exact::{Freezing, freezing_front};
use proptest::prelude::*;

const WATER_KG_M3: f64 = 300.0;
const DRY_J_M3K: f64 = 1.5e6;
const CONDUCTIVITY_W_MK: f64 = 1.2;

/// Settings that solve each step tightly.
fn tight(freezing: bool) -> Settings {
    Settings { tolerance_y: 1e-4, tolerance_k: 1e-4, freezing, ..Settings::default() }
}

/// A material whose pores are nearly all of one size, so that its water freezes within a hundredth of a kelvin; nothing moves in it but heat.
fn one_pore() -> Arc<MaterialTables> {
    let constant = |value: f64| -> Function { Box::new(move |_| value) };
    let functions = MaterialFunctions {
        name: "of one pore".to_owned(),
        water: Box::new(|suction| WATER_KG_M3 * libm::pow(1.0 + libm::pow(suction * 1e-4, 12.0), -11.0 / 12.0)),
        liquid: Liquid::None,
        vapour_in_air: VapourInAir::Constant(1.0),
        vapour_factor: constant(1e-30),
        dry_heat_j_m3k: DRY_J_M3K,
        heat_conductivity: constant(CONDUCTIVITY_W_MK),
    };
    Arc::new(MaterialTables::new(&functions).unwrap())
}

/// Ice in the column, kg/m².
fn ice_kg_m2(column: &Column<1>) -> f64 {
    column.profile(0).iter().map(|seen| seen.ice_kg_m3 * seen.width_m).sum()
}

/// Front and temperatures of a half-space that starts at +4 °C and whose face is held at −6 °C, against Neumann's solution (exact; Carslaw and Jaeger
/// 11.2). Gives the greatest relative error of the front over the times seen, and of temperature, K.
fn neumann(cell_m: f64, step_s: f64) -> (f64, f64) {
    let cells = (1.6 / cell_m).round() as usize;
    let layer = Layer { material: one_pore(), widths_m: vec![cell_m; cells], carbonation: None };
    let mut column = Column::<1>::new(vec![layer], 1, tight(true)).unwrap();
    column.set_uniform(0, 277.15, 1000.0);
    let water_heat = 4187.0 * WATER_KG_M3;
    let case = Freezing {
        face_k: 267.15,
        freezing_k: physics::frost::freezing_point_k(1e4),
        start_k: 277.15,
        conductivity_w_mk: (CONDUCTIVITY_W_MK, CONDUCTIVITY_W_MK),
        heat_j_m3k: (DRY_J_M3K + 2100.0 * WATER_KG_M3, DRY_J_M3K + water_heat),
        latent_j_m3: 333_400.0 * WATER_KG_M3,
    };
    let front = freezing_front(&case).unwrap();
    let cold = FaceCondition { held_k: Some(case.face_k), ..FaceCondition::sealed() };
    let (mut worst_front, mut worst_k) = (0.0_f64, 0.0_f64);
    for hours in 1..=24 {
        let seconds = 3600.0;
        assert!(column.advance(&[true], seconds, &[step_s], &[FaceCondition::sealed()], &[cold])[0].is_none(), "lost in hour {hours}");
        if hours < 6 {
            continue;
        }
        let time_s = f64::from(hours) * seconds;
        let depth = 2.0 * front * (case.conductivity_w_mk.0 / case.heat_j_m3k.0 * time_s).sqrt();
        // Ice over the water there was is the depth frozen, wherever in its cell the front stands.
        let ours = ice_kg_m2(&column) / WATER_KG_M3;
        worst_front = worst_front.max((ours / depth - 1.0).abs());
        for seen in column.profile(0).iter().filter(|seen| seen.width_m > 0.0 && (seen.depth_m - depth).abs() > 2.0 * cell_m) {
            worst_k = worst_k.max((seen.temperature_k - case.temperature_k(front, seen.depth_m, time_s)).abs());
        }
    }
    let balance = column.balance(0).energy;
    assert!(balance.residual.abs() <= 1e-8 * balance.moved, "{balance:?}");
    (worst_front, worst_k)
}

#[test]
fn a_freezing_front_is_neumanns() {
    let coarse = neumann(4e-3, 600.0);
    let fine = neumann(1e-3, 120.0);
    println!("front and temperature: 4 mm, 600 s {coarse:?}; 1 mm, 120 s {fine:?}");
    assert!(fine.0 < 0.01 && fine.1 < 0.1, "{fine:?}");
    assert!(fine.0 < coarse.0 && fine.1 < coarse.1, "{coarse:?} {fine:?}");
}

/// A fresh coat of 20 mm with 250 kg/m³ that loses 100 W/m² freezes in 4.6 h (computed by hand from the heat of fusion: 5 kg/m² · 333.4 kJ/kg), and keeps
/// near its freezing point meanwhile.
#[test]
fn a_freezing_coat_holds_at_its_freezing_point() {
    let layer = Layer { material: one_pore(), widths_m: vec![1e-3; 20], carbonation: None };
    let mut column = Column::<1>::new(vec![layer], 1, tight(true)).unwrap();
    let suction = one_pore().suction_pa(250.0);
    column.set_uniform(0, physics::frost::freezing_point_k(suction), suction);
    let losing = FaceCondition { absorbed_w_m2: -100.0, ..FaceCondition::sealed() };
    let mut frozen_after_h = f64::NAN;
    for tenth in 1..=60 {
        assert!(column.advance(&[true], 360.0, &[360.0], &[FaceCondition::sealed()], &[losing])[0].is_none());
        let (inside, ice) = (column.inner_face(0).temperature_k, ice_kg_m2(&column));
        if ice < 4.9 {
            assert!(inside > 273.15 - 0.03, "{inside} K after {tenth} tenths of an hour");
        }
        if ice > 0.995 * 5.0 && frozen_after_h.is_nan() {
            frozen_after_h = f64::from(tenth) / 10.0;
        }
    }
    // The cooling of what is already frozen takes its share: a coat 20 mm thick that loses 100 W/m² is 1.7 K colder at its face than within.
    assert!((4.5..=5.0).contains(&frozen_after_h), "{frozen_after_h}");
    assert!(column.inner_face(0).temperature_k < 270.0);
}

/// Sealed against water, frozen hard, and brought back: every cell has its water and temperature again.
#[test]
fn freezing_and_thawing_gives_back_what_was() {
    let coat = MaterialTables::from_moisture(&scud().mortar.hardened).unwrap();
    let layer = Layer { material: Arc::new(coat), widths_m: vec![1e-3; 12], carbonation: None };
    let mut column = Column::<1>::new(vec![layer], 1, tight(true)).unwrap();
    column.set_uniform(0, 278.15, 2e5);
    let start = column.contents(0);
    let air = |celsius: f64| FaceCondition::film(273.15 + celsius, 0.0, 10.0, 0.0);
    let mut most_ice = 0.0_f64;
    for celsius in [-8.0, 5.0] {
        for _ in 0..14 * 24 {
            assert!(column.advance(&[true], 3600.0, &[3600.0], &[FaceCondition::sealed()], &[air(celsius)])[0].is_none());
            most_ice = most_ice.max(ice_kg_m2(&column));
        }
    }
    let end = column.contents(0);
    assert!(most_ice > 0.8 * start.water_kg_m2, "{most_ice} of {}", start.water_kg_m2);
    assert_eq!(ice_kg_m2(&column), 0.0);
    assert!((end.water_kg_m2 / start.water_kg_m2 - 1.0).abs() < 1e-12);
    assert!((end.energy_j_m2 / start.energy_j_m2 - 1.0).abs() < 1e-6, "{end:?} {start:?}");
    let waters: Vec<f64> = column.layer_contents(0, 0).map(|(_, water, _)| water).collect();
    let even = start.water_kg_m2 / 0.012;
    assert!(waters.iter().all(|water| (water / even - 1.0).abs() < 1e-4), "{waters:?}");
}

/// Two millimetres of rain in two hours on damp sandstone at −5 °C: ice keeps out nearly all that the same stone takes up unfrozen, and the rest runs off.
#[test]
fn ice_keeps_rain_out() {
    let taken_up = |freezing: bool| {
        let stone = MaterialTables::from_moisture(&sandstone(0.5).masonry).unwrap();
        let suction = stone.suction_pa(75.0);
        let layer = Layer { material: Arc::new(stone), widths_m: vec![1e-3; 60], carbonation: None };
        let mut column = Column::<1>::new(vec![layer], 1, tight(freezing)).unwrap();
        column.set_uniform(0, 268.15, suction);
        let rain = FaceCondition { rain_kg_m2s: 2.0 / 7200.0, rain_k: 268.15, held_k: Some(268.15), ..FaceCondition::sealed() };
        assert!(column.advance(&[true], 7200.0, &[300.0], &[FaceCondition::sealed()], &[rain])[0].is_none());
        let books = *column.books(0);
        assert!((books.absorbed_kg_m2 + books.run_off_kg_m2 - 2.0).abs() < 1e-9, "{books:?}");
        books.absorbed_kg_m2
    };
    let (frozen, unfrozen) = (taken_up(true), taken_up(false));
    println!("taken up of 2 kg/m²: frozen {frozen:.4}, unfrozen {unfrozen:.4}");
    assert!(frozen < 0.1 * unfrozen, "{frozen} {unfrozen}");
}

/// A frozen coat in still, dry, cold air sublimes at the film's coefficient times the pressure over ice (Magnus form over ice of Sonntag 1990, from memory,
/// good to 1.5 % here), and the heat it takes is that of sublimation: evaporation's and fusion's together.
#[test]
fn a_frozen_coat_sublimes() {
    let coat = MaterialTables::from_moisture(&scud().mortar.hardened).unwrap();
    let layer = Layer { material: Arc::new(coat), widths_m: vec![1e-3; 4], carbonation: None };
    let mut column = Column::<1>::new(vec![layer], 1, tight(true)).unwrap();
    column.set_uniform(0, 263.15, 1e5);
    let film_s_m = 1e-9;
    let air = FaceCondition { held_k: Some(263.15), ..FaceCondition::film(263.15, 0.0, 0.0, film_s_m) };
    let (start, days) = (column.contents(0), 20.0);
    for _ in 0..20 {
        assert!(column.advance(&[true], 86_400.0, &[3600.0], &[FaceCondition::sealed()], &[air])[0].is_none());
    }
    let (gone, end) = (column.books(0).evaporated_kg_m2, column.contents(0));
    let over_ice = 611.2 * libm::exp(22.46 * -10.0 / (272.62 - 10.0));
    let expected = film_s_m * over_ice * days * 86_400.0;
    assert!((gone / expected - 1.0).abs() < 0.015, "{gone} {expected}");
    // At a constant temperature the column's enthalpy rises by fusion (less what ice and water differ in) for what has gone from its ice.
    let risen = (end.energy_j_m2 - start.energy_j_m2) / gone;
    let fusion = 333_400.0 - (4187.0 - 2100.0) * 10.0;
    assert!((risen / (fusion + 4187.0 * 10.0) - 1.0).abs() < 1e-3, "{risen}");
}

/// Above freezing the switch changes no bit.
#[test]
fn without_frost_the_switch_changes_nothing() {
    let run = |freezing: bool| {
        let numerics = Numerics { settings: Settings { freezing, ..Numerics::default().settings }, ..Numerics::default() };
        let mut bench = Bench::with_numerics(&sandstone(0.3), &[scud()], changing(3, 800, 16.0, 2.0), &[0], numerics).unwrap();
        bench.act(0, Action::Throw).unwrap();
        bench.advance(500);
        bench.look(0)
    };
    assert_eq!(run(true), run(false));
}

/// A dozen winters, or as many as `PROPTEST_CASES` asks for.
fn cases() -> u32 {
    std::env::var("PROPTEST_CASES").ok().and_then(|asked| asked.parse().ok()).unwrap_or(12)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(), failure_persistence: None, ..ProptestConfig::default() })]

    /// Winters of rain and frost: nothing fails and the books close to 1e-8 of what moved.
    #[test]
    fn the_books_close_in_frost(
        seed in 0_u64..100_000,
        mean_c in -12.0_f64..4.0,
        rainy in 0.0_f64..6.0,
        saturation in 0.02_f64..1.0,
        dense in any::<bool>(),
        covered in any::<bool>(),
    ) {
        let numerics = Numerics { settings: Settings { freezing: true, ..Numerics::default().settings }, ..Numerics::default() };
        let wall = if dense { granite(saturation) } else { sandstone(saturation) };
        let mut bench = Bench::with_numerics(&wall, &[scud(), straightening(12e-3)], changing(seed, 3000, mean_c, rainy), &[0], numerics).unwrap();
        for hour in 0..700_usize {
            if [50, 300].contains(&hour) {
                bench.act(0, Action::Throw).unwrap();
            }
            if covered && hour == 60 {
                bench.act(0, Action::Hang(hessian(0.15))).unwrap();
            }
            if hour == 45 {
                bench.act(0, Action::DampDown(3.0)).unwrap();
            }
            bench.advance(1);
        }
        prop_assert!(bench.failed(0).is_none(), "{}", bench.failed(0).unwrap());
        let balance = bench.balance(0);
        for (closure, rounding) in [(balance.water, 1e-12), (balance.carbon, 1e-12), (balance.energy, 1e-6)] {
            prop_assert!(closure.residual.abs() <= 1e-8 * closure.moved + rounding, "{balance:?}");
        }
        for coat in &bench.look(0).coats {
            prop_assert!(coat.water_kg_m3 > 0.0, "{coat:?}");
        }
    }
}
