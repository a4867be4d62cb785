//! Words of the pages: dates as people say them, and what the documents say already.

use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;

pub use documents::words::{capital, count, counted, millimetres as mm, mix, trimmed};

/// "Tue 27 April".
pub fn day(date: Date) -> String {
    date.strftime("%a %-d %B").to_string()
}

/// "Tuesday 27 April 2027".
pub fn long_day(date: Date) -> String {
    date.strftime("%A %-d %B %Y").to_string()
}

/// "Tue 27 April" or "Tue 27 April to Wed 28 April".
pub fn span(from: Date, to: Date) -> String {
    documents::words::span(from, to)
}

/// A moment of the book, UTC, as said at the machine's own time: "27 November 2026, 11:40".
pub fn moment(at: &str) -> String {
    let here = |stamp: Timestamp| stamp.to_zoned_datetime(TimeZone::system()).strftime("%-d %B %Y, %H:%M").to_string();
    at.parse::<Timestamp>().map_or_else(|_| at.to_owned(), here)
}
