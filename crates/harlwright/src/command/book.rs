//! `harlwright backup`, `restore`, `book check` and `log`: a job book kept safe, and what the site handed back.

use std::path::Path;

use serde_json::{Value, json};
use store::{Book, Handed, StoreError};

use crate::arguments::{BookVerb, LogVerb};
use crate::failure::{Failure, Located};
use crate::files::{book_file, print, read_text};

/// A failure of the book, told as bad input or as the machine's.
pub fn book_failure(error: &StoreError) -> Failure {
    match error {
        StoreError::Disk { .. } | StoreError::Database(_) => Failure::machine(error.to_string()),
        _ => Failure::input(error.to_string(), ""),
    }
}

fn opened(path: &Path) -> Result<Book, Failure> {
    Book::open_existing(&book_file(path)).map_err(|error| book_failure(&error))
}

/// Writes a backup.
pub fn backup(book: &Path, to: &Path) -> Result<(), Failure> {
    let made = opened(book)?.backup(to).map_err(|error| book_failure(&error))?;
    let megabytes = made.bytes as f64 / 1_048_576.0;
    print(&format!("{}: {} jobs and {} files, {megabytes:.1} MB.", to.display(), made.jobs, made.blobs))
}

/// Restores a backup as a new book.
pub fn restore(from: &Path, to: &Path) -> Result<(), Failure> {
    let made = store::restore(from, &book_file(to)).map_err(|error| book_failure(&error))?;
    print(&format!(
        "{}: {} jobs and {} files. Open it with `harlwright serve --book {}`.",
        to.display(),
        made.jobs,
        made.blobs,
        to.display()
    ))
}

/// Looks a book through; exit code 0 only if it is sound.
pub fn run(verb: &BookVerb) -> Result<(), Failure> {
    let BookVerb::Check { book } = verb;
    let found = opened(book)?.check().map_err(|error| book_failure(&error))?;
    if found.faults.is_empty() {
        return print(&format!("{} is sound: {} jobs and {} files looked at.", book.display(), found.jobs, found.blobs));
    }
    let remedy = "Leave the book as it is, and restore the latest backup beside it: `harlwright restore BACKUP NEW-BOOK`.";
    Err(problems(found.faults, remedy))
}

fn problems(found: Vec<String>, remedy: &str) -> Failure {
    let located = |message| Located { message, remedy: remedy.to_owned(), source_text: None, span: None, label: String::new() };
    Failure::Input { problems: found.into_iter().map(located).collect() }
}

/// The site log.
pub fn log(verb: &LogVerb) -> Result<(), Failure> {
    match verb {
        LogVerb::Import { file, job, book } => import(file, job.as_deref(), book),
        LogVerb::Show { job, book } => {
            let entries = opened(book)?.site_log(job).map_err(|error| book_failure(&error))?;
            let told = entries.iter().map(|entry| {
                let body: Value = serde_json::from_str(&entry.body).unwrap_or_default();
                json!({ "id": entry.given_id, "at": entry.happened_at, "who": entry.who, "kind": entry.kind, "told": body })
            });
            print(&json!({ "job": job, "entries": told.collect::<Vec<_>>() }).to_string())
        }
    }
}

fn import(file: &Path, job: Option<&str>, book: &Path) -> Result<(), Failure> {
    let book = opened(book)?;
    let text = read_text(file, "file of a site sheet")?;
    let handed = Handed::read(&text).map_err(|found| problems(found, ""))?;
    let Some(slug) = job.map(str::to_owned).or(handed.slug) else {
        let jobs = book.jobs().map_err(|error| book_failure(&error))?;
        let known: Vec<String> = jobs.into_iter().map(|listed| listed.slug).collect();
        return Err(Failure::input(
            format!("{} comes from a sheet made without a job book, for “{}”.", file.display(), handed.job),
            format!("Say which job it is with --job; the book holds: {}.", known.join(", ")),
        ));
    };
    let added = book.take_in(&slug, &handed.entries).map_err(|error| book_failure(&error))?;
    let known = handed.entries.len() - added;
    print(&format!("{slug}: {added} entries taken in, {known} there already."))
}
