//! The ten questions clients ask, each answered in a line from the plan. It must promise nothing that was not reckoned or given.

use std::collections::BTreeSet;

use jiff::civil::Date;
use reckoning::Money;
use rust_decimal::RoundingStrategy::MidpointAwayFromZero;
use survey::Survey;

use crate::calendar::said;
use crate::pricing::half_days;

use crate::reasons::{count, inside, listed, waits_by_reason};
use crate::{Answer, Inputs, Price, Programme, Specification, Task, WaitReason, WallSpecification, YearRun};

/// The ten answers, in the order clients ask.
pub(crate) fn answers(
    survey: &Survey,
    specification: &Specification,
    inputs: &Inputs,
    programme: &Programme,
    price: &Price,
) -> Vec<Answer> {
    let run = &programme.runs[programme.middle];
    let answer = |question: &str, answer: String| Answer { question: question.to_owned(), answer };
    vec![
        answer("How much?", how_much(price)),
        answer("How long?", how_long(inputs, programme, run)),
        answer("Why does a day's work stand for weeks?", why_weeks(survey, run)),
        answer("When is the scaffold gone?", scaffold_gone(run)),
        answer("Why not cement?", WHY_NOT_CEMENT.to_owned()),
        answer("Will it crack?", will_it_crack(specification)),
        answer("What colour?", what_colour(specification)),
        answer("Do I have to move out?", move_out(run)),
        answer("What if it rains?", what_if_it_rains(survey, programme)),
        answer("Who comes if it fails?", who_comes(inputs)),
    ]
}

const WHY_NOT_CEMENT: &str = "Cement keeps rain out only until it cracks, then holds the water in the wall, and it fails all at once and in sheets; \
     lime lets the wall dry, and wears away a layer at a time.";

fn how_much(price: &Price) -> String {
    if let Some(why) = &price.not_given {
        return format!("The price cannot be given: {why}");
    }
    let tens = |money: &Money| money.to_tens().to_string();
    let spread = price
        .eight_in_ten
        .as_ref()
        .map_or(String::new(), |eight| format!(" In about 8 years of 10 it comes to {} before tax or less.", tens(eight)));
    let range = price.range.as_ref().map_or(String::new(), |(low, high)| {
        format!(
            " The wall is not open yet: with its provisional sums at their ends it lies between {} and {} before tax.",
            tens(low),
            tens(high)
        )
    });
    format!(
        "{} with tax, {} before it, which is {} a square metre; it stands for {}.{spread}{range}",
        tens(&price.total),
        tens(&price.before_tax),
        Money::new(price.per_m2.amount.round_dp_with_strategy(0, MidpointAwayFromZero), price.per_m2.currency.clone()),
        count(price.valid_days, "day"),
    )
}

fn how_long(inputs: &Inputs, programme: &Programme, run: &YearRun) -> String {
    let start = said(inputs.window.start);
    let odds = match (&programme.odds, &programme.no_odds) {
        (Some(odds), _) => format!(" {} years of {} are finished by {}.", odds.eight_in_ten_years, odds.years, said(odds.eight_in_ten)),
        (None, Some(why)) => format!(" {why}"),
        (None, None) => String::new(),
    };
    match run.finished {
        Some(finish) => format!(
            "From {start} to {} in the middle year, of which the gang works {}: the rest is curing, weather and weekends.{odds}",
            said(finish),
            half_days(run.gang_days),
        ),
        None => format!("Begun on {start} it is not finished this season in the middle year.{odds}"),
    }
}

/// A coat that stood before the next, with its days by reason.
struct Stood<'r> {
    days: u32,
    wall: &'r str,
    coat: &'r Task,
    waits: Vec<(WaitReason, u32)>,
}

