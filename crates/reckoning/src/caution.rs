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

impl Caution {
    /// True if one of its triggers begins a word of `text`: an output with that text must show this caution.
    pub fn is_called_for_by(&self, text: &str) -> bool {
        let text = text.to_lowercase();
        let begins_a_word = |at: usize| !text[..at].chars().next_back().is_some_and(char::is_alphanumeric);
        self.triggers.iter().any(|trigger| text.match_indices(trigger.as_str()).any(|(at, _)| begins_a_word(at)))
    }

    /// True if `output` always shows it.
    pub fn is_always_shown_in(&self, output: &str) -> bool {
        self.shown.iter().any(|shown| shown == output)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_trigger_counts_at_the_start_of_a_word_only() {
        let caution = Caution {
            hazard: Hazard::Wildlife,
            words: String::new(),
            source: String::new(),
            triggers: vec!["bat".to_owned()],
            shown: vec!["site".to_owned()],
        };
        assert!(caution.is_called_for_by("Look for Bats and nests"));
        assert!(!caution.is_called_for_by("a combat"));
        assert!(caution.is_always_shown_in("site") && !caution.is_always_shown_in("order"));
    }
}
