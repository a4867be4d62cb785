//! The trade's week and fortnight (common practice, no source) with the rule of least age off, so that they can fail. One threshold, 1.15 mm of uptake, was
//! set to the mild week; the cold fortnight is predicted. Bare faces miss both, and that is asserted as a miss.
#![allow(clippy::unwrap_used, clippy::expect_used)]
mod common;

use common::*;
use curing::{Bench, Criterion};

const MILD: (f64, f64) = (15.0, 0.75);
const COLD: (f64, f64) = (5.0, 0.90);

/// Days to ready of a 3.5 mm scud on dry sandstone and on granite, with the rule that decided, printed.
fn scud_days((air_c, humidity): (f64, f64), leak: Option<f64>) -> [f64; 2] {
    [("sandstone", sandstone(0.15)), ("granite", granite(0.3))].map(|(stone, wall)| {
        let mut bench = Bench::new(&wall, &[scud()], steady(air_c, humidity, 2.0), &[0]).unwrap();
        let (days, decides) = until_ready(&mut bench, leak.map(hessian), 3, 60, |_, _| {});
        println!("{air_c} °C, {humidity}, {stone}, leak {leak:?}: {days:.1?} days, decided by {decides:?}");
        assert_eq!(decides, Some(Criterion::Carbonated));
        days.unwrap()
    })
}

#[test]
fn a_week_behind_hessian_when_it_is_mild() {
    for days in scud_days(MILD, Some(0.15)) {
        assert!((6.0..=8.5).contains(&days), "{days}");
    }
}

#[test]
fn about_a_fortnight_behind_hessian_when_it_is_cold() {
    for days in scud_days(COLD, Some(0.15)) {
        assert!((11.5..=16.5).contains(&days), "{days}");
    }
}

/// A miss, and known: a bare coat takes up its carbon in little more than half the trade's time. What the trade waits for then is not uptake.
#[test]
fn bare_faces_miss_the_rule() {
    for (weather, rule) in [(MILD, 7.0), (COLD, 14.0)] {
        for days in scud_days(weather, None) {
            assert!(days < 0.7 * rule, "{days}: the calibration page calls this a miss; if it no longer is, correct the page");
        }
    }
}

/// The week hangs on the cover: a tight one and a flapping one lie either side of it.
#[test]
fn the_leak_of_the_cover_moves_the_week() {
    let [tight, _] = scud_days(MILD, Some(0.05));
    let [loose, _] = scud_days(MILD, Some(0.30));
    assert!(tight > 8.0 && loose < 6.6, "{tight} {loose}");
}

/// A wall more than a third full breaks the rule in the cold, and a heated room mends it.
#[test]
fn a_wet_wall_breaks_the_rule_and_heat_in_the_room_helps() {
    let run = |inside: curing::Inside, saturation: f64| {
        let wall = curing::WallModel { inside, ..sandstone(saturation) };
        let mut bench = Bench::new(&wall, &[scud()], steady(5.0, 0.90, 2.0), &[0]).unwrap();
        until_ready(&mut bench, Some(hessian(0.15)), 3, 60, |_, _| {}).0
    };
    let heated = curing::Inside::Heated { air_k: 291.15, humidity: 0.5 };
    let (wet, warm, dry_warm) = (run(curing::Inside::Unheated, 0.5), run(heated, 0.35), run(heated, 0.15));
    println!("cold, half full {wet:.1?}; a third full over a heated room {warm:.1?}; dry over a heated room {dry_warm:.1?}");
    assert!(wet.is_none_or(|days| days > 42.0));
    assert!(dry_warm.unwrap() < 10.0 && warm.unwrap() < 42.0);
}

/// A thicker, richer, wetter or colder coat is never ready sooner. Each pair is run in the same still weather behind the same hessian.
#[test]
fn thicker_richer_wetter_or_colder_is_never_sooner() {
    let days = |wall: &curing::WallModel, coat: curing::CoatModel, (air_c, humidity): (f64, f64)| {
        let mut bench = Bench::new(wall, &[coat], steady(air_c, humidity, 2.0), &[0]).unwrap();
        until_ready(&mut bench, Some(hessian(0.15)), 3, 60, |_, _| {}).0.unwrap_or(f64::INFINITY)
    };
    let base = days(&sandstone(0.15), straightening(8e-3), MILD);
    let mut richer = straightening(8e-3);
    richer.mortar.portlandite_mol_m3 *= 1.2;
    let mut wetter = straightening(8e-3);
    wetter.mortar.water_fresh_kg_m3 *= 1.02;
    let others = [
        ("thicker", days(&sandstone(0.15), straightening(12e-3), MILD)),
        ("richer", days(&sandstone(0.15), richer, MILD)),
        ("wetter mix", days(&sandstone(0.15), wetter, MILD)),
        ("wetter wall", days(&sandstone(0.25), straightening(8e-3), MILD)),
        ("colder", days(&sandstone(0.15), straightening(8e-3), (8.0, 0.75))),
    ];
    for (what, days) in others {
        println!("{what}: {days:.1} days against {base:.1}");
        assert!(days >= base, "{what}: {days} against {base}");
    }
}
