//! The site log: what happened on the wall, as it was told. Entries are only ever added; one told twice, as a phone does that was out of
//! reach, stands once.

use rusqlite::{OptionalExtension, params};

use crate::book::now;
use crate::jobs::job;
use crate::{Book, StoreError};

/// One entry.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SiteEntry {
    /// Name the teller gave it: the same entry has the same name however often it is sent.
    pub given_id: String,
    /// When it happened, as told, ISO 8601.
    pub happened_at: String,
    /// Who tells.
    pub who: String,
    /// Sort of entry.
    pub kind: String,
    /// What is told, as JSON.
    pub body: String,
}

impl Book {
    /// Adds an entry; false if it was there already.
    ///
    /// # Errors
    /// When there is no such job, the body is no JSON, or the entry stands in the log of another job.
    pub fn log(&self, slug: &str, entry: &SiteEntry) -> Result<bool, StoreError> {
        Ok(self.log_all(slug, std::slice::from_ref(entry))? > 0)
    }

    /// Adds entries, all or nothing; how many were new. One that stands in the log of another job is a fault: counted as known, it would be lost here.
    pub(crate) fn log_all(&self, slug: &str, entries: &[SiteEntry]) -> Result<usize, StoreError> {
        self.write(|transaction| {
            let (id, _) = job(transaction, slug)?;
            let mut insert = transaction.prepare_cached(
                "insert into site_entry (job, given_id, happened_at, who, kind, body, at) values (?1, ?2, ?3, ?4, ?5, ?6, ?7)
                 on conflict (given_id) do nothing",
            )?;
            let mut elsewhere = transaction.prepare_cached(
                "select slug from site_entry join job on job.id = site_entry.job where given_id = ?1 and site_entry.job <> ?2",
            )?;
            let mut added = 0;
            for entry in entries {
                let other: Option<String> = elsewhere.query_row(params![entry.given_id, id], |row| row.get(0)).optional()?;
                if let Some(job) = other {
                    return Err(StoreError::Elsewhere { entry: entry.given_id.clone(), job });
                }
                added += insert.execute(params![id, entry.given_id, entry.happened_at, entry.who, entry.kind, entry.body, now()])?;
            }
            Ok(added)
        })
    }

    /// The log of a job, by when things happened.
    ///
    /// # Errors
    /// When there is no such job.
    pub fn site_log(&self, slug: &str) -> Result<Vec<SiteEntry>, StoreError> {
        self.read(|transaction| {
            let (id, _) = job(transaction, slug)?;
            let mut query = transaction
                .prepare_cached("select given_id, happened_at, who, kind, body from site_entry where job = ?1 order by happened_at, id")?;
            let rows = query.query_map([id], |row| {
                Ok(SiteEntry { given_id: row.get(0)?, happened_at: row.get(1)?, who: row.get(2)?, kind: row.get(3)?, body: row.get(4)? })
            })?;
            rows.map(|row| row.map_err(StoreError::from)).collect()
        })
    }
}
