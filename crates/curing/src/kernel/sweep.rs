//! One Newton iteration for heat and water: the rows are built and eliminated in a single pass from the room to the weather, then the changes are
//! found in a pass back. Two by two blocks in (y, T), no pivoting needed: each block is dominated by its own storage and links.
//!
//! A second iteration need not begin at the room: where nothing moved, points and eliminated rows are those of the first, so it begins at the row
//! before the innermost node that did.

use crate::kernel::column::Column;
use crate::kernel::conditions::Conditions;
use crate::kernel::face::{FaceRow, face_row};
use crate::kernel::point::Point;
use crate::kernel::{WATER_J_KGK, ZERO_K};
use crate::lanes::{On, Record, Vector, record};

record! {
    /// A 2 × 2 block: water by (y, T), heat by (y, T).
    Block { wy, wt, hy, ht }
}

/// A row being built: residuals, its own block, its coupling to the node before.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Row<N> {
    pub(crate) water: N,
    pub(crate) heat: N,
    pub(crate) own: Block<N>,
    pub(crate) before: Block<N>,
}

/// What elimination leaves of a row: Δ(y, T) = right − upper · Δ of the next node.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Eliminated<N> {
    pub(crate) upper: Block<N>,
    pub(crate) y: N,
    pub(crate) t: N,
}

impl<N> Record<N> for Row<N> {
    type Of<M> = Row<M>;

    #[inline(always)]
    fn map<M>(&self, f: impl Fn(&N) -> M + Copy) -> Row<M> {
        Row { water: f(&self.water), heat: f(&self.heat), own: self.own.map(f), before: self.before.map(f) }
    }
}

impl<N> Record<N> for Eliminated<N> {
    type Of<M> = Eliminated<M>;

    #[inline(always)]
    fn map<M>(&self, f: impl Fn(&N) -> M + Copy) -> Eliminated<M> {
        Eliminated { upper: self.upper.map(f), y: f(&self.y), t: f(&self.t) }
    }
}

impl<V: Vector> Eliminated<V> {
    /// Change of this node when the next one changes.
    #[inline(always)]
    pub(crate) fn answer(&self, y: V, t: V) -> (V, V) {
        (self.y - self.upper.wy * y - self.upper.wt * t, self.t - self.upper.hy * y - self.upper.ht * t)
    }
}

impl<V: Vector> Block<V> {
    #[inline(always)]
    pub(crate) fn zero(on: On<V>) -> Self {
        Self { wy: on.zero(), wt: on.zero(), hy: on.zero(), ht: on.zero() }
    }

    #[inline(always)]
    pub(crate) fn plus(&self, other: &Self) -> Self {
        Self { wy: self.wy + other.wy, wt: self.wt + other.wt, hy: self.hy + other.hy, ht: self.ht + other.ht }
    }

    #[inline(always)]
    fn minus(&self, other: &Self) -> Self {
        Self { wy: self.wy - other.wy, wt: self.wt - other.wt, hy: self.hy - other.hy, ht: self.ht - other.ht }
    }

    #[inline(always)]
    fn times(&self, other: &Self) -> Self {
        Self {
            wy: self.wy * other.wy + self.wt * other.hy,
            wt: self.wy * other.wt + self.wt * other.ht,
            hy: self.hy * other.wy + self.ht * other.hy,
            ht: self.hy * other.wt + self.ht * other.ht,
        }
    }
}

impl<V: Vector> Row<V> {
    /// Adds what leaves a node by the link after it.
    #[inline(always)]
    pub(crate) fn leave(&mut self, flows: &Link<V>) {
        self.water = self.water + flows.water;
        self.heat = self.heat + flows.heat;
        self.own = self.own.plus(&flows.by_left);
    }

    /// The row of the node after a link as it begins: what the link brings, and the identity where the node is asleep.
    #[inline(always)]
    pub(crate) fn begun(flows: &Link<V>, asleep: V) -> Self {
        Self {
            water: -flows.water,
            heat: -flows.heat,
            own: Block { wy: asleep - flows.by_right.wy, wt: -flows.by_right.wt, hy: -flows.by_right.hy, ht: asleep - flows.by_right.ht },
            before: flows.by_left.map(
                #[inline(always)]
                |&slope| -slope,
            ),
        }
    }
}

