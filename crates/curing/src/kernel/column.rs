//! The column: state of every member, and the driver that takes it through a span of time in steps that depend on that member alone.

use fearless_simd::Level;

use crate::CuringError;
use crate::kernel::books::Books;
use crate::kernel::carbon::{Gas, REACTION_J_MOL, WATER_KG_MOL};
use crate::kernel::cloth::Hung;
use crate::kernel::conditions::Conditions;
use crate::kernel::face::ClothState;
use crate::kernel::frost::{self, Frost};
use crate::kernel::layout::Layout;
use crate::kernel::newton::bounded;
use crate::kernel::point::{Point, heat_conductivity};
use crate::kernel::setting::Setting;
use crate::kernel::sweep::{Eliminated, FaceBalance};
use crate::kernel::vectors::{Stepper, Width};
use crate::kernel::{FaceCondition, Layer, Settings, WATER_J_KGK, ZERO_K};
use crate::lanes::{Lanes, On, Vector, ln};
use crate::material::{GREATEST_LN_SUCTION, LEAST_LN_SUCTION};

/// Share of the last step's changes by which a step starts ahead.
const EXTRAPOLATED: f64 = 0.75;
/// Longest step that begins where the last one leads, s: in steps of many hours the lead sent a dry wall to dew it never had.
const LONGEST_LED_S: f64 = 3601.0;
/// Farthest a step starts ahead, in y and K.
const FARTHEST_Y: f64 = 0.3;
const FARTHEST_K: f64 = 3.0;

/// Where and at what step a member was lost.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lost {
    /// Depth of the worst node behind the outer face, m.
    pub depth_m: f64,
    /// Step that did not converge, s.
    pub step_s: f64,
}

/// One column for `L` members that share layers and grid. A lane is stepped only while it is running.
#[derive(Clone, Debug)]
pub struct Column<const L: usize> {
    pub(crate) layout: Layout,
    pub(crate) settings: Settings,
    /// Layers awake in each lane.
    pub(crate) awake: [usize; L],
    /// Stage of each layer on its way from fresh to hardened, by lane.
    pub(crate) stage: Vec<[usize; L]>,
    pub(crate) y: Vec<Lanes<L>>,
    pub(crate) t: Vec<Lanes<L>>,
    /// Water, kg/m³, and enthalpy, J/m³, of each cell: the contents that are conserved.
    pub(crate) water: Vec<Lanes<L>>,
    pub(crate) heat: Vec<Lanes<L>>,
    pub(crate) gas: Gas<L>,
    pub(crate) setting: Setting<L>,
    pub(crate) cloth: ClothState<L>,
    /// What the cloth is that hangs.
    pub(crate) hung: [Hung; L],
    /// Whether the outer face stands at free water, so that rain or dew runs off.
    pub(crate) flooded: Lanes<L>,
    /// Whether the inner face does.
    pub(crate) inner_flooded: Lanes<L>,
    pub(crate) books: [Books; L],
    // Work space of a step.
    pub(crate) water_source: Vec<Lanes<L>>,
    pub(crate) heat_source: Vec<Lanes<L>>,
    pub(crate) heat_link: Vec<Lanes<L>>,
    pub(crate) vapour_link: Vec<Lanes<L>>,
    /// State functions at the last evaluation: node k of layer i stands at k + i, because joints are evaluated for both their layers.
    pub(crate) points: Vec<Point<Lanes<L>>>,
    pub(crate) eliminated: Vec<Eliminated<Lanes<L>>>,
    /// Changes of y and temperature that the last solve asks for.
    pub(crate) dy: Vec<Lanes<L>>,
    pub(crate) dt: Vec<Lanes<L>>,
    /// Heat of ice of each cell at the last evaluation, and whether any lane had some; the heat is empty where nothing freezes.
    pub(crate) frost: Vec<Frost<Lanes<L>>>,
    pub(crate) icy: Vec<bool>,
    /// How far ice leaves each link open to liquid, empty where nothing freezes, and whether it shuts any of a layer's.
    pub(crate) liquid_open: Vec<Lanes<L>>,
    pub(crate) throttled: Vec<bool>,
    pub(crate) inner_balance: FaceBalance<Lanes<L>>,
    pub(crate) outer_balance: FaceBalance<Lanes<L>>,
    /// Portlandite turned, water and heat set free over the step just taken, mol/m², kg/m², J/m².
    pub(crate) reaction: [Lanes<L>; 3],
    /// Potentials at the start of the last step.
    pub(crate) y_before: Vec<Lanes<L>>,
    pub(crate) t_before: Vec<Lanes<L>>,
    /// Length of the last step taken, s; zero before the first.
    pub(crate) last_s: Lanes<L>,
    iterations: u64,
    /// Vector instructions it is stepped with, and how.
    pub(crate) level: Level,
    stepper: Stepper<L>,
}

