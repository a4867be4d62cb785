//! The evening before a throw: a thirsty wall is damped down by hand. A course learns in the morning that the coat goes on, so the night is then lived again
//! from the evening with the water in it; what was done to the wall meanwhile, a cloth taken down by the wind, is made good by whoever throws.

use std::sync::Arc;

use curing::{Action, Bench, Checkpoint, CuringError, Numerics};

use crate::columns::{DAMP_EVENING_KG_M2, DRY_FACE_HUMIDITY};
use crate::protect::course::Rule;

/// Longest night from the end of work to its start, h: an evening further back is not the evening before.
const LONGEST_NIGHT_H: usize = 23;

/// A lane as it stood at the end of work.
#[derive(Clone, Debug)]
pub(crate) struct Evening {
    pub(crate) hour: usize,
    pub(crate) columns: Vec<Checkpoint>,
}

/// One wall's columns, to live nights again in.
#[derive(Debug)]
pub(crate) struct Nights {
    benches: Vec<Bench>,
}

impl Nights {
    /// For the first `coats` coats.
    pub(crate) fn new(rule: &Rule, coats: usize) -> Result<Self, CuringError> {
        let numerics = Numerics { lanes: 1, ..Numerics::default() };
        let bench = |column: &crate::protect::ColumnModel| {
            Bench::with_numerics(&column.wall, &column.coats[..coats], Arc::clone(&rule.ground.climate), &[0], numerics)
        };
        Ok(Self { benches: rule.ground.columns.iter().map(bench).collect::<Result<_, _>>()? })
    }

    /// Cell-steps taken in nights lived again.
    pub(crate) fn cell_steps(&self) -> u64 {
        self.benches.iter().map(Bench::cell_steps).sum()
    }

    /// The columns in the morning, thirsty ones damped down the evening before; `None` where none was thirsty, or the evening is not known.
    pub(crate) fn damped(&mut self, evening: Option<&Evening>, morning: usize) -> Result<Option<Vec<Checkpoint>>, CuringError> {
        let Some(evening) = evening.filter(|evening| evening.hour < morning && morning - evening.hour <= LONGEST_NIGHT_H) else {
            return Ok(None);
        };
        let (mut any, mut columns) = (false, Vec::with_capacity(self.benches.len()));
        for (bench, from) in self.benches.iter_mut().zip(&evening.columns) {
            bench.resume(0, from)?;
            if bench.look(0).face_humidity < DRY_FACE_HUMIDITY {
                bench.act(0, Action::DampDown(DAMP_EVENING_KG_M2))?;
                any = true;
            }
            bench.advance(morning - evening.hour);
            columns.extend(bench.checkpoint(0));
        }
        Ok(any.then_some(columns))
    }
}
