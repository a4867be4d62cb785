//! When and by whom: the window of dates, the working days, the gangs.

use jiff::ToSpan;
use jiff::civil::{Date, Time, Weekday};
use reckoning::{Finding, Grade, Known};
use works::{Asking, BeforeStart, Between, Calendar, Gang, PanelState, Wildlife, Window};

use super::wall::spoken;
use crate::fields::PRACTICE;
use crate::problem::Fault;
use crate::reader::Reader;

pub(super) fn calendar(reader: &mut Reader<'_>) -> Option<Calendar> {
    let words = reader.words("calendar.days");
    let days = [
        ("mon", Weekday::Monday),
        ("tue", Weekday::Tuesday),
        ("wed", Weekday::Wednesday),
        ("thu", Weekday::Thursday),
        ("fri", Weekday::Friday),
        ("sat", Weekday::Saturday),
        ("sun", Weekday::Sunday),
    ];
    let days = days.into_iter().filter(|(word, _)| words.iter().any(|written| written == word)).map(|(_, day)| day).collect();
    let from = reader.time("calendar.from").unwrap_or(Time::midnight());
    let to = reader.time("calendar.to").unwrap_or(Time::MAX);
    if from >= to {
        reader.problem(
            Fault::Contradiction,
            "calendar.to",
            format!("The day ends at {}, which is not after its start at {}.", short(to), short(from)),
            "Allowed is an end after the start, on the same day.",
            "Write the hours on the twenty-four hour clock, such as \"16:30\".",
        );
    }
    let breaks = reader.spells("calendar.breaks");
    Some(Calendar { days, from, to, breaks })
}

fn short(time: Time) -> String {
    format!("{}:{:02}", time.hour(), time.minute())
}

/// Hours in a working day.
pub(super) fn day_hours(calendar: &Calendar) -> f64 {
    let minutes = |time: Time| f64::from(time.hour()) * 60.0 + f64::from(time.minute());
    ((minutes(calendar.to) - minutes(calendar.from)) / 60.0).max(0.5)
}

fn is_worked(calendar: &Calendar, day: Date) -> bool {
    calendar.days.contains(&day.weekday()) && !calendar.breaks.iter().any(|(first, last)| (*first..=*last).contains(&day))
}

pub(super) fn window(reader: &mut Reader<'_>, calendar: &Calendar, surveyed_on: &str, findings: &mut Vec<Finding>) -> Option<Window> {
    let start = reader.date("window.start");
    let finish_by = reader.date("window.finish_by");
    let start = start?;
    if let Some(finish_by) = finish_by {
        before_end(reader, calendar, start, finish_by);
    }
    if let Ok(surveyed) = surveyed_on.parse::<Date>() {
        after_survey(reader, surveyed, start, findings);
    }
    if !calendar.days.is_empty() && !is_worked(calendar, start) {
        findings.push(Finding {
            grade: Grade::Note,
            rule: "start-worked".to_owned(),
            place: "window.start".to_owned(),
            says: format!("The start, {}, is not a day worked on this job.", spoken_day(start)),
            reason: "The first work then falls on the next day worked.".to_owned(),
            source: "the calendar of the job".to_owned(),
            remedy: "Choose a working day, or add the day to the calendar.".to_owned(),
        });
    }
    Some(Window { start, finish_by })
}

/// A day as said in a sentence: "14 July 2027".
fn spoken_day(date: Date) -> String {
    date.strftime("%-d %B %Y").to_string()
}

fn before_end(reader: &mut Reader<'_>, calendar: &Calendar, start: Date, finish_by: Date) {
    if finish_by < start {
        reader.problem(
            Fault::Contradiction,
            "window.finish_by",
            format!("The latest day, {finish_by}, comes before the start, {start}."),
            "Allowed is a day after the start.",
            "Look at the year and the month of both.",
        );
        return;
    }
    let days = std::iter::successors(Some(start), |day| day.checked_add(1.day()).ok()).take_while(|day| *day <= finish_by);
    if !calendar.days.is_empty() && !days.into_iter().any(|day| is_worked(calendar, day)) {
        reader.problem(
            Fault::Contradiction,
            "window.finish_by",
            format!("Not one day is worked from {start} to {finish_by}."),
            "Allowed is a window with working days in it.",
            "Look at calendar.days and calendar.breaks, or give more time.",
        );
    }
}

