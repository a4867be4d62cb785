//! A wall and its coats as the curing engine is told of them: what of the survey and the specification becomes which number. One column stands for the
//! whole face: masonry at its middle height, each coat at its middle thickness.

use curing::{CoatModel, Inside as EngineInside, OldCovering, TowardsFace, WallModel, Wash, calibration};
use materials::{Catalogue, Mix};
use survey::{Inside, Terrain, WallFound};
use weather::{Face, Roughness};

use crate::climates::WallClimate;
use crate::protect::ColumnModel;
use crate::stripping;
use crate::{CoatSpecification, Placing, WallSpecification, WorksError};

/// Air of a heated room, °C and relative humidity (common practice, no source).
const ROOM_K: f64 = 273.15 + 18.0;
const ROOM_HUMIDITY: f64 = 0.55;
/// Wall factor of ISO 15927-3 as remembered for a two-storey wall: under eaves or a skew that throw water clear, and without.
const WALL_FACTOR_SHELTERED: f64 = 0.3;
const WALL_FACTOR_OPEN: f64 = 0.5;
/// Short-wave reflectance of grass and bare ground (handbook value, from memory).
const GROUND_REFLECTANCE: f64 = 0.2;
/// Solar absorptance of fresh and weathered lime harl, 0.4 to 0.5 (handbook range, from memory).
const HARL_ABSORPTANCE: f64 = 0.45;
/// How much more face a thrown coat exposes than its plan area as far as the boundary layer lets it count (assumed, 1 to 1.5), and a laid one.
const TEXTURE_THROWN: f64 = 1.2;
const TEXTURE_LAID: f64 = 1.0;

/// The masonry of a wall.
pub(crate) fn wall_model(found: &WallFound, catalogue: &Catalogue, climate: &WallClimate) -> Result<WallModel, WorksError> {
    let masonry = catalogue.masonries.get(&found.masonry.value).ok_or_else(|| WorksError::NotInCatalogue {
        place: format!("The wall “{}”", found.slug),
        kind: "masonry",
        name: found.masonry.value.clone(),
    })?;
    Ok(WallModel {
        masonry: masonry.stone.clone(),
        thickness_m: found.thickness_m.value,
        saturation: found.dampness.middle.value,
        towards_face: towards_face(found),
        covering: old_covering(found.old_covering.value),
        far_face: climate.far.clone(),
        inside: match found.inside.value {
            Inside::Heated => EngineInside::Heated { air_k: ROOM_K, humidity: ROOM_HUMIDITY },
            Inside::Unheated => EngineInside::Unheated,
            Inside::Roofless | Inside::FreeStanding => EngineInside::Open,
        },
        solar_absorptance: masonry.solar_absorptance,
    })
}

/// Degree of saturation just behind an impermeable covering nobody drilled through, and the depth over which it falls to that within (guesses: what a hand
/// calls wet, and the reach of rain through cracks).
const BEHIND_COVERING: f64 = 0.65;
const BEHIND_COVERING_M: f64 = 0.10;
/// Depth to which a sample of the outer 50 mm speaks: its middle.
const SAMPLE_M: f64 = 0.025;
/// Degree of saturation of a face that has dried for months, and the depth it dries by in a month (the trade's rule for a stone wall; common practice).
const DRIED_FACE: f64 = 0.08;
const DRIES_M_A_MONTH: f64 = 0.025;

/// How much wetter or drier the wall is towards its face, as far as the survey tells: a sample drilled there; an impermeable covering; months since one
/// came off, where nobody has laid a hand on the wall.
fn towards_face(found: &WallFound) -> Option<TowardsFace> {
    let within = found.dampness.middle.value;
    if let Some(sample) = &found.dampness.face {
        let at_face = within + (sample.value - within) * physics::numbers::exp(SAMPLE_M / BEHIND_COVERING_M);
        return Some(TowardsFace { saturation: at_face.clamp(0.0, 1.0), depth_m: BEHIND_COVERING_M });
    }
    if stripping::is_impermeable(found.old_covering.value) {
        return Some(TowardsFace { saturation: BEHIND_COVERING.max(within), depth_m: BEHIND_COVERING_M });
    }
    let months = found.bared_months.as_ref().filter(|_| found.dampness.middle.assumed)?;
    let depth_m = (0.5 * DRIES_M_A_MONTH * months.value).max(0.01);
    Some(TowardsFace { saturation: DRIED_FACE.min(within), depth_m })
}

/// What an old covering is to the wall until it comes off: 20 mm of cement of μ 50, or paint of 0.5 m of air (handbook ranges, from memory), sound.
fn old_covering(covering: survey::OldCovering) -> Option<OldCovering> {
    const AIR_KG_MSPA: f64 = 1.95e-10;
    let air_m = match covering {
        survey::OldCovering::Bare | survey::OldCovering::LimeHarl => return None,
        survey::OldCovering::Cement => 0.02 * 50.0,
        survey::OldCovering::Paint => 0.5,
    };
    Some(OldCovering { vapour_m2spa_kg: air_m / AIR_KG_MSPA, rain_through: 0.0, solar_absorptance: CEMENT_ABSORPTANCE })
}

/// Solar absorptance of grey cement and old paint (handbook range 0.5 to 0.7, from memory).
const CEMENT_ABSORPTANCE: f64 = 0.6;

