//! Daily records, spread to hours by published forms: least and greatest temperature, rain and wind of each day, as a rain gauge and a thermometer at a
//! neighbour's give them. The layout is that of our hourly CSV without the column `hour`: `docs/weather-tables.md`.

use physics::numbers::cos;
use physics::sun;
use reckoning::{Finding, Grade};

use crate::assemble::assemble;
use crate::columns::Quantity;
use crate::daily::half_cosines;
use crate::error::{Faults, WeatherError};
use crate::hours::{Header, shortened};
use crate::make::hour::{WIND_COURSE, humidity, rain};
use crate::number::{decimal, whole};
use crate::rows::{Raw, RawYear, no_rows};
use crate::series::{Kind, Site, Weather};
use crate::sunshine;
use crate::{calendar, moist, sunlit};

/// What a daily file may give.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Given {
    Least,
    Greatest,
    Rain,
    Wind,
    WindFrom,
    Humidity,
    Sunshine,
    Global,
}

const COUNT: usize = 8;

/// Column, range, needed.
const COLUMNS: [(&str, Given, f64, f64, bool); COUNT] = [
    ("min_c", Given::Least, -90.0, 50.0, true),
    ("max_c", Given::Greatest, -80.0, 60.0, true),
    ("rain_mm", Given::Rain, 0.0, 1900.0, true),
    ("wind_m_s", Given::Wind, 0.0, 60.0, true),
    ("wind_from_deg", Given::WindFrom, 0.0, 360.0, false),
    ("humidity_percent", Given::Humidity, 0.0, 100.0, false),
    ("sunshine_h", Given::Sunshine, 0.0, 24.0, false),
    ("global_wh_m2", Given::Global, 0.0, 12_000.0, false),
];

/// A year of days; NaN where a value is missing.
struct Year {
    year: i32,
    leap: bool,
    days: Vec<[f64; COUNT]>,
    lines: Vec<u32>,
}

/// Reads a daily CSV and spreads it to hours: temperature by half cosines (de Wit 1978), humidity from the day's mean or with the dew point at the least temperature
/// (FAO 56, equation 48), radiation from itself, from sunshine (FAO 56, 35) or from the range of temperature (FAO 56, 50) in the course of a clear day
/// (Haurwitz), rain in bursts as the generator places them, wind with a course over the day. `name` is what the file is called in messages.
///
/// # Errors
/// [`WeatherError::Faults`] with everything that is wrong at once.
pub fn read_daily(text: &str, name: &str) -> Result<Weather, WeatherError> {
    let mut faults = Faults::default();
    let mut header = Header::default();
    let mut heads: Option<Vec<&str>> = None;
    let mut years: Vec<Year> = Vec::new();
    let mut rows = 0;
    for (index, line) in text.trim_start_matches('\u{feff}').lines().enumerate() {
        let (number, line) = (index + 1, line.trim());
        if line.is_empty() {
        } else if let Some(note) = line.strip_prefix('#') {
            header.note(note, number, &mut faults);
        } else if let Some(heads) = &heads {
            rows += 1;
            row(line, heads, number, &mut years, &mut faults);
        } else {
            heads = Some(columns(line, number, &mut faults));
        }
    }
    if rows == 0 {
        no_rows(&mut faults);
    }
    let has = |column: &str| heads.as_ref().is_some_and(|heads| heads.contains(&column));
    let rain_wind = header.rain_wind_from_deg;
    if rain_wind.is_none() && !has("wind_from_deg") {
        let remedy = "Give the direction of each day, or one for rainy days in the head.";
        faults.add(None, "wind_from_deg", "no such column", "the column, or # rain_wind_from_deg: 0 to 360", remedy);
    }
    let (site, kind) = header.finish(&mut faults);
    years.sort_by_key(|year| year.year);
    years.iter().for_each(|year| check(year, &has, &mut faults));
    if faults.count() > 0 {
        return Err(faults.into_error(name));
    }
    let raw_years = years.iter().map(|year| spread(year, &site, rain_wind)).collect();
    let raw = Raw { name: name.to_owned(), site, kind, given: None, years: raw_years };
    let mut weather = assemble(raw, faults)?;
    weather.findings.push(spread_finding(kind));
    Ok(weather)
}

