//! Figures as people say them: dates, mixes, thicknesses, counts, and the sentence that answers first.

use std::collections::BTreeMap;

use jiff::civil::Date;
use works::{Plan, Task, Wait, WaitReason, WallRun};

/// "Mon 19 April".
pub fn day(date: Date) -> String {
    date.strftime("%a %-d %B").to_string()
}

/// "19 Apr".
pub fn short_day(date: Date) -> String {
    date.strftime("%-d %b").to_string()
}

/// "Monday 19 April".
pub fn weekday(date: Date) -> String {
    date.strftime("%A %-d %B").to_string()
}

/// "19 April 2027".
pub fn full_day(date: Date) -> String {
    date.strftime("%-d %B %Y").to_string()
}

/// "Mon 19 April" for one day, "Mon 19 to Tue 20 April" for several.
pub fn span(from: Date, to: Date) -> String {
    if from == to {
        day(from)
    } else if from.month() == to.month() && from.year() == to.year() {
        format!("{} to {}", from.strftime("%a %-d"), day(to))
    } else {
        format!("{} to {}", day(from), day(to))
    }
}

/// "24 June" for one day, "24 June to 8 July" or "3 to 8 June" for several.
pub fn plain_span(from: Date, to: Date) -> String {
    let end = to.strftime("%-d %B");
    if from == to {
        end.to_string()
    } else if from.month() == to.month() && from.year() == to.year() {
        format!("{} to {end}", from.day())
    } else {
        format!("{} to {end}", from.strftime("%-d %B"))
    }
}

/// A number of parts with its quarter as a fraction: "2½". Parts that are no quarter are given to two decimals.
pub fn parts(value: f64) -> String {
    let quarters = (value * 4.0).round();
    if (value * 4.0 - quarters).abs() > 0.04 {
        return trimmed(value, 2);
    }
    let whole = (quarters / 4.0).floor();
    let fraction = match (quarters - whole * 4.0) as i64 {
        1 => "¼",
        2 => "½",
        3 => "¾",
        _ => "",
    };
    if whole == 0.0 && !fraction.is_empty() { fraction.to_owned() } else { format!("{whole:.0}{fraction}") }
}

/// A mix of one part of lime to so many of sand: "1 : 2½".
pub fn mix(sand_parts: f64) -> String {
    format!("1 : {}", parts(sand_parts))
}

/// Metres as millimetres with a half where it matters: "3.5 mm".
pub fn millimetres(metres: f64) -> String {
    format!("{} mm", trimmed(metres * 1000.0, 1))
}

/// A number with up to `decimals` decimals, without trailing noughts.
pub fn trimmed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

/// An amount with thousands set apart, and as many decimals as its size bears: "1,240", "46", "3.5".
pub fn grouped(value: f64) -> String {
    let decimals = if value.abs() >= 100.0 { 0 } else { 1 };
    let text = trimmed(value.abs(), decimals);
    let (whole, rest) = text.split_once('.').map_or((text.as_str(), None), |(whole, rest)| (whole, Some(rest)));
    let mut out = if value < 0.0 { "−".to_owned() } else { String::new() };
    for (position, digit) in whole.chars().enumerate() {
        if position > 0 && (whole.len() - position).is_multiple_of(3) {
            out.push(',');
        }
        out.push(digit);
    }
    rest.map_or(out.clone(), |rest| format!("{out}.{rest}"))
}

/// A quantity of a price as people say it: "6½" of gang-days, "2,150" of others.
pub fn quantity(value: f64, unit: &str) -> String {
    if unit == "gang-days" { parts(value) } else { grouped(value) }
}

/// Small counts in words, others in figures.
pub fn count(value: usize) -> String {
    const WORDS: [&str; 13] = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];
    WORDS.get(value).map_or_else(|| value.to_string(), |word| (*word).to_owned())
}

/// A share of years as people say it: "8 years in 10", "19 years in 20".
pub fn years_in_20(years: u32) -> String {
    if years.is_multiple_of(2) { format!("{} years in 10", years / 2) } else { format!("{years} years in 20") }
}

/// "once", "twice", "3 times".
pub fn times(value: u32) -> String {
    match value {
        1 => "once".to_owned(),
        2 => "twice".to_owned(),
        more => format!("{more} times"),
    }
}

