//! The job as the solver is asked: half-days from the start on, pieces of work that gangs can do, gaps by the day on which a coat is thrown, scaffold by the
//! wall, and what time costs. It must never decide: it writes down.

use jiff::civil::Date;
use rust_decimal::Decimal;
use schedule::{Due, Gang, Gap, Instance, Plan, Scaffold, Span, Stretch, Task, Wait, Way};
use weather::Weather;

use super::Piece;
use super::order::Order;
use crate::calendar::{add_days, day, days_between};
use crate::forward::run_by_thumb;
use crate::protect::{Foresight, LookaheadAsked, Policy, Spread, WeekAhead, lookahead_in};
use crate::road::Stages;
use crate::sheet::{JobSheet, Step, WallSheet, Work, hangs};
use crate::thumb::{FORTNIGHT_DAYS, Rule, WEEK_DAYS};
use crate::visits::{late_a_day, pence, wages_h};
use crate::{Inputs, WaitReason, Watch, WorksError};

/// Weeks looked ahead, at least and at most.
const WEEKS: (i64, i64) = (14, 40);
/// Half-days without work on the job after which a gang goes away: the foreman counts a visit after three days.
const PATIENCE: u32 = 4;

/// How long a coat is taken to need.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Confidence {
    /// As long as in three years of four.
    Best,
    /// As long as in half of the years.
    Riskier,
    /// As long as in any of the years.
    Safer,
}

impl Confidence {
    pub(super) const ALL: [Confidence; 3] = [Confidence::Best, Confidence::Riskier, Confidence::Safer];

    pub(super) fn words(self) -> &'static str {
        match self {
            Confidence::Best => "coats take as long as in three years of four",
            Confidence::Riskier => "coats take as long as in half of the years",
            Confidence::Safer => "coats take as long as in the worst of the years",
        }
    }

    fn of(self, spread: &Spread) -> Option<f64> {
        match self {
            Confidence::Best => spread.upper_quarter,
            Confidence::Riskier => spread.middle,
            Confidence::Safer => spread.most.filter(|_| spread.not_this_season == 0.0),
        }
    }
}

/// The question without its confidence.
pub(super) struct Question<'a> {
    inputs: &'a Inputs,
    sheet: &'a JobSheet,
    pub(super) from: Date,
    days: i64,
    /// Per wall and week what lies ahead; empty by rule of thumb.
    ahead: Vec<Vec<WeekAhead>>,
    policy: Policy,
}

impl<'a> Question<'a> {
    pub(super) fn new(
        inputs: &'a Inputs,
        stages: &'a Stages,
        weather: Option<&Weather>,
        years: &[usize],
        watch: &dyn Watch,
    ) -> Result<Self, WorksError> {
        let sheet = &stages.sheet;
        let from = sheet.start;
        let thumb = run_by_thumb(sheet, Rule::Thumb).finished.map_or(7 * WEEKS.1, |finish| days_between(from, finish));
        // Half as long again as by rule of thumb, and a month.
        let weeks = ((thumb * 3 / 2 + 30) / 7).clamp(WEEKS.0, WEEKS.1);
        let covered = sheet.walls.iter().flat_map(|wall| &wall.coats).any(|coat| hangs(&coat.protection));
        let policy = if covered { Policy::HessianByRule } else { Policy::Nothing };
        let asked = LookaheadAsked {
            policies: vec![policy],
            foresight: Foresight::Imperfect,
            from,
            weeks: usize::try_from(weeks).unwrap_or(1),
            client_wets: false,
            percentiles: false,
        };
        let ahead = match weather {
            Some(weather) => {
                let ahead = lookahead_in(inputs, weather, stages, years, &asked, watch)?;
                ahead.walls.into_iter().map(|wall| wall.policies.into_iter().next().map_or(Vec::new(), |policy| policy.weeks)).collect()
            }
            None => Vec::new(),
        };
        Ok(Self { inputs, sheet, from, days: 7 * weeks, ahead, policy })
    }

    pub(super) fn notes(&self) -> Vec<String> {
        let gaps = if self.ahead.is_empty() {
            "No weather is at hand: coats wait a week, two when thrown from November to March.".to_owned()
        } else {
            format!("The solver takes the coats' waits under {}; the foreman goes by the specification's covers.", self.policy.words())
        };
        let gangs = "A wall is bound to the gang that the solver gave most of its coats and other work to; where the job names a gang for a wall, it keeps it.";
        let several = (self.sheet.gangs.len() > 1).then(|| gangs.to_owned());
        let mut notes = vec![
            gaps,
            format!("It looks {} weeks ahead from the job's start; no coat thrown later is ordered.", self.days / 7),
            "Scaffold that was to stand for the start comes for the start that is found.".to_owned(),
        ];
        notes.extend(several);
        notes
    }

