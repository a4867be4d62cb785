//! The site of one weather year with the curing engine behind it: what a foreman sees on the columns, and what his doings are to them. It must never
//! decide when to work, nor let the engine's own sentences out.

use std::sync::Arc;

use curing::{Action, Bench, Criterion, CuringError, DamageGrade, Look, MOST_WASHES};
use jiff::civil::Date;
use materials::Cover;

use crate::book::{FIRM, LEAST_AGE, SET, UPTAKE};
use crate::calendar::{Half, add_days, days_between};
use crate::column::WASH;
use crate::courses::Courses;
use crate::daylight::HalfDay;
use crate::fit::{Fitness, Hours, Shelter, face_unfit, unfit_ahead};
use crate::protect::Forecast;
use crate::sheet::Work;
use crate::site::{Act, Seen, Site, Spoilt, ToGo};
use crate::tending::{Tended, Visit};
use crate::years::Years;
use crate::{DayRecord, ReadyRule, RuleMet, WaitReason};

/// A face whose pores are drier than this is damped down the evening before a coat and again half an hour before it, with so much water (common practice; the
/// amounts have no source). A face in damp air, whose pores stand at 95 %, still draws as hard as a dry one: a mason goes by how fast a splash is gone.
pub(crate) const DRY_FACE_HUMIDITY: f64 = 0.99;
pub(crate) const DAMP_EVENING_KG_M2: f64 = 1.0;
pub(crate) const DAMP_DOWN_KG_M2: f64 = 1.0;
/// Mean filling of the pores of the outer 60 mm above which a wall freed of an impermeable covering is left to dry before its first coat: a third (guess, from a trial of
/// the model: behind damp hessian in cold damp weather a wetter wall leaves no coat ready).
pub(crate) const DRIED_OUT: f64 = 1.0 / 3.0;
/// Water misted on a face before it is pressed back, kg/m² (common practice; the amount has no source).
const MENDING_KG_M2: f64 = 0.5;
/// A bare face wetter than this holds no scud (common practice; the figure has no source).
pub(crate) const WETTEST_BARE_FACE: f64 = 0.9995;

/// What stands behind a wall: the engine, or the days its coats took in a run that stands.
pub(crate) enum Stand<'a> {
    /// A bench and the hours it was stepped since the first day; and beside it, where the ends of the wall are followed too, a bench for each.
    Stepped {
        bench: Box<Bench>,
        ends: Vec<Side>,
        hour: usize,
    },
    /// Columns that several starts have in common.
    Shared(Box<Courses>),
    Kept {
        days: &'a [Option<i64>],
        placed: Vec<Option<(usize, Date)>>,
    },
}

/// A column of the wall beside its middle.
pub(crate) struct Side {
    pub(crate) bench: Bench,
    /// Whether readiness is judged on it; damage is judged on all.
    pub(crate) readies: bool,
}

