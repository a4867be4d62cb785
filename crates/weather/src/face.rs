//! The climate of one face: what the air, sun, sky and driven rain offer to a wall of a given bearing and exposure, hour by hour.

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
