//! The story of a wall in words, as JSON and as a table: the same sentences for the terminal, the pictures and later pages. It words what was lived
//! through and works nothing out.

use serde_json::{Value, json};
use works::protect::{Foresight, Policy};
use works::{Criterion, Damage, Doing, Done, Impatient, Moment, Told, ToldCoat, ToldDay, ToldRule};

use crate::words;

/// Name and version of the JSON form.
pub const FORMAT: &str = "cure/1";

/// The one sentence that answers first.
pub fn answer(told: &Told) -> String {
    let begun = told.coats.iter().filter(|coat| coat.placed.is_some()).count();
    let Some(first) = told.coats.first().and_then(|coat| coat.placed) else {
        return format!(
            "The {} gets no coat this season: {}",
            lower(&told.wall_name),
            words::capital(told.unfinished.as_deref().unwrap_or("no fit morning came."))
        );
    };
    if let Some(why) = &told.unfinished {
        let on = words::counted(begun, "coat", "coats");
        return format!(
            "Begun on {}, the {} gets {on} of {} and is not finished this season: {why}",
            words::weekday(first.date),
            lower(&told.wall_name),
            words::count(told.coats.len())
        );
    }
    let last = told.coats.last().and_then(|coat| coat.ready);
    let end = last.map_or(String::new(), |ready| {
        format!(" and is ready for limewash on {}, {} days later", words::weekday(ready.date), words::days_between(first.date, ready.date))
    });
    let waits: Vec<String> = told.coats.iter().filter_map(|coat| Some(format!("{} {}", coat.days?, lower(&coat.name)))).collect();
    let waits = if waits.is_empty() { String::new() } else { format!(": reckoned days to ready, {}", words::listed(&waits)) };
    let spoiled = redone(told);
    let spoiled =
        if spoiled == 0 { String::new() } else { format!(", after {} had to come off", words::counted(spoiled, "coat", "coats")) };
    format!(
        "Begun on {}, the {} gets {}{end}{waits}{spoiled}.",
        words::weekday(first.date),
        lower(&told.wall_name),
        words::counted(begun, "coat", "coats")
    )
}

fn redone(told: &Told) -> usize {
    told.days.iter().flat_map(|day| &day.done).filter(|done| matches!(done.what, Doing::TakenOff(_))).count()
}

fn lower(name: &str) -> String {
    name.to_lowercase()
}

/// The pair in a sentence or two.
pub fn impatient(pair: &Impatient) -> String {
    let [sooner, later] = pair.days.map(|days| words::count(days as usize));
    let [with_sooner, with_later] = pair.first_coat_m.map(|metres| metres * 1000.0);
    let first = pair.walls[0].coats.first().map_or(String::new(), |coat| lower(&coat.name));
    let least = with_later - with_sooner;
    let verdict = if least.abs() < 0.005 {
        "no difference that can be seen".to_owned()
    } else if least > 0.0 {
        format!("{least:.2} mm less for the coat that came sooner")
    } else {
        format!("{:.2} mm more for the coat that came sooner", -least)
    };
    let when = pair.compared_after_days;
    let spoiled: Vec<String> = pair
        .walls
        .iter()
        .zip(&pair.days)
        .filter(|(told, _)| redone(told) > 0)
        .map(|(_, days)| format!(" With the next coat at {} days a coat had to come off.", words::count(*days as usize)))
        .collect();
    format!(
        "Day {when} after the {first}: with the next coat at {sooner} days it has taken up {with_sooner:.2} mm, at {later} days {with_later:.2} mm: {verdict}.{}",
        spoiled.concat()
    )
}

/// What hangs, in words, and what the foreman knows.
pub fn setting(told: &Told) -> String {
    let foresight = match told.foresight {
        Foresight::None => "the foreman knows no forecast",
        Foresight::Imperfect => "the foreman has a forecast that errs",
        Foresight::Perfect => "the foreman knows the weather to come",
    };
    format!("Under {}; weather of {}, {}; {foresight}.", told.policy.words(), told.year, told.why_year)
}

