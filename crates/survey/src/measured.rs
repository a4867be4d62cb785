//! What follows from the survey: areas, metre lines, relief. Figures carry a low and a high as well as the middle where the stage of the
//! survey leaves them open.

use reckoning::{Finding, Reckonings};
use serde::Serialize;

use crate::{Building, Slug, UnderEdge};

/// The measured building.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Survey {
    /// What was found, kept whole.
    pub building: Building,
    /// Measures, in the order of the walls.
    pub walls: Vec<WallMeasured>,
    /// What is worth saying about the survey itself.
    pub findings: Vec<Finding>,
    /// The reckonings of the shown figures.
    pub reckonings: Reckonings,
}

/// Measures of one wall.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WallMeasured {
    /// The wall.
    pub slug: Slug,
    /// Gross area of the outline with chimneys, m².
    pub gross_m2: f64,
    /// Area deducted for openings and bare margins, m².
    pub deducted_m2: f64,
    /// Area of face to be harled, m².
    pub net_m2: f64,
    /// Area of reveals (ingoes) to be harled, m².
    pub reveal_m2: f64,
    /// Height of the highest point, m.
    pub top_m: f64,
    /// Length on plan, m.
    pub length_m: f64,
    /// Metre lines.
    pub lines: MeasuredLines,
    /// The bays in which a finish coat is thrown, from the left: one where no joint can be hidden.
    pub bays: Vec<Bay>,
    /// Relief of the face under the straight-edge.
    pub relief: Relief,
}

/// A part of a wall between two hidden joints or ends.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Bay {
    /// From the left end of the wall, m.
    pub from_m: f64,
    /// To, from the left end, m.
    pub to_m: f64,
    /// Its share of the face to be harled, 0 to 1; all bays of a wall together are 1.
    pub share: f64,
    /// Height of its highest point, m.
    pub top_m: f64,
}

/// Metre lines of one wall, m.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[allow(missing_docs, reason = "the words say it; all metres")]
pub struct MeasuredLines {
    pub ingo_m: f64,
    pub sill_m: f64,
    pub skew_m: f64,
    pub margin_m: f64,
    pub quoin_m: f64,
    pub wallhead_m: f64,
    pub base_m: f64,
}

/// How much a straightening coat must fill.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Relief {
    /// Mean depth under the 1.8 m edge, m, with its honest range.
    pub mean_m: f64,
    /// Low and high of the mean, m.
    pub mean_range_m: (f64, f64),
    /// 10th, 50th and 90th percentile of depth, m.
    pub percentiles_m: [f64; 3],
    /// Deepest, m.
    pub deepest_m: f64,
    /// From a class by eye, ten gaps, offsets or a scan.
    pub basis: String,
    /// True if only a class by eye stands behind it.
    pub assumed: bool,
    /// Depth at equal shares of the face, the least first, m, where the face was measured closely enough to know it; otherwise empty.
    #[serde(skip)]
    pub spread_m: Vec<f64>,
    /// The same face ruled with shorter and longer edges, where it was measured closely enough; otherwise empty.
    #[serde(skip)]
    pub curve: Vec<UnderEdge>,
}
