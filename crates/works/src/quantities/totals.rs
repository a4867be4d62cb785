//! Materials added up over the job, in the units they are sold in.

use std::collections::{BTreeMap, BTreeSet};

use materials::{Catalogue, Lime, Sand};
use reckoning::{Reckoning, Reckonings, Unit, Value};

use crate::quantities::extras::{TIES_M2, pigment, tending_l};
use crate::specify::known;
use crate::{CoatKind, Inputs, Material, Specification, WallQuantities};

/// What one material is needed for.
#[derive(Default)]
struct Need {
    amount: f64,
    serves: BTreeSet<&'static str>,
    parts: Vec<Reckoning>,
}

fn word(kind: CoatKind) -> &'static str {
    match kind {
        CoatKind::Scud => "scud",
        CoatKind::Straightening => "straightening",
        CoatKind::Finish => "finish",
    }
}

/// Order in which words are said: inside out.
fn said(serves: &BTreeSet<&'static str>) -> Vec<String> {
    ["scud", "straightening", "finish", "limewash"].into_iter().filter(|w| serves.contains(w)).map(str::to_owned).collect()
}

/// Whole units of sale; nought for a need or a unit that is no number.
pub(crate) fn units(amount: f64, of_one: f64) -> u32 {
    let count = (amount / of_one - 1e-9).ceil();
    if count.is_finite() { count.clamp(0.0, f64::from(u32::MAX)) as u32 } else { 0 }
}

/// Every material of the job: limes and sands by name, then hessian, ties and water.
pub(crate) fn materials(specification: &Specification, walls: &[WallQuantities], inputs: &Inputs, kept: &mut Reckonings) -> Vec<Material> {
    let mut limes: BTreeMap<&str, Need> = BTreeMap::new();
    let mut sands: BTreeMap<&str, Need> = BTreeMap::new();
    for (wall, amounts) in pairs(specification, walls) {
        for (coat, amount) in wall.coats.iter().zip(&amounts.coats) {
            let part = |name: &str| kept.get(&format!("walls.{}.coats.{}.{name}", wall.slug, coat.slug)).cloned();
            add(limes.entry(&coat.mortar.mix.lime).or_default(), amount.lime_kg, word(coat.kind), part("lime"));
            add(sands.entry(&coat.mortar.mix.sand).or_default(), amount.sand_kg, word(coat.kind), part("sand"));
        }
    }
    for (wall, amounts) in pairs(specification, walls) {
        let Some(last) = wall.coats.last() else { continue };
        let part = |name: &str, kg_m3: f64| tie_mortar(&wall.slug, name, amounts.tie_mortar_m3 * kg_m3, kept);
        let (lime_kg_m3, sand_kg_m3) = (last.mortar.lime_kg_m3, last.mortar.sand_kg_m3);
        add(
            limes.entry(&last.mortar.mix.lime).or_default(),
            amounts.tie_mortar_m3 * lime_kg_m3,
            word(last.kind),
            Some(part("lime", lime_kg_m3)),
        );
        add(
            sands.entry(&last.mortar.mix.sand).or_default(),
            amounts.tie_mortar_m3 * sand_kg_m3,
            word(last.kind),
            Some(part("sand", sand_kg_m3)),
        );
    }
    let limewash_l: f64 = walls.iter().map(|wall| wall.limewash_l).sum();
    add_limewash(specification, walls, inputs, &mut limes, kept);
    let shipped = Catalogue::shipped();
    let mut found: Vec<Material> = Vec::new();
    for (name, need) in limes {
        if let Some(lime) = inputs.catalogue.limes.get(name).or_else(|| shipped.limes.get(name)) {
            found.push(lime_material(name, lime, need, inputs, kept));
        }
    }
    for (name, need) in sands {
        if let Some(sand) = inputs.catalogue.sands.get(name).or_else(|| shipped.sands.get(name)) {
            found.push(sand_material(name, sand, need, inputs, kept));
        }
    }
    found.extend(pigment(specification, limewash_l, inputs, kept));
    found.extend(hessian_and_ties(specification, walls, inputs, kept));
    found.extend(water(specification, walls, limewash_l, inputs, kept));
    found
}

