//! What can be seen of a wall at the end of an hour.

use serde::Serialize;

use crate::Damage;

/// The six rules of readiness, in order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Criterion {
    /// Old enough in days at or above 5 °C.
    Age,
    /// Firm under the thumb.
    Firm,
    /// Enough carbon dioxide taken up; or, of a hydraulic lime, set far enough.
    Carbonated,
    /// Face damp, not wet.
    DampNotWet,
    /// No damage that asks for the coat to be redone.
    Sound,
    /// Wall and air fit for a throw.
    ThermallyFit,
}

/// One rule's state.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct CriterionLook {
    /// The rule.
    pub criterion: Criterion,
    /// True now.
    pub holds: bool,
    /// Hours after throwing at which it first held, and has been latched for age, firm and carbonated.
    pub met_after_h: Option<f64>,
}

/// One coat as it stands.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CoatLook {
    /// Hours since it was thrown.
    pub age_h: f64,
    /// Days since then with a mean at or above 5 °C.
    pub mild_days: f64,
    /// Mean water, kg/m³.
    pub water_kg_m3: f64,
    /// Mean water as a share of the mix's water.
    pub water_share: f64,
    /// Depth taken up: CO₂ taken up per m² over the portlandite it began with, m.
    pub uptake_m: f64,
    /// Depth of the front (portlandite below half), m, from the outer face of the coat.
    pub front_m: f64,
    /// Share of its portlandite turned.
    pub share: f64,
    /// Mean degree of its hydraulic set, 0 to 1; zero for air lime.
    pub set: f64,
    /// The degree at which it is firm; `None` for air lime.
    pub set_firm: Option<f64>,
    /// The degree that stands for the uptake asked for; `None` for air lime.
    pub set_asked: Option<f64>,
}

/// A wall at the end of an hour.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Look {
    /// Hour index into the climate.
    pub hour: usize,
    /// Temperature of the outer face, °C.
    pub face_c: f64,
    /// Relative humidity in the pores at the outer face, 0 to 1.
    pub face_humidity: f64,
    /// Mean degree of saturation of the outer 60 mm of masonry, 0 to 1.
    pub masonry_saturation: f64,
    /// Water in the hung cloth, kg/m²; zero with none.
    pub cloth_kg_m2: f64,
    /// Coats on the wall, innermost first.
    pub coats: Vec<CoatLook>,
    /// The six rules for the outermost coat; empty before the first.
    pub rules: Vec<CriterionLook>,
    /// True when all six hold.
    pub ready: bool,
    /// Damage that stands on the coats, innermost coat first.
    pub damage: Vec<Damage>,
    /// The rule that was the last to be met, or the first still failing.
    pub decides: Option<Criterion>,
}

/// Where a cell of a profile lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Stratum {
    /// In the masonry.
    Masonry,
    /// In the coat of this number, the one against the stone being 0.
    Coat(usize),
}

/// One cell of a wall as it stands, for drawing and for study.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ProfileCell {
    /// Where it lies.
    pub stratum: Stratum,
    /// Depth of its middle behind the outer face as it stands, m.
    pub depth_m: f64,
    /// Width, m.
    pub width_m: f64,
    /// Temperature, °C.
    pub temperature_c: f64,
    /// Water, ice included, as a share of what its pores hold when full, 0 to 1.
    pub water_share: f64,
    /// Ice as a share of what its pores hold when full, 0 to 1; zero where the bench does not freeze.
    pub ice_share: f64,
    /// Portlandite left as a share of what it was placed with, 0 to 1; `None` in masonry and in a mortar without any.
    pub portlandite_share: Option<f64>,
}
