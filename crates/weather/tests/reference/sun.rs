//! Position of the sun, transposition and split against pvlib, at seeded random times, places and faces.

use physics::sun::{self, Outlook, Place, Position, Refraction, Split, Track};
use serde_json::json;

use super::harness::{assert_close, numbers, run};

/// A small fixed sequence of numbers from 0 to 1 (Park & Miller's minimal generator): the cases are the same every time.
struct Cases(u64);

impl Cases {
    fn next(&mut self) -> f64 {
        self.0 = self.0 * 48_271 % 2_147_483_647;
        self.0 as f64 / 2_147_483_647.0
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.next()
    }
}

const UNIX_EPOCH: f64 = 2_440_587.5;

/// Differences of angle the short way round, degrees.
fn apart(one: f64, other: f64) -> f64 {
    ((one - other + 180.0).rem_euclid(360.0) - 180.0).abs()
}

/// Sunrise and sunset on 200 days between 60° S and 60° N, within half a minute of pvlib's algorithm of Reda and Andreas.
#[test]
fn two_hundred_sunsets() {
    let mut cases = Cases(20_061);
    let days: Vec<[f64; 3]> = (0..200)
        .map(|_| {
            let midnight = (cases.between(630.0e6, 2_209.0e6) / 86_400.0).floor() * 86_400.0;
            // Within two hours of Greenwich the sun rises and sets within the day of UTC, to which the other keeps.
            [midnight, cases.between(-60.0, 60.0), cases.between(-30.0, 30.0)]
        })
        .collect();
    let answer = run("sun.py", &json!({ "places": [], "faces": [], "splits": [[1.0, 50.0, 1.0]], "days": days }));
    let (rises, sets) = (numbers(&answer["days"]["sunrise_h"]), numbers(&answer["days"]["sunset_h"]));
    assert_eq!(rises.len(), 200);
    let mut farthest: f64 = 0.0;
    for (index, [seconds, latitude_deg, longitude_deg]) in days.into_iter().enumerate() {
        let midnight = UNIX_EPOCH + seconds / 86_400.0;
        let track = Track::new(midnight - 1.0, 3.0, Place { latitude_deg, longitude_deg, elevation_m: 0.0 }).unwrap();
        let (rise, set) = track.rise_and_set(midnight);
        farthest = farthest.max((rise - rises[index]).abs()).max((set - sets[index]).abs());
    }
    assert!(farthest * 60.0 < 0.5, "greatest difference {} minutes", farthest * 60.0);
}

/// 500 times from 1985 to 2040 all over the globe: zenith and azimuth within 0.001°. Near the zenith and nadir azimuth is weighed with the sine.
#[test]
fn five_hundred_positions() {
    let mut cases = Cases(20_041);
    let places: Vec<[f64; 4]> = (0..500)
        .map(|_| {
            [
                cases.between(473.0e6, 2_209.0e6).floor(),
                cases.between(-89.0, 89.0),
                cases.between(-180.0, 180.0),
                cases.between(0.0, 3000.0),
            ]
        })
        .collect();
    let answer = run("sun.py", &json!({ "places": places, "faces": [], "splits": [[1.0, 50.0, 1.0]] }));
    let theirs = |key: &str| numbers(&answer["places"][key]);
    let (zenith, apparent, azimuth, delta_t) = (theirs("zenith"), theirs("apparent_zenith"), theirs("azimuth"), theirs("delta_t"));
    let air = Refraction { pressure_pa: 101_325.0, air_c: 12.0 };
    let mut farthest: f64 = 0.0;
    for (index, [seconds, latitude_deg, longitude_deg, elevation_m]) in places.into_iter().enumerate() {
        let place = Place { latitude_deg, longitude_deg, elevation_m };
        let time = UNIX_EPOCH + seconds / 86_400.0;
        let ours = sun::position(time, delta_t[index], place, None).unwrap();
        let height = ours.zenith_deg.to_radians().sin();
        farthest = farthest.max(apart(ours.zenith_deg, zenith[index])).max(apart(ours.azimuth_deg, azimuth[index]) * height);
        let bent = sun::position(time, delta_t[index], place, Some(air)).unwrap();
        // Below the horizon libraries differ in where they stop bending the light.
        if zenith[index] < 89.0 {
            farthest = farthest.max(apart(bent.zenith_deg, apparent[index]));
        }
    }
    assert!(farthest < 1e-3, "greatest difference {farthest}°");
    println!("500 positions: greatest difference {farthest:.6}°");
}

