//! Solar position against the worked example of the algorithm's paper and against a general-purpose library.
//! Sources: I. Reda & A. Andreas, Solar Energy 76 (2004) 577, with the 2007 corrigendum (published); pvlib 0.11 spa_python (other tool).
#![allow(clippy::disallowed_methods, clippy::unwrap_used, clippy::expect_used)]

use physics::sun::{Place, Refraction, Track, julian_date, position};

const NORTH: Place = Place { latitude_deg: 57.0, longitude_deg: -4.0, elevation_m: 0.0 };

/// Published: 2003-10-17 12:30:30, seven hours behind UTC, 39.742476 N 105.1786 W, 1830.14 m, 820 mbar, 11 °C, ΔT 67 s.
/// Zenith 50.11162°, azimuth 194.34024°; the paper's own uncertainty, 0.0003°, is the tolerance.
#[test]
fn the_papers_worked_example() {
    let place = Place { latitude_deg: 39.742_476, longitude_deg: -105.178_6, elevation_m: 1830.14 };
    let time = julian_date(2003, 10, 17) + (19.0 + 30.0 / 60.0 + 30.0 / 3600.0) / 24.0;
    assert!((time - 2_452_930.312_847).abs() < 1e-6, "Julian date of the paper: {time}");
    let air = Refraction { pressure_pa: 82_000.0, air_c: 11.0 };
    let sun = position(time, 67.0, place, Some(air)).unwrap();
    assert!((sun.zenith_deg - 50.111_62).abs() < 3e-4, "{sun:?}");
    assert!((sun.azimuth_deg - 194.340_24).abs() < 3e-4, "{sun:?}");
}

/// Other tool (pvlib 0.11, spa_python, true position): 57° N 4° W at sea level. Four decimals were printed; 0.001° is the bar.
#[test]
fn five_hours_at_a_northern_place() {
    let cases = [
        (2024, 6, 21, 12.0, 33.7224, 172.582),
        (2024, 3, 20, 12.0, 57.0479, 173.050),
        (2024, 12, 21, 12.0, 80.4972, 176.677),
        (2024, 10, 1, 15.0, 70.0238, 227.130),
        (2024, 4, 15, 8.0, 67.6274, 106.834),
    ];
    for (year, month, day, hour, zenith, azimuth) in cases {
        let sun = position(julian_date(year, month, day) + hour / 24.0, 69.2, NORTH, None).unwrap();
        assert!((sun.zenith_deg - zenith).abs() < 1e-3, "{year}-{month}-{day}: {sun:?}");
        assert!((sun.azimuth_deg - azimuth).abs() < 1e-3, "{year}-{month}-{day}: {sun:?}");
    }
}

/// Computed here (regression only): the cheap track stays within 0.002° of the full algorithm, in every hour of three places' years.
#[test]
fn the_track_follows_the_full_algorithm() {
    let start = julian_date(2023, 1, 1);
    for latitude_deg in [-35.0, 0.0, 57.0, 78.0] {
        let place = Place { latitude_deg, longitude_deg: 25.3, elevation_m: 0.0 };
        let track = Track::new(start, 731.0, place).unwrap();
        for step in 0..(731 * 24 / 7) {
            let time = start + f64::from(step) * 7.0 / 24.0;
            let exact = position(time, physics::sun::delta_t_s(2024.0), place, None).unwrap().direction();
            let quick = track.direction(time);
            let chord = ((exact.east - quick.east).powi(2) + (exact.north - quick.north).powi(2) + (exact.up - quick.up).powi(2)).sqrt();
            assert!(chord.to_degrees() < 0.002, "{latitude_deg} at {time}: {exact:?} {quick:?} {}", chord.to_degrees());
        }
    }
}

/// Published: for the worked example the algorithm's reference program prints (from memory) sunrise at 06:12:43 and sunset at 17:20:19 by the clock seven
/// hours behind UTC. It reckons both within the UT day of 17 October, in which the sun sets at 00:20 UT: by the clock of the place in the evening of the 16th.
/// Half a minute is the bar: the track takes the sea level and the usual bending for granted.
#[test]
fn the_papers_sunrise_and_sunset() {
    let place = Place { latitude_deg: 39.742_476, longitude_deg: -105.178_6, elevation_m: 1830.14 };
    let midnight = julian_date(2003, 10, 17) + 7.0 / 24.0;
    let track = Track::new(midnight - 1.0, 4.0, place).unwrap();
    let (rise, _) = track.rise_and_set(midnight);
    let (_, set) = track.rise_and_set(midnight - 1.0);
    assert!((rise - (6.0 + 12.0 / 60.0 + 43.0 / 3600.0)).abs() < 0.5 / 60.0, "{rise}");
    assert!((set - (17.0 + 20.0 / 60.0 + 19.0 / 3600.0)).abs() < 0.5 / 60.0, "{set}");
}

/// Exact: inside the polar circle the sun neither rises at midwinter nor sets at midsummer.
#[test]
fn the_polar_night_has_no_day_and_its_day_no_night() {
    let place = Place { latitude_deg: 78.0, longitude_deg: 15.0, elevation_m: 0.0 };
    let track = Track::new(julian_date(2024, 1, 1), 366.0, place).unwrap();
    let (rise, set) = track.rise_and_set(julian_date(2024, 12, 21));
    assert!((set - rise).abs() < 1e-9, "{rise} {set}");
    let (rise, set) = track.rise_and_set(julian_date(2024, 6, 21));
    assert!((set - rise - 24.0).abs() < 1e-9, "{rise} {set}");
}

#[test]
fn a_place_off_the_globe_has_no_sun() {
    let nowhere = Place { latitude_deg: 91.0, ..NORTH };
    assert!(position(2_460_000.5, 69.0, nowhere, None).is_none());
    assert!(position(f64::NAN, 69.0, NORTH, None).is_none());
    assert!(Track::new(f64::INFINITY, 10.0, NORTH).is_none());
    assert!(Track::new(2_460_000.5, f64::NAN, NORTH).is_none());
}
