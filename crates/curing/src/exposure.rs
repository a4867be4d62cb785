//! From the hour's weather and what hangs in front to the condition of a face.

use materials::Cover;
use physics::air::saturation_pa;
use physics::lime::{OUTDOOR_CO2_FRACTION, co2_mol_m3};
use physics::surface::{co2_beside_vapour, co2_film_of_m_s, convective_w_m2k, vapour_film_s_m};
use weather::FaceClimate;

use crate::kernel::{Cloth, FaceCondition, STEFAN_BOLTZMANN};
use crate::lanes::exp;
use crate::{Inside, WallModel};

/// Long-wave emissivity of stone and mortar (handbook range 0.90 to 0.95) and of cloth.
const FACE_EMISSIVITY: f64 = 0.93;
const CLOTH_EMISSIVITY: f64 = 0.90;
/// Specific heat of jute, J/(kg K) (handbook value for cellulose fibres).
const JUTE_J_KGK: f64 = 1340.0;
/// Share of its own dry mass up to which cloth takes water from the air: 12 to 14 % at 65 % relative humidity (handbook), in proportion.
const REGAIN_SHARE: f64 = 0.20;
/// A cover whose carbon dioxide film is at least this, m/s, is none.
const NO_CO2_FILM_M_S: f64 = 1e3;
/// Room side of a heated room: total heat film (R_si = 0.13 m²K/W, EN ISO 6946) and vapour film (HAMSTAD benchmark 4).
const ROOM_HEAT_W_M2K: f64 = 7.7;
const ROOM_VAPOUR_S_M: f64 = 3e-8;
/// Time over which an unheated room follows the weather, h: common practice, no source.
pub(crate) const UNHEATED_LAG_H: f64 = 12.0;

/// What the outer face is to the weather.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Skin {
    /// Texture factor on the vapour and carbon dioxide films.
    pub(crate) texture: f64,
    /// Solar absorptance.
    pub(crate) absorptance: f64,
    /// Resistance to vapour of limewash or an old covering on it, m² s Pa/kg; zero for none.
    pub(crate) vapour_m2spa_kg: f64,
    /// Share of the rain that reaches it, 0 to 1.
    pub(crate) rain_through: f64,
}

impl Skin {
    /// A face with nothing on it.
    pub(crate) fn plain(texture: f64, absorptance: f64) -> Self {
        Self { texture, absorptance, vapour_m2spa_kg: 0.0, rain_through: 1.0 }
    }

    /// A vapour film in series with what is on the face, kg/(m² s Pa).
    fn film(&self, free_s_m: f64) -> f64 {
        if self.vapour_m2spa_kg > 0.0 && free_s_m > 0.0 { 1.0 / (1.0 / free_s_m + self.vapour_m2spa_kg) } else { free_s_m }
    }
}

/// Dry heat capacity of a cover's cloth, J/(m² K); `None` where the cover is not a node of its own.
pub(crate) fn cloth_heat_j_m2k(cover: &Cover) -> Option<f64> {
    (cover.gap_w_m2k > 0.0).then(|| JUTE_J_KGK * cover.cloth_kg_m2.max(0.02))
}

/// Water a cloth holds by sorption in saturated air, kg/m².
pub(crate) fn hygroscopic_kg_m2(cover: &Cover) -> f64 {
    REGAIN_SHARE * cover.cloth_kg_m2.max(0.02)
}

/// Condition of the outer face in an hour; `spray_kg_m2` is put on by hand during it.
pub(crate) fn outer_condition(climate: &FaceClimate, hour: usize, skin: Skin, cover: Option<&Cover>, spray_kg_m2: f64) -> FaceCondition {
    outer_condition_of(climate, hour, skin, cover, spray_kg_m2, co2_beside_vapour(climate.air_k[hour]))
}

