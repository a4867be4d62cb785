//! The layers of a column and the order of its nodes: inner face, then for each layer its cells and the joint (or outer face) that ends it.

use std::ops::Range;
use std::sync::Arc;

use crate::kernel::Carbonation;
use crate::{CuringError, MaterialTables};

/// One layer of a column.
#[derive(Clone, Debug)]
pub struct Layer {
    /// Its material.
    pub material: Arc<MaterialTables>,
    /// Widths of its cells, m, from the inner to the outer side.
    pub widths_m: Vec<f64>,
    /// How it takes up carbon dioxide; `None` for a layer that takes up none and lets none through. Layers that carbonate must be the outermost.
    pub carbonation: Option<Carbonation>,
}

impl Layer {
    /// Thickness, m.
    pub fn thickness_m(&self) -> f64 {
        self.widths_m.iter().sum()
    }
}

/// Where each layer's nodes stand and how long each link is.
#[derive(Clone, Debug)]
pub(crate) struct Layout {
    pub(crate) layers: Vec<Layer>,
    /// Cells of each layer, as node numbers; the joint that ends layer i is `cells[i].end`, the one before it `cells[i].start − 1`.
    pub(crate) cells: Vec<Range<usize>>,
    /// Width of each node, m; zero for faces and joints.
    pub(crate) width_m: Vec<f64>,
    /// Depth of each node behind the outermost face of the whole column, m.
    pub(crate) depth_m: Vec<f64>,
    /// One over the distance from node k − 1 to node k, 1/m; zero for the first.
    pub(crate) inverse_m: Vec<f64>,
    /// Share of that distance that lies in the cell of node k − 1.
    pub(crate) share_before: Vec<f64>,
    /// First layer that carbonates; the number of layers if none does.
    pub(crate) first_carbonating: usize,
}

impl Layout {
    /// Orders the nodes of some layers.
    pub(crate) fn new(layers: Vec<Layer>) -> Result<Self, CuringError> {
        let first_carbonating = check(&layers)?;
        let mut width_m = vec![0.0];
        let mut cells = Vec::with_capacity(layers.len());
        for layer in &layers {
            let start = width_m.len();
            width_m.extend_from_slice(&layer.widths_m);
            cells.push(start..width_m.len());
            width_m.push(0.0);
        }
        let mut depth_m = vec![0.0; width_m.len()];
        let mut inverse_m = vec![0.0; width_m.len()];
        let mut share_before = vec![0.0; width_m.len()];
        for node in 1..width_m.len() {
            let distance = 0.5 * (width_m[node - 1] + width_m[node]);
            inverse_m[node] = 1.0 / distance;
            share_before[node] = 0.5 * width_m[node - 1] / distance;
        }
        for node in (0..width_m.len() - 1).rev() {
            depth_m[node] = depth_m[node + 1] + 0.5 * (width_m[node] + width_m[node + 1]);
        }
        Ok(Self { layers, cells, width_m, depth_m, inverse_m, share_before, first_carbonating })
    }

    /// Number of nodes.
    pub(crate) fn nodes(&self) -> usize {
        self.width_m.len()
    }

    /// Node of the outer face when so many layers are awake.
    pub(crate) fn outer_face(&self, awake: usize) -> usize {
        match awake {
            0 => 0,
            some => self.cells[some - 1].end,
        }
    }

    /// Layer of a node; a joint belongs to the layer inside it.
    pub(crate) fn layer_of(&self, node: usize) -> usize {
        self.cells.iter().position(|cells| node <= cells.end).unwrap_or(0)
    }
}

/// Checks the layers; gives the first that carbonates.
fn check(layers: &[Layer]) -> Result<usize, CuringError> {
    let out_of_range = |place: String, what: &str, found: f64, allowed: &str, remedy: &str| CuringError::OutOfRange {
        place,
        what: what.to_owned(),
        found,
        allowed: allowed.to_owned(),
        remedy: remedy.to_owned(),
    };
    if layers.is_empty() {
        let place = "The column".to_owned();
        return Err(out_of_range(place, "the number of layers", 0.0, "at least 1", "Give it a layer."));
    }
    for (index, layer) in layers.iter().enumerate() {
        let place = format!("Layer {}", index + 1);
        if layer.widths_m.is_empty() {
            return Err(out_of_range(place, "the number of cells", 0.0, "at least 1", "Give it a thickness."));
        }
        if let Some(&width) = layer.widths_m.iter().find(|&&width| !(1e-6..=100.0).contains(&width)) {
            return Err(out_of_range(place, "the width of a cell, m,", width, "0.000001 to 100", "Choose another grid."));
        }
        if let Some(carbonation) = &layer.carbonation {
            carbonation.check(&place)?;
        }
        if let Some(set) = layer.material.set() {
            set.check(&place)?;
        }
    }
    let first = layers.iter().position(|layer| layer.carbonation.is_some()).unwrap_or(layers.len());
    match layers[first..].iter().position(|layer| layer.carbonation.is_none()) {
        None => Ok(first),
        Some(offset) => Err(out_of_range(
            format!("Layer {}", first + offset + 1),
            "the capacity to carbonate",
            0.0,
            "given for every layer outside one that carbonates",
            "Give it a carbonation of its own, with no portlandite if it holds none.",
        )),
    }
}
