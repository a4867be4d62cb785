//! Walls followed under a policy, several side by side: each lane is one wall in one weather year from one start, with its own clock. The foreman looks
//! every morning, throws when the coat beneath is ready and the forecast fit, and tends the cover by the hour of work. It must never let one lane see
//! another.

use std::sync::Arc;

use curing::{Action, Bench, Checkpoint, Criterion, CuringError, DamageGrade, Look, Numerics};

use crate::columns::{DAMP_DOWN_KG_M2, DRIED_OUT, DRY_FACE_HUMIDITY, WETTEST_BARE_FACE};
use crate::fit::{Fitness, Hours, face_unfit, unfit_ahead};
use crate::foreman::SEASON_DAYS;
use crate::protect::evening::{Evening, Nights};
use crate::protect::forecast::Forecast;
use crate::protect::ground::{ColumnModel, Ground};
use crate::protect::policy::{Deed, Hazard, MIST_KG_M2, Screen, Sight, decide};
use crate::protect::story::EventKind;
use crate::protect::{CoatOutcome, Foresight, Outcome, Policy, Tally};

/// Person-hours to wet or mist 100 m² (common practice, no source).
pub(crate) const WET_H_PER_100_M2: f64 = 0.5;
/// Times a coat is taken off and thrown again before the wall is given up.
const MOST_REDONE: u32 = 2;
const SEASON_H: usize = SEASON_DAYS as usize * 24;

/// One wall's course. Hours are counted from the first day's midnight in the weather's time.
#[derive(Clone, Debug)]
pub(crate) struct Run {
    pub(crate) year: usize,
    pub(crate) hour: usize,
    /// Coats on the wall, and the hour at which the last was thrown.
    pub(crate) thrown: usize,
    pub(crate) thrown_hour: usize,
    /// Hour at which the first coat was thrown.
    pub(crate) first_thrown_hour: Option<usize>,
    /// Hour at which it was placed last: later than it was first thrown, where it came off.
    placed_hour: usize,
    /// Hour from which the next throw is waited for: the start, or the last coat's readiness.
    pub(crate) waits_from: Option<usize>,
    pub(crate) outcome: Outcome,
    pub(crate) over: bool,
    /// Days after the first coat at which the second is thrown, ready or not.
    pub(crate) hasty_days: Option<u32>,
    /// Hour, what happened and why; `None` where nobody asks.
    pub(crate) events: Option<Vec<(usize, EventKind, &'static str)>>,
    pub(crate) hung: Option<Screen>,
    misted_hour: Option<usize>,
    visited_hour: Option<usize>,
    blowing: bool,
    /// The hour that was decided last, so that none is decided twice.
    decided_hour: Option<usize>,
}

impl Run {
    /// A bare wall that waits for its first coat from an hour on.
    pub(crate) fn bare(year: usize, hour: usize) -> Self {
        Self {
            year,
            hour,
            thrown: 0,
            thrown_hour: 0,
            placed_hour: 0,
            first_thrown_hour: None,
            waits_from: Some(hour),
            outcome: Outcome::default(),
            over: false,
            hasty_days: None,
            events: None,
            hung: None,
            misted_hour: None,
            visited_hour: None,
            blowing: false,
            decided_hour: None,
        }
    }

    fn note(&mut self, kind: EventKind, why: &'static str) {
        if let Some(events) = &mut self.events {
            events.push((self.hour, kind, why));
        }
    }

    /// Notes something that was done before the last of what is noted.
    fn note_at(&mut self, hour: usize, kind: EventKind, why: &'static str) {
        if let Some(events) = &mut self.events {
            let place = events.partition_point(|event| event.0 <= hour);
            events.insert(place, (hour, kind, why));
        }
    }

    fn tally(&mut self) -> Option<&mut Tally> {
        self.outcome.coats.last_mut().map(|coat| &mut coat.tally)
    }

    fn end(&mut self, why: String) {
        self.outcome.unfinished = Some(why);
        self.note(EventKind::NotThisSeason, "");
        self.over = true;
    }
}

/// What a lane's morning came to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Morning {
    Goes,
    Throws,
    ThrowsAgain,
}

/// A wall's ground with the rule and the knowledge it is tended by.
#[derive(Clone, Copy)]
pub(crate) struct Rule<'g> {
    pub(crate) ground: &'g Ground<'g>,
    pub(crate) policy: Policy,
    pub(crate) foresight: Foresight,
}

