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
