//! A wall freed of an impermeable covering: when it came off, and how far the stone had dried when the first coat went on. It must never judge whether the wall is
//! dry enough: the site does.

use jiff::civil::Date;

use super::Foreman;
use crate::Freed;
use crate::site::{Act, Site};

impl Foreman<'_> {
    /// The preparation is done: an impermeable covering has come off with it.
    pub(super) fn set_free(&mut self, wall: usize, date: Date, site: &mut dyn Site) -> Result<(), String> {
        if !self.sheet.walls[wall].freed {
            return Ok(());
        }
        site.act(wall, Act::Strip, date)?;
        self.walls[wall].freed = site.wetness(wall).map(|wet_then| Freed { stripped: date, wet_then, coated: None });
        Ok(())
    }

    /// The first coat is about to go on; one laid again changes nothing.
    pub(super) fn dried(&mut self, wall: usize, date: Date, site: &dyn Site) {
        if let Some(freed) = &mut self.walls[wall].freed
            && freed.coated.is_none()
        {
            freed.coated = site.wetness(wall).map(|wet| (date, wet));
        }
    }
}
