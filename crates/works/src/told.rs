//! A wall's story retold by the day, as people and pictures want it: what was done, what the weather did, which rule of readiness was met when, what
//! spoiled a coat; and the impatient pair. It retells what [`crate::protect::story`] lived through and computes nothing of its own.

use std::collections::BTreeMap;

pub use curing::{Criterion, Damage, DamageGrade, DamageKind, Prevention, ProfileCell, Stratum};
use curing::{CriterionLook, Look, Thresholds};
use jiff::civil::{Date, DateTime};
use materials::Catalogue;
use physics::air::saturation_pa;
use serde::Serialize;
use survey::Slug;
use weather::Weather;

use crate::protect::{EventKind, Foresight, Policy, Story, StoryAsked, StoryHour, story};
use crate::years::hour_of;
use crate::{CoatKind, Inputs, Placing, Watch, WorksError};

/// A moment on the civil clock of the site.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct Moment {
    /// Day.
    pub date: Date,
    /// Hour of that day, 0 to 23.
    pub hour: u8,
}

impl From<DateTime> for Moment {
    fn from(at: DateTime) -> Self {
        Self { date: at.date(), hour: at.hour().unsigned_abs() }
    }
}

/// Something done to the wall, or something that befell its cover.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Doing {
    /// The coat of this number was thrown or laid.
    Placed(usize),
    /// A spoiled coat was taken off.
    TakenOff(usize),
    /// A cover of this name was hung; soaked if it is one that is wetted.
    Hung(String),
    /// The cloth was wetted through.
    Wetted,
    /// The wall was damped down in the evening for a coat next morning.
    DampedDown,
    /// The face was misted.
    Misted,
    /// The cover was taken down.
    Struck,
    /// Wind took the cover down, or it had to be tied down.
    Blown(String),
}

/// Something done, and when.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Done {
    /// Hour of the civil day.
    pub hour: u8,
    /// What.
    pub what: Doing,
    /// Why, in a few words; empty where it needs no reason.
    pub why: String,
}

/// A coat as it stands.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ToldState {
    /// Its water as a share of the mix's.
    pub water_share: f64,
    /// Depth taken up, m.
    pub uptake_m: f64,
    /// Depth of the front behind its own outer face, m.
    pub front_m: f64,
}

/// One hour.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ToldHour {
    /// Its beginning.
    pub at: Moment,
    /// Air, °C.
    pub air_c: f64,
    /// Relative humidity of the air, 0 to 1.
    pub air_humidity: f64,
    /// Wind close to the face, m/s.
    pub wind_m_s: f64,
    /// Sun on the face, W/m².
    pub sun_w_m2: f64,
    /// Rain on the flat, mm.
    pub rain_mm: f64,
    /// Rain driven at the face, kg/m².
    pub driven_kg_m2: f64,
    /// Face at the end of the hour, °C.
    pub face_c: f64,
    /// Relative humidity in its pores, 0 to 1.
    pub face_humidity: f64,
    /// Share of the pores of the outer 60 mm of masonry that is full, 0 to 1.
    pub masonry_saturation: f64,
    /// Name of the cover hanging.
    pub cover: Option<String>,
    /// Water in the cloth, kg/m²; `None` while none hangs.
    pub cloth_kg_m2: Option<f64>,
    /// The coats on the wall, innermost first.
    pub coats: Vec<ToldState>,
}

/// One day.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ToldDay {
    /// The day.
    pub date: Date,
    /// What was done.
    pub done: Vec<Done>,
    /// Rules met for the first time, and the coat.
    pub met: Vec<(usize, Criterion)>,
    /// Coat that was found ready.
    pub ready: Option<usize>,
    /// Lowest and highest air, °C.
    pub air_c: (f64, f64),
    /// Lowest and highest face, °C.
    pub face_c: (f64, f64),
    /// Rain on the flat, mm.
    pub rain_mm: f64,
    /// Rain driven at the face, kg/m².
    pub driven_kg_m2: f64,
    /// Mean wind close to the face, m/s.
    pub wind_m_s: f64,
    /// Mean relative humidity of the air, 0 to 1.
    pub air_humidity: f64,
    /// Name of the cover hanging in the evening.
    pub cover: Option<String>,
    /// Least and most water in the cloth, kg/m²; `None` if none hung.
    pub cloth_kg_m2: Option<(f64, f64)>,
    /// The coats at the day's end.
    pub coats: Vec<ToldState>,
    /// The wall cell by cell about the day's end, from the room to the weather.
    pub section: Vec<ProfileCell>,
}

