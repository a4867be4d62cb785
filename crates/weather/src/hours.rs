//! Our own hourly CSV, of one or many years: documented in `docs/weather-csv.md`.
//!
//! Lines that begin with `#` are `# key: value`: `place`, `latitude_deg`, `longitude_deg`, `elevation_m`, `utc_offset_h` and `kind`
//! (`measured`, `typical`, `made` or `invented`); `note` is free. Then one line of column names and one row for each hour, commas between, points in the
//! decimals, an empty field where a reading is missing. Columns: `year`, `month`, `day`, `hour` (0 to 23, the hour that starts then, at the fixed offset),
//! and any of the quantities with their units in the name.

use crate::assemble::assemble;
use crate::columns::{Measure, Quantity, TABLE};
use crate::error::{Faults, WeatherError};
use crate::number::{decimal, whole};
use crate::rows::{Gatherer, Hour, Raw, no_rows};
use crate::series::{Kind, RainRecord, Site, Weather, WeatherYear};

/// Reads our hourly CSV. `name` is what the file is called in messages.
///
/// # Errors
/// [`WeatherError::Faults`] with everything that is wrong at once.
pub fn read_csv(text: &str, name: &str) -> Result<Weather, WeatherError> {
    let mut faults = Faults::default();
    let mut header = Header::default();
    let mut columns: Option<Vec<Role>> = None;
    let mut gatherer = Gatherer::new(&[], 0);
    let mut rows = 0;
    for (index, line) in text.trim_start_matches('\u{feff}').lines().enumerate() {
        let number = index + 1;
        let line = line.trim_end();
        if line.is_empty() {
            continue;
        }
        if let Some(note) = line.strip_prefix('#') {
            header.note(note, number, &mut faults);
        } else if let Some(roles) = &columns {
            rows += 1;
            if TIME_COLUMNS.iter().all(|(_, role)| roles.contains(role)) {
                row(line.as_bytes(), roles, number, &mut gatherer, &mut faults);
            }
        } else {
            let roles = roles(line, number, &mut faults);
            let given: Vec<Quantity> =
                roles.iter().filter_map(|role| if let Role::Reading(measure) = role { Some(measure.quantity) } else { None }).collect();
            gatherer = Gatherer::new(&given, text.len());
            columns = Some(roles);
        }
    }
    if rows == 0 {
        no_rows(&mut faults);
    }
    let (site, kind) = header.finish(&mut faults);
    let given = columns.is_some().then(|| gatherer.given().to_vec());
    assemble(Raw { name: name.to_owned(), site, kind, given, years: gatherer.into_years() }, faults)
}

/// What a column holds.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Role {
    Year,
    Month,
    Day,
    Hour,
    Reading(Measure),
    Unknown,
}

const TIME_COLUMNS: [(&str, Role); 4] = [("year", Role::Year), ("month", Role::Month), ("day", Role::Day), ("hour", Role::Hour)];

fn roles(line: &str, number: usize, faults: &mut Faults) -> Vec<Role> {
    let mut roles: Vec<Role> = Vec::new();
    for name in line.split(',').map(|name| name.trim().trim_matches('"')) {
        let time = TIME_COLUMNS.iter().find(|(known, _)| *known == name).map(|(_, role)| *role);
        let role = time.or_else(|| Measure::of_column(name).map(Role::Reading));
        if role.is_none() {
            faults.add(Some(number), name, "a column that is not known", allowed_columns(), unknown_column_remedy(name));
        }
        if role.is_some_and(|role| roles.iter().any(|held| same(*held, role))) {
            faults.add(Some(number), name, "a column that is given twice", "each column once", "Delete one of them.");
        }
        roles.push(role.unwrap_or(Role::Unknown));
    }
    for (name, role) in TIME_COLUMNS {
        if !roles.contains(&role) {
            faults.add(Some(number), name, "no such column", "year, month, day and hour", "Add it: every row needs its time.");
        }
    }
    roles
}

fn same(held: Role, role: Role) -> bool {
    match (held, role) {
        (Role::Reading(one), Role::Reading(other)) => one.quantity == other.quantity,
        _ => held == role,
    }
}

