//! A coat in its pieces: whether a gang may begin or go on this half-day, so that every bay of the finish is ended on the day it is begun. It must never
//! judge the weather itself: the site does.

use jiff::civil::Date;

use super::Foreman;
use crate::WaitReason;
use crate::calendar::Half;
use crate::pieces::HALF_DAY;
use crate::sheet::{Step, Work};
use crate::site::Site;

impl Foreman<'_> {
    /// What is left of a day after a half-day, in days: the afternoon counts only where it is fit, since a bay begun in the morning must be ended in it.
    pub(super) fn later_days(&self, wall: usize, (date, half): (Date, Half), site: &dyn Site) -> f64 {
        let step = self.next(wall);
        match half {
            Half::Afternoon => 0.0,
            Half::Morning if step.is_in_bays() && site.unfit(wall, step.work, date, Half::Afternoon).is_some() => 0.0,
            Half::Morning => HALF_DAY,
        }
    }

    /// True while a bay is in hand that has to be ended this day.
    pub(super) fn must_end_bay(&self, wall: usize) -> bool {
        self.walls[wall].progress.must_be_ended(&self.next(wall).pieces)
    }

    /// Why a gang does not begin a wall's next step, or its next bay, this half-day; `None` where it may.
    pub(super) fn held_by_time(&self, gang: usize, wall: usize, now: (Date, Half), site: &dyn Site) -> Option<WaitReason> {
        let (book, step) = (&self.walls[wall], self.next(wall));
        if !matches!(step.work, Work::Coat(_)) {
            return None;
        }
        if !self.sheet.is_able(gang, step) {
            return Some(WaitReason::GangElsewhere);
        }
        // What has to come off first fills the half-day.
        if step.is_in_bays() && book.to_take_off_days <= 0.0 && book.current.is_none_or(|current| current.off == 0) {
            return self.held_by_bay(gang, wall, now, site);
        }
        (book.current.is_none() && !self.ends_in_time(gang, wall, step, now)).then_some(WaitReason::ShortStretch)
    }

    /// The same for a wall that nobody has begun: `None` where some gang may, else what holds the first that is able.
    pub(super) fn held_for_all(&self, wall: usize, now: (Date, Half), site: &dyn Site) -> Option<WaitReason> {
        let all: Vec<Option<WaitReason>> =
            (0..self.gangs.len()).filter(|&gang| self.may_do(gang, wall)).map(|gang| self.held_by_time(gang, wall, now, site)).collect();
        let mut doing = (0..self.gangs.len()).filter(|&gang| self.may_do(gang, wall));
        let able = doing.position(|gang| self.sheet.is_able(gang, self.next(wall)));
        if all.contains(&None) { None } else { able.and_then(|gang| all[gang]).or(all.first().copied().flatten()) }
    }

    /// A bay that would not be ended this day waits: for the weather of the afternoon, or, begun too late, for whoever was elsewhere in the morning.
    fn held_by_bay(&self, gang: usize, wall: usize, now: (Date, Half), site: &dyn Site) -> Option<WaitReason> {
        let (step, pace) = (self.next(wall), self.sheet.gangs[gang].pace);
        let rest = HALF_DAY + self.later_days(wall, now, site);
        if self.walls[wall].progress.goes_on(&step.pieces, pace, rest) {
            return None;
        }
        let afternoon = if now.1 == Half::Morning { site.unfit(wall, step.work, now.0, Half::Afternoon) } else { None };
        afternoon.or(Some(WaitReason::GangElsewhere))
    }

    /// A coat that covers its own joints is not begun where a weekend or a break would break it off, unless no stretch of working days to come is long
    /// enough for it.
    pub(super) fn ends_in_time(&self, gang: usize, wall: usize, step: &Step, (date, half): (Date, Half)) -> bool {
        let wanted = self.sheet.half_days(gang, step) + self.sheet.take_off_half_days(gang, self.walls[wall].to_take_off_days);
        let time = &self.sheet.time;
        time.half_days_on_end(date, half, wanted) >= wanted || wanted > 2 * time.longest_stretch(date)
    }
}
