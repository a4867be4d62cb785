//! Looking into a column: contents, profiles, faces, cloth. Nothing here changes what is computed, but for water and cloth put on by hand.

use crate::kernel::cloth::Hung;
use crate::kernel::column::Column;
use crate::kernel::frost;
use crate::kernel::{Books, Contents, WATER_J_KGK, ZERO_K};
use crate::lanes::exp;
use crate::material::humidity_of_suction;
use crate::{Balance, Layer};

/// What a point of a profile stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// The face on the room side.
    InnerFace,
    /// The middle of a cell, by layer and number within it.
    Cell {
        /// Layer, from the inside.
        layer: usize,
        /// Cell in that layer, from the inside.
        cell: usize,
    },
    /// The joint outside a layer.
    Joint {
        /// The layer inside it.
        layer: usize,
    },
    /// The face towards the weather.
    OuterFace,
}

/// One point of a profile. Faces and joints hold no water: theirs is what the material inside them would hold.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seen {
    /// Where.
    pub place: Place,
    /// Depth behind the outer face as it stands, m.
    pub depth_m: f64,
    /// Width, m; zero for faces and joints.
    pub width_m: f64,
    /// Temperature, K.
    pub temperature_k: f64,
    /// Suction of its whole water, Pa; with ice the liquid left has a greater one.
    pub suction_pa: f64,
    /// Relative humidity in the pores (over ice where there is some), 0 to 1.
    pub humidity: f64,
    /// Water, kg/m³.
    pub water_kg_m3: f64,
    /// Ice, the frozen part of the water, kg/m³.
    pub ice_kg_m3: f64,
    /// Portlandite left, mol/m³.
    pub portlandite_mol_m3: f64,
    /// Carbon dioxide in the pore air, mol/m³.
    pub co2_mol_m3: f64,
}

impl<const L: usize> Column<L> {
    /// The layers.
    pub fn layers(&self) -> &[Layer] {
        &self.layout.layers
    }

    /// Layers awake in a lane.
    pub fn awake(&self, lane: usize) -> usize {
        self.awake[lane]
    }

    /// Cells awake in a lane.
    pub fn awake_cells(&self, lane: usize) -> usize {
        self.layout.cells[..self.awake[lane]].iter().map(|cells| cells.len()).sum()
    }

    /// All points of a lane from the inner face to the outer.
    pub fn profile(&self, lane: usize) -> Vec<Seen> {
        (0..=self.layout.outer_face(self.awake[lane])).map(|node| self.seen(lane, node)).collect()
    }

    /// The outer face.
    pub fn outer_face(&self, lane: usize) -> Seen {
        self.seen(lane, self.layout.outer_face(self.awake[lane]))
    }

    /// The inner face.
    pub fn inner_face(&self, lane: usize) -> Seen {
        self.seen(lane, 0)
    }

