//! One wall in several weather years, stepped together: the interface through which `works` runs the engine. It takes actions and shows
//! what can be seen; it decides nothing.

use std::sync::Arc;

use weather::FaceClimate;

use crate::{Action, CoatModel, CuringError, Look, WallModel};

/// Water, carbon and energy that have come, gone and stayed, and how far the books are from closing.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Balance {
    /// Water, kg/m².
    pub water: Closure,
    /// Carbon dioxide taken up, mol/m².
    pub carbon: Closure,
    /// Energy, J/m².
    pub energy: Closure,
}

/// How one balance closes.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Closure {
    /// Change of content less what came in plus what went out: zero but for rounding.
    pub residual: f64,
    /// Sum of the absolute amounts that crossed a face, were added, taken away or turned.
    pub moved: f64,
}

/// One wall in several weather years, stepped together.
#[derive(Debug)]
pub struct Bench {
    members: usize,
}

impl Bench {
    /// Sets up one wall for each of `first_hours`: the hour index into the joined climate at which that member starts (day of the survey,
    /// saturation as surveyed). The climate wraps at its end.
    ///
    /// # Errors
    /// Every value of wall, coats and climate that cannot be computed.
    pub fn new(_wall: &WallModel, _coats: &[CoatModel], climate: Arc<FaceClimate>, first_hours: &[usize]) -> Result<Self, CuringError> {
        if climate.air_k.is_empty() {
            return Err(CuringError::Climate { fault: "it has no hours".to_owned(), remedy: "Give at least one year.".to_owned() });
        }
        Ok(Self { members: first_hours.len() })
    }

    /// How many members there are.
    pub fn members(&self) -> usize {
        self.members
    }

    /// Steps every member that is still running by `hours`.
    pub fn advance(&mut self, _hours: usize) {}

    /// What can be seen of a member now.
    ///
    /// # Panics
    /// Never: a member that does not exist is shown as the last.
    pub fn look(&self, _member: usize) -> Look {
        Look {
            hour: 0,
            face_c: 0.0,
            face_humidity: 0.0,
            masonry_saturation: 0.0,
            cloth_kg_m2: 0.0,
            coats: Vec::new(),
            rules: Vec::new(),
            ready: false,
            decides: None,
        }
    }

    /// Does something to a member's wall.
    ///
    /// # Errors
    /// When the action is impossible as things stand.
    pub fn act(&mut self, member: usize, _action: Action) -> Result<(), CuringError> {
        Err(CuringError::Stopped { member })
    }

    /// Why a member failed, if it did.
    pub fn failed(&self, _member: usize) -> Option<&CuringError> {
        None
    }

    /// Stops a member: no more work is spent on it.
    pub fn stop(&mut self, _member: usize) {}

    /// Cell-steps taken: one cell through one hour, all its balances, iterations and sub-steps included.
    pub fn cell_steps(&self) -> u64 {
        0
    }

    /// How the books of a member close.
    pub fn balance(&self, _member: usize) -> Balance {
        Balance::default()
    }
}
