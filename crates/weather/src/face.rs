//! The climate of one face: what the air, sun, sky and driven rain offer to a wall of a given bearing and exposure, hour by hour.

use physics::driven_rain::{self, Terrain};
use physics::{sky, sun};

use crate::series::{Weather, WeatherYear};
use crate::{moist, sunlit};

/// Roughness of the ground upwind, after ISO 15927-3.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs, reason = "the words say it")]
pub enum Roughness {
    Shore,
    Farmland,
    Suburb,
    Town,
}

/// A face and how it stands to the weather.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Face {
    /// Bearing the face looks towards, degrees clockwise from north.
    pub faces_deg: f64,
    /// Height of the middle of the face above ground, m.
    pub height_m: f64,
    /// Roughness upwind.
    pub roughness: Roughness,
    /// Distance to the next obstruction of equal height, m; `None` for open.
    pub obstruction_m: Option<f64>,
    /// ISO 15927-3 wall factor W, 0 to 1.
    pub wall_factor: f64,
    /// Height of the horizon in front of the face, degrees.
    pub horizon_deg: f64,
    /// Short-wave reflectance of the ground, 0 to 1.
    pub ground_reflectance: f64,
}

/// What is offered to a face, by the hour; one vector entry an hour, running on through all the years joined end to end.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct FaceClimate {
    /// Air temperature, K.
    pub air_k: Vec<f64>,
    /// Vapour pressure of the air, Pa.
    pub vapour_pa: Vec<f64>,
    /// Air pressure, Pa.
    pub pressure_pa: Vec<f64>,
    /// Wind speed near the face, m/s.
    pub wind_m_s: Vec<f64>,
    /// Sun falling on the face (beam, sky and ground), W/m².
    pub sun_w_m2: Vec<f64>,
    /// Long-wave falling on the face from sky and ground, W/m².
    pub longwave_w_m2: Vec<f64>,
    /// Wind-driven rain offered to the face in the hour, kg/m².
    pub rain_kg_m2: Vec<f64>,
}

impl Roughness {
    /// Its three numbers.
    fn terrain(self) -> Terrain {
        match self {
            Roughness::Shore => driven_rain::SHORE,
            Roughness::Farmland => driven_rain::FARMLAND,
            Roughness::Suburb => driven_rain::SUBURB,
            Roughness::Town => driven_rain::TOWN,
        }
    }
}

/// Share of the site's wind, at the face's height, that is felt close to the face when the wind strikes it. With the coefficient 4 + 4v of EN ISO 6946 it gives
/// the convection measured on low buildings (MoWiTT, M. Yazdanian & J. Klems, ASHRAE Transactions 100 (1994) 1087: 3.26 v^0.89) within 12 % from
/// 4 to 10 m/s; below that the 4 of still air governs. Other measurements lie between 0.25 and 0.7.
pub const WINDWARD_SHARE: f64 = 0.6;
/// The same when the wind comes from behind or along the face (MoWiTT, lee side: 3.55 v^0.617), within 15 % from 3 to 10 m/s.
pub const LEEWARD_SHARE: f64 = 0.33;

/// Brings weather to a face, hour by hour through all years joined end to end:
/// - sun: beam cut by the horizon, sky after Hay & Davies 1980, ground reflection (`physics::sun`); the sun stands where it does in the middle of the hour;
/// - long-wave: sky as far as the horizon lets it be seen, the rest at air temperature (`physics::sky`);
/// - rain: ISO 15927-3 hourly, times roughness, obstruction and wall factor (topography 1);
/// - wind: 10 m wind in the open × roughness coefficient at the face's height × [`WINDWARD_SHARE`] or [`LEEWARD_SHARE`].
pub fn on_face(weather: &Weather, face: &Face) -> FaceClimate {
    let hours: usize = weather.years.iter().map(WeatherYear::hours).sum();
    let vector = || Vec::with_capacity(hours);
    let mut climate = FaceClimate {
        air_k: vector(),
        vapour_pa: vector(),
        pressure_pa: vector(),
        wind_m_s: vector(),
        sun_w_m2: vector(),
        longwave_w_m2: vector(),
        rain_kg_m2: vector(),
    };
    let setting = Setting::of(face);
    for year in &weather.years {
        let leap = year.hours() / 24 == 366;
        let mut outside = 0.0;
        for (hour, sun) in sunlit::hourly(&weather.site, year.year, leap).enumerate().take(year.hours()) {
            if hour % 24 == 0 {
                outside = sun::extraterrestrial_w_m2(hour as u32 / 24 + 1);
            }
            setting.push_hour(year, hour, sun, outside, &mut climate);
        }
    }
    climate
}

/// What of a face does not change with the hour.
struct Setting {
    faces_deg: f64,
    outlook: sun::Outlook,
    roughness: f64,
    rain_share: f64,
}

impl Setting {
    fn of(face: &Face) -> Self {
        let roughness = driven_rain::roughness_coefficient(face.roughness.terrain(), face.height_m);
        Self {
            faces_deg: face.faces_deg,
            outlook: sun::Outlook::new(face.faces_deg, face.horizon_deg, face.ground_reflectance),
            roughness,
            rain_share: roughness * driven_rain::obstruction_factor(face.obstruction_m) * face.wall_factor,
        }
    }

    fn push_hour(&self, year: &WeatherYear, hour: usize, sun: sun::Direction, outside_w_m2: f64, climate: &mut FaceClimate) {
        let air_k = year.air_c[hour] + 273.15;
        let wind = year.wind_m_s[hour];
        let from = year.wind_from_deg[hour];
        climate.air_k.push(air_k);
        climate.vapour_pa.push(year.humidity[hour] * moist::saturation_pa(year.air_c[hour]));
        climate.pressure_pa.push(year.pressure_pa[hour]);
        climate.wind_m_s.push(wind * self.roughness * if strikes(from, self.faces_deg) { WINDWARD_SHARE } else { LEEWARD_SHARE });
        climate.sun_w_m2.push(self.sunlight(year, hour, sun, outside_w_m2));
        climate.longwave_w_m2.push(sky::onto_vertical_w_m2(year.sky_w_m2[hour], air_k, self.outlook.sky_view));
        climate.rain_kg_m2.push(driven_rain::airfield_kg_m2(wind, year.rain_mm[hour], from, self.faces_deg) * self.rain_share);
    }

    fn sunlight(&self, year: &WeatherYear, hour: usize, sun: sun::Direction, outside_w_m2: f64) -> f64 {
        let (global, split) =
            (year.global_w_m2[hour], sun::Split { direct_w_m2: year.direct_w_m2[hour], diffuse_w_m2: year.diffuse_w_m2[hour] });
        if global <= 0.0 && split.diffuse_w_m2 <= 0.0 {
            return 0.0;
        }
        // Near the horizon the ratio that carries the light round the sun to the face runs away, so there the sky is taken as even.
        if sun.up < LEAST_SUN_HEIGHT {
            return sun::isotropic(global, split, sun, &self.outlook).total_w_m2();
        }
        sun::hay_davies(global, split, outside_w_m2, sun, &self.outlook).total_w_m2()
    }
}

/// Sine of 3°.
const LEAST_SUN_HEIGHT: f64 = 0.052_335_956_242_943_83;

/// True if wind from `from_deg` strikes a face that looks towards `faces_deg`.
fn strikes(from_deg: f64, faces_deg: f64) -> bool {
    let apart = (from_deg - faces_deg).rem_euclid(360.0);
    !(90.0..=270.0).contains(&apart)
}
