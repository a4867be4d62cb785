//! The books of a member: what it held at the start, what has come and gone since, and whether that is what it holds now.

use crate::{Balance, Closure};

/// Amounts that a member holds, per m² of face.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Contents {
    /// Water in layers and cloth, kg/m².
    pub water_kg_m2: f64,
    /// Portlandite, mol/m².
    pub portlandite_mol_m2: f64,
    /// Enthalpy above 0 °C and liquid water, J/m².
    pub energy_j_m2: f64,
}

/// What has come and gone since the member began, per m² of face. Plain sums; positive in the direction named.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Books {
    /// Contents when the books were opened.
    pub start: Contents,
    /// Vapour that left through the outer side (negative: dew), kg/m².
    pub evaporated_kg_m2: f64,
    /// Vapour and water that left through the inner side, less the rain it took up, kg/m².
    pub inner_kg_m2: f64,
    /// Rain offered to the inner side, and dew on it, that ran off, kg/m².
    pub inner_run_off_kg_m2: f64,
    /// Rain, or water from a held face, taken up by the outer face, kg/m².
    pub absorbed_kg_m2: f64,
    /// Rain offered that ran off, kg/m².
    pub run_off_kg_m2: f64,
    /// Water put on by hand or brought by coats and cloth, less what dripped or was taken away, kg/m².
    pub added_kg_m2: f64,
    /// Water set free by carbonation, less what hydraulic set bound, kg/m².
    pub released_kg_m2: f64,
    /// Carbon dioxide that came in through the film, mol/m².
    pub taken_up_mol_m2: f64,
    /// Portlandite turned, mol/m².
    pub turned_mol_m2: f64,
    /// Portlandite brought by coats, mol/m².
    pub brought_mol_m2: f64,
    /// Heat that came in through both faces, latent included, J/m².
    pub heat_in_j_m2: f64,
    /// Heat brought by coats, water and cloth, less what was taken away, J/m².
    pub heat_added_j_m2: f64,
    /// Heat of carbonation and of hydraulic set, J/m², less that of the water bound.
    pub heat_released_j_m2: f64,
    /// Sum of the absolute amounts of water, kg/m².
    pub water_moved_kg_m2: f64,
    /// Sum of the absolute amounts of heat, J/m².
    pub heat_moved_j_m2: f64,
}

impl Books {
    /// How the books close against what is held now.
    pub fn close(&self, now: &Contents) -> Balance {
        let water_in = self.absorbed_kg_m2 - self.evaporated_kg_m2 - self.inner_kg_m2 + self.added_kg_m2 + self.released_kg_m2;
        let heat_in = self.heat_in_j_m2 + self.heat_added_j_m2 + self.heat_released_j_m2;
        let portlandite = self.start.portlandite_mol_m2 + self.brought_mol_m2 - now.portlandite_mol_m2;
        Balance {
            water: Closure { residual: now.water_kg_m2 - self.start.water_kg_m2 - water_in, moved: self.water_moved_kg_m2 },
            carbon: Closure { residual: self.taken_up_mol_m2 - portlandite, moved: self.taken_up_mol_m2.abs() },
            energy: Closure { residual: now.energy_j_m2 - self.start.energy_j_m2 - heat_in, moved: self.heat_moved_j_m2 },
        }
    }
}
