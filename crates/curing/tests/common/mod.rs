//! Walls, coats, covers and weather shared by the tests: the materials of the model's trial, and weather that stands still.
#![allow(dead_code, reason = "each test file uses its own part")]
#![allow(clippy::unwrap_used, clippy::expect_used)]

pub mod wall_year;

use std::sync::Arc;

use curing::{Action, Bench, CoatModel, Criterion, Inside, Look, Thresholds, WallModel};
use materials::{Catalogue, Cover, HydraulicSet, Mix, Moisture, Mortar};
use weather::FaceClimate;

/// A porous material of the trial.
pub fn moisture(saturation: f64, a: f64, n: f64, absorption: f64, mu: f64, density: f64, conductivity: (f64, f64)) -> Moisture {
    Moisture {
        density_kg_m3: density,
        porosity: saturation / 1000.0,
        saturation_kg_m3: saturation,
        retention_a_per_pa: a,
        retention_n: n,
        absorption_kg_m2_s05: absorption,
        vapour_resistance: mu,
        conductivity_w_mk: conductivity.0,
        conductivity_per_water: conductivity.1,
        heat_j_kgk: 850.0,
    }
}

pub fn wall(masonry: Moisture, saturation: f64) -> WallModel {
    WallModel {
        masonry,
        thickness_m: 0.5,
        saturation,
        towards_face: None,
        covering: None,
        far_face: None,
        inside: Inside::Unheated,
        solar_absorptance: 0.6,
    }
}

pub fn sandstone(saturation: f64) -> WallModel {
    wall(moisture(150.0, 2e-5, 1.6, 0.08, 22.0, 2050.0, (2.0, 0.004)), saturation)
}

pub fn granite(saturation: f64) -> WallModel {
    wall(moisture(8.0, 2e-6, 1.6, 0.0015, 300.0, 2650.0, (2.8, 0.0)), saturation)
}

/// A coat of the trial.
pub fn coat(parts: f64, thickness_m: f64, saturation: f64, mu: f64, portlandite: f64, water: f64) -> CoatModel {
    let pores = moisture(saturation, 3.3e-6, 1.8, 0.12, mu, 1650.0, (0.7, 0.003));
    CoatModel {
        mortar: Mortar {
            mix: Mix { lime: "putty".to_owned(), sand: "sharp".to_owned(), sand_parts: parts },
            yield_per_sand: 1.2,
            lime_kg_m3: 600.0,
            lime_l_m3: 450.0,
            sand_kg_m3: 1200.0,
            sand_l_m3: 800.0,
            water_added_kg_m3: 50.0,
            water_fresh_kg_m3: water,
            portlandite_mol_m3: portlandite,
            set: None,
            hardened: pores.clone(),
            fresh: pores,
            strength_rank: 1.0,
        },
        thickness_m,
        texture: 1.0,
        solar_absorptance: 0.4,
        thresholds: Thresholds { fit_c: (-20.0, 45.0), ..curing::calibration::thresholds(0.0) },
    }
}

/// A coat whose pore net hardens: five sixths of its pores fill by suction then, and the middles of measured ranges for carbonated lime (as in `materials`).
pub fn hardening(mut coat: CoatModel) -> CoatModel {
    let pores = coat.mortar.fresh.saturation_kg_m3;
    coat.mortar.hardened = moisture(0.833 * pores, 4.4e-6, 1.8, 0.15, 9.0, 1700.0, (0.75, 0.003));
    coat
}

/// A coat of a mix of the catalogue.
pub fn of_catalogue(lime: &str, sand_parts: f64, thickness_m: f64) -> CoatModel {
    let mix = Mix { lime: lime.to_owned(), sand: "sharp-0-4".to_owned(), sand_parts };
    CoatModel { mortar: Catalogue::shipped().mortar(&mix).unwrap(), thickness_m, ..scud() }
}

/// A coat that sets under water like a usual NHL 3.5 mortar.
pub fn setting(mut coat: CoatModel) -> CoatModel {
    coat.mortar.set = Some(HydraulicSet { belite_kg_m3: 100.0, final_set_h: 30.0 });
    coat
}

pub fn scud() -> CoatModel {
    coat(1.0, 3.5e-3, 480.0, 9.0, 4900.0, 465.0)
}

pub fn straightening(thickness_m: f64) -> CoatModel {
    coat(2.0, thickness_m, 370.0, 10.0, 3660.0, 355.0)
}

pub fn finish() -> CoatModel {
    coat(2.5, 4e-3, 330.0, 10.0, 3270.0, 318.0)
}

