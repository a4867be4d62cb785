//! The price: lines that can be read, risk from simulated weather, tax last.

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
    /// What is not in it.
    pub exclusions: Vec<String>,
    /// Days it stands.
    pub valid_days: u32,
    /// Reckonings of the shown figures.
    pub reckonings: Reckonings,
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