impl<'g> Rule<'g> {
    /// Index into the climate of an hour of a run.
    pub(crate) fn index(&self, run: &Run, hour: usize) -> usize {
        self.ground.weather.first_day[run.year] + hour
    }

    fn forecast(&self, run: &Run) -> Forecast<'g> {
        Forecast {
            climate: &self.ground.climate,
            rain_mm: self.ground.rain_mm,
            errors: &self.ground.weather.errors[run.year],
            year_begins: self.ground.weather.begins[run.year],
            foresight: self.foresight,
            issued: self.index(run, run.hour),
        }
    }

    /// Whether wall and forecast are fit for a throw on a day.
    pub(crate) fn fit(&self, run: &Run, day: usize, look: &Look) -> bool {
        let days = self.ground.days;
        let index = |civil| self.index(run, days.hour(day, civil));
        let middle = (days.from + days.to).div_ceil(2);
        let hours = Hours { from: index(days.from), to: index(middle), day_end: index(days.to) };
        let shelter = self.policy.shelter(&self.ground.screens);
        let wets = |look: &Look| look.face_humidity > WETTEST_BARE_FACE || (self.ground.freed && look.masonry_saturation > DRIED_OUT);
        let wet = run.thrown == 0 && wets(look);
        !wet && face_unfit(look.face_c).is_none() && unfit_ahead(Fitness::Coat, &self.forecast(run), hours, shelter).is_none()
    }
}

/// Lanes under one policy.
pub(crate) struct Crew<'g> {
    rule: Rule<'g>,
    /// Coats after which a course ends; a lane that would throw the one after is due to be handed on.
    coats: usize,
    /// One bench a column of the wall, each with the same lanes.
    pub(crate) benches: Vec<Bench>,
    pub(crate) runs: Vec<Option<Run>>,
    hands_on: bool,
    due: Vec<bool>,
    /// Every lane that may be thrown on next morning, as it stood at the end of work.
    evenings: Vec<Option<Evening>>,
    nights: Nights,
    /// Hours passed in all lanes together.
    hours: u64,
}

impl<'g> Crew<'g> {
    /// Lanes with nobody in them, for the first `coats` coats. With `hands_on` a lane stops before its next throw instead of throwing.
    pub(crate) fn new(rule: Rule<'g>, coats: usize, first_hours: &[usize], hands_on: bool) -> Result<Self, CuringError> {
        let lanes = first_hours.len();
        let numerics = Numerics { lanes, ..Numerics::default() };
        let bench = |column: &ColumnModel| {
            Bench::with_numerics(&column.wall, &column.coats[..coats], Arc::clone(&rule.ground.climate), first_hours, numerics)
        };
        let benches = rule.ground.columns.iter().map(bench).collect::<Result<Vec<_>, _>>()?;
        let runs = (0..lanes).map(|_| None).collect();
        let nights = Nights::new(&rule, coats)?;
        Ok(Self { rule, coats, benches, runs, hands_on, due: vec![false; lanes], evenings: vec![None; lanes], nights, hours: 0 })
    }

    /// Puts a course into a lane, its columns going on from checkpoints, with the evening before where a throw is due.
    pub(crate) fn take(&mut self, lane: usize, run: Run, from: &[Checkpoint], evening: Option<Evening>) -> Result<(), CuringError> {
        for (bench, checkpoint) in self.benches.iter_mut().zip(from) {
            bench.resume(lane, checkpoint)?;
        }
        self.runs[lane] = Some(Run { decided_hour: None, ..run });
        self.due[lane] = false;
        self.evenings[lane] = evening;
        Ok(())
    }

    /// Begins a course in a lane as it stands, with the evening before.
    pub(crate) fn begin(&mut self, lane: usize, run: Run, evening: Option<Evening>) {
        self.runs[lane] = Some(run);
        self.evenings[lane] = evening;
    }

    /// Takes the old covering off in every lane.
    pub(crate) fn strip(&mut self) -> Result<(), CuringError> {
        let lanes = self.runs.len();
        self.benches.iter_mut().try_for_each(|bench| (0..lanes).try_for_each(|lane| bench.act(lane, Action::Strip)))
    }

    /// A lane's last evening, for whoever takes its course on.
    pub(crate) fn evening(&mut self, lane: usize) -> Option<Evening> {
        self.evenings[lane].take()
    }

