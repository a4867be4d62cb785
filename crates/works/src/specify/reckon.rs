//! The reckonings of the specification's shown figures: mixes, thicknesses, waits.

use reckoning::{Known, Reckoning, Reckonings, Unit, Value};
use survey::Survey;

use crate::specify::{CoatSpecification, WallSpecification};
use crate::{CoatKind, Inputs};

const PRACTICE: &str = "common practice, no source";

/// A leaf from an answered or assumed number.
pub(crate) fn known(path: &str, label: &str, value: &Known<f64>, unit: Unit, decimals: u8, factor: f64) -> Reckoning {
    Reckoning::given(path, label, Value::number(factor * value.value, unit, decimals), value.source.clone(), value.assumed)
}

/// All figures of the specification.
pub(crate) fn figures(survey: &Survey, inputs: &Inputs, walls: &[WallSpecification]) -> Reckonings {
    let mut kept = Reckonings::default();
    for wall in walls {
        for coat in &wall.coats {
            keep_coat(&mut kept, survey, inputs, wall, coat);
        }
    }
    kept
}

fn keep_coat(kept: &mut Reckonings, survey: &Survey, inputs: &Inputs, wall: &WallSpecification, coat: &CoatSpecification) {
    let path = |name: &str| format!("walls.{}.coats.{}.{name}", wall.slug, coat.slug);
    let system = &inputs.system;
    let lime = Reckoning::given("system.lime", "lime", Value::Text(coat.mix.lime.clone()), system.lime.source.clone(), system.lime.assumed);
    let parts = Value::number(coat.mix.sand_parts, Unit::One, 2);
    let source =
        if system.coats.is_empty() { "strongest at the wall, weaker outward: common practice, no source" } else { "answered in the job" };
    kept.keep(Reckoning::worked(
        path("mix"),
        "parts of dry sand to one of lime, by volume",
        parts,
        "as the mix is spoken",
        vec![lime],
        source,
    ));
    let mut inputs_of = Vec::new();
    if coat.kind == CoatKind::Straightening {
        inputs_of.extend(survey.reckonings.get(&format!("walls.{}.relief.mean", wall.slug)).cloned());
        inputs_of.push(known("system.straight_edge_m", "length of the straight-edge", &system.straight_edge_m, Unit::Metre, 1, 1.0));
    }
    let millimetres = |amount: f64| Value::number(1000.0 * amount, Unit::Millimetre, 1);
    let formula = thickness_words(coat, system.coats.is_empty());
    kept.keep(Reckoning::worked(
        path("thickness"),
        "mean thickness over the whole face",
        millimetres(coat.mean_thickness_m),
        formula,
        inputs_of,
        PRACTICE,
    ));
    kept.keep(Reckoning::worked(
        path("thickest"),
        "thickness that nine tenths of it do not pass",
        millimetres(coat.thickness_m[2]),
        formula,
        vec![],
        PRACTICE,
    ));
    let wait = Value::number(coat.least_wait_days, Unit::Day, 0);
    kept.keep(Reckoning::worked(
        path("least-wait"),
        "least days at or above 5 °C before the next coat",
        wait,
        "at least a week between coats",
        vec![],
        PRACTICE,
    ));
}

fn thickness_words(coat: &CoatSpecification, chosen: bool) -> &'static str {
    match (chosen, coat.kind) {
        (false, CoatKind::Straightening) => "as the job gives it, with the spread of the wall's own relief",
        (false, _) => "as the job gives it, 15 % either way",
        (true, CoatKind::Scud) => "one grain thick, 3 to 4 mm",
        (true, CoatKind::Straightening) => {
            "depth under the straight-edge (growing with the root of its length) and a least cover of 3 mm, or what brings the mean to 9 mm; what passes 15 mm is filled first in passes of 12 mm, in the hollows alone, and round pinning stones beyond that"
        }
        (true, CoatKind::Finish) => "8 mm, 1.5 mm either way",
    }
}
