//! What can go wrong with a job book, in sentences that say where, what was found and what to do.

use std::path::{Path, PathBuf};

use thiserror::Error;

/// A failure of the job book. Nothing that was acknowledged before it is lost.
#[derive(Debug, Error)]
pub enum StoreError {
    /// No file of that name.
    #[error("There is no job book {}. Check the name, or begin one with `harlwright serve --book {}`.", .0.display(), .0.display())]
    NoBook(PathBuf),
    /// A file that is something else.
    #[error("{} is not a job book: {found}. Name the book itself; it is left as it is.", path.display())]
    NotABook {
        /// The file.
        path: PathBuf,
        /// What it is.
        found: String,
    },
    /// A job book of a later version.
    #[error(
        "{} was written by a later harlwright (its form is {found}; this one knows forms up to {known}). Use that version; the book is left as it is.",
        path.display()
    )]
    Newer {
        /// The book.
        path: PathBuf,
        /// Its form.
        found: i64,
        /// The latest form known here.
        known: i64,
    },
    /// A damaged book.
    #[error(
        "{} is damaged: {found}. Leave it as it is and restore the latest backup beside it: `harlwright restore BACKUP NEW-BOOK`.",
        path.display()
    )]
    Damaged {
        /// The book.
        path: PathBuf,
        /// What is wrong.
        found: String,
    },
    /// Somebody saved first.
    #[error("The job was saved elsewhere in the meantime: it stands at version {stands}, and this change was made on version {made_on}.")]
    Conflict {
        /// Version in the book.
        stands: i64,
        /// Version the change was made on.
        made_on: i64,
    },
    /// A name that refers to nothing.
    #[error("The job book holds no {what} “{name}”. Look in the list of jobs.")]
    NotFound {
        /// What was looked for.
        what: &'static str,
        /// Its name.
        name: String,
    },
    /// A name that is taken.
    #[error("The {what} “{name}” is there already. Choose another name.")]
    Taken {
        /// What.
        what: &'static str,
        /// Its name.
        name: String,
    },
    /// An entry of a site log that was handed in for another job.
    #[error("The entry “{entry}” stands already in the site log of {job}. Hand the log in there; nothing was taken in here.")]
    Elsewhere {
        /// Name of the entry.
        entry: String,
        /// Short name of the job whose log holds it.
        job: String,
    },
    /// Nothing to undo or redo.
    #[error("There is nothing to {0}.")]
    Nothing(&'static str),
    /// More than may be taken in.
    #[error("{what} is larger than {most} MB. {remedy}")]
    TooLarge {
        /// What.
        what: String,
        /// Most, MB.
        most: u64,
        /// What to do.
        remedy: &'static str,
    },
    /// A picture that cannot be cleaned.
    #[error("The picture could not be read: {0}. Save it again as JPEG or PNG; it was not taken in.")]
    Picture(&'static str),
    /// A file is in the way.
    #[error("{} exists already, and is left as it is. Name another file, or move that one away.", .0.display())]
    InTheWay(PathBuf),
    /// The disk would not.
    #[error("{} could not be {doing}: {error}. What was saved before still stands.", path.display())]
    Disk {
        /// The file.
        path: PathBuf,
        /// Read or written.
        doing: &'static str,
        /// What the machine said.
        error: std::io::Error,
    },
    /// The database would not.
    #[error("The job book could not be read or written: {0}. What was saved before still stands; try again.")]
    Database(String),
}

impl StoreError {
    /// An error of the disk at a path.
    pub(crate) fn disk(path: &Path, doing: &'static str) -> impl FnOnce(std::io::Error) -> Self {
        let path = path.to_owned();
        move |error| Self::Disk { path, doing, error }
    }

    /// An error of the database behind a path, told for what it is.
    pub(crate) fn opening(path: &Path, error: &rusqlite::Error) -> Self {
        use rusqlite::ErrorCode;
        let found = error.to_string();
        match error.sqlite_error_code() {
            Some(ErrorCode::NotADatabase) => Self::NotABook { path: path.to_owned(), found: "it is no SQLite database".to_owned() },
            Some(ErrorCode::DatabaseCorrupt) => Self::Damaged { path: path.to_owned(), found },
            _ => Self::Database(found),
        }
    }
}

impl From<rusqlite::Error> for StoreError {
    fn from(error: rusqlite::Error) -> Self {
        Self::Database(error.to_string())
    }
}