fn after_survey(reader: &mut Reader<'_>, surveyed: Date, start: Date, findings: &mut Vec<Finding>) {
    if start < surveyed {
        reader.problem(
            Fault::Contradiction,
            "window.start",
            format!("The start, {start}, comes before the survey of {surveyed}."),
            "Allowed is a start on or after the day of the survey.",
            "Look at the year of both.",
        );
    } else if surveyed.checked_add(1.year()).is_ok_and(|later| later < start) {
        findings.push(Finding {
            grade: Grade::Think,
            rule: "survey-fresh".to_owned(),
            place: "survey.surveyed_on".to_owned(),
            says: format!("The wall was looked at on {}, more than a year before the start.", spoken_day(surveyed)),
            reason: "How wet it is then may not be how wet it is at the start.".to_owned(),
            source: PRACTICE.to_owned(),
            remedy: "Lay a hand on the wall again before the order goes out.".to_owned(),
        });
    }
}

pub(super) fn gangs(reader: &mut Reader<'_>, findings: &mut Vec<Finding>) -> Vec<Gang> {
    let names = reader.names("gangs");
    if names.is_empty() && !reader.sheet.is_spoiled("gangs") {
        findings.push(Finding {
            grade: Grade::Note,
            rule: "gang-named".to_owned(),
            place: "gangs".to_owned(),
            says: "No gang is named, so one of two masons and a labourer is taken.".to_owned(),
            reason: "How many hands there are sets how many days the work takes.".to_owned(),
            source: PRACTICE.to_owned(),
            remedy: "Add a gang, for example [gangs.own] with masons and labourers.".to_owned(),
        });
    }
    let names = if names.is_empty() { vec!["own".to_owned()] } else { names };
    names.iter().map(|name| gang(reader, name)).collect()
}

fn gang(reader: &mut Reader<'_>, name: &str) -> Gang {
    let path = format!("gangs.{name}");
    let masons = reader.count(&format!("{path}.masons")).unwrap_or(0);
    let labourers = reader.count(&format!("{path}.labourers")).unwrap_or(0);
    let spoiled = ["masons", "labourers"].into_iter().any(|key| reader.sheet.is_spoiled(&format!("{path}.{key}")));
    if masons == 0 && !spoiled {
        let who = if labourers == 0 { "nobody in it" } else { "no mason in it" };
        reader.problem(
            Fault::Contradiction,
            &format!("{path}.masons"),
            format!("The gang {name:?} has {who}."),
            "Allowed is a gang with at least one mason.",
            "Write how many masons come, or take the gang out.",
        );
    }
    let between = match reader.word(&format!("{path}.between")).as_deref() {
        Some("idle-paid") => Between::IdlePaid,
        Some("away") => Between::Away,
        _ => Between::OtherWork,
    };
    let travel_h: Known<f64> = reader.known_number(&format!("{path}.travel_h"));
    let home_each_night = reader.known_flag(&format!("{path}.home_each_night"));
    let shown = reader.word(&format!("{path}.name")).unwrap_or_else(|| spoken(name));
    Gang { name: shown, masons, labourers, between, travel_h, home_each_night }
}

/// What has been done before the start.
pub(super) fn before(reader: &mut Reader<'_>) -> BeforeStart {
    let panel = reader.word("before.panel").map(|word| match word.as_str() {
        "approved" => PanelState::Approved,
        "begun" => PanelState::Begun,
        _ => PanelState::NotBegun,
    });
    let wildlife = reader.word("before.wildlife").map(|word| match word.as_str() {
        "cleared" => Wildlife::Cleared,
        "no-sign" => Wildlife::NoSign,
        "sign" => Wildlife::Sign,
        _ => Wildlife::NotLooked,
    });
    BeforeStart {
        panel,
        panel_begun: reader.date("before.panel_begun"),
        consent: asking(reader, "before.consent"),
        consent_asked: reader.date("before.consent_asked"),
        consent_weeks: reader.needed_number("before.consent_weeks"),
        pavement: asking(reader, "before.pavement"),
        pavement_asked: reader.date("before.pavement_asked"),
        pavement_weeks: reader.needed_number("before.pavement_weeks"),
        wildlife,
        wildlife_weeks: reader.needed_number("before.wildlife_weeks"),
        coarse_stuff_laid: reader.date("before.coarse_stuff_laid"),
    }
}

fn asking(reader: &mut Reader<'_>, path: &str) -> Option<Asking> {
    reader.word(path).map(|word| match word.as_str() {
        "given" => Asking::Given,
        "asked" => Asking::Asked,
        "not-needed" => Asking::NotNeeded,
        _ => Asking::NotAsked,
    })
}
