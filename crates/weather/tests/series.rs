//! Reading, making and bringing to a face: what must hold whatever the weather. Exact identities, and regression of the committed demonstration file.
#![allow(clippy::unwrap_used, clippy::expect_used)]

use weather::{Face, FaceClimate, Kind, RainRecord, Roughness, Weather, WeatherError, invented, on_face, read_csv, write_csv};

fn face(faces_deg: f64) -> Face {
    Face {
        faces_deg,
        height_m: 3.0,
        roughness: Roughness::Farmland,
        obstruction_m: None,
        wall_factor: 0.4,
        horizon_deg: 0.0,
        ground_reflectance: 0.2,
    }
}

fn two_years() -> Weather {
    invented::years(11, 2).unwrap()
}

/// Exact: what is written is read back the same, bit for bit.
#[test]
fn writing_and_reading_change_nothing() {
    let made = two_years();
    let read = read_csv(&write_csv(&made), "again").unwrap();
    assert_eq!(read.years, made.years);
    assert_eq!((read.hash, read.kind, read.rain, read.site), (made.hash, made.kind, made.rain, made.site));
}

/// Exact: a year does not depend on how many are made, and another seed gives another year.
#[test]
fn a_made_year_is_keyed_by_seed_and_year() {
    let many = invented::years(11, 5).unwrap();
    assert_eq!(two_years().years, many.years[..2]);
    assert_ne!(invented::years(12, 1).unwrap().years[0].air_c, many.years[0].air_c);
    assert_eq!(many.kind, Kind::Invented);
}

/// Regression: the committed file is what the generator writes.
#[test]
fn the_demonstration_file_is_the_generators() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/ferry-house/weather.csv");
    let written = write_csv(&invented::years(invented::DEMO_SEED, invented::DEMO_YEARS).unwrap());
    assert!(std::fs::read_to_string(path).unwrap() == written, "write it anew with `cargo xtask demo-weather`");
    assert!(read_csv(&written, "weather.csv").unwrap().gives_odds());
}

/// Exact: turning wind, sun and face by the same angle changes nothing of the rain.
#[test]
fn wind_and_face_turned_together() {
    let mut weather = two_years();
    let before = on_face(&weather, &face(200.0)).rain_kg_m2;
    for year in &mut weather.years {
        year.wind_from_deg.iter_mut().for_each(|from| *from = (*from + 90.0).rem_euclid(360.0));
    }
    let after = on_face(&weather, &face(290.0)).rain_kg_m2;
    assert!(before.iter().zip(&after).all(|(one, other)| (one - other).abs() < 1e-9));
}

/// Exact: lengths run on through all years, and everything is finite and of the right sign.
#[test]
fn a_face_has_every_hour() {
    let weather = two_years();
    let FaceClimate { air_k, vapour_pa, pressure_pa, wind_m_s, sun_w_m2, longwave_w_m2, rain_kg_m2 } = on_face(&weather, &face(135.0));
    for column in [&air_k, &vapour_pa, &pressure_pa, &wind_m_s, &sun_w_m2, &longwave_w_m2, &rain_kg_m2] {
        assert_eq!(column.len(), 2 * 8760);
        assert!(column.iter().all(|value| value.is_finite() && *value >= 0.0));
    }
    assert!(rain_kg_m2.iter().sum::<f64>() > 1.0 && sun_w_m2.iter().sum::<f64>() > 1000.0);
}

/// Exact: half the wall factor, half the rain; an obstacle at 10 m leaves three tenths; a horizon overhead leaves no sky.
#[test]
fn shelter_counts() {
    let weather = two_years();
    let open = on_face(&weather, &face(225.0));
    let eaves = on_face(&weather, &Face { wall_factor: 0.2, ..face(225.0) });
    let yard = on_face(&weather, &Face { obstruction_m: Some(10.0), ..face(225.0) });
    let pit = on_face(&weather, &Face { horizon_deg: 60.0, ..face(225.0) });
    for hour in 0..8760 {
        assert!((eaves.rain_kg_m2[hour] - 0.5 * open.rain_kg_m2[hour]).abs() < 1e-12);
        assert!((yard.rain_kg_m2[hour] - 0.3 * open.rain_kg_m2[hour]).abs() < 1e-12);
        assert!(pit.longwave_w_m2[hour] >= open.longwave_w_m2[hour] - 1e-9);
    }
    assert!(pit.sun_w_m2.iter().sum::<f64>() < 0.5 * open.sun_w_m2.iter().sum::<f64>());
}

