//! The price: lines that can be read, risk from simulated weather, tax last.

use jiff::civil::Date;
use reckoning::{Money, Reckonings};
use rust_decimal::Decimal;
use serde::Serialize;
use survey::Slug;

/// The price of the job in the middle year, with its spread.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Price {
    /// Wall by wall in words.
    pub walls: Vec<WallPrice>,
    /// Lines.
    pub lines: Vec<PriceLine>,
    /// Sum of the lines.
    pub cost: Money,
    /// Overhead and profit.
    pub overhead: Money,
    /// Before tax.
    pub before_tax: Money,
    /// Rate of tax.
    pub tax_rate: Decimal,
    /// Tax.
    pub tax: Money,
    /// With tax.
    pub total: Money,
    /// Why the figures above are no price that can be given: in the middle year the job is not finished. They stay for the record.
    pub not_given: Option<String>,
    /// Before tax with every provisional sum at its low and at its high end; `None` where there is none.
    pub range: Option<(Money, Money)>,
    /// Before tax, per m² of harl: the check a mason makes in his head.
    pub per_m2: Money,
    /// Before-tax price in each weather year, in the order of the programme's runs.
    pub by_year: Vec<Money>,
    /// Before-tax price that about eight years in ten do not pass, never below the stated one: years may tie with it. `None` when the weather gives no odds.
    pub eight_in_ten: Option<Money>,
    /// What the weather costs; `None` when it gives no odds.
    pub risk: Option<Risk>,
    /// The price by measure, and the terms it is offered on.
    pub quotation: Quotation,
    /// What is not in it.
    pub exclusions: Vec<String>,
    /// Days it stands.
    pub valid_days: u32,
    /// Reckonings of the shown figures.
    pub reckonings: Reckonings,
}

/// What the weather costs: before tax and with overhead. Middle + expected weather + redo = mean; middle + margin = with margin.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Risk {
    /// The middle year by its finish, without coats to redo.
    pub middle: Money,
    /// Mean of the finished years less the middle one, without coats to redo; below nothing where the middle year is dearer than the mean.
    pub expected_weather: Money,
    /// Coats to redo in the mean.
    pub redo: Money,
    /// Mean of the finished years.
    pub mean: Money,
    /// The price at 10, 16 and 19 years in 20.
    pub shares: Vec<RiskShare>,
    /// Years in 20 that the margin is to cover; `None` where no margin is asked for and the price stands at the mean.
    pub chosen: Option<u32>,
    /// What the chosen share of the years does not pass, never below the mean, less the middle year.
    pub margin: Option<Money>,
    /// The price with that margin.
    pub with_margin: Option<Money>,
}

/// The price before tax at a share of the weather years.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RiskShare {
    /// Years in 20.
    pub years_in_20: u32,
    /// What so many years do not pass; `None` where there are too few years to read it.
    pub price: Option<Money>,
    /// The same, never below the mean of the years, less the middle year: the margin that covers so many years.
    pub margin: Option<Money>,
}

/// The price by measure and its terms.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Quotation {
    /// Square metres of face and metres of ingo with their rate, a check on the price; sills and margins with their metres.
    pub by_measure: Vec<MeasureLine>,
    /// The price before tax without scaffold, for one m² of harl.
    pub without_scaffold_m2: Money,
    /// What the last such job cost for one m², before tax and without scaffold, if it was given: the check from outside.
    pub last_job_m2: Option<Money>,
    /// Least charge of a small job before tax; `None` where there is none.
    pub least_charge: Option<Money>,
    /// Work ordered beyond the quotation, money an hour.
    pub daywork: Vec<(String, Money)>,
    /// Payments by stage, in the middle year.
    pub stages: Vec<StagePayment>,
    /// What is retained, and the day on which it is due; `None` where nothing is.
    pub retention: Option<(Money, Option<Date>)>,
    /// Interest a year, if it was given.
    pub interest: Option<Decimal>,
    /// What stages and retention are worth on the first day of the job at that interest.
    pub worth_at_start: Option<Money>,
}

/// A line of the price by measure.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MeasureLine {
    /// In words.
    pub words: String,
    /// Quantity.
    pub quantity: f64,
    /// Unit.
    pub unit: String,
    /// Rate; `None` for what is within another line.
    pub rate: Option<Money>,
    /// Amount.
    pub amount: Option<Money>,
}

/// A payment by stage, before tax.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StagePayment {
    /// When it falls due, in words.
    pub words: String,
    /// Day of that in the middle year.
    pub on: Option<Date>,
    /// What was earned.
    pub gross: Money,
    /// What is due: the same less what is retained.
    pub due: Money,
}

impl Price {
    /// The lines added up by their heading, in the order in which the headings first stand.
    pub fn by_heading(&self) -> Vec<(&str, Money)> {
        let mut sums: Vec<(&str, Money)> = Vec::new();
        for line in &self.lines {
            match sums.iter_mut().find(|(heading, _)| *heading == line.heading) {
                Some((_, sum)) => sum.amount += line.amount.amount,
                None => sums.push((&line.heading, line.amount.clone())),
            }
        }
        sums
    }
}

/// One wall's share.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WallPrice {
    /// The wall.
    pub slug: Slug,
    /// In words.
    pub words: String,
    /// Its share before tax.
    pub amount: Money,
}

/// One line.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PriceLine {
    /// Heading: labour, materials, scaffold, plant, visits, attendance.
    pub heading: String,
    /// In words.
    pub words: String,
    /// Quantity.
    pub quantity: f64,
    /// Unit.
    pub unit: String,
    /// Rate.
    pub rate: Money,
    /// Amount.
    pub amount: Money,
    /// Path, for `why`.
    pub path: String,
}