fn pairs<'a>(
    specification: &'a Specification,
    walls: &'a [WallQuantities],
) -> impl Iterator<Item = (&'a crate::WallSpecification, &'a WallQuantities)> {
    specification.walls.iter().filter_map(|wall| walls.iter().find(|amounts| amounts.slug == wall.slug).map(|amounts| (wall, amounts)))
}

fn add(need: &mut Need, amount: f64, serves: &'static str, part: Option<Reckoning>) {
    need.amount += amount;
    need.serves.insert(serves);
    need.parts.extend(part);
}

/// Lime or sand in the mortar of a wall's tie patches.
fn tie_mortar(wall: &str, name: &str, amount_kg: f64, kept: &Reckonings) -> Reckoning {
    Reckoning::worked(
        format!("walls.{wall}.tie-patches.{name}"),
        format!("{name} in the mortar of the tie patches"),
        Value::number(amount_kg, Unit::Kilogram, 1),
        "mortar × content of a cubic metre of the finish",
        kept.get(&format!("walls.{wall}.tie-patches.mortar")).cloned().into_iter().collect(),
        "arithmetic",
    )
}

/// The putty in the limewash.
fn add_limewash<'a>(
    specification: &'a Specification,
    walls: &'a [WallQuantities],
    inputs: &Inputs,
    limes: &mut BTreeMap<&'a str, Need>,
    kept: &Reckonings,
) {
    for (wall, amounts) in pairs(specification, walls) {
        if amounts.limewash_l <= 0.0 {
            continue;
        }
        let name = wall.limewash.lime.as_str();
        let Some(bulk) = inputs.catalogue.limes.get(name).map(|lime| lime.bulk_kg_m3) else { continue };
        let putty_l = amounts.limewash_l / (1.0 + wall.limewash.water_parts);
        let whole = kept.get(&format!("walls.{}.limewash", wall.slug)).cloned();
        let inputs_of = whole.into_iter().chain([known(
            "allowances.limewash_water_parts",
            "measures of water to one of putty",
            &inputs.allowances.limewash_water,
            Unit::One,
            1,
            1.0,
        )]);
        let part = Reckoning::worked(
            format!("walls.{}.limewash-putty", wall.slug),
            "putty in the limewash",
            Value::number(putty_l * bulk / 1000.0, Unit::Kilogram, 0),
            "limewash ÷ (1 + measures of water) × density of putty",
            inputs_of.collect(),
            "arithmetic",
        );
        add(limes.entry(name).or_default(), putty_l * bulk / 1000.0, "limewash", Some(part));
    }
}

/// Amount and units of a material, kept as reckonings.
pub(crate) fn keep(kept: &mut Reckonings, material: &Material, amount: Reckoning, unit_amount: f64) {
    let each = Reckoning::given(
        format!("materials.{}.unit", material.slug),
        format!("one unit of sale: {}", material.unit_name),
        Value::Text(format!("{unit_amount} {}", material.unit)),
        "the catalogue",
        false,
    );
    kept.keep(Reckoning::worked(
        format!("materials.{}.units", material.slug),
        format!("{}, units of sale ({})", material.name, material.unit_name),
        Value::number(f64::from(material.units), Unit::One, 0),
        "amount ÷ one unit, rounded up",
        vec![amount.clone(), each],
        "arithmetic",
    ));
    kept.keep(amount);
}

