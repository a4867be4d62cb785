//! The Newton loop of one step, and what taking the step does to the contents and the books.

use crate::kernel::books::Books;
use crate::kernel::cloth;
use crate::kernel::column::{Column, Taken};
use crate::kernel::conditions::Conditions;
use crate::kernel::face::Outflow;
use crate::kernel::sweep::FaceBalance;
use crate::kernel::{FACE_TOLERANCE_K, FACE_TOLERANCE_Y, WATER_J_KGK, ZERO_K};
use crate::lanes::Lanes;
use crate::material::{GREATEST_LN_SUCTION, LEAST_LN_SUCTION};

/// Iterations after which a step is given up and made shorter.
const MOST_ITERATIONS: u64 = 24;
/// Changes of y and temperature in one iteration beyond which they are held back.
pub(crate) const GREATEST_CHANGE_Y: f64 = 1.0;
pub(crate) const GREATEST_CHANGE_K: f64 = 15.0;

/// Changes that the last solve asks for at the outer face and in the cloth.
pub(crate) struct FaceChange<const L: usize> {
    pub(crate) y: Lanes<L>,
    pub(crate) t: Lanes<L>,
    pub(crate) cloth_water: Lanes<L>,
    pub(crate) cloth_t: Lanes<L>,
    /// Water supplied to the face (rain taken up, or drawn from a held face), kg/(m² s).
    pub(crate) supply: Lanes<L>,
    pub(crate) supply_heat: Lanes<L>,
}

impl<const L: usize> FaceChange<L> {
    /// From the changes of the face and of the node inside it.
    #[inline(always)]
    pub(crate) fn of(balance: &FaceBalance<L>, has_cloth: Lanes<L>, (y, t): (Lanes<L>, Lanes<L>), inside: (Lanes<L>, Lanes<L>)) -> Self {
        let (row, cloth) = (&balance.row, &balance.face.cloth);
        Self {
            y,
            t,
            cloth_water: -(cloth[0].value + cloth[0].by_y * y + cloth[0].by_t * t) * has_cloth,
            cloth_t: -(cloth[1].value + cloth[1].by_y * y + cloth[1].by_t * t) * has_cloth,
            supply: row.water + row.own.wy * y + row.own.wt * t + row.before.wy * inside.0 + row.before.wt * inside.1,
            supply_heat: row.heat + row.own.hy * y + row.own.ht * t + row.before.hy * inside.0 + row.before.ht * inside.1,
        }
    }
}

/// How large the changes of one solve were.
struct Size<const L: usize> {
    y: Lanes<L>,
    t: Lanes<L>,
    sum: Lanes<L>,
    /// Coldest temperature, K, before or after.
    coldest: Lanes<L>,
}

impl<const L: usize> Column<L> {
    /// Iterates until every active lane has converged and been stepped, or has run out of iterations.
    #[inline(always)]
    pub(crate) fn newton(&mut self, inner: &Conditions<L>, outer: &Conditions<L>, active: &[bool; L], dt: Lanes<L>) -> Taken<L> {
        let per_second = Lanes::splat(1.0) / dt;
        let mut open = *active;
        let mut done = [false; L];
        let mut iterations = 0;
        while open.contains(&true) && iterations < MOST_ITERATIONS {
            iterations += 1;
            self.eliminate(inner, outer, per_second, &open);
            let size = self.substitute();
            let change = self.face_change(outer);
            let mut accepted = [false; L];
            for lane in 0..L {
                if open[lane] {
                    accepted[lane] = self.settles(lane, inner, outer, &size, &change);
                }
            }
            if accepted.contains(&true) {
                self.take(&accepted, inner, outer, &change, dt);
            }
            for lane in 0..L {
                if accepted[lane] {
                    open[lane] = false;
                    done[lane] = true;
                }
            }
            self.damp(&open, &change);
        }
        let worst = std::array::from_fn(|lane| if open[lane] { self.worst(lane) } else { 0 });
        Taken { done, worst, iterations }
    }

    /// Substitutes back from the outermost node, leaving the changes in `eliminated`.
    #[inline(always)]
    fn substitute(&mut self) -> Size<L> {
        let mut size = Size { y: Lanes::default(), t: Lanes::default(), sum: Lanes::default(), coldest: Lanes::splat(f64::MAX) };
        let mut next = (Lanes::default(), Lanes::default());
        for layer in (0..self.most_awake()).rev() {
            let cells = self.layout.cells[layer].clone();
            next = self.substitute_node(cells.end, next, &mut size);
            for node in cells.rev() {
                next = self.substitute_node(node, next, &mut size);
            }
        }
        self.substitute_node(0, next, &mut size);
        size
    }