/// The cheap track through a year, which is what the hours use, against pvlib: within 0.003°.
#[test]
fn the_track_of_a_year() {
    let mut cases = Cases(77);
    let (latitude_deg, longitude_deg) = (57.0, -4.0);
    let start = sun::julian_date(2023, 1, 1);
    let track = Track::new(start, 366.0, Place { latitude_deg, longitude_deg, elevation_m: 0.0 }).unwrap();
    let places: Vec<[f64; 4]> = (0..200)
        .map(|_| [((start - UNIX_EPOCH) * 86_400.0 + cases.between(0.0, 365.0 * 86_400.0)).floor(), latitude_deg, longitude_deg, 0.0])
        .collect();
    let answer = run("sun.py", &json!({ "places": places, "faces": [], "splits": [[1.0, 50.0, 1.0]] }));
    let (zenith, azimuth) = (numbers(&answer["places"]["zenith"]), numbers(&answer["places"]["azimuth"]));
    for (index, place) in places.iter().enumerate() {
        let ours = track.direction(UNIX_EPOCH + place[0] / 86_400.0);
        let theirs = Position { zenith_deg: zenith[index], azimuth_deg: azimuth[index] }.direction();
        let chord =
            ((ours.east - theirs.east).powi(2) + (ours.north - theirs.north).powi(2) + (ours.up - theirs.up).powi(2)).sqrt().to_degrees();
        assert!(chord < 0.003, "entry {index}: {chord}°");
    }
}

/// 500 suns on 500 vertical faces: within 0.5 % (the bar) and in truth within 1e-9, since the same formula is meant.
#[test]
fn five_hundred_faces() {
    let mut cases = Cases(4_711);
    let faces: Vec<[f64; 8]> = (0..500)
        .map(|_| {
            let zenith = cases.between(1.0, 95.0);
            let direct = if zenith < 90.0 { cases.between(0.0, 1000.0) } else { 0.0 };
            let diffuse = cases.between(0.0, 400.0);
            let global = direct * zenith.to_radians().cos().max(0.0) + diffuse;
            [
                global,
                direct,
                diffuse,
                zenith,
                cases.between(0.0, 360.0),
                cases.between(1320.0, 1413.0),
                cases.between(0.0, 360.0),
                cases.between(0.0, 0.8),
            ]
        })
        .collect();
    let answer = run("sun.py", &json!({ "places": [], "faces": faces, "splits": [[1.0, 50.0, 1.0]] }));
    let (mut plain, mut used) = (Vec::new(), Vec::new());
    for [global, direct_w_m2, diffuse_w_m2, zenith_deg, azimuth_deg, outside, faces_deg, ground] in faces {
        let split = Split { direct_w_m2, diffuse_w_m2 };
        let sun = Position { zenith_deg, azimuth_deg }.direction();
        let outlook = Outlook::new(faces_deg, 0.0, ground);
        plain.push(sun::isotropic(global, split, sun, &outlook).total_w_m2());
        used.push(sun::hay_davies(global, split, outside, sun, &outlook).total_w_m2());
    }
    assert_close("isotropic", &plain, &numbers(&answer["faces"]["isotropic"]), 1e-6, 1e-9);
    assert_close("Hay-Davies", &used, &numbers(&answer["faces"]["hay_davies"]), 1e-6, 1e-9);
}

/// Split, extraterrestrial and clear-sky radiation: the same published forms, so the same numbers to rounding.
#[test]
fn splits_and_clear_skies() {
    let mut cases = Cases(99);
    let splits: Vec<[f64; 3]> =
        (0..500).map(|_| [cases.between(0.0, 1000.0), cases.between(0.0, 88.0), cases.between(1.0, 366.0).floor()]).collect();
    let answer = run("sun.py", &json!({ "places": [], "faces": [], "splits": splits }));
    let (mut diffuse, mut direct, mut outside, mut clear) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
    for [global, zenith, day] in &splits {
        let up = zenith.to_radians().cos();
        outside.push(sun::extraterrestrial_w_m2(*day as u32));
        clear.push(sun::clear_sky_w_m2(up));
        let split = sun::split_global(*global, up, sun::extraterrestrial_w_m2(*day as u32));
        diffuse.push(split.diffuse_w_m2);
        direct.push(split.direct_w_m2);
    }
    let theirs = |key: &str| numbers(&answer["splits"][key]);
    assert_close("extraterrestrial", &outside, &theirs("extraterrestrial"), 0.0, 1e-9);
    assert_close("clear sky", &clear, &theirs("clear"), 1e-6, 1e-9);
    assert_close("diffuse", &diffuse, &theirs("diffuse"), 1e-6, 1e-6);
    assert_close("direct", &direct, &theirs("direct"), 1e-6, 1e-6);
}
