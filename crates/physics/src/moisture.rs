//! How a porous material holds water and passes it on: retention, liquid diffusivity and conductivity, absorption, ponding.

use crate::PhysicsError;
use crate::error::{not_negative, positive};
use crate::numbers::{exp, exp_m1, ln, pow};

/// Retention in the form of van Genuchten.
///
/// w = w_s·(1 + (a·p_c)^n)^−m, m = 1 − 1/n. Van Genuchten, Soil Sci. Soc. Am. J. 44 (1980) 892. Range: suction ≥ 0; negative suction counts as 0.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct VanGenuchten {
    saturation_kg_m3: f64,
    a_per_pa: f64,
    n: f64,
    m: f64,
}

impl VanGenuchten {
    /// A curve with its water content at saturation (kg/m³), the inverse of its typical suction (1/Pa) and its exponent.
    ///
    /// # Errors
    /// A content or `a_per_pa` of zero or less, or an exponent of 1 or less.
    pub fn new(saturation_kg_m3: f64, a_per_pa: f64, n: f64) -> Result<Self, PhysicsError> {
        let law = "van Genuchten's retention";
        positive(law, "water content at saturation (kg/m³)", saturation_kg_m3)?;
        positive(law, "a (1/Pa)", a_per_pa)?;
        if n > 1.0 && n.is_finite() {
            Ok(Self { saturation_kg_m3, a_per_pa, n, m: 1.0 - 1.0 / n })
        } else {
            Err(PhysicsError::OutOfRange { law, quantity: "exponent n", found: n, allowed: "a finite number above 1" })
        }
    }

    /// Water content at saturation, kg/m³.
    #[inline]
    pub fn saturation_kg_m3(&self) -> f64 {
        self.saturation_kg_m3
    }

    /// Exponent m = 1 − 1/n.
    #[inline]
    pub fn m(&self) -> f64 {
        self.m
    }

    /// Water content at a suction, kg/m³.
    #[inline]
    pub fn water_kg_m3(&self, suction_pa: f64) -> f64 {
        let x = pow(self.a_per_pa * suction_pa.max(0.0), self.n);
        self.saturation_kg_m3 * pow(1.0 + x, -self.m)
    }

    /// Slope of water content with suction, kg/(m³ Pa), never positive.
    ///
    /// dw/dp_c = −w_s·m·n·a·(a·p_c)^(n−1)·(1 + (a·p_c)^n)^(−m−1). Zero at zero suction.
    #[inline]
    pub fn slope_kg_m3pa(&self, suction_pa: f64) -> f64 {
        let reduced = self.a_per_pa * suction_pa.max(0.0);
        let x = pow(reduced, self.n - 1.0);
        let grown = 1.0 + x * reduced;
        -self.saturation_kg_m3 * self.m * self.n * self.a_per_pa * x * pow(grown, -self.m - 1.0)
    }

    /// Suction at a water content, Pa: the inverse of [`Self::water_kg_m3`].
    ///
    /// p_c = ((w/w_s)^(−1/m) − 1)^(1/n)/a.
    ///
    /// # Errors
    /// A content of zero or less, or above saturation.
    pub fn suction_pa(&self, water_kg_m3: f64) -> Result<f64, PhysicsError> {
        if water_kg_m3 > 0.0 && water_kg_m3 <= self.saturation_kg_m3 {
            let x = exp_m1(-ln(water_kg_m3 / self.saturation_kg_m3) / self.m);
            Ok(pow(x, 1.0 / self.n) / self.a_per_pa)
        } else {
            Err(PhysicsError::OutOfRange {
                law: "the inverse of van Genuchten's retention",
                quantity: "water content (kg/m³)",
                found: water_kg_m3,
                allowed: "above zero and at most the content at saturation",
            })
        }
    }

    /// Mualem's relative liquid conductivity at a degree of saturation, 0 to 1.
    ///
    /// k = S^½·(1 − (1 − S^(1/m))^m)². Mualem, Water Resour. Res. 12 (1976) 513, with van Genuchten's retention. Range: 0 to 1; beyond, the nearer end.
    pub fn mualem_relative(&self, saturation: f64) -> f64 {
        let s = saturation.clamp(0.0, 1.0);
        let inner = 1.0 - pow(1.0 - pow(s, 1.0 / self.m), self.m);
        s.sqrt() * inner * inner
    }
}

/// Retention from two measured contents: at 80 % relative humidity and at free saturation.
///
/// w = w_f·(b − 1)·φ/(b − φ), with b such that w(0.8) is the measured one: b = 0.8·(w_f − w_80)/(0.8·w_f − w_80). Künzel 1995. Range: 0 ≤ φ ≤ 1.
/// Poor above 95 % relative humidity, where a suction curve is to be preferred.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Kuenzel {
    free_kg_m3: f64,
    b: f64,
}

impl Kuenzel {
    /// A curve through the content at 80 % relative humidity and the content at free saturation, kg/m³.
    ///
    /// # Errors
    /// A content of zero or less, or a content at 80 % of 0.8 of free saturation or more (the curve would have a pole inside its range).
    pub fn new(at_80_kg_m3: f64, free_kg_m3: f64) -> Result<Self, PhysicsError> {
        let law = "Künzel's retention";
        positive(law, "water content at free saturation (kg/m³)", free_kg_m3)?;
        positive(law, "water content at 80 % relative humidity (kg/m³)", at_80_kg_m3)?;
        if at_80_kg_m3 < 0.8 * free_kg_m3 {
            Ok(Self { free_kg_m3, b: 0.8 * (free_kg_m3 - at_80_kg_m3) / (0.8 * free_kg_m3 - at_80_kg_m3) })
        } else {
            Err(PhysicsError::OutOfRange {
                law,
                quantity: "water content at 80 % relative humidity (kg/m³)",
                found: at_80_kg_m3,
                allowed: "below 0.8 of the content at free saturation",
            })
        }
    }

