//! The job book: jobs with their whole history, saved plans, files by their content, accounts and the site log, in one SQLite file with a
//! folder of blobs beside it. Plain functions on a [`Book`]. SQL stands nowhere else, and nothing here knows what a job means.

mod accounts;
mod backup;
mod blobs;
mod book;
mod changes;
mod error;
mod handed;
mod jobs;
mod log;
mod migrations;
mod photograph;
mod revisions;

pub use accounts::{Account, Role, Session};
pub use backup::{BackedUp, Checked, Restored, restore};
pub use blobs::{Attachment, BLOB_MOST_BYTES};
pub use book::Book;
pub use changes::{Change, figure_changes, job_changes};
pub use error::StoreError;
pub use handed::{ENTRY_KINDS, HANDED_FORMAT, HANDED_MOST_BYTES, Handed};
pub use jobs::{BookedJob, Edit, EditKind, Listed, Saved};
pub use log::SiteEntry;
pub use photograph::{Stripped, strip};
pub use revisions::{NewRevision, Revision, RevisionListed};
