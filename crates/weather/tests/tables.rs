//! Tables of other people's making: declared hourly tables and daily records. Exact identities: what goes in comes out, whatever the units and signs.
#![allow(clippy::unwrap_used, clippy::expect_used)]

use std::fmt::Write;

use weather::{Encoding, Kind, Mapping, RainRecord, Weather, WeatherYear, decode, invented, read_daily, read_mapped};

const DECLARATION: &str = r#"
place = "Nowhere (invented)"
latitude_deg = 57.0
longitude_deg = -4.0
elevation_m = 12
utc_offset_h = 0
kind = "measured"
delimiter = ";"
decimal = ","
missing = ["-999", "k.A."]
skip_lines = 2
stamp = "end"

[[time]]
column = "Datum"
pattern = "dd.mm.yyyy"
[[time]]
column = "Zeit"
pattern = "HH:MM"

[columns]
air = { column = "Lufttemperatur (°C)", unit = "c" }
humidity = { column = "Feuchte", unit = "share" }
wind = { column = "Wind", unit = "knots" }
wind_from = { column = "Richtung", unit = "tens_deg" }
rain = { column = "Regen", unit = "tenths_mm" }
global = { column = "Strahlung", unit = "kj_m2" }
"#;

fn source() -> Weather {
    invented::years(21, 1).unwrap()
}

/// The invented year as a foreign table: semicolons, decimal commas, other units, hours named by their end, Latin-1.
fn foreign(year: &WeatherYear) -> Vec<u8> {
    let mut text = String::from("Messreihe\nvon irgendwo\nDatum;Zeit;Lufttemperatur (°C);Feuchte;Wind;Richtung;Regen;Strahlung\n");
    for hour in 0..year.hours() {
        let (month, day) = year.month_and_day(hour);
        let comma = |value: f64| format!("{value}").replace('.', ",");
        let air = if hour == 100 { "k.A.".to_owned() } else { comma(year.air_c[hour]) };
        let fields = [
            air,
            comma(year.humidity[hour]),
            comma(year.wind_m_s[hour] * 3600.0 / 1852.0),
            comma(year.wind_from_deg[hour] / 10.0),
            comma(year.rain_mm[hour] * 10.0),
            comma(year.global_w_m2[hour] * 3.6),
        ];
        writeln!(text, "{day:02}.{month:02}.{};{:02}:00;{}", year.year, hour % 24 + 1, fields.join(";")).unwrap();
    }
    text.chars().map(|letter| u8::try_from(u32::from(letter)).unwrap()).collect()
}

#[test]
fn a_foreign_table_is_read_by_its_declaration() {
    let weather = source();
    let bytes = foreign(&weather.years[0]);
    let (text, encoding) = decode(&bytes);
    assert_eq!(encoding, Encoding::Latin1);
    let mapping = Mapping::from_toml(DECLARATION, "mapping.toml").unwrap();
    let read = read_mapped(&text, &mapping, "foreign.csv").unwrap();
    assert_eq!((read.kind, read.rain, read.years.len()), (Kind::Measured, RainRecord::Hourly, 1));
    let (ours, theirs) = (&weather.years[0], &read.years[0]);
    let near = |one: &[f64], other: &[f64]| {
        one.iter().zip(other).enumerate().all(|(hour, (one, other))| hour == 100 || (one - other).abs() < 1e-9)
    };
    assert!(near(&ours.air_c, &theirs.air_c) && near(&ours.humidity, &theirs.humidity) && near(&ours.wind_m_s, &theirs.wind_m_s));
    assert!(
        near(&ours.wind_from_deg, &theirs.wind_from_deg)
            && near(&ours.rain_mm, &theirs.rain_mm)
            && near(&ours.global_w_m2, &theirs.global_w_m2)
    );
    assert!(read.findings.iter().any(|finding| finding.says.contains("air_c for 1 h from 2001-01-05 hour 4")));
}

#[test]
fn half_hour_stamps() {
    let weather = source();
    let mut text = String::from("when,t,rh,ff,dd,rr,g\n");
    let year = &weather.years[0];
    for hour in 0..year.hours() {
        let (month, day) = year.month_and_day(hour);
        let readings = [
            year.air_c[hour],
            year.humidity[hour] * 100.0,
            year.wind_m_s[hour],
            year.wind_from_deg[hour],
            year.rain_mm[hour],
            year.global_w_m2[hour],
        ];
        let joined: Vec<String> = readings.iter().map(f64::to_string).collect();
        writeln!(text, "2001-{month:02}-{day:02}T{:02}:30:00Z,{}", hour % 24, joined.join(",")).unwrap();
    }
    let declaration = r#"
place = "Nowhere (invented)"
latitude_deg = 57.0
longitude_deg = -4.0
elevation_m = 12
utc_offset_h = 0
kind = "measured"
stamp = "middle"
time = [{ column = "when", pattern = "yyyy-mm-ddTHH:MM" }]
[columns]
air = { column = "t", unit = "c" }
humidity = { column = "rh", unit = "percent" }
wind = { column = "ff", unit = "m_s" }
wind_from = { column = "dd", unit = "deg" }
rain = { column = "rr", unit = "mm" }
global = { column = "g", unit = "w_m2" }
"#;
    let read = read_mapped(&text, &Mapping::from_toml(declaration, "m").unwrap(), "half.csv").unwrap();
    assert_eq!(read.years[0].air_c, year.air_c);
    let wrong = declaration.replace("middle", "start");
    let said = read_mapped(&text, &Mapping::from_toml(&wrong, "m").unwrap(), "half.csv").unwrap_err().to_string();
    assert!(said.contains("line 2, time: found 2001-01-01 00:30") && said.contains("Say in `stamp`"), "{said}");
}

