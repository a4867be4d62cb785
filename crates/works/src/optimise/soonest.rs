//! Whether the client's date can be kept at all: the soonest that any weather allows, in some orders of the walls. It must never refuse a date that the job as
//! it stands could keep.

use crate::road::Stages;
use crate::season::check_deadline;
use crate::{Inputs, WorksError};

/// Refuses a date that no order tried could keep: the walls as they stand, turned round, and begun with each of them.
pub(super) fn check(inputs: &Inputs) -> Result<(), WorksError> {
    let walls = inputs.building.walls.len();
    let mut soonest: Option<WorksError> = None;
    for turn in 0..2 * walls.max(1) {
        let mut turned = inputs.clone();
        if turn >= walls {
            turned.building.walls.reverse();
        }
        turned.building.walls.rotate_left(turn % walls.max(1));
        let stages = Stages::of(&turned)?;
        match (check_deadline(&stages.sheet, &turned), &soonest) {
            (Ok(()), _) => return Ok(()),
            (Err(error), Some(known)) if earliest(&error) >= earliest(known) => {}
            (Err(error), _) => soonest = Some(error),
        }
    }
    soonest.map_or(Ok(()), Err)
}

/// The soonest finish an error tells of; nought for another error, which weighs most.
fn earliest(error: &WorksError) -> Option<jiff::civil::Date> {
    if let WorksError::ImpossibleDeadline { earliest, .. } = error { Some(*earliest) } else { None }
}
