//! Relief of a face: from a class by eye, ten gaps under a straight-edge, or a grid of offsets, to the depth a straightening coat must fill.
//!
//! A straight-edge rests on two high points; what lies under it is the fill. Between its two rests the hollow is taken as one arch of a sine, so that a
//! gap g at the deepest has a mean of g/2 and a depth of g·sin²(πq/2) at the share q of its length: the closed form of a straight-edge on a wavy wall.

mod flatness;
mod high_spots;
mod offsets;
mod placings;
mod random;
mod straightened;
mod surface;

pub use flatness::{Flatness, FlatnessRow, flatness};
pub use high_spots::{BROADEST_M, Dressing, HighSpot, dressing};
pub use offsets::read_offsets;
pub use placings::mean_face;
pub use random::{RandomRelief, Waves, waves_of_gaps};
pub use straightened::{Band, Pass, Ruling, Straightened, straighten, straighten_each};
pub(crate) use surface::findings as surface_findings;
pub use surface::{Surface, SurfaceAsked, UnderEdge, usual_laying};

use crate::straight_edge::{HeightField, Laid, ruled_face};
use crate::{Evenness, EvennessClass, Relief, Stage};

/// Length of the straight-edge with which a wall is surveyed, m.
pub const SURVEY_EDGE_M: f64 = 1.8;

/// Shortest and longest straight-edge the relief may be asked for, m.
const EDGES_M: (f64, f64) = (0.3, 4.0);

/// Mean, percentiles and deepest by eye, m: common practice, no source. The range of the mean is 0.6 to 1.6 of it.
fn by_eye(class: EvennessClass) -> (f64, [f64; 3], f64, &'static str) {
    match class {
        EvennessClass::Squared => (0.003, [0.001, 0.003, 0.006], 0.010, "squared, by eye"),
        EvennessClass::Coursed => (0.006, [0.002, 0.005, 0.012], 0.020, "coursed, by eye"),
        EvennessClass::Rubble => (0.012, [0.003, 0.010, 0.024], 0.040, "rubble, by eye"),
        EvennessClass::RoughRubble => (0.020, [0.006, 0.017, 0.039], 0.060, "rough rubble, by eye"),
    }
}

/// The relief under the survey's own edge of 1.8 m.
pub(crate) fn relief(evenness: &Evenness, stage: Stage) -> Relief {
    let mut found = match evenness {
        Evenness::Class { class } => from_class(class.value),
        Evenness::Gaps { gaps_m } => from_gaps(gaps_m),
        Evenness::Offsets { spacing_m, rows_m } => from_offsets(*spacing_m, rows_m),
        Evenness::Surface { surface } => surface.relief(),
    };
    if stage == Stage::BeforeStripping {
        // What is under the old covering has not been seen: common practice, no source.
        found.mean_range_m = (0.7 * found.mean_range_m.0, 1.5 * found.mean_range_m.1);
        found.basis.push_str("; before stripping, range widened");
    }
    found
}

fn from_class(class: EvennessClass) -> Relief {
    let (mean_m, percentiles_m, deepest_m, basis) = by_eye(class);
    let mean_range_m = (0.6 * mean_m, 1.6 * mean_m);
    Relief {
        mean_m,
        mean_range_m,
        percentiles_m,
        deepest_m,
        basis: basis.to_owned(),
        assumed: true,
        spread_m: Vec::new(),
        curve: Vec::new(),
    }
}

/// Steps along half an arch at which depths are taken.
const STEPS: u32 = 50;

fn from_gaps(gaps_m: &[f64]) -> Relief {
    let depths = sorted(gaps_m.iter().flat_map(|gap| {
        (0..STEPS).map(move |step| {
            let sine = libm::sin(std::f64::consts::FRAC_PI_2 * (f64::from(step) + 0.5) / f64::from(STEPS));
            gap * sine * sine
        })
    }));
    let gaps = sorted(gaps_m.iter().copied());
    let mean_gap = mean(&gaps);
    let error = STUDENT_90 * standard_error(&gaps, mean_gap);
    // The shape of the hollow between the rests is not seen: from two fifths (a pit with shoulders) to two thirds (a parabola) of the gap.
    let mean_range_m = (0.4 * (mean_gap - error).max(0.0), 2.0 / 3.0 * (mean_gap + error));
    Relief {
        mean_m: 0.5 * mean_gap,
        mean_range_m,
        percentiles_m: percentiles(&depths),
        deepest_m: gaps.last().copied().unwrap_or(0.0),
        basis: format!("{} gaps under a straight-edge of {SURVEY_EDGE_M} m", gaps_m.len()),
        assumed: false,
        spread_m: Vec::new(),
        curve: Vec::new(),
    }
}

