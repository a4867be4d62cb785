//! What the weather years do to the coats, in a sentence for whoever relies on the plan: in how many years a coat is lost, which, to what, and the cheapest
//! change that would have prevented it.

use std::collections::BTreeMap;

use reckoning::{Finding, Grade};

use crate::protect::Policy;
use crate::reasons::{count, inside, listed};
use crate::sheet::{JobSheet, hangs};
use crate::{Specification, YearRun};

/// Most kinds of loss told one by one.
const MOST_TOLD: usize = 3;

/// The finding about damage in all runs.
pub(crate) fn finding(sheet: &JobSheet, specification: &Specification, runs: &[YearRun]) -> Finding {
    let years = number(runs.len());
    let years_with = number(runs.iter().filter(|run| !run.losses.is_empty()).count());
    let mended = runs.iter().map(|run| run.mendings.len()).sum::<usize>();
    let mended = match mended {
        0 => String::new(),
        some => format!(" Damage to be mended (wetted down, pressed back, patched) was found {}.", times(some)),
    };
    let bare = bare(specification);
    let (grade, rule, says, remedy) = if years_with == 0 {
        let says = format!("In none of {} of weather is a coat lost.{mended}{bare}", count(years, "year"));
        (Grade::Note, "no-coat-lost", says, "Look at each coat every morning all the same, and tend it as the day sheet says.".to_owned())
    } else {
        let (told, remedy) = told(sheet, runs);
        let says = format!(
            "In {years_with} of {} of weather a coat is lost, taken off and laid again: {told}.{mended}{bare}",
            count(years, "year")
        );
        let grade = if years_with * 2 > years { Grade::Stop } else { Grade::Think };
        (grade, "coats-lost", says, remedy)
    };
    Finding {
        grade,
        rule: rule.to_owned(),
        place: "programme".to_owned(),
        says,
        reason: "A coat robbed, dried out, washed or frozen in its first days never hardens and has to come off.".to_owned(),
        source: "the curing engine's indices of damage, whose limits are mostly guesses".to_owned(),
        remedy,
    }
}

/// The losses by coat and kind, most first, and the prevention of the first.
fn told(sheet: &JobSheet, runs: &[YearRun]) -> (String, String) {
    let mut by_kind: BTreeMap<(&str, &str, String), (usize, &str)> = BTreeMap::new();
    for loss in runs.iter().flat_map(|run| &run.losses) {
        let entry = by_kind.entry((&loss.wall, &loss.name, loss.kind.to_string())).or_insert((0, &loss.prevention));
        entry.0 += 1;
    }
    let mut most: Vec<_> = by_kind.into_iter().collect();
    most.sort_by(|a, b| b.1.0.cmp(&a.1.0).then(a.0.cmp(&b.0)));
    let wall_name = |slug: &str| sheet.walls.iter().find(|wall| wall.slug == slug).map_or(slug.to_owned(), |wall| inside(&wall.name));
    let mut parts: Vec<String> = most
        .iter()
        .take(MOST_TOLD)
        .map(|((wall, coat, kind), (often, _))| format!("the {} of the {} {kind} {}", coat.to_lowercase(), wall_name(wall), times(*often)))
        .collect();
    if most.len() > MOST_TOLD {
        parts.push(format!("{} more", times(most[MOST_TOLD..].iter().map(|(_, (often, _))| often).sum())));
    }
    let prevention = most.first().map_or(String::new(), |(_, (_, prevention))| capital(prevention));
    (listed(&parts), prevention)
}

/// How many coats hang uncovered.
fn bare(specification: &Specification) -> String {
    let coats: Vec<_> = specification.walls.iter().flat_map(|wall| &wall.coats).collect();
    match coats
        .iter()
        .filter(|coat| !hangs(&coat.protection) && coat.protection.policy.is_none_or(|policy| policy == Policy::Nothing))
        .count()
    {
        0 => String::new(),
        bare => format!(" {bare} of {} coats of this plan hang uncovered.", coats.len()),
    }
}

fn number(count: usize) -> u32 {
    u32::try_from(count).unwrap_or(u32::MAX)
}

fn times(often: usize) -> String {
    if often == 1 { "once".to_owned() } else { format!("{often} times") }
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or(String::new(), |first| format!("{}{}.", first.to_uppercase(), letters.as_str()))
}
