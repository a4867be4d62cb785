//! Findings: what the tool has to say about a job, in words, with the reason, the source and the remedy. Never a score.

use serde::Serialize;

/// How heavy a finding is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Grade {
    /// Do not go on before this is put right.
    Stop,
    /// A departure from good practice: decide it knowingly.
    Think,
    /// Worth knowing.
    Note,
    /// A rule that was checked and holds.
    Agrees,
}

impl Grade {
    /// The word shown to people.
    pub fn word(self) -> &'static str {
        match self {
            Grade::Stop => "stop",
            Grade::Think => "think",
            Grade::Note => "note",
            Grade::Agrees => "agrees",
        }
    }
}

/// One finding.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Finding {
    /// How heavy it is.
    pub grade: Grade,
    /// Stable name of the rule, kebab-case.
    pub rule: String,
    /// What it is about: a path such as `walls.north.coats.finish`, or `job`.
    pub place: String,
    /// One sentence that says what was found.
    pub says: String,
    /// Why it matters.
    pub reason: String,
    /// Where the rule comes from, or "common practice, no source".
    pub source: String,
    /// What to do; empty only for `Agrees`.
    pub remedy: String,
}
