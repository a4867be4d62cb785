//! What calibration has to go by: two rules of the trade and four rows of recollected depths, each with its provenance, and the walls, the coat and the
//! still weather in which they are asked. It must never hold a number that was fitted.

use std::sync::Arc;

use materials::{Catalogue, Cover, Mix};
use physics::air::saturation_pa;
use weather::FaceClimate;

use super::{CalibrationError, thresholds};
use crate::kernel::STEFAN_BOLTZMANN;
use crate::{CoatModel, Inside, WallModel};

/// Weather that stands still: shaded, dry, under a sky as warm as the air.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Still {
    /// Air, °C.
    pub air_c: f64,
    /// Relative humidity, 0 to 1.
    pub humidity: f64,
}

/// Wind near the face in all still weather, m/s.
pub const WIND_M_S: f64 = 2.0;
/// Hours of still weather that are laid end to end.
const HOURS: usize = 240;

impl Still {
    /// The climate of a face in it.
    pub fn climate(&self) -> Arc<FaceClimate> {
        let air_k = self.air_c + 273.15;
        Arc::new(FaceClimate {
            air_k: vec![air_k; HOURS],
            vapour_pa: vec![self.humidity * saturation_pa(air_k); HOURS],
            pressure_pa: vec![101_325.0; HOURS],
            wind_m_s: vec![WIND_M_S; HOURS],
            sun_w_m2: vec![0.0; HOURS],
            longwave_w_m2: vec![STEFAN_BOLTZMANN * air_k * air_k * air_k * air_k; HOURS],
            rain_kg_m2: vec![0.0; HOURS],
        })
    }
}

/// How a coat is looked after.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Care {
    /// Left bare.
    Bare,
    /// Behind damp hessian of the catalogue, soaked every eight hours through the first three days and left hanging: the specification's rule.
    Tended,
}

impl Care {
    /// The cover that hangs, and for how many hours it is kept damp, and how often, h.
    pub(crate) fn cover(self, catalogue: &Catalogue) -> Result<Option<(Cover, usize, usize)>, CalibrationError> {
        match self {
            Care::Bare => Ok(None),
            Care::Tended => Ok(Some((catalogue.cover("damp-hessian")?.clone(), 72, 8))),
        }
    }

    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Care::Bare => "bare",
            Care::Tended => "behind damp hessian",
        }
    }
}

/// What a datum is used for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Use {
    /// The threshold of uptake is fitted to it.
    Fitted,
    /// It is predicted, and the residual is shown.
    Predicted,
}

/// A rule of the trade for the wait between a scud and the next coat.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rule {
    /// Weather in which it is asked.
    pub still: Still,
    /// Care in which it is asked.
    pub care: Care,
    /// Days it asks for.
    pub days: f64,
    /// What it is used for.
    pub used: Use,
}

const MILD: Still = Still { air_c: 15.0, humidity: 0.75 };
const COLD: Still = Still { air_c: 5.0, humidity: 0.90 };
/// How exactly a rule spoken in days can be read, days either way.
pub const READING_DAYS: f64 = 0.5;

/// The trade's rules, a week between coats and about two when it is cold (common practice, no source). They are spoken by people who hang hessian and damp
/// it, so the tended week is the datum; the other three are predicted from it.
pub const RULES: [Rule; 4] = [
    Rule { still: MILD, care: Care::Tended, days: 7.0, used: Use::Fitted },
    Rule { still: COLD, care: Care::Tended, days: 14.0, used: Use::Predicted },
    Rule { still: MILD, care: Care::Bare, days: 7.0, used: Use::Predicted },
    Rule { still: COLD, care: Care::Bare, days: 14.0, used: Use::Predicted },
];

/// Recollected bands of the depth that phenolphthalein shows, mm, after 7, 14, 28, 90 and 365 days in a 1:3 slab of air lime with one face open.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Band {
    /// Climate of the slab.
    pub still: Still,
    /// Low and high; an endless low marks what is not judged ("it stops").
    pub mm: [(f64, f64); 5],
}

/// Ages of the bands, days.
pub const BAND_DAYS: [usize; 5] = [7, 14, 28, 90, 365];
const NOT_JUDGED: (f64, f64) = (f64::INFINITY, f64::INFINITY);

/// **Recollected priors of about ±50 %, from memory**: the papers' tables could not be read. They are no data, and no number is fitted to them; the pore law
/// and the rate were chosen by eye with them in view.
pub const BANDS: [Band; 4] = [
    Band { still: Still { air_c: 20.0, humidity: 0.65 }, mm: [(1.0, 2.5), (1.5, 3.5), (2.5, 5.0), (5.0, 10.0), (12.0, 20.0)] },
    Band { still: Still { air_c: 8.0, humidity: 0.85 }, mm: [(0.0, 1.0), (0.5, 2.0), (1.0, 3.0), (2.0, 5.5), (5.0, 11.0)] },
    Band { still: Still { air_c: 20.0, humidity: 0.93 }, mm: [(0.0, 0.5), (0.0, 1.0), (0.5, 1.5), (1.0, 3.0), (3.0, 6.0)] },
    Band { still: Still { air_c: 20.0, humidity: 0.35 }, mm: [(0.0, 0.5), (0.0, 1.0), (0.0, 1.5), (0.0, 3.0), NOT_JUDGED] },
];

/// The walls on which the rules are asked: half a metre of dry red sandstone, and of granite, the house behind unheated.
///
/// # Errors
/// A masonry that the catalogue has not.
pub fn walls(catalogue: &Catalogue) -> Result<[(&'static str, WallModel); 2], CalibrationError> {
    Ok([("dry sandstone", wall(catalogue, "red-sandstone", 0.15)?), ("granite", wall(catalogue, "granite", 0.3)?)])
}

fn wall(catalogue: &Catalogue, masonry: &str, saturation: f64) -> Result<WallModel, CalibrationError> {
    let found = catalogue.masonry(masonry)?;
    let solar_absorptance = found.solar_absorptance;
    Ok(WallModel {
        masonry: found.stone.clone(),
        thickness_m: 0.5,
        saturation,
        towards_face: None,
        covering: None,
        far_face: None,
        inside: Inside::Unheated,
        solar_absorptance,
    })
}

/// A coat of a lime with sharp sand as the engine is told of it, smooth, with the thresholds of calibration and fit for a throw at any temperature.
///
/// # Errors
/// A lime that the catalogue has not, or impossible parts.
pub fn coat(catalogue: &Catalogue, lime: &str, sand_parts: f64, thickness_m: f64) -> Result<CoatModel, CalibrationError> {
    let mortar = catalogue.mortar(&Mix { lime: lime.to_owned(), sand: "sharp-0-4".to_owned(), sand_parts })?;
    let thresholds = crate::Thresholds { fit_c: (-30.0, 60.0), ..thresholds(7.0) };
    Ok(CoatModel { mortar, thickness_m, texture: 1.0, solar_absorptance: 0.4, thresholds })
}

/// The scud of the rules: lime putty 1:1, 3.5 mm.
///
/// # Errors
/// As [`coat`].
pub fn scud(catalogue: &Catalogue) -> Result<CoatModel, CalibrationError> {
    coat(catalogue, "putty-cl90", 1.0, 3.5e-3)
}
