//! The evening before a coat: a thirsty wall is damped down, so that water stands in it and not only on it when the coat goes on. It must never damp a wall
//! on which nobody means to lay a coat in the morning.

use jiff::civil::Date;

use super::Foreman;
use crate::DayOffDamped;
use crate::calendar::{Half, add_days};
use crate::sheet::Work;
use crate::site::{Act, Site};

impl Foreman<'_> {
    /// Damps down every thirsty wall that is to have a coat, or more of one, next morning.
    pub(crate) fn damp_for_tomorrow(&mut self, date: Date, site: &mut dyn Site) {
        let tomorrow = add_days(date, 1);
        if self.unfinished.is_some() || self.sheet.time.closed(tomorrow).is_some() {
            return;
        }
        let mut free = match self.free_tomorrow(tomorrow, site) {
            Ok(free) => free,
            Err((wall, why)) => return self.give_up(wall, &why),
        };
        for wall in 0..self.walls.len() {
            match self.goes_on(wall, tomorrow, &mut free, site) {
                Ok(true) if site.thirsty(wall) => {
                    if let Err(why) = site.act(wall, Act::DampDown, date) {
                        self.give_up(wall, &why);
                    }
                    // Somebody is there anyhow to wet a cloth at the last hour of work.
                    let hour = self.sheet.time.to - 1;
                    if !self.wetting_hours_today.contains(&hour) {
                        self.wetting_hours_today.push(hour);
                    }
                    self.walls[wall].damped_today = true;
                }
                Ok(_) => {}
                Err(why) => self.give_up(wall, &why),
            }
        }
    }

    /// Writes down what somebody who is not paid for it damps on a day off.
    pub(super) fn damped_unpaid(&mut self, date: Date) {
        let times = |wall: usize| self.walls[wall].wettings_today.max(u32::from(self.walls[wall].damped_today));
        let walls: Vec<_> =
            (0..self.walls.len()).filter(|&wall| times(wall) > 0).map(|wall| (self.sheet.walls[wall].slug.clone(), times(wall))).collect();
        let mut hours: Vec<u32> = self.wetting_hours_today.iter().filter_map(|&hour| u32::try_from(hour).ok()).collect();
        hours.sort_unstable();
        if !walls.is_empty() {
            self.days_off_damped.push(DayOffDamped { date, walls, hours });
        }
    }

    /// The gangs that nobody expects elsewhere in the morning: those with nothing begun that are not held back.
    fn free_tomorrow(&self, tomorrow: Date, site: &dyn Site) -> Result<Vec<usize>, (usize, String)> {
        let engaged = |gang: usize| self.walls.iter().any(|wall| wall.current.is_some_and(|current| current.gang == gang));
        let mut free: Vec<usize> = (0..self.gangs.len()).filter(|&gang| !engaged(gang)).collect();
        if free.iter().any(|&gang| self.away(gang, tomorrow).is_some()) {
            let obstacle = |wall: usize| self.obstacle(wall, tomorrow, Half::Morning, None, site).map_err(|why| (wall, why));
            let obstacles = (0..self.walls.len()).map(obstacle).collect::<Result<Vec<_>, _>>()?;
            let taken = vec![false; self.walls.len()];
            free.retain(|&gang| self.hold(gang, (tomorrow, Half::Morning), &obstacles, &taken, site).is_none());
        }
        Ok(free)
    }

    /// Whether a coat is expected to go on a wall next morning: it is begun, or nothing stands against it and a gang is free for it before the walls
    /// that come after it in the order of the job.
    fn goes_on(&self, wall: usize, tomorrow: Date, free: &mut Vec<usize>, site: &dyn Site) -> Result<bool, String> {
        if self.all_done(wall) {
            return Ok(false);
        }
        let begun = self.walls[wall].current.is_some();
        let gang = free.iter().position(|&gang| self.may_do(gang, wall));
        if !begun && gang.is_none() || self.obstacle(wall, tomorrow, Half::Morning, None, site)?.is_some() {
            return Ok(false);
        }
        if !begun && let Some(gang) = gang {
            free.remove(gang);
        }
        Ok(matches!(self.next(wall).work, Work::Coat(_)) && self.needs_curing(wall, add_days(tomorrow, -1)))
    }
}