fn columns<'a>(line: &'a str, number: usize, faults: &mut Faults) -> Vec<&'a str> {
    let heads: Vec<&str> = line.split(',').map(str::trim).collect();
    let known = |head: &str| ["year", "month", "day"].contains(&head) || COLUMNS.iter().any(|(name, ..)| *name == head);
    for head in heads.iter().filter(|head| !known(head)) {
        let allowed = "year, month, day, min_c, max_c, rain_mm, wind_m_s, wind_from_deg, humidity_percent, sunshine_h, global_wh_m2";
        faults.add(Some(number), &shortened(head), "a column that is not known", allowed, "Rename it or delete it.");
    }
    let needed = COLUMNS.iter().filter(|column| column.4).map(|column| column.0);
    for name in ["year", "month", "day"].into_iter().chain(needed) {
        if !heads.contains(&name) {
            faults.add(Some(number), name, "no such column", "a column of this name", "Add it: it is needed.");
        }
    }
    heads
}

fn row(line: &str, heads: &[&str], number: usize, years: &mut Vec<Year>, faults: &mut Faults) {
    let fields: Vec<&str> = line.split(',').collect();
    if fields.len() != heads.len() {
        faults.add(
            Some(number),
            "",
            format!("{} fields", fields.len()),
            format!("{} fields, one a column", heads.len()),
            "Correct the row.",
        );
        return;
    }
    let part = |name: &str| heads.iter().position(|head| *head == name).and_then(|at| whole(fields[at].as_bytes()));
    let (year, month, day) = (part("year").unwrap_or(0), part("month").unwrap_or(0), part("day").unwrap_or(0));
    let leap = calendar::is_leap(year);
    let (month, day) = (u32::try_from(month).unwrap_or(0), u32::try_from(day).unwrap_or(0));
    if !(1850..=2200).contains(&year) || day == 0 || day > calendar::days_of_month(month, leap) {
        faults.add(Some(number), "time", shortened(line), "a day of the calendar from 1850 to 2200", "Correct the date.");
        return;
    }
    let at = years.iter().rposition(|known| known.year == year).unwrap_or_else(|| {
        let days = calendar::days_of_year(leap);
        years.push(Year { year, leap, days: vec![[f64::NAN; COUNT]; days], lines: vec![0; days] });
        years.len() - 1
    });
    let day = calendar::day_of_year(month, day, leap);
    if years[at].lines[day] != 0 {
        let found = format!("a day for the second time (first on line {})", years[at].lines[day]);
        faults.add(Some(number), "time", found, "every day once", "Delete the row that is wrong.");
        return;
    }
    years[at].lines[day] = u32::try_from(number).unwrap_or(u32::MAX);
    for (field, head) in fields.iter().zip(heads) {
        let Some((name, given, low, high, _)) = COLUMNS.iter().find(|column| column.0 == *head) else { continue };
        if field.trim().is_empty() {
            continue;
        }
        match decimal(field.as_bytes(), b'.').filter(|value| (*low..=*high).contains(value)) {
            Some(value) => years[at].days[day][*given as usize] = value,
            None => {
                let remedy = "Correct it; mind the unit. Leave what is not known empty.";
                faults.add(Some(number), name, format!("“{}”", shortened(field)), format!("a number from {low} to {high}"), remedy);
            }
        }
    }
}

/// Faults of a year as a whole: days or values missing, a least above the greatest.
fn check(year: &Year, has: &dyn Fn(&str) -> bool, faults: &mut Faults) {
    for (day, values) in year.days.iter().enumerate() {
        let (month, of_month) = calendar::month_and_day(day, year.leap);
        let date = format!("{}-{month:02}-{of_month:02}", year.year);
        let line = Some(year.lines[day] as usize).filter(|line| *line != 0);
        if line.is_none() {
            faults.add(
                None,
                "time",
                format!("no row for {date}"),
                "every day of the year",
                "Add the day from a neighbouring station, or leave the whole year out.",
            );
            continue;
        }
        for (name, given, ..) in COLUMNS.iter().filter(|column| has(column.0)) {
            if values[*given as usize].is_nan() {
                faults.add(
                    line,
                    name,
                    format!("nothing on {date}"),
                    "a value every day",
                    "Fill it from a neighbouring station, or drop the column if it may be left out.",
                );
            }
        }
        let (least, greatest) = (values[Given::Least as usize], values[Given::Greatest as usize]);
        if least > greatest {
            faults.add(line, "min_c", format!("{least} over {greatest} on {date}"), "a least below the greatest", "They may be exchanged.");
        }
    }
}

