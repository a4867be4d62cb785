//! High spots worth dressing off first: a sharp high spot lifts a tent of mortar round itself as long as the edge. It finds such spots and reckons what
//! taking them down saves; it must never decide that a stone may be cut.
//!
//! A spot is what stands above the opening of the face by a square of [`BROADEST_M`] (the highest surface under which such a square fits everywhere):
//! anything narrower. Dressing takes it down by the asked depth, but never below that opening.

use serde::Serialize;

use super::straightened::{Ruling, straighten};
use crate::straight_edge::{HeightField, ruled_face, transposed};

/// A spot narrower than this is a high spot, m; what is broader is the wall.
pub const BROADEST_M: f64 = 0.20;

/// Least height of a spot that is told, m.
const LEAST_M: f64 = 0.002;

/// Spots whose saving is reckoned one by one: those that stand proudest.
const MOST_SPOTS: usize = 24;

/// One high spot.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct HighSpot {
    /// From the left end of the field to its highest point, m.
    pub along_m: f64,
    /// From the foot of the field, m.
    pub up_m: f64,
    /// How far it stands above what is round it, m.
    pub proud_m: f64,
    /// Mortar saved by taking the asked depth off this spot alone, m³.
    pub saved_m3: f64,
}

/// What dressing off saves.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Dressing {
    /// Depth taken off, m, at most.
    pub depth_m: f64,
    /// The spots, the most saving first.
    pub spots: Vec<HighSpot>,
    /// Area dressed when all of them are, m².
    pub dressed_m2: f64,
    /// Mortar saved when every spot of the face is dressed, m³.
    pub saved_m3: f64,
}

/// What taking up to `depth_m`, m, off the high spots of `field` saves under `ruling`.
pub fn dressing(field: &HeightField, ruling: &Ruling, depth_m: f64) -> Dressing {
    let opened = opening(field, BROADEST_M);
    let proud: Vec<f64> = field.heights_m.iter().zip(&opened).map(|(wall, opened)| wall - opened).collect();
    let dressed = lowered(field, &proud, depth_m, |_| true);
    let whole = straighten(field, ruling).volume_m3;
    // Taken off the stone, the dressed cells themselves take no more mortar unless the face stays where it was.
    let saved_m3 = whole - straighten(&dressed, ruling).volume_m3;
    let mut spots: Vec<HighSpot> = proudest(field, &proud).into_iter().map(|cell| spot(field, ruling, &proud, depth_m, cell)).collect();
    spots.sort_by(|a, b| b.saved_m3.total_cmp(&a.saved_m3));
    let cells = field.heights_m.iter().zip(&dressed.heights_m).filter(|(wall, dressed)| dressed < wall).count();
    Dressing { depth_m, spots, dressed_m2: cells as f64 * field.spacing_m * field.spacing_m, saved_m3 }
}

fn lowered(field: &HeightField, proud: &[f64], depth_m: f64, chosen: impl Fn(usize) -> bool) -> HeightField {
    let heights_m = field
        .heights_m
        .iter()
        .zip(proud)
        .enumerate()
        .map(|(cell, (wall, proud))| if *proud > LEAST_M && chosen(cell) { wall - proud.min(depth_m.max(0.0)) } else { *wall })
        .collect();
    HeightField { heights_m, ..*field }
}

/// Cells that stand proudest within [`BROADEST_M`] of themselves, the proudest first.
fn proudest(field: &HeightField, proud: &[f64]) -> Vec<usize> {
    let mut cells: Vec<usize> = (0..proud.len()).filter(|cell| proud[*cell] > LEAST_M).collect();
    cells.sort_by(|a, b| proud[*b].total_cmp(&proud[*a]).then(a.cmp(b)));
    let reach = reach(field);
    let mut taken: Vec<usize> = Vec::new();
    for cell in cells {
        let far = |other: &usize| {
            (cell % field.columns).abs_diff(other % field.columns) > reach || (cell / field.columns).abs_diff(other / field.columns) > reach
        };
        if taken.iter().all(far) {
            taken.push(cell);
            if taken.len() == MOST_SPOTS {
                break;
            }
        }
    }
    taken
}

