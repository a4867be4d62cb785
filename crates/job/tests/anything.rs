//! Whatever bytes stand in a job file, reading ends, never panics, and every problem points into the text. Cases are drawn from a fixed seed.
#![allow(clippy::unwrap_used, clippy::expect_used)]

use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};

const FERRY_HOUSE: &str = include_str!("../../../examples/ferry-house/job.toml");

fn runner(cases: u32) -> TestRunner {
    let config = Config { cases, failure_persistence: None, ..Config::default() };
    TestRunner::new_with_rng(config, TestRng::from_seed(RngAlgorithm::ChaCha, b"harlwright: any bytes in a job.."))
}

/// Reads, and checks that every problem can be shown.
fn holds(text: &str) {
    if let Err(problems) = job::read(text, "job.toml") {
        assert!(!problems.is_empty());
        for problem in problems {
            assert!(problem.line >= 1 && problem.column >= 1);
            assert!(text.get(problem.span.clone()).is_some(), "{:?} does not cut the text", problem.span);
            assert!(!problem.to_string().is_empty());
        }
    }
}

#[test]
fn any_text_is_read_to_an_end() {
    runner(2000)
        .run(&any::<String>(), |text| {
            holds(&text);
            Ok(())
        })
        .unwrap();
}

#[test]
fn any_bytes_put_into_a_job_are_read_to_an_end() {
    let cut = (0..FERRY_HOUSE.len(), 0..12_usize, any::<Vec<u8>>());
    runner(600)
        .run(&cut, |(at, gone, bytes)| {
            let mut mutated = FERRY_HOUSE.as_bytes().to_vec();
            let end = (at + gone).min(mutated.len());
            mutated.splice(at..end, bytes.into_iter().take(8));
            holds(&String::from_utf8_lossy(&mutated));
            Ok(())
        })
        .unwrap();
}

#[test]
fn any_value_in_any_place_is_read_to_an_end() {
    let values = prop_oneof![
        Just("nan".to_owned()),
        Just("-inf".to_owned()),
        Just("1e400".to_owned()),
        Just("-0".to_owned()),
        Just("0".to_owned()),
        Just("99999999999999999999999999999999999999999999".to_owned()),
        Just("1979-05-27T07:32:00Z".to_owned()),
        Just("9999-12-31".to_owned()),
        Just("[]".to_owned()),
        Just("[[[]]]".to_owned()),
        Just("{}".to_owned()),
        Just("{ a.b = 1 }".to_owned()),
        Just("\"½½\"".to_owned()),
        Just("\"1:½\"".to_owned()),
        Just("\"\"".to_owned()),
        any::<f64>().prop_map(|number| format!("{number:e}")),
        any::<i64>().prop_map(|number| number.to_string()),
        "[ -~½¼:/,°″]{0,12}".prop_map(|text| format!("{text:?}")),
    ];
    let lines: Vec<usize> = FERRY_HOUSE.lines().enumerate().filter(|(_, line)| line.contains(" = ")).map(|(index, _)| index).collect();
    runner(1500)
        .run(&(proptest::sample::select(lines), values), |(index, value)| {
            let mutated: Vec<String> = FERRY_HOUSE
                .lines()
                .enumerate()
                .map(|(at, line)| match line.split_once(" = ") {
                    Some((key, _)) if at == index => format!("{key} = {value}"),
                    _ => line.to_owned(),
                })
                .collect();
            holds(&mutated.join("\n"));
            Ok(())
        })
        .unwrap();
}

#[test]
fn deep_and_long_files_end() {
    holds(&"[".repeat(100_000));
    holds(&format!("a = {}", "[".repeat(50_000)));
    holds(&"x.".repeat(50_000));
    holds(&"é".repeat(2_100_000));
    let thousands: String = (0..60_000).map(|index| format!("k{index} = 1\n")).collect();
    holds(&thousands);
    let told = job::read(&thousands, "job.toml").unwrap_err();
    // 60,000 unknown keys, and the name, place, day of survey, start and walls that are missing; 400 are told and the rest counted.
    assert_eq!(told.len(), 401);
    assert!(told[400].found.starts_with("59605 further problems"), "{}", told[400]);
    holds(&(0..700).map(|index| format!("[walls.w{index}]\nfaces = \"north\"\nlength_m = 3\nheight_m = 3\n")).collect::<String>());
}

/// What anybody may answer to `new`: what cannot be used gives way to the default.
#[test]
fn any_answers_give_a_job_that_reads() {
    let keys = ["name", "place", "length", "depth", "eaves", "windows", "doors", "stone", "surveyed", "start", "country"];
    let answer = prop_oneof![
        any::<String>(),
        "[0-9½. ,a-z]{0,8}",
        (0.0..300.0).prop_map(|number: f64| format!("{number:.2}")),
        "[12][0-9]{3}-[01][0-9]-[0-3][0-9]"
    ];
    let answers = proptest::collection::btree_map(proptest::sample::select(keys.to_vec()), answer, 0..keys.len());
    runner(600)
        .run(&answers, |answers| {
            let answers: job::Answers = answers.into_iter().map(|(key, text)| (key.to_owned(), text)).collect();
            let text = job::template(&answers, jiff::civil::date(2027, 2, 3));
            let read = job::read(&text, "new.toml");
            prop_assert!(read.is_ok(), "{text}\n{read:?}");
            Ok(())
        })
        .unwrap();
}
