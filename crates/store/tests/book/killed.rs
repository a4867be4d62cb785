//! The machine stops in the middle of a write: every write that was acknowledged is there and the book opens clean. The writer is this same
//! test binary run again, killed without warning.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "a test that cannot run its writer must stop")]

use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Duration;

use store::Book;

use crate::support::folder;

const BOOK: &str = "HARLWRIGHT_TEST_BOOK_TO_WRITE";

/// Not a test of its own: what the killed program does. It saves, and says so once the save has returned.
#[test]
#[ignore = "run by the test below as the program that is killed"]
fn writes_until_it_is_killed() {
    let Some(path) = std::env::var_os(BOOK) else { return };
    let book = Book::open(Path::new(&path)).unwrap();
    let job = match book.jobs().unwrap().first() {
        Some(listed) => book.job(&listed.slug).unwrap(),
        None => book.add_job("Mill", "begun", "new").unwrap(),
    };
    let mut out = std::io::stdout();
    let mut version = job.version;
    loop {
        let text = text_of(version + 1);
        version = book.save_job(&job.slug, version, "Mill", &text, "typing").unwrap().version;
        let hash = book.put_blob(&mut text.as_bytes(), 100_000).unwrap();
        writeln!(out, "saved {version} {hash}").unwrap();
        out.flush().unwrap();
    }
}

fn text_of(version: i64) -> String {
    format!("version {version} {}", "lime ".repeat(usize::try_from(version).unwrap() % 900))
}

#[test]
fn every_acknowledged_write_outlives_a_kill() {
    let kills = if std::env::var_os("HARLWRIGHT_LONG").is_some() { 200 } else { 20 };
    let path = folder("killed").join("jobs.book");
    let mut acknowledged = 0;
    for kill in 0..kills {
        let mut writer = Command::new(std::env::current_exe().unwrap())
            .args(["--exact", "killed::writes_until_it_is_killed", "--ignored", "--nocapture"])
            .env(BOOK, &path)
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let lines = BufReader::new(writer.stdout.take().unwrap()).lines();
        // Differing moments, the same in every run of the test: after some saves, then a little into the next.
        let saves = 1 + kill % 7;
        let mut told = Vec::new();
        for line in lines {
            let line = line.unwrap();
            if let Some(at) = line.find("saved ") {
                let (version, hash) = line[at + 6..].split_once(' ').expect("version and hash");
                told.push((version.parse::<i64>().unwrap(), hash.to_owned()));
            }
            if told.len() == saves {
                std::thread::sleep(Duration::from_micros(u64::try_from(kill).unwrap() * 379 % 9000));
                writer.kill().unwrap();
            }
        }
        writer.wait().unwrap();
        assert!(told.len() >= saves, "the writer stopped by itself after {} saves", told.len());
        let book = Book::open_existing(&path).unwrap();
        let job = book.job("mill").unwrap();
        let (last, _) = told.last().unwrap();
        assert!(job.version >= *last, "version {last} was acknowledged, the book stands at {}", job.version);
        for (version, hash) in &told {
            assert_eq!(book.text_at("mill", *version).unwrap(), text_of(*version));
            assert_eq!(book.blob_bytes(hash).unwrap(), text_of(*version).as_bytes());
        }
        acknowledged += told.len();
        let faults = book.check().unwrap().faults;
        assert!(faults.is_empty(), "{faults:?}");
    }
    println!("{kills} kills, {acknowledged} acknowledged writes, none lost");
}