fn lime_material(name: &str, lime: &Lime, need: Need, inputs: &Inputs, kept: &mut Reckonings) -> Material {
    let waste = &inputs.allowances.waste_lime;
    let amount = need.amount * (1.0 + waste.value);
    let serves = said(&need.serves);
    let material = Material {
        slug: name.to_owned(),
        name: lime.name.clone(),
        amount,
        unit: "kg".to_owned(),
        units: units(amount, lime.unit_kg),
        unit_name: lime.unit_name.clone(),
        purpose: purpose(&serves),
        one_load: false,
        serves,
    };
    let mut parts = need.parts;
    parts.push(known("allowances.waste_lime_percent", "spillage of lime", waste, Unit::PerCent, 0, 100.0));
    let value = Value::number(amount, Unit::Kilogram, 0);
    let amount = Reckoning::worked(
        format!("materials.{name}.amount"),
        lime.name.clone(),
        value,
        "sum over the coats × (1 + spillage)",
        parts,
        "arithmetic",
    );
    keep(kept, &material, amount, lime.unit_kg);
    material
}

fn sand_material(name: &str, sand: &Sand, need: Need, inputs: &Inputs, kept: &mut Reckonings) -> Material {
    let waste = &inputs.allowances.waste_sand;
    let dry_kg = need.amount * (1.0 + waste.value);
    let damp_kg = dry_kg * (1.0 + sand.moisture_share);
    let damp_m3 = dry_kg / sand.loose_kg_m3 * (1.0 + sand.bulking);
    let serves = said(&need.serves);
    let material = Material {
        slug: name.to_owned(),
        name: format!("{}, damp", sand.name),
        amount: damp_kg,
        unit: "kg".to_owned(),
        units: units(damp_kg, sand.unit_kg),
        unit_name: sand.unit_name.clone(),
        purpose: format!("{}; {damp_m3:.1} m³ as it lies damp", purpose(&serves)),
        one_load: need.serves.contains("finish"),
        serves,
    };
    let source = |field: &str| inputs.catalogue.source(&format!("sands.{name}.{field}")).to_owned();
    let mut parts = need.parts;
    parts.push(known("allowances.waste_sand_percent", "spillage of sand", waste, Unit::PerCent, 0, 100.0));
    let moisture = Value::number(100.0 * sand.moisture_share, Unit::PerCent, 0);
    parts.push(Reckoning::given(
        format!("sands.{name}.moisture_share"),
        format!("moisture as delivered, {}", sand.name),
        moisture,
        source("moisture_share"),
        true,
    ));
    let value = Value::number(damp_kg, Unit::Kilogram, 0);
    let amount = Reckoning::worked(
        format!("materials.{name}.amount"),
        material.name.clone(),
        value,
        "sum of dry sand over the coats × (1 + spillage) × (1 + moisture)",
        parts,
        "arithmetic",
    );
    let bulking = Value::number(100.0 * sand.bulking, Unit::PerCent, 0);
    kept.keep(Reckoning::worked(
        format!("materials.{name}.volume"),
        format!("{}, as it lies", material.name),
        Value::number(damp_m3, Unit::CubicMetre, 2),
        "dry sand ÷ loose density × (1 + bulking)",
        vec![
            amount.clone(),
            Reckoning::given(
                format!("sands.{name}.bulking"),
                format!("bulking at that moisture, {}", sand.name),
                bulking,
                source("bulking"),
                true,
            ),
        ],
        "arithmetic",
    ));
    keep(kept, &material, amount, sand.unit_kg);
    material
}

