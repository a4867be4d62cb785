//! Serving: the book opened, the doors decided, the pages answered until asked to stop.

use std::path::PathBuf;

use store::StoreError;
use thiserror::Error;

use crate::doors::{self, ListeningError, Wish};
use crate::{App, router};

/// How to serve.
#[derive(Clone, Debug)]
pub struct ServeOptions {
    /// The job book; begun there if it is not there yet.
    pub book: PathBuf,
    /// Where and how to listen.
    pub wish: Wish,
}

/// Why it would not serve.
#[derive(Debug, Error)]
pub enum ServeError {
    /// The book would not open.
    #[error(transparent)]
    Book(#[from] StoreError),
    /// The doors may not or could not be opened.
    #[error(transparent)]
    Doors(#[from] ListeningError),
    /// The machine would not.
    #[error("The server could not run: {0}.")]
    Machine(#[from] std::io::Error),
}

/// Opens the book and answers until the process is asked to stop. `ready` is told the address once it is listened on.
///
/// # Errors
/// When the book would not open, or the doors may not be opened as asked.
pub fn serve(options: &ServeOptions, ready: impl FnOnce(&str)) -> Result<(), ServeError> {
    let app = App::open(&options.book)?;
    let listening = doors::decide(&options.wish, app.book().has_accounts()?)?;
    let runtime = tokio::runtime::Builder::new_multi_thread().enable_all().build()?;
    let router = router(app, listening.manner.clone());
    runtime.block_on(doors::serve(listening, router, ready)).map_err(ServeError::from)
}
