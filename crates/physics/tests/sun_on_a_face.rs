//! Transposition, split of global radiation and long-wave on a vertical face.
//! Sources: pvlib 0.11 (other tool: irradiance.isotropic, haydavies, erbs); P. Berdahl & M. Martin, Solar Energy 32 (1984) 663 and
//! M. Unsworth & J. Monteith, QJRMS 101 (1975) 13 (published forms, numbers computed from them with NumPy).
#![allow(clippy::disallowed_methods, clippy::unwrap_used, clippy::expect_used)]

use physics::sky;
use physics::sun::{Outlook, Position, Split, hay_davies, isotropic, sky_view, split_global};

/// Other tool (pvlib): global 500, direct 600, diffuse 150 W/m², zenith 50°, azimuth 200°, ground 0.2, extraterrestrial 1367. Printed to 0.01.
#[test]
fn three_faces_under_one_sun() {
    let split = Split { direct_w_m2: 600.0, diffuse_w_m2: 150.0 };
    let sun = Position { zenith_deg: 50.0, azimuth_deg: 200.0 }.direction();
    for (faces, beam, total, diffuse) in [(90.0, 0.0, 125.0, 42.08), (180.0, 431.91, 556.91, 115.81), (270.0, 157.20, 282.20, 68.92)] {
        let outlook = Outlook::new(faces, 0.0, 0.2);
        let plain = isotropic(500.0, split, sun, &outlook);
        assert!((plain.beam_w_m2 - beam).abs() < 0.01, "{faces}: {plain:?}");
        assert!((plain.total_w_m2() - total).abs() < 0.01, "{faces}: {plain:?}");
        let used = hay_davies(500.0, split, 1367.0, sun, &outlook);
        assert!((used.sky_w_m2 - diffuse).abs() < 0.01, "{faces}: {used:?}");
    }
}

/// Other tool (pvlib erbs): global 400 W/m², zenith 60°, day 172: diffuse 171.11, direct 457.77.
#[test]
fn one_split() {
    let cosine = 60f64.to_radians().cos();
    let split = split_global(400.0, cosine, physics::sun::extraterrestrial_w_m2(172));
    assert!((split.diffuse_w_m2 - 171.11).abs() < 0.01, "{split:?}");
    assert!((split.direct_w_m2 - 457.77).abs() < 0.01, "{split:?}");
}

/// Exact: the split gives back the global radiation it was made from.
#[test]
fn a_split_adds_up() {
    for cosine in [0.06, 0.2, 0.5, 0.9] {
        for global in [5.0, 50.0, 300.0, 900.0] {
            let split = split_global(global, cosine, 1360.0);
            assert!((split.direct_w_m2 * cosine + split.diffuse_w_m2 - global).abs() < 1e-9);
        }
    }
}

/// Exact: half the view is sky with a flat horizon, none behind a horizon overhead, and it falls between.
#[test]
fn a_horizon_hides_the_sky() {
    assert!((sky_view(0.0) - 0.5).abs() < 1e-15);
    assert!(sky_view(90.0).abs() < 1e-15);
    assert!(sky_view(10.0) < sky_view(5.0));
    let behind = Outlook::new(180.0, 45.0, 0.2);
    let sun = Position { zenith_deg: 50.0, azimuth_deg: 180.0 }.direction();
    assert_eq!(hay_davies(500.0, Split { direct_w_m2: 600.0, diffuse_w_m2: 150.0 }, 1367.0, sun, &behind).beam_w_m2, 0.0);
}

/// Published form, computed: emissivity 0.6965 at a dew point of −2.681 °C (to 5e-4), and air at 10 °C, 80 % gives 0.7519.
#[test]
fn emissivity_of_a_clear_sky() {
    assert!((sky::clear_emissivity(-2.681) - 0.6965).abs() < 5e-4);
    assert!((sky::clear_emissivity(6.714) - 0.7519).abs() < 5e-4);
    assert!((sky::cloudy_emissivity(0.7, 1.0) - (0.7 * 0.16 + 0.84)).abs() < 1e-12);
}

/// Computed outside from the same published forms: an adiabatic vertical face under a clear sky, emissivity 0.9, h = 4 + 4v.
/// Air at 0 °C and 80 %: −3.78 °C in still air, −2.52 at 1 m/s, −1.51 at 3 m/s; tolerance 0.05 K.
#[test]
fn a_face_falls_below_the_air_on_a_clear_night() {
    let air_k = 273.15;
    let falling = sky::onto_vertical_w_m2(sky::downward_w_m2(air_k, -2.681, 0.0), air_k, 0.5);
    for (wind, expected_c) in [(0.0, -3.78), (1.0, -2.52), (3.0, -1.51)] {
        let (mut low, mut high) = (air_k - 30.0, air_k);
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            let gain = 0.9 * (falling - sky::black_body_w_m2(middle)) + (4.0 + 4.0 * wind) * (air_k - middle);
            if gain > 0.0 { low = middle } else { high = middle }
        }
        assert!((low - 273.15 - expected_c).abs() < 0.05, "wind {wind}: {}", low - 273.15);
    }
}
