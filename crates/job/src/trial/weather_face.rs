//! A face before a weather file: the file is read as for a job, and its hours become the rows of air, sun, sky and rain before the face.

use curing::trial::{AirRow, Longwave, TrialFace};
use physics::surface::{convective_w_m2k, vapour_film_s_m};
use weather::{Face, FaceClimate, Roughness, Weather};

use super::Files;
use super::reader::{Section, Wrong, from_to};
use crate::problem::Fault;

/// Reads the keys of a face before a weather file.
pub(super) fn read(section: &Section<'_, '_>, files: Files<'_>) -> Option<TrialFace> {
    let file = section.needs_text("file", "Name an EPW or hourly CSV file, relative to the trial file.");
    let faces_deg = section.needs_number("faces_deg", from_to(0.0, 360.0));
    let words = [("shore", Roughness::Shore), ("farmland", Roughness::Farmland), ("suburb", Roughness::Suburb), ("town", Roughness::Town)];
    let optional =
        |key: &'static str, least: f64, greatest: f64, otherwise: f64| section.number(key, from_to(least, greatest)).unwrap_or(otherwise);
    let face = Face {
        faces_deg: faces_deg.unwrap_or(0.0),
        height_m: optional("height_m", 0.1, 200.0, 3.0),
        roughness: section.choice("roughness", &words).unwrap_or(Roughness::Farmland),
        obstruction_m: section.number("obstruction_m", from_to(1.0, 1e5)),
        wall_factor: optional("wall_factor", 0.0, 1.0, 0.4),
        horizon_deg: optional("horizon_deg", 0.0, 89.0, 0.0),
        ground_reflectance: optional("ground_reflectance", 0.0, 1.0, 0.2),
    };
    let surface = Surface {
        absorptance: optional("solar_absorptance", 0.0, 1.0, 0.5),
        emissivity: optional("emissivity", 0.0, 1.0, 0.9),
        texture: optional("texture", 1.0, 3.0, 1.0),
    };
    let from_hour = section.whole("from_hour", 0, 10_000_000).unwrap_or(0) as usize;
    let weather = weather_of(section, file?, files)?;
    faces_deg?;
    Some(TrialFace::Air(rows(&weather::on_face(&weather, &face), surface, from_hour)))
}

/// What the weather's face is made of.
#[derive(Clone, Copy)]
struct Surface {
    absorptance: f64,
    emissivity: f64,
    texture: f64,
}

fn weather_of(section: &Section<'_, '_>, file: &str, files: Files<'_>) -> Option<Weather> {
    let refuse = |found: String| {
        let allowed = "It must name an EPW or hourly CSV file, relative to the trial file.";
        section.refuse("file", Wrong::new(Fault::NotFound, found, allowed, "Correct the name or the file."));
    };
    let text = match files(file) {
        Ok(text) => text,
        Err(why) => {
            refuse(format!("The weather file “{file}” cannot be read: {why}."));
            return None;
        }
    };
    let is_epw = file.to_ascii_lowercase().ends_with(".epw");
    let read = if is_epw { weather::read_epw(&text, file) } else { weather::read_csv(&text, file) };
    read.map_err(|error| refuse(error.to_string())).ok()
}

/// Hours from `from_hour` on, once round all years.
fn rows(climate: &FaceClimate, surface: Surface, from_hour: usize) -> Vec<AirRow> {
    let hours = climate.air_k.len();
    (0..hours)
        .map(|step| {
            let hour = (from_hour + step) % hours;
            let heat_w_m2k = convective_w_m2k(climate.wind_m_s[hour]);
            AirRow {
                from_s: step as f64 * 3600.0,
                air_k: climate.air_k[hour],
                vapour_pa: climate.vapour_pa[hour],
                heat_w_m2k,
                vapour_s_m: vapour_film_s_m(heat_w_m2k) * surface.texture,
                absorbed_w_m2: surface.absorptance * climate.sun_w_m2[hour],
                rain_kg_m2s: climate.rain_kg_m2[hour] / 3600.0,
                rain_k: climate.air_k[hour],
                longwave: Some(Longwave { falling_w_m2: climate.longwave_w_m2[hour], emissivity: surface.emissivity }),
            }
        })
        .collect()
}
