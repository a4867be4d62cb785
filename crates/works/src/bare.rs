//! A wall that nobody has begun, lived through some weather years once, so that any number of starts can take it up on the day they need it. It must
//! never know of a start: what it hands out on a day depends on the survey, the weather and that day alone.

use std::sync::{Arc, Mutex, PoisonError};

use curing::{Bench, Checkpoint, CuringError, Numerics, WallModel};
use weather::FaceClimate;

/// One wall's bare time in some weather years.
pub(crate) struct BareWall {
    state: Mutex<State>,
    keep_from: usize,
}

struct State {
    benches: Vec<Bench>,
    /// Day, counted from the first one, at whose beginning the benches stand.
    day: usize,
    /// For each day from the first kept one on, each member's wall at its beginning.
    kept: Vec<Vec<Option<Checkpoint>>>,
}

impl State {
    /// Lives on to the next day that is to be kept.
    fn keep(&mut self, next: usize) {
        let hours = (next - self.day) * 24;
        self.benches.iter_mut().for_each(|bench| bench.advance(hours));
        self.day = next;
        let all = self.benches.iter().flat_map(|bench| (0..bench.members()).map(|member| bench.checkpoint(member)));
        self.kept.push(all.collect());
    }
}

impl BareWall {
    /// A bare wall that begins at the given hours of the joined climate; its days are kept from one on, counted from the first.
    pub(crate) fn new(model: &WallModel, climate: &Arc<FaceClimate>, first_hours: &[usize], keep_from: usize) -> Result<Self, CuringError> {
        // Every bench is one block, so that none hands work to other threads while the lock is held: one of them might wait for it.
        let mut benches = Vec::new();
        let mut rest = first_hours;
        while !rest.is_empty() {
            let lanes = [8, 4, 2].into_iter().find(|&lanes| lanes <= rest.len()).unwrap_or(1);
            let (now, later) = rest.split_at(lanes);
            benches.push(Bench::with_numerics(model, &[], Arc::clone(climate), now, Numerics { lanes, ..Numerics::default() })?);
            rest = later;
        }
        Ok(Self { state: Mutex::new(State { benches, day: 0, kept: Vec::new() }), keep_from })
    }

    /// A member's wall at the beginning of a day; `None` for a day before the first that is kept. The wall is lived on as far as anybody has asked.
    pub(crate) fn on(&self, day: usize, member: usize) -> Option<Checkpoint> {
        let place = day.checked_sub(self.keep_from)?;
        let mut state = self.state.lock().unwrap_or_else(PoisonError::into_inner);
        while state.kept.len() <= place {
            let next = self.keep_from + state.kept.len();
            state.keep(next);
        }
        state.kept.get(place).and_then(|members| members.get(member)).cloned().flatten()
    }

    /// Cell-steps it took.
    pub(crate) fn cell_steps(&self) -> u64 {
        let state = self.state.lock().unwrap_or_else(PoisonError::into_inner);
        state.benches.iter().map(Bench::cell_steps).sum()
    }
}
