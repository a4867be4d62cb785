//! Files by their content: scans, photographs, weather, documents. Each stands once beside the book under its SHA-256, written to the disk and
//! moved into its place before the book names it, so that the book never names a file that is not whole.

use std::fs::File;
use std::io::{Read, Write};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};

use rusqlite::{OptionalExtension, params};
use sha2::{Digest, Sha256};

use crate::book::now;
use crate::jobs::job;
use crate::{Book, StoreError};

/// Most bytes of one blob.
pub const BLOB_MOST_BYTES: u64 = 2 * 1024 * 1024 * 1024;
/// Bytes moved at once.
const STEP: usize = 256 * 1024;

/// A file that belongs to a job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Attachment {
    /// Name under which the job file knows it.
    pub name: String,
    /// SHA-256 of its content, in lower-case hexadecimal.
    pub sha256: String,
    /// Its size.
    pub bytes: u64,
}

impl Book {
    /// Takes a file in from a stream of at most `most` bytes; returns its hash. What is there already is not written again.
    ///
    /// # Errors
    /// When it is too large, the stream breaks off or the disk would not; nothing is kept then.
    pub fn put_blob(&self, from: &mut dyn Read, most: u64) -> Result<String, StoreError> {
        let folder = self.blob_folder();
        let part = PartFile::new(&folder);
        let (sha256, bytes) = write_part(from, &part.0, most.min(BLOB_MOST_BYTES))?;
        let place = folder.join(&sha256);
        if !place.exists() {
            std::fs::rename(&part.0, &place).map_err(StoreError::disk(&place, "written"))?;
            sync_folder(&folder)?;
        }
        self.write(|transaction| {
            transaction.execute(
                "insert or ignore into blob (sha256, bytes, at) values (?1, ?2, ?3)",
                params![sha256, bytes.cast_signed(), now()],
            )?;
            Ok(())
        })?;
        Ok(sha256)
    }

    /// Opens a blob for reading.
    ///
    /// # Errors
    /// When the book has no such blob or its file cannot be read.
    pub fn blob(&self, sha256: &str) -> Result<File, StoreError> {
        let known = self.read(|transaction| {
            Ok(transaction.query_row("select 1 from blob where sha256 = ?1", [sha256], |_| Ok(())).optional()?.is_some())
        })?;
        if !known {
            return Err(StoreError::NotFound { what: "file", name: sha256.chars().take(64).collect() });
        }
        let place = self.blob_folder().join(sha256);
        File::open(&place).map_err(StoreError::disk(&place, "read"))
    }

    /// The whole of a blob.
    ///
    /// # Errors
    /// As [`Book::blob`].
    pub fn blob_bytes(&self, sha256: &str) -> Result<Vec<u8>, StoreError> {
        let mut bytes = Vec::new();
        let place = self.blob_folder().join(sha256);
        self.blob(sha256)?.read_to_end(&mut bytes).map_err(StoreError::disk(&place, "read"))?;
        Ok(bytes)
    }

    /// Gives a blob to a job under a name; one of the same name before it is let go.
    ///
    /// # Errors
    /// When there is no such job or blob.
    pub fn attach(&self, slug: &str, name: &str, sha256: &str) -> Result<(), StoreError> {
        self.write(|transaction| {
            let (id, _) = job(transaction, slug)?;
            transaction.execute("insert or replace into attachment (job, name, sha256) values (?1, ?2, ?3)", params![id, name, sha256])?;
            Ok(())
        })
    }

    /// The files of a job, by name.
    ///
    /// # Errors
    /// When there is no such job.
    pub fn attachments(&self, slug: &str) -> Result<Vec<Attachment>, StoreError> {
        self.read(|transaction| {
            let (id, _) = job(transaction, slug)?;
            let mut query = transaction
                .prepare_cached("select name, sha256, bytes from attachment join blob using (sha256) where job = ?1 order by name")?;
            let rows = query.query_map([id], |row| {
                Ok(Attachment { name: row.get(0)?, sha256: row.get(1)?, bytes: row.get::<_, i64>(2)?.unsigned_abs() })
            })?;
            rows.map(|row| row.map_err(StoreError::from)).collect()
        })
    }

    /// The file of a job under a name; `None` if it has none.
    ///
    /// # Errors
    /// When there is no such job.
    pub fn attachment(&self, slug: &str, name: &str) -> Result<Option<Attachment>, StoreError> {
        Ok(self.attachments(slug)?.into_iter().find(|attachment| attachment.name == name))
    }
}

/// A half-written file, taken away again unless it was moved to its place.
struct PartFile(PathBuf);

impl PartFile {
    fn new(folder: &Path) -> Self {
        static COUNT: AtomicU64 = AtomicU64::new(0);
        let name = format!(".part-{}-{}", std::process::id(), COUNT.fetch_add(1, Ordering::Relaxed));
        Self(folder.join(name))
    }
}

impl Drop for PartFile {
    fn drop(&mut self) {
        let _ = std::fs::remove_file(&self.0);
    }
}

fn write_part(from: &mut dyn Read, part: &Path, most: u64) -> Result<(String, u64), StoreError> {
    let mut file = File::create(part).map_err(StoreError::disk(part, "written"))?;
    let mut hash = Sha256::new();
    let mut buffer = vec![0_u8; STEP];
    let mut bytes = 0_u64;
    loop {
        let read = match from.read(&mut buffer) {
            Ok(read) => read,
            Err(error) if error.kind() == std::io::ErrorKind::Interrupted => continue,
            Err(error) => return Err(StoreError::disk(part, "read to its end")(error)),
        };
        if read == 0 {
            break;
        }
        bytes += read as u64;
        if bytes > most {
            let most = most / 1_048_576;
            return Err(StoreError::TooLarge { what: "The file".to_owned(), most, remedy: "Check that it is the right file." });
        }
        hash.update(&buffer[..read]);
        file.write_all(&buffer[..read]).map_err(StoreError::disk(part, "written"))?;
    }
    file.sync_all().map_err(StoreError::disk(part, "written"))?;
    Ok((hex(&hash.finalize()), bytes))
}

/// Bytes in lower-case hexadecimal.
pub(crate) fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

/// Puts a moved file's name on the disk. Only Unix lets a folder be opened for that; elsewhere the move itself is as safe as it gets.
pub(crate) fn sync_folder(folder: &Path) -> Result<(), StoreError> {
    if cfg!(unix) {
        let opened = File::open(folder).map_err(StoreError::disk(folder, "written"))?;
        opened.sync_all().map_err(StoreError::disk(folder, "written"))?;
    }
    Ok(())
}

/// SHA-256 of a file, and its size.
pub(crate) fn hash_of(path: &Path) -> Result<(String, u64), StoreError> {
    let mut file = File::open(path).map_err(StoreError::disk(path, "read"))?;
    let mut hash = Sha256::new();
    let mut buffer = vec![0_u8; STEP];
    let mut bytes = 0;
    loop {
        let read = file.read(&mut buffer).map_err(StoreError::disk(path, "read"))?;
        if read == 0 {
            return Ok((hex(&hash.finalize()), bytes));
        }
        bytes += read as u64;
        hash.update(&buffer[..read]);
    }
}