/// Student's t for nine degrees of freedom, two-sided 90 % (ten gaps), from the usual tables.
const STUDENT_90: f64 = 1.833;

fn standard_error(values: &[f64], mean: f64) -> f64 {
    let count = values.len() as f64;
    let squares: f64 = values.iter().map(|v| (v - mean) * (v - mean)).sum();
    (squares / (count - 1.0).max(1.0) / count).sqrt()
}

fn from_offsets(spacing_m: f64, rows_m: &[Vec<f64>]) -> Relief {
    let (rows, columns) = (rows_m.len(), rows_m.first().map_or(0, Vec::len));
    let heights_m: Vec<f64> = rows_m.iter().flatten().map(|offset| -offset).collect();
    let field = HeightField { columns, rows, spacing_m, heights_m };
    let (laid, how) = laid(rows, columns, spacing_m);
    let ruled = ruled_face(&field, SURVEY_EDGE_M, laid);
    let depths = sorted(ruled.iter().zip(&field.heights_m).map(|(face, wall)| (face - wall).max(0.0)));
    let mean_m = mean(&depths);
    Relief {
        mean_m,
        // A coarse grid misses what lies between its points: common practice, no source.
        mean_range_m: (0.9 * mean_m, 1.35 * mean_m),
        percentiles_m: percentiles(&depths),
        deepest_m: depths.last().copied().unwrap_or(0.0),
        basis: format!("{} offsets {spacing_m} m apart, an edge of {SURVEY_EDGE_M} m laid {how}", depths.len()),
        assumed: false,
        spread_m: Vec::new(),
        curve: Vec::new(),
    }
}

/// Both ways where the grid is as wide and as high as the edge is long; otherwise along its longer side, for an edge across a strip of readings
/// finds nothing to bear on.
fn laid(rows: usize, columns: usize, spacing_m: f64) -> (Laid, &'static str) {
    let spans = |count: usize| count.saturating_sub(1) as f64 * spacing_m >= SURVEY_EDGE_M - 1e-9;
    match (spans(columns), spans(rows)) {
        (true, true) => (Laid::BothWays, "along and up"),
        _ if columns >= rows => (Laid::Across, "along"),
        _ => (Laid::Up, "up"),
    }
}

fn sorted(values: impl Iterator<Item = f64>) -> Vec<f64> {
    let mut all: Vec<f64> = values.collect();
    all.sort_by(f64::total_cmp);
    all
}

fn mean(sorted: &[f64]) -> f64 {
    if sorted.is_empty() { 0.0 } else { sorted.iter().sum::<f64>() / sorted.len() as f64 }
}

/// 10th, 50th and 90th percentile of sorted values, linear between.
fn percentiles(sorted: &[f64]) -> [f64; 3] {
    let at = |share: f64| {
        let place = share * sorted.len().saturating_sub(1) as f64;
        let below = place.floor() as usize;
        match (sorted.get(below), sorted.get(below + 1)) {
            (Some(low), Some(high)) => low + (place - below as f64) * (high - low),
            (Some(low), None) => *low,
            _ => 0.0,
        }
    };
    [at(0.1), at(0.5), at(0.9)]
}

impl Relief {
    /// The relief under a straight-edge of another length, m (taken within 0.3 to 4 m): the longer it is, the flatter the wall becomes and the more
    /// mortar it takes. Depths grow with the root of the length, as the limits of DIN 18202 table 3, row 6, do (5 mm in 1 m, 10 mm in 4 m); gaps under
    /// an edge of that length on the wall itself are better. Where the face was measured closely, it is ruled with an edge of that length instead.
    pub fn under(&self, edge_m: f64) -> Relief {
        let edge_m = if edge_m.is_nan() { SURVEY_EDGE_M } else { edge_m.clamp(EDGES_M.0, EDGES_M.1) };
        if let Some(ruled) = surface::between(&self.curve, edge_m) {
            return self.ruled(&ruled);
        }
        let factor = (edge_m / SURVEY_EDGE_M).sqrt();
        Relief {
            mean_m: factor * self.mean_m,
            mean_range_m: (factor * self.mean_range_m.0, factor * self.mean_range_m.1),
            percentiles_m: self.percentiles_m.map(|depth| factor * depth),
            deepest_m: factor * self.deepest_m,
            basis: if edge_m == SURVEY_EDGE_M { self.basis.clone() } else { format!("{}, brought to an edge of {edge_m} m", self.basis) },
            assumed: self.assumed,
            spread_m: Vec::new(),
            curve: Vec::new(),
        }
    }

