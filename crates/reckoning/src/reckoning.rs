//! The reckoning behind a figure: value, formula in words, inputs, source, and whether anything under it was assumed.
//! Built only for figures that are shown, never in a numerical kernel.

use std::collections::BTreeMap;

use serde::Serialize;

use crate::Value;

/// How one shown figure came about.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Reckoning {
    /// Stable path, for example `walls.north.coats.finish.volume`.
    pub path: String,
    /// What it is, in words.
    pub label: String,
    /// The figure.
    pub value: Value,
    /// The formula in words; empty for a given value.
    pub formula: String,
    /// What went in.
    pub inputs: Vec<Reckoning>,
    /// Where the formula or the given value comes from.
    pub source: String,
    /// True for a given value that nobody has answered for.
    pub assumed: bool,
}

impl Reckoning {
    /// A given value: a leaf.
    pub fn given(path: impl Into<String>, label: impl Into<String>, value: Value, source: impl Into<String>, assumed: bool) -> Self {
        Self { path: path.into(), label: label.into(), value, formula: String::new(), inputs: Vec::new(), source: source.into(), assumed }
    }

    /// A worked value from inputs.
    pub fn worked(
        path: impl Into<String>,
        label: impl Into<String>,
        value: Value,
        formula: impl Into<String>,
        inputs: Vec<Reckoning>,
        source: impl Into<String>,
    ) -> Self {
        Self { path: path.into(), label: label.into(), value, formula: formula.into(), inputs, source: source.into(), assumed: false }
    }

    /// True if this or anything under it was assumed.
    pub fn rests_on_assumption(&self) -> bool {
        self.assumed || self.inputs.iter().any(Reckoning::rests_on_assumption)
    }
}

/// All the figures of a plan that can be asked "why?".
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[serde(transparent)]
pub struct Reckonings(BTreeMap<String, Reckoning>);

impl Reckonings {
    /// Keeps a reckoning under its own path; a later one of the same path replaces it.
    pub fn keep(&mut self, reckoning: Reckoning) {
        self.0.insert(reckoning.path.clone(), reckoning);
    }

    /// The reckoning of a path.
    pub fn get(&self, path: &str) -> Option<&Reckoning> {
        self.0.get(path)
    }

    /// All, in order of path.
    pub fn iter(&self) -> impl Iterator<Item = &Reckoning> {
        self.0.values()
    }

    /// Takes over everything another stage has kept.
    pub fn take_over(&mut self, other: Reckonings) {
        self.0.extend(other.0);
    }
}