fn allowed_columns() -> String {
    let names: Vec<&str> = TIME_COLUMNS.iter().map(|(name, _)| *name).chain(TABLE.iter().map(|row| row.name)).collect();
    names.join(", ")
}

/// What to do about a column of another unit or spelling.
fn unknown_column_remedy(name: &str) -> String {
    const UNITS: [(&str, &str); 10] = [
        ("air_f", "Convert to air_c: take off 32 and divide by 1.8."),
        ("air_k", "Convert to air_c: take off 273.15."),
        ("humidity", "Name it humidity_percent and give per cent."),
        ("wind_km_h", "Convert to wind_m_s: divide by 3.6."),
        ("wind_kmh", "Convert to wind_m_s: divide by 3.6."),
        ("wind_knots", "Convert to wind_m_s: multiply by 0.514."),
        ("wind_mph", "Convert to wind_m_s: multiply by 0.447."),
        ("rain_in", "Convert to rain_mm: multiply by 25.4."),
        ("cloud_oktas", "Convert to cloud_percent: multiply by 12.5."),
        ("cloud_tenths", "Convert to cloud_percent: multiply by 10."),
    ];
    let known = UNITS.iter().find(|(other, _)| *other == name).map(|(_, remedy)| (*remedy).to_owned());
    known.unwrap_or_else(|| "Rename it to the one that is meant, or delete the column.".to_owned())
}

fn row(line: &[u8], roles: &[Role], number: usize, gatherer: &mut Gatherer, faults: &mut Faults) {
    let fields = 1 + line.iter().filter(|byte| **byte == b',').count();
    if fields != roles.len() {
        faults.add(
            Some(number),
            "",
            format!("{fields} fields"),
            format!("{} fields, one a column", roles.len()),
            "Correct the row; decimals take a point, not a comma.",
        );
        return;
    }
    let Some(at) = hour(line, roles, number, faults) else { return };
    let Some(place) = gatherer.place(at, number, faults) else { return };
    for (field, role) in line.split(|byte| *byte == b',').zip(roles) {
        let Role::Reading(measure) = role else { continue };
        if field.trim_ascii().is_empty() {
            continue;
        }
        match decimal(field, b'.') {
            Some(read) => gatherer.set(place, *measure, read, number, faults),
            None => {
                let column = measure.quantity.described();
                let found = format!("“{}”", shortened(&String::from_utf8_lossy(field)));
                faults.add(
                    Some(number),
                    column.name,
                    found,
                    format!("a number in {}, or nothing", column.unit),
                    "Correct it, or leave the field empty for a missing reading.",
                );
            }
        }
    }
}

/// The hour of a row; a fault and `None` when a part of it is no whole number.
fn hour(line: &[u8], roles: &[Role], number: usize, faults: &mut Faults) -> Option<Hour> {
    let mut at = Hour { year: 0, month: 0, day: 0, hour: 0 };
    for (field, role) in line.split(|byte| *byte == b',').zip(roles) {
        if matches!(role, Role::Reading(_) | Role::Unknown) {
            continue;
        }
        let Some(read) = whole(field) else {
            let found = format!("“{}”", shortened(&String::from_utf8_lossy(field)));
            faults.add(Some(number), "time", found, "whole numbers for year, month, day and hour", "Correct the time of the row.");
            return None;
        };
        let part = u32::try_from(read).unwrap_or(u32::MAX);
        match role {
            Role::Year => at.year = read,
            Role::Month => at.month = part,
            Role::Day => at.day = part,
            Role::Hour => at.hour = part,
            Role::Reading(_) | Role::Unknown => {}
        }
    }
    Some(at)
}

/// A field cut to what fits in a message.
pub(crate) fn shortened(field: &str) -> String {
    let cut: String = field.trim().chars().filter(|letter| !letter.is_control()).take(24).collect();
    if cut.len() < field.trim().len() { format!("{cut}…") } else { cut }
}

/// The `# key: value` lines.
#[derive(Debug, Default)]
pub(crate) struct Header {
    place: Option<String>,
    numbers: [Option<f64>; 4],
    kind: Option<Kind>,
    /// Where the wind of rainy days blows from, degrees: only daily files need it.
    pub(crate) rain_wind_from_deg: Option<f64>,
}

