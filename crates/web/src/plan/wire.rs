//! plan/1 as far as the pages show it. What is not named here is passed over; what is missing in an older plan stands empty.
#![allow(missing_docs, reason = "the fields are those of docs/plan-1.md")]

use std::collections::BTreeMap;

use jiff::civil::Date;
use rust_decimal::Decimal;
use serde::Deserialize;

/// The whole.
#[derive(Debug, Deserialize)]
pub struct Plan {
    pub job: Job,
    pub window: Window,
    pub basis: Basis,
    pub headline: String,
    pub answers: Vec<Answer>,
    pub survey: Survey,
    pub specification: Specification,
    pub quantities: Quantities,
    pub programme: Programme,
    pub order: Order,
    pub price: Price,
    pub swings: Vec<Swing>,
    pub findings: Vec<Finding>,
    pub cautions: Vec<Caution>,
    #[serde(deserialize_with = "by_path")]
    pub reckonings: BTreeMap<String, Reckoning>,
}

#[derive(Debug, Deserialize)]
pub struct Job {
    pub name: String,
    pub place: String,
    pub client: String,
    #[serde(default)]
    pub time_zone: String,
    pub contractor: String,
    pub invented: bool,
}

#[derive(Debug, Deserialize)]
pub struct Window {
    pub start: Date,
    pub finish_by: Option<Date>,
}

#[derive(Debug, Deserialize)]
pub struct Basis {
    pub version: String,
    pub weather: String,
    pub years: u32,
}

#[derive(Debug, Deserialize)]
pub struct Answer {
    pub question: String,
    pub answer: String,
}

#[derive(Debug, Deserialize)]
pub struct Survey {
    pub surveyed_on: String,
    pub area_m2: f64,
    pub walls: Vec<SurveyedWall>,
}

#[derive(Debug, Deserialize)]
pub struct SurveyedWall {
    pub slug: String,
    pub name: String,
    pub thickness_m: f64,
    pub masonry: String,
    pub measured: Option<Measured>,
}

#[derive(Debug, Deserialize)]
pub struct Measured {
    pub net_m2: f64,
    pub reveal_m2: f64,
}

#[derive(Debug, Deserialize)]
pub struct Specification {
    pub panel: Panel,
    pub preparation: Vec<String>,
    pub walls: Vec<SpecifiedWall>,
}

#[derive(Debug, Deserialize)]
pub struct Panel {
    pub words: String,
}

#[derive(Debug, Deserialize)]
pub struct SpecifiedWall {
    pub slug: String,
    pub coats: Vec<Coat>,
    pub limewash: Limewash,
}

#[derive(Debug, Deserialize)]
pub struct Coat {
    pub slug: String,
    pub name: String,
    pub kind: String,
    pub lime: String,
    pub sand: String,
    pub sand_parts: f64,
    pub thickness_m: [f64; 3],
    pub placing: String,
    pub cover: String,
    pub cover_days: u32,
    pub damp_days: u32,
    pub wettings_a_day: u32,
    pub least_wait_days: f64,
    pub test: String,
    pub method: String,
}

#[derive(Debug, Deserialize)]
pub struct Limewash {
    pub coats: u32,
    pub water_parts: f64,
    pub interval_h: f64,
    pub lime: String,
    pub colour: String,
}

#[derive(Debug, Deserialize)]
pub struct Quantities {
    pub materials: Vec<Material>,
}

#[derive(Debug, Deserialize)]
pub struct Material {
    pub slug: String,
    pub name: String,
}

#[derive(Debug, Deserialize)]
pub struct Programme {
    pub gaps_by: String,
    pub sentence: String,
    pub finish: String,
    pub odds: Option<Odds>,
    pub no_odds: Option<String>,
    pub before: Vec<Before>,
    pub middle_year: Option<i32>,
    pub runs: Vec<Run>,
}

impl Programme {
    /// The run of a weather year, the middle one for `None`.
    pub fn run(&self, year: Option<i32>) -> Option<&Run> {
        let year = year.or(self.middle_year)?;
        self.runs.iter().find(|run| run.year == year)
    }
}

#[derive(Debug, Deserialize)]
pub struct Odds {
    pub years: u32,
    pub eight_in_ten: Date,
    pub eight_in_ten_years: u32,
}

#[derive(Debug, Deserialize)]
pub struct Before {
    pub what: String,
    pub by: Date,
    pub why: String,
    pub path: String,
}

#[derive(Debug, Deserialize)]
pub struct Run {
    pub year: i32,
    pub finished: Option<Date>,
    pub unfinished: Option<String>,
    pub gang_days: f64,
    pub visits: u32,
    pub damping_visits: u32,
    pub losses: Vec<Loss>,
    #[serde(default)]
    pub mendings: Vec<Mending>,
    pub walls: Vec<WallRun>,
}

