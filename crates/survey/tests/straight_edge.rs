//! Live checks of the straight-edge against its definition in NumPy and the grey closing of SciPy, versions pinned in
//! `tests/reference/requirements.txt` (other tools). They need `HARLWRIGHT_PYTHON`, set by `cargo xtask test`; without it they fail.
#![allow(clippy::unwrap_used, clippy::expect_used)]

#[path = "../../../tests/reference/harness.rs"]
mod harness;

use serde_json::{Value, json};
use survey::{HeightField, Laid, RandomRelief, mean_face, ruled_face};

fn flat(rows: &Value) -> Vec<f64> {
    rows.as_array().unwrap().iter().flat_map(harness::numbers).collect()
}

/// Walls of every roughness, and grooves and steps, with the length of the edge in cells.
fn walls() -> Vec<(HeightField, usize)> {
    let mut walls: Vec<(HeightField, usize)> = [(1, 0.02, 3), (2, 0.1, 8), (3, 0.3, 20), (4, 0.05, 39), (5, 0.02, 1), (6, 0.08, 90)]
        .into_iter()
        .map(|(seed, correlation_m, steps)| (RandomRelief { amplitude_m: 0.015, correlation_m, seed }.draw(40, 24, 0.02), steps))
        .collect();
    let grooved = (0..40 * 24).map(|cell| if cell % 7 < 2 || cell / 40 == 11 { -0.01 } else { 0.0 }).collect();
    walls.push((HeightField { columns: 40, rows: 24, spacing_m: 0.02, heights_m: grooved }, 9));
    walls
}

#[test]
fn the_ruled_face_is_the_definition_and_the_closing_of_level_crests() {
    let walls = walls();
    let asked: Vec<Value> = walls
        .iter()
        .map(|(wall, steps)| json!({ "heights": wall.heights_m.chunks(wall.columns).collect::<Vec<_>>(), "steps": steps }))
        .collect();
    let answers = harness::run("straight_edge.py", &json!({ "fields": asked }));
    for ((wall, steps), theirs) in walls.iter().zip(answers["fields"].as_array().unwrap()) {
        let edge_m = *steps as f64 * wall.spacing_m;
        let across = ruled_face(wall, edge_m, Laid::Across);
        let (theirs_across, theirs_up) = (flat(&theirs["across"]), flat(&theirs["up"]));
        harness::assert_close("ruled across", &across, &theirs_across, 1e-9, 0.0);
        harness::assert_close("ruled up", &ruled_face(wall, edge_m, Laid::Up), &theirs_up, 1e-9, 0.0);
        let lower: Vec<f64> = theirs_across.iter().zip(&theirs_up).map(|(a, b)| a.min(*b)).collect();
        harness::assert_close("ruled both ways", &ruled_face(wall, edge_m, Laid::BothWays), &lower, 1e-9, 0.0);
        harness::assert_close("mean over placings", &mean_face(wall, edge_m, Laid::Across), &flat(&theirs["mean"]), 1e-9, 0.0);
    }
    // Where the crests are level, and a closing can tilt nothing, the two coincide: the grooved wall.
    let (grooved, steps) = walls.last().unwrap();
    let closed = flat(&answers["fields"][walls.len() - 1]["closing"]);
    let row: Vec<usize> = (0..grooved.columns).filter(|x| *x >= 2 && *x < 37).collect();
    let ours = ruled_face(grooved, *steps as f64 * grooved.spacing_m, Laid::Across);
    let pick = |values: &[f64]| row.iter().map(|x| values[*x]).collect::<Vec<f64>>();
    harness::assert_close("closing of level crests", &pick(&ours), &pick(&closed), 1e-12, 0.0);
}
