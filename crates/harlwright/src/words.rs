//! Words for the terminal: dates, wrapping, headings. Colour only where a terminal shows it and nobody asked for none.

use std::io::IsTerminal;

use jiff::civil::Date;
use owo_colors::OwoColorize;
use reckoning::Caution;

/// Widest line written.
const WIDEST: usize = 96;

/// Width of lines: the terminal's, up to what reads well.
pub fn width() -> usize {
    let columns = std::env::var("COLUMNS").ok().and_then(|text| text.parse().ok()).unwrap_or(WIDEST);
    columns.clamp(48, WIDEST)
}

/// A date as people say it: "Tuesday 27 April 2027".
pub fn long_date(date: Date) -> String {
    date.strftime("%A %-d %B %Y").to_string()
}

/// A date without the year: "Tue 27 Apr".
pub fn short_date(date: Date) -> String {
    date.strftime("%a %-d %b").to_string()
}

/// `text` wrapped, its lines after the first set in by `hang` blanks.
pub fn wrapped(text: &str, hang: usize) -> String {
    let indent = " ".repeat(hang);
    textwrap::fill(text, options().subsequent_indent(&indent))
}

/// Wrapping that never breaks a word, a date or a path at its hyphens.
pub fn options<'a>() -> textwrap::Options<'a> {
    textwrap::Options::new(width())
        .break_words(false)
        .word_separator(textwrap::WordSeparator::AsciiSpace)
        .word_splitter(textwrap::WordSplitter::NoHyphenation)
}

/// A heading.
pub fn heading(text: &str) -> String {
    if coloured() { text.bold().to_string() } else { text.to_owned() }
}

/// Words that ask for action.
pub fn urgent(text: &str) -> String {
    if coloured() { text.bold().yellow().to_string() } else { text.to_owned() }
}

fn coloured() -> bool {
    std::io::stdout().is_terminal() && std::env::var_os("NO_COLOR").is_none()
}

/// `text` with the cautions its own words call for, and those `output` always shows, under it.
pub fn with_cautions(text: &str, cautions: &[Caution], output: &str) -> String {
    let due = cautions.iter().filter(|caution| caution.is_always_shown_in(output) || caution.is_called_for_by(text));
    let lines: String = due.map(|caution| format!("  {}\n", wrapped(&caution.words, 4))).collect();
    if lines.is_empty() { text.to_owned() } else { format!("{}\n\n{}\n{lines}", text.trim_end(), heading("Take care")) }
}
