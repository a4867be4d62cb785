//! What every page stands on: the job book, reached away from the threads that answer, so that a slow disk holds nobody else up; plans lately
//! looked at; reckonings under way.

use std::path::Path;
use std::sync::Arc;

use store::{Book, StoreError};
use tokio::sync::Semaphore;

use crate::PageError;
use crate::plan::Shelf;
use crate::reckoning::Reckonings;
use crate::seasons::Seasons;

/// Readings of the book at once; more wait.
const READERS: usize = 8;
/// Files brought in at once; one more is asked to wait.
const UPLOADS: usize = 4;

/// The state of the app; cloning it is cheap.
#[derive(Clone, Debug)]
pub struct App(Arc<Inner>);

#[derive(Debug)]
struct Inner {
    book: Arc<Book>,
    readers: Semaphore,
    writer: Semaphore,
    uploads: Semaphore,
    shelf: Shelf,
    reckonings: Reckonings,
    seasons: Seasons,
}

impl App {
    /// Opens the job book at a path, or begins one there.
    ///
    /// # Errors
    /// When the file is no job book, is damaged or of a later form, or the disk would not.
    pub fn open(path: &Path) -> Result<Self, StoreError> {
        Ok(Self(Arc::new(Inner {
            book: Arc::new(Book::open(path)?),
            readers: Semaphore::new(READERS),
            writer: Semaphore::new(1),
            uploads: Semaphore::new(UPLOADS),
            shelf: Shelf::default(),
            reckonings: Reckonings::default(),
            seasons: Seasons::default(),
        })))
    }

    /// Reads the book on a thread of its own.
    ///
    /// # Errors
    /// What the book says.
    pub async fn read<T, F>(&self, look: F) -> Result<T, PageError>
    where
        T: Send + 'static,
        F: FnOnce(&Book) -> Result<T, StoreError> + Send + 'static,
    {
        self.on_the_book(&self.0.readers, move |book| look(book).map_err(PageError::from)).await
    }

    /// Writes into the book, one after another.
    ///
    /// # Errors
    /// What the book says.
    pub async fn write<T, F>(&self, change: F) -> Result<T, PageError>
    where
        T: Send + 'static,
        F: FnOnce(&Book) -> Result<T, StoreError> + Send + 'static,
    {
        self.on_the_book(&self.0.writer, move |book| change(book).map_err(PageError::from)).await
    }

    async fn on_the_book<T, F>(&self, queue: &Semaphore, work: F) -> Result<T, PageError>
    where
        T: Send + 'static,
        F: FnOnce(&Book) -> Result<T, PageError> + Send + 'static,
    {
        let _turn = queue.acquire().await.map_err(|_| PageError::busy())?;
        let book = Arc::clone(&self.0.book);
        let done = tokio::task::spawn_blocking(move || work(&book)).await;
        done.map_err(|_| PageError::machine("The job book could not be used."))?
    }

    /// Room to bring in a file; held until it is in.
    ///
    /// # Errors
    /// When as many come in already as are taken at once.
    pub(crate) fn upload(&self) -> Result<tokio::sync::SemaphorePermit<'_>, PageError> {
        self.0.uploads.try_acquire().map_err(|_| PageError::busy())
    }

    /// The book itself, for threads that may block.
    pub fn book(&self) -> &Arc<Book> {
        &self.0.book
    }

    /// Plans lately looked at.
    pub(crate) fn shelf(&self) -> &Shelf {
        &self.0.shelf
    }

    /// Almanacs reckoned and under way.
    pub(crate) fn seasons(&self) -> &Seasons {
        &self.0.seasons
    }

    /// Reckonings under way.
    pub(crate) fn reckonings(&self) -> &Reckonings {
        &self.0.reckonings
    }
}
