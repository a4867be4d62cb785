//! Bad input of every kind: each gives exit code 2 and says where, what was found and what to do; none panics; nothing is written.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "a test that cannot run the binary must stop")]

mod support;

use support::{demo, files, folder, harlwright};

/// Words one of which a remedy holds.
const REMEDY: [&str; 1] = ["help: "];

#[test]
fn every_broken_job_is_refused_with_its_place_and_remedy() {
    let jobs = files("tests/bad/job", "toml");
    assert!(jobs.len() >= 20, "{} broken jobs", jobs.len());
    let out = folder("bad-out");
    for job in jobs {
        let said = harlwright(&["plan".as_ref(), job.as_os_str(), "--out".as_ref(), out.as_os_str()]);
        let name = job.file_name().unwrap().to_string_lossy().into_owned();
        assert_eq!(said.code, 2, "{name}: {}{}", said.out, said.err);
        assert!(said.err.contains(&name), "{name} does not name its place:\n{}", said.err);
        assert!(REMEDY.iter().any(|word| said.err.contains(word)), "{name} has no remedy:\n{}", said.err);
        assert!(said.out.is_empty(), "{name} printed a result:\n{}", said.out);
    }
    assert_eq!(std::fs::read_dir(&out).unwrap().count(), 0, "nothing is written");
}

#[test]
fn every_broken_weather_file_is_refused_with_its_place_and_remedy() {
    let broken: Vec<_> = ["csv", "epw"].iter().flat_map(|ending| files("tests/bad/weather", ending)).collect();
    assert!(broken.len() >= 6, "{} broken weather files", broken.len());
    let folder = folder("bad-weather");
    let job = std::fs::read_to_string(demo()).unwrap();
    for weather in broken {
        let name = weather.file_name().unwrap().to_string_lossy().into_owned();
        std::fs::copy(&weather, folder.join(&name)).unwrap();
        let path = folder.join("job.toml");
        let changed = job.replace("\"weather.csv\"", &format!("\"{name}\""));
        assert_ne!(changed, job, "the demo names weather.csv");
        std::fs::write(&path, changed).unwrap();
        let said = harlwright(&["plan".as_ref(), path.as_os_str()]);
        assert_eq!(said.code, 2, "{name}: {}{}", said.out, said.err);
        assert!(said.err.contains(&name), "{name} does not name its place:\n{}", said.err);
        assert!(REMEDY.iter().any(|word| said.err.contains(word)), "{name} has no remedy:\n{}", said.err);
    }
}

#[test]
fn every_broken_trial_is_refused_with_its_place_and_remedy() {
    let trials = files("tests/bad/trial", "toml");
    assert!(trials.len() >= 5, "{} broken trials", trials.len());
    for trial in trials {
        let name = trial.file_name().unwrap().to_string_lossy().into_owned();
        let said = harlwright(&["trial".as_ref(), trial.as_os_str()]);
        assert_eq!(said.code, 2, "{name}: {}{}", said.out, said.err);
        assert!(said.err.contains(&name) && REMEDY.iter().any(|word| said.err.contains(word)), "{name}:\n{}", said.err);
    }
}

/// Lines of the demo, and what stands in their place.
type Changes<'c> = &'c [(&'c str, &'c str)];

/// The demo with lines changed and its weather cut to the first years, in a folder of its own.
fn changed_demo(name: &str, years: u32, changes: Changes) -> std::path::PathBuf {
    let folder = folder(name);
    let mut job = std::fs::read_to_string(demo()).unwrap();
    for (from, to) in changes {
        assert!(job.contains(from), "the demo has no {from}");
        job = job.replace(from, to);
    }
    let weather = std::fs::read_to_string(demo().with_file_name("weather.csv")).unwrap();
    let last = 2000 + years;
    let kept =
        weather.lines().filter(|line| line.split(',').next().and_then(|year| year.parse::<u32>().ok()).is_none_or(|year| year <= last));
    std::fs::write(folder.join("weather.csv"), kept.map(|line| format!("{line}\n")).collect::<String>()).unwrap();
    let path = folder.join("job.toml");
    std::fs::write(&path, job).unwrap();
    path
}

/// What a command says of a job, on both outputs together, and its exit code; runs of blanks and line breaks are one blank.
fn asked(command: &str, job: &std::path::Path) -> (i32, String) {
    let mut arguments = vec![std::ffi::OsStr::new(command), job.as_os_str()];
    if command == "compare" {
        arguments.extend(["--change", "system.straight_edge_m=1.8"].map(std::ffi::OsStr::new));
    }
    let said = harlwright(&arguments);
    let words = format!("{} {}", said.out, said.err).replace('│', " ");
    (said.code, words.split_whitespace().collect::<Vec<_>>().join(" "))
}

const COMMANDS: [&str; 4] = ["plan", "season", "compare", "order-of-work"];
const NO_FINISH: (&str, &str) = ("finish_by = 2027-09-17\n", "");

