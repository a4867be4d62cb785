//! A job as a page finds it: its text as it stands, what the text says, the latest saved plan, what undo and redo would do, and whether a reckoning
//! is under way.

use std::sync::Arc;

use job::{Job, Problem};
use store::BookedJob;

use crate::plan::{Saved, saved};
use crate::reckoning::{End, Progress};
use crate::{App, PageError};

/// A job as it stands.
#[derive(Debug)]
pub struct Standing {
    /// The job in the book.
    pub job: BookedJob,
    /// Its text, read.
    pub read: Result<Job, Vec<Problem>>,
    /// The latest saved plan.
    pub saved: Option<Arc<Saved>>,
    /// What undo would take back and redo do again, in words.
    pub can_go: (Option<String>, Option<String>),
    /// How far a reckoning is, if one is under way.
    pub under_way: Option<Progress>,
    /// Why the last reckoning came to nothing, if it did.
    pub failed: Option<String>,
}

impl Standing {
    /// The job of a short name.
    ///
    /// # Errors
    /// When there is none.
    pub async fn of(app: &App, slug: &str) -> Result<Self, PageError> {
        let name = slug.to_owned();
        let (job, can_go, number) = app
            .read(move |book| {
                let number = book.revisions(&name)?.iter().map(|listed| listed.number).max();
                Ok((book.job(&name)?, book.can_go(&name)?, number))
            })
            .await?;
        let saved = match number {
            Some(number) => Some(saved(app, slug, number).await?),
            None => None,
        };
        let progress = app.reckonings().of(slug).map(|under_way| under_way.so_far());
        let (under_way, failed) = match progress {
            Some(progress) if progress.end.is_none() => (Some(progress), None),
            Some(Progress { end: Some(End::Failed(says)), .. }) => (None, Some(says)),
            _ => (None, None),
        };
        let read = job::read(&job.text, "the job");
        Ok(Self { job, read, saved, can_go, under_way, failed })
    }

    /// Address of a page of the job.
    pub fn address(&self, leaf: &str) -> String {
        if leaf.is_empty() { format!("/jobs/{}", self.job.slug) } else { format!("/jobs/{}/{leaf}", self.job.slug) }
    }

    /// True if the job was changed since its latest plan.
    pub fn is_stale(&self) -> bool {
        self.saved.as_ref().is_some_and(|saved| saved.text != self.job.text)
    }

    /// True if everything in it is invented.
    pub fn is_invented(&self) -> bool {
        self.read.as_ref().is_ok_and(|job| job.inputs.about.invented)
    }

    /// Name shown of a wall.
    pub fn wall_name<'a>(&'a self, slug: &'a str) -> &'a str {
        let read = self.read.as_ref().ok();
        read.and_then(|job| job.inputs.building.walls.iter().find(|wall| wall.slug == slug)).map_or(slug, |wall| wall.name.as_str())
    }
}
