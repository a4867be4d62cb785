//! The scaffold as the foreman has it: put up by one crew of scaffolders, shared out between walls, adapted before the finish, and taken down while the gang
//! makes good the tie patches. It must never say what a scaffold has to bear: its designer does.

use jiff::civil::Date;

use super::Foreman;
use crate::calendar::add_days;
use crate::sheet::Work;
use crate::site::{Act, Site};
use crate::{ScaffoldKind, ScaffoldStep, Wait};

/// Days after a coat for which nobody shifts boards before it (common practice, no source: it is tended meanwhile).
const LEFT_ALONE_DAYS: i64 = 3;

impl Foreman<'_> {
    /// Gives scaffold to walls that have none, as far as it goes round. What stands when the job begins was put up before.
    pub(super) fn share_scaffold(&mut self, date: Date) {
        let sheet = self.sheet;
        let closed = sheet.closed_until.iter().any(|(from, _)| date < *from);
        if date < sheet.scaffold_from || closed {
            return;
        }
        let standing = self.walls.iter().filter(|wall| wall.scaffold_from.is_some() && wall.scaffold_to.is_none_or(|to| date <= to));
        let free = sheet.walls_at_once.saturating_sub(standing.count());
        let without: Vec<usize> = (0..self.walls.len()).filter(|&wall| self.walls[wall].scaffold_from.is_none()).take(free).collect();
        if date == sheet.start.max(sheet.scaffold_from) {
            return self.stands_already(&without);
        }
        for wall in without {
            let (from, to) = self.scaffolders(date, sheet.walls[wall].scaffold.up_days);
            let stands = sheet.time.on_or_after(add_days(to, 1)).unwrap_or(to);
            self.keep_scaffold(wall, ScaffoldKind::Up, from, to);
            self.walls[wall].scaffold_from = Some(stands);
        }
    }

    /// The walls whose scaffold stands on its first day: put up one after the other in the working days before it.
    fn stands_already(&mut self, walls: &[usize]) {
        let sheet = self.sheet;
        let mut begun = sheet.scaffold_from;
        for &wall in walls.iter().rev() {
            let to = sheet.time.working_days_before(begun, 1);
            begun = sheet.time.working_days_before(begun, sheet.walls[wall].scaffold.up_days);
            self.keep_scaffold(wall, ScaffoldKind::Up, begun, to);
            self.walls[wall].scaffold_from = Some(sheet.scaffold_from);
        }
    }

    /// First and last of so many days on end of the crew of scaffolders, from a date on.
    fn scaffolders(&mut self, date: Date, days: u32) -> (Date, Date) {
        let (from, to) = self.working_days(self.scaffolders_from.map_or(date, |from| from.max(date)), days);
        self.scaffolders_from = Some(add_days(to, 1));
        (from, to)
    }

    /// First and last of so many working days from a date on.
    fn working_days(&self, date: Date, days: u32) -> (Date, Date) {
        let time = &self.sheet.time;
        let from = time.on_or_after(date).unwrap_or(date);
        let mut to = from;
        for _ in 1..days {
            to = time.on_or_after(add_days(to, 1)).unwrap_or(to);
        }
        (from, to)
    }

    fn keep_scaffold(&mut self, wall: usize, kind: ScaffoldKind, from: Date, to: Date) {
        self.walls[wall].scaffold.push(ScaffoldStep { kind, from, to });
    }

    /// The coat beneath the finish is done: when it has been tended, boards and ties are moved clear for the finish, once.
    pub(super) fn adapt_scaffold(&mut self, wall: usize, coat: usize, date: Date) {
        let scaffold = &self.sheet.walls[wall].scaffold;
        let adapted = self.walls[wall].scaffold.iter().any(|step| step.kind == ScaffoldKind::Adapt);
        if scaffold.adapt_before == Some(coat + 1) && !adapted {
            let (from, to) = self.working_days(add_days(date, LEFT_ALONE_DAYS), scaffold.adapt_days);
            self.keep_scaffold(wall, ScaffoldKind::Adapt, from, to);
        }
    }

    /// True while a wall's scaffold does not stand yet.
    pub(super) fn lacks_scaffold(&self, wall: usize, date: Date) -> bool {
        self.walls[wall].scaffold_from.is_none_or(|from| date < from)
    }

    /// True while a wall's scaffold is adapted for the coat that comes next.
    pub(super) fn is_adapted(&self, wall: usize, work: Work, date: Date) -> bool {
        let before_it = matches!(work, Work::Coat(coat) if self.sheet.walls[wall].scaffold.adapt_before == Some(coat));
        before_it && self.walls[wall].scaffold.iter().any(|step| step.kind == ScaffoldKind::Adapt && date <= step.to)
    }

    /// The last work is done: the scaffold comes down, begun with the tie patches.
    pub(super) fn leave(&mut self, wall: usize, date: Date, site: &mut dyn Site) -> Result<(), String> {
        let begun = self.walls[wall].done.last().map_or(date, |done| done.from);
        let (from, to) = self.scaffolders(begun, self.sheet.walls[wall].scaffold.down_days);
        let to = to.max(date);
        self.keep_scaffold(wall, ScaffoldKind::Down, from, to);
        let book = &mut self.walls[wall];
        book.scaffold_to = Some(to);
        let mut day = add_days(date, 1);
        while day < to {
            if let Some(reason) = self.sheet.time.closed(day) {
                book.waited.push(Wait { from: day, to: day, reason });
            }
            day = add_days(day, 1);
        }
        site.act(wall, Act::Leave, date)
    }
}
