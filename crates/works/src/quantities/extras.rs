//! Limewash, hessian and the water of damping on one wall.

use reckoning::{Reckoning, Reckonings, Unit, Value};
use survey::WallMeasured;

use crate::columns::{DAMP_DOWN_KG_M2, DAMP_EVENING_KG_M2};
use crate::quantities::totals::{keep, units};
use crate::specify::known;
use crate::{Inputs, Material, Specification, WallSpecification};

/// Water sprayed on a wall before a coat, the evening before and half an hour before together, litres a m²: common practice, no source (0.5 to 4); what the
/// programme puts on a thirsty wall.
pub(crate) const DAMPING_L_M2: f64 = DAMP_EVENING_KG_M2 + DAMP_DOWN_KG_M2;
/// Ties of stainless wire or plastic to a m² of hessian, at laps, head and foot: common practice, no source.
pub(crate) const TIES_M2: f64 = 1.5;

/// Limewash ready to brush, all coats, litres.
pub(crate) fn limewash_l(area_m2: f64, specified: &WallSpecification, inputs: &Inputs, kept: &mut Reckonings) -> f64 {
    let spread = &inputs.allowances.limewash_m2_l;
    let coats = specified.limewash.coats;
    let litres = if spread.value > 0.0 { area_m2 * f64::from(coats) / spread.value } else { 0.0 };
    let area = Reckoning::given(
        format!("walls.{}.harled", specified.slug),
        "face and reveals",
        Value::number(area_m2, Unit::SquareMetre, 1),
        "the survey",
        false,
    );
    let number = known_coats(inputs);
    let each = known("allowances.limewash_m2_per_litre", "face that a litre covers, one coat on harl", spread, Unit::SquareMetre, 1, 1.0);
    kept.keep(Reckoning::worked(
        format!("walls.{}.limewash", specified.slug),
        "limewash ready to brush, all coats",
        Value::number(litres, Unit::Litre, 0),
        "area × coats ÷ m² a litre",
        vec![area, number, each],
        "common practice, no source",
    ));
    litres
}

/// Face of one patch at a tie of the scaffold, m²: about 150 mm each way (common practice, no source).
const TIE_PATCH_M2: f64 = 0.15 * 0.15;

/// Patches at the ties of the scaffold of a wall, and the finish mortar to be mixed for them, m³: each as deep as all coats together, filled in one visit in thin
/// passes pressed into one another.
pub(crate) fn tie_patches(measured: &WallMeasured, specified: &WallSpecification, inputs: &Inputs, kept: &mut Reckonings) -> (u32, f64) {
    let each = &inputs.scaffold.m2_per_tie;
    let ties = units(measured.gross_m2, each.value).max(1);
    let deep_m: f64 = specified.coats.iter().map(|coat| coat.mean_thickness_m).sum();
    let waste = &inputs.allowances.waste_laid;
    let mixed_m3 = f64::from(ties) * TIE_PATCH_M2 * deep_m * (1.0 + waste.value);
    let gross = Value::number(measured.gross_m2, Unit::SquareMetre, 1);
    let number = Reckoning::worked(
        format!("walls.{}.tie-patches", measured.slug),
        "patches at scaffold ties",
        Value::number(f64::from(ties), Unit::One, 0),
        "gross area ÷ face to one tie, rounded up, at least one",
        vec![
            Reckoning::given(format!("walls.{}.gross", measured.slug), "gross area", gross, "the survey", false),
            known("scaffold.m2_per_tie", "face to one tie", each, Unit::SquareMetre, 0, 1.0),
        ],
        "common practice, no source",
    );
    kept.keep(Reckoning::worked(
        format!("walls.{}.tie-patches.mortar", measured.slug),
        "finish mortar for the tie patches",
        Value::number(1000.0 * mixed_m3, Unit::Litre, 0),
        "patches × 150 mm × 150 mm × all coats together × (1 + waste): filled in one visit in thin passes pressed into one another, not coat by coat",
        vec![number.clone(), known("allowances.waste_laid_percent", "waste of a laid coat", waste, Unit::PerCent, 0, 100.0)],
        "common practice, no source",
    ));
    kept.keep(number);
    (ties, mixed_m3)
}

