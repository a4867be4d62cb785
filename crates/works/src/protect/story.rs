//! The story of one wall: from a day on, in one weather year, under one policy, hour by hour: what was seen, what was done and why, what befell it and
//! what it took. It must never choose the policy.

use std::sync::Arc;

use curing::{DamageGrade, DamageKind, Look, ProfileCell, Thresholds};
use jiff::civil::{Date, DateTime};
use physics::air::saturation_pa;
use serde::Serialize;
use survey::Slug;
use weather::Kind;
use weather::Weather;

use crate::calendar::days_between;
use crate::foreman::SEASON_DAYS;
use crate::protect::course::{Crew, Rule, Run};
use crate::protect::ground::Place;
use crate::protect::{Foresight, Outcome, Policy};
use crate::road::Stages;
use crate::{CoatKind, Inputs, Placing, Watch, WorksError};

/// What story is asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct StoryAsked {
    /// The wall.
    pub wall: Slug,
    /// The day from which its first coat may be thrown.
    pub from: Date,
    /// The policy.
    pub policy: Policy,
    /// What the foreman knows of the weather to come.
    pub foresight: Foresight,
    /// Weather year to live it in; none for that of `from` where the weather has it, and the first otherwise.
    pub year: Option<i32>,
    /// The impatient coat: the second coat is thrown so many days after the first, ready or not, fit or not.
    pub hasty_days: Option<u32>,
    /// The client damps the cloth on days that are not worked.
    pub client_wets: bool,
    /// Every face counts as its plan area, whatever its texture: texture factor 1.
    pub smooth: bool,
}

/// A wall's story.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Story {
    /// The wall.
    pub wall: Slug,
    /// Its name.
    pub name: String,
    /// The policy.
    pub policy: Policy,
    /// What the foreman knew.
    pub foresight: Foresight,
    /// The day from which its first coat might be thrown.
    pub from: Date,
    /// The weather year it was lived in.
    pub weather_year: i32,
    /// Its coats, the one against the stone first.
    pub coats: Vec<StoryCoat>,
    /// Every hour from the start to the readiness of the last coat, or the end of the season.
    pub hours: Vec<StoryHour>,
    /// The wall cell by cell after each 24th hour, from the room to the weather.
    pub sections: Vec<Section>,
    /// What was done and what happened, in order.
    pub events: Vec<Event>,
    /// What came of it.
    pub outcome: Outcome,
}

/// The wall cell by cell.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Section {
    /// Civil time at which the hour began whose end is shown.
    pub at: DateTime,
    /// Its cells, from the room to the weather.
    pub cells: Vec<ProfileCell>,
}

/// A coat of the story.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StoryCoat {
    /// Stable name.
    pub slug: Slug,
    /// Name shown.
    pub name: String,
    /// Thickness followed, m.
    pub thickness_m: f64,
    /// Kind.
    pub kind: CoatKind,
    /// Thrown or laid.
    pub placing: Placing,
    /// Limits of its rules of readiness.
    pub limits: Thresholds,
    /// Depth of uptake asked of it, m.
    pub asked_m: f64,
    /// The test to make on the wall before the next coat.
    pub test: String,
}

/// One hour. What is seen is the wall at the hour's end; the weather is the hour's.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StoryHour {
    /// Civil time at which the hour begins.
    pub at: DateTime,
    /// The wall.
    pub look: Look,
    /// Catalogue name of the cover that hung.
    pub cover: Option<&'static str>,
    /// Air, °C.
    pub air_c: f64,
    /// Relative humidity of the air, 0 to 1.
    pub humidity: f64,
    /// Wind near the face, m/s.
    pub wind_m_s: f64,
    /// Sun on the face, W/m².
    pub sun_w_m2: f64,
    /// Rain on the flat, mm.
    pub rain_mm: f64,
    /// Driven rain offered to the face, kg/m².
    pub rain_kg_m2: f64,
}

/// Something done or something that happened.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Event {
    /// Civil time.
    pub at: DateTime,
    /// What.
    pub kind: EventKind,
    /// Why, in a few words; empty where the kind says it.
    pub why: &'static str,
}

/// What was done or happened. Coats are counted from the innermost, 0 the first.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(tag = "what", rename_all = "kebab-case")]
pub enum EventKind {
    /// A coat was thrown or laid.
    Thrown {
        /// The coat.
        coat: usize,
    },
    /// A cover was hung.
    Hung {
        /// Its catalogue name.
        cover: &'static str,
    },
    /// The cloth was wetted.
    Wetted,
    /// The client wetted the cloth.
    WettedByClient,
    /// The wall was damped down in the evening for a coat next morning. The hours of that night are told as they would have been without.
    DampedDown,
    /// The face was misted.
    Misted,
    /// The cover was taken down.
    Struck,
    /// Wind took the cloth down, or a shelter had to be tied down.
    Blown {
        /// Catalogue name of the cover.
        cover: &'static str,
    },
    /// A coat was seen to be ready for the next.
    Ready {
        /// The coat.
        coat: usize,
    },
    /// A coat was seen to be damaged.
    Damaged {
        /// What spoiled it.
        kind: DamageKind,
        /// How badly.
        grade: DamageGrade,
        /// The coat.
        coat: usize,
    },
    /// A spoiled coat was taken off.
    TakenOff {
        /// The coat.
        coat: usize,
    },
    /// The wall was given up for this season.
    NotThisSeason,
}

