//! Values as people read them: a number with its unit and the decimals worth showing, a sum of money, a date, words.

use serde::Serialize;

use crate::Money;

/// Unit of a shown figure.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Unit {
    /// A bare number or ratio.
    One,
    /// Metres.
    Metre,
    /// Millimetres.
    Millimetre,
    /// Square metres.
    SquareMetre,
    /// Cubic metres.
    CubicMetre,
    /// Litres.
    Litre,
    /// Kilograms.
    Kilogram,
    /// Kilograms in a cubic metre.
    KilogramPerCubicMetre,
    /// Moles in a cubic metre.
    MolePerCubicMetre,
    /// Days.
    Day,
    /// Hours.
    Hour,
    /// Weeks.
    Week,
    /// Years.
    Year,
    /// Degrees Celsius.
    Celsius,
    /// Per cent.
    PerCent,
    /// Bags.
    Bag,
    /// Tubs.
    Tub,
    /// Visits to the job.
    Visit,
    /// Square metres covered in a gang's day.
    SquareMetrePerDay,
    /// Seconds.
    Second,
}

impl Unit {
    /// The unit as written after a figure; empty for a bare number.
    pub fn symbol(self) -> &'static str {
        match self {
            Unit::One => "",
            Unit::Metre => "m",
            Unit::Millimetre => "mm",
            Unit::SquareMetre => "m²",
            Unit::CubicMetre => "m³",
            Unit::Litre => "litres",
            Unit::Kilogram => "kg",
            Unit::KilogramPerCubicMetre => "kg/m³",
            Unit::MolePerCubicMetre => "mol/m³",
            Unit::Day => "days",
            Unit::Hour => "hours",
            Unit::Week => "weeks",
            Unit::Year => "years",
            Unit::Celsius => "°C",
            Unit::PerCent => "%",
            Unit::Bag => "bags",
            Unit::Tub => "tubs",
            Unit::Visit => "visits",
            Unit::SquareMetrePerDay => "m² a day",
            Unit::Second => "s",
        }
    }
}

/// A shown value.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Value {
    /// A number, its unit and the decimals worth showing.
    Number {
        /// Amount in `unit`.
        amount: f64,
        /// Unit of the amount.
        unit: Unit,
        /// Decimals shown.
        decimals: u8,
    },
    /// Money.
    Money(Money),
    /// A civil date, ISO 8601.
    Date(String),
    /// Words.
    Text(String),
}

impl Value {
    /// A number with its unit and decimals.
    pub fn number(amount: f64, unit: Unit, decimals: u8) -> Self {
        Value::Number { amount, unit, decimals }
    }
}

impl std::fmt::Display for Value {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Value::Number { amount, unit, decimals } => {
                let shown = format!("{amount:.*}", usize::from(*decimals));
                // What rounds to nothing from below is nothing.
                let is_nothing = shown.starts_with('-') && shown.chars().all(|letter| matches!(letter, '-' | '0' | '.'));
                f.write_str(if is_nothing { shown.trim_start_matches('-') } else { &shown })?;
                match unit.symbol() {
                    "" => Ok(()),
                    "%" => write!(f, " %"),
                    symbol => write!(f, " {symbol}"),
                }
            }
            Value::Money(money) => write!(f, "{money}"),
            Value::Date(text) | Value::Text(text) => f.write_str(text),
        }
    }
}
