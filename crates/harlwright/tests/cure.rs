//! The story of one wall as a user asks for it: every flag, the same bytes twice, bad input told whole, and the test on the wall wherever a coat is
//! called ready.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "a test that cannot run the binary must stop")]

mod support;

use std::collections::HashSet;

use materials::Catalogue;
use support::{Said, demo, folder, harlwright};

/// The wall and the day of the demo that the tests tell of.
const SPRING: [&str; 4] = ["--wall", "north", "--from", "2027-04-28"];

fn cure(arguments: &[&str]) -> Said {
    let demo = demo();
    let mut all = vec!["cure", demo.to_str().unwrap()];
    all.extend(arguments);
    harlwright(&all)
}

fn spring(more: &[&str]) -> Said {
    let said = cure(&[&SPRING, more].concat());
    assert_eq!(said.code, 0, "{more:?}: {}", said.err);
    said
}

fn flowed(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn the_answer_comes_first_then_the_days_then_the_rules() {
    let said = spring(&[]);
    let answer = said.out.split("\n\n").nth(1).unwrap();
    assert!(answer.starts_with("Begun on ") && answer.contains("2027") || answer.contains("April"), "{answer}");
    for part in ["Day by day", "Ready?", "Damage", "What this cannot see", "Take care"] {
        assert!(said.out.contains(part), "no {part}:\n{}", said.out);
    }
    for rule in ["old enough", "firm", "carbonated", "damp, not wet", "sound", "warm enough"] {
        assert!(said.out.contains(rule), "no rule {rule}");
    }
    assert!(said.out.contains("invented"), "an invented job says so");
}

#[test]
fn whenever_a_coat_is_called_ready_the_nail_stands_before_the_drop() {
    let text = flowed(&spring(&[]).out);
    assert!(text.contains("reckoned ready"));
    let nail = text.find("nail test").unwrap();
    let drop = text.find("henolphthalein").unwrap_or(usize::MAX);
    assert!(nail < drop, "the nail test is named before any chemical one");
    for (at, _) in text.match_indices("reckoned ready: ") {
        assert!(text[at..].starts_with("reckoned ready: make the nail test"), "{}", &text[at..at + 60]);
    }
}

#[test]
fn hazards_named_carry_their_cautions() {
    for more in [&[][..], &["--policy", "heated"], &["--policy", "sheltered"], &["--throw-at", "2,9"], &["--hourly"]] {
        let text = flowed(&spring(more).out);
        let speech = text.split(" Take care ").next().unwrap();
        for caution in &Catalogue::shipped().cautions {
            let due = caution.is_always_shown_in("cure") || caution.is_called_for_by(speech);
            assert!(!due || text.contains(caution.words.as_str()), "{more:?} names {:?} without its caution", caution.hazard);
        }
    }
}

#[test]
fn each_policy_is_told_and_they_differ() {
    let told: HashSet<String> =
        ["nothing", "hessian", "sheltered", "heated"].iter().map(|policy| spring(&["--policy", policy]).out).collect();
    assert_eq!(told.len(), 4);
    assert_eq!(spring(&[]).out, spring(&["--policy", "hessian"]).out, "hessian is what is told unasked");
    assert!(!spring(&["--policy", "nothing"]).out.contains("hessian hung"));
}

#[test]
fn json_is_json_and_holds_days_rules_and_sections() {
    let story: serde_json::Value = serde_json::from_str(&spring(&["--json"]).out).unwrap();
    assert_eq!(story["format"], "cure/1");
    assert!(story["answer"].as_str().unwrap().starts_with("Begun on "));
    assert!(story["hours"].is_null(), "hours come only when asked for");
    let days = story["days"].as_array().unwrap();
    assert!(days.len() > 14);
    assert!(days.iter().any(|day| !day["section"].as_array().unwrap().is_empty()));
    for coat in story["coats"].as_array().unwrap() {
        assert_eq!(coat["rules"].as_array().unwrap().len(), 6, "{}", coat["name"]);
        assert!(coat["test"].as_str().unwrap().contains("nail test"));
    }
    let hourly: serde_json::Value = serde_json::from_str(&spring(&["--json", "--hourly"]).out).unwrap();
    assert!(hourly["hours"].as_array().unwrap().len() >= 24 * (days.len() - 1));
}

#[test]
fn csv_has_a_row_a_day_or_an_hour_of_one_width() {
    for (more, first) in [
        (&["--csv"][..], "date,air_low_c"),
        (&["--csv", "--hourly"], "date,hour,air_c"),
        (&["--csv", "--throw-at", "2,9"], "next_coat_after_days,date"),
    ] {
        let said = spring(more);
        assert!(said.out.starts_with(first), "{}", &said.out[..80]);
        let head = said.out.lines().next().unwrap();
        assert!(head.contains("scud_uptake_mm") && head.contains("finish_front_mm"), "{head}");
        let columns = head.split(',').count();
        // Cells of words may hold commas between quotes.
        let cells = |line: &str| line.split('"').step_by(2).map(|part| part.matches(',').count()).sum::<usize>() + 1;
        assert!(said.out.lines().all(|line| cells(line) == columns));
        assert!(said.out.lines().count() > 15);
    }
}

#[test]
fn pictures_are_drawn_into_a_folder_or_a_file_and_nothing_is_overwritten() {
    let folder = folder("cure-pictures");
    spring(&["--svg", folder.to_str().unwrap()]);
    for name in ["front", "sections", "nights"] {
        let svg = std::fs::read_to_string(folder.join(format!("{name}.svg"))).unwrap();
        assert!(svg.starts_with("<svg") && svg.contains("<title>") && svg.contains("<desc>") && svg.contains("<text"), "{name}");
    }
    assert!(std::fs::read_to_string(folder.join("front.svg")).unwrap().contains("data-reading"));
    let sheet = folder.join("sheet.svg");
    spring(&["--svg", sheet.to_str().unwrap()]);
    let again = cure(&[&SPRING[..], &["--svg", sheet.to_str().unwrap()]].concat());
    assert_eq!(again.code, 2);
    assert!(again.err.contains("exists already"), "{}", again.err);
    let pair = folder.join("pair.svg");
    spring(&["--throw-at", "2,9", "--svg", pair.to_str().unwrap()]);
    assert!(std::fs::read_to_string(&pair).unwrap().contains("two days and at nine"));
}

/// The trade's warning: a coat added too soon lengthens the path the air must travel (common practice, no source).
#[test]
fn the_impatient_coat_takes_up_less() {
    let pair: serde_json::Value = serde_json::from_str(&spring(&["--throw-at", "2,9", "--json"]).out).unwrap();
    assert_eq!(pair["days"], serde_json::json!([2, 9]));
    let taken: Vec<f64> = pair["first_coat_m"].as_array().unwrap().iter().map(|depth| depth.as_f64().unwrap()).collect();
    assert!(taken[0] < taken[1], "{taken:?}");
    assert_eq!(spring(&["--throw-at", "9,2"]).out, spring(&["--throw-at", "2,9"]).out, "the order they are given in does not matter");
}

#[test]
fn the_same_story_is_the_same_bytes_on_one_thread_and_two() {
    let one = cure(&[&["--threads", "1"], &SPRING[..], &["--json", "--hourly"]].concat());
    let two = cure(&[&["--threads", "2"], &SPRING[..], &["--json", "--hourly"]].concat());
    assert_eq!(one.code, 0, "{}", one.err);
    assert!(one.out == two.out, "the bytes differ");
}

#[test]
fn a_year_may_be_chosen_and_a_wall_named_by_number() {
    let told = spring(&["--year", "2003"]);
    assert!(told.out.contains("weather of 2003, as asked"), "{}", told.out);
    let numbered = cure(&["--wall", "1", "--from", "2027-04-28", "--year", "2003"]);
    assert_eq!(numbered.out, told.out);
}

#[test]
fn all_that_is_wrong_is_told_at_once() {
    let said = cure(&["--wall", "nort", "--from", "2027-02-30", "--policy", "tarpaulin", "--year", "1850", "--throw-at", "2"]);
    assert_eq!(said.code, 2);
    assert!(said.out.is_empty());
    for words in
        ["no wall “nort”", "north", "“2027-02-30” is not a day", "no protection called “tarpaulin”", "has no year 1850", "“2” does not say"]
    {
        assert!(flowed(&said.err).contains(words), "no {words}:\n{}", said.err);
    }
    assert!(said.err.contains("5 problems"), "{}", said.err);
}

#[test]
fn a_cover_is_not_a_policy_and_a_day_outside_the_survey_is_refused() {
    let cover = cure(&[&SPRING[..], &["--policy", "netting"]].concat());
    assert_eq!(cover.code, 2);
    assert!(flowed(&cover.err).contains("is a cover (debris netting") && cover.err.contains("sheltered"), "{}", cover.err);
    for from in ["2026-12-31", "2031-01-01"] {
        let said = cure(&["--wall", "north", "--from", from]);
        assert_eq!(said.code, 2);
        assert!(flowed(&said.err).contains("surveyed on 2027-01-18"), "{}", said.err);
    }
    let both = cure(&[&SPRING[..], &["--json", "--csv"]].concat());
    assert_eq!(both.code, 2);
}

#[test]
fn a_job_without_weather_cannot_be_told() {
    let text = std::fs::read_to_string(demo()).unwrap();
    let without = text
        .replace("file = \"weather.csv\"      # twelve invented years, hour by hour\nkind = \"invented\"\n", "")
        .replace("[weather]\n", "");
    assert_ne!(text, without);
    let job = folder("cure-no-weather").join("job.toml");
    std::fs::write(&job, without).unwrap();
    let said = harlwright(&["cure", job.to_str().unwrap(), "--wall", "north", "--from", "2027-04-28"]);
    assert_eq!(said.code, 2);
    assert!(said.err.contains("names no weather") && said.err.contains("help: "), "{}", said.err);
}

#[test]
fn help_shows_real_examples() {
    let said = harlwright(&["cure", "--help"]);
    assert_eq!(said.code, 0);
    assert!(said.out.contains("harlwright cure job.toml --wall north --from"), "{}", said.out);
    assert!(harlwright(&["completions", "bash"]).out.contains("throw-at"));
}

#[test]
fn smooth_faces_are_told_as_such_and_tell_another_story() {
    let (rough, smooth) = (spring(&["--csv"]), spring(&["--csv", "--smooth"]));
    assert_ne!(rough.out, smooth.out, "the texture of a thrown face changes how it dries");
    assert!(spring(&["--smooth"]).out.contains("texture factor 1") && !spring(&[]).out.contains("texture factor 1"));
}
