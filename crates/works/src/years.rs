//! The job in every weather year with the curing engine behind it. Each year's foreman sees only his own year; years are run in blocks, side by side,
//! and a year's course depends on that year alone, so that the same input gives the same bits on any number of threads.

use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

use curing::{Bench, CoatModel, CuringError, WallModel};
use jiff::civil::Date;
use materials::{Catalogue, Cover};
use rayon::prelude::*;
use survey::Survey;
use weather::{FaceClimate, RainRecord, Weather, WeatherYear};

use crate::calendar::{add_days, days_between};
use crate::climates::WallClimate;
use crate::column::{coat_model, ends, wall_model};
use crate::columns::{Columns, Side, Stand};
use crate::daylight::Daylight;
use crate::foreman::{Foreman, LONGEST_JOB_DAYS};
use crate::forward::{decide, decision_hours, run_by_thumb, year_run};
use crate::protect::{ColumnModel, Errors, Foresight};
use crate::sheet::{JobSheet, measured};
use crate::tending::Tending;
use crate::thumb::Rule;
use crate::{Inputs, Loss, Specification, WallRun, Watch, WorksError, YearRun};

/// Years stepped together in one bench, whose kernel runs them in lanes; within a block the walls are stepped side by side.
const YEARS_IN_A_BLOCK: usize = 16;
/// The bare wall is simulated from the survey, but never longer than this before the start.
pub(crate) const LONGEST_BARE_DAYS: i64 = 365;
/// Days of walls in weather years (walls × years × days from the survey to the end) up to which a job is planned in one go. Measured: the whole plan of
/// a job of 20 walls in 12 years, 146 000 such days, took 11 s of processor time on one thread, so that the limit stands near a minute and a quarter.
const MOST_WALL_DAYS: u64 = 1_000_000;

/// One wall as the engine needs it.
pub(crate) struct WallInYears {
    pub(crate) model: WallModel,
    pub(crate) coats: Vec<CoatModel>,
    /// Cover hung after each coat; `None` where none hangs.
    pub(crate) covers: Vec<Option<Cover>>,
    pub(crate) climate: Arc<FaceClimate>,
    /// Face that is tended, m².
    pub(crate) face_m2: f64,
    /// What a run that stands says of it, for a wall that is not stepped again.
    kept: Option<Kept>,
    /// Its ends, where they are followed beside its middle.
    ends: Vec<ColumnModel>,
    /// Its place among the columns: its own number, unless jobs that take the walls in other orders are lived side by side.
    pub(crate) stand: usize,
}

/// What a run that stands says of a wall that is not stepped again.
struct Kept {
    /// Days each coat took to be ready; `None` for one that never was.
    days: Vec<Option<i64>>,
    /// Coats lost on it.
    losses: Vec<Loss>,
}

/// The job in the years of a place.
pub(crate) struct Years<'a> {
    pub(crate) sheet: &'a JobSheet,
    pub(crate) weather: &'a Weather,
    pub(crate) walls: Vec<WallInYears>,
    /// The years' series, one after the other.
    pub(crate) joined: Arc<Joined>,
    pub(crate) first_day: Date,
    /// What policies need that tend coats; `None` where none does.
    pub(crate) tending: Option<Tending>,
    /// What the foreman knows of the weather to come.
    pub(crate) foresight: Foresight,
}

/// The series of all years, one after the other, and their forecasts: the same for every job at a place under one seed.
pub(crate) struct Joined {
    /// Hour index at which each year begins.
    pub(crate) begins: Vec<usize>,
    pub(crate) rain_mm: Vec<f64>,
    pub(crate) air_c: Vec<f64>,
    /// What the forecasts of each year are out by.
    pub(crate) errors: Vec<Errors>,
    /// How long it is light at the place.
    pub(crate) daylight: Daylight,
}

/// Hours for which the errors of a year's forecasts are drawn: no job is followed for longer.
const FORECAST_H: usize = 24 * (LONGEST_JOB_DAYS as usize + 400);