fn reach(field: &HeightField) -> usize {
    ((BROADEST_M / field.spacing_m).round() as usize).max(1)
}

/// The saving of one spot, reckoned on the part of the face that its tent can reach.
fn spot(field: &HeightField, ruling: &Ruling, proud: &[f64], depth_m: f64, cell: usize) -> HighSpot {
    let (column, row) = (cell % field.columns, cell / field.columns);
    let reach = reach(field);
    // A chord that bears on the spot ends within an edge of it, and so do all chords over the cells it touches.
    let margin = reach + 2 * crate::straight_edge::steps(ruling.edge_m, field.spacing_m);
    let columns = column.saturating_sub(margin)..(column + margin + 1).min(field.columns);
    let rows = row.saturating_sub(margin)..(row + margin + 1).min(field.rows);
    let part = |heights: &[f64]| HeightField {
        columns: columns.len(),
        rows: rows.len(),
        spacing_m: field.spacing_m,
        heights_m: rows.clone().flat_map(|row| heights[row * field.columns + columns.start..][..columns.len()].iter().copied()).collect(),
    };
    let near = |other: usize| (other % field.columns).abs_diff(column) <= reach / 2 && (other / field.columns).abs_diff(row) <= reach / 2;
    let wall = part(&field.heights_m);
    let mut dressed = wall.clone();
    for (place, height) in dressed.heights_m.iter_mut().enumerate() {
        let whole = (rows.start + place / columns.len()) * field.columns + columns.start + place % columns.len();
        if proud[whole] > LEAST_M && near(whole) {
            *height -= proud[whole].min(depth_m.max(0.0));
        }
    }
    let fill = |part: &HeightField| {
        let face = ruled_face(part, ruling.edge_m, ruling.laid);
        face.iter().zip(&part.heights_m).filter(|(face, _)| face.is_finite()).map(|(face, wall)| face - wall).sum::<f64>()
    };
    HighSpot {
        along_m: (column as f64 + 0.5) * field.spacing_m,
        up_m: (row as f64 + 0.5) * field.spacing_m,
        proud_m: proud[cell],
        saved_m3: (fill(&wall) - fill(&dressed)) * field.spacing_m * field.spacing_m,
    }
}

/// Opening of the face by a square of side `side_m`: the least height within the square, then the greatest of those; no wall stands aside. A tilt of
/// the whole field is taken out first, for a square on a slope would find the slope proud.
fn opening(field: &HeightField, side_m: f64) -> Vec<f64> {
    let half = (side_m / field.spacing_m / 2.0).round() as usize;
    let tilt = tilt(field);
    let level: Vec<f64> = field.heights_m.iter().zip(&tilt).map(|(height, tilt)| height - tilt).collect();
    let lowest = both_ways(&level, field, half, f64::INFINITY, f64::min);
    let opened = both_ways(&lowest, field, half, f64::NEG_INFINITY, f64::max);
    opened.iter().zip(&tilt).zip(&field.heights_m).map(|((opened, tilt), wall)| (opened + tilt).min(*wall) + 0.0 * wall).collect()
}

fn both_ways(values: &[f64], field: &HeightField, half: usize, nothing: f64, of: fn(f64, f64) -> f64) -> Vec<f64> {
    let across = sliding(values, field.columns, half, nothing, of);
    transposed(&sliding(&transposed(&across, field.columns), field.rows, half, nothing, of), field.rows)
}

