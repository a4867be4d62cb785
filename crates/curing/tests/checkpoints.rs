//! A member that goes on from a checkpoint, in another place, on another bench and in other company, has the bits it would have had (exact identity).
#![allow(clippy::unwrap_used, clippy::expect_used)]
mod common;

use common::*;
use curing::{Action, Bench, CoatModel, CuringError, Numerics};

fn bench(coats: &[CoatModel], first: &[usize], lanes: usize) -> Bench {
    let numerics = Numerics { lanes, ..Numerics::default() };
    Bench::with_numerics(&sandstone(0.3), coats, changing(11, 3000, 6.0, 2.0), first, numerics).unwrap()
}

fn throw_and_hang(bench: &mut Bench, member: usize) {
    bench.act(member, Action::Throw).unwrap();
    bench.advance(1);
    bench.act(member, Action::Hang(hessian(0.15))).unwrap();
    bench.act(member, Action::Wet(0.9)).unwrap();
}

#[test]
fn a_fork_goes_on_as_its_origin_did() {
    let both = [scud(), straightening(12e-3)];
    let mut origin = bench(&both, &[48], 1);
    origin.advance(200);
    let bare = origin.checkpoint(0).unwrap();
    throw_and_hang(&mut origin, 0);
    origin.advance(100);
    let covered = origin.checkpoint(0).unwrap();
    origin.act(0, Action::Strike).unwrap();
    origin.act(0, Action::Throw).unwrap();
    origin.advance(80);
    let told = (format!("{:?}", origin.look(0)), format!("{:?}", origin.balance(0)));

    // From the covered scud, in the third of four lanes whose others are at other coats and hours.
    let mut company = bench(&both, &[0, 900, 1800, 2700], 4);
    company.advance(30);
    (0..4).for_each(|member| throw_and_hang(&mut company, member));
    company.act(2, Action::Throw).unwrap();
    company.advance(10);
    company.stop(2);
    company.resume(2, &covered).unwrap();
    company.act(2, Action::Strike).unwrap();
    company.act(2, Action::Throw).unwrap();
    company.advance(80);
    assert_eq!((format!("{:?}", company.look(2)), format!("{:?}", company.balance(2))), told);

    // From the bare wall, through a bench that knows the first coat alone.
    let mut first_coat = bench(&both[..1], &[5, 6], 2);
    first_coat.resume(1, &bare).unwrap();
    throw_and_hang(&mut first_coat, 1);
    first_coat.advance(100);
    let handed_on = first_coat.checkpoint(1).unwrap();
    let mut second_coat = bench(&both, &[700], 1);
    second_coat.resume(0, &handed_on).unwrap();
    second_coat.act(0, Action::Strike).unwrap();
    second_coat.act(0, Action::Throw).unwrap();
    second_coat.advance(80);
    assert_eq!((format!("{:?}", second_coat.look(0)), format!("{:?}", second_coat.balance(0))), told);
}

#[test]
fn a_checkpoint_of_other_layers_is_refused() {
    let mut thick = bench(&[straightening(20e-3)], &[0], 1);
    thick.act(0, Action::Throw).unwrap();
    let kept = thick.checkpoint(0).unwrap();
    let mut thin = bench(&[scud()], &[0], 1);
    assert!(matches!(thin.resume(0, &kept), Err(CuringError::OutOfRange { .. })));
    assert!(matches!(thin.resume(7, &kept), Err(CuringError::NoMember { .. })));
    assert!(thin.checkpoint(7).is_none());
}
