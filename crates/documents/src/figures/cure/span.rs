//! Days across a picture: weekends tinted, Mondays named, hours placed.

use jiff::civil::{Date, Weekday};

use super::super::{Canvas, Hand, Theme};
use crate::words;

/// Days from a midnight on, laid across a picture.
#[derive(Clone, Copy, Debug)]
pub(super) struct Span {
    pub(super) from: Date,
    pub(super) days: usize,
    pub(super) left: f64,
    pub(super) right: f64,
}

impl Span {
    /// Place of so many days after the first midnight.
    pub(super) fn x(&self, days: f64) -> f64 {
        self.left + (self.right - self.left) * days / self.days.max(1) as f64
    }

    /// Width of a day.
    pub(super) fn each(&self) -> f64 {
        (self.right - self.left) / self.days.max(1) as f64
    }

    /// Weekends tinted over a height.
    pub(super) fn weekends(&self, canvas: &mut Canvas, theme: &Theme, top: f64, bottom: f64) {
        for day in 0..self.days {
            let date = words::days_after(self.from, day as i64);
            if matches!(date.weekday(), Weekday::Saturday | Weekday::Sunday) {
                canvas.rect((self.x(day as f64), top), (self.each(), bottom - top), theme.tint, "none", 0.0);
            }
        }
    }

    /// A line with a tick for each day, longer and named on Mondays, and a number for the days passed; returns the foot.
    pub(super) fn axis(&self, canvas: &mut Canvas, theme: &Theme, y: f64) -> f64 {
        let size = theme.size;
        canvas.line((self.left, y), (self.right, y), theme.ink, theme.rule);
        let hand = Hand::soft(theme);
        let mut free_from = f64::NEG_INFINITY;
        for day in 0..self.days {
            let date = words::days_after(self.from, day as i64);
            let monday = date.weekday() == Weekday::Monday;
            let x = self.x(day as f64);
            if self.each() > size * 0.3 || monday {
                canvas.line((x, y), (x, y + size * if monday { 0.55 } else { 0.25 }), theme.graphite, theme.rule);
            }
            let says = words::short_day(date);
            let boxed = hand.boxed(x, y + size * 1.5, &says);
            if (monday || (day == 0 && date.weekday() != Weekday::Sunday && self.each() * 7.0 > size * 8.0))
                && boxed.left > free_from
                && boxed.right <= theme.wide
            {
                canvas.text(x, y + size * 1.5, &says, hand);
                free_from = boxed.right + size * 0.6;
            }
        }
        y + size * 1.9
    }
}
