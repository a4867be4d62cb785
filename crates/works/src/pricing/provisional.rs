//! Provisional sums: what an old covering and what it hides may cost. They stand in the price as lines of their own, each with its range in words, until
//! the wall is open.

use reckoning::{Known, Money};
use rust_decimal::Decimal;
use survey::{OldCovering, Stage};

use super::{Pricing, decimal};
use crate::PriceLine;
use crate::sheet::measured;
use crate::stripping;

/// Face and reveals of each wall with what covers it.
fn faces<'p>(pricing: &'p Pricing) -> impl Iterator<Item = (OldCovering, f64)> + 'p {
    pricing.survey.building.walls.iter().filter_map(|found| {
        let size = measured(pricing.survey, &found.slug).ok()?;
        Some((found.old_covering.value, size.net_m2 + size.reveal_m2))
    })
}

/// Middle, low and high added up over the walls.
fn summed(each: impl Iterator<Item = [f64; 3]>) -> [f64; 3] {
    each.fold([0.0; 3], |sum, one| [sum[0] + one[0], sum[1] + one[1], sum[2] + one[2]])
}

fn waste_m3(pricing: &Pricing) -> [f64; 3] {
    summed(faces(pricing).map(|(covering, face_m2)| stripping::waste_m3(covering, face_m2)))
}

fn taking_off_days(pricing: &Pricing) -> [f64; 3] {
    summed(faces(pricing).map(|(covering, face_m2)| stripping::gang_days(&pricing.inputs.rates.outputs, covering, face_m2)))
}

/// Area that may have to be made good: all of it before stripping, otherwise what is still covered.
fn hidden_m2(pricing: &Pricing) -> f64 {
    let before = pricing.survey.building.stage == Stage::BeforeStripping;
    faces(pricing).filter(|(covering, _)| before || *covering != OldCovering::Bare).map(|(_, face_m2)| face_m2).sum()
}

fn ends(known: &Known<Decimal>) -> (Decimal, Decimal) {
    known.range.unwrap_or((known.value, known.value))
}

/// The lines of the provisional sums; none where every wall is open and bare.
pub(super) fn lines(pricing: &Pricing) -> Vec<PriceLine> {
    let rates = &pricing.inputs.rates;
    let mut lines = Vec::new();
    let [waste, least, most] = waste_m3(pricing);
    if waste > 0.0 {
        let words = format!(
            "Provisional sum: waste of the old covering carted away, {least:.1} to {most:.1} m³ as it lies loose; lead, asbestos and salts are dearer"
        );
        lines.push(pricing.line("Provisional", words, (waste, "m³", 1), rates.waste_m3.value, "price.provisional.waste".to_owned()));
    }
    let hidden = hidden_m2(pricing);
    if hidden > 0.0 {
        let (low, high) = ends(&rates.making_good_m2);
        let (low, high) = (pricing.money(low), pricing.money(high));
        let words = format!("Provisional sum: pinning and making good what taking off brings to light, {low} to {high} a square metre");
        let path = "price.provisional.making-good".to_owned();
        lines.push(pricing.line("Provisional", words, (hidden, "m²", 0), rates.making_good_m2.value, path));
    }
    lines
}

/// What of the preparation is taking off, in words; empty where every wall is bare.
pub(super) fn taking_off_words(pricing: &Pricing) -> String {
    let [days, least, most] = taking_off_days(pricing);
    if days > 0.0 {
        format!(", and taking off the old covering, about {days:.1} days of a gang of three (provisional: {least:.1} to {most:.1})")
    } else {
        String::new()
    }
}

/// The price before tax with every provisional sum at its low and at its high end; `None` where there is none. Taking off is paid at the first gang's day.
pub(super) fn range(pricing: &Pricing, cost: &Money) -> Option<(Money, Money)> {
    let hidden = decimal(hidden_m2(pricing), 0);
    if hidden <= Decimal::ZERO {
        return None;
    }
    let rates = &pricing.inputs.rates;
    let day = pricing.inputs.gangs.first().map_or(Decimal::ZERO, |gang| pricing.gang_day(gang));
    let (days, waste) = (taking_off_days(pricing), waste_m3(pricing));
    let sum = |end: usize, cart: Decimal, good: Decimal| decimal(days[end], 1) * day + decimal(waste[end], 1) * cart + hidden * good;
    let middle = sum(0, rates.waste_m3.value, rates.making_good_m2.value);
    let (cart, good) = (ends(&rates.waste_m3), ends(&rates.making_good_m2));
    let before_tax = |provisional: Decimal| pricing.money((cost.amount - middle + provisional) * (Decimal::ONE + rates.overhead.value));
    Some((before_tax(sum(1, cart.0, good.0)), before_tax(sum(2, cart.1, good.1))))
}
