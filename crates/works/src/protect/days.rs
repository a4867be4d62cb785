//! The days of a course: for each day from the first, whether it is worked and how far the site's clock runs ahead of the weather's. Worked out once, so
//! that following a wall costs no calendar arithmetic.

use jiff::civil::Date;

use crate::calendar::{WorkingTime, add_days};

/// One day.
#[derive(Clone, Copy, Debug)]
struct Day {
    closed: bool,
    /// Hours by which the site's civil clock runs ahead of the weather's.
    ahead_h: i64,
}

/// Consecutive days from a first one.
#[derive(Clone, Debug)]
pub(crate) struct Days {
    pub(crate) first: Date,
    /// First, and one past the last, hour of the civil day that is worked.
    pub(crate) from: usize,
    pub(crate) to: usize,
    days: Vec<Day>,
}

impl Days {
    pub(crate) fn new(time: &WorkingTime, first: Date, count: usize, utc_offset_h: f64) -> Self {
        let day = |number: usize| {
            let date = add_days(first, i64::try_from(number).unwrap_or(i64::MAX));
            Day { closed: time.closed(date).is_some(), ahead_h: time.ahead_h(date, utc_offset_h) }
        };
        Self { first, from: time.from, to: time.to, days: (0..count.max(1)).map(day).collect() }
    }

    fn day(&self, number: usize) -> Day {
        self.days[number.min(self.days.len() - 1)]
    }

    /// How many days there are.
    pub(crate) fn count(&self) -> usize {
        self.days.len()
    }

    /// Whether nobody works on a day.
    pub(crate) fn closed(&self, day: usize) -> bool {
        self.day(day).closed
    }

    /// Hours from the first day's midnight, in the weather's time, at which a civil hour of a day begins.
    pub(crate) fn hour(&self, day: usize, civil: usize) -> usize {
        let hour = (day * 24 + civil) as i64 - self.day(day).ahead_h;
        usize::try_from(hour).unwrap_or(0)
    }

    /// Day and civil hour of an hour counted from the first day's midnight in the weather's time.
    pub(crate) fn civil(&self, hour: usize) -> (usize, usize) {
        let civil = hour as i64 + self.day(hour / 24).ahead_h;
        let civil = usize::try_from(civil).unwrap_or(0);
        (civil / 24, civil % 24)
    }

    /// The date of a day.
    pub(crate) fn date(&self, day: usize) -> Date {
        add_days(self.first, i64::try_from(day).unwrap_or(i64::MAX))
    }

    /// The next worked day after a day.
    pub(crate) fn next_open(&self, day: usize) -> usize {
        (day + 1..day + 120).find(|&next| !self.closed(next)).unwrap_or(day + 1)
    }
}
