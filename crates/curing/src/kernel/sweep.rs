//! One Newton iteration for heat and water: the rows are built and eliminated in a single pass from the room to the weather, then the changes are
//! found in a pass back. Two by two blocks in (y, T), no pivoting needed: each block is dominated by its own storage and links.

use crate::kernel::column::Column;
use crate::kernel::conditions::Conditions;
use crate::kernel::face::{FaceRow, Flow, face_row};
use crate::kernel::newton::{FaceChange, GREATEST_CHANGE_K, GREATEST_CHANGE_Y, bounded, weight_of};
use crate::kernel::point::Point;
use crate::kernel::{FACE_TOLERANCE_K, FACE_TOLERANCE_Y, WATER_J_KGK, ZERO_K};
use crate::lanes::Lanes;

/// Iterations of the face and the cloth alone within one of the wall.
const MOST_FACE_TRIALS: usize = 8;

/// A 2 × 2 block: water by (y, T), heat by (y, T).
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Block<const L: usize> {
    pub(crate) wy: Lanes<L>,
    pub(crate) wt: Lanes<L>,
    pub(crate) hy: Lanes<L>,
    pub(crate) ht: Lanes<L>,
}

/// A row being built: residuals, its own block, its coupling to the node before.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Row<const L: usize> {
    pub(crate) water: Lanes<L>,
    pub(crate) heat: Lanes<L>,
    pub(crate) own: Block<L>,
    pub(crate) before: Block<L>,
}

/// What elimination leaves of a row: Δ(y, T) = right − upper · Δ of the next node.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Eliminated<const L: usize> {
    pub(crate) upper: Block<L>,
    pub(crate) y: Lanes<L>,
    pub(crate) t: Lanes<L>,
}

impl<const L: usize> Eliminated<L> {
    /// Change of this node when the next one changes.
    #[inline(always)]
    fn answer(&self, y: Lanes<L>, t: Lanes<L>) -> (Lanes<L>, Lanes<L>) {
        (self.y - self.upper.wy * y - self.upper.wt * t, self.t - self.upper.hy * y - self.upper.ht * t)
    }
}

impl<const L: usize> Block<L> {
    #[inline(always)]
    fn add(&mut self, other: &Block<L>) {
        self.wy = self.wy + other.wy;
        self.wt = self.wt + other.wt;
        self.hy = self.hy + other.hy;
        self.ht = self.ht + other.ht;
    }

    #[inline(always)]
    fn take(&mut self, other: &Block<L>) {
        self.wy = self.wy - other.wy;
        self.wt = self.wt - other.wt;
        self.hy = self.hy - other.hy;
        self.ht = self.ht - other.ht;
    }

    #[inline(always)]
    fn times(&self, other: &Block<L>) -> Self {
        Self {
            wy: self.wy * other.wy + self.wt * other.hy,
            wt: self.wy * other.wt + self.wt * other.ht,
            hy: self.hy * other.wy + self.ht * other.hy,
            ht: self.hy * other.wt + self.ht * other.ht,
        }
    }
}

impl<const L: usize> Row<L> {
    /// Adds what leaves a node by the link after it.
    #[inline(always)]
    fn leave(&mut self, flows: &Link<L>) {
        self.water = self.water + flows.water;
        self.heat = self.heat + flows.heat;
        self.own.add(&flows.by_left);
    }

    /// Begins the row of the node after a link: what the link brings, and the identity where the node is asleep.
    #[inline(always)]
    fn start(&mut self, flows: &Link<L>, asleep: Lanes<L>) {
        self.water = -flows.water;
        self.heat = -flows.heat;
        self.own.wy = asleep - flows.by_right.wy;
        self.own.wt = -flows.by_right.wt;
        self.own.hy = -flows.by_right.hy;
        self.own.ht = asleep - flows.by_right.ht;
        self.before.wy = -flows.by_left.wy;
        self.before.wt = -flows.by_left.wt;
        self.before.hy = -flows.by_left.hy;
        self.before.ht = -flows.by_left.ht;
    }
}

/// Flows through a link, with their slopes by the states of its two ends.
struct Link<const L: usize> {
    water: Lanes<L>,
    heat: Lanes<L>,
    by_left: Block<L>,
    by_right: Block<L>,
}

