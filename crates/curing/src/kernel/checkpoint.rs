//! A lane's state put aside and put back: what a step needs of the past, and nothing of its work space. It must never touch another lane.

use crate::CuringError;
use crate::kernel::cloth::Hung;
use crate::kernel::column::Column;
use crate::kernel::{Books, ZERO_K};

/// The state of one node.
#[derive(Clone, Copy, Debug, PartialEq)]
struct NodeState {
    y: f64,
    t: f64,
    y_before: f64,
    t_before: f64,
    water: f64,
    heat: f64,
    portlandite: f64,
    co2: f64,
    set_age: f64,
    set: f64,
}

/// The state of one lane: its awake nodes, its cloth, its faces and its books.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct LaneState {
    awake: usize,
    /// Stage of the pore net of each awake layer.
    stages: Vec<usize>,
    nodes: Vec<NodeState>,
    cloth: (f64, f64, Hung),
    flooded: f64,
    inner_flooded: f64,
    last_s: f64,
    books: Books,
}

impl<const L: usize> Column<L> {
    /// Puts a lane's state aside.
    pub(crate) fn save(&self, lane: usize) -> LaneState {
        let node = |node: usize| NodeState {
            y: self.y[node].0[lane],
            t: self.t[node].0[lane],
            y_before: self.y_before[node].0[lane],
            t_before: self.t_before[node].0[lane],
            water: self.water[node].0[lane],
            heat: self.heat[node].0[lane],
            portlandite: self.gas.b[node].0[lane],
            co2: self.gas.c[node].0[lane],
            set_age: self.setting.age[node].0[lane],
            set: self.setting.degree[node].0[lane],
        };
        LaneState {
            awake: self.awake[lane],
            stages: self.stage[..self.awake[lane]].iter().map(|stage| stage[lane]).collect(),
            nodes: (0..=self.layout.outer_face(self.awake[lane])).map(node).collect(),
            cloth: (self.cloth.water.0[lane], self.cloth.t.0[lane], self.hung[lane]),
            flooded: self.flooded.0[lane],
            inner_flooded: self.inner_flooded.0[lane],
            last_s: self.last_s.0[lane],
            books: self.books[lane],
        }
    }

    /// Puts a state back into a lane of a column whose inner layers have the same cells.
    ///
    /// # Errors
    /// A state of more layers, or of other cells, than the column has.
    pub(crate) fn load(&mut self, lane: usize, state: &LaneState) -> Result<(), CuringError> {
        let stages = self.layout.layers.iter().map(|layer| layer.material.stages());
        let fits = state.awake <= self.layout.layers.len()
            && state.nodes.len() == self.layout.outer_face(state.awake) + 1
            && state.stages.iter().zip(stages).all(|(&stage, stages)| stage < stages);
        if !fits {
            return Err(CuringError::OutOfRange {
                place: "The checkpoint".to_owned(),
                what: "the number of points of its column".to_owned(),
                found: state.nodes.len() as f64,
                allowed: "as many as the same layers have on this bench".to_owned(),
                remedy: "Take it up on a bench of the same wall whose first coats are the same.".to_owned(),
            });
        }
        self.awake[lane] = state.awake;
        for (layer, stage) in self.stage.iter_mut().enumerate() {
            stage[lane] = state.stages.get(layer).copied().unwrap_or(0);
        }
        for (node, kept) in state.nodes.iter().enumerate() {
            self.y[node].0[lane] = kept.y;
            self.t[node].0[lane] = kept.t;
            self.y_before[node].0[lane] = kept.y_before;
            self.t_before[node].0[lane] = kept.t_before;
            self.water[node].0[lane] = kept.water;
            self.heat[node].0[lane] = kept.heat;
            self.gas.b[node].0[lane] = kept.portlandite;
            self.gas.c[node].0[lane] = kept.co2;
            self.setting.age[node].0[lane] = kept.set_age;
            self.setting.degree[node].0[lane] = kept.set;
        }
        for node in state.nodes.len()..self.layout.nodes() {
            self.put_to_sleep(lane, node);
        }
        (self.cloth.water.0[lane], self.cloth.t.0[lane], self.hung[lane]) = state.cloth;
        self.flooded.0[lane] = state.flooded;
        self.inner_flooded.0[lane] = state.inner_flooded;
        self.last_s.0[lane] = state.last_s;
        self.books[lane] = state.books;
        Ok(())
    }

    /// Gives a node that is not awake a harmless state, so that nothing of the lane's last member lingers in it.
    fn put_to_sleep(&mut self, lane: usize, node: usize) {
        let face = self.layout.outer_face(self.awake[lane]);
        self.place(lane, node, self.y[face].0[lane], self.t[face].0[lane].max(ZERO_K));
        self.water[node].0[lane] = 0.0;
        self.heat[node].0[lane] = 0.0;
        self.gas.b[node].0[lane] = 0.0;
        self.gas.c[node].0[lane] = 0.0;
        self.setting.age[node].0[lane] = 0.0;
        self.setting.degree[node].0[lane] = 0.0;
    }
}
