//! Jobs and their history. A job is its text, byte for byte; every change is kept, and undo and redo are changes too.

use rusqlite::{OptionalExtension, Transaction, params};

use crate::book::now;
use crate::{Book, StoreError};

/// A job as it stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BookedJob {
    /// Short name in the book and in addresses.
    pub slug: String,
    /// Name shown.
    pub title: String,
    /// Version of the text: goes up by one with every change.
    pub version: i64,
    /// The job file, byte for byte.
    pub text: String,
    /// When it was last changed, UTC.
    pub changed_at: String,
    /// True if it was put away.
    pub put_away: bool,
}

/// A job in the list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Listed {
    /// Short name.
    pub slug: String,
    /// Name shown.
    pub title: String,
    /// Version of the text.
    pub version: i64,
    /// When it was last changed, UTC.
    pub changed_at: String,
    /// True if it was put away.
    pub put_away: bool,
    /// What the latest saved plan answers first, and its number.
    pub latest: Option<(i64, String)>,
}

/// What sort of change it was.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs, reason = "the words say it")]
pub enum EditKind {
    Edit,
    Undo,
    Redo,
}

impl EditKind {
    fn word(self) -> &'static str {
        match self {
            Self::Edit => "edit",
            Self::Undo => "undo",
            Self::Redo => "redo",
        }
    }
}

/// One change in the history of a job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Edit {
    /// Version it made.
    pub version: i64,
    /// Sort.
    pub kind: EditKind,
    /// What was changed, in words.
    pub what: String,
    /// When, UTC.
    pub at: String,
}

/// What a save did.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Saved {
    /// The version the job stands at now.
    pub version: i64,
    /// What was changed, in words.
    pub what: String,
}

/// Longest short name.
const LONGEST_SLUG: usize = 40;

impl Book {
    /// Puts a job into the book; the short name is made from the title and is free.
    ///
    /// # Errors
    /// When the book could not be written.
    pub fn add_job(&self, title: &str, text: &str, what: &str) -> Result<BookedJob, StoreError> {
        self.write(|transaction| {
            let slug = free_slug(transaction, title)?;
            let at = now();
            transaction.execute("insert into job (slug, title, version, changed_at) values (?1, ?2, 1, ?3)", params![slug, title, at])?;
            let id = transaction.last_insert_rowid();
            transaction.execute(
                "insert into edit (job, version, kind, stands_for, before, what, text, at) values (?1, 1, 'edit', 1, null, ?2, ?3, ?4)",
                params![id, what, text, at],
            )?;
            Ok(BookedJob { slug, title: title.to_owned(), version: 1, text: text.to_owned(), changed_at: at, put_away: false })
        })
    }

    /// A job as it stands.
    ///
    /// # Errors
    /// When there is none of that short name.
    pub fn job(&self, slug: &str) -> Result<BookedJob, StoreError> {
        self.read(|transaction| job(transaction, slug).map(|(_, job)| job))
    }

    /// All jobs, the last changed first.
    ///
    /// # Errors
    /// When the book could not be read.
    pub fn jobs(&self) -> Result<Vec<Listed>, StoreError> {
        self.read(|transaction| {
            let mut query = transaction.prepare_cached(
                "select slug, title, version, changed_at, put_away, number, headline from job
                 left join (select job, number, headline, max(number) from revision group by job) on job = id
                 order by changed_at desc, slug",
            )?;
            let rows = query.query_map([], |row| {
                let number: Option<i64> = row.get(5)?;
                let headline: Option<String> = row.get(6)?;
                Ok(Listed {
                    slug: row.get(0)?,
                    title: row.get(1)?,
                    version: row.get(2)?,
                    changed_at: row.get(3)?,
                    put_away: row.get(4)?,
                    latest: number.zip(headline),
                })
            })?;
            rows.map(|row| row.map_err(StoreError::from)).collect()
        })
    }

    /// Saves a changed text made on `made_on`.
    ///
    /// # Errors
    /// [`StoreError::Conflict`] when the job stands at another version; nothing is changed then.
    pub fn save_job(&self, slug: &str, made_on: i64, title: &str, text: &str, what: &str) -> Result<Saved, StoreError> {
        self.write(|transaction| {
            let (id, job) = standing(transaction, slug, made_on)?;
            let before = stands_for(transaction, id, job.version)?;
            let version = job.version + 1;
            append(transaction, id, &Row { version, kind: EditKind::Edit, stands_for: version, before: Some(before), what, text })?;
            transaction.execute("update job set title = ?2 where id = ?1", params![id, title])?;
            Ok(Saved { version, what: what.to_owned() })
        })
    }

