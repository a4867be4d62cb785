//! Rules on mixes: strength falls outward, sharp sand, few fines, scud where the wall needs one, limewash.

use reckoning::Grade;

use super::{Case, Departure, PRACTICE, Rule};
use crate::CoatKind;
use crate::specify::CoatSpecification;
use crate::specify::choose::severe_exposure;

pub(super) const RULES: &[Rule] = &[
    Rule {
        name: "strength-outward",
        agrees: "Every coat is no stronger than the one behind it.",
        reason: "A strong coat on a weak one shrinks, cracks and shears it off; weaker outward, the weather wears the skin and spares the rest.",
        source: "published conservation articles on lime harling; common practice (exception: one mix throughout under severe exposure)",
        check: strength,
    },
    Rule {
        name: "soft-sand",
        agrees: "Only sharp sand is used.",
        reason: "Soft rounded building sand packs loosely, takes much water, shrinks and has no teeth.",
        source: PRACTICE,
        check: soft_sand,
    },
    Rule {
        name: "sand-fines",
        agrees: "No sand holds more than 5 % of fines.",
        reason: "Silt and clay part the lime from the grain: the coat shrinks, cracks and dusts.",
        source: "EN 13139 fines category 2 (at most 5 % below 0.063 mm for rendering), from memory",
        check: fines,
    },
    Rule {
        name: "voids-filled",
        agrees: "Every mix has lime enough to fill the voids of its sand.",
        reason: "Where the paste does not fill the voids between the grains, the mortar is short, weak and lets water through.",
        source: "void test of building handbooks and conservation articles (one of lime to 1/v of dry sand; common sands a third, hence 1:3)",
        check: voids,
    },
    Rule {
        name: "scud-on-dense-wall",
        agrees: "Dense, mixed or slow-drinking walls have a scud coat.",
        reason: "A dense stone gives no suction: without a thrown, rough, strong first coat the next slides or shells off.",
        source: "suppliers' published tables (a stipple coat of 3 to 5 mm on dense walls); common practice",
        check: scud,
    },
    Rule {
        name: "limewash-coats",
        agrees: "The finish gets at least four coats of limewash.",
        reason: "Limewash is the sacrificial skin: it closes hair cracks, sheds rain and wears instead of the harl.",
        source: "published limewash guidance (3 to 6 coats on new work); common practice",
        check: limewash_coats,
    },
    Rule {
        name: "limewash-on-uncured-coat",
        agrees: "Limewash waits until the finish has had at least four weeks, or is hydraulic and has had one.",
        reason: "Limewash on a green coat seals it before it has taken up what it needs, and crazes with it.",
        source: "common practice (a week at the least; 28 days preferred on air lime)",
        check: limewash_wait,
    },
];

fn strength(case: &Case) -> Vec<Departure> {
    const SAME: f64 = 1.001;
    case.walls()
        .flat_map(|wall| {
            let severe = severe_exposure(wall.found);
            wall.coats
                .windows(2)
                .filter(|pair| pair[1].mortar.strength_rank > SAME * pair[0].mortar.strength_rank)
                .map(|pair| {
                    let grade = if severe { Grade::Think } else { Grade::Stop };
                    let spoken = |index: usize| format!("{} 1 : {}", pair[index].mix.lime, pair[index].mix.sand_parts);
                    let says = format!("{} ({}) is stronger than {} behind it ({}).", pair[1].name, spoken(1), pair[0].name, spoken(0));
                    let remedy = "Put the strongest mix against the wall and each further one weaker: more sand, or a weaker lime.";
                    Departure::new(grade, wall.coat_place(&pair[1]), says, remedy)
                })
                .collect::<Vec<_>>()
        })
        .collect()
}

/// Sands used, with the coats they serve.
fn sands<'a>(case: &'a Case) -> Vec<&'a str> {
    let mut names: Vec<&str> = case.walls.iter().flat_map(|wall| wall.coats.iter().map(|coat| coat.mix.sand.as_str())).collect();
    names.sort_unstable();
    names.dedup();
    names
}