impl Stand<'_> {
    pub(crate) fn advance_to(&mut self, to: usize) -> Result<(), CuringError> {
        match self {
            Stand::Stepped { bench, ends, hour } if to > *hour => {
                bench.advance(to - *hour);
                ends.iter_mut().for_each(|side| side.bench.advance(to - *hour));
                *hour = to;
                Ok(())
            }
            Stand::Shared(courses) => courses.advance_to(to),
            Stand::Stepped { .. } | Stand::Kept { .. } => Ok(()),
        }
    }

    pub(crate) fn leave(&mut self, member: usize) {
        match self {
            Stand::Shared(courses) => courses.leave(member),
            other => other.benches().for_each(|bench| bench.stop(member)),
        }
    }

    pub(crate) fn cell_steps(&mut self) -> u64 {
        match self {
            Stand::Shared(courses) => courses.cell_steps(),
            other => other.benches().map(|bench| bench.cell_steps()).sum(),
        }
    }

    /// All benches of a wall that is followed for itself, the middle's first; none where it is not, or the days of a run are kept.
    fn benches(&mut self) -> impl Iterator<Item = &mut Bench> {
        let (middle, ends) = match self {
            Stand::Stepped { bench, ends, .. } => (Some(bench.as_mut()), ends.as_mut_slice()),
            Stand::Shared(_) | Stand::Kept { .. } => (None, [].as_mut_slice()),
        };
        middle.into_iter().chain(ends.iter_mut().map(|side| &mut side.bench))
    }

    /// The wall as it stands, where it is stepped at all.
    fn look(&self, member: usize) -> Option<Arc<Look>> {
        match self {
            Stand::Stepped { bench, .. } => Some(Arc::new(bench.look(member))),
            Stand::Shared(courses) => courses.look(member),
            Stand::Kept { .. } => None,
        }
    }

    /// The same, refused where the engine has lost it.
    pub(crate) fn looked_at(&self, member: usize) -> Result<Option<Arc<Look>>, String> {
        match self {
            Stand::Stepped { bench, .. } => alive(bench, member)?,
            Stand::Shared(courses) if courses.lost(member) => return Err(LOST.to_owned()),
            Stand::Shared(_) | Stand::Kept { .. } => {}
        }
        Ok(self.look(member))
    }

    /// Does something to every column of the wall.
    pub(crate) fn take(&mut self, member: usize, doings: &[Action]) -> Result<(), String> {
        let lost = |_: CuringError| LOST.to_owned();
        match self {
            Stand::Shared(courses) => courses.act(member, doings.to_vec()).map_err(lost),
            other => {
                other.benches().try_for_each(|bench| doings.iter().try_for_each(|doing| bench.act(member, doing.clone()))).map_err(lost)
            }
        }
    }
}

/// What a coat says that keeps the days it took before; a coat more than stood then takes as long as the last.
fn kept_seen(days: &[Option<i64>], placed: Option<(usize, Date)>, date: Date) -> Seen {
    let hold = placed.and_then(|(coat, placed)| match days.get(coat).or(days.last()).copied().flatten() {
        Some(days) if date >= add_days(placed, days) => None,
        _ => Some(WaitReason::Carbonation),
    });
    let left = placed.and_then(|(coat, placed)| Some(days_between(date, add_days(placed, (*days.get(coat).or(days.last())?)?))));
    Seen { hold, to_go: left.map(ToGo::aged), ..Seen::default() }
}

/// The site of one year: its member of every wall's bench.
pub(crate) struct Columns<'s, 'a, 'w> {
    pub(crate) years: &'s Years<'a>,
    pub(crate) stands: &'s mut [Stand<'w>],
    pub(crate) member: usize,
    /// Weather year, by number.
    pub(crate) year: usize,
    /// Hours since the first day's midnight.
    pub(crate) now: usize,
    pub(crate) first_hour: usize,
}

impl<'w> Columns<'_, '_, 'w> {
    /// Index into the joined series of an hour counted from the first day's midnight.
    fn index(&self, hour: usize) -> usize {
        (self.first_hour + hour) % self.years.joined.air_c.len()
    }

