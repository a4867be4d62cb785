//! The named closed forms and tables a trial's layer may be made of, each evaluated from its own parameters. Every form is one a published
//! benchmark uses; a layer with another function enters it as a table.

use physics::air::{VAPOUR_PERMEABILITY_ISO13788_S, humidity_of_suction};
use physics::constants::{VAPOUR_GAS_J_KGK, WATER_DENSITY_KG_M3};
use physics::numbers::{exp, ln, pow};

use crate::material::VapourInAir;

/// Water held, kg/m³, as a function of suction p_c.
#[derive(Clone, Debug, PartialEq)]
pub enum Retention {
    /// w = w_s·Σ share·(1 + (a·p_c)^n)^−m.
    VanGenuchten {
        /// Water at saturation, kg/m³.
        saturation_kg_m3: f64,
        /// Terms; the shares make 1.
        terms: Vec<VanGenuchtenTerm>,
    },
    /// w = w_s·(1 − ln φ / a)^−e, the sorption form of HAMSTAD benchmark 2.
    HumidityPower {
        /// Water at saturation, kg/m³.
        saturation_kg_m3: f64,
        /// a, above 0.
        a: f64,
        /// e, above 0.
        exponent: f64,
        /// Temperature at which humidity is turned into suction, K.
        reference_k: f64,
    },
    /// w = w_f·(b − 1)·φ / (b − φ) with b such that w(0.8) = w80 (Künzel 1995).
    Kuenzel {
        /// Free saturation, kg/m³.
        free_saturation_kg_m3: f64,
        /// Water at 80 % relative humidity, kg/m³.
        w80_kg_m3: f64,
        /// Temperature at which humidity is turned into suction, K.
        reference_k: f64,
    },
    /// w = w_s·φ.
    Linear {
        /// Water at φ = 1, kg/m³.
        saturation_kg_m3: f64,
        /// Temperature at which humidity is turned into suction, K.
        reference_k: f64,
    },
    /// Points (suction Pa rising, water kg/m³ falling), joined by straight lines over the logarithm of suction.
    SuctionTable(Vec<(f64, f64)>),
    /// Points (humidity rising, water kg/m³ rising), joined by straight lines.
    HumidityTable {
        /// The points; the first at φ = 0, the last at φ = 1.
        points: Vec<(f64, f64)>,
        /// Temperature at which humidity is turned into suction, K.
        reference_k: f64,
    },
}

/// One mode of a van Genuchten retention curve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct VanGenuchtenTerm {
    /// Share of the pore water, 0 to 1.
    pub share: f64,
    /// a, 1/Pa.
    pub a_per_pa: f64,
    /// n, above 1.
    pub n: f64,
    /// m, usually 1 − 1/n.
    pub m: f64,
}

impl Retention {
    /// Water content at a suction, kg/m³. Suction in Pa, zero or more.
    pub fn water_kg_m3(&self, suction_pa: f64) -> f64 {
        let humidity_at = |reference_k: f64| humidity_of_suction(suction_pa, reference_k);
        match self {
            Self::VanGenuchten { saturation_kg_m3, terms } => {
                let share: f64 = terms.iter().map(|term| term.share * pow(1.0 + pow(term.a_per_pa * suction_pa, term.n), -term.m)).sum();
                saturation_kg_m3 * share
            }
            Self::HumidityPower { saturation_kg_m3, a, exponent, reference_k } => {
                let minus_ln_humidity = suction_pa / (WATER_DENSITY_KG_M3 * VAPOUR_GAS_J_KGK * reference_k);
                saturation_kg_m3 * pow(1.0 + minus_ln_humidity / a, -exponent)
            }
            Self::Kuenzel { free_saturation_kg_m3: free, w80_kg_m3: w80, reference_k } => {
                let b = 0.8 * (free - w80) / (0.8 * free - w80);
                let humidity = humidity_at(*reference_k);
                free * (b - 1.0) * humidity / (b - humidity)
            }
            Self::Linear { saturation_kg_m3, reference_k } => saturation_kg_m3 * humidity_at(*reference_k),
            Self::SuctionTable(points) => {
                let least = points.first().map_or(1.0, |point| point.0);
                let at = ln(suction_pa.max(least));
                between(points, ln, at)
            }
            Self::HumidityTable { points, reference_k } => between(points, |humidity| humidity, humidity_at(*reference_k)),
        }
    }

