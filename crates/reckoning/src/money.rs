//! Money: decimal, never binary floating point; rounded half away from zero, as trade invoices are.

use rust_decimal::prelude::{FromPrimitive, ToPrimitive};
use rust_decimal::{Decimal, RoundingStrategy};
use serde::Serialize;

/// A currency by its ISO 4217 code and the mark written before an amount.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Currency {
    /// ISO 4217 code, for example "GBP".
    pub code: String,
    /// What is written before an amount, for example "£"; the code and a space when there is no usual mark.
    pub mark: String,
}

impl Currency {
    /// The currency of a three-letter ISO 4217 code; `None` unless it is three capital letters.
    pub fn from_code(code: &str) -> Option<Self> {
        if code.len() != 3 || !code.bytes().all(|b| b.is_ascii_uppercase()) {
            return None;
        }
        let mark = match code {
            "GBP" => "£".to_owned(),
            "EUR" => "€".to_owned(),
            "USD" => "$".to_owned(),
            other => format!("{other} "),
        };
        Some(Self { code: code.to_owned(), mark })
    }
}

/// An amount in one currency.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Money {
    /// The amount, exact.
    pub amount: Decimal,
    /// Its currency.
    pub currency: Currency,
}

impl Money {
    /// An exact amount.
    pub fn new(amount: Decimal, currency: Currency) -> Self {
        Self { amount, currency }
    }

    /// `amount` from a binary number (a quantity times a rate), rounded to the hundredth part; a value that is not finite becomes zero.
    pub fn from_f64(amount: f64, currency: Currency) -> Self {
        let exact = Decimal::from_f64(amount).unwrap_or(Decimal::ZERO);
        Self::new(exact, currency).to_cents()
    }

    /// Rounded to hundredths, half away from zero.
    pub fn to_cents(&self) -> Self {
        Self { amount: self.amount.round_dp_with_strategy(2, RoundingStrategy::MidpointAwayFromZero), currency: self.currency.clone() }
    }

    /// Rounded to whole tens, the way a price is spoken.
    pub fn to_tens(&self) -> Self {
        let ten = Decimal::TEN;
        let tens = (self.amount / ten).round_dp_with_strategy(0, RoundingStrategy::MidpointAwayFromZero);
        Self { amount: tens * ten, currency: self.currency.clone() }
    }

    /// As a binary number, for drawing and statistics only.
    pub fn to_f64(&self) -> f64 {
        self.amount.to_f64().unwrap_or(0.0)
    }
}

impl std::fmt::Display for Money {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let whole = self.amount.fract().is_zero();
        let places = if whole { 0 } else { 2 };
        let rounded = self.amount.abs().round_dp_with_strategy(places, RoundingStrategy::MidpointAwayFromZero);
        let digits = format!("{rounded:.*}", places as usize);
        let (units, cents) = digits.split_once('.').map_or((digits.as_str(), None), |(u, c)| (u, Some(c)));
        let sign = if self.amount.is_sign_negative() && !self.amount.is_zero() { "−" } else { "" };
        write!(f, "{sign}{}", self.currency.mark)?;
        for (position, digit) in units.chars().enumerate() {
            if position > 0 && (units.len() - position) % 3 == 0 {
                f.write_str(",")?;
            }
            write!(f, "{digit}")?;
        }
        cents.map_or(Ok(()), |cents| write!(f, ".{cents}"))
    }
}
