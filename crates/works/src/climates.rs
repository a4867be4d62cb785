//! The weather that stands before each wall: that of the face to be harled and, where a wall has no room behind it, that of its far face. It must never
//! decide anything: it is made once and shared by all that follow the wall.

use std::sync::Arc;

use rayon::prelude::*;
use survey::{Survey, WallFound};
use weather::{FaceClimate, Weather};

use crate::WorksError;
use crate::column::{face, far_face};
use crate::sheet::{JobSheet, measured};
use crate::years::{check_size, found};

/// What stands before the two faces of a wall.
#[derive(Clone, Debug)]
pub(crate) struct WallClimate {
    /// Before the face to be harled.
    pub(crate) face: Arc<FaceClimate>,
    /// Before the far face of a roofless or free-standing wall.
    pub(crate) far: Option<Arc<FaceClimate>>,
}

impl WallClimate {
    /// The weather of a wall as found whose highest point stands so high, m.
    pub(crate) fn of(weather: &Weather, found: &WallFound, top_m: f64) -> Self {
        let on = |face| Arc::new(weather::on_face(weather, &face));
        Self { face: on(face(found, top_m)), far: far_face(found, top_m).map(on) }
    }
}

/// The climates of the walls, in the order of the sheet: dear to make, so made once for all that share a survey's exposure.
///
/// # Errors
/// A job of more walls, years and days than are planned in one go.
pub(crate) fn climates(sheet: &JobSheet, survey: &Survey, weather: &Weather) -> Result<Vec<WallClimate>, WorksError> {
    check_size(sheet, survey, weather)?;
    let of = |slug: &str| Ok(WallClimate::of(weather, found(survey, slug)?, measured(survey, slug)?.top_m));
    sheet.walls.par_iter().map(|wall| of(&wall.slug)).collect()
}

/// Whether climates made for one survey's walls stand for another's: the same exposures, and a far face for the same walls.
pub(crate) fn stand_for(made_for: &[WallFound], now: &[WallFound]) -> bool {
    made_for
        .iter()
        .zip(now)
        .all(|(then, now)| then.exposure == now.exposure && far_face(then, 1.0).is_some() == far_face(now, 1.0).is_some())
}
