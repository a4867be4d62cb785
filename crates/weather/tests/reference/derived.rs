//! What we derive where a file is silent, against what two real files say: the sky's long-wave, and sun on walls from global radiation alone. Provenance: real typical years
//! out of an older pvlib wheel (one built from observations, one from a reanalysis); their long-wave and diffuse radiation are themselves partly modelled.

use weather::{Face, Roughness, Weather, on_face, read_epw};

use super::files::real;

/// The file with fields of every row called missing.
fn without(text: &str, fields: &[(usize, &str)]) -> String {
    let strip = |line: &str| {
        let mut parts: Vec<&str> = line.split(',').collect();
        if parts.len() > 30 {
            for (at, missing) in fields {
                parts[*at] = missing;
            }
        }
        parts.join(",") + "\n"
    };
    text.lines().map(strip).collect()
}

fn on_wall(weather: &Weather, faces_deg: f64) -> f64 {
    let face = Face {
        faces_deg,
        height_m: 3.0,
        roughness: Roughness::Farmland,
        obstruction_m: None,
        wall_factor: 0.4,
        horizon_deg: 0.0,
        ground_reflectance: 0.2,
    };
    on_face(weather, &face).sun_w_m2.iter().sum::<f64>() * 1e-3
}

#[test]
fn what_is_derived_comes_near_what_is_given() {
    // Bias and scatter of the sky, W/m²; ratio of the year's sun on each wall. The limits are what a wall's heat balance bears: 15 W/m² of sky is 10 on the face.
    for file in ["NLD_Amsterdam062400_IWEC.epw", "tmy_45.000_8.000_2005_2016.epw"] {
        let (text, _) = real(file);
        let given = read_epw(&text, file).unwrap();
        let derived = read_epw(&without(&text, &[(12, "9999"), (14, "9999"), (15, "9999"), (22, "99"), (23, "99")]), file).unwrap();
        // The reanalysis file's light runs over half an hour before the sun of the place and zone it names, and that is found.
        let shifted = given.findings.iter().any(|finding| finding.rule == "weather-sun-shifted");
        assert_eq!(shifted, !file.starts_with("NLD"), "{file}");
        // Its sky is warmer than a black body at air temperature in many hours: the reader refuses it. Neither can judge what we derive.
        let believed = !given.findings.iter().any(|finding| finding.rule == "weather-sky-refused");
        assert_eq!(believed, file.starts_with("NLD"), "{file}");
        if shifted {
            continue;
        }
        let apart: Vec<f64> = derived.years[0].sky_w_m2.iter().zip(&given.years[0].sky_w_m2).map(|(ours, theirs)| ours - theirs).collect();
        let bias = apart.iter().sum::<f64>() / apart.len() as f64;
        let scatter = (apart.iter().map(|value| value * value).sum::<f64>() / apart.len() as f64).sqrt();
        println!("{file}: sky {bias:+.1} W/m², scatter {scatter:.1} W/m²");
        assert!(bias.abs() < 10.0 && scatter < 25.0, "{file}: {bias} {scatter}");
        for faces_deg in [0.0, 90.0, 180.0, 270.0] {
            let (ours, theirs) = (on_wall(&derived, faces_deg), on_wall(&given, faces_deg));
            println!(
                "  wall {faces_deg:3}°: {ours:.0} kWh/m² a year from global alone, {theirs:.0} from beam and diffuse, ratio {:.3}",
                ours / theirs
            );
            assert!((ours / theirs - 1.0).abs() < 0.12, "{file}, {faces_deg}: {ours} {theirs}");
        }
    }
}