    /// Takes the last change back. The change stays in the history and can be done again.
    ///
    /// # Errors
    /// When there is nothing to undo, or the job stands at another version.
    pub fn undo(&self, slug: &str, made_on: i64) -> Result<Saved, StoreError> {
        self.write(|transaction| {
            let (id, job) = standing(transaction, slug, made_on)?;
            let at = stands_for(transaction, id, job.version)?;
            let (before, what): (Option<i64>, String) =
                transaction.query_row("select before, what from edit where job = ?1 and version = ?2", params![id, at], |row| {
                    Ok((row.get(0)?, row.get(1)?))
                })?;
            let target = before.ok_or(StoreError::Nothing("undo"))?;
            go_to(transaction, id, job.version + 1, EditKind::Undo, target, &what)
        })
    }

    /// Does again what was last undone.
    ///
    /// # Errors
    /// When there is nothing to redo, or the job stands at another version.
    pub fn redo(&self, slug: &str, made_on: i64) -> Result<Saved, StoreError> {
        self.write(|transaction| {
            let (id, job) = standing(transaction, slug, made_on)?;
            let (target, what) = redoable(transaction, id, job.version)?.ok_or(StoreError::Nothing("redo"))?;
            go_to(transaction, id, job.version + 1, EditKind::Redo, target, &what)
        })
    }

    /// What undo and redo would do from here, in words; `None` where there is nothing.
    ///
    /// # Errors
    /// When there is no such job.
    pub fn can_go(&self, slug: &str) -> Result<(Option<String>, Option<String>), StoreError> {
        self.read(|transaction| {
            let (id, job) = job(transaction, slug)?;
            let at = stands_for(transaction, id, job.version)?;
            let undo = transaction
                .query_row("select what from edit where job = ?1 and version = ?2 and before is not null", params![id, at], |row| {
                    row.get(0)
                })
                .optional()?;
            let redo = redoable(transaction, id, job.version)?.map(|(_, what)| what);
            Ok((undo, redo))
        })
    }

    /// The history of a job, latest first.
    ///
    /// # Errors
    /// When there is no such job.
    pub fn history(&self, slug: &str) -> Result<Vec<Edit>, StoreError> {
        self.read(|transaction| {
            let (id, _) = job(transaction, slug)?;
            let mut query = transaction.prepare_cached("select version, kind, what, at from edit where job = ?1 order by version desc")?;
            let rows = query.query_map([id], |row| {
                let kind: String = row.get(1)?;
                let kind = match kind.as_str() {
                    "undo" => EditKind::Undo,
                    "redo" => EditKind::Redo,
                    _ => EditKind::Edit,
                };
                Ok(Edit { version: row.get(0)?, kind, what: row.get(2)?, at: row.get(3)? })
            })?;
            rows.map(|row| row.map_err(StoreError::from)).collect()
        })
    }

    /// The text of a job as it stood at a version.
    ///
    /// # Errors
    /// When there is no such job or version.
    pub fn text_at(&self, slug: &str, version: i64) -> Result<String, StoreError> {
        self.read(|transaction| {
            let (id, _) = job(transaction, slug)?;
            transaction
                .query_row("select text from edit where job = ?1 and version = ?2", params![id, version], |row| row.get(0))
                .optional()?
                .ok_or_else(|| StoreError::NotFound { what: "version", name: version.to_string() })
        })
    }

    /// Puts a job away, or brings it back. Nothing is deleted.
    ///
    /// # Errors
    /// When there is no such job.
    pub fn put_away(&self, slug: &str, away: bool) -> Result<(), StoreError> {
        self.write(|transaction| {
            let (id, _) = job(transaction, slug)?;
            transaction.execute("update job set put_away = ?2, changed_at = ?3 where id = ?1", params![id, away, now()])?;
            Ok(())
        })
    }
}

/// A row to append to the history.
struct Row<'a> {
    version: i64,
    kind: EditKind,
    stands_for: i64,
    before: Option<i64>,
    what: &'a str,
    text: &'a str,
}