/// Least or greatest within `half` cells either side along rows; what is not a number is passed over.
fn sliding(values: &[f64], columns: usize, half: usize, nothing: f64, of: fn(f64, f64) -> f64) -> Vec<f64> {
    let mut out = Vec::with_capacity(values.len());
    if columns > 0 {
        for line in values.chunks_exact(columns) {
            out.extend((0..columns).map(|x| line[x.saturating_sub(half)..(x + half + 1).min(columns)].iter().copied().fold(nothing, of)));
        }
    }
    out
}

/// The least-squares tilt of the field at every cell.
fn tilt(field: &HeightField) -> Vec<f64> {
    let (middle_x, middle_y) = (0.5 * field.columns as f64, 0.5 * field.rows as f64);
    let place = |cell: usize| ((cell % field.columns) as f64 - middle_x, (cell / field.columns) as f64 - middle_y);
    let mut sums = [0.0; 9];
    for (cell, height) in field.heights_m.iter().enumerate().filter(|(_, height)| height.is_finite()) {
        let (x, y) = place(cell);
        for (sum, term) in sums.iter_mut().zip([1.0, x, y, x * x, x * y, y * y, *height, x * height, y * height]) {
            *sum += term;
        }
    }
    let [n, x, y, xx, xy, yy, h, xh, yh] = sums;
    let (xx, xy, yy) = (xx - x * x / n, xy - x * y / n, yy - y * y / n);
    let (xh, yh) = (xh - x * h / n, yh - y * h / n);
    let determinant = xx * yy - xy * xy;
    let (along, up) = if determinant.abs() > 1e-12 * xx * yy {
        ((xh * yy - yh * xy) / determinant, (yh * xx - xh * xy) / determinant)
    } else {
        (if xx > 0.0 { xh / xx } else { 0.0 }, if xx > 0.0 || yy <= 0.0 { 0.0 } else { yh / yy })
    };
    (0..field.heights_m.len()).map(|cell| along * place(cell).0 + up * place(cell).1).collect()
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use crate::straight_edge::Laid;

    fn with_peak() -> HeightField {
        let mut heights_m: Vec<f64> = (0..300 * 60).map(|cell| 0.001 * f64::from(cell % 300) * 0.01).collect();
        heights_m[30 * 300 + 150] += 0.02;
        HeightField { columns: 300, rows: 60, spacing_m: 0.01, heights_m }
    }

    /// exact solution: laid across alone, a peak of height A one cell wide lifts A·(L − cell) along its row; taking a quarter of it off saves a quarter.
    #[test]
    fn a_sharp_spot_is_found_and_its_tent_saved() {
        let ruling = Ruling { edge_m: 1.2, laid: Laid::Across, least_cover_m: 0.0, pass_m: 0.015, pinning_m: 0.04 };
        let found = dressing(&with_peak(), &ruling, 0.005);
        assert_eq!(found.spots.len(), 1, "{found:?}");
        let spot = found.spots[0];
        assert!((spot.along_m - 1.505).abs() < 1e-9 && (spot.up_m - 0.305).abs() < 1e-9 && (spot.proud_m - 0.02).abs() < 1e-4, "{spot:?}");
        let exact = 0.005 * (1.2 - 0.01) * 0.01;
        assert!((spot.saved_m3 - exact).abs() < 1e-9, "{} for {exact}", spot.saved_m3);
        assert!((found.saved_m3 - spot.saved_m3).abs() < 1e-12);
    }

    #[test]
    fn a_slope_and_a_broad_bulge_are_no_spots() {
        let heights_m =
            (0..300 * 60).map(|cell| 0.05 * f64::from(cell % 300) / 300.0 - 0.01 * (f64::from(cell % 300) / 150.0 - 1.0).powi(2)).collect();
        let field = HeightField { columns: 300, rows: 60, spacing_m: 0.01, heights_m };
        let ruling = Ruling { edge_m: 1.2, laid: Laid::BothWays, least_cover_m: 0.0, pass_m: 0.015, pinning_m: 0.04 };
        assert!(dressing(&field, &ruling, 0.01).spots.is_empty());
    }
}
