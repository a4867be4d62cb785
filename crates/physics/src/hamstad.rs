//! Materials of the HAMSTAD benchmarks 2 and 5. Hagentoft et al., J. Thermal Envelope and Building Science 27 (2004) 327. Functions only. The constants are
//! from memory of that paper; what a benchmark needs beyond them is said where it is checked.

use crate::PhysicsError;
use crate::air::suction_of_humidity_pa;
use crate::constants::{GRAVITY_M_S2, WATER_DENSITY_KG_M3};
use crate::error::positive;
use crate::numbers::{exp, ln, pow};

/// Benchmark 2: liquid diffusivity, m²/s, the same at every content.
pub const BM2_DIFFUSIVITY_M2_S: f64 = 6e-10;
/// Benchmark 2: thickness of the slab, m.
pub const BM2_THICKNESS_M: f64 = 0.2;

/// Benchmark 2: water content at a relative humidity, kg/m³: w = 116/(1 − ln(φ)/0.118)^0.869.
///
/// # Errors
/// A humidity of zero or less.
pub fn bm2_water_kg_m3(humidity: f64) -> Result<f64, PhysicsError> {
    let humidity = positive("the sorption of HAMSTAD benchmark 2", "relative humidity (0 to 1)", humidity)?;
    Ok(116.0 / pow(1.0 - ln(humidity).min(0.0) / 0.118, 0.869))
}

/// Benchmark 2: relative humidity at a water content, 0 to 1: φ = exp(0.118·(1 − (116/w)^(1/0.869))).
///
/// # Errors
/// A content of zero or less.
pub fn bm2_humidity(water_kg_m3: f64) -> Result<f64, PhysicsError> {
    let water = positive("the sorption of HAMSTAD benchmark 2", "water content (kg/m³)", water_kg_m3)?;
    Ok(exp(0.118 * (1.0 - pow(116.0 / water, 1.0 / 0.869))).min(1.0))
}

/// A material of benchmark 5: retention as a sum of two van Genuchten terms in metres of water, liquid conductivity as the exponential of a polynomial.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bm5Material {
    /// Water content at saturation, kg/m³.
    pub saturation_kg_m3: f64,
    /// Terms of the retention: share, a in 1/m of water, exponent n.
    pub retention: [(f64, f64, f64); 2],
    /// Vapour resistance factor dry.
    pub vapour_resistance: f64,
    /// Heat conductivity dry, W/(m K), and its rise per 1000 kg/m³ of water.
    pub heat_conductivity_w_mk: (f64, f64),
    /// Density dry, kg/m³.
    pub density_kg_m3: f64,
    /// Specific heat dry, J/(kg K).
    pub heat_j_kgk: f64,
    /// Coefficients of the polynomial in w/1000, lowest first.
    pub conductivity: [f64; 6],
}

/// Benchmark 5, brick. With the conductivity as remembered its sorptivity comes out ten times that of brick; the benchmark, dry in the brick, does not feel it.
pub const BM5_BRICK: Bm5Material = Bm5Material {
    saturation_kg_m3: 373.5,
    retention: [(0.46, 0.47, 1.5), (0.54, 0.2, 3.8)],
    vapour_resistance: 7.5,
    heat_conductivity_w_mk: (0.682, 0.0),
    density_kg_m3: 1600.0,
    heat_j_kgk: 1000.0,
    conductivity: [-36.484, 461.325, -5240.0, 2.907e4, -7.41e4, 6.997e4],
};

/// Benchmark 5, mortar.
pub const BM5_MORTAR: Bm5Material = Bm5Material {
    saturation_kg_m3: 700.0,
    retention: [(0.2, 0.5, 1.5), (0.8, 0.004, 3.8)],
    vapour_resistance: 50.0,
    heat_conductivity_w_mk: (0.6, 0.56),
    density_kg_m3: 230.0,
    heat_j_kgk: 920.0,
    conductivity: [-40.425, 83.319, -175.961, 123.863, 0.0, 0.0],
};

/// Benchmark 5, inside insulation that draws water.
pub const BM5_INSULATION: Bm5Material = Bm5Material {
    saturation_kg_m3: 871.0,
    retention: [(0.41, 0.006, 2.5), (0.59, 0.012, 2.4)],
    vapour_resistance: 5.6,
    heat_conductivity_w_mk: (0.06, 0.56),
    density_kg_m3: 212.0,
    heat_j_kgk: 1000.0,
    conductivity: [-46.245, 294.506, -1439.0, 3249.0, -3370.0, 1305.0],
};

impl Bm5Material {
    /// Water content at a suction, kg/m³: w = w_s·Σ k·(1 + (a·s)^n)^−(1−1/n), s = p_c/(ρ_w·g).
    pub fn water_kg_m3(&self, suction_pa: f64) -> f64 {
        let head_m = suction_pa.max(0.0) / (WATER_DENSITY_KG_M3 * GRAVITY_M_S2);
        let sum: f64 = self.retention.iter().map(|&(k, a, n)| k * pow(1.0 + pow(a * head_m, n), 1.0 / n - 1.0)).sum();
        self.saturation_kg_m3 * sum
    }

    /// Water content in balance with a relative humidity, kg/m³.
    ///
    /// # Errors
    /// A humidity of zero or less.
    pub fn water_of_humidity_kg_m3(&self, humidity: f64, temperature_k: f64) -> Result<f64, PhysicsError> {
        Ok(self.water_kg_m3(suction_of_humidity_pa(humidity, temperature_k)?))
    }

    /// Liquid conductivity on suction, kg/(m s Pa): the exponential of the polynomial in w/1000.
    pub fn conductivity_s(&self, water_kg_m3: f64) -> f64 {
        let x = water_kg_m3 / 1000.0;
        exp(self.conductivity.iter().rev().fold(0.0, |sum, a| sum * x + a))
    }

    /// Vapour permeability, kg/(m s Pa): δ₀/μ·(1 − w/w_s)/(0.8·(1 − w/w_s)² + 0.2).
    pub fn vapour_permeability_s(&self, water_kg_m3: f64, temperature_k: f64) -> f64 {
        let dry = 1.0 - water_kg_m3 / self.saturation_kg_m3;
        crate::air::vapour_permeability_en15026_s(temperature_k) / self.vapour_resistance * dry / (0.8 * dry * dry + 0.2)
    }
}
