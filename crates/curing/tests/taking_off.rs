//! A coat that comes off: the books follow it, what is beneath stands as it was, and it can be thrown again as if for the first time.
#![allow(clippy::unwrap_used, clippy::expect_used)]
mod common;

use common::*;
use curing::{Action, Bench, CuringError};

#[test]
fn a_coat_is_taken_off_and_thrown_again() {
    let mut bench = Bench::new(&sandstone(0.2), &[scud(), finish()], changing(11, 8760, 10.0, 0.4), &[3000]).unwrap();
    assert!(matches!(bench.act(0, Action::TakeOff), Err(CuringError::Action { .. })));
    assert!(matches!(bench.act(0, Action::PressBack), Err(CuringError::Action { .. })));
    bench.act(0, Action::Throw).unwrap();
    bench.advance(24 * 9);
    bench.act(0, Action::Throw).unwrap();
    bench.advance(24 * 4);
    let beneath = bench.look(0).coats[0].clone();
    bench.act(0, Action::TakeOff).unwrap();
    let look = bench.look(0);
    assert_eq!(look.coats, [beneath]);
    assert!(look.damage.is_empty() || look.damage.iter().all(|damage| damage.coat == 0));
    bench.advance(24);
    bench.act(0, Action::Throw).unwrap();
    bench.advance(1);
    let again = &bench.look(0).coats[1];
    assert_eq!(again.age_h, 1.0);
    assert!(again.uptake_m < 1e-4 && again.water_share > 0.5, "{again:?}");
    bench.advance(24 * 6);
    let books = bench.balance(0);
    for (what, closure) in [("water", books.water), ("carbon", books.carbon), ("energy", books.energy)] {
        assert!(closure.residual.abs() <= 1e-8 * closure.moved, "{what}: {closure:?}");
    }
}

/// Mist on a bare face is a damping down; behind a cloth the cloth takes its share.
#[test]
fn mist_goes_through_the_cover_by_its_share() {
    let run = |cover: bool, action: Action| {
        let mut bench = Bench::new(&sandstone(0.2), &[scud()], steady(15.0, 0.6, 2.0), &[0]).unwrap();
        bench.act(0, Action::Throw).unwrap();
        if cover {
            bench.act(0, Action::Hang(hessian(0.15))).unwrap();
        }
        bench.advance(48);
        let cloth = bench.look(0).cloth_kg_m2;
        bench.act(0, action).unwrap();
        let wetted = bench.look(0).cloth_kg_m2 - cloth;
        bench.advance(1);
        (wetted, bench.look(0).coats[0].water_kg_m3)
    };
    let (bare_mist, bare_damped) = (run(false, Action::Mist(0.3)), run(false, Action::DampDown(0.3)));
    assert_eq!(bare_mist, bare_damped);
    let (cloth, behind) = run(true, Action::Mist(0.3));
    assert!((cloth - 0.6 * 0.3).abs() < 1e-12, "{cloth}");
    assert!(behind > run(true, Action::Mist(0.0)).1);
}
