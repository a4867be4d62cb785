//! What names a hazard shows its caution: every command that speaks to a person, and every document of the pack that is words.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "a test that cannot run the binary must stop")]

mod support;

use materials::Catalogue;
use support::{demo, folder, harlwright};

/// The words of a text without the breaks of its lines.
fn flowed(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn assert_cautioned(output: &str, text: &str) {
    let catalogue = Catalogue::shipped();
    let flowed = flowed(text);
    // The cautions' own words call for nothing more.
    let speech = flowed.split(" Take care ").next().unwrap_or_default();
    for caution in &catalogue.cautions {
        let due = caution.is_always_shown_in(output) || caution.is_called_for_by(speech);
        assert!(!due || flowed.contains(caution.words.as_str()), "`{output}` names {:?} without its caution", caution.hazard);
    }
}

#[test]
fn the_summary_the_check_and_every_why_carry_their_cautions() {
    let job = demo();
    assert_cautioned("summary", &harlwright(&["plan".as_ref(), job.as_os_str()]).out);
    assert_cautioned("check", &harlwright(&["check".as_ref(), job.as_os_str()]).out);
    assert_cautioned("why", &harlwright(&["why".as_ref(), job.as_os_str()]).out);
    for path in ["materials.putty-cl90.amount", "before.nests-and-bats", "price.total"] {
        let said = harlwright(&["why".as_ref(), job.as_os_str(), path.as_ref()]);
        assert_eq!(said.code, 0, "{path}: {}", said.err);
        assert_cautioned("why", &said.out);
    }
}

#[test]
fn a_plan_as_json_carries_the_cautions_its_words_call_for() {
    let said = harlwright(&["plan".as_ref(), demo().as_os_str(), "--json".as_ref()]);
    let mut plan: serde_json::Value = serde_json::from_str(&said.out).unwrap();
    let cautions = plan["cautions"].take();
    // Sources of figures may name a hazard in the title of a work; they give nobody anything to do.
    plan["reckonings"].take();
    let speech = plan.to_string();
    let carried: Vec<&str> = cautions.as_array().unwrap().iter().map(|caution| caution["words"].as_str().unwrap()).collect();
    for caution in &Catalogue::shipped().cautions {
        assert!(!caution.is_called_for_by(&speech) || carried.contains(&caution.words.as_str()), "{:?}", caution.hazard);
    }
}

#[test]
fn a_quicklime_job_shows_the_quicklime_caution_and_no_procedure() {
    let text = std::fs::read_to_string(demo()).unwrap().replace("\"putty-cl90\"", "\"quicklime-cl90\"");
    let folder = folder("quicklime");
    std::fs::copy(demo().with_file_name("weather.csv"), folder.join("weather.csv")).unwrap();
    let job = folder.join("job.toml");
    std::fs::write(&job, text).unwrap();
    let said = harlwright(&["plan".as_ref(), job.as_os_str()]);
    assert_eq!(said.code, 0, "{}", said.err);
    assert_cautioned("summary", &said.out);
    assert!(flowed(&said.out).contains("never water onto the quicklime"), "{}", said.out);
}