/// Mass of one tub of pigment, kg: common practice, no source.
const TUB_KG: f64 = 1.0;

/// The pigment of the limewash, where the job gives a dose.
pub(crate) fn pigment(specification: &Specification, limewash_l: f64, inputs: &Inputs, kept: &mut Reckonings) -> Option<Material> {
    let dose_g_l = inputs.system.pigment_g_l.filter(|_| limewash_l > 0.0)?;
    let amount = limewash_l * dose_g_l / 1000.0;
    let material = Material {
        slug: "pigment".to_owned(),
        name: format!("Lime-fast pigment ({})", inputs.system.colour.value),
        amount,
        unit: "kg".to_owned(),
        units: units(amount, TUB_KG),
        unit_name: "tub of 1 kg".to_owned(),
        purpose: "colour of the limewash".to_owned(),
        one_load: true,
        serves: vec!["limewash".to_owned()],
    };
    let of_walls = specification.walls.iter().filter_map(|wall| kept.get(&format!("walls.{}.limewash", wall.slug)).cloned());
    let dose = Value::Text(format!("{dose_g_l} g to a litre"));
    let dose = Reckoning::given("system.pigment_g_per_litre", "pigment in a litre of limewash", dose, "answered in the job", false);
    let inputs_of = of_walls.chain([dose]).collect();
    let value = Value::number(amount, Unit::Kilogram, 1);
    keep(
        kept,
        &material,
        Reckoning::worked("materials.pigment.amount", "pigment", value, "limewash × dose", inputs_of, "arithmetic"),
        TUB_KG,
    );
    Some(material)
}

fn known_coats(inputs: &Inputs) -> Reckoning {
    let coats = &inputs.system.limewash_coats;
    let value = Value::number(f64::from(coats.value), Unit::One, 0);
    Reckoning::given("system.limewash_coats", "coats of limewash", value, coats.source.clone(), coats.assumed)
}

/// Cloth with its laps that hangs before one wall, m²; nought if its cover is no cloth.
pub(crate) fn cloth_m2(measured: &WallMeasured, specified: &WallSpecification, inputs: &Inputs) -> f64 {
    let cloth =
        specified.coats.iter().any(|coat| inputs.catalogue.covers.get(&coat.protection.cover).is_some_and(|cover| cover.cloth_kg_m2 > 0.0));
    if cloth { measured.gross_m2 * (1.0 + inputs.allowances.hessian_lap.value) } else { 0.0 }
}

/// Hessian that hangs before one wall with its laps, m²; nought if its cover is no cloth.
pub(crate) fn hessian_m2(measured: &WallMeasured, specified: &WallSpecification, inputs: &Inputs, kept: &mut Reckonings) -> f64 {
    let area_m2 = cloth_m2(measured, specified, inputs);
    if area_m2 <= 0.0 {
        return 0.0;
    }
    let lap = &inputs.allowances.hessian_lap;
    let gross = Value::number(measured.gross_m2, Unit::SquareMetre, 1);
    kept.keep(Reckoning::worked(
        format!("walls.{}.hessian", measured.slug),
        "hessian to hang",
        Value::number(area_m2, Unit::SquareMetre, 0),
        "gross area × (1 + lap): the cloth hangs over openings too",
        vec![
            Reckoning::given(format!("walls.{}.gross", measured.slug), "gross area", gross, "the survey", false),
            known("allowances.hessian_lap_percent", "lap", lap, Unit::PerCent, 0, 100.0),
        ],
        "common practice, no source",
    ));
    area_m2
}

/// Water for damping walls and wetting hessian on one wall, litres.
pub(crate) fn tending_l(hessian_m2: f64, harled_m2: f64, specified: &WallSpecification, inputs: &Inputs) -> f64 {
    let layers = specified.coats.len() as f64 + f64::from(specified.limewash.coats);
    let damping = layers * DAMPING_L_M2 * harled_m2;
    let wetting: f64 = specified
        .coats
        .iter()
        .map(|coat| {
            let holds = inputs.catalogue.covers.get(&coat.protection.cover).map_or(0.0, |cover| cover.holds_kg_m2);
            holds * hessian_m2 * f64::from(coat.protection.damp_days * coat.protection.wettings_a_day)
        })
        .sum();
    damping + wetting
}
