//! Working time: which days are worked, which hours, and dates counted in days. Pure calendar arithmetic; it must never read a clock.

use jiff::ToSpan;
use jiff::civil::{Date, Weekday};
use jiff::tz::{TimeZone, TimeZoneDatabase};

use crate::{Calendar, WaitReason, WorksError};

/// `date` moved by whole days; stays at the end of the calendar's range instead of failing.
pub(crate) fn add_days(date: Date, days: i64) -> Date {
    date.checked_add(days.days()).unwrap_or(if days < 0 { Date::MIN } else { Date::MAX })
}

/// Whole days from `from` to `to`; negative when `to` is earlier.
pub(crate) fn days_between(from: Date, to: Date) -> i64 {
    from.until(to).map_or(0, |span| i64::from(span.get_days()))
}

/// A day as said in a sentence: "Tuesday 14 July 2026".
pub(crate) fn said(date: Date) -> String {
    date.strftime("%A %-d %B %Y").to_string()
}

/// How far ahead a foreman looks for a stretch of working days long enough for a coat.
const STRETCH_SEEN_DAYS: i64 = 60;

/// Half of a working day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Half {
    Morning,
    Afternoon,
}

/// A day as said inside a longer sentence: "14 July 2026".
pub(crate) fn day(date: Date) -> String {
    date.strftime("%-d %B %Y").to_string()
}

/// The working time of the job.
#[derive(Clone, Debug)]
pub(crate) struct WorkingTime {
    days: Vec<Weekday>,
    breaks: Vec<(Date, Date)>,
    /// Whole hours of the civil day: start, middle and end of work.
    pub(crate) from: usize,
    pub(crate) middle: usize,
    pub(crate) to: usize,
    /// Paid hours of a day.
    pub(crate) hours: f64,
    zone: Option<TimeZone>,
}

impl WorkingTime {
    /// Reads the job's calendar; `zone` is the IANA name of the site's civil time (an unknown name leaves the clock unshifted).
    pub(crate) fn new(calendar: &Calendar, zone: &str) -> Result<Self, WorksError> {
        if calendar.days.is_empty() {
            return Err(WorksError::NoWorkingDays);
        }
        let from = usize::from(calendar.from.hour().unsigned_abs()) + usize::from(calendar.from.minute() >= 30);
        let to = usize::from(calendar.to.hour().unsigned_abs()) + usize::from(calendar.to.minute() >= 30);
        if to < from + 2 {
            return Err(WorksError::NoWorkingHours {
                from: calendar.from.strftime("%H:%M").to_string(),
                to: calendar.to.strftime("%H:%M").to_string(),
            });
        }
        let minutes = |time: jiff::civil::Time| f64::from(time.hour()) * 60.0 + f64::from(time.minute());
        Ok(Self {
            days: calendar.days.clone(),
            breaks: calendar.breaks.clone(),
            from,
            middle: (from + to).div_ceil(2),
            to,
            hours: (minutes(calendar.to) - minutes(calendar.from)) / 60.0,
            zone: TimeZoneDatabase::bundled().get(zone).ok(),
        })
    }

    /// Why nobody works on a day; `None` on a working day. A holiday that falls on a weekend counts as the weekend.
    pub(crate) fn closed(&self, date: Date) -> Option<WaitReason> {
        if !self.days.contains(&date.weekday()) {
            return Some(WaitReason::Weekend);
        }
        let off = self.breaks.iter().any(|&(first, last)| first <= date && date <= last);
        off.then_some(WaitReason::Break)
    }

    /// The first working day on or after a date, looking two years ahead.
    pub(crate) fn on_or_after(&self, date: Date) -> Result<Date, WorksError> {
        const LOOK_AHEAD_DAYS: i64 = 730;
        (0..=LOOK_AHEAD_DAYS)
            .map(|days| add_days(date, days))
            .find(|&day| self.closed(day).is_none())
            .ok_or(WorksError::AllBreak { from: date, to: add_days(date, LOOK_AHEAD_DAYS) })
    }

    /// The working day that lies `count` working days before a date; the date itself when the calendar has none so far back.
    pub(crate) fn working_days_before(&self, date: Date, count: u32) -> Date {
        let mut day = date;
        let mut left = count;
        for _ in 0..730 {
            if left == 0 {
                return day;
            }
            day = add_days(day, -1);
            if self.closed(day).is_none() {
                left -= 1;
            }
        }
        date
    }

