//! A layer cut into cells.

use super::data::{LayerGrid, TrialLayer};
use crate::CuringError;

/// Most cells in a column: more is a slip of the pen.
const MOST_CELLS: usize = 20_000;

/// Refuses a column of more cells than can be meant.
pub(super) fn check_count(cells: usize) -> Result<(), CuringError> {
    if cells <= MOST_CELLS {
        return Ok(());
    }
    Err(CuringError::OutOfRange {
        place: "The column".to_owned(),
        what: "the number of cells".to_owned(),
        found: cells as f64,
        allowed: format!("at most {MOST_CELLS}"),
        remedy: "Use fewer layers or wider cells.".to_owned(),
    })
}

/// Thicknesses of a layer's cells from its outer edge inwards, m; they make its thickness.
pub(super) fn cells_m(layer: &TrialLayer) -> Result<Vec<f64>, CuringError> {
    match layer.grid {
        LayerGrid::Even { cells } if cells > 0 && cells <= MOST_CELLS => Ok(vec![layer.thickness_m / cells as f64; cells]),
        LayerGrid::Even { cells } => Err(too_many(layer, cells as f64)),
        LayerGrid::Graded { first_m, last_m, growth, greatest_m } => graded(layer, first_m, last_m, growth, greatest_m),
    }
}

/// Grows cells from the edges, always adding beside the thinner neighbour, until they fill the layer; then all are narrowed by one factor to fit.
fn graded(layer: &TrialLayer, first_m: f64, last_m: Option<f64>, growth: f64, greatest_m: f64) -> Result<Vec<f64>, CuringError> {
    let mut outer = vec![first_m.min(greatest_m)];
    let mut inner: Vec<f64> = last_m.iter().map(|last| last.min(greatest_m)).collect();
    let mut filled: f64 = outer.iter().sum::<f64>() + inner.iter().sum::<f64>();
    while filled < layer.thickness_m {
        let next = |cells: &[f64]| cells.last().map(|cell| (cell * growth).min(greatest_m));
        let (from_outside, from_inside) = (next(&outer).unwrap_or(greatest_m), next(&inner));
        match from_inside {
            Some(cell) if cell < from_outside => {
                inner.push(cell);
                filled += cell;
            }
            _ => {
                outer.push(from_outside);
                filled += from_outside;
            }
        }
        if outer.len() + inner.len() > MOST_CELLS {
            return Err(too_many(layer, layer.thickness_m / first_m));
        }
    }
    let fit = layer.thickness_m / filled;
    Ok(outer.into_iter().chain(inner.into_iter().rev()).map(|cell| cell * fit).collect())
}

fn too_many(layer: &TrialLayer, found: f64) -> CuringError {
    CuringError::OutOfRange {
        place: format!("Layer “{}”", layer.name),
        what: "the number of cells".to_owned(),
        found,
        allowed: format!("1 to {MOST_CELLS}"),
        remedy: "Widen the first cell, the growth or the greatest cell.".to_owned(),
    }
}
