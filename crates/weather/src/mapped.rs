//! Hourly tables of other people's making, read by a declaration of what their columns are: `docs/weather-tables.md` describes it.

use serde::Deserialize;

use crate::assemble::assemble;
use crate::columns::{Measure, Quantity};
use crate::error::{Faults, WeatherError, declared};
use crate::hours::shortened;
use crate::number::decimal;
use crate::rows::{Gatherer, Raw, no_rows};
use crate::series::{Kind, Site, Weather};
use crate::stamp::{self, Parts, Stamp};
use crate::text::fields;
use crate::units;

/// What the columns of a table are, and how its numbers and times are written.
#[derive(Clone, Debug, PartialEq)]
pub struct Mapping {
    /// The place.
    pub site: Site,
    /// Where the years come from.
    pub kind: Kind,
    /// Sign between fields.
    pub delimiter: char,
    /// Sign in decimals: point or comma.
    pub decimal: char,
    /// Fields that mean a missing reading, besides an empty one.
    pub missing: Vec<String>,
    /// Lines before the one with the column names.
    pub skip_lines: usize,
    /// Columns that hold the time, with the pattern of each (`yyyy`, `mm`, `dd`, `HH`, `MM`).
    pub time: Vec<(String, String)>,
    /// What the time says of the hour.
    pub stamp: Stamp,
    /// A year under which every hour is filed instead of its own, for a typical year.
    pub(crate) stand_in_year: Option<i32>,
    /// The quantities: column name and measure.
    pub(crate) columns: Vec<(String, Measure)>,
}