impl Joined {
    /// Joins the years, refusing weather that no programme can be lived through; the forecasts' errors are drawn from the seed.
    pub(crate) fn of(weather: &Weather, seed: u64) -> Result<Self, WorksError> {
        let mut joined =
            Self { begins: Vec::new(), rain_mm: Vec::new(), air_c: Vec::new(), errors: Vec::new(), daylight: Daylight::at(&weather.site) };
        for year in &weather.years {
            joined.errors.push(Errors::new(seed, year.year, FORECAST_H));
            joined.begins.push(joined.air_c.len());
            joined.rain_mm.extend_from_slice(&year.rain_mm);
            joined.air_c.extend_from_slice(&year.air_c);
        }
        if joined.air_c.is_empty() {
            return Err(WorksError::NoWeather);
        }
        if weather.rain == RainRecord::Missing {
            return Err(WorksError::NoRain { place: weather.site.name.clone() });
        }
        Ok(joined)
    }
}

/// Refuses a job too large to be planned in one go, by how long it takes without weather.
pub(crate) fn check_size(sheet: &JobSheet, survey: &Survey, weather: &Weather) -> Result<(), WorksError> {
    let finish = run_by_thumb(sheet, Rule::Thumb).finished.unwrap_or(add_days(sheet.start, LONGEST_JOB_DAYS));
    let days = u64::try_from(days_between(first_day(sheet, survey)?, finish)).unwrap_or(0) + 1;
    let (walls, years) = (sheet.walls.len(), weather.years.len());
    if (walls as u64).saturating_mul(years as u64).saturating_mul(days) <= MOST_WALL_DAYS {
        return Ok(());
    }
    Err(WorksError::TooLarge { walls, years, days, most: MOST_WALL_DAYS })
}

/// First day simulated: the survey's, but never longer than a limit before the start.
fn first_day(sheet: &JobSheet, survey: &Survey) -> Result<Date, WorksError> {
    Ok(surveyed_on(survey)?.max(add_days(sheet.start, -LONGEST_BARE_DAYS)).min(sheet.start))
}

pub(crate) fn found<'a>(survey: &'a Survey, slug: &str) -> Result<&'a survey::WallFound, WorksError> {
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

impl WallInYears {
    /// Benches for its ends, a member for each first hour.
    fn sides(&self, first_hours: &[usize]) -> Result<Vec<Side>, CuringError> {
        let side = |column: &ColumnModel| {
            let bench = Bench::new(&column.wall, &column.coats, Arc::clone(&self.climate), first_hours)?;
            Ok(Side { bench, readies: column.readies })
        };
        self.ends.iter().map(side).collect()
    }
}

impl<'a> Years<'a> {
    /// Sets the job into the years.
    pub(crate) fn new(
        sheet: &'a JobSheet,
        survey: &Survey,
        specification: &Specification,
        inputs: &Inputs,
        weather: &'a Weather,
        climates: &[WallClimate],
    ) -> Result<Self, WorksError> {
        Self::on(sheet, survey, specification, inputs, weather, climates, Arc::new(Joined::of(weather, inputs.seed)?))
    }

