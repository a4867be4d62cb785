//! What a trial is made of, as plain data.

use super::forms::{Heat, Liquid, Retention, Vapour};

/// A column to run.
#[derive(Clone, Debug, PartialEq)]
pub struct Trial {
    /// What it is, one line.
    pub title: String,
    /// Where its numbers come from.
    pub source: String,
    /// Layers from the outer face inwards.
    pub layers: Vec<TrialLayer>,
    /// State before the run begins.
    pub start: Start,
    /// The outer face (depth zero).
    pub outer: TrialFace,
    /// The inner face.
    pub inner: TrialFace,
    /// Carbon dioxide at the outer face; `None` where nothing reacts.
    pub carbonation: Option<AirCarbon>,
    /// What is switched on.
    pub switches: Switches,
    /// Times and steps.
    pub clock: Clock,
    /// Depths from the outer face at which profiles are reported, m; empty for the middle of every cell.
    pub depths_m: Vec<f64>,
    /// Heat of evaporation, J/kg.
    pub latent_j_kg: f64,
}

/// One layer.
#[derive(Clone, Debug, PartialEq)]
pub struct TrialLayer {
    /// Name shown.
    pub name: String,
    /// Thickness, m.
    pub thickness_m: f64,
    /// Its cells.
    pub grid: LayerGrid,
    /// Water held against suction.
    pub retention: Retention,
    /// Vapour permeability.
    pub vapour: Vapour,
    /// Liquid transport.
    pub liquid: Liquid,
    /// Heat conduction and storage.
    pub heat: Heat,
    /// Lime in it; `None` for none.
    pub lime: Option<TrialLime>,
}

/// How a layer is cut into cells.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum LayerGrid {
    /// So many equal cells.
    Even {
        /// How many.
        cells: usize,
    },
    /// Thin at the edges, growing geometrically inwards.
    Graded {
        /// Thickness of the cell at the layer's outer edge, m.
        first_m: f64,
        /// Thickness of the cell at the layer's inner edge, m; `None` where cells go on growing to the inner edge.
        last_m: Option<f64>,
        /// Greatest ratio of one cell to its neighbour, 1 or more.
        growth: f64,
        /// Greatest thickness of any cell, m.
        greatest_m: f64,
    },
}

impl LayerGrid {
    /// The grid of a layer that names none: 0.5 mm at both edges, growing by at most 1.12.
    pub const STANDARD: Self = Self::Graded { first_m: 5e-4, last_m: Some(5e-4), growth: 1.12, greatest_m: 1e3 };
}

/// Lime of a layer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TrialLime {
    /// Portlandite at the start, b₀, mol/m³.
    pub portlandite_mol_m3: f64,
    /// k of the rate r = k·f·c·(b/b₀), 1/s; r in mol/(m³ s), c in mol/m³ of air.
    pub rate_per_s: f64,
    /// Diffusion of CO₂.
    pub diffusion: CarbonDiffusion,
    /// Activation energy of k about 20 °C, J/mol; zero for a rate that temperature does not change.
    pub activation_j_mol: f64,
    /// True if the rate falls off where the pores are too dry to hold a film of water; false for a pure law.
    pub needs_film: bool,
    /// True if pores narrow as calcite takes the place of portlandite.
    pub narrows: bool,
    /// True if the layer gets the water and heat of the reaction.
    pub feeds_back: bool,
}

/// Diffusion coefficient of CO₂ through a layer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CarbonDiffusion {
    /// A constant, m²/s.
    Constant(f64),
    /// D₀(T)·factor·ε^m·(1 − S)^n with the layer's porosity ε and saturation S = w/(ρ_w·ε).
    PoreLaw {
        /// Open porosity, 0 to 1.
        porosity: f64,
        /// Factor before the law.
        factor: f64,
        /// Exponent of porosity.
        porosity_exponent: f64,
        /// Exponent of the air-filled share.
        air_exponent: f64,
    },
}

/// Carbon dioxide in front of the outer face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AirCarbon {
    /// Concentration, mol/m³ of air.
    pub air_mol_m3: f64,
    /// Film coefficient, m/s; `None` holds the face itself at the concentration.
    pub film_m_s: Option<f64>,
}

/// State at the start.
#[derive(Clone, Debug, PartialEq)]
pub enum Start {
    /// The same everywhere.
    Uniform(StartPoint),
    /// Points by rising depth, joined by straight lines and held beyond the ends; all give moisture in the same way.
    Profile(Vec<StartPoint>),
}

/// The state at one depth at the start.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StartPoint {
    /// Depth from the outer face, m.
    pub depth_m: f64,
    /// Moisture.
    pub wetness: Wetness,
    /// Temperature, K.
    pub temperature_k: f64,
}

/// A state of moisture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Wetness {
    /// Relative humidity of the pore air, 0 to 1.
    Humidity(f64),
    /// Water content, kg/m³ (turned into suction by the layer it stands in).
    Water(f64),
    /// Capillary suction, Pa.
    Suction(f64),
}

/// What stands before a face.
#[derive(Clone, Debug, PartialEq)]
pub enum TrialFace {
    /// The face itself is held; what is `None` is sealed.
    Fixed {
        /// Moisture state.
        wetness: Option<Wetness>,
        /// Temperature, K.
        temperature_k: Option<f64>,
    },
    /// Air behind films: rows in order of time, the first at zero; each holds until the next, the last to the end.
    Air(Vec<AirRow>),
    /// Free water stands at the face (no suction); temperature held if given, else sealed.
    FreeWater {
        /// Temperature, K.
        temperature_k: Option<f64>,
    },
    /// Nothing passes.
    Sealed,
}

/// What the air offers from an instant on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AirRow {
    /// From, s.
    pub from_s: f64,
    /// Air temperature, K.
    pub air_k: f64,
    /// Vapour pressure of the air, Pa.
    pub vapour_pa: f64,
    /// Heat film coefficient, W/(m² K).
    pub heat_w_m2k: f64,
    /// Vapour film coefficient, kg/(m² s Pa).
    pub vapour_s_m: f64,
    /// Radiation absorbed by the face, net of what `longwave` counts, W/m².
    pub absorbed_w_m2: f64,
    /// Rain offered to the face, kg/(m² s).
    pub rain_kg_m2s: f64,
    /// Temperature of the rain, K.
    pub rain_k: f64,
    /// Long-wave exchange with sky and ground, where it is not already counted in the film coefficient.
    pub longwave: Option<Longwave>,
}

/// Long-wave exchange of a face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Longwave {
    /// Falling on the face, W/m².
    pub falling_w_m2: f64,
    /// Emissivity of the face, 0 to 1.
    pub emissivity: f64,
}

/// What is switched on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Switches {
    /// Heat is solved; off, every cell keeps its temperature.
    pub heat: bool,
    /// Moisture is solved; off, every cell keeps its water.
    pub moisture: bool,
    /// Rain is taken up.
    pub rain: bool,
    /// Evaporation and condensation carry heat.
    pub latent_heat: bool,
    /// Pore water freezes.
    pub freezing: bool,
    /// Lime reacts.
    pub reaction: bool,
}

/// Times and steps.
#[derive(Clone, Debug, PartialEq)]
pub struct Clock {
    /// Times at which to report, s, rising; the last ends the run.
    pub report_s: Vec<f64>,
    /// Length of the first step (and of the first after the air changes), s.
    pub first_step_s: f64,
    /// Longest step, s.
    pub longest_step_s: f64,
    /// Growth of one step over the one before, above 1.
    pub step_growth: f64,
}
