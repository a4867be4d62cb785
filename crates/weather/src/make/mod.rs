//! Years made from monthly normals by a stochastic generator of the kind of C. W. Richardson (Water Resources Research 17 (1981) 182), carried on to hours.
//!
//! For each day: wet or dry from a two-state chain whose persistence is that of Geng, Penning de Vries & Supit (Agricultural and Forest
//! Meteorology 36 (1986) 363), leaning towards wet or dry with a slow weather regime of about ten days' memory; rain on wet days above
//! the threshold from a Weibull distribution; temperature, its daily range, sunlight, humidity and wind as first-order chains that lean with wet
//! and dry. For each hour: temperature as half cosines from the least at sunrise to the greatest in the afternoon, sunlight as a share of the clear sky
//! (Haurwitz), rain in one to three bursts, vapour drawn from day to day, wind with a daily course and gusty memory, direction wandering.
//! A pilot of years drawn beside the wanted ones sets the means of light and humidity to those of the normals; the other means hold by construction.
//!
//! Which numbers are published and which are the order of maritime and continental stations from memory stands beside each constant.
//! Every draw is keyed by (seed, year, purpose), so that no year depends on how many were asked for, nor on threads.

mod day;
mod draws;
pub(crate) mod hour;
mod plan;

use reckoning::{Finding, Grade};

use crate::assemble::assemble;
use crate::columns::Quantity;
use crate::error::{Faults, WeatherError};
use crate::normals::Normals;
use crate::rows::{Raw, RawYear};
use crate::series::{Kind, Weather};

/// Calendar year under which the first made year is filed.
const FIRST_YEAR: i32 = 2001;
/// Most years made at once, which bounds the memory asked for.
pub const MOST_YEARS: usize = 200;

/// Makes `count` hourly years (1 to [`MOST_YEARS`]; more or fewer are cut to that) from monthly normals. Made years have 365 days. Same normals, seed
/// and year: the same bits, however many are made.
///
/// # Errors
/// [`WeatherError::Faults`] with everything that is wrong with the normals at once.
pub fn make(normals: &Normals, seed: u64, count: usize) -> Result<Weather, WeatherError> {
    make_as(normals, seed, count, Kind::Made)
}

pub(crate) fn make_as(normals: &Normals, seed: u64, count: usize, kind: Kind) -> Result<Weather, WeatherError> {
    normals.check()?;
    let plan = plan::Plan::of(normals, seed);
    let count = i32::try_from(count.clamp(1, MOST_YEARS)).unwrap_or(1);
    let years = (0..count).map(|index| raw_year(&plan, seed, FIRST_YEAR + index)).collect();
    let raw = Raw { name: normals.site.name.clone(), site: normals.site.clone(), kind, given: None, years };
    let mut weather = assemble(raw, Faults::default())?;
    weather.findings.push(made_finding(normals));
    Ok(weather)
}

/// One made year in the digits in which it would be written, so that writing and reading it again changes nothing.
fn raw_year(plan: &plan::Plan, seed: u64, year: i32) -> RawYear {
    let days = day::days(plan, seed, year);
    let hours = hour::hours(plan, seed, year, &days);
    let given = [Quantity::Air, Quantity::Humidity, Quantity::Wind, Quantity::WindFrom, Quantity::Rain, Quantity::Global];
    let mut raw = RawYear::new(year, false, &given);
    raw.lines.fill(1);
    let tenths = |value: &f64| (value * 10.0).round() / 10.0;
    let mut put = |quantity: Quantity, values: Vec<f64>| raw.columns[quantity as usize] = values;
    put(Quantity::Air, hours.air_c.iter().map(tenths).map(|value| value + 0.0).collect());
    put(Quantity::Humidity, hours.humidity.iter().map(|value| (value * 100.0).round()).collect());
    put(Quantity::Wind, hours.wind_m_s.iter().map(tenths).collect());
    put(Quantity::WindFrom, hours.wind_from_deg.iter().map(|value| value.round().rem_euclid(360.0)).collect());
    put(Quantity::Rain, hours.rain_mm.iter().map(tenths).collect());
    put(Quantity::Global, hours.global_w_m2.iter().map(|value| value.round()).collect());
    raw
}

fn made_finding(normals: &Normals) -> Finding {
    let (says, remedy) = if normals.from_typical_year {
        (
            "The years were made from a single typical year: spread understated.",
            "Give monthly normals of a national weather service, or measured years.",
        )
    } else {
        ("The years were made from monthly normals by a stochastic generator.", "Give ten or more measured years if they can be had.")
    };
    Finding {
        grade: Grade::Think,
        rule: "weather-made".into(),
        place: "weather".into(),
        says: says.into(),
        reason: "Made years carry the means of the normals, and a spread that is the generator's own.".into(),
        source: "Richardson 1981; Geng, Penning de Vries & Supit 1986; other constants from memory".into(),
        remedy: remedy.into(),
    }
}
