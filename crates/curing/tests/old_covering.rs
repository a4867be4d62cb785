//! A wall under an old covering, and freed of it: what stands behind it, that no coat goes on it, and how the wall dries once it is off.
#![allow(clippy::unwrap_used, clippy::expect_used)]
mod common;

use std::sync::Arc;

use common::*;
use curing::{Action, Bench, CuringError, Inside, OldCovering, TowardsFace, WallModel};

/// 20 mm of cement, μ about 50, over the permeability of air, sound.
fn cement() -> OldCovering {
    OldCovering { vapour_m2spa_kg: 0.02 * 50.0 / 1.95e-10, rain_through: 0.0, solar_absorptance: 0.6 }
}

fn covered() -> WallModel {
    let towards_face = Some(TowardsFace { saturation: 0.65, depth_m: 0.1 });
    // The air of the room is as damp as the wall, so that it dries by its outer face alone.
    let inside = Inside::Heated { air_k: 288.15, humidity: 0.995 };
    WallModel { towards_face, covering: Some(cement()), inside, ..sandstone(0.2) }
}

/// The profile of the survey is the one the wall starts with.
#[test]
fn a_wall_starts_wetter_towards_its_face_as_surveyed() {
    let bench = Bench::new(&covered(), &[], steady(12.0, 0.75, 2.0), &[0]).unwrap();
    for cell in bench.profile(0) {
        let said = 0.2 + (0.65 - 0.2) * libm::exp(-cell.depth_m / 0.1);
        assert!((cell.water_share - said).abs() < 1e-6, "{cell:?} {said}");
    }
}

/// Freed of its covering on the tenth day a wet wall dries from its face; left under it, it loses a fifth of that or less. Throwing on the covering is
/// refused with what to do.
#[test]
fn a_wall_dries_once_it_is_freed_and_not_before() {
    let climate = steady(15.0, 0.70, 2.0);
    let held = |bench: &Bench| bench.profile(0).iter().map(|cell| cell.water_share * cell.width_m * 150.0).sum::<f64>();
    let outer = |strip_day: Option<usize>| {
        let mut bench = Bench::new(&covered(), &[scud()], Arc::clone(&climate), &[0]).unwrap();
        let mut seen = vec![held(&bench)];
        for day in 0..60 {
            if strip_day == Some(day) {
                let refused = bench.act(0, Action::Throw);
                assert!(matches!(refused, Err(CuringError::Action { ref remedy, .. }) if remedy.contains("Strip")), "{refused:?}");
                bench.act(0, Action::Strip).unwrap();
            }
            bench.advance(24);
            seen.push(held(&bench));
        }
        if strip_day.is_some() {
            bench.act(0, Action::Throw).unwrap();
        }
        let balance = bench.balance(0);
        assert!(balance.water.residual.abs() <= 1e-8 * balance.water.moved + 1e-12, "{balance:?}");
        (seen, bench.look(0).face_humidity)
    };
    let ((freed, _), (under, under_face)) = (outer(Some(10)), outer(None));
    println!(
        "held at first {:.2}, on day 10 {:.2}, on day 60 {:.2} freed and {:.2} kg/m² under it",
        freed[0], freed[10], freed[60], under[60]
    );
    assert_eq!(freed[..=10], under[..=10], "until it comes off nothing differs");
    assert!(freed[10] - freed[60] > 5.0 * (under[10] - under[60]).max(0.0), "{freed:?} {under:?}");
    assert!(under_face > 0.98);
}

/// A wall with nothing on its face strips to what it was, bit for bit.
#[test]
fn stripping_a_bare_wall_changes_nothing() {
    let run = |strips: bool| {
        let mut bench = Bench::new(&sandstone(0.3), &[], changing(41, 500, 10.0, 1.0), &[0]).unwrap();
        if strips {
            bench.act(0, Action::Strip).unwrap();
        }
        bench.advance(200);
        bench.look(0)
    };
    assert_eq!(run(true), run(false));
}
