//! EPW files: the open hourly format of building simulation, one typical or measured year. Field numbers follow the published description of
//! the format (D. Crawley, J. Hand & L. Lawrie, "Improving the weather information available to simulation programs", 1999).

use reckoning::{Finding, Grade};

use crate::assemble::assemble;
use crate::columns::{Measure, Quantity};
use crate::error::{Faults, WeatherError};
use crate::hours::shortened;
use crate::number::{decimal, whole};
use crate::rows::{Gatherer, Hour, Raw, no_rows};
use crate::series::{Kind, Site, Weather};

/// A field of a data row.
struct Field {
    index: usize,
    measure: Measure,
    /// This and anything above means missing.
    missing_from: f64,
}

const fn field(index: usize, quantity: Quantity, missing_from: f64) -> Field {
    Field { index, measure: Measure { quantity, scale: 1.0, shift: 0.0 }, missing_from }
}

const FIELDS: [Field; 12] = [
    field(6, Quantity::Air, 99.9),
    field(7, Quantity::DewPoint, 99.9),
    field(8, Quantity::Humidity, 999.0),
    field(9, Quantity::Pressure, 999_999.0),
    field(12, Quantity::Sky, 9999.0),
    field(13, Quantity::Global, 9999.0),
    field(14, Quantity::Direct, 9999.0),
    field(15, Quantity::Diffuse, 9999.0),
    field(20, Quantity::WindFrom, 999.0),
    field(21, Quantity::Wind, 999.0),
    Field { index: 22, measure: Measure { quantity: Quantity::Cloud, scale: 10.0, shift: 0.0 }, missing_from: 99.0 },
    field(33, Quantity::Rain, 999.0),
];

/// Calendar year a typical year is filed under: a common year, since typical years have no 29 February.
pub(crate) const STAND_IN_YEAR: i32 = 2001;

/// Reads an EPW file. `name` is what the file is called in messages. A file whose months come from different years is a typical year. Humidity a
/// little over 100 % is cut to 100; rain is taken as missing when no hour of the year has any.
///
/// # Errors
/// [`WeatherError::Faults`] with everything that is wrong at once.
pub fn read_epw(text: &str, name: &str) -> Result<Weather, WeatherError> {
    let mut faults = Faults::default();
    let mut lines = text.trim_start_matches('\u{feff}').lines().enumerate().map(|(index, line)| (index + 1, line.trim_end()));
    let site = location(lines.next().map_or("", |(_, line)| line), &mut faults);
    // The head ends where rows begin; a row begins with its year.
    let rows: Vec<(usize, &str)> = lines
        .skip_while(|(_, line)| !line.starts_with(|first: char| first.is_ascii_digit()))
        .filter(|(_, line)| !line.is_empty())
        .collect();
    if rows.is_empty() {
        no_rows(&mut faults);
    }
    let (kind, year) = kind_of(&rows);
    let mut gatherer = Gatherer::new(&FIELDS.iter().map(|field| field.measure.quantity).collect::<Vec<_>>(), text.len());
    for (number, line) in rows {
        row(line, number, year, &mut gatherer, &mut faults);
    }
    let mut years = gatherer.into_years();
    let mut refused_sky = false;
    for year in &mut years {
        refused_sky |= drop_impossible_sky(year);
        drop_empty_columns(year);
    }
    let mut weather = assemble(Raw { name: name.to_owned(), site, kind, given: None, years }, faults)?;
    if refused_sky {
        weather.findings.push(refused_sky_finding());
    }
    Ok(weather)
}

fn location(line: &str, faults: &mut Faults) -> Site {
    let fields: Vec<&str> = line.split(',').map(str::trim).collect();
    let found = || format!("“{}”", shortened(line));
    if fields.first() != Some(&"LOCATION") || fields.len() < 10 {
        faults.add(
            Some(1),
            "LOCATION",
            found(),
            "LOCATION and nine fields",
            "This is not an EPW file, or its first line is cut: fetch it again.",
        );
        return Site { name: String::new(), latitude_deg: 0.0, longitude_deg: 0.0, elevation_m: 0.0, utc_offset_h: 0.0 };
    }
    let mut number = |index: usize, what: &str, low: f64, high: f64| {
        let read = decimal(fields[index].as_bytes(), b'.').filter(|number| (low..=high).contains(number));
        read.unwrap_or_else(|| {
            faults.add(
                Some(1),
                what,
                format!("“{}”", shortened(fields[index])),
                format!("a number from {low} to {high}"),
                "Correct the first line of the file.",
            );
            0.0
        })
    };
    let latitude_deg = number(6, "latitude", -90.0, 90.0);
    let longitude_deg = number(7, "longitude", -180.0, 180.0);
    let utc_offset_h = number(8, "time zone", -12.0, 14.0);
    let elevation_m = number(9, "elevation", -430.0, 6000.0);
    Site { name: fields[1].to_owned(), latitude_deg, longitude_deg, elevation_m, utc_offset_h }
}

/// Measured when every row is of one year; otherwise typical, filed under a stand-in year.
fn kind_of(rows: &[(usize, &str)]) -> (Kind, Option<i32>) {
    let mut years = rows.iter().map(|(_, line)| line.split(',').next().unwrap_or(""));
    let first = years.next().unwrap_or("");
    if years.all(|year| year == first) { (Kind::Measured, None) } else { (Kind::Typical, Some(STAND_IN_YEAR)) }
}