/// Told of the coat whose days until the next are in the middle of all, with the reasons that hold most of them.
fn why_weeks(survey: &Survey, run: &YearRun) -> String {
    const LIME: &str = "A coat hardens by taking up air, which the next shuts off.";
    let mut stood: Vec<Stood> = Vec::new();
    for wall in &run.walls {
        for (coat, next) in wall.tasks.iter().zip(wall.tasks.iter().skip(1)) {
            let waits = waits_by_reason(next.waited.iter().filter(|wait| wait.to < next.from));
            if coat.ready.is_some() && !waits.is_empty() {
                stood.push(Stood { days: waits.iter().map(|&(_, days)| days).sum(), wall: &wall.slug, coat, waits });
            }
        }
    }
    stood.sort_by_key(|stood| stood.days);
    let Some(Stood { days, wall: slug, coat, waits }) = stood.get(stood.len().saturating_sub(1) / 2) else { return LIME.to_owned() };
    let wall = survey.building.walls.iter().find(|wall| wall.slug == *slug).map_or(*slug, |wall| wall.name.as_str());
    let mut reasons: Vec<String> = waits.iter().take(REASONS_TOLD).map(|(reason, days)| format!("{days} {}", reason.words())).collect();
    let others: u32 = waits.iter().skip(REASONS_TOLD).map(|&(_, days)| days).sum();
    reasons.extend((others > 0).then(|| format!("{others} for other reasons")));
    format!(
        "{LIME} The {} of the {} takes {}, then the next waits {}: {}.",
        coat.name.to_lowercase(),
        inside(wall),
        half_days(coat.gang_days),
        count(*days, "day"),
        listed(&reasons)
    )
}

/// Reasons for waiting told in an answer; the programme tells them all.
const REASONS_TOLD: usize = 2;

fn scaffold_gone(run: &YearRun) -> String {
    let mut last_days: Vec<Date> = run.walls.iter().filter_map(|wall| wall.scaffold_to).collect();
    last_days.sort_unstable();
    match (last_days.first(), last_days.last()) {
        (Some(&first), Some(&last)) if run.finished.is_some() && first != last => format!(
            "It comes down wall by wall after the last limewash, its tie patches made good: the first is down by {}, the last by {} in the middle year.",
            said(first),
            said(last),
        ),
        (_, Some(&last)) if run.finished.is_some() => format!("It is down by {} in the middle year.", said(last)),
        _ => "Not this season in the middle year: the last wall is not finished from it.".to_owned(),
    }
}

fn will_it_crack(specification: &Specification) -> String {
    // The passes of a straightening coat are one coat.
    let kinds = |wall: &WallSpecification| wall.coats.iter().map(|coat| coat.kind).collect::<BTreeSet<_>>().len();
    let coats = specification.walls.iter().map(kinds).max().unwrap_or(0);
    format!(
        "Hair cracks may show in the first days and are pressed back while the coat is soft; {} of sharp sand, each cured and shaded before the next, \
         keep them few, and limewash closes the rest.",
        count(u32::try_from(coats).unwrap_or(u32::MAX), "thin coat")
    )
}

fn what_colour(specification: &Specification) -> String {
    let colour = specification.walls.first().map_or("as the panel", |wall| wall.limewash.colour.as_str());
    let coats = specification.walls.iter().map(|wall| wall.limewash.coats).max().unwrap_or(0);
    format!(
        "{}, from {} of limewash; it dries lighter than it goes on, so it is approved on the sample panel.",
        capital(colour),
        count(coats, "coat")
    )
}

/// The first letter made a capital.
fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

fn move_out(run: &YearRun) -> String {
    let preparing: f64 =
        run.walls.iter().flat_map(|wall| &wall.tasks).filter(|task| task.slug == "preparation").map(|task| task.gang_days).sum();
    format!(
        "No: all the work is outside. Expect dust and noise on the {} of preparation, windows sheeted and kept shut on days of throwing, and doors in use as agreed.",
        half_days(preparing)
    )
}

fn what_if_it_rains(survey: &Survey, programme: &Programme) -> String {
    let rain = programme.waits.iter().find(|(reason, _)| *reason == WaitReason::Rain).map_or(0, |&(_, days)| days);
    let reckoned = match programme.odds {
        Some(_) => format!(" The wall that finishes last waits {} for rain in the middle year, already in the dates.", count(rain, "day")),
        None => String::new(),
    };
    let walls = survey.walls.len();
    let cover = if walls > 1 { "the gang goes to another wall or comes back" } else { "the gang comes back" };
    format!("Nothing is thrown in it: fresh coats hang covered, and {cover} when the day is fit.{reckoned}")
}

fn who_comes(inputs: &Inputs) -> String {
    format!(
        "{}, named on this plan, with the record of each coat in hand; how long the work is warranted is for the contract to say.",
        inputs.about.contractor
    )
}
