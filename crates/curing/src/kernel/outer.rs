//! The outer face within an iteration: its row with films, cloth, rain and what is held, iterated by itself against the wall as already eliminated. It must
//! never change the wall.

use crate::kernel::column::Column;
use crate::kernel::conditions::Conditions;
use crate::kernel::face::{Flow, face_row};
use crate::kernel::newton::{FaceChange, GREATEST_CHANGE_K, GREATEST_CHANGE_Y, bounded, weight_of};
use crate::kernel::point::Point;
use crate::kernel::sweep::{Block, Eliminated, FaceBalance, Row, finish, hold, own_of};
use crate::kernel::{FACE_TOLERANCE_K, FACE_TOLERANCE_Y, ZERO_K};
use crate::lanes::{Lanes, On, Record, Vector};

/// Iterations of the face and the cloth alone within one of the wall.
const MOST_FACE_TRIALS: usize = 8;

impl<const L: usize> Column<L> {
    /// Finishes the last cell's row and builds that of the outer face, with films, cloth, rain and held states in the lanes whose wall ends at this
    /// layer; gives what is left of the last cell's. Face and cloth answer the weather far more than linearly, the wall within hardly: so they are
    /// iterated here against the wall as already eliminated, the link between them evaluated anew each time, and the wall needs to be solved but once.
    #[inline(always)]
    #[expect(clippy::too_many_arguments, reason = "the row being built and what stands on either side of it")]
    pub(crate) fn outer_row<V: Vector>(
        &mut self,
        on: On<V>,
        outer: &Conditions<L>,
        layer: usize,
        per_second: V,
        row: &mut Row<V>,
        previous: &Eliminated<V>,
        open: &[bool; L],
    ) -> Eliminated<V> {
        let (awake, outermost) = (on.load(&self.awake_mask(layer)), self.outermost_mask(layer));
        let node = self.layout.cells[layer].end;
        let cell = *row;
        let here = on.load(&outermost);
        let mut moving: [bool; L] = std::array::from_fn(|lane| open[lane] && outermost.0[lane] > 0.0);
        let mut trial = 0;
        loop {
            let (ended, inside, balance, change) = self.try_face(on, outer, layer, per_second, (&cell, previous), (awake, here));
            trial += 1;
            // To ask whether the face has settled may turn rain taken up into rain running off; the rows just built would no longer be those of the face.
            if trial == MOST_FACE_TRIALS || !self.face_moves(&mut moving, node, outer, &change) {
                *row = ended;
                self.keep_balance(on, &balance, here);
                self.eliminated[node - 1] = inside.lanes();
                return inside;
            }
            self.points[node + layer] =
                Point::at(on, &self.layout.layers[layer].material, &self.stage[layer], &self.y[node], &self.t[node]).lanes();
            if self.settings.freezing && (on.splat(ZERO_K) - on.load(&self.t[node])).any_above_zero() {
                self.ice_over(layer, node);
            }
        }
    }

    /// The outer face's row as its state and that of its cloth now are, what is left of the last cell's, the balance behind it, and how face and cloth
    /// would change.
    #[inline(always)]
    fn try_face<V: Vector>(
        &self,
        on: On<V>,
        outer: &Conditions<L>,
        layer: usize,
        per_second: V,
        (cell, previous): (&Row<V>, &Eliminated<V>),
        (awake, here): (V, V),
    ) -> (Row<V>, Eliminated<V>, FaceBalance<V>, FaceChange<L>) {
        let node = self.layout.cells[layer].end;
        let flows = self.link_of(on, node, layer, awake);
        let mut last_cell = *cell;
        last_cell.leave(&flows);
        let inside = finish(&last_cell, &flows.by_right, previous);
        let mut row = Row::begun(&flows, on.splat(1.0) - awake);
        let point = self.points[node + layer].load(on);
        let face = face_row(on, outer, &point, &self.cloth, per_second, self.settings.latent_j_kg);
        let mut balance = FaceBalance { row, after: Block::zero(on), face };
        balance.row.water = balance.row.water + face.mass.value;
        balance.row.heat = balance.row.heat + face.heat.value;
        balance.row.own = balance.row.own.plus(&own_of(&face));
        let ended = self.close_outer(on, outer, node, &balance.row);
        merge_row(&mut row, &ended, here);
        let last = finish(&ended, &Block::zero(on), &inside);
        let change = FaceChange::of(&balance, on.load(&outer.has_cloth), (last.y, last.t), inside.answer(last.y, last.t));
        (row, inside, balance, change)
    }

