//! What stands before a face, as a trial file says it: a fixed state, air behind films, free water, nothing, an hourly table, a weather file.

use curing::trial::{AirRow, TrialFace};
use physics::air::saturation_pa;
use physics::constants::VAPOUR_GAS_J_KGK;

use super::reader::{Section, Wrong, from_to};
use super::{Files, ZERO_C_K, one_of, wetness};
use crate::problem::Fault;

#[derive(Clone, Copy)]
enum Kind {
    Fixed,
    Film,
    FreeWater,
    Sealed,
    Table,
    Weather,
}

const KINDS: [(&str, Kind); 6] = [
    ("fixed", Kind::Fixed),
    ("film", Kind::Film),
    ("free-water", Kind::FreeWater),
    ("sealed", Kind::Sealed),
    ("table", Kind::Table),
    ("weather", Kind::Weather),
];

/// Reads a face.
pub(super) fn read(section: &Section<'_, '_>, files: Files<'_>) -> Option<TrialFace> {
    let face = match section.needs_choice("kind", &KINDS)? {
        Kind::Fixed => fixed(section),
        Kind::Film => film(section),
        Kind::FreeWater => Some(TrialFace::FreeWater { temperature_k: temperature_k(section) }),
        Kind::Sealed => Some(TrialFace::Sealed),
        Kind::Table => table(section, files),
        Kind::Weather => super::weather_face::read(section, files),
    };
    section.finish();
    face
}

fn temperature_k(section: &Section<'_, '_>) -> Option<f64> {
    section.number("temperature_c", from_to(-60.0, 120.0)).map(|celsius| celsius + ZERO_C_K)
}

/// Temperature of the rain, where it is not the air's.
fn rain_k(section: &Section<'_, '_>) -> Option<f64> {
    section.number("rain_temperature_c", from_to(0.0, 60.0)).map(|celsius| celsius + ZERO_C_K)
}

fn fixed(section: &Section<'_, '_>) -> Option<TrialFace> {
    let (wetness, temperature_k) = (wetness(section), temperature_k(section));
    if wetness.is_none() && temperature_k.is_none() && !section.reader.any() {
        section.missing(
            "temperature_c",
            "A fixed face holds temperature_c, or one of humidity, water_kg_m3 and suction_pa, or both.",
            "Add what is held, or say kind = \"sealed\".",
        );
    }
    Some(TrialFace::Fixed { wetness, temperature_k })
}

/// Heat and vapour coefficients of a face.
fn films(section: &Section<'_, '_>, reference_k: f64) -> Option<(f64, f64)> {
    let heat = section.needs_number("heat_w_m2k", from_to(0.0, 1e9));
    let vapour = section.number("vapour_s_m", from_to(0.0, 10.0));
    let velocity = section.number("vapour_m_s", from_to(0.0, 1e6));
    let vapour = match (vapour, velocity) {
        (Some(vapour), None) => vapour,
        (None, Some(velocity)) => velocity / (VAPOUR_GAS_J_KGK * reference_k),
        _ => {
            one_of(section, "vapour_s_m", "vapour_m_s");
            return None;
        }
    };
    Some((heat?, vapour))
}

fn film(section: &Section<'_, '_>) -> Option<TrialFace> {
    let air_c = section.needs_number("air_temperature_c", from_to(-60.0, 120.0));
    let humidity = section.number("air_humidity", from_to(0.0, 1.0));
    let pressure = section.number("air_vapour_pa", from_to(0.0, 1e5));
    let absorbed_w_m2 = section.number("absorbed_w_m2", from_to(-1000.0, 2000.0)).unwrap_or(0.0);
    let rain_kg_m2s = section.number("rain_kg_m2h", from_to(0.0, 1000.0)).unwrap_or(0.0) / 3600.0;
    let films = films(section, air_c.unwrap_or(20.0) + ZERO_C_K);
    let rain_k = rain_k(section);
    let air_k = air_c? + ZERO_C_K;
    let vapour_pa = match (humidity, pressure) {
        (Some(humidity), None) => humidity * saturation_pa(air_k),
        (None, Some(pressure)) => pressure,
        _ => {
            one_of(section, "air_humidity", "air_vapour_pa");
            return None;
        }
    };
    let (heat_w_m2k, vapour_s_m) = films?;
    Some(TrialFace::Air(vec![AirRow {
        from_s: 0.0,
        air_k,
        vapour_pa,
        heat_w_m2k,
        vapour_s_m,
        absorbed_w_m2,
        rain_kg_m2s,
        rain_k: rain_k.unwrap_or(air_k),
        longwave: None,
    }]))
}

/// The columns of an hourly table.
struct Columns {
    from_h: Vec<f64>,
    air_c: Vec<f64>,
    humidity: Vec<f64>,
    absorbed_w_m2: Vec<f64>,
    rain_kg_m2h: Vec<f64>,
}

