//! The first forty-eight hours of a coat: somebody looks at it each day, wets it down and presses back what opens. The gang does it where it is on the job,
//! else whoever comes to attend. It must never count a visit twice: who comes to wet a cloth looks at the coat too.

use jiff::civil::Date;

use super::Foreman;
use crate::book::Looked;
use crate::calendar::days_between;
use crate::sheet::Work;

/// Days after a part of a coat was laid on which it is looked at (common practice, no source).
const LOOKED_AFTER_DAYS: i64 = 2;

impl Foreman<'_> {
    /// The coat of a wall of which a part was laid yesterday or the day before.
    pub(super) fn fresh_coat(&self, wall: usize, date: Date) -> Option<usize> {
        let book = &self.walls[wall];
        let fresh = |laid: Date| (1..=LOOKED_AFTER_DAYS).contains(&days_between(laid, date));
        let in_hand = book.portions.iter().any(|portion| fresh(portion.date));
        let done = book.done.last().filter(|done| done.portions.iter().any(|portion| fresh(portion.date)));
        let work =
            if in_hand { self.sheet.walls[wall].steps.get(book.done.len()).map(|step| step.work) } else { done.map(|done| done.work) };
        match work {
            Some(Work::Coat(coat)) => Some(coat),
            _ => None,
        }
    }

    /// Notes who looks at the fresh coats this day; true where somebody has to come for it.
    pub(super) fn look_at_fresh_coats(&mut self, date: Date) -> bool {
        let on_site = |gang: &usize| self.gangs[*gang].days.last().is_some_and(|&(day, _)| day == date);
        let gang = (0..self.gangs.len()).find(on_site);
        let mut any = false;
        for wall in 0..self.walls.len() {
            if let Some(coat) = self.fresh_coat(wall, date) {
                self.walls[wall].looked.push(Looked { coat, date, gang });
                self.walls[wall].looked_today = true;
                any = true;
            }
        }
        any && gang.is_none()
    }
}