    /// What stands behind a wall.
    pub(crate) fn stand(&self, wall: usize) -> &Stand<'w> {
        &self.stands[self.years.walls[wall].stand]
    }

    /// How far the outermost coat has still to go; `None` on a bare wall.
    fn to_go(&self, wall: usize, look: &Look) -> Option<ToGo> {
        let (coat, model) = look.coats.last().zip(self.years.walls[wall].coats.get(look.coats.len().checked_sub(1)?))?;
        let limits = &model.thresholds;
        let left = |criterion: Criterion, value: f64| {
            let met = look.rules.iter().any(|rule| rule.criterion == criterion && rule.holds);
            if met { 0.0 } else { value.max(0.0) }
        };
        let asked_m = limits.uptake_m.min(limits.uptake_share * model.thickness_m);
        Some(ToGo {
            age_days: left(Criterion::Age, limits.least_days - coat.mild_days),
            water: left(Criterion::Firm, coat.water_share - limits.firm_water_share),
            uptake_m: left(Criterion::Carbonated, asked_m - coat.uptake_m),
            set: left(Criterion::Carbonated, coat.set_asked.map_or(f64::INFINITY, |asked| asked - coat.set)),
        })
    }

    /// The rules of the outermost coat with their limits and the days on which they were met.
    fn rules(&self, wall: usize, look: &Look, hour: usize, date: Date) -> Vec<RuleMet> {
        let Some((coat, model)) =
            look.coats.last().zip(look.coats.len().checked_sub(1).and_then(|last| self.years.walls[wall].coats.get(last)))
        else {
            return Vec::new();
        };
        let limits = &model.thresholds;
        let day_of = |met_after_h: f64| {
            let met = hour as i64 + self.years.ahead_h(date) - (coat.age_h - met_after_h).max(0.0) as i64;
            add_days(self.years.first_day, met.div_euclid(24))
        };
        let met = |criterion: Criterion| {
            let rule = look.rules.iter().find(|rule| rule.criterion == criterion);
            rule.and_then(|rule| rule.met_after_h).map_or(date, day_of)
        };
        let asked_m = limits.uptake_m.min(limits.uptake_share * model.thickness_m);
        // A hydraulic lime's set speaks where its water or the air it took up does not.
        let (rule, value, limit) = match coat.set_firm {
            Some(asked) if coat.water_share >= limits.firm_water_share => (ReadyRule::FirmSet, coat.set, asked),
            _ => (ReadyRule::Firm, coat.water_share, limits.firm_water_share),
        };
        let firm = RuleMet { rule, value, limit, met: met(Criterion::Firm) };
        let (rule, value, limit) = match coat.set_asked {
            Some(asked) if coat.uptake_m < asked_m => (ReadyRule::Set, coat.set, asked),
            _ => (ReadyRule::Uptake, coat.uptake_m, asked_m),
        };
        vec![
            RuleMet { rule: ReadyRule::Age, value: coat.mild_days, limit: limits.least_days, met: met(Criterion::Age) },
            firm,
            RuleMet { rule, value, limit, met: met(Criterion::Carbonated) },
            RuleMet { rule: ReadyRule::Face, value: look.face_humidity, limit: limits.wettest_face, met: date },
        ]
    }
}

/// What a person is told when the engine has lost a wall: where and why inside it went wrong helps nobody on site.
pub(crate) const LOST: &str = "its curing could not be followed to the end in this year, so no dates can be given for it. Check the thickness, the wetness and the \
     mortars given for it, and plan it by rule of thumb, without weather, if they are right.";

/// The bench, if the member on it has not failed.
pub(crate) fn alive(bench: &Bench, member: usize) -> Result<(), String> {
    bench.failed(member).map_or(Ok(()), |_| Err(LOST.to_owned()))
}

