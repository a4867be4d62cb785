//! Who may come in and what they may see: accounts, sessions, roles, and what guards the house from other pages, other sites and load. It
//! must never decide anything about a job, and never let a request past that it could not judge.
//!
//! [`Doors`] is the state; [`Doors::guard`] puts everything around a router; a handler asks [`Visitor`] who is there.

mod guard;
mod headers;
mod listen;
mod origin;
mod password;
mod rate;
mod refusal;
mod roles;
mod session;
mod sign_in;
mod state;
mod visitor;

pub use guard::Origin;
pub use listen::{Listening, ListeningError, Wish, decide, serve};
pub use password::{generated, hash as hash_password};
pub use refusal::Refusal;
pub use roles::gang_may;
pub use session::new_token as nonce;
pub use sign_in::leaving;
pub use state::{Doors, Dress, Manner};
pub use visitor::{Owner, Priced, Visitor};

/// Most bytes of a form or of JSON.
pub const MOST_FORM_BYTES: usize = 2 * 1024 * 1024;