    /// Half-days of work on end from a half-day on until the next closed day, counted no further than `most`.
    pub(crate) fn half_days_on_end(&self, date: Date, half: Half, most: u32) -> u32 {
        let mut halves = 0;
        let mut day = date;
        while halves < most && self.closed(day).is_none() {
            halves += if day == date && half == Half::Afternoon { 1 } else { 2 };
            day = add_days(day, 1);
        }
        halves
    }

    /// Days of the longest stretch of working days in the [`STRETCH_SEEN_DAYS`] from a date on.
    pub(crate) fn longest_stretch(&self, date: Date) -> u32 {
        let (mut longest, mut now) = (0, 0);
        for days in 0..STRETCH_SEEN_DAYS {
            now = if self.closed(add_days(date, days)).is_none() { now + 1 } else { 0 };
            longest = longest.max(now);
        }
        longest
    }

    /// Hours by which the site's civil clock runs ahead of a series kept at a fixed offset from UTC, on a day.
    pub(crate) fn ahead_h(&self, date: Date, series_utc_offset_h: f64) -> i64 {
        let Some(zone) = &self.zone else { return 0 };
        let Ok(noon) = zone.to_timestamp(date.at(12, 0, 0, 0)) else { return 0 };
        let civil_h = f64::from(zone.to_offset(noon).seconds()) / 3600.0;
        (civil_h - series_utc_offset_h).round() as i64
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used)]
    use jiff::civil::{date, time};

    use super::*;

    fn weekdays() -> Calendar {
        Calendar {
            days: vec![Weekday::Monday, Weekday::Tuesday, Weekday::Wednesday, Weekday::Thursday, Weekday::Friday],
            from: time(8, 0, 0, 0),
            to: time(16, 30, 0, 0),
            breaks: vec![(date(2026, 7, 20), date(2026, 7, 31))],
        }
    }

    #[test]
    fn closed_days_have_their_reason() {
        let time = WorkingTime::new(&weekdays(), "Europe/London").unwrap();
        assert_eq!(time.closed(date(2026, 7, 18)), Some(WaitReason::Weekend));
        assert_eq!(time.closed(date(2026, 7, 21)), Some(WaitReason::Break));
        assert_eq!(time.closed(date(2026, 7, 25)), Some(WaitReason::Weekend));
        assert_eq!(time.closed(date(2026, 8, 3)), None);
        assert_eq!(time.on_or_after(date(2026, 7, 18)).unwrap(), date(2026, 8, 3));
        assert_eq!(time.working_days_before(date(2026, 8, 4), 2), date(2026, 7, 17));
    }

    // Published: British Summer Time is one hour ahead of UTC from the last Sunday of March to the last of October (Summer Time Act 1972).
    #[test]
    fn civil_time_runs_ahead_in_summer() {
        let time = WorkingTime::new(&weekdays(), "Europe/London").unwrap();
        assert_eq!(time.ahead_h(date(2026, 7, 1), 0.0), 1);
        assert_eq!(time.ahead_h(date(2026, 12, 1), 0.0), 0);
        assert_eq!(WorkingTime::new(&weekdays(), "no such place").unwrap().ahead_h(date(2026, 7, 1), 0.0), 0);
    }

    #[test]
    fn empty_calendars_are_refused_in_words() {
        let none = Calendar { days: Vec::new(), ..weekdays() };
        assert_eq!(WorkingTime::new(&none, "UTC").unwrap_err(), WorksError::NoWorkingDays);
        let backwards = Calendar { from: time(16, 0, 0, 0), to: time(8, 0, 0, 0), ..weekdays() };
        assert!(matches!(WorkingTime::new(&backwards, "UTC"), Err(WorksError::NoWorkingHours { .. })));
        let all_break = Calendar { breaks: vec![(date(2020, 1, 1), date(2040, 1, 1))], ..weekdays() };
        let time = WorkingTime::new(&all_break, "UTC").unwrap();
        assert!(matches!(time.on_or_after(date(2026, 1, 1)), Err(WorksError::AllBreak { .. })));
    }
}