impl<const L: usize> Column<L> {
    /// A column of layers, of which the first `awake` are there from the beginning; the others wake when [`Column::wake`] says so. Every cell starts at
    /// 20 °C and a suction of 50 % relative humidity; set the state before stepping.
    ///
    /// # Errors
    /// Layers without cells, cells of no width, a layer that carbonates inside one that does not.
    pub fn new(layers: Vec<Layer>, awake: usize, settings: Settings) -> Result<Self, CuringError>
    where
        Self: Width<L>,
    {
        let layout = Layout::new(layers)?;
        let (nodes, layer_count) = (layout.nodes(), layout.layers.len());
        let zeros = vec![Lanes::default(); nodes];
        let gas = Gas::new(&layout);
        let mut column = Self {
            awake: [awake.min(layout.layers.len()); L],
            stage: vec![[0; L]; layer_count],
            layout,
            settings,
            y: vec![Lanes::splat(ln(93.77e6)); nodes],
            t: vec![Lanes::splat(293.15); nodes],
            water: zeros.clone(),
            heat: zeros.clone(),
            gas,
            setting: Setting::new(nodes),
            cloth: ClothState { t: Lanes::splat(293.15), freezes: settings.freezing, ..ClothState::default() },
            hung: [Hung::default(); L],
            flooded: Lanes::default(),
            inner_flooded: Lanes::default(),
            books: [Books::default(); L],
            water_source: zeros.clone(),
            heat_source: zeros.clone(),
            heat_link: zeros.clone(),
            vapour_link: zeros.clone(),
            points: vec![Point::default(); nodes + layer_count],
            eliminated: vec![Eliminated::default(); nodes],
            dy: zeros.clone(),
            dt: zeros.clone(),
            frost: vec![Frost::default(); if settings.freezing { nodes } else { 0 }],
            liquid_open: vec![Lanes::splat(1.0); if settings.freezing { nodes } else { 0 }],
            icy: vec![false; nodes],
            throttled: vec![false; layer_count],
            inner_balance: FaceBalance::default(),
            outer_balance: FaceBalance::default(),
            reaction: [Lanes::default(); 3],
            y_before: vec![Lanes::splat(ln(93.77e6)); nodes],
            t_before: vec![Lanes::splat(293.15); nodes],
            last_s: Lanes::default(),
            iterations: 0,
            level: settings.vectors.level(),
            stepper: <Self as Width<L>>::STEPPER,
        };
        for lane in 0..L {
            for layer in 0..column.layout.layers.len() {
                column.fill(lane, layer);
            }
            column.open_books(lane);
        }
        Ok(column)
    }

