//! The job in every weather year with the curing engine behind it. Each year's foreman sees only his own year; years are run in blocks, side by side,
//! and a year's course depends on that year alone, so that the same input gives the same bits on any number of threads.

use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

use curing::{Action, Bench, CoatModel, Criterion, Look, WallModel};
use jiff::civil::Date;
use materials::{Catalogue, Cover};
use rayon::prelude::*;
use survey::Survey;
use weather::{FaceClimate, RainRecord, Weather, WeatherYear};

use crate::calendar::{Half, add_days, days_between};
use crate::column::{coat_model, face, wall_model};
use crate::fit::{Fitness, Hours, face_unfit, unfit};
use crate::foreman::{Foreman, LONGEST_JOB_DAYS};
use crate::forward::{decide, decision_hours, year_run};
use crate::sheet::{JobSheet, Work, measured};
use crate::site::{Act, Seen, Site};
use crate::{DayRecord, Specification, WaitReason, WallRun, Watch, WorksError, YearRun};

/// Years stepped together in one bench, whose kernel runs them in lanes; within a block the walls are stepped side by side.
const YEARS_IN_A_BLOCK: usize = 16;
/// The bare wall is simulated from the survey, but never longer than this before the start.
const LONGEST_BARE_DAYS: i64 = 365;
/// A face whose pores are drier than this is damped down before a coat, with this much water (common practice; the amounts have no source).
const DRY_FACE_HUMIDITY: f64 = 0.90;
const DAMP_DOWN_KG_M2: f64 = 0.4;
/// A bare face wetter than this holds no scud (common practice; the figure has no source).
const WETTEST_BARE_FACE: f64 = 0.9995;

/// One wall as the engine needs it.
struct WallInYears {
    model: WallModel,
    coats: Vec<CoatModel>,
    /// Cover hung after each coat; `None` where none hangs.
    covers: Vec<Option<Cover>>,
    climate: Arc<FaceClimate>,
    /// Days each coat took to be ready in a run that stands, for a wall that is not stepped again; `None` for a coat that never was.
    kept: Option<Vec<Option<i64>>>,
}

/// The job in the years of a place.
pub(crate) struct Years<'a> {
    sheet: &'a JobSheet,
    weather: &'a Weather,
    walls: Vec<WallInYears>,
    /// Hour index at which each year begins in the joined series.
    begins: Vec<usize>,
    rain_mm: Vec<f64>,
    air_c: Vec<f64>,
    first_day: Date,
}

/// The climates of the faces, in the order of the sheet's walls: dear to make, so made once for all that share a survey's exposure.
pub(crate) fn climates(sheet: &JobSheet, survey: &Survey, weather: &Weather) -> Result<Vec<Arc<FaceClimate>>, WorksError> {
    sheet
        .walls
        .par_iter()
        .map(|wall| {
            let found = found(survey, &wall.slug)?;
            Ok(Arc::new(weather::on_face(weather, &face(found, measured(survey, &wall.slug)?.top_m))))
        })
        .collect()
}

fn found<'a>(survey: &'a Survey, slug: &str) -> Result<&'a survey::WallFound, WorksError> {
    survey
        .building
        .walls
        .iter()
        .find(|wall| wall.slug == slug)
        .ok_or_else(|| WorksError::WallMissing { wall: slug.to_owned(), stage: "survey" })
}

/// The survey's date.
pub(crate) fn surveyed_on(survey: &Survey) -> Result<Date, WorksError> {
    survey.building.surveyed_on.parse().map_err(|_| WorksError::SurveyDate { found: survey.building.surveyed_on.clone() })
}