const HEADER_NUMBERS: [(&str, f64, f64, &str); 4] = [
    ("latitude_deg", -90.0, 90.0, "Give degrees north as a decimal; south is negative."),
    ("longitude_deg", -180.0, 180.0, "Give degrees east as a decimal; west is negative."),
    ("elevation_m", -430.0, 6000.0, "Give the height above the sea in metres."),
    ("utc_offset_h", -12.0, 14.0, "Give hours ahead of UTC, fixed all year: no summer time."),
];
const KINDS: [(&str, Kind); 4] =
    [("measured", Kind::Measured), ("typical", Kind::Typical), ("made", Kind::Made), ("invented", Kind::Invented)];

/// The kind a word stands for; a fault, and a typical year, for any other word.
pub(crate) fn kind_of_word(word: &str, line: Option<usize>, faults: &mut Faults) -> Kind {
    let known = KINDS.iter().find(|(name, _)| *name == word);
    if known.is_none() {
        let remedy = "Say which it is: odds are given from it.";
        faults.add(line, "kind", format!("“{}”", shortened(word)), "measured, typical, made or invented", remedy);
    }
    known.map_or(Kind::Typical, |(_, kind)| *kind)
}

/// Faults of a place that cannot be on the globe.
pub(crate) fn check_site(site: &Site, faults: &mut Faults) {
    let values = [site.latitude_deg, site.longitude_deg, site.elevation_m, site.utc_offset_h];
    for ((name, low, high, remedy), value) in HEADER_NUMBERS.into_iter().zip(values) {
        if !(low..=high).contains(&value) {
            faults.add(None, name, format!("{value}"), format!("a number from {low} to {high}"), remedy);
        }
    }
}

impl Header {
    pub(crate) fn note(&mut self, note: &str, line: usize, faults: &mut Faults) {
        let Some((key, value)) = note.split_once(':') else { return };
        let (key, value) = (key.trim(), value.trim());
        if let Some(index) = HEADER_NUMBERS.iter().position(|(name, ..)| *name == key) {
            let (name, low, high, remedy) = HEADER_NUMBERS[index];
            match decimal(value.as_bytes(), b'.').filter(|number| (low..=high).contains(number)) {
                Some(number) => self.numbers[index] = Some(number),
                None => faults.add(Some(line), name, format!("“{}”", shortened(value)), format!("a number from {low} to {high}"), remedy),
            }
            return;
        }
        match key {
            "place" => self.place = Some(value.to_owned()),
            "kind" => self.kind = Some(kind_of_word(value, Some(line), faults)),
            "note" => {}
            "rain_wind_from_deg" => {
                self.rain_wind_from_deg = decimal(value.as_bytes(), b'.').filter(|number| (0.0..=360.0).contains(number));
                if self.rain_wind_from_deg.is_none() {
                    let found = format!("“{}”", shortened(value));
                    faults.add(Some(line), key, found, "a number from 0 to 360", "Give where the wind of rainy days blows from.");
                }
            }
            _ => {
                let allowed = "place, latitude_deg, longitude_deg, elevation_m, utc_offset_h, kind, note";
                faults.add(
                    Some(line),
                    &shortened(key),
                    "a header line that is not known",
                    allowed,
                    "Correct the key, or write it as a note.",
                );
            }
        }
    }

    pub(crate) fn finish(self, faults: &mut Faults) -> (Site, Kind) {
        let mut number = |index: usize| {
            let (name, low, high, remedy) = HEADER_NUMBERS[index];
            self.numbers[index].unwrap_or_else(|| {
                faults.add(None, name, "no such header line", format!("# {name}: a number from {low} to {high}"), remedy);
                0.0
            })
        };
        let (latitude_deg, longitude_deg, elevation_m, utc_offset_h) = (number(0), number(1), number(2), number(3));
        let kind = self.kind.unwrap_or_else(|| {
            faults.add(
                None,
                "kind",
                "no such header line",
                "# kind: measured, typical, made or invented",
                "Say which it is: odds are given from it.",
            );
            Kind::Typical
        });
        let name = self.place.filter(|place| !place.is_empty()).unwrap_or_else(|| {
            faults.add(None, "place", "no such header line", "# place: a name", "Name the place.");
            String::new()
        });
        (Site { name, latitude_deg, longitude_deg, elevation_m, utc_offset_h }, kind)
    }
}