/// "one wall", "three walls".
pub fn counted(value: usize, one: &str, many: &str) -> String {
    format!("{} {}", count(value), if value == 1 { one } else { many })
}

/// With its first letter small, as it stands in a sentence.
pub fn small(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or(String::new(), |first| first.to_lowercase().chain(letters).collect())
}

/// Coats to redo in so many of the weather years: "2 in 1 year", or "none".
pub fn redone(coats: u32, years: u32) -> String {
    if coats == 0 { "none".to_owned() } else { format!("{coats} in {}", counted(years as usize, "year", "years")) }
}

/// The first letter made a capital.
pub fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// "a", "a and b", "a, b and c".
pub fn listed(items: &[String]) -> String {
    match items {
        [] => String::new(),
        [only] => only.clone(),
        [firsts @ .., last] => format!("{} and {last}", firsts.join(", ")),
    }
}

/// Name shown of a wall; its slug if the survey does not hold it.
pub fn wall_name<'p>(plan: &'p Plan, slug: &'p str) -> &'p str {
    plan.survey.building.walls.iter().find(|wall| wall.slug == slug).map_or(slug, |wall| wall.name.as_str())
}

/// Name shown of a lime, sand or cover of the catalogue; its catalogue name if it is not there.
pub fn material_name<'p>(plan: &'p Plan, slug: &'p str) -> &'p str {
    let catalogue = &plan.catalogue;
    let lime = catalogue.limes.get(slug).map(|lime| lime.name.as_str());
    let sand = || catalogue.sands.get(slug).map(|sand| sand.name.as_str());
    let cover = || catalogue.covers.get(slug).map(|cover| cover.name.as_str());
    let masonry = || catalogue.masonries.get(slug).map(|masonry| masonry.name.as_str());
    lime.or_else(sand).or_else(cover).or_else(masonry).unwrap_or(slug)
}

/// A name that is safe as an identifier inside a drawing: letters, digits and hyphens, anything else as its code.
pub fn name_token(name: &str) -> String {
    name.chars().map(|c| if c.is_ascii_alphanumeric() || c == '-' { c.to_string() } else { format!("_{:x}", c as u32) }).collect()
}

/// Whole days from one date to another, negative if it lies before.
pub fn days_between(from: Date, to: Date) -> i64 {
    from.until(to).map_or(0, |span| i64::from(span.get_days()))
}

/// The date so many days later.
pub fn days_after(from: Date, days: i64) -> Date {
    from.saturating_add(jiff::Span::new().days(days.clamp(-100_000, 100_000)))
}

/// Why a task had to wait: days by reason, most first.
pub fn waits_by_reason(waits: &[Wait]) -> Vec<(WaitReason, i64)> {
    let mut days: BTreeMap<WaitReason, i64> = BTreeMap::new();
    for wait in waits {
        *days.entry(wait.reason).or_default() += days_between(wait.from, wait.to) + 1;
    }
    let mut reasons: Vec<(WaitReason, i64)> = days.into_iter().collect();
    reasons.sort_by(|a, b| b.1.cmp(&a.1).then(a.0.cmp(&b.0)));
    reasons
}

/// The wait before a task in words: "11 for the coat beneath to take up air, 2 over weekends"; empty if it did not wait.
pub fn waits_in_words(waits: &[Wait]) -> String {
    let reasons: Vec<String> = waits_by_reason(waits).iter().map(|(reason, days)| format!("{days} {}", reason.words())).collect();
    reasons.join(", ")
}

/// The same for a drawing, where room is short: "11 taking up air, 2 weekends".
pub fn waits_in_brief(waits: &[Wait]) -> String {
    let reasons: Vec<String> = waits_by_reason(waits).iter().map(|(reason, days)| format!("{days} {}", brief(*reason))).collect();
    reasons.join(", ")
}

