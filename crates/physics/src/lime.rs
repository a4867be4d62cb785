//! Lime: what slaking and carbonation take in and give out, how carbon dioxide passes through pores, and how far the carbonated front has come.
//!
//! Slaking: CaO + H₂O → Ca(OH)₂. Carbonation: Ca(OH)₂ + CO₂ → CaCO₃ + H₂O. The functions are stoichiometry, not a procedure for slaking.

use crate::PhysicsError;
use crate::constants::{GAS_CONSTANT_J_MOLK, WATER_MOLAR_KG_MOL};
use crate::error::{not_negative, positive};
use crate::numbers::{bisect, exp_m1, pow};

/// Molar mass of quicklime CaO, kg/mol. IUPAC standard atomic weights.
pub const QUICKLIME_MOLAR_KG_MOL: f64 = 0.056_077;
/// Molar mass of portlandite Ca(OH)₂, kg/mol. IUPAC standard atomic weights.
pub const PORTLANDITE_MOLAR_KG_MOL: f64 = 0.074_092;
/// Molar mass of calcite CaCO₃, kg/mol. IUPAC standard atomic weights.
pub const CALCITE_MOLAR_KG_MOL: f64 = 0.100_086;
/// Molar mass of carbon dioxide, kg/mol. IUPAC standard atomic weights.
pub const CO2_MOLAR_KG_MOL: f64 = 0.044_009;

/// Molar volume of portlandite, m³/mol. Robie and Hemingway, U.S. Geological Survey Bulletin 2131 (1995), from memory: 33.06 cm³/mol.
pub const PORTLANDITE_M3_MOL: f64 = 33.06e-6;
/// Molar volume of calcite, m³/mol. Robie and Hemingway 1995, from memory: 36.93 cm³/mol. Calcite fills 11.7 % more room than the portlandite it came from.
pub const CALCITE_M3_MOL: f64 = 36.93e-6;

/// Enthalpies of formation at 298.15 K, J/mol: quicklime, portlandite, calcite, carbon dioxide (gas), water (liquid). CRC Handbook of Chemistry and
/// Physics, standard thermodynamic properties of chemical substances.
const FORMATION_J_MOL: [f64; 5] = [-634_900.0, -985_200.0, -1_207_600.0, -393_500.0, -285_800.0];

/// Heat set free by slaking a mole of quicklime with liquid water, J/mol, at 25 °C: 64,500, from the enthalpies of formation of the CRC Handbook. Other tables
/// differ by 1 % (NBS 1982: 65,200).
pub const SLAKING_J_MOL: f64 = FORMATION_J_MOL[0] + FORMATION_J_MOL[4] - FORMATION_J_MOL[1];
/// Heat set free by carbonating a mole of portlandite, water left liquid, J/mol, at 25 °C: 114,700, from the enthalpies of formation of the CRC Handbook. Other
/// tables differ by 1.5 % (NBS 1982: 113,100).
pub const CARBONATION_J_MOL: f64 = FORMATION_J_MOL[1] + FORMATION_J_MOL[3] - FORMATION_J_MOL[2] - FORMATION_J_MOL[4];

/// Heat set free by slaking, J per kg of pure CaO: 1.15e6.
pub const SLAKING_J_KG: f64 = SLAKING_J_MOL / QUICKLIME_MOLAR_KG_MOL;
/// Water bound by slaking, kg per kg of pure CaO: 0.321.
pub const SLAKING_WATER_KG_KG: f64 = WATER_MOLAR_KG_MOL / QUICKLIME_MOLAR_KG_MOL;
/// Portlandite made by slaking, kg per kg of pure CaO: 1.321.
pub const SLAKED_KG_KG: f64 = PORTLANDITE_MOLAR_KG_MOL / QUICKLIME_MOLAR_KG_MOL;
/// Carbon dioxide taken up, kg per kg of portlandite: 0.594.
pub const CO2_KG_KG: f64 = CO2_MOLAR_KG_MOL / PORTLANDITE_MOLAR_KG_MOL;
/// Calcite made, kg per kg of portlandite: 1.351.
pub const CALCITE_KG_KG: f64 = CALCITE_MOLAR_KG_MOL / PORTLANDITE_MOLAR_KG_MOL;
/// Water set free by carbonation, kg per kg of portlandite: 0.243.
pub const CARBONATION_WATER_KG_KG: f64 = WATER_MOLAR_KG_MOL / PORTLANDITE_MOLAR_KG_MOL;

/// Portlandite in a volume, mol/m³, from its mass in that volume, kg/m³.
#[inline]
pub fn portlandite_mol_m3(portlandite_kg_m3: f64) -> f64 {
    portlandite_kg_m3 / PORTLANDITE_MOLAR_KG_MOL
}

/// Porosity left when portlandite has turned to calcite: ε − n·(V_calcite − V_portlandite), with n the portlandite turned in mol/m³; never below zero.
#[inline]
pub fn carbonated_porosity(porosity: f64, turned_mol_m3: f64) -> f64 {
    (porosity - turned_mol_m3 * (CALCITE_M3_MOL - PORTLANDITE_M3_MOL)).max(0.0)
}

