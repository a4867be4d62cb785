//! What a straightening coat takes on a height field: depth cell by cell, area, volume, area by thickness, passes and dubbing out, and how all
//! that grows with the length of the edge. Limits of thickness come in as numbers; it must never know a mortar, a coat of the specification or a
//! price.

use serde::Serialize;

use super::{mean, percentiles, sorted};
use crate::straight_edge::{HeightField, Laid, ruled_face};

/// How the coat is to be ruled.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ruling {
    /// Length of the straight-edge, m.
    pub edge_m: f64,
    /// Which way it is laid.
    pub laid: Laid,
    /// Least cover over the highest spots, m.
    pub least_cover_m: f64,
    /// Thickest that goes on in one pass, m; what is deeper is dubbed out first.
    pub pass_m: f64,
    /// Depth above which pinning stones are bedded in the dubbing, m.
    pub pinning_m: f64,
}

/// A band of thickness and what lies in it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Band {
    /// From this thickness, m.
    pub from_m: f64,
    /// To below this, m.
    pub to_m: f64,
    /// Area, m².
    pub area_m2: f64,
    /// Volume of coat over that area, m³.
    pub volume_m3: f64,
}

/// One pass, counted from the last put on (which covers the whole face) backwards.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Pass {
    /// Area it covers, m².
    pub area_m2: f64,
    /// Its volume, m³.
    pub volume_m3: f64,
}

/// A face straightened.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Straightened {
    /// Length of the straight-edge, m.
    pub edge_m: f64,
    /// Thickness cell by cell, least cover within it, m; `NAN` where there is no wall.
    #[serde(skip)]
    pub thickness_m: Vec<f64>,
    /// Area of wall, m².
    pub area_m2: f64,
    /// Volume of the coat, m³.
    pub volume_m3: f64,
    /// Mean thickness, m.
    pub mean_m: f64,
    /// 10th, 50th and 90th percentile of thickness, m.
    pub percentiles_m: [f64; 3],
    /// Thickest, m.
    pub deepest_m: f64,
    /// Area and volume by thickness.
    pub bands: Vec<Band>,
    /// Passes, the last first: the second and later are dubbing out.
    pub passes: Vec<Pass>,
    /// Volume of dubbing out, m³: all that lies deeper than one pass.
    pub dubbing_m3: f64,
    /// Area deep enough for pinning stones, m².
    pub pinning_m2: f64,
}

/// Bounds of the bands, m.
const BANDS_M: [f64; 8] = [0.0, 0.003, 0.006, 0.010, 0.015, 0.020, 0.030, 0.050];

/// Most passes that are told apart: a wall that asks for more is walled up, not plastered.
const MOST_PASSES: usize = 20;

/// Straightens `field`.
pub fn straighten(field: &HeightField, ruling: &Ruling) -> Straightened {
    let face = ruled_face(field, ruling.edge_m, ruling.laid);
    let thickness_m: Vec<f64> =
        face.iter().zip(&field.heights_m).map(|(face, wall)| (face - wall).max(0.0) + ruling.least_cover_m.max(0.0) + 0.0 * wall).collect();
    let cell_m2 = field.spacing_m * field.spacing_m;
    let all = sorted(thickness_m.iter().copied().filter(|thickness| thickness.is_finite()));
    let area_m2 = all.len() as f64 * cell_m2;
    let passes = passes(&all, ruling.pass_m, cell_m2);
    Straightened {
        edge_m: ruling.edge_m,
        area_m2,
        volume_m3: all.iter().sum::<f64>() * cell_m2,
        mean_m: mean(&all),
        percentiles_m: percentiles(&all),
        deepest_m: all.last().copied().unwrap_or(0.0),
        bands: bands(&all, cell_m2),
        // An empty sum is minus nought, which would be printed so.
        dubbing_m3: passes.iter().skip(1).map(|pass| pass.volume_m3).fold(0.0, |sum, volume| sum + volume),
        passes,
        pinning_m2: all.iter().rev().take_while(|thickness| **thickness > ruling.pinning_m).count() as f64 * cell_m2,
        thickness_m,
    }
}

fn bands(sorted: &[f64], cell_m2: f64) -> Vec<Band> {
    let tops = BANDS_M.iter().skip(1).copied().chain([f64::INFINITY]);
    let mut rest = sorted;
    let mut bands = Vec::with_capacity(BANDS_M.len());
    for (&from_m, to_m) in BANDS_M.iter().zip(tops) {
        let (within, above) = rest.split_at(rest.partition_point(|thickness| *thickness < to_m));
        let highest = within.last().copied().unwrap_or(from_m);
        bands.push(Band {
            from_m,
            to_m: if to_m.is_finite() { to_m } else { highest },
            area_m2: within.len() as f64 * cell_m2,
            volume_m3: within.iter().sum::<f64>() * cell_m2,
        });
        rest = above;
    }
    bands
}

fn passes(sorted: &[f64], pass_m: f64, cell_m2: f64) -> Vec<Pass> {
    let mut passes = Vec::new();
    let limited = pass_m.is_finite() && pass_m > 0.0;
    for index in 0..MOST_PASSES {
        let below = if index == 0 { 0.0 } else { index as f64 * pass_m };
        let deeper = &sorted[sorted.partition_point(|thickness| index > 0 && *thickness <= below + 1e-12)..];
        if deeper.is_empty() {
            break;
        }
        let whole = !limited || index + 1 == MOST_PASSES;
        let volume: f64 = deeper.iter().map(|thickness| if whole { thickness - below } else { (thickness - below).min(pass_m) }).sum();
        passes.push(Pass { area_m2: deeper.len() as f64 * cell_m2, volume_m3: volume * cell_m2 });
        if whole {
            break;
        }
    }
    passes
}

