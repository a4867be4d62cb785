//! The old mortar file: an acid dissolution with its doubts, the sieved residue, thermogravimetry; and the nearest repair mix.

use materials::Catalogue;
use materials::bench::{
    Dissolved, Gas, Grading, Hydraulic, OldMortar, Repair, Thermogravimetry, Uncertain, dissolved, repair_mix, thermogravimetry,
};
use serde::Serialize;

use super::{grading, read, tell};
use crate::problem::Problem;
use crate::trial::reader::{Section, from_to};

/// What the bench says of the file.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MortarReport {
    /// Title of the file.
    pub title: String,
    /// What the acid dissolution says.
    pub old: Option<OldMortar>,
    /// The sieved residue.
    pub residue: Option<Grading>,
    /// What thermogravimetry says.
    pub thermogravimetry: Option<Thermogravimetry>,
    /// The nearest repair mix, if there was a dissolution.
    pub repair: Option<Repair>,
}

/// Reads an old mortar file and works it.
///
/// # Errors
/// Every problem at once: of the text, of the fields, and of measurements that cannot be true.
pub fn read_mortar(text: &str, name: &str) -> Result<MortarReport, Vec<Problem>> {
    read(text, name, whole)
}

fn whole(root: &Section<'_, '_>) -> Option<MortarReport> {
    let title = root.needs_text("title", "Say in one line which sample this is.");
    let acid = root.section("acid").map(|section| acid(&section));
    let residue = root.section("residue").map(|section| {
        let curve = grading(&section);
        section.finish();
        curve
    });
    let heat = root.section("thermogravimetry").map(|section| heat(&section));
    if acid.is_none() && heat.is_none() && !root.reader.any() {
        root.missing("acid", "An analysis is an acid dissolution, thermogravimetry, or both.", "Add [acid] or [thermogravimetry].");
    }
    root.finish();
    let old = match acid {
        Some(old) => Some(old?),
        None => None,
    };
    let residue = match residue {
        Some(residue) => Some(residue?),
        None => None,
    };
    let thermogravimetry = match heat {
        Some(heat) => Some(heat?),
        None => None,
    };
    let repair = old.as_ref().map(|old| repair_mix(old, residue.as_ref(), &Catalogue::shipped()));
    Some(MortarReport { title: title?.to_owned(), old, residue, thermogravimetry, repair })
}

fn heat(section: &Section<'_, '_>) -> Option<Thermogravimetry> {
    let water = section.needs_number("water_percent", from_to(0.0, 24.0));
    let carbon_dioxide = section.needs_number("carbon_dioxide_percent", from_to(0.0, 44.0));
    section.finish();
    tell(section, thermogravimetry(water? / 100.0, carbon_dioxide? / 100.0))
}

fn acid(section: &Section<'_, '_>) -> Option<OldMortar> {
    let sample = section.needs_number("sample_g", from_to(0.5, 10_000.0));
    let residue = section.needs_number("residue_g", from_to(0.0, 10_000.0));
    let weighing = section.number("weighing_g", from_to(0.0, 10.0)).unwrap_or(0.05);
    let shell = uncertain(section, "shell_g", 10_000.0, 1.0, [0.0; 3]);
    // Common practice, no source: old work has carbonated nearly through, and a filter loses up to 5 % of fines.
    let carbonated = uncertain(section, "carbonated_percent", 100.0, 0.01, [0.97, 0.90, 1.0]);
    let lost = uncertain(section, "lost_percent", 30.0, 0.01, [0.01, 0.0, 0.05]);
    let sand_kg_l = uncertain(section, "sand_kg_l", 2.0, 1.0, [1.5, 1.4, 1.6]);
    let gas = section.section("gas").map(|section| gas(&section));
    let hydraulic = section.section("chemistry").map(|section| chemistry(&section));
    section.finish();
    let gas = match gas {
        Some(gas) => Some(gas?),
        None => None,
    };
    let hydraulic = match hydraulic {
        Some(hydraulic) => Some(hydraulic?),
        None => None,
    };
    let test = Dissolved {
        sample_g: Uncertain::within(sample?, weighing),
        residue_g: Uncertain::within(residue?, weighing),
        shell_g: shell?,
        carbonated: carbonated?,
        lost: lost?,
        sand_kg_l: sand_kg_l?,
        gas,
        hydraulic,
    };
    tell(section, dissolved(&test))
}

/// Three numbers, likely, least and most, times a factor; or what holds when the key is absent.
fn uncertain(section: &Section<'_, '_>, key: &'static str, most: f64, factor: f64, otherwise: [f64; 3]) -> Option<Uncertain> {
    if !section.has(key) {
        return Some(Uncertain { value: otherwise[0], least: otherwise[1], most: otherwise[2] });
    }
    let list = section.numbers(key, from_to(0.0, most))?;
    match list.as_slice() {
        [value, least, most] if least <= value && value <= most => {
            Some(Uncertain { value: value * factor, least: least * factor, most: most * factor })
        }
        _ => {
            let found = format!("`{key}` does not hold a likely, a least and a most value.");
            section.contradicts(key, found, "Three numbers: the likely, the least, the most.", "Write for example [0.5, 0, 1].");
            None
        }
    }
}

fn gas(section: &Section<'_, '_>) -> Option<Gas> {
    let litres = section.needs_number("litres", from_to(0.0, 10_000.0));
    let error = section.number("error_litres", from_to(0.0, 100.0)).unwrap_or(0.02);
    let warm_c = section.needs_number("warm_c", from_to(-10.0, 50.0));
    let pressure_pa = section.number("pressure_pa", from_to(60_000.0, 110_000.0)).unwrap_or(101_325.0);
    section.finish();
    let litres = litres?;
    let litres = Uncertain { value: litres, least: (litres - error).max(0.0), most: litres + error };
    Some(Gas { litres, warm_c: warm_c?, pressure_pa })
}

fn chemistry(section: &Section<'_, '_>) -> Option<Hydraulic> {
    let lime = section.needs_number("lime_g", from_to(0.0, 10_000.0));
    let silica = section.needs_number("silica_g", from_to(0.0, 10_000.0));
    let share = section.number("error_percent", from_to(0.0, 20.0)).unwrap_or(2.0) / 100.0;
    let alumina_g = section.number("alumina_g", from_to(0.0, 10_000.0)).unwrap_or(0.0);
    let iron_g = section.number("iron_g", from_to(0.0, 10_000.0)).unwrap_or(0.0);
    section.finish();
    let of = |value: f64| Uncertain::within(value, share * value);
    Some(Hydraulic { lime_g: of(lime?), silica_g: of(silica?), alumina_g, iron_g })
}
