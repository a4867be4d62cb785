//! plan/1: the order and the price. Money is text, exact.

use reckoning::Money as Sum;
use serde::Serialize;
use works::Plan;

#[derive(Serialize)]
pub(super) struct Money<'p> {
    amount: String,
    currency: &'p str,
}

impl<'p> Money<'p> {
    pub(super) fn of(sum: &'p Sum) -> Self {
        Self { amount: sum.amount.to_string(), currency: &sum.currency.code }
    }
}

#[derive(Serialize)]
pub(super) struct Order<'p> {
    lines: Vec<OrderLine<'p>>,
    lay_down: Vec<LayDown<'p>>,
}

#[derive(Serialize)]
struct OrderLine<'p> {
    on_site_by: String,
    slug: &'p str,
    name: &'p str,
    units: u32,
    unit_name: &'p str,
    need: &'p str,
    first_used_for: &'p str,
    remark: &'p str,
}

#[derive(Serialize)]
struct LayDown<'p> {
    what: &'p str,
    by: String,
    why: &'p str,
}

impl<'p> Order<'p> {
    pub(super) fn of(plan: &'p Plan) -> Self {
        let lines = plan.order.lines.iter().map(|line| OrderLine {
            on_site_by: line.on_site_by.to_string(),
            slug: &line.slug,
            name: &line.name,
            units: line.units,
            unit_name: &line.unit_name,
            need: &line.need,
            first_used_for: &line.first_used_for,
            remark: &line.remark,
        });
        let lay_down = plan.order.lay_down.iter().map(|lay| LayDown { what: &lay.what, by: lay.by.to_string(), why: &lay.why });
        Self { lines: lines.collect(), lay_down: lay_down.collect() }
    }
}

#[derive(Serialize)]
pub(super) struct Price<'p> {
    walls: Vec<WallPrice<'p>>,
    lines: Vec<PriceLine<'p>>,
    cost: Money<'p>,
    overhead: Money<'p>,
    before_tax: Money<'p>,
    tax_rate: String,
    tax: Money<'p>,
    total: Money<'p>,
    /// Why the figures are no price that can be given; null when they are one.
    not_given: Option<&'p str>,
    /// Before tax with every provisional sum at its low and its high end.
    range: Option<[Money<'p>; 2]>,
    per_m2: Money<'p>,
    /// Before tax, in the order of the programme's runs.
    by_year: Vec<Money<'p>>,
    eight_in_ten: Option<Money<'p>>,
    exclusions: &'p [String],
    valid_days: u32,
}

#[derive(Serialize)]
struct WallPrice<'p> {
    slug: &'p str,
    words: &'p str,
    amount: Money<'p>,
}

#[derive(Serialize)]
struct PriceLine<'p> {
    heading: &'p str,
    words: &'p str,
    quantity: f64,
    unit: &'p str,
    rate: Money<'p>,
    amount: Money<'p>,
    path: &'p str,
}

impl<'p> Price<'p> {
    pub(super) fn of(plan: &'p Plan) -> Self {
        let price = &plan.price;
        let walls = price.walls.iter().map(|wall| WallPrice { slug: &wall.slug, words: &wall.words, amount: Money::of(&wall.amount) });
        Self {
            walls: walls.collect(),
            lines: price.lines.iter().map(PriceLine::of).collect(),
            cost: Money::of(&price.cost),
            overhead: Money::of(&price.overhead),
            before_tax: Money::of(&price.before_tax),
            tax_rate: price.tax_rate.to_string(),
            tax: Money::of(&price.tax),
            total: Money::of(&price.total),
            not_given: price.not_given.as_deref(),
            range: price.range.as_ref().map(|(low, high)| [Money::of(low), Money::of(high)]),
            per_m2: Money::of(&price.per_m2),
            by_year: price.by_year.iter().map(Money::of).collect(),
            eight_in_ten: price.eight_in_ten.as_ref().map(Money::of),
            exclusions: &price.exclusions,
            valid_days: price.valid_days,
        }
    }
}

impl<'p> PriceLine<'p> {
    fn of(line: &'p works::PriceLine) -> Self {
        Self {
            heading: &line.heading,
            words: &line.words,
            quantity: line.quantity,
            unit: &line.unit,
            rate: Money::of(&line.rate),
            amount: Money::of(&line.amount),
            path: &line.path,
        }
    }
}