#[test]
fn what_no_job_can_be_done_with_is_refused_by_every_command_in_a_sentence_that_names_it() {
    let cases: [(&str, Changes, &[&str]); 6] = [
        (
            "no-days",
            &[("days   = [\"mon\", \"tue\", \"wed\", \"thu\", \"fri\"]", "days   = []")],
            &["calendar.days", "There are 0 in the list"],
        ),
        (
            "all-break",
            &[("breaks = [\"2027-05-03\", \"2027-07-12 to 2027-07-16\"]", "breaks = [\"2027-01-01 to 2032-01-01\"]"), NO_FINISH],
            &["leaves no working day", "falls in a break"],
        ),
        ("nobody", &[("masons    = 2", "masons    = 0")], &["gangs.calder.masons", "has no mason in it"]),
        ("no-scaffold", &[("walls_at_once      = 4", "walls_at_once      = 0")], &["scaffold.walls_at_once", "0 is less than 1"]),
        (
            "late-scaffold",
            &[("from               = 2027-04-22", "from               = 2027-10-22")],
            &["scaffold.from", "after the latest day of the job"],
        ),
        (
            "scaffold-never",
            &[("from               = 2027-04-22", "from               = 2040-10-22"), NO_FINISH],
            &["The scaffold is never free for this job", "2040"],
        ),
    ];
    for (name, changes, words) in cases {
        let job = changed_demo(name, 1, changes);
        for command in COMMANDS {
            let (code, said) = asked(command, &job);
            assert_eq!(code, 2, "{name} {command}: {said}");
            assert!(words.iter().all(|words| said.contains(words)), "{name} {command}: {said}");
        }
    }
}

// The season begins the job in every week and refuses none: it tells of the date that its own start cannot keep.
#[test]
fn a_date_that_cannot_be_kept_is_told_with_what_binds() {
    let job = changed_demo("deadline", 1, &[("finish_by = 2027-09-17", "finish_by = 2027-05-12")]);
    for (command, code) in COMMANDS.into_iter().zip([2, 0, 2, 2]) {
        let (found, said) = asked(command, &job);
        assert_eq!(found, code, "{command}: {said}");
        for words in ["cannot be finished by 12 May 2027", "The wall that finishes last", "waits longest", "or allow until"] {
            assert!(said.contains(words), "{command}, {words}: {said}");
        }
    }
}

#[test]
fn fewer_than_ten_weather_years_give_no_odds_and_that_is_said() {
    let job = changed_demo("few-years", 2, &[]);
    for command in COMMANDS {
        let (code, said) = asked(command, &job);
        assert_eq!(code, 0, "{command}: {said}");
        assert!(said.contains("2 weather years give no odds: at least 10 are needed"), "{command}: {said}");
        assert!(!said.contains("8 years in 10 finish it"), "{command}: {said}");
    }
}

// No scaffold within the weeks that are looked ahead, though it comes within those a job is followed for.
#[test]
fn a_scaffold_out_of_sight_is_named_and_not_counted_in_slots() {
    let job = changed_demo("scaffold-far", 1, &[("from               = 2027-04-22", "from               = 2029-04-22"), NO_FINISH]);
    let (code, said) = asked("order-of-work", &job);
    assert_eq!(code, 2, "{said}");
    assert!(said.contains("All work waits for scaffold until 22 April 2029") && !said.contains("slots"), "{said}");
}

#[test]
fn files_that_are_not_there_or_not_text_are_told_plainly() {
    let folder = folder("not-there");
    let none = harlwright(&["plan".as_ref(), folder.join("none.toml").as_os_str()]);
    assert_eq!(none.code, 2);
    assert!(none.err.contains("There is no job file"), "{}", none.err);
    let a_folder = harlwright(&["plan".as_ref(), folder.as_os_str()]);
    assert_eq!(a_folder.code, 2);
    assert!(a_folder.err.contains("is a folder"), "{}", a_folder.err);
    let bytes = folder.join("bytes.toml");
    std::fs::write(&bytes, b"name = \"a\"\nplace = \"\xff\xfe\"\n").unwrap();
    let not_text = harlwright(&["check".as_ref(), bytes.as_os_str()]);
    assert_eq!(not_text.code, 2);
    assert!(not_text.err.contains("line 2") && not_text.err.contains("UTF-8"), "{}", not_text.err);
    let empty = folder.join("empty.toml");
    std::fs::write(&empty, b"").unwrap();
    assert_eq!(harlwright(&["check".as_ref(), empty.as_os_str()]).code, 2);
}

#[test]
fn a_folder_that_cannot_be_made_fails_before_the_work() {
    let folder = folder("blocked");
    let file = folder.join("file");
    std::fs::write(&file, b"").unwrap();
    let said = harlwright(&["plan".as_ref(), demo().as_os_str(), "--out".as_ref(), file.join("below").as_os_str()]);
    assert_eq!(said.code, 2);
    assert!(said.err.contains("could not be made"), "{}", said.err);
}

#[test]
fn a_long_line_is_placed_in_words_and_not_poured_out() {
    let path = folder("long-line").join("long.toml");
    std::fs::write(&path, format!("[job]\nname = \"{}\"\nplacs = \"x\"\n", "long ".repeat(2000))).unwrap();
    let said = harlwright(&["check".as_ref(), path.as_os_str()]);
    assert_eq!(said.code, 2);
    assert!(said.err.contains("line 3") && said.err.len() < 20_000, "{}", said.err);
}

#[test]
fn weather_that_is_missing_or_a_folder_has_its_own_remedy() {
    let folder = folder("no-weather");
    let job = std::fs::read_to_string(demo()).unwrap();
    for (weather, words) in [("none.csv", "There is no weather file"), (".", "is a folder, not a weather file")] {
        let path = folder.join("job.toml");
        std::fs::write(&path, job.replace("\"weather.csv\"", &format!("\"{weather}\""))).unwrap();
        let said = harlwright(&["plan".as_ref(), path.as_os_str()]);
        assert_eq!(said.code, 2);
        assert!(said.err.contains(words) && !said.err.contains("harlwright new"), "{}", said.err);
    }
}
