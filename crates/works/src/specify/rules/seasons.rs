//! Rules on season and waiting: intervals, frost, the binder's season, the cover.

use reckoning::Grade;

use super::{Case, Departure, PRACTICE, Rule};
use crate::calendar::day;
use crate::reasons::count;
use crate::specify::season::{days_until_frost, frost_season, last_coat_on};

pub(super) const RULES: &[Rule] = &[
    Rule {
        name: "least-interval",
        agrees: "At least a week lies between coats.",
        reason: "Nothing hurries the uptake of carbon dioxide: a coat added too soon lengthens the path the air must travel.",
        source: "common practice, no source (a week at least, about two when it is cold)",
        check: interval,
    },
    Rule {
        name: "frost-window",
        agrees: "The last coat has its frost-free days before the season of frost.",
        reason: "Water in a young coat swells by a tenth as it freezes and throws the coat off.",
        source: "suppliers' published frost hints (NHL 3.5 about three weeks, double in the cold; air lime two to three months); common practice",
        check: frost,
    },
    Rule {
        name: "binder-against-season",
        agrees: "The lime suits the months of the work.",
        reason: "In the cold and wet of winter an air lime takes up almost nothing and stands soft into the frost.",
        source: "suppliers' published seasons (air lime April to mid September, hydraulic April to September or October); common practice",
        check: season,
    },
    Rule {
        name: "cover",
        agrees: "Every coat is covered and kept damp after it is placed.",
        reason: "Sun and wind dry a bare coat before it has taken up anything: it cracks, dusts and falls.",
        source: PRACTICE,
        check: cover,
    },
];

fn interval(case: &Case) -> Vec<Departure> {
    case.walls()
        .flat_map(|wall| {
            wall.coats
                .iter()
                .filter_map(|coat| {
                    let days = coat.least_wait_days;
                    let grade = match days {
                        d if d >= 7.0 => return None,
                        d if d >= 3.0 && !case.is_air_lime(coat) => Grade::Note,
                        d if d >= 3.0 => Grade::Think,
                        _ => Grade::Stop,
                    };
                    let says = format!("{}: only {days:.0} days before the next coat.", coat.name);
                    Some(Departure::new(
                        grade,
                        wall.coat_place(coat),
                        says,
                        "Wait a week of days at or above 5 °C at the least, and make the nail test.",
                    ))
                })
                .collect::<Vec<_>>()
        })
        .collect()
}

fn frost(case: &Case) -> Vec<Departure> {
    case.walls()
        .filter_map(|wall| {
            let last = wall.coats.last()?;
            let lime = case.inputs.catalogue.limes.get(&last.mix.lime)?;
            let placed = last_coat_on(case.survey, case.inputs, wall.coats);
            let left = days_until_frost(placed);
            let (low, high) = lime.frost_free_days;
            let stands = if left > 0 {
                format!("{} before the season of frost", count(u32::try_from(left).unwrap_or(0), "day"))
            } else {
                format!("inside the season of frost ({})", frost_season())
            };
            let says = format!(
                "The last coat goes on about {} at the earliest, {stands}; {} wants {low:.0} to {high:.0} days free of frost.",
                day(placed),
                lime.name
            );
            let remedy = "Start earlier, stop at the straightening coat and finish in spring, or take a lime that sets sooner; look at the programme's odds of frost.";
            match f64::from(left) {
                days if days <= 0.0 => Some(Departure::new(
                    Grade::Stop,
                    wall.place(),
                    says,
                    "Place no last coat inside the season of frost: move the start so that the coats are cured before it, or leave the last coat to spring.",
                )),
                days if days < low => Some(Departure::new(Grade::Think, wall.place(), says, remedy)),
                days if days < high => Some(Departure::new(Grade::Note, wall.place(), says, remedy)),
                _ => None,
            }
        })
        .collect()
}

fn season(case: &Case) -> Vec<Departure> {
    let start = case.inputs.window.start;
    case.walls()
        .filter_map(|wall| {
            let last = wall.coats.last()?;
            let air = case.is_air_lime(last);
            let months = if air { 4..=9 } else { 3..=10 };
            let placed = last_coat_on(case.survey, case.inputs, wall.coats);
            let outside: Vec<String> =
                [start, placed].iter().filter(|placed| !months.contains(&placed.month())).map(|placed| day(*placed)).collect();
            (!outside.is_empty()).then(|| {
                let says = format!(
                    "{} would be placed outside its season ({}): its months are {}.",
                    if air { "Air lime" } else { "Hydraulic lime" },
                    outside.join(" and "),
                    if air { "April to September" } else { "March to October" }
                );
                Departure::new(
                    Grade::Think,
                    wall.place(),
                    says,
                    "Move the work into the season (in the south, half a year on), or shelter and warm it and look at the odds.",
                )
            })
        })
        .collect()
}

fn cover(case: &Case) -> Vec<Departure> {
    let name = &case.inputs.system.cover.value;
    let (grade, says, remedy) = match case.inputs.catalogue.covers.get(name) {
        None => (Grade::Stop, format!("The cover “{name}” is not in the catalogue."), "Name a cover of the catalogue."),
        Some(_) if name == "none" => (
            Grade::Think,
            "Nothing is hung before the fresh coats.".to_owned(),
            "Hang damp hessian, lapped and tied, and keep it damp for three days at the least.",
        ),
        Some(cover) if cover.warms_k > 0.0 => (
            Grade::Think,
            "The coats are to cure in a warmed shelter.".to_owned(),
            "Use only heaters meant for it, clear of every cloth, with fresh air and a fire watch: a shut shelter also starves the coat of carbon dioxide.",
        ),
        Some(cover) if !cover.wetted => (
            Grade::Note,
            format!("The cover ({}) is not wetted.", cover.name),
            "Mist the coats lightly three times a day for three days, then less, while it is dry and windy.",
        ),
        Some(_) => return Vec::new(),
    };
    vec![Departure::new(grade, "job", says, remedy)]
}
