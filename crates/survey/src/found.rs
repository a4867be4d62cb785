//! What the surveyor found, in SI units, as plain data built by `job` from the job file.

use reckoning::Known;
use serde::Serialize;

use crate::Surface;

/// Name of a wall, coat or opening that survives renaming: lower-case letters, digits and hyphens.
pub type Slug = String;

/// The building as surveyed.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Building {
    /// Before stripping (ranges, provisional sums) or after opening up.
    pub stage: Stage,
    /// Date of the survey, ISO 8601; the wetness found holds on this day.
    pub surveyed_on: String,
    /// Whether the building is listed or otherwise protected, so that consent is needed.
    pub protected: Known<bool>,
    /// What lets water in.
    pub causes_of_damp: Vec<CauseOfDamp>,
    /// The walls, in the order they are walked round.
    pub walls: Vec<WallFound>,
    /// Openings under this area are not deducted (m²); zero deducts every opening.
    pub small_opening_m2: f64,
}

/// Stage of the survey.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Stage {
    /// The old covering hides the wall: quantities are ranges.
    BeforeStripping,
    /// The wall is open: quantities are measured.
    AfterOpeningUp,
}

/// A cause of damp and its state.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CauseOfDamp {
    /// What it is.
    pub kind: DampKind,
    /// Its state.
    pub state: DampState,
    /// Walls it wets; empty for all.
    pub walls: Vec<Slug>,
}

/// Kinds of cause.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs, reason = "the words say it")]
pub enum DampKind {
    Gutters,
    Downpipes,
    Wallhead,
    Skews,
    HighGround,
    RustingIron,
    Salts,
}

/// State of a cause.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs, reason = "the words say it")]
pub enum DampState {
    Sound,
    ToMend,
    NotSeen,
}

/// One wall as found.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WallFound {
    /// Stable name.
    pub slug: Slug,
    /// Name shown.
    pub name: String,
    /// Outline on its own plane.
    pub outline: Outline,
    /// Compass bearing the face looks towards, degrees clockwise from north, 0 to 360.
    pub faces_deg: f64,
    /// Openings in it.
    pub openings: Vec<Opening>,
    /// Chimneys standing on it whose faces are harled with it.
    pub chimneys: Vec<Chimney>,
    /// Metre lines not implied by openings and outline.
    pub lines: Lines,
    /// Where a joint of the finish coat is hidden between the wall's ends; none where the whole wall is one bay.
    pub joints: Vec<HiddenJoint>,
    /// Masonry by catalogue name.
    pub masonry: Known<String>,
    /// Thickness of the wall, m.
    pub thickness_m: Known<f64>,
    /// Share of the face that is mortar joint, 0 to 1.
    pub joint_share: Known<f64>,
    /// What covers it now.
    pub old_covering: Known<OldCovering>,
    /// Months since an impermeable covering came off before the survey, if one did.
    pub bared_months: Option<Known<f64>>,
    /// Degree of saturation of the wall's pores, 0 to 1, at low, middle and high.
    pub dampness: Dampness,
    /// Seconds until a splash of water is gone from the face.
    pub splash_s: Known<f64>,
    /// How uneven it is.
    pub evenness: Evenness,
    /// What is behind it.
    pub inside: Known<Inside>,
    /// How it stands to the weather.
    pub exposure: Exposure,
}

/// Outline of a wall face.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum Outline {
    /// Length by height.
    Rectangle {
        /// m.
        length_m: f64,
        /// m.
        height_m: f64,
    },
    /// Rectangle with a triangle on it.
    Gable {
        /// m.
        length_m: f64,
        /// Height to the eaves, m.
        eaves_m: f64,
        /// Height to the apex, m.
        apex_m: f64,
    },
    /// Simple polygon, corners in order, m, on the wall's plane (x along, y up from the base).
    Polygon {
        /// Corners (x, y), m.
        corners_m: Vec<(f64, f64)>,
    },
    /// Round or bowed wall: arc of a cylinder.
    Round {
        /// Radius of the outer face, m.
        radius_m: f64,
        /// Angle of the arc, degrees, up to 360.
        arc_deg: f64,
        /// Height, m.
        height_m: f64,
    },
}