#[derive(Debug, Deserialize)]
pub struct Mending {
    pub date: Date,
    pub wall: String,
    pub coat: String,
    pub damage: String,
}

#[derive(Debug, Deserialize)]
pub struct Loss {
    pub date: Date,
    pub wall: String,
    pub cause: String,
    pub prevention: String,
}

#[derive(Debug, Deserialize)]
pub struct WallRun {
    pub slug: String,
    pub tasks: Vec<Task>,
    pub still_waiting: Vec<Wait>,
    pub scaffold_from: Option<Date>,
    pub scaffold_to: Option<Date>,
    #[serde(default)]
    pub scaffold: Vec<ScaffoldStep>,
    #[serde(default)]
    pub days: Vec<Day>,
}

#[derive(Debug, Deserialize)]
pub struct Task {
    pub slug: String,
    pub name: String,
    #[serde(default)]
    pub gang: String,
    pub from: Date,
    pub to: Date,
    pub gang_days: f64,
    pub ready: Option<Date>,
    pub decides: String,
    pub damping_visits: u32,
    pub waited: Vec<Wait>,
    #[serde(default)]
    pub parts: Vec<Part>,
    #[serde(default)]
    pub looked: Vec<Look>,
}

#[derive(Debug, Deserialize)]
pub struct Part {
    pub name: String,
    pub from: Date,
    pub to: Date,
    pub area_m2: Option<f64>,
    pub length_m: Option<f64>,
    pub lifts: Option<u32>,
    pub cold_joint: bool,
}

#[derive(Debug, Deserialize)]
pub struct Look {
    pub date: Date,
    pub gang: Option<String>,
}

#[derive(Debug, Deserialize)]
pub struct ScaffoldStep {
    pub kind: String,
    pub from: Date,
    pub to: Date,
}

impl ScaffoldStep {
    /// What the scaffolders do, a sentence.
    pub fn told(&self) -> &'static str {
        match self.kind.as_str() {
            "up" => "Scaffolders put the scaffold up.",
            "adapt" => "Scaffolders adapt the scaffold for the finish.",
            _ => "Scaffolders take the scaffold down, lift by lift.",
        }
    }
}

#[derive(Debug, Deserialize)]
pub struct Wait {
    pub from: Date,
    pub to: Date,
    pub reason: String,
}

#[derive(Debug, Deserialize)]
pub struct Day {
    pub date: Date,
    pub uptake_m: Vec<f64>,
    pub cover: Option<String>,
    pub wettings: u32,
    #[serde(default)]
    pub front_m: Vec<f64>,
    pub face_humidity: Option<f64>,
    pub air_low_c: Option<f64>,
    pub air_high_c: Option<f64>,
    #[serde(default)]
    pub rain_mm: f64,
}

#[derive(Debug, Deserialize)]
pub struct Order {
    pub lines: Vec<OrderLine>,
    pub lay_down: Vec<LayDown>,
}

#[derive(Debug, Deserialize)]
pub struct OrderLine {
    pub on_site_by: Date,
    pub slug: String,
    pub name: String,
    pub units: u32,
    pub unit_name: String,
    pub need: String,
    pub first_used_for: String,
    pub remark: String,
}

#[derive(Debug, Deserialize)]
pub struct LayDown {
    pub what: String,
    pub by: Date,
    pub why: String,
}

#[derive(Debug, Deserialize)]
pub struct Price {
    pub walls: Vec<WallPrice>,
    pub lines: Vec<PriceLine>,
    /// The lines added up; empty in an older plan.
    #[serde(default)]
    pub headings: Vec<Heading>,
    pub cost: Money,
    pub overhead: Money,
    pub before_tax: Money,
    pub tax_rate: Decimal,
    pub tax: Money,
    pub total: Money,
    pub not_given: Option<String>,
    pub range: Option<(Money, Money)>,
    pub per_m2: Money,
    pub by_year: Vec<Money>,
    pub eight_in_ten: Option<Money>,
    pub risk: Option<Risk>,
    /// Nothing in an older plan.
    pub quotation: Option<Quotation>,
    pub exclusions: Vec<String>,
    pub valid_days: u32,
}

/// What the weather costs, before tax.
#[derive(Debug, Deserialize)]
pub struct Risk {
    pub middle: Money,
    pub expected_weather: Money,
    pub redo: Money,
    pub mean: Money,
    pub shares: Vec<RiskShare>,
    pub chosen_years_in_20: Option<u32>,
}

#[derive(Debug, Deserialize)]
pub struct RiskShare {
    pub years_in_20: u32,
    pub price: Option<Money>,
    pub margin: Option<Money>,
}

