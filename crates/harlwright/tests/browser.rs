//! The job book in a real Chromium: the main journeys at the width of a laptop and of a phone, every page without a fault by axe-core, with the keyboard
//! alone, with scripts off, in two tabs, under each role, and the site sheet without a net. The scripts are in `tests/browser/`; what they saw is kept as
//! pictures below the target folder. The programs they need are named by `HARLWRIGHT_PYTHON`, `HARLWRIGHT_CHROMIUM`, `HARLWRIGHT_CHROMEDRIVER` and
//! `HARLWRIGHT_AXE`, which `cargo xtask test` sets; where one is missing the test fails, for a page that was not looked at is not a page passed.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "a test without its browser must stop")]

#[path = "support/served.rs"]
mod served;
mod support;

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::{Mutex, MutexGuard, PoisonError};

use serde_json::{Value, json};
use served::{Served, demo_book, reckon};
use support::{folder, harlwright_answered, root};

const SLUG: &str = "ferry-house-port-calder";

/// One browser at a time: two would slow each other down until a wait runs out.
static TURN: Mutex<()> = Mutex::new(());

fn turn() -> MutexGuard<'static, ()> {
    TURN.lock().unwrap_or_else(PoisonError::into_inner)
}

fn pictures() -> PathBuf {
    Path::new(env!("CARGO_TARGET_TMPDIR")).join("pictures")
}

/// A script's command, with what it needs.
fn python(arguments: &[&str]) -> Command {
    for name in ["HARLWRIGHT_PYTHON", "HARLWRIGHT_CHROMIUM", "HARLWRIGHT_CHROMEDRIVER", "HARLWRIGHT_AXE"] {
        assert!(
            std::env::var_os(name).is_some(),
            "{name} is not set, so no page was looked at. Run `cargo xtask test`, which installs what it names."
        );
    }
    let mut command = Command::new(std::env::var_os("HARLWRIGHT_PYTHON").unwrap());
    command.args(arguments);
    command
}

/// Runs a script of `tests/browser/`; every failure it found is told.
fn run(script: &str, more: Value) {
    let mut given = json!({ "pictures": pictures(), "slug": SLUG });
    given.as_object_mut().unwrap().extend(more.as_object().unwrap().clone());
    let path = root().join("tests/browser").join(script);
    let mut child =
        python(&[&path.display().to_string()]).stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    child.stdin.take().unwrap().write_all(given.to_string().as_bytes()).unwrap();
    let output = child.wait_with_output().unwrap();
    let told: Value = serde_json::from_slice(&output.stdout)
        .unwrap_or_else(|error| panic!("{script} told nothing ({error}):\n{}", String::from_utf8_lossy(&output.stderr)));
    println!("{script}: {} checks, {}", told["checks"], told["figures"]);
    let failures: Vec<&str> = told["failures"].as_array().unwrap().iter().map(|failure| failure.as_str().unwrap()).collect();
    assert!(failures.is_empty(), "{script}, {} of {} checks failed:\n- {}", failures.len(), told["checks"], failures.join("\n- "));
    assert!(told["checks"].as_u64().unwrap() > 0, "{script} checked nothing");
}

/// The demo, planned once, in a book of its own.
fn planned(name: &str, more: &[&str]) -> Served {
    let book = demo_book(&folder(name));
    {
        let first = Served::of(&book, &[]);
        reckon(&first, SLUG);
    }
    Served::of(&book, more)
}

#[test]
fn the_main_journeys_on_a_laptop_and_on_a_phone() {
    let _turn = turn();
    let served = Served::of(&folder("browser-journeys").join("book"), &[]);
    run("journeys.py", json!({ "address": served.address }));
}

#[test]
fn every_page_is_free_of_faults_at_every_width_in_light_and_dark() {
    let _turn = turn();
    let served = planned("browser-pages", &[]);
    let starts = ["/", &format!("/jobs/{SLUG}"), "/new", "/import"];
    run("pages.py", json!({ "address": served.address, "starts": starts, "least_sorts": 12 }));
}

#[test]
fn one_journey_with_the_keyboard_alone_and_one_in_two_tabs() {
    let _turn = turn();
    let served = planned("browser-keyboard", &[]);
    run("keyboard.py", json!({ "address": served.address }));
    run("conflict.py", json!({ "address": served.address }));
}

#[test]
fn every_page_without_scripts() {
    let _turn = turn();
    let served = planned("browser-scriptless", &[]);
    let starts = ["/", &format!("/jobs/{SLUG}"), "/new"];
    run("scriptless.py", json!({ "address": served.address, "starts": starts, "least_sorts": 12 }));
}

#[test]
fn the_site_sheet_without_a_net_and_back_into_the_book() {
    let _turn = turn();
    let served = planned("browser-sheet", &[]);
    run("sheet.py", json!({ "address": served.address }));
}

#[test]
fn each_role_reaches_what_is_its_own_over_tls() {
    let _turn = turn();
    let book = demo_book(&folder("browser-roles"));
    {
        let first = Served::of(&book, &[]);
        reckon(&first, SLUG);
    }
    let people = json!({ "owner": "the wall decides and not the sheet", "surveyor": "two coats of putty lime", "gang": "damp hessian by noon today" });
    for (role, password) in people.as_object().unwrap() {
        let named = book.display().to_string();
        let said = harlwright_answered(
            &["account", "add", role, "--role", role, "--password-stdin", "--book", &named],
            &format!("{}\n", password.as_str().unwrap()),
        );
        assert_eq!(said.code, 0, "{}", said.err);
    }
    let tls = root().join("tests/browser/tls");
    let (certificate, key) = (tls.join("certificate.pem").display().to_string(), tls.join("key.pem").display().to_string());
    let served = Served::of(&book, &["--tls-cert", &certificate, "--tls-key", &key]);
    run("roles.py", json!({ "address": served.address, "people": people }));
}

/// Schemathesis makes requests from the description, good and bad, and holds the answers to it; bounded so that it takes less than a minute.
#[test]
fn the_json_keeps_to_its_description_whatever_is_sent() {
    let served = planned("browser-schemathesis", &[]);
    let description = format!("{}/api/openapi.json", served.address);
    let origin = format!("Origin: {}", served.address);
    let examples = if std::env::var_os("HARLWRIGHT_LONG").is_some() { "200" } else { "30" };
    let config = root().join("tests/browser/schemathesis.toml").display().to_string();
    let output =
        python(&["-c", "from schemathesis.cli import schemathesis; schemathesis()", "--config-file", &config, "run", &description])
            .args(["--header", &origin, "--seed", "1", "--phases", "examples,coverage,fuzzing", "--max-examples", examples, "--no-color"])
            .args(["--generation-database", "none", "--exclude-path-regex", "/reckoning$", "--request-timeout", "20"])
            .current_dir(folder("schemathesis"))
            .output()
            .unwrap();
    let said = String::from_utf8_lossy(&output.stdout);
    println!("{}", said.lines().rev().take(25).collect::<Vec<_>>().into_iter().rev().collect::<Vec<_>>().join("\n"));
    assert!(output.status.success(), "{said}\n{}", String::from_utf8_lossy(&output.stderr));
}