    /// Sets contents of the cells of a layer from their potentials, and their portlandite to that of a fresh layer.
    fn fill(&mut self, lane: usize, layer: usize) {
        let portlandite = self.layout.layers[layer].carbonation.map_or(0.0, |law| law.portlandite_mol_m3);
        for node in self.layout.cells[layer].clone() {
            let water = self.layout.layers[layer].material.pores(self.stage[layer][lane]).water_kg_m3(self.y[node].0[lane]);
            self.set_contents(lane, layer, node, self.t[node].0[lane], water);
            self.gas.b[node].0[lane] = portlandite;
            self.gas.c[node].0[lane] = 0.0;
            self.setting.age[node].0[lane] = 0.0;
            self.setting.degree[node].0[lane] = 0.0;
        }
    }

    /// Sets water and the enthalpy that goes with a temperature.
    fn set_contents(&mut self, lane: usize, layer: usize, node: usize, temperature_k: f64, water_kg_m3: f64) {
        let pores = self.layout.layers[layer].material.pores(self.stage[layer][lane]);
        let capacity = pores.dry_heat_j_m3k + WATER_J_KGK * water_kg_m3;
        let unfrozen = capacity * (temperature_k - ZERO_K);
        self.water[node].0[lane] = water_kg_m3;
        self.heat[node].0[lane] = if self.settings.freezing { frost::enthalpy(pores, water_kg_m3, temperature_k) } else { unfrozen };
    }

    /// Gives a node a state that no step led to.
    pub(crate) fn place(&mut self, lane: usize, node: usize, y: f64, t: f64) {
        for (now, before, value) in [(&mut self.y, &mut self.y_before, y), (&mut self.t, &mut self.t_before, t)] {
            now[node].0[lane] = value;
            before[node].0[lane] = value;
        }
    }

    /// Sets one cell to a temperature, K, and a suction, Pa. Call [`Column::settle`] when all cells are set.
    pub fn set_cell(&mut self, lane: usize, layer: usize, cell: usize, temperature_k: f64, suction_pa: f64) {
        let node = self.layout.cells[layer].start + cell;
        let y = ln(suction_pa.max(1.0)).clamp(LEAST_LN_SUCTION, GREATEST_LN_SUCTION - 0.05);
        self.place(lane, node, y, temperature_k);
        let water = self.layout.layers[layer].material.pores(self.stage[layer][lane]).water_kg_m3(y);
        self.set_contents(lane, layer, node, temperature_k, water);
    }

    /// Sets every awake cell of a member to one temperature, K, and one suction, Pa, and opens its books.
    pub fn set_uniform(&mut self, lane: usize, temperature_k: f64, suction_pa: f64) {
        for layer in 0..self.awake[lane] {
            for cell in 0..self.layout.cells[layer].len() {
                self.set_cell(lane, layer, cell, temperature_k, suction_pa);
            }
        }
        self.settle(lane);
    }

    /// Gives faces and joints the state of the cells beside them and opens the books of a member.
    pub fn settle(&mut self, lane: usize) {
        for node in 0..self.layout.nodes() {
            if self.layout.width_m[node] == 0.0 {
                let beside = if node == 0 { 1 } else { node - 1 };
                self.place(lane, node, self.y[beside].0[lane], self.t[beside].0[lane]);
            }
        }
        self.open_books(lane);
    }

    /// Forgets what has come and gone and starts the books from what is held now.
    pub fn open_books(&mut self, lane: usize) {
        self.books[lane] = Books { start: self.contents(lane), ..Books::default() };
    }

