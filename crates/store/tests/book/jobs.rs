//! Jobs, their history, saved plans, files, accounts and the site log.
#![allow(clippy::unwrap_used, reason = "a test that cannot use its book must stop")]

use proptest::prelude::*;
use store::{Book, EditKind, NewRevision, Role, SiteEntry, StoreError};

use crate::support::{book, folder};

fn new_plan<'a>(text: &'a str, headline: &'a str, files: &'a [(String, String)]) -> NewRevision<'a> {
    NewRevision { text, engine: "0.1.0", arithmetic: "portable", seed: "1", weather_hash: Some("ab"), headline, plan: "{}", files }
}

#[test]
fn a_job_is_kept_byte_for_byte_and_found_by_its_short_name() {
    let book = book("byte-for-byte");
    let text = "# a comment\r\n[job]\nname = \"Mühle\"\t\n\n\n";
    let first = book.add_job("The Mill", text, "imported").unwrap();
    let second = book.add_job("The Mill", "x = 1\n", "imported").unwrap();
    assert_eq!((first.slug.as_str(), second.slug.as_str()), ("the-mill", "the-mill-2"));
    let again = Book::open_existing(book.path()).unwrap();
    assert_eq!(again.job("the-mill").unwrap().text, text);
    assert!(matches!(again.job("../the-mill"), Err(StoreError::NotFound { .. })));
    let no_book = Book::open_existing(&folder("no-book").join("none")).unwrap_err();
    assert!(no_book.to_string().contains("There is no job book"), "{no_book}");
}

#[test]
fn the_second_of_two_saves_made_on_one_version_is_told_and_changes_nothing() {
    let book = book("conflict");
    book.add_job("Mill", "a", "new").unwrap();
    let saved = book.save_job("mill", 1, "Mill", "b", "first tab").unwrap();
    let error = book.save_job("mill", 1, "Mill", "c", "second tab").unwrap_err();
    assert!(matches!(error, StoreError::Conflict { stands: 2, made_on: 1 }), "{error}");
    assert_eq!((saved.version, book.job("mill").unwrap().text.as_str()), (2, "b"));
}

#[test]
fn undo_and_redo_walk_the_edits_and_the_history_only_grows() {
    let book = book("undo");
    book.add_job("Mill", "one", "new").unwrap();
    let mut at = 1;
    for text in ["two", "three"] {
        at = book.save_job("mill", at, "Mill", text, text).unwrap().version;
    }
    let stands = || book.job("mill").unwrap().text;
    at = book.undo("mill", at).unwrap().version;
    assert_eq!(stands(), "two");
    at = book.undo("mill", at).unwrap().version;
    assert_eq!(stands(), "one");
    assert!(matches!(book.undo("mill", at), Err(StoreError::Nothing("undo"))));
    assert_eq!(book.can_go("mill").unwrap(), (None, Some("two".to_owned())));
    at = book.redo("mill", at).unwrap().version;
    at = book.redo("mill", at).unwrap().version;
    assert_eq!(stands(), "three");
    assert!(matches!(book.redo("mill", at), Err(StoreError::Nothing("redo"))));
    at = book.undo("mill", at).unwrap().version;
    at = book.save_job("mill", at, "Mill", "another way", "another way").unwrap().version;
    assert!(matches!(book.redo("mill", at), Err(StoreError::Nothing("redo"))), "a new edit leaves nothing to redo");
    at = book.undo("mill", at).unwrap().version;
    assert_eq!(stands(), "two");
    book.redo("mill", at).unwrap();
    assert_eq!(stands(), "another way", "what was undone last is done again");
    let history = book.history("mill").unwrap();
    assert_eq!(history.len(), 11);
    assert_eq!(history[0].kind, EditKind::Redo);
    assert_eq!(book.text_at("mill", 3).unwrap(), "three");
}

#[test]
fn a_saved_plan_stands_with_its_documents_and_the_latest_is_listed() {
    let book = book("plans");
    book.add_job("Mill", "a", "new").unwrap();
    let document = book.put_blob(&mut &b"%PDF-"[..], 100).unwrap();
    let files = [("proposal.pdf".to_owned(), document)];
    assert_eq!(book.save_revision("mill", &new_plan("a", "first", &files)).unwrap(), 1);
    assert_eq!(book.save_revision("mill", &new_plan("b", "second", &[])).unwrap(), 2);
    let saved = book.revision("mill", 1).unwrap();
    assert_eq!((saved.headline.as_str(), saved.text.as_str()), ("first", "a"));
    assert_eq!(book.blob_bytes(&saved.files[0].1).unwrap(), b"%PDF-");
    assert_eq!(book.jobs().unwrap()[0].latest, Some((2, "second".to_owned())));
    assert!(book.revision("mill", 3).is_err());
    let unknown = [("x".to_owned(), "0".repeat(64))];
    assert!(book.save_revision("mill", &new_plan("c", "third", &unknown)).is_err(), "a plan never names a file that is not there");
    assert_eq!(book.revisions("mill").unwrap().len(), 2);
}

