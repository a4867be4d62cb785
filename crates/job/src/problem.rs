//! What is wrong with a job file: each problem says where, what was found, what is allowed and what to do.

use std::ops::Range;

use thiserror::Error;

/// Sort of fault.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum Fault {
    /// The text is not TOML.
    #[error("this is not TOML")]
    NotToml,
    /// The file or a list in it is too large.
    #[error("there is too much of this")]
    TooMuch,
    /// No field has this name.
    #[error("this key is not known")]
    UnknownKey,
    /// A short name is not one.
    #[error("this is not a short name")]
    BadName,
    /// Something that must be written is not there.
    #[error("this is missing")]
    Missing,
    /// A value of another kind than the field takes.
    #[error("this is not the kind of value asked for")]
    WrongKind,
    /// A number or date outside what can be.
    #[error("this is out of range")]
    OutOfRange,
    /// A word that is not one of those allowed.
    #[error("this word is not one of those allowed")]
    NotAChoice,
    /// A name that refers to nothing.
    #[error("this name refers to nothing")]
    NotFound,
    /// Two values that cannot both hold.
    #[error("these do not agree")]
    Contradiction,
}

/// One problem in a job file.
#[derive(Clone, Debug, PartialEq, Error)]
#[error("{file}, line {line}, column {column}, {shown}: {found} {allowed} {remedy}", shown = if .path.is_empty() { "the file" } else { .path })]
pub struct Problem {
    /// Sort of fault.
    pub fault: Fault,
    /// Name of the file, as given by the caller.
    pub file: String,
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
    /// Where in the text, in bytes.
    pub span: Range<usize>,
    /// Path of the value, such as `walls.north.length_m`; empty for the whole file.
    pub path: String,
    /// What was found: a complete sentence.
    pub found: String,
    /// What is allowed: a complete sentence.
    pub allowed: String,
    /// What to do: a complete sentence.
    pub remedy: String,
}

/// Most problems reported at once; a file with more is likely not a job at all.
const MOST: usize = 400;

/// Gathers the problems of one text, with the lines they stand on.
#[derive(Debug)]
pub(crate) struct Problems {
    file: String,
    text: String,
    line_starts: Vec<usize>,
    gathered: Vec<Problem>,
    untold: usize,
}

impl Problems {
    pub(crate) fn new(file: &str, text: &str) -> Self {
        let line_starts =
            std::iter::once(0).chain(text.bytes().enumerate().filter(|(_, byte)| *byte == b'\n').map(|(at, _)| at + 1)).collect();
        Self { file: file.to_owned(), text: text.to_owned(), line_starts, gathered: Vec::new(), untold: 0 }
    }

    pub(crate) fn is_empty(&self) -> bool {
        self.gathered.is_empty()
    }

    /// True when so many problems are told that further ones are only counted.
    pub(crate) fn is_full(&self) -> bool {
        self.gathered.len() >= MOST
    }

    pub(crate) fn count(&self) -> usize {
        self.gathered.len() + self.untold
    }

    /// The problems in the order of the text.
    pub(crate) fn into_sorted(mut self) -> Vec<Problem> {
        if self.untold > 0 {
            let end = self.text.len();
            let found = format!("{} further problems are not told.", self.untold);
            let allowed = format!("Allowed are files with fewer than {MOST} problems to be told one by one.");
            let more = self.place(
                Fault::TooMuch,
                end..end,
                "",
                found,
                allowed,
                "Mend those above first, and see that this is a job file.".to_owned(),
            );
            self.gathered.push(more);
        }
        self.gathered.sort_by(|a, b| (a.span.start, a.span.end, &a.path).cmp(&(b.span.start, b.span.end, &b.path)));
        self.gathered
    }

    pub(crate) fn add(&mut self, fault: Fault, span: Range<usize>, path: &str, found: String, allowed: String, remedy: String) {
        if self.is_full() {
            self.untold += 1;
            return;
        }
        let problem = self.place(fault, span, path, found, allowed, remedy);
        self.gathered.push(problem);
    }

    fn place(&self, fault: Fault, span: Range<usize>, path: &str, found: String, allowed: String, remedy: String) -> Problem {
        let start = self.boundary(span.start);
        let end = self.boundary(span.end.max(start));
        let line = self.line_starts.partition_point(|&at| at <= start).max(1);
        let from = self.line_starts.get(line - 1).copied().unwrap_or(0);
        let column = self.text.get(from..start).map_or(0, |before| before.chars().count()) + 1;
        Problem { fault, file: self.file.clone(), line, column, span: start..end, path: path.to_owned(), found, allowed, remedy }
    }

    /// The nearest place at or before `at` where a character begins.
    fn boundary(&self, at: usize) -> usize {
        let mut at = at.min(self.text.len());
        while !self.text.is_char_boundary(at) {
            at -= 1;
        }
        at
    }
}

/// The nearest of some words, if one is near enough to be what was meant.
pub(crate) fn nearest<'w>(word: &str, among: impl Iterator<Item = &'w str>) -> Option<&'w str> {
    // Long words are cut: a distance over megabytes of text would take for ever and suggest nothing.
    let word: String = word.chars().take(60).collect();
    among
        .map(|candidate| (strsim::jaro_winkler(&word.to_lowercase(), candidate), candidate))
        .filter(|(likeness, _)| *likeness >= 0.8)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, candidate)| candidate)
}
