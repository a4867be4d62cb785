//! A forecast laid over the first days of every year, fading into the ensemble.
//!
//! For each day of the forecast and each year, the most like day of all the years is sought within fifteen days of its date, another one for each year, so that sun, direction and
//! damp come from a day that was whole; its hours then take the forecast's least and greatest temperature, rain and wind. The forecast is taken whole for
//! three days; after that it is taken in fewer years each day (15 in 100 less), the others keeping their own weather. Harlwright's own rule, no source;
//! that analogues of past days carry what a forecast leaves out is old practice in meteorology.

use reckoning::{Finding, Grade};

use crate::assemble::finish;
use crate::calendar;
use crate::error::{Faults, WeatherError};
use crate::hours::shortened;
use crate::make::hour::rain;
use crate::number::decimal;
use crate::series::{Weather, WeatherYear};
use crate::statistics::{self, DaySummary, WET_DAY_MM};

/// One day of a forecast.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ForecastDay {
    /// Least temperature, °C.
    pub least_c: f64,
    /// Greatest temperature, °C.
    pub greatest_c: f64,
    /// Rain, mm.
    pub rain_mm: f64,
    /// Mean wind at 10 m, m/s.
    pub wind_m_s: f64,
}

/// A forecast from a day on.
#[derive(Clone, Debug, PartialEq)]
pub struct Forecast {
    /// Year, month and day of the first day.
    pub first: (i32, u32, u32),
    /// Days in order.
    pub days: Vec<ForecastDay>,
}

/// Most days of a forecast.
const MOST_DAYS: usize = 16;
/// Days taken whole, and what is lost each day after.
const WHOLE_DAYS: usize = 3;
const LOST_A_DAY: f64 = 0.15;
/// Days either side of the date in which a like day is sought.
const REACH: usize = 15;

impl Forecast {
    /// Reads a forecast of typed lines or a CSV: `day, min, max, rain, wind` in each, the day as 2026-05-04, °C, mm and m/s; a line of names and lines that begin with
    /// `#` are passed over. Days follow each other. `name` is what it is called in messages.
    ///
    /// # Errors
    /// [`WeatherError::Faults`] with everything that is wrong at once.
    pub fn from_text(text: &str, name: &str) -> Result<Self, WeatherError> {
        let mut faults = Faults::default();
        let mut dated: Vec<((i32, u32, u32), ForecastDay)> = Vec::new();
        for (index, line) in text.trim_start_matches('\u{feff}').lines().enumerate() {
            let line = line.trim();
            let named = index == 0 && line.starts_with("day");
            if line.is_empty() || line.starts_with('#') || named {
                continue;
            }
            if let Some(day) = forecast_line(line, index + 1, &mut faults) {
                if dated.last().is_some_and(|(before, _)| number_of(*before) + 1 != number_of(day.0)) {
                    faults.add(
                        Some(index + 1),
                        "day",
                        shortened(line),
                        "days that follow each other",
                        "Put the days in order, none left out.",
                    );
                }
                dated.push(day);
            }
        }
        if dated.is_empty() && faults.count() == 0 {
            faults.add(None, "", "no day", "one to sixteen lines of day, min, max, rain, wind", "Type at least tomorrow.");
        }
        if dated.len() > MOST_DAYS {
            faults.add(
                None,
                "",
                format!("{} days", dated.len()),
                format!("at most {MOST_DAYS}"),
                "Nobody can forecast farther: leave the rest out.",
            );
        }
        match dated.first() {
            Some((first, _)) if faults.count() == 0 => Ok(Self { first: *first, days: dated.iter().map(|(_, day)| *day).collect() }),
            _ => Err(faults.into_error(name)),
        }
    }
}

