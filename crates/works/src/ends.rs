//! The middle year lived with every coat at its ends as well: what it comes to, in figures and in a sentence. It must never be taken for the spread of the
//! weather: the year is one.

use reckoning::{Finding, Grade, Reckoning, Reckonings, Unit, Value};

use crate::calendar::said;
use crate::sheet::JobSheet;
use crate::{Ends, EndsCoat, YearRun};

const SOURCE: &str = "the middle weather year followed by the hour: each coat at its middle over the stone, at its 90th percentile over stone and over joint, and \
                      at its 10th over the thirstier";

/// What a run at the ends comes to.
pub(crate) fn of(run: &YearRun) -> Ends {
    let tasks = run.walls.iter().flat_map(|wall| wall.tasks.iter().map(move |task| (wall, task)));
    let coats = tasks.filter_map(|(wall, task)| {
        let &middle_days = task.took_days.first()?;
        let days = task.took_days.iter().fold((middle_days, middle_days), |(least, most), &days| (least.min(days), most.max(days)));
        Some(EndsCoat { wall: wall.slug.clone(), coat: task.slug.clone(), name: task.name.clone(), middle_days, days })
    });
    Ends { finished: run.finished, losses: u32::try_from(run.losses.len()).unwrap_or(u32::MAX), coats: coats.collect() }
}

/// The finding: when the job ends so, and the coat whose ends lie furthest apart.
pub(crate) fn finding(ends: &Ends, sheet: &JobSheet, middle: &YearRun) -> Option<Finding> {
    let widest = ends.coats.iter().max_by(|a, b| (a.days.1 - a.days.0).total_cmp(&(b.days.1 - b.days.0)))?;
    let wall = sheet.walls.iter().find(|wall| wall.slug == widest.wall).map_or(widest.wall.as_str(), |wall| &wall.name);
    let finish = match (ends.finished, middle.finished) {
        (Some(ends), Some(middle)) if ends == middle => format!("the job still ends on {}", said(middle)),
        (Some(ends), Some(middle)) => format!("the job ends on {} and not on {}", said(ends), said(middle)),
        (None, _) => "the job is not finished this season".to_owned(),
        (Some(ends), None) => format!("the job ends on {}", said(ends)),
    };
    let lost = match (ends.losses as usize, middle.losses.len()) {
        (ends, middle) if ends > middle => format!("; {ends} coats are lost and not {middle}"),
        _ => String::new(),
    };
    Some(Finding {
        grade: Grade::Note,
        rule: "thick-and-thin".to_owned(),
        place: "programme".to_owned(),
        says: format!(
            "Waiting for the thickest of every coat, over stone and over joint, and losing what spoils the thinnest, {finish}{lost}. The {} of the {} takes from \
             {:.1} to {:.1} days from place to place.",
            widest.name.to_lowercase(),
            crate::reasons::inside(wall),
            widest.days.0,
            widest.days.1
        ),
        reason:
            "A wall is not one thickness. The plan's dates go by the middle of each coat over the stone; this is the middle year alone."
                .to_owned(),
        source: SOURCE.to_owned(),
        remedy: "Make the test where the coat is thickest, and look for harm where it is thinnest.".to_owned(),
    })
}

/// Days of each coat at its ends, and the finish.
pub(crate) fn reckonings(ends: &Ends) -> Reckonings {
    let mut kept = Reckonings::default();
    for coat in &ends.coats {
        let path = format!("walls.{}.ends.{}", coat.wall, coat.coat);
        let days = |name: &str, label: &str, days: f64| {
            Reckoning::given(format!("{path}.{name}"), label, Value::number(days, Unit::Day, 1), SOURCE, false)
        };
        kept.keep(Reckoning::worked(
            path.clone(),
            format!("{}: days from place to place", coat.name),
            Value::Text(format!("{:.1} to {:.1} days", coat.days.0, coat.days.1)),
            "from the soonest column to the last, each by its own age, firmness and uptake",
            vec![
                days("least", "Soonest column", coat.days.0),
                days("middle", "Middle over the stone", coat.middle_days),
                days("most", "Last column", coat.days.1),
            ],
            SOURCE,
        ));
    }
    kept
}
