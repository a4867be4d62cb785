//! Cautions: the usual warnings of the trade, held once and shown wherever their hazard is named.

use serde::{Deserialize, Serialize};

/// A hazard that a page, command or document may name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Hazard {
    /// Wet lime, putty, limewash, mortar: alkali on skin and in eyes.
    Lime,
    /// Quicklime and slaking.
    Quicklime,
    /// Work at height, scaffold, ladders.
    Height,
    /// Hessian and sheeting on a scaffold: weight and wind.
    ScaffoldLoad,
    /// Stone and mortar dust.
    Dust,
    /// Lead, asbestos and salts in old coverings.
    OldCoverings,
    /// Acid for testing old mortar.
    Acid,
    /// Phenolphthalein.
    Phenolphthalein,
    /// Heaters near hessian; fumes.
    Heaters,
    /// Lifting.
    Lifting,
    /// Consent for listed buildings.
    Consent,
    /// Bats and nesting birds.
    Wildlife,
    /// A reckoned "ready" is not a test.
    Simulated,
}

/// One caution with its words, source and where it is shown.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Caution {
    /// The hazard it answers.
    pub hazard: Hazard,
    /// The words, complete sentences.
    pub words: String,
    /// Where they come from.
    pub source: String,
    /// Words that, when they appear in an output, oblige it to show this caution; lower case.
    pub triggers: Vec<String>,
    /// Outputs that always show it: `summary`, `proposal`, `site`, `order`, `trial`, `new`.
    pub shown: Vec<String>,
}