#[test]
fn files_stand_once_by_content_and_too_large_ones_leave_nothing() {
    let book = book("files");
    book.add_job("Mill", "a", "new").unwrap();
    let one = book.put_blob(&mut &b"weather"[..], 100).unwrap();
    assert_eq!(one, book.put_blob(&mut &b"weather"[..], 100).unwrap());
    // Computed with Python's hashlib, another implementation of SHA-256 (FIPS 180-4).
    assert_eq!(one, "e5e72beb4e3c6926d3dc9e3e2ef7833ba50cd919c2460a782b244fd071e920de");
    book.attach("mill", "weather.csv", &one).unwrap();
    assert_eq!(book.attachment("mill", "weather.csv").unwrap().unwrap().bytes, 7);
    assert!(matches!(book.put_blob(&mut &[0_u8; 200][..], 100), Err(StoreError::TooLarge { .. })));
    let folder = book.path().with_file_name("jobs.book-blobs");
    assert_eq!(std::fs::read_dir(folder).unwrap().count(), 1, "nothing half written is left");
    assert!(book.blob("../jobs.book").is_err(), "a blob is found by a hash the book knows, never by a path");
}

#[test]
fn accounts_open_and_close_and_sessions_end() {
    let book = book("accounts");
    assert!(!book.has_accounts().unwrap());
    book.add_account("ann", Role::Owner, "$argon2id$...").unwrap();
    assert!(matches!(book.add_account("ann", Role::Gang, "x"), Err(StoreError::Taken { .. })));
    book.begin_session("ann", "hash", i64::MAX).unwrap();
    book.begin_session("ann", "old", 1).unwrap();
    assert_eq!(book.session("hash").unwrap().unwrap().role, Role::Owner);
    assert_eq!(book.session("old").unwrap(), None, "an ended session is none");
    book.close_account("ann").unwrap();
    assert_eq!(book.session("hash").unwrap(), None);
    assert!(book.begin_session("ann", "new", i64::MAX).is_err() && book.account("ann").unwrap().is_none());
}

#[test]
fn the_site_log_grows_and_an_entry_told_twice_stands_once() {
    let book = book("site-log");
    book.add_job("Mill", "a", "new").unwrap();
    let entry = SiteEntry {
        given_id: "phone-1".into(),
        happened_at: "2027-05-11T08:30:00+01:00".into(),
        who: "Calder gang".into(),
        kind: "thrown".into(),
        body: "{\"coat\": \"scud\"}".into(),
    };
    assert!(book.log("mill", &entry).unwrap());
    assert!(!book.log("mill", &entry).unwrap());
    assert_eq!(book.site_log("mill").unwrap().first(), Some(&entry));
    book.add_job("Kiln", "b", "new").unwrap();
    let told = book.log("kiln", &entry).unwrap_err().to_string();
    assert!(told.contains("site log of mill") && book.site_log("kiln").unwrap().is_empty(), "{told}");
    assert!(book.log("mill", &SiteEntry { given_id: "phone-2".into(), body: "{".into(), ..entry }).is_err());
}

#[test]
fn a_job_put_away_is_kept() {
    let book = book("away");
    book.add_job("Mill", "a", "new").unwrap();
    book.put_away("mill", true).unwrap();
    assert!(book.jobs().unwrap()[0].put_away);
    book.put_away("mill", false).unwrap();
    assert!(!book.job("mill").unwrap().put_away);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]
    #[test]
    fn any_text_any_title_and_any_bytes_come_back_as_they_went_in(
        title in "\\PC{0,60}", texts in proptest::collection::vec(any::<String>(), 1..5), bytes in proptest::collection::vec(any::<u8>(), 0..2000),
    ) {
        let book = book("round-trip");
        let job = book.add_job(&title, &texts[0], "new").unwrap();
        let mut version = job.version;
        for text in &texts[1..] {
            version = book.save_job(&job.slug, version, &title, text, "changed").unwrap().version;
        }
        for (index, text) in texts.iter().enumerate() {
            prop_assert_eq!(&book.text_at(&job.slug, index as i64 + 1).unwrap(), text);
        }
        prop_assert_eq!(book.job(&job.slug).unwrap().title, title);
        let hash = book.put_blob(&mut bytes.as_slice(), 4000).unwrap();
        prop_assert_eq!(book.blob_bytes(&hash).unwrap(), bytes);
        prop_assert!(book.check().unwrap().faults.is_empty());
    }
}

#[test]
fn an_account_changes_its_role_and_password_and_comes_back_after_closing() {
    let book = book("account-changes");
    book.add_account("eve", Role::Gang, "first").unwrap();
    book.begin_session("eve", "hash", i64::MAX).unwrap();
    book.set_role("eve", Role::Surveyor).unwrap();
    assert_eq!(book.session("hash").unwrap().unwrap().role, Role::Surveyor);
    book.set_password("eve", "second").unwrap();
    assert_eq!(book.session("hash").unwrap(), None, "another password ends what was begun with the old one");
    assert_eq!(book.account("eve").unwrap().unwrap().password, "second");
    book.close_account("eve").unwrap();
    assert!(book.accounts().unwrap().is_empty());
    assert!(matches!(book.set_role("eve", Role::Owner), Err(StoreError::NotFound { .. })));
    book.add_account("eve", Role::Gang, "third").unwrap();
    let listed: Vec<_> = book.accounts().unwrap().into_iter().map(|account| (account.name, account.role)).collect();
    assert_eq!(listed, [("eve".to_owned(), Role::Gang)]);
}
