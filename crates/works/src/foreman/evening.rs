//! The evening before a coat: a thirsty wall is damped down, so that water stands in it and not only on it when the coat goes on. It must never damp a wall
//! on which nobody means to lay a coat in the morning.

use jiff::civil::Date;

use super::Foreman;
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
        let engaged = (0..self.walls.len()).filter(|&wall| self.walls[wall].current.is_some()).count();
        let mut free = self.gangs.len().saturating_sub(engaged);
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

    /// Whether a coat is expected to go on a wall next morning: it is begun, or nothing stands against it and a gang is free for it before the walls
    /// that come after it in the order of the job.
    fn goes_on(&self, wall: usize, tomorrow: Date, free: &mut usize, site: &dyn Site) -> Result<bool, String> {
        if self.all_done(wall) {
            return Ok(false);
        }
        let begun = self.walls[wall].current.is_some();
        if !begun && *free == 0 || self.obstacle(wall, tomorrow, Half::Morning, None, site)?.is_some() {
            return Ok(false);
        }
        if !begun {
            *free -= 1;
        }
        Ok(matches!(self.next(wall).work, Work::Coat(_)) && self.needs_curing(wall, add_days(tomorrow, -1)))
    }
}