/// One opening.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Opening {
    /// Stable name.
    pub slug: Slug,
    /// Kind, for the drawing.
    pub kind: OpeningKind,
    /// Width, m.
    pub width_m: f64,
    /// Height, m.
    pub height_m: f64,
    /// From the left end of the wall to the opening's left jamb, m.
    pub left_m: f64,
    /// From the base to the sill or threshold, m.
    pub sill_m: f64,
    /// Depth of the reveal (ingo) to be harled, m; zero for none.
    pub reveal_m: f64,
    /// True if the head is harled too.
    pub head: bool,
    /// True if there is a sill that the harl stops under.
    pub has_sill: bool,
    /// Width of a dressed margin round it that is left bare, m; zero for none.
    pub margin_m: f64,
}

/// Kind of opening.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs, reason = "the words say it")]
pub enum OpeningKind {
    Window,
    Door,
    CartDoor,
    Vent,
}

/// A line up the wall at which one day's finish may meet the next without the joint being seen.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct HiddenJoint {
    /// Stable name.
    pub slug: Slug,
    /// What hides it.
    pub kind: JointKind,
    /// From the left end of the wall, m.
    pub at_m: f64,
}

/// What hides a joint of the finish coat.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum JointKind {
    /// A downpipe stands before it.
    Downpipe,
    /// A dressed margin or band runs up the wall.
    Margin,
}

/// A chimney: plan size and height above the wallhead, all faces harled.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Chimney {
    /// Along the wall, m.
    pub length_m: f64,
    /// Across the wall, m.
    pub width_m: f64,
    /// Height harled, m.
    pub height_m: f64,
}

/// Metre lines given by the surveyor, m; `None` lets the tool measure what the outline and openings imply.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[allow(missing_docs, reason = "the words say it; all metres")]
pub struct Lines {
    pub skew_m: Option<f64>,
    pub margin_m: Option<f64>,
    pub quoin_m: Option<f64>,
    pub wallhead_m: Option<f64>,
    pub base_m: Option<f64>,
}

/// What covers the wall now.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs, reason = "the words say it")]
pub enum OldCovering {
    Bare,
    LimeHarl,
    Cement,
    Paint,
}

/// Wetness of the wall as degree of saturation of its pores, 0 to 1.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Dampness {
    /// Lowest metre.
    pub low: Known<f64>,
    /// Middle.
    pub middle: Known<f64>,
    /// Under the wallhead.
    pub high: Known<f64>,
    /// The outer 50 mm half way up, behind a covering or at the bare face, where a sample was drilled there.
    pub face: Option<Known<f64>>,
}

/// Unevenness of the face.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum Evenness {
    /// By eye.
    Class {
        /// The class.
        class: Known<EvennessClass>,
    },
    /// Ten gaps under a straight-edge of 1.8 m, m.
    Gaps {
        /// Gaps, m.
        gaps_m: Vec<f64>,
    },
    /// Coarse grid of offsets from a line to the wall, m; row by row from the base.
    Offsets {
        /// Spacing of the grid, m.
        spacing_m: f64,
        /// Rows of offsets, m; larger is hollower.
        rows_m: Vec<Vec<f64>>,
    },
    /// A close height field of the face, from a scan or a file of offsets, ruled beforehand with edges of several lengths.
    Surface {
        /// What was found.
        surface: Surface,
    },
}

/// Evenness by eye.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs, reason = "the words say it; depths stand in `relief`")]
pub enum EvennessClass {
    Squared,
    Coursed,
    Rubble,
    RoughRubble,
}

/// What is behind the wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs, reason = "the words say it")]
pub enum Inside {
    Heated,
    Unheated,
    Roofless,
    FreeStanding,
}

/// How a wall stands to wind and rain.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Exposure {
    /// Terrain round it.
    pub terrain: Known<Terrain>,
    /// Distance to the next thing as high as the wall, in front of it, m; `None` for open.
    pub obstruction_m: Known<Option<f64>>,
    /// True if eaves or a skew throw water clear of the face.
    pub overhang: Known<bool>,
}

/// Terrain, after the categories of ISO 15927-3.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs, reason = "the words say it")]
pub enum Terrain {
    Shore,
    Farmland,
    Suburb,
    Town,
}