/// The same where it is known how easily carbon dioxide passes the film of the hour beside vapour.
pub(crate) fn outer_condition_of(
    climate: &FaceClimate,
    hour: usize,
    skin: Skin,
    cover: Option<&Cover>,
    spray_kg_m2: f64,
    co2_beside_vapour: f64,
) -> FaceCondition {
    let air = climate.air_k[hour];
    let film = convective_w_m2k(climate.wind_m_s[hour]);
    let free = skin.film(vapour_film_s_m(film) * skin.texture);
    let open = FaceCondition {
        vapour_s_m: free,
        absorbed_w_m2: skin.absorptance * climate.sun_w_m2[hour],
        emissivity: FACE_EMISSIVITY,
        longwave_w_m2: climate.longwave_w_m2[hour],
        rain_kg_m2s: (climate.rain_kg_m2[hour] * skin.rain_through + spray_kg_m2) / 3600.0,
        co2_mol_m3: co2_mol_m3(OUTDOOR_CO2_FRACTION, climate.pressure_pa[hour], air),
        co2_m_s: co2_film_of_m_s(free, air, co2_beside_vapour),
        ..FaceCondition::film(air, climate.vapour_pa[hour], film, free)
    };
    match cover {
        None => open,
        Some(cover) => covered(open, climate, hour, skin, cover, spray_kg_m2),
    }
}

/// The same behind a cover.
fn covered(open: FaceCondition, climate: &FaceClimate, hour: usize, skin: Skin, cover: &Cover, spray_kg_m2: f64) -> FaceCondition {
    let film = convective_w_m2k(climate.wind_m_s[hour]);
    let (rise_k, heat_w_m2) = warmed(cover, film);
    let behind = open.air_k + rise_k;
    let sky = cover.sky_through;
    let cloth = cloth_heat_j_m2k(cover).map(|dry_heat_j_m2k| Cloth {
        gap_w_m2k: cover.gap_w_m2k,
        gap_s_m: skin.film(vapour_film_s_m(cover.gap_w_m2k)),
        gap_emissivity: FACE_EMISSIVITY * CLOTH_EMISSIVITY * (1.0 - sky),
        outer_w_m2k: film * (1.0 - cover.wind_leak),
        outer_s_m: vapour_film_s_m(film) * (1.0 - cover.wind_leak),
        outer_emissivity: CLOTH_EMISSIVITY * (1.0 - sky),
        longwave_w_m2: open.longwave_w_m2,
        absorbed_w_m2: cover.cloth_absorptance * climate.sun_w_m2[hour] * (1.0 - cover.sun_through),
        dry_heat_j_m2k,
        hygroscopic_kg_m2: hygroscopic_kg_m2(cover),
        holds_kg_m2: cover.holds_kg_m2.max(hygroscopic_kg_m2(cover)),
    });
    // Without a cloth that is a node, the cover itself is taken to be at the temperature of the air behind it.
    let back = STEFAN_BOLTZMANN * behind * behind * behind * behind;
    let (emissivity, longwave) = match cloth {
        Some(_) => (open.emissivity * sky, open.longwave_w_m2),
        None => (open.emissivity, open.longwave_w_m2 * sky + back * (1.0 - sky)),
    };
    let co2_m_s = match cover.co2_film_m_s {
        wide if wide >= NO_CO2_FILM_M_S => open.co2_m_s,
        through => 1.0 / (1.0 / open.co2_m_s + 1.0 / through.max(1e-9)),
    };
    let [burnt_mol_m3, steam_pa] = if cover.burner { burnt(cover, heat_w_m2, open.vapour_s_m) } else { [0.0; 2] };
    FaceCondition {
        air_k: behind,
        vapour_pa: open.vapour_pa + steam_pa,
        co2_mol_m3: open.co2_mol_m3 + burnt_mol_m3,
        heat_w_m2k: open.heat_w_m2k * cover.wind_leak,
        vapour_s_m: open.vapour_s_m * cover.wind_leak,
        absorbed_w_m2: skin.absorptance * climate.sun_w_m2[hour] * cover.sun_through,
        emissivity,
        longwave_w_m2: longwave,
        rain_kg_m2s: (climate.rain_kg_m2[hour] * cover.rain_through * skin.rain_through + spray_kg_m2) / 3600.0,
        co2_m_s,
        cloth,
        ..open
    }
}

