//! Wind-driven rain after ISO 15927-3:2009, hourly form: what the wind throws at a vertical plane in the open, and the factors that bring it
//! to a wall. The exponent belongs to hourly rain; a daily total spread evenly gives too much.

use crate::numbers::{cos, ln, pow};

const RADIANS: f64 = core::f64::consts::PI / 180.0;

/// Rain driven in one hour through a vertical plane in open airfield terrain, kg/m²: (2/9) v r^(8/9) cos(D − θ), nothing from behind.
/// `wind_m_s` hourly mean at 10 m; `rain_mm` in the hour; `wind_from_deg` where the wind blows from; `faces_deg` where the face looks.
pub fn airfield_kg_m2(wind_m_s: f64, rain_mm: f64, wind_from_deg: f64, faces_deg: f64) -> f64 {
    if rain_mm <= 0.0 || wind_m_s <= 0.0 {
        return 0.0;
    }
    let cosine = cos((wind_from_deg - faces_deg) * RADIANS);
    // Below this the cosine is rounding noise of a right angle.
    if cosine <= 1e-12 {
        return 0.0;
    }
    2.0 / 9.0 * wind_m_s * pow(rain_mm, 8.0 / 9.0) * cosine
}

/// Roughness of the ground upwind: the three numbers of ISO 15927-3 (those of EN 1991-1-4).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Terrain {
    /// Terrain factor K_R.
    pub factor: f64,
    /// Roughness length z₀, m.
    pub length_m: f64,
    /// Height below which the coefficient no longer falls, m.
    pub least_height_m: f64,
}

/// Category I: shore of sea or lake, smooth flat country.
pub const SHORE: Terrain = Terrain { factor: 0.17, length_m: 0.01, least_height_m: 2.0 };
/// Category II: farmland with boundary hedges, small buildings, trees.
pub const FARMLAND: Terrain = Terrain { factor: 0.19, length_m: 0.05, least_height_m: 4.0 };
/// Category III: suburbs, woods, industrial land.
pub const SUBURB: Terrain = Terrain { factor: 0.22, length_m: 0.3, least_height_m: 8.0 };
/// Category IV: town with at least 15 % built over and buildings more than 15 m high in the mean.
pub const TOWN: Terrain = Terrain { factor: 0.24, length_m: 1.0, least_height_m: 16.0 };

/// Roughness coefficient C_R at a height above ground, m.
pub fn roughness_coefficient(terrain: Terrain, height_m: f64) -> f64 {
    terrain.factor * ln(height_m.max(terrain.least_height_m) / terrain.length_m)
}

/// Topography coefficient C_T from the upwind slope (rise over run) and the position factor s (0 to 1) of the standard's charts.
pub fn topography_coefficient(slope: f64, position: f64) -> f64 {
    if slope < 0.05 {
        1.0
    } else if slope <= 0.3 {
        1.0 + 2.0 * position * slope
    } else {
        1.0 + 0.6 * position
    }
}

/// Obstruction factor O from the distance to the nearest obstacle of at least equal height in the line of sight, m; none or farther than 120 m: 1.
/// The table begins at 4 m; nearer obstacles are given its first value.
pub fn obstruction_factor(distance_m: Option<f64>) -> f64 {
    const STEPS: [(f64, f64); 8] =
        [(8.0, 0.2), (15.0, 0.3), (25.0, 0.4), (40.0, 0.5), (60.0, 0.6), (80.0, 0.7), (100.0, 0.8), (120.0, 0.9)];
    let Some(distance) = distance_m else { return 1.0 };
    STEPS.iter().find(|(nearer_than, _)| distance <= *nearer_than).map_or(1.0, |(_, factor)| *factor)
}
