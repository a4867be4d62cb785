//! The season by common practice: when frost is to be reckoned with, and when a coat could be placed at the earliest. Weather is no input here: the
//! programme's odds go before these dates wherever there is weather.

use jiff::civil::{Date, date};
use jiff::{Span, Unit};
use survey::Survey;

use crate::sheet::days_of_m2;
use crate::{CoatKind, CoatSpecification, Inputs};

/// First and last day of the frost season of a cool wet northern climate, (month, day): common practice, no source (no work with air lime from October
/// to March is often printed; first frosts mid October, last early April). In the south it is shifted by half a year by the user's own judgement.
pub const FROST_SEASON: ((i8, i8), (i8, i8)) = ((10, 15), (4, 5));

/// The season of frost as said in a sentence: "15 October to 5 April".
pub(crate) fn frost_season() -> String {
    let ((from_month, from_day), (to_month, to_day)) = FROST_SEASON;
    let said = |month, day| date(2001, month, day).strftime("%-d %B").to_string();
    format!("{} to {}", said(from_month, from_day), said(to_month, to_day))
}

/// Days from a date until the frost season begins; nought within it.
pub(crate) fn days_until_frost(day: Date) -> i32 {
    let ((from_month, from_day), (to_month, to_day)) = FROST_SEASON;
    let begins = date(day.year(), from_month, from_day);
    let ends = date(day.year(), to_month, to_day);
    if day >= begins || day <= ends {
        return 0;
    }
    days_between(day, begins)
}

/// Whole days from one date to another.
pub(crate) fn days_between(from: Date, to: Date) -> i32 {
    from.until((Unit::Day, to)).map_or(0, |span| span.get_days())
}

/// A date so many days later; the last representable one beyond that.
pub(crate) fn later(day: Date, days: i32) -> Date {
    day.checked_add(Span::new().days(days)).unwrap_or(Date::MAX)
}

/// A date so many days earlier; the first representable one beyond that.
pub(crate) fn earlier(day: Date, days: i32) -> Date {
    day.checked_sub(Span::new().days(days)).unwrap_or(Date::MIN)
}

/// Earliest day by rule on which the last coat of a wall could be placed: the start, the least waits before it, and the gangs' days on the coats before.
pub(crate) fn last_coat_on(survey: &Survey, inputs: &Inputs, coats: &[CoatSpecification]) -> Date {
    let Some((_, before)) = coats.split_last() else { return inputs.window.start };
    let waits: f64 = before.iter().map(|coat| coat.least_wait_days).sum();
    let area_m2: f64 = survey.walls.iter().map(|wall| wall.net_m2).sum();
    let gangs = inputs.gangs.len().max(1) as f64;
    let placing: f64 = before.iter().map(|coat| area_m2 / output_m2(inputs, coat.kind) / gangs).sum();
    // Walls are thrown in turn, so that waits and placing overlap: the longer of the two governs.
    let days = waits.max(placing * 7.0 / inputs.calendar.days.len().max(1) as f64);
    later(inputs.window.start, days.clamp(0.0, 3650.0).ceil() as i32)
}

/// Output of a gang on a coat, m² a day, at least one.
pub(crate) fn output_m2(inputs: &Inputs, kind: CoatKind) -> f64 {
    let output = 1.0 / days_of_m2(&inputs.rates, kind);
    output.max(1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_frost_season_runs_over_the_new_year() {
        assert_eq!(days_until_frost(date(2026, 1, 20)), 0);
        assert_eq!(days_until_frost(date(2026, 12, 1)), 0);
        assert_eq!(days_until_frost(date(2026, 10, 5)), 10);
        assert_eq!(days_until_frost(date(2026, 4, 15)), 183);
    }
}
