//! Backup while the book is in use, the check of a book, and its restoring. A backup is one file: the database as it stood at one moment, with
//! the blobs it names inside it.

use std::fs::File;
use std::io::{Read, Write};
use std::path::{Path, PathBuf};

use rusqlite::backup::{Backup, StepResult};
use rusqlite::{Connection, OpenFlags, params};

use crate::blobs::{hash_of, sync_folder};
use crate::book::{blob_folder, connect};
use crate::migrations::bring_up;
use crate::{Book, StoreError};

/// Bytes of a blob in one row of a backup.
const PART_BYTES: usize = 4 * 1024 * 1024;

/// What a backup holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BackedUp {
    /// Jobs.
    pub jobs: u64,
    /// Blobs.
    pub blobs: u64,
    /// Size of the file.
    pub bytes: u64,
}

/// What a check found.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Checked {
    /// Jobs looked at.
    pub jobs: u64,
    /// Blobs looked at.
    pub blobs: u64,
    /// Faults, complete sentences; none if the book is sound.
    pub faults: Vec<String>,
}

/// What was restored.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Restored {
    /// Jobs.
    pub jobs: u64,
    /// Blobs.
    pub blobs: u64,
}

impl Book {
    /// Writes a backup to a file that must not exist. The book may be read and written meanwhile; what is saved after the beginning is not in it.
    ///
    /// # Errors
    /// When the file is in the way or cannot be written; nothing is left half done then.
    pub fn backup(&self, to: &Path) -> Result<BackedUp, StoreError> {
        if to.exists() {
            return Err(StoreError::InTheWay(to.to_owned()));
        }
        let part = beside(to);
        let outcome = self.back_up_to(&part).and_then(|counted| {
            move_into_place(&part, to)?;
            Ok(counted)
        });
        if outcome.is_err() {
            let _ = std::fs::remove_file(&part);
        }
        let (jobs, blobs) = outcome?;
        let bytes = std::fs::metadata(to).map_err(StoreError::disk(to, "read"))?.len();
        Ok(BackedUp { jobs, blobs, bytes })
    }

    fn back_up_to(&self, part: &Path) -> Result<(u64, u64), StoreError> {
        let _ = std::fs::remove_file(part);
        let source = connect(self.path(), OpenFlags::empty())?;
        let mut copy = Connection::open(part).map_err(|error| StoreError::opening(part, &error))?;
        loop {
            let step = Backup::new(&source, &mut copy)?.step(-1)?;
            match step {
                StepResult::Done => break,
                _ => std::thread::sleep(std::time::Duration::from_millis(20)),
            }
        }
        copy.pragma_update(None, "journal_mode", "delete")?;
        copy.execute_batch(
            "create table backup_part (sha256 text, number integer, bytes blob not null, primary key (sha256, number)) strict",
        )?;
        let transaction = copy.transaction()?;
        let names = blob_names(&transaction)?;
        for name in &names {
            pack_blob(&transaction, &self.blob_folder().join(name), name)?;
        }
        let jobs = count(&transaction, "job")?;
        transaction.commit()?;
        Ok((jobs, names.len() as u64))
    }

    /// Looks the whole book through: the database's own check, what refers to what, and every blob against its hash.
    ///
    /// # Errors
    /// When the book cannot be read at all.
    pub fn check(&self) -> Result<Checked, StoreError> {
        let connection = connect(self.path(), OpenFlags::empty())?;
        let mut checked = Checked { jobs: count(&connection, "job")?, ..Checked::default() };
        let mut query = connection.prepare("pragma integrity_check")?;
        let found: Vec<String> = query.query_map([], |row| row.get(0))?.collect::<Result<_, _>>()?;
        checked.faults.extend(found.into_iter().filter(|line| line != "ok").map(|line| format!("The database says: {line}.")));
        let mut query = connection.prepare("pragma foreign_key_check")?;
        let astray: Vec<String> = query.query_map([], |row| row.get(0))?.collect::<Result<_, _>>()?;
        checked.faults.extend(astray.into_iter().map(|table| format!("A row of {table} refers to something that is not there.")));
        for name in blob_names(&connection)? {
            checked.blobs += 1;
            let place = self.blob_folder().join(&name);
            match hash_of(&place) {
                Ok((hash, _)) if hash == name => {}
                Ok(_) => checked.faults.push(format!("The file {} is not what it was when it was taken in.", place.display())),
                Err(error) => checked.faults.push(error.to_string()),
            }
        }
        Ok(checked)
    }
}

/// Restores a backup as a new book at a path where none stands. Nobody is signed in to it: whoever was when the backup was made signs in anew, so that
/// a session ended since does not come back to life.
///
/// # Errors
/// When a book stands there, the backup is none or is damaged, or the disk would not; nothing is left half done then.
pub fn restore(backup: &Path, to: &Path) -> Result<Restored, StoreError> {
    if !backup.is_file() {
        return Err(StoreError::NoBook(backup.to_owned()));
    }
    let folder = blob_folder(to);
    for place in [to, folder.as_path()] {
        if place.exists() {
            return Err(StoreError::InTheWay(place.to_owned()));
        }
    }
    let (part, part_folder) = (beside(to), beside(&folder));
    let outcome = restore_beside(backup, &part, &part_folder).and_then(|restored| {
        std::fs::rename(&part_folder, &folder).map_err(StoreError::disk(&folder, "written"))?;
        move_into_place(&part, to)?;
        Ok(restored)
    });
    if outcome.is_err() {
        let _ = std::fs::remove_file(&part);
        let _ = std::fs::remove_dir_all(&part_folder);
    }
    outcome
}