/// One coat of limewash: 0.003 m of air to vapour (0.002 to 0.005 a coat), white (new limewash absorbs 0.15 to 0.30 of the sun; both from memory).
pub(crate) const WASH: Wash = Wash { vapour_m2spa_kg: 0.003 / 1.95e-10, solar_absorptance: 0.25 };

/// The bedding mortar of an old wall: putty and sharp sand, one to three, hardened (common practice, no source: nobody knows it without an analysis).
const JOINT_SAND_PARTS: f64 = 3.0;
const JOINT_LIME: &str = "putty-cl90";
const JOINT_SAND: &str = "sharp-0-4";
/// Share of the face that must be joint for a column to be run over it.
const LEAST_JOINT_SHARE: f64 = 0.02;

/// The wall where it is joint; `None` where the catalogue has no lime or sand for it, or next to nothing of the face is joint.
fn joint_model(found: &WallFound, catalogue: &Catalogue, stone: &WallModel) -> Option<WallModel> {
    let mix = Mix { lime: JOINT_LIME.to_owned(), sand: JOINT_SAND.to_owned(), sand_parts: JOINT_SAND_PARTS };
    let mortar = catalogue.mortar(&mix).ok()?;
    (found.joint_share.value >= LEAST_JOINT_SHARE).then(|| WallModel { masonry: mortar.hardened, ..stone.clone() })
}

/// The ends of a wall: every coat at its thickest (the 90th percentile) over the stone and over the joint, on which readiness is judged, and at its
/// thinnest (the 10th) over the thirstier of the two, on which drying out is.
pub(crate) fn ends(
    found: &WallFound,
    wall: &WallSpecification,
    catalogue: &Catalogue,
    climate: &WallClimate,
) -> Result<Vec<ColumnModel>, WorksError> {
    let stone = wall_model(found, catalogue, climate)?;
    let joint = joint_model(found, catalogue, &stone);
    let coats = |percentile: usize| wall.coats.iter().map(|coat| coat_at(coat, percentile)).collect::<Vec<_>>();
    let thirst = |wall: &WallModel| wall.masonry.absorption_kg_m2_s05;
    let thirstier = joint.iter().fold(&stone, |most, wall| if thirst(wall) > thirst(most) { wall } else { most }).clone();
    let mut columns = vec![ColumnModel { wall: stone, coats: coats(2), readies: true }];
    columns.extend(joint.map(|wall| ColumnModel { wall, coats: coats(2), readies: true }));
    columns.push(ColumnModel { wall: thirstier, coats: coats(0), readies: false });
    Ok(columns)
}

/// A coat at its middle thickness.
pub(crate) fn coat_model(coat: &CoatSpecification) -> CoatModel {
    coat_at(coat, 1)
}

/// A coat at its 10th, 50th or 90th percentile of thickness, by number.
fn coat_at(coat: &CoatSpecification, percentile: usize) -> CoatModel {
    CoatModel {
        mortar: coat.mortar.clone(),
        thickness_m: coat.thickness_m[percentile],
        texture: match coat.placing {
            Placing::Thrown => TEXTURE_THROWN,
            Placing::Laid => TEXTURE_LAID,
        },
        solar_absorptance: HARL_ABSORPTANCE,
        thresholds: calibration::thresholds(coat.least_wait_days),
    }
}

/// Distance from the inner face of a roofless wall to the wall opposite, which is taken to be as high (a guess: the breadth of an old house).
const ROOFLESS_BREADTH_M: f64 = 6.0;

/// How the far face of a wall without a room behind it stands to the weather: it looks the other way over the same ground and has no eaves. A roofless
/// building's opposite wall shelters and shades it; what stands behind a free-standing wall nobody was asked, so it is taken to stand open.
pub(crate) fn far_face(found: &WallFound, top_m: f64) -> Option<Face> {
    let obstruction_m = match found.inside.value {
        Inside::Heated | Inside::Unheated => return None,
        Inside::Roofless => Some(ROOFLESS_BREADTH_M),
        Inside::FreeStanding => None,
    };
    let turned_deg = (found.faces_deg + 180.0).rem_euclid(360.0);
    Some(Face { wall_factor: WALL_FACTOR_OPEN, ..towards(found, turned_deg, obstruction_m, top_m) })
}

/// How a face stands to the weather, its middle at half the height of its highest point.
pub(crate) fn face(found: &WallFound, top_m: f64) -> Face {
    towards(found, found.faces_deg, found.exposure.obstruction_m.value, top_m)
}

/// A face of a wall that looks some way, with something as high as it at a distance.
fn towards(found: &WallFound, faces_deg: f64, obstruction_m: Option<f64>, top_m: f64) -> Face {
    let horizon_deg = obstruction_m.map_or(0.0, |distance| physics::numbers::atan2(top_m / 2.0, distance.max(1.0)).to_degrees());
    Face {
        faces_deg,
        height_m: (top_m / 2.0).max(0.5),
        roughness: match found.exposure.terrain.value {
            Terrain::Shore => Roughness::Shore,
            Terrain::Farmland => Roughness::Farmland,
            Terrain::Suburb => Roughness::Suburb,
            Terrain::Town => Roughness::Town,
        },
        obstruction_m,
        wall_factor: if found.exposure.overhang.value { WALL_FACTOR_SHELTERED } else { WALL_FACTOR_OPEN },
        horizon_deg,
        ground_reflectance: GROUND_REFLECTANCE,
    }
}