/// A rule of readiness of a coat.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ToldRule {
    /// The rule.
    pub rule: Criterion,
    /// What it came to: days, share of the mix's water, m taken up, relative humidity of the face, gravest grade of damage (0 none to 3 redo), °C of the
    /// face.
    pub value: f64,
    /// Least it may be.
    pub least: Option<f64>,
    /// Most it may be.
    pub most: Option<f64>,
    /// When it was first met.
    pub met: Option<Moment>,
}

/// A coat's story.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ToldCoat {
    /// Stable name.
    pub slug: Slug,
    /// Name shown.
    pub name: String,
    /// Kind.
    pub kind: CoatKind,
    /// Thrown or laid.
    pub placing: Placing,
    /// Thickness, m.
    pub thickness_m: f64,
    /// Depth of uptake asked of it, m.
    pub asked_m: f64,
    /// When it was placed last; `None` if the story ends before.
    pub placed: Option<Moment>,
    /// Its six rules as they stood when it was found ready, or at the end.
    pub rules: Vec<ToldRule>,
    /// Morning on which it was found ready for the next.
    pub ready: Option<Moment>,
    /// Whole days from its throw to that morning.
    pub days: Option<u32>,
    /// The rule that was met last, or the first that fails.
    pub decides: Option<Criterion>,
    /// The test to make on the wall, the nail test first.
    pub test: String,
    /// What spoiled it, each kind at its gravest, with the moment it came to that.
    pub damage: Vec<(Moment, Damage)>,
}

/// A wall's story by the day.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Told {
    /// The wall.
    pub wall: Slug,
    /// Its name.
    pub wall_name: String,
    /// Protection.
    pub policy: Policy,
    /// What the foreman knew of the weather to come.
    pub foresight: Foresight,
    /// Water the cloth holds when soaked, kg/m²; zero where no cloth hung.
    pub cloth_holds_kg_m2: f64,
    /// Weather year.
    pub year: i32,
    /// Why that year, in words.
    pub why_year: String,
    /// First day asked for.
    pub from: Date,
    /// The coats.
    pub coats: Vec<ToldCoat>,
    /// The days.
    pub days: Vec<ToldDay>,
    /// The hours.
    pub hours: Vec<ToldHour>,
    /// Why it ended before the last coat was ready; `None` if it did not.
    pub unfinished: Option<String>,
    /// Visits for the cover alone, wettings and mistings.
    pub tally: crate::protect::Tally,
}

/// The impatient coat: one wall twice, the second coat placed sooner and later.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Impatient {
    /// Days after the first coat at which the second was placed.
    pub days: [u32; 2],
    /// The two walls, in that order, each told to the same day.
    pub walls: [Told; 2],
    /// Whole days after the first coat on which the two are compared.
    pub compared_after_days: u32,
    /// Depth taken up by the first coat by then, m.
    pub first_coat_m: [f64; 2],
}

/// Days after the survey for which the wetness found is believed (guess).
pub const SURVEY_HOLDS_DAYS: i64 = 2 * 365;
/// Days that the impatient pair is followed after the later throw.
const FOLLOWED_DAYS: u32 = 28;
/// Days from the start over which weather years are put in order.
const JUDGED_DAYS: usize = 42;

/// Lives and tells the story of one wall. Without a year, the middle one is taken by how drying its weeks from the start are.
///
/// # Errors
/// As [`story`].
pub fn tell(inputs: &Inputs, weather: &Weather, asked: &StoryAsked, watch: &dyn Watch) -> Result<Told, WorksError> {
    let (year, why_year) = match asked.year {
        Some(year) => (Some(year), "as asked".to_owned()),
        None => middle_year(weather, asked.from),
    };
    let lived = story(inputs, weather, &StoryAsked { year, ..asked.clone() }, watch)?;
    Ok(Told::of(&lived, &inputs.catalogue, why_year))
}

