//! What if: the job beside itself with something changed, both lived through in the same weather years, so that the difference of every year is due to the
//! change alone. It must never compare years that differ.

use jiff::civil::Date;
use reckoning::Money;
use rust_decimal::Decimal;
use serde::Serialize;
use weather::Weather;

use crate::calendar::{days_between, said};
use crate::climates::climates;
use crate::odds::{at_rank, rank};
use crate::pricing::Pricing;
use crate::reasons::count;
use crate::road::Stages;
use crate::season::programme_under;
use crate::{Inputs, Odds, Watch, WorksError, YearRun};

/// The job as it stands and as changed.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Comparison {
    /// The job as it stands.
    pub base: Side,
    /// Each change, in the order given.
    pub options: Vec<OptionCompared>,
}

/// One way of doing the job.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Side {
    /// First day on the wall.
    pub start: Date,
    /// Odds of the finish; `None` where the weather gives none or too few years are finished.
    pub odds: Option<Odds>,
    /// Why there are no odds.
    pub no_odds: Option<String>,
    /// Years finished, of so many.
    pub finished: (u32, u32),
    /// Finish and price before tax of every weather year, in their order; without weather one run by rule of thumb.
    pub years: Vec<(Option<Date>, Money)>,
    /// Price before tax that about 8 years in 10 do not pass.
    pub cost_eight_in_ten: Option<Money>,
    /// Coats redone in all years together.
    pub redone: u32,
}

/// A change beside the job as it stands.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct OptionCompared {
    /// What is changed, as it was asked.
    pub name: String,
    /// The changed job; or why it cannot be planned, in a sentence.
    pub side: Result<Side, String>,
    /// Differences, changed less as it stands, of the years that both finish.
    pub paired: Option<Paired>,
    /// The answer in a sentence.
    pub says: String,
}

/// Differences year by year.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Paired {
    /// Years that both finish.
    pub years: u32,
    /// Days from the start to the finish.
    pub days: Differences<f64>,
    /// Days by which the finish falls later.
    pub finish: Differences<f64>,
    /// Price before tax.
    pub money: Differences<Money>,
    /// Years in which the change finishes sooner, on the same day, later.
    pub sooner_same_later: (u32, u32, u32),
    /// Years in which it is cheaper, the same to a ten of money, dearer.
    pub cheaper_same_dearer: (u32, u32, u32),
}

/// A paired spread: mean, middle, and what one year in ten lies under and over, where there are years enough.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Differences<T> {
    /// Mean.
    pub mean: T,
    /// Middle.
    pub middle: T,
    /// One year in ten lies under it and one over it.
    pub tenths: Option<(T, T)>,
}

/// Compares a job with itself changed; each change with its name. The weather years are the same for all.
///
/// # Errors
/// What leaves the job as it stands without a programme; a call to stop. A change that cannot be planned is told in its place.
pub fn compare(
    base: &Inputs,
    changes: &[(String, Inputs)],
    weather: Option<&Weather>,
    watch: &dyn Watch,
) -> Result<Comparison, WorksError> {
    let stands = side(base, weather, watch)?;
    let mut options = Vec::new();
    for (number, (name, inputs)) in changes.iter().enumerate() {
        let side = match side(inputs, weather, watch) {
            Err(WorksError::Cancelled) => return Err(WorksError::Cancelled),
            other => other.map_err(|error| error.to_string()),
        };
        let paired = side.as_ref().ok().and_then(|side| paired(&stands, side));
        let says = says(name, &stands, &side, paired.as_ref());
        options.push(OptionCompared { name: name.clone(), side, paired, says });
        watch.progress("changes", number + 1, changes.len());
    }
    Ok(Comparison { base: stands, options })
}

fn side(inputs: &Inputs, weather: Option<&Weather>, watch: &dyn Watch) -> Result<Side, WorksError> {
    let stages = Stages::of(inputs)?;
    let Stages { survey, specification, quantities, sheet } = &stages;
    let faces = match weather {
        Some(weather) => climates(sheet, survey, weather)?,
        None => Vec::new(),
    };
    let programme = programme_under(sheet, survey, specification, inputs, weather, &faces, watch)?;
    let pricing = Pricing::new(survey, specification, quantities, inputs)?;
    let years: Vec<(Option<Date>, Money)> = programme.runs.iter().map(|run| (run.finished, pricing.before_tax(run))).collect();
    let finished = years.iter().filter(|(finished, _)| finished.is_some()).count();
    Ok(Side {
        start: inputs.window.start,
        cost_eight_in_ten: programme.odds.as_ref().and_then(|_| eight_in_ten(&years)),
        no_odds: programme.no_odds,
        odds: programme.odds,
        finished: (finished as u32, years.len() as u32),
        redone: programme.runs.iter().map(|run: &YearRun| run.losses.len() as u32).sum(),
        years,
    })
}

