//! What is wrong with a weather file, in sentences: where, what was found, what is allowed, what to do; everything at once.

use std::fmt;

/// One thing wrong with a weather file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// Line of the file from 1; `None` when it is about the file as a whole.
    pub line: Option<usize>,
    /// Column or header line it is about; may be empty.
    pub column: String,
    /// What was found.
    pub found: String,
    /// What is allowed.
    pub allowed: String,
    /// What to do about it.
    pub remedy: String,
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.line {
            Some(line) => write!(f, "line {line}")?,
            None => f.write_str("the file")?,
        }
        if !self.column.is_empty() {
            write!(f, ", {}", self.column)?;
        }
        write!(f, ": found {}; allowed: {}. {}", self.found, self.allowed, self.remedy)
    }
}

/// Why weather cannot be used.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum WeatherError {
    /// The text of a weather file has faults.
    #[error("{}", listed(name, problems, *more))]
    Faults {
        /// Name of the file.
        name: String,
        /// The first faults of each sort, in order of line.
        problems: Vec<Problem>,
        /// How many more there are.
        more: usize,
    },
    /// The series has no rain.
    #[error(
        "The weather of {name} has no rain: a wall that is never rained on would dry too well, so it cannot be planned with. \
         Give the twelve monthly totals of rain beside it, or a file that has rain by the hour."
    )]
    NoRain {
        /// Name of the place.
        name: String,
    },
    /// Twelve monthly totals of rain are not usable.
    #[error("The monthly rain totals are not usable: {found}. Allowed: twelve totals from 0 to 2000 mm, January first. Correct them.")]
    MonthlyRain {
        /// What was found.
        found: String,
    },
}

fn listed(name: &str, problems: &[Problem], more: usize) -> String {
    let count = problems.len() + more;
    let mut text = format!("The weather file {name} cannot be used: {count} {}.", if count == 1 { "fault" } else { "faults" });
    for problem in problems {
        text.push_str(&format!("\n  {problem}"));
    }
    if more > 0 {
        text.push_str(&format!("\n  … and {more} more of the same sorts."));
    }
    text
}

/// Most faults of one sort (same column, same remedy) that are listed.
const MOST_OF_A_SORT: usize = 5;
/// Most faults listed in all.
const MOST: usize = 40;

/// Collects faults, keeping the first few of each sort.
#[derive(Debug, Default)]
pub(crate) struct Faults {
    kept: Vec<Problem>,
    more: usize,
}

impl Faults {
    /// Keeps a fault, or counts it when its sort is full.
    pub(crate) fn push(&mut self, problem: Problem) {
        let of_a_sort = self.kept.iter().filter(|kept| kept.column == problem.column && kept.remedy == problem.remedy).count();
        if of_a_sort >= MOST_OF_A_SORT || self.kept.len() >= MOST {
            self.more += 1;
        } else {
            self.kept.push(problem);
        }
    }

    /// Short form of [`Faults::push`].
    pub(crate) fn add(
        &mut self,
        line: Option<usize>,
        column: &str,
        found: impl Into<String>,
        allowed: impl Into<String>,
        remedy: impl Into<String>,
    ) {
        self.push(Problem { line, column: column.to_owned(), found: found.into(), allowed: allowed.into(), remedy: remedy.into() });
    }

    /// How many faults there are, kept or only counted.
    pub(crate) fn count(&self) -> usize {
        self.kept.len() + self.more
    }

    /// `Ok` without faults, or all of them in order of line.
    pub(crate) fn into_result(self, name: &str) -> Result<(), WeatherError> {
        if self.kept.is_empty() { Ok(()) } else { Err(self.into_error(name)) }
    }

    /// All faults in order of line, as an error.
    pub(crate) fn into_error(mut self, name: &str) -> WeatherError {
        self.kept.sort_by_key(|problem| problem.line);
        WeatherError::Faults { name: name.to_owned(), problems: self.kept, more: self.more }
    }
}

/// A declaration read from TOML, strictly; the first fault of TOML stands alone, with its line, what is allowed and what to do.
pub(crate) fn declared<T: serde::de::DeserializeOwned>(text: &str, name: &str, allowed: &str, remedy: &str) -> Result<T, WeatherError> {
    toml::from_str(text).map_err(|error: toml::de::Error| {
        let line = error.span().map(|span| 1 + text.get(..span.start).map_or(0, |before| before.matches('\n').count()));
        let mut faults = Faults::default();
        faults.add(line, "", error.message().to_owned(), allowed, remedy);
        faults.into_error(name)
    })
}
