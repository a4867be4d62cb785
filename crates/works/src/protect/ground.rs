//! A wall as the policies meet it: its columns, its weather, the covers at hand and who may come to it.

use std::sync::Arc;

use curing::{CoatModel, WallModel};
use jiff::civil::Date;
use materials::Catalogue;
use survey::WallFound;
use weather::{FaceClimate, RainRecord, Weather, WeatherYear};

use crate::calendar::{add_days, days_between};
use crate::climates::WallClimate;
use crate::column::{coat_model, ends, wall_model};
use crate::protect::days::Days;
use crate::protect::forecast::Errors;
use crate::protect::policy::{Screen, Screens};
use crate::road::Stages;
use crate::sheet::measured;
use crate::years::{LONGEST_BARE_DAYS, found, hour_of, surveyed_on};
use crate::{Inputs, WallSpecification, WorksError};

/// One column of the wall.
#[derive(Clone, Debug)]
pub(crate) struct ColumnModel {
    pub(crate) wall: WallModel,
    pub(crate) coats: Vec<CoatModel>,
    /// Whether readiness is judged on it; damage is judged on all.
    pub(crate) readies: bool,
}

/// What all courses of a wall share.
pub(crate) struct Ground<'a> {
    /// The column by which the foreman goes comes first.
    pub(crate) columns: Vec<ColumnModel>,
    pub(crate) climate: Arc<FaceClimate>,
    pub(crate) rain_mm: &'a [f64],
    pub(crate) screens: Screens,
    pub(crate) face_m2: f64,
    pub(crate) days: &'a Days,
    pub(crate) weather: &'a YearsKnown,
    /// The client damps the cloth on days that are not worked.
    pub(crate) client_wets: bool,
    /// It is freed of an impermeable covering, and left to dry before its first coat.
    pub(crate) freed: bool,
}

/// The weather years: where each begins in the joined series, where the first day of the courses lies in it, and the errors of its forecasts.
pub(crate) struct YearsKnown {
    pub(crate) begins: Vec<usize>,
    pub(crate) first_day: Vec<usize>,
    pub(crate) errors: Vec<Errors>,
}

/// A job set into its weather for courses that start on or after a day.
pub(crate) struct Place<'a> {
    pub(crate) inputs: &'a Inputs,
    pub(crate) weather: &'a Weather,
    pub(crate) stages: &'a Stages,
    pub(crate) days: Days,
    pub(crate) known: YearsKnown,
    pub(crate) rain_mm: Vec<f64>,
}

impl<'a> Place<'a> {
    /// Sets a job into its weather. The days run from the survey, or a year before the start where that is later, for `count` days beyond the start.
    pub(crate) fn new(inputs: &'a Inputs, weather: &'a Weather, stages: &'a Stages, start: Date, count: usize) -> Result<Self, WorksError> {
        check_weather(weather)?;
        let first = surveyed_on(&stages.survey)?.max(add_days(start, -LONGEST_BARE_DAYS)).min(start);
        let bare = usize::try_from(days_between(first, start)).unwrap_or(0);
        let days = Days::new(&stages.sheet.time, first, bare + count, weather.site.utc_offset_h);
        let (mut begins, mut rain_mm) = (Vec::new(), Vec::new());
        for year in &weather.years {
            begins.push(rain_mm.len());
            rain_mm.extend_from_slice(&year.rain_mm);
        }
        let first_day = weather.years.iter().zip(&begins).map(|(year, begins)| begins + hour_of(year, first)).collect();
        let hours = (days.count() + 370) * 24;
        let errors = weather.years.iter().map(|year| Errors::new(inputs.seed, year.year, hours)).collect();
        Ok(Self { inputs, weather, stages, days, known: YearsKnown { begins, first_day, errors }, rain_mm })
    }

