//! Rules on thickness: falling outward, grain, pass limit, hollows, the straight-edge, the whole harl.

use reckoning::Grade;

use super::{Case, Departure, PRACTICE, Rule, WallCase};
use crate::specify::{CoatSpecification, PASS_ABSOLUTE_M, PASS_LIMIT_M};
use crate::{CoatKind, Placing};

pub(super) const RULES: &[Rule] = &[
    Rule {
        name: "thickness-outward",
        agrees: "No coat is thicker than what is behind it (the thin scud excepted).",
        reason: "A thick coat on a thin one shrinks harder than the thin one holds.",
        source: "suppliers' published guidance; common practice",
        check: outward,
    },
    Rule {
        name: "grain-against-thickness",
        agrees: "Every sand's largest grain suits its coat.",
        reason: "Too large a grain tears under the trowel or stands out of a thin coat; too small a one shrinks in a thick coat.",
        source: "common practice, no source (laid: a third of the coat, on rubble up to half; thrown: up to its thickness)",
        check: grain,
    },
    Rule {
        name: "pass-limit",
        agrees: "No pass is thicker than 12 mm in the middle and 15 mm anywhere (scud 5 mm, finish 10 mm).",
        reason: "A thick pass slumps, shrinks in map cracks and stays soft inside for months.",
        source: "suppliers' published tables (6 to 12 mm a pass, 15 mm absolute for putty); common practice",
        check: pass_limit,
    },
    Rule {
        name: "deep-hollows",
        agrees: "No hollow is deeper than 40 mm.",
        reason: "Mortar in a deep hollow never hardens through; stone in it saves mortar and holds.",
        source: "common practice (hollows deeper than 40 mm are always pinned)",
        check: hollows,
    },
    Rule {
        name: "straightening-fills",
        agrees: "The straightening coats are as thick as the evenness of the wall asks.",
        reason: "What the straightening does not fill the finish must, or the wall shows every stone.",
        source: PRACTICE,
        check: fills,
    },
    Rule {
        name: "straight-edge",
        agrees: "The straight-edge suits the wall.",
        reason: "A long edge on old rubble takes much mortar and makes an old wall look dead; a short one leaves its undulation.",
        source: PRACTICE,
        check: straight_edge,
    },
];

/// Thickness of what is behind the finish: all straightening passes together.
fn outward(case: &Case) -> Vec<Departure> {
    const SAME_M: f64 = 1e-6;
    case.walls()
        .filter_map(|wall| {
            let sum = |kind| wall.coats.iter().filter(|coat| coat.kind == kind).map(|coat| coat.mean_thickness_m).sum::<f64>();
            let (behind_m, finish_m) = (sum(CoatKind::Straightening), sum(CoatKind::Finish));
            (behind_m > 0.0 && finish_m > behind_m + SAME_M).then(|| {
                let says = format!(
                    "The finish ({:.0} mm) is thicker than the straightening behind it ({:.0} mm).",
                    1000.0 * finish_m,
                    1000.0 * behind_m
                );
                Departure::new(Grade::Think, wall.place(), says, "Thicken the straightening, or throw a thinner finish.")
            })
        })
        .collect()
}

fn grain(case: &Case) -> Vec<Departure> {
    case.walls().flat_map(|wall| wall.coats.iter().filter_map(|coat| grain_of(&wall, coat)).collect::<Vec<_>>()).collect()
}

fn grain_of(wall: &WallCase, coat: &CoatSpecification) -> Option<Departure> {
    // Where a pass fills hollows only, its thickness is that of the hollows, and its feathered edge is left out.
    let hollows_only = coat.mean_thickness_m < coat.thickness_m[0];
    let thick_mm = 1000.0 * if hollows_only { coat.thickness_m[2] } else { coat.mean_thickness_m.max(coat.thickness_m[1]) };
    let share = coat.largest_grain_mm / thick_mm;
    let (limit, words) = match (coat.kind, coat.placing) {
        // One grain thick: the largest grains stand a little proud.
        (CoatKind::Scud, _) => (1.35, "a little over its thickness"),
        (_, Placing::Thrown) => (1.05, "its thickness"),
        (_, Placing::Laid) => (0.5, "half its thickness"),
    };
    if share > limit {
        let says = format!("{}: grains of {:.0} mm in a coat of {thick_mm:.1} mm; the most is {words}.", coat.name, coat.largest_grain_mm);
        return Some(Departure::new(
            Grade::Think,
            wall.coat_place(coat),
            says,
            "Take a finer sand for this coat, or make the coat thicker.",
        ));
    }
    if coat.largest_grain_mm < 0.1 * thick_mm && coat.kind != CoatKind::Scud {
        let says = format!("{}: the largest grain ({:.1} mm) is small for a coat of {thick_mm:.1} mm.", coat.name, coat.largest_grain_mm);
        return Some(Departure::new(Grade::Think, wall.coat_place(coat), says, "Take a coarser sand, or lay it in thinner passes."));
    }
    None
}

