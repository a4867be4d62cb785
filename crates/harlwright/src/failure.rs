//! What went wrong, told once, at the edge: bad input with its place in the file, or a machine that would not do as asked.

use std::io::IsTerminal;
use std::process::ExitCode;

use miette::{Diagnostic, GraphicalReportHandler, GraphicalTheme, LabeledSpan, NamedSource, SourceSpan};

/// Exit code for bad input, as promised in the help.
const BAD_INPUT: u8 = 2;
/// Exit code of a program that was called off, as shells have it: 128 and the number of the signal.
pub const CALLED_OFF: u8 = 130;

/// A failure.
#[derive(Debug)]
pub enum Failure {
    /// Input that cannot be used: each problem with its place.
    Input {
        /// Problems, all of them.
        problems: Vec<Located>,
    },
    /// The machine would not: a folder that cannot be written, a full disk.
    Machine(String),
    /// The person who asked has called it off.
    CalledOff(String),
    /// Already told in full; only the exit code is left to give.
    Told,
}

/// A problem in a named text.
#[derive(Debug, thiserror::Error)]
#[error("{message}")]
pub struct Located {
    /// What is wrong and where, a sentence.
    pub message: String,
    /// What is allowed and what to do.
    pub remedy: String,
    /// Name of the file and its text, if the problem lies in one.
    pub source_text: Option<NamedSource<String>>,
    /// Place in the text.
    pub span: Option<SourceSpan>,
    /// Said at the place.
    pub label: String,
}

impl Diagnostic for Located {
    fn help<'a>(&'a self) -> Option<Box<dyn std::fmt::Display + 'a>> {
        (!self.remedy.is_empty()).then(|| Box::new(&self.remedy) as Box<dyn std::fmt::Display>)
    }

    fn source_code(&self) -> Option<&dyn miette::SourceCode> {
        self.span.and(self.source_text.as_ref()).map(|text| text as &dyn miette::SourceCode)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        let span = self.span?;
        let label = (!self.label.is_empty()).then(|| self.label.clone());
        Some(Box::new(std::iter::once(LabeledSpan::new_with_span(label, span))))
    }
}

impl Failure {
    /// Bad input without a place in a text.
    pub fn input(message: impl Into<String>, remedy: impl Into<String>) -> Self {
        let located = Located { message: message.into(), remedy: remedy.into(), source_text: None, span: None, label: String::new() };
        Self::Input { problems: vec![located] }
    }

    /// The machine would not.
    pub fn machine(message: impl Into<String>) -> Self {
        Self::Machine(message.into())
    }

    /// Tells it on stderr.
    pub fn tell(&self) {
        match self {
            Self::Input { problems } => tell_problems(problems),
            Self::Machine(message) | Self::CalledOff(message) => eprintln!("{message}"),
            Self::Told => {}
        }
    }

    /// 2 for bad input, 1 for the machine, 130 for what was called off.
    pub fn exit_code(&self) -> ExitCode {
        match self {
            Self::Input { .. } | Self::Told => ExitCode::from(BAD_INPUT),
            Self::Machine(_) => ExitCode::FAILURE,
            Self::CalledOff(_) => ExitCode::from(CALLED_OFF),
        }
    }
}

impl From<works::WorksError> for Failure {
    fn from(error: works::WorksError) -> Self {
        match error {
            works::WorksError::Cancelled => Self::CalledOff(error.to_string()),
            other => Self::input(other.to_string(), ""),
        }
    }
}

fn tell_problems(problems: &[Located]) {
    let coloured = std::io::stderr().is_terminal() && std::env::var_os("NO_COLOR").is_none();
    let theme = if coloured { GraphicalTheme::unicode() } else { GraphicalTheme::unicode_nocolor() };
    let handler = GraphicalReportHandler::new_themed(theme).with_width(100).with_links(false);
    for problem in problems {
        let mut text = String::new();
        match handler.render_report(&mut text, problem) {
            Ok(()) => eprintln!("{}", text.trim_end()),
            Err(_) => eprintln!("{}\n{}", problem.message, problem.remedy),
        }
    }
    if problems.len() > 1 {
        eprintln!("\n{} problems; nothing was planned and nothing was written.", problems.len());
    }
}