impl Site for Columns<'_, '_, '_> {
    fn seen(&self, wall: usize, date: Date) -> Result<Seen, String> {
        let (ends, hour) = match &self.stands[self.years.walls[wall].stand] {
            Stand::Stepped { ends, hour, .. } => (ends.as_slice(), *hour),
            Stand::Shared(courses) => ([].as_slice(), courses.hour()),
            Stand::Kept { days, placed } => return Ok(kept_seen(days, placed[self.member], date)),
        };
        let Some(look) = self.stand(wall).looked_at(self.member)? else { return Ok(Seen::default()) };
        let mut seen = seen(&look);
        seen.to_go = self.to_go(wall, &look);
        for side in ends {
            alive(&side.bench, self.member)?;
            seen.beside(&side.bench.look(self.member), side.readies);
        }
        if look.coats.is_empty() && self.years.sheet.walls[wall].freed && look.masonry_saturation > DRIED_OUT {
            seen.hold = seen.hold.or(Some(WaitReason::TooWet));
        }
        if seen.hold.is_none() {
            seen.rules = self.rules(wall, &look, hour, date);
        }
        Ok(seen)
    }

    fn unfit(&self, wall: usize, work: Work, date: Date, half: Half) -> Option<WaitReason> {
        let time = &self.years.sheet.time;
        let (from, to) = match half {
            Half::Morning => (time.from, time.middle),
            Half::Afternoon => (time.middle, time.to),
        };
        let index = |civil_hour| self.first_hour + self.years.hour_of_day(date, civil_hour);
        let hours = Hours { from: index(from), to: index(to), day_end: index(time.to) };
        let fitness = if matches!(work, Work::Limewash(_)) { Fitness::Limewash } else { Fitness::Coat };
        // At work he sees the sky: what forbids work in these very hours stops it. What is to come he knows by the forecast alone.
        let ahead = Forecast {
            climate: &self.years.walls[wall].climate,
            rain_mm: &self.years.joined.rain_mm,
            errors: &self.years.joined.errors[self.year],
            year_begins: self.years.joined.begins[self.year],
            foresight: self.years.foresight,
            issued: hours.to,
        };
        let face = || self.stand(wall).look(self.member).and_then(|look| face_unfit(look.face_c));
        let policy = match work {
            Work::Coat(coat) => self.years.sheet.walls[wall].coats[coat].protection.policy,
            _ => None,
        };
        let shelter = self.years.tending.as_ref().map_or(Shelter::Open, |tending| tending.shelter(policy));
        // Limewash has no hours to wait for, but nobody brushes it in the dark.
        let before_dusk_h = if fitness == Fitness::Coat { self.years.sheet.hours_before_dusk } else { 0.0 };
        let light = || self.years.joined.daylight.is_enough(date, HalfDay { from, to }, self.years.ahead_h(date), before_dusk_h);
        let weather = unfit_ahead(fitness, &ahead, hours, shelter);
        weather.or_else(face).or_else(|| (!light()).then_some(WaitReason::Daylight))
    }

    fn thirsty(&self, wall: usize) -> bool {
        self.stand(wall).look(self.member).is_some_and(|look| look.face_humidity < DRY_FACE_HUMIDITY)
    }

    fn wetness(&self, wall: usize) -> Option<f64> {
        self.stand(wall).look(self.member).map(|look| look.masonry_saturation)
    }

    fn tend(&mut self, wall: usize, visit: &Visit, tended: &mut Tended) -> Result<bool, String> {
        crate::tending::tend(self, wall, visit, tended)
    }

    fn act(&mut self, wall: usize, act: Act, date: Date) -> Result<(), String> {
        let (member, now) = (self.member, self.now);
        if let Stand::Kept { placed, .. } = &mut self.stands[self.years.walls[wall].stand] {
            if let Act::Place(coat) = act {
                placed[member] = Some((coat, date));
            }
            return Ok(());
        }
        let (stand, covers) = (&mut self.stands[self.years.walls[wall].stand], &self.years.walls[wall].covers);
        if act == Act::Strip {
            // Nobody has asked how this wall stands before, so its bench may lie behind.
            stand.advance_to(now).map_err(|_| LOST.to_owned())?;
        }
        let Some(look) = stand.looked_at(member)? else { return Ok(()) };
        match stand {
            _ if act == Act::Leave => stand.leave(member),
            Stand::Shared(courses) => courses.act(member, doings(act, &look, covers)).map_err(|_| LOST.to_owned())?,
            other => other.benches().try_for_each(|bench| {
                alive(bench, member)?;
                let doings = doings(act, &bench.look(member), covers);
                doings.into_iter().try_for_each(|doing| bench.act(member, doing)).map_err(|_| LOST.to_owned())
            })?,
        }
        Ok(())
    }

    fn record(&self, wall: usize, date: Date) -> Option<DayRecord> {
        // Nobody reads the days of a start that is one of many.
        if matches!(self.stand(wall), Stand::Shared(_)) {
            return None;
        }
        let look = self.stand(wall).look(self.member)?;
        let begins = self.index(self.years.hour_of_day(date, 0));
        let day = |hour: usize| (begins + hour) % self.years.joined.air_c.len();
        let air = (0..24).map(|hour| self.years.joined.air_c[day(hour)]);
        Some(DayRecord {
            date,
            uptake_m: look.coats.iter().map(|coat| coat.uptake_m).collect(),
            front_m: look.coats.iter().map(|coat| coat.front_m).collect(),
            face_humidity: look.face_humidity,
            air_c: (air.clone().fold(f64::INFINITY, f64::min), air.fold(f64::NEG_INFINITY, f64::max)),
            rain_mm: (0..24).map(|hour| self.years.joined.rain_mm[day(hour)]).sum(),
            cover: None,
            wettings: 0,
        })
    }
}

