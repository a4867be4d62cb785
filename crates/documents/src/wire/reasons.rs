//! plan/1: findings, cautions, what was assumed, and the reckoning behind each figure.

use reckoning::{Hazard, Value as Shown};
use serde::Serialize;

use super::money::Money;

#[derive(Serialize)]
pub(super) struct Finding<'p> {
    grade: &'static str,
    rule: &'p str,
    place: &'p str,
    says: &'p str,
    reason: &'p str,
    source: &'p str,
    remedy: &'p str,
}

impl<'p> Finding<'p> {
    pub(super) fn of(finding: &'p reckoning::Finding) -> Self {
        Self {
            grade: finding.grade.word(),
            rule: &finding.rule,
            place: &finding.place,
            says: &finding.says,
            reason: &finding.reason,
            source: &finding.source,
            remedy: &finding.remedy,
        }
    }
}

#[derive(Serialize)]
pub(super) struct Caution<'p> {
    hazard: &'static str,
    words: &'p str,
    source: &'p str,
}

impl<'p> Caution<'p> {
    pub(super) fn of(caution: &'p reckoning::Caution) -> Self {
        let hazard = match caution.hazard {
            Hazard::Lime => "lime",
            Hazard::Quicklime => "quicklime",
            Hazard::Height => "height",
            Hazard::ScaffoldLoad => "scaffold-load",
            Hazard::Dust => "dust",
            Hazard::OldCoverings => "old-coverings",
            Hazard::Acid => "acid",
            Hazard::Phenolphthalein => "phenolphthalein",
            Hazard::Heaters => "heaters",
            Hazard::Lifting => "lifting",
            Hazard::Consent => "consent",
            Hazard::Wildlife => "wildlife",
            Hazard::Simulated => "simulated",
        };
        Self { hazard, words: &caution.words, source: &caution.source }
    }
}

#[derive(Serialize)]
pub(super) struct Swing<'p> {
    path: &'p str,
    label: &'p str,
    assumed: &'p str,
    days: f64,
    money: Money<'p>,
    question: &'p str,
}

impl<'p> Swing<'p> {
    pub(super) fn of(swing: &'p works::Swing) -> Self {
        Self {
            path: &swing.path,
            label: &swing.label,
            assumed: &swing.assumed,
            days: swing.days,
            money: Money::of(&swing.money),
            question: &swing.question,
        }
    }
}

#[derive(Serialize)]
pub(super) struct Reckoning<'p> {
    path: &'p str,
    label: &'p str,
    value: Value<'p>,
    #[serde(skip_serializing_if = "str::is_empty")]
    formula: &'p str,
    source: &'p str,
    assumed: bool,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    inputs: Vec<Input<'p>>,
}

/// An input of a reckoning: whole, or, where it is one of the figures that can be asked why itself, by its path.
#[derive(Serialize)]
#[serde(untagged)]
enum Input<'p> {
    Kept { path: &'p str, kept: bool },
    Whole(Reckoning<'p>),
}

#[derive(Serialize)]
#[serde(rename_all = "kebab-case")]
enum Value<'p> {
    Number { amount: f64, unit: &'static str, decimals: u8 },
    Money(Money<'p>),
    Date(&'p str),
    Text(&'p str),
}

impl<'p> Reckoning<'p> {
    pub(super) fn of(reckoning: &'p reckoning::Reckoning, all: &reckoning::Reckonings) -> Self {
        let value = match &reckoning.value {
            Shown::Number { amount, unit, decimals } => Value::Number { amount: *amount, unit: unit.symbol(), decimals: *decimals },
            Shown::Money(sum) => Value::Money(Money::of(sum)),
            Shown::Date(date) => Value::Date(date),
            Shown::Text(text) => Value::Text(text),
        };
        Self {
            path: &reckoning.path,
            label: &reckoning.label,
            value,
            formula: &reckoning.formula,
            source: &reckoning.source,
            assumed: reckoning.assumed,
            inputs: reckoning.inputs.iter().map(|input| Input::of(input, all)).collect(),
        }
    }
}

impl<'p> Input<'p> {
    fn of(input: &'p reckoning::Reckoning, all: &reckoning::Reckonings) -> Self {
        if all.get(&input.path) == Some(input) {
            Input::Kept { path: &input.path, kept: true }
        } else {
            Input::Whole(Reckoning::of(input, all))
        }
    }
}
