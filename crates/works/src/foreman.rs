//! The foreman of one weather year: each half-day he sends the gangs to the first wall in the order of the job whose next piece of work is ready and
//! fit, hangs and wets and strikes the covers by the specification's rule, and writes down why every other wall waited. He optimises nothing.

use jiff::civil::Date;

use crate::calendar::{Half, add_days};
use crate::sheet::{JobSheet, Work, hangs};
use crate::site::{Act, Seen, Site};
use crate::{DayRecord, Wait, WaitReason};

/// A coat that is not ready, or a wall that finds no fit day, in this many days is not finished this season.
pub(crate) const SEASON_DAYS: u32 = 120;
/// No job is followed for longer than this many days from its start.
pub(crate) const LONGEST_JOB_DAYS: i64 = 1000;

/// A piece of work as it was done.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Done {
    pub(crate) work: Work,
    pub(crate) gang: usize,
    pub(crate) from: Date,
    pub(crate) to: Date,
    pub(crate) half_days: u32,
    pub(crate) ready: Option<Date>,
    pub(crate) decides: String,
    pub(crate) waited: Vec<Wait>,
    pub(crate) damping_visits: u32,
}

/// A wall in the foreman's book.
#[derive(Clone, Debug, Default)]
pub(crate) struct WallBook {
    pub(crate) done: Vec<Done>,
    pub(crate) days: Vec<DayRecord>,
    pub(crate) scaffold_from: Option<Date>,
    pub(crate) scaffold_to: Option<Date>,
    /// Waits gathered since the last piece of work was finished.
    waited: Vec<Wait>,
    current: Option<Current>,
    hung: Option<Hung>,
    placed_this_half: Option<usize>,
    worked_today: bool,
    reason_today: Option<WaitReason>,
    wettings_today: u32,
    held_days: u32,
}

#[derive(Clone, Copy, Debug)]
struct Current {
    gang: usize,
    from: Date,
    half_days: u32,
    left: u32,
}

#[derive(Clone, Copy, Debug)]
struct Hung {
    coat: usize,
    since: Date,
}

/// A gang in the foreman's book.
#[derive(Clone, Debug, Default)]
pub(crate) struct GangBook {
    /// Days with work, each with its half-days.
    pub(crate) days: Vec<(Date, u32)>,
}

/// The foreman.
pub(crate) struct Foreman<'a> {
    sheet: &'a JobSheet,
    pub(crate) walls: Vec<WallBook>,
    pub(crate) gangs: Vec<GangBook>,
    pub(crate) damping_visits: u32,
    pub(crate) unfinished: Option<String>,
    wetting_hours_today: Vec<usize>,
}

impl<'a> Foreman<'a> {
    pub(crate) fn new(sheet: &'a JobSheet) -> Self {
        Self {
            sheet,
            walls: vec![WallBook::default(); sheet.walls.len()],
            gangs: vec![GangBook::default(); sheet.gangs.len()],
            damping_visits: 0,
            unfinished: None,
            wetting_hours_today: Vec::new(),
        }
    }

    /// True when nothing more will be done.
    pub(crate) fn over(&self) -> bool {
        self.unfinished.is_some() || (0..self.walls.len()).all(|wall| self.finished(wall))
    }

    fn finished(&self, wall: usize) -> bool {
        self.walls[wall].done.len() == self.sheet.walls[wall].steps.len()
    }

    /// Before work: scaffold is shared out, ready coats are noted, covers whose days are over come down.
    pub(crate) fn morning(&mut self, date: Date, site: &mut dyn Site) {
        self.share_scaffold(date);
        for wall in 0..self.walls.len() {
            if let Err(why) = self.look_at(wall, date, site) {
                self.give_up(wall, &why);
            }
        }
    }

    fn share_scaffold(&mut self, date: Date) {
        if date < self.sheet.scaffold_from {
            return;
        }
        let mut standing = self.walls.iter().filter(|wall| wall.scaffold_from.is_some() && wall.scaffold_to.is_none()).count();
        for wall in &mut self.walls {
            if wall.scaffold_from.is_none() && standing < self.sheet.walls_at_once {
                // What stands before the job begins is hired from the day it stands.
                let first = if date == self.sheet.start { self.sheet.scaffold_from } else { date };
                wall.scaffold_from = Some(first);
                standing += 1;
            }
        }
    }