    /// Change of a node from that of the next.
    #[inline(always)]
    fn substitute_node(&mut self, node: usize, next: (Lanes<L>, Lanes<L>), size: &mut Size<L>) -> (Lanes<L>, Lanes<L>) {
        let row = &mut self.eliminated[node];
        let y = row.y - row.upper.wy * next.0 - row.upper.wt * next.1;
        let t = row.t - row.upper.hy * next.0 - row.upper.ht * next.1;
        (row.y, row.t) = (y, t);
        size.y = size.y.max(y.abs() * weight_of(self.y[node]));
        size.t = size.t.max(t.abs());
        size.sum = size.sum + y.abs() + t.abs();
        size.coldest = size.coldest.min(self.t[node]).min(self.t[node] + t);
        (y, t)
    }

    /// Changes at the outer face and in the cloth, and the supply, all from the linear solve.
    #[inline(always)]
    fn face_change(&self, outer: &Conditions<L>) -> FaceChange<L> {
        let at = |f: fn(&Self, usize, usize) -> f64, node_of: fn(&Self, usize) -> usize| {
            Lanes(std::array::from_fn(|lane| f(self, node_of(self, lane), lane)))
        };
        let face = |column: &Self, lane: usize| column.layout.outer_face(column.awake[lane]);
        let before = |column: &Self, lane: usize| column.layout.outer_face(column.awake[lane]).saturating_sub(1);
        let y = at(|c, node, lane| c.eliminated[node].y.0[lane], face);
        let t = at(|c, node, lane| c.eliminated[node].t.0[lane], face);
        let inner_y = at(|c, node, lane| c.eliminated[node].y.0[lane], before);
        let inner_t = at(|c, node, lane| c.eliminated[node].t.0[lane], before);
        FaceChange::of(&self.outer_balance, outer.has_cloth, (y, t), (inner_y, inner_t))
    }

    /// Whether a lane's last changes are small enough to take the step; changes between rain taken up and rain running off where they do not fit.
    fn settles(&mut self, lane: usize, inner: &Conditions<L>, outer: &Conditions<L>, size: &Size<L>, change: &FaceChange<L>) -> bool {
        let small = size.sum.0[lane].is_finite()
            && size.y.0[lane] < self.settings.tolerance_y
            && size.t.0[lane] < self.settings.tolerance_k
            && self.cloth_settles(lane, outer, change);
        let small = small && (!self.settings.freezing || size.coldest.0[lane] >= ZERO_K || self.frost_fits(lane));
        let inner_fits = inner.holds_y.0[lane] > 0.0 || self.inner_flood_fits(lane, inner.rain.0[lane]);
        let face = self.layout.outer_face(self.awake[lane]);
        self.flood_fits(lane, face, outer, change) && small && inner_fits
    }

    /// Whether the cloth of a lane changes little.
    pub(crate) fn cloth_settles(&self, lane: usize, outer: &Conditions<L>, change: &FaceChange<L>) -> bool {
        change.cloth_t.0[lane].abs() < self.settings.tolerance_k.min(FACE_TOLERANCE_K)
            && change.cloth_water.0[lane].abs() < self.cloth_tolerance(lane, outer)
            && self.cloth_ice_fits(lane, change)
    }

    /// Whether rain taken up or running off at the outer face fits what the last solve asks for; changes from one to the other where it does not.
    pub(crate) fn flood_fits(&mut self, lane: usize, face: usize, outer: &Conditions<L>, change: &FaceChange<L>) -> bool {
        if outer.holds_y.0[lane] > 0.0 {
            return true;
        }
        let rain = outer.rain.0[lane];
        if self.flooded.0[lane] > 0.0 {
            if change.supply.0[lane] > rain * (1.0 + 1e-9) + 1e-13 {
                self.flooded.0[lane] = 0.0;
                return false;
            }
        } else if self.y[face].0[lane] + change.y.0[lane] < LEAST_LN_SUCTION {
            self.flooded.0[lane] = 1.0;
            return false;
        }
        true
    }

