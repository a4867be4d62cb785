//! JSON, CSV and calendar files read back by readers we did not write, or by the rules of their standards.

use documents::{order_csv, plan_json, programme_ics};
use serde_json::Value;

use crate::support::{Names, plan};

#[test]
fn the_json_reads_back_with_its_parts_in_order_and_repeats() {
    let plan = plan(4, Names::Markup);
    let text = plan_json(&plan);
    assert_eq!(text, plan_json(&plan));
    let value: Value = serde_json::from_str(&text).unwrap();
    let keys: Vec<&str> = value.as_object().unwrap().keys().map(String::as_str).collect();
    // Computed here, regression only: the order of the parts in docs/plan-1.md.
    let parts = [
        "format",
        "job",
        "window",
        "basis",
        "headline",
        "answers",
        "survey",
        "specification",
        "quantities",
        "protection",
        "programme",
        "order",
        "price",
        "swings",
        "findings",
        "cautions",
        "reckonings",
    ];
    assert_eq!(keys, parts);
    assert_eq!(value["format"], "plan/1");
    assert_eq!(value["job"]["client"], plan.about.client);
    assert_eq!(value["price"]["before_tax"]["amount"], "33609");
    assert_eq!(value["answers"].as_array().unwrap().len(), 10);
    assert_eq!(value["survey"]["walls"][0]["openings"].as_array().unwrap().len(), 5);
    assert_eq!(value["basis"]["seed"], "7");
}

#[test]
fn days_stand_in_the_middle_run_alone() {
    let value: Value = serde_json::from_str(&plan_json(&plan(1, Names::Short))).unwrap();
    let runs = value["programme"]["runs"].as_array().unwrap();
    let with_days: Vec<i64> =
        runs.iter().filter(|run| run["walls"][0].get("days").is_some()).map(|run| run["year"].as_i64().unwrap()).collect();
    assert_eq!(with_days, [value["programme"]["middle_year"].as_i64().unwrap()]);
}

/// Every key that the JSON of a rich plan holds stands in the description.
#[test]
fn the_description_names_every_key() {
    let description = include_str!("../../../../docs/plan-1.md");
    let value: Value = serde_json::from_str(&plan_json(&plan(4, Names::Short))).unwrap();
    let mut missing = Vec::new();
    walk(&value, &mut |key| {
        if !description.contains(&format!("`{key}`")) {
            missing.push(key.to_owned());
        }
    });
    missing.sort();
    missing.dedup();
    assert!(missing.is_empty(), "not described in docs/plan-1.md: {missing:?}");
}

fn walk(value: &Value, see: &mut impl FnMut(&str)) {
    match value {
        Value::Object(map) => {
            for (key, value) in map {
                see(key);
                walk(value, see);
            }
        }
        Value::Array(items) => items.iter().for_each(|item| walk(item, see)),
        _ => {}
    }
}

#[test]
fn the_order_reads_back_as_rfc_4180_and_holds_no_formula() {
    let plan = plan(1, Names::Short);
    let bytes = order_csv(&plan);
    assert_eq!(bytes.windows(2).filter(|pair| pair == b"\r\n").count(), bytes.iter().filter(|byte| **byte == b'\n').count());
    let mut reader = csv::Reader::from_reader(bytes.as_slice());
    assert_eq!(reader.headers().unwrap().len(), 8);
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    assert_eq!(rows.len(), plan.order.lines.len() + plan.order.lay_down.len());
    assert_eq!(&rows[3][3], "'=Finish grit 2/6, \"washed\"");
    assert!(rows.iter().flatten().all(|cell| !cell.starts_with(['=', '+', '-', '@'])));
}

/// The rules of RFC 5545: CRLF, lines of at most 75 octets, folding by one space, one identity an event, whole days with the end left out.
#[test]
fn the_calendar_keeps_the_rules_of_rfc_5545() {
    for names in [Names::Short, Names::Long, Names::Markup] {
        let plan = plan(4, names);
        let text = programme_ics(&plan);
        assert!(text.ends_with("END:VCALENDAR\r\n"));
        assert!(!text.replace("\r\n", "").contains(['\r', '\n']));
        assert!(text.split("\r\n").all(|line| line.len() <= 75), "a line is longer than 75 octets");
        let lines: Vec<String> = text.replace("\r\n ", "").split("\r\n").map(str::to_owned).collect();
        let uids: Vec<&String> = lines.iter().filter(|line| line.starts_with("UID:")).collect();
        let events = lines.iter().filter(|line| *line == "BEGIN:VEVENT").count();
        let mut unique = uids.clone();
        unique.sort();
        unique.dedup();
        assert_eq!((uids.len(), unique.len()), (events, events));
        assert_eq!(
            events,
            plan.programme.before.len()
                + plan.programme.runs[plan.programme.middle].walls.iter().map(|wall| wall.tasks.len()).sum::<usize>()
        );
        assert!(lines.iter().filter(|line| line.starts_with("SEQUENCE:")).all(|line| line == "SEQUENCE:7"));
        assert!(lines.iter().filter(|line| line.starts_with("DTSTAMP:")).all(|line| line == "DTSTAMP:20270301T120000Z"));
        assert!(lines.contains(&"DTSTART;VALUE=DATE:20270419".to_owned()) && lines.contains(&"DTEND;VALUE=DATE:20270421".to_owned()));
    }
}

#[test]
fn a_later_revision_keeps_its_identities() {
    let first = plan(2, Names::Short);
    let mut second = first.clone();
    second.about.revision = 8;
    let uids = |text: String| -> Vec<String> { text.split("\r\n").filter(|line| line.starts_with("UID:")).map(str::to_owned).collect() };
    assert_eq!(uids(programme_ics(&first)), uids(programme_ics(&second)));
}