/// Tells the story of one wall of a job from a day on, in one weather year, under one policy. The same question has the same answer bit for bit.
///
/// # Errors
/// A wall or a weather year that does not exist, a start after weather of its own years ends, weather with a gap, a job that cannot be specified, a wall the
/// engine refuses, a call to stop.
pub fn story(inputs: &Inputs, weather: &Weather, asked: &StoryAsked, watch: &dyn Watch) -> Result<Story, WorksError> {
    let stages = Stages::of(inputs)?;
    let walls: Vec<String> = stages.sheet.walls.iter().map(|wall| wall.slug.clone()).collect();
    let Some(wall) = walls.iter().position(|slug| *slug == asked.wall) else {
        return Err(WorksError::NoSuchWall { found: asked.wall.clone(), walls });
    };
    let coats = stages.specification.walls[wall].coats.len();
    let longest = (2 * coats + 2) * SEASON_DAYS as usize;
    let place = Place::new(inputs, weather, &stages, asked.from, longest)?;
    let year = year_of(weather, asked)?;
    let mut ground = place.ground(wall, &place.climate(wall)?, asked.client_wets, false)?;
    if asked.smooth {
        ground.columns.iter_mut().flat_map(|column| &mut column.coats).for_each(|coat| coat.texture = 1.0);
    }
    let engine = |error: curing::CuringError| WorksError::Engine { wall: asked.wall.clone(), why: error.to_string() };
    let first_hour = place.known.first_day[year] % ground.climate.air_k.len();
    let rule = Rule { ground: &ground, policy: asked.policy, foresight: asked.foresight };
    let mut crew = Crew::new(rule, coats, &[first_hour], false).map_err(engine)?;
    let first_day = usize::try_from(days_between(place.days.first, asked.from)).unwrap_or(0);
    let start = place.days.hour(first_day, 0);
    // What stood under a covering the evening before stands free now.
    let evening = crew.pass_to(0, first_day, 0).swap_remove(0).filter(|_| !ground.freed);
    crew.strip().map_err(engine)?;
    let mut run = Run::bare(year, start);
    run.events = Some(Vec::new());
    run.hasty_days = asked.hasty_days;
    crew.begin(0, run, evening);
    let (mut hours, mut sections) = (Vec::new(), Vec::new());
    while !crew.done(0) && hours.len() < longest * 24 {
        if hours.len() % 24 == 0 {
            watch.progress("story", hours.len() / 24, longest);
            if watch.cancelled() {
                return Err(WorksError::Cancelled);
            }
        }
        crew.decide();
        if crew.done(0) {
            break;
        }
        crew.pass_hour();
        if let Some(run) = &crew.runs[0] {
            hours.push(hour(&place, &ground.climate, run, crew.benches[0].look(0), rule.index(run, run.hour - 1)));
            if hours.len().is_multiple_of(24) {
                sections.push(Section { at: civil(&place, run.hour - 1), cells: crew.benches[0].profile(0) });
            }
        }
    }
    let run = crew.leave(0).unwrap_or_else(|| Run::bare(year, start));
    Ok(told(&place, wall, asked, (year, run), hours, sections))
}

fn hour(place: &Place, climate: &Arc<weather::FaceClimate>, run: &Run, look: Look, index: usize) -> StoryHour {
    let index = index % climate.air_k.len();
    StoryHour {
        at: civil(place, run.hour - 1),
        look,
        cover: run.hung.map(|screen| screen.name()),
        air_c: climate.air_k[index] - 273.15,
        humidity: climate.vapour_pa[index] / saturation_pa(climate.air_k[index]),
        wind_m_s: climate.wind_m_s[index],
        sun_w_m2: climate.sun_w_m2[index],
        rain_mm: place.rain_mm[index],
        rain_kg_m2: climate.rain_kg_m2[index],
    }
}

/// Civil time of an hour of the course.
fn civil(place: &Place, hour: usize) -> DateTime {
    let (day, civil) = place.days.civil(hour);
    place.days.date(day).at(i8::try_from(civil).unwrap_or(0), 0, 0, 0)
}

/// The weather year to live a story in.
fn year_of(weather: &Weather, asked: &StoryAsked) -> Result<usize, WorksError> {
    let years = &weather.years;
    let (first, last) = (years[0].year, years[years.len() - 1].year);
    if let Some(year) = asked.year {
        let found = years.iter().position(|known| known.year == year);
        return found.ok_or(WorksError::NoSuchWeatherYear { found: year, first, last });
    }
    let own = i32::from(asked.from.year());
    match years.iter().position(|known| known.year == own) {
        Some(year) => Ok(year),
        // One measured year is the weather of that year, not a sample of the place's.
        None if years.len() == 1 && weather.kind == Kind::Measured && own > last => {
            Err(WorksError::AfterTheWeather { from: asked.from, last })
        }
        None => Ok(0),
    }
}

fn told(place: &Place, wall: usize, asked: &StoryAsked, (year, run): (usize, Run), hours: Vec<StoryHour>, sections: Vec<Section>) -> Story {
    let sheet = &place.stages.sheet.walls[wall];
    let specified = &place.stages.specification.walls[wall];
    let coats = specified.coats.iter().map(|coat| {
        let model = crate::column::coat_model(coat);
        StoryCoat {
            slug: coat.slug.clone(),
            name: coat.name.clone(),
            thickness_m: model.thickness_m,
            kind: coat.kind,
            placing: coat.placing,
            limits: model.thresholds,
            asked_m: model.thresholds.uptake_m.min(model.thresholds.uptake_share * model.thickness_m),
            test: coat.test.clone(),
        }
    });
    let events = run.events.unwrap_or_default().into_iter();
    Story {
        wall: sheet.slug.clone(),
        name: sheet.name.clone(),
        policy: asked.policy,
        foresight: asked.foresight,
        from: asked.from,
        weather_year: place.weather.years[year].year,
        coats: coats.collect(),
        hours,
        sections,
        events: events.map(|(hour, kind, why)| Event { at: civil(place, hour), kind, why }).collect(),
        outcome: run.outcome,
    }
}
