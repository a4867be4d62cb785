//! What spoilt coats cost: the coats a year loses are paid as lost, and the price carries their mean over the years as a line of its own, because no year
//! in the middle has one while some year always does. And the visits that mending takes.

use rust_decimal::Decimal;

use super::{Pricing, decimal};
use crate::reasons::count;
use crate::{Loss, PriceLine, Programme, YearRun};

/// The line of what a run itself lost; none where nothing was.
pub(super) fn of_run(pricing: &Pricing, run: &YearRun) -> Option<PriceLine> {
    line(pricing, "Coats spoilt, taken off and laid again in this year".to_owned(), cost(pricing, run))
}

/// The line of what the years lose in the mean, in the price that is given; none where no year loses a coat.
pub(super) fn expected(pricing: &Pricing, programme: &Programme) -> Option<PriceLine> {
    let runs: Vec<&YearRun> = programme.runs.iter().filter(|run| run.finished.is_some()).collect();
    let years = u32::try_from(runs.len()).unwrap_or(u32::MAX);
    let total: Decimal = runs.iter().map(|run| cost(pricing, run)).sum();
    let mean = if years > 0 { total / Decimal::from(years) } else { Decimal::ZERO };
    let lost = u32::try_from(runs.iter().map(|run| run.losses.len()).sum::<usize>()).unwrap_or(u32::MAX);
    let words = format!(
        "Coats to redo: {} spoilt in {} of weather, their mean for one year: laying lost, taking off, mortar again",
        count(lost, "coat"),
        count(years, "year")
    );
    line(pricing, words, mean)
}

fn line(pricing: &Pricing, words: String, amount: Decimal) -> Option<PriceLine> {
    (amount > Decimal::ZERO).then(|| pricing.line("Risk", words, (1.0, "sum", 0), amount, "price.redo".to_owned()))
}

/// Laying lost, taking off and mortar again of every coat a run lost.
pub(super) fn cost(pricing: &Pricing, run: &YearRun) -> Decimal {
    run.losses.iter().map(|loss| labour(pricing, loss) + mortar(pricing, loss)).sum()
}

fn labour(pricing: &Pricing, loss: &Loss) -> Decimal {
    let gang = pricing.inputs.gangs.iter().find(|gang| gang.name == loss.gang);
    gang.map_or(Decimal::ZERO, |gang| decimal(loss.gang_days, 1) * pricing.gang_day(gang))
}

/// The coat's share, by mortar mixed, of all lime and sand bought.
fn mortar(pricing: &Pricing, loss: &Loss) -> Decimal {
    let mixed = |chosen: &dyn Fn(&str, &str) -> bool| {
        let walls = pricing.quantities.walls.iter();
        let coats = walls.flat_map(|wall| wall.coats.iter().map(move |coat| (wall, coat)));
        coats.filter(|(wall, coat)| chosen(&wall.slug, &coat.slug)).map(|(_, coat)| coat.mixed_m3).sum::<f64>()
    };
    let (lost, all) = (mixed(&|wall, coat| wall == loss.wall && coat == loss.coat), mixed(&|_, _| true));
    let catalogue = &pricing.inputs.catalogue;
    let bought = pricing
        .quantities
        .materials
        .iter()
        .filter(|material| catalogue.limes.contains_key(&material.slug) || catalogue.sands.contains_key(&material.slug));
    let money: Decimal =
        bought.filter_map(|material| pricing.rate_of(material)).map(|(quantity, _, places, rate)| decimal(quantity, places) * rate).sum();
    if all > 0.0 { money * decimal(lost / all, 6) } else { Decimal::ZERO }
}

/// The line of mending on days without a gang: half a day of one mason each; none where nothing was mended.
pub(super) fn mending(pricing: &Pricing, run: &YearRun) -> Option<PriceLine> {
    let words = "Mending on days without a gang: wetting down, pressing back, patching (half a day of one mason)".to_owned();
    let half_day = pricing.inputs.rates.mason_h.value * decimal(pricing.time.hours / 2.0, 2);
    let visits = (f64::from(run.mending_visits), "visits", 0);
    (run.mending_visits > 0).then(|| pricing.line("Attendance", words, visits, half_day, "price.mending".to_owned()))
}
