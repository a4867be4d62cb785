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
    /// The lines added up by their heading.
    headings: Vec<Heading<'p>>,
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
    risk: Option<Risk<'p>>,
    quotation: Quotation<'p>,
    exclusions: &'p [String],
    valid_days: u32,
}

/// What the weather costs, before tax.
#[derive(Serialize)]
struct Risk<'p> {
    middle: Money<'p>,
    expected_weather: Money<'p>,
    redo: Money<'p>,
    mean: Money<'p>,
    /// What so many years in 20 do not pass; null where there are too few years.
    shares: Vec<Share<'p>>,
    chosen_years_in_20: Option<u32>,
    margin: Option<Money<'p>>,
    with_margin: Option<Money<'p>>,
}

#[derive(Serialize)]
struct Share<'p> {
    years_in_20: u32,
    price: Option<Money<'p>>,
    /// The same, never below the mean, less the middle year.
    margin: Option<Money<'p>>,
}

impl<'p> Risk<'p> {
    fn of(risk: &'p works::Risk) -> Self {
        let share = |share: &'p works::RiskShare| Share {
            years_in_20: share.years_in_20,
            price: share.price.as_ref().map(Money::of),
            margin: share.margin.as_ref().map(Money::of),
        };
        Self {
            middle: Money::of(&risk.middle),
            expected_weather: Money::of(&risk.expected_weather),
            redo: Money::of(&risk.redo),
            mean: Money::of(&risk.mean),
            shares: risk.shares.iter().map(share).collect(),
            chosen_years_in_20: risk.chosen,
            margin: risk.margin.as_ref().map(Money::of),
            with_margin: risk.with_margin.as_ref().map(Money::of),
        }
    }
}

/// The price by measure and its terms.
#[derive(Serialize)]
struct Quotation<'p> {
    by_measure: Vec<MeasureLine<'p>>,
    without_scaffold_m2: Money<'p>,
    last_job_m2: Option<Money<'p>>,
    least_charge: Option<Money<'p>>,
    daywork_an_hour: Vec<Daywork<'p>>,
    stages: Vec<Stage<'p>>,
    retention: Option<Retention<'p>>,
    interest: Option<String>,
    worth_at_start: Option<Money<'p>>,
}

#[derive(Serialize)]
struct MeasureLine<'p> {
    words: &'p str,
    quantity: f64,
    unit: &'p str,
    rate: Option<Money<'p>>,
    amount: Option<Money<'p>>,
}

#[derive(Serialize)]
struct Daywork<'p> {
    words: &'p str,
    rate: Money<'p>,
}

#[derive(Serialize)]
struct Stage<'p> {
    words: &'p str,
    on: Option<String>,
    gross: Money<'p>,
    due: Money<'p>,
}

#[derive(Serialize)]
struct Retention<'p> {
    amount: Money<'p>,
    due: Option<String>,
}

impl<'p> Quotation<'p> {
    fn of(quotation: &'p works::Quotation) -> Self {
        let measure = |line: &'p works::MeasureLine| MeasureLine {
            words: &line.words,
            quantity: line.quantity,
            unit: &line.unit,
            rate: line.rate.as_ref().map(Money::of),
            amount: line.amount.as_ref().map(Money::of),
        };
        let stage = |stage: &'p works::StagePayment| Stage {
            words: &stage.words,
            on: stage.on.map(|day| day.to_string()),
            gross: Money::of(&stage.gross),
            due: Money::of(&stage.due),
        };
        let retained = |(amount, due): &'p (Sum, Option<jiff::civil::Date>)| Retention {
            amount: Money::of(amount),
            due: due.map(|day| day.to_string()),
        };
        Self {
            by_measure: quotation.by_measure.iter().map(measure).collect(),
            without_scaffold_m2: Money::of(&quotation.without_scaffold_m2),
            last_job_m2: quotation.last_job_m2.as_ref().map(Money::of),
            least_charge: quotation.least_charge.as_ref().map(Money::of),
            daywork_an_hour: quotation.daywork.iter().map(|(words, rate)| Daywork { words, rate: Money::of(rate) }).collect(),
            stages: quotation.stages.iter().map(stage).collect(),
            retention: quotation.retention.as_ref().map(retained),
            interest: quotation.interest.map(|share| share.to_string()),
            worth_at_start: quotation.worth_at_start.as_ref().map(Money::of),
        }
    }
}

#[derive(Serialize)]
struct WallPrice<'p> {
    slug: &'p str,
    words: &'p str,
    amount: Money<'p>,
}

#[derive(Serialize)]
struct Heading<'p> {
    heading: &'p str,
    /// As text, exact; the currency is that of the price.
    amount: String,
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
            headings: price.by_heading().into_iter().map(|(heading, sum)| Heading { heading, amount: sum.amount.to_string() }).collect(),
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
            risk: price.risk.as_ref().map(Risk::of),
            quotation: Quotation::of(&price.quotation),
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
