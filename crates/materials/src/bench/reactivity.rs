//! How fast a quicklime slakes, from the published test: 150 g into 600 g of water of 20 °C in a stirred vacuum flask.

use physics::numbers::ln;
use serde::Serialize;

use super::error::Checks;
use super::{Bath, BenchError, slake};

/// Temperature of the water before, °C: EN 459-2.
const START_C: f64 = 20.0;

/// Reactivity class of EN 459 (limits from memory).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub enum Reactivity {
    /// 60 °C within 10 minutes.
    R5,
    /// 60 °C within 25 minutes.
    R4,
    /// 50 °C within 25 minutes.
    R3,
    /// 40 °C within 25 minutes.
    R2,
    /// Slower than R2.
    R1,
}

impl Reactivity {
    /// The slowest reading that still meets the class: °C and minutes; `None` for R1, which has none.
    pub fn limit(self) -> Option<(f64, f64)> {
        match self {
            Self::R5 => Some((60.0, 10.0)),
            Self::R4 => Some((60.0, 25.0)),
            Self::R3 => Some((50.0, 25.0)),
            Self::R2 => Some((40.0, 25.0)),
            Self::R1 => None,
        }
    }
}

/// The class from readings of the test, (minutes, °C) in order of time.
///
/// # Errors
/// Fewer than two readings or more than 500, minutes that do not rise, temperatures outside 0 to 110 °C.
pub fn reactivity_class(readings: &[(f64, f64)]) -> Result<Reactivity, Vec<BenchError>> {
    let mut checks = Checks::default();
    if !(2..=500).contains(&readings.len()) {
        let remedy = "Read the thermometer every half minute.";
        checks.0.push(BenchError::Count { what: "Readings of the slaking test", found: readings.len(), least: 2, most: 500, remedy });
    }
    for (minutes, reached_c) in readings {
        checks.number("A time of the slaking test", *minutes, 0.0, 1440.0, " minutes");
        checks.number("A temperature of the slaking test", *reached_c, 0.0, 110.0, " °C");
    }
    if readings.windows(2).any(|pair| pair[1].0 <= pair[0].0) {
        checks.contradiction("The times of the slaking test do not rise.", "Order the readings by time.");
    }
    checks.done()?;
    let meets =
        |class: Reactivity| class.limit().is_some_and(|(warm_c, minutes)| reached(readings, warm_c).is_some_and(|at| at <= minutes));
    Ok([Reactivity::R5, Reactivity::R4, Reactivity::R3, Reactivity::R2].into_iter().find(|class| meets(*class)).unwrap_or(Reactivity::R1))
}

/// Minutes to a temperature, straight between readings.
fn reached(readings: &[(f64, f64)], warm_c: f64) -> Option<f64> {
    if readings.first().is_some_and(|first| first.1 >= warm_c) {
        return readings.first().map(|first| first.0);
    }
    readings
        .windows(2)
        .find(|pair| pair[1].1 >= warm_c)
        .map(|pair| pair[0].0 + (warm_c - pair[0].1) / (pair[1].1 - pair[0].1) * (pair[1].0 - pair[0].0))
}

/// Time constant of slaking, s, from one reading of the test: the share slaked is taken as the share of the whole rise, and the rest as shrinking in
/// proportion. Real lumps start slower and then run faster: that is this model's limit.
///
/// # Errors
/// A purity or time outside what can be; a temperature that the test cannot reach with that purity.
pub fn time_constant_s(purity: f64, reached_c: f64, minutes: f64) -> Result<f64, Vec<BenchError>> {
    let end = slake(&Bath { quicklime_kg: 0.150, purity, water_kg: 0.600, sand_kg: 0.0, start_c: START_C })?;
    let mut checks = Checks::default();
    checks.number("The minutes of the slaking test", minutes, 0.1, 1440.0, "");
    checks.number("The temperature reached in the slaking test", reached_c, START_C + 1.0, end.hottest_c - 0.5, " °C for this purity");
    checks.done()?;
    let share = (reached_c - START_C) / (end.hottest_c - START_C);
    Ok(-60.0 * minutes / ln(1.0 - share))
}