/// Flows from `a` to `b`: liquid as a difference of potentials, vapour as one of pressures, heat by conduction and carried by both.
#[inline(always)]
fn link<const L: usize>(a: &Point<L>, b: &Point<L>, liquid: Lanes<L>, vapour: Lanes<L>, conduction: Lanes<L>, latent: f64) -> Link<L> {
    let fall = a.pressure - b.pressure;
    let passing = vapour * (a.factor + b.factor) * 0.5;
    let vapour_flow = passing * fall;
    let water = vapour_flow + (a.potential - b.potential) * liquid;
    // Water carries the enthalpy of the temperature half way. How that temperature changes within an iteration is left out of the slopes (a few
    // hundredths of a W/(m² K) beside conduction's hundreds); both rows leave out the same, so nothing is lost.
    let carried = (a.t + b.t) * (0.5 * WATER_J_KGK) - ZERO_K * WATER_J_KGK;
    let half = vapour * fall * 0.5;
    let vapour_ya = passing * a.pressure_y + half * a.factor_slope;
    let vapour_yb = half * b.factor_slope - passing * b.pressure_y;
    let wy_a = a.potential_slope * liquid + vapour_ya;
    let wy_b = vapour_yb - b.potential_slope * liquid;
    let wt_a = passing * a.pressure_t;
    let wt_b = -(passing * b.pressure_t);
    let with_latent = carried + latent;
    Link {
        water,
        heat: conduction * (a.t - b.t) + vapour_flow * latent + water * carried,
        by_left: Block { wy: wy_a, wt: wt_a, hy: wy_a * carried + vapour_ya * latent, ht: conduction + with_latent * wt_a },
        by_right: Block { wy: wy_b, wt: wt_b, hy: wy_b * carried + vapour_yb * latent, ht: with_latent * wt_b - conduction },
    }
}

/// Rows of a face before a held state or rain took their place, from which the supply follows once the changes are known.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct FaceBalance<const L: usize> {
    pub(crate) row: Row<L>,
    /// Coupling to the node after (inner face).
    pub(crate) after: Block<L>,
    pub(crate) face: FaceRow<L>,
}

impl<const L: usize> Column<L> {
    /// Evaluates every point of the awake layers; a joint once for each of the materials it joins.
    #[inline(always)]
    fn evaluate(&mut self) {
        for layer in 0..self.most_awake() {
            let material = &self.layout.layers[layer].material;
            let cells = self.layout.cells[layer].clone();
            for node in cells.start - 1..=cells.end {
                self.points[node + layer] = Point::at(material, &self.stage[layer], self.y[node], self.t[node]);
            }
            if self.settings.freezing {
                self.freeze(layer);
            }
        }
    }

    /// Puts ice into the evaluated points of a layer that are below 0 °C.
    #[inline(always)]
    fn freeze(&mut self, layer: usize) {
        let cells = self.layout.cells[layer].clone();
        for node in cells.start - 1..=cells.end {
            let cold = (Lanes::splat(ZERO_K) - self.t[node]).any_above_zero();
            let is_cell = cells.contains(&node);
            match (cold, is_cell) {
                (true, true) => self.chill(layer, node),
                (true, false) => self.ice_over(layer, node),
                (false, true) if self.icy[node] => self.thaw(node),
                _ => {}
            }
        }
    }

    /// Builds and eliminates all rows.
    #[inline(always)]
    pub(crate) fn eliminate(&mut self, inner: &Conditions<L>, outer: &Conditions<L>, per_second: Lanes<L>, open: &[bool; L]) {
        self.evaluate();
        let most = self.most_awake();
        let mut row = self.inner_row(inner, per_second);
        for layer in 0..most {
            let awake = self.awake_mask(layer);
            let asleep = Lanes::splat(1.0) - awake;
            let (first, joint) = (self.layout.cells[layer].start, self.layout.cells[layer].end);
            let dry_heat = self.layout.layers[layer].material.dry_heat_j_m3k();
            for node in first..=joint {
                if node == joint && self.ends_here(layer) {
                    self.outer_row(outer, layer, per_second, &mut row, open);
                    continue;
                }
                let flows = self.link_of(node, layer, awake);
                row.leave(&flows);
                if node == 1 {
                    self.close_inner(inner, &mut row, &flows.by_right);
                } else {
                    self.eliminated[node - 1] = finish(&row, &flows.by_right, &self.eliminated[node - 2]);
                }
                row.start(&flows, asleep);
                if node < joint {
                    self.store(node, layer, awake, dry_heat, per_second, &mut row);
                }
            }
        }
        let last = self.layout.outer_face(most);
        self.eliminated[last] = finish(&row, &Block::default(), &self.eliminated[last - 1]);
    }