fn eight_in_ten(years: &[(Option<Date>, Money)]) -> Option<Money> {
    let mut money: Vec<f64> = years.iter().filter(|(finished, _)| finished.is_some()).map(|(_, money)| money.to_f64()).collect();
    money.sort_by(f64::total_cmp);
    let rank = rank(0.8, years.len()).filter(|rank| rank.ceil() as usize <= money.len())?;
    Some(Money::from_f64(at_rank(&money, rank)?, years.first()?.1.currency.clone()))
}

/// Year by year, the changed job less the one that stands.
fn paired(base: &Side, changed: &Side) -> Option<Paired> {
    let mut days = Vec::new();
    let mut finish = Vec::new();
    let mut money: Vec<Decimal> = Vec::new();
    for ((one, cost), (other, changed_cost)) in base.years.iter().zip(&changed.years) {
        let (Some(one), Some(other)) = (one, other) else { continue };
        finish.push(days_between(*one, *other) as f64);
        days.push((days_between(changed.start, *other) - days_between(base.start, *one)) as f64);
        money.push(changed_cost.amount - cost.amount);
    }
    let currency = base.years.first()?.1.currency.clone();
    let counted = |values: &[f64], within: f64| {
        let under = values.iter().filter(|&&value| value < -within).count() as u32;
        let over = values.iter().filter(|&&value| value > within).count() as u32;
        (under, values.len() as u32 - under - over, over)
    };
    let pounds: Vec<f64> = money.iter().map(|amount| Money::new(*amount, currency.clone()).to_f64()).collect();
    let spread = spread(&pounds)?;
    let exact = |amount: f64| Money::from_f64(amount, currency.clone());
    let mean = money.iter().sum::<Decimal>() / Decimal::from(money.len() as u64);
    Some(Paired {
        years: finish.len() as u32,
        days: self::spread(&days)?,
        sooner_same_later: counted(&finish, 0.5),
        finish: self::spread(&finish)?,
        cheaper_same_dearer: counted(&pounds, 5.0),
        money: Differences {
            mean: Money::new(mean, currency.clone()).to_cents(),
            middle: exact(spread.middle),
            tenths: spread.tenths.map(|(low, high)| (exact(low), exact(high))),
        },
    })
}

fn spread(values: &[f64]) -> Option<Differences<f64>> {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let at = |share: f64| rank(share, sorted.len()).and_then(|rank| at_rank(&sorted, rank));
    let middle = at(0.5)?;
    Some(Differences { mean: values.iter().sum::<f64>() / values.len() as f64, middle, tenths: at(0.1).zip(at(0.9)) })
}

fn says(name: &str, base: &Side, side: &Result<Side, String>, paired: Option<&Paired>) -> String {
    let changed = match side {
        Err(why) => return format!("With {name} it cannot be planned: {why}"),
        Ok(changed) => changed,
    };
    let Some(paired) = paired else {
        return format!("With {name} no year is finished that is finished without.");
    };
    let days = |days: f64, less: &str, more: &str| match days.round() as i64 {
        0 => format!("no day {more}"),
        days if days < 0 => format!("{} {less}", count(days.unsigned_abs() as u32, "day")),
        days => format!("{} {more}", count(days as u32, "day")),
    };
    let money = |money: &Money| {
        let tens = Money::new(money.amount.abs(), money.currency.clone()).to_tens();
        let what = if money.amount.is_sign_negative() { "less" } else { "more" };
        if tens.amount.is_zero() { "nothing more".to_owned() } else { format!("{tens} {what}") }
    };
    let (sooner, _, later) = paired.sooner_same_later;
    let tenths =
        paired.money.tenths.as_ref().map_or(String::new(), |(low, high)| format!(" (in 8 years of 10 {} to {})", money(low), money(high)));
    let by = |side: &Side| side.odds.as_ref().map(|odds| said(odds.eight_in_ten));
    let odds = match (by(base), by(changed)) {
        (Some(one), Some(other)) if one != other => format!(" 8 years in 10 it is finished by {other} instead of {one}."),
        (Some(one), Some(_)) => format!(" 8 years in 10 it is finished by {one} either way."),
        (Some(_), None) => {
            format!(" It is finished in {} of {} years only, so no date holds 8 years in 10.", changed.finished.0, changed.finished.1)
        }
        (None, Some(other)) => format!(" 8 years in 10 it is then finished by {other}."),
        (None, None) => String::new(),
    };
    format!(
        "With {name} the job takes {} in the mean of {} and costs {}{tenths}; it ends sooner in {sooner} and later in {later} of them.{odds}",
        days(paired.days.mean, "less", "more"),
        count(paired.years, "year"),
        money(&paired.money.mean),
    )
}