    /// Keeps the balance of the face in the lanes marked.
    #[inline(always)]
    fn keep_balance<V: Vector>(&mut self, on: On<V>, balance: &FaceBalance<V>, here: V) {
        let mut kept = self.outer_balance.load(on);
        merge_balance(&mut kept, balance, here);
        self.outer_balance = kept.lanes();
    }

    /// Row of the outer face with rain and what is held.
    #[inline(always)]
    fn close_outer<V: Vector>(&self, on: On<V>, outer: &Conditions<L>, node: usize, free: &Row<V>) -> Row<V> {
        let holds_y = on.load(&outer.holds_y);
        let held = holds_y.max(on.load(&self.flooded));
        let target = holds_y.above_zero(on.load(&outer.held_y), on.zero());
        let mut row = *free;
        row.water = row.water - (on.splat(1.0) - held) * on.load(&outer.rain);
        let mut after = Block::zero(on);
        hold(on, outer, &mut row, &mut after, (on.load(&self.y[node]), on.load(&self.t[node])), held, target);
        row
    }

    /// Strikes the lanes whose face and cloth have settled off those moving, and moves the others. False when all have settled.
    fn face_moves(&mut self, moving: &mut [bool; L], node: usize, outer: &Conditions<L>, change: &FaceChange<L>) -> bool {
        for (lane, moving) in moving.iter_mut().enumerate() {
            *moving = *moving && !self.face_settles(lane, node, outer, change);
        }
        for lane in (0..L).filter(|&lane| moving[lane]) {
            let (y, t) = (self.y[node].0[lane], self.t[node].0[lane]);
            self.y[node].0[lane] = bounded(Lanes([y + change.y.0[lane].clamp(-3.0 * GREATEST_CHANGE_Y, GREATEST_CHANGE_Y)])).0[0];
            self.t[node].0[lane] = (t + change.t.0[lane].clamp(-GREATEST_CHANGE_K, GREATEST_CHANGE_K)).clamp(150.0, 450.0);
            self.damp_cloth(lane, change);
        }
        moving.contains(&true)
    }

    /// Whether the last changes of a lane's face and cloth are small, and rain fits.
    fn face_settles(&mut self, lane: usize, node: usize, outer: &Conditions<L>, change: &FaceChange<L>) -> bool {
        let small = change.y.0[lane].abs() * weight_of(Lanes([self.y[node].0[lane]])).0[0]
            < self.settings.tolerance_y.min(FACE_TOLERANCE_Y)
            && change.t.0[lane].abs() < self.settings.tolerance_k.min(FACE_TOLERANCE_K)
            && self.cloth_settles(lane, outer, change);
        self.flood_fits(lane, node, outer, change) && small
    }
}

macro_rules! merge {
    ($here:expr, $($into:expr, $from:expr);+ $(;)?) => { $( $into = $here.above_zero($from, $into); )+ };
}

/// Takes over a row in the lanes marked.
#[inline(always)]
fn merge_row<V: Vector>(into: &mut Row<V>, from: &Row<V>, here: V) {
    merge!(here, into.water, from.water; into.heat, from.heat);
    merge_block(&mut into.own, &from.own, here);
    merge_block(&mut into.before, &from.before, here);
}

#[inline(always)]
fn merge_block<V: Vector>(into: &mut Block<V>, from: &Block<V>, here: V) {
    merge!(here, into.wy, from.wy; into.wt, from.wt; into.hy, from.hy; into.ht, from.ht);
}

#[inline(always)]
fn merge_flow<V: Vector>(into: &mut Flow<V>, from: &Flow<V>, here: V) {
    merge!(here, into.value, from.value; into.by_y, from.by_y; into.by_t, from.by_t);
}

#[inline(always)]
fn merge_balance<V: Vector>(into: &mut FaceBalance<V>, from: &FaceBalance<V>, here: V) {
    merge_row(&mut into.row, &from.row, here);
    for (into, from) in [(&mut into.face.outside_mass, &from.face.outside_mass), (&mut into.face.outside_heat, &from.face.outside_heat)] {
        merge_flow(&mut into.face, &from.face, here);
        merge!(here, into.by_cloth_water, from.by_cloth_water; into.by_cloth_t, from.by_cloth_t);
    }
    for (into, from) in into.face.cloth.iter_mut().zip(&from.face.cloth) {
        merge_flow(into, from, here);
    }
}