    fn look_at(&mut self, wall: usize, date: Date, site: &mut dyn Site) -> Result<(), String> {
        if self.finished(wall) {
            return Ok(());
        }
        let coated = matches!(self.walls[wall].done.last(), Some(Done { work: Work::Coat(_), .. }));
        let mut cover_done = false;
        if coated && self.walls[wall].current.is_none() {
            let seen = site.seen(wall, date)?;
            cover_done = seen.hold.is_none() || seen.only_wet;
            self.walls[wall].note_ready(date, &seen);
        }
        if let Some(hung) = self.walls[wall].hung {
            let days = i64::from(self.sheet.walls[wall].coats[hung.coat].protection.days);
            if date >= add_days(hung.since, days) || cover_done {
                self.strike(wall, date, site)?;
            }
        }
        Ok(())
    }

    fn strike(&mut self, wall: usize, date: Date, site: &mut dyn Site) -> Result<(), String> {
        if self.walls[wall].hung.take().is_some() {
            site.act(wall, Act::Strike, date)?;
        }
        Ok(())
    }

    /// A half-day: every gang takes the first wall it can work on; the others note why they wait.
    pub(crate) fn work(&mut self, date: Date, half: Half, site: &mut dyn Site) {
        if self.unfinished.is_some() {
            return;
        }
        let closed = self.sheet.time.closed(date);
        let mut obstacles = Vec::with_capacity(self.walls.len());
        for wall in 0..self.walls.len() {
            match self.obstacle(wall, date, half, closed, site) {
                Ok(obstacle) => obstacles.push(obstacle),
                Err(why) => return self.give_up(wall, &why),
            }
        }
        let mut taken = vec![false; self.walls.len()];
        if closed.is_none() {
            for gang in 0..self.gangs.len() {
                if let Some(wall) = self.choose(gang, &obstacles, &taken) {
                    taken[wall] = true;
                    if let Err(why) = self.do_half_day(gang, wall, date, site) {
                        return self.give_up(wall, &why);
                    }
                }
            }
        }
        for (wall, obstacle) in obstacles.into_iter().enumerate() {
            if !taken[wall] && self.walls[wall].reason_today.is_none() {
                self.walls[wall].reason_today = obstacle;
            }
        }
    }

    /// A wall the gang has begun comes first, then the first wall in order that nobody has begun.
    fn choose(&self, gang: usize, obstacles: &[Option<WaitReason>], taken: &[bool]) -> Option<usize> {
        let free = |wall: usize| !taken[wall] && obstacles[wall].is_none() && !self.finished(wall);
        let begun = |wall: usize| self.walls[wall].current.map(|current| current.gang);
        let all = 0..self.walls.len();
        all.clone()
            .find(|&wall| free(wall) && begun(wall) == Some(gang))
            .or_else(|| all.clone().find(|&wall| free(wall) && begun(wall).is_none()))
    }

    /// Why a wall's next piece of work cannot be done this half-day, the reason that would hold longest first: scaffold, approval, the coat
    /// beneath, the calendar, the weather.
    fn obstacle(
        &self,
        wall: usize,
        date: Date,
        half: Half,
        closed: Option<WaitReason>,
        site: &dyn Site,
    ) -> Result<Option<WaitReason>, String> {
        if self.finished(wall) {
            return Ok(None);
        }
        let book = &self.walls[wall];
        let step = self.sheet.walls[wall].steps[book.done.len()];
        if book.current.is_none() {
            if book.scaffold_from.is_none() {
                return Ok(Some(WaitReason::Scaffold));
            }
            if matches!(step.work, Work::Coat(0)) && date < self.sheet.approved_from {
                return Ok(Some(WaitReason::Approval));
            }
            if let Some(reason) = self.held_by_coat_beneath(wall, step.work, date, site)? {
                return Ok(Some(reason));
            }
        }
        if closed.is_some() || step.work == Work::Preparation {
            return Ok(closed);
        }
        Ok(site.unfit(wall, step.work, date, half))
    }

    fn held_by_coat_beneath(&self, wall: usize, work: Work, date: Date, site: &dyn Site) -> Result<Option<WaitReason>, String> {
        let Some(last) = self.walls[wall].done.last() else { return Ok(None) };
        let sheet = &self.sheet.walls[wall];
        match (last.work, work) {
            (Work::Preparation, Work::Coat(_)) => Ok(site.seen(wall, date)?.hold),
            (Work::Coat(_), Work::Limewash(_)) if date < add_days(last.to, sheet.limewash_wait_days) => Ok(Some(WaitReason::LeastAge)),
            (Work::Coat(_), _) => Ok(site.seen(wall, date)?.hold),
            (Work::Limewash(_), Work::Limewash(_)) if date < add_days(last.from, sheet.limewash_gap_days) => Ok(Some(WaitReason::LeastAge)),
            _ => Ok(None),
        }
    }

