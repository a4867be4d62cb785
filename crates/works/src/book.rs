//! The foreman's book: what was done on each wall and by each gang, what hangs, and why each day waited. It must never decide anything.

use curing::DamageKind;
use jiff::civil::Date;

use crate::calendar::{add_days, days_between};
use crate::pieces::Progress;
use crate::reasons::most;
use crate::sheet::{Step, Work};
use crate::site::{Seen, ToGo};
use crate::tending::Tended;
use crate::{DayRecord, Freed, HeldVisit, Loss, Mending, RuleMet, ScaffoldStep, Wait, WaitReason};

/// What decided when a coat was ready, in words.
pub(crate) const LEAST_AGE: &str = "its least age";
pub(crate) const FIRM: &str = "firm under the thumb";
pub(crate) const UPTAKE: &str = "enough air taken up";
pub(crate) const SET: &str = "its hydraulic set";
/// The same when only a wet face still held the next coat.
pub(crate) const DAMP_NOT_WET: &str = "its face damp, no longer wet";

/// Days over which the pace of a coat is read off.
const PACE_DAYS: usize = 3;
/// Beyond so many days nothing is expected of a coat.
const EXPECTED_DAYS: f64 = 60.0;

/// A piece of work as it was done.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Done {
    pub(crate) work: Work,
    pub(crate) gang: usize,
    pub(crate) from: Date,
    pub(crate) to: Date,
    pub(crate) half_days: u32,
    /// What was worked on which day, in order.
    pub(crate) portions: Vec<Portion>,
    pub(crate) ready: Option<Date>,
    pub(crate) decides: String,
    pub(crate) rules: Vec<RuleMet>,
    /// Days it took on each column of the wall that is followed.
    pub(crate) took_days: Vec<f64>,
    pub(crate) waited: Vec<Wait>,
    pub(crate) damping_visits: u32,
}

/// A fresh coat was looked at.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Looked {
    pub(crate) coat: usize,
    pub(crate) date: Date,
    /// The gang that did it; `None` where somebody came for it.
    pub(crate) gang: Option<usize>,
}

/// What was worked of a piece of a step on one day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Portion {
    pub(crate) date: Date,
    /// The piece, by its number in the step.
    pub(crate) piece: usize,
    /// Days of the gang.
    pub(crate) days: f64,
}

/// A wall in the foreman's book.
#[derive(Clone, Debug, Default)]
pub(crate) struct WallBook {
    pub(crate) done: Vec<Done>,
    pub(crate) days: Vec<DayRecord>,
    pub(crate) scaffold_from: Option<Date>,
    /// Last day of taking it down.
    pub(crate) scaffold_to: Option<Date>,
    /// What the scaffolders did, in order.
    pub(crate) scaffold: Vec<ScaffoldStep>,
    /// Waits gathered since the last piece of work was finished.
    pub(crate) waited: Vec<Wait>,
    pub(crate) current: Option<Current>,
    /// How far the step in hand has come.
    pub(crate) progress: Progress,
    pub(crate) portions: Vec<Portion>,
    pub(crate) hung: Option<Hung>,
    /// Coat of which a part was laid and not yet covered.
    pub(crate) laid: Option<usize>,
    pub(crate) worked_today: bool,
    pub(crate) reason_today: Option<WaitReason>,
    pub(crate) wettings_today: u32,
    /// Coats lost and laid again.
    pub(crate) losses: Vec<Loss>,
    /// What was mended.
    pub(crate) mendings: Vec<Mending>,
    /// What was mended on the coats that are on the wall now.
    pub(crate) mended: Vec<(usize, DamageKind)>,
    /// Days of a gang of two masons and a labourer to take off what has to come off before the next coat is laid.
    pub(crate) to_take_off_days: f64,
    pub(crate) mended_today: bool,
    /// How it dried once freed of an impermeable covering.
    pub(crate) freed: Option<Freed>,
    /// What a policy hangs before its coats, and what that has taken.
    pub(crate) tended: Tended,
    /// No policy tends its last coat any more.
    pub(crate) released: bool,
    /// Who looked at its coats in their first forty-eight hours.
    pub(crate) looked: Vec<Looked>,
    pub(crate) looked_today: bool,
    /// What its outermost coat had still to go on the last mornings, the latest last.
    seen_to_go: Vec<(Date, ToGo)>,
    /// It was damped down this evening for a coat tomorrow.
    pub(crate) damped_today: bool,
    /// Evenings on which it was.
    pub(crate) damped: Vec<Date>,
    /// First of the days on end on which coat or weather held the wall.
    held_from: Option<Date>,
    /// Its face alone held the next coat when it was looked at last.
    face_held: bool,
}

/// A piece of work that is begun.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Current {
    pub(crate) gang: usize,
    pub(crate) from: Date,
    /// Half-days worked on it, what had to come off first left out.
    pub(crate) half_days: u32,
    /// Half-days left of taking off what has to come off first.
    pub(crate) off: u32,
    pub(crate) damping_visits: u32,
}

