//! What the relief pages stand on: the job with its files read, one wall's relief and its saved table of ready-times. Read once for a text and its files, kept
//! at hand for a while; the table is kept in the book beside the job, so that a slider answers at once tomorrow too.

use std::collections::VecDeque;
use std::sync::{Arc, LazyLock, Mutex, PoisonError};

use axum::http::StatusCode;
use job::{ReliefRead, read_relief};
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};
use store::Book;
use survey::{Evenness, HighSpot, Surface};
use tokio::sync::Semaphore;
use works::{EdgeCurve, Inputs, ReadyTable, Unwatched};

use crate::{App, PageError, reckoning};

/// Reliefs kept at hand.
const KEPT: usize = 6;

/// Largest table kept, bytes.
const TABLE_MOST: u64 = 1024 * 1024;

/// A wall with its relief and its table.
#[derive(Debug)]
pub struct Lain {
    /// Short name of the wall.
    pub wall: String,
    /// Its name.
    pub name: String,
    /// The job.
    pub inputs: Inputs,
    /// The relief, where the wall has a file of it.
    pub read: Option<ReliefRead>,
    /// Days to ready by thickness.
    pub table: ReadyTable,
}

impl Lain {
    /// What lengths of edge come to, quickly.
    ///
    /// # Errors
    /// What leaves no plan.
    pub fn curve(&self, edges_m: &[f64]) -> Result<EdgeCurve, PageError> {
        works::edge_curve(&self.inputs, &self.table, edges_m).map_err(|error| cannot(error.to_string()))
    }

    fn surface(&self) -> Option<&Surface> {
        let wall = self.inputs.building.walls.iter().find(|wall| wall.slug == self.wall)?;
        if let Evenness::Surface { surface } = &wall.evenness { Some(surface) } else { None }
    }

    /// Mean fill under an edge, m, as the plan has it.
    pub fn mean_fill_m(&self, edge_m: f64) -> f64 {
        let survey = survey::measure(self.inputs.building.clone()).ok();
        survey
            .and_then(|survey| survey.walls.into_iter().find(|wall| wall.slug == self.wall))
            .map_or(0.0, |wall| wall.relief.under(edge_m).mean_m)
    }

    /// High spots worth dressing off, most saving first.
    pub fn high_spots(&self) -> &[HighSpot] {
        self.surface().map_or(&[], |surface| &surface.high_spots)
    }

    /// The edge for which they were found, m.
    pub fn spots_edge_m(&self) -> f64 {
        self.surface().map_or(0.0, |surface| surface.spots_edge_m)
    }

    /// What dressing all of them saves, m³.
    pub fn dressing_saves_m3(&self) -> f64 {
        self.surface().map_or(0.0, |surface| surface.dressing_saves_m3)
    }
}

fn cannot(says: String) -> PageError {
    PageError::new(StatusCode::UNPROCESSABLE_ENTITY, says, "Mend it in the survey, or bring another file.")
}

/// Turns at the heavy work of the reliefs; more wait, so that a few large scans do not take the whole machine and its memory.
static TURNS: Semaphore = Semaphore::const_new(2);

/// Does heavy work on a thread of its own, when its turn comes. A visitor who goes away does not free the turn before the work is done.
///
/// # Errors
/// What the work says; `broke` where it came to no end.
pub async fn heavy<T: Send + 'static>(
    broke: &'static str,
    work: impl FnOnce() -> Result<T, PageError> + Send + 'static,
) -> Result<T, PageError> {
    let turn = TURNS.acquire().await.map_err(|_| PageError::busy())?;
    let done = tokio::task::spawn_blocking(move || {
        let outcome = work();
        drop(turn);
        outcome
    });
    done.await.map_err(|_| PageError::machine(broke))?
}

type Shelf = Mutex<VecDeque<(String, Arc<Lain>)>>;

static SHELF: LazyLock<Shelf> = LazyLock::new(Shelf::default);

