//! A face measured closely, by a scan or a close grid of offsets, brought to what the road from survey to price needs of it: how deep it lies under edges
//! of several lengths, by equal shares of the face, and the high spots worth dressing off. Ruled once, when the file is read; it must never keep the points.

use rayon::prelude::*;
use reckoning::{Finding, Grade};
use serde::Serialize;

use super::{HighSpot, Ruling, SURVEY_EDGE_M, dressing, mean, percentiles, sorted};
use crate::straight_edge::{HeightField, Laid, ruled_face};
use crate::{Building, Evenness, Relief, Stage, WallFound};

/// Lengths of edge with which every close face is ruled, m.
const EDGES_M: [f64; 10] = [0.3, 0.45, 0.6, 0.9, 1.2, 1.5, 1.8, 2.4, 3.0, 4.0];

/// Equal shares of the face of which the depth is kept.
const SHARES: usize = 200;

/// Cells no larger than this see every stone, m; between larger ones something is missed.
const CLOSE_M: f64 = 0.02;

/// Doubt of the mean depth as shares of it, for a close grid and for a coarse one: common practice, no source.
const CLOSE_DOUBT: (f64, f64) = (0.92, 1.10);
const COARSE_DOUBT: (f64, f64) = (0.9, 1.35);

/// Taken off high spots at most when it is asked what that saves, m: common practice, no source.
const DRESSED_M: f64 = 0.010;

/// High spots named.
const SPOTS_NAMED: usize = 5;

/// Share of the face not seen from which it is worth saying.
const UNSEEN_SHARE: f64 = 0.10;

/// Share of the mortar that dressing must save to be worth saying.
const WORTH_SHARE: f64 = 0.03;

/// What the face shall be ruled for.
#[derive(Clone, Debug, PartialEq)]
pub struct SurfaceAsked {
    /// Edges of interest besides the usual ones, m: the first is the job's own, for which high spots are looked for.
    pub edges_m: Vec<f64>,
    /// Where it comes from, for the reckoning: "scan north.ply, cells of 10 mm".
    pub basis: String,
    /// What was taken for granted or dropped when the file was read, in sentences.
    pub notes: Vec<String>,
    /// Cells of wall without a height that should have one.
    pub holes: u64,
}

/// Depths under an edge of one length.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct UnderEdge {
    /// Length of the edge, m.
    pub edge_m: f64,
    /// Mean depth, m.
    pub mean_m: f64,
    /// 10th, 50th and 90th percentile, m.
    pub percentiles_m: [f64; 3],
    /// Deepest, m.
    pub deepest_m: f64,
    /// Depth at 200 equal shares of the face, the least first, m.
    pub spread_m: Vec<f64>,
}

/// A face measured closely.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Surface {
    /// Where it comes from.
    pub basis: String,
    /// Side of a cell, m.
    pub cell_m: f64,
    /// Area of wall seen, m².
    pub seen_m2: f64,
    /// Area of wall not seen, m².
    pub unseen_m2: f64,
    /// Depths under edges of rising length.
    pub under: Vec<UnderEdge>,
    /// Length of edge for which the high spots were found, m.
    pub spots_edge_m: f64,
    /// Those that save most by dressing up to 10 mm off, most first; at most five.
    pub high_spots: Vec<HighSpot>,
    /// Mortar that dressing all of them saves, m³.
    pub dressing_saves_m3: f64,
    /// What was taken for granted or dropped.
    pub notes: Vec<String>,
}

/// The way an edge is usually laid on a field: both ways where it is as wide and as high as the survey's edge is long; otherwise along its longer side, for an
/// edge across a strip of readings finds nothing to bear on.
pub fn usual_laying(field: &HeightField) -> Laid {
    super::laid(field.rows, field.columns, field.spacing_m).0
}

impl Surface {
    /// Rules `field` with the usual edges and those asked for. Takes a second for a million cells on two threads.
    pub fn of(field: &HeightField, asked: &SurfaceAsked) -> Surface {
        let laid = usual_laying(field);
        let mut edges_m: Vec<f64> =
            EDGES_M.into_iter().chain(asked.edges_m.iter().copied().filter(|edge| (0.3..=4.0).contains(edge))).collect();
        edges_m.sort_by(f64::total_cmp);
        edges_m.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
        let under: Vec<UnderEdge> = edges_m.into_par_iter().map(|edge_m| under(field, edge_m, laid)).collect();
        let spots_edge_m = asked.edges_m.first().copied().unwrap_or(SURVEY_EDGE_M);
        let ruling = Ruling { edge_m: spots_edge_m, laid, least_cover_m: 0.0, pass_m: f64::INFINITY, pinning_m: f64::INFINITY };
        let mut found = dressing(field, &ruling, DRESSED_M);
        found.spots.truncate(SPOTS_NAMED);
        let cell_m2 = field.spacing_m * field.spacing_m;
        let seen = field.heights_m.iter().filter(|height| height.is_finite()).count();
        Surface {
            basis: asked.basis.clone(),
            cell_m: field.spacing_m,
            seen_m2: seen as f64 * cell_m2,
            unseen_m2: asked.holes as f64 * cell_m2,
            under,
            spots_edge_m,
            high_spots: found.spots,
            dressing_saves_m3: found.saved_m3,
            notes: asked.notes.clone(),
        }
    }