fn table(section: &Section<'_, '_>, files: Files<'_>) -> Option<TrialFace> {
    let films = films(section, 293.15);
    let rain_k = rain_k(section);
    let columns = if section.has("file") { columns_of_file(section, files) } else { columns_of_lists(section) };
    let (columns, (heat_w_m2k, vapour_s_m)) = (columns?, films?);
    if columns.from_h.first() != Some(&0.0) || columns.from_h.windows(2).any(|pair| pair[1] <= pair[0]) {
        section.contradicts(
            "from_h",
            "The hours of the table do not rise from 0.",
            "The first row must begin at hour 0, every other later than the one before.",
            "Order the rows.",
        );
        return None;
    }
    let rows = (0..columns.from_h.len())
        .map(|row| {
            let air_k = columns.air_c[row] + ZERO_C_K;
            AirRow {
                from_s: columns.from_h[row] * 3600.0,
                air_k,
                vapour_pa: columns.humidity[row] * saturation_pa(air_k),
                heat_w_m2k,
                vapour_s_m,
                absorbed_w_m2: columns.absorbed_w_m2[row],
                rain_kg_m2s: columns.rain_kg_m2h[row] / 3600.0,
                rain_k: rain_k.unwrap_or(air_k),
                longwave: None,
            }
        })
        .collect();
    Some(TrialFace::Air(rows))
}

/// Names, bounds and default of the columns, in the order of `Columns`.
const COLUMNS: [(&str, f64, f64, Option<f64>); 5] = [
    ("from_h", 0.0, 1e6, None),
    ("air_temperature_c", -60.0, 120.0, None),
    ("air_humidity", 0.0, 1.0, None),
    ("absorbed_w_m2", -1000.0, 2000.0, Some(0.0)),
    ("rain_kg_m2h", 0.0, 1000.0, Some(0.0)),
];

fn columns_of_lists(section: &Section<'_, '_>) -> Option<Columns> {
    let rows = section.needs_numbers("from_h", from_to(0.0, 1e6)).map_or(0, |hours| hours.len());
    let mut lists = Vec::new();
    for (key, least, greatest, otherwise) in COLUMNS {
        let list = match otherwise {
            Some(value) if !section.has(key) => Some(vec![value; rows]),
            _ => section.needs_numbers(key, from_to(least, greatest)),
        };
        if let Some(list) = &list
            && list.len() != rows
        {
            let found = format!("`{key}` has {} entries, `from_h` has {rows}.", list.len());
            section.contradicts(key, found, "Every row needs one entry.", "Make the lists equally long.");
        }
        lists.push(list);
    }
    let lists: Vec<Vec<f64>> = lists.into_iter().collect::<Option<_>>()?;
    lists.iter().all(|list| list.len() == rows).then(|| columns(lists))
}

fn columns(mut lists: Vec<Vec<f64>>) -> Columns {
    let mut next = || if lists.is_empty() { Vec::new() } else { lists.remove(0) };
    Columns { from_h: next(), air_c: next(), humidity: next(), absorbed_w_m2: next(), rain_kg_m2h: next() }
}

/// A CSV file with a heading row naming the columns; lines that begin with # are remarks.
fn columns_of_file(section: &Section<'_, '_>, files: Files<'_>) -> Option<Columns> {
    let file = section.text("file")?;
    let text = match files(file) {
        Ok(text) => text,
        Err(why) => {
            let found = format!("The table “{file}” cannot be read: {why}.");
            let remedy = "Correct the name, or give the columns as lists.";
            section.refuse("file", Wrong::new(Fault::NotFound, found, "It must name a CSV file, relative to the trial file.", remedy));
            return None;
        }
    };
    let mut lines = text.lines().enumerate().filter(|(_, line)| !line.trim().is_empty() && !line.starts_with('#'));
    let heading: Vec<&str> = lines.next().map(|(_, line)| line.split(',').map(str::trim).collect()).unwrap_or_default();
    let known: Vec<&str> = COLUMNS.iter().map(|column| column.0).collect();
    let mut sound = true;
    for word in heading.iter().filter(|word| !known.contains(word)) {
        let allowed = format!("The columns are: {}.", known.join(" · "));
        section.refuse(
            "file",
            Wrong::new(Fault::UnknownKey, format!("“{file}” has a column “{word}”."), allowed, "Rename or remove the column."),
        );
        sound = false;
    }
    let mut lists = vec![Vec::new(); COLUMNS.len()];
    for (number, line) in lines {
        let cells: Vec<&str> = line.split(',').map(str::trim).collect();
        for (list, (key, least, greatest, otherwise)) in lists.iter_mut().zip(COLUMNS) {
            let cell = heading.iter().position(|word| *word == key).and_then(|at| cells.get(at));
            let value = cell.map_or(otherwise, |cell| cell.parse::<f64>().ok());
            match value.filter(|value| *value >= least && *value <= greatest) {
                Some(value) => list.push(value),
                None => {
                    let found = format!("“{file}”, line {}: {key} is “{}”.", number + 1, cell.unwrap_or(&"missing"));
                    let allowed = format!("A number from {least} to {greatest} is possible.");
                    section.refuse("file", Wrong::new(Fault::OutOfRange, found, allowed, "Correct the table."));
                    sound = false;
                }
            }
        }
    }
    sound.then(|| columns(lists))
}