/// Exact: the south face has more sun than the north in the northern half of the globe, and the reverse in the southern.
#[test]
fn the_sunny_side() {
    let mut weather = two_years();
    let sum = |weather: &Weather, faces: f64| on_face(weather, &face(faces)).sun_w_m2.iter().sum::<f64>();
    assert!(sum(&weather, 180.0) > 1.5 * sum(&weather, 0.0));
    // The same light under a southern sun; summer and winter would change places, which does not matter here.
    weather.site.latitude_deg = -57.0;
    assert!(sum(&weather, 180.0) < sum(&weather, 0.0));
}

fn without(column: &str) -> String {
    let written = write_csv(&invented::years(11, 1).unwrap());
    let mut at = None;
    let mut text = String::new();
    for line in written.lines() {
        if line.starts_with('#') {
            text.push_str(line);
        } else {
            let fields: Vec<&str> = line.split(',').collect();
            let at = *at.get_or_insert_with(|| fields.iter().position(|field| *field == column).unwrap());
            let kept: Vec<&str> = fields.iter().enumerate().filter(|(index, _)| *index != at).map(|(_, field)| *field).collect();
            text.push_str(&kept.join(","));
        }
        text.push('\n');
    }
    text
}

/// A file without rain is read, said to be without, and refused for planning; twelve totals put it right, to the millimetre.
#[test]
fn rain_is_owed() {
    let dry = read_csv(&without("rain_mm"), "dry.csv").unwrap();
    assert_eq!(dry.rain, RainRecord::Missing);
    let refused = dry.fit_for_planning().unwrap_err();
    assert!(refused.to_string().contains("Give the twelve monthly totals of rain"), "{refused}");
    let totals = [90.0, 70.0, 60.0, 0.0, 50.0, 60.0, 70.0, 80.0, 80.0, 100.0, 100.0, 100.0];
    let hash = dry.hash.clone();
    let wet = dry.with_monthly_rain(totals).unwrap();
    wet.fit_for_planning().unwrap();
    assert_ne!(hash, wet.hash);
    let year = &wet.years[0];
    let mut sums = [0.0; 12];
    for (hour, rain) in year.rain_mm.iter().enumerate() {
        sums[year.month_and_day(hour).0 as usize - 1] += rain;
    }
    assert!(sums.iter().zip(totals).all(|(sum, total)| (sum - total).abs() < 1e-6), "{sums:?}");
    let wrong = wet.with_monthly_rain([f64::NAN; 12]).unwrap_err();
    assert!(matches!(wrong, WeatherError::MonthlyRain { .. }));
}

/// Gaps of six hours are filled and named; rain in them is none.
#[test]
fn short_gaps_are_filled_and_named() {
    let written = write_csv(&invented::years(11, 1).unwrap());
    let gappy: Vec<&str> = written.lines().enumerate().filter(|(index, _)| !(2000..2006).contains(index)).map(|(_, line)| line).collect();
    let read = read_csv(&gappy.join("\n"), "gappy.csv").unwrap();
    let named = read.findings.iter().find(|finding| finding.rule == "weather-gaps").unwrap();
    assert!(named.says.contains("6 short gaps (36 readings)") && named.says.contains("air_c for 6 h from 2001-"), "{}", named.says);
    let longer: Vec<&str> = written.lines().enumerate().filter(|(index, _)| !(2000..2007).contains(index)).map(|(_, line)| line).collect();
    assert!(read_csv(&longer.join("\n"), "gappy.csv").unwrap_err().to_string().contains("7 hours missing"));
}

