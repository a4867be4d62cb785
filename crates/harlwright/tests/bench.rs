//! `harlwright sand`, `lime`, `slake` and `mortar` as a user runs them: the examples, JSON, cautions in front, broken files told plainly.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "a test that cannot run the binary must stop")]

mod support;

use serde_json::Value;
use support::{Said, files, harlwright, root};

fn example(verb: &str, json: bool) -> Said {
    let file = root().join(format!("examples/bench/{verb}.toml"));
    let mut arguments = vec![verb.as_ref(), file.as_os_str()];
    if json {
        arguments.push("--json".as_ref());
    }
    let said = harlwright(&arguments);
    assert_eq!(said.code, 0, "{}", said.err);
    said
}

fn report(verb: &str) -> Value {
    serde_json::from_str(&example(verb, true).out).unwrap()
}

/// The words of a text without the breaks of its lines.
fn flowed(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_sand_is_judged_blended_and_held_against_the_order() {
    let said = flowed(&example("sand", false).out);
    for word in ["Calder pit, coarse", "leanest that fills them", "15 % by the jar", "% by mass", "a tonne, dry", "adjusted"] {
        assert!(said.contains(word), "{word}: {said}");
    }
    let json = report("sand");
    let shares: Vec<f64> =
        json["report"]["blend"]["blend"]["shares"].as_array().unwrap().iter().map(|share| share.as_f64().unwrap()).collect();
    assert!((shares.iter().sum::<f64>() - 1.0).abs() < 1e-9 && shares[1] <= 0.6 + 1e-9, "{shares:?}");
    // 38 and 24 a tonne in those shares: worked from the printed shares themselves.
    let price: f64 = json["report"]["blend"]["price_per_t"].as_str().unwrap().parse().unwrap();
    assert!((price - (38.0 * shares[0] + 24.0 * shares[1])).abs() <= 0.005 + 1e-9, "{price}");
}

#[test]
fn limes_stand_against_each_other_and_make_a_batch() {
    let said = flowed(&example("lime", false).out);
    for word in ["putty of the pit", "equal portlandite", "Batch card: 100 L of mortar", "6 batches", "What came", "Wet lime burns skin"] {
        assert!(said.contains(word), "{word}: {said}");
    }
    assert_eq!(report("lime")["report"]["limes"].as_array().unwrap().len(), 3);
}

#[test]
fn a_bath_shows_its_cautions_first_and_no_pace_as_safe() {
    let said = flowed(&example("slake", false).out);
    assert!(said.starts_with("Before anything Quicklime goes into water, a little at a time: never water onto quicklime."), "{said}");
    for word in [
        "hottest mean 100 °C",
        "start at a tenth",
        "R5 by EN 459",
        "Monday 8 February 2027",
        "No slaking rate or bath temperature shown here is safe",
    ] {
        assert!(said.contains(word), "{word}: {said}");
    }
    let json = report("slake");
    assert!(json["cautions"][0].as_str().unwrap().contains("never water onto quicklime"));
    assert_eq!(json["report"]["slaked"]["regime"], "boiling");
}

#[test]
fn an_old_mortar_is_a_range_and_a_repair_with_reasons() {
    let said = flowed(&example("mortar", false).out);
    assert!(said.starts_with("Before anything Acid into water, never water into acid."), "{said}");
    assert!(said.contains("Nearest repair mix putty-cl90 1 : ") && said.contains("By thermogravimetry carbonated 91 %"), "{said}");
    let mass = &report("mortar")["report"]["old"]["mass"];
    assert!(mass["least"].as_f64() < mass["likely"].as_f64() && mass["likely"].as_f64() < mass["most"].as_f64(), "{mass}");
}

#[test]
fn what_came_goes_into_the_job_file_as_it_is_printed() {
    let entry = |verb: &str| report(verb)["report"]["arrival"]["entry"].as_str().unwrap().to_owned();
    let job = std::fs::read_to_string(support::demo()).unwrap();
    let folder = support::folder("delivered");
    std::fs::copy(support::demo().with_file_name("weather.csv"), folder.join("weather.csv")).unwrap();
    let file = folder.join("job.toml");
    std::fs::write(&file, format!("{job}\n{}\n{}", entry("sand"), entry("lime"))).unwrap();
    let said = harlwright(&["check".as_ref(), file.as_os_str()]);
    assert_eq!(said.code, 0, "{}{}", said.out, said.err);
}

#[test]
fn a_starved_bath_is_told_to_pass_a_hundred_degrees() {
    let text = std::fs::read_to_string(root().join("examples/bench/slake.toml")).unwrap().replace("water_kg = 55", "water_kg = 6");
    let file = support::folder("starved").join("slake.toml");
    std::fs::write(&file, text).unwrap();
    let said = harlwright(&["slake".as_ref(), file.as_os_str()]);
    assert_eq!(said.code, 0, "{}", said.err);
    let said = flowed(&said.out);
    assert!(said.contains("The bath is starved") && said.contains("at about 512 °C") && said.contains("Do not slake so"), "{said}");
}

#[test]
fn every_broken_bench_file_is_refused_with_its_place_and_remedy() {
    let broken = files("tests/bad/bench", "toml");
    assert!(broken.len() >= 6, "{} broken files", broken.len());
    for file in broken {
        let name = file.file_name().unwrap().to_string_lossy().into_owned();
        let verb = name.split('-').next().unwrap().to_owned();
        let said = harlwright(&[verb.as_ref(), file.as_os_str()]);
        assert_eq!(said.code, 2, "{name}: {}{}", said.out, said.err);
        assert!(said.out.is_empty() && said.err.contains(&name) && said.err.contains("help: "), "{name}:\n{}", said.err);
    }
}

#[test]
fn problems_are_told_all_at_once() {
    let many = root().join("tests/bad/bench/sand-many.toml");
    let said = harlwright(&["sand".as_ref(), many.as_os_str()]).err;
    for word in ["splashed", "thickness_mm", "3 sieves and 2 results", "colour"] {
        assert!(said.contains(word), "{word}: {said}");
    }
    let heavy = root().join("tests/bad/bench/lime-too-heavy.toml");
    let said = flowed(&harlwright(&["lime".as_ref(), heavy.as_os_str()]).err);
    assert!(said.contains("struck litre of hydrate is 1.35") && said.contains("class_mpa"), "{said}");
    let lost = root().join("tests/bad/bench/sand-sieves-lost.toml");
    assert!(flowed(&harlwright(&["sand".as_ref(), lost.as_os_str()]).err).contains("EN 933-1"));
}

/// The batch card is a PDF whose words stand in `documents`; here it is written once and never over.
#[test]
fn a_batch_card_is_written_to_print() {
    let folder = support::folder("batch-card");
    let (file, card) = (root().join("examples/bench/lime.toml"), folder.join("card.pdf"));
    let asked = ["lime", file.to_str().unwrap(), "--card", card.to_str().unwrap()];
    let said = harlwright(&asked);
    assert_eq!(said.code, 0, "{}", said.err);
    assert!(std::fs::read(&card).unwrap().starts_with(b"%PDF"));
    assert_eq!(harlwright(&asked).code, 2, "a card is never written over");
    let bare = folder.join("bare.toml");
    std::fs::write(&bare, "title = \"x\"\n[[limes]]\nname = \"a\"\nkind = \"putty\"\nlitre_kg = 1.35\n").unwrap();
    let none = harlwright(&["lime", bare.to_str().unwrap(), "--card", folder.join("no.pdf").to_str().unwrap()]);
    assert!(none.code == 2 && none.err.contains("no batch card"), "{}", none.err);
}

#[test]
fn a_blend_and_a_delivery_become_entries_that_a_job_reads() {
    let json = report("sand");
    let entries = [&json["report"]["blend"]["entry"], &json["report"]["arrival"]["entry"]].map(|entry| entry.as_str().unwrap().to_owned());
    assert!(entries[0].starts_with("[catalogue.sands.own-blend]") && entries[1].starts_with("[catalogue.sands.sharp-0-4-delivered]"));
    let folder = support::folder("bench-entries");
    let text = std::fs::read_to_string(support::demo()).unwrap();
    std::fs::copy(support::demo().with_file_name("weather.csv"), folder.join("weather.csv")).unwrap();
    let job = folder.join("job.toml");
    std::fs::write(&job, format!("{text}\n{}\n{}", entries[0], entries[1])).unwrap();
    let said = harlwright(&["check", job.to_str().unwrap()]);
    assert!(said.code != 2, "{}", said.err);
}

#[test]
fn a_delivery_is_held_against_a_job_and_its_money_said() {
    let folder = support::folder("delivery");
    let text = std::fs::read_to_string(root().join("examples/bench/sand.toml")).unwrap();
    let priced = folder.join("sand.toml");
    std::fs::write(&priced, format!("{text}\nlime_price = 11.5\nsand_price = 40\n")).unwrap();
    let said = harlwright(&["sand", priced.to_str().unwrap(), "--job", support::demo().to_str().unwrap(), "--json"]);
    assert_eq!(said.code, 0, "{}", said.err);
    let json: Value = serde_json::from_str(&said.out).unwrap();
    let money = |of: &Value| of.as_str().unwrap().parse::<f64>().unwrap();
    let cubic = &json["report"]["arrival"]["money"];
    // Worked from the mortars printed beside it: units of 27 kg of putty and 1000 kg of sand come from the catalogue.
    let catalogue = materials::Catalogue::shipped();
    let (lime_kg, sand_kg) = (catalogue.limes["putty-cl90"].unit_kg, catalogue.sands["sharp-0-4"].unit_kg);
    for which in ["ordered", "same_parts", "adjusted"] {
        let mortar = &json["report"]["arrival"]["arrival"][which];
        let expected = 11.5 * mortar["lime_kg_m3"].as_f64().unwrap() / lime_kg + 40.0 * mortar["sand_kg_m3"].as_f64().unwrap() / sand_kg;
        assert!((money(&cubic[which]) - expected).abs() <= 0.011, "{which}: {cubic}");
    }
    let job = &json["job"];
    let amounts: Vec<f64> = job["before_tax"].as_array().unwrap().iter().map(|each| money(&each["amount"])).collect();
    assert!((amounts[1] - amounts[0] - money(&job["dearer"]["amount"])).abs() < 0.005, "{job}");
    let bare = harlwright(&["sand", root().join("tests/bad").to_str().unwrap(), "--job", support::demo().to_str().unwrap()]);
    assert_eq!(bare.code, 2);
}

/// EN 459 putty matures by the month; the day itself is the programme's.
#[test]
fn a_bath_is_tied_to_the_day_its_putty_is_thrown() {
    let file = root().join("examples/bench/slake.toml");
    let said = harlwright(&["slake", file.to_str().unwrap(), "--job", support::demo().to_str().unwrap()]);
    assert_eq!(said.code, 0, "{}", said.err);
    let words = flowed(&said.out);
    assert!(words.contains("first putty goes on the wall on") && !words.contains("Monday 8 February 2027"), "{words}");
    assert!(words.starts_with("Before anything Quicklime goes into water"));
}
