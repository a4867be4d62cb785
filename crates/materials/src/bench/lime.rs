//! What one lime is worth against another in a 1 : n mix, from what a struck litre weighs.

use reckoning::{Finding, Grade};
use serde::Serialize;

use super::error::Checks;
use super::{BenchError, PRACTICE, finding};
use crate::volumes::{PORTLANDITE_KG_MOL, PUTTY_SOLID_KG_M3, QUICKLIME_KG_MOL};
use crate::{Lime, LimeKind, putty_solids_share};

/// Form of a lime and what of it is active.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case", tag = "kind")]
pub enum LimeForm {
    /// Putty; its solids follow from its weight, and this share of them is Ca(OH)₂.
    Putty {
        /// Ca(OH)₂ in the solids, 0 to 1.
        purity: f64,
    },
    /// Dry hydrate of air lime.
    Hydrate {
        /// Ca(OH)₂ in the powder, 0 to 1.
        purity: f64,
    },
    /// Quicklime.
    Quicklime {
        /// CaO in it that slakes, 0 to 1.
        purity: f64,
    },
    /// Natural hydraulic lime.
    Hydraulic {
        /// Strength class, MPa: 2, 3.5 or 5.
        class_mpa: f64,
        /// Ca(OH)₂ free in the powder, 0 to 1.
        purity: f64,
    },
}

/// A lime weighed in a litre jug.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LimeMeasured {
    /// Name shown.
    pub name: String,
    /// Form.
    pub form: LimeForm,
    /// Mass of a struck litre, kg.
    pub litre_kg: f64,
}

impl LimeMeasured {
    pub(super) fn check(&self, checks: &mut Checks) {
        let (least, most, purity) = match self.form {
            LimeForm::Putty { purity } => (1.15, 1.60, purity),
            LimeForm::Hydrate { purity } => (0.30, 0.80, purity),
            LimeForm::Quicklime { purity } => (0.70, 1.40, purity),
            LimeForm::Hydraulic { class_mpa, purity } => {
                checks.number(format!("The strength class of {}", self.name), class_mpa, 1.0, 10.0, " MPa");
                (0.40, 1.10, purity)
            }
        };
        checks.number(format!("A struck litre of {}", self.name), self.litre_kg, least, most, " kg");
        checks.number(format!("The active share of {}", self.name), purity, 0.02, 1.0, "");
    }

    /// Ca(OH)₂ in a litre as measured out (for quicklime: once slaked), kg.
    pub fn portlandite_kg_l(&self) -> f64 {
        match self.form {
            LimeForm::Putty { purity } => self.litre_kg * putty_solids_share(1000.0 * self.litre_kg) * purity,
            LimeForm::Hydrate { purity } | LimeForm::Hydraulic { purity, .. } => self.litre_kg * purity,
            LimeForm::Quicklime { purity } => self.litre_kg * purity * PORTLANDITE_KG_MOL / QUICKLIME_KG_MOL,
        }
    }

    /// As a catalogue entry, so that specification, order, curing and price use what was weighed; what was not weighed is taken from `like`.
    ///
    /// # Errors
    /// A litre or a share outside what can be.
    pub fn entry(&self, like: &Lime) -> Result<Lime, Vec<BenchError>> {
        let mut checks = Checks::default();
        self.check(&mut checks);
        checks.done()?;
        let solids = putty_solids_share(1000.0 * self.litre_kg);
        let (kind, water_share, class_mpa) = match self.form {
            LimeForm::Putty { .. } => (LimeKind::Putty, 1.0 - solids, None),
            LimeForm::Hydrate { .. } => (LimeKind::Hydrate, 0.0, None),
            LimeForm::Quicklime { .. } => (LimeKind::Quicklime, 0.0, None),
            LimeForm::Hydraulic { class_mpa, .. } => (LimeKind::Hydraulic, 0.0, Some(class_mpa)),
        };
        let solid_kg_m3 = if kind == LimeKind::Hydraulic { like.solid_kg_m3 } else { PUTTY_SOLID_KG_M3 };
        Ok(Lime {
            name: self.name.clone(),
            kind,
            bulk_kg_m3: 1000.0 * self.litre_kg,
            portlandite_share: self.portlandite_kg_l() / self.litre_kg,
            water_share,
            solid_kg_m3,
            class_mpa,
            hydraulic_share: like.hydraulic_share.filter(|_| class_mpa == like.class_mpa),
            final_set_h: like.final_set_h.filter(|_| class_mpa == like.class_mpa),
            ..like.clone()
        })
    }
}