    /// Water content without suction, kg/m³.
    pub fn saturation_kg_m3(&self) -> f64 {
        match self {
            Self::VanGenuchten { saturation_kg_m3, .. }
            | Self::HumidityPower { saturation_kg_m3, .. }
            | Self::Linear { saturation_kg_m3, .. } => *saturation_kg_m3,
            Self::Kuenzel { free_saturation_kg_m3, .. } => *free_saturation_kg_m3,
            Self::SuctionTable(points) => points.first().map_or(0.0, |point| point.1),
            Self::HumidityTable { points, .. } => points.last().map_or(0.0, |point| point.1),
        }
    }
}

/// Straight-line interpolation over `scale(x)`; held beyond the ends.
fn between(points: &[(f64, f64)], scale: impl Fn(f64) -> f64, at: f64) -> f64 {
    let above = points.partition_point(|point| scale(point.0) <= at);
    match (above.checked_sub(1).and_then(|below| points.get(below)), points.get(above)) {
        (Some(low), Some(high)) => {
            let share = (at - scale(low.0)) / (scale(high.0) - scale(low.0));
            low.1 + share * (high.1 - low.1)
        }
        (Some(end), None) | (None, Some(end)) => end.1,
        (None, None) => 0.0,
    }
}

/// Vapour permeability δ, kg/(m s Pa), as a function of temperature and water.
#[derive(Clone, Debug, PartialEq)]
pub enum Vapour {
    /// A constant permeability with a reduction by water.
    Constant {
        /// kg/(m s Pa).
        permeability_s: f64,
        /// Reduction by water.
        wet: WetVapour,
    },
    /// Still air's permeability over a resistance factor μ.
    Resistance {
        /// μ, 1 or more.
        factor: f64,
        /// Which formula for still air.
        air: AirPermeability,
        /// Reduction by water.
        wet: WetVapour,
    },
    /// Points (water kg/m³ rising, permeability kg/(m s Pa)).
    Table(Vec<(f64, f64)>),
}

/// Permeability of still air to vapour.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AirPermeability {
    /// 26.1e-6 / (R_v T), as EN 15026:2007 and HAMSTAD.
    En15026,
    /// 2.0e-10, flat (EN ISO 13788).
    Iso13788,
    /// 2.0e-7 T^0.81 / 101325 (Künzel 1995 after Schirmer).
    Schirmer,
}

/// How water in the pores narrows the way of vapour; S = w/w_s.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum WetVapour {
    /// Not at all.
    None,
    /// (1 − S).
    Linear,
    /// (1 − S) / ((1 − p)(1 − S)² + p), the form of EN 15026 and HAMSTAD.
    Narrowing(f64),
}

impl WetVapour {
    /// Factor at a degree of saturation, 0 to 1.
    pub fn factor(self, saturation: f64) -> f64 {
        let air = (1.0 - saturation).max(0.0);
        match self {
            Self::None => 1.0,
            Self::Linear => air,
            Self::Narrowing(p) => air / ((1.0 - p) * air * air + p),
        }
    }
}

impl Vapour {
    /// Permeability at a water content as a share of still air's, in a layer whose saturated water content is given; where the permeability does
    /// not follow still air's, the permeability itself, kg/(m s Pa).
    pub fn share(&self, water_kg_m3: f64, saturation_kg_m3: f64) -> f64 {
        let saturation = water_kg_m3 / saturation_kg_m3;
        match self {
            Self::Constant { permeability_s, wet } => permeability_s * wet.factor(saturation),
            Self::Resistance { factor, wet, .. } => wet.factor(saturation) / factor,
            Self::Table(points) => between(points, |water| water, water_kg_m3),
        }
    }

    /// The law of still air that the share stands on; 1 at every temperature where it stands on none.
    pub fn in_air(&self) -> VapourInAir {
        match self {
            Self::Constant { .. } | Self::Table(_) => VapourInAir::Constant(1.0),
            Self::Resistance { air, .. } => match air {
                AirPermeability::En15026 => VapourInAir::PerTemperature,
                AirPermeability::Iso13788 => VapourInAir::Constant(VAPOUR_PERMEABILITY_ISO13788_S),
                AirPermeability::Schirmer => VapourInAir::Schirmer,
            },
        }
    }
}