/// A policy as it is asked for on the command line.
pub fn policy_name(policy: Policy) -> &'static str {
    match policy {
        Policy::HessianByRule => "hessian",
        other => other.name(),
    }
}

/// "3 in the afternoon" is "15:00".
pub fn clock(hour: u8) -> String {
    format!("{hour}:00")
}

/// What was done, in words.
pub fn doing(told: &Told, done: &Done) -> String {
    let coat = |number: usize| told.coats.get(number).map_or(String::new(), |coat| lower(&coat.name));
    let placed = |number: usize| match told.coats.get(number).map(|coat| coat.placing) {
        Some(works::Placing::Laid) => "laid",
        _ => "thrown",
    };
    let what = match &done.what {
        Doing::Placed(number) => format!("{} {}", coat(*number), placed(*number)),
        Doing::TakenOff(number) => format!("{} taken off", coat(*number)),
        Doing::Hung(cover) => format!("{cover} hung"),
        Doing::Wetted => "cloth wetted".to_owned(),
        Doing::DampedDown => "wall damped down".to_owned(),
        Doing::Misted => "face misted".to_owned(),
        Doing::Struck => "cover taken down".to_owned(),
        Doing::Blown(cover) => format!("{cover}: taken down or tied down for wind"),
    };
    if done.why.is_empty() { what } else { format!("{what} ({})", done.why) }
}

/// All that was done on a day, the wettings and mistings counted.
pub fn doings(told: &Told, day: &ToldDay) -> Vec<String> {
    let mut said = Vec::new();
    for done in &day.done {
        match done.what {
            Doing::Wetted | Doing::Misted => {}
            _ => said.push(format!("{} {}", clock(done.hour), doing(told, done))),
        }
    }
    for (kind, name) in [(Doing::Wetted, "cloth wetted"), (Doing::Misted, "face misted")] {
        let count = day.done.iter().filter(|done| done.what == kind).count();
        if count > 0 {
            said.push(format!("{name} {}", words::times(u32::try_from(count).unwrap_or(u32::MAX))));
        }
    }
    said
}

/// The weather of days on end, in words.
pub fn weather(days: &[ToldDay]) -> String {
    let low = days.iter().map(|day| day.air_c.0).fold(f64::INFINITY, f64::min);
    let high = days.iter().map(|day| day.air_c.1).fold(f64::NEG_INFINITY, f64::max);
    let rain: f64 = days.iter().map(|day| day.rain_mm).sum();
    let count = days.len().max(1) as f64;
    let damp = days.iter().map(|day| day.air_humidity).sum::<f64>() / count * 100.0;
    let rain = if rain < 0.05 { "dry".to_owned() } else { format!("{} mm of rain", words::trimmed(rain, usize::from(rain < 10.0))) };
    format!("{} to {} °C, air {damp:.0} % damp, {rain}", celsius(low), celsius(high))
}

fn celsius(value: f64) -> String {
    let rounded = value.round();
    if rounded < 0.0 { format!("−{:.0}", -rounded) } else { format!("{:.0}", rounded.abs()) }
}

/// The outermost coat at the end of a day, in words.
pub fn state(told: &Told, day: &ToldDay) -> String {
    let Some((number, coat)) = day.coats.iter().enumerate().next_back() else { return "the wall is bare".to_owned() };
    let name = told.coats.get(number).map_or(String::new(), |coat| lower(&coat.name));
    let cloth = day.cloth_kg_m2.map_or(String::new(), |(low, high)| format!("; cloth {low:.1} to {high:.1} kg/m²"));
    format!(
        "{name}: {:.0} % of its water left, {:.2} mm taken up, front {:.1} mm{cloth}",
        coat.water_share * 100.0,
        coat.uptake_m * 1000.0,
        coat.front_m * 1000.0
    )
}

/// A rule by name, as a mason says it.
pub fn rule_name(rule: Criterion) -> &'static str {
    match rule {
        Criterion::Age => "old enough",
        Criterion::Firm => "firm",
        Criterion::Carbonated => "carbonated",
        Criterion::DampNotWet => "damp, not wet",
        Criterion::Sound => "sound",
        Criterion::ThermallyFit => "warm enough, cool enough",
    }
}