    /// The same for rain and dew on the inner face: it stands at free water only while it is offered more than it can take.
    fn inner_flood_fits(&mut self, lane: usize, rain: f64) -> bool {
        let was = self.inner_flooded.0[lane] > 0.0;
        let floods = if was {
            self.inner_supply(lane) <= rain * (1.0 + 1e-9) + 1e-13
        } else {
            self.y[0].0[lane] + self.eliminated[0].y.0[lane] < LEAST_LN_SUCTION
        };
        self.inner_flooded.0[lane] = if floods { 1.0 } else { 0.0 };
        floods == was
    }

    /// Water that has to be supplied to the inner face for its balance, kg/(m² s); negative where some runs off.
    fn inner_supply(&self, lane: usize) -> f64 {
        let (own, next) = (&self.eliminated[0], &self.eliminated[1]);
        let (row, after) = (&self.inner_balance.row, &self.inner_balance.after);
        let at = |value: Lanes<L>| value.0[lane];
        at(row.water) + at(row.own.wy) * at(own.y) + at(row.own.wt) * at(own.t) + at(after.wy) * at(next.y) + at(after.wt) * at(next.t)
    }

    /// Change of the cloth's water that counts as small, kg/m²: none that matters while it is wet throughout, a share of what it holds by sorption else.
    pub(crate) fn cloth_tolerance(&self, lane: usize, outer: &Conditions<L>) -> f64 {
        let hygroscopic = outer.cloth.hygroscopic.0[lane];
        let wet = self.cloth.water.0[lane] - hygroscopic;
        (self.settings.tolerance_y.min(FACE_TOLERANCE_Y) * hygroscopic).max(0.5 * wet)
    }

    /// Changes the potentials of the lanes that have not converged, held back where the change is large.
    #[inline(always)]
    fn damp(&mut self, open: &[bool; L], change: &FaceChange<L>) {
        let last = self.layout.outer_face(self.most_awake());
        let still = Lanes(open.map(|open| if open { 1.0 } else { 0.0 }));
        if !still.any_above_zero() {
            return;
        }
        for node in 0..=last {
            let (dy, dt) = (self.eliminated[node].y, self.eliminated[node].t);
            let y = bounded(self.y[node] + dy.clamp(-3.0 * GREATEST_CHANGE_Y, GREATEST_CHANGE_Y));
            let t = (self.t[node] + dt.clamp(-GREATEST_CHANGE_K, GREATEST_CHANGE_K)).clamp(150.0, 450.0);
            let wetted = -dy - GREATEST_CHANGE_Y;
            let y = if self.layout.width_m[node] > 0.0 && wetted.any_above_zero() { self.wetted(node, dy, y) } else { y };
            let freezes = self.settings.freezing && self.layout.width_m[node] > 0.0 && below_zero(self.t[node], dt).any_above_zero();
            let t = if freezes { self.held_by_ice(node, dt, y, t) } else { t };
            self.y[node] = still.above_zero(y, self.y[node]);
            self.t[node] = still.above_zero(t, self.t[node]);
        }
        for lane in (0..L).filter(|&lane| open[lane]) {
            self.damp_cloth(lane, change);
        }
    }

    /// A dry cell being wetted: the water it is to take says where to go, the slope of a dry table does not.
    #[cold]
    fn wetted(&self, node: usize, dy: Lanes<L>, otherwise: Lanes<L>) -> Lanes<L> {
        let layer = self.layout.layer_of(node);
        let (material, point) = (&self.layout.layers[layer].material, &self.points[node + layer]);
        Lanes(std::array::from_fn(|lane| {
            let pores = material.pores(self.stage[layer][lane]);
            let most = pores.saturation_kg_m3() * 0.999;
            if dy.0[lane] < -GREATEST_CHANGE_Y {
                let asked = point.water.0[lane] + point.water_slope.0[lane] * dy.0[lane];
                pores.y_of_water(asked.min(most)).clamp(LEAST_LN_SUCTION, GREATEST_LN_SUCTION - 0.05)
            } else {
                otherwise.0[lane]
            }
        }))
    }