/// Lives the same wall twice, the second coat placed so many days after the first whatever the wall says, and tells both to the same day.
///
/// # Errors
/// As [`story`]; a wall of one coat.
pub fn impatient(
    inputs: &Inputs,
    weather: &Weather,
    asked: &StoryAsked,
    days: [u32; 2],
    watch: &dyn Watch,
) -> Result<Impatient, WorksError> {
    let tell_at = |days: u32| tell(inputs, weather, &StoryAsked { hasty_days: Some(days), ..asked.clone() }, watch);
    let mut walls = [tell_at(days[0])?, tell_at(days[1])?];
    if walls[0].coats.len() < 2 {
        return Err(WorksError::OneCoatOnly { wall: walls[0].wall_name.clone() });
    }
    let first = |told: &Told| told.hours.iter().position(|hour| !hour.coats.is_empty()).unwrap_or(0);
    let wanted = ((days[0].max(days[1]) + FOLLOWED_DAYS) * 24) as usize;
    let reach = walls.iter().map(|told| told.hours.len() - first(told)).min().unwrap_or(0).min(wanted);
    let mut first_coat_m = [0.0; 2];
    for (told, taken_up) in walls.iter_mut().zip(&mut first_coat_m) {
        let hours = first(told) + reach;
        told.cut(hours);
        *taken_up = told.hours.last().and_then(|hour| hour.coats.first()).map_or(0.0, |coat| coat.uptake_m);
    }
    Ok(Impatient { days, walls, compared_after_days: u32::try_from(reach / 24).unwrap_or(0), first_coat_m })
}

/// The middle year by how drying its weeks from a day on are: it is the deficit of vapour pressure that sets the pace.
fn middle_year(weather: &Weather, from: Date) -> (Option<i32>, String) {
    let mut drying: Vec<(f64, i32)> = Vec::new();
    for year in &weather.years {
        let hours = year.hours().max(1);
        let begins = hour_of(year, from);
        let deficit = |hour: usize| saturation_pa(year.air_c[hour % hours] + 273.15) * (1.0 - year.humidity[hour % hours]);
        drying.push(((begins..begins + JUDGED_DAYS * 24).map(deficit).sum(), year.year));
    }
    drying.sort_by(|one, other| one.0.total_cmp(&other.0).then(one.1.cmp(&other.1)));
    let why = match weather.years.len() {
        1 => "the only year there is".to_owned(),
        count => format!("the middle of {count} weather years by how drying six weeks from that day are"),
    };
    (drying.get(drying.len().saturating_sub(1) / 2).map(|(_, year)| *year), why)
}

impl Told {
    /// Retells a story.
    pub fn of(story: &Story, catalogue: &Catalogue, why_year: String) -> Self {
        let name = |cover: &str| catalogue.covers.get(cover).map_or_else(|| cover.to_owned(), |cover| cover.name.to_lowercase());
        let hours: Vec<ToldHour> = story.hours.iter().map(|hour| told_hour(hour, &name)).collect();
        let holds =
            |cover: &str| catalogue.covers.get(cover).filter(|cover| cover.cloth_kg_m2 > 0.0).map_or(0.0, |cover| cover.holds_kg_m2);
        let mut coats: Vec<ToldCoat> = story.coats.iter().enumerate().map(|(number, _)| coat_of(story, number)).collect();
        let mut days = days_of(&hours);
        for day in &mut days {
            day.section =
                story.sections.iter().rfind(|section| section.at.date() <= day.date).map_or_else(Vec::new, |section| section.cells.clone());
        }
        note_events(story, &mut days, &name);
        note_rules(story, &mut days, &mut coats);
        Self {
            wall: story.wall.clone(),
            wall_name: story.name.clone(),
            policy: story.policy,
            foresight: story.foresight,
            cloth_holds_kg_m2: story.hours.iter().filter_map(|hour| hour.cover).map(holds).fold(0.0, f64::max),
            year: story.weather_year,
            why_year,
            from: story.from,
            coats,
            days,
            hours,
            unfinished: story.outcome.unfinished.clone(),
            tally: story.outcome.tally(),
        }
    }

    /// Tells only so many hours.
    fn cut(&mut self, hours: usize) {
        self.hours.truncate(hours.max(1));
        let Some(last) = self.hours.last().map(|hour| hour.at) else { return };
        self.days.retain(|day| day.date <= last.date);
        for coat in &mut self.coats {
            coat.placed = coat.placed.filter(|placed| *placed <= last);
            if coat.ready.is_some_and(|ready| ready > last) {
                coat.ready = None;
                coat.days = None;
            }
            coat.damage.retain(|(at, _)| *at <= last);
        }
    }
}

