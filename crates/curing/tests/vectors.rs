//! Whatever instructions a block is stepped with, and whatever company a member keeps in it, the member's bits are the same.
#![allow(clippy::unwrap_used, clippy::expect_used)]
mod common;

use common::*;
use curing::kernel::{Settings, Vectors};
use curing::{Action, Balance, Bench, Look, Numerics};

/// Sixteen members through rain and frost, two coats and a cloth: what is seen of each at the end, and how its books close.
fn season(lanes: usize, vectors: Vectors, freezing: bool, order: &[usize; 16]) -> Vec<(Look, Balance)> {
    let base = Numerics::default();
    let numerics = Numerics { lanes, settings: Settings { vectors, freezing, ..base.settings }, ..base };
    let first: Vec<usize> = order.iter().map(|member| 150 * member).collect();
    let mut bench = Bench::with_numerics(
        &sandstone(0.3),
        &[hardening(setting(scud())), straightening(12e-3)],
        changing(11, 3000, 2.0, 2.0),
        &first,
        numerics,
    )
    .unwrap();
    for hour in 0..180 {
        for (place, member) in order.iter().enumerate() {
            if hour == 20 + member || hour == 100 + 3 * member {
                bench.act(place, Action::Throw).unwrap();
            }
            if hour == 40 + member && member % 2 == 0 {
                bench.act(place, Action::Hang(hessian(0.15))).unwrap();
            }
        }
        bench.advance(1);
    }
    let mut seen = vec![None; 16];
    for (place, &member) in order.iter().enumerate() {
        assert!(bench.failed(place).is_none(), "{}", bench.failed(place).unwrap());
        seen[member] = Some((bench.look(place), bench.balance(place)));
    }
    seen.into_iter().map(Option::unwrap).collect()
}

/// The digits of everything seen: two runs agree in them only if they agree in every bit.
fn digits(seen: &[(Look, Balance)]) -> Vec<String> {
    seen.iter().map(|member| format!("{member:?}")).collect()
}

#[test]
fn instructions_and_company_change_no_bit() {
    let in_order: [usize; 16] = std::array::from_fn(|member| member);
    let shuffled: [usize; 16] = std::array::from_fn(|place| (place * 7 + 3) % 16);
    for freezing in [false, true] {
        let alone = digits(&season(1, Vectors::Baseline, freezing, &in_order));
        for vectors in [Vectors::Baseline, Vectors::AtMostAvx2, Vectors::Best] {
            for (lanes, order) in [(4, &shuffled), (8, &shuffled), (16, &in_order)] {
                let together = digits(&season(lanes, vectors, freezing, order));
                assert!(together == alone, "{lanes} lanes, {vectors:?}, freezing {freezing}");
            }
        }
    }
}