    /// Adds a cell's storage and sources to its row.
    #[inline(always)]
    fn store(&self, node: usize, layer: usize, awake: Lanes<L>, dry_heat: f64, per_second: Lanes<L>, row: &mut Row<L>) {
        let b = &self.points[node + layer];
        let rate = per_second * awake * self.layout.width_m[node];
        let warmth = b.t - ZERO_K;
        let capacity = b.water * WATER_J_KGK + dry_heat;
        row.water = row.water + (b.water - self.water[node] - self.water_source[node]) * rate;
        row.heat = row.heat + (capacity * warmth - self.heat[node] - self.heat_source[node]) * rate;
        row.own.wy = row.own.wy + b.water_slope * rate;
        row.own.hy = row.own.hy + warmth * b.water_slope * rate * WATER_J_KGK;
        row.own.ht = row.own.ht + capacity * rate;
        if self.icy[node] {
            let frost = &self.frost[node];
            row.heat = row.heat + frost.value * rate;
            row.own.hy = row.own.hy + frost.by_y * rate;
            row.own.ht = row.own.ht + frost.by_t * rate;
        }
    }

    /// Row of the inner face without its link.
    #[inline(always)]
    fn inner_row(&mut self, inner: &Conditions<L>, per_second: Lanes<L>) -> Row<L> {
        let face = face_row(inner, &self.points[0], &self.cloth, per_second, self.settings.latent_j_kg);
        self.inner_balance.face = face;
        Row { water: face.mass.value, heat: face.heat.value, own: own_of(&face), before: Block::default() }
    }

    /// Finishes the inner face's row once its link is in: keeps the free row for the supply, then holds what is held.
    #[inline(always)]
    fn close_inner(&mut self, inner: &Conditions<L>, row: &mut Row<L>, after: &Block<L>) {
        self.inner_balance.row = *row;
        self.inner_balance.after = *after;
        let mut after = *after;
        let held = inner.holds_y.max(self.inner_flooded);
        let target = inner.holds_y.above_zero(inner.held_y, Lanes::default());
        row.water = row.water - (Lanes::splat(1.0) - held) * inner.rain;
        hold(inner, row, &mut after, self.y[0], self.t[0], held, target);
        self.eliminated[0] = finish(row, &after, &Eliminated::default());
    }

    /// Flows from a node's neighbour inside to the node.
    #[inline(always)]
    fn link_of(&self, node: usize, layer: usize, awake: Lanes<L>) -> Link<L> {
        let mut liquid = awake * self.layout.inverse_m[node];
        if self.throttled[layer] {
            liquid = liquid * self.liquid_open[node];
        }
        let (a, b) = (&self.points[node - 1 + layer], &self.points[node + layer]);
        link(a, b, liquid, self.vapour_link[node], self.heat_link[node], self.settings.latent_j_kg)
    }

