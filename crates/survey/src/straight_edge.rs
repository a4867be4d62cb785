//! The straight-edge model: where the face of a coat lies when it is ruled off by an edge that bears on the wall's high spots. It knows heights
//! on a grid and a length of edge; it must never know a mortar or a price.
//!
//! **Definition** (our own). For an edge of length L the ruled face at a point is the highest line that an edge of at most L, bearing on two
//! points of the wall on either side of the point, passes over it:
//! f(x) = max over chords (j, k) with j ≤ x ≤ k and k − j ≤ L of the chord's height at x. So f never lies below the wall, never falls as L
//! grows, equals the wall for L = 0 and its upper hull for L at least the wall's length. Least cover is added by the caller.
//!
//! **Method.** Every chord that can be highest is an edge of the upper hull of some window of length L. Cut the line at every multiple of L: a
//! window then holds exactly one cut, or two at its ends, and its hull is a hull grown leftwards from the cut, one grown rightwards, and at
//! most one bridge between them. Growing a hull by one point makes one edge, so at most three edges a point need be laid on the line:
//! those of the left hulls, of the right hulls, and the bridges. Their number does not grow with L; laying them down does, by one
//! subtraction and one comparison a cell.

use rayon::prelude::*;

/// Height that stands for "no wall here": far below any wall, so that no edge ever bears on it, yet finite.
const NO_WALL_M: f64 = -1.0e9;

/// Heights of a wall face on a square grid, metres towards the weather; row by row. `NAN` where there is no wall (an opening, a hole in a scan).
#[derive(Clone, Debug, PartialEq)]
pub struct HeightField {
    /// Cells in a row.
    pub columns: usize,
    /// Rows.
    pub rows: usize,
    /// Side of a cell, m.
    pub spacing_m: f64,
    /// Heights, `rows × columns` of them.
    pub heights_m: Vec<f64>,
}

/// Which way the edge is laid.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Laid {
    /// Along the rows.
    Across,
    /// Along the columns.
    Up,
    /// Both ways, the lower of the two: the face a darby leaves when it is worked across and up.
    BothWays,
}

/// The ruled face over `field` under an edge of `edge_m`, m, cell by cell; `NAN` where there is no wall.
pub fn ruled_face(field: &HeightField, edge_m: f64, laid: Laid) -> Vec<f64> {
    match laid {
        Laid::Across => ruled_rows(&field.heights_m, field.columns, steps(edge_m, field.spacing_m)),
        Laid::Up => {
            let turned = transposed(&field.heights_m, field.columns);
            let ruled = ruled_rows(&turned, field.rows, steps(edge_m, field.spacing_m));
            transposed(&ruled, field.rows)
        }
        Laid::BothWays => {
            let (mut across, up) = rayon::join(|| ruled_face(field, edge_m, Laid::Across), || ruled_face(field, edge_m, Laid::Up));
            across.iter_mut().zip(&up).for_each(|(lower, other)| *lower = if *other < *lower { *other } else { *lower });
            across
        }
    }
}

/// Whole steps of the grid that an edge spans. A step that the edge misses by rounding alone counts.
pub(crate) fn steps(edge_m: f64, spacing_m: f64) -> usize {
    let steps = edge_m / spacing_m + 1.0e-9;
    if steps.is_finite() && steps > 0.0 { steps as usize } else { 0 }
}

fn ruled_rows(heights_m: &[f64], columns: usize, steps: usize) -> Vec<f64> {
    let mut faces = vec![0.0; heights_m.len()];
    if columns > 0 {
        faces
            .par_chunks_mut(columns)
            .zip(heights_m.par_chunks(columns))
            .for_each_init(|| Ruler::new(columns), |ruler, (face, heights)| ruler.rule(heights, steps, face));
    }
    faces
}

pub(crate) fn transposed(values: &[f64], columns: usize) -> Vec<f64> {
    const TILE: usize = 32;
    let rows = values.len().checked_div(columns).unwrap_or(0);
    let mut turned = vec![0.0; values.len()];
    if rows > 0 {
        turned.par_chunks_mut(rows * TILE).enumerate().for_each(|(band, out)| {
            for first_row in (0..rows).step_by(TILE) {
                for (offset, line) in out.chunks_mut(rows).enumerate() {
                    let column = band * TILE + offset;
                    for row in first_row..(first_row + TILE).min(rows) {
                        line[row] = values[row * columns + column];
                    }
                }
            }
        });
    }
    turned
}

/// Room for ruling one line after another without asking for memory again.
struct Ruler {
    heights: Vec<f64>,
    /// 0, 1, 2 …: counted once, for turning an integer into a number costs more than the rest of a cell's work.
    places: Vec<f64>,
    left: LeftHull,
    right: Vec<usize>,
}