    /// The cells of a layer, from the inside.
    pub fn layer_cells(&self, lane: usize, layer: usize) -> impl DoubleEndedIterator<Item = Seen> + '_ {
        self.layout.cells[layer].clone().map(move |node| self.seen(lane, node))
    }

    /// Width, m, water, kg/m³, and portlandite left, mol/m³, of the cells of a layer, from the inside.
    pub fn layer_contents(&self, lane: usize, layer: usize) -> impl DoubleEndedIterator<Item = (f64, f64, f64)> + '_ {
        let cells = self.layout.cells[layer].clone();
        cells.map(move |node| (self.layout.width_m[node], self.water[node].0[lane], self.gas.b[node].0[lane]))
    }

    /// One node.
    fn seen(&self, lane: usize, node: usize) -> Seen {
        let face = self.layout.outer_face(self.awake[lane]);
        let layer = self.layout.layer_of(node);
        let place = match node {
            0 => Place::InnerFace,
            node if node == face => Place::OuterFace,
            node if self.layout.width_m[node] == 0.0 => Place::Joint { layer },
            node => Place::Cell { layer, cell: node - self.layout.cells[layer].start },
        };
        let (temperature_k, suction_pa) = (self.t[node].0[lane], exp(self.y[node].0[lane]));
        let is_cell = matches!(place, Place::Cell { .. });
        let pores = self.layout.layers[layer].material.pores(self.stage[layer][lane]);
        let water = if is_cell { self.water[node].0[lane] } else { pores.water_kg_m3(self.y[node].0[lane]) };
        let freezes = is_cell && self.settings.freezing;
        let ice = if freezes { frost::ice_kg_m3(pores, water, temperature_k) } else { 0.0 };
        let liquid_pa = if ice > 0.0 { frost::liquid_suction_pa(suction_pa, temperature_k) } else { suction_pa };
        Seen {
            place,
            depth_m: self.layout.depth_m[node] - self.layout.depth_m[face],
            width_m: self.layout.width_m[node],
            temperature_k,
            suction_pa,
            humidity: humidity_of_suction(liquid_pa, temperature_k),
            water_kg_m3: water,
            ice_kg_m3: ice,
            portlandite_mol_m3: self.gas.b[node].0[lane],
            co2_mol_m3: self.gas.c[node].0[lane],
        }
    }

    /// What a lane holds.
    pub fn contents(&self, lane: usize) -> Contents {
        let mut contents = Contents::default();
        for layer in 0..self.awake[lane] {
            for node in self.layout.cells[layer].clone() {
                let width = self.layout.width_m[node];
                contents.water_kg_m2 += self.water[node].0[lane] * width;
                contents.energy_j_m2 += self.heat[node].0[lane] * width;
                contents.portlandite_mol_m2 += self.gas.b[node].0[lane] * width;
            }
        }
        contents.water_kg_m2 += self.cloth.water.0[lane];
        contents.energy_j_m2 += self.hung[lane].heat(self.cloth.water.0[lane], self.cloth.t.0[lane]);
        contents
    }

    /// What has come and gone.
    pub fn books(&self, lane: usize) -> &Books {
        &self.books[lane]
    }

    /// How the books close.
    pub fn balance(&self, lane: usize) -> Balance {
        self.books[lane].close(&self.contents(lane))
    }

    /// Water in the cloth, kg/m², and its temperature, K.
    pub fn cloth(&self, lane: usize) -> (f64, f64) {
        (self.cloth.water.0[lane], self.cloth.t.0[lane])
    }

    /// Ice in the cloth, kg/m².
    pub fn cloth_ice_kg_m2(&self, lane: usize) -> f64 {
        self.hung[lane].ice(self.cloth.water.0[lane], self.cloth.t.0[lane])
    }

    /// Hangs a cloth: its dry heat capacity, J/(m² K), what it holds by sorption, kg/m², the water it comes with, kg/m², and its temperature, K. From then on
    /// every condition of the outer face must carry a cloth with the same dry heat capacity and sorption.
    pub fn hang(&mut self, lane: usize, dry_heat_j_m2k: f64, sorbed_kg_m2: f64, water_kg_m2: f64, temperature_k: f64) {
        self.strike(lane);
        self.hung[lane] = Hung { dry_heat: dry_heat_j_m2k, sorbed: sorbed_kg_m2, freezes: self.settings.freezing };
        self.cloth.water.0[lane] = water_kg_m2;
        self.cloth.t.0[lane] = temperature_k;
        self.record_added(lane, water_kg_m2, self.hung[lane].heat(water_kg_m2, temperature_k));
    }

    /// Takes the cloth away with the water in it.
    pub fn strike(&mut self, lane: usize) {
        let (water, t) = self.cloth(lane);
        self.record_added(lane, -water, -self.hung[lane].heat(water, t));
        self.hung[lane] = Hung::default();
        self.cloth.water.0[lane] = 0.0;
        self.cloth.t.0[lane] = ZERO_K + 20.0;
    }

    /// Wets the cloth with water of its own temperature, of 0 °C at least, up to what it holds; gives what it took, kg/m².
    pub fn wet_cloth(&mut self, lane: usize, water_kg_m2: f64, holds_kg_m2: f64) -> f64 {
        let (water, t) = self.cloth(lane);
        let taken = water_kg_m2.min(holds_kg_m2 - water).max(0.0);
        let brought = taken * WATER_J_KGK * (t.max(ZERO_K) - ZERO_K);
        if t < ZERO_K && taken > 0.0 {
            let heat = self.hung[lane].heat(water, t) + brought;
            self.cloth.t.0[lane] = self.hung[lane].temperature(water + taken, heat);
        }
        self.cloth.water.0[lane] = water + taken;
        self.record_added(lane, taken, brought);
        taken
    }
}
