//! The site by rule of thumb, for a job without weather: a week between coats, two when the month is cold, every working day fit.
//! Common practice, no source. It gives dates without odds.

use jiff::civil::Date;

use crate::calendar::{Half, add_days, days_between};
use crate::sheet::{JobSheet, Work};
use crate::site::{Act, Seen, Site, ToGo};
use crate::tending::{Tended, Visit};
use crate::{DayRecord, WaitReason};

/// Days between coats in a mild month (common practice, no source).
pub(crate) const WEEK_DAYS: f64 = 7.0;
/// Days between coats in a cold month (common practice, no source).
pub(crate) const FORTNIGHT_DAYS: f64 = 14.0;
/// Months counted as cold when no weather is at hand: November to March, for a place north of the tropics.
const COLD_MONTHS: [i8; 5] = [11, 12, 1, 2, 3];

/// How long a coat waits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Rule {
    /// A week, two when it is cold, and never less than the specification's least wait.
    Thumb,
    /// The specification's least wait alone: the soonest any weather allows.
    Soonest,
}

/// The site by rule of thumb.
pub(crate) struct Thumb<'a> {
    sheet: &'a JobSheet,
    rule: Rule,
    placed: Vec<Option<(usize, Date)>>,
}

impl<'a> Thumb<'a> {
    pub(crate) fn new(sheet: &'a JobSheet, rule: Rule) -> Self {
        Self { sheet, rule, placed: vec![None; sheet.walls.len()] }
    }
}

/// Days a coat placed on a date waits, and the rule in words.
fn wait(rule: Rule, least_days: f64, placed: Date) -> (i64, &'static str) {
    let cold = COLD_MONTHS.contains(&placed.month());
    let (days, words) = match rule {
        Rule::Soonest => (least_days, "the specification's least wait"),
        Rule::Thumb if cold && FORTNIGHT_DAYS >= least_days => (FORTNIGHT_DAYS, "two weeks between coats in a cold month"),
        Rule::Thumb if WEEK_DAYS >= least_days => (WEEK_DAYS, "a week between coats"),
        Rule::Thumb => (least_days, "the specification's least wait"),
    };
    (days.ceil().max(0.0) as i64, words)
}

impl Site for Thumb<'_> {
    fn seen(&self, wall: usize, date: Date) -> Result<Seen, String> {
        let Some((coat, placed)) = self.placed[wall] else {
            return Ok(Seen::default());
        };
        let (days, words) = wait(self.rule, self.sheet.walls[wall].coats[coat].least_wait_days, placed);
        let hold = (date < add_days(placed, days)).then_some(WaitReason::LeastAge);
        let to_go = Some(ToGo::aged(days_between(date, add_days(placed, days))));
        Ok(Seen { hold, decides: words.to_owned(), to_go, ..Seen::default() })
    }

    fn unfit(&self, _wall: usize, _work: Work, _date: Date, _half: Half) -> Option<WaitReason> {
        None
    }

    fn thirsty(&self, _wall: usize) -> bool {
        false
    }

    fn wetness(&self, _wall: usize) -> Option<f64> {
        None
    }

    fn tend(&mut self, _wall: usize, _visit: &Visit, _tended: &mut Tended) -> Result<bool, String> {
        Ok(false)
    }

    fn act(&mut self, wall: usize, act: Act, date: Date) -> Result<(), String> {
        if let Act::Place(coat) = act {
            self.placed[wall] = Some((coat, date));
        }
        Ok(())
    }

    fn record(&self, _wall: usize, _date: Date) -> Option<DayRecord> {
        None
    }
}