/// Carbon dioxide in outdoor air, mole fraction: 425e-6, near the global mean of 2024 and 2025 (NOAA Global Monitoring Laboratory, from memory).
pub const OUTDOOR_CO2_FRACTION: f64 = 425e-6;

/// Carbon dioxide in air, mol/m³: c = x·p/(R·T), the ideal gas law, from its mole fraction.
#[inline]
pub fn co2_mol_m3(mole_fraction: f64, pressure_pa: f64, temperature_k: f64) -> f64 {
    mole_fraction * pressure_pa / (GAS_CONSTANT_J_MOLK * temperature_k)
}

/// Share of the free-air diffusivity left to a gas in pores, by the exponents of porosity and of the air's share of the pores: ε^a·(1 − S)^b.
///
/// Range: 0 ≤ ε ≤ 1; S beyond 0 to 1 counts as the nearer end, so that a saturated pore lets nothing through.
#[inline]
pub fn pore_share(porosity: f64, saturation: f64, porosity_exponent: f64, air_exponent: f64) -> f64 {
    pow(porosity.max(0.0), porosity_exponent) * pow((1.0 - saturation).clamp(0.0, 1.0), air_exponent)
}

/// Effective diffusivity of a gas in partly filled pores after Millington and Quirk, m²/s.
///
/// D = D₀·ε^(4/3)·(1 − S)^(10/3). Millington and Quirk, Trans. Faraday Soc. 57 (1961) 1200. Made for soils; about twice too deep for lime mortars.
#[inline]
pub fn millington_quirk_m2_s(free_m2_s: f64, porosity: f64, saturation: f64) -> f64 {
    free_m2_s * pore_share(porosity, saturation, 4.0 / 3.0, 10.0 / 3.0)
}

/// Effective diffusivity of a gas in partly filled pores after Thiery, m²/s.
///
/// D = D₀·ε^2.74·(1 − S)^4.20. Thiery, thesis, École nationale des ponts et chaussées 2005; Thiery et al., J. Phys. IV 136 (2006), from memory. Made for
/// carbonating cement pastes and mortars.
#[inline]
pub fn thiery_m2_s(free_m2_s: f64, porosity: f64, saturation: f64) -> f64 {
    free_m2_s * pore_share(porosity, saturation, 2.74, 4.20)
}

/// Effective diffusivity of carbon dioxide in carbonated concrete after Papadakis, m²/s.
///
/// D = 1.64e-6·ε^1.8·(1 − φ)^2.2, ε the porosity of the hardened paste. Papadakis, Vayenas and Fardis, ACI Materials Journal 88 (1991) 363.
/// Not for lime mortars: there 65 % relative humidity leaves the pores nearly empty, in dense concrete nearly full. Kept for comparison.
#[inline]
pub fn papadakis_m2_s(porosity: f64, humidity: f64) -> f64 {
    1.64e-6 * pow(porosity.max(0.0), 1.8) * pow((1.0 - humidity).clamp(0.0, 1.0), 2.2)
}

/// Depth of a sharp carbonated front after a time step, m, from its depth before.
///
/// x²/2 + x·D/k = x₀²/2 + x₀·D/k + c·D·Δt/b: quasi-steady diffusion through the carbonated depth and a film of coefficient k. Exact for a sharp front with constant
/// D over the step; repeated steps accumulate ∫D·c dt, whatever the order of the hours. `film_m_s` may be infinite for no film.
///
/// # Errors
/// A capacity of zero or less, or any other input below zero or not finite (the film alone may be infinite, and must be above zero).
pub fn front_after_m(
    depth_m: f64,
    diffusivity_m2_s: f64,
    film_m_s: f64,
    air_mol_m3: f64,
    capacity_mol_m3: f64,
    step_s: f64,
) -> Result<f64, PhysicsError> {
    let law = "the law of the carbonated front";
    let depth = not_negative(law, "depth (m)", depth_m)?;
    let diffusivity = not_negative(law, "diffusivity (m²/s)", diffusivity_m2_s)?;
    let air = not_negative(law, "carbon dioxide in the air (mol/m³)", air_mol_m3)?;
    let capacity = positive(law, "capacity (mol/m³)", capacity_mol_m3)?;
    let step = not_negative(law, "time step (s)", step_s)?;
    let film = film_depth_m(law, diffusivity, film_m_s)?;
    let shifted = depth + film;
    Ok((shifted * shifted + 2.0 * diffusivity * air * step / capacity).sqrt() - film)
}

/// Depth of material that hinders as much as the film does, m: D/k.
fn film_depth_m(law: &'static str, diffusivity_m2_s: f64, film_m_s: f64) -> Result<f64, PhysicsError> {
    if film_m_s > 0.0 {
        Ok(diffusivity_m2_s / film_m_s)
    } else {
        Err(PhysicsError::OutOfRange {
            law,
            quantity: "film coefficient (m/s)",
            found: film_m_s,
            allowed: "above zero, or infinite for no film",
        })
    }
}