/// A cover that hangs over a coat, or over what is laid of it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Hung {
    pub(crate) coat: usize,
    /// Day on which the first part was covered.
    pub(crate) first: Date,
    /// Day on which the last part was covered: the days it hangs count from here.
    pub(crate) last: Date,
    /// The whole coat is laid, so that the part laid last, for which the column of the engine stands, hangs covered too.
    pub(crate) whole: bool,
}

/// A gang in the foreman's book.
#[derive(Clone, Debug, Default)]
pub(crate) struct GangBook {
    /// Days with work, each with its half-days.
    pub(crate) days: Vec<(Date, u32)>,
    /// Days on which it was held back.
    pub(crate) held: Vec<HeldVisit>,
    /// What it is held back from today, and for.
    pub(crate) held_today: Option<Held>,
}

/// What a gang is held back from, and for what.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Held {
    /// Walls whose work is ready.
    pub(crate) ready: Vec<usize>,
    /// The wall waited for.
    pub(crate) other: usize,
}

impl WallBook {
    /// Writes down that a day was waited, and whether coat or weather held it: a closed day counts with the days before it, and a day on which only the
    /// gang, the scaffold or the approval was wanting begins the count anew.
    pub(crate) fn wait(&mut self, date: Date, reason: WaitReason) {
        match reason {
            WaitReason::GangElsewhere
            | WaitReason::Visit
            | WaitReason::Scaffold
            | WaitReason::Consent
            | WaitReason::Permit
            | WaitReason::Wildlife
            | WaitReason::Approval
            | WaitReason::DryingOut
            | WaitReason::Lying
            | WaitReason::Cover => self.held_from = None,
            WaitReason::Weekend | WaitReason::Break => {}
            _ => self.held_from = self.held_from.or(Some(date)),
        }
        match self.waited.last_mut() {
            Some(last) if last.reason == reason && add_days(last.to, 1) == date => last.to = date,
            _ => self.waited.push(Wait { from: date, to: date, reason }),
        }
    }

    /// Notes that the last coat is ready, and gives the days it took to the rule that was met last: the others were met within them.
    pub(crate) fn note_ready(&mut self, date: Date, seen: &Seen) {
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
            done.decides = if self.face_held { DAMP_NOT_WET.to_owned() } else { seen.decides.clone() };
            done.rules.clone_from(&seen.rules);
            done.took_days.clone_from(&seen.took_days);
        }
        self.face_held = seen.only_wet;
    }

    /// Works a half-day on a step, with so much of the same day after it, and writes down what of it.
    pub(crate) fn work_on(&mut self, date: Date, step: &Step, pace: f64, later_days: f64) {
        let portions = &mut self.portions;
        self.progress = self.progress.half_day(&step.pieces, pace, later_days, |piece, days| match portions.last_mut() {
            Some(last) if last.date == date && last.piece == piece => last.days += days,
            _ => portions.push(Portion { date, piece, days }),
        });
    }

    /// Notes how far the outermost coat has still to go this morning.
    pub(crate) fn note_to_go(&mut self, date: Date, to_go: Option<ToGo>) {
        if self.seen_to_go.len() > PACE_DAYS {
            self.seen_to_go.remove(0);
        }
        self.seen_to_go.extend(to_go.map(|to_go| (date, to_go)));
    }

    /// Another coat is outermost now.
    pub(crate) fn forget_to_go(&mut self) {
        self.seen_to_go.clear();
    }

    /// Whole days until the outermost coat is expected to be ready, at the pace of the last days; `None` where nothing moves or nobody has looked.
    pub(crate) fn days_to_ready(&self) -> Option<i64> {
        let (&(then, before), &(today, now)) = (self.seen_to_go.first()?, self.seen_to_go.last()?);
        let days = days_between(then, today) as f64;
        let left = |of: &dyn Fn(&ToGo) -> f64| match (of(&before), of(&now)) {
            (_, now) if now <= 0.0 => 0.0,
            (before, now) if now < before && now.is_finite() && before.is_finite() => now * days / (before - now),
            _ => f64::INFINITY,
        };
        let taken_up = left(&|to_go| to_go.uptake_m).min(left(&|to_go| to_go.set));
        let all = now.age_days.max(left(&|to_go| to_go.water)).max(taken_up);
        (all <= EXPECTED_DAYS).then(|| all.ceil() as i64)
    }

    /// A half-day was worked: nothing holds the wall.
    pub(crate) fn worked(&mut self) {
        self.worked_today = true;
        self.held_from = None;
    }

    /// Days on end on which coat or weather held the wall, and what held it on most of them.
    pub(crate) fn held(&self, date: Date) -> Option<(i64, WaitReason, u32)> {
        let from = self.held_from?;
        let (reason, days) =
            most(self.waited.iter().filter(|wait| wait.to >= from).map(|wait| Wait { from: wait.from.max(from), ..wait.clone() }))?;
        Some((days_between(from, date) + 1, reason, days))
    }

    /// Waits after the last finished piece of work, for a wall that was never finished.
    pub(crate) fn still_waiting(&self) -> &[Wait] {
        &self.waited
    }
}
