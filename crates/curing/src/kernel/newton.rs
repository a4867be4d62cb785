//! The Newton loop of one step: when a lane has settled, and how far those that have not are moved.

use crate::kernel::cloth;
use crate::kernel::column::{Column, Taken};
use crate::kernel::conditions::Conditions;
use crate::kernel::sweep::FaceBalance;
use crate::kernel::{FACE_TOLERANCE_K, FACE_TOLERANCE_Y, WATER_J_KGK, ZERO_K};
use crate::lanes::{Lanes, On, Record, Vector};
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
    pub(crate) fn of<V: Vector>(balance: &FaceBalance<V>, has_cloth: V, (y, t): (V, V), inside: (V, V)) -> Self {
        let (row, cloth) = (&balance.row, &balance.face.cloth);
        let supply = row.water + row.own.wy * y + row.own.wt * t + row.before.wy * inside.0 + row.before.wt * inside.1;
        let supply_heat = row.heat + row.own.hy * y + row.own.ht * t + row.before.hy * inside.0 + row.before.ht * inside.1;
        Self {
            y: y.lanes(),
            t: t.lanes(),
            cloth_water: (-(cloth[0].value + cloth[0].by_y * y + cloth[0].by_t * t) * has_cloth).lanes(),
            cloth_t: (-(cloth[1].value + cloth[1].by_y * y + cloth[1].by_t * t) * has_cloth).lanes(),
            supply: supply.lanes(),
            supply_heat: supply_heat.lanes(),
        }
    }
}

/// How large the changes of one solve were.
struct Size<N> {
    y: N,
    t: N,
    sum: N,
    /// Coldest temperature, K, before or after.
    coldest: N,
    /// Innermost node that changes more than the tolerances allow; beyond the outermost if none does.
    moved: N,
}

impl<const L: usize> Column<L> {
    /// Iterates until every active lane has converged and been stepped, or has run out of iterations.
    #[inline(always)]
    pub(crate) fn newton<V: Vector>(
        &mut self,
        on: On<V>,
        inner: &Conditions<L>,
        outer: &Conditions<L>,
        active: &[bool; L],
        dt: &Lanes<L>,
    ) -> Taken<L> {
        let per_second = on.run(
            #[inline(always)]
            || on.load(dt).inverse(),
        );
        let mut open = *active;
        let mut done = [false; L];
        let mut iterations = 0;
        // Node from which outwards each lane has moved since its last elimination.
        let mut moved = [0; L];
        while open.contains(&true) && iterations < MOST_ITERATIONS {
            iterations += 1;
            let first = (0..L).filter(|&lane| open[lane]).map(|lane| moved[lane]).min().unwrap_or(0);
            on.run(
                #[inline(always)]
                || self.eliminate(on, inner, outer, per_second, &open, first),
            );
            let size = on.run(
                #[inline(always)]
                || self.substitute(on),
            );
            let change = on.run(
                #[inline(always)]
                || self.face_change(on, outer),
            );
            let mut accepted = [false; L];
            for lane in 0..L {
                if open[lane] {
                    (accepted[lane], moved[lane]) = self.settles(lane, inner, outer, &size, &change);
                }
            }
            if accepted.contains(&true) {
                on.run(
                    #[inline(always)]
                    || self.take(on, &accepted, dt),
                );
                for lane in (0..L).filter(|&lane| accepted[lane]) {
                    self.enter(lane, inner, outer, &change, dt.0[lane]);
                }
            }
            for lane in 0..L {
                if accepted[lane] {
                    open[lane] = false;
                    done[lane] = true;
                }
            }
            if open.contains(&true) {
                on.run(
                    #[inline(always)]
                    || self.damp(on, &open, &moved, &change),
                );
            }
        }
        let worst = std::array::from_fn(|lane| if open[lane] { self.worst(lane) } else { 0 });
        Taken { done, worst, iterations }
    }