fn soft_sand(case: &Case) -> Vec<Departure> {
    sands(case)
        .into_iter()
        .filter_map(|name| case.inputs.catalogue.sands.get(name))
        .filter(|sand| !sand.sharp)
        .map(|sand| {
            Departure::new(
                Grade::Stop,
                "job",
                format!("{} is a soft sand.", sand.name),
                "Take a sharp, coarse, concrete-grade sand with grains of all sizes.",
            )
        })
        .collect()
}

fn fines(case: &Case) -> Vec<Departure> {
    sands(case)
        .into_iter()
        .filter_map(|name| case.inputs.catalogue.sands.get(name))
        .filter(|sand| sand.fines_share > 0.05)
        .map(|sand| {
            let says = format!("{} holds {:.1} % of fines.", sand.name, 100.0 * sand.fines_share);
            Departure::new(Grade::Think, "job", says, "Shake the sand with salt water in a jar; wash it, or take another.")
        })
        .collect()
}

fn voids(case: &Case) -> Vec<Departure> {
    /// Loose sand settles by about a tenth in the void test, which closes that much of its voids: common practice, no source.
    const TAPPED: f64 = 1.10;
    let lean = |coat: &CoatSpecification| {
        let sand = case.inputs.catalogue.sands.get(&coat.mix.sand)?;
        let voids = materials::voids_share(TAPPED * sand.loose_kg_m3, sand.particle_kg_m3);
        let most_parts = 1.0 / voids.max(0.05);
        (coat.mix.sand_parts > most_parts).then(|| {
            let says = format!(
                "{}: one of lime to {} of {} does not fill the sand's voids ({:.0} % when tapped); the most is about {most_parts:.1}.",
                coat.name,
                coat.mix.sand_parts,
                sand.name,
                100.0 * voids
            );
            (says, "Make the void test with the sand that is delivered, and add lime or take a better graded sand.")
        })
    };
    case.walls()
        .flat_map(|wall| {
            wall.coats
                .iter()
                .filter_map(|coat| lean(coat).map(|(says, remedy)| Departure::new(Grade::Think, wall.coat_place(coat), says, remedy)))
                .collect::<Vec<_>>()
        })
        .collect()
}

fn scud(case: &Case) -> Vec<Departure> {
    const SLOW_S: f64 = 60.0;
    case.walls()
        .filter(|wall| !wall.has(CoatKind::Scud))
        .filter_map(|wall| {
            let dense = case.inputs.catalogue.masonries.get(&wall.found.masonry.value).is_some_and(|masonry| masonry.dense);
            let slow = wall.found.splash_s.value > SLOW_S;
            let why = if dense { "dense or mixed stone" } else { "a wall that hardly drinks" };
            (dense || slow).then(|| {
                Departure::new(
                    Grade::Stop,
                    wall.place(),
                    format!("There is no scud coat on {why}."),
                    "Throw a scud of the strongest mix, 3 to 5 mm and very wet, and let it harden before the next coat.",
                )
            })
        })
        .collect()
}

fn limewash_coats(case: &Case) -> Vec<Departure> {
    let coats = case.inputs.system.limewash_coats.value;
    if coats >= 4 {
        return Vec::new();
    }
    let grade = if coats == 0 { Grade::Think } else { Grade::Note };
    let says = if coats == 0 {
        "No limewash is to go on the finish.".to_owned()
    } else {
        format!("Only {coats} coats of limewash are to go on the finish.")
    };
    vec![Departure::new(grade, "job", says, "Give it five thin coats a day or more apart; what is spared now is owed in five years.")]
}

fn limewash_wait(case: &Case) -> Vec<Departure> {
    case.walls()
        .filter(|wall| wall.specified.limewash.coats > 0)
        .filter_map(|wall| {
            let finish = wall.coats.last()?;
            let days = finish.least_wait_days.max(wall.specified.limewash.least_wait_days);
            let air = case.is_air_lime(finish);
            let says = format!("Limewash may follow the finish after {days:.0} days.");
            let remedy = "Wait four weeks on air lime if the season allows; make the nail test before the first coat in any case.";
            match days {
                d if d < 7.0 => Some(Departure::new(Grade::Stop, wall.place(), says, remedy)),
                d if d < 28.0 && air => Some(Departure::new(Grade::Note, wall.place(), says, remedy)),
                _ => None,
            }
        })
        .collect()
}
