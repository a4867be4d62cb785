//! Saved plans as the pages read them: plan/1 as it was saved, with the figures drawn at the time. An old plan is shown as it stands and never
//! worked out again unasked.

pub mod days;
mod weeks;
mod wire;

use std::collections::{BTreeMap, VecDeque};
use std::sync::{Arc, Mutex, PoisonError};

use store::Book;

pub use weeks::{WallDay, Week};
pub use wire::*;

use crate::{App, PageError};

/// Name under which the figures of a plan are kept with it.
pub const FIGURES: &str = "figures.json";

/// Name under which the weeks of a plan are kept with it.
pub const WEEKS: &str = "weeks.json";

/// A saved plan, read.
#[derive(Debug)]
pub struct Saved {
    /// Its number in the job, from one.
    pub number: i64,
    /// When it was saved, UTC.
    pub at: String,
    /// The job file it was made from.
    pub text: String,
    /// The plan.
    pub plan: Plan,
    /// The same as saved.
    pub json: String,
    /// Figures by name, as SVG.
    figures: BTreeMap<String, String>,
    /// What each day asks of the site; empty in a plan saved before they were kept.
    pub weeks: Vec<Week>,
    /// Documents by name, each by the hash of its blob.
    pub files: Vec<(String, String)>,
}

impl Saved {
    /// A figure by name.
    pub fn figure(&self, name: &str) -> Option<&str> {
        self.figures.get(name).map(String::as_str)
    }
}

/// Plans kept at hand.
const KEPT: usize = 24;

/// The plans lately looked at.
#[derive(Debug, Default)]
pub struct Shelf(Mutex<VecDeque<(String, Arc<Saved>)>>);

impl Shelf {
    fn get(&self, slug: &str, number: i64) -> Option<Arc<Saved>> {
        let kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        kept.iter().find(|(name, saved)| name == slug && saved.number == number).map(|(_, saved)| Arc::clone(saved))
    }

    fn put(&self, slug: &str, saved: &Arc<Saved>) {
        let mut kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        kept.push_front((slug.to_owned(), Arc::clone(saved)));
        kept.truncate(KEPT);
    }
}

/// A saved plan by its number.
///
/// # Errors
/// When there is none, or it cannot be read.
pub async fn saved(app: &App, slug: &str, number: i64) -> Result<Arc<Saved>, PageError> {
    if let Some(saved) = app.shelf().get(slug, number) {
        return Ok(saved);
    }
    let name = slug.to_owned();
    let saved = app.read(move |book| Ok(load(book, &name, number))).await??;
    app.shelf().put(slug, &saved);
    Ok(saved)
}

fn load(book: &Book, slug: &str, number: i64) -> Result<Arc<Saved>, PageError> {
    let revision = book.revision(slug, number)?;
    let plan = serde_json::from_str(&revision.plan)
        .map_err(|error| PageError::machine(format!("The saved plan {number} could not be read as plan/1: {error}.")))?;
    let drawn = revision.files.iter().find(|(name, _)| name == FIGURES);
    let figures = match drawn {
        Some((_, sha256)) => serde_json::from_slice(&book.blob_bytes(sha256)?).unwrap_or_default(),
        None => BTreeMap::new(),
    };
    let weeks = match revision.files.iter().find(|(name, _)| name == WEEKS) {
        Some((_, sha256)) => serde_json::from_slice(&book.blob_bytes(sha256)?).unwrap_or_default(),
        None => Vec::new(),
    };
    Ok(Arc::new(Saved { number, at: revision.at, text: revision.text, plan, json: revision.plan, figures, weeks, files: revision.files }))
}