/// Flows through a link, with their slopes by the states of its two ends.
pub(crate) struct Link<V> {
    water: V,
    heat: V,
    by_left: Block<V>,
    pub(super) by_right: Block<V>,
}

/// Flows from `a` to `b`: liquid as a difference of potentials, vapour as one of pressures, heat by conduction and carried by both.
#[inline(always)]
fn link<V: Vector>(a: &Point<V>, b: &Point<V>, liquid: V, vapour: V, conduction: V, latent: f64) -> Link<V> {
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
pub(crate) struct FaceBalance<N> {
    pub(crate) row: Row<N>,
    /// Coupling to the node after (inner face).
    pub(crate) after: Block<N>,
    pub(crate) face: FaceRow<N>,
}

impl<N> Record<N> for FaceBalance<N> {
    type Of<M> = FaceBalance<M>;

    #[inline(always)]
    fn map<M>(&self, f: impl Fn(&N) -> M + Copy) -> FaceBalance<M> {
        FaceBalance { row: self.row.map(f), after: self.after.map(f), face: self.face.map(f) }
    }
}

impl<const L: usize> Column<L> {
    /// Evaluates every point of the awake layers from a node outwards; a joint once for each of the materials it joins.
    #[inline(always)]
    fn evaluate<V: Vector>(&mut self, on: On<V>, from: usize) {
        for layer in 0..self.most_awake() {
            let material = &self.layout.layers[layer].material;
            let cells = self.layout.cells[layer].clone();
            for node in from.max(cells.start - 1)..=cells.end {
                let point = Point::at(on, material, &self.stage[layer], &self.y[node], &self.t[node]);
                self.points[node + layer] = point.lanes();
            }
            if self.settings.freezing {
                self.freeze(on, layer, from);
            }
        }
    }

    /// Puts ice into the evaluated points of a layer that are below 0 °C.
    #[inline(always)]
    fn freeze<V: Vector>(&mut self, on: On<V>, layer: usize, from: usize) {
        let cells = self.layout.cells[layer].clone();
        for node in from.max(cells.start - 1)..=cells.end {
            let cold = (on.splat(ZERO_K) - on.load(&self.t[node])).any_above_zero();
            let is_cell = cells.contains(&node);
            match (cold, is_cell) {
                (true, true) => self.chill(layer, node),
                (true, false) => self.ice_over(layer, node),
                (false, true) if self.icy[node] => self.thaw(node),
                _ => {}
            }
        }
    }

    /// The row at which an elimination begins so that every node from `moved` outwards is in it: a cell whose own state is as it was. 0 for all rows.
    fn first_row(&self, moved: usize) -> usize {
        let mut row = moved.saturating_sub(1);
        while row > 1 && self.layout.width_m[row] == 0.0 {
            row -= 1;
        }
        if row < 2 { 0 } else { row }
    }

    /// Builds and eliminates all rows that nodes from `moved` outwards have a part in.
    #[inline(always)]
    pub(crate) fn eliminate<V: Vector>(
        &mut self,
        on: On<V>,
        inner: &Conditions<L>,
        outer: &Conditions<L>,
        per_second: V,
        open: &[bool; L],
        moved: usize,
    ) {
        let from = self.first_row(moved);
        on.run(
            #[inline(always)]
            || self.evaluate(on, if from == 0 { 0 } else { from + 1 }),
        );
        let most = self.most_awake();
        let mut previous = Eliminated { upper: Block::zero(on), y: on.zero(), t: on.zero() };
        let mut row = if from == 0 {
            self.inner_row(on, inner, per_second)
        } else {
            previous = self.eliminated[from - 1].load(on);
            Row { water: on.zero(), heat: on.zero(), own: Block::zero(on), before: Block::zero(on) }
        };
        for layer in 0..most {
            let (first, joint) = (self.layout.cells[layer].start, self.layout.cells[layer].end);
            if joint < from {
                continue;
            }
            let awake = on.load(&self.awake_mask(layer));
            let asleep = on.splat(1.0) - awake;
            let dry_heat = self.layout.layers[layer].material.dry_heat_j_m3k();
            for node in first.max(from)..=joint {
                if node == joint && self.ends_here(layer) {
                    previous = self.outer_row(on, outer, layer, per_second, &mut row, &previous, open);
                    continue;
                }
                let flows = self.link_of(on, node, layer, awake);
                if node != from {
                    row.leave(&flows);
                    previous = if node == 1 {
                        self.close_inner(on, inner, &mut row, &flows.by_right)
                    } else {
                        finish(&row, &flows.by_right, &previous)
                    };
                    self.eliminated[node - 1] = previous.lanes();
                }
                row = Row::begun(&flows, asleep);
                if node < joint {
                    self.store(on, node, layer, awake, dry_heat, per_second, &mut row);
                }
            }
        }
        let last = self.layout.outer_face(most);
        self.eliminated[last] = finish(&row, &Block::zero(on), &previous).lanes();
    }

    /// Adds a cell's storage and sources to its row.
    #[inline(always)]
    #[expect(clippy::too_many_arguments, reason = "the layer's part is fetched once for all its cells")]
    fn store<V: Vector>(&self, on: On<V>, node: usize, layer: usize, awake: V, dry_heat: f64, per_second: V, row: &mut Row<V>) {
        let b = &self.points[node + layer];
        let (water_now, slope) = (on.load(&b.water), on.load(&b.water_slope));
        let rate = per_second * awake * self.layout.width_m[node];
        let warmth = on.load(&b.t) - ZERO_K;
        let capacity = water_now * WATER_J_KGK + dry_heat;
        let (water, heat) = (on.load(&self.water[node]), on.load(&self.heat[node]));
        row.water = row.water + (water_now - water - on.load(&self.water_source[node])) * rate;
        row.heat = row.heat + (capacity * warmth - heat - on.load(&self.heat_source[node])) * rate;
        row.own.wy = row.own.wy + slope * rate;
        row.own.hy = row.own.hy + warmth * slope * rate * WATER_J_KGK;
        row.own.ht = row.own.ht + capacity * rate;
        if self.icy[node] {
            let frost = self.frost[node].load(on);
            row.heat = row.heat + frost.value * rate;
            row.own.hy = row.own.hy + frost.by_y * rate;
            row.own.ht = row.own.ht + frost.by_t * rate;
        }
    }

    /// Row of the inner face without its link.
    #[inline(always)]
    fn inner_row<V: Vector>(&mut self, on: On<V>, inner: &Conditions<L>, per_second: V) -> Row<V> {
        let point = self.points[0].load(on);
        let face = face_row(on, inner, &point, &self.cloth, per_second, self.settings.latent_j_kg);
        self.inner_balance.face = face.lanes();
        Row { water: face.mass.value, heat: face.heat.value, own: own_of(&face), before: Block::zero(on) }
    }

    /// Finishes the inner face's row once its link is in: keeps the free row for the supply, then holds what is held.
    #[inline(always)]
    fn close_inner<V: Vector>(&mut self, on: On<V>, inner: &Conditions<L>, row: &mut Row<V>, after: &Block<V>) -> Eliminated<V> {
        self.inner_balance.row = row.lanes();
        self.inner_balance.after = after.lanes();
        let mut after = *after;
        let holds_y = on.load(&inner.holds_y);
        let held = holds_y.max(on.load(&self.inner_flooded));
        let target = holds_y.above_zero(on.load(&inner.held_y), on.zero());
        row.water = row.water - (on.splat(1.0) - held) * on.load(&inner.rain);
        hold(on, inner, row, &mut after, (on.load(&self.y[0]), on.load(&self.t[0])), held, target);
        let none = Eliminated { upper: Block::zero(on), y: on.zero(), t: on.zero() };
        finish(row, &after, &none)
    }

    /// Flows from a node's neighbour inside to the node.
    #[inline(always)]
    pub(crate) fn link_of<V: Vector>(&self, on: On<V>, node: usize, layer: usize, awake: V) -> Link<V> {
        let mut liquid = awake * self.layout.inverse_m[node];
        if self.throttled[layer] {
            liquid = liquid * on.load(&self.liquid_open[node]);
        }
        let a = self.points[node - 1 + layer].load(on);
        let b = self.points[node + layer].load(on);
        link(&a, &b, liquid, on.load(&self.vapour_link[node]), on.load(&self.heat_link[node]), self.settings.latent_j_kg)
    }
}

/// The slopes of a face's outflow as a block.
#[inline(always)]
pub(crate) fn own_of<V: Vector>(face: &FaceRow<V>) -> Block<V> {
    Block { wy: face.mass.by_y, wt: face.mass.by_t, hy: face.heat.by_y, ht: face.heat.by_t }
}

/// Puts held states in place of balances. Water that is supplied to the face brings its own enthalpy: the rain's, or the face's where suction is held.
#[inline(always)]
pub(crate) fn hold<V: Vector, const L: usize>(
    on: On<V>,
    c: &Conditions<L>,
    row: &mut Row<V>,
    after: &mut Block<V>,
    (y, t): (V, V),
    held: V,
    target: V,
) {
    let holds_k = on.load(&c.holds_k);
    let supplied = (on.load(&c.holds_y).above_zero(t, on.load(&c.rain_k)) - ZERO_K) * WATER_J_KGK;
    let rain = (on.splat(1.0) - held) * on.load(&c.rain);
    // The water row still lacks the rain, so that its residual is the water supplied.
    let supply = row.water + rain;
    row.heat = row.heat - supplied * supply;
    row.own.hy = row.own.hy - supplied * row.own.wy;
    row.own.ht = row.own.ht - supplied * row.own.wt;
    row.before.hy = row.before.hy - supplied * row.before.wy;
    row.before.ht = row.before.ht - supplied * row.before.wt;
    after.hy = after.hy - supplied * after.wy;
    after.ht = after.ht - supplied * after.wt;
    let (zero, one) = (on.zero(), on.splat(1.0));
    row.water = held.above_zero(y - target, row.water);
    row.own.wy = held.above_zero(one, row.own.wy);
    row.own.wt = held.above_zero(zero, row.own.wt);
    row.before.wy = held.above_zero(zero, row.before.wy);
    row.before.wt = held.above_zero(zero, row.before.wt);
    after.wy = held.above_zero(zero, after.wy);
    after.wt = held.above_zero(zero, after.wt);
    row.heat = holds_k.above_zero(t - on.load(&c.held_k), row.heat);
    row.own.hy = holds_k.above_zero(zero, row.own.hy);
    row.own.ht = holds_k.above_zero(one, row.own.ht);
    row.before.hy = holds_k.above_zero(zero, row.before.hy);
    row.before.ht = holds_k.above_zero(zero, row.before.ht);
    after.hy = holds_k.above_zero(zero, after.hy);
    after.ht = holds_k.above_zero(zero, after.ht);
}

/// Eliminates the node before from a row and divides by its block. One node waits for the one before, so what the division need not wait for is done beside
/// it.
#[inline(always)]
pub(crate) fn finish<V: Vector>(row: &Row<V>, after: &Block<V>, previous: &Eliminated<V>) -> Eliminated<V> {
    let own = row.own.minus(&row.before.times(&previous.upper));
    let inverse = (own.wy * own.ht - own.wt * own.hy).inverse();
    let water = row.water + row.before.wy * previous.y + row.before.wt * previous.t;
    let heat = row.heat + row.before.hy * previous.y + row.before.ht * previous.t;
    let turned = Block { wy: own.ht, wt: -own.wt, hy: -own.hy, ht: own.wy };
    Eliminated {
        upper: turned.times(after).map(
            #[inline(always)]
            |&value| value * inverse,
        ),
        y: (own.wt * heat - own.ht * water) * inverse,
        t: (own.hy * water - own.wy * heat) * inverse,
    }
}