impl<'a> Years<'a> {
    /// Sets the job into the years.
    pub(crate) fn new(
        sheet: &'a JobSheet,
        survey: &Survey,
        specification: &Specification,
        catalogue: &Catalogue,
        weather: &'a Weather,
        climates: &[Arc<FaceClimate>],
    ) -> Result<Self, WorksError> {
        let mut walls = Vec::new();
        for (wall, climate) in specification.walls.iter().zip(climates) {
            let covers = wall.coats.iter().map(|coat| {
                let hung = crate::sheet::hangs(&coat.protection);
                match catalogue.covers.get(&coat.protection.cover) {
                    _ if !hung => Ok(None),
                    Some(cover) => Ok(Some(cover.clone())),
                    None => Err(WorksError::NotInCatalogue {
                        place: format!("The coat “{}” of the wall “{}”", coat.slug, wall.slug),
                        kind: "cover",
                        name: coat.protection.cover.clone(),
                    }),
                }
            });
            walls.push(WallInYears {
                model: wall_model(found(survey, &wall.slug)?, catalogue)?,
                coats: wall.coats.iter().map(coat_model).collect(),
                covers: covers.collect::<Result<_, _>>()?,
                climate: Arc::clone(climate),
                kept: None,
            });
        }
        let mut begins = Vec::new();
        let (mut rain_mm, mut air_c) = (Vec::new(), Vec::new());
        for year in &weather.years {
            begins.push(air_c.len());
            rain_mm.extend_from_slice(&year.rain_mm);
            air_c.extend_from_slice(&year.air_c);
        }
        if air_c.is_empty() {
            return Err(WorksError::NoWeather);
        }
        if weather.rain == RainRecord::Missing {
            return Err(WorksError::NoRain { place: weather.site.name.clone() });
        }
        let first_day = surveyed_on(survey)?.max(add_days(sheet.start, -LONGEST_BARE_DAYS)).min(sheet.start);
        Ok(Self { sheet, weather, walls, begins, rain_mm, air_c, first_day })
    }

    /// Lets a wall keep the days its coats took in a run that stands, instead of stepping the engine.
    pub(crate) fn keep(&mut self, wall: usize, run: &WallRun) {
        let coats = run.tasks.iter().filter(|task| task.slug != "preparation" && task.slug != "limewash");
        self.walls[wall].kept = Some(coats.map(|task| task.ready.map(|ready| days_between(task.to, ready))).collect());
    }

    /// Runs the given years (indexes), in blocks side by side; also the cell-steps taken.
    pub(crate) fn run(&self, years: &[usize], watch: &dyn Watch) -> Result<(Vec<YearRun>, u64), WorksError> {
        let tally = Tally { watch, over: AtomicUsize::new(0), of: years.len() };
        let blocks: Result<Vec<(Vec<YearRun>, u64)>, WorksError> =
            years.par_chunks(YEARS_IN_A_BLOCK).map(|block| self.run_block(block, &tally)).collect();
        let mut runs = Vec::new();
        let mut cell_steps = 0;
        for (block, steps) in blocks? {
            runs.extend(block);
            cell_steps += steps;
        }
        Ok((runs, cell_steps))
    }

    fn run_block(&self, years: &[usize], tally: &Tally) -> Result<(Vec<YearRun>, u64), WorksError> {
        let first_hours: Vec<usize> =
            years.iter().map(|&year| self.begins[year] + hour_of(&self.weather.years[year], self.first_day)).collect();
        let mut stands = Vec::new();
        for (wall, sheet) in self.walls.iter().zip(&self.sheet.walls) {
            stands.push(match &wall.kept {
                Some(days) => Stand::Kept { days, placed: vec![None; years.len()] },
                None => Bench::new(&wall.model, &wall.coats, Arc::clone(&wall.climate), &first_hours)
                    .map(|bench| Stand::Stepped(Box::new(bench)))
                    .map_err(|error| WorksError::Engine { wall: sheet.slug.clone(), why: error.to_string() })?,
            });
        }
        let mut foremen: Vec<Foreman> = years.iter().map(|_| Foreman::new(self.sheet)).collect();
        let mut clock = Clock { hour: 0 };
        clock.advance_to(&mut stands, self.hour_of_day(self.sheet.start, 0));
        let hours = decision_hours(self.sheet);
        let mut date = self.sheet.start;
        let last = add_days(self.sheet.start, LONGEST_JOB_DAYS + 1);
        let mut over = 0;
        while date <= last && over < foremen.len() {
            if tally.watch.cancelled() {
                return Err(WorksError::Cancelled);
            }
            for &hour in &hours {
                clock.advance_to(&mut stands, self.hour_of_day(date, hour));
                for (member, foreman) in foremen.iter_mut().enumerate() {
                    let mut site = self.site(&mut stands, member, first_hours[member]);
                    decide(self.sheet, foreman, date, hour, &mut site);
                }
            }
            clock.advance_to(&mut stands, self.hour_of_day(add_days(date, 1), 0));
            for (member, foreman) in foremen.iter_mut().enumerate() {
                let site = self.site(&mut stands, member, first_hours[member]);
                foreman.close(date, &site);
                if foreman.unfinished.is_some() {
                    stands.iter_mut().for_each(|stand| stand.leave(member));
                }
            }
            let now_over = foremen.iter().filter(|foreman| foreman.over()).count();
            tally.add(now_over - over);
            over = now_over;
            date = add_days(date, 1);
        }
        let cell_steps = stands.iter().map(Stand::cell_steps).sum();
        let runs = foremen.into_iter().zip(years).map(|(foreman, &year)| year_run(self.sheet, foreman, self.weather.years[year].year));
        Ok((runs.collect(), cell_steps))
    }