fn append(transaction: &Transaction<'_>, id: i64, row: &Row<'_>) -> Result<(), StoreError> {
    let at = now();
    transaction.execute(
        "insert into edit (job, version, kind, stands_for, before, what, text, at) values (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
        params![id, row.version, row.kind.word(), row.stands_for, row.before, row.what, row.text, at],
    )?;
    transaction.execute("update job set version = ?2, changed_at = ?3 where id = ?1", params![id, row.version, at])?;
    Ok(())
}

fn go_to(transaction: &Transaction<'_>, id: i64, version: i64, kind: EditKind, target: i64, what: &str) -> Result<Saved, StoreError> {
    let text: String =
        transaction.query_row("select text from edit where job = ?1 and version = ?2", params![id, target], |row| row.get(0))?;
    append(transaction, id, &Row { version, kind, stands_for: target, before: None, what, text: &text })?;
    Ok(Saved { version, what: what.to_owned() })
}

/// The edit whose state the job stands at: an undo stands for the edit it went back to.
fn stands_for(transaction: &Transaction<'_>, id: i64, version: i64) -> Result<i64, StoreError> {
    Ok(transaction.query_row("select stands_for from edit where job = ?1 and version = ?2", params![id, version], |row| row.get(0))?)
}

/// The edit that was undone last from here; a new edit leaves nothing to redo.
fn redoable(transaction: &Transaction<'_>, id: i64, version: i64) -> Result<Option<(i64, String)>, StoreError> {
    let (kind, at): (String, i64) =
        transaction.query_row("select kind, stands_for from edit where job = ?1 and version = ?2", params![id, version], |row| {
            Ok((row.get(0)?, row.get(1)?))
        })?;
    if kind == "edit" {
        return Ok(None);
    }
    let found = transaction
        .query_row(
            "select version, what from edit where job = ?1 and kind = 'edit' and before = ?2 order by version desc limit 1",
            params![id, at],
            |row| Ok((row.get(0)?, row.get(1)?)),
        )
        .optional()?;
    Ok(found)
}

/// A job with its number in the book.
pub(crate) fn job(transaction: &Transaction<'_>, slug: &str) -> Result<(i64, BookedJob), StoreError> {
    let mut query = transaction.prepare_cached(
        "select id, title, job.version, text, changed_at, put_away from job
         join edit on edit.job = job.id and edit.version = job.version where slug = ?1",
    )?;
    let found = query
        .query_row([slug], |row| {
            let job = BookedJob {
                slug: slug.to_owned(),
                title: row.get(1)?,
                version: row.get(2)?,
                text: row.get(3)?,
                changed_at: row.get(4)?,
                put_away: row.get(5)?,
            };
            Ok((row.get(0)?, job))
        })
        .optional()?;
    found.ok_or_else(|| StoreError::NotFound { what: "job", name: slug.to_owned() })
}

fn standing(transaction: &Transaction<'_>, slug: &str, made_on: i64) -> Result<(i64, BookedJob), StoreError> {
    let (id, job) = job(transaction, slug)?;
    if job.version != made_on {
        return Err(StoreError::Conflict { stands: job.version, made_on });
    }
    Ok((id, job))
}

/// A short name from a title that no other job bears.
fn free_slug(transaction: &Transaction<'_>, title: &str) -> Result<String, StoreError> {
    let base = slug_of(title);
    let mut query = transaction.prepare_cached("select 1 from job where slug = ?1")?;
    for number in 1_u32.. {
        let slug = if number == 1 { base.clone() } else { format!("{base}-{number}") };
        if !query.exists([&slug])? {
            return Ok(slug);
        }
    }
    Ok(base)
}

fn slug_of(title: &str) -> String {
    let mut slug = String::new();
    for c in title.to_lowercase().chars() {
        let c = if c.is_ascii_alphanumeric() { c } else { '-' };
        if !(c == '-' && (slug.is_empty() || slug.ends_with('-'))) && slug.len() < LONGEST_SLUG {
            slug.push(c);
        }
    }
    let slug = slug.trim_matches('-');
    if slug.is_empty() { "job".to_owned() } else { slug.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::slug_of;

    #[test]
    fn short_names_come_from_titles() {
        assert_eq!(slug_of("Ferry House, Port Calder"), "ferry-house-port-calder");
        assert_eq!(slug_of("  ../Ærø  "), "r");
        assert_eq!(slug_of("場所"), "job");
        assert!(slug_of(&"long ".repeat(40)).len() <= 40);
    }
}