    /// Why no piece of work can begin within the weeks looked ahead, where one date alone forbids it.
    pub(super) fn out_of_sight(&self) -> Option<String> {
        let last = add_days(self.from, self.days);
        let closed = self.sheet.closed_until.iter().map(|&(from, reason)| (from, reason.words()));
        let dates = closed.chain([(self.sheet.scaffold_from, WaitReason::Scaffold.words())]);
        let (date, waits) = dates.max_by_key(|&(from, _)| from).filter(|&(from, _)| from >= last)?;
        Some(format!(
            "All work waits {waits} until {}, and no more than {} weeks are looked ahead from the start on {}. Bring that date forward or move the start.",
            day(date),
            self.days / 7,
            day(self.from)
        ))
    }

    fn slot(&self, date: Date) -> u32 {
        u32::try_from(2 * days_between(self.from, date)).unwrap_or(0)
    }

    fn date(&self, slot: u32) -> Date {
        add_days(self.from, i64::from(slot / 2))
    }

    fn slots(&self) -> u32 {
        u32::try_from(2 * self.days).unwrap_or(0)
    }

    pub(super) fn instance(&self, confidence: Confidence) -> Instance {
        let mut tasks: Vec<Task> = Vec::new();
        let (mut gaps, mut spans) = (Vec::new(), Vec::new());
        for (number, wall) in self.sheet.walls.iter().enumerate() {
            let first = tasks.len();
            let mut before = None;
            for step in steps(wall) {
                let after = tasks.len();
                gaps.extend(before.map(|earlier| Gap { before: after - 1, after, wait: self.wait(number, earlier, confidence) }));
                tasks.push(self.task(number, step));
                before = Some(step);
            }
            let last = tasks.len() - 1;
            tasks[last].due = self.due();
            spans.push(self.span(wall, first, last));
        }
        let sets = u32::try_from(self.sheet.walls_at_once.min(self.sheet.walls.len())).unwrap_or(u32::MAX);
        Instance {
            slots: self.slots(),
            closed: self.closed(),
            gangs: (0..self.sheet.gangs.len()).map(|gang| self.gang(gang)).collect(),
            scaffolds: vec![Scaffold { name: "Scaffold".to_owned(), sets, closed: Vec::new() }],
            tasks,
            gaps,
            spans,
            // Never nought, so that of two orders as dear the sooner is chosen.
            per_slot: (pence(self.inputs.rates.plant_week.value) / 14).max(1),
        }
    }

    fn closed(&self) -> Vec<Stretch> {
        let shut = (0..self.days).filter(|&day| self.sheet.time.closed(add_days(self.from, day)).is_some());
        shut.filter_map(|day| u32::try_from(2 * day).ok()).map(|slot| Stretch { from: slot, to: slot + 2 }).collect()
    }

    fn gang(&self, gang: usize) -> Gang {
        let asked = &self.inputs.gangs[gang];
        let travel = Decimal::from_f64_retain(asked.travel_h.value).unwrap_or_default() * wages_h(self.inputs, gang);
        let visit = pence(self.inputs.rates.visit.value + travel);
        Gang { name: asked.name.clone(), away: Vec::new(), visit, patience: PATIENCE }
    }

    fn task(&self, wall: usize, number: usize) -> Task {
        let sheet = &self.sheet.walls[wall];
        let step = &sheet.steps[number];
        let half_days = |gang: usize| match step.work {
            Work::Limewash(_) => limewash_half_days(self.sheet, sheet, gang),
            _ => self.sheet.half_days(gang, step),
        };
        let able = (0..self.sheet.gangs.len()).filter(|&gang| self.sheet.is_able(gang, step) && sheet.gang.is_none_or(|own| own == gang));
        let ways: Vec<Way> = able.map(|gang| Way { gang, slots: half_days(gang) }).collect();
        let coat = matches!(step.work, Work::Coat(_)) && !step.is_in_bays();
        let longest = 2 * self.sheet.time.longest_stretch(self.from);
        let not_before = match step.work {
            Work::Preparation => self.sheet.scaffold_from,
            Work::Coat(0) => self.sheet.approved_from,
            _ => self.from,
        };
        Task {
            name: format!("{}: {}", sheet.name, said(sheet, step.work)),
            unbroken: coat && ways.iter().all(|way| way.slots <= longest),
            ways,
            not_before: self.slot(not_before.max(self.from)),
            charge: if let Work::Coat(coat) = step.work { self.risk(wall, coat, step) } else { Vec::new() },
            ..Task::default()
        }
    }

