//! Speed of the straight-edge on a wall of 1,000 by 600 cells of 10 mm: rough rubble, and a hollow that makes every edge a long one. The
//! baseline beside it is the definition taken word for word along one row, scaled to all of them.

use std::time::Instant;

use survey::{HeightField, Laid, ruled_face};

const COLUMNS: usize = 1000;
const ROWS: usize = 600;
const EDGES_M: [f64; 8] = [0.3, 0.6, 0.9, 1.2, 1.5, 1.8, 2.4, 3.0];

fn main() {
    for (name, field) in [("rough rubble", rubble()), ("one great hollow", hollow())] {
        for edge_m in [0.3, 1.2, 3.0, 6.0, 10.0] {
            let seconds = best_of(5, || ruled_face(&field, edge_m, Laid::BothWays));
            println!(
                "{name}: edge {edge_m} m both ways: {:.1} ms, {:.2} ns a cell",
                seconds * 1e3,
                seconds * 1e9 / (COLUMNS * ROWS) as f64
            );
        }
        let all = best_of(3, || EDGES_M.map(|edge_m| ruled_face(&field, edge_m, Laid::BothWays)));
        println!("{name}: eight edges: {:.0} ms", all * 1e3);
        let row = &field.heights_m[..COLUMNS];
        let naive = best_of(3, || word_for_word(row, 120)) * ROWS as f64;
        let ours = best_of(5, || ruled_face(&field, 1.2, Laid::Across));
        println!("{name}: word for word at 1.2 m across: {:.1} s; ours {:.1} ms; ratio {:.0}", naive, ours * 1e3, naive / ours);
    }
}

fn best_of<T>(times: u32, mut work: impl FnMut() -> T) -> f64 {
    let timed = (0..times).map(|_| {
        let begun = Instant::now();
        std::hint::black_box(work());
        begun.elapsed().as_secs_f64()
    });
    timed.fold(f64::INFINITY, f64::min)
}

/// A fixed pseudo-random roughness: a linear congruential sequence (Numerical Recipes constants), smoothed.
fn rubble() -> HeightField {
    let mut state = 12_345_u32;
    let mut draw = || {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        f64::from(state) / f64::from(u32::MAX) - 0.5
    };
    let mut smooth = 0.0;
    let heights_m = (0..COLUMNS * ROWS)
        .map(|_| {
            smooth = 0.9 * smooth + 0.01 * draw();
            smooth
        })
        .collect();
    HeightField { columns: COLUMNS, rows: ROWS, spacing_m: 0.01, heights_m }
}

fn hollow() -> HeightField {
    let bowl = |cell: usize| {
        let (x, y) = ((cell % COLUMNS) as f64 / COLUMNS as f64 - 0.5, (cell / COLUMNS) as f64 / ROWS as f64 - 0.5);
        0.2 * (x * x + y * y)
    };
    HeightField { columns: COLUMNS, rows: ROWS, spacing_m: 0.01, heights_m: (0..COLUMNS * ROWS).map(bowl).collect() }
}

fn word_for_word(heights: &[f64], steps: usize) -> Vec<f64> {
    let mut face = heights.to_vec();
    for j in 0..heights.len() {
        for k in j + 1..heights.len().min(j + steps + 1) {
            for (x, height) in face.iter_mut().enumerate().take(k + 1).skip(j) {
                let line = heights[j] + (heights[k] - heights[j]) * (x - j) as f64 / (k - j) as f64;
                *height = height.max(line);
            }
        }
    }
    face
}