fn told_hour(hour: &StoryHour, name: &impl Fn(&str) -> String) -> ToldHour {
    let look = &hour.look;
    let state = |coat: &curing::CoatLook| ToldState { water_share: coat.water_share, uptake_m: coat.uptake_m, front_m: coat.front_m };
    ToldHour {
        at: hour.at.into(),
        air_c: hour.air_c,
        air_humidity: hour.humidity,
        wind_m_s: hour.wind_m_s,
        sun_w_m2: hour.sun_w_m2,
        rain_mm: hour.rain_mm,
        driven_kg_m2: hour.rain_kg_m2,
        face_c: look.face_c,
        face_humidity: look.face_humidity,
        masonry_saturation: look.masonry_saturation,
        cover: hour.cover.map(name),
        cloth_kg_m2: hour.cover.filter(|cover| cover.contains("hessian")).map(|_| look.cloth_kg_m2),
        coats: look.coats.iter().map(state).collect(),
    }
}

/// The hours by civil day.
fn days_of(hours: &[ToldHour]) -> Vec<ToldDay> {
    let mut by_day: BTreeMap<Date, Vec<&ToldHour>> = BTreeMap::new();
    for hour in hours {
        by_day.entry(hour.at.date).or_default().push(hour);
    }
    by_day.into_iter().map(|(date, hours)| day_of(date, &hours)).collect()
}

fn day_of(date: Date, hours: &[&ToldHour]) -> ToldDay {
    let span = |values: &mut dyn Iterator<Item = f64>| {
        values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| (low.min(value), high.max(value)))
    };
    let count = hours.len().max(1) as f64;
    let cloth = span(&mut hours.iter().filter_map(|hour| hour.cloth_kg_m2));
    ToldDay {
        date,
        done: Vec::new(),
        met: Vec::new(),
        ready: None,
        air_c: span(&mut hours.iter().map(|hour| hour.air_c)),
        face_c: span(&mut hours.iter().map(|hour| hour.face_c)),
        rain_mm: hours.iter().map(|hour| hour.rain_mm).sum(),
        driven_kg_m2: hours.iter().map(|hour| hour.driven_kg_m2).sum(),
        wind_m_s: hours.iter().map(|hour| hour.wind_m_s).sum::<f64>() / count,
        air_humidity: hours.iter().map(|hour| hour.air_humidity).sum::<f64>() / count,
        cover: hours.last().and_then(|hour| hour.cover.clone()),
        cloth_kg_m2: cloth.0.is_finite().then_some(cloth),
        coats: hours.last().map_or_else(Vec::new, |hour| hour.coats.clone()),
        section: Vec::new(),
    }
}

fn note_events(story: &Story, days: &mut [ToldDay], name: &impl Fn(&str) -> String) {
    for event in &story.events {
        let at: Moment = event.at.into();
        // The evening before the first day is not among the days told.
        if days.first().is_some_and(|first| at.date < first.date) {
            continue;
        }
        // What is done in the last morning, after the last hour told, belongs to the last day.
        let place = days.iter().position(|day| day.date == at.date).or(days.len().checked_sub(1));
        let Some(day) = place.map(|place| &mut days[place]) else { continue };
        let what = match event.kind {
            EventKind::Thrown { coat } => Doing::Placed(coat),
            EventKind::TakenOff { coat } => Doing::TakenOff(coat),
            EventKind::Hung { cover } => Doing::Hung(name(cover)),
            EventKind::Wetted | EventKind::WettedByClient => Doing::Wetted,
            EventKind::DampedDown => Doing::DampedDown,
            EventKind::Misted => Doing::Misted,
            EventKind::Struck => Doing::Struck,
            EventKind::Blown { cover } => Doing::Blown(name(cover)),
            EventKind::Ready { coat } => {
                day.ready = Some(coat);
                continue;
            }
            EventKind::Damaged { .. } | EventKind::NotThisSeason => continue,
        };
        day.done.push(Done { hour: at.hour, what, why: event.why.to_owned() });
    }
}