fn forecast_line(line: &str, number: usize, faults: &mut Faults) -> Option<((i32, u32, u32), ForecastDay)> {
    let fields: Vec<&str> = line.split([',', ';', '\t']).map(str::trim).collect();
    let [day, values @ ..] = fields.as_slice() else { return None };
    if values.len() != 4 {
        faults.add(
            Some(number),
            "",
            format!("{} fields", fields.len()),
            "day, min, max, rain, wind",
            "Give all five, commas between, points in decimals.",
        );
        return None;
    }
    let mut parts = crate::stamp::Parts::default();
    let is_day = crate::stamp::read(day, "yyyy-mm-dd", &mut parts) && crate::stamp::hour(parts, crate::stamp::Stamp::Start).is_some();
    if !is_day || !(1850..=2200).contains(&parts.year) {
        faults.add(Some(number), "day", format!("“{}”", shortened(day)), "a day as 2026-05-04", "Correct the day.");
        return None;
    }
    let limits = [("min", -90.0, 50.0), ("max", -80.0, 60.0), ("rain", 0.0, 500.0), ("wind", 0.0, 60.0)];
    let before = faults.count();
    let mut read = [0.0; 4];
    for ((field, (what, low, high)), slot) in values.iter().zip(limits).zip(&mut read) {
        match decimal(field.as_bytes(), b'.').filter(|value| (low..=high).contains(value)) {
            Some(value) => *slot = value,
            None => faults.add(
                Some(number),
                what,
                format!("“{}”", shortened(field)),
                format!("a number from {low} to {high}"),
                "Correct it; °C, mm and m/s.",
            ),
        }
    }
    let [least_c, greatest_c, rain_mm, wind_m_s] = read;
    if least_c > greatest_c {
        faults.add(Some(number), "min", format!("{least_c} over {greatest_c}"), "a least below the greatest", "They may be exchanged.");
    }
    let date = (parts.year, parts.month, parts.day);
    (faults.count() == before).then_some((date, ForecastDay { least_c, greatest_c, rain_mm, wind_m_s }))
}

/// Days since a fixed day, for telling whether two follow each other.
fn number_of((year, month, day): (i32, u32, u32)) -> i64 {
    physics::sun::julian_date(year, month, day).floor() as i64
}

/// Share of the years in which a day of the forecast, from 0, is taken.
fn trust(lead: usize) -> f64 {
    (1.0 - LOST_A_DAY * (lead + 1).saturating_sub(WHOLE_DAYS) as f64).max(0.0)
}

impl Weather {
    /// The same years with a forecast laid over each, from its first date on (the calendar year of the forecast is not looked at). Days past the end of a year run into
    /// the next one.
    pub fn spliced(mut self, forecast: &Forecast) -> Weather {
        let original = self.years.clone();
        let summaries: Vec<Vec<DaySummary>> = original.iter().map(statistics::days).collect();
        let count = original.len();
        for year in 0..count {
            for (lead, day) in forecast.days.iter().enumerate() {
                // Which years keep the forecast longest is fixed by their order: the same in every splice.
                if (year as f64 + 0.5) / count as f64 > trust(lead) {
                    continue;
                }
                let leap = self.years[year].hours() / 24 == 366;
                let first = calendar::day_of_year(forecast.first.1, forecast.first.2, leap);
                let (into, at) = past_the_end(&original, year, first + lead);
                let donor = donor(&summaries, &original, first + lead, day, year);
                if let (Some(target), Some((from, from_day))) = (self.years.get_mut(into), donor) {
                    lay(target, at, &original[from], from_day, &summaries[from][from_day], day);
                }
            }
        }
        let mut findings = self.findings;
        findings.retain(|finding| finding.rule != "weather-forecast");
        findings.push(spliced_finding(forecast));
        finish(self.site, self.kind, self.years, self.rain, findings)
    }
}

fn past_the_end(years: &[WeatherYear], year: usize, day: usize) -> (usize, usize) {
    let days = years[year].hours() / 24;
    if day < days { (year, day) } else { ((year + 1) % years.len(), day - days) }
}

