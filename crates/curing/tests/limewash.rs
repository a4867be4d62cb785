//! Limewash: a property of the face, until five coats of it make half a millimetre.
#![allow(clippy::unwrap_used, clippy::expect_used)]
mod common;

use std::sync::Arc;

use common::*;
use curing::{Action, Bench, CuringError, Inside, MOST_WASHES, WallModel, Wash};
use physics::surface::{convective_w_m2k, vapour_film_s_m};
use weather::FaceClimate;

/// A tenth of a millimetre of μ 10 over the permeability of air, 1.95e-10 kg/(m s Pa); white.
fn wash() -> Wash {
    Wash { vapour_m2spa_kg: 1e-4 * 10.0 / 1.95e-10, solar_absorptance: 0.25 }
}

fn washed(climate: &Arc<FaceClimate>, saturation: f64, coats: u32) -> Bench {
    // Air as warm and as damp as the wall behind it, so that nothing leaves that way.
    let wall = WallModel { inside: Inside::Heated { air_k: 288.15, humidity: 1.0 }, ..sandstone(saturation) };
    let mut bench = Bench::new(&wall, &[scud()], Arc::clone(climate), &[0]).unwrap();
    for _ in 0..coats {
        bench.act(0, Action::Limewash(wash())).unwrap();
    }
    bench
}

/// A soaked wall in still weather loses water through film and limewash in series. The face cools as it evaporates, so what is compared is the loss over the
/// vapour pressure that drives it: by hand 1/(1/film + n·R).
#[test]
fn coats_of_limewash_stand_in_series_with_the_film() {
    let climate = steady(15.0, 0.70, 2.0);
    let vapour_pa = climate.vapour_pa[0];
    let film_s_m = vapour_film_s_m(convective_w_m2k(2.0));
    for coats in [0, 1, 5] {
        let mut bench = washed(&climate, 0.98, coats);
        bench.advance(6);
        let before: f64 = bench.profile(0).iter().map(|cell| cell.water_share * cell.width_m * 150.0).sum();
        bench.advance(1);
        let after: f64 = bench.profile(0).iter().map(|cell| cell.water_share * cell.width_m * 150.0).sum();
        let look = bench.look(0);
        let drives_pa = look.face_humidity * physics::air::saturation_pa(look.face_c + 273.15) - vapour_pa;
        let ours_s_m = (before - after) / 3600.0 / drives_pa;
        let by_hand_s_m = 1.0 / (1.0 / film_s_m + f64::from(coats) * wash().vapour_m2spa_kg);
        println!("{coats} coats: {ours_s_m:.3e} kg/(m² s Pa), by hand {by_hand_s_m:.3e}");
        assert!((ours_s_m / by_hand_s_m - 1.0).abs() < 0.02, "{coats}: {ours_s_m} {by_hand_s_m}");
    }
}

/// A white face takes less of the sun: with an absorptance of 0.25 for 0.6 it warms 0.42 as much over the air, as long as nothing else differs.
#[test]
fn a_white_face_stays_cooler_in_the_sun() {
    let mut sunny = (*steady(15.0, 0.60, 2.0)).clone();
    sunny.sun_w_m2.fill(500.0);
    let climate = Arc::new(sunny);
    let face_c = |coats| {
        let mut bench = washed(&climate, 0.02, coats);
        bench.advance(10 * 24);
        bench.look(0).face_c
    };
    let (bare, white) = (face_c(0) - 15.0, face_c(1) - 15.0);
    println!("over the air: bare {bare:.2} K, white {white:.2} K");
    assert!((white / bare - 0.25 / 0.6).abs() < 0.03, "{white} {bare}");
}

#[test]
fn a_sixth_coat_is_refused_and_a_thrown_coat_covers_them() {
    let climate = steady(15.0, 0.70, 2.0);
    let mut bench = washed(&climate, 0.2, MOST_WASHES);
    let sixth = bench.act(0, Action::Limewash(wash()));
    assert!(matches!(sixth, Err(CuringError::Action { ref because, .. }) if because.contains("half a millimetre")), "{sixth:?}");
    bench.act(0, Action::Throw).unwrap();
    bench.act(0, Action::Limewash(wash())).unwrap();
    let wrong = bench.act(0, Action::Limewash(Wash { solar_absorptance: 1.5, ..wash() }));
    assert!(matches!(wrong, Err(CuringError::OutOfRange { .. })), "{wrong:?}");
}