/// The declaration as it stands in TOML.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Declared {
    place: String,
    latitude_deg: f64,
    longitude_deg: f64,
    elevation_m: f64,
    utc_offset_h: f64,
    kind: String,
    #[serde(default = "comma")]
    delimiter: char,
    #[serde(default = "point")]
    decimal: char,
    #[serde(default)]
    missing: Vec<String>,
    #[serde(default)]
    skip_lines: usize,
    #[serde(default)]
    stamp: Option<String>,
    time: Vec<DeclaredTime>,
    columns: std::collections::BTreeMap<String, DeclaredColumn>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct DeclaredTime {
    column: String,
    pattern: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct DeclaredColumn {
    column: String,
    unit: String,
}

fn comma() -> char {
    ','
}

fn point() -> char {
    '.'
}

impl Mapping {
    /// Reads a declaration in TOML. `name` is what it is called in messages.
    ///
    /// # Errors
    /// [`WeatherError::Faults`] with everything that is wrong at once (of TOML itself, the first fault).
    pub fn from_toml(text: &str, name: &str) -> Result<Self, WeatherError> {
        let mut faults = Faults::default();
        let declared: Declared = declared(text, name, "the keys of docs/weather-tables.md", "Correct the declaration.")?;
        let mapping = Self::of(declared, &mut faults);
        faults.into_result(name)?;
        Ok(mapping)
    }

    fn of(declared: Declared, faults: &mut Faults) -> Self {
        let site = Site {
            name: declared.place,
            latitude_deg: declared.latitude_deg,
            longitude_deg: declared.longitude_deg,
            elevation_m: declared.elevation_m,
            utc_offset_h: declared.utc_offset_h,
        };
        crate::hours::check_site(&site, faults);
        if !matches!(declared.decimal, '.' | ',') || declared.decimal == declared.delimiter {
            let found = format!("“{}” with “{}” between fields", declared.decimal, declared.delimiter);
            faults.add(None, "decimal", found, "“.” or “,”, and another sign between fields", "Correct both.");
        }
        let stamps = [("start", Stamp::Start), ("end", Stamp::End), ("middle", Stamp::Middle)];
        let stamp = declared.stamp.unwrap_or_else(|| "start".into());
        let known = stamps.iter().find(|(word, _)| *word == stamp).map(|(_, stamp)| *stamp);
        if known.is_none() {
            faults.add(None, "stamp", format!("“{}”", shortened(&stamp)), "start, end or middle", "Say what the time on a row means.");
        }
        let columns = declared.columns.into_iter().filter_map(|(key, of)| measure(&key, of, faults)).collect();
        Self {
            site,
            kind: crate::hours::kind_of_word(&declared.kind, None, faults),
            delimiter: declared.delimiter,
            decimal: declared.decimal,
            missing: declared.missing,
            skip_lines: declared.skip_lines,
            time: declared.time.into_iter().map(|time| (time.column, time.pattern)).collect(),
            stamp: known.unwrap_or_default(),
            stand_in_year: None,
            columns,
        }
    }
}

fn measure(key: &str, declared: DeclaredColumn, faults: &mut Faults) -> Option<(String, Measure)> {
    let Some((_, quantity)) = units::QUANTITIES.iter().find(|(name, _)| *name == key) else {
        let allowed = units::QUANTITIES.map(|(name, _)| name).join(", ");
        faults.add(None, &shortened(key), "a quantity that is not known", allowed, "Correct the key under [columns].");
        return None;
    };
    let found = units::measure(*quantity, &declared.unit);
    if found.is_none() {
        let said = format!("the unit “{}” for {key}", shortened(&declared.unit));
        faults.add(None, key, said, units::names(*quantity), "Give the unit the file is written in.");
    }
    found.map(|measure| (declared.column, measure))
}

/// Reads an hourly table by its declaration. `name` is what the table is called in messages.
///
/// # Errors
/// [`WeatherError::Faults`] with everything that is wrong at once.
pub fn read_mapped(text: &str, mapping: &Mapping, name: &str) -> Result<Weather, WeatherError> {
    let mut faults = Faults::default();
    let given: Vec<Quantity> = mapping.columns.iter().map(|(_, measure)| measure.quantity).collect();
    let mut gatherer = Gatherer::new(&given, text.len());
    let mut lines = text.trim_start_matches('\u{feff}').lines().enumerate().map(|(index, line)| (index + 1, line)).skip(mapping.skip_lines);
    let places = lines.next().and_then(|(number, heads)| Places::find(heads, number, mapping, &mut faults));
    let mut rows = 0;
    if let Some(places) = &places {
        for (number, line) in lines.filter(|(_, line)| !line.trim().is_empty()) {
            rows += 1;
            places.row(line, number, mapping, &mut gatherer, &mut faults);
        }
    }
    if rows == 0 && faults.count() == 0 {
        no_rows(&mut faults);
    }
    let mut years = gatherer.into_years();
    for year in &mut years {
        drop_unread(year);
    }
    assemble(Raw { name: name.to_owned(), site: mapping.site.clone(), kind: mapping.kind, given: None, years }, faults)
}

/// Takes away columns that a file names but never fills, where another can stand for them.
fn drop_unread(year: &mut crate::rows::RawYear) {
    for quantity in [Quantity::DewPoint, Quantity::Humidity, Quantity::Pressure, Quantity::Sky, Quantity::Cloud, Quantity::Rain] {
        if year.column(quantity).iter().all(|value| value.is_nan()) {
            year.columns[quantity as usize].clear();
        }
    }
    crate::epw::drop_second_choices(year);
}

/// Where the columns stand in a row.
struct Places {
    time: Vec<(usize, String)>,
    readings: Vec<(usize, Measure)>,
    fields: usize,
}

impl Places {
    fn find(heads: &str, number: usize, mapping: &Mapping, faults: &mut Faults) -> Option<Self> {
        let heads = fields(heads, mapping.delimiter);
        let before = faults.count();
        let mut place = |column: &str| {
            let found = heads.iter().position(|head| *head == column);
            if found.is_none() {
                let list = heads.iter().take(30).map(|head| shortened(head)).collect::<Vec<_>>().join(", ");
                faults.add(
                    Some(number),
                    &shortened(column),
                    "no such column",
                    list,
                    "Correct the name in the declaration, the delimiter, or skip_lines.",
                );
            }
            found
        };
        let time = mapping.time.iter().filter_map(|(column, pattern)| Some((place(column)?, pattern.clone()))).collect();
        let readings = mapping.columns.iter().filter_map(|(column, measure)| Some((place(column)?, *measure))).collect();
        (faults.count() == before).then_some(Self { time, readings, fields: heads.len() })
    }

    fn row(&self, line: &str, number: usize, mapping: &Mapping, gatherer: &mut Gatherer, faults: &mut Faults) {
        let fields = fields(line, mapping.delimiter);
        if fields.len() < self.fields {
            let remedy = "Correct the row; mind the delimiter and the decimal sign.";
            faults.add(Some(number), "", format!("{} fields", fields.len()), format!("{} fields", self.fields), remedy);
            return;
        }
        let mut parts = Parts::default();
        for (at, pattern) in &self.time {
            if !stamp::read(fields[*at], pattern, &mut parts) {
                faults.add(
                    Some(number),
                    "time",
                    format!("“{}”", shortened(fields[*at])),
                    pattern.clone(),
                    "Correct the time, or the pattern in the declaration.",
                );
                return;
            }
        }
        let Some(mut hour) = stamp::hour(parts, mapping.stamp) else {
            let found = format!("{}-{:02}-{:02} {:02}:{:02}", parts.year, parts.month, parts.day, parts.hour, parts.minute);
            let remedy = "Say in `stamp` whether the time is the start, end or middle of the hour; average readings within the hour first.";
            faults.add(Some(number), "time", found, "a day of the calendar, and a full hour (half past for stamps in the middle)", remedy);
            return;
        };
        if let Some(year) = mapping.stand_in_year {
            if (hour.month, hour.day) == (2, 29) {
                return;
            }
            hour.year = year;
        }
        let Some(place) = gatherer.place(hour, number, faults) else { return };
        for (at, measure) in &self.readings {
            self.reading(fields[*at], *measure, place, number, mapping, gatherer, faults);
        }
    }

    #[expect(clippy::too_many_arguments, reason = "one reading with where it goes and who hears of its faults")]
    fn reading(
        &self,
        field: &str,
        measure: Measure,
        place: (usize, usize),
        number: usize,
        mapping: &Mapping,
        gatherer: &mut Gatherer,
        faults: &mut Faults,
    ) {
        if field.is_empty() || mapping.missing.iter().any(|missing| missing == field) {
            return;
        }
        match decimal(field.as_bytes(), if mapping.decimal == ',' { b',' } else { b'.' }) {
            Some(read) => gatherer.set(place, measure, read, number, faults),
            None => {
                let column = measure.quantity.described();
                let remedy = "Correct it, name it among the codes for missing, or correct the decimal sign.";
                faults.add(Some(number), column.name, format!("“{}”", shortened(field)), "a number", remedy);
            }
        }
    }
}