/// The day of all the years most like the forecast's, the first for the first year, the second for the second, and so on.
fn donor(summaries: &[Vec<DaySummary>], years: &[WeatherYear], day: usize, wanted: &ForecastDay, rank: usize) -> Option<(usize, usize)> {
    let mut found: Vec<(f64, usize, usize)> = Vec::new();
    for (year, days) in summaries.iter().enumerate() {
        let length = years[year].hours() / 24;
        for step in 0..=2 * REACH {
            let at = (day + step + length - REACH) % length;
            found.push((unlike(&days[at], wanted), year, at));
        }
    }
    found.sort_by(|one, other| one.0.total_cmp(&other.0).then((one.1, one.2).cmp(&(other.1, other.2))));
    found.get(rank % found.len().max(1)).map(|(_, year, at)| (*year, *at))
}

/// How unlike a day is to the forecast: a degree, a millimetre's square root and a metre a second count about alike, and wet against dry counts most.
fn unlike(day: &DaySummary, wanted: &ForecastDay) -> f64 {
    let wet = wanted.rain_mm >= WET_DAY_MM;
    let class = if wet == day.is_wet() { 0.0 } else { 8.0 };
    let range = (day.max_c - day.min_c) - (wanted.greatest_c - wanted.least_c);
    let middle = 0.5 * (day.max_c + day.min_c) - 0.5 * (wanted.greatest_c + wanted.least_c);
    class
        + range.abs()
        + 0.5 * middle.abs()
        + 1.5 * (day.rain_mm.sqrt() - wanted.rain_mm.sqrt()).abs()
        + (day.wind_m_s - wanted.wind_m_s).abs()
}

/// Lays a donor's day over a year's, bent to the forecast.
fn lay(target: &mut WeatherYear, at: usize, from: &WeatherYear, from_day: usize, summary: &DaySummary, wanted: &ForecastDay) {
    let range = (summary.max_c - summary.min_c).max(0.1);
    let stretch = (wanted.greatest_c - wanted.least_c) / range;
    let wind = if summary.wind_m_s > 0.1 { wanted.wind_m_s / summary.wind_m_s } else { 0.0 };
    let placed =
        if summary.rain_mm <= 0.0 && wanted.rain_mm > 0.0 { rain(0, from.year, &[wanted.rain_mm], &[summary.mean_c]) } else { Vec::new() };
    for hour in 0..24 {
        let (to, source) = (at * 24 + hour, from_day * 24 + hour);
        let air = wanted.least_c + stretch * (from.air_c[source] - summary.min_c);
        let warmer = (air + 273.15) / (from.air_c[source] + 273.15);
        target.air_c[to] = air;
        target.humidity[to] = from.humidity[source];
        target.pressure_pa[to] = from.pressure_pa[source];
        target.wind_m_s[to] = if wind > 0.0 { from.wind_m_s[source] * wind } else { wanted.wind_m_s };
        target.wind_from_deg[to] = from.wind_from_deg[source];
        target.global_w_m2[to] = from.global_w_m2[source];
        target.direct_w_m2[to] = from.direct_w_m2[source];
        target.diffuse_w_m2[to] = from.diffuse_w_m2[source];
        target.sky_w_m2[to] = from.sky_w_m2[source] * warmer * warmer * warmer * warmer;
        target.rain_mm[to] = match placed.get(hour) {
            Some(rain) => *rain,
            None if summary.rain_mm > 0.0 => from.rain_mm[source] * wanted.rain_mm / summary.rain_mm,
            None => 0.0,
        };
    }
}

fn spliced_finding(forecast: &Forecast) -> Finding {
    let (year, month, day) = forecast.first;
    Finding {
        grade: Grade::Note,
        rule: "weather-forecast".into(),
        place: "weather".into(),
        says: format!("A forecast of {} days from {year}-{month:02}-{day:02} lies over the first days of every year.", forecast.days.len()),
        reason: "It is taken whole for three days, then in 15 in 100 fewer of the years each day; hours come from the days most like it."
            .into(),
        source: "harlwright's own rule, no source".into(),
        remedy: "Give a new forecast when there is one.".into(),
    }
}
