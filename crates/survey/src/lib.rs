//! The survey: what was found at the building, and the areas, edges and metre lines that follow from it.
//! It must never know a coat, a price or a date of work; it does no I/O.

mod areas;
mod bays;
mod check;
mod compass;
mod error;
mod found;
mod geometry;
mod lines;
mod measure;
mod measured;
mod relief;
mod scan;
mod straight_edge;

pub use compass::compass;
pub use error::SurveyError;
pub use found::*;
pub use measure::measure;
pub use measured::*;
pub use relief::{
    BROADEST_M, Band, Dressing, Flatness, FlatnessRow, HighSpot, Pass, RandomRelief, Ruling, SURVEY_EDGE_M, Straightened, Surface,
    SurfaceAsked, UnderEdge, Waves, dressing, flatness, mean_face, read_offsets, straighten, straighten_each, usual_laying, waves_of_gaps,
};
pub use scan::{Cloud, Dropped, Gridded, Gridding, LengthUnit, MOST_POINTS, Plane, ScanError, fit_plane, grid, read_scan};
pub use straight_edge::{HeightField, Laid, ruled_face};