/// What an act is to the engine, on a wall as it stands.
fn doings(act: Act, look: &Look, covers: &[Option<Cover>]) -> Vec<Action> {
    match act {
        Act::Place(_) if look.face_humidity < DRY_FACE_HUMIDITY => vec![Action::DampDown(DAMP_DOWN_KG_M2), Action::Throw],
        Act::Place(_) => vec![Action::Throw],
        Act::DampDown => vec![Action::DampDown(DAMP_EVENING_KG_M2)],
        Act::Strip => vec![Action::Strip],
        // More than the engine takes as a property of the face begins to be a coat, and nothing is asked of the face then.
        Act::Limewash(number) if number < MOST_WASHES => vec![Action::Limewash(WASH)],
        Act::Limewash(_) | Act::Leave => Vec::new(),
        Act::Hang(coat) => match &covers[coat] {
            None => Vec::new(),
            Some(cover) if cover.wetted => vec![Action::Hang(cover.clone()), Action::Wet(cover.holds_kg_m2)],
            Some(cover) => vec![Action::Hang(cover.clone())],
        },
        Act::Wet => vec![Action::Wet(covers.iter().flatten().map(|cover| cover.holds_kg_m2).fold(0.0, f64::max))],
        Act::Strike => vec![Action::Strike],
        Act::TakeOff => vec![Action::TakeOff],
        Act::Mend => vec![Action::Mist(MENDING_KG_M2), Action::PressBack],
    }
}

impl Seen {
    /// Takes in what another column of the same wall says: what holds it, where readiness is judged on it, and its damage elsewhere. What spoils the thickest
    /// alone, a coat too thick for one pass that slides, is a matter of the specification.
    fn beside(&mut self, look: &Look, readies: bool) {
        let there = seen(look);
        self.took_days.extend(there.took_days);
        if readies {
            if self.hold.is_none()
                && let Some(hold) = holding(look, false)
            {
                (self.hold, self.only_wet, self.set_by) = (Some(hold), there.only_wet, there.set_by);
            }
            return;
        }
        let innermost = |spoilt: &Option<Spoilt>| spoilt.as_ref().map_or(usize::MAX, |spoilt| spoilt.coat);
        if innermost(&there.spoilt) < innermost(&self.spoilt) {
            self.spoilt = there.spoilt;
        }
        let fresh: Vec<_> = there.to_mend.into_iter().filter(|found| !self.to_mend.contains(found)).collect();
        self.to_mend.extend(fresh);
    }
}

/// What holds the next coat, its soundness counted or not. Of several rules that fail the one that takes longest is the reason: uptake, then firmness, then
/// age, then the face.
fn holding(look: &Look, counts_damage: bool) -> Option<WaitReason> {
    let fails = |criterion: Criterion| look.rules.iter().any(|rule| rule.criterion == criterion && !rule.holds);
    let damaged = [Criterion::Carbonated, Criterion::Firm, Criterion::Age, Criterion::Sound, Criterion::DampNotWet];
    damaged.into_iter().filter(|&criterion| counts_damage || criterion != Criterion::Sound).find(|&criterion| fails(criterion)).map(reason)
}

