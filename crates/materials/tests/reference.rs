//! Live checks of the materials bench against SciPy and the `chemicals` library, versions pinned in `tests/reference/requirements.txt` (other tool). They
//! need `HARLWRIGHT_PYTHON`, set by `cargo xtask test`; without it they fail.
#![allow(clippy::unwrap_used, clippy::expect_used)]

#[path = "../../../tests/reference/harness.rs"]
mod harness;

use materials::bench::{Bath, BlendSand, Grading, Regime, TargetPoint, blend, slake};
use physics::lime::{SLAKED_KG_KG, SLAKING_J_KG, SLAKING_WATER_KG_KG};
use serde_json::{Value, json};

const SIEVES: [f64; 7] = [4.0, 2.0, 1.0, 0.5, 0.25, 0.125, 0.063];
const SEED: u64 = 459;
const BLENDS: usize = 120;

/// Numbers from 0 to 1 of a linear congruential generator (Knuth's MMIX constants) from a named seed.
struct Draws(u64);

impl Draws {
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// What passes the sieves, falling.
    fn curve(&mut self) -> Vec<f64> {
        let mut passing: Vec<f64> = (0..SIEVES.len()).map(|_| self.next()).collect();
        passing.sort_by(|a, b| b.total_cmp(a));
        passing
    }
}

struct Case {
    sands: Vec<BlendSand>,
    target: Vec<TargetPoint>,
}

/// Two to six sands; every third case bounds the shares, every fifth the curve at 0.5 mm around the target.
fn case(draws: &mut Draws, index: usize) -> Case {
    let sands = (0..2 + index % 5)
        .map(|at| {
            let percent: Vec<(f64, f64)> = SIEVES.into_iter().zip(draws.curve().into_iter().map(|share| 100.0 * share)).collect();
            let grading = Grading::from_passing(&percent).unwrap();
            let share = if index.is_multiple_of(3) { (0.05, 0.9) } else { (0.0, 1.0) };
            BlendSand { name: format!("sand {at}"), grading, loose_kg_m3: 1500.0, particle_kg_m3: 2650.0, share }
        })
        .collect();
    let target = SIEVES.into_iter().zip(draws.curve());
    let limits =
        |opening: f64, passing: f64| if index.is_multiple_of(5) && opening == 0.5 { (passing - 0.15, passing + 0.15) } else { (0.0, 1.0) };
    let point = |(opening_mm, passing): (f64, f64)| {
        let (low, high): (f64, f64) = limits(opening_mm, passing);
        TargetPoint { opening_mm, passing, limits: (low.max(0.0), high.min(1.0)) }
    };
    Case { sands, target: target.map(point).collect() }
}

fn asked(case: &Case) -> Value {
    let passing: Vec<Vec<f64>> =
        SIEVES.iter().map(|opening| case.sands.iter().map(|sand| sand.grading.passing(*opening).unwrap()).collect()).collect();
    let of = |pick: fn(&TargetPoint) -> f64| case.target.iter().map(pick).collect::<Vec<f64>>();
    json!({
        "passing": passing, "target": of(|p| p.passing), "floor": of(|p| p.limits.0), "ceiling": of(|p| p.limits.1),
        "low": case.sands.iter().map(|s| s.share.0).collect::<Vec<_>>(), "high": case.sands.iter().map(|s| s.share.1).collect::<Vec<_>>(),
    })
}

#[test]
fn blends_baths_and_equilibrium_agree_with_scipy() {
    let mut draws = Draws(SEED);
    // A blend no sands can make is left out: the other tool would give something that breaks the limits.
    let cases: Vec<(Case, Vec<f64>)> = (0..BLENDS)
        .map(|index| case(&mut draws, index))
        .filter_map(|case| blend(&case.sands, &case.target).ok().map(|found| (case, found.shares)))
        .collect();
    assert!(cases.len() > BLENDS * 3 / 4, "only {} of {BLENDS} can be blended", cases.len());
    let baths: Vec<[f64; 3]> = [0.2, 0.35, 0.5, 0.6, 0.8, 1.5, 2.2, 3.0, 4.0, 6.0]
        .into_iter()
        .flat_map(|water| [(1.0, 15.0), (0.92, 15.0), (0.93, 20.0), (0.7, 5.0)].map(|(purity, start)| [water, purity, start]))
        .collect();
    let question = json!({
        "blends": cases.iter().map(|(case, _)| asked(case)).collect::<Vec<_>>(), "baths": baths,
        "heat": SLAKING_J_KG, "bound": SLAKING_WATER_KG_KG, "slaked": SLAKED_KG_KG,
    });
    let answer = harness::run("bench.py", &question);
    let sums = harness::numbers(&answer["sums"]);
    for (index, (case, ours)) in cases.iter().enumerate() {
        let theirs = harness::numbers(&answer["blends"][index]);
        harness::assert_close(&format!("shares of blend {index}"), ours, &theirs, 2e-5, 0.0);
        let sum: f64 = case
            .target
            .iter()
            .map(|point| {
                let mixed: f64 =
                    case.sands.iter().zip(ours).map(|(sand, share)| share * sand.grading.passing(point.opening_mm).unwrap()).sum();
                (mixed - point.passing).powi(2)
            })
            .sum();
        assert!(sum <= sums[index] + 1e-8, "blend {index}: ours {sum}, theirs {}", sums[index]);
    }
    check_baths(&baths, &harness::numbers(&answer["baths"]));
    // 512 °C is the published temperature; CRC and NIST values give 516.6.
    let equilibrium = answer["equilibrium"].as_f64().unwrap();
    let held = slake(&Bath { quicklime_kg: 1.0, purity: 1.0, water_kg: 0.3, sand_kg: 0.0, start_c: 15.0 }).unwrap().hottest_c;
    assert!((equilibrium - held).abs() < 6.0, "held at {held}, equilibrium at {equilibrium}");
}

fn check_baths(baths: &[[f64; 3]], theirs: &[f64]) {
    let mut held = 0;
    for ([water_kg, purity, start_c], theirs) in baths.iter().zip(theirs) {
        let ours = slake(&Bath { quicklime_kg: 1.0, purity: *purity, water_kg: *water_kg, sand_kg: 0.0, start_c: *start_c }).unwrap();
        if ours.held {
            held += 1;
            assert!(*theirs > ours.hottest_c, "held at {} though only {theirs} is reached", ours.hottest_c);
        } else {
            let boiling = ours.regime == Regime::Boiling;
            harness::assert_close("hottest", &[ours.hottest_c], &[*theirs], if boiling { 2e-3 } else { 1e-3 }, 1e-5);
        }
    }
    assert!(held > 0 && held < baths.len() / 2, "{held} baths are held by decomposition");
}