/// Writes weather as our hourly CSV. Made and invented years give temperature, humidity, wind, rain and global radiation alone, from which reading
/// them again derives the same rest; measured and typical years give every quantity. Rain that was never given is left out.
pub fn write_csv(weather: &Weather) -> String {
    let site = &weather.site;
    let kind = KINDS.iter().find(|(_, kind)| *kind == weather.kind).map_or("", |(word, _)| *word);
    let hours: usize = weather.years.iter().map(WeatherYear::hours).sum();
    let mut text = String::with_capacity(hours * 36 + 1000);
    text.push_str("# harlwright hourly weather\n");
    if weather.kind == Kind::Invented {
        text.push_str("# note: Invented for a demonstration. No such place, no such weather.\n");
    }
    let is_made = weather.kind == Kind::Made;
    for made in weather.findings.iter().filter(|finding| is_made && finding.rule == "weather-made") {
        text.push_str(&format!("# note: {}\n", made.says));
    }
    text.push_str(&format!(
        "# place: {}\n# latitude_deg: {}\n# longitude_deg: {}\n",
        site.name.replace(['\n', '\r'], " "),
        site.latitude_deg,
        site.longitude_deg
    ));
    text.push_str(&format!("# elevation_m: {}\n# utc_offset_h: {}\n# kind: {kind}\n", site.elevation_m, site.utc_offset_h));
    let compact = matches!(weather.kind, Kind::Made | Kind::Invented);
    let writes = |written: &&Written| (written.always || !compact) && (written.name != "rain_mm" || weather.rain != RainRecord::Missing);
    let columns: Vec<&Written> = WRITTEN.iter().filter(writes).collect();
    text.push_str("year,month,day,hour");
    for column in &columns {
        text.push(',');
        text.push_str(column.name);
    }
    text.push('\n');
    for year in &weather.years {
        for hour in 0..year.hours() {
            let (month, day) = year.month_and_day(hour);
            text.push_str(&format!("{},{month},{day},{}", year.year, hour % 24));
            for column in &columns {
                text.push(',');
                push_shortest(&mut text, (column.of)(year)[hour] * column.scale, column.decimals);
            }
            text.push('\n');
        }
    }
    text
}

/// A column as it is written.
struct Written {
    name: &'static str,
    of: fn(&WeatherYear) -> &[f64],
    scale: f64,
    decimals: usize,
    /// Written for made and invented years too.
    always: bool,
}

const WRITTEN: [Written; 10] = [
    Written { name: "air_c", of: |year| &year.air_c, scale: 1.0, decimals: 1, always: true },
    Written { name: "humidity_percent", of: |year| &year.humidity, scale: 100.0, decimals: 0, always: true },
    Written { name: "wind_m_s", of: |year| &year.wind_m_s, scale: 1.0, decimals: 1, always: true },
    Written { name: "wind_from_deg", of: |year| &year.wind_from_deg, scale: 1.0, decimals: 0, always: true },
    Written { name: "rain_mm", of: |year| &year.rain_mm, scale: 1.0, decimals: 1, always: true },
    Written { name: "global_w_m2", of: |year| &year.global_w_m2, scale: 1.0, decimals: 0, always: true },
    Written { name: "pressure_hpa", of: |year| &year.pressure_pa, scale: 0.01, decimals: 1, always: false },
    Written { name: "direct_w_m2", of: |year| &year.direct_w_m2, scale: 1.0, decimals: 0, always: false },
    Written { name: "diffuse_w_m2", of: |year| &year.diffuse_w_m2, scale: 1.0, decimals: 0, always: false },
    Written { name: "longwave_w_m2", of: |year| &year.sky_w_m2, scale: 1.0, decimals: 0, always: false },
];

/// A number with at most so many decimals, without a trailing `.0` and without a minus before zero.
fn push_shortest(text: &mut String, amount: f64, decimals: usize) {
    let written = format!("{amount:.decimals$}");
    let trimmed = if decimals > 0 { written.trim_end_matches('0').trim_end_matches('.') } else { &written };
    text.push_str(if trimmed == "-0" { "0" } else { trimmed });
}