    /// A lane's columns as they stand.
    pub(crate) fn checkpoints(&self, lane: usize) -> Vec<Checkpoint> {
        self.benches.iter().filter_map(|bench| bench.checkpoint(lane)).collect()
    }

    /// Passes all lanes from an hour to a civil hour of a day; gives them as they stood the evening before.
    pub(crate) fn pass_to(&mut self, passed: usize, day: usize, civil: usize) -> Vec<Option<Evening>> {
        let days = self.rule.ground.days;
        let morning = days.hour(day, civil);
        let evening = day.checked_sub(1).map(|before| days.hour(before, days.to)).filter(|&evening| evening >= passed);
        if let Some(evening) = evening {
            self.benches.iter_mut().for_each(|bench| bench.advance(evening - passed));
        }
        let seen = (0..self.runs.len()).map(|lane| evening.map(|hour| Evening { hour, columns: self.checkpoints(lane) })).collect();
        let from = evening.unwrap_or(passed);
        self.benches.iter_mut().for_each(|bench| bench.advance(morning - from));
        seen
    }

    /// Whether nobody is in a lane.
    pub(crate) fn empty(&self, lane: usize) -> bool {
        self.runs[lane].is_none()
    }

    /// Whether a lane waits to be handed on.
    pub(crate) fn due(&self, lane: usize) -> bool {
        self.due[lane]
    }

    /// Cell-steps taken, and hours passed of all lanes and columns.
    pub(crate) fn work(&self) -> (u64, u64) {
        let benches: u64 = self.benches.iter().map(Bench::cell_steps).sum();
        (benches + self.nights.cell_steps(), self.hours * self.benches.len() as u64)
    }

    /// Whether a lane's course is over, or is to be handed on.
    pub(crate) fn done(&self, lane: usize) -> bool {
        self.due[lane] || self.runs[lane].as_ref().is_none_or(|run| run.over)
    }

    /// Takes a course out of its lane, which rests.
    pub(crate) fn leave(&mut self, lane: usize) -> Option<Run> {
        self.benches.iter_mut().for_each(|bench| bench.stop(lane));
        self.due[lane] = false;
        self.runs[lane].take()
    }

    /// Decides for every lane that is not done; those that become done are stopped.
    pub(crate) fn decide(&mut self) {
        for lane in 0..self.runs.len() {
            if self.done(lane) {
                continue;
            }
            if let Some(mut run) = self.runs[lane].take_if(|run| run.decided_hour != Some(run.hour)) {
                run.decided_hour = Some(run.hour);
                let went = self.decide_for(lane, &mut run);
                if let Err(why) = went {
                    run.end(why);
                }
                self.runs[lane] = Some(run);
                if self.done(lane) && !self.due[lane] {
                    self.benches.iter_mut().for_each(|bench| bench.stop(lane));
                }
            }
        }
    }

    /// Passes an hour in every lane that is not done.
    pub(crate) fn pass_hour(&mut self) {
        self.benches.iter_mut().for_each(|bench| bench.advance(1));
        for (run, due) in self.runs.iter_mut().zip(&self.due) {
            let Some(run) = run.as_mut().filter(|run| !run.over && !due) else { continue };
            run.hour += 1;
            self.hours += 1;
            let hung = run.hung;
            if let (Some(screen), Some(tally)) = (hung, run.tally()) {
                tally.covered_h += 1;
                tally.heated_h += u32::from(screen == Screen::Heated);
            }
        }
    }

    fn decide_for(&mut self, lane: usize, run: &mut Run) -> Result<(), String> {
        let (day, civil) = self.rule.ground.days.civil(run.hour);
        let days = self.rule.ground.days;
        if civil == days.from {
            match self.morning(lane, run, day)? {
                Morning::Goes => {}
                Morning::Throws if self.hands_on && run.thrown == self.coats => {
                    self.due[lane] = true;
                    return Ok(());
                }
                Morning::Throws => self.throw(lane, run)?,
                Morning::ThrowsAgain => self.throw_again(lane, run)?,
            }
        }
        if civil == days.to && run.waits_from.is_some() {
            self.evenings[lane] = Some(Evening { hour: run.hour, columns: self.checkpoints(lane) });
        }
        if run.over || run.thrown == 0 || run.placed_hour == run.hour {
            return Ok(());
        }
        self.blow(lane, run)?;
        let at_work = civil >= days.from && civil < days.to;
        if at_work && !days.closed(day) {
            self.tend(lane, run, day, civil)
        } else if self.rule.ground.client_wets && (civil == days.from || civil + 1 == days.to) {
            self.client(lane, run)
        } else {
            Ok(())
        }
    }

