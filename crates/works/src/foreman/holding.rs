//! Visits: a gang that is away is held back a few days where the next piece of another wall is expected soon and one visit costs more than the days held.
//! What is expected is read off what was seen of the coat so far. It must never look at weather the foreman does not know.

use jiff::civil::Date;
use survey::Slug;

use super::Foreman;
use crate::book::Held;
use crate::calendar::{Half, add_days, days_between};
use crate::sheet::{Step, Work};
use crate::site::Site;
use crate::specify::days_until_frost;
use crate::visits::{Holding, VISIT_GAP_DAYS};
use crate::{HeldVisit, WaitReason};

impl Foreman<'_> {
    /// Whether a gang is held back this half-day, and so for the day: once held it does not come at noon either.
    pub(super) fn held_back(
        &mut self,
        gang: usize,
        now: (Date, Half),
        obstacles: &[Option<WaitReason>],
        taken: &[bool],
        site: &dyn Site,
    ) -> bool {
        if self.gangs[gang].held_today.is_none() {
            self.gangs[gang].held_today = self.hold(gang, now, obstacles, taken, site);
        }
        self.gangs[gang].held_today.is_some()
    }

    /// Whether a wall's work is ready and waits for another wall.
    pub(super) fn is_held_back(&self, wall: usize) -> bool {
        self.gangs.iter().filter_map(|gang| gang.held_today.as_ref()).any(|held| held.ready.contains(&wall))
    }

    /// Writes down, when the day is over, which gangs were held back; one whose work another gang did was not wanted at all.
    pub(super) fn note_held(&mut self, date: Date) {
        for (book, gang) in self.gangs.iter_mut().zip(&self.sheet.gangs) {
            let Some(Held { ready, other }) = book.held_today.take() else { continue };
            if ready.iter().all(|&wall| self.walls[wall].worked_today) {
                continue;
            }
            let slugs = ready.into_iter().chain([other]).map(|wall| self.sheet.walls[wall].slug.clone());
            let came = book.days.last().map(|&(day, _)| day);
            match book.held.last_mut().filter(|held| came < Some(held.from)) {
                Some(held) => {
                    held.to = date;
                    held.days += 1;
                    for slug in slugs {
                        if !held.walls.contains(&slug) {
                            held.walls.push(slug);
                        }
                    }
                }
                None => held_first(&mut book.held, gang.name.clone(), date, slugs.collect()),
            }
        }
    }

    /// For a gang that is away and may be held back longer: by what, and for how many working days more.
    pub(super) fn away(&self, gang: usize, date: Date) -> Option<(&Holding, i64)> {
        let holding = self.sheet.holding.as_ref().filter(|holding| holding.leaves(gang))?;
        let book = &self.gangs[gang];
        let came = book.days.last().map(|&(day, _)| day)?;
        let held = book.held.last().filter(|held| came < held.from).map_or(0, |held| held.days);
        let left = i64::from(holding.most_days.saturating_sub(held));
        (days_between(came, date) > VISIT_GAP_DAYS && left > 0).then_some((holding, left))
    }

    /// From what a gang is held back: it is away, what it would come for can wait, and another wall is expected so soon that the visit saved is worth more
    /// than the days held.
    pub(super) fn hold(
        &self,
        gang: usize,
        (date, half): (Date, Half),
        obstacles: &[Option<WaitReason>],
        taken: &[bool],
        site: &dyn Site,
    ) -> Option<Held> {
        let (holding, left) = self.away(gang, date)?;
        let others = |wall: usize| self.walls[wall].current.is_some_and(|current| current.gang != gang);
        let mine = |wall: &usize| self.may_do(gang, *wall) && !taken[*wall] && !self.all_done(*wall) && !others(*wall);
        let ready: Vec<usize> = (0..self.walls.len()).filter(mine).filter(|&wall| obstacles[wall].is_none()).collect();
        let begun = ready.iter().any(|&wall| self.walls[wall].current.is_some());
        if begun || ready.is_empty() || !self.can_wait(&ready, date, left, site) {
            return None;
        }
        let awaited = (0..self.walls.len()).filter(mine).filter(|&wall| curing(obstacles[wall]));
        let worth = |other: usize| self.days_held(holding, gang, (date, half), &ready, other, left).map(|days| (days, other));
        let (_, other) = awaited.filter_map(worth).min()?;
        Some(Held { ready, other })
    }

    /// Working days to hold ready work until another wall can be done on the same visit; `None` where it is not worth it, or comes on the same visit anyhow.
    fn days_held(
        &self,
        holding: &Holding,
        gang: usize,
        (date, half): (Date, Half),
        ready: &[usize],
        other: usize,
        left: i64,
    ) -> Option<i64> {
        let expected = self.open_on(add_days(date, self.walls[other].days_to_ready()?.max(1)))?;
        let halves = |wall: usize| self.sheet.half_days(gang, self.next(wall));
        let work: u32 = ready.iter().map(|&wall| halves(wall)).sum();
        if days_between(self.ends(date, half, work)?, expected) <= VISIT_GAP_DAYS {
            return None;
        }
        let mut start = date;
        for days in 1..=left {
            start = self.open_on(add_days(start, 1))?;
            let follows = self.open_on(add_days(self.ends(start, Half::Morning, work)?, 1))?;
            if expected > follows {
                continue;
            }
            let in_time = ready.iter().all(|&wall| {
                let step = self.next(wall);
                let whole = matches!(step.work, Work::Coat(_)) && !step.is_in_bays();
                !whole || self.ends_in_time(gang, wall, step, (start, Half::Morning))
            });
            let soonest = ready.iter().map(|&wall| add_days(date, self.least_days_left(wall))).max()?;
            let cost = holding.cost(ready, days_between(date, start), soonest);
            return (in_time && holding.saved(gang, work, halves(other)) > cost).then_some(days);
        }
        None
    }

    /// Nothing is lost by waiting: the season is long enough, and the weather of the next working day is fit too.
    fn can_wait(&self, ready: &[usize], date: Date, most: i64, site: &dyn Site) -> bool {
        let Some(next) = self.open_on(add_days(date, 1)) else { return false };
        ready.iter().all(|&wall| {
            let work = self.next(wall).work;
            let last = self.sheet.walls[wall].coats.last().map_or(0.0, |coat| coat.least_wait_days).ceil() as i64;
            let season = i64::from(days_until_frost(date)) > self.least_days_left(wall) + last + 2 * most;
            let fit = work == Work::Preparation || site.unfit(wall, work, next, Half::Morning).is_none();
            season && fit
        })
    }

    /// Days that the waits between the pieces of work still to do on a wall take at the least.
    fn least_days_left(&self, wall: usize) -> i64 {
        let sheet = &self.sheet.walls[wall];
        let wait = |pair: &[Step]| match (pair[0].work, pair[1].work) {
            (Work::Coat(_), Work::Limewash(_)) => sheet.limewash_wait_days as f64,
            (Work::Coat(coat), _) => sheet.coats[coat].least_wait_days,
            (Work::Limewash(_), _) => sheet.limewash_gap_days as f64,
            (Work::Preparation | Work::TiePatches, _) => 0.0,
        };
        sheet.steps[self.walls[wall].done.len()..].windows(2).map(wait).sum::<f64>().ceil() as i64
    }

    fn open_on(&self, date: Date) -> Option<Date> {
        self.sheet.time.on_or_after(date).ok()
    }

    /// The last day of so many half-days of work begun on a half-day.
    fn ends(&self, date: Date, half: Half, halves: u32) -> Option<Date> {
        let mut day = date;
        let whole = if half == Half::Afternoon { halves + 1 } else { halves };
        for _ in 1..whole.div_ceil(2) {
            day = self.open_on(add_days(day, 1))?;
        }
        Some(day)
    }
}

fn held_first(held: &mut Vec<HeldVisit>, gang: String, date: Date, walls: Vec<Slug>) {
    held.push(HeldVisit { gang, from: date, to: date, days: 1, walls });
}

/// The coat beneath holds the wall, and nothing else.
fn curing(obstacle: Option<WaitReason>) -> bool {
    matches!(obstacle, Some(WaitReason::Carbonation | WaitReason::Firmness | WaitReason::LeastAge | WaitReason::TooWet))
}