fn row(line: &str, number: usize, stand_in: Option<i32>, gatherer: &mut Gatherer, faults: &mut Faults) {
    let mut fields: [&[u8]; 35] = [b""; 35];
    let mut count = 0;
    for field in line.as_bytes().split(|byte| *byte == b',') {
        if let Some(slot) = fields.get_mut(count) {
            *slot = field;
        }
        count += 1;
    }
    if count < 22 {
        faults.add(
            Some(number),
            "",
            format!("{count} fields"),
            "35 fields (the last few may be left out)",
            "The row is cut short: fetch the file again.",
        );
        return;
    }
    let part = |index: usize| whole(fields[index]).and_then(|number| u32::try_from(number).ok()).unwrap_or(u32::MAX);
    let year = whole(fields[0]).unwrap_or(i32::MIN);
    // An EPW hour is counted from 1 and named by its end.
    let at = Hour { year: stand_in.unwrap_or(year), month: part(1), day: part(2), hour: part(3).wrapping_sub(1) };
    if stand_in.is_some() && (at.month, at.day) == (2, 29) {
        return;
    }
    let Some(place) = gatherer.place(at, number, faults) else { return };
    for field in &FIELDS {
        let bytes = fields[field.index];
        if bytes.trim_ascii().is_empty() {
            continue;
        }
        let Some(read) = decimal(bytes, b'.') else {
            let column = field.measure.quantity.described();
            let found = format!("“{}”", shortened(&String::from_utf8_lossy(bytes)));
            faults.add(
                Some(number),
                column.name,
                found,
                format!("a number in field {}", field.index + 1),
                "Correct it, or fetch the file again.",
            );
            continue;
        };
        if read >= field.missing_from {
            continue;
        }
        gatherer.set(place, field.measure, cut_humidity(field.measure.quantity, read), number, faults);
    }
}

/// The format allows humidity up to 110 %: an instrument's error above 100.
fn cut_humidity(quantity: Quantity, read: f64) -> f64 {
    if quantity == Quantity::Humidity && (100.0..=110.0).contains(&read) { 100.0 } else { read }
}

/// A sky may outshine a black body at air temperature by so much, under warm low cloud over a cold ground; and in so many of the hours, before its column is
/// not believed (harlwright's own rule: of two real files one never does, the other by 8 % and more in one hour in a hundred).
const WARM_SKY: f64 = 1.03;
const WARM_SKY_SHARE: f64 = 0.02;

/// Takes away long-wave radiation that cannot be true; `true` if it was.
fn drop_impossible_sky(year: &mut crate::rows::RawYear) -> bool {
    let (sky, air) = (year.column(Quantity::Sky), year.column(Quantity::Air));
    let given = sky.iter().filter(|sky| !sky.is_nan()).count();
    let warm =
        sky.iter().zip(air).filter(|(sky, air)| **sky > WARM_SKY * physics::sky::black_body_w_m2(**air + crate::moist::ZERO_C)).count();
    let refused = warm as f64 > WARM_SKY_SHARE * given as f64;
    if refused {
        year.columns[Quantity::Sky as usize].clear();
    }
    refused
}

fn refused_sky_finding() -> Finding {
    Finding {
        grade: Grade::Note,
        rule: "weather-sky-refused".into(),
        place: "weather".into(),
        says: "The file's long-wave radiation of the sky was not believed and was reckoned instead.".into(),
        reason: "In more than one hour in fifty it is over 3 % above that of a black body at air temperature, which no sky is for long."
            .into(),
        source: "Stefan and Boltzmann's law; the share is harlwright's own rule".into(),
        remedy: "Nothing, unless the file has a sound measurement of it.".into(),
    }
}

/// Takes away columns that hold no reading, rain that never falls, and long-wave radiation that is not given everywhere.
fn drop_empty_columns(year: &mut crate::rows::RawYear) {
    let optional = [
        Quantity::DewPoint,
        Quantity::Humidity,
        Quantity::Pressure,
        Quantity::Sky,
        Quantity::Cloud,
        Quantity::Rain,
        Quantity::Global,
        Quantity::Direct,
        Quantity::Diffuse,
    ];
    for quantity in optional {
        let column = &year.columns[quantity as usize];
        let none = column.iter().all(|value| value.is_nan());
        let dry = quantity == Quantity::Rain && column.iter().all(|value| value.is_nan() || *value == 0.0);
        if none || dry {
            year.columns[quantity as usize].clear();
        }
    }
    drop_second_choices(year);
}

/// Dew point is only a stand-in for humidity, and cloud for radiation: their gaps must not refuse a file that has the better one.
pub(crate) fn drop_second_choices(year: &mut crate::rows::RawYear) {
    if year.has(Quantity::Humidity) {
        year.columns[Quantity::DewPoint as usize].clear();
    }
    let gaps = longest_gap(year.column(Quantity::Cloud)) > crate::assemble::LONGEST_GAP_H;
    if year.has(Quantity::Global) && (year.has(Quantity::Sky) || gaps) {
        year.columns[Quantity::Cloud as usize].clear();
    }
}

/// Hours of the longest run without a reading.
fn longest_gap(column: &[f64]) -> usize {
    column.split(|value| !value.is_nan()).map(<[f64]>::len).max().unwrap_or(0)
}
