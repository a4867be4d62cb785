//! Trial files as a user hands them in: every shipped one is read, every broken one is refused with its place, what was found and what to do.
#![allow(clippy::unwrap_used, clippy::expect_used)]

use std::path::{Path, PathBuf};

use curing::trial::Trial;
use job::Problem;

fn folder(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../..").join(name)
}

fn read(path: &Path) -> Result<Trial, Vec<Problem>> {
    let text = std::fs::read_to_string(path).unwrap();
    let beside = path.parent().unwrap().to_owned();
    let files = |file: &str| std::fs::read_to_string(beside.join(file)).map_err(|_| "there is no such file".to_owned());
    job::trial::read(&text, &path.file_name().unwrap().to_string_lossy(), &files)
}

fn files_of(name: &str) -> Vec<PathBuf> {
    let entries = std::fs::read_dir(folder(name)).unwrap().map(|entry| entry.unwrap().path());
    let mut files: Vec<PathBuf> = entries.filter(|path| path.extension().is_some_and(|end| end == "toml")).collect();
    files.sort();
    files
}

/// Every shipped trial runs, twice to the same bits, and its books close: water, carbon and energy to 1e-8 of what moved, and water no closer than
/// the rounding of what is held, where moisture is switched off and less than that moves.
#[test]
fn every_shipped_trial_runs_and_its_books_close() {
    let files = files_of("examples/trials");
    assert!(files.len() >= 17);
    for path in files {
        let trial = read(&path).unwrap_or_else(|problems| panic!("{}: {}", path.display(), problems[0]));
        let result = curing::trial::run(&trial).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
        let books = result.books;
        let rounding = 1e-15 * result.totals.last().unwrap().water_kg_m2;
        assert!(books.water_residual_kg_m2.abs() <= 1e-8 * books.water_moved_kg_m2 + rounding, "{}: {books:?}", path.display());
        assert!(books.carbon_residual_mol_m2.abs() <= 1e-8 * books.carbon_moved_mol_m2, "{}: {books:?}", path.display());
        assert!(books.energy_residual_j_m2.abs() <= 1e-8 * books.energy_moved_j_m2, "{}: {books:?}", path.display());
        assert_eq!(curing::trial::run(&trial).unwrap(), result);
    }
}

/// The example in the documentation is a trial, and its CSV is two tables whose rows have as many cells as their heading.
#[test]
fn the_documented_example_runs() {
    let page = std::fs::read_to_string(folder("docs/trial.md")).unwrap();
    let text = page.split("```toml").nth(1).and_then(|rest| rest.split("```").next()).expect("the page shows a trial");
    let nothing = |_: &str| Err("the example names no file".to_owned());
    let trial = job::trial::read(text, "docs/trial.md", &nothing).unwrap_or_else(|problems| panic!("{}", problems[0]));
    let result = curing::trial::run(&trial).unwrap();
    let csv = result.to_csv();
    assert!(csv.contains("# Greatest error of the tables of mortar: water "), "{csv}");
    let tables: Vec<Vec<&str>> = csv.split("\n\n").map(|table| table.lines().filter(|line| !line.starts_with('#')).collect()).collect();
    assert_eq!(tables.iter().map(Vec::len).collect::<Vec<_>>(), [1 + 2 * 5, 1 + 2], "{csv}");
    for table in tables {
        let columns = table[0].split(',').count();
        assert!(table.iter().all(|row| row.split(',').count() == columns), "{csv}");
    }
    let json: serde_json::Value = serde_json::from_str(&result.to_json().unwrap()).unwrap();
    assert_eq!(json["profiles"].as_array().unwrap().len(), 2);
}

/// Whatever is done to a trial's text, reading it ends, with a trial or with problems.
#[test]
fn any_text_is_read_to_an_end() {
    let text = std::fs::read_to_string(folder("examples/trials/rain-and-drying.toml")).unwrap();
    let nothing = |_: &str| Err("there is none".to_owned());
    let config = proptest::test_runner::Config { failure_persistence: None, ..Default::default() };
    proptest::proptest!(config, |(at in 0..text.len(), length in 0_usize..40, put in "[-0-9a-z_.=\\[\\]{}\"\n, ]{0,12}")| {
        let end = (at + length).min(text.len());
        if text.is_char_boundary(at) && text.is_char_boundary(end) {
            let broken = format!("{}{put}{}", &text[..at], &text[end..]);
            if let Err(problems) = job::trial::read(&broken, "broken", &nothing) {
                proptest::prop_assert!(!problems.is_empty());
            }
        }
    });
}

/// Each broken file, the line of one of its problems, and what that one says.
const BROKEN: [(&str, usize, &str); 11] = [
    ("catalogue-name-unknown.toml", 20, "The catalogue has no “masonries.moon-rock”."),
    ("hours-out-of-order.toml", 21, "The hours of the table do not rise from 0."),
    ("impossible-numbers.toml", 30, "`thickness_m` is -60"),
    ("lime-behind-bare-stone.toml", 30, "A layer with lime lies behind one without."),
    ("misspelt-words.toml", 16, "Did you mean `humidity`?"),
    ("mix-of-unknown-sand.toml", 43, "no sand named “sharp-concrete”"),
    ("not-toml.toml", 1, "This cannot be read as TOML"),
    ("nothing-to-report.toml", 1, "Add [run] with report_s, report_h or report_d."),
    ("reaction-and-no-lime.toml", 14, "the trial has no [carbonation]"),
    ("table-not-there.toml", 21, "The table “no-such-table.csv” cannot be read"),
    ("water-grows-with-suction.toml", 30, "Water must fall strictly"),
];

#[test]
fn every_broken_trial_says_where_what_and_what_to_do() {
    let names: Vec<String> =
        files_of("tests/bad/trial").iter().map(|path| path.file_name().unwrap().to_string_lossy().into_owned()).collect();
    assert_eq!(names, BROKEN.map(|(name, _, _)| name), "every broken file is listed here");
    for (name, line, says) in BROKEN {
        let problems = problems_of(name);
        for problem in &problems {
            for sentence in [&problem.found, &problem.allowed, &problem.remedy] {
                assert!(sentence.ends_with(['.', '?']) && sentence.starts_with(|c: char| !c.is_lowercase()), "{sentence}");
            }
        }
        let told = problems.iter().any(|problem| problem.line == line && problem.to_string().contains(says));
        assert!(told, "{name} should say in line {line}: {says}\nbut says: {problems:#?}");
    }
}

fn problems_of(name: &str) -> Vec<Problem> {
    read(&folder("tests/bad/trial").join(name)).expect_err("it must be refused")
}

#[test]
fn all_problems_are_told_at_once() {
    let lines: Vec<usize> = problems_of("misspelt-words.toml").iter().map(|problem| problem.line).collect();
    assert_eq!(lines, [14, 16, 20], "moisture missing, key misspelt, word misspelt");
    assert_eq!(problems_of("impossible-numbers.toml").len(), 2);
}