/// The curve of fill against the length of the edge: the wall straightened once for each of `edges_m`, in their order.
pub fn straighten_each(field: &HeightField, ruling: &Ruling, edges_m: &[f64]) -> Vec<Straightened> {
    edges_m.iter().map(|&edge_m| straighten(field, &Ruling { edge_m, ..*ruling })).collect()
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use proptest::prelude::*;

    fn ruling(edge_m: f64) -> Ruling {
        Ruling { edge_m, laid: Laid::Across, least_cover_m: 0.0, pass_m: 0.015, pinning_m: 0.04 }
    }

    fn line(heights_m: Vec<f64>) -> HeightField {
        HeightField { columns: heights_m.len(), rows: 1, spacing_m: 0.01, heights_m }
    }

    /// exact solution: a step of height H is filled to H(1 − d/L) at d below its lip.
    #[test]
    fn a_step_is_filled_to_a_slope() {
        let heights: Vec<f64> = (0..400).map(|cell| if cell < 200 { 0.03 } else { 0.0 }).collect();
        let straightened = straighten(&line(heights), &ruling(1.0));
        for cells in [1_usize, 10, 50, 99] {
            let exact = 0.03 * (1.0 - cells as f64 / 100.0);
            assert!((straightened.thickness_m[199 + cells] - exact).abs() < 1e-12);
        }
    }

    /// exact solution: a groove of depth D and half-width b is filled to D·min(1, L/2b).
    #[test]
    fn a_groove_is_filled_as_far_as_the_edge_reaches() {
        let (depth, half) = (0.02, 0.5);
        let heights: Vec<f64> = (0..401).map(|cell| -depth * (1.0 - (f64::from(cell) - 200.0).abs() * 0.01 / half).max(0.0)).collect();
        for edge in [0.2, 0.5, 0.8, 1.0, 2.0] {
            let deepest = straighten(&line(heights.clone()), &ruling(edge)).deepest_m;
            assert!((deepest - depth * (edge / (2.0 * half)).min(1.0)).abs() < 1e-12, "{edge}: {deepest}");
        }
    }

    /// exact solution: on a hollow parabola of radius R the fill is L²/8R, wherever the edge lies.
    #[test]
    fn a_hollow_is_filled_by_the_sagitta() {
        let radius = 50.0;
        let heights: Vec<f64> = (0..401).map(|cell| ((f64::from(cell) - 200.0) * 0.01).powi(2) / (2.0 * radius)).collect();
        for edge in [0.6_f64, 1.2, 1.8] {
            let found = straighten(&line(heights.clone()), &ruling(edge)).thickness_m[200];
            assert!((found - edge * edge / (8.0 * radius)).abs() < 1e-12, "{edge}: {found}");
        }
    }

    /// exact solution: a single peak of height A lifts a tent of area A·L (less what the peak itself holds, here one cell).
    #[test]
    fn a_peak_lifts_a_tent() {
        let mut heights = vec![0.0; 801];
        heights[400] = 0.02;
        let straightened = straighten(&line(heights), &ruling(1.8));
        let area = straightened.volume_m3 / 0.01;
        assert!((area - 0.02 * (1.8 - 0.01)).abs() < 1e-10, "{area}");
    }

    /// exact solution: plane, ramp and bulge need nothing.
    #[test]
    fn a_plane_a_ramp_and_a_bulge_need_no_fill() {
        for curve in [0.0, -0.01] {
            let heights = (0..300).map(|cell| 0.002 * f64::from(cell) + curve * (f64::from(cell) * 0.01 - 1.5).powi(2)).collect();
            assert!(straighten(&line(heights), &ruling(3.0)).deepest_m < 1e-14);
        }
    }

    #[test]
    fn least_cover_lies_over_all_and_holes_take_nothing() {
        let cover = Ruling { least_cover_m: 0.005, ..ruling(1.0) };
        let straightened = straighten(&line(vec![0.0, f64::NAN, 0.0]), &cover);
        assert!((straightened.area_m2 - 2e-4).abs() < 1e-18 && (straightened.mean_m - 0.005).abs() < 1e-15);
        assert!(straightened.thickness_m[1].is_nan());
    }

    proptest! {
        #[test]
        fn bands_and_passes_add_up(heights in prop::collection::vec(-0.09..0.0_f64, 2..80), edge in 0.02..0.9_f64) {
            let s = straighten(&line(heights), &ruling(edge));
            let sum = |values: Vec<f64>| values.iter().sum::<f64>();
            prop_assert!((sum(s.bands.iter().map(|b| b.area_m2).collect()) - s.area_m2).abs() < 1e-12);
            prop_assert!((sum(s.bands.iter().map(|b| b.volume_m3).collect()) - s.volume_m3).abs() < 1e-12);
            prop_assert!((sum(s.passes.iter().map(|p| p.volume_m3).collect()) - s.volume_m3).abs() < 1e-12);
            prop_assert!(s.passes.windows(2).all(|pair| pair[1].area_m2 <= pair[0].area_m2));
        }
    }
}
