//! Saved plans: the job text they were made from, what they were reckoned with, the plan as plan/1, and the documents made from it. A saved
//! plan is never changed; it is shown as it was saved.

use rusqlite::{OptionalExtension, params};

use crate::book::now;
use crate::jobs::job;
use crate::{Book, StoreError};

/// A plan to be saved.
#[derive(Clone, Debug)]
pub struct NewRevision<'a> {
    /// The job file it was made from.
    pub text: &'a str,
    /// Version of harlwright.
    pub engine: &'a str,
    /// Arithmetic mode.
    pub arithmetic: &'a str,
    /// Seed.
    pub seed: &'a str,
    /// Hash of the weather; `None` without weather.
    pub weather_hash: Option<&'a str>,
    /// What it answers first.
    pub headline: &'a str,
    /// The plan as plan/1 JSON.
    pub plan: &'a str,
    /// Documents by name, each by the hash of a blob in the book.
    pub files: &'a [(String, String)],
}

/// A saved plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Revision {
    /// Its number, from one, in this job.
    pub number: i64,
    /// The job file it was made from.
    pub text: String,
    /// Version of harlwright.
    pub engine: String,
    /// Arithmetic mode.
    pub arithmetic: String,
    /// Seed.
    pub seed: String,
    /// Hash of the weather.
    pub weather_hash: Option<String>,
    /// What it answers first.
    pub headline: String,
    /// The plan as plan/1 JSON.
    pub plan: String,
    /// When it was saved, UTC.
    pub at: String,
    /// Documents by name, each by the hash of its blob.
    pub files: Vec<(String, String)>,
}

/// A saved plan in the list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RevisionListed {
    /// Its number.
    pub number: i64,
    /// What it answers first.
    pub headline: String,
    /// When it was saved, UTC.
    pub at: String,
}

impl Book {
    /// Saves a plan; returns its number.
    ///
    /// # Errors
    /// When there is no such job, or a document's blob is not in the book.
    pub fn save_revision(&self, slug: &str, new: &NewRevision<'_>) -> Result<i64, StoreError> {
        self.write(|transaction| {
            let (id, _) = job(transaction, slug)?;
            let number: i64 =
                transaction.query_row("select coalesce(max(number), 0) + 1 from revision where job = ?1", [id], |row| row.get(0))?;
            transaction.execute(
                "insert into revision (job, number, text, engine, arithmetic, seed, weather_hash, headline, plan, at)
                 values (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)",
                params![id, number, new.text, new.engine, new.arithmetic, new.seed, new.weather_hash, new.headline, new.plan, now()],
            )?;
            for (name, sha256) in new.files {
                transaction.execute(
                    "insert into revision_file (job, number, name, sha256) values (?1, ?2, ?3, ?4)",
                    params![id, number, name, sha256],
                )?;
            }
            Ok(number)
        })
    }

    /// The saved plans of a job, latest first.
    ///
    /// # Errors
    /// When there is no such job.
    pub fn revisions(&self, slug: &str) -> Result<Vec<RevisionListed>, StoreError> {
        self.read(|transaction| {
            let (id, _) = job(transaction, slug)?;
            let mut query = transaction.prepare_cached("select number, headline, at from revision where job = ?1 order by number desc")?;
            let rows = query.query_map([id], |row| Ok(RevisionListed { number: row.get(0)?, headline: row.get(1)?, at: row.get(2)? }))?;
            rows.map(|row| row.map_err(StoreError::from)).collect()
        })
    }

    /// A saved plan, as it was saved.
    ///
    /// # Errors
    /// When there is no such job or number.
    pub fn revision(&self, slug: &str, number: i64) -> Result<Revision, StoreError> {
        self.read(|transaction| {
            let (id, _) = job(transaction, slug)?;
            let mut query =
                transaction.prepare_cached("select name, sha256 from revision_file where job = ?1 and number = ?2 order by name")?;
            let files: Vec<(String, String)> =
                query.query_map(params![id, number], |row| Ok((row.get(0)?, row.get(1)?)))?.collect::<Result<_, _>>()?;
            transaction
                .query_row(
                    "select text, engine, arithmetic, seed, weather_hash, headline, plan, at from revision where job = ?1 and number = ?2",
                    params![id, number],
                    |row| {
                        Ok(Revision {
                            number,
                            text: row.get(0)?,
                            engine: row.get(1)?,
                            arithmetic: row.get(2)?,
                            seed: row.get(3)?,
                            weather_hash: row.get(4)?,
                            headline: row.get(5)?,
                            plan: row.get(6)?,
                            at: row.get(7)?,
                            files,
                        })
                    },
                )
                .optional()?
                .ok_or_else(|| StoreError::NotFound { what: "saved plan", name: number.to_string() })
        })
    }
}