/// Liquid transport, as conductivity K(w) in s [kg/(m s Pa)] or diffusivity D(w) in m²/s.
#[derive(Clone, Debug, PartialEq)]
pub enum Liquid {
    /// None.
    None,
    /// K = K_s·(w/w_s)^e.
    ConductivityPower {
        /// At saturation, s.
        saturated_s: f64,
        /// e.
        exponent: f64,
    },
    /// K = exp(Σ a_j y^j) with y = (w − offset)/scale, as EN 15026 (offset 73, scale 1) and HAMSTAD 5 (offset 0, scale 1000).
    ConductivityExponential {
        /// kg/m³.
        offset_kg_m3: f64,
        /// kg/m³.
        scale_kg_m3: f64,
        /// a_0, a_1, …
        coefficients: Vec<f64>,
    },
    /// Points (water kg/m³ rising, K s), joined by straight lines over the logarithm of K.
    ConductivityTable(Vec<(f64, f64)>),
    /// D constant, m²/s.
    DiffusivityConstant(f64),
    /// D = factor·(A/w_s)²·base^(w/w_s − 1), Künzel 1995 with factor 3.8 and base 1000.
    DiffusivityExponential {
        /// Water absorption coefficient A, kg/(m² s^½).
        absorption_kg_m2_s05: f64,
        /// 3.8.
        factor: f64,
        /// 1000.
        base: f64,
    },
    /// Points (water kg/m³ rising, D m²/s), joined by straight lines over the logarithm of D.
    DiffusivityTable(Vec<(f64, f64)>),
}

/// A law of liquid transport, evaluated: the kernel needs the one it is given in, not a derivative of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum LiquidLaw {
    /// Conductivity K, s.
    Conductivity(f64),
    /// Diffusivity D, m²/s.
    Diffusivity(f64),
}

impl Liquid {
    /// The law at a water content, in a layer whose saturated water content is given.
    pub fn at(&self, water_kg_m3: f64, saturation_kg_m3: f64) -> LiquidLaw {
        let saturation = water_kg_m3 / saturation_kg_m3;
        match self {
            Self::None => LiquidLaw::Conductivity(0.0),
            Self::ConductivityPower { saturated_s, exponent } => LiquidLaw::Conductivity(saturated_s * pow(saturation, *exponent)),
            Self::ConductivityExponential { offset_kg_m3, scale_kg_m3, coefficients } => {
                let y = (water_kg_m3 - offset_kg_m3) / scale_kg_m3;
                LiquidLaw::Conductivity(exp(coefficients.iter().rev().fold(0.0, |sum, a| sum * y + a)))
            }
            Self::ConductivityTable(points) => LiquidLaw::Conductivity(between_logarithms(points, water_kg_m3)),
            Self::DiffusivityConstant(diffusivity) => LiquidLaw::Diffusivity(*diffusivity),
            Self::DiffusivityExponential { absorption_kg_m2_s05, factor, base } => {
                let speed = absorption_kg_m2_s05 / saturation_kg_m3;
                LiquidLaw::Diffusivity(factor * speed * speed * exp(ln(*base) * (saturation - 1.0)))
            }
            Self::DiffusivityTable(points) => LiquidLaw::Diffusivity(between_logarithms(points, water_kg_m3)),
        }
    }
}

/// Interpolation that is straight over the logarithm of the second column.
fn between_logarithms(points: &[(f64, f64)], at: f64) -> f64 {
    let logarithms: Vec<(f64, f64)> = points.iter().map(|point| (point.0, ln(point.1))).collect();
    exp(between(&logarithms, |water| water, at))
}

/// Heat conduction and storage of a layer.
#[derive(Clone, Debug, PartialEq)]
pub struct Heat {
    /// Conductivity dry, W/(m K).
    pub conductivity_w_mk: f64,
    /// Its increase with water, W/(m K) per kg/m³.
    pub conductivity_per_water: f64,
    /// Points (water kg/m³ rising, W/(m K)); empty for the line above.
    pub conductivity_table: Vec<(f64, f64)>,
    /// Dry density, kg/m³.
    pub density_kg_m3: f64,
    /// Dry specific heat, J/(kg K); the water in it adds its own.
    pub specific_j_kgk: f64,
}

impl Heat {
    /// Thermal conductivity at a water content, W/(m K).
    pub fn conductivity_w_mk(&self, water_kg_m3: f64) -> f64 {
        if self.conductivity_table.is_empty() {
            self.conductivity_w_mk + self.conductivity_per_water * water_kg_m3
        } else {
            between(&self.conductivity_table, |water| water, water_kg_m3)
        }
    }
}