/// A half-space that carbonates at a finite rate: first order in carbon dioxide and in what is left of the portlandite.
///
/// 0 = D·∂²c/∂x² − r, ∂b/∂t = −r, r = k·c·b/b₀. With U = ∫₀ᵗ c dt the portlandite left is b = b₀·exp(−k·U/b₀), and D·U″ = b₀ − b has the
/// first integral D·U′²/2 = b₀·(U − (b₀/k)·(1 − exp(−k·U/b₀))). So the uptake is exact, with or without a film: derived here, and checked against a numerical
/// solution of the equations. Range: constant D, k and air; depth beyond the reach of the gas.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FiniteRate {
    /// Effective diffusivity D, m²/s, of a flux per plan area.
    pub diffusivity_m2_s: f64,
    /// Reaction rate k at full portlandite, 1/s, per volume of the body.
    pub rate_per_s: f64,
    /// Portlandite at the start b₀, mol/m³.
    pub capacity_mol_m3: f64,
    /// Carbon dioxide in the air, mol/m³.
    pub air_mol_m3: f64,
    /// Film coefficient, m/s; infinite for none.
    pub film_m_s: f64,
}

impl FiniteRate {
    fn checked(self) -> Result<Self, PhysicsError> {
        let law = "carbonation at a finite rate";
        positive(law, "diffusivity (m²/s)", self.diffusivity_m2_s)?;
        positive(law, "rate (1/s)", self.rate_per_s)?;
        positive(law, "capacity (mol/m³)", self.capacity_mol_m3)?;
        positive(law, "carbon dioxide in the air (mol/m³)", self.air_mol_m3)?;
        film_depth_m(law, self.diffusivity_m2_s, self.film_m_s)?;
        Ok(self)
    }

    /// Uptake, mol/m², when the face has seen an exposure U (mol s/m³): √(2·D·b₀·(U − (b₀/k)·(1 − exp(−k·U/b₀)))).
    fn uptake_at_exposure_mol_m2(&self, exposure: f64) -> f64 {
        let length = self.capacity_mol_m3 / self.rate_per_s;
        let spent = exposure + length * exp_m1(-exposure / length);
        (2.0 * self.diffusivity_m2_s * self.capacity_mol_m3 * spent.max(0.0)).sqrt()
    }

    /// Exposure of the face itself, mol s/m³, after a time: the air's less what the film holds back.
    fn face_exposure(&self, time_s: f64) -> Result<f64, PhysicsError> {
        let air = self.air_mol_m3 * time_s;
        if self.film_m_s.is_infinite() || time_s == 0.0 {
            return Ok(air);
        }
        bisect("carbonation at a finite rate behind a film", "mol s/m³", 0.0, air, |u| {
            self.film_m_s * (air - u) - self.uptake_at_exposure_mol_m2(u)
        })
    }

    /// Carbon dioxide taken up since the start, mol/m². Divided by the capacity it is the depth taken up.
    ///
    /// # Errors
    /// A constant of zero or less, or a time below zero.
    pub fn uptake_mol_m2(&self, time_s: f64) -> Result<f64, PhysicsError> {
        let law = self.checked()?;
        let time = not_negative("carbonation at a finite rate", "time (s)", time_s)?;
        Ok(law.uptake_at_exposure_mol_m2(law.face_exposure(time)?))
    }

    /// Depth at which a share of the portlandite is left, m; 0 if none is spent so far even at the face.
    ///
    /// x = ∫ dU/√(2·b₀·(U − …)/D) from the exposure at that share to the face's, by Simpson's rule in √U.
    ///
    /// # Errors
    /// As [`Self::uptake_mol_m2`]; or a share not between 0 and 1.
    pub fn depth_of_share_m(&self, share_left: f64, time_s: f64) -> Result<f64, PhysicsError> {
        let law = self.checked()?;
        if !(share_left > 0.0 && share_left < 1.0) {
            return Err(PhysicsError::OutOfRange {
                law: "carbonation at a finite rate",
                quantity: "share of portlandite left",
                found: share_left,
                allowed: "above 0 and below 1",
            });
        }
        let time = not_negative("carbonation at a finite rate", "time (s)", time_s)?;
        let deep = -crate::numbers::ln(share_left) * law.capacity_mol_m3 / law.rate_per_s;
        let face = law.face_exposure(time)?;
        if deep >= face {
            return Ok(0.0);
        }
        let slope = |root: f64| 2.0 * root * law.diffusivity_m2_s / law.uptake_at_exposure_mol_m2(root * root);
        Ok(simpson(deep.sqrt(), face.sqrt(), 2000, slope))
    }
}

/// Integral of a smooth function by Simpson's rule over an even number of strips.
fn simpson(low: f64, high: f64, strips: usize, function: impl Fn(f64) -> f64) -> f64 {
    let width = (high - low) / strips as f64;
    let inner: f64 = (1..strips).map(|i| function(low + i as f64 * width) * if i % 2 == 1 { 4.0 } else { 2.0 }).sum();
    (function(low) + inner + function(high)) * width / 3.0
}
