//! The values nobody has answered for: what was assumed, how far it may be out, and the plain question that would settle it.

use serde::Serialize;

/// A value of the job as it is written in the file: a number in the unit of its key, a word, or yes and no.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(untagged)]
pub enum Setting {
    /// A number in the unit as written.
    Number(f64),
    /// A word, a name, a date.
    Word(String),
    /// Yes or no.
    Flag(bool),
}

impl std::fmt::Display for Setting {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Setting::Number(number) => f.write_str(&crate::values::figure(*number)),
            Setting::Word(word) => f.write_str(word),
            Setting::Flag(true) => f.write_str("yes"),
            Setting::Flag(false) => f.write_str("no"),
        }
    }
}

/// One assumed value.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct AssumedField {
    /// Its path as it would be written, such as `walls.north.splash_s`.
    pub path: String,
    /// The path of its field, such as `walls.*.splash_s`: the same question on other walls.
    pub field: String,
    /// What it is, in a few words, with the wall it is on.
    pub label: String,
    /// The plain question that would settle it.
    pub question: String,
    /// The value used.
    pub value: Setting,
    /// Unit as written after a number; empty for none.
    pub unit: String,
    /// How far it may honestly lie, low and high, if that is known.
    pub range: Option<(Setting, Setting)>,
    /// Where the default comes from.
    pub source: String,
}
