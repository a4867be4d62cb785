//! What can be wrong with a survey, in sentences that say where, what was found, what is allowed and what to do.

use thiserror::Error;

/// A fault in the survey.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum SurveyError {
    /// No wall at all.
    #[error("The survey holds no wall. Enter at least one wall with its outline.")]
    NoWalls,
    /// Two things of one kind bear the same name.
    #[error("{place}: the short name “{slug}” is borne twice. Give every {kind} a name of its own.")]
    Twice {
        /// Where.
        place: String,
        /// "wall" or "opening of a wall".
        kind: &'static str,
        /// The name.
        slug: String,
    },
    /// A number outside its range.
    #[error("{place}: {what} is {found}; it must be {allowed}. Measure it again, and look at the unit.")]
    Range {
        /// Where.
        place: String,
        /// What, in words.
        what: String,
        /// Value found.
        found: f64,
        /// What is allowed, in words.
        allowed: String,
    },
    /// A gable whose apex is not above its eaves.
    #[error(
        "{place}: the apex ({apex_m} m) is not above the eaves ({eaves_m} m). Measure both from the base, or enter the wall as a rectangle."
    )]
    Apex {
        /// Wall.
        place: String,
        /// Apex, m.
        apex_m: f64,
        /// Eaves, m.
        eaves_m: f64,
    },
    /// Too few or too many corners or openings.
    #[error("{place}: {found} {what} were given; {allowed}.")]
    Count {
        /// Where.
        place: String,
        /// What was counted.
        what: &'static str,
        /// How many.
        found: usize,
        /// What is allowed and what to do.
        allowed: String,
    },
    /// A polygon that crosses or touches itself.
    #[error(
        "{place}: the outline crosses or touches itself between its sides {first} and {second}. Give the corners in the order you would walk round them."
    )]
    Crosses {
        /// Wall.
        place: String,
        /// Side, counted from one.
        first: usize,
        /// Side, counted from one.
        second: usize,
    },
    /// An opening that is not within the outline.
    #[error(
        "{place}: the opening reaches outside the wall: it spans {left_m} to {right_m} m along and {foot_m} to {head_m} m up, the wall 0 to {length_m} m and 0 to {top_m} m. Correct its place or size, or the outline."
    )]
    Outside {
        /// Opening.
        place: String,
        /// m.
        left_m: f64,
        /// m.
        right_m: f64,
        /// m.
        foot_m: f64,
        /// m.
        head_m: f64,
        /// m.
        length_m: f64,
        /// m.
        top_m: f64,
    },
    /// Two openings over one another.
    #[error("{place}: the openings “{first}” and “{second}” overlap. Correct where one of them stands, or enter them as one.")]
    Overlap {
        /// Wall.
        place: String,
        /// One opening.
        first: String,
        /// The other.
        second: String,
    },
    /// A place that should hold a number.
    #[error("{place}: found “{found}”; allowed is {allowed}. Correct the reading.")]
    NotANumber {
        /// Where.
        place: String,
        /// What stands there.
        found: String,
        /// What is allowed, in words.
        allowed: String,
    },
    /// A row of offsets of another length than the first.
    #[error("{place}: row {row} of the offsets holds {found} readings, the first row {expected}. Enter the same number in every row.")]
    Ragged {
        /// Wall.
        place: String,
        /// Row, counted from one.
        row: usize,
        /// Readings in it.
        found: usize,
        /// Readings in the first.
        expected: usize,
    },
    /// A cause of damp that names no wall of the survey.
    #[error("The cause of damp “{kind}” names the wall “{wall}”, which the survey does not hold. The walls are: {walls}.")]
    DampWall {
        /// Kind.
        kind: String,
        /// Wall named.
        wall: String,
        /// Walls there are.
        walls: String,
    },
}
