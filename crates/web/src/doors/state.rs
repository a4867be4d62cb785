//! The state of the doors: the book, the manner of listening, the table of tries and the room for hashing.

use std::fmt;
use std::sync::{Arc, OnceLock};

use maud::{DOCTYPE, Markup, html};
use store::{Book, Role};
use tokio::sync::Semaphore;

use super::origin::Hosts;
use super::rate::Tries;
use super::{Refusal, Visitor, password, session};

/// Puts a title and a body into the house's page.
pub type Dress = fn(&str, Markup) -> Markup;

/// Hashes made at once: each takes 19 MiB and one core.
const HASHES_AT_ONCE: usize = 2;
/// Hashes that may wait for their turn.
const HASHES_WAITING: usize = 16;

/// How the server listens, as far as the doors care.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Manner {
    /// Which hosts a request may name.
    pub(super) hosts: Hosts,
    /// True over TLS, the server's own or a proxy's.
    pub(super) secure: bool,
    /// True if one must sign in.
    pub(super) login: bool,
    /// True if a proxy tells the caller's address.
    pub(super) behind_proxy: bool,
}

impl Manner {
    /// For this machine alone, without signing in.
    pub fn loopback() -> Self {
        Self { hosts: Hosts::Loopback, secure: false, login: false, behind_proxy: false }
    }
}

struct Inner {
    book: Arc<Book>,
    manner: Manner,
    dress: Dress,
    tries: Tries,
    hashing: Arc<Semaphore>,
    waiting: Arc<Semaphore>,
    nobody: OnceLock<String>,
}

/// The doors of the job book; cheap to clone.
#[derive(Clone)]
pub struct Doors(Arc<Inner>);

impl fmt::Debug for Doors {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Doors").field("manner", &self.0.manner).finish_non_exhaustive()
    }
}

impl Doors {
    /// Doors for a book. The dress puts refusals and the sign-in page into the house's own page; [`Doors::plain`] is one without a style.
    pub fn new(book: Arc<Book>, manner: Manner, dress: Dress) -> Self {
        Self(Arc::new(Inner {
            book,
            manner,
            dress,
            tries: Tries::default(),
            hashing: Arc::new(Semaphore::new(HASHES_AT_ONCE)),
            waiting: Arc::new(Semaphore::new(HASHES_AT_ONCE + HASHES_WAITING)),
            nobody: OnceLock::new(),
        }))
    }

    /// A page without a style.
    pub fn plain(title: &str, body: Markup) -> Markup {
        html! {
            (DOCTYPE)
            html lang="en" {
                head { meta charset="utf-8"; meta name="viewport" content="width=device-width, initial-scale=1"; title { (title) } }
                body { main { (body) } }
            }
        }
    }

    /// How the server listens.
    pub fn manner(&self) -> &Manner {
        &self.0.manner
    }

    pub(super) fn dress(&self) -> Dress {
        self.0.dress
    }

    pub(super) fn tries(&self) -> &Tries {
        &self.0.tries
    }

    /// Something asked of the book, off the threads that serve.
    pub(super) async fn ask<T: Send + 'static>(
        &self,
        question: impl FnOnce(&Book) -> Result<T, store::StoreError> + Send + 'static,
    ) -> Result<T, Refusal> {
        let book = Arc::clone(&self.0.book);
        let answer = tokio::task::spawn_blocking(move || question(&book)).await;
        answer.map_err(|error| Refusal::Book(error.to_string()))?.map_err(|error| Refusal::Book(error.to_string()))
    }

    /// The visitor of a token; `None` if it is nobody's.
    pub(super) async fn visitor_of(&self, token: &str) -> Result<Option<Visitor>, Refusal> {
        let hash = session::hash_of(token);
        let asked = hash.clone();
        let found = self.ask(move |book| book.session(&asked)).await?;
        Ok(found.map(|found| Visitor { name: Some(found.name), role: found.role, session: Some(hash) }))
    }

    /// The role of an account if the password is its own. A name that is nobody's takes as long as one that is somebody's.
    pub(super) async fn role_of(&self, name: String, given: String) -> Result<Option<Role>, Refusal> {
        let Ok(_place) = self.0.waiting.clone().try_acquire_owned() else { return Err(Refusal::Busy) };
        let Ok(turn) = self.0.hashing.clone().acquire_owned().await else { return Err(Refusal::Busy) };
        let account = self.ask(move |book| book.account(&name)).await?;
        let inner = Arc::clone(&self.0);
        let checked = tokio::task::spawn_blocking(move || {
            let _turn = turn;
            let hash = account.as_ref().map_or_else(|| inner.nobody().to_owned(), |account| account.password.clone());
            let matches = password::matches(&given, &hash);
            account.filter(|_| matches).map(|account| account.role)
        });
        checked.await.map_err(|error| Refusal::Book(error.to_string()))
    }
}

impl Inner {
    /// The hash of a password nobody has.
    fn nobody(&self) -> &str {
        self.nobody.get_or_init(|| password::generated().and_then(|made| password::hash(&made)).unwrap_or_default())
    }
}
