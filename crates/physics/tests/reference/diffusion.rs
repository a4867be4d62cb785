//! Diffusion, absorption and carbonation against numerical solutions by SciPy, which share no analytic step with the closed forms checked.

use physics::PhysicsError;
use physics::exact::{Freezing, freezing_front, slab_mean, slab_profile};
use physics::hamstad::{BM2_DIFFUSIVITY_M2_S, BM2_THICKNESS_M, bm2_water_kg_m3};
use physics::lime::FiniteRate;
use physics::moisture::{KUENZEL_ABSORPTION_RATIO, VanGenuchten, ponding_bounds_s};
use serde_json::json;

use super::harness::{assert_close, numbers, run};

/// Two sums of the same series.
const SERIES: f64 = 1e-10;
/// Root finders asked for 1e-14.
const ROOT: f64 = 1e-12;
/// The constant is given to four figures.
const ABSORPTION_RATIO: f64 = 5e-4;
/// The method of lines on 601 nodes is within 3e-5 of its limit (halving the spacing moves it by a quarter of that).
const UPTAKE: f64 = 1e-4;
/// Depths are read off nodes 10 µm apart by straight lines.
const DEPTH_M: f64 = 2e-6;

#[test]
fn slab_series_agrees_with_numpy() {
    let (hours, depths) = ([1.0, 100.0, 300.0, 1000.0], [0.0, 0.005, 0.03, 0.1, 0.17, 0.195, 0.2]);
    let theirs = run("bm2_series.py", &json!({ "hours": hours, "depths_m": depths, "nodes": 101 }));
    let start = bm2_water_kg_m3(0.95).unwrap();
    let faces = (bm2_water_kg_m3(0.45).unwrap(), bm2_water_kg_m3(0.65).unwrap());
    for (i, hour) in hours.iter().enumerate() {
        let time = 3600.0 * hour;
        let ours: Vec<f64> =
            depths.iter().map(|&x| slab_profile(x, BM2_THICKNESS_M, BM2_DIFFUSIVITY_M2_S, time, start, faces).unwrap()).collect();
        assert_close("water in the slab", &ours, &numbers(&theirs["fixed"][i]), 0.0, SERIES);
        let mean = slab_mean(BM2_THICKNESS_M, BM2_DIFFUSIVITY_M2_S, time, start, faces).unwrap();
        assert_close("mean water", &[mean], &[theirs["fixed_mean"][i].as_f64().unwrap()], 0.0, 1e-7);
    }
}

#[test]
fn neumann_front_agrees_with_scipy() {
    let mut cases = Vec::new();
    for face in [233.15, 263.15, 272.15] {
        for start in [273.15, 274.15, 293.15] {
            for latent in [1e6, 80e6, 334e6] {
                cases.push([face, 273.15, start, 2.2, 0.6, 1.9e6, 4.2e6, latent]);
            }
        }
    }
    let theirs = numbers(&run("special.py", &json!({ "x": [], "ratio": [], "freezing": cases }))["neumann"]);
    let ours: Result<Vec<f64>, PhysicsError> = cases
        .iter()
        .map(|&[face_k, freezing_k, start_k, frozen, unfrozen, heat_frozen, heat_unfrozen, latent_j_m3]| {
            let conductivity_w_mk = (frozen, unfrozen);
            let heat_j_m3k = (heat_frozen, heat_unfrozen);
            freezing_front(&Freezing { face_k, freezing_k, start_k, conductivity_w_mk, heat_j_m3k, latent_j_m3 })
        })
        .collect();
    assert_close("Neumann's front", &ours.unwrap(), &theirs, 0.0, ROOT);
}

#[test]
fn finite_rate_agrees_with_the_method_of_lines() {
    let times: Vec<f64> = [1.0, 7.0, 14.0, 28.0].iter().map(|days| days * 86_400.0).collect();
    for film in [None, Some(0.002)] {
        let law = FiniteRate {
            diffusivity_m2_s: 1e-7,
            rate_per_s: 3.0,
            capacity_mol_m3: 2500.0,
            air_mol_m3: 0.0175,
            film_m_s: film.unwrap_or(f64::INFINITY),
        };
        let asked = json!({
            "diffusivity_m2_s": law.diffusivity_m2_s, "rate_per_s": law.rate_per_s, "capacity_mol_m3": law.capacity_mol_m3,
            "air_mol_m3": law.air_mol_m3, "film_m_s": film, "length_m": 0.006, "nodes": 601, "times_s": times, "shares": [0.5, 0.1],
        });
        let theirs = run("moving_front.py", &asked);
        let ours: Vec<f64> = times.iter().map(|&t| law.uptake_mol_m2(t).unwrap()).collect();
        assert_close("uptake", &ours, &numbers(&theirs["uptake_mol_m2"]), 0.0, UPTAKE);
        for (time, depths) in times.iter().zip(theirs["depths_m"].as_array().unwrap()) {
            for (share, depth) in [0.5, 0.1].iter().zip(depths.as_array().unwrap()) {
                let ours = law.depth_of_share_m(*share, *time).unwrap();
                assert_close("depth of a share", &[ours], &[depth.as_f64().unwrap_or(0.0)], DEPTH_M, 0.0);
            }
        }
    }
}

#[test]
fn absorption_and_ponding_agree_with_scipy() {
    let theirs = run("absorption.py", &json!({ "nodes": 400 }));
    assert_close("absorption", &[KUENZEL_ABSORPTION_RATIO], &[theirs["absorption_ratio"].as_f64().unwrap()], ABSORPTION_RATIO, 0.0);
    let ponding = theirs["ponding"].as_f64().unwrap();
    let (first, last) = ponding_bounds_s(1.0, 1.0).unwrap();
    assert!(first < ponding && ponding < last, "a diffusivity that grows a thousandfold ponds at {ponding}, outside {first} to {last}");
}

/// The closed form against Mualem's integral itself. Limit: quadrature asked for 1e-12.
#[test]
fn mualem_agrees_with_scipy() {
    let mut cases = Vec::new();
    for n in [1.3, 1.6, 2.0, 4.0] {
        for saturation in [0.2, 0.5, 0.9, 0.99] {
            cases.push((n, saturation));
        }
    }
    let theirs = numbers(&run("mualem.py", &json!(cases)));
    let ours: Vec<f64> = cases.iter().map(|&(n, s)| VanGenuchten::new(200.0, 1e-6, n).unwrap().mualem_relative(s)).collect();
    assert_close("Mualem", &ours, &theirs, 0.0, 1e-8);
}