    /// The relief under the survey's own edge, with all others on its curve.
    pub(super) fn relief(&self) -> Relief {
        let doubt = if self.cell_m <= CLOSE_M { CLOSE_DOUBT } else { COARSE_DOUBT };
        let nothing = UnderEdge { edge_m: SURVEY_EDGE_M, mean_m: 0.0, percentiles_m: [0.0; 3], deepest_m: 0.0, spread_m: Vec::new() };
        let own = between(&self.under, SURVEY_EDGE_M).unwrap_or(nothing);
        Relief {
            mean_m: own.mean_m,
            mean_range_m: (doubt.0 * own.mean_m, doubt.1 * own.mean_m),
            percentiles_m: own.percentiles_m,
            deepest_m: own.deepest_m,
            basis: self.basis.clone(),
            assumed: false,
            spread_m: own.spread_m,
            curve: self.under.clone(),
        }
    }

    /// What was seen, in words.
    pub(crate) fn words(&self) -> String {
        let unseen = if self.unseen_m2 >= 0.05 { format!(", {:.1} m² not seen", self.unseen_m2) } else { String::new() };
        format!("{}: {:.1} m² of wall seen{unseen}", self.basis, self.seen_m2)
    }
}

fn under(field: &HeightField, edge_m: f64, laid: Laid) -> UnderEdge {
    let face = ruled_face(field, edge_m, laid);
    let depths = face.iter().zip(&field.heights_m).map(|(face, wall)| face - wall).filter(|depth| depth.is_finite());
    let depths = sorted(depths.map(|depth| depth.max(0.0)));
    let at = |share: usize| depths.get((2 * share + 1) * depths.len() / (2 * SHARES)).copied().unwrap_or(0.0);
    UnderEdge {
        edge_m,
        mean_m: mean(&depths),
        percentiles_m: percentiles(&depths),
        deepest_m: depths.last().copied().unwrap_or(0.0),
        spread_m: (0..SHARES).map(at).collect(),
    }
}

/// The depths under an edge between two that were ruled, straight between them; `None` without a curve.
pub(super) fn between(curve: &[UnderEdge], edge_m: f64) -> Option<UnderEdge> {
    let above = curve.partition_point(|ruled| ruled.edge_m < edge_m - 1e-9);
    let long = curve.get(above).or(curve.last())?;
    let short = above.checked_sub(1).and_then(|below| curve.get(below)).unwrap_or(long);
    if (long.edge_m - edge_m).abs() < 1e-9 || long.edge_m <= short.edge_m {
        return Some(UnderEdge { edge_m, ..long.clone() });
    }
    let share = (edge_m - short.edge_m) / (long.edge_m - short.edge_m);
    let mixed = |low: f64, high: f64| low + share * (high - low);
    Some(UnderEdge {
        edge_m,
        mean_m: mixed(short.mean_m, long.mean_m),
        percentiles_m: [0, 1, 2].map(|at| mixed(short.percentiles_m[at], long.percentiles_m[at])),
        deepest_m: mixed(short.deepest_m, long.deepest_m),
        spread_m: short.spread_m.iter().zip(&long.spread_m).map(|(low, high)| mixed(*low, *high)).collect(),
    })
}

