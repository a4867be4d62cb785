//! Rules on what must be true before the work: consent, the sample panel, the stage of the survey, maturity of the lime, old coverings.

use reckoning::Grade;
use survey::{OldCovering, Stage};

use super::{Case, Departure, PRACTICE, Rule};
use crate::calendar::day;
use crate::specify::season::{days_between, earlier, later};

pub(super) const RULES: &[Rule] = &[
    Rule {
        name: "consent",
        agrees: "The building is answered not to be listed or protected.",
        reason: "Changing the face of a protected building without consent is an offence, and the face may have to be put back.",
        source: "planning law on listed buildings and conservation areas, in substance; local law goes first",
        check: consent,
    },
    Rule {
        name: "sample-panel",
        agrees: "There is time for a sample panel to cure and be approved before the start.",
        reason: "A panel settles sand, colour and texture before they cannot be changed, and shows that gang and mix suit the wall.",
        source: PRACTICE,
        check: panel,
    },
    Rule {
        name: "stage-of-survey",
        agrees: "The wall has been opened up: quantities rest on what was seen.",
        reason: "Under an old covering nobody knows the hollows, the joints or the damp.",
        source: PRACTICE,
        check: stage,
    },
    Rule {
        name: "old-covering",
        agrees: "No cement, paint or old harl is on the walls.",
        reason: "New lime holds to stone, not to paint or loose coats; old coverings may hold lead, asbestos or salts.",
        source: PRACTICE,
        check: old_covering,
    },
    Rule {
        name: "putty-maturity",
        agrees: "The lime needs no maturing, or there is time for it before the start.",
        reason: "Young putty works short and may pop; mature putty holds its water and its sand.",
        source: "suppliers and course notes: one month at least, commonly three; common practice",
        check: maturity,
    },
    Rule {
        name: "hot-mixing",
        agrees: "No coat is mixed hot.",
        reason: "Quicklime slaked with the sand boils and throws scalding alkali.",
        source: "International Chemical Safety Card 0409 (calcium oxide)",
        check: quicklime,
    },
    Rule {
        name: "one-load",
        agrees: "Neither pigment nor a special finish sand is asked for: colour comes from the lime.",
        reason: "Sand and pigment of two loads never match on one wall.",
        source: PRACTICE,
        check: one_load,
    },
];

fn consent(case: &Case) -> Vec<Departure> {
    let protected = &case.survey.building.protected;
    match (protected.value, protected.assumed) {
        (true, _) => vec![Departure::new(
            Grade::Think,
            "job",
            "The building is listed or otherwise protected: the work needs consent.",
            "Have the written consent in hand before stripping or scaffolding, and keep it with the job.",
        )],
        (false, true) => vec![Departure::new(
            Grade::Think,
            "job",
            "Nobody has answered whether the building is listed or protected.",
            "Ask the planning authority; it takes one letter.",
        )],
        (false, false) => Vec::new(),
    }
}

fn panel(case: &Case) -> Vec<Departure> {
    let lead = i32::try_from(case.panel.lead_days).unwrap_or(i32::MAX);
    let begin = earlier(case.inputs.window.start, lead);
    if begin >= case.inputs.about.dated {
        return Vec::new();
    }
    vec![Departure::new(
        Grade::Think,
        "job",
        format!(
            "A sample panel of all coats takes {lead} days by its least waits and should have been begun by {}, before the date of this plan.",
            day(begin)
        ),
        format!(
            "Move the start to {} or later, or show a panel of the finish alone and say so.",
            day(later(case.inputs.about.dated, lead))
        ),
    )]
}

fn stage(case: &Case) -> Vec<Departure> {
    if case.survey.building.stage == Stage::AfterOpeningUp {
        return Vec::new();
    }
    let is_bare = |wall: &survey::WallFound| wall.old_covering.value == OldCovering::Bare;
    if case.survey.building.walls.iter().all(is_bare) {
        return vec![Departure::new(
            Grade::Think,
            "job",
            "The survey is said to be made before stripping, yet every wall is said to be bare: one of the two is not so.",
            "Say in the job what covers each wall, or that the survey was made after opening up; until then provisional sums stand in the price.",
        )];
    }
    vec![Departure::new(
        Grade::Think,
        "job",
        "The survey was made before stripping: depths, joints and damp are guesses within a range.",
        "Agree provisional sums for straightening and pinning, and measure again when the wall is open.",
    )]
}

fn old_covering(case: &Case) -> Vec<Departure> {
    case.walls()
        .filter_map(|wall| {
            let (grade, says, remedy) = match wall.found.old_covering.value {
                OldCovering::Bare => return None,
                OldCovering::LimeHarl => (
                    Grade::Note,
                    "An old lime harl is on the wall",
                    "Sound it with the knuckle, keep what is sound and cut back what is hollow; price the rest as provisional.",
                ),
                OldCovering::Cement => (
                    Grade::Think,
                    "A cement covering is on the wall",
                    "Take a trial patch off by hand first; where it pulls the stone's face off, stop and ask. Have old boards and textured coats tested for asbestos.",
                ),
                OldCovering::Paint => (
                    Grade::Think,
                    "Old paint is on the wall",
                    "Have it tested for lead, then take it off to bare stone: lime does not hold to paint.",
                ),
            };
            Some(Departure::new(grade, wall.place(), format!("{says}."), remedy))
        })
        .collect()
}

fn maturity(case: &Case) -> Vec<Departure> {
    let mut names: Vec<&str> = case.walls.iter().flat_map(|wall| wall.coats.iter().map(|coat| coat.mix.lime.as_str())).collect();
    names.sort_unstable();
    names.dedup();
    let (dated, start) = (case.inputs.about.dated, case.inputs.window.start);
    names
        .into_iter()
        .filter_map(|name| case.inputs.catalogue.limes.get(name))
        .filter(|lime| lime.mature_weeks > 0.0)
        .filter(|lime| f64::from(days_between(dated, start)) < 7.0 * lime.mature_weeks)
        .map(|lime| {
            Departure::new(
                Grade::Note,
                "job",
                format!(
                    "{} wants {:.0} weeks to mature, and only {} days lie between this plan and the start.",
                    lime.name,
                    lime.mature_weeks,
                    days_between(dated, start).max(0)
                ),
                "Buy it matured, with the date of slaking on the tub, rather than slake for this job.",
            )
        })
        .collect()
}

fn quicklime(case: &Case) -> Vec<Departure> {
    case.walls()
        .flat_map(|wall| {
            wall.coats
                .iter()
                .filter(|coat| {
                    case.inputs.catalogue.limes.get(&coat.mix.lime).is_some_and(|lime| lime.kind == materials::LimeKind::Quicklime)
                })
                .map(|coat| {
                    Departure::new(
                        Grade::Think,
                        wall.coat_place(coat),
                        "The coat is hot-mixed from quicklime.",
                        "Leave hot mixing to people trained in it, with their own method and protection; otherwise use putty of the same volume.",
                    )
                })
                .collect::<Vec<_>>()
        })
        .collect()
}

fn one_load(case: &Case) -> Vec<Departure> {
    let system = &case.inputs.system;
    let own_sand = system.finish_sand.value != system.sand.value;
    if system.colour.assumed && !own_sand {
        return Vec::new();
    }
    vec![Departure::new(
        Grade::Note,
        "job",
        "The finish takes its look from its sand and colour.",
        "Order all finish sand, and all pigment, in one load for the whole job with a little over, and keep them apart.",
    )]
}
