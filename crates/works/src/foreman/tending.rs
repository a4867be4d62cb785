//! Coats that a policy tends: who is asked at which hour, and when what hangs comes down for good. It must never know what the policy decides by.

use jiff::civil::Date;

use super::Foreman;
use crate::calendar::add_days;
use crate::protect::Policy;
use crate::sheet::Work;
use crate::site::{Act, Site};
use crate::tending::Visit;

/// Days after which a last coat is tended no longer, ready or not (a guess: six weeks).
const LONGEST_TENDED_DAYS: i64 = 42;

impl Foreman<'_> {
    /// Asks the policies of all walls what an hour of the civil day asks for.
    pub(crate) fn tend(&mut self, date: Date, hour: usize, site: &mut dyn Site) {
        for wall in 0..self.walls.len() {
            let Some(policy) = self.tended_by(wall) else { continue };
            let ready = self.walls[wall].done.last().is_some_and(|done| done.ready.is_some());
            let visit = Visit { policy, date, hour, ready };
            match site.tend(wall, &visit, &mut self.walls[wall].tended) {
                Ok(true) => {
                    if !self.wetting_hours_today.contains(&hour) {
                        self.wetting_hours_today.push(hour);
                    }
                    self.walls[wall].wettings_today += 1;
                }
                Ok(false) => {}
                Err(why) => self.give_up(wall, &why),
            }
        }
    }

    /// The policy that tends the outermost coat of a wall on which nobody is laying the next.
    fn tended_by(&self, wall: usize) -> Option<Policy> {
        let book = &self.walls[wall];
        let done = book.done.last().filter(|_| book.current.is_none() && !book.released)?;
        let Work::Coat(coat) = done.work else { return None };
        self.sheet.walls[wall].coats[coat].protection.policy.filter(|&policy| policy != Policy::Nothing)
    }

    /// A last coat that a policy tends and no limewash follows is left to itself when it is ready.
    pub(super) fn release_tended(&mut self, wall: usize, date: Date, site: &mut dyn Site) -> Result<(), String> {
        if !self.ends_with_coat(wall) || self.tended_by(wall).is_none() {
            return Ok(());
        }
        let laid = self.walls[wall].done.last().map_or(date, |done| done.to);
        let seen = site.seen(wall, date)?;
        self.walls[wall].note_ready(date, &seen);
        if (seen.hold.is_none() || date >= add_days(laid, LONGEST_TENDED_DAYS)) && self.sheet.time.closed(date).is_none() {
            site.act(wall, Act::Strike, date)?;
            self.walls[wall].tended.hung = None;
            self.walls[wall].released = true;
            self.walls[wall].worked();
        }
        Ok(())
    }

    /// Takes down what a policy hung before a coat, for the next; a shelter stays.
    pub(super) fn strike_tended(&mut self, wall: usize, date: Date, site: &mut dyn Site) -> Result<(), String> {
        if self.walls[wall].tended.hung.take_if(|screen| screen.is_cloth()).is_some() {
            site.act(wall, Act::Strike, date)?;
        }
        Ok(())
    }

    /// Whether a policy still tends the outermost coat of a wall.
    pub(super) fn stays_tended(&self, wall: usize) -> bool {
        self.tended_by(wall).is_some()
    }
}
