//! What covers cost that a policy tends: hands, roof and sheets on the scaffold, heat. It must never price a cover that the specification's rule hangs: that
//! one stands in the gang's work.

use rust_decimal::Decimal;

use super::Pricing;
use crate::{PriceLine, YearRun};

/// Roof and sheets over what the scaffold costs to put up and to hire, in hundredths (guess: half as much again).
const SHELTER_PERCENT: i64 = 50;
/// Labourer's hours that a day of heating 100 m² takes, for fuel and for somebody who watches it (guess).
const HEATING_H_PER_100_M2: f64 = 2.0;

/// The lines of a run; none where no policy tends coats.
pub(super) fn lines(pricing: &Pricing, run: &YearRun) -> Vec<PriceLine> {
    let (rates, scaffold, work) = (&pricing.inputs.rates, &pricing.inputs.scaffold, &run.covers);
    let half = Decimal::new(SHELTER_PERCENT, 2);
    let mut lines = Vec::new();
    let mut add = |heading: &str, words: &str, quantity: (f64, &str, u32), rate: Decimal, path: &str| {
        if quantity.0 > 0.0 {
            lines.push(pricing.line(heading, words.to_owned(), quantity, rate, format!("price.covers.{path}")));
        }
    };
    let hands = "Hanging, wetting and misting by the policy that tends the coats";
    add("Attendance", hands, (work.hours, "hours", 1), rates.labourer_h.value, "hands");
    let up = "Roof and sheets on the scaffold, up and down: half of the scaffold's, a guess";
    add("Scaffold", up, (work.sheltered_m2, "m²", 0), scaffold.up_and_down_m2.value * half, "shelter-up-and-down");
    let hire = "Roof and sheets, hire: half of the scaffold's, a guess";
    add("Scaffold", hire, (work.shelter_m2_weeks, "m²-weeks", 0), scaffold.hire_m2_week.value * half, "shelter-hire");
    let heat = "Heat and somebody to watch it: two hours a day for 100 m², a guess";
    let heating_h = work.heated_m2_days / 100.0 * HEATING_H_PER_100_M2;
    add("Attendance", heat, (heating_h, "hours", 1), rates.labourer_h.value, "heat");
    lines
}
