//! Normals read, refused, made into years and found again in them.
#![allow(clippy::unwrap_used, clippy::expect_used)]

use weather::{Kind, Normals, WeatherError, invented, make, read_csv, write_csv};

const PAGE: &str = include_str!("../../../docs/weather-normals.md");

/// The example of the documentation.
fn example() -> String {
    PAGE.split("```toml\n").nth(1).unwrap().split("```").next().unwrap().to_owned()
}

#[test]
fn the_documented_example_is_read_and_made() {
    let normals = Normals::from_toml(&example(), "normals.toml").unwrap();
    assert_eq!(normals.months[3].rain_mm, 60.0);
    // Ångström's form with FAO 56's numbers, for June at 57° N: 4.6 to 5.2 kWh/m² a day.
    assert!((4400.0..5300.0).contains(&normals.months[5].global_wh_m2_day), "{:?}", normals.months[5]);
    let made = make(&normals, 1, 2).unwrap();
    assert_eq!((made.kind, made.years.len(), made.years[0].hours()), (Kind::Made, 2, 8760));
    let again = read_csv(&write_csv(&made), "made.csv").unwrap();
    assert_eq!(again.hash, made.hash);
}

#[test]
fn the_invented_normals_are_sound() {
    invented::normals().check().unwrap();
}

#[test]
fn every_fault_of_normals_at_once() {
    let broken = example()
        .replace("mean_max_c       = [6.4, 6.8", "mean_max_c       = [-6.4, 680")
        .replace("wet_days         = [16.5", "wet_days         = [40")
        .replace("latitude_deg = 57.0", "latitude_deg = 157.0")
        .replace("rain_wind_from_deg = 235 ", "rain_wind_from_deg = -5 ");
    let said = Normals::from_toml(&broken, "normals.toml").unwrap_err().to_string();
    for word in ["680 in February", "-6.4 over 1.6 in January", "40 in January", "latitude_deg: found 157", "rain_wind_from_deg: found -5"]
    {
        assert!(said.contains(word), "{word}: {said}");
    }
    let short = example().replace("[6.1, 5.9,", "[5.9,").replace("sunshine_h ", "global_wh_m2_day = [1]\nsunshine_h ");
    let said = Normals::from_toml(&short, "normals.toml").unwrap_err().to_string();
    assert!(said.contains("wind_m_s: found 11 numbers") && said.contains("global_wh_m2_day: found 1 numbers"), "{said}");
    let unknown = Normals::from_toml("place = \"x\"\nmean_max = 3\n", "normals.toml").unwrap_err().to_string();
    assert!(unknown.contains("line 2") && unknown.contains("mean_max"), "{unknown}");
}

/// Made years give their normals back: 100 years, within three standard errors or so of each mean.
#[test]
fn normals_come_back_from_made_years() {
    let normals = invented::normals();
    let made = make(&normals, 3, 100).unwrap();
    let back = Normals::from_weather(&made).unwrap();
    for (month, (asked, got)) in normals.months.iter().zip(&back.months).enumerate() {
        let near = |what: &str, asked: f64, got: f64, limit: f64| {
            assert!((asked - got).abs() < limit, "month {}: {what} asked {asked}, got {got}", month + 1)
        };
        near("greatest", asked.mean_max_c, got.mean_max_c, 0.8);
        near("least", asked.mean_min_c, got.mean_min_c, 0.8);
        near("rain", asked.rain_mm, got.rain_mm, 0.15 * asked.rain_mm);
        near("wet days", asked.wet_days, got.wet_days, 1.5);
        near("radiation", asked.global_wh_m2_day, got.global_wh_m2_day, 0.07 * asked.global_wh_m2_day + 10.0);
        near("humidity", asked.humidity, got.humidity, 0.025);
        near("wind", asked.wind_m_s, got.wind_m_s, 0.06 * asked.wind_m_s);
    }
    assert!((back.rain_wind_from_deg - normals.rain_wind_from_deg).abs() < 15.0, "{}", back.rain_wind_from_deg);
}

#[test]
fn a_series_without_rain_has_no_normals() {
    let text = write_csv(&invented::years(1, 1).unwrap()).replace(",rain_mm,", ",rain_gone,");
    assert!(read_csv(&text, "x").is_err());
    let mut dry = invented::years(1, 1).unwrap();
    dry.rain = weather::RainRecord::Missing;
    assert!(matches!(Normals::from_weather(&dry), Err(WeatherError::NoRain { .. })));
}
