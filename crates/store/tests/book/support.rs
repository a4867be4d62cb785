//! Folders and books for one test each.
#![allow(clippy::unwrap_used, reason = "a test that cannot open its book must stop")]

use std::path::{Path, PathBuf};

use store::Book;

/// An empty folder for one test.
pub fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("book").join(name);
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).unwrap();
    folder
}

/// A new book in an empty folder.
pub fn book(name: &str) -> Book {
    Book::open(&folder(name).join("jobs.book")).unwrap()
}