impl Ruler {
    fn new(points: usize) -> Self {
        let places = (0..points).map(|place| place as f64).collect();
        Self { heights: Vec::with_capacity(points), places, left: LeftHull::default(), right: Vec::with_capacity(points) }
    }

    /// Rules one line of heights into `face`.
    fn rule(&mut self, heights: &[f64], steps: usize, face: &mut [f64]) {
        self.heights.clear();
        self.heights.extend(heights.iter().map(|height| if height.is_finite() { *height } else { NO_WALL_M }));
        face.copy_from_slice(&self.heights);
        let span = steps.min(heights.len().saturating_sub(1));
        if span > 1 {
            for cut in (0..heights.len()).step_by(span) {
                self.rule_about(cut, span, face);
            }
        }
        for (laid, height) in face.iter_mut().zip(heights) {
            if !height.is_finite() {
                *laid = f64::NAN;
            }
        }
    }

    /// Lays every edge that windows of `span` steps holding the point `cut` may need.
    fn rule_about(&mut self, cut: usize, span: usize, face: &mut [f64]) {
        let (heights, places) = (self.heights.as_slice(), self.places.as_slice());
        let last = heights.len() - 1;
        let first = (cut + 1).saturating_sub(span);
        self.left.grow(heights, cut, first, |from, to| lay(heights, places, from, to, face));
        self.right.clear();
        self.right.push(cut);
        let mut grown = cut;
        let mut before = (cut, cut);
        for start in first..=cut {
            while grown < (start + span).min(last) {
                grown += 1;
                let under = push(&mut self.right, grown, |a, b, c| is_below(heights, a, b, c));
                lay(heights, places, under, grown, face);
            }
            if let Some(bridge) = bridge(heights, self.left.hull(), &self.right)
                && bridge != before
            {
                lay(heights, places, bridge.0, bridge.1, face);
                before = bridge;
            }
            self.left.forget();
        }
    }
}

/// Raises `face` to the line from point `from` to point `to`; `places` counts 0, 1, 2 …
fn lay(heights: &[f64], places: &[f64], from: usize, to: usize, face: &mut [f64]) {
    if to - from < 2 {
        return;
    }
    let slope = (heights[to] - heights[from]) / places[to - from];
    let low = heights[from];
    for (height, place) in face[from + 1..to].iter_mut().zip(&places[1..]) {
        let line = low + slope * place;
        *height = if line > *height { line } else { *height };
    }
}

/// True if point `b` lies on or below the line from `a` to `c`; a < b < c.
fn is_below(heights: &[f64], a: usize, b: usize, c: usize) -> bool {
    (heights[b] - heights[a]) * (c - a) as f64 <= (heights[c] - heights[a]) * (b - a) as f64
}

/// Pushes `point` on a hull, dropping what it hides; returns the point it now stands on.
fn push(hull: &mut Vec<usize>, point: usize, hides: impl Fn(usize, usize, usize) -> bool) -> usize {
    while hull.len() > 1 && hides(hull[hull.len() - 2], hull[hull.len() - 1], point) {
        hull.pop();
    }
    let under = hull[hull.len() - 1];
    hull.push(point);
    under
}

/// The upper hull grown leftwards from a cut, which can forget its leftmost point again and stand as it stood before it.
#[derive(Default)]
struct LeftHull {
    stack: Vec<usize>,
    len: usize,
    /// For each point pushed: where it was put and what stood there.
    overwritten: Vec<(usize, usize)>,
}

impl LeftHull {
    /// Grows from `cut` to `first`, telling each new edge (left, right).
    fn grow(&mut self, heights: &[f64], cut: usize, first: usize, mut edge: impl FnMut(usize, usize)) {
        self.stack.clear();
        self.overwritten.clear();
        self.stack.push(cut);
        self.len = 1;
        for point in (first..cut).rev() {
            let mut keep = self.len;
            while keep > 1 && is_below(heights, point, self.stack[keep - 1], self.stack[keep - 2]) {
                keep -= 1;
            }
            edge(point, self.stack[keep - 1]);
            self.overwritten.push((keep, self.stack.get(keep).copied().unwrap_or(point)));
            if keep < self.stack.len() {
                self.stack[keep] = point;
            } else {
                self.stack.push(point);
            }
            self.len = keep + 1;
        }
    }

    fn hull(&self) -> &[usize] {
        &self.stack[..self.len]
    }

    /// Takes the leftmost point away.
    fn forget(&mut self) {
        if let Some((place, stood)) = self.overwritten.pop() {
            self.stack[place] = stood;
            self.len = self.overwritten.last().map_or(1, |(place, _)| place + 1);
        }
    }
}

