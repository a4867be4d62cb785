//! The job in every weather year with the curing engine behind it. Each year's foreman sees only his own year; years are run in blocks, side by side,
//! and a year's course depends on that year alone, so that the same input gives the same bits on any number of threads.

use std::sync::Arc;

use curing::{Action, Bench, CoatModel, Criterion, Look, WallModel};
use jiff::civil::Date;
use materials::{Catalogue, Cover};
use rayon::prelude::*;
use survey::Survey;
use weather::{FaceClimate, Weather, WeatherYear};

use crate::calendar::{Half, add_days, days_between};
use crate::column::{coat_model, face, wall_model};
use crate::fit::{Fitness, Hours, face_unfit, unfit};
use crate::foreman::{Foreman, LONGEST_JOB_DAYS};
use crate::forward::{decide, decision_hours, year_run};
use crate::sheet::{JobSheet, Work, measured};
use crate::site::{Act, Seen, Site};
use crate::{DayRecord, Specification, WaitReason, Watch, WorksError, YearRun};

/// Years stepped together in one bench.
const YEARS_IN_A_BLOCK: usize = 1;
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
        let first_day = surveyed_on(survey)?.max(add_days(sheet.start, -LONGEST_BARE_DAYS)).min(sheet.start);
        Ok(Self { sheet, weather, walls, begins, rain_mm, air_c, first_day })
    }

    /// Runs the given years (indexes), in blocks side by side; also the cell-steps taken.
    pub(crate) fn run(&self, years: &[usize], watch: &dyn Watch) -> Result<(Vec<YearRun>, u64), WorksError> {
        let done = std::sync::atomic::AtomicUsize::new(0);
        let blocks: Result<Vec<(Vec<YearRun>, u64)>, WorksError> = years
            .par_chunks(YEARS_IN_A_BLOCK)
            .map(|block| {
                let result = self.run_block(block, watch)?;
                let so_far = done.fetch_add(block.len(), std::sync::atomic::Ordering::Relaxed) + block.len();
                watch.progress("programme", so_far, years.len());
                Ok(result)
            })
            .collect();
        let mut runs = Vec::new();
        let mut cell_steps = 0;
        for (block, steps) in blocks? {
            runs.extend(block);
            cell_steps += steps;
        }
        Ok((runs, cell_steps))
    }

    fn run_block(&self, years: &[usize], watch: &dyn Watch) -> Result<(Vec<YearRun>, u64), WorksError> {
        let first_hours: Vec<usize> =
            years.iter().map(|&year| self.begins[year] + hour_of(&self.weather.years[year], self.first_day)).collect();
        let mut benches = Vec::new();
        for (wall, sheet) in self.walls.iter().zip(&self.sheet.walls) {
            let bench = Bench::new(&wall.model, &wall.coats, Arc::clone(&wall.climate), &first_hours);
            benches.push(bench.map_err(|error| WorksError::Engine { wall: sheet.slug.clone(), why: error.to_string() })?);
        }
        let mut foremen: Vec<Foreman> = years.iter().map(|_| Foreman::new(self.sheet)).collect();
        let mut clock = Clock { hour: 0 };
        clock.advance_to(&mut benches, self.hour_of_day(self.sheet.start, 0));
        let hours = decision_hours(self.sheet);
        let mut date = self.sheet.start;
        let last = add_days(self.sheet.start, LONGEST_JOB_DAYS + 1);
        while date <= last && foremen.iter().any(|foreman| !foreman.over()) {
            if watch.cancelled() {
                return Err(WorksError::Cancelled);
            }
            for &hour in &hours {
                clock.advance_to(&mut benches, self.hour_of_day(date, hour));
                for (member, foreman) in foremen.iter_mut().enumerate() {
                    let mut site = self.site(&mut benches, member, first_hours[member]);
                    decide(self.sheet, foreman, date, hour, &mut site);
                }
            }
            clock.advance_to(&mut benches, self.hour_of_day(add_days(date, 1), 0));
            for (member, foreman) in foremen.iter_mut().enumerate() {
                let site = self.site(&mut benches, member, first_hours[member]);
                foreman.close(date, &site);
                if foreman.unfinished.is_some() {
                    benches.iter_mut().for_each(|bench| bench.stop(member));
                }
            }
            date = add_days(date, 1);
        }
        let cell_steps = benches.iter().map(Bench::cell_steps).sum();
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

    fn site<'s>(&'s self, benches: &'s mut [Bench], member: usize, first_hour: usize) -> Columns<'s> {
        Columns { years: self, benches, member, first_hour }
    }
}