    /// A cell that freezes or thaws: the enthalpy it is to have says where to go, the slope on one side of its freezing point does not.
    #[cold]
    fn held_by_ice(&self, node: usize, dt: Lanes<L>, y: Lanes<L>, otherwise: Lanes<L>) -> Lanes<L> {
        let cold = below_zero(self.t[node], dt);
        let layer = self.layout.layer_of(node);
        let material = &self.layout.layers[layer].material;
        let heat = self.heat_after(layer, node, y - self.y[node], dt);
        let water = Lanes(std::array::from_fn(|lane| material.pores(self.stage[layer][lane]).water_kg_m3(y.0[lane])));
        let held = self.thawing(layer, water, heat, self.t[node]);
        let near = (held - self.t[node]).clamp(-GREATEST_CHANGE_K, GREATEST_CHANGE_K) + self.t[node];
        cold.above_zero(near.clamp(150.0, 450.0), otherwise)
    }

    /// Changes the cloth of a lane that has not converged.
    pub(crate) fn damp_cloth(&mut self, lane: usize, change: &FaceChange<L>) {
        if change.cloth_t.0[lane] != 0.0 || change.cloth_water.0[lane] != 0.0 {
            let now = self.cloth.t.0[lane];
            let water = (self.cloth.water.0[lane] + change.cloth_water.0[lane]).max(0.0);
            let asked = now + change.cloth_t.0[lane];
            let goes = if self.cloth.freezes && asked.min(now) < ZERO_K {
                self.hung[lane].temperature(water, self.cloth_heat_after(lane, change))
            } else {
                asked
            };
            self.cloth.t.0[lane] = (now + (goes - now).clamp(-GREATEST_CHANGE_K, GREATEST_CHANGE_K)).clamp(150.0, 450.0);
            self.cloth.water.0[lane] = water;
        }
    }

    /// Enthalpy of a lane's cloth, J/m², after a change, as its slopes now have it.
    fn cloth_heat_after(&self, lane: usize, change: &FaceChange<L>) -> f64 {
        let (hung, water, t) = (&self.hung[lane], self.cloth.water.0[lane], self.cloth.t.0[lane]);
        let (more, warmer) = (change.cloth_water.0[lane], change.cloth_t.0[lane]);
        let warmth = t - ZERO_K;
        let heat = (hung.dry_heat + WATER_J_KGK * water) * (warmth + warmer) + WATER_J_KGK * warmth * more;
        if !hung.freezes {
            return heat;
        }
        let [ice, by_water, by_t] = cloth::heat_of_ice(Lanes([water]), Lanes([t]), Lanes([hung.sorbed])).map(|lanes| lanes.0[0]);
        heat + (ice + by_water * more + by_t * warmer)
    }

    /// Whether the temperature a lane's last solve asks of its cloth is that which its enthalpy then has: not so where it begins or ends to freeze.
    fn cloth_ice_fits(&self, lane: usize, change: &FaceChange<L>) -> bool {
        let (now, asked) = (self.cloth.t.0[lane], self.cloth.t.0[lane] + change.cloth_t.0[lane]);
        if !self.cloth.freezes || self.hung[lane].dry_heat == 0.0 || asked.min(now) >= ZERO_K {
            return true;
        }
        let water = (self.cloth.water.0[lane] + change.cloth_water.0[lane]).max(0.0);
        let got = self.hung[lane].temperature(water, self.cloth_heat_after(lane, change));
        (got - asked).abs() < self.settings.tolerance_k.min(FACE_TOLERANCE_K)
    }

    /// Node at which a lane changes most.
    fn worst(&self, lane: usize) -> usize {
        let rows = self.eliminated.iter().take(self.layout.outer_face(self.awake[lane]) + 1);
        let sizes = rows.map(|row| row.y.0[lane].abs() + row.t.0[lane].abs()).map(|size| if size.is_finite() { size } else { f64::MAX });
        sizes.enumerate().max_by(|a, b| a.1.total_cmp(&b.1)).map_or(0, |(node, _)| node)
    }

