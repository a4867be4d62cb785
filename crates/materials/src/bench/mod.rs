//! The materials bench: what sieves, a jug, a scale and a laboratory slip say of sand, lime, slaking and old mortar. It holds no procedure for
//! slaking: nothing here puts water on quicklime. It must never know a wall, a date or a price.

mod arrival;
mod batch;
mod blend;
mod coat;
mod error;
mod field_tests;
mod grading;
mod lime;
mod old_mortar;
mod pace;
mod reactivity;
mod repair;
mod slaking;

pub use arrival::{Arrival, arrival_of_lime, arrival_of_sand};
pub use batch::{BatchAsked, BatchCard, batch_card};
pub use blend::{Blend, BlendSand, TargetPoint, blend};
pub use coat::{Coat, Laying, envelope, judge_grading};
pub use error::BenchError;
pub use field_tests::{
    Bulking, Fineness, Silt, Voids, bulking_by_moisture, bulking_jar, damp_parts, judge_organic, judge_origin, silt_jar, true_parts,
    void_test,
};
pub use grading::{FinenessModulus, Grading, SieveRow, SievedMass};
pub use lime::{Equivalent, LimeForm, LimeMeasured, equivalent_parts};
pub use old_mortar::{Dissolved, Gas, Hydraulic, Interval, OldMortar, Ratios, Thermogravimetry, Uncertain, dissolved, thermogravimetry};
pub use pace::{PaceAsked, PaceRow, Paced, pace};
pub use reactivity::{Reactivity, reactivity_class, time_constant_s};
pub use repair::{Repair, repair_mix};
pub use slaking::{ACID_CAUTIONS, Bath, Regime, SLAKING_CAUTIONS, Slaked, boil_limits, maturing_days, slake};

use reckoning::{Finding, Grade};

/// A rule of the trade that no standard states.
pub(crate) const PRACTICE: &str = "common practice, no source";

/// A finding of the bench.
pub(crate) fn finding(grade: Grade, rule: &str, says: impl Into<String>, reason: &str, source: &str, remedy: impl Into<String>) -> Finding {
    Finding {
        grade,
        rule: rule.to_owned(),
        place: "bench".to_owned(),
        says: says.into(),
        reason: reason.to_owned(),
        source: source.to_owned(),
        remedy: remedy.into(),
    }
}