    /// Looks at the wall: is the coat ready, is it spoiled, may the next be thrown?
    fn morning(&mut self, lane: usize, run: &mut Run, day: usize) -> Result<Morning, String> {
        let looks = self.looks(lane)?;
        let mut spoiled = false;
        if let Some(coat) = run.thrown.checked_sub(1) {
            spoiled = note_damage(run, coat, &looks);
            if run.waits_from.is_none() && self.ready(&looks) {
                run.waits_from = Some(run.hour);
                let days = u32::try_from((run.hour - run.thrown_hour) / 24).unwrap_or(u32::MAX);
                if let Some(outcome) = run.outcome.coats.last_mut() {
                    outcome.days = Some(days);
                    outcome.decides = looks[0].decides;
                }
                run.note(EventKind::Ready { coat }, "");
                if run.thrown == self.rule.ground.columns[0].coats.len() {
                    run.over = true;
                    return Ok(Morning::Goes);
                }
            }
        }
        let hasty = run.hasty_days.filter(|_| run.thrown == 1);
        if let Some(days) = hasty {
            return Ok(if run.hour >= run.thrown_hour + days as usize * 24 { Morning::Throws } else { Morning::Goes });
        }
        let since = run.waits_from.unwrap_or(run.thrown_hour);
        if run.hour >= since + SEASON_H {
            run.end(given_up(run, spoiled));
            return Ok(Morning::Goes);
        }
        let redo = spoiled && run.outcome.coats.last().is_some_and(|coat| coat.redone < MOST_REDONE);
        if self.rule.ground.days.closed(day) || !(run.waits_from.is_some() || redo) || !self.rule.fit(run, day, &looks[0]) {
            return Ok(Morning::Goes);
        }
        Ok(if redo && run.waits_from.is_none() { Morning::ThrowsAgain } else { Morning::Throws })
    }

    /// Whether every column on which readiness is judged is ready, but for the warmth of the hour.
    fn ready(&self, looks: &[Look]) -> bool {
        self.rule.ground.columns.iter().zip(looks).filter(|(column, _)| column.readies).all(|(_, look)| passes(look))
    }

    /// What is seen of every column of a lane.
    fn looks(&self, lane: usize) -> Result<Vec<Look>, String> {
        let look = |bench: &Bench| match bench.failed(lane) {
            Some(_) => Err(crate::columns::LOST.to_owned()),
            None => Ok(bench.look(lane)),
        };
        self.benches.iter().map(look).collect()
    }

    fn throw(&mut self, lane: usize, run: &mut Run) -> Result<(), String> {
        if run.hung.is_some_and(Screen::is_cloth) {
            self.act(lane, &Action::Strike)?;
            run.hung = None;
            run.note(EventKind::Struck, "the next coat is thrown");
        }
        let damped = self.damp_evening(lane, run)?;
        for bench in &mut self.benches {
            if bench.look(lane).face_humidity < DRY_FACE_HUMIDITY {
                bench.act(lane, Action::DampDown(DAMP_DOWN_KG_M2)).map_err(lost)?;
            }
        }
        self.act(lane, &Action::Throw)?;
        let waited = run.hour.saturating_sub(run.waits_from.unwrap_or(run.hour)) / 24;
        let hours = if damped { WET_H_PER_100_M2 * self.rule.ground.face_m2 / 100.0 } else { 0.0 };
        let tally = Tally { visits: u32::from(damped), hours, ..Tally::default() };
        run.outcome.coats.push(CoatOutcome { waited_days: u32::try_from(waited).unwrap_or(u32::MAX), tally, ..CoatOutcome::default() });
        run.note(EventKind::Thrown { coat: run.thrown }, "");
        run.thrown += 1;
        run.thrown_hour = run.hour;
        run.placed_hour = run.hour;
        run.first_thrown_hour = run.first_thrown_hour.or(Some(run.hour));
        run.waits_from = None;
        run.misted_hour = None;
        Ok(())
    }

