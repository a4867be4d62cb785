//! Real typical years out of an older pvlib wheel (0.8.1), read by us and by pvlib's own readers. The wheel is fetched by pip from the package registry when
//! the test runs and kept in the target folder; nothing of it is committed.

use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::{Value, json};
use weather::{Kind, RainRecord, Weather, WeatherYear, read_epw, read_tmy3};

use super::harness::run;

const WHEEL: &str = "pvlib-0.8.1-py3-none-any.whl";

/// Path of the wheel, fetched once.
pub fn wheel() -> PathBuf {
    static FETCHED: std::sync::OnceLock<PathBuf> = std::sync::OnceLock::new();
    let fetch = || {
        let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).to_path_buf();
        let path = folder.join(WHEEL);
        if !path.exists() {
            let python = std::env::var_os("HARLWRIGHT_PYTHON").expect("HARLWRIGHT_PYTHON is not set: run `cargo xtask test`");
            let arguments = ["-m", "pip", "download", "--quiet", "--no-deps", "--only-binary", ":all:", "pvlib==0.8.1", "-d"];
            let status = Command::new(python).args(arguments).arg(&folder).status().expect("pip did not start");
            assert!(status.success(), "pip could not fetch pvlib 0.8.1: the check needs the package registry");
        }
        path
    };
    FETCHED.get_or_init(fetch).clone()
}

/// A real file, as text and as pvlib reads it.
pub fn real(file: &str) -> (String, Value) {
    let asked = json!({ "wheel": wheel(), "file": file, "out": env!("CARGO_TARGET_TMPDIR"), "year": 2001 });
    let answer = run("weather_file.py", &asked);
    let bytes = std::fs::read(answer["path"].as_str().unwrap()).unwrap();
    (weather::decode(&bytes).0.into_owned(), answer)
}

/// Mean of a column in each month.
fn monthly(year: &WeatherYear, of: impl Fn(usize) -> f64) -> [f64; 12] {
    let mut sums = [(0.0, 0.0); 12];
    for hour in 0..year.hours() {
        let month = year.month_and_day(hour).0 as usize - 1;
        sums[month].0 += of(hour);
        sums[month].1 += 1.0;
    }
    sums.map(|(sum, count)| sum / count)
}

/// Column, ours by the hour, and the limit of a difference in a monthly mean (gaps that we fill and pandas leaves out are the only room).
type Compared = (&'static str, fn(&WeatherYear, usize) -> f64, f64);

const COMPARED: [Compared; 8] = [
    ("air_c", |year, hour| year.air_c[hour], 1e-9),
    ("humidity", |year, hour| year.humidity[hour] * 100.0, 1e-9),
    ("pressure_pa", |year, hour| year.pressure_pa[hour], 1e-6),
    ("wind_m_s", |year, hour| year.wind_m_s[hour], 1e-9),
    ("wind_from_deg", |year, hour| year.wind_from_deg[hour], 1e-9),
    ("global", |year, hour| year.global_w_m2[hour], 1e-9),
    ("direct", |year, hour| year.direct_w_m2[hour], 1e-9),
    ("diffuse", |year, hour| year.diffuse_w_m2[hour], 1e-9),
];

fn compare(weather: &Weather, answer: &Value, file: &str) {
    let year = &weather.years[0];
    for (key, of, limit) in COMPARED {
        let theirs: Vec<Option<f64>> = serde_json::from_value(answer["means"][key].clone()).unwrap();
        let ours = monthly(year, |hour| of(year, hour));
        for (month, (our, their)) in ours.iter().zip(&theirs).enumerate() {
            let their = their.unwrap_or_else(|| panic!("{file}: pvlib has no {key} in month {}", month + 1));
            assert!((our - their).abs() <= limit * their.abs().max(1.0), "{file}, {key}, month {}: ours {our}, pvlib's {their}", month + 1);
        }
        // And hour by hour, where pvlib has a reading.
        let hourly: Vec<Option<f64>> = serde_json::from_value(answer[key].clone()).unwrap();
        for (hour, their) in hourly.iter().enumerate() {
            let Some(their) = their else { continue };
            assert!(
                (of(year, hour) - their).abs() <= 1e-9 * their.abs().max(1.0),
                "{file}, {key}, hour {hour}: ours {}, pvlib's {their}",
                of(year, hour)
            );
        }
    }
}

#[test]
fn an_epw_file_reads_as_pvlib_reads_it() {
    for file in ["NLD_Amsterdam062400_IWEC.epw", "tmy_45.000_8.000_2005_2016.epw"] {
        let (text, answer) = real(file);
        let weather = read_epw(&text, file).unwrap();
        assert_eq!((weather.kind, weather.rain), (Kind::Typical, RainRecord::Missing), "{file}");
        compare(&weather, &answer, file);
    }
}

#[test]
fn a_tmy3_file_reads_as_pvlib_reads_it() {
    for file in ["703165TY.csv", "723170TYA.CSV"] {
        let (text, answer) = real(file);
        let weather = read_tmy3(&text, file).unwrap_or_else(|error| panic!("{error}"));
        assert_eq!(weather.kind, Kind::Typical);
        compare(&weather, &answer, file);
        assert_eq!(weather.rain, RainRecord::Missing, "{file}");
    }
}
