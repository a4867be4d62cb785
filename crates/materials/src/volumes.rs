//! Volumes and masses: putty by its density, voids of a sand, the water a mortar needs.

use crate::{Lime, LimeKind};

/// Density of the solids of putty, kg/m³ (X-ray density of Ca(OH)₂, CRC Handbook).
pub(crate) const PUTTY_SOLID_KG_M3: f64 = 2240.0;
/// Density of water in the sums of volume, kg/m³.
pub(crate) const WATER_KG_M3: f64 = 1000.0;
/// Air left in a fresh mortar, share of its volume: common practice, no source (2 to 8 %).
pub(crate) const AIR_SHARE: f64 = 0.05;
/// Molar masses, kg/mol (IUPAC standard atomic weights).
pub(crate) const PORTLANDITE_KG_MOL: f64 = 0.074_093;
/// Carbon dioxide, kg/mol.
pub(crate) const CARBON_DIOXIDE_KG_MOL: f64 = 0.044_010;
/// Quicklime, kg/mol.
pub(crate) const QUICKLIME_KG_MOL: f64 = 0.056_077;
/// Water, kg/mol.
pub(crate) const WATER_KG_MOL: f64 = 0.018_015;

/// Portlandite in a cubic metre of the putty in which a quicklime mix is spoken, kg: 1350 kg of putty at a share of 0.445.
pub const PUTTY_PORTLANDITE_KG_M3: f64 = 600.0;

/// Density of putty, kg/m³, from its mass share of solids (0 to 1): two phases, no air.
pub fn putty_density_kg_m3(solids_share: f64) -> f64 {
    1.0 / (solids_share / PUTTY_SOLID_KG_M3 + (1.0 - solids_share) / WATER_KG_M3)
}

/// Mass share of solids of a putty, 0 to 1, from its density, kg/m³: weigh a struck litre. The inverse of [`putty_density_kg_m3`].
pub fn putty_solids_share(density_kg_m3: f64) -> f64 {
    (1.0 - WATER_KG_M3 / density_kg_m3) * PUTTY_SOLID_KG_M3 / (PUTTY_SOLID_KG_M3 - WATER_KG_M3)
}

/// Share of voids between the grains of a sand, 0 to 1, from its loose and particle densities, kg/m³.
pub fn voids_share(loose_kg_m3: f64, particle_kg_m3: f64) -> f64 {
    1.0 - loose_kg_m3 / particle_kg_m3
}

/// Water a mortar needs to be laid or thrown: so much for the sand's surface and so much for the paste, by mass.
///
/// Coefficients were fitted to derived water needs of usual mixes (1 : 1½ to 1 : 3), which they meet within 17 kg/m³; the needs themselves are
/// common practice, no source. A putty that brings more than the need is used as it is: the mix is wetter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WaterNeed {
    /// kg of water to a kg of dry sand.
    pub sand: f64,
    /// kg of water to a kg of lime solids.
    pub lime: f64,
}

impl WaterNeed {
    /// The need with this kind of lime.
    pub fn of(kind: LimeKind) -> Self {
        let lime = match kind {
            LimeKind::Putty | LimeKind::Quicklime => 0.65,
            LimeKind::Hydrate => 0.87,
            LimeKind::Hydraulic => 0.50,
        };
        Self { sand: 0.1225, lime }
    }
}

/// One volume of lime as spoken, in kg per m³ of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct LimeMeasure {
    /// As bought.
    pub bought_kg: f64,
    /// Volume as measured out, m³.
    pub measured_m3: f64,
    /// Solids in the mortar after slaking.
    pub solids_kg: f64,
    /// Free portlandite.
    pub portlandite_kg: f64,
    /// Water it brings.
    pub brings_kg: f64,
    /// Water that slaking binds.
    pub bound_kg: f64,
}

impl LimeMeasure {
    /// A cubic metre of lime as spoken: quicklime is spoken as the putty it makes.
    pub(crate) fn spoken(lime: &Lime) -> Self {
        if lime.kind == LimeKind::Quicklime {
            let bought_kg = PUTTY_PORTLANDITE_KG_M3 / lime.portlandite_share;
            let active = lime.portlandite_share * QUICKLIME_KG_MOL / PORTLANDITE_KG_MOL;
            let bound_kg = bought_kg * active * WATER_KG_MOL / QUICKLIME_KG_MOL;
            return Self {
                bought_kg,
                measured_m3: bought_kg / lime.bulk_kg_m3,
                solids_kg: bought_kg + bound_kg,
                portlandite_kg: PUTTY_PORTLANDITE_KG_M3,
                brings_kg: 0.0,
                bound_kg,
            };
        }
        let bought_kg = lime.bulk_kg_m3;
        Self {
            bought_kg,
            measured_m3: 1.0,
            solids_kg: bought_kg * (1.0 - lime.water_share),
            portlandite_kg: bought_kg * lime.portlandite_share,
            brings_kg: bought_kg * lime.water_share,
            bound_kg: 0.0,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn putty_density_and_solids_are_inverse(share in 0.01f64..0.99) {
            prop_assert!((putty_solids_share(putty_density_kg_m3(share)) - share).abs() < 1e-12);
        }
    }
}
