//! Wind-driven rain on a wall by the hour and summed: the hourly form of ISO 15927-3:2009 (equations published; hours made up; sums worked apart with
//! NumPy), carried through the way a wall gets its rain. The factors are those of the standard's tables: roughness of category II below its least height
//! of 4 m, 0.19·ln(4/0.05) = 0.8326; of III at 8 m, 0.22·ln(8/0.3) = 0.7224; obstruction at 50 m, 0.6 (tables from memory).
#![allow(clippy::unwrap_used, clippy::expect_used)]

use weather::{Face, Roughness, Weather, invented, on_face};

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

/// A year dry but for the hours given: wind, m/s, where it blows from, °, and rain, mm.
fn dry_but_for(hours: &[(usize, f64, f64, f64)]) -> Weather {
    let mut weather = invented::years(11, 1).unwrap();
    let year = &mut weather.years[0];
    year.rain_mm.fill(0.0);
    for &(hour, wind, from, rain) in hours {
        (year.wind_m_s[hour], year.wind_from_deg[hour], year.rain_mm[hour]) = (wind, from, rain);
    }
    weather
}

fn sum(weather: &Weather, face: &Face) -> f64 {
    on_face(weather, face).rain_kg_m2.iter().sum()
}

/// Four hours, on different days, on four faces. Limit: the four digits of the roughness.
#[test]
fn four_hours_on_four_walls() {
    let weather = dry_but_for(&[(30, 6.0, 240.0, 1.0), (500, 8.0, 250.0, 2.0), (501, 5.0, 30.0, 3.0), (8759, 7.0, 220.0, 0.4)]);
    for (faces, airfield) in [(180.0, 2.320_33), (225.0, 4.957_75), (270.0, 4.690_99), (0.0, 2.555_03)] {
        let found = sum(&weather, &face(faces));
        let expected = airfield * 0.8326 * 0.4;
        println!("{faces}°: {found:.5} for {expected:.5} kg/m²");
        assert!((found - expected).abs() < 1e-4 * expected, "{faces}: {found} for {expected}");
    }
}

/// The whole chain of one hour: 8 m/s, 2 mm, 30° off the face, suburb at 8 m, an obstacle at 50 m, a wall factor of 0.4: 0.4943 kg/m².
#[test]
fn one_hour_on_a_sheltered_wall() {
    let weather = dry_but_for(&[(1000, 8.0, 210.0, 2.0)]);
    let sheltered = Face { height_m: 8.0, roughness: Roughness::Suburb, obstruction_m: Some(50.0), ..face(180.0) };
    let found = sum(&weather, &sheltered);
    assert!((found - 0.4943).abs() < 1e-4, "{found}");
}

/// The exponent 8/9 belongs to the hour: the same 4.8 mm in one hour throws 24^(−1/9) = 0.7024 of what they throw spread over a day of the same wind (exact).
#[test]
fn a_burst_is_less_than_a_drizzle() {
    let burst = dry_but_for(&(0..24).map(|hour| (240 + hour, 6.0, 180.0, if hour == 9 { 4.8 } else { 0.0 })).collect::<Vec<_>>());
    let drizzle = dry_but_for(&(0..24).map(|hour| (240 + hour, 6.0, 180.0, 0.2)).collect::<Vec<_>>());
    let ratio = sum(&burst, &face(180.0)) / sum(&drizzle, &face(180.0));
    assert!((ratio - 0.702_4).abs() < 1e-4, "{ratio}");
}