fn pass_limit(case: &Case) -> Vec<Departure> {
    case.walls().flat_map(|wall| wall.coats.iter().filter_map(|coat| pass_of(&wall, coat)).collect::<Vec<_>>()).collect()
}

fn pass_of(wall: &WallCase, coat: &CoatSpecification) -> Option<Departure> {
    const HAIR_M: f64 = 1e-6;
    let (middle_m, most_m) = match coat.kind {
        CoatKind::Scud => (0.005, 0.005),
        CoatKind::Straightening => (PASS_LIMIT_M, PASS_ABSOLUTE_M),
        CoatKind::Finish => (0.010, 0.010),
    };
    let [_, middle, thickest] = coat.thickness_m;
    let grade = match thickest {
        thick if thick > PASS_ABSOLUTE_M + HAIR_M => Grade::Stop,
        thick if thick > most_m + HAIR_M || middle > middle_m + HAIR_M => Grade::Think,
        _ => return None,
    };
    let says = format!(
        "{}: {:.0} mm in the middle and {:.0} mm at the thickest in one pass; the most is {:.0} and {:.0} mm.",
        coat.name,
        1000.0 * middle,
        1000.0 * thickest,
        1000.0 * middle_m,
        1000.0 * most_m
    );
    Some(Departure::new(grade, wall.coat_place(coat), says, "Split it into passes with a wait between, the hollows first."))
}

fn hollows(case: &Case) -> Vec<Departure> {
    const PINNED_M: f64 = 0.040;
    case.walls()
        .filter_map(|wall| {
            let relief = wall.measured.relief.under(case.inputs.system.straight_edge_m.value);
            (relief.deepest_m > PINNED_M).then(|| {
                let says = format!("The deepest hollow is about {:.0} mm under the straight-edge.", 1000.0 * relief.deepest_m);
                Departure::new(Grade::Note, wall.place(), says, "Pin hollows deeper than 40 mm with stone in the straightening mix, and let them firm, before the first pass over the whole.")
            })
        })
        .collect()
}

fn fills(case: &Case) -> Vec<Departure> {
    const HAIR_M: f64 = 0.0015;
    case.walls()
        .filter_map(|wall| {
            let relief = wall.measured.relief.under(case.inputs.system.straight_edge_m.value);
            let given_m: f64 = wall.coats.iter().filter(|c| c.kind == CoatKind::Straightening).map(|c| c.mean_thickness_m).sum();
            (given_m + HAIR_M < relief.mean_m).then(|| {
                let says = format!(
                    "The straightening is {:.0} mm in the mean, and the wall asks {:.0} mm.",
                    1000.0 * given_m,
                    1000.0 * relief.mean_m
                );
                Departure::new(
                    Grade::Think,
                    wall.place(),
                    says,
                    "Add a pass in the hollows, or rule with a shorter straight-edge and accept the undulation.",
                )
            })
        })
        .collect()
}

fn straight_edge(case: &Case) -> Vec<Departure> {
    let edge_m = case.inputs.system.straight_edge_m.value;
    case.walls()
        .filter(|wall| edge_m > 1.2 && wall.measured.relief.mean_m > 0.010)
        .map(|wall| {
            let says = format!("A straight-edge of {edge_m} m is long for so uneven a wall.");
            Departure::new(
                Grade::Note,
                wall.place(),
                says,
                "Look at an edge of 0.6 to 0.9 m on the panel: it takes less mortar and leaves the wall its character.",
            )
        })
        .collect()
}