    /// The shape number b, above 1.
    #[inline]
    pub fn b(&self) -> f64 {
        self.b
    }

    /// Water content at a relative humidity, kg/m³.
    #[inline]
    pub fn water_kg_m3(&self, humidity: f64) -> f64 {
        self.free_kg_m3 * (self.b - 1.0) * humidity / (self.b - humidity)
    }

    /// Relative humidity at a water content, 0 to 1: the inverse of [`Self::water_kg_m3`], φ = b·w/(w_f·(b − 1) + w).
    #[inline]
    pub fn humidity(&self, water_kg_m3: f64) -> f64 {
        self.b * water_kg_m3 / (self.free_kg_m3 * (self.b - 1.0) + water_kg_m3)
    }
}

/// Liquid diffusivity while taking up water, m²/s, from the absorption coefficient alone.
///
/// D = 3.8·(A/w_f)²·1000^(w/w_f − 1). Künzel 1995. Range: 0 ≤ w ≤ w_f. Redistribution without water at the face is commonly taken as a tenth of it.
/// The absorption coefficient it gives back is [`KUENZEL_ABSORPTION_RATIO`] times A.
#[inline]
pub fn kuenzel_diffusivity_m2_s(absorption_kg_m2_s05: f64, free_kg_m3: f64, water_kg_m3: f64) -> f64 {
    let speed = absorption_kg_m2_s05 / free_kg_m3;
    3.8 * speed * speed * exp(LN_1000 * (water_kg_m3 / free_kg_m3 - 1.0))
}

/// Absorption coefficient that [`kuenzel_diffusivity_m2_s`] gives back when a body takes up water from dry, over the one put in: 1.0085, from the similarity solution
/// of the uptake.
pub const KUENZEL_ABSORPTION_RATIO: f64 = 1.0085;

/// Integral of [`kuenzel_diffusivity_m2_s`] over water content from zero, kg/(m s): the flux potential, whose differences drive the flow inside one material.
///
/// ∫₀ʷ D dw = 3.8·(A²/w_f)·(1000^(w/w_f) − 1)/(1000·ln 1000).
#[inline]
pub fn kuenzel_flux_potential_kg_ms(absorption_kg_m2_s05: f64, free_kg_m3: f64, water_kg_m3: f64) -> f64 {
    3.8 * absorption_kg_m2_s05 * absorption_kg_m2_s05 / free_kg_m3 * exp_m1(LN_1000 * water_kg_m3 / free_kg_m3) / (1000.0 * LN_1000)
}

const LN_1000: f64 = 6.907_755_278_982_137;

/// Liquid conductivity on suction, kg/(m s Pa), from a diffusivity on water content: K = −D·dw/dp_c. EN 15026:2007.
#[inline]
pub fn conductivity_s(diffusivity_m2_s: f64, retention_slope_kg_m3pa: f64) -> f64 {
    -diffusivity_m2_s * retention_slope_kg_m3pa
}

/// Water taken up through a wet face in a time, kg/m²: m = A·√t, until the water reaches the far side. EN ISO 15148.
#[inline]
pub fn absorbed_kg_m2(absorption_kg_m2_s05: f64, time_s: f64) -> f64 {
    absorption_kg_m2_s05 * time_s.max(0.0).sqrt()
}

/// Water absorption coefficient in the unit of EN 1015-18 and EN 998-1, kg/(m² min^½), as kg/(m² s^½): divided by √60.
#[inline]
pub fn absorption_from_per_min05(absorption_kg_m2_min05: f64) -> f64 {
    absorption_kg_m2_min05 / 60.0_f64.sqrt()
}

/// Water absorption coefficient in kg/(m² h^½) as kg/(m² s^½): divided by 60.
#[inline]
pub fn absorption_from_per_h05(absorption_kg_m2_h05: f64) -> f64 {
    absorption_kg_m2_h05 / 60.0
}

/// Bounds on the time after which a face under a steady rain no longer takes all of it, s (first, last).
///
/// From ½·(A/i)² (a sharp front, diffusivity all at saturation) to (π²/16)·(A/i)² (a constant diffusivity). Parlange and Smith, Can. J. Soil Sci. 56 (1976) 1, for
/// the sharp front; the other from the exact solution of the linear problem. Every diffusivity that grows with water content lies between.
///
/// # Errors
/// An absorption coefficient below zero or a rain of zero or less (it never ponds).
pub fn ponding_bounds_s(absorption_kg_m2_s05: f64, rain_kg_m2s: f64) -> Result<(f64, f64), PhysicsError> {
    let law = "the time to ponding";
    let absorption = not_negative(law, "absorption coefficient (kg/m²s^½)", absorption_kg_m2_s05)?;
    let ratio = absorption / positive(law, "rain (kg/m²s)", rain_kg_m2s)?;
    let square = ratio * ratio;
    Ok((0.5 * square, core::f64::consts::PI * core::f64::consts::PI / 16.0 * square))
}