    /// Takes the step in the lanes marked: contents from the linear solve, potentials after them, books brought up to date.
    #[inline(always)]
    fn take(&mut self, accepted: &[bool; L], inner: &Conditions<L>, outer: &Conditions<L>, change: &FaceChange<L>, dt: Lanes<L>) {
        let taken = Lanes(accepted.map(|yes| if yes { 1.0 } else { 0.0 }));
        let mut turned = Lanes::default();
        let mut released = Lanes::default();
        let mut released_heat = Lanes::default();
        for layer in 0..self.most_awake() {
            let here = taken * self.awake_mask(layer);
            let dry_heat = self.layout.layers[layer].material.dry_heat_j_m3k();
            let carbonates = self.layout.layers[layer].carbonation.is_some();
            let sets = self.layout.layers[layer].material.set().is_some();
            for node in self.layout.cells[layer].clone() {
                let (dy, dtemp) = (self.eliminated[node].y, self.eliminated[node].t);
                let (water_now, slope) = (self.points[node + layer].water, self.points[node + layer].water_slope);
                let more = slope * dy;
                let warmth = self.t[node] - ZERO_K;
                let capacity = water_now * WATER_J_KGK + dry_heat;
                let water = water_now + more;
                let heat = capacity * (warmth + dtemp) + more * warmth * WATER_J_KGK;
                let mut t = heat / (water * WATER_J_KGK + dry_heat) + ZERO_K;
                let mut heat = heat;
                if self.settings.freezing && below_zero(self.t[node], dtemp).any_above_zero() {
                    heat = self.heat_after(layer, node, dy, dtemp);
                    t = self.thawing(layer, water, heat, self.t[node] + dtemp);
                }
                self.water[node] = here.above_zero(water, self.water[node]);
                self.heat[node] = here.above_zero(heat, self.heat[node]);
                self.t[node] = here.above_zero(t, self.t[node]);
                self.y[node] = here.above_zero(bounded(self.y[node] + dy), self.y[node]);
                if carbonates {
                    let gone = self.gas.r[node] * dt;
                    self.gas.b[node] = here.above_zero(self.gas.b[node] - gone, self.gas.b[node]);
                    let awake_gone = here * gone * self.layout.width_m[node];
                    turned = turned + awake_gone;
                }
                if sets {
                    self.take_set(node, here);
                }
                if carbonates || sets {
                    released = released + self.water_source[node] * here * self.layout.width_m[node];
                    released_heat = released_heat + self.heat_source[node] * here * self.layout.width_m[node];
                }
            }
            self.shift_massless(self.layout.cells[layer].end, here);
        }
        self.shift_massless(0, taken);
        let reaction = [turned, released, released_heat];
        for lane in (0..L).filter(|&lane| accepted[lane]) {
            self.enter(lane, inner, outer, change, dt.0[lane], reaction.map(|sum| sum.0[lane]));
        }
    }

    /// Moves a node without volume by its change.
    #[inline(always)]
    fn shift_massless(&mut self, node: usize, here: Lanes<L>) {
        let row = &self.eliminated[node];
        self.y[node] = here.above_zero(bounded(self.y[node] + row.y), self.y[node]);
        self.t[node] = here.above_zero(self.t[node] + row.t, self.t[node]);
    }

    /// Enters a step of one lane in its books and steps its cloth.
    fn enter(&mut self, lane: usize, inner: &Conditions<L>, outer: &Conditions<L>, change: &FaceChange<L>, dt: f64, reaction: [f64; 3]) {
        let at = |value: Lanes<L>| value.0[lane];
        let outflow = |flow: &Outflow<L>, y: f64, t: f64| {
            at(flow.face.value)
                + at(flow.face.by_y) * y
                + at(flow.face.by_t) * t
                + at(flow.by_cloth_water) * at(change.cloth_water)
                + at(flow.by_cloth_t) * at(change.cloth_t)
        };
        let face = &self.outer_balance.face;
        let evaporated = outflow(&face.outside_mass, at(change.y), at(change.t)) * dt;
        let heat_out = outflow(&face.outside_heat, at(change.y), at(change.t)) * dt;
        let rain = at(outer.rain) * dt;
        let held = at(outer.holds_y) > 0.0 || at(self.flooded) > 0.0;
        let supply = if held { at(change.supply) * dt } else { rain };
        let supply_heat =
            if held || at(outer.holds_k) > 0.0 { at(change.supply_heat) * dt } else { supply * (at(outer.rain_k) - ZERO_K) * WATER_J_KGK };
        let [inner_out, inner_heat, inner_run_off] = self.inner_outflow(lane, inner, dt);
        let [turned, released, released_heat] = reaction;
        let books: &mut Books = &mut self.books[lane];
        books.evaporated_kg_m2 += evaporated;
        books.absorbed_kg_m2 += supply;
        books.run_off_kg_m2 += if at(outer.holds_y) > 0.0 { 0.0 } else { rain - supply };
        books.inner_kg_m2 += inner_out;
        books.inner_run_off_kg_m2 += inner_run_off;
        books.released_kg_m2 += released;
        books.heat_in_j_m2 += supply_heat - heat_out - inner_heat;
        books.heat_released_j_m2 += released_heat;
        books.turned_mol_m2 += turned;
        books.taken_up_mol_m2 += at(self.gas.uptake) * dt;
        books.water_moved_kg_m2 += evaporated.abs() + supply.abs() + inner_out.abs() + released.abs();
        books.heat_moved_j_m2 += supply_heat.abs() + heat_out.abs() + inner_heat.abs() + released_heat.abs();
        if at(outer.has_cloth) > 0.0 {
            self.step_cloth(lane, outer, change);
        }
    }