/// Hours stepped since the first day.
struct Clock {
    hour: usize,
}

impl Clock {
    fn advance_to(&mut self, benches: &mut [Bench], hour: usize) {
        let hours = hour.saturating_sub(self.hour);
        if hours > 0 {
            benches.iter_mut().for_each(|bench| bench.advance(hours));
            self.hour = hour;
        }
    }
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
struct Columns<'a> {
    years: &'a Years<'a>,
    benches: &'a mut [Bench],
    member: usize,
    first_hour: usize,
}

impl Columns<'_> {
    fn alive(&self, wall: usize) -> Result<(), String> {
        self.benches[wall].failed(self.member).map_or(Ok(()), |error| Err(error.to_string()))
    }

    /// Index into the joined series of an hour counted from the first day's midnight.
    fn index(&self, hour: usize) -> usize {
        (self.first_hour + hour) % self.years.air_c.len()
    }
}

impl Site for Columns<'_> {
    fn seen(&self, wall: usize, _date: Date) -> Result<Seen, String> {
        self.alive(wall)?;
        Ok(seen(&self.benches[wall].look(self.member)))
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
        unfit(fitness, climate, &self.years.rain_mm, hours).or_else(|| face_unfit(self.benches[wall].look(self.member).face_c))
    }

    fn act(&mut self, wall: usize, act: Act, _date: Date) -> Result<(), String> {
        self.alive(wall)?;
        let member = self.member;
        let covers = &self.years.walls[wall].covers;
        let bench = &mut self.benches[wall];
        let mut take = |action| bench.act(member, action).map_err(|error| error.to_string());
        match act {
            Act::Place(_) => {
                if self.benches[wall].look(member).face_humidity < DRY_FACE_HUMIDITY {
                    self.benches[wall].act(member, Action::DampDown(DAMP_DOWN_KG_M2)).map_err(|error| error.to_string())?;
                }
                self.benches[wall].act(member, Action::Throw).map_err(|error| error.to_string())
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

    fn record(&self, wall: usize, date: Date) -> Option<DayRecord> {
        let look = self.benches[wall].look(self.member);
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

/// What the rules of the outermost coat mean to a foreman. Whether wall and air are fit for the throw is judged with the weather, not here.
fn seen(look: &Look) -> Seen {
    if look.coats.is_empty() {
        let wet = look.face_humidity > WETTEST_BARE_FACE;
        return Seen { hold: wet.then_some(WaitReason::TooWet), only_wet: false, decides: String::new() };
    }
    let failing: Vec<Criterion> =
        look.rules.iter().filter(|rule| !rule.holds && rule.criterion != Criterion::ThermallyFit).map(|rule| rule.criterion).collect();
    // Of several that fail the one that takes longest is the reason: uptake, then firmness, then age, then the face.
    let hold = [Criterion::Carbonated, Criterion::Firm, Criterion::Age, Criterion::Sound, Criterion::DampNotWet]
        .into_iter()
        .find(|criterion| failing.contains(criterion))
        .map(reason);
    Seen { hold, only_wet: failing == [Criterion::DampNotWet], decides: decides(look) }
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

/// The rule met last, in words.
fn decides(look: &Look) -> String {
    let words = match look.decides {
        Some(Criterion::Age) => "its least age",
        Some(Criterion::Firm) => "firm under the thumb",
        Some(Criterion::Carbonated) => "enough air taken up",
        Some(Criterion::DampNotWet) => "its face damp, no longer wet",
        Some(Criterion::Sound) => "sound",
        Some(Criterion::ThermallyFit) | None => "all rules together",
    };
    words.to_owned()
}
