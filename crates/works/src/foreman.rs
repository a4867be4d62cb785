//! The foreman of one weather year: each half-day he sends the gangs to the first wall in the order of the job whose next piece of work is ready and
//! fit, hangs and wets and strikes the covers by the specification's rule, and writes down why every other wall waited. He optimises nothing.

mod bays;
mod evening;
mod freeing;
mod giving_up;
mod holding;
mod looking;
mod scaffold;
mod tending;

use jiff::civil::Date;

use crate::book::{Current, Done, GangBook, Hung, WallBook};
use crate::calendar::{Half, add_days};
use crate::pieces::Progress;
use crate::sheet::{JobSheet, Step, Work, hangs};
use crate::site::{Act, Seen, Site, Spoilt};
use crate::{DayOffDamped, Loss, Mending, WaitReason};

/// A coat that is not ready, or a wall that finds no fit day, in this many days is not finished this season.
pub(crate) const SEASON_DAYS: i64 = 120;
/// A coat lost more often than this in one season is not laid again (a guess: nobody lays it a fourth time in the same way).
const MOST_LOSSES: usize = 3;
/// No job is followed for longer than this many days from its start.
pub(crate) const LONGEST_JOB_DAYS: i64 = 1000;

/// The foreman.
pub(crate) struct Foreman<'a> {
    sheet: &'a JobSheet,
    pub(crate) walls: Vec<WallBook>,
    pub(crate) gangs: Vec<GangBook>,
    pub(crate) damping_visits: u32,
    pub(crate) mending_visits: u32,
    pub(crate) days_off_damped: Vec<DayOffDamped>,
    pub(crate) unfinished: Option<String>,
    wetting_hours_today: Vec<usize>,
    /// Day from which the crew of scaffolders is free; `None` until it has been asked.
    scaffolders_from: Option<Date>,
}

impl<'a> Foreman<'a> {
    pub(crate) fn new(sheet: &'a JobSheet) -> Self {
        Self {
            sheet,
            walls: vec![WallBook::default(); sheet.walls.len()],
            gangs: vec![GangBook::default(); sheet.gangs.len()],
            damping_visits: 0,
            mending_visits: 0,
            days_off_damped: Vec::new(),
            unfinished: None,
            wetting_hours_today: Vec::new(),
            scaffolders_from: None,
        }
    }

    /// True when nothing more will be done.
    pub(crate) fn over(&self) -> bool {
        self.unfinished.is_some() || (0..self.walls.len()).all(|wall| self.finished(wall))
    }

    /// Nothing is left to do on a wall.
    fn all_done(&self, wall: usize) -> bool {
        self.walls[wall].done.len() == self.sheet.walls[wall].steps.len()
    }

    /// Its last coat is on and no limewash follows: its cover comes down before the scaffold does.
    fn ends_with_coat(&self, wall: usize) -> bool {
        let book = &self.walls[wall];
        let coated = matches!(book.done.last(), Some(Done { work: Work::Coat(_), .. }));
        coated && !self.all_done(wall) && self.next(wall).work == Work::TiePatches
    }

    fn finished(&self, wall: usize) -> bool {
        self.all_done(wall) && self.walls[wall].scaffold_to.is_some()
    }