    /// Hours from the first day's midnight (series time) to an hour of the civil day.
    fn hour_of_day(&self, date: Date, civil_hour: usize) -> usize {
        let days = days_between(self.first_day, date).max(0);
        let ahead = if civil_hour == 0 { 0 } else { self.sheet.time.ahead_h(date, self.weather.site.utc_offset_h) };
        let hour = days * 24 + i64::try_from(civil_hour).unwrap_or(0) - ahead;
        usize::try_from(hour.max(0)).unwrap_or(0)
    }

    fn site<'s>(&'s self, stands: &'s mut [Stand<'a>], member: usize, first_hour: usize) -> Columns<'s, 'a> {
        Columns { years: self, stands, member, first_hour }
    }
}

/// Years that are over, for whoever watches.
struct Tally<'w> {
    watch: &'w dyn Watch,
    over: AtomicUsize,
    of: usize,
}

impl Tally<'_> {
    fn add(&self, years: usize) {
        if years > 0 {
            let over = self.over.fetch_add(years, Ordering::Relaxed) + years;
            self.watch.progress("programme", over, self.of);
        }
    }
}

/// Hours stepped since the first day.
struct Clock {
    hour: usize,
}

impl Clock {
    fn advance_to(&mut self, stands: &mut [Stand], hour: usize) {
        let hours = hour.saturating_sub(self.hour);
        if hours > 0 {
            stands.par_iter_mut().for_each(|stand| stand.advance(hours));
            self.hour = hour;
        }
    }
}

/// What stands behind a wall: the engine, or the days its coats took in a run that stands.
enum Stand<'a> {
    Stepped(Box<Bench>),
    Kept { days: &'a [Option<i64>], placed: Vec<Option<(usize, Date)>> },
}

impl Stand<'_> {
    fn advance(&mut self, hours: usize) {
        if let Stand::Stepped(bench) = self {
            bench.advance(hours);
        }
    }

    fn leave(&mut self, member: usize) {
        if let Stand::Stepped(bench) = self {
            bench.stop(member);
        }
    }

    fn cell_steps(&self) -> u64 {
        match self {
            Stand::Stepped(bench) => bench.cell_steps(),
            Stand::Kept { .. } => 0,
        }
    }

    fn look(&self, member: usize) -> Option<Look> {
        match self {
            Stand::Stepped(bench) => Some(bench.look(member)),
            Stand::Kept { .. } => None,
        }
    }
}

/// What a coat says that keeps the days it took before; a coat more than stood then takes as long as the last.
fn kept_seen(days: &[Option<i64>], placed: Option<(usize, Date)>, date: Date) -> Seen {
    let hold = placed.and_then(|(coat, placed)| match days.get(coat).or(days.last()).copied().flatten() {
        Some(days) if date >= add_days(placed, days) => None,
        _ => Some(WaitReason::Carbonation),
    });
    Seen { hold, only_wet: false, set_by: None, decides: String::new() }
}

/// Hour of a year at which a civil date begins, by month and day; 29 February becomes 1 March in a year without it.
fn hour_of(year: &WeatherYear, date: Date) -> usize {
    let leap = year.hours() >= 8784;
    let model_year = if leap { 2024 } else { 2023 };
    let day = Date::new(model_year, date.month(), date.day())
        .or_else(|_| Date::new(model_year, 3, 1))
        .map_or(0, |day| usize::from(day.day_of_year().unsigned_abs()) - 1);
    day * 24
}

/// The site of one year: its member of every wall's bench.
struct Columns<'s, 'a> {
    years: &'s Years<'a>,
    stands: &'s mut [Stand<'a>],
    member: usize,
    first_hour: usize,
}

impl Columns<'_, '_> {
    /// Index into the joined series of an hour counted from the first day's midnight.
    fn index(&self, hour: usize) -> usize {
        (self.first_hour + hour) % self.years.air_c.len()
    }
}

/// The bench, if the member on it has not failed.
fn alive(bench: &Bench, member: usize) -> Result<(), String> {
    bench.failed(member).map_or(Ok(()), |error| Err(error.to_string()))
}

