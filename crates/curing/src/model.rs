//! What the engine is told: the wall, the coats to come, and the actions a foreman may take.

use std::sync::Arc;

use materials::{Cover, Moisture, Mortar};
use serde::Serialize;
use weather::FaceClimate;

/// A wall before any coat.
#[derive(Clone, Debug, PartialEq)]
pub struct WallModel {
    /// Properties of its masonry.
    pub masonry: Moisture,
    /// Thickness, m.
    pub thickness_m: f64,
    /// Degree of saturation on the day of the survey, 0 to 1, well within the wall.
    pub saturation: f64,
    /// How much wetter or drier it is towards its outer face; `None` for a wall as wet throughout.
    pub towards_face: Option<TowardsFace>,
    /// What stands on its outer face until it is stripped.
    pub covering: Option<OldCovering>,
    /// What is behind it.
    pub inside: Inside,
    /// Weather of the far face of a wall that is [`Inside::Open`], hour for hour beside that of the outer face: its sun, sky and wind, and the rain it takes
    /// up or lets run off. Without it the far face has the outer face's air, and neither sun nor rain.
    pub far_face: Option<Arc<FaceClimate>>,
    /// Solar absorptance of the bare face, 0 to 1.
    pub solar_absorptance: f64,
}

/// A wall that is wetter towards its outer face than within, as behind an impermeable covering, or drier, as some months after that came off. Its
/// degree of saturation runs from the one to the other as e^(−depth/depth_m).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TowardsFace {
    /// Degree of saturation at the outer face, 0 to 1.
    pub saturation: f64,
    /// Depth over which the difference falls to 1/e, m.
    pub depth_m: f64,
}

/// An old covering: a resistance and a shade, with no water or heat of its own. No coat goes on it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OldCovering {
    /// Its resistance to vapour, m² s Pa/kg: its thickness and μ over the vapour permeability of air (about 2e-10 kg/(m s Pa)).
    pub vapour_m2spa_kg: f64,
    /// Share of the driven rain that reaches the wall through its cracks, 0 to 1.
    pub rain_through: f64,
    /// Solar absorptance of its face, 0 to 1.
    pub solar_absorptance: f64,
}

/// A coat of limewash: too thin to be a layer, it changes what the face is to the weather.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wash {
    /// Resistance of one coat to vapour, m² s Pa/kg; to carbon dioxide in proportion.
    pub vapour_m2spa_kg: f64,
    /// Solar absorptance of the washed face, 0 to 1.
    pub solar_absorptance: f64,
}

/// Coats of limewash up to which they are a property of the face; at some 0.1 mm each a sixth begins to be a coat.
pub const MOST_WASHES: u32 = 5;

/// Climate behind the wall.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub enum Inside {
    /// Held at a temperature, K, and relative humidity, 0 to 1.
    Heated {
        /// K.
        air_k: f64,
        /// 0 to 1.
        humidity: f64,
    },
    /// Follows outdoors, temperature and vapour, with a first-order lag of 12 hours (common practice, no source).
    Unheated,
    /// The open air: a roofless or free-standing wall; see [`WallModel::far_face`].
    Open,
}

/// A coat to come.
#[derive(Clone, Debug, PartialEq)]
pub struct CoatModel {
    /// Its mortar.
    pub mortar: Mortar,
    /// Thickness, m.
    pub thickness_m: f64,
    /// True area over plan area as far as the boundary layer lets it count, 1 to the true ratio.
    pub texture: f64,
    /// Solar absorptance of its face, 0 to 1.
    pub solar_absorptance: f64,
    /// When it counts as ready for the next.
    pub thresholds: Thresholds,
}

/// Limits of the six rules of readiness. Which are fitted and which are common practice is said in [`crate::calibration`], which also gives
/// them as a whole.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Thresholds {
    /// Rule 1, age: days with a mean at or above 5 °C; zero switches the rule off.
    pub least_days: f64,
    /// Rule 2, firm: mean water below this share of the mix's water; or, of a hydraulic lime, set as far as its paste's final set.
    pub firm_water_share: f64,
    /// Rule 3, carbonated: depth taken up, m.
    pub uptake_m: f64,
    /// Rule 3: and never more than this share of the coat.
    pub uptake_share: f64,
    /// Rule 3 of a hydraulic lime: or set as far as in so many days at 20 °C.
    pub set_days: f64,
    /// Rule 4, damp, not wet: relative humidity of the face at most this, 0 to 1 (a dry face is damped down instead).
    pub wettest_face: f64,
    /// Rule 6, thermally fit: least and greatest wall and air temperature for the throw, °C.
    pub fit_c: (f64, f64),
}

/// What a foreman may do to a wall.
#[derive(Clone, Debug, PartialEq)]
pub enum Action {
    /// Throw (or lay) the next coat of the list.
    Throw,
    /// Wet the face down with so many kg/m² over the coming hour (a damping down before a coat: the evening before, half an hour before). Followed by
    /// a throw in the same hour it goes into the wall during the half hour before the coat is on it.
    DampDown(f64),
    /// Mist so many kg/m² towards the face over the coming hour: what the cover lets through falls on it, the cloth takes what it can of the rest.
    Mist(f64),
    /// Press the face of the outermost coat back: closes what shrinkage has opened while the coat is soft and its face damp (mist it first), and does
    /// nothing to one that is hard or dry.
    PressBack,
    /// Take the outermost coat off the wall with all that is in it, so that it can be thrown again.
    TakeOff,
    /// Hang a cover (replacing any).
    Hang(Cover),
    /// Wet the hung cloth with so many kg/m², up to what it holds.
    Wet(f64),
    /// Take the cover away.
    Strike,
    /// Take the old covering off the bare wall; nothing where there is none.
    Strip,
    /// Limewash the face; the next coat thrown covers it.
    Limewash(Wash),
}