    fn do_half_day(&mut self, gang: usize, wall: usize, date: Date, site: &mut dyn Site) -> Result<(), String> {
        let step = self.sheet.walls[wall].steps[self.walls[wall].done.len()];
        if step.work != Work::Preparation {
            // Ready at noon that was not in the morning.
            if self.walls[wall].current.is_none() && self.walls[wall].done.last().is_some_and(|done| matches!(done.work, Work::Coat(_))) {
                let seen = site.seen(wall, date)?;
                self.walls[wall].note_ready(date, &seen);
            }
            self.strike(wall, date, site)?;
        }
        let fresh = self.sheet.half_days(gang, step);
        let book = &mut self.walls[wall];
        let mut current = book.current.unwrap_or(Current { gang, from: date, half_days: fresh, left: fresh });
        current.left -= 1;
        book.worked_today = true;
        book.held_days = 0;
        book.current = Some(current);
        match self.gangs[gang].days.last_mut() {
            Some((day, halves)) if *day == date => *halves += 1,
            _ => self.gangs[gang].days.push((date, 1)),
        }
        if current.left > 0 {
            return Ok(());
        }
        // The wall is one column: it stands for the part placed last, which is ready last.
        if let Work::Coat(coat) = step.work {
            site.act(wall, Act::Place(coat), date)?;
            self.walls[wall].placed_this_half = Some(coat);
        }
        self.finish_step(wall, step.work, current, date);
        if self.finished(wall) {
            self.walls[wall].scaffold_to = Some(date);
            site.act(wall, Act::Leave, date)?;
        }
        Ok(())
    }

    fn finish_step(&mut self, wall: usize, work: Work, current: Current, date: Date) {
        let book = &mut self.walls[wall];
        book.current = None;
        let waited = std::mem::take(&mut book.waited);
        book.done.push(Done {
            work,
            gang: current.gang,
            from: current.from,
            to: date,
            half_days: current.half_days,
            ready: None,
            decides: String::new(),
            waited,
            damping_visits: 0,
        });
    }

    /// After a half-day: what was placed in it is covered.
    pub(crate) fn after_half(&mut self, date: Date, site: &mut dyn Site) {
        for wall in 0..self.walls.len() {
            let Some(coat) = self.walls[wall].placed_this_half.take() else { continue };
            if !hangs(&self.sheet.walls[wall].coats[coat].protection) {
                continue;
            }
            self.walls[wall].hung = Some(Hung { coat, since: date });
            if let Err(why) = site.act(wall, Act::Hang(coat), date) {
                self.give_up(wall, &why);
            }
        }
    }

    /// Wets every cloth whose rule asks for it at this hour of the civil day.
    pub(crate) fn wet(&mut self, date: Date, hour: usize, site: &mut dyn Site) {
        for wall in 0..self.walls.len() {
            let Some(hung) = self.walls[wall].hung else { continue };
            let rule = &self.sheet.walls[wall].coats[hung.coat].protection;
            // It is hung soaked: the wettings begin the day after and go on for the days it is kept damp.
            let damp_until = add_days(hung.since, i64::from(rule.damp_days));
            if date == hung.since || date > damp_until || !wetting_hours(rule.wettings_a_day, &self.sheet.time).contains(&hour) {
                continue;
            }
            if !self.wetting_hours_today.contains(&hour) {
                self.wetting_hours_today.push(hour);
            }
            self.walls[wall].wettings_today += 1;
            if let Err(why) = site.act(wall, Act::Wet, date) {
                self.give_up(wall, &why);
            }
        }
    }

    /// The end of a day: waits and records are written down. A wetting on a day without a gang on the job is a damping visit.
    pub(crate) fn close(&mut self, date: Date, site: &dyn Site) {
        let attended = self.gangs.iter().any(|gang| gang.days.last().is_some_and(|&(day, _)| day == date));
        if !attended {
            self.damping_visits += u32::try_from(self.wetting_hours_today.len()).unwrap_or(u32::MAX);
        }
        self.wetting_hours_today.clear();
        for wall in 0..self.walls.len() {
            self.close_wall(wall, date, attended, site);
        }
        for wall in 0..self.walls.len() {
            if self.unfinished.is_none() && self.walls[wall].held_days > SEASON_DAYS {
                let why = self.season_over(wall);
                self.unfinished = Some(why);
            }
        }
        if self.unfinished.is_none() && !self.over() && date >= add_days(self.sheet.start, LONGEST_JOB_DAYS) {
            self.unfinished = Some(format!("The job was not finished in {LONGEST_JOB_DAYS} days."));
        }
    }