impl Site for Columns<'_, '_> {
    fn seen(&self, wall: usize, date: Date) -> Result<Seen, String> {
        match &self.stands[wall] {
            Stand::Stepped(bench) => {
                alive(bench, self.member)?;
                Ok(seen(&bench.look(self.member)))
            }
            Stand::Kept { days, placed } => Ok(kept_seen(days, placed[self.member], date)),
        }
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
        let climate = &self.years.walls[wall].climate;
        let face = || self.stands[wall].look(self.member).and_then(|look| face_unfit(look.face_c));
        unfit(fitness, climate, &self.years.rain_mm, hours).or_else(face)
    }

    fn act(&mut self, wall: usize, act: Act, date: Date) -> Result<(), String> {
        let member = self.member;
        match &mut self.stands[wall] {
            Stand::Stepped(bench) => {
                alive(bench, member)?;
                act_on(bench, member, act, &self.years.walls[wall].covers)
            }
            Stand::Kept { placed, .. } => {
                if let Act::Place(coat) = act {
                    placed[member] = Some((coat, date));
                }
                Ok(())
            }
        }
    }

    fn record(&self, wall: usize, date: Date) -> Option<DayRecord> {
        let look = self.stands[wall].look(self.member)?;
        let begins = self.index(self.years.hour_of_day(date, 0));
        let day = |hour: usize| (begins + hour) % self.years.air_c.len();
        let air = (0..24).map(|hour| self.years.air_c[day(hour)]);
        Some(DayRecord {
            date,
            uptake_m: look.coats.iter().map(|coat| coat.uptake_m).collect(),
            front_m: look.coats.iter().map(|coat| coat.front_m).collect(),
            face_humidity: look.face_humidity,
            air_c: (air.clone().fold(f64::INFINITY, f64::min), air.fold(f64::NEG_INFINITY, f64::max)),
            rain_mm: (0..24).map(|hour| self.years.rain_mm[day(hour)]).sum(),
            cover: None,
            wettings: 0,
        })
    }
}

fn act_on(bench: &mut Bench, member: usize, act: Act, covers: &[Option<Cover>]) -> Result<(), String> {
    let dry = bench.look(member).face_humidity < DRY_FACE_HUMIDITY;
    let mut take = |action| bench.act(member, action).map_err(|error| error.to_string());
    match act {
        Act::Place(_) => {
            if dry {
                take(Action::DampDown(DAMP_DOWN_KG_M2))?;
            }
            take(Action::Throw)
        }
        Act::Hang(coat) => {
            let Some(cover) = &covers[coat] else { return Ok(()) };
            take(Action::Hang(cover.clone()))?;
            if cover.wetted { take(Action::Wet(cover.holds_kg_m2)) } else { Ok(()) }
        }
        Act::Wet => {
            let holds = covers.iter().flatten().map(|cover| cover.holds_kg_m2).fold(0.0, f64::max);
            take(Action::Wet(holds))
        }
        Act::Strike => take(Action::Strike),
        Act::Leave => {
            bench.stop(member);
            Ok(())
        }
    }
}

/// What the rules of the outermost coat mean to a foreman. Whether wall and air are fit for the throw is judged with the weather, not here.
fn seen(look: &Look) -> Seen {
    if look.coats.is_empty() {
        let wet = look.face_humidity > WETTEST_BARE_FACE;
        return Seen { hold: wet.then_some(WaitReason::TooWet), only_wet: false, set_by: None, decides: String::new() };
    }
    let failing: Vec<Criterion> =
        look.rules.iter().filter(|rule| !rule.holds && rule.criterion != Criterion::ThermallyFit).map(|rule| rule.criterion).collect();
    // Of several that fail the one that takes longest is the reason: uptake, then firmness, then age, then the face.
    let hold = [Criterion::Carbonated, Criterion::Firm, Criterion::Age, Criterion::Sound, Criterion::DampNotWet]
        .into_iter()
        .find(|criterion| failing.contains(criterion))
        .map(reason);
    let set_by = if failing.iter().all(|criterion| *criterion == Criterion::DampNotWet) { met_last(look) } else { None };
    Seen { hold, only_wet: failing == [Criterion::DampNotWet], set_by, decides: decides(look) }
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

/// The rule met last, in words; the hour's own warmth is the weather's affair, not the coat's.
fn decides(look: &Look) -> String {
    let words = match look.decides {
        Some(Criterion::DampNotWet) => "its face damp, no longer wet",
        _ => match met_last(look) {
            Some(WaitReason::LeastAge) => "its least age",
            Some(WaitReason::Firmness) => "firm under the thumb",
            Some(WaitReason::Carbonation) => "enough air taken up",
            _ => "all rules together",
        },
    };
    words.to_owned()
}
