//! HAMSTAD benchmarks 2 and 5. Source of the inputs: Hagentoft et al., J. Thermal Envelope and Building Science 27 (2004) 327, from memory; the report's own
//! results were not at hand. Numbers: *exact solution* (series) and *computed apart* with NumPy.

use physics::constants::kelvin;
use physics::exact::{slab_mean, slab_profile};
use physics::hamstad::{BM2_DIFFUSIVITY_M2_S, BM2_THICKNESS_M, BM5_BRICK, BM5_INSULATION, BM5_MORTAR, bm2_humidity, bm2_water_kg_m3};

use super::near;

/// *Computed apart*. Limit: the decimals given.
#[test]
fn benchmark_2_sorption() {
    for (humidity, water) in [(0.95, 84.769), (0.45, 19.536), (0.65, 30.506)] {
        near("water (kg/m³)", bm2_water_kg_m3(humidity).unwrap(), water, 6e-4);
        near("humidity", bm2_humidity(bm2_water_kg_m3(humidity).unwrap()).unwrap(), humidity, 1e-13);
    }
}

/// *Exact solution*, faces held: the series summed apart. Limit: the decimals given.
#[test]
fn benchmark_2_with_faces_held() {
    let depths_mm = [5.0, 10.0, 20.0, 30.0, 50.0, 75.0, 100.0, 125.0, 150.0, 170.0, 180.0, 190.0, 195.0];
    let table = [
        (100.0, [31.94, 43.64, 62.86, 75.06, 83.72, 84.75, 84.77, 84.75, 83.89, 76.69, 66.54, 50.56, 40.82], 74.860),
        (300.0, [26.74, 33.81, 47.03, 58.37, 74.01, 82.31, 84.12, 82.72, 75.82, 62.81, 53.38, 42.38, 36.50], 67.607),
        (1000.0, [23.43, 27.29, 34.84, 41.99, 54.41, 65.11, 69.46, 67.27, 59.07, 49.00, 43.13, 36.91, 33.72], 53.487),
    ];
    let start = bm2_water_kg_m3(0.95).unwrap();
    let faces = (bm2_water_kg_m3(0.45).unwrap(), bm2_water_kg_m3(0.65).unwrap());
    for (hours, profile, mean) in table {
        let time = 3600.0 * hours;
        for (mm, water) in depths_mm.iter().zip(profile) {
            let ours = slab_profile(mm / 1000.0, BM2_THICKNESS_M, BM2_DIFFUSIVITY_M2_S, time, start, faces).unwrap();
            near("water (kg/m³)", ours, water, 6e-3);
        }
        near("mean water (kg/m³)", slab_mean(BM2_THICKNESS_M, BM2_DIFFUSIVITY_M2_S, time, start, faces).unwrap(), mean, 6e-4);
    }
}

/// *Computed apart*. Limit: the decimals given, and 1e-3: gravity was rounded to 9.81 there, 3.4e-4 more, which the steepest term (n = 3.8) multiplies by 2.8.
#[test]
fn benchmark_5_sorption() {
    let table = [
        (BM5_BRICK, [2.229, 2.986, 4.518, 9.422, 21.292]),
        (BM5_MORTAR, [1.771, 2.408, 4.065, 37.456, 536.63]),
        (BM5_INSULATION, [0.996, 2.330, 7.784, 65.84, 483.1]),
    ];
    for (material, row) in table {
        for (humidity, water) in [0.4, 0.6, 0.8, 0.95, 0.99].iter().zip(row) {
            near("water (kg/m³)", material.water_of_humidity_kg_m3(*humidity, kelvin(20.0)).unwrap(), water, 6e-4 + 1e-3 * water);
        }
    }
}