    /// Finishes the last cell's row and builds that of the outer face, with films, cloth, rain and held states in the lanes whose wall ends at this
    /// layer. Face and cloth answer the weather far more than linearly, the wall within hardly: so they are iterated here against the wall as already
    /// eliminated, the link between them evaluated anew each time, and the wall needs to be solved but once.
    #[inline(always)]
    fn outer_row(&mut self, outer: &Conditions<L>, layer: usize, per_second: Lanes<L>, row: &mut Row<L>, open: &[bool; L]) {
        let (awake, here) = (self.awake_mask(layer), self.outermost_mask(layer));
        let node = self.layout.cells[layer].end;
        let cell = *row;
        let mut moving: [bool; L] = std::array::from_fn(|lane| open[lane] && here.0[lane] > 0.0);
        for trial in 0..MOST_FACE_TRIALS {
            if trial > 0 {
                self.points[node + layer] = Point::at(&self.layout.layers[layer].material, &self.stage[layer], self.y[node], self.t[node]);
                if self.settings.freezing {
                    self.ice_over(layer, node);
                }
            }
            let flows = self.link_of(node, layer, awake);
            let mut last_cell = cell;
            last_cell.leave(&flows);
            let inside = finish(&last_cell, &flows.by_right, &self.eliminated[node - 2]);
            self.eliminated[node - 1] = inside;
            row.start(&flows, Lanes::splat(1.0) - awake);
            let face = face_row(outer, &self.points[node + layer], &self.cloth, per_second, self.settings.latent_j_kg);
            let mut balance = FaceBalance { row: *row, after: Block::default(), face };
            balance.row.water = balance.row.water + face.mass.value;
            balance.row.heat = balance.row.heat + face.heat.value;
            balance.row.own.add(&own_of(&face));
            let ended = self.close_outer(outer, node, &balance.row);
            merge_row(row, &ended, here);
            merge_balance(&mut self.outer_balance, &balance, here);
            let last = finish(&ended, &Block::default(), &inside);
            let change = FaceChange::of(&balance, outer.has_cloth, (last.y, last.t), inside.answer(last.y, last.t));
            if trial + 1 == MOST_FACE_TRIALS {
                // To ask whether the face has settled may turn rain taken up into rain running off; the rows just built would no longer be those of the face.
                break;
            }
            for (lane, moving) in moving.iter_mut().enumerate() {
                *moving = *moving && !self.face_settles(lane, node, outer, &change);
            }
            if !moving.contains(&true) {
                break;
            }
            self.move_face(&moving, node, &change);
        }
    }

    /// Row of the outer face with rain and what is held.
    #[inline(always)]
    fn close_outer(&self, outer: &Conditions<L>, node: usize, free: &Row<L>) -> Row<L> {
        let held = outer.holds_y.max(self.flooded);
        let target = outer.holds_y.above_zero(outer.held_y, Lanes::default());
        let mut row = *free;
        row.water = row.water - (Lanes::splat(1.0) - held) * outer.rain;
        let mut after = Block::default();
        hold(outer, &mut row, &mut after, self.y[node], self.t[node], held, target);
        row
    }

    /// Whether the last changes of a lane's face and cloth are small, and rain fits.
    fn face_settles(&mut self, lane: usize, node: usize, outer: &Conditions<L>, change: &FaceChange<L>) -> bool {
        let small = change.y.0[lane].abs() * weight_of(Lanes([self.y[node].0[lane]])).0[0]
            < self.settings.tolerance_y.min(FACE_TOLERANCE_Y)
            && change.t.0[lane].abs() < self.settings.tolerance_k.min(FACE_TOLERANCE_K)
            && self.cloth_settles(lane, outer, change);
        self.flood_fits(lane, node, outer, change) && small
    }

    /// Moves the face and the cloth in the lanes marked.
    fn move_face(&mut self, moving: &[bool; L], node: usize, change: &FaceChange<L>) {
        for lane in (0..L).filter(|&lane| moving[lane]) {
            let (y, t) = (self.y[node].0[lane], self.t[node].0[lane]);
            self.y[node].0[lane] = bounded(Lanes([y + change.y.0[lane].clamp(-3.0 * GREATEST_CHANGE_Y, GREATEST_CHANGE_Y)])).0[0];
            self.t[node].0[lane] = (t + change.t.0[lane].clamp(-GREATEST_CHANGE_K, GREATEST_CHANGE_K)).clamp(150.0, 450.0);
            self.damp_cloth(lane, change);
        }
    }
}

/// The slopes of a face's outflow as a block.
#[inline(always)]
fn own_of<const L: usize>(face: &FaceRow<L>) -> Block<L> {
    Block { wy: face.mass.by_y, wt: face.mass.by_t, hy: face.heat.by_y, ht: face.heat.by_t }
}

