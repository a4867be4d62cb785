//! What goes wrong when a value does not exist: one enum for the crate.

use thiserror::Error;

/// A value that cannot be computed from the numbers given.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum PhysicsError {
    /// An input lies where the law has no value.
    #[error("{quantity} is {found}, where {law} has no value; it must be {allowed}.")]
    OutOfRange {
        /// The law asked for.
        law: &'static str,
        /// The input, with its unit.
        quantity: &'static str,
        /// What was given.
        found: f64,
        /// What is allowed.
        allowed: &'static str,
    },
    /// A search for a root ended without one.
    #[error("{law} found no answer between {low} and {high} {unit}; check the inputs for values that cannot occur together.")]
    NoRoot {
        /// The law asked for.
        law: &'static str,
        /// Lower end of the search.
        low: f64,
        /// Upper end of the search.
        high: f64,
        /// Unit of the unknown.
        unit: &'static str,
    },
    /// Two lists that belong together differ in length, or a list is too short.
    #[error("{law} was given {found} {items}; it needs {needed}.")]
    Count {
        /// The law asked for.
        law: &'static str,
        /// What was counted.
        items: &'static str,
        /// How many were given.
        found: usize,
        /// What is needed.
        needed: &'static str,
    },
}

/// Passes a finite number above zero through; anything else is refused by name.
pub(crate) fn positive(law: &'static str, quantity: &'static str, found: f64) -> Result<f64, PhysicsError> {
    if found > 0.0 && found.is_finite() {
        Ok(found)
    } else {
        Err(PhysicsError::OutOfRange { law, quantity, found, allowed: "a finite number above zero" })
    }
}

/// Passes a finite number of zero or more through; anything else is refused by name.
pub(crate) fn not_negative(law: &'static str, quantity: &'static str, found: f64) -> Result<f64, PhysicsError> {
    if found >= 0.0 && found.is_finite() {
        Ok(found)
    } else {
        Err(PhysicsError::OutOfRange { law, quantity, found, allowed: "a finite number of zero or more" })
    }
}