/// Days the outermost coat took to be as old, as firm and as far carbonated as is asked; `None` before.
fn took_days(look: &Look) -> Option<f64> {
    let counted = look.rules.iter().filter(|rule| matches!(rule.criterion, Criterion::Age | Criterion::Firm | Criterion::Carbonated));
    let last_h = counted.map(|rule| rule.met_after_h).try_fold(0.0_f64, |last, met| met.map(|met| last.max(met)))?;
    Some(last_h / 24.0)
}

/// What the rules of the outermost coat mean to a foreman. Whether wall and air are fit for the throw is judged with the weather, not here.
fn seen(look: &Look) -> Seen {
    if look.coats.is_empty() {
        let wet = look.face_humidity > WETTEST_BARE_FACE;
        return Seen { hold: wet.then_some(WaitReason::TooWet), ..Seen::default() };
    }
    let failing: Vec<Criterion> =
        look.rules.iter().filter(|rule| !rule.holds && rule.criterion != Criterion::ThermallyFit).map(|rule| rule.criterion).collect();
    let hold = holding(look, true);
    let set_by = if failing.iter().all(|criterion| *criterion == Criterion::DampNotWet) { met_last(look) } else { None };
    Seen {
        hold,
        only_wet: failing == [Criterion::DampNotWet],
        set_by,
        decides: decides(look),
        to_go: None,
        rules: Vec::new(),
        took_days: took_days(look).into_iter().collect(),
        spoilt: spoilt(look),
        to_mend: look.damage.iter().filter(|damage| damage.grade == DamageGrade::Mend).map(|damage| (damage.coat, damage.kind)).collect(),
    }
}

/// The innermost coat that has to come off, with what spoilt it most.
fn spoilt(look: &Look) -> Option<Spoilt> {
    let redo = look.damage.iter().filter(|damage| damage.grade == DamageGrade::Redo);
    let gravest = redo.min_by(|a, b| a.coat.cmp(&b.coat).then(b.severity.total_cmp(&a.severity)))?;
    Some(Spoilt { coat: gravest.coat, kind: gravest.kind, cause: gravest.cause.clone(), prevention: gravest.prevention.to_string() })
}

/// Which of age, firmness and uptake was met last; of several in one hour the gravest.
fn met_last(look: &Look) -> Option<WaitReason> {
    let mut last: Option<(f64, Criterion)> = None;
    for rule in look.rules.iter().filter(|rule| matches!(rule.criterion, Criterion::Age | Criterion::Firm | Criterion::Carbonated)) {
        let met = rule.met_after_h?;
        if last.is_none_or(|(hours, _)| met >= hours) {
            last = Some((met, rule.criterion));
        }
    }
    last.map(|(_, criterion)| reason(criterion))
}

fn reason(criterion: Criterion) -> WaitReason {
    match criterion {
        Criterion::Age => WaitReason::LeastAge,
        Criterion::Firm | Criterion::Sound => WaitReason::Firmness,
        Criterion::Carbonated => WaitReason::Carbonation,
        Criterion::DampNotWet => WaitReason::TooWet,
        Criterion::ThermallyFit => WaitReason::Cold,
    }
}

/// The rule of the coat that was met last, in words; empty while one is not met. The hour's own warmth is the weather's affair, not the coat's, and
/// whether its face held it longest is for whoever looked at it every day to say.
fn decides(look: &Look) -> String {
    let set = look.coats.last().is_some_and(|coat| coat.set_asked.is_some_and(|asked| coat.set >= asked));
    let words = match met_last(look) {
        Some(WaitReason::LeastAge) => LEAST_AGE,
        Some(WaitReason::Firmness) => FIRM,
        Some(WaitReason::Carbonation) if set => SET,
        Some(_) => UPTAKE,
        None => "",
    };
    words.to_owned()
}