    /// Lives the night before a throw again with the wall damped down in the evening, where it was thirsty then; true if it was.
    fn damp_evening(&mut self, lane: usize, run: &mut Run) -> Result<bool, String> {
        let evening = self.evenings[lane].take();
        let Some(columns) = self.nights.damped(evening.as_ref(), run.hour).map_err(lost)? else { return Ok(false) };
        for (bench, from) in self.benches.iter_mut().zip(&columns) {
            bench.resume(lane, from).map_err(lost)?;
        }
        if run.hung.is_none() {
            self.act(lane, &Action::Strike)?;
        }
        if let Some(evening) = evening {
            run.note_at(evening.hour, EventKind::DampedDown, "a coat is thrown next morning");
        }
        Ok(true)
    }

    /// Takes a spoiled coat off and throws it again; its days count on from its first throw.
    fn throw_again(&mut self, lane: usize, run: &mut Run) -> Result<(), String> {
        let first_thrown = run.thrown_hour;
        self.evenings[lane] = None;
        self.act(lane, &Action::TakeOff)?;
        run.thrown -= 1;
        run.note(EventKind::TakenOff { coat: run.thrown }, "it is spoiled");
        let Some(mut kept) = run.outcome.coats.pop() else { return Ok(()) };
        self.throw(lane, run)?;
        kept.redone += 1;
        if let Some(last) = run.outcome.coats.last_mut() {
            *last = kept;
        }
        run.thrown_hour = first_thrown;
        Ok(())
    }

    fn act(&mut self, lane: usize, action: &Action) -> Result<(), String> {
        self.benches.iter_mut().try_for_each(|bench| bench.act(lane, action.clone()).map_err(lost))
    }

    /// Wind above a cloth's limit takes it down; a shelter has to be tied down.
    fn blow(&mut self, lane: usize, run: &mut Run) -> Result<(), String> {
        let Some(screen) = run.hung else { return Ok(()) };
        let limit_m_s = self.rule.ground.screens.cover(screen).wind_limit_m_s * weather::WINDWARD_SHARE;
        let hours = self.rule.ground.climate.wind_m_s.len();
        let blowing = self.rule.ground.climate.wind_m_s[self.rule.index(run, run.hour) % hours] > limit_m_s;
        if blowing && !run.blowing {
            if let Some(tally) = run.tally() {
                tally.blown += 1;
            }
            if screen.is_cloth() {
                self.act(lane, &Action::Strike)?;
                run.hung = None;
            }
            run.note(EventKind::Blown { cover: screen.name() }, Hazard::Wind.words());
        }
        run.blowing = blowing;
        Ok(())
    }

    /// An hour of work on a wall whose coat cures.
    fn tend(&mut self, lane: usize, run: &mut Run, day: usize, civil: usize) -> Result<(), String> {
        if self.rule.policy == Policy::Nothing {
            return Ok(());
        }
        let days = self.rule.ground.days;
        let looks = self.looks(lane)?;
        let Some(coat) = looks[0].coats.last() else { return Ok(()) };
        let (first, last) = (civil == days.from, civil + 1 == days.to);
        let tomorrow = days.hour(days.next_open(day), days.from);
        let model = &self.rule.ground.columns[0].coats[run.thrown - 1];
        let asked_m = model.thresholds.uptake_m.min(model.thresholds.uptake_share * model.thickness_m);
        let sight = Sight {
            forecast: self.rule.forecast(run),
            now: self.rule.index(run, run.hour),
            back: self.rule.index(run, if last { tomorrow } else { days.hour(day, days.to - 1) }),
            back_until: self.rule.index(run, tomorrow),
            first,
            last,
            age_h: coat.age_h,
            cured: run.waits_from.is_some() || coat.uptake_m >= asked_m,
            face_humidity: looks[0].face_humidity,
            cloth_kg_m2: looks[0].cloth_kg_m2,
            hung: run.hung,
            misted_h: run.misted_hour.map_or(usize::MAX, |hour| run.hour - hour),
        };
        for deed in decide(self.rule.policy, &sight, &self.rule.ground.screens).into_iter().flatten() {
            self.carry_out(lane, run, deed)?;
            let thrown_today = days.civil(run.placed_hour).0 == day;
            if !thrown_today && run.visited_hour != Some(run.hour) {
                run.visited_hour = Some(run.hour);
                if let Some(tally) = run.tally() {
                    tally.visits += 1;
                }
            }
        }
        Ok(())
    }