fn coat_of(story: &Story, number: usize) -> ToldCoat {
    let coat = &story.coats[number];
    let event =
        |wanted: fn(usize) -> EventKind| story.events.iter().rev().find(|event| event.kind == wanted(number)).map(|event| event.at.into());
    ToldCoat {
        slug: coat.slug.clone(),
        name: coat.name.clone(),
        kind: coat.kind,
        placing: coat.placing,
        thickness_m: coat.thickness_m,
        asked_m: coat.asked_m,
        placed: event(|coat| EventKind::Thrown { coat }),
        rules: Vec::new(),
        ready: event(|coat| EventKind::Ready { coat }),
        days: story.outcome.coats.get(number).and_then(|coat| coat.days),
        decides: None,
        test: coat.test.clone(),
        damage: Vec::new(),
    }
}

/// Rules of each coat until it was found ready or covered by the next, and its damage, both with their moments.
fn note_rules(story: &Story, days: &mut [ToldDay], coats: &mut [ToldCoat]) {
    for (index, hour) in story.hours.iter().enumerate() {
        let at: Moment = hour.at.into();
        note_damage(&hour.look, at, coats);
        let Some(number) = hour.look.coats.len().checked_sub(1) else { continue };
        if coats[number].ready.is_some_and(|ready| ready <= at) {
            continue;
        }
        let age_h = hour.look.coats[number].age_h;
        let placed = (index + 1).saturating_sub(age_h as usize);
        let moment = |hours: f64| story.hours.get(placed + (hours.max(1.0) as usize) - 1).map(|hour| hour.at.into());
        let limits = &story.coats[number].limits;
        let rules: Vec<ToldRule> =
            hour.look.rules.iter().map(|rule| told_rule(rule, &hour.look, (number, limits, coats[number].asked_m), &moment)).collect();
        for rule in &rules {
            let before = coats[number].rules.iter().find(|known| known.rule == rule.rule);
            let newly = rule.met.is_some() && before.is_none_or(|known| known.met.is_none());
            if newly && let Some(day) = days.iter_mut().find(|day| day.date == at.date) {
                day.met.push((number, rule.rule));
            }
        }
        coats[number].rules = rules;
        coats[number].decides = hour.look.decides;
    }
}

fn told_rule(
    rule: &CriterionLook,
    look: &Look,
    (number, limits, asked_m): (usize, &Thresholds, f64),
    moment: &impl Fn(f64) -> Option<Moment>,
) -> ToldRule {
    let of = |value: fn(&curing::CoatLook) -> f64| look.coats.last().map_or(0.0, value);
    let (value, least, most) = match rule.criterion {
        Criterion::Age => (of(|coat| coat.mild_days), Some(limits.least_days), None),
        Criterion::Firm => (of(|coat| coat.water_share), None, Some(limits.firm_water_share)),
        Criterion::Carbonated => (of(|coat| coat.uptake_m), Some(asked_m), None),
        Criterion::DampNotWet => (look.face_humidity, None, Some(limits.wettest_face)),
        Criterion::Sound => (gravest(look, number), None, Some(2.0)),
        Criterion::ThermallyFit => (look.face_c, Some(limits.fit_c.0), Some(limits.fit_c.1)),
    };
    ToldRule { rule: rule.criterion, value, least, most, met: rule.met_after_h.and_then(moment) }
}

/// Keeps each kind of damage of each coat at its gravest, with the hour in which it was first seen so.
fn note_damage(look: &Look, at: Moment, coats: &mut [ToldCoat]) {
    for damage in &look.damage {
        let Some(coat) = coats.get_mut(damage.coat) else { continue };
        match coat.damage.iter_mut().find(|(_, kept)| kept.kind == damage.kind) {
            Some(kept) if kept.1.grade < damage.grade => *kept = (at, damage.clone()),
            Some(kept) if kept.1.grade == damage.grade => kept.1.clone_from(damage),
            Some(_) => {}
            None => coat.damage.push((at, damage.clone())),
        }
    }
}

/// Gravest grade of damage on a coat: 0 none, 1 note, 2 mend, 3 redo.
fn gravest(look: &Look, coat: usize) -> f64 {
    let grade = |grade: DamageGrade| match grade {
        DamageGrade::Note => 1.0,
        DamageGrade::Mend => 2.0,
        DamageGrade::Redo => 3.0,
    };
    look.damage.iter().filter(|damage| damage.coat == coat).map(|damage| grade(damage.grade)).fold(0.0, f64::max)
}
