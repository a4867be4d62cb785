//! Rules on the wall as it stands: causes of damp, wetness, salts, drying out after cement, suction, old boundaries.

use reckoning::Grade;
use survey::{DampKind, DampState, Inside, OldCovering};

use super::{Case, Departure, PRACTICE, Rule};
use crate::specify::words::damp_words;

/// Saturation above which a coat behind damp hessian is not ready for weeks in cold damp weather, and above which it does not hold.
const DAMP: f64 = 0.35;
const WET: f64 = 0.60;

pub(super) const RULES: &[Rule] = &[
    Rule {
        name: "cause-of-damp",
        agrees: "Gutters, downpipes, wallhead, skews, ground and iron were looked at and are sound.",
        reason: "A harl lets a wall dry; it does not mend a gutter. Under a leak it stays wet, takes up nothing and freezes off.",
        source: PRACTICE,
        check: causes,
    },
    Rule {
        name: "salts",
        agrees: "The walls were looked at for salts and none trouble them.",
        reason: "Salts crystallise in the new coat where it dries and push it off.",
        source: "published salt classes for masonry (chloride 0.2 and 0.5 %, nitrate 0.1 and 0.3 %, sulphate 0.5 and 1.5 % of dry mass), from memory",
        check: salts,
    },
    Rule {
        name: "wall-too-wet",
        agrees: "No part of a wall is more than about a third full of water.",
        reason: "A coat on a wet wall stays full of water: no air reaches its lime, and a frost finds it saturated.",
        source: "trial of the curing model (a wall more than a third full is not ready in six cold weeks); the limits are common practice, no source",
        check: wet,
    },
    Rule {
        name: "bared-too-recently",
        agrees: "Walls that carried cement or paint have stood bare for a year, or never carried any.",
        reason: "A wall that was sealed for decades gives up its water over months: harled too soon, it dries through the new coat.",
        source: "common practice (3 to 12 months, one summer at least); a long-standing building research rule has a month for each 25 mm",
        check: bared,
    },
    Rule {
        name: "suction",
        agrees: "The splash test agrees with the stone named, and the wall neither robs nor sheds the first coat.",
        reason: "A thirsty wall takes the water from the mortar before it sets; a wall that sheds water lets the coat slip.",
        source: "common practice (gone in 10 to 20 seconds is thirsty, 20 to 60 usual, beads low)",
        check: suction,
    },
    Rule {
        name: "weather-on-both-sides",
        agrees: "Every wall has a roofed building behind it.",
        reason: "A wall that rain enters from the top or the back never dries through one harled face.",
        source: PRACTICE,
        check: both_sides,
    },
];

fn causes(case: &Case) -> Vec<Departure> {
    use DampKind::*;
    let building = &case.survey.building;
    let mut found: Vec<Departure> = building
        .causes_of_damp
        .iter()
        .filter(|cause| cause.kind != Salts)
        .filter_map(|cause| {
            let words = damp_words(cause.kind);
            let place = match cause.walls.as_slice() {
                [] => "job".to_owned(),
                [one] => format!("walls.{one}"),
                many => format!("walls {}", many.join(", ")),
            };
            match cause.state {
                DampState::Sound => None,
                DampState::ToMend => Some(Departure::new(
                    Grade::Stop,
                    place,
                    format!("To be mended and not yet mended: {words}."),
                    format!("Mend the {words} and let the wall dry before the first coat."),
                )),
                DampState::NotSeen => Some(Departure::new(
                    Grade::Think,
                    place,
                    format!("Nobody has looked at: {words}."),
                    "Look at it in heavy rain, or have it looked at from the scaffold before the first coat.".to_owned(),
                )),
            }
        })
        .collect();
    for kind in [Gutters, Downpipes, Wallhead, Skews, HighGround, RustingIron] {
        if !building.causes_of_damp.iter().any(|cause| cause.kind == kind) {
            let says = format!("The survey says nothing of: {}.", damp_words(kind));
            found.push(Departure::new(Grade::Think, "job", says, "Look, and enter it as sound or to mend."));
        }
    }
    found
}