    /// The same on series that are joined already.
    pub(crate) fn on(
        sheet: &'a JobSheet,
        survey: &Survey,
        specification: &Specification,
        inputs: &Inputs,
        weather: &'a Weather,
        climates: &[WallClimate],
        joined: Arc<Joined>,
    ) -> Result<Self, WorksError> {
        let catalogue = &inputs.catalogue;
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
                model: wall_model(found(survey, &wall.slug)?, catalogue, climate)?,
                coats: wall.coats.iter().map(coat_model).collect(),
                covers: covers.collect::<Result<_, _>>()?,
                climate: Arc::clone(&climate.face),
                face_m2: measured(survey, &wall.slug).map(|size| size.net_m2 + size.reveal_m2)?,
                kept: None,
                ends: Vec::new(),
                stand: walls.len(),
            });
        }
        let tending = Tending::of(sheet, inputs)?;
        Ok(Self { sheet, weather, walls, joined, first_day: first_day(sheet, survey)?, tending, foresight: inputs.foresight })
    }

    /// Lets a wall keep the days its coats took and the coats it lost in a run that stands, instead of stepping the engine.
    pub(crate) fn keep(&mut self, wall: usize, run: &WallRun, losses: &[Loss]) {
        let coats = run.tasks.iter().filter(|task| task.is_coat());
        let days = coats.map(|task| task.ready.map(|ready| days_between(task.to, ready))).collect();
        let losses = losses.iter().filter(|loss| loss.wall == run.slug).cloned().collect();
        self.walls[wall].kept = Some(Kept { days, losses });
    }

    /// Takes the places of the walls among the columns from another job with the same walls, whatever their order.
    pub(crate) fn stand_as(&mut self, other: &JobSheet) {
        for (wall, sheet) in self.walls.iter_mut().zip(&self.sheet.walls) {
            wall.stand = other.walls.iter().position(|other| other.slug == sheet.slug).unwrap_or(wall.stand);
        }
    }

    /// The wall at a place among the columns.
    pub(crate) fn at(&self, stand: usize) -> usize {
        self.walls.iter().position(|wall| wall.stand == stand).unwrap_or(stand)
    }

    /// Has every wall followed at its ends too.
    pub(crate) fn with_ends(
        mut self,
        survey: &Survey,
        specification: &Specification,
        catalogue: &Catalogue,
        climates: &[WallClimate],
    ) -> Result<Self, WorksError> {
        for ((wall, specified), climate) in self.walls.iter_mut().zip(&specification.walls).zip(climates) {
            wall.ends = ends(found(survey, &specified.slug)?, specified, catalogue, climate)?;
        }
        Ok(self)
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

    /// Hours of the joined series at which some years' walls begin.
    pub(crate) fn first_hours(&self, years: &[usize]) -> Vec<usize> {
        years.iter().map(|&year| self.joined.begins[year] + hour_of(&self.weather.years[year], self.first_day)).collect()
    }

    /// Says which wall the engine refuses.
    pub(crate) fn refused(&self, wall: usize, error: &CuringError) -> WorksError {
        WorksError::Engine { wall: self.sheet.walls[wall].slug.clone(), why: error.to_string() }
    }

    /// A bench of a wall, a member for each first hour.
    pub(crate) fn bench(&self, wall: usize, first_hours: &[usize]) -> Result<Bench, WorksError> {
        let model = &self.walls[wall];
        let bench = Bench::new(&model.model, &model.coats, Arc::clone(&model.climate), first_hours);
        bench.map_err(|error| self.refused(wall, &error))
    }

    fn stands(&self, first_hours: &[usize]) -> Result<Vec<Stand<'_>>, WorksError> {
        let walls = self.walls.iter().enumerate();
        walls
            .map(|(number, wall)| match &wall.kept {
                Some(kept) => Ok(Stand::Kept { days: &kept.days, placed: vec![None; first_hours.len()] }),
                None => {
                    let ends = wall.sides(first_hours).map_err(|error| self.refused(number, &error))?;
                    Ok(Stand::Stepped { bench: Box::new(self.bench(number, first_hours)?), ends, hour: 0 })
                }
            })
            .collect()
    }

    fn run_block(&self, years: &[usize], tally: &Tally) -> Result<(Vec<YearRun>, u64), WorksError> {
        let first_hours = self.first_hours(years);
        let mut stands = self.stands(&first_hours)?;
        let mut foremen: Vec<Foreman> = years.iter().map(|_| Foreman::new(self.sheet)).collect();
        let hours = decision_hours(self.sheet);
        let mut date = self.sheet.start;
        let last = add_days(self.sheet.start, LONGEST_JOB_DAYS + 1);
        let mut over = 0;
        while date <= last && over < foremen.len() {
            if tally.watch.cancelled() {
                return Err(WorksError::Cancelled);
            }
            // Whoever was over before this day does nothing more, so that how a year ends hangs on no other.
            let here: Vec<usize> = (0..foremen.len()).filter(|&member| !foremen[member].over()).collect();
            for &hour in &hours {
                self.bring(&mut stands, &foremen, date, self.hour_of_day(date, hour))?;
                for &member in &here {
                    let mut site = self.site(&mut stands, (member, years[member]), self.hour_of_day(date, hour), first_hours[member]);
                    decide(self.sheet, &mut foremen[member], date, hour, &mut site);
                }
            }
            let now = self.hour_of_day(add_days(date, 1), 0);
            self.bring(&mut stands, &foremen, date, now)?;
            for &member in &here {
                let site = self.site(&mut stands, (member, years[member]), now, first_hours[member]);
                foremen[member].close(date, &site);
                if foremen[member].unfinished.is_some() {
                    stands.iter_mut().for_each(|stand| stand.leave(member));
                }
            }
            let now_over = foremen.iter().filter(|foreman| foreman.over()).count();
            tally.add(now_over - over);
            over = now_over;
            date = add_days(date, 1);
        }
        let cell_steps = stands.iter_mut().map(Stand::cell_steps).sum();
        let mut runs: Vec<YearRun> =
            foremen.into_iter().zip(years).map(|(foreman, &year)| year_run(self.sheet, foreman, self.weather.years[year].year)).collect();
        let kept = self.walls.iter().filter_map(|wall| wall.kept.as_ref());
        let losses: Vec<Loss> = kept.flat_map(|kept| kept.losses.iter().cloned()).collect();
        runs.iter_mut().for_each(|run| run.losses.extend(losses.iter().cloned()));
        Ok((runs, cell_steps))
    }

    /// Steps the walls on which something hangs to an hour. A wall that no foreman has prepared yet is left where it stands, and caught up in one go when
    /// the first of them asks how it is.
    fn bring(&self, stands: &mut [Stand], foremen: &[Foreman], date: Date, hour: usize) -> Result<(), WorksError> {
        let asked = |wall: usize| foremen.iter().any(|foreman| foreman.needs_curing(wall, date));
        let due = stands.par_iter_mut().enumerate().filter(|(wall, _)| asked(*wall));
        due.map(|(wall, stand)| stand.advance_to(hour).map_err(|error| self.refused(wall, &error))).collect()
    }

    /// Hours from the first day's midnight (series time) to an hour of the civil day.
    pub(crate) fn hour_of_day(&self, date: Date, civil_hour: usize) -> usize {
        let days = days_between(self.first_day, date).max(0);
        let ahead = if civil_hour == 0 { 0 } else { self.ahead_h(date) };
        let hour = days * 24 + i64::try_from(civil_hour).unwrap_or(0) - ahead;
        usize::try_from(hour.max(0)).unwrap_or(0)
    }

    /// Hours by which the site's civil clock runs ahead of the weather's.
    pub(crate) fn ahead_h(&self, date: Date) -> i64 {
        self.sheet.time.ahead_h(date, self.weather.site.utc_offset_h)
    }

    /// A wall's site of one member.
    pub(crate) fn site<'s, 'w>(
        &'s self,
        stands: &'s mut [Stand<'w>],
        (member, year): (usize, usize),
        now: usize,
        first_hour: usize,
    ) -> Columns<'s, 'a, 'w> {
        Columns { years: self, stands, member, year, now, first_hour }
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

/// Hour of a year at which a civil date begins, by month and day; 29 February becomes 1 March in a year without it.
pub(crate) fn hour_of(year: &WeatherYear, date: Date) -> usize {
    let leap = year.hours() >= 8784;
    let model_year = if leap { 2024 } else { 2023 };
    let day = Date::new(model_year, date.month(), date.day())
        .or_else(|_| Date::new(model_year, 3, 1))
        .map_or(0, |day| usize::from(day.day_of_year().unsigned_abs()) - 1);
    day * 24
}
