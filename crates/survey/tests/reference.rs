//! Live checks of the survey's geometry against shapely, a general-purpose geometry library, its version pinned in
//! `tests/reference/requirements.txt` (other tool). They need `HARLWRIGHT_PYTHON`, set by `cargo xtask test`; without it they fail.
#![allow(clippy::unwrap_used, clippy::expect_used)]

#[path = "identities/fixture.rs"]
mod fixture;
#[path = "../../../tests/reference/harness.rs"]
mod harness;

use serde_json::json;
use survey::{Opening, Outline, SurveyError, WallFound, measure};

use fixture::{building, opening, wall};

/// Numbers of a linear congruential generator (Knuth's MMIX constants) from a named seed: the same walls on every run.
struct Draws(u64);

impl Draws {
    /// A number from nought to one below `count`.
    fn below(&mut self, count: u64) -> u64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % count
    }

    /// A multiple of a quarter of a metre, so that corners meet sides and openings meet each other exactly.
    fn quarter(&mut self, most: u64) -> f64 {
        self.below(4 * most + 1) as f64 / 4.0
    }
}

const SEED: u64 = 1893;
const WALLS: usize = 3000;

fn drawn(draws: &mut Draws) -> WallFound {
    let count = 3 + draws.below(5);
    let corners_m: Vec<(f64, f64)> = (0..count).map(|_| (draws.quarter(8), draws.quarter(6))).collect();
    let openings: Vec<Opening> = (0..draws.below(4))
        .map(|index| {
            let (width, height) = (0.25 + draws.quarter(1), 0.25 + draws.quarter(1));
            let mut hole = opening(&format!("w{index}"), draws.quarter(7), draws.quarter(5), width, height);
            (hole.margin_m, hole.has_sill) = (draws.quarter(1) / 2.0, draws.below(2) == 0);
            hole
        })
        .collect();
    WallFound { outline: Outline::Polygon { corners_m }, openings, ..wall("north") }
}

/// The frame of an opening, and with its margin (under it too where it has no sill and does not stand on the base).
fn boxes(hole: &Opening) -> ([f64; 4], [f64; 4]) {
    let (left, foot, right, head) = (hole.left_m, hole.sill_m, hole.left_m + hole.width_m, hole.sill_m + hole.height_m);
    let margin = hole.margin_m;
    let below = if !hole.has_sill && foot > 0.0 { margin } else { 0.0 };
    ([left, foot, right, head], [left - margin, foot - below, right + margin, head + margin])
}

fn asked(wall: &WallFound) -> serde_json::Value {
    let Outline::Polygon { corners_m } = &wall.outline else { panic!("only polygons are drawn") };
    let (frames, voids): (Vec<_>, Vec<_>) = wall.openings.iter().map(boxes).unzip();
    json!({ "corners": corners_m, "frames": frames, "voids": voids })
}

/// A corner given twice is a fault here and none to shapely: left out of the comparison.
fn repeats(wall: &WallFound) -> bool {
    let Outline::Polygon { corners_m } = &wall.outline else { return false };
    (0..corners_m.len()).any(|i| corners_m[i] == corners_m[(i + 1) % corners_m.len()])
}

#[test]
fn outlines_openings_and_areas_agree_with_shapely() {
    let mut draws = Draws(SEED);
    let walls: Vec<WallFound> = (0..WALLS).map(|_| drawn(&mut draws)).filter(|wall| !repeats(wall)).collect();
    let answers = harness::run("areas.py", &json!({ "walls": walls.iter().map(asked).collect::<Vec<_>>() }));
    let (mut valid, mut measured) = (0, 0);
    for (wall, theirs) in walls.iter().zip(answers["walls"].as_array().unwrap()) {
        let ours = measure(building(vec![wall.clone()]));
        let errors = ours.as_ref().err().cloned().unwrap_or_default();
        let crosses = errors.iter().any(|e| matches!(e, SurveyError::Crosses { .. }));
        assert_eq!(crosses, theirs["valid"] == false, "{wall:?}");
        if crosses {
            continue;
        }
        valid += 1;
        let outside = errors.iter().any(|e| matches!(e, SurveyError::Outside { .. }));
        let overlap = errors.iter().any(|e| matches!(e, SurveyError::Overlap { .. }));
        assert_eq!((outside, overlap), (theirs["inside"] == false, theirs["overlap"] == true), "{wall:?}");
        let Ok(ours) = ours else { continue };
        measured += 1;
        harness::assert_close("area", &[ours.walls[0].gross_m2], &[theirs["area"].as_f64().unwrap()], 1e-9, 1e-12);
        harness::assert_close("covered", &[ours.walls[0].deducted_m2], &[theirs["covered"].as_f64().unwrap()], 1e-9, 1e-12);
    }
    println!("{} outlines compared, {valid} simple, {measured} measured with their openings", walls.len());
    assert!(valid > 500 && measured > 200, "too few to say anything: {valid}, {measured}");
}
