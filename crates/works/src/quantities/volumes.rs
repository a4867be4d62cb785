//! Mortar by coat on one wall: in place, to be mixed, and the range that the survey and the allowances leave open.

use reckoning::{Known, Reckoning, Reckonings, Unit, Value};
use survey::WallMeasured;

use crate::quantities::extras;
use crate::specify::known;
use crate::{CoatKind, CoatQuantities, CoatSpecification, Inputs, Placing, WallQuantities, WallSpecification};

/// How far the mean thickness of a scud and of a finish may lie from the specified one, as shares: common practice, no source.
const EVEN_COAT_RANGE: (f64, f64) = (0.9, 1.1);

/// What is spilt and what rebounds of a coat, share of what stays on the wall.
pub(crate) fn allowance<'a>(inputs: &'a Inputs, coat: &CoatSpecification) -> (&'a Known<f64>, &'static str, &'static str) {
    let allowances = &inputs.allowances;
    match (coat.kind, coat.placing) {
        (CoatKind::Scud, _) => (&allowances.rebound_scud, "allowances.rebound_scud_percent", "rebound and waste of the scud"),
        (_, Placing::Thrown) => (&allowances.rebound_thrown, "allowances.rebound_thrown_percent", "rebound and waste of a thrown coat"),
        (_, Placing::Laid) => (&allowances.waste_laid, "allowances.waste_laid_percent", "waste of a laid coat"),
    }
}

/// Quantities of one wall, resting on the reckonings of the survey and the specification.
pub(crate) fn wall(
    earlier: [&Reckonings; 2],
    measured: &WallMeasured,
    specified: &WallSpecification,
    inputs: &Inputs,
    kept: &mut Reckonings,
) -> WallQuantities {
    let fill = fill_range(measured, specified, inputs);
    let coats = specified
        .coats
        .iter()
        .map(|coat| {
            let thickness = if coat.kind == CoatKind::Straightening { fill } else { EVEN_COAT_RANGE };
            let found = coat_quantities(measured, coat, inputs, thickness);
            keep_coat(earlier, measured, coat, &found, inputs, kept);
            found
        })
        .collect();
    let area_m2 = measured.net_m2 + measured.reveal_m2;
    let (tie_patches, tie_mortar_m3) = extras::tie_patches(measured, specified, inputs, kept);
    WallQuantities {
        slug: specified.slug.clone(),
        coats,
        limewash_l: extras::limewash_l(area_m2, specified, inputs, kept),
        hessian_m2: extras::hessian_m2(measured, specified, inputs, kept),
        tie_patches,
        tie_mortar_m3,
    }
}

/// Low and high of the straightening's mean as shares of it: the range of the relief, with the cover over it unchanged.
fn fill_range(measured: &WallMeasured, specified: &WallSpecification, inputs: &Inputs) -> (f64, f64) {
    let relief = measured.relief.under(inputs.system.straight_edge_m.value);
    let whole_m: f64 = specified.coats.iter().filter(|c| c.kind == CoatKind::Straightening).map(|c| c.mean_thickness_m).sum();
    if whole_m <= 0.0 {
        return (1.0, 1.0);
    }
    let share = |end_m: f64| ((whole_m + end_m - relief.mean_m) / whole_m).max(0.2);
    (share(relief.mean_range_m.0).min(1.0), share(relief.mean_range_m.1).max(1.0))
}

fn coat_quantities(measured: &WallMeasured, coat: &CoatSpecification, inputs: &Inputs, thickness: (f64, f64)) -> CoatQuantities {
    let area_m2 = measured.net_m2 + measured.reveal_m2;
    let net_m3 = area_m2 * coat.mean_thickness_m;
    let (share, ..) = allowance(inputs, coat);
    let (low, high) = share.range.unwrap_or((share.value, share.value));
    let mixed_m3 = net_m3 * (1.0 + share.value);
    CoatQuantities {
        slug: coat.slug.clone(),
        area_m2,
        mean_thickness_m: coat.mean_thickness_m,
        net_m3,
        mixed_m3,
        mixed_range_m3: (net_m3 * thickness.0 * (1.0 + low.min(share.value)), net_m3 * thickness.1 * (1.0 + high.max(share.value))),
        lime_kg: mixed_m3 * coat.mortar.lime_kg_m3,
        sand_kg: mixed_m3 * coat.mortar.sand_kg_m3,
        water_l: mixed_m3 * coat.mortar.water_added_kg_m3,
    }
}

