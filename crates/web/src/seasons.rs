//! The almanac of a job reckoned in the background: one at a time, to be watched and stopped, kept in memory with the text it was made from until the job is
//! changed or the server ends. It must never be shown for another text.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};

use tokio::sync::Semaphore;
use works::Season;

use crate::reckoning::{End, UnderWay, open};
use crate::{App, PageError};

/// Almanacs kept or under way at once.
const MOST: usize = 24;

/// The almanac of a job as it stood.
#[derive(Debug)]
pub struct Year {
    /// Text of the job it is of.
    pub text: String,
    /// Whoever wants to know how far it is, or stop it.
    pub under_way: Arc<UnderWay>,
    /// What came of it.
    done: Mutex<Option<Arc<Season>>>,
}

impl Year {
    /// The almanac, once it is reckoned.
    pub fn season(&self) -> Option<Arc<Season>> {
        self.done.lock().unwrap_or_else(PoisonError::into_inner).clone()
    }
}

/// The almanacs by the short name of their job.
#[derive(Debug)]
pub struct Seasons {
    all: Mutex<BTreeMap<String, Arc<Year>>>,
    turn: Arc<Semaphore>,
}

impl Default for Seasons {
    fn default() -> Self {
        Self { all: Mutex::default(), turn: Arc::new(Semaphore::new(1)) }
    }
}

impl Seasons {
    /// The almanac of a job, reckoned or under way.
    pub fn of(&self, slug: &str) -> Option<Arc<Year>> {
        self.all.lock().unwrap_or_else(PoisonError::into_inner).get(slug).cloned()
    }

    /// Room for a new one; an earlier one of the same job is stopped, and the first that has ended makes room where there is none.
    fn enter(&self, slug: &str, text: String) -> Result<Arc<Year>, PageError> {
        let mut all = self.all.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(earlier) = all.remove(slug) {
            earlier.under_way.stop();
        }
        if all.len() >= MOST {
            let ended = all.iter().find(|(_, year)| year.under_way.so_far().end.is_some()).map(|(name, _)| name.clone());
            all.remove(&ended.ok_or_else(PageError::busy)?);
        }
        let year = Arc::new(Year { text, under_way: Arc::new(UnderWay::new()), done: Mutex::new(None) });
        all.insert(slug.to_owned(), Arc::clone(&year));
        Ok(year)
    }
}

/// Begins to reckon the almanac of a job as it stands; returns at once.
///
/// # Errors
/// When too many are being reckoned already.
pub fn begin(app: &App, slug: &str, text: String) -> Result<(), PageError> {
    let year = app.seasons().enter(slug, text)?;
    let (book, turn, slug) = (Arc::clone(app.book()), Arc::clone(&app.seasons().turn), slug.to_owned());
    tokio::spawn(async move {
        let Ok(_turn) = turn.acquire().await else { return };
        let told = Arc::clone(&year);
        let outcome = tokio::task::spawn_blocking(move || {
            let opened = open(&book, &slug, &told.text)?;
            let weather = opened.weather.as_ref().ok_or("The job names no weather, so no week of the year can be told from another.")?;
            works::season(&opened.job.inputs, weather, told.under_way.as_ref()).map_err(|error| error.to_string())
        });
        let end = match outcome.await {
            Ok(Ok(season)) => {
                *year.done.lock().unwrap_or_else(PoisonError::into_inner) = Some(Arc::new(season));
                End::Done
            }
            Ok(Err(_)) if year.under_way.is_stopped() => End::Stopped,
            Ok(Err(says)) => End::Failed(says),
            Err(_) => End::Failed("The reckoning broke off through a fault of harlwright's. The job is as it was.".to_owned()),
        };
        year.under_way.end(end);
    });
    Ok(())
}