    /// Wakes the next layer of a member, at a temperature, K, with so much water, kg/m³: a coat is thrown.
    ///
    /// # Errors
    /// When every layer is awake.
    pub fn wake(&mut self, lane: usize, temperature_k: f64, water_kg_m3: f64) -> Result<(), CuringError> {
        let layer = self.awake[lane];
        let Some(material) = self.layout.layers.get(layer).map(|layer| layer.material.clone()) else {
            return Err(CuringError::OutOfRange {
                place: "The column".to_owned(),
                what: "the number of layers awake".to_owned(),
                found: (layer + 1) as f64,
                allowed: format!("at most {layer}"),
                remedy: "Build the column with more layers.".to_owned(),
            });
        };
        let y = ln(material.suction_pa(water_kg_m3));
        let before = self.contents(lane);
        self.awake[lane] += 1;
        self.stage[layer][lane] = 0;
        for node in self.layout.cells[layer].start..=self.layout.cells[layer].end {
            self.place(lane, node, y, temperature_k);
        }
        self.fill(lane, layer);
        self.flooded.0[lane] = 0.0;
        let after = self.contents(lane);
        self.record_added(lane, after.water_kg_m2 - before.water_kg_m2, after.energy_j_m2 - before.energy_j_m2);
        self.books[lane].brought_mol_m2 += after.portlandite_mol_m2 - before.portlandite_mol_m2;
        Ok(())
    }

    /// Puts the outermost layer of a member to sleep again with all it holds: a coat is taken off. The joint beneath it is the outer face from now on.
    ///
    /// # Errors
    /// When only one layer is awake.
    pub fn shed(&mut self, lane: usize) -> Result<(), CuringError> {
        if self.awake[lane] < 2 {
            return Err(CuringError::OutOfRange {
                place: "The column".to_owned(),
                what: "the number of layers awake".to_owned(),
                found: self.awake[lane] as f64,
                allowed: "at least 2, so that one can be taken off".to_owned(),
                remedy: "Wake a layer first.".to_owned(),
            });
        }
        let before = self.contents(lane);
        self.awake[lane] -= 1;
        self.flooded.0[lane] = 0.0;
        let after = self.contents(lane);
        self.record_added(lane, after.water_kg_m2 - before.water_kg_m2, after.energy_j_m2 - before.energy_j_m2);
        self.books[lane].brought_mol_m2 += after.portlandite_mol_m2 - before.portlandite_mol_m2;
        Ok(())
    }

    /// Most layers awake in any lane.
    pub(crate) fn most_awake(&self) -> usize {
        self.awake.iter().copied().max().unwrap_or(0)
    }

    /// One in the lanes where a layer is awake.
    pub(crate) fn awake_mask(&self, layer: usize) -> Lanes<L> {
        Lanes(std::array::from_fn(|lane| if self.awake[lane] > layer { 1.0 } else { 0.0 }))
    }

    /// One in the lanes where a layer is the outermost awake.
    pub(crate) fn outermost_mask(&self, layer: usize) -> Lanes<L> {
        Lanes(std::array::from_fn(|lane| if self.awake[lane] == layer + 1 { 1.0 } else { 0.0 }))
    }

    /// Whether any lane's wall ends at a layer.
    pub(crate) fn ends_here(&self, layer: usize) -> bool {
        self.awake.iter().any(|&awake| awake == layer + 1)
    }

    /// Newton iterations taken so far, over all steps of the block.
    pub fn iterations(&self) -> u64 {
        self.iterations
    }

    /// Takes each running member through `seconds` under constant conditions, in steps of at most `longest_s`. A step that does not converge is tried
    /// again at a quarter of its length; a member whose step falls below the shortest allowed is lost and stays as it was before that step.
    pub fn advance(
        &mut self,
        running: &[bool; L],
        seconds: f64,
        longest_s: &[f64; L],
        inner: &[FaceCondition; L],
        outer: &[FaceCondition; L],
    ) -> [Option<Lost>; L] {
        let mut lost = [None; L];
        let mut remaining: [f64; L] = std::array::from_fn(|lane| if running[lane] { seconds } else { 0.0 });
        let mut proposal = *longest_s;
        let inner = Conditions::gather(inner);
        let outer = Conditions::gather(outer);
        while remaining.iter().any(|&left| left > 0.0) {
            let active = remaining.map(|left| left > 0.0);
            let dt: [f64; L] = std::array::from_fn(|lane| match remaining[lane] {
                left if left <= 0.0 => seconds,
                left if left <= proposal[lane] * (1.0 + 1e-9) => left,
                _ => proposal[lane],
            });
            let taken = self.stepper.0(self, &inner, &outer, &active, &Lanes(dt));
            for lane in (0..L).filter(|&lane| active[lane]) {
                if taken.done[lane] {
                    remaining[lane] -= dt[lane];
                    proposal[lane] = (2.0 * dt[lane]).clamp(proposal[lane], longest_s[lane]);
                } else if dt[lane] * 0.25 < self.settings.shortest_step_s {
                    let face = self.layout.outer_face(self.awake[lane]);
                    let depth_m = (self.layout.depth_m[taken.worst[lane]] - self.layout.depth_m[face]).max(0.0);
                    lost[lane] = Some(Lost { depth_m, step_s: dt[lane] });
                    remaining[lane] = 0.0;
                } else {
                    proposal[lane] = dt[lane] * 0.25;
                }
            }
        }
        lost
    }

