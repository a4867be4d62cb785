//! Rules on details: reveals, margins, base, wallhead and chimneys, scaffold ties.

use reckoning::Grade;
use survey::{DampKind, DampState, Opening, OpeningKind};

use super::{Case, Departure, PRACTICE, Rule, WallCase};
use crate::CoatKind;
use crate::pieces::bay_days;
use crate::quantities::cloth_m2;
use crate::sheet::{hangs, pace};

pub(super) const RULES: &[Rule] = &[
    Rule {
        name: "reveals-first",
        agrees: "Every opening's reveal is measured; reveals are harled before the face.",
        reason: "Reveals thrown after the face leave a joint on the arris where water enters; reveals forgotten are mortar and days forgotten.",
        source: PRACTICE,
        check: reveals,
    },
    Rule {
        name: "reveal-depth",
        agrees: "Every reveal is deep enough for the harl to stop clear of the frame.",
        reason: "A harl thicker than the reveal oversails the frame, traps water and blocks the sash.",
        source: PRACTICE,
        check: reveal_depth,
    },
    Rule {
        name: "harl-dies-to-margin",
        agrees: "Every opening has a margin or a reveal to which the harl dies.",
        reason: "A harl that ends on an open edge or oversails a dressed stone holds water there and shells.",
        source: PRACTICE,
        check: dies,
    },
    Rule {
        name: "base-stop",
        agrees: "The harl stops 150 mm above the ground, on a dry wall foot.",
        reason: "A harl in touch with the ground drinks from it and is splashed: it is always the first to go.",
        source: PRACTICE,
        check: base,
    },
    Rule {
        name: "wallhead-and-chimneys",
        agrees: "There are no chimneys to harl, and the wallhead is sound.",
        reason: "What stands above the roof is wetted from all sides, and what runs down from it spoils the work below.",
        source: PRACTICE,
        check: wallhead,
    },
    Rule {
        name: "scaffold-ties",
        agrees: "The walls are low enough to be reached without tying a scaffold to them.",
        reason: "Every tie leaves a patch in the finish that shows unless it is harled while the edge is soft and with the same batch.",
        source: PRACTICE,
        check: ties,
    },
    Rule {
        name: "wet-edge",
        agrees: "Every bay of the finish is thrown in one day: joints stand only at corners, downpipes and margins.",
        reason: "A joint in open wall between two days shows for ever.",
        source: PRACTICE,
        check: wet_edge,
    },
];

/// Openings with neither a reveal to harl nor a dressed margin, but for vents.
fn without_reveal_or_margin<'a>(wall: &WallCase<'a>) -> Vec<&'a str> {
    let bare = |o: &&Opening| o.reveal_m <= 0.0 && o.margin_m <= 0.0 && o.kind != OpeningKind::Vent;
    wall.found.openings.iter().filter(bare).map(|o| o.slug.as_str()).collect()
}

fn reveals(case: &Case) -> Vec<Departure> {
    case.walls()
        .filter_map(|wall| {
            let names = without_reveal_or_margin(&wall);
            (!names.is_empty()).then(|| {
                let says = format!("No reveal is measured at {}.", names.join(", "));
                Departure::new(
                    Grade::Note,
                    wall.place(),
                    says,
                    "Measure the depth of the ingo, or enter the dressed margin that takes its place.",
                )
            })
        })
        .collect()
}

fn reveal_depth(case: &Case) -> Vec<Departure> {
    case.walls()
        .filter_map(|wall| {
            let harl_m: f64 = wall.coats.iter().map(|coat| coat.mean_thickness_m).sum();
            let names: Vec<&str> =
                wall.found.openings.iter().filter(|o| o.reveal_m > 0.0 && o.reveal_m < harl_m + 0.010).map(|o| o.slug.as_str()).collect();
            (!names.is_empty()).then(|| {
                let says =
                    format!("The harl is about {:.0} mm thick and leaves the frame no check at {}.", 1000.0 * harl_m, names.join(", "));
                Departure::new(
                    Grade::Think,
                    wall.place(),
                    says,
                    "Thin the coats in the reveal to 10 to 15 mm in all, or stop the harl on a bead of lime at the arris.",
                )
            })
        })
        .collect()
}

