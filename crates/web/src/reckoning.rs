//! Reckoning a job in the background: one at a time, a few waiting, each with its progress and its end, each to be stopped. What comes out is saved
//! as a revision with its documents and figures; a page never reckons.

use std::collections::BTreeMap;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, PoisonError};

use job::{Fetched, OpenError, Wanted};
use serde::Serialize;
use store::{Book, NewRevision, StoreError};
use tokio::sync::{Semaphore, watch};
use works::{Plan, Season, Watch};

use crate::plan::{FIGURES, WEEKS};
use crate::seasons::Year;
use crate::{App, PageError};

/// Reckonings under way or waiting at once; one more is refused.
const MOST: usize = 12;

/// How far a reckoning is.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Progress {
    /// Stage in words.
    pub stage: String,
    /// Parts done.
    pub done: usize,
    /// Parts in all.
    pub of: usize,
    /// How it ended; `None` while it goes on.
    #[serde(skip)]
    pub end: Option<End>,
}

/// How a reckoning ended.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum End {
    /// Saved under a number.
    Saved(i64),
    /// Done, with nothing to save.
    Done,
    /// It could not be done: complete sentences.
    Failed(String),
    /// Somebody stopped it.
    Stopped,
}

impl Progress {
    /// In a sentence.
    pub fn says(&self) -> String {
        if self.of == 0 {
            return format!("{}.", crate::words::capital(&self.stage));
        }
        format!("Reckoning: {}, {} of {}.", self.stage, self.done, self.of)
    }
}

/// One reckoning under way.
#[derive(Debug)]
pub struct UnderWay {
    progress: watch::Sender<Progress>,
    stopped: AtomicBool,
}

impl UnderWay {
    pub(crate) fn new() -> Self {
        let progress = Progress { stage: "waiting for its turn".to_owned(), done: 0, of: 0, end: None };
        Self { progress: watch::Sender::new(progress), stopped: AtomicBool::new(false) }
    }

    /// How far it is.
    pub fn so_far(&self) -> Progress {
        self.progress.borrow().clone()
    }

    /// To be told as it comes on.
    pub fn follow(&self) -> watch::Receiver<Progress> {
        self.progress.subscribe()
    }

    /// Tells how it ended.
    pub(crate) fn end(&self, end: End) {
        self.progress.send_modify(|progress| progress.end = Some(end));
    }

    /// True once somebody has stopped it.
    pub(crate) fn is_stopped(&self) -> bool {
        self.stopped.load(Ordering::Relaxed)
    }

    /// Stops it; what was saved before stands.
    pub fn stop(&self) {
        self.stopped.store(true, Ordering::Relaxed);
    }
}

impl Watch for UnderWay {
    fn progress(&self, stage: &str, done: usize, of: usize) {
        self.progress.send_replace(Progress { stage: stage.to_owned(), done, of, end: None });
    }

    fn cancelled(&self) -> bool {
        self.stopped.load(Ordering::Relaxed)
    }
}

/// All reckonings, by the short name of their job; one that has ended stays until the next, so that its end can be told.
#[derive(Debug)]
pub struct Reckonings {
    all: Mutex<BTreeMap<String, Arc<UnderWay>>>,
    turn: Arc<Semaphore>,
}

impl Default for Reckonings {
    fn default() -> Self {
        Self { all: Mutex::default(), turn: Arc::new(Semaphore::new(1)) }
    }
}

impl Reckonings {
    /// The last reckoning of a job since the server was started.
    pub fn of(&self, slug: &str) -> Option<Arc<UnderWay>> {
        self.all.lock().unwrap_or_else(PoisonError::into_inner).get(slug).cloned()
    }

    /// Room for a new one; an earlier one of the same job is stopped.
    fn enter(&self, slug: &str) -> Result<Arc<UnderWay>, PageError> {
        let mut all = self.all.lock().unwrap_or_else(PoisonError::into_inner);
        let going = all.values().filter(|other| other.progress.borrow().end.is_none()).count();
        if going >= MOST {
            return Err(PageError::busy());
        }
        if let Some(earlier) = all.get(slug) {
            earlier.stop();
        }
        let under_way = Arc::new(UnderWay::new());
        all.insert(slug.to_owned(), Arc::clone(&under_way));
        Ok(under_way)
    }
}

/// Begins to reckon a job as it stands; returns at once.
///
/// # Errors
/// When too much is being reckoned already.
pub fn begin(app: &App, slug: &str) -> Result<Arc<UnderWay>, PageError> {
    let under_way = app.reckonings().enter(slug)?;
    let (book, turn, slug, watched) = (Arc::clone(app.book()), Arc::clone(&app.reckonings().turn), slug.to_owned(), Arc::clone(&under_way));
    let year = app.seasons().of(&slug);
    tokio::spawn(async move {
        let Ok(_turn) = turn.acquire().await else { return };
        let told = Arc::clone(&watched);
        let outcome = tokio::task::spawn_blocking(move || reckon(&book, &slug, year.as_deref(), &told)).await;
        let end = match outcome {
            Ok(Ok(number)) => End::Saved(number),
            Ok(Err(_)) if watched.cancelled() => End::Stopped,
            Ok(Err(says)) => End::Failed(says),
            Err(_) => End::Failed("The reckoning broke off through a fault of harlwright's. The job is as it was.".to_owned()),
        };
        watched.end(end);
    });
    Ok(under_way)
}

