//! The mean face over all placings of the edge: what bays ruled end to end give on average, beside the highest face that `straight_edge` gives.
//! It must never stand for the face of a wall ruled with care, which bears on the high spots wherever they are.
//!
//! **Definition.** Bays of length L stand end to end; in each the face is the upper hull of the wall within it. Bays can begin at any of the L
//! steps of the grid; the mean face is the mean over those beginnings. It never lies below the wall nor above the ruled face.

use rayon::prelude::*;

use crate::straight_edge::{HeightField, Laid, steps, transposed};

/// Mean over placings of the face under bays of `edge_m`, m, cell by cell; `NAN` where there is no wall.
pub fn mean_face(field: &HeightField, edge_m: f64, laid: Laid) -> Vec<f64> {
    let steps = steps(edge_m, field.spacing_m);
    match laid {
        Laid::Across => mean_rows(&field.heights_m, field.columns, steps),
        Laid::Up => transposed(&mean_rows(&transposed(&field.heights_m, field.columns), field.rows, steps), field.rows),
        Laid::BothWays => {
            let mut across = mean_face(field, edge_m, Laid::Across);
            let up = mean_face(field, edge_m, Laid::Up);
            across.iter_mut().zip(&up).for_each(|(lower, other)| *lower = if *other < *lower { *other } else { *lower });
            across
        }
    }
}

fn mean_rows(heights_m: &[f64], columns: usize, steps: usize) -> Vec<f64> {
    let mut faces = heights_m.to_vec();
    if columns > 1 && steps > 1 {
        faces.par_chunks_mut(columns).zip(heights_m.par_chunks(columns)).for_each_init(Vec::new, |hull, (face, heights)| {
            mean_line(heights, steps, hull, face);
        });
    }
    faces
}

/// One line: for each beginning of the bays, the hull of every bay.
fn mean_line(heights: &[f64], steps: usize, hull: &mut Vec<usize>, face: &mut [f64]) {
    let last = heights.len() - 1;
    let mut fills = vec![0.0; heights.len()];
    for beginning in 1..=steps {
        let mut from = 0;
        let mut to = beginning.min(last);
        while from < last {
            fill_bay(heights, from, to, hull, &mut fills);
            from = to;
            to = (to + steps).min(last);
        }
    }
    for (height, fill) in face.iter_mut().zip(&fills) {
        *height += fill / steps as f64;
    }
}

/// Adds what the hull of the bay from `from` to `to` stands above the wall.
fn fill_bay(heights: &[f64], from: usize, to: usize, hull: &mut Vec<usize>, fills: &mut [f64]) {
    upper_hull(heights, from, to, hull);
    for edge in hull.windows(2) {
        let (left, right) = (edge[0], edge[1]);
        let slope = (heights[right] - heights[left]) / (right - left) as f64;
        for point in left + 1..right {
            let fill = heights[left] + slope * (point - left) as f64 - heights[point];
            if fill > 0.0 {
                fills[point] += fill;
            }
        }
    }
}

/// Upper hull of the points `from` to `to`, both counted; what is no wall bears nothing.
pub(crate) fn upper_hull(heights: &[f64], from: usize, to: usize, hull: &mut Vec<usize>) {
    hull.clear();
    for point in (from..=to).filter(|point| heights[*point].is_finite()) {
        while let [.., a, b] = hull[..]
            && (heights[b] - heights[a]) * (point - a) as f64 <= (heights[point] - heights[a]) * (b - a) as f64
        {
            hull.pop();
        }
        hull.push(point);
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use crate::straight_edge::ruled_face;
    use proptest::prelude::*;

    fn line(heights: &[f64]) -> HeightField {
        HeightField { columns: heights.len(), rows: 1, spacing_m: 1.0, heights_m: heights.to_vec() }
    }

    /// exact solution: in a groove of depth D one step wide, every bay that spans it fills it wholly; the one beginning in it does not.
    #[test]
    fn a_groove_is_filled_by_all_bays_but_one() {
        let mut heights = vec![0.0; 41];
        heights[20] = -0.02;
        let mean = mean_face(&line(&heights), 10.0, Laid::Across);
        assert!((mean[20] - (-0.02 + 0.02 * 9.0 / 10.0)).abs() < 1e-15);
    }

    proptest! {
        #[test]
        fn it_lies_between_the_wall_and_the_ruled_face(heights in prop::collection::vec(-0.05..0.05_f64, 2..50), steps in 1_usize..60) {
            let field = line(&heights);
            let (mean, ruled) = (mean_face(&field, steps as f64, Laid::Across), ruled_face(&field, steps as f64, Laid::Across));
            for ((mean, ruled), wall) in mean.iter().zip(&ruled).zip(&heights) {
                prop_assert!(*mean >= *wall && *mean <= ruled + 1e-12);
            }
        }
    }
}
