//! Who is there, for a handler to ask. The guard says so; a handler that stands outside the guard gets nobody.

use axum::extract::FromRequestParts;
use axum::http::request::Parts;
use store::Role;

use super::Refusal;

/// Who asks.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Visitor {
    /// Name signed in with; `None` for the person at this machine, where nobody signs in.
    pub name: Option<String>,
    /// What they may do.
    pub role: Role,
    /// Hash of the session's token.
    pub(super) session: Option<String>,
}

impl Visitor {
    /// The person at this machine: everything is theirs already.
    pub(super) fn at_this_machine() -> Self {
        Self { name: None, role: Role::Owner, session: None }
    }

    /// True if prices, rates and what a figure costs may be shown.
    pub fn sees_prices(&self) -> bool {
        self.role != Role::Gang
    }

    /// Name for the record of who told something.
    pub fn shown(&self) -> &str {
        self.name.as_deref().unwrap_or("this machine")
    }
}

impl<S: Sync> FromRequestParts<S> for Visitor {
    type Rejection = Refusal;

    async fn from_request_parts(parts: &mut Parts, _: &S) -> Result<Self, Refusal> {
        parts.extensions.get::<Self>().cloned().ok_or(Refusal::SignIn)
    }
}

/// A visitor who may see prices.
#[derive(Clone, Debug)]
pub struct Priced(pub Visitor);

impl<S: Sync> FromRequestParts<S> for Priced {
    type Rejection = Refusal;

    async fn from_request_parts(parts: &mut Parts, state: &S) -> Result<Self, Refusal> {
        let visitor = Visitor::from_request_parts(parts, state).await?;
        if visitor.sees_prices() { Ok(Self(visitor)) } else { Err(Refusal::NotYours) }
    }
}

/// A visitor who owns the book.
#[derive(Clone, Debug)]
pub struct Owner(pub Visitor);

impl<S: Sync> FromRequestParts<S> for Owner {
    type Rejection = Refusal;

    async fn from_request_parts(parts: &mut Parts, state: &S) -> Result<Self, Refusal> {
        let visitor = Visitor::from_request_parts(parts, state).await?;
        if visitor.role == Role::Owner { Ok(Self(visitor)) } else { Err(Refusal::NotYours) }
    }
}