/// The price by measure and its terms.
#[derive(Debug, Deserialize)]
pub struct Quotation {
    pub by_measure: Vec<MeasureLine>,
    pub without_scaffold_m2: Option<Money>,
    pub last_job_m2: Option<Money>,
    pub least_charge: Option<Money>,
    pub daywork_an_hour: Vec<Daywork>,
    pub stages: Vec<Stage>,
    pub retention: Option<Retention>,
    pub interest: Option<Decimal>,
    pub worth_at_start: Option<Money>,
}

#[derive(Debug, Deserialize)]
pub struct MeasureLine {
    pub words: String,
    pub quantity: f64,
    pub unit: String,
    pub rate: Option<Money>,
    pub amount: Option<Money>,
}

#[derive(Debug, Deserialize)]
pub struct Daywork {
    pub words: String,
    pub rate: Money,
}

#[derive(Debug, Deserialize)]
pub struct Stage {
    pub words: String,
    pub on: Option<Date>,
    pub gross: Money,
    pub due: Money,
}

#[derive(Debug, Deserialize)]
pub struct Retention {
    pub amount: Money,
    pub due: Option<Date>,
}

#[derive(Debug, Deserialize)]
pub struct Heading {
    pub heading: String,
    pub amount: Decimal,
}

impl Price {
    /// An amount in the currency of the price.
    pub fn in_its_currency(&self, amount: Decimal) -> Money {
        Money { amount, currency: self.total.currency.clone() }
    }
}

#[derive(Debug, Deserialize)]
pub struct WallPrice {
    pub slug: String,
    pub words: String,
    pub amount: Money,
}

#[derive(Debug, Deserialize)]
pub struct PriceLine {
    pub heading: String,
    pub words: String,
    pub quantity: f64,
    pub unit: String,
    pub rate: Money,
    pub amount: Money,
    pub path: String,
}

/// Money on the wire: exact, with its currency.
#[derive(Clone, Debug, Deserialize)]
pub struct Money {
    amount: Decimal,
    currency: String,
}

impl Money {
    /// As people read it.
    pub fn shown(&self) -> reckoning::Money {
        let own = || reckoning::Currency { code: self.currency.clone(), mark: format!("{} ", self.currency) };
        reckoning::Money::new(self.amount, reckoning::Currency::from_code(&self.currency).unwrap_or_else(own))
    }

    /// As a length on a drawing.
    pub fn length(&self) -> f64 {
        self.shown().to_f64()
    }

    /// As it is spoken: whole tens.
    pub fn spoken(&self) -> reckoning::Money {
        self.shown().to_tens()
    }
}

impl std::fmt::Display for Money {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.shown().fmt(f)
    }
}

#[derive(Debug, Deserialize)]
pub struct Swing {
    pub path: String,
    pub label: String,
    pub assumed: String,
    pub days: f64,
    pub money: Money,
    pub question: String,
}

#[derive(Debug, Deserialize)]
pub struct Finding {
    pub grade: String,
    pub place: String,
    pub says: String,
    pub reason: String,
    pub source: String,
    pub remedy: String,
}

#[derive(Debug, Deserialize)]
pub struct Caution {
    pub words: String,
}

/// How a figure came about.
#[derive(Debug, Deserialize)]
pub struct Reckoning {
    pub path: String,
    pub label: String,
    pub value: Value,
    #[serde(default)]
    pub formula: String,
    pub source: String,
    pub assumed: bool,
    #[serde(default)]
    pub inputs: Vec<Input>,
}

/// An input of a reckoning: whole, or by the path of a figure that can be asked why itself.
#[derive(Debug, Deserialize)]
#[serde(untagged)]
pub enum Input {
    Whole(Reckoning),
    Kept { path: String },
}

/// A shown value.
#[derive(Debug, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Value {
    Number { amount: f64, unit: String, decimals: u8 },
    Money(Money),
    Date(Date),
    Text(String),
}

impl std::fmt::Display for Value {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Value::Number { amount, unit, decimals } => {
                let number = format!("{amount:.*}", usize::from(*decimals));
                // What rounds to nothing from below is nothing.
                let is_nothing = number.chars().all(|letter| matches!(letter, '-' | '0' | '.'));
                f.write_str(if is_nothing { number.trim_start_matches('-') } else { &number })?;
                if unit.is_empty() { Ok(()) } else { write!(f, " {unit}") }
            }
            Value::Money(money) => money.fmt(f),
            Value::Date(date) => f.write_str(&crate::words::long_day(*date)),
            Value::Text(text) => f.write_str(text),
        }
    }
}

fn by_path<'d, D: serde::Deserializer<'d>>(reader: D) -> Result<BTreeMap<String, Reckoning>, D::Error> {
    let list = Vec::<Reckoning>::deserialize(reader)?;
    Ok(list.into_iter().map(|reckoning| (reckoning.path.clone(), reckoning)).collect())
}