    /// One step of every active lane, in whatever instructions its caller was compiled for.
    pub(crate) fn step_on<V: Vector>(
        &mut self,
        on: On<V>,
        inner: &Conditions<L>,
        outer: &Conditions<L>,
        active: &[bool; L],
        dt: &Lanes<L>,
    ) -> Taken<L> {
        let (cloth, flooded, inner_flooded) = (self.cloth, self.flooded, self.inner_flooded);
        self.cloth.water_before = cloth.water;
        let heat = |lane: usize| outer.cloth.hung(lane, cloth.freezes).heat(cloth.water.0[lane], cloth.t.0[lane]);
        self.cloth.heat_before = Lanes(std::array::from_fn(heat));
        on.run(
            #[inline(always)]
            || self.hold_coefficients(on),
        );
        let unsolved = on.run(
            #[inline(always)]
            || self.solve_gas(on, outer, dt, active),
        );
        on.run(
            #[inline(always)]
            || {
                self.feed_back(on, dt);
                self.extrapolate(on, active, dt);
            },
        );
        let solved: [bool; L] = std::array::from_fn(|lane| active[lane] && !unsolved[lane]);
        let mut taken = self.newton(on, inner, outer, &solved, dt);
        for lane in (0..L).filter(|&lane| unsolved[lane]) {
            taken.worst[lane] = self.layout.outer_face(self.awake[lane]);
        }
        for lane in (0..L).filter(|&lane| taken.done[lane]) {
            self.last_s.0[lane] = dt.0[lane];
        }
        for lane in (0..L).filter(|&lane| active[lane] && !taken.done[lane]) {
            for node in 0..self.layout.nodes() {
                self.y[node].0[lane] = self.y_before[node].0[lane];
                self.t[node].0[lane] = self.t_before[node].0[lane];
            }
            self.cloth.water.0[lane] = cloth.water.0[lane];
            self.cloth.t.0[lane] = cloth.t.0[lane];
            self.flooded.0[lane] = flooded.0[lane];
            self.inner_flooded.0[lane] = inner_flooded.0[lane];
        }
        self.iterations += taken.iterations;
        taken
    }

    /// Starts the iterations of a step where the last step's changes lead, so that most steps need one solve. Cells that may freeze start where they are.
    #[inline(always)]
    fn extrapolate<V: Vector>(&mut self, on: On<V>, active: &[bool; L], dt: &Lanes<L>) {
        let (active, zero, dt, last_s) = (on.marked(active), on.zero(), on.load(dt), on.load(&self.last_s));
        let ratio = last_s.above_zero(dt / last_s, zero).min(on.splat(1.0)) * EXTRAPOLATED;
        let ratio = (on.splat(LONGEST_LED_S) - dt).above_zero(ratio, zero);
        for layer in 0..self.most_awake() {
            let here = active * on.load(&self.awake_mask(layer));
            let first = if layer == 0 { 0 } else { self.layout.cells[layer].start };
            for node in first..=self.layout.cells[layer].end {
                let (y, t) = (on.load(&self.y[node]), on.load(&self.t[node]));
                let (y_before, t_before) = (on.load(&self.y_before[node]), on.load(&self.t_before[node]));
                let ahead_t = t + ((t - t_before) * ratio).clamp(-FARTHEST_K, FARTHEST_K);
                let ahead_y = bounded(y + ((y - y_before) * ratio).clamp(-FARTHEST_Y, FARTHEST_Y));
                let moves = if self.settings.freezing { (ahead_t.min(t) - ZERO_K).above_zero(here, zero) } else { here };
                self.y_before[node] = here.above_zero(y, y_before).lanes();
                self.t_before[node] = here.above_zero(t, t_before).lanes();
                self.y[node] = moves.above_zero(ahead_y, y).lanes();
                self.t[node] = moves.above_zero(ahead_t, t).lanes();
            }
        }
    }