    /// Substitutes back from the outermost node, leaving the changes in `dy` and `dt`.
    #[inline(always)]
    fn substitute<V: Vector>(&mut self, on: On<V>) -> Size<Lanes<L>> {
        let nodes = self.layout.outer_face(self.most_awake());
        let (tolerance_y, tolerance_k) = (on.splat(self.settings.tolerance_y), on.splat(self.settings.tolerance_k));
        let mut size =
            Size { y: on.zero(), t: on.zero(), sum: on.zero(), coldest: on.splat(f64::MAX), moved: on.splat((nodes + 1) as f64) };
        let mut next = (on.zero(), on.zero());
        for node in (0..=nodes).rev() {
            let row = self.eliminated[node].load(on);
            let (y, t) = row.answer(next.0, next.1);
            self.dy[node] = y.lanes();
            self.dt[node] = t.lanes();
            let now = on.load(&self.t[node]);
            let (by, warmer) = (y.abs(), t.abs());
            let weighed = by * weight_of(on.load(&self.y[node]));
            size.y = size.y.max(weighed);
            size.t = size.t.max(warmer);
            size.sum = size.sum + by + warmer;
            size.coldest = size.coldest.min(now).min(now + t);
            let here = on.splat(node as f64);
            size.moved = weighed.above(tolerance_y, here, warmer.above(tolerance_k, here, size.moved));
            next = (y, t);
        }
        let Size { y, t, sum, coldest, moved } = size;
        Size { y: y.lanes(), t: t.lanes(), sum: sum.lanes(), coldest: coldest.lanes(), moved: moved.lanes() }
    }

    /// Changes at the outer face and in the cloth, and the supply, all from the linear solve.
    #[inline(always)]
    fn face_change<V: Vector>(&self, on: On<V>, outer: &Conditions<L>) -> FaceChange<L> {
        let face: [usize; L] = std::array::from_fn(|lane| self.layout.outer_face(self.awake[lane]));
        let at = |of: &[Lanes<L>], inwards: usize| -> Lanes<L> {
            Lanes(std::array::from_fn(|lane| of[face[lane].saturating_sub(inwards)].0[lane]))
        };
        let (own_y, own_t, inside_y, inside_t) = (at(&self.dy, 0), at(&self.dt, 0), at(&self.dy, 1), at(&self.dt, 1));
        let balance = self.outer_balance.load(on);
        let own = (on.load(&own_y), on.load(&own_t));
        FaceChange::of(&balance, on.load(&outer.has_cloth), own, (on.load(&inside_y), on.load(&inside_t)))
    }

