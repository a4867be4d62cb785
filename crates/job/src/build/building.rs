//! The building: stage, causes of damp, and its walls.

use materials::Catalogue;
use reckoning::Finding;
use survey::{Building, CauseOfDamp, DampKind, DampState, Stage};

use super::wall;
use crate::problem::{Fault, nearest};
use crate::reader::Reader;
use crate::relief::ReliefAsked;

pub(super) fn build(
    reader: &mut Reader<'_>,
    catalogue: &Catalogue,
    findings: &mut Vec<Finding>,
    reliefs: &mut Vec<ReliefAsked>,
) -> Building {
    let surveyed_on = reader.date("survey.surveyed_on").map(|date| date.to_string()).unwrap_or_default();
    let stage = match reader.word("survey.stage").as_deref() {
        Some("after-opening-up") => Stage::AfterOpeningUp,
        _ => Stage::BeforeStripping,
    };
    let protected = reader.known_flag("survey.protected");
    let small_opening_m2 = reader.number("survey.small_opening_m2").unwrap_or(0.0);
    let names = reader.names("walls");
    if names.is_empty() && !reader.sheet.is_spoiled("walls") {
        reader.problem(
            Fault::Missing,
            "walls",
            "There is no wall in this job.",
            "Allowed are 1 to 500 walls.",
            "Add one, for example [walls.north] with faces, length_m and height_m.",
        );
    }
    let causes_of_damp = causes(reader, &names);
    let walls = names.iter().map(|name| wall::build(reader, catalogue, name, findings, reliefs)).collect();
    Building { stage, surveyed_on, protected, causes_of_damp, walls, small_opening_m2 }
}

/// All seven causes; one that nobody spoke of has not been seen.
fn causes(reader: &mut Reader<'_>, walls: &[String]) -> Vec<CauseOfDamp> {
    let kinds = [
        ("gutters", DampKind::Gutters),
        ("downpipes", DampKind::Downpipes),
        ("wallhead", DampKind::Wallhead),
        ("skews", DampKind::Skews),
        ("high-ground", DampKind::HighGround),
        ("rusting-iron", DampKind::RustingIron),
        ("salts", DampKind::Salts),
    ];
    kinds.into_iter().map(|(word, kind)| cause(reader, word, kind, walls)).collect()
}

fn cause(reader: &mut Reader<'_>, word: &str, kind: DampKind, walls: &[String]) -> CauseOfDamp {
    let state = match reader.word(&format!("damp.{word}.state")).as_deref() {
        Some("sound" | "mended") => DampState::Sound,
        Some("to-mend") => DampState::ToMend,
        _ => DampState::NotSeen,
    };
    let path = format!("damp.{word}.walls");
    let wets = reader.words(&path);
    for name in wets.iter().filter(|name| !walls.contains(name)) {
        let remedy = match nearest(name, walls.iter().map(String::as_str)) {
            Some(near) => format!("Did you mean {near:?}?"),
            None => "Write the short name of a wall as it stands in [walls.…].".to_owned(),
        };
        reader.problem(
            Fault::NotFound,
            &path,
            format!("There is no wall {name:?}."),
            format!("Allowed are: {}.", walls.join(", ")),
            remedy,
        );
    }
    CauseOfDamp { kind, state, walls: wets }
}