/// Rise of the air behind a cover over outdoors, K, and the heat it takes, W/m² of face: the lesser of the rise asked for and what the heater can give
/// against the loss through the skin and to the wind that leaks in.
fn warmed(cover: &Cover, film_w_m2k: f64) -> (f64, f64) {
    let loss_w_m2k = cover.skin_w_m2k + cover.wind_leak * film_w_m2k;
    let limited = cover.heater_w_m2 > 0.0 && loss_w_m2k > 0.0;
    let rise_k = if limited { cover.warms_k.min(cover.heater_w_m2 / loss_w_m2k) } else { cover.warms_k };
    (rise_k, rise_k * loss_w_m2k)
}

/// What a burner adds to the air behind a cover until it leaks out: carbon dioxide, mol/m³, and vapour, Pa. Propane gives 3 mol of carbon dioxide and
/// 4 mol of water for 2043 kJ (lower heat of combustion, handbook).
fn burnt(cover: &Cover, heat_w_m2: f64, open_s_m: f64) -> [f64; 2] {
    const PROPANE_J_MOL: f64 = 2.043e6;
    const WATER_KG_MOL: f64 = 0.018_015;
    let propane_mol_m2s = heat_w_m2 / PROPANE_J_MOL;
    // The cover's own resistance is what it adds to that of the open film.
    let leak = cover.wind_leak.clamp(1e-6, 1.0);
    let vapour_m2spa_kg = (1.0 - leak) / (leak * open_s_m.max(1e-12));
    [3.0 * propane_mol_m2s / cover.co2_film_m_s.max(1e-9), 4.0 * propane_mol_m2s * WATER_KG_MOL * vapour_m2spa_kg]
}

/// Rain of the hour that falls on a cover's cloth, kg/m².
pub(crate) fn rain_on_cloth_kg_m2(climate: &FaceClimate, hour: usize, cover: &Cover) -> f64 {
    climate.rain_kg_m2[hour] * (1.0 - cover.rain_through).max(0.0)
}

/// Climate of the room by the hour where it follows outdoors: temperature, K, and vapour pressure, Pa.
#[derive(Clone, Debug, Default)]
pub(crate) struct Room {
    air_k: Vec<f64>,
    vapour_pa: Vec<f64>,
}

impl Room {
    /// The room of an unheated house: outdoors through a first-order lag of [`UNHEATED_LAG_H`], run round the joined climate until it is periodic.
    pub(crate) fn unheated(climate: &FaceClimate) -> Self {
        let share = 1.0 - exp(-1.0 / UNHEATED_LAG_H);
        let hours = climate.air_k.len();
        let lag = |series: &[f64]| {
            let mut value = series[0];
            for &outdoors in &series[hours.saturating_sub(240)..] {
                value += share * (outdoors - value);
            }
            series
                .iter()
                .map(|&outdoors| {
                    value += share * (outdoors - value);
                    value
                })
                .collect()
        };
        Self { air_k: lag(&climate.air_k), vapour_pa: lag(&climate.vapour_pa) }
    }
}

/// Condition of a wall's inner face in an hour: the room, or the weather of a far face.
pub(crate) fn inner_condition(wall: &WallModel, climate: &FaceClimate, hour: usize, room: &Room) -> FaceCondition {
    match (wall.inside, &wall.far_face) {
        (Inside::Heated { air_k, humidity }, _) => {
            FaceCondition::film(air_k, humidity * saturation_pa(air_k), ROOM_HEAT_W_M2K, ROOM_VAPOUR_S_M)
        }
        (Inside::Unheated, _) => FaceCondition::film(room.air_k[hour], room.vapour_pa[hour], ROOM_HEAT_W_M2K, ROOM_VAPOUR_S_M),
        (Inside::Open, Some(far)) => outer_condition(far, hour, Skin::plain(1.0, wall.solar_absorptance), None, 0.0),
        (Inside::Open, None) => {
            let air = climate.air_k[hour];
            let film = convective_w_m2k(climate.wind_m_s[hour]);
            FaceCondition {
                emissivity: FACE_EMISSIVITY,
                longwave_w_m2: STEFAN_BOLTZMANN * air * air * air * air,
                ..FaceCondition::film(air, climate.vapour_pa[hour], film, vapour_film_s_m(film))
            }
        }
    }
}
