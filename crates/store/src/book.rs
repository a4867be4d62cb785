//! Opening a book: one connection that writes, a few that read, and the folder of blobs beside the file.

use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use rusqlite::{Connection, OpenFlags, Transaction, TransactionBehavior};

use crate::StoreError;
use crate::migrations::bring_up;

/// How long a write waits for another program that holds the book.
const PATIENCE: Duration = Duration::from_secs(10);
/// Most reading connections kept open.
const READERS_KEPT: usize = 8;

/// An open job book. It may be used from many threads: writes queue, reads do not wait for them.
#[derive(Debug)]
pub struct Book {
    path: PathBuf,
    writer: Mutex<Connection>,
    readers: Mutex<Vec<Connection>>,
}

impl Book {
    /// Opens the book at a path, or begins one there.
    ///
    /// # Errors
    /// When the file is no job book, is damaged or of a later form, or the disk would not.
    pub fn open(path: &Path) -> Result<Self, StoreError> {
        if let Some(folder) = path.parent().filter(|folder| !folder.as_os_str().is_empty()) {
            std::fs::create_dir_all(folder).map_err(StoreError::disk(folder, "made"))?;
        }
        let mut writer = connect(path, OpenFlags::SQLITE_OPEN_CREATE)?;
        bring_up(&mut writer, path)?;
        let book = Self { path: path.to_owned(), writer: Mutex::new(writer), readers: Mutex::new(Vec::new()) };
        let folder = book.blob_folder();
        std::fs::create_dir_all(&folder).map_err(StoreError::disk(&folder, "made"))?;
        Ok(book)
    }

    /// Opens a book that must be there.
    ///
    /// # Errors
    /// As [`Book::open`]; and when there is none.
    pub fn open_existing(path: &Path) -> Result<Self, StoreError> {
        if !path.is_file() {
            return Err(StoreError::NoBook(path.to_owned()));
        }
        Self::open(path)
    }

    /// Where the book stands.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Folder of the blobs: the name of the book with `-blobs` after it.
    pub(crate) fn blob_folder(&self) -> PathBuf {
        blob_folder(&self.path)
    }

    /// One write, whole or not at all; it is on the disk when this returns.
    pub(crate) fn write<T>(&self, change: impl FnOnce(&Transaction<'_>) -> Result<T, StoreError>) -> Result<T, StoreError> {
        let mut writer = self.writer();
        let transaction = writer.transaction_with_behavior(TransactionBehavior::Immediate)?;
        let outcome = change(&transaction)?;
        transaction.commit()?;
        Ok(outcome)
    }

    /// Some reading from one standing of the book.
    pub(crate) fn read<T>(&self, look: impl FnOnce(&Transaction<'_>) -> Result<T, StoreError>) -> Result<T, StoreError> {
        let kept = self.readers.lock().unwrap_or_else(PoisonError::into_inner).pop();
        let mut reader = match kept {
            Some(reader) => reader,
            None => connect(&self.path, OpenFlags::empty())?,
        };
        let outcome = {
            let transaction = reader.transaction()?;
            look(&transaction)?
        };
        let mut readers = self.readers.lock().unwrap_or_else(PoisonError::into_inner);
        if readers.len() < READERS_KEPT {
            readers.push(reader);
        }
        Ok(outcome)
    }

    /// The writing connection. A panic in another thread rolled its own transaction back, so the lock may be taken over.
    fn writer(&self) -> MutexGuard<'_, Connection> {
        self.writer.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

pub(crate) fn blob_folder(book: &Path) -> PathBuf {
    let mut name = book.as_os_str().to_owned();
    name.push("-blobs");
    PathBuf::from(name)
}

/// A connection with the settings every one of them has.
pub(crate) fn connect(path: &Path, more: OpenFlags) -> Result<Connection, StoreError> {
    let opening = |error: rusqlite::Error| StoreError::opening(path, &error);
    let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX | more;
    let connection = Connection::open_with_flags(path, flags).map_err(opening)?;
    connection.busy_timeout(PATIENCE).map_err(opening)?;
    connection.pragma_update(None, "journal_mode", "wal").map_err(opening)?;
    connection.pragma_update(None, "synchronous", "full").map_err(opening)?;
    connection.pragma_update(None, "foreign_keys", true).map_err(opening)?;
    Ok(connection)
}

/// The moment, for the record of when something was saved.
pub(crate) fn now() -> String {
    jiff::Timestamp::now().strftime("%Y-%m-%dT%H:%M:%SZ").to_string()
}