    /// Takes the coefficients that change little in a step from its start: conduction of heat and permeability of air in each link.
    #[inline(always)]
    fn hold_coefficients<V: Vector>(&mut self, on: On<V>) {
        for layer in 0..self.most_awake() {
            let awake = on.load(&self.awake_mask(layer));
            let cells = self.layout.cells[layer].clone();
            let material = &self.layout.layers[layer].material;
            let [c0, c1, c2, c3] = material.vapour_in_air;
            let mut before = heat_conductivity(on, material, &self.stage[layer], &self.y[cells.start]);
            let mut colder = on.load(&self.t[cells.start - 1]);
            for node in cells.start..=cells.end {
                let after = if node == cells.end { before } else { heat_conductivity(on, material, &self.stage[layer], &self.y[node]) };
                let share = self.layout.share_before[node];
                let inverse = self.layout.inverse_m[node];
                self.heat_link[node] = (before * after * awake * inverse / (after * share + before * (1.0 - share))).lanes();
                let t = on.load(&self.t[node]);
                let x = (colder + t) * (0.5 / 293.15) - 1.0;
                let in_air = ((x * c3 + c2) * x + c1) * x + c0;
                self.vapour_link[node] = (in_air * awake * inverse).lanes();
                (before, colder) = (after, t);
            }
            if self.settings.freezing {
                self.throttle(layer);
            }
        }
    }

    /// Water and heat that carbonation gives each cell over the step and hydraulic set takes from it, per m³.
    #[inline(always)]
    fn feed_back<V: Vector>(&mut self, on: On<V>, dt: &Lanes<L>) {
        let dt = on.load(dt);
        for layer in 0..self.most_awake() {
            let feeds_back = self.layout.layers[layer].carbonation.is_some_and(|law| law.feeds_back);
            let sets = self.layout.layers[layer].material.set().copied();
            if !feeds_back && sets.is_none() {
                continue;
            }
            for node in self.layout.cells[layer].clone() {
                let warmth = on.load(&self.t[node]) - ZERO_K;
                let (mut water, mut heat) = (on.zero(), on.zero());
                if feeds_back {
                    let turned = on.load(&self.gas.r[node]) * dt;
                    water = turned * WATER_KG_MOL;
                    heat = turned * (warmth * (WATER_KG_MOL * WATER_J_KGK) + REACTION_J_MOL);
                }
                if let Some(law) = &sets {
                    let gained = self.set_cell_on(on, law, node, dt);
                    let bound = gained * law.binds_kg_m3;
                    water = water - bound;
                    heat = heat + (gained * law.heat_j_m3 - bound * warmth * WATER_J_KGK);
                }
                self.water_source[node] = water.lanes();
                self.heat_source[node] = heat.lanes();
            }
        }
    }
}

/// What came of a step.
pub(crate) struct Taken<const L: usize> {
    /// Lanes that converged and were stepped.
    pub(crate) done: [bool; L],
    /// Node at which each lane was changing most.
    pub(crate) worst: [usize; L],
    pub(crate) iterations: u64,
}
