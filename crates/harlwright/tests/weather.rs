//! `harlwright weather` as a user runs it: years made from the documented normals, shown, held against what was given, with a forecast and a drawing.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "a test that cannot run the binary must stop")]

mod support;

use support::{folder, harlwright, root};

/// The example of the documentation, written to a file.
fn normals(folder: &std::path::Path) -> std::path::PathBuf {
    let page = std::fs::read_to_string(root().join("docs/weather-normals.md")).unwrap();
    let example = page.split("```toml\n").nth(1).unwrap().split("```").next().unwrap();
    let path = folder.join("normals.toml");
    std::fs::write(&path, example).unwrap();
    path
}

#[test]
fn years_are_made_shown_and_held_against_their_normals() {
    let folder = folder("weather-made");
    let (normals, made, drawing) = (normals(&folder), folder.join("made.csv"), folder.join("made.svg"));
    let make =
        ["weather".as_ref(), "make".as_ref(), normals.as_os_str(), "--years".as_ref(), "11".as_ref(), "--out".as_ref(), made.as_os_str()];
    let said = harlwright(&make);
    assert_eq!(said.code, 0, "{}", said.err);
    assert!(said.out.contains("11 made years of Port Calder"), "{}", said.out);
    assert_eq!(harlwright(&make).code, 2, "a file that stands is left as it is");
    let show = [
        "weather".as_ref(),
        "show".as_ref(),
        made.as_os_str(),
        "--svg".as_ref(),
        drawing.as_os_str(),
        "--normals".as_ref(),
        normals.as_os_str(),
    ];
    let said = harlwright(&show);
    assert_eq!(said.code, 0, "{}", said.err);
    for word in
        ["11 made years; in brackets what eight years in ten keep within", "working days", "Driving rain in the open", "(given → made)"]
    {
        assert!(said.out.contains(word), "{word}: {}", said.out);
    }
    let said = harlwright(&["weather".as_ref(), "show".as_ref(), made.as_os_str(), "--json".as_ref()]);
    let judged: serde_json::Value = serde_json::from_str(&said.out).unwrap();
    assert_eq!((judged["years"].as_u64(), judged["months"].as_array().map(Vec::len)), (Some(11), Some(12)));
    assert!(std::fs::read_to_string(&drawing).unwrap().starts_with("<svg"));
}

#[test]
fn a_forecast_is_laid_over_the_demonstrations_weather() {
    let folder = folder("weather-forecast");
    let (forecast, spliced) = (folder.join("week.txt"), folder.join("spliced.csv"));
    std::fs::write(&forecast, "2027-04-26, 3, 11, 0, 2\n2027-04-27, 4, 12, 6, 7\n").unwrap();
    let weather = root().join("examples/ferry-house/weather.csv");
    let said = harlwright(&[
        "weather".as_ref(),
        "show".as_ref(),
        weather.as_os_str(),
        "--forecast".as_ref(),
        forecast.as_os_str(),
        "--csv".as_ref(),
        spliced.as_os_str(),
    ]);
    assert_eq!(said.code, 0, "{}", said.err);
    assert!(said.out.contains("A forecast of 2 days from 2027-04-26") && said.out.contains("This weather is invented."), "{}", said.out);
    assert!(harlwright(&["weather".as_ref(), "show".as_ref(), spliced.as_os_str()]).out.contains("12 invented years"));
}

#[test]
fn bad_normals_and_forecasts_are_told_plainly() {
    let bad = root().join("tests/bad/weather");
    let said = harlwright(&["weather".as_ref(), "make".as_ref(), bad.join("normals.toml").as_os_str()]);
    assert_eq!(said.code, 2);
    assert!(said.err.contains("mean_max_c") && said.err.contains("11 numbers") && said.err.contains("help: "), "{}", said.err);
    let weather = root().join("examples/ferry-house/weather.csv");
    let said = harlwright(&[
        "weather".as_ref(),
        "show".as_ref(),
        weather.as_os_str(),
        "--forecast".as_ref(),
        bad.join("forecast.txt").as_os_str(),
    ]);
    assert_eq!(said.code, 2);
    assert!(said.err.contains("line 2") && said.err.contains("line 3"), "{}", said.err);
}