/// What a rule came to and what it asks, in words.
pub fn rule_says(rule: &ToldRule) -> String {
    let (least, most) = (rule.least.unwrap_or(0.0), rule.most.unwrap_or(0.0));
    match rule.rule {
        Criterion::Age => format!("{:.0} days at or above 5 °C; at least {least:.0}", rule.value),
        Criterion::Firm => format!("{:.0} % of the mix's water left; below {:.0} %", rule.value * 100.0, most * 100.0),
        Criterion::Carbonated => format!("{:.2} mm taken up; at least {:.2} mm", rule.value * 1000.0, least * 1000.0),
        Criterion::DampNotWet => format!("face {:.1} % damp; at most {:.1} %", rule.value * 100.0, most * 100.0),
        Criterion::Sound => match rule.value {
            grade if grade >= 3.0 => "a damage to be redone stands; none may".to_owned(),
            grade if grade >= 1.0 => "nothing to be redone; see the damage".to_owned(),
            _ => "no damage".to_owned(),
        },
        Criterion::ThermallyFit => format!("face {:.0} °C; {least:.0} to {most:.0} °C for the next throw", rule.value),
    }
}

/// "Thu 6 May, 14:00".
pub fn moment(at: Moment) -> String {
    format!("{}, {}", words::day(at.date), clock(at.hour))
}

/// A damage in a sentence: what, how bad, when, why, and the cheapest way to have prevented it.
pub fn damage(at: Moment, damage: &Damage) -> String {
    format!(
        "{} ({}) on {}: {} To prevent it: {}.",
        words::capital(&damage.kind.to_string()),
        grade(damage),
        moment(at),
        stopped(&damage.cause),
        damage.prevention
    )
}

fn grade(damage: &Damage) -> &'static str {
    match damage.grade {
        works::DamageGrade::Note => "to be watched",
        works::DamageGrade::Mend => "to be mended",
        works::DamageGrade::Redo => "to come off and be placed again",
    }
}

fn stopped(sentence: &str) -> String {
    let sentence = words::capital(sentence.trim());
    if sentence.ends_with('.') { sentence } else { format!("{sentence}.") }
}

/// When a coat was ready and what decided, with the test to make on the wall; the nail test stands first in it.
pub fn readiness(coat: &ToldCoat) -> String {
    match (coat.ready, coat.placed) {
        (Some(ready), _) => {
            let decided = coat.decides.map_or(String::new(), |rule| format!("; met last: {}", rule_name(rule)));
            format!("reckoned ready on {}, {} days after it was placed{decided}", words::day(ready.date), coat.days.unwrap_or(0))
        }
        (None, Some(_)) => match coat.decides {
            Some(rule) => format!("not ready; still fails: {}", rule_name(rule)),
            None => "not ready".to_owned(),
        },
        (None, None) => "never placed".to_owned(),
    }
}

/// The story as JSON: by the day, with the hours if they are asked for. The same story gives the same text.
pub fn cure_json(told: &Told, hourly: bool) -> String {
    let mut value = serde_json::to_value(told).unwrap_or_default();
    dress(&mut value, told, hourly);
    value.to_string()
}

/// The impatient pair as JSON.
pub fn pair_json(pair: &Impatient, hourly: bool) -> String {
    let walls: Vec<Value> = pair
        .walls
        .iter()
        .map(|told| {
            let mut value = serde_json::to_value(told).unwrap_or_default();
            dress(&mut value, told, hourly);
            value
        })
        .collect();
    json!({
        "format": FORMAT,
        "answer": impatient(pair),
        "days": pair.days,
        "compared_after_days": pair.compared_after_days,
        "first_coat_m": pair.first_coat_m,
        "walls": walls,
    })
    .to_string()
}

fn dress(value: &mut Value, told: &Told, hourly: bool) {
    value["format"] = FORMAT.into();
    value["answer"] = answer(told).into();
    if !hourly && let Some(fields) = value.as_object_mut() {
        fields.remove("hours");
    }
}