/// A leap year keeps its 29 February, or may leave it out whole.
#[test]
fn leap_years() {
    let written = write_csv(&invented::years(11, 4).unwrap());
    let read = read_csv(&written, "four.csv").unwrap();
    assert_eq!(read.years[3].hours(), 8760);
    assert_eq!(read.years[3].month_and_day(59 * 24), (3, 1));
    let with_the_day: String = written
        .lines()
        .flat_map(|line| {
            let doubled = line.starts_with("2004,2,28,").then(|| line.replacen("2004,2,28,", "2004,2,29,", 1));
            std::iter::once(line.to_owned()).chain(doubled)
        })
        .map(|line| line + "\n")
        .collect();
    // The doubled rows stand between those of the 28th; order does not matter.
    let read = read_csv(&with_the_day, "four.csv").unwrap();
    assert_eq!(read.years[3].hours(), 8784);
    assert_eq!(read.years[3].month_and_day(59 * 24), (2, 29));
}

/// A single year, typical or not, gives no odds, and says so.
#[test]
fn few_years_give_no_odds() {
    let few = two_years();
    assert!(!few.gives_odds());
    assert!(few.findings.iter().any(|finding| finding.says.contains("2 years are too few for odds")));
}

/// Published (MoWiTT measurements on a low building in open country, Yazdanian & Klems 1994, forced part): 3.26 v^0.89 windward and 3.55 v^0.617 leeward of the 10 m
/// wind, against 4 + 4v of EN ISO 6946 with the share of the wind taken near the face. 12 % windward from 4 m/s, 15 % leeward from 3 m/s.
#[test]
fn wind_near_the_face_gives_measured_convection() {
    let share = physics::driven_rain::roughness_coefficient(physics::driven_rain::FARMLAND, 3.0);
    for wind in [4.0f64, 5.0, 6.0, 8.0, 10.0] {
        let windward = (4.0 + 4.0 * share * weather::WINDWARD_SHARE * wind) / (3.26 * wind.powf(0.89));
        assert!((windward - 1.0).abs() < 0.12, "{wind} m/s: {windward}");
    }
    for wind in [3.0f64, 4.0, 6.0, 8.0, 10.0] {
        let leeward = (4.0 + 4.0 * share * weather::LEEWARD_SHARE * wind) / (3.55 * wind.powf(0.617));
        assert!((leeward - 1.0).abs() < 0.15, "{wind} m/s: {leeward}");
    }
}

/// A wrong offset from UTC is found in the light: an hour or half an hour too many, and not when it is right.
#[test]
fn a_wrong_time_zone_is_found_in_the_light() {
    let text = write_csv(&two_years());
    let found = |offset: &str| {
        let changed = text.replace("# utc_offset_h: 0", &format!("# utc_offset_h: {offset}"));
        read_csv(&changed, "x")
            .unwrap()
            .findings
            .into_iter()
            .find(|finding| finding.rule == "weather-sun-shifted")
            .map(|finding| finding.says)
    };
    assert_eq!(found("0"), None);
    assert_eq!(found("1").as_deref(), Some("The light of the file runs 1.0 h before the sun of its place."));
    assert_eq!(found("-0.5").as_deref(), Some("The light of the file runs 0.5 h after the sun of its place."));
}

/// Rain written in inches, or in tenths of a millimetre, is not taken without a word; in millimetres it is.
#[test]
fn rain_in_the_wrong_unit_is_told() {
    let told = |factor: f64| {
        let mut weather = two_years();
        weather.years.iter_mut().flat_map(|year| &mut year.rain_mm).for_each(|rain| *rain *= factor);
        let read = read_csv(&write_csv(&weather), "again").unwrap();
        read.findings.into_iter().find(|finding| finding.rule == "weather-rain-amount")
    };
    assert!(told(1.0).is_none());
    assert!(told(1.0 / 25.4).unwrap().remedy.contains("inches"));
    assert!(told(10.0).unwrap().remedy.contains("tenths"));
}