/// Hessian as in the trial, with a wind leak.
pub fn hessian(leak: f64) -> Cover {
    Cover {
        name: "hessian".to_owned(),
        wind_leak: leak,
        sun_through: 0.15,
        rain_through: 0.4,
        sky_through: 0.1,
        gap_w_m2k: 1.5,
        cloth_kg_m2: 0.3,
        holds_kg_m2: 0.9,
        cloth_absorptance: 0.6,
        wetted: true,
        warms_k: 0.0,
        heater_w_m2: 0.0,
        skin_w_m2k: 0.0,
        burner: false,
        co2_film_m_s: 0.002,
        hang_h_per_100_m2: 4.0,
        load_kg_m2: 1.2,
        wind_limit_m_s: 12.0,
    }
}

/// Weather that stands still, shaded, under a sky as warm as the air.
pub fn steady(air_c: f64, humidity: f64, wind_m_s: f64) -> Arc<FaceClimate> {
    let hours = 240;
    let air_k = air_c + 273.15;
    let saturation = 610.5 * libm::exp(17.269 * air_c / (237.3 + air_c));
    Arc::new(FaceClimate {
        air_k: vec![air_k; hours],
        vapour_pa: vec![humidity * saturation; hours],
        pressure_pa: vec![101_325.0; hours],
        wind_m_s: vec![wind_m_s; hours],
        sun_w_m2: vec![0.0; hours],
        longwave_w_m2: vec![5.670_374_419e-8 * air_k * air_k * air_k * air_k; hours],
        rain_kg_m2: vec![0.0; hours],
    })
}

/// Throws the next coat, hangs a cover if there is one and damps it three times a day for so many days, and steps until the coat is ready; gives the
/// days it took and the rule that decided.
pub fn until_ready(
    bench: &mut Bench,
    cover: Option<Cover>,
    damp_days: usize,
    most_days: usize,
    mut each_day: impl FnMut(usize, &Look),
) -> (Option<f64>, Option<Criterion>) {
    bench.act(0, Action::Throw).unwrap();
    let hung = cover.is_some();
    if let Some(cover) = cover {
        bench.act(0, Action::Hang(cover)).unwrap();
    }
    let mut found = (None, None);
    for hour in 0..most_days * 24 {
        if hung && hour < damp_days * 24 && hour % 8 == 0 {
            bench.act(0, Action::Wet(0.9)).unwrap();
        }
        bench.advance(1);
        assert!(bench.failed(0).is_none(), "{}", bench.failed(0).unwrap());
        let look = bench.look(0);
        if (hour + 1) % 24 == 0 {
            each_day((hour + 1) / 24, &look);
        }
        if look.ready && found.0.is_none() {
            found = (Some((hour + 1) as f64 / 24.0), look.decides);
            if hour > 15 * 24 {
                break;
            }
        }
        if found.0.is_none() {
            found.1 = look.decides;
        }
    }
    found
}

/// A small keyed generator (xorshift), so that the invented weather is the same everywhere.
pub struct Keyed(pub u64);

impl Keyed {
    pub fn share(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }
}

/// Invented weather that changes by the hour: a mean with a daily wave and slow wandering, sun by day, wind, bursts of driven rain.
pub fn changing(seed: u64, hours: usize, mean_c: f64, rainy: f64) -> Arc<FaceClimate> {
    let mut keyed = Keyed(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1);
    let mut climate = FaceClimate::default();
    let (mut drift, mut wind, mut wet, mut burst) = (0.0, 2.0, 0.0_f64, 0_usize);
    for hour in 0..hours {
        let angle = std::f64::consts::TAU * (hour % 24) as f64 / 24.0;
        let day = (-libm::cos(angle)).max(0.0);
        drift += 0.25 * (keyed.share() - 0.5) - 0.01 * drift;
        wind = (wind + 0.8 * (keyed.share() - 0.5)).clamp(0.2, 9.0);
        if burst == 0 && keyed.share() < 0.02 * rainy {
            burst = 1 + (keyed.share() * 8.0) as usize;
        }
        let rain = if burst > 0 { keyed.share() * keyed.share() * 3.0 } else { 0.0 };
        burst = burst.saturating_sub(1);
        wet = 0.9 * wet + 0.1 * f64::from(u8::from(rain > 0.0));
        let air_c = mean_c + drift - 4.0 * libm::cos(angle - 0.6);
        let humidity = (0.78 + 0.2 * wet + 0.08 * libm::cos(angle - 0.6) + 0.1 * (keyed.share() - 0.5)).clamp(0.25, 0.995);
        let air_k = air_c + 273.15;
        let clear = keyed.share();
        climate.air_k.push(air_k);
        climate.vapour_pa.push(humidity * 610.5 * libm::exp(17.269 * air_c / (237.3 + air_c)));
        climate.pressure_pa.push(101_325.0);
        climate.wind_m_s.push(wind);
        climate.sun_w_m2.push(500.0 * day * clear * (1.0 - 0.8 * wet));
        climate.longwave_w_m2.push(5.67e-8 * air_k * air_k * air_k * air_k * (0.86 + 0.13 * wet));
        climate.rain_kg_m2.push(rain);
    }
    Arc::new(climate)
}