fn spread(year: &Year, site: &Site, rain_wind: Option<f64>) -> RawYear {
    let column = |given: Given| year.days.iter().map(move |day| day[given as usize]);
    let clear: Vec<f64> = sunlit::hourly(site, year.year, year.leap).map(|sun| sun::clear_sky_w_m2(sun.up)).collect();
    let noon = 12.0 - site.longitude_deg / 15.0 + site.utc_offset_h;
    let range: Vec<(f64, f64)> = column(Given::Least).zip(column(Given::Greatest)).collect();
    let mean_c: Vec<f64> = range.iter().map(|(least, greatest)| 0.5 * (least + greatest)).collect();
    let rain_mm = rain(0, year.year, &column(Given::Rain).collect::<Vec<_>>(), &mean_c);
    let air_c = half_cosines(&range, &clear, noon);
    let vapour: Vec<f64> = column(Given::Humidity)
        .zip(&range)
        .zip(&mean_c)
        .map(
            |((percent, (least, _)), mean)| {
                if percent.is_nan() { moist::saturation_pa(*least) } else { 0.01 * percent * moist::saturation_pa(*mean) }
            },
        )
        .collect();
    let shares = light_shares(year, site, &clear);
    let mut raw = RawYear::new(year.year, year.leap, &[]);
    raw.lines.fill(1);
    let by_day = |value: &dyn Fn(usize, usize) -> f64| (0..raw.hours()).map(|hour| value(hour / 24, hour % 24)).collect::<Vec<f64>>();
    let course = |day: usize, hour: usize| {
        1.0 + WIND_COURSE * 0.5 * shares[day] * cos((hour as f64 + 0.5 - noon - 2.0) * std::f64::consts::PI / 12.0)
    };
    let wind = by_day(&|day, hour| year.days[day][Given::Wind as usize] * course(day, hour));
    let from = by_day(&|day, _| {
        let given = year.days[day][Given::WindFrom as usize];
        if given.is_nan() { rain_wind.unwrap_or(0.0) } else { given }
    });
    let global = clear.iter().enumerate().map(|(hour, clear)| clear * shares[hour / 24]).collect();
    let percent = humidity(&vapour, &air_c, &rain_mm).iter().map(|share| share * 100.0).collect();
    let columns = [
        (Quantity::Air, air_c),
        (Quantity::Humidity, percent),
        (Quantity::Wind, wind),
        (Quantity::WindFrom, from),
        (Quantity::Rain, rain_mm),
        (Quantity::Global, global),
    ];
    for (quantity, values) in columns {
        raw.columns[quantity as usize] = values;
    }
    raw
}

/// Each day's share of the clear sky's light, from its radiation, its sunshine, or the range of its temperature.
fn light_shares(year: &Year, site: &Site, clear: &[f64]) -> Vec<f64> {
    let suns = sunshine::days(site, year.year, year.leap);
    year.days
        .iter()
        .zip(&suns)
        .zip(clear.chunks(24))
        .map(|((day, sun), clear)| {
            let of = |given: Given| Some(day[given as usize]).filter(|value| !value.is_nan());
            let range = day[Given::Greatest as usize] - day[Given::Least as usize];
            let global = of(Given::Global).or_else(|| Some(sunshine::from_sunshine(*sun, of(Given::Sunshine)?)));
            let global = global.unwrap_or_else(|| sunshine::from_range(*sun, range));
            let light: f64 = clear.iter().sum();
            if light > 20.0 { (global / light).clamp(0.0, 1.2) } else { 0.5 }
        })
        .collect()
}

fn spread_finding(kind: Kind) -> Finding {
    let words = if kind == Kind::Measured { "measured" } else { "given" };
    Finding {
        grade: Grade::Note,
        rule: "weather-daily".into(),
        place: "weather".into(),
        says: format!("The hours were spread from {words} days."),
        reason: "A daily record does not say in which hour it rained or blew; amounts and extremes are the record's, the hours are a rule."
            .into(),
        source: "de Wit 1978; FAO Irrigation and Drainage Paper 56 (1998), equations 35, 48 and 50; bursts of rain: harlwright's own rule"
            .into(),
        remedy: "Give hourly records if they can be had.".into(),
    }
}