    /// The relief as one of its ruled edges has it, with the same doubt as a share of the mean.
    fn ruled(&self, ruled: &UnderEdge) -> Relief {
        let share = |end_m: f64| if self.mean_m > 0.0 { end_m / self.mean_m } else { 1.0 };
        Relief {
            mean_m: ruled.mean_m,
            mean_range_m: (share(self.mean_range_m.0) * ruled.mean_m, share(self.mean_range_m.1) * ruled.mean_m),
            percentiles_m: ruled.percentiles_m,
            deepest_m: ruled.deepest_m,
            basis: format!("{}, ruled with an edge of {} m", self.basis, ruled.edge_m),
            assumed: self.assumed,
            spread_m: ruled.spread_m.clone(),
            curve: self.curve.clone(),
        }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used)]
    use super::*;
    use proptest::prelude::*;

    /// Depths under an edge along one line of offsets.
    fn fill_under_edge(offsets_m: &[f64], spacing_m: f64, edge_m: f64) -> Vec<f64> {
        let heights_m: Vec<f64> = offsets_m.iter().map(|offset| -offset).collect();
        let field = HeightField { columns: offsets_m.len(), rows: 1, spacing_m, heights_m };
        ruled_face(&field, edge_m, Laid::Across).iter().zip(&field.heights_m).map(|(face, wall)| face - wall).collect()
    }

    /// exact solution: on a sine wall of amplitude A and wave λ the gap under an edge of length L ≤ λ centred on a hollow is A(1 − cos(πL/λ)).
    #[test]
    fn a_straight_edge_on_a_sine_wall() {
        let (amplitude, wave, spacing) = (0.005, 4.0, 0.02);
        let offsets: Vec<f64> =
            (0..=400).map(|i| amplitude * (1.0 + libm::cos(2.0 * std::f64::consts::PI * f64::from(i) * spacing / wave))).collect();
        for (edge, exact) in [(1.0, 0.001_464), (2.0, 0.005), (3.0, 0.008_536), (4.0, 0.010)] {
            let deepest = fill_under_edge(&offsets, spacing, edge).into_iter().fold(0.0, f64::max);
            assert!((deepest - exact).abs() < 1e-4, "edge {edge}: {deepest} for {exact}");
        }
    }

    #[test]
    fn gaps_of_one_size_are_one_arch() {
        let relief = from_gaps(&[0.02; 10]);
        assert!((relief.mean_m - 0.01).abs() < 1e-15);
        assert!((relief.percentiles_m[1] - 0.01).abs() < 3e-4, "half way along the arch it is half as deep: {:?}", relief.percentiles_m);
        assert!(relief.mean_range_m.0 < relief.mean_m && relief.mean_m < relief.mean_range_m.1);
    }

    /// published: DIN 18202 table 3 row 6 allows 5 mm under 1 m and 10 mm under 4 m.
    #[test]
    fn longer_edges_ask_more_as_the_standard_does() {
        let relief = from_gaps(&[0.01; 10]);
        assert!((relief.under(4.0).mean_m / relief.under(1.0).mean_m - 10.0 / 5.0).abs() < 1e-12);
        assert_eq!(relief.under(SURVEY_EDGE_M), relief);
    }

    proptest! {
        #[test]
        fn a_plane_however_tilted_needs_no_fill(start in -1.0f64..1.0, tilt in -0.1f64..0.1, count in 3usize..40) {
            let line: Vec<f64> = (0..count).map(|i| start + tilt * i as f64).collect();
            prop_assert!(fill_under_edge(&line, 0.3, 1.8).iter().all(|d| d.abs() < 1e-12));
        }

        #[test]
        fn percentiles_rise_and_stay_below_the_deepest(gaps in prop::collection::vec(0.0f64..0.06, 3..20)) {
            let r = from_gaps(&gaps);
            prop_assert!(r.percentiles_m[0] <= r.percentiles_m[1] && r.percentiles_m[1] <= r.percentiles_m[2] && r.percentiles_m[2] <= r.deepest_m);
            prop_assert!(r.mean_range_m.0 <= r.mean_m && r.mean_m <= r.mean_range_m.1);
        }
    }
}