fn dies(case: &Case) -> Vec<Departure> {
    case.walls()
        .filter_map(|wall| {
            let names = without_reveal_or_margin(&wall);
            (!names.is_empty()).then(|| {
                let says = format!("The harl has nothing to die to at {}.", names.join(", "));
                Departure::new(
                    Grade::Note,
                    wall.place(),
                    says,
                    "Return it into the ingo, or draw its edge to a feather on the frame's stone with the finish mix.",
                )
            })
        })
        .collect()
}

fn base(case: &Case) -> Vec<Departure> {
    let ground =
        case.survey.building.causes_of_damp.iter().filter(|cause| cause.kind == DampKind::HighGround && cause.state != DampState::Sound);
    let mut found: Vec<Departure> = ground
        .map(|_| {
            Departure::new(
                Grade::Think,
                "job",
                "Ground stands, or may stand, against the wall.",
                "Lower it, or lay a strip of coarse gravel, so that the harl stops 150 mm above it.",
            )
        })
        .collect();
    found.extend(case.walls().filter(|wall| wall.found.dampness.low.value > 0.5).map(|wall| {
        let says = format!("The lowest metre is {:.0} % full of water.", 100.0 * wall.found.dampness.low.value);
        Departure::new(Grade::Think, wall.place(), says, "Leave the lowest metre to last, or limewash it only for the first year.")
    }));
    found
}

fn wallhead(case: &Case) -> Vec<Departure> {
    let mut found: Vec<Departure> = case
        .walls()
        .filter(|wall| !wall.found.chimneys.is_empty())
        .map(|wall| {
            let says =
                format!("{} to be harled with the wall.", if wall.found.chimneys.len() == 1 { "A chimney is" } else { "Chimneys are" });
            Departure::new(
                Grade::Note,
                wall.place(),
                says,
                "Harl chimneys first, over sound flashings and haunching, and catch the run-off; price them as the most exposed faces.",
            )
        })
        .collect();
    let unsound =
        |cause: &&survey::CauseOfDamp| matches!(cause.kind, DampKind::Wallhead | DampKind::Skews) && cause.state != DampState::Sound;
    if case.survey.building.causes_of_damp.iter().any(|cause| unsound(&cause)) {
        found.push(Departure::new(
            Grade::Think,
            "job",
            "The wallhead or the skews are not known to be sound.",
            "Mend them from the scaffold before the first coat, and cover the wallhead against rain meanwhile.",
        ));
    }
    found
}

fn ties(case: &Case) -> Vec<Departure> {
    /// Height above which a scaffold is tied, m.
    const TIED_M: f64 = 4.0;
    case.walls()
        .filter(|wall| wall.measured.top_m > TIED_M)
        .map(|wall| {
            Departure::new(
                Grade::Note,
                wall.place(),
                "The scaffold will be tied to the wall.",
                "Agree ties in joints or openings with the scaffold's designer, keep mortar of each batch and its sand back, and harl each patch as its tie comes out.",
            )
        })
        .collect()
}

fn wet_edge(case: &Case) -> Vec<Departure> {
    let rates = &case.inputs.rates;
    let fastest = case.inputs.gangs.iter().map(pace).fold(0.0, f64::max);
    let mut found = Vec::new();
    for wall in case.walls() {
        let Some(finish) = wall.coats.iter().find(|coat| coat.kind == CoatKind::Finish) else { continue };
        let face_m2 = wall.measured.net_m2 + wall.measured.reveal_m2;
        let hung_m2 = if hangs(&finish.protection) { cloth_m2(wall.measured, wall.specified, case.inputs).min(face_m2) } else { 0.0 };
        let days = bay_days(wall.measured, rates, hung_m2);
        for (number, (days, bay)) in days.iter().zip(&wall.measured.bays).enumerate() {
            if fastest <= 0.0 || days / fastest <= 1.0 + 1e-9 {
                continue;
            }
            let bay_m2 = bay.share * wall.measured.net_m2;
            let what = match wall.measured.bays.len() {
                1 => format!("The finish of the {} is one bay of {bay_m2:.0} m²", crate::reasons::inside(&wall.found.name)),
                _ => format!("Bay {} of the finish of the {} is {bay_m2:.0} m²", number + 1, crate::reasons::inside(&wall.found.name)),
            };
            found.push(Departure::new(
                Grade::Think,
                wall.place(),
                format!("{what}; a gang throws and covers {:.0} m² of it in a day, so a cold joint would stand in it.", bay_m2 * fastest / days),
                "Bring another hand for the finish, put two gangs on it together (write them as one gang), name a downpipe or a margin that hides a \
                 joint, or make the bay smaller.",
            ));
        }
    }
    found
}
