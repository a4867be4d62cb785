//! Walls with weather on both sides: roofless and free-standing ones. Their far face has its own sun, sky, wind and rain.
#![allow(clippy::unwrap_used, clippy::expect_used)]
mod common;

use std::sync::Arc;

use common::*;
use curing::kernel::{Column, FaceCondition, Settings};
use curing::{Bench, CuringError, Inside, Layer, MaterialTables, Numerics, ProfileCell, WallModel};
use weather::FaceClimate;

fn free_standing(far: &Arc<FaceClimate>) -> WallModel {
    WallModel { thickness_m: 0.4, inside: Inside::Open, far_face: Some(Arc::clone(far)), ..sandstone(0.3) }
}

/// The wall cell by cell after sixty days, solved to a tight tolerance.
fn after_sixty_days(outer: &Arc<FaceClimate>, far: &Arc<FaceClimate>) -> Vec<ProfileCell> {
    let base = Numerics::default();
    let settings = Settings { tolerance_y: 1e-6, tolerance_k: 1e-6, ..base.settings };
    let numerics = Numerics { settings, ..base };
    let mut bench = Bench::with_numerics(&free_standing(far), &[], Arc::clone(outer), &[0], numerics).unwrap();
    bench.advance(24 * 60);
    assert!(bench.failed(0).is_none(), "{}", bench.failed(0).unwrap());
    let balance = bench.balance(0);
    for (closure, rounding) in [(balance.water, 1e-12), (balance.energy, 1e-6)] {
        assert!(closure.residual.abs() <= 1e-8 * closure.moved + rounding, "{balance:?}");
    }
    bench.profile(0)
}

/// Greatest difference of temperature, K, and of the pores' filling between a wall and another seen from behind.
fn apart(one: &[ProfileCell], mirrored: &[ProfileCell]) -> (f64, f64) {
    let pairs = || one.iter().zip(mirrored.iter().rev());
    let worst = |of: fn(&ProfileCell) -> f64| pairs().map(|(a, b)| (of(a) - of(b)).abs()).fold(0.0, f64::max);
    (worst(|cell| cell.temperature_c), worst(|cell| cell.water_share))
}

#[test]
fn the_same_weather_on_both_sides_gives_a_symmetric_wall() {
    let weather = changing(21, 2000, 8.0, 2.0);
    let wall = after_sixty_days(&weather, &weather);
    let (kelvin, share) = apart(&wall, &wall);
    println!("symmetric to {kelvin:.1e} K and {share:.1e} of the pores");
    assert!(kelvin < 1e-3 && share < 1e-4, "{kelvin} {share}");
}

#[test]
fn weather_that_changes_sides_gives_a_mirrored_wall() {
    let (wet, dry) = (changing(21, 2000, 8.0, 3.0), changing(22, 2000, 9.0, 0.2));
    let (one, other) = (after_sixty_days(&wet, &dry), after_sixty_days(&dry, &wet));
    let (kelvin, share) = apart(&one, &other);
    println!("mirrored to {kelvin:.1e} K and {share:.1e} of the pores");
    assert!(kelvin < 1e-3 && share < 1e-4, "{kelvin} {share}");
    let (to_itself_k, to_itself) = apart(&one, &one);
    assert!(to_itself_k > 0.05 && to_itself > 0.01, "the two sides do differ: {to_itself_k} {to_itself}");
}

/// Rain on one face of a column takes the same course whichever of its two faces it falls on: so much is taken up, the rest runs off.
#[test]
fn rain_on_the_far_face_is_taken_up_and_runs_off_as_on_the_outer() {
    let stone = Arc::new(MaterialTables::from_moisture(&sandstone(0.0).masonry).unwrap());
    let widths_m: Vec<f64> = (0..40).map(|cell| 0.5e-3 * libm::pow(1.1, f64::from(cell))).collect();
    let rains = FaceCondition { rain_kg_m2s: 4.0 / 3600.0, rain_k: 282.0, ..FaceCondition::film(283.15, 900.0, 15.0, 1e-7) };
    let run = |inner: FaceCondition, outer: FaceCondition, widths_m: Vec<f64>| {
        let layer = Layer { material: Arc::clone(&stone), widths_m, carbonation: None };
        let settings = Settings { tolerance_y: 1e-7, tolerance_k: 1e-7, ..Settings::default() };
        let mut column = Column::<1>::new(vec![layer], 1, settings).unwrap();
        column.set_uniform(0, 283.15, 1e6);
        for _ in 0..48 {
            assert!(column.advance(&[true], 3600.0, &[900.0], &[inner], &[outer])[0].is_none());
        }
        let closes = column.balance(0);
        assert!(closes.water.residual.abs() < 1e-9 && closes.energy.residual.abs() < 1e-8 * closes.energy.moved, "{closes:?}");
        (column.contents(0).water_kg_m2, *column.books(0))
    };
    let thick_first: Vec<f64> = widths_m.iter().rev().copied().collect();
    let (held, books) = run(FaceCondition::sealed(), rains, thick_first);
    let (held_behind, behind) = run(rains, FaceCondition::sealed(), widths_m);
    println!("run off {:.3} outside, {:.3} kg/m² on the far face", books.run_off_kg_m2, behind.inner_run_off_kg_m2);
    assert!(books.run_off_kg_m2 > 20.0, "{books:?}");
    assert!((behind.inner_run_off_kg_m2 / books.run_off_kg_m2 - 1.0).abs() < 1e-4, "{behind:?}");
    assert!((held_behind / held - 1.0).abs() < 1e-4, "{held} {held_behind}");
    assert_eq!(behind.run_off_kg_m2, 0.0);
}

/// Driving rain from behind reaches the coats: a thin wall stands wetter for it.
#[test]
fn rain_from_behind_wets_a_thin_wall_through() {
    let (outer, wet) = (changing(31, 2000, 8.0, 0.0), changing(32, 2000, 8.0, 6.0));
    let saturation = |far_face| {
        let wall = WallModel { thickness_m: 0.12, inside: Inside::Open, far_face, ..sandstone(0.15) };
        let mut bench = Bench::new(&wall, &[], Arc::clone(&outer), &[0]).unwrap();
        bench.advance(24 * 60);
        bench.look(0).masonry_saturation
    };
    let (without, with) = (saturation(None), saturation(Some(wet)));
    println!("outer 60 mm after 60 days: {without:.3} full without rain behind, {with:.3} with");
    assert!(with > without + 0.05, "{without} {with}");
}

#[test]
fn a_far_face_must_fit_the_wall() {
    let (weather, short) = (changing(21, 500, 8.0, 1.0), changing(21, 400, 8.0, 1.0));
    let refused = |wall: &WallModel| match Bench::new(wall, &[], Arc::clone(&weather), &[0]) {
        Err(CuringError::Climate { fault, .. }) => fault,
        other => panic!("{other:?}"),
    };
    let roofed = WallModel { inside: Inside::Unheated, ..free_standing(&weather) };
    assert!(refused(&roofed).contains("room behind it"));
    assert!(refused(&free_standing(&short)).contains("400 hours"));
}