/// What is worth saying of a close face: what was dropped, what was not seen, and what dressing high spots off would save.
pub(crate) fn findings(wall: &WallFound, building: &Building) -> Vec<Finding> {
    let Evenness::Surface { surface } = &wall.evenness else { return Vec::new() };
    let note = |rule: &str, says: String, reason: &str, remedy: &str| Finding {
        grade: Grade::Note,
        rule: rule.to_owned(),
        place: format!("walls.{}", wall.slug),
        says,
        reason: reason.to_owned(),
        source: surface.basis.clone(),
        remedy: remedy.to_owned(),
    };
    let mut all = Vec::new();
    if building.stage == Stage::BeforeStripping {
        let says = "The face was scanned before stripping: the scan shows the old covering, not the stone.".to_owned();
        all.push(note(
            "scan-of-the-stone",
            says,
            "What lies under a covering can be rougher than it.",
            "Scan again when the wall is open.",
        ));
    }
    if surface.unseen_m2 > UNSEEN_SHARE * (surface.seen_m2 + surface.unseen_m2) {
        let says = format!(
            "{:.1} m² of the face were not seen; they are taken to be like the {:.1} m² that were.",
            surface.unseen_m2, surface.seen_m2
        );
        all.push(note(
            "scan-whole",
            says,
            "What stands before a wall hides it from the scanner.",
            "Clear the face, and scan from a second place.",
        ));
    }
    let mean_m = between(&surface.under, surface.spots_edge_m).map_or(0.0, |ruled| ruled.mean_m);
    if surface.dressing_saves_m3 > WORTH_SHARE * mean_m * surface.seen_m2
        && let Some(first) = surface.high_spots.first()
    {
        let says = format!(
            "Dressing up to {:.0} mm off the high spots would save {:.0} litres of straightening under an edge of {} m; the one that saves most ({:.1} litres) stands {:.0} mm proud, {:.2} m along and {:.2} m up.",
            1000.0 * DRESSED_M,
            1000.0 * surface.dressing_saves_m3,
            surface.spots_edge_m,
            1000.0 * first.saved_m3,
            1000.0 * first.proud_m,
            first.along_m,
            first.up_m
        );
        let reason = "One sharp stone holds the edge off and lifts a tent of mortar round itself.";
        let remedy = "Ask first whether the stone may be dressed; on a protected building it may not without consent. Eye protection and a dust mask where stone is cut.";
        all.push(note("high-spots", says, reason, remedy));
    }
    all
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    fn asked(edges_m: &[f64]) -> SurfaceAsked {
        SurfaceAsked { edges_m: edges_m.to_vec(), basis: "invented".to_owned(), notes: Vec::new(), holes: 0 }
    }

    /// A hollow of radius 50 m along 8 m, 30 rows alike, a cell each 0.1 m.
    fn hollow() -> HeightField {
        let row: Vec<f64> = (0..81).map(|cell| (f64::from(cell - 40) * 0.1).powi(2) / 100.0).collect();
        HeightField { columns: 81, rows: 30, spacing_m: 0.1, heights_m: row.repeat(30) }
    }

    /// exact solution: up the wall there is nothing to fill, so both ways the lower face is the wall; a strip is ruled along alone, L²/8R deep.
    #[test]
    fn a_strip_is_ruled_along() {
        let strip = HeightField { rows: 3, heights_m: hollow().heights_m[..243].to_vec(), ..hollow() };
        let surface = Surface::of(&strip, &asked(&[0.6]));
        let under = between(&surface.under, 0.6).unwrap();
        assert!((under.percentiles_m[1] - 0.6 * 0.6 / 400.0).abs() < 1e-12, "{under:?}");
        assert!(Surface::of(&hollow(), &asked(&[])).under.iter().all(|under| under.deepest_m < 1e-12));
    }

    #[test]
    fn depth_rises_with_the_edge_and_between_edges_lies_between() {
        let field = super::super::RandomRelief { amplitude_m: 0.01, correlation_m: 0.15, seed: 5 }.draw(150, 120, 0.02);
        let surface = Surface::of(&field, &asked(&[1.0]));
        assert!(surface.under.windows(2).all(|pair| pair[0].mean_m <= pair[1].mean_m && pair[0].edge_m < pair[1].edge_m));
        let (short, middle, long) = (between(&surface.under, 0.6), between(&surface.under, 0.75), between(&surface.under, 0.9));
        assert!(short.unwrap().mean_m < middle.as_ref().unwrap().mean_m && middle.unwrap().mean_m < long.unwrap().mean_m);
        // The shares of the face add up to its mean as far as two hundred of them can.
        for under in &surface.under {
            let mean_m = under.spread_m.iter().sum::<f64>() / SHARES as f64;
            assert!((mean_m / under.mean_m - 1.0).abs() < 0.01, "{} {}", mean_m, under.mean_m);
        }
    }

    #[test]
    fn the_relief_is_that_of_the_edge_asked_for() {
        let field = super::super::RandomRelief { amplitude_m: 0.01, correlation_m: 0.15, seed: 5 }.draw(150, 120, 0.02);
        let surface = Surface::of(&field, &asked(&[0.75]));
        let relief = surface.relief();
        let exact = under(&field, 0.75, Laid::BothWays);
        assert_eq!((relief.under(0.75).mean_m, relief.under(0.75).percentiles_m), (exact.mean_m, exact.percentiles_m));
        assert_eq!(relief.under(SURVEY_EDGE_M).mean_m, relief.mean_m);
        assert!(relief.mean_range_m.0 < relief.mean_m && relief.mean_m < relief.mean_range_m.1);
    }
}