#[test]
fn every_fault_of_a_declaration_at_once() {
    let broken = DECLARATION
        .replace("unit = \"knots\"", "unit = \"furlongs\"")
        .replace("rain = {", "drizzle = {")
        .replace("stamp = \"end\"", "stamp = \"noon\"")
        .replace("decimal = \",\"", "decimal = \";\"")
        .replace("57.0", "97.0");
    let said = Mapping::from_toml(&broken, "mapping.toml").unwrap_err().to_string();
    for word in
        ["furlongs", "m_s, km_h, knots", "drizzle: found a quantity that is not known", "“noon”", "decimal", "latitude_deg: found 97"]
    {
        assert!(said.contains(word), "{word}: {said}");
    }
    let mapping = Mapping::from_toml(&DECLARATION.replace("\"Wind\"", "\"Boe\""), "mapping.toml").unwrap();
    let bytes = foreign(&source().years[0]);
    let said = read_mapped(&decode(&bytes).0, &mapping, "foreign.csv").unwrap_err().to_string();
    assert!(said.contains("line 3, Boe: found no such column; allowed: Datum, Zeit"), "{said}");
}

/// Days of the invented year, as a daily record.
fn daily(year: &WeatherYear, with: &str) -> String {
    let mut text = String::from(
        "# place: Nowhere (invented)\n# latitude_deg: 57\n# longitude_deg: -4\n# elevation_m: 12\n# utc_offset_h: 0\n# kind: measured\n",
    );
    text.push_str("# rain_wind_from_deg: 235\n");
    writeln!(text, "year,month,day,min_c,max_c,rain_mm,wind_m_s{with}").unwrap();
    for day in 0..365 {
        let (month, of_month) = year.month_and_day(day * 24);
        let span = day * 24..day * 24 + 24;
        let air = &year.air_c[span.clone()];
        let (least, greatest) = (air.iter().copied().fold(f64::INFINITY, f64::min), air.iter().copied().fold(f64::NEG_INFINITY, f64::max));
        let rain: f64 = year.rain_mm[span.clone()].iter().sum();
        let wind: f64 = year.wind_m_s[span.clone()].iter().sum::<f64>() / 24.0;
        write!(text, "2001,{month},{of_month},{least:.1},{greatest:.1},{rain:.1},{wind:.2}").unwrap();
        if !with.is_empty() {
            write!(text, ",{:.0}", year.global_w_m2[span].iter().sum::<f64>()).unwrap();
        }
        text.push('\n');
    }
    text
}

#[test]
fn days_are_spread_and_found_again() {
    let year = &source().years[0];
    let read = read_daily(&daily(year, ",global_wh_m2"), "days.csv").unwrap();
    let hours = &read.years[0];
    for day in 0..365 {
        let span = day * 24..day * 24 + 24;
        let sum = |column: &[f64]| column[span.clone()].iter().sum::<f64>();
        assert!((sum(&hours.rain_mm) - sum(&year.rain_mm)).abs() < 1e-6, "rain of day {day}");
        assert!((sum(&hours.wind_m_s) - sum(&year.wind_m_s)).abs() < 0.2, "wind of day {day}");
        let light = sum(&year.global_w_m2);
        assert!(
            (sum(&hours.global_w_m2) - light).abs() <= 1.0 + 1e-3 * light,
            "light of day {day}: {} for {light}",
            sum(&hours.global_w_m2)
        );
        let greatest = |column: &[f64]| column[span.clone()].iter().copied().fold(f64::NEG_INFINITY, f64::max);
        assert!((greatest(&hours.air_c) - greatest(&year.air_c)).abs() < 0.8, "greatest of day {day}");
    }
    assert!(read.findings.iter().any(|finding| finding.rule == "weather-daily"));
    // Without radiation the range of temperature stands for it: the right order, no more.
    let guessed = read_daily(&daily(year, ""), "days.csv").unwrap();
    let total = |year: &WeatherYear| year.global_w_m2.iter().sum::<f64>();
    let ratio = total(&guessed.years[0]) / total(year);
    assert!((0.5..1.6).contains(&ratio), "{ratio}");
}

#[test]
fn every_fault_of_days_at_once() {
    let text = daily(&source().years[0], "");
    let broken = text.replace("2001,3,7,", "2001,3,6,").replace("# rain_wind_from_deg: 235\n", "");
    let said = read_daily(&broken, "days.csv").unwrap_err().to_string();
    for word in ["a day for the second time", "no row for 2001-03-07", "or # rain_wind_from_deg: 0 to 360"] {
        assert!(said.contains(word), "{word}: {said}");
    }
    let said = read_daily("year,month,day,min_c\n2001,1,1,x\n", "days.csv").unwrap_err().to_string();
    assert!(said.contains("max_c: found no such column") && said.contains("line 2, min_c: found “x”"), "{said}");
}