/// The story as RFC 4180 CSV with CRLF line ends: a row a day, or a row an hour.
pub fn cure_csv(told: &Told, hourly: bool) -> Vec<u8> {
    let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    let mut rows = vec![header(told, hourly)];
    if hourly {
        rows.extend(told.hours.iter().map(|hour| hour_row(told, hour)))
    } else {
        rows.extend(told.days.iter().map(|day| day_row(told, day)))
    }
    for row in rows {
        if writer.write_record(&row).is_err() {
            break;
        }
    }
    writer.into_inner().unwrap_or_default()
}

fn header(told: &Told, hourly: bool) -> Vec<String> {
    let fixed: &[&str] = if hourly {
        &[
            "date",
            "hour",
            "air_c",
            "air_humidity",
            "wind_m_s",
            "sun_w_m2",
            "rain_mm",
            "driven_kg_m2",
            "face_c",
            "face_humidity",
            "masonry_saturation",
            "cover",
            "cloth_kg_m2",
        ]
    } else {
        &[
            "date",
            "air_low_c",
            "air_high_c",
            "air_humidity",
            "wind_m_s",
            "rain_mm",
            "driven_kg_m2",
            "face_low_c",
            "face_high_c",
            "cover",
            "cloth_low_kg_m2",
            "cloth_high_kg_m2",
            "done",
        ]
    };
    let of_coats = told.coats.iter().flat_map(|coat| ["water_share", "uptake_mm", "front_mm"].map(|what| format!("{}_{what}", coat.slug)));
    fixed.iter().map(|name| (*name).to_owned()).chain(of_coats).collect()
}

fn day_row(told: &Told, day: &ToldDay) -> Vec<String> {
    let cloth = |of: fn((f64, f64)) -> f64| day.cloth_kg_m2.map_or(String::new(), |cloth| format!("{:.3}", of(cloth)));
    let mut row = vec![
        day.date.to_string(),
        format!("{:.1}", day.air_c.0),
        format!("{:.1}", day.air_c.1),
        format!("{:.3}", day.air_humidity),
        format!("{:.2}", day.wind_m_s),
        format!("{:.2}", day.rain_mm),
        format!("{:.3}", day.driven_kg_m2),
        format!("{:.1}", day.face_c.0),
        format!("{:.1}", day.face_c.1),
        day.cover.clone().unwrap_or_default(),
        cloth(|cloth| cloth.0),
        cloth(|cloth| cloth.1),
        doings(told, day).join("; "),
    ];
    row.extend(coat_cells(told, &day.coats));
    row
}

fn hour_row(told: &Told, hour: &works::ToldHour) -> Vec<String> {
    let mut row = vec![
        hour.at.date.to_string(),
        hour.at.hour.to_string(),
        format!("{:.2}", hour.air_c),
        format!("{:.4}", hour.air_humidity),
        format!("{:.2}", hour.wind_m_s),
        format!("{:.1}", hour.sun_w_m2),
        format!("{:.2}", hour.rain_mm),
        format!("{:.4}", hour.driven_kg_m2),
        format!("{:.2}", hour.face_c),
        format!("{:.4}", hour.face_humidity),
        format!("{:.4}", hour.masonry_saturation),
        hour.cover.clone().unwrap_or_default(),
        hour.cloth_kg_m2.map_or(String::new(), |water| format!("{water:.4}")),
    ];
    row.extend(coat_cells(told, &hour.coats));
    row
}

/// Cells of every coat, empty before it is placed.
fn coat_cells(told: &Told, states: &[works::ToldState]) -> Vec<String> {
    let cells = |number: usize| match states.get(number) {
        Some(state) => {
            [format!("{:.4}", state.water_share), format!("{:.4}", state.uptake_m * 1000.0), format!("{:.4}", state.front_m * 1000.0)]
        }
        None => [const { String::new() }; 3],
    };
    (0..told.coats.len()).flat_map(cells).collect()
}
