//! Broken weather files: each is refused with place, finding and remedy, and nothing panics.
#![allow(clippy::unwrap_used, clippy::expect_used)]

use std::path::PathBuf;

use weather::{Forecast, Normals, WeatherError, read_any, read_csv};

fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../tests/bad/weather")
}

/// What is said of a file that must be refused.
fn refusal(name: &str) -> String {
    let bytes = std::fs::read(folder().join(name)).unwrap();
    let text = String::from_utf8_lossy(&bytes);
    let error = match name {
        "normals.toml" => Normals::from_toml(&text, name).expect_err(name),
        "forecast.txt" => Forecast::from_text(&text, name).expect_err(name),
        _ => read_any(&bytes, name).expect_err(name),
    };
    assert!(matches!(error, WeatherError::Faults { .. }), "{name}: {error:?}");
    error.to_string()
}

/// Words that the report of a file must hold: line and column, what was found, what is allowed, what to do.
const REPORTS: [(&str, &[&str]); 18] = [
    (
        "missing-hours.csv",
        &["line 32, time: found 29 hours missing from 2019-01-02 hour 0", "at most 6 hours", "Fill the gap", "from 2019-01-04"],
    ),
    ("wrong-units.csv", &["line 8, air_f", "take off 32 and divide by 1.8", "line 8, wind_knots", "multiply by 0.514"]),
    (
        "impossible-values.csv",
        &[
            "line 9, air_c: found 281.3; allowed: -90 to 60 °C. A value near 280 is kelvin",
            "line 10, humidity_percent: found 140",
            "line 11, wind_m_s: found -3",
            "line 12, wind_from_deg: found 361",
            "line 13, rain_mm: found -1",
            "line 14, global_w_m2: found 2400",
            "line 15, air_c: found -120",
        ],
    ),
    ("hours-twice.csv", &["line 11, time: found 2019-03-31 hour 1 for the second time (first on line 10)", "line 14", "Delete the row"]),
    (
        "no-place.csv",
        &[
            "latitude_deg: found no such header line",
            "line 3, longitude_deg: found “west”; allowed: a number from -180 to 180",
            "kind: found “guessed”",
        ],
    ),
    (
        "words-for-numbers.csv",
        &[
            "line 10, air_c: found “mild”",
            "line 10, wind_from_deg: found “SW”",
            "line 11: found 13 fields; allowed: 10 fields",
            "line 12, time",
        ],
    ),
    ("not-a-date.csv", &["line 9, time: found 2019-02-29 hour 0", "2019-04-31", "hour 24", "2019-13-01", "19-03-01 hour 3"]),
    (
        "columns-lacking.csv",
        &["hour: found no such column", "humidity_percent: found no such column", "wind_m_s: found", "global_w_m2: found"],
    ),
    ("nothing.csv", &["place: found no such header line", "rows: found no row of readings"]),
    ("heads-only.csv", &["rows: found no row of readings; allowed: 8760 or 8784 rows a year"]),
    ("cut-short.epw", &["line 21: found 8 fields; allowed: 35 fields", "fetch the file again"]),
    ("many-years.csv", &["line 11, time: found more than 2 different years; allowed: at most 2 in a file of this size"]),
    (
        "days-out-of-order.csv",
        &[
            "line 11, time: found a day for the second time (first on line 10)",
            "line 12, min_c: found 9 over 5 on 2019-01-02",
            "line 13, rain_mm: found “-2”",
            "no row for 2019-01-04",
        ],
    ),
    ("cut-short.tmy3.csv", &["line 1, longitude: found “-400.000”; allowed: a number from -180 to 180"]),
    ("normals.toml", &["mean_max_c: found 11 numbers; allowed: twelve, January first. Give one number for each month."]),
    ("forecast.txt", &["line 2, min: found 16 over 14", "line 3, rain: found “rain”"]),
    ("not-an.epw", &["line 1, LOCATION: found “<!DOCTYPE html>”", "This is not an EPW file"]),
    (
        "wrong-values.epw",
        &["line 1, latitude: found “157.0”", "line 10, air_c: found -210", "line 11, air_c: found “n/a”", "line 12, time"],
    ),
];

#[test]
fn every_broken_file_is_reported_clearly() {
    for (name, words) in REPORTS {
        let said = refusal(name);
        assert!(said.starts_with(&format!("The weather file {name} cannot be used: ")), "{said}");
        for word in words {
            assert!(said.contains(word), "{name} does not say “{word}”:\n{said}");
        }
    }
}

#[test]
fn every_file_in_the_folder_has_its_report() {
    let mut names: Vec<String> =
        std::fs::read_dir(folder()).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    let mut listed: Vec<&str> = REPORTS.iter().map(|(name, _)| *name).collect();
    listed.sort_unstable();
    assert_eq!(names, listed);
}

/// A file with the same fault on every row does not give a report that nobody reads.
#[test]
fn a_long_list_is_cut_and_counted() {
    let mut text = String::from(
        "# place: x\n# latitude_deg: 1\n# longitude_deg: 1\n# elevation_m: 1\n# utc_offset_h: 0\n# kind: measured\nyear,month,day,hour,air_c\n",
    );
    for hour in 0..1000 {
        text.push_str(&format!("2019,1,{},{},400\n", hour / 24 + 1, hour % 24));
    }
    let said = read_csv(&text, "long.csv").unwrap_err().to_string();
    assert!(said.lines().count() < 30, "{said}");
    assert!(said.contains("more of the same sorts"), "{said}");
}