    /// What lateness is charged at, for each day that a wall ends after the client's date.
    fn due(&self) -> Option<Due> {
        let per_slot = u32::try_from(pence(late_a_day(self.inputs, &self.sheet.time)) / 2).unwrap_or(u32::MAX);
        self.inputs.window.finish_by.map(|by| Due { by: self.slot(add_days(by, 1)), per_slot })
    }

    fn span(&self, wall: &WallSheet, first: usize, last: usize) -> Span {
        let m2 = Decimal::from_f64_retain(wall.scaffold_m2).unwrap_or_default();
        let week = pence(self.inputs.scaffold.hire_m2_week.value * m2);
        Span {
            name: wall.name.clone(),
            scaffold: 0,
            first,
            last,
            // It comes down from the day of the tie patches on, and the same scaffolders then put it up before the next wall.
            stays: 2 * (wall.scaffold.down_days - 1 + wall.scaffold.up_days),
            per_slot: u32::try_from(week / 14).unwrap_or(u32::MAX),
        }
    }

    /// Half-days from the end of a step to the beginning of the next, by where it ends.
    fn wait(&self, wall: usize, step: usize, confidence: Confidence) -> Wait {
        let sheet = &self.sheet.walls[wall];
        let next = sheet.steps.get(step + 1).map(|step| step.work);
        let days = |day: i64| match (sheet.steps[step].work, next) {
            (Work::Coat(_), Some(Work::Limewash(_))) => Some(sheet.limewash_wait_days),
            (Work::Coat(coat), Some(Work::TiePatches)) => {
                let protection = &sheet.coats[coat].protection;
                Some(if hangs(protection) { i64::from(protection.days) } else { 1 })
            }
            (Work::Limewash(_), Some(Work::TiePatches)) => Some(sheet.limewash_gap_days),
            (Work::Coat(coat), Some(_)) => self.ready_days(wall, coat, day, confidence),
            _ => Some(0),
        };
        let by_end = |end: u32| {
            let last_day = i64::from(end.saturating_sub(1) / 2);
            let Some(days) = days(last_day) else { return Wait::NEVER };
            let ready = if days == 0 { end } else { u32::try_from(2 * (last_day + days)).unwrap_or(end) };
            ready.saturating_sub(end)
        };
        Wait::ByEnd((0..=self.slots()).map(by_end).collect())
    }

    /// Days from a coat's last day to the next coat, for a coat thrown on a day counted from the start.
    fn ready_days(&self, wall: usize, coat: usize, day: i64, confidence: Confidence) -> Option<i64> {
        let least = self.sheet.walls[wall].coats[coat].least_wait_days;
        let days = match self.ahead.get(wall) {
            None => {
                let cold = [11, 12, 1, 2, 3].contains(&add_days(self.from, day).month());
                if cold { FORTNIGHT_DAYS } else { WEEK_DAYS }
            }
            Some(weeks) => {
                let week = thrown_about(weeks, coat, day)?;
                // The next coat waits for a fit day as long as in half of the years: two long waits seldom meet.
                let fit = week.coats.get(coat + 1).and_then(|next| next.waited_days.middle).unwrap_or(0.0);
                confidence.of(&week.coats.get(coat)?.days)? + fit
            }
        };
        Some(days.max(least).ceil() as i64)
    }

    /// The stated charge for risk: what it costs to take a coat off and lay it again, times the share of years in which that befalls it.
    fn risk(&self, wall: usize, coat: usize, step: &Step) -> Vec<u32> {
        let Some(weeks) = self.ahead.get(wall) else { return Vec::new() };
        let again = self.sheet.half_days(0, step) + self.sheet.take_off_half_days(0, self.sheet.walls[wall].coats[coat].take_off_days);
        let half_day = pence(wages_h(self.inputs, 0)) as f64 * self.sheet.time.hours / 2.0;
        let charge = |slot: u32| {
            let redone =
                thrown_about(weeks, coat, i64::from(slot / 2)).and_then(|week| week.coats.get(coat)).map_or(0.0, |coat| coat.redone);
            // In whole tens of pence, which is finer than the shares are known.
            ((redone * half_day * f64::from(again) / 10.0).round() * 10.0) as u32
        };
        (0..self.slots()).map(charge).collect()
    }