/// A mix with another lime in the place of the first.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Equivalent {
    /// Parts of dry sand to one of the other lime, by volume as it is measured out.
    pub parts: f64,
    /// Volume of the other lime that stands for one volume of the first.
    pub litres_for_litre: f64,
    /// "portlandite" or "binder mass": what was held equal.
    pub held: &'static str,
    /// What to think of it.
    pub findings: Vec<Finding>,
}

/// Parts of dry sand to one of `to` that make the mix 1 : `parts` of `from`: equal Ca(OH)₂ between air limes, equal mass between hydraulic limes.
///
/// # Errors
/// A litre, a share or parts (0.5 to 12, quicklime being measured by its own volume) outside what can be.
pub fn equivalent_parts(from: &LimeMeasured, to: &LimeMeasured, parts: f64) -> Result<Equivalent, Vec<BenchError>> {
    let mut checks = Checks::default();
    from.check(&mut checks);
    to.check(&mut checks);
    checks.number("The parts of sand", parts, 0.5, 12.0, "");
    checks.done()?;
    let (held, ratio) = match (from.form, to.form) {
        (LimeForm::Hydraulic { .. }, LimeForm::Hydraulic { .. }) => ("binder mass", to.litre_kg / from.litre_kg),
        _ => ("portlandite", to.portlandite_kg_l() / from.portlandite_kg_l()),
    };
    Ok(Equivalent { parts: parts * ratio, litres_for_litre: 1.0 / ratio, held, findings: exchange(from, to).into_iter().collect() })
}

/// What the exchange itself is worth saying.
fn exchange(from: &LimeMeasured, to: &LimeMeasured) -> Option<Finding> {
    let source = "EN 459-1 (strength classes of the standard mortar, which overlap on purpose), from memory";
    match (from.form, to.form) {
        (LimeForm::Hydraulic { class_mpa: a, .. }, LimeForm::Hydraulic { class_mpa: b, .. }) if a == b => None,
        (LimeForm::Hydraulic { class_mpa: a, .. }, LimeForm::Hydraulic { class_mpa: b, .. }) => {
            let (says, remedy) = (
                format!("{} is of class {a}, {} of class {b}: no proportion makes them equal.", from.name, to.name),
                "Judge it by the maker's own strengths for this mix, and keep each coat no harder than the one behind it.",
            );
            Some(finding(
                if b > a { Grade::Stop } else { Grade::Think },
                "class",
                says,
                "A stronger lime makes a harder, less open coat.",
                source,
                remedy,
            ))
        }
        (LimeForm::Hydraulic { .. }, _) | (_, LimeForm::Hydraulic { .. }) => {
            let says = "One of these limes is hydraulic, the other sets by air alone: equal portlandite is not equal strength.";
            let reason = "A hydraulic lime gets most of its strength from silicates that portlandite does not count.";
            Some(finding(
                Grade::Think,
                "hydraulic-for-air",
                says,
                reason,
                source,
                "Specify the mix afresh, with its own proportions and curing.",
            ))
        }
        (LimeForm::Quicklime { .. }, _) | (_, LimeForm::Quicklime { .. }) => {
            let says = "Quicklime grows as it slakes: its parts look lean and are not.";
            let reason = "Heat, steam and lumps make hot mixing work for trained people.";
            Some(finding(
                Grade::Think,
                "quicklime",
                says,
                reason,
                PRACTICE,
                "Leave hot mixing to people trained in it, with the product's data sheet.",
            ))
        }
        _ => None,
    }
}