fn salts(case: &Case) -> Vec<Departure> {
    let state = case.survey.building.causes_of_damp.iter().find(|cause| cause.kind == DampKind::Salts).map(|cause| cause.state);
    match state {
        Some(DampState::Sound) => Vec::new(),
        Some(DampState::ToMend) => vec![Departure::new(
            Grade::Think,
            "job",
            "Salts were found in the wall.",
            "Have samples weighed for chloride, nitrate and sulphate; brush off dry, and lay a sacrificial lime coat to be taken off again before the harl. Never seal it in.",
        )],
        Some(DampState::NotSeen) | None => vec![Departure::new(
            Grade::Note,
            "job",
            "Nobody has looked for salts.",
            "Look for white fur and tide lines in dry weather, most of all round old stables, chimneys and the lowest metre.",
        )],
    }
}

fn wet(case: &Case) -> Vec<Departure> {
    case.walls()
        .filter_map(|wall| {
            let dampness = &wall.found.dampness;
            let heights = [("low", &dampness.low), ("in the middle", &dampness.middle), ("high", &dampness.high)];
            let (where_to, wettest) = heights.into_iter().max_by(|a, b| a.1.value.total_cmp(&b.1.value))?;
            let grade = if wettest.value > WET { Grade::Stop } else { Grade::Think };
            let says = format!("The wall is {:.0} % full of water {where_to}{}.", 100.0 * wettest.value, if wettest.assumed { " (assumed)" } else { "" });
            (wettest.value > DAMP).then(|| {
                Departure::new(grade, wall.place(), says, "Find out where the water comes from, let the wall dry under cover with air moving, warm the room behind, and cover with netting rather than damp hessian in cold damp weather.")
            })
        })
        .collect()
}

fn bared(case: &Case) -> Vec<Departure> {
    case.walls()
        .filter_map(|wall| {
            if wall.found.old_covering.value == OldCovering::Cement && wall.found.bared_months.is_none() {
                return Some(Departure::new(
                    Grade::Think,
                    wall.place(),
                    "A cement covering is still to come off, and the wall behind it has not begun to dry.",
                    "Strip it and leave the wall bare over a summer, 3 to 12 months, before the first coat.",
                ));
            }
            let months = wall.found.bared_months.as_ref()?;
            let grade = match months.value {
                m if m < 3.0 => Grade::Stop,
                m if m < 6.0 => Grade::Think,
                m if m < 12.0 => Grade::Note,
                _ => return None,
            };
            let says = format!("The sealed covering came off only {:.0} months before the survey.", months.value);
            Some(Departure::new(
                grade,
                wall.place(),
                says,
                "Leave it bare until two readings a month apart no longer fall, or a summer has passed.",
            ))
        })
        .collect()
}

fn suction(case: &Case) -> Vec<Departure> {
    case.walls()
        .filter(|wall| !wall.found.splash_s.assumed)
        .filter_map(|wall| {
            let masonry = case.inputs.catalogue.masonries.get(&wall.found.masonry.value)?;
            let seconds = wall.found.splash_s.value;
            let (low, high) = masonry.splash_s;
            if seconds < low / 2.0 || seconds > high * 2.0 {
                let says = format!("A splash is gone in {seconds:.0} seconds, where {} usually takes {low:.0} to {high:.0}.", masonry.name);
                return Some(Departure::new(
                    Grade::Think,
                    wall.place(),
                    says,
                    "Scratch and look again: the stone may be another, or sealed with an old coat.",
                ));
            }
            (seconds < 10.0).then(|| {
                Departure::new(
                    Grade::Note,
                    wall.place(),
                    format!("The wall is thirsty: a splash is gone in {seconds:.0} seconds."),
                    "Damp down twice, the evening before and half an hour before each coat, until it no longer drinks at once.",
                )
            })
        })
        .collect()
}

fn both_sides(case: &Case) -> Vec<Departure> {
    case.walls()
        .filter(|wall| matches!(wall.found.inside.value, Inside::Roofless | Inside::FreeStanding))
        .map(|wall| {
            Departure::new(
                Grade::Think,
                wall.place(),
                "Weather stands on both sides of this wall.",
                "Cope the wallhead with lime and stone or lead first, and harl both faces or leave the back open to dry.",
            )
        })
        .collect()
}