/// A wall of a job as it stands, with its relief read and its table at hand.
///
/// # Errors
/// No such job or wall; files that do not read (422).
pub async fn lain(app: &App, slug: &str, wall: &str) -> Result<Arc<Lain>, PageError> {
    let (slug, wall) = (slug.to_owned(), wall.to_owned());
    let book = Arc::clone(app.book());
    heavy("The relief could not be read.", move || lay(&book, &slug, &wall)).await
}

/// What a table and a relief were made from: the text of the job and the content of its files.
fn mark_of(book: &Book, slug: &str, text: &str, wall: &str) -> Result<String, PageError> {
    let mut hash = Sha256::new();
    hash.update(text);
    for attached in book.attachments(slug)?.iter().filter(|attached| !attached.name.starts_with(TABLE)) {
        hash.update(&attached.name);
        hash.update(&attached.sha256);
    }
    hash.update(wall);
    hash.update(env!("CARGO_PKG_VERSION"));
    Ok(hash.finalize().iter().map(|byte| format!("{byte:02x}")).collect())
}

fn lay(book: &Book, slug: &str, wall: &str) -> Result<Arc<Lain>, PageError> {
    let stood = book.job(slug)?;
    let mark = mark_of(book, slug, &stood.text, wall)?;
    let held =
        SHELF.lock().unwrap_or_else(PoisonError::into_inner).iter().find(|(kept, _)| *kept == mark).map(|(_, lain)| Arc::clone(lain));
    if let Some(lain) = held {
        return Ok(lain);
    }
    let opened = reckoning::open(book, slug, &stood.text).map_err(cannot)?;
    let inputs = opened.job.inputs;
    let found = inputs.building.walls.iter().find(|found| found.slug == wall).ok_or_else(|| PageError::nothing("wall"))?;
    let read = match opened.job.reliefs.iter().find(|asked| asked.wall == wall) {
        Some(asked) => {
            let attached = book.attachment(slug, &asked.file)?.ok_or_else(|| PageError::nothing("relief file"))?;
            let bytes = book.blob_bytes(&attached.sha256)?;
            Some(read_relief(found, &asked.form, &bytes, &asked.file).map_err(|faults| cannot(faults.join(" ")))?)
        }
        None => None,
    };
    let table = table(book, slug, wall, &mark, || works::ready_table(&inputs, opened.weather.as_ref(), wall, &Unwatched))?;
    let lain = Arc::new(Lain { wall: wall.to_owned(), name: found.name.clone(), read, table, inputs });
    let mut shelf = SHELF.lock().unwrap_or_else(PoisonError::into_inner);
    shelf.push_front((mark, Arc::clone(&lain)));
    shelf.truncate(KEPT);
    Ok(lain)
}

/// Beginning of the names under which tables lie with a job.
const TABLE: &str = "ready-times-";

/// A table as it is kept.
#[derive(Serialize, Deserialize)]
struct Kept {
    made_from: String,
    table: ReadyTable,
}

/// The table kept in the book, or one made now and kept.
fn table(
    book: &Book,
    slug: &str,
    wall: &str,
    mark: &str,
    make: impl FnOnce() -> Result<ReadyTable, works::WorksError>,
) -> Result<ReadyTable, PageError> {
    let name = format!("{TABLE}{wall}.json");
    if let Some(attached) = book.attachment(slug, &name)?
        && let Ok(kept) = serde_json::from_slice::<Kept>(&book.blob_bytes(&attached.sha256)?)
        && kept.made_from == mark
    {
        return Ok(kept.table);
    }
    let table = make().map_err(|error| cannot(error.to_string()))?;
    let kept = Kept { made_from: mark.to_owned(), table };
    let bytes = serde_json::to_vec(&kept).map_err(|error| PageError::machine(format!("The table could not be kept: {error}.")))?;
    let sha256 = book.put_blob(&mut bytes.as_slice(), TABLE_MOST)?;
    book.attach(slug, &name, &sha256)?;
    Ok(kept.table)
}
