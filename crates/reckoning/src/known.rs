//! A value that remembers whether somebody answered for it or the tool assumed it. It must never drop that memory in arithmetic:
//! results are built as reckonings, which carry the mark upwards.

use serde::Serialize;

/// A value with its standing: answered by the user, or assumed by us with a source and a range.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Known<T> {
    /// The value used in the sums.
    pub value: T,
    /// True until somebody on the job has answered the question.
    pub assumed: bool,
    /// Who says so: "answered in the job file", a measurement, a published source, or "common practice, no source".
    pub source: String,
    /// For an assumed value, the range it may honestly lie in (low, high), used to say which assumption swings the plan most.
    pub range: Option<(T, T)>,
}

impl<T> Known<T> {
    /// A value the user gave.
    pub fn answered(value: T) -> Self {
        Self { value, assumed: false, source: "answered in the job".to_owned(), range: None }
    }

    /// A default standing in until it is answered, with its source and honest range.
    pub fn assumed(value: T, source: impl Into<String>, range: Option<(T, T)>) -> Self {
        Self { value, assumed: true, source: source.into(), range }
    }
}