/// The edge that spans the cut of two hulls sharing it, if the cut is hidden under one. Both start at the cut; `left` runs leftwards.
fn bridge(heights: &[f64], left: &[usize], right: &[usize]) -> Option<(usize, usize)> {
    let (Some(&near_left), Some(&near_right)) = (left.get(1), right.get(1)) else { return None };
    if !is_below(heights, near_left, left[0], near_right) {
        return None;
    }
    // On the left hull, the outward neighbour stands above the line to the right hull until the bridge is reached.
    let (mut low, mut high) = (1, left.len() - 1);
    while low < high {
        let middle = usize::midpoint(low, high);
        let touch = touching(heights, left[middle], right);
        if is_below(heights, left[middle + 1], left[middle], touch) {
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    Some((left[low], touching(heights, left[low], right)))
}

/// The point of the right hull that the line from `from`, left of it, touches from above.
fn touching(heights: &[f64], from: usize, right: &[usize]) -> usize {
    let (mut low, mut high) = (1, right.len() - 1);
    while low < high {
        let middle = usize::midpoint(low, high);
        if is_below(heights, from, right[middle], right[middle + 1]) {
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    right[low]
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]

    use proptest::prelude::*;

    use super::*;

    /// The definition, taken word for word.
    fn naive(heights: &[f64], steps: usize) -> Vec<f64> {
        let n = heights.len();
        let chord = |j: usize, k: usize, x: usize| {
            if j == k { heights[j] } else { heights[j] + (heights[k] - heights[j]) * (x - j) as f64 / (k - j) as f64 }
        };
        (0..n)
            .map(|x| {
                let js = x.saturating_sub(steps)..=x;
                js.flat_map(|j| (x..n.min(j + steps + 1)).map(move |k| (j, k))).map(|(j, k)| chord(j, k, x)).fold(heights[x], f64::max)
            })
            .collect()
    }

    fn ruled(heights: &[f64], steps: usize) -> Vec<f64> {
        let field = HeightField { columns: heights.len(), rows: 1, spacing_m: 1.0, heights_m: heights.to_vec() };
        ruled_face(&field, steps as f64, Laid::Across)
    }

    fn close(ours: &[f64], other: &[f64]) -> bool {
        ours.iter().zip(other).all(|(a, b)| (a - b).abs() < 1e-9)
    }

    proptest! {
        #[test]
        fn equals_the_definition(heights in prop::collection::vec(-0.05..0.05_f64, 1..70), steps in 0_usize..80) {
            prop_assert!(close(&ruled(&heights, steps), &naive(&heights, steps)));
        }

        #[test]
        fn equals_the_definition_on_steps_and_flats(heights in prop::collection::vec(prop::sample::select(vec![0.0, 0.01, 0.02]), 1..60), steps in 0_usize..70) {
            prop_assert!(close(&ruled(&heights, steps), &naive(&heights, steps)));
        }

        #[test]
        fn a_longer_edge_never_takes_less(heights in prop::collection::vec(-0.05..0.05_f64, 2..50), steps in 1_usize..40) {
            let (shorter, longer) = (ruled(&heights, steps), ruled(&heights, steps + 3));
            prop_assert!(shorter.iter().zip(&longer).all(|(a, b)| *b >= *a - 1e-12));
        }

        #[test]
        fn a_mirrored_wall_gives_a_mirrored_face(heights in prop::collection::vec(-0.05..0.05_f64, 2..50), steps in 1_usize..40) {
            let mut mirrored = heights.clone();
            mirrored.reverse();
            let mut back = ruled(&mirrored, steps);
            back.reverse();
            prop_assert!(close(&ruled(&heights, steps), &back));
        }
    }

    #[test]
    fn a_hole_bears_nothing_and_is_bridged() {
        let face = ruled(&[0.0, f64::NAN, f64::NAN, -0.02, 0.0], 4);
        assert!(face[1].is_nan() && face[2].is_nan());
        assert!((face[3] - 0.0).abs() < 1e-12, "the edge rests on both sides of the hole: {}", face[3]);
        let alone = ruled(&[0.0, f64::NAN, f64::NAN, -0.02, -0.03], 1);
        assert!((alone[3] + 0.02).abs() < 1e-12);
    }

    #[test]
    fn both_ways_is_the_lower_of_the_two() {
        // Ridges along the columns: across them the edge bridges, along them it follows.
        let heights_m = (0..100).map(|cell| if (cell % 10) % 3 == 0 { 0.0 } else { -0.01 }).collect();
        let field = HeightField { columns: 10, rows: 10, spacing_m: 0.1, heights_m };
        assert!(close(&ruled_face(&field, 0.5, Laid::BothWays), &field.heights_m));
        assert!(ruled_face(&field, 0.5, Laid::Across)[1].abs() < 1e-12);
    }

    #[test]
    fn an_empty_field_is_an_empty_face() {
        let field = HeightField { columns: 0, rows: 0, spacing_m: 0.01, heights_m: Vec::new() };
        assert!(ruled_face(&field, 1.0, Laid::BothWays).is_empty());
    }
}
