//! The what-if and the season as a user runs them.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "a test that cannot run the binary must stop")]

mod support;

use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use support::{demo, folder, harlwright};

#[test]
fn changes_are_compared_in_the_same_years() {
    let job = demo();
    let said = harlwright(&[
        "compare".as_ref(),
        job.as_os_str(),
        "--change".as_ref(),
        "window.start=2027-06-07".as_ref(),
        "--change".as_ref(),
        "system.straight_edge_m=1.8".as_ref(),
    ]);
    assert_eq!(said.code, 0, "{}", said.err);
    for words in ["As it stands", "window.start=2027-06-07", "all of these together", "in the mean of 12 years", "8 years in 10"] {
        assert!(said.out.contains(words), "{words}: {}", said.out);
    }
}

#[test]
fn a_change_the_file_would_refuse_is_refused_with_what_is_allowed() {
    let job = demo();
    for (change, words) in [
        ("window.stat=2027-06-07", "stat"),
        ("system.straight_edge_m=90", "straight_edge_m"),
        ("system.cover", "change"),
        ("calendar.days=[]", "calendar.days"),
    ] {
        let said = harlwright(&["compare".as_ref(), job.as_os_str(), "--change".as_ref(), change.as_ref()]);
        assert_eq!(said.code, 2, "{change}: {}{}", said.out, said.err);
        assert!(said.err.contains(words) && said.err.contains("Allowed"), "{change}: {}", said.err);
    }
}

#[test]
fn the_year_is_set_on_paper_and_into_the_proposal() {
    let sheet = folder("year").join("season.pdf");
    let said = harlwright(&["season".as_ref(), demo().as_os_str(), "--pdf".as_ref(), sheet.as_os_str()]);
    if cfg!(feature = "pdf") {
        assert_eq!(said.code, 0, "{}", said.err);
        assert!(std::fs::read(&sheet).unwrap().starts_with(b"%PDF-"));
    } else {
        assert_eq!(said.code, 1, "{}", said.err);
    }
    let said = harlwright(&["plan".as_ref(), demo().as_os_str(), "--season".as_ref()]);
    assert_eq!(said.code, 2, "a year for the proposal needs a folder for it: {}", said.err);
}

#[test]
fn a_season_without_weather_says_what_is_wanting() {
    let job = folder("seasonless").join("job.toml");
    let said = harlwright(&["new".as_ref(), job.as_os_str(), "--accept-defaults".as_ref()]);
    assert_eq!(said.code, 0, "{}", said.err);
    let said = harlwright(&["season".as_ref(), job.as_os_str()]);
    assert_eq!(said.code, 2);
    assert!(said.err.contains("names no weather"), "{}", said.err);
}

// A year of the demonstration takes many seconds: interrupted in the midst, it ends soon with a sentence, and the picture it was to write is not there.
#[cfg(unix)]
#[test]
fn a_season_that_is_interrupted_ends_with_a_sentence_and_no_half_file() {
    let picture = folder("interrupted").join("season.svg");
    let mut season = Command::new(env!("CARGO_BIN_EXE_harlwright"))
        .args(["season".as_ref(), demo().as_os_str(), "--svg".as_ref(), picture.as_os_str()])
        .env("NO_COLOR", "1")
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    // It listens once it lives through the first day; before that an interruption ends it by itself.
    std::thread::sleep(Duration::from_secs(4));
    assert!(season.try_wait().unwrap().is_none(), "it is over before anybody could interrupt it");
    let began = Instant::now();
    assert!(Command::new("kill").args(["-INT", &season.id().to_string()]).status().unwrap().success());
    let said = season.wait_with_output().unwrap();
    println!("ended {:.1} s after it was interrupted", began.elapsed().as_secs_f64());
    let (out, err) = (String::from_utf8_lossy(&said.stdout), String::from_utf8_lossy(&said.stderr));
    assert_eq!(said.status.code(), Some(130), "{out}{err}");
    assert!(out.is_empty() && err.contains("called off before it was finished"), "{out}{err}");
    assert!(!picture.exists());
}
