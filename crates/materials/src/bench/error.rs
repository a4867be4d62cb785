//! What can be wrong with what was measured, in sentences that say what was found, what is allowed and what to do.

use thiserror::Error;

use crate::MaterialsError;

/// A fault in a measurement or in what is asked of the bench.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum BenchError {
    /// A value outside what can be.
    #[error("{what} is {found}; it must lie between {least} and {most}{unit}. Correct it, or measure again.")]
    Value {
        /// What was measured, beginning with a capital.
        what: String,
        /// Value found.
        found: f64,
        /// Least allowed.
        least: f64,
        /// Most allowed.
        most: f64,
        /// Unit with a leading blank, or nothing.
        unit: &'static str,
    },
    /// The masses on the sieves are not the mass that went in.
    #[error(
        "The sieves, the pan and what was washed out hold {found_g:.1} g, but {started_g:.1} g went in: {off:.1} % apart, where EN 933-1 allows 1 %. Brush out the meshes, weigh again, and sieve afresh if it stays."
    )]
    SievesDoNotAddUp {
        /// Sum of what was found, g.
        found_g: f64,
        /// What went in, g.
        started_g: f64,
        /// Difference, per cent of what went in.
        off: f64,
    },
    /// A sieve stands twice.
    #[error("The sieve of {opening_mm} mm stands twice. Give each sieve once.")]
    SieveTwice {
        /// Opening, mm.
        opening_mm: f64,
    },
    /// A finer sieve lets more through than a coarser one.
    #[error(
        "The sieve of {finer_mm} mm lets {finer_percent} % through, more than the {coarser_mm} mm sieve above it ({coarser_percent} %). What passes can only fall towards finer sieves: look for two figures exchanged."
    )]
    PassingRises {
        /// Opening of the finer sieve, mm.
        finer_mm: f64,
        /// What it passes, per cent.
        finer_percent: f64,
        /// Opening of the coarser sieve, mm.
        coarser_mm: f64,
        /// What it passes, per cent.
        coarser_percent: f64,
    },
    /// Too few of something.
    #[error("{what}: {found} given; {least} to {most} are allowed. {remedy}")]
    Count {
        /// What was counted.
        what: &'static str,
        /// How many.
        found: usize,
        /// Least allowed.
        least: usize,
        /// Most allowed.
        most: usize,
        /// What to do.
        remedy: &'static str,
    },
    /// Two measurements that cannot both be true.
    #[error("{found} {remedy}")]
    Contradiction {
        /// What was found, a sentence.
        found: String,
        /// What to do, a sentence.
        remedy: String,
    },
    /// No blend of these sands keeps the limits.
    #[error("No blend of these sands keeps every limit. {nearest} Widen that limit, or bring a sand that fills the lack.")]
    BlendImpossible {
        /// What the nearest blend is and where it fails, sentences.
        nearest: String,
    },
    /// The solver gave up.
    #[error("The blend could not be worked out ({status}). Leave out sands that are almost the same, or one of the limits.")]
    Solver {
        /// What the solver said.
        status: String,
    },
    /// The mix itself is at fault.
    #[error(transparent)]
    Mix(#[from] MaterialsError),
}

/// Gathers every fault before anything is reckoned.
#[derive(Debug, Default)]
pub(super) struct Checks(pub(super) Vec<BenchError>);

impl Checks {
    /// Notes a value that is not a number between two bounds.
    pub(super) fn number(&mut self, what: impl Into<String>, found: f64, least: f64, most: f64, unit: &'static str) {
        if !(found >= least && found <= most) {
            self.0.push(BenchError::Value { what: what.into(), found, least, most, unit });
        }
    }

    /// Notes two measurements that cannot both be true.
    pub(super) fn contradiction(&mut self, found: impl Into<String>, remedy: impl Into<String>) {
        self.0.push(BenchError::Contradiction { found: found.into(), remedy: remedy.into() });
    }

    /// The faults, if any.
    pub(super) fn done(self) -> Result<(), Vec<BenchError>> {
        if self.0.is_empty() { Ok(()) } else { Err(self.0) }
    }
}
