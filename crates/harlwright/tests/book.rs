//! The verbs that keep a job book, as a user runs them: accounts, backup and restore, the check, the site's sheet and what comes back from it.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "a test that cannot run the binary must stop")]

mod support;

use std::path::Path;

use support::{demo, folder, harlwright, harlwright_answered};

fn said(arguments: &[&str]) -> support::Said {
    harlwright(arguments)
}

/// A book with the demo job in it, made through the store as a server makes it.
fn book_in(folder: &Path) -> String {
    let named = folder.join("book");
    let book = store::Book::open(&named.join("book.sqlite")).unwrap();
    book.add_job("Ferry House", &std::fs::read_to_string(demo()).unwrap(), "new").unwrap();
    named.display().to_string()
}

#[test]
fn accounts_are_made_listed_changed_and_closed() {
    let folder = folder("book-accounts");
    let book = folder.join("book").display().to_string();
    let made = said(&["account", "add", "ann", "--role", "owner", "--book", &book]);
    assert_eq!(made.code, 0, "{}", made.err);
    let password = made.out.lines().find_map(|line| line.strip_prefix("Password, shown this once: ")).unwrap().to_owned();
    let kept = store::Book::open_existing(&folder.join("book/book.sqlite")).unwrap().account("ann").unwrap().unwrap();
    assert!(kept.password.starts_with("$argon2id$") && !kept.password.contains(&password));
    assert_eq!(said(&["account", "add", "ann", "--role", "gang", "--book", &book]).code, 2, "a name is taken once");
    assert_eq!(said(&["account", "add", "a b", "--role", "gang", "--book", &book]).code, 2);
    let short = harlwright_answered(&["account", "add", "bob", "--role", "gang", "--password-stdin", "--book", &book], "short\n");
    assert_eq!(short.code, 2);
    assert!(short.err.contains("at least 15 characters"), "{}", short.err);
    let long =
        harlwright_answered(&["account", "add", "bob", "--role", "gang", "--password-stdin", "--book", &book], "damp hessian by noon\n");
    assert_eq!((long.code, long.out.trim()), (0, "bob can sign in."));
    assert_eq!(said(&["account", "role", "bob", "surveyor", "--book", &book]).code, 0);
    assert_eq!(said(&["account", "list", "--book", &book]).out.trim(), "ann  owner\nbob  surveyor");
    assert_eq!(said(&["account", "remove", "bob", "--book", &book]).code, 0);
    assert_eq!(said(&["account", "list", "--book", &book]).out.trim(), "ann  owner");
    assert_eq!(said(&["account", "remove", "bob", "--book", &book]).code, 2);
}

#[test]
fn a_backup_is_restored_as_another_book_and_both_are_sound() {
    let folder = folder("book-backup");
    let book = book_in(&folder);
    let (backup, restored) = (folder.join("friday.backup").display().to_string(), folder.join("restored").display().to_string());
    assert_eq!(said(&["backup", &book, &backup]).code, 0);
    let again = said(&["backup", &book, &backup]);
    assert_eq!(again.code, 2);
    assert!(again.err.contains("left as it is"), "{}", again.err);
    assert_eq!(said(&["restore", &backup, &restored]).code, 0);
    for named in [&book, &restored] {
        let checked = said(&["book", "check", named]);
        assert_eq!(checked.code, 0, "{}", checked.err);
        assert!(checked.out.contains("is sound: 1 jobs"), "{}", checked.out);
    }
    let text = std::fs::read_to_string(demo()).unwrap();
    let back = store::Book::open_existing(&folder.join("restored/book.sqlite")).unwrap();
    assert_eq!(back.job("ferry-house").unwrap().text, text, "the job came back byte for byte");
    let mut bytes = std::fs::read(&backup).unwrap();
    bytes.truncate(bytes.len() / 2);
    std::fs::write(folder.join("torn.backup"), bytes).unwrap();
    let torn = said(&["restore", &folder.join("torn.backup").display().to_string(), &folder.join("none").display().to_string()]);
    assert_ne!(torn.code, 0);
    assert!(!folder.join("none/book.sqlite").exists(), "nothing is left half done");
}

#[test]
fn the_sheet_is_written_once_and_its_log_comes_back() {
    let folder = folder("book-site");
    let book = book_in(&folder);
    let sheet = folder.join("site.html");
    let job = demo().display().to_string();
    let written = said(&["site", &job, "--out", &sheet.display().to_string()]);
    assert_eq!(written.code, 0, "{}", written.err);
    let html = std::fs::read_to_string(&sheet).unwrap();
    assert!(html.starts_with("<!DOCTYPE html>") && html.contains("Ferry House"));
    assert_eq!(said(&["site", &job, "--out", &sheet.display().to_string()]).code, 2, "it is never overwritten");
    let log = folder.join("log.json");
    let entry = r#"{"id":"0123456789abcdef","at":"2027-05-11T08:30:00+01:00","who":"Ann","kind":"placed","wall":"north"}"#;
    std::fs::write(
        &log,
        format!(r#"{{"format":"site-log/1","job":{{"name":"Ferry House","slug":null,"revision":1}},"entries":[{entry}]}}"#),
    )
    .unwrap();
    let log = log.display().to_string();
    let unnamed = said(&["log", "import", &log, "--book", &book]);
    assert_eq!(unnamed.code, 2);
    assert!(unnamed.err.contains("--job") && unnamed.err.contains("ferry-house"), "{}", unnamed.err);
    for expected in ["ferry-house: 1 entries taken in, 0 there already.", "ferry-house: 0 entries taken in, 1 there already."] {
        assert_eq!(said(&["log", "import", &log, "--job", "ferry-house", "--book", &book]).out.trim(), expected);
    }
    let shown: serde_json::Value = serde_json::from_str(&said(&["log", "show", "ferry-house", "--book", &book]).out).unwrap();
    assert_eq!(shown["entries"][0]["told"]["wall"], "north");
    std::fs::write(folder.join("bad.json"), r#"{"format":"site-log/1","entries":[{"id":"x"}]}"#).unwrap();
    let bad = said(&["log", "import", &folder.join("bad.json").display().to_string(), "--job", "ferry-house", "--book", &book]);
    assert_eq!(bad.code, 2);
    assert!(bad.err.contains("Entry 1") && bad.err.contains("nothing was"), "{}", bad.err);
}