    /// True when something on the wall hangs on how it stands: it is prepared, its coats may go on tomorrow at the latest, since it may be damped down
    /// the evening before, and it is not finished.
    pub(crate) fn needs_curing(&self, wall: usize, date: Date) -> bool {
        let begun = self.walls[wall].done.len();
        self.unfinished.is_none() && begun > 0 && (begun > 1 || add_days(date, 1) >= self.sheet.approved_from) && !self.finished(wall)
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

    fn look_at(&mut self, wall: usize, date: Date, site: &mut dyn Site) -> Result<(), String> {
        if self.finished(wall) {
            return Ok(());
        }
        if self.walls[wall].current.is_some() {
            return Ok(());
        }
        let coated = matches!(self.walls[wall].done.last(), Some(Done { work: Work::Coat(_), .. }));
        if coated && !self.ends_with_coat(wall) {
            let seen = site.seen(wall, date)?;
            self.walls[wall].note_ready(date, &seen);
            self.walls[wall].note_to_go(date, seen.to_go);
            if self.sheet.time.closed(date).is_none() {
                self.make_good(wall, date, seen, site)?;
            }
        }
        self.release_tended(wall, date, site)?;
        if let Some(hung) = self.walls[wall].hung {
            let days = i64::from(self.sheet.walls[wall].coats[hung.coat].protection.days);
            // Nobody is there on a closed day to take it down.
            if date >= add_days(hung.last, days) && self.sheet.time.closed(date).is_none() {
                self.strike(wall, date, site)?;
                if self.ends_with_coat(wall) {
                    self.walls[wall].worked();
                }
            }
        }
        Ok(())
    }

    /// What is spoilt comes off, to be laid again; what is to be mended is mended once.
    fn make_good(&mut self, wall: usize, date: Date, seen: Seen, site: &mut dyn Site) -> Result<(), String> {
        if let Some(spoilt) = seen.spoilt {
            return self.take_off(wall, date, &spoilt, site);
        }
        let sheet = &self.sheet.walls[wall];
        let book = &mut self.walls[wall];
        let fresh: Vec<_> = seen.to_mend.into_iter().filter(|found| !book.mended.contains(found)).collect();
        if fresh.is_empty() {
            return Ok(());
        }
        for &(coat, kind) in &fresh {
            book.mendings.push(Mending { date, wall: sheet.slug.clone(), coat: sheet.coats[coat].slug.clone(), kind });
        }
        book.mended.extend(fresh);
        book.mended_today = true;
        site.act(wall, Act::Mend, date)
    }

    /// Takes off a spoilt coat and all that lies on it. The next piece of work is that coat again.
    fn take_off(&mut self, wall: usize, date: Date, spoilt: &Spoilt, site: &mut dyn Site) -> Result<(), String> {
        self.strike(wall, date, site)?;
        let sheet = &self.sheet.walls[wall];
        let first = sheet.steps.iter().position(|step| step.work == Work::Coat(spoilt.coat)).unwrap_or(sheet.steps.len());
        let book = &mut self.walls[wall];
        let lost = book.done.split_off(first.min(book.done.len()));
        book.forget_to_go();
        let waited = std::mem::take(&mut book.waited);
        for done in lost {
            let Work::Coat(coat) = done.work else { continue };
            site.act(wall, Act::TakeOff, date)?;
            let coat = &sheet.coats[coat];
            let off = self.sheet.take_off_half_days(done.gang, coat.take_off_days);
            book.to_take_off_days += coat.take_off_days;
            book.waited.extend(done.waited);
            book.losses.push(Loss {
                date,
                wall: sheet.slug.clone(),
                coat: coat.slug.clone(),
                name: coat.name.clone(),
                kind: spoilt.kind,
                cause: spoilt.cause.clone(),
                prevention: spoilt.prevention.clone(),
                gang: self.sheet.gangs[done.gang].name.clone(),
                gang_days: f64::from(done.half_days + off) / 2.0,
            });
        }
        book.waited.extend(waited);
        book.mended.retain(|&(coat, _)| coat < spoilt.coat);
        let name = &sheet.coats[spoilt.coat];
        let times = book.losses.iter().filter(|loss| loss.coat == name.slug).count();
        if times > MOST_LOSSES {
            return Err(format!(
                "the {} was lost {times} times ({}; {}): it cannot be laid in this way in this season. To prevent it: {}",
                name.name.to_lowercase(),
                spoilt.kind,
                spoilt.cause,
                spoilt.prevention
            ));
        }
        Ok(())
    }

    fn strike(&mut self, wall: usize, date: Date, site: &mut dyn Site) -> Result<(), String> {
        if self.walls[wall].hung.take().is_some() {
            site.act(wall, Act::Strike, date)?;
        }
        self.strike_tended(wall, date, site)
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
                if self.held_back(gang, (date, half), &obstacles, &taken, site) {
                    continue;
                }
                if let Some(wall) = self.choose(gang, (date, half), &obstacles, &taken, site) {
                    taken[wall] = true;
                    if let Err(why) = self.do_half_day(gang, wall, (date, half), site) {
                        return self.give_up(wall, &why);
                    }
                }
            }
        }
        for (wall, obstacle) in obstacles.into_iter().enumerate() {
            if !taken[wall] && self.walls[wall].reason_today.is_none() {
                let held = obstacle.is_none() && self.is_held_back(wall);
                self.walls[wall].reason_today = if held { Some(WaitReason::Visit) } else { obstacle };
            }
        }
    }

    /// A wall the gang has begun comes first, then the first wall in order that nobody has begun and whose coat it can end in time.
    fn choose(&self, gang: usize, now: (Date, Half), obstacles: &[Option<WaitReason>], taken: &[bool], site: &dyn Site) -> Option<usize> {
        let free = |wall: usize| !taken[wall] && obstacles[wall].is_none() && !self.all_done(wall) && self.may_do(gang, wall);
        let begun = |wall: usize| self.walls[wall].current.map(|current| current.gang);
        let all = 0..self.walls.len();
        all.clone()
            .find(|&wall| free(wall) && begun(wall) == Some(gang))
            .or_else(|| all.clone().find(|&wall| free(wall) && begun(wall).is_none() && self.held_by_time(gang, wall, now, site).is_none()))
    }

    /// Whether a gang works on a wall at all.
    fn may_do(&self, gang: usize, wall: usize) -> bool {
        self.sheet.walls[wall].gang.is_none_or(|own| own == gang)
    }

    fn next(&self, wall: usize) -> &'a Step {
        &self.sheet.walls[wall].steps[self.walls[wall].done.len()]
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
        if self.all_done(wall) {
            return Ok(None);
        }
        let book = &self.walls[wall];
        let step = self.next(wall);
        if book.current.is_none() {
            let gate = self.sheet.gate(wall, step.work, date);
            if gate.is_some() && book.done.is_empty() {
                return Ok(gate);
            }
            if self.lacks_scaffold(wall, date) {
                return Ok(Some(WaitReason::Scaffold));
            }
            if gate.is_some() {
                return Ok(gate);
            }
            if let Some(reason) = self.held_by_coat_beneath(wall, step.work, date, site)? {
                return Ok(Some(reason));
            }
            if self.is_adapted(wall, step.work, date) {
                return Ok(Some(WaitReason::Scaffold));
            }
        }
        if closed.is_some() || step.work == Work::Preparation {
            return Ok(closed);
        }
        // The afternoon was fit when the bay was begun.
        if book.current.is_some() && self.must_end_bay(wall) {
            return Ok(None);
        }
        let held = || match book.current {
            Some(current) => self.held_by_time(current.gang, wall, (date, half), site),
            None => self.held_for_all(wall, (date, half), site),
        };
        Ok(site.unfit(wall, step.work, date, half).or_else(held))
    }

    fn held_by_coat_beneath(&self, wall: usize, work: Work, date: Date, site: &dyn Site) -> Result<Option<WaitReason>, String> {
        let Some(last) = self.walls[wall].done.last() else { return Ok(None) };
        let sheet = &self.sheet.walls[wall];
        match (last.work, work) {
            (Work::Coat(_), Work::TiePatches) => Ok(self.held_by_cover(wall, date)),
            (Work::Limewash(_), Work::TiePatches) if date < add_days(last.from, sheet.limewash_gap_days) => Ok(Some(WaitReason::LeastAge)),
            (Work::Preparation, Work::Coat(_)) => Ok(site.seen(wall, date)?.hold),
            (Work::Coat(_), Work::Limewash(_)) if date < add_days(last.to, sheet.limewash_wait_days) => Ok(Some(WaitReason::LeastAge)),
            (Work::Coat(_), _) => Ok(site.seen(wall, date)?.hold),
            (Work::Limewash(_), Work::Limewash(_)) if date < add_days(last.from, sheet.limewash_gap_days) => Ok(Some(WaitReason::LeastAge)),
            _ => Ok(None),
        }
    }

    fn do_half_day(&mut self, gang: usize, wall: usize, (date, half): (Date, Half), site: &mut dyn Site) -> Result<(), String> {
        let step = self.next(wall);
        if step.work != Work::Preparation && self.walls[wall].current.is_none() {
            // Ready at noon that was not in the morning.
            if self.walls[wall].done.last().is_some_and(|done| matches!(done.work, Work::Coat(_))) {
                let seen = site.seen(wall, date)?;
                self.walls[wall].note_ready(date, &seen);
            }
            self.strike(wall, date, site)?;
        }
        let off = self.sheet.take_off_half_days(gang, self.walls[wall].to_take_off_days);
        let later = self.later_days(wall, (date, half), site);
        let book = &mut self.walls[wall];
        let mut current = book.current.unwrap_or(Current { gang, from: date, half_days: 0, off, damping_visits: 0 });
        book.to_take_off_days = 0.0;
        if current.off > 0 {
            current.off -= 1;
        } else {
            current.half_days += 1;
            book.work_on(date, step, self.sheet.gangs[gang].pace, later);
        }
        book.worked();
        book.current = Some(current);
        if let Work::Coat(coat) = step.work {
            book.laid = Some(coat);
        }
        let left = current.off > 0 || book.progress.next(&step.pieces).is_some();
        match self.gangs[gang].days.last_mut() {
            Some((day, halves)) if *day == date => *halves += 1,
            _ => self.gangs[gang].days.push((date, 1)),
        }
        if left {
            return Ok(());
        }
        self.finish_step(wall, step.work, current, date);
        match step.work {
            Work::Preparation => self.set_free(wall, date, site)?,
            Work::Coat(0) => self.dried(wall, date, site),
            Work::Limewash(number) => site.act(wall, Act::Limewash(number), date)?,
            Work::Coat(_) | Work::TiePatches => {}
        }
        if let Work::Coat(coat) = step.work {
            // The wall is one column: it stands for the part placed last, which is ready last.
            site.act(wall, Act::Place(coat), date)?;
            self.adapt_scaffold(wall, coat, date);
        }
        if self.all_done(wall) {
            self.leave(wall, date, site)?;
        }
        Ok(())
    }

    /// A last coat without limewash: the scaffold comes down after its cover, and never on the day of the coat.
    fn held_by_cover(&self, wall: usize, date: Date) -> Option<WaitReason> {
        let book = &self.walls[wall];
        let laid_today = book.done.last().is_some_and(|done| date <= done.to);
        (laid_today || book.hung.is_some() || self.stays_tended(wall)).then_some(WaitReason::Cover)
    }

    fn finish_step(&mut self, wall: usize, work: Work, current: Current, date: Date) {
        let book = &mut self.walls[wall];
        book.current = None;
        book.progress = Progress::default();
        let portions = std::mem::take(&mut book.portions);
        book.forget_to_go();
        let waited = std::mem::take(&mut book.waited);
        book.done.push(Done {
            work,
            gang: current.gang,
            from: current.from,
            to: date,
            half_days: current.half_days,
            portions,
            ready: None,
            decides: String::new(),
            rules: Vec::new(),
            took_days: Vec::new(),
            waited,
            damping_visits: current.damping_visits,
        });
    }

    /// After a half-day: a coat that was finished in it is covered, and in the evening what was laid of one that is not.
    pub(crate) fn after_half(&mut self, date: Date, half: Half, site: &mut dyn Site) {
        for wall in 0..self.walls.len() {
            let book = &mut self.walls[wall];
            let whole = book.current.is_none();
            let Some(coat) = book.laid.filter(|_| whole || half == Half::Afternoon) else { continue };
            book.laid = None;
            if !hangs(&self.sheet.walls[wall].coats[coat].protection) {
                continue;
            }
            let first = book.hung.filter(|hung| hung.coat == coat).map_or(date, |hung| hung.first);
            book.hung = Some(Hung { coat, first, last: date, whole });
            if whole && let Err(why) = site.act(wall, Act::Hang(coat), date) {
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
            let damp_until = add_days(hung.last, i64::from(rule.damp_days));
            if date == hung.first || date > damp_until || !wetting_hours(rule.wettings_a_day, &self.sheet.time).contains(&hour) {
                continue;
            }
            if !self.wetting_hours_today.contains(&hour) {
                self.wetting_hours_today.push(hour);
            }
            self.walls[wall].wettings_today += 1;
            if hung.whole
                && date > hung.last
                && let Err(why) = site.act(wall, Act::Wet, date)
            {
                self.give_up(wall, &why);
            }
        }
    }

    /// The end of a day: waits and records are written down. A wetting on a day without a gang on the job is a damping visit.
    pub(crate) fn close(&mut self, date: Date, site: &dyn Site) {
        let attended = self.gangs.iter().any(|gang| gang.days.last().is_some_and(|&(day, _)| day == date));
        let unpaid = self.sheet.days_off_unpaid && self.sheet.time.closed(date).is_some();
        if unpaid && !attended {
            self.damped_unpaid(date);
            self.wetting_hours_today.clear();
        }
        let hour = self.sheet.time.from;
        if self.look_at_fresh_coats(date) && !self.wetting_hours_today.contains(&hour) {
            self.wetting_hours_today.push(hour);
        }
        if !attended {
            self.damping_visits += u32::try_from(self.wetting_hours_today.len()).unwrap_or(u32::MAX);
            // Who looks at a fresh coat presses it back on the same visit.
            self.mending_visits += u32::from(self.walls.iter().any(|wall| wall.mended_today && !wall.looked_today));
        }
        self.note_held(date);
        self.walls.iter_mut().for_each(|wall| wall.mended_today = false);
        self.wetting_hours_today.clear();
        for wall in 0..self.walls.len() {
            self.close_wall(wall, date, (attended, unpaid), site);
        }
        for wall in 0..self.walls.len() {
            let held = self.walls[wall].held(date);
            if self.unfinished.is_none()
                && let Some((days, reason, most)) = held
                && days > SEASON_DAYS
            {
                self.unfinished = Some(self.season_over(wall, days, reason, most));
            }
        }
        if self.unfinished.is_none() && !self.over() && date >= add_days(self.sheet.start, LONGEST_JOB_DAYS) {
            self.unfinished = Some(self.too_long());
        }
    }

    fn close_wall(&mut self, wall: usize, date: Date, (attended, unpaid): (bool, bool), site: &dyn Site) {
        let cover = self.cover(wall);
        let coated = cover.is_some() || self.walls[wall].done.iter().any(|done| matches!(done.work, Work::Coat(_)));
        let finished_before = self.finished(wall) && !self.walls[wall].worked_today;
        let book = &mut self.walls[wall];
        let wettings = std::mem::take(&mut book.wettings_today);
        let damped = std::mem::take(&mut book.damped_today);
        book.damped.extend(damped.then_some(date));
        let looked = std::mem::take(&mut book.looked_today);
        let visits = match (attended, unpaid) {
            (true, _) => 0,
            (false, true) => u32::from(looked),
            (false, false) => wettings.max(u32::from(looked || damped)),
        };
        match (&mut book.current, book.done.last_mut()) {
            (Some(current), _) => current.damping_visits += visits,
            (None, Some(done)) => done.damping_visits += visits,
            (None, None) => {}
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
            book.wait(date, reason.unwrap_or(WaitReason::GangElsewhere));
        }
    }

    fn cover(&self, wall: usize) -> Option<String> {
        let by_policy = self.walls[wall].tended.hung.map(|screen| screen.name().to_owned());
        by_policy.or_else(|| self.walls[wall].hung.map(|hung| self.sheet.walls[wall].coats[hung.coat].protection.cover.clone()))
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