    /// Whether a lane's last changes are small enough to take the step, and if not, from which node outwards it has to move; changes between rain taken
    /// up and rain running off where they do not fit.
    fn settles(
        &mut self,
        lane: usize,
        inner: &Conditions<L>,
        outer: &Conditions<L>,
        size: &Size<Lanes<L>>,
        change: &FaceChange<L>,
    ) -> (bool, usize) {
        let face = self.layout.outer_face(self.awake[lane]);
        let within = size.sum.0[lane].is_finite();
        let small = within
            && size.y.0[lane] < self.settings.tolerance_y
            && size.t.0[lane] < self.settings.tolerance_k
            && self.cloth_settles(lane, outer, change);
        let frost_fits = !self.settings.freezing || size.coldest.0[lane] >= ZERO_K || self.frost_fits(lane);
        let inner_fits = inner.holds_y.0[lane] > 0.0 || self.inner_flood_fits(lane, inner.rain.0[lane]);
        let fits = self.flood_fits(lane, face, outer, change);
        // What does not fit may lie anywhere; changes that are too large are known to begin at a node.
        let moved = if within && frost_fits && inner_fits { (size.moved.0[lane] as usize).min(face) } else { 0 };
        (fits && small && frost_fits && inner_fits, moved)
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
            self.y[0].0[lane] + self.dy[0].0[lane] < LEAST_LN_SUCTION
        };
        self.inner_flooded.0[lane] = if floods { 1.0 } else { 0.0 };
        floods == was
    }

    /// Water that has to be supplied to the inner face for its balance, kg/(m² s); negative where some runs off.
    pub(crate) fn inner_supply(&self, lane: usize) -> f64 {
        let (row, after) = (&self.inner_balance.row, &self.inner_balance.after);
        let at = |value: Lanes<L>| value.0[lane];
        at(row.water)
            + at(row.own.wy) * at(self.dy[0])
            + at(row.own.wt) * at(self.dt[0])
            + at(after.wy) * at(self.dy[1])
            + at(after.wt) * at(self.dt[1])
    }

    /// Change of the cloth's water that counts as small, kg/m²: none that matters while it is wet throughout, a share of what it holds by sorption else.
    pub(crate) fn cloth_tolerance(&self, lane: usize, outer: &Conditions<L>) -> f64 {
        let hygroscopic = outer.cloth.hygroscopic.0[lane];
        let wet = self.cloth.water.0[lane] - hygroscopic;
        (self.settings.tolerance_y.min(FACE_TOLERANCE_Y) * hygroscopic).max(0.5 * wet)
    }

    /// Changes the potentials of the lanes that have not converged from the node outwards at which each moves, held back where the change is large.
    #[inline(always)]
    fn damp<V: Vector>(&mut self, on: On<V>, open: &[bool; L], moved: &[usize; L], change: &FaceChange<L>) {
        let last = self.layout.outer_face(self.most_awake());
        let begins = Lanes::<L>(std::array::from_fn(|lane| if open[lane] { moved[lane] as f64 } else { (last + 1) as f64 }));
        let first = (0..L).filter(|&lane| open[lane]).map(|lane| moved[lane]).min().unwrap_or(0);
        let begins = on.load(&begins) - 0.5;
        for node in first..=last {
            let (dy, dt) = (on.load(&self.dy[node]), on.load(&self.dt[node]));
            let (y_now, t_now) = (on.load(&self.y[node]), on.load(&self.t[node]));
            let mut y = bounded(y_now + dy.clamp(-3.0 * GREATEST_CHANGE_Y, GREATEST_CHANGE_Y));
            let mut t = (t_now + dt.clamp(-GREATEST_CHANGE_K, GREATEST_CHANGE_K)).clamp(150.0, 450.0);
            let is_cell = self.layout.width_m[node] > 0.0;
            if is_cell && (-dy - GREATEST_CHANGE_Y).any_above_zero() {
                y = on.load(&self.wetted(node, y.lanes()));
            }
            if is_cell && self.settings.freezing && (on.splat(ZERO_K) - t_now.min(t_now + dt)).any_above_zero() {
                t = on.load(&self.held_by_ice(node, y.lanes(), t.lanes()));
            }
            let moves = on.splat(node as f64) - begins;
            self.y[node] = moves.above_zero(y, y_now).lanes();
            self.t[node] = moves.above_zero(t, t_now).lanes();
        }
        for lane in (0..L).filter(|&lane| open[lane]) {
            self.damp_cloth(lane, change);
        }
    }

    /// A dry cell being wetted: the water it is to take says where to go, the slope of a dry table does not.
    #[cold]
    #[inline(never)]
    fn wetted(&self, node: usize, otherwise: Lanes<L>) -> Lanes<L> {
        let layer = self.layout.layer_of(node);
        let (material, point, dy) = (&self.layout.layers[layer].material, &self.points[node + layer], &self.dy[node]);
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
    #[inline(never)]
    fn held_by_ice(&self, node: usize, y: Lanes<L>, otherwise: Lanes<L>) -> Lanes<L> {
        let (now, dt) = (self.t[node], self.dt[node]);
        let cold = Lanes::splat(ZERO_K) - now.min(now + dt);
        let layer = self.layout.layer_of(node);
        let material = &self.layout.layers[layer].material;
        let heat = self.heat_after(layer, node, y - self.y[node], dt);
        let water = Lanes(std::array::from_fn(|lane| material.pores(self.stage[layer][lane]).water_kg_m3(y.0[lane])));
        let held = self.thawing(layer, water, heat, now);
        let near = (held - now).clamp(-GREATEST_CHANGE_K, GREATEST_CHANGE_K) + now;
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
    pub(crate) fn cloth_heat_after(&self, lane: usize, change: &FaceChange<L>) -> f64 {
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
        let changes = self.dy.iter().zip(&self.dt).take(self.layout.outer_face(self.awake[lane]) + 1);
        let sizes = changes.map(|(y, t)| y.0[lane].abs() + t.0[lane].abs()).map(|size| if size.is_finite() { size } else { f64::MAX });
        sizes.enumerate().max_by(|a, b| a.1.total_cmp(&b.1)).map_or(0, |(node, _)| node)
    }
}

/// How much a change of y counts: close to saturation suction says little about water.
#[inline(always)]
pub(crate) fn weight_of<V: Vector>(y: V) -> V {
    ((y - 2.0) * 0.2).clamp(0.02, 1.0)
}

/// Kept within the tables.
#[inline(always)]
pub(crate) fn bounded<V: Vector>(y: V) -> V {
    y.clamp(LEAST_LN_SUCTION, GREATEST_LN_SUCTION - 0.05)
}
