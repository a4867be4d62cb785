//! Whatever the weather and whatever is done to the wall, water, carbon and energy close to 1e-8 of the amounts moved, and nothing goes negative.
#![allow(clippy::unwrap_used, clippy::expect_used)]
mod common;

use common::*;
use curing::{Action, Bench, Inside, WallModel};
use proptest::prelude::*;

/// Two dozen runs of six weeks, or as many as `PROPTEST_CASES` asks for.
fn cases() -> u32 {
    std::env::var("PROPTEST_CASES").ok().and_then(|asked| asked.parse().ok()).unwrap_or(24)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(), failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_books_close(
        seed in 0_u64..100_000,
        mean_c in -12.0_f64..30.0,
        rainy in 0.0_f64..6.0,
        saturation in 0.02_f64..1.0,
        dense in any::<bool>(),
        heated in any::<bool>(),
        thickness_mm in 1.0_f64..30.0,
        texture in 1.0_f64..1.5,
    ) {
        let climate = changing(seed, 3000, mean_c, rainy);
        let inside = if heated { Inside::Heated { air_k: 291.15, humidity: 0.5 } } else { Inside::Open };
        let stone = if dense { granite(saturation) } else { sandstone(saturation) };
        // Half of the open walls have weather of their own on the far face.
        let far_face = (!heated && seed % 2 == 0).then(|| changing(seed + 1, 3000, mean_c, rainy));
        let wall = WallModel { inside, far_face, ..stone };
        let mut second = straightening(thickness_mm / 1000.0);
        second.texture = texture;
        let mut bench = Bench::new(&wall, &[scud(), second, finish()], climate, &[0]).unwrap();
        for hour in 0..1000_usize {
            if [100, 250, 400].contains(&hour) {
                bench.act(0, Action::Throw).unwrap();
            }
            if hour == 110 {
                bench.act(0, Action::Hang(hessian(0.05 + 0.3 * rainy / 6.0))).unwrap();
            }
            if hour > 110 && hour < 600 && hour % 11 == 0 {
                bench.act(0, Action::Wet(0.9)).unwrap();
            }
            if hour == 700 {
                bench.act(0, Action::Strike).unwrap();
            }
            if hour == 90 || hour == 800 {
                bench.act(0, Action::DampDown(3.0)).unwrap();
            }
            bench.advance(1);
        }
        prop_assert!(bench.failed(0).is_none(), "{}", bench.failed(0).unwrap());
        let balance = bench.balance(0);
        // Beside 1e-8 of what moved, the rounding of adding up what is held: some 50 kg/m², 60 mol/m², 1e7 J/m².
        for (closure, rounding) in [(balance.water, 1e-12), (balance.carbon, 1e-12), (balance.energy, 1e-6)] {
            prop_assert!(closure.residual.abs() <= 1e-8 * closure.moved + rounding, "{balance:?}");
        }
        let look = bench.look(0);
        prop_assert!(look.cloth_kg_m2 >= 0.0 && look.masonry_saturation > 0.0 && look.masonry_saturation < 1.0 + 1e-6);
        for coat in &look.coats {
            prop_assert!(coat.water_kg_m3 > 0.0 && coat.share >= -1e-12 && coat.share <= 1.0 + 1e-12, "{coat:?}");
        }
    }
}