    fn close_wall(&mut self, wall: usize, date: Date, attended: bool, site: &dyn Site) {
        let cover = self.cover(wall);
        let coated = self.walls[wall].done.iter().any(|done| matches!(done.work, Work::Coat(_)));
        let finished_before = self.finished(wall) && !self.walls[wall].worked_today;
        let book = &mut self.walls[wall];
        let wettings = std::mem::take(&mut book.wettings_today);
        if !attended && let Some(done) = book.done.last_mut() {
            done.damping_visits += wettings;
        }
        if coated
            && !finished_before
            && let Some(mut record) = site.record(wall, date)
        {
            record.cover = cover;
            record.wettings = wettings;
            book.days.push(record);
        }
        let reason = book.reason_today.take();
        if !std::mem::take(&mut book.worked_today) && !finished_before {
            let reason = reason.unwrap_or(WaitReason::GangElsewhere);
            if !matches!(reason, WaitReason::GangElsewhere | WaitReason::Scaffold | WaitReason::Approval | WaitReason::Break) {
                book.held_days += 1;
            }
            book.wait(date, reason);
        }
    }

    fn cover(&self, wall: usize) -> Option<String> {
        self.walls[wall].hung.map(|hung| self.sheet.walls[wall].coats[hung.coat].protection.cover.clone())
    }

    fn season_over(&self, wall: usize) -> String {
        let sheet = &self.sheet.walls[wall];
        let held = self.walls[wall].waited.iter().rev().find(|wait| wait.reason != WaitReason::Weekend);
        let words = held.map_or("", |wait| wait.reason.words());
        match self.walls[wall].done.last().map(|done| (done.work, done.ready)) {
            Some((Work::Coat(coat), None)) => format!(
                "{}: the {} was not ready for the next coat in {SEASON_DAYS} days (it waits {words}): not finished this season.",
                sheet.name,
                sheet.coats[coat].name.to_lowercase()
            ),
            _ => format!("{}: no fit day came in {SEASON_DAYS} days (it waits {words}): not finished this season.", sheet.name),
        }
    }

    fn give_up(&mut self, wall: usize, why: &str) {
        if self.unfinished.is_none() {
            self.unfinished = Some(format!("{}: {why}", self.sheet.walls[wall].name));
        }
    }
}

impl WallBook {
    fn wait(&mut self, date: Date, reason: WaitReason) {
        match self.waited.last_mut() {
            Some(last) if last.reason == reason && add_days(last.to, 1) == date => last.to = date,
            _ => self.waited.push(Wait { from: date, to: date, reason }),
        }
    }

    /// Notes that the last coat is ready, and gives the days it took to the rule that was met last: the others were met within them.
    fn note_ready(&mut self, date: Date, seen: &Seen) {
        if let Some(set_by) = seen.set_by {
            let waited = std::mem::take(&mut self.waited);
            for wait in waited {
                let of_the_coat = matches!(wait.reason, WaitReason::LeastAge | WaitReason::Firmness | WaitReason::Carbonation);
                let reason = if of_the_coat { set_by } else { wait.reason };
                match self.waited.last_mut() {
                    Some(last) if last.reason == reason && add_days(last.to, 1) == wait.from => last.to = wait.to,
                    _ => self.waited.push(Wait { reason, ..wait }),
                }
            }
        }
        if seen.hold.is_none()
            && let Some(done) = self.done.last_mut()
            && done.ready.is_none()
        {
            done.ready = Some(date);
            done.decides.clone_from(&seen.decides);
        }
    }

    /// Waits after the last finished piece of work, for a wall that was never finished.
    pub(crate) fn still_waiting(&self) -> &[Wait] {
        &self.waited
    }
}

/// Hours of the civil day at which a cloth is wetted: once at the start of work, twice at its start and end, more often evenly between.
pub(crate) fn wetting_hours(wettings: u32, time: &crate::calendar::WorkingTime) -> Vec<usize> {
    let last = time.to - 1;
    match wettings {
        0 => Vec::new(),
        1 => vec![time.from],
        count => {
            let gaps = count as usize - 1;
            let mut hours: Vec<usize> = (0..=gaps).map(|part| time.from + (last - time.from) * part / gaps).collect();
            hours.dedup();
            hours
        }
    }
}