/// A reason for waiting in a word or two.
pub fn brief(reason: WaitReason) -> &'static str {
    match reason {
        WaitReason::Carbonation => "taking up air",
        WaitReason::Firmness => "firming",
        WaitReason::LeastAge => "least age",
        WaitReason::TooWet => "drying",
        WaitReason::Rain => "rain",
        WaitReason::Wind => "wind",
        WaitReason::Heat => "heat",
        WaitReason::Frost => "frost",
        WaitReason::Cold => "cold",
        WaitReason::GangElsewhere => "gang elsewhere",
        WaitReason::Scaffold => "scaffold",
        WaitReason::Consent => "consent",
        WaitReason::Permit => "permit",
        WaitReason::Wildlife => "nests or bats",
        WaitReason::Approval => "approval",
        WaitReason::DryingOut => "drying out",
        WaitReason::Lying => "coarse stuff lying",
        WaitReason::Visit => "one visit for several walls",
        WaitReason::Daylight => "too little light before dusk",
        WaitReason::ShortStretch => "too late in the week",
        WaitReason::Cover => "cover hanging",
        WaitReason::Weekend => "weekend",
        WaitReason::Break => "holiday",
    }
}

/// Days of a wait altogether.
pub fn days_waited(waits: &[Wait]) -> i64 {
    waits_by_reason(waits).iter().map(|(_, days)| days).sum()
}

/// The run of a wall in the middle year, if the programme holds one.
pub fn middle_wall<'p>(plan: &'p Plan, slug: &str) -> Option<&'p WallRun> {
    plan.programme.runs.get(plan.programme.middle)?.walls.iter().find(|wall| wall.slug == slug)
}

/// True on a day on which a task is worked on: between its ends, and not one of the days it waited.
pub fn worked_on(task: &Task, date: Date) -> bool {
    let waits = task.waited.iter().any(|wait| wait.from <= date && date <= wait.to);
    task.from <= date && date <= task.to && !waits
}

/// What keeps a harl, for whoever owns it. Common practice; nothing of it is reckoned for the wall.
pub fn upkeep(colour: &str) -> String {
    format!(
        "The limewash is the skin that is meant to wear. Left alone it wears through in ten to fifteen years, sooner on the weather side; given another coat at about five years, in {colour}, it \
         conserves everything behind it. Look at the walls each spring, after storms, and whenever the gutters are cleared: gutters, downpipes, wallheads, skews and the foot of the wall matter more to the \
         harl than anything else. Cut back a loose patch to sound edges, damp it, throw it again with the same lime and sand, and limewash the whole face. Never paint it, seal it or patch it with cement. The coats behind \
         the limewash then wear one at a time; a harl so kept lasts a hundred years and more. (Common practice, no source.)"
    )
}

/// The finish in words with its odds: "finished by Friday 9 July in 8 years of 12".
pub fn finish_in_words(plan: &Plan) -> String {
    if let Some(odds) = &plan.programme.odds {
        return format!("finished by {} in {} years of {}", weekday(odds.eight_in_ten), odds.eight_in_ten_years, odds.years);
    }
    let middle = plan.programme.runs.get(plan.programme.middle);
    match middle.and_then(|run| run.finished) {
        Some(finished) => format!("finished about {}, without odds", weekday(finished)),
        None => "not finished this season".to_owned(),
    }
}

/// The one sentence that answers first.
pub fn headline(plan: &Plan) -> String {
    let walls = capital(&counted(plan.survey.walls.len(), "wall", "walls"));
    let price = match &plan.price.not_given {
        Some(_) => "no price can be given yet".to_owned(),
        None => format!("for {} before tax", plan.price.before_tax.to_tens()),
    };
    format!(
        "{walls}, {:.0} m² of lime harl, begun on {}; {}, {price}.",
        plan.quantities.area_m2,
        weekday(plan.window.start),
        finish_in_words(plan),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn parts_are_spoken_in_quarters() {
        assert_eq!(mix(2.5), "1 : 2½");
        assert_eq!(parts(0.25), "¼");
        assert_eq!(parts(3.0), "3");
        assert_eq!(parts(2.6), "2.6");
    }

    #[test]
    fn spans_of_days_name_the_month_once() {
        assert_eq!(span(date(2027, 4, 19), date(2027, 4, 20)), "Mon 19 to Tue 20 April");
        assert_eq!(span(date(2027, 4, 30), date(2027, 5, 1)), "Fri 30 April to Sat 1 May");
        assert_eq!(span(date(2027, 4, 19), date(2027, 4, 19)), "Mon 19 April");
    }
}
