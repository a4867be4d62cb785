//! The main job as a user runs it: plan the demo, read the summary, open the pack, ask why.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "a test that cannot run the binary must stop")]

mod support;

use support::{demo, folder, harlwright, harlwright_answered};

#[test]
fn alone_it_says_where_to_begin_in_four_lines() {
    let said = harlwright::<&str>(&[]);
    assert_eq!(said.code, 0);
    assert_eq!(said.out.lines().count(), 4, "{}", said.out);
    for verb in ["demo", "new", "serve", "--help"] {
        assert!(said.out.contains(verb));
    }
}

#[test]
fn the_demo_is_planned_and_the_answer_comes_first() {
    let pack = folder("pack");
    let said = harlwright(&["plan".as_ref(), demo().as_os_str(), "--out".as_ref(), pack.as_os_str()]);
    assert_eq!(said.code, 0, "{}", said.err);
    let answer: String = said.out.lines().skip(2).take(3).collect::<Vec<_>>().join(" ");
    assert!(answer.contains("is finished by") && answer.contains("years of 12"), "{answer}");
    assert!(answer.contains("£"), "{answer}");
    assert!(said.out.contains("invented"), "an invented job says so");
    for name in ["plan.json", "order.csv", "programme.ics"] {
        assert!(pack.join(name).exists(), "{name}");
    }
    #[cfg(feature = "pdf")]
    for name in ["proposal.pdf", "site.pdf", "damping.pdf"] {
        assert!(std::fs::read(pack.join(name)).unwrap().starts_with(b"%PDF-"), "{name}");
    }
    let left_over =
        std::fs::read_dir(&pack).unwrap().filter(|entry| entry.as_ref().unwrap().file_name().to_string_lossy().starts_with('.'));
    assert_eq!(left_over.count(), 0, "nothing half-written is left");
}

#[test]
fn the_same_job_gives_the_same_bytes_on_one_thread_and_two() {
    let packs: Vec<_> = ["1", "2", "2"]
        .iter()
        .enumerate()
        .map(|(index, threads)| {
            let pack = folder(&format!("same-{index}"));
            let said = harlwright(&[
                "--threads".as_ref(),
                threads.as_ref(),
                "plan".as_ref(),
                demo().as_os_str(),
                "--out".as_ref(),
                pack.as_os_str(),
            ]);
            assert_eq!(said.code, 0, "{}", said.err);
            pack
        })
        .collect();
    for entry in std::fs::read_dir(&packs[0]).unwrap() {
        let name = entry.unwrap().file_name();
        let first = std::fs::read(packs[0].join(&name)).unwrap();
        for other in &packs[1..] {
            assert!(first == std::fs::read(other.join(&name)).unwrap(), "{} differs", name.to_string_lossy());
        }
    }
}

#[test]
fn every_listed_figure_answers_why() {
    let listed = harlwright(&["why".as_ref(), demo().as_os_str(), "--json".as_ref()]);
    assert_eq!(listed.code, 0, "{}", listed.err);
    let rows: Vec<(String, String, serde_json::Value)> = serde_json::from_str(&listed.out).unwrap();
    assert!(rows.len() > 50, "{} figures", rows.len());
    for needed in ["finish", "price.total", "price.before-tax", "price.per-m2"] {
        assert!(rows.iter().any(|(path, ..)| path == needed), "`{needed}` cannot be asked");
    }
    let said = harlwright(&["why".as_ref(), demo().as_os_str(), "price.before-tax".as_ref()]);
    assert_eq!(said.code, 0, "{}", said.err);
    assert!(said.out.contains("= ") && said.out.contains("source: "), "{}", said.out);
}

#[test]
fn an_unknown_figure_is_answered_with_the_nearest() {
    let said = harlwright(&["why".as_ref(), demo().as_os_str(), "price.totl".as_ref()]);
    assert_eq!(said.code, 2);
    assert!(said.err.contains("price.total"), "{}", said.err);
}

#[test]
fn new_gives_a_job_that_plans_at_once() {
    let job = folder("new").join("mill.toml");
    let said = harlwright(&["new".as_ref(), job.as_os_str(), "--accept-defaults".as_ref()]);
    assert_eq!(said.code, 0, "{}", said.err);
    let again = harlwright(&["new".as_ref(), job.as_os_str(), "--accept-defaults".as_ref()]);
    assert_eq!(again.code, 2, "an existing file is never overwritten");
    let planned = harlwright(&["plan".as_ref(), job.as_os_str()]);
    assert_eq!(planned.code, 0, "{}", planned.err);
    assert!(planned.out.contains("without odds") || planned.out.contains("years of"), "{}", planned.out);
}

#[test]
fn new_takes_answers_from_a_pipe_and_refuses_nonsense() {
    let job = folder("new-piped").join("mill.toml");
    let said = harlwright_answered(&["new".as_ref(), job.as_os_str()], "Mill of Calder\n");
    assert_eq!(said.code, 0, "{}", said.err);
    assert!(std::fs::read_to_string(&job).unwrap().contains("Mill of Calder"));
}

#[test]
fn the_demo_is_written_and_plans() {
    let into = folder("demo");
    let said = harlwright(&["demo".as_ref(), "--into".as_ref(), into.as_os_str()]);
    assert_eq!(said.code, 0, "{}", said.err);
    let checked = harlwright(&["check".as_ref(), into.join("job.toml").as_os_str()]);
    assert_eq!(checked.code, 0, "{}{}", checked.out, checked.err);
}

#[test]
fn the_schema_is_json_and_names_every_section() {
    let said = harlwright(&["schema"]);
    assert_eq!(said.code, 0);
    let schema: serde_json::Value = serde_json::from_str(&said.out).unwrap();
    assert_eq!(schema["$schema"], "https://json-schema.org/draft/2020-12/schema");
    assert!(schema["properties"]["walls"].is_object());
}

#[test]
fn completions_and_manual_are_generated() {
    assert!(harlwright(&["completions", "bash"]).out.contains("harlwright"));
    assert!(harlwright(&["manual"]).out.starts_with(".ie"));
}