    /// The walls by when they are begun, the day of the first piece of work and, where there are several gangs, the one that does most on each wall.
    pub(super) fn order(&self, plan: &Plan) -> Order {
        let mut begun: Vec<(u32, usize)> = Vec::new();
        let mut gangs = self.inputs.running.gang_of.clone();
        let mut task = 0;
        for (number, wall) in self.sheet.walls.iter().enumerate() {
            begun.push((plan.tasks[task].start, number));
            let pieces = &plan.tasks[task..task + steps(wall).count()];
            task += pieces.len();
            if self.sheet.gangs.len() > 1 && wall.gang.is_none() {
                let does = |gang: usize| pieces.iter().filter(|piece| piece.gang == gang).map(|piece| piece.end - piece.start).sum::<u32>();
                let most = (0..self.sheet.gangs.len()).min_by_key(|&gang| (std::cmp::Reverse(does(gang)), gang));
                gangs.extend(most.map(|gang| (wall.slug.clone(), gang)));
            }
        }
        begun.sort_unstable();
        let start = begun.first().map_or(self.from, |&(slot, _)| self.date(slot));
        Order { walls: begun.into_iter().map(|(_, wall)| self.sheet.walls[wall].slug.clone()).collect(), start, gangs }
    }

    /// Whether every wall's pieces are given to the gang that an order binds it to: the foreman works so alone.
    pub(super) fn keeps(&self, plan: &Plan, order: &Order) -> bool {
        let owners = self.sheet.walls.iter().flat_map(|wall| steps(wall).map(|_| order.gangs.get(&wall.slug)));
        owners.zip(&plan.tasks).all(|(owner, placed)| owner.is_none_or(|&gang| gang == placed.gang))
    }

    /// The pieces of work by when they begin.
    pub(super) fn pieces(&self, plan: &Plan) -> Vec<Piece> {
        let names: Vec<String> = self
            .sheet
            .walls
            .iter()
            .flat_map(|wall| steps(wall).map(move |step| format!("{}: {}", wall.name, said(wall, wall.steps[step].work))))
            .collect();
        let piece = |task: usize| {
            let placed = plan.tasks[task];
            Piece {
                name: names[task].clone(),
                gang: self.sheet.gangs[placed.gang].name.clone(),
                from: self.date(placed.start),
                to: self.date(placed.end - 1),
            }
        };
        plan.order().into_iter().map(piece).collect()
    }
}

/// The steps of a wall by number, of the limewashes the first alone: they follow day upon day.
fn steps(wall: &WallSheet) -> impl Iterator<Item = usize> {
    (0..wall.steps.len()).filter(move |&step| !matches!(wall.steps[step].work, Work::Limewash(number) if number > 0))
}

/// Half-days of all limewashes of a wall, with the days between them.
fn limewash_half_days(sheet: &JobSheet, wall: &WallSheet, gang: usize) -> u32 {
    let between = u32::try_from(2 * wall.limewash_gap_days).unwrap_or(u32::MAX);
    let washes: Vec<u32> =
        wall.steps.iter().filter(|step| matches!(step.work, Work::Limewash(_))).map(|step| sheet.half_days(gang, step)).collect();
    let (last, before) = washes.split_last().map_or((1, &[][..]), |(last, before)| (*last, before));
    before.iter().map(|&half_days| half_days.max(between)).sum::<u32>() + last
}

/// The start week under which a coat is thrown about a day: the last that throws it no later, else the first; `None` where none throws it.
fn thrown_about(weeks: &[WeekAhead], coat: usize, day: i64) -> Option<&WeekAhead> {
    let thrown = |number: usize, week: &WeekAhead| {
        let before: f64 =
            week.coats.iter().take(coat).map(|one| one.waited_days.middle.unwrap_or(0.0) + one.days.middle.unwrap_or(0.0)).sum();
        7.0 * number as f64 + before
    };
    let all = || weeks.iter().enumerate().filter(|(_, week)| week.coats.get(coat).is_some_and(|coat| coat.thrown > 0.0));
    let no_later = all().rfind(|&(number, week)| thrown(number, week) <= day as f64);
    no_later.or_else(|| all().next()).map(|(_, week)| week)
}

fn said(wall: &WallSheet, work: Work) -> String {
    match work {
        Work::Preparation => "preparation".to_owned(),
        Work::Coat(coat) => wall.coats[coat].name.to_lowercase(),
        Work::Limewash(_) => "limewash".to_owned(),
        Work::TiePatches => "tie patches".to_owned(),
    }
}