    /// The climate of a wall's faces.
    pub(crate) fn climate(&self, wall: usize) -> Result<WallClimate, WorksError> {
        let slug = &self.stages.sheet.walls[wall].slug;
        Ok(WallClimate::of(self.weather, found(&self.stages.survey, slug)?, measured(&self.stages.survey, slug)?.top_m))
    }

    /// A wall's ground under a climate that stands.
    pub(crate) fn ground(
        &self,
        wall: usize,
        climate: &WallClimate,
        client_wets: bool,
        percentiles: bool,
    ) -> Result<Ground<'_>, WorksError> {
        let specified = &self.stages.specification.walls[wall];
        let size = measured(&self.stages.survey, &specified.slug)?;
        Ok(Ground {
            columns: columns(found(&self.stages.survey, &specified.slug)?, specified, &self.inputs.catalogue, climate, percentiles)?,
            climate: Arc::clone(&climate.face),
            rain_mm: &self.rain_mm,
            screens: screens(&self.inputs.catalogue, &specified.slug)?,
            face_m2: size.net_m2 + size.reveal_m2,
            days: &self.days,
            weather: &self.known,
            client_wets,
            freed: self.stages.sheet.walls[wall].freed,
        })
    }
}

/// Refuses weather that no wall can be followed through.
fn check_weather(weather: &Weather) -> Result<(), WorksError> {
    if weather.years.is_empty() {
        return Err(WorksError::NoWeather);
    }
    if weather.rain == RainRecord::Missing {
        return Err(WorksError::NoRain { place: weather.site.name.clone() });
    }
    WorksError::gather(weather.years.iter().filter_map(gap).collect())
}

/// What is missing in a year, if anything is.
fn gap(year: &WeatherYear) -> Option<WorksError> {
    let hours = year.hours();
    let fault = |fault: String| Some(WorksError::WeatherGap { year: year.year, fault });
    if hours != 8760 && hours != 8784 {
        return fault(format!("it has {hours} hours of air temperature and must have 8760, or 8784 in a leap year"));
    }
    let series = [
        ("humidity", &year.humidity),
        ("air pressure", &year.pressure_pa),
        ("wind", &year.wind_m_s),
        ("direction of the wind", &year.wind_from_deg),
        ("rain", &year.rain_mm),
        ("global radiation", &year.global_w_m2),
        ("direct radiation", &year.direct_w_m2),
        ("diffuse radiation", &year.diffuse_w_m2),
        ("long-wave radiation", &year.sky_w_m2),
        ("air temperature", &year.air_c),
    ];
    for (what, values) in series {
        if values.len() != hours {
            return fault(format!("{what} is given for {} of {hours} hours", values.len()));
        }
        if let Some(hour) = values.iter().position(|value| !value.is_finite()) {
            return fault(format!("{what} has no value on day {} at {}:00", hour / 24 + 1, hour % 24));
        }
    }
    None
}

/// The columns of a wall: the middle of each coat over the stone, or its ends.
pub(crate) fn columns(
    found: &WallFound,
    wall: &WallSpecification,
    catalogue: &Catalogue,
    climate: &WallClimate,
    percentiles: bool,
) -> Result<Vec<ColumnModel>, WorksError> {
    if percentiles {
        return ends(found, wall, catalogue, climate);
    }
    Ok(vec![ColumnModel {
        wall: wall_model(found, catalogue, climate)?,
        coats: wall.coats.iter().map(coat_model).collect(),
        readies: true,
    }])
}

/// The covers that policies hang.
pub(crate) fn screens(catalogue: &Catalogue, wall: &str) -> Result<Screens, WorksError> {
    let cover = |screen: Screen| {
        catalogue.covers.get(screen.name()).cloned().ok_or_else(|| WorksError::NotInCatalogue {
            place: format!("The protection of the wall “{wall}”"),
            kind: "cover",
            name: screen.name().to_owned(),
        })
    };
    let [dry, damp, roofed, heated] = Screen::ALL;
    Ok(Screens { covers: [cover(dry)?, cover(damp)?, cover(roofed)?, cover(heated)?] })
}
