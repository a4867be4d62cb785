//! Rules on the binder: against the stone, against exposure, no cement.

use reckoning::Grade;

use super::{Case, Departure, PRACTICE, Rule};
use crate::specify::choose::{severe_exposure, softness};

pub(super) const RULES: &[Rule] = &[
    Rule {
        name: "cement",
        agrees: "There is no cement in the system.",
        reason: "Cement is harder and tighter than the wall: it cracks, lets rain in and keeps it, and fails all at once and in sheets.",
        source: "published guidance of conservation bodies on cement renders on traditional walls; common practice",
        check: cement,
    },
    Rule {
        name: "binder-against-stone",
        agrees: "No lime is stronger than the stone bears.",
        reason: "A coat stronger than its stone pulls the face off when it moves, and drives the weather into the stone.",
        source: "suppliers' published tables (soft stone NHL 2 or 3.5, denser stone 3.5 or 5); common practice",
        check: against_stone,
    },
    Rule {
        name: "binder-against-exposure",
        agrees: "No severely exposed wall is left to air lime alone.",
        reason: "Driving rain washes an air lime before it has taken up enough to stand it.",
        source: PRACTICE,
        check: against_exposure,
    },
];

fn cement(case: &Case) -> Vec<Departure> {
    let share = case.inputs.system.cement_share;
    // Written so that a share that is no number counts as cement.
    if share <= 0.0 {
        return Vec::new();
    }
    vec![Departure::new(
        Grade::Stop,
        "job",
        format!("The job asks for {:.0} parts of cement in a hundred of binder.", 100.0 * share),
        "Leave the cement out; where a faster set is needed, take a natural hydraulic lime that the stone bears.",
    )]
}

fn against_stone(case: &Case) -> Vec<Departure> {
    case.walls()
        .flat_map(|wall| {
            let most_mpa = [2.0, 3.5, 5.0][usize::from(softness(&case.inputs.catalogue, wall.found))];
            let masonry = wall.found.masonry.value.clone();
            wall.coats
                .iter()
                .filter_map(|coat| {
                    let lime = case.inputs.catalogue.limes.get(&coat.mix.lime)?;
                    let class = lime.class_mpa.filter(|class| *class > most_mpa)?;
                    let grade = if class > most_mpa + 2.0 { Grade::Stop } else { Grade::Think };
                    let says = format!("{} is stronger than {masonry} usually bears (class {most_mpa}).", lime.name);
                    Some(Departure::new(
                        grade,
                        wall.coat_place(coat),
                        says,
                        "Take a weaker lime, or show by a panel and the stone's own tests that it bears it.",
                    ))
                })
                .collect::<Vec<_>>()
        })
        .collect()
}

fn against_exposure(case: &Case) -> Vec<Departure> {
    case.walls()
        .filter(|wall| severe_exposure(wall.found))
        .filter(|wall| wall.coats.last().is_some_and(|coat| case.is_air_lime(coat)))
        .map(|wall| {
            Departure::new(
                Grade::Think,
                wall.place(),
                "The wall stands on the shore with nothing before it and no eaves over it, and its finish is an air lime.",
                "Sheet the scaffold until the finish is carbonated and limewashed, begin early in the season, or take a natural hydraulic lime that the stone bears.",
            )
        })
        .collect()
}