    fn carry_out(&mut self, lane: usize, run: &mut Run, deed: Deed) -> Result<(), String> {
        let hundreds = self.rule.ground.face_m2 / 100.0;
        match deed {
            Deed::Hang(screen, why) => {
                let cover = self.rule.ground.screens.cover(screen).clone();
                // A shelter that stands is heated or left cold by a switch, not hung anew.
                let stands = run.hung.is_some();
                let hours = if stands { 0.0 } else { cover.hang_h_per_100_m2 * hundreds };
                self.act(lane, &Action::Hang(cover))?;
                run.hung = Some(screen);
                if let Some(tally) = run.tally() {
                    tally.hangings += u32::from(!stands);
                    tally.hours += hours;
                }
                run.note(EventKind::Hung { cover: screen.name() }, why.words());
            }
            Deed::Strike(why) => {
                self.act(lane, &Action::Strike)?;
                run.hung = None;
                run.note(EventKind::Struck, why.words());
            }
            Deed::Wet => self.wet(lane, run, EventKind::Wetted)?,
            Deed::Mist => {
                self.act(lane, &Action::Mist(MIST_KG_M2))?;
                run.misted_hour = Some(run.hour);
                if let Some(tally) = run.tally() {
                    tally.mistings += 1;
                    tally.hours += WET_H_PER_100_M2 * hundreds;
                }
                run.note(EventKind::Misted, "the face dries");
            }
        }
        Ok(())
    }

    fn wet(&mut self, lane: usize, run: &mut Run, kind: EventKind) -> Result<(), String> {
        let holds = self.rule.ground.screens.cover(Screen::DampHessian).holds_kg_m2;
        self.act(lane, &Action::Wet(holds))?;
        run.hung = Some(Screen::DampHessian);
        let hours = if kind == EventKind::Wetted { WET_H_PER_100_M2 * self.rule.ground.face_m2 / 100.0 } else { 0.0 };
        if let Some(tally) = run.tally() {
            tally.wettings += 1;
            tally.hours += hours;
        }
        run.note(kind, "the cloth dries");
        Ok(())
    }

    /// On a day that is not worked the client damps a cloth that hangs damp.
    fn client(&mut self, lane: usize, run: &mut Run) -> Result<(), String> {
        let holds = self.rule.ground.screens.cover(Screen::DampHessian).holds_kg_m2;
        if run.hung != Some(Screen::DampHessian) || run.waits_from.is_some() || self.looks(lane)?[0].cloth_kg_m2 > 0.5 * holds {
            return Ok(());
        }
        self.wet(lane, run, EventKind::WettedByClient)?;
        if let Some(tally) = run.tally() {
            tally.client_visits += 1;
        }
        Ok(())
    }
}

/// Whether nothing but the warmth of the hour holds the next coat.
fn passes(look: &Look) -> bool {
    look.rules.iter().all(|rule| rule.holds || rule.criterion == Criterion::ThermallyFit)
}

/// Writes down what has befallen the outermost coat; true if it must come off.
fn note_damage(run: &mut Run, coat: usize, looks: &[Look]) -> bool {
    let mut spoiled = false;
    for damage in looks.iter().flat_map(|look| &look.damage).filter(|damage| damage.coat == coat) {
        spoiled |= damage.grade == DamageGrade::Redo;
        let Some(outcome) = run.outcome.coats.last_mut() else { continue };
        if !outcome.suffered(damage.kind, damage.grade) {
            outcome.note(damage);
            run.note(EventKind::Damaged { kind: damage.kind, grade: damage.grade, coat }, "");
        }
    }
    spoiled
}

fn given_up(run: &Run, spoiled: bool) -> String {
    match (run.thrown, run.waits_from) {
        (0, _) => format!("no day fit for the first coat came in {SEASON_DAYS} days"),
        (coat, _) if spoiled => format!("coat {coat} was spoiled and had to come off more than {MOST_REDONE} times"),
        (coat, None) => format!("coat {coat} was not ready in {SEASON_DAYS} days: not this season"),
        (coat, Some(_)) => format!("after coat {coat} no day fit for the next came in {SEASON_DAYS} days"),
    }
}

fn lost(_: CuringError) -> String {
    crate::columns::LOST.to_owned()
}