/// Plans a job and saves the revision, its proposal with the year of start weeks where that was reckoned of the same text; failures are complete sentences.
fn reckon(book: &Book, slug: &str, year: Option<&Year>, watch: &UnderWay) -> Result<i64, String> {
    if watch.cancelled() {
        return Err("Stopped before it began.".to_owned());
    }
    let stood = book.job(slug).map_err(|error| error.to_string())?;
    let mut opened = open(book, slug, &stood.text)?;
    let last = book.revisions(slug).map_err(|error| error.to_string())?.iter().map(|listed| listed.number).max().unwrap_or(0);
    // The documents name the revision they stand in, whatever number the job file carries.
    opened.job.inputs.about.revision = u32::try_from(last + 1).unwrap_or(u32::MAX);
    let plan = works::plan(&opened.job.inputs, opened.weather.as_ref(), watch).map_err(|error| error.to_string())?;
    watch.progress("drawing and writing", 0, 1);
    let season = year.filter(|year| year.text == stood.text).and_then(Year::season);
    save(book, slug, &stood.text, &plan, season.as_deref())
}

/// Opens a job text with the weather that lies with the job in the book; failures are complete sentences.
///
/// # Errors
/// All problems of the job or of its weather, in words.
pub fn open(book: &Book, slug: &str, text: &str) -> Result<job::Opened, String> {
    let fetch = |file: &str, wanted: Wanted| -> Result<Fetched, String> {
        let attached = book.attachment(slug, file).map_err(|error| error.to_string())?;
        let attached = attached.ok_or_else(|| match wanted {
            Wanted::Relief => format!("A wall names the relief file {file}, which does not lie with the job. Bring it in under Survey, or take the name out of the wall."),
            Wanted::Weather => {
            format!("The job names the weather file {file}, which does not lie with it. Bring it in under Survey, or take the name out of the job: gaps then go by rule of thumb, without odds.")
            }
        })?;
        let bytes = book.blob_bytes(&attached.sha256).map_err(|error| error.to_string())?;
        Ok(Fetched { name: file.to_owned(), bytes })
    };
    job::open(text, "the job", fetch).map_err(|error| match error {
        OpenError::Job(problems) => problems.iter().map(ToString::to_string).collect::<Vec<_>>().join(" "),
        OpenError::File(says) => says,
        OpenError::Reliefs(faults) => faults.join(" "),
        OpenError::Weather { name, error } => format!("{name}: {error}"),
    })
}

fn save(book: &Book, slug: &str, text: &str, plan: &Plan, season: Option<&Season>) -> Result<i64, String> {
    let mut files = Vec::new();
    for (name, bytes) in documents_of(plan, season)? {
        let most = bytes.len() as u64;
        let sha256 = book.put_blob(&mut bytes.as_slice(), most).map_err(|error| error.to_string())?;
        files.push((name, sha256));
    }
    let json = documents::plan_json(plan);
    let seed = plan.basis.seed.to_string();
    let revision = NewRevision {
        text,
        engine: &plan.basis.version,
        arithmetic: &plan.basis.arithmetic,
        seed: &seed,
        weather_hash: plan.basis.weather_hash.as_deref(),
        headline: &documents::words::headline(plan),
        plan: &json,
        files: &files,
    };
    book.save_revision(slug, &revision).map_err(|error: StoreError| error.to_string())
}

/// The pack of documents and the figures of the pages, by name.
fn documents_of(plan: &Plan, season: Option<&Season>) -> Result<Vec<(String, Vec<u8>)>, String> {
    let figures = serde_json::to_vec(&crate::draw::figures(plan)).map_err(|error| format!("The figures could not be kept: {error}."))?;
    let weeks = serde_json::to_vec(&documents::week::weeks(plan)).map_err(|error| format!("The weeks could not be kept: {error}."))?;
    let mut all = vec![
        (FIGURES.to_owned(), figures),
        (WEEKS.to_owned(), weeks),
        ("order.csv".to_owned(), documents::order_csv(plan)),
        ("programme.ics".to_owned(), documents::programme_ics(plan).into_bytes()),
        (crate::site::SHEET.to_owned(), documents::site_html(plan).into_bytes()),
    ];
    all.extend(paper(plan, season)?);
    Ok(all)
}

#[cfg(feature = "pdf")]
fn paper(plan: &Plan, season: Option<&Season>) -> Result<Vec<(String, Vec<u8>)>, String> {
    let (proposal, (site, damping)) =
        rayon::join(|| documents::proposal_pdf(plan, season), || (documents::site_pdf(plan), documents::damping_pdf(plan)));
    let kept = |name: &str, bytes: Result<Vec<u8>, documents::DocumentError>| {
        bytes.map(|bytes| (name.to_owned(), bytes)).map_err(|error| error.to_string())
    };
    Ok(vec![kept("proposal.pdf", proposal)?, kept("site.pdf", site)?, kept("damping.pdf", damping)?])
}

#[cfg(not(feature = "pdf"))]
#[expect(clippy::unnecessary_wraps, reason = "the same form as with the typesetter")]
fn paper(_: &Plan, _: Option<&Season>) -> Result<Vec<(String, Vec<u8>)>, String> {
    Ok(Vec::new())
}