/// Puts held states in place of balances. Water that is supplied to the face brings its own enthalpy: the rain's, or the face's where suction is held.
#[inline(always)]
fn hold<const L: usize>(
    c: &Conditions<L>,
    row: &mut Row<L>,
    after: &mut Block<L>,
    y: Lanes<L>,
    t: Lanes<L>,
    held: Lanes<L>,
    target: Lanes<L>,
) {
    let supplied = (c.holds_y.above_zero(t, c.rain_k) - ZERO_K) * WATER_J_KGK;
    let rain = (Lanes::splat(1.0) - held) * c.rain;
    // The water row still lacks the rain, so that its residual is the water supplied.
    let supply = row.water + rain;
    row.heat = row.heat - supplied * supply;
    row.own.hy = row.own.hy - supplied * row.own.wy;
    row.own.ht = row.own.ht - supplied * row.own.wt;
    row.before.hy = row.before.hy - supplied * row.before.wy;
    row.before.ht = row.before.ht - supplied * row.before.wt;
    after.hy = after.hy - supplied * after.wy;
    after.ht = after.ht - supplied * after.wt;
    let (zero, one) = (Lanes::default(), Lanes::splat(1.0));
    row.water = held.above_zero(y - target, row.water);
    row.own.wy = held.above_zero(one, row.own.wy);
    row.own.wt = held.above_zero(zero, row.own.wt);
    row.before.wy = held.above_zero(zero, row.before.wy);
    row.before.wt = held.above_zero(zero, row.before.wt);
    after.wy = held.above_zero(zero, after.wy);
    after.wt = held.above_zero(zero, after.wt);
    row.heat = c.holds_k.above_zero(t - c.held_k, row.heat);
    row.own.hy = c.holds_k.above_zero(zero, row.own.hy);
    row.own.ht = c.holds_k.above_zero(one, row.own.ht);
    row.before.hy = c.holds_k.above_zero(zero, row.before.hy);
    row.before.ht = c.holds_k.above_zero(zero, row.before.ht);
    after.hy = c.holds_k.above_zero(zero, after.hy);
    after.ht = c.holds_k.above_zero(zero, after.ht);
}

/// Eliminates the node before from a row and divides by its block.
#[inline(always)]
fn finish<const L: usize>(row: &Row<L>, after: &Block<L>, previous: &Eliminated<L>) -> Eliminated<L> {
    let mut own = row.own;
    own.take(&row.before.times(&previous.upper));
    let water = -(row.water + row.before.wy * previous.y + row.before.wt * previous.t);
    let heat = -(row.heat + row.before.hy * previous.y + row.before.ht * previous.t);
    let inverse = Lanes::splat(1.0) / (own.wy * own.ht - own.wt * own.hy);
    let solver = Block { wy: own.ht * inverse, wt: -(own.wt * inverse), hy: -(own.hy * inverse), ht: own.wy * inverse };
    Eliminated { upper: solver.times(after), y: solver.wy * water + solver.wt * heat, t: solver.hy * water + solver.ht * heat }
}

macro_rules! merge {
    ($here:expr, $($into:expr, $from:expr);+ $(;)?) => { $( $into = $here.above_zero($from, $into); )+ };
}

/// Takes over a row in the lanes marked.
#[inline(always)]
fn merge_row<const L: usize>(into: &mut Row<L>, from: &Row<L>, here: Lanes<L>) {
    merge!(here, into.water, from.water; into.heat, from.heat);
    merge_block(&mut into.own, &from.own, here);
    merge_block(&mut into.before, &from.before, here);
}

#[inline(always)]
fn merge_block<const L: usize>(into: &mut Block<L>, from: &Block<L>, here: Lanes<L>) {
    merge!(here, into.wy, from.wy; into.wt, from.wt; into.hy, from.hy; into.ht, from.ht);
}

#[inline(always)]
fn merge_flow<const L: usize>(into: &mut Flow<L>, from: &Flow<L>, here: Lanes<L>) {
    merge!(here, into.value, from.value; into.by_y, from.by_y; into.by_t, from.by_t);
}

#[inline(always)]
fn merge_balance<const L: usize>(into: &mut FaceBalance<L>, from: &FaceBalance<L>, here: Lanes<L>) {
    merge_row(&mut into.row, &from.row, here);
    for (into, from) in [(&mut into.face.outside_mass, &from.face.outside_mass), (&mut into.face.outside_heat, &from.face.outside_heat)] {
        merge_flow(&mut into.face, &from.face, here);
        merge!(here, into.by_cloth_water, from.by_cloth_water; into.by_cloth_t, from.by_cloth_t);
    }
    for (into, from) in into.face.cloth.iter_mut().zip(&from.face.cloth) {
        merge_flow(into, from, here);
    }
}