fn restore_beside(backup: &Path, part: &Path, folder: &Path) -> Result<Restored, StoreError> {
    let _ = std::fs::remove_dir_all(folder);
    if let Some(parent) = part.parent().filter(|parent| !parent.as_os_str().is_empty()) {
        std::fs::create_dir_all(parent).map_err(StoreError::disk(parent, "made"))?;
    }
    std::fs::create_dir_all(folder).map_err(StoreError::disk(folder, "made"))?;
    std::fs::copy(backup, part).map_err(StoreError::disk(part, "written"))?;
    let opening = |error: rusqlite::Error| StoreError::opening(backup, &error);
    let mut connection = Connection::open(part).map_err(opening)?;
    let whole: String = connection.query_row("pragma integrity_check(1)", [], |row| row.get(0)).map_err(opening)?;
    if whole != "ok" {
        return Err(StoreError::Damaged { path: backup.to_owned(), found: whole });
    }
    if connection.prepare("select 1 from backup_part limit 1").is_err() {
        let found = "it is not a backup (a book in use is backed up with `harlwright backup BOOK FILE`)".to_owned();
        return Err(StoreError::NotABook { path: backup.to_owned(), found });
    }
    let names = blob_names(&connection)?;
    for name in &names {
        unpack_blob(&connection, name, &folder.join(name), backup)?;
    }
    connection.execute_batch("drop table backup_part; vacuum")?;
    bring_up(&mut connection, part)?;
    connection.execute("delete from session", [])?;
    let jobs = count(&connection, "job")?;
    drop(connection);
    File::open(part).and_then(|file| file.sync_all()).map_err(StoreError::disk(part, "written"))?;
    sync_folder(folder)?;
    Ok(Restored { jobs, blobs: names.len() as u64 })
}

fn pack_blob(copy: &Connection, place: &Path, name: &str) -> Result<(), StoreError> {
    let mut file = File::open(place).map_err(StoreError::disk(place, "read"))?;
    let mut buffer = Vec::with_capacity(PART_BYTES);
    for number in 0_i64.. {
        buffer.clear();
        let read = Read::by_ref(&mut file).take(PART_BYTES as u64).read_to_end(&mut buffer).map_err(StoreError::disk(place, "read"))?;
        if read == 0 && number > 0 {
            break;
        }
        copy.execute("insert into backup_part (sha256, number, bytes) values (?1, ?2, ?3)", params![name, number, buffer])?;
    }
    Ok(())
}

fn unpack_blob(connection: &Connection, name: &str, place: &Path, backup: &Path) -> Result<(), StoreError> {
    let mut file = File::create(place).map_err(StoreError::disk(place, "written"))?;
    let mut query = connection.prepare_cached("select bytes from backup_part where sha256 = ?1 order by number")?;
    let mut rows = query.query([name])?;
    while let Some(row) = rows.next()? {
        let bytes: Vec<u8> = row.get(0)?;
        file.write_all(&bytes).map_err(StoreError::disk(place, "written"))?;
    }
    file.sync_all().map_err(StoreError::disk(place, "written"))?;
    if hash_of(place)?.0 != name {
        return Err(StoreError::Damaged { path: backup.to_owned(), found: format!("the file {name} in it is not what it was") });
    }
    Ok(())
}

/// Hashes of all blobs the book names. A name that is no hash is a fault: it would be a path.
fn blob_names(connection: &Connection) -> Result<Vec<String>, StoreError> {
    let mut query = connection.prepare("select sha256 from blob order by sha256")?;
    let names: Vec<String> = query.query_map([], |row| row.get(0))?.collect::<Result<_, _>>()?;
    match names.iter().find(|name| name.len() != 64 || !name.bytes().all(|byte| byte.is_ascii_hexdigit())) {
        Some(name) => Err(StoreError::Database(format!("{name:?} is no hash of a file"))),
        None => Ok(names),
    }
}

fn count(connection: &Connection, table: &'static str) -> Result<u64, StoreError> {
    let count: i64 = connection.query_row(&format!("select count(*) from {table}"), [], |row| row.get(0))?;
    Ok(count.unsigned_abs())
}

/// A name beside a path, for what is not whole yet.
fn beside(path: &Path) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(".part");
    PathBuf::from(name)
}

fn move_into_place(part: &Path, to: &Path) -> Result<(), StoreError> {
    File::open(part).and_then(|file| file.sync_all()).map_err(StoreError::disk(part, "written"))?;
    std::fs::rename(part, to).map_err(StoreError::disk(to, "written"))?;
    match to.parent().filter(|folder| !folder.as_os_str().is_empty()) {
        Some(folder) => sync_folder(folder),
        None => sync_folder(Path::new(".")),
    }
}
