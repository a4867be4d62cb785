//! What the rates and thresholds of curing rest on.

use materials::Mortar;

use crate::kernel::{Carbonation, PoreLaw};

/// How a mortar carbonates: see the head of this file.
pub fn carbonation(mortar: &Mortar) -> Carbonation {
    Carbonation {
        portlandite_mol_m3: mortar.portlandite_mol_m3,
        porosity: mortar.fresh.porosity,
        pores: PoreLaw::THIERY,
        rate_per_s: 3.0,
        activation_j_mol: 15e3,
        humidity_ramp: (0.30, 0.60),
        film_saturation: 0.05,
        narrows: true,
        feeds_back: true,
    }
}
