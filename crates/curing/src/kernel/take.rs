//! What taking a step does to the contents and the books: contents are what the last solve says has crossed, so that the books close.

use crate::kernel::books::Books;
use crate::kernel::column::Column;
use crate::kernel::conditions::Conditions;
use crate::kernel::face::Outflow;
use crate::kernel::newton::{FaceChange, bounded};
use crate::kernel::{WATER_J_KGK, ZERO_K};
use crate::lanes::{Lanes, On, Vector};

impl<const L: usize> Column<L> {
    /// Takes the step in the lanes marked: contents from the linear solve, potentials after them.
    #[inline(always)]
    pub(crate) fn take<V: Vector>(&mut self, on: On<V>, accepted: &[bool; L], dt: &Lanes<L>) {
        let (taken, dt) = (on.marked(accepted), on.load(dt));
        let mut sums = [on.zero(); 3];
        for layer in 0..self.most_awake() {
            let here = taken * on.load(&self.awake_mask(layer));
            let dry_heat = self.layout.layers[layer].material.dry_heat_j_m3k();
            let carbonates = self.layout.layers[layer].carbonation.is_some();
            let sets = self.layout.layers[layer].material.set().is_some();
            for node in self.layout.cells[layer].clone() {
                self.take_cell(on, node, layer, dry_heat, here);
                let counts = here * self.layout.width_m[node];
                if carbonates {
                    let left = on.load(&self.gas.b[node]);
                    let gone = on.load(&self.gas.r[node]) * dt;
                    self.gas.b[node] = here.above_zero(left - gone, left).lanes();
                    sums[0] = sums[0] + gone * counts;
                }
                if sets {
                    self.take_set(on, node, here);
                }
                if carbonates || sets {
                    sums[1] = sums[1] + on.load(&self.water_source[node]) * counts;
                    sums[2] = sums[2] + on.load(&self.heat_source[node]) * counts;
                }
            }
            self.shift_massless(on, self.layout.cells[layer].end, here);
        }
        self.shift_massless(on, 0, taken);
        self.reaction = sums.map(
            #[inline(always)]
            |sum| sum.lanes(),
        );
    }

    /// Takes the step in one cell: its contents are what the linear solve says has crossed.
    #[inline(always)]
    fn take_cell<V: Vector>(&mut self, on: On<V>, node: usize, layer: usize, dry_heat: f64, here: V) {
        let (dy, dtemp) = (on.load(&self.dy[node]), on.load(&self.dt[node]));
        let point = &self.points[node + layer];
        let (water_now, slope) = (on.load(&point.water), on.load(&point.water_slope));
        let (y_now, t_now) = (on.load(&self.y[node]), on.load(&self.t[node]));
        let more = slope * dy;
        let warmth = t_now - ZERO_K;
        let capacity = water_now * WATER_J_KGK + dry_heat;
        let water = water_now + more;
        let mut heat = capacity * (warmth + dtemp) + more * warmth * WATER_J_KGK;
        let mut t = heat / (water * WATER_J_KGK + dry_heat) + ZERO_K;
        if self.settings.freezing && (on.splat(ZERO_K) - t_now.min(t_now + dtemp)).any_above_zero() {
            let frozen = self.heat_after(layer, node, self.dy[node], self.dt[node]);
            t = on.load(&self.thawing(layer, water.lanes(), frozen, self.t[node] + self.dt[node]));
            heat = on.load(&frozen);
        }
        self.water[node] = here.above_zero(water, on.load(&self.water[node])).lanes();
        self.heat[node] = here.above_zero(heat, on.load(&self.heat[node])).lanes();
        self.t[node] = here.above_zero(t, t_now).lanes();
        self.y[node] = here.above_zero(bounded(y_now + dy), y_now).lanes();
    }

    /// Moves a node without volume by its change.
    #[inline(always)]
    fn shift_massless<V: Vector>(&mut self, on: On<V>, node: usize, here: V) {
        let (y, t) = (on.load(&self.y[node]), on.load(&self.t[node]));
        self.y[node] = here.above_zero(bounded(y + on.load(&self.dy[node])), y).lanes();
        self.t[node] = here.above_zero(t + on.load(&self.dt[node]), t).lanes();
    }

    /// Enters a step of one lane in its books and steps its cloth.
    pub(crate) fn enter(&mut self, lane: usize, inner: &Conditions<L>, outer: &Conditions<L>, change: &FaceChange<L>, dt: f64) {
        let at = |value: Lanes<L>| value.0[lane];
        let outflow = |flow: &Outflow<Lanes<L>>, y: f64, t: f64| {
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
        let [turned, released, released_heat] = self.reaction.map(|sum| sum.0[lane]);
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
        let at = |value: Lanes<L>| value.0[lane];
        let (y, t, next_y, next_t) = (at(self.dy[0]), at(self.dt[0]), at(self.dy[1]), at(self.dt[1]));
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
