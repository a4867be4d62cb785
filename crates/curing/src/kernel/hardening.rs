//! A coat's pore net moves from that of a wet mix towards the hardened one. The move takes no time and no water: each cell keeps its water and its
//! enthalpy, and the suction that holds so much water in the new net is found again. This module must never move a net back, nor to a stage
//! whose pores could not hold the water that is in them: a coat that has set under water keeps the wider net until some has gone.

use std::sync::Arc;

use crate::kernel::column::Column;
use crate::kernel::frost;
use crate::material::{GREATEST_LN_SUCTION, LEAST_LN_SUCTION};

/// Greatest share of its pores' water that a cell may hold in the net it is moved to: the suction has no value at saturation.
const FULLEST: f64 = 0.995;

impl<const L: usize> Column<L> {
    /// Whether a layer has come to the end of its ladder.
    pub fn is_hardened(&self, lane: usize, layer: usize) -> bool {
        self.stage[layer][lane] + 1 >= self.layout.layers[layer].material.stages()
    }

    /// Stage of a layer on its way from fresh, 0, to hardened.
    pub fn stage(&self, lane: usize, layer: usize) -> usize {
        self.stage[layer][lane]
    }

    /// Moves the pore net of a layer on to the stage of a firmness, 0 fresh to 1 hardened.
    pub fn harden(&mut self, lane: usize, layer: usize, firmness: f64) {
        let material = Arc::clone(&self.layout.layers[layer].material);
        let cells = self.layout.cells[layer].clone();
        let last = material.stages() - 1;
        let wanted = (firmness.clamp(0.0, 1.0) * last as f64) as usize;
        let wettest = cells.clone().map(|node| self.water[node].0[lane]).fold(0.0, f64::max);
        let from = self.stage[layer][lane];
        let mut stage = from;
        while stage < wanted && wettest <= FULLEST * material.pores(stage + 1).saturation_kg_m3() {
            stage += 1;
        }
        if stage == from {
            return;
        }
        self.stage[layer][lane] = stage;
        let pores = material.pores(stage);
        for node in cells.clone() {
            let water = self.water[node].0[lane];
            let y = pores.y_of_water(water).clamp(LEAST_LN_SUCTION, GREATEST_LN_SUCTION - 0.05);
            let t = self.t[node].0[lane];
            let t = if self.settings.freezing { frost::temperature(pores, water, self.heat[node].0[lane], t) } else { t };
            self.place(lane, node, y, t);
        }
    }
}
