//! What a programme from the curing engine leaves out, in sentences for whoever relies on its dates. It must never be silent about a limit that matters.

use materials::{Catalogue, LimeKind};
use reckoning::{Finding, Grade};
use survey::{Inside, Survey};

use crate::calendar::{days_between, said};
use crate::columns::DRIED_OUT;
use crate::reasons::{count, inside};
use crate::sheet::JobSheet;
use crate::{Inputs, Specification, YearRun};

/// The notes that go with every programme from the engine, and those that the job itself calls for.
pub(crate) fn notes(survey: &Survey, specification: &Specification, catalogue: &Catalogue) -> Vec<Finding> {
    let mut notes = vec![
        note(
            "engine-limits",
            "The curing engine judges damage by limits most of which are guesses, goes by the middle thickness of each coat (its ends are followed in the middle year alone), and its one threshold of air taken \
             up is fitted to one datum, the trade's week between coats in mild weather."
                .to_owned(),
            "A date from it can be days out, and coats are lost oftener or more seldom than it says.",
            "Make the nail test on the wall before every coat, and let it overrule the date.",
        ),
        note(
            "last-part-of-a-coat",
            "A coat laid over several days counts from its last half-day: the column reckoned stands for the part placed last, and is covered that evening; \
             what was laid before hangs covered from its own evening."
                .to_owned(),
            "The parts laid first are older than the plan says, so the date is late for them and right for the last.",
            "Test where the coat was laid last.",
        ),
    ];
    notes.extend(hydraulic(specification, catalogue));
    notes.extend(open_behind(survey));
    notes
}

fn note(rule: &str, says: String, reason: &str, remedy: &str) -> Finding {
    Finding {
        grade: Grade::Note,
        rule: rule.to_owned(),
        place: "programme".to_owned(),
        says,
        reason: reason.to_owned(),
        source: "what the curing engine rests on, as its own calibration says".to_owned(),
        remedy: remedy.to_owned(),
    }
}

fn hydraulic(specification: &Specification, catalogue: &Catalogue) -> Option<Finding> {
    let set_in_water = |lime: &str| catalogue.limes.get(lime).is_some_and(|lime| lime.kind == LimeKind::Hydraulic);
    let coat = specification.walls.iter().flat_map(|wall| &wall.coats).find(|coat| set_in_water(&coat.mix.lime))?;
    Some(note(
        "hydraulic-set-of-a-class",
        format!(
            "A coat of hydraulic lime ({}) is judged by the set usual for its class, or by the air it takes up, whichever comes first.",
            coat.mix.lime
        ),
        "Limes of one class differ by a factor of two in what sets, and no coat on a wall was there to check the speed against.",
        "Go by the supplier's interval and the nail test, whichever is later.",
    ))
}

fn open_behind(survey: &Survey) -> Option<Finding> {
    let open = survey.building.walls.iter().filter(|wall| matches!(wall.inside.value, Inside::Roofless | Inside::FreeStanding));
    let names: Vec<String> = open.map(|wall| inside(&wall.name)).collect();
    (!names.is_empty()).then(|| {
        note(
            "far-face",
            format!(
                "The {} stand to the weather on both sides, and sun, wind and rain are reckoned on the far face too: as open on free-standing walls, and on \
                 roofless ones with a wall as high six metres behind, which is a guess. Rain that goes in at the wall head is not reckoned.",
                crate::reasons::listed(&names)
            ),
            "Water that runs in at an open wall head wets such a wall more than the plan says.",
            "Cap the wall head, keep rain off the far face while the coats cure, and test before each coat.",
        )
    })
}

/// How long each wall that is freed of an impermeable covering dries, and the test to make before its first coat.
pub(crate) fn drying_out(sheet: &JobSheet, run: &YearRun) -> Vec<Finding> {
    let walls = run.walls.iter().zip(&sheet.walls);
    walls
        .filter_map(|(wall, sheet)| {
            let freed = wall.freed?;
            let percent = |share: f64| format!("{:.0} %", 100.0 * share);
            let then = percent(freed.wet_then);
            let says = match freed.coated {
                Some((coated, wet)) => format!(
                    "The {} is freed of its covering by {} and dries for {} days in the middle year until its first coat: the pores of its outer 60 mm are {then} \
                     full then and {} when the coat goes on.",
                    inside(&sheet.name),
                    said(freed.stripped),
                    days_between(freed.stripped, coated),
                    percent(wet)
                ),
                None => format!(
                    "The {} is freed of its covering by {}, its outer 60 mm {then} full, and is not dry enough for a coat in the middle year.",
                    inside(&sheet.name),
                    said(freed.stripped)
                ),
            };
            let reason = format!(
                "How wet the stone is behind a covering nobody knows until it is off; unless a sample was drilled it is taken to be wet, a guess. The plan waits \
                 until the outer 60 mm are less than {} full, another.",
                percent(DRIED_OUT)
            );
            let remedy = "Before the first coat drill dust from 10 to 30, 50 and 100 mm deep, weigh it, dry it and weigh it again: less than a third of what the stone \
                          takes up when it is soaked, and no wetter inwards. An electric meter does not give this.";
            Some(Finding { place: format!("walls.{}", wall.slug), ..note("drying-out", says, &reason, remedy) })
        })
        .collect()
}

/// Who damps on days off, where nobody is paid for it.
pub(crate) fn days_off(inputs: &Inputs, run: &YearRun) -> Option<Finding> {
    let who = inputs.running.weekend_damping.unpaid()?;
    let times: u32 = run.days_off_damped.iter().flat_map(|day| &day.walls).map(|(_, times)| times).sum();
    (times > 0).then(|| {
        let days = u32::try_from(run.days_off_damped.len()).unwrap_or(u32::MAX);
        note(
            "days-off-damped",
            format!("On {} of the middle year {who} damps the hessian, {times} times on one wall or another; the price charges nothing for it.", count(days, "day off")),
            "A cloth that dries out at a weekend draws water from a coat, and hangs useless in frost.",
            "Hand over the one-page instruction, have it done from the ground with a hose and never from the scaffold, and agree who is rung if it cannot be done.",
        )
    })
}
