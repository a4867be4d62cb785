//! From the named forms of a layer to the functions the kernel tabulates.

use serde::Serialize;

use super::data::TrialLayer;
use super::forms::{Liquid, LiquidLaw};
use crate::material::{self, MaterialFunctions, MaterialTables};
use crate::{CuringError, TableError};

/// Least permeability of a layer, as a share of still air's: what lets nothing through would leave the suction of faces and joints undetermined.
const TIGHT: f64 = 1e-30;

/// The tables of a layer; tight to vapour and liquid where moisture does not move.
pub(super) fn tables(layer: &TrialLayer, moisture_moves: bool) -> Result<MaterialTables, CuringError> {
    let mut functions = functions(layer);
    if !moisture_moves {
        functions.liquid = material::Liquid::None;
        functions.vapour_factor = Box::new(|_| TIGHT);
    }
    MaterialTables::new(&functions)
}

/// How far a layer's tables lie from its forms, for printing.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LayerTableError {
    /// Name of the layer.
    pub layer: String,
    /// Greatest relative error of the water content.
    pub water: f64,
    /// Of the flux potential of liquid.
    pub potential: f64,
    /// Of the vapour permeability.
    pub vapour: f64,
    /// Of the heat conductivity.
    pub heat_conductivity: f64,
}

impl LayerTableError {
    pub(super) fn new(layer: &TrialLayer, tables: &MaterialTables) -> Self {
        let TableError { water, potential, vapour, heat_conductivity } = tables.error();
        Self { layer: layer.name.clone(), water, potential, vapour, heat_conductivity }
    }
}

fn functions(layer: &TrialLayer) -> MaterialFunctions {
    let saturation_kg_m3 = layer.retention.saturation_kg_m3();
    let (retention, vapour, heat) = (layer.retention.clone(), layer.vapour.clone(), layer.heat.clone());
    MaterialFunctions {
        name: format!("of layer “{}”", layer.name),
        water: Box::new(move |suction_pa| retention.water_kg_m3(suction_pa)),
        liquid: liquid(layer),
        vapour_in_air: vapour.in_air(),
        vapour_factor: Box::new(move |water_kg_m3| vapour.share(water_kg_m3, saturation_kg_m3).max(TIGHT)),
        dry_heat_j_m3k: heat.density_kg_m3 * heat.specific_j_kgk,
        heat_conductivity: Box::new(move |water_kg_m3| heat.conductivity_w_mk(water_kg_m3)),
    }
}

fn liquid(layer: &TrialLayer) -> material::Liquid {
    let saturation_kg_m3 = layer.retention.saturation_kg_m3();
    let (law, retention) = (layer.liquid.clone(), layer.retention.clone());
    let value = move |water_kg_m3: f64| match law.at(water_kg_m3, saturation_kg_m3) {
        LiquidLaw::Conductivity(value) | LiquidLaw::Diffusivity(value) => value,
    };
    match layer.liquid {
        Liquid::None => material::Liquid::None,
        Liquid::ConductivityPower { .. } | Liquid::ConductivityExponential { .. } | Liquid::ConductivityTable(_) => {
            material::Liquid::Conductivity(Box::new(move |suction_pa| value(retention.water_kg_m3(suction_pa))))
        }
        Liquid::DiffusivityConstant(_) | Liquid::DiffusivityExponential { .. } | Liquid::DiffusivityTable(_) => {
            material::Liquid::Diffusivity(Box::new(value))
        }
    }
}