    /// Water and heat that left through the inner face in a step, less the rain it took up or what a held state supplied, and the rain and dew that ran off.
    fn inner_outflow(&self, lane: usize, inner: &Conditions<L>, dt: f64) -> [f64; 3] {
        let balance = &self.inner_balance;
        let (own, next) = (&self.eliminated[0], &self.eliminated[1]);
        let at = |value: Lanes<L>| value.0[lane];
        let (y, t, next_y, next_t) = (at(own.y), at(own.t), at(next.y), at(next.t));
        let flow = |value: Lanes<L>, by_y: Lanes<L>, by_t: Lanes<L>| at(value) + at(by_y) * y + at(by_t) * t;
        let (mass, heat) = (&balance.face.outside_mass.face, &balance.face.outside_heat.face);
        let (row, after) = (&balance.row, &balance.after);
        let mut out = flow(mass.value, mass.by_y, mass.by_t);
        let mut out_heat = flow(heat.value, heat.by_y, heat.by_t);
        let held = at(inner.holds_y) > 0.0 || at(self.inner_flooded) > 0.0;
        let rain = at(inner.rain);
        let supply = if held { self.inner_supply(lane) } else { rain };
        let run_off = if at(inner.holds_y) > 0.0 { 0.0 } else { rain - supply };
        out -= supply;
        if held || at(inner.holds_k) > 0.0 {
            out_heat -= flow(row.heat, row.own.hy, row.own.ht) + at(after.hy) * next_y + at(after.ht) * next_t;
        } else {
            out_heat -= supply * (at(inner.rain_k) - ZERO_K) * WATER_J_KGK;
        }
        [out * dt, out_heat * dt, run_off * dt]
    }

    /// Steps the cloth; what it cannot hold drips off, unless it is ice.
    fn step_cloth(&mut self, lane: usize, outer: &Conditions<L>, change: &FaceChange<L>) {
        let new = self.cloth.water.0[lane] + change.cloth_water.0[lane];
        let t = self.hung[lane].temperature(new, self.cloth_heat_after(lane, change));
        let over = (new - outer.cloth.holds.0[lane]).max(0.0);
        let drips = if self.cloth.freezes && t < ZERO_K { 0.0 } else { over };
        self.cloth.water.0[lane] = new - drips;
        self.cloth.t.0[lane] = t;
        if drips > 0.0 {
            self.record_added(lane, -drips, -drips * WATER_J_KGK * (t - ZERO_K));
        }
    }

    /// Enters water and heat that came or went otherwise than through a face.
    pub(crate) fn record_added(&mut self, lane: usize, water_kg_m2: f64, heat_j_m2: f64) {
        let books = &mut self.books[lane];
        books.added_kg_m2 += water_kg_m2;
        books.heat_added_j_m2 += heat_j_m2;
        books.water_moved_kg_m2 += water_kg_m2.abs();
        books.heat_moved_j_m2 += heat_j_m2.abs();
    }
}

/// How much a change of y counts: close to saturation suction says little about water.
#[inline(always)]
pub(crate) fn weight_of<const L: usize>(y: Lanes<L>) -> Lanes<L> {
    ((y - 2.0) * 0.2).clamp(0.02, 1.0)
}

/// How far below 0 °C a node is or goes, K; not above zero where it stays thawed.
#[inline(always)]
fn below_zero<const L: usize>(t: Lanes<L>, change: Lanes<L>) -> Lanes<L> {
    Lanes::splat(ZERO_K) - t.min(t + change)
}

/// Kept within the tables.
#[inline(always)]
pub(crate) fn bounded<const L: usize>(y: Lanes<L>) -> Lanes<L> {
    y.clamp(LEAST_LN_SUCTION, GREATEST_LN_SUCTION - 0.05)
}
