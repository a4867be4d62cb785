//! What the weather costs: the price stands on the middle year; what the years come to beyond it in the mean is a line of its own, so are coats to redo, and
//! a margin is the chosen share of the years less the middle one, never below the mean. It must never hide a sum in a rate.

use reckoning::Money;
use rust_decimal::Decimal;

use super::{Pricing, redo};
use crate::odds::{at_rank, rank};
use crate::{PriceLine, Programme, Risk, RiskShare, YearRun};

/// Shares of the years that are told, in twentieths: 5 in 10, 8 in 10, 19 in 20.
const TOLD: [u32; 3] = [10, 16, 19];

/// Years that are finished.
fn finished(programme: &Programme) -> Vec<&YearRun> {
    programme.runs.iter().filter(|run| run.finished.is_some()).collect()
}

/// The line of what weather costs in the mean beyond the middle year: cost of the lines, without what was redone. `None` without odds, or where it is nothing.
pub(super) fn expected_weather(pricing: &Pricing, programme: &Programme, middle: Decimal) -> Option<PriceLine> {
    let runs = finished(programme);
    programme.odds.as_ref()?;
    let total: Decimal = runs.iter().map(|run| pricing.sum(&pricing.lines(run)).amount).sum();
    let mean = total / Decimal::from(u64::try_from(runs.len()).ok().filter(|&count| count > 0)?);
    let amount = pricing.money(mean - middle).amount;
    let words = format!(
        "Expected weather: the mean of {} finished weather years less the middle one, without coats to redo{}",
        runs.len(),
        if amount < Decimal::ZERO { "; the middle year is dearer than the mean" } else { "" }
    );
    (amount != Decimal::ZERO).then(|| pricing.line("Risk", words, (1.0, "sum", 0), amount, "price.expected-weather".to_owned()))
}

/// The line of the margin beyond what weather and redoing come to in the mean; `None` where none is asked for, or where the mean already covers it.
pub(super) fn margin(pricing: &Pricing, risk: &Risk, mean_cost: Decimal) -> Option<PriceLine> {
    let years = pricing.inputs.rates.terms.margin_years_in_20?;
    let over = Decimal::ONE + pricing.inputs.rates.overhead.value;
    let wanted = pricing.money(risk.with_margin.as_ref()?.amount / over).amount - mean_cost;
    let words = format!("Margin: what {} do not pass, less the mean of the years", super::years_in_words(years));
    (wanted > Decimal::ZERO).then(|| pricing.line("Risk", words, (1.0, "sum", 0), wanted, "price.margin".to_owned()))
}

/// The risk of a programme, all before tax and with overhead; `None` without odds.
pub(super) fn risk(pricing: &Pricing, programme: &Programme, by_year: &[Money], middle_cost: &Money) -> Option<Risk> {
    programme.odds.as_ref()?;
    let runs = finished(programme);
    let count = Decimal::from(u64::try_from(runs.len()).ok().filter(|&count| count > 0)?);
    let of = |cost: Decimal| pricing.with_overhead(&pricing.money(cost));
    let redo_mean = runs.iter().map(|run| redo::cost(pricing, run)).sum::<Decimal>() / count;
    let plain_mean = runs.iter().map(|run| pricing.sum(&pricing.lines(run)).amount).sum::<Decimal>() / count;
    let middle = of(middle_cost.amount);
    let mean = of(plain_mean + redo_mean);
    let mut sorted: Vec<f64> =
        programme.runs.iter().zip(by_year).filter(|(run, _)| run.finished.is_some()).map(|(_, money)| money.to_f64()).collect();
    sorted.sort_by(f64::total_cmp);
    let at = |twentieths: u32| -> Option<Money> {
        let rank = rank(f64::from(twentieths) / 20.0, by_year.len()).filter(|rank| rank.ceil() as usize <= sorted.len())?;
        Some(Money::from_f64(at_rank(&sorted, rank)?, pricing.inputs.rates.currency.clone()))
    };
    let chosen = pricing.inputs.rates.terms.margin_years_in_20;
    // Never below the mean: who takes less loses in the long run.
    let covered = |share: Money| if share.amount < mean.amount { mean.clone() } else { share };
    let with_margin = chosen.and_then(at).map(covered);
    let share = |years_in_20: u32| {
        let price = at(years_in_20);
        let margin = price.clone().map(|price| pricing.money(covered(price).amount - middle.amount));
        RiskShare { years_in_20, price, margin }
    };
    Some(Risk {
        expected_weather: pricing.money(of(plain_mean).amount - middle.amount),
        redo: pricing.money(mean.amount - of(plain_mean).amount),
        margin: with_margin.as_ref().map(|with| pricing.money(with.amount - middle.amount)),
        shares: TOLD.map(share).to_vec(),
        chosen,
        middle,
        mean,
        with_margin,
    })
}
