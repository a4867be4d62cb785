//! Whatever instructions a block is stepped with, on however many threads, and whatever company a member keeps in it, the member's bits are the same.
#![allow(clippy::unwrap_used, clippy::expect_used)]
mod common;

use std::sync::Arc;

use common::*;
use curing::kernel::{Settings, Vectors};
use curing::{Action, Balance, Bench, CoatModel, Inside, Look, Numerics, WallModel};
use materials::Catalogue;
use weather::FaceClimate;

/// A wall, its coats and a changing climate, drawn by a seed.
struct Scene {
    wall: WallModel,
    coats: Vec<CoatModel>,
    climate: Arc<FaceClimate>,
    seed: u64,
}

impl Scene {
    fn drawn(seed: u64) -> Self {
        let mut keyed = Keyed(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1);
        let inside = if keyed.share() < 0.5 { Inside::Unheated } else { Inside::Heated { air_k: 291.15, humidity: 0.5 } };
        let stone = if keyed.share() < 0.5 { sandstone(0.1 + 0.5 * keyed.share()) } else { granite(0.3) };
        let mut coats = vec![hardening(setting(scud())), straightening(6e-3 + 10e-3 * keyed.share())];
        coats[1].texture = 1.0 + 0.4 * keyed.share();
        let climate = changing(seed, 3000, -1.0 + 8.0 * keyed.share(), 2.0);
        Self { wall: WallModel { inside, ..stone }, coats, climate, seed }
    }

    /// What a member does in an hour: thrown, covered with one of the catalogue's covers, wetted, misted, struck, all at hours of its own.
    fn act(&self, bench: &mut Bench, place: usize, member: usize, hour: usize) {
        let mut keyed = Keyed((self.seed + 1).wrapping_mul(0x9E37_79B9_7F4A_7C15).wrapping_add(1 + 977 * member as u64) | 1);
        let mut at = |first: f64, spread: f64| (first + spread * keyed.share()) as usize;
        let (throws, hung, struck) = ([at(5.0, 20.0), at(80.0, 60.0)], at(26.0, 8.0), at(140.0, 30.0));
        let (damped, every) = (at(1.0, 4.0), at(5.0, 5.0));
        if hour == damped {
            bench.act(place, Action::DampDown(1.5)).unwrap();
        }
        if throws.contains(&hour) {
            bench.act(place, Action::Throw).unwrap();
        }
        if hour == hung {
            let covers = Catalogue::shipped().covers;
            let cover = covers.values().nth(member % covers.len()).unwrap().clone();
            bench.act(place, Action::Hang(cover)).unwrap();
        }
        if hour > hung && hour < hung + 40 && (hour - hung).is_multiple_of(every) {
            bench.act(place, Action::Mist(0.4)).unwrap();
        }
        if hour == struck {
            bench.act(place, Action::Strike).unwrap();
        }
    }

    /// Sixteen members of the scene through rain and frost, in an order: what is seen of each at the end, and how its books close, to the last digit.
    fn lived(&self, lanes: usize, vectors: Vectors, freezing: bool, order: &[usize]) -> Vec<(usize, String)> {
        let base = Numerics::default();
        let numerics = Numerics { lanes, settings: Settings { vectors, freezing, ..base.settings }, ..base };
        let first: Vec<usize> = order.iter().map(|member| 150 * member).collect();
        let mut bench = Bench::with_numerics(&self.wall, &self.coats, Arc::clone(&self.climate), &first, numerics).unwrap();
        for hour in 0..180 {
            for (place, &member) in order.iter().enumerate() {
                self.act(&mut bench, place, member, hour);
            }
            bench.advance(1);
        }
        // Several hours at a call wake other threads where there are any.
        bench.advance(40);
        let mut seen: Vec<(usize, String)> = order
            .iter()
            .enumerate()
            .map(|(place, &member)| {
                assert!(bench.failed(place).is_none(), "{}", bench.failed(place).unwrap());
                let end: (Look, Balance) = (bench.look(place), bench.balance(place));
                (member, format!("{end:?}"))
            })
            .collect();
        seen.sort();
        seen
    }
}

const MEMBERS: usize = 16;

#[test]
fn instructions_threads_and_company_change_no_bit() {
    let in_order: Vec<usize> = (0..MEMBERS).collect();
    let shuffled: Vec<usize> = (0..MEMBERS).map(|place| (place * 7 + 3) % MEMBERS).collect();
    for (seed, freezing) in [(11, false), (12, true), (13, true)] {
        let scene = Scene::drawn(seed);
        let together = scene.lived(16, Vectors::Best, freezing, &in_order);
        assert!(together.iter().any(|(_, seen)| !seen.contains("uptake_m: 0.0,")), "something is taken up");
        for &member in &in_order {
            let alone = scene.lived(1, Vectors::Baseline, freezing, &[member]);
            assert!(alone[0] == together[member], "seed {seed}, member {member} alone");
        }
        for vectors in [Vectors::Baseline, Vectors::AtMostAvx2, Vectors::Best] {
            for (lanes, order) in [(4, &shuffled), (8, &shuffled), (16, &in_order)] {
                let other = scene.lived(lanes, vectors, freezing, order);
                assert!(other == together, "seed {seed}: {lanes} lanes, {vectors:?}, freezing {freezing}");
            }
        }
        for threads in [1, 2] {
            let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
            let other = pool.install(|| scene.lived(4, Vectors::Best, freezing, &shuffled));
            assert!(other == together, "seed {seed}: {threads} threads");
        }
    }
}
