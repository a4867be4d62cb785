//! Steady heat and vapour through layers, and where vapour condenses between them: the reckoning of EN ISO 13788 (Glaser).

use crate::PhysicsError;
use crate::air::{VAPOUR_PERMEABILITY_ISO13788_S, saturation_iso13788_pa};
use crate::error::{not_negative, positive};

/// A layer for steady reckoning.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Layer {
    /// Thickness, m.
    pub thickness_m: f64,
    /// Heat conductivity, W/(m K).
    pub conductivity_w_mk: f64,
    /// Vapour resistance factor μ, 1 or more.
    pub vapour_resistance: f64,
}

impl Layer {
    fn checked(&self) -> Result<(f64, f64), PhysicsError> {
        let law = "steady flow through layers";
        let thickness = positive(law, "thickness (m)", self.thickness_m)?;
        let heat = thickness / positive(law, "heat conductivity (W/m K)", self.conductivity_w_mk)?;
        Ok((heat, thickness * positive(law, "vapour resistance factor", self.vapour_resistance)?))
    }
}

/// Steady heat flow from inside to outside, W/m²: (T_i − T_e)/(R_se + Σ d/λ + R_si). EN ISO 6946:2017. Layers from outside to inside.
///
/// # Errors
/// No layers, or a property of zero or less.
pub fn heat_flow_w_m2(layers: &[Layer], films_m2k_w: (f64, f64), outside_k: f64, inside_k: f64) -> Result<f64, PhysicsError> {
    let resistance: f64 = resistances(layers)?.iter().map(|r| r.0).sum();
    let law = "steady flow through layers";
    let films = not_negative(law, "outer film (m²K/W)", films_m2k_w.0)? + not_negative(law, "inner film (m²K/W)", films_m2k_w.1)?;
    Ok((inside_k - outside_k) / (resistance + films))
}

/// Temperatures of the outer face, of each joint, and of the inner face, K, in steady flow.
///
/// # Errors
/// As [`heat_flow_w_m2`].
pub fn face_temperatures_k(layers: &[Layer], films_m2k_w: (f64, f64), outside_k: f64, inside_k: f64) -> Result<Vec<f64>, PhysicsError> {
    let flow = heat_flow_w_m2(layers, films_m2k_w, outside_k, inside_k)?;
    let mut at = outside_k + flow * films_m2k_w.0;
    let mut faces = vec![at];
    for (heat, _) in resistances(layers)? {
        at += flow * heat;
        faces.push(at);
    }
    Ok(faces)
}

/// Steady vapour flow from inside to outside where nothing condenses, kg/(m² s): 2e-10·(p_i − p_e)/Σ(μ·d). EN ISO 13788:2012, without surface resistance.
///
/// # Errors
/// As [`heat_flow_w_m2`].
pub fn vapour_flow_kg_m2s(layers: &[Layer], outside_pa: f64, inside_pa: f64) -> Result<f64, PhysicsError> {
    let path_m: f64 = resistances(layers)?.iter().map(|r| r.1).sum();
    Ok(VAPOUR_PERMEABILITY_ISO13788_S * (inside_pa - outside_pa) / path_m)
}

/// A joint at which vapour condenses.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Condensing {
    /// The joint: 0 is the outer face, 1 the first joint inwards.
    pub joint: usize,
    /// Water gathered, kg/(m² s).
    pub rate_kg_m2s: f64,
}

/// Joints at which vapour condenses in steady flow, and how fast: a string pulled taut from p_e to p_i below the saturation pressures of the joints.
///
/// EN ISO 13788:2012, 6.4: saturation pressures at the joints, straight lines over the vapour path μ·d between them. Empty if nothing condenses.
///
/// # Errors
/// As [`heat_flow_w_m2`].
pub fn condensation(
    layers: &[Layer],
    films_m2k_w: (f64, f64),
    outside: (f64, f64),
    inside: (f64, f64),
) -> Result<Vec<Condensing>, PhysicsError> {
    let ((outside_k, outside_pa), (inside_k, inside_pa)) = (outside, inside);
    let faces = face_temperatures_k(layers, films_m2k_w, outside_k, inside_k)?;
    let mut at_m = 0.0;
    let mut points = vec![(0, 0.0, outside_pa)];
    for (i, (_, path_m)) in resistances(layers)?.iter().enumerate() {
        at_m += path_m;
        let saturated = saturation_iso13788_pa(faces[i + 1]);
        points.push((i + 1, at_m, if i + 1 == layers.len() { inside_pa } else { saturated }));
    }
    let taut = lower_hull(&points);
    Ok(taut.windows(3).map(|w| Condensing { joint: w[1].0, rate_kg_m2s: flow(w[1], w[2]) - flow(w[0], w[1]) }).collect())
}

type Point = (usize, f64, f64);

fn flow(from: Point, to: Point) -> f64 {
    VAPOUR_PERMEABILITY_ISO13788_S * (to.2 - from.2) / (to.1 - from.1)
}

/// Lower convex hull of points in order of their second entry: the string pulled taut below them.
fn lower_hull(points: &[Point]) -> Vec<Point> {
    let mut hull: Vec<Point> = Vec::new();
    for &point in points {
        while let [.., before, last] = hull[..] {
            if flow(before, last) < flow(last, point) {
                break;
            }
            hull.pop();
        }
        hull.push(point);
    }
    hull
}

fn resistances(layers: &[Layer]) -> Result<Vec<(f64, f64)>, PhysicsError> {
    if layers.is_empty() {
        return Err(PhysicsError::Count { law: "steady flow through layers", items: "layers", found: 0, needed: "at least one" });
    }
    layers.iter().map(Layer::checked).collect()
}