const ARITHMETIC: &str = "arithmetic";

fn keep_coat(
    earlier: [&Reckonings; 2],
    measured: &WallMeasured,
    coat: &CoatSpecification,
    found: &CoatQuantities,
    inputs: &Inputs,
    kept: &mut Reckonings,
) {
    let path = |name: &str| format!("walls.{}.coats.{}.{name}", measured.slug, coat.slug);
    let of_earlier = |path: &str| earlier.iter().find_map(|stage| stage.get(path)).cloned();
    let areas = ["net", "reveals"].iter().filter_map(|name| of_earlier(&format!("walls.{}.{name}", measured.slug))).collect();
    let value = Value::number(found.area_m2, Unit::SquareMetre, 1);
    let area = Reckoning::worked(path("area"), "face and reveals", value, "face + reveals", areas, ARITHMETIC);
    let thickness = of_earlier(&path("thickness"));
    let (share, share_path, label) = allowance(inputs, coat);
    let volume = Reckoning::worked(
        path("volume"),
        "mortar to be mixed",
        Value::number(found.mixed_m3, Unit::CubicMetre, 2),
        "area × mean thickness × (1 + rebound and waste)",
        [Some(area), thickness, Some(known(share_path, label, share, Unit::PerCent, 0, 100.0))].into_iter().flatten().collect(),
        ARITHMETIC,
    );
    let range = Reckoning::worked(
        path("volume-range"),
        "mortar to be mixed, honest range",
        Value::Text(format!("{:.2} to {:.2} m³", found.mixed_range_m3.0, found.mixed_range_m3.1)),
        "the ends of the relief's range (straightening) or a tenth either way, times the ends of the allowance's range",
        vec![volume.clone()],
        "common practice, no source",
    );
    keep_parts(&path, coat, found, &volume, inputs, kept);
    kept.keep(range);
    kept.keep(volume);
}

fn keep_parts(
    path: &dyn Fn(&str) -> String,
    coat: &CoatSpecification,
    found: &CoatQuantities,
    volume: &Reckoning,
    inputs: &Inputs,
    kept: &mut Reckonings,
) {
    let mortar = &coat.mortar;
    let words = "sum of mass over solid density, divided by 1 − 5 % of air: the yield model, checked against handbook yields";
    for (name, label, amount, unit, each) in [
        ("lime", "lime into the mixer", found.lime_kg, Unit::Kilogram, mortar.lime_kg_m3),
        ("sand", "dry sand into the mixer", found.sand_kg, Unit::Kilogram, mortar.sand_kg_m3),
        ("water", "water into the mixer", found.water_l, Unit::Litre, mortar.water_added_kg_m3),
    ] {
        let each = Reckoning::worked(
            path(&format!("{name}-each")),
            format!("{label}, of each m³ of mortar"),
            Value::number(each, Unit::KilogramPerCubicMetre, 0),
            words,
            densities(coat, inputs),
            "yield model",
        );
        kept.keep(Reckoning::worked(
            path(name),
            label,
            Value::number(amount, unit, 0),
            "volume × content of a cubic metre",
            vec![volume.clone(), each],
            ARITHMETIC,
        ));
    }
}

/// The catalogue's densities under a yield, with their sources.
fn densities(coat: &CoatSpecification, inputs: &Inputs) -> Vec<Reckoning> {
    let catalogue = &inputs.catalogue;
    let (lime, sand) = (&coat.mix.lime, &coat.mix.sand);
    let leaf = |path: String, label: String, amount: f64| {
        let source = catalogue.source(&path).to_owned();
        Reckoning::given(path, label, Value::number(amount, Unit::KilogramPerCubicMetre, 0), source, false)
    };
    let mut leaves = Vec::new();
    if let Some(entry) = catalogue.limes.get(lime) {
        leaves.push(leaf(format!("limes.{lime}.bulk_kg_m3"), format!("bulk density of {}", entry.name), entry.bulk_kg_m3));
    }
    if let Some(entry) = catalogue.sands.get(sand) {
        leaves.push(leaf(format!("sands.{sand}.loose_kg_m3"), format!("loose density of {}", entry.name), entry.loose_kg_m3));
    }
    leaves.push(Reckoning::given(
        "mix",
        "parts of dry sand to one of lime",
        Value::number(coat.mix.sand_parts, Unit::One, 2),
        "the specification",
        false,
    ));
    leaves
}