fn purpose(serves: &[String]) -> String {
    match serves {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// Hessian bought once and moved from wall to wall: half of what all walls together hang, but at least what the largest hangs.
fn hessian_and_ties(specification: &Specification, walls: &[WallQuantities], inputs: &Inputs, kept: &mut Reckonings) -> Vec<Material> {
    /// m² of one roll, 46 m by 1.37 m: common practice, no source.
    const ROLL_M2: f64 = 63.0;
    /// Ties in a pack: common practice, no source.
    const PACK: f64 = 100.0;
    let total: f64 = walls.iter().map(|wall| wall.hessian_m2).sum();
    if total <= 0.0 {
        return Vec::new();
    }
    let largest = walls.iter().map(|wall| wall.hessian_m2).fold(0.0, f64::max);
    let at_once = if inputs.scaffold.walls_at_once == Some(1) { largest } else { largest.max(total / 2.0) };
    let hangs = serves_of(specification);
    let parts: Vec<Reckoning> = walls.iter().filter_map(|wall| kept.get(&format!("walls.{}.hessian", wall.slug)).cloned()).collect();
    let hessian = Material {
        slug: "hessian".to_owned(),
        name: "Hessian (jute, 300 g/m²)".to_owned(),
        amount: at_once,
        unit: "m²".to_owned(),
        units: units(at_once, ROLL_M2),
        unit_name: "roll of 46 m by 1.37 m".to_owned(),
        purpose: "hung before fresh coats, used on two walls".to_owned(),
        one_load: false,
        serves: hangs.clone(),
    };
    let value = Value::number(at_once, Unit::SquareMetre, 0);
    let words = "half of what all walls hang, but at least what the largest hangs: it is used twice";
    keep(
        kept,
        &hessian,
        Reckoning::worked("materials.hessian.amount", "hessian to buy", value, words, parts, "common practice, no source"),
        ROLL_M2,
    );
    let ties = Material {
        slug: "ties".to_owned(),
        name: "Ties, stainless wire or plastic".to_owned(),
        amount: (TIES_M2 * total).ceil(),
        unit: "number".to_owned(),
        units: units((TIES_M2 * total).ceil(), PACK),
        unit_name: "pack of 100".to_owned(),
        purpose: "tying hessian at laps, head and foot; nothing that rusts".to_owned(),
        one_load: false,
        serves: hangs,
    };
    let value = Value::number(ties.amount, Unit::One, 0);
    let formula = format!("{TIES_M2} to a m² of hessian hung, new on every wall");
    let amount = Reckoning::worked("materials.ties.amount", "ties", value, formula, vec![], "common practice, no source");
    keep(kept, &ties, amount, PACK);
    vec![hessian, ties]
}

fn serves_of(specification: &Specification) -> Vec<String> {
    let kinds: BTreeSet<&'static str> = specification.walls.iter().flat_map(|wall| wall.coats.iter().map(|coat| word(coat.kind))).collect();
    said(&kinds)
}

/// Water for mixing, limewash, damping down and wetting hessian.
fn water(
    specification: &Specification,
    walls: &[WallQuantities],
    limewash_l: f64,
    inputs: &Inputs,
    kept: &mut Reckonings,
) -> Option<Material> {
    let mixing: f64 = walls.iter().flat_map(|wall| wall.coats.iter().map(|coat| coat.water_l)).sum();
    let parts = inputs.allowances.limewash_water.value;
    let washing = limewash_l * parts / (1.0 + parts);
    let tending: f64 = pairs(specification, walls)
        .map(|(wall, amounts)| {
            let harled_m2 = amounts.coats.first().map_or(0.0, |coat| coat.area_m2);
            tending_l(amounts.hessian_m2, harled_m2, wall, inputs)
        })
        .sum();
    let amount = mixing + washing + tending;
    if amount <= 0.0 {
        return None;
    }
    let litres = |name: &str, label: &str, value: f64, source: &str| {
        Reckoning::given(format!("materials.water.{name}"), label, Value::number(value, Unit::Litre, 0), source, false)
    };
    let material = Material {
        slug: "water".to_owned(),
        name: "Clean water".to_owned(),
        amount,
        unit: "litres".to_owned(),
        units: units(amount, 1000.0),
        unit_name: "m³".to_owned(),
        purpose: "mixing, limewash, damping walls down and wetting hessian".to_owned(),
        one_load: false,
        serves: serves_of(specification),
    };
    let inputs_of = vec![
        litres("mixing", "mixing", mixing, "the yield model"),
        litres("limewash", "limewash", washing, "the limewash's measures of water"),
        litres(
            "tending",
            "damping down before each coat (2 litres a m²) and wetting hessian to what it holds",
            tending,
            "common practice, no source",
        ),
    ];
    let value = Value::number(amount, Unit::Litre, 0);
    keep(kept, &material, Reckoning::worked("materials.water.amount", "clean water", value, "sum", inputs_of, "arithmetic"), 1000.0);
    Some(material)
}
