//! Chooses the lime when the job leaves it open: air lime wherever exposure and season allow it, a hydraulic lime no stronger than the softest stone
//! otherwise. Common practice, no source; the reasons stand in the finding.

use materials::Catalogue;
use reckoning::{Finding, Grade};
use survey::{Survey, Terrain, WallFound};

use crate::Inputs;
use crate::calendar::day;
use crate::specify::season::{days_until_frost, frost_season, later};

/// The word by which a job may ask for a choice.
const CHOOSE: &str = "choose";
/// The lime chosen where nothing speaks against it.
const AIR_LIME: &str = "putty-cl90";
/// Days a finish of air lime wants free of frost before it; the waits of the coats before it come on top.
const AIR_LIME_NEEDS_DAYS: i32 = 60;
/// Days from the first coat to the last by the least waits of the usual three coats, and a week for placing.
const COATS_TAKE_DAYS: i32 = 28;

/// The lime and why.
pub(crate) struct Choice {
    pub lime: String,
    pub finding: Finding,
}

/// True if nothing breaks the wind before a wall on the shore, or eaves do not shelter a wall in open country: driving rain is severe.
pub(crate) fn severe_exposure(wall: &WallFound) -> bool {
    const NEAR_M: f64 = 50.0;
    let open = wall.exposure.obstruction_m.value.is_none_or(|far| far > NEAR_M);
    let overhang = wall.exposure.overhang.value;
    open && !overhang && matches!(wall.exposure.terrain.value, Terrain::Shore)
}

/// Softest stone of the survey as a number: 0 soft, 1 medium, 2 hard.
pub(crate) fn softness(catalogue: &Catalogue, wall: &WallFound) -> u8 {
    match catalogue.masonries.get(&wall.masonry.value).map(|m| m.hardness.as_str()) {
        Some("soft") => 0,
        Some("hard") => 2,
        _ => 1,
    }
}

/// The lime of the job: as asked, or chosen.
pub(crate) fn lime(survey: &Survey, inputs: &Inputs) -> Choice {
    let asked = &inputs.system.lime;
    let open = asked.value == CHOOSE || (asked.assumed && asked.value == AIR_LIME);
    if !open {
        return Choice { lime: asked.value.clone(), finding: as_asked(&asked.value) };
    }
    let walls = &survey.building.walls;
    let severe: Vec<&str> = walls.iter().filter(|w| severe_exposure(w)).map(|w| w.slug.as_str()).collect();
    let softest = walls.iter().map(|w| softness(&inputs.catalogue, w)).min().unwrap_or(1);
    let left = days_until_frost(later(inputs.window.start, COATS_TAKE_DAYS));
    let hydraulic = if softest == 0 { "nhl-2" } else { "nhl-3-5" };
    let (lime, reason) = if !severe.is_empty() {
        (hydraulic, format!("driving rain is severe on {}, and the stone bears it", severe.join(", ")))
    } else if left < AIR_LIME_NEEDS_DAYS {
        (
            hydraulic,
            if left > 0 {
                format!(
                    "only about {left} days stay free of frost after the finish of a job begun on {}, and air lime wants 60 to 90",
                    day(inputs.window.start)
                )
            } else {
                format!("the finish of a job begun on {} falls inside the season of frost ({})", day(inputs.window.start), frost_season())
            },
        )
    } else {
        (AIR_LIME, format!("no wall is severely exposed, and about {left} days stay free of frost after the finish"))
    };
    let name = inputs.catalogue.limes.get(lime).map_or(lime, |l| l.name.as_str());
    let finding = Finding {
        grade: Grade::Note,
        rule: "lime-chosen".to_owned(),
        place: "job".to_owned(),
        says: format!("{name} was chosen, since the job leaves the lime open: {reason}."),
        reason: "Air lime is weakest and most open and takes longest; a hydraulic lime sets before frost and rain but must not be stronger than the stone.".to_owned(),
        source: "common practice, no source".to_owned(),
        remedy: "Name the lime in the job if another is wanted.".to_owned(),
    };
    Choice { lime: lime.to_owned(), finding }
}

fn as_asked(lime: &str) -> Finding {
    Finding {
        grade: Grade::Agrees,
        rule: "lime-chosen".to_owned(),
        place: "job".to_owned(),
        says: format!("The lime is the one the job asks for ({lime})."),
        reason: "Who asks for a lime answers for it; the rules below still judge it against stone, exposure and season.".to_owned(),
        source: "common practice, no source".to_owned(),
        remedy: String::new(),
    }
}
