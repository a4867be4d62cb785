//! What a request carries, taken so that a bad form or address gets a page of ours that says what to do.

use std::collections::BTreeMap;

use axum::extract::rejection::PathRejection;
use axum::extract::{FromRequest, FromRequestParts, Request};
use axum::http::request::Parts;
use axum_extra::extract::Form;
use serde::de::DeserializeOwned;

use crate::PageError;

/// Most bytes of a form: a job file as text with room to spare.
pub const FORM_MOST_BYTES: usize = 6 * 1024 * 1024;

/// A form as typed: every field by its name, in order; several of one name stand together.
#[derive(Clone, Debug, Default)]
pub struct Typed(BTreeMap<String, Vec<String>>);

impl Typed {
    /// What was typed under a name; boxes ticked under one name are joined by commas.
    pub fn get(&self, name: &str) -> Option<String> {
        let values = self.0.get(name)?;
        let values: Vec<&str> = values.iter().map(String::as_str).filter(|value| !value.is_empty()).collect();
        Some(values.join(", "))
    }

    /// The same, nothing where there is none.
    pub fn text(&self, name: &str) -> String {
        self.get(name).unwrap_or_default()
    }

    /// Names and what stands under them.
    pub fn iter(&self) -> impl Iterator<Item = (&str, String)> {
        self.0.keys().map(|name| (name.as_str(), self.text(name)))
    }

    /// The version of the job the form was made on.
    ///
    /// # Errors
    /// When the form does not carry it.
    pub fn made_on(&self) -> Result<i64, PageError> {
        self.text("version").parse().map_err(|_| {
            PageError::bad(
                "The form does not say which version of the job it was made on.",
                "Open the page again and enter the change once more.",
            )
        })
    }
}

impl FromIterator<(String, String)> for Typed {
    fn from_iter<I: IntoIterator<Item = (String, String)>>(pairs: I) -> Self {
        let mut all: BTreeMap<String, Vec<String>> = BTreeMap::new();
        for (name, value) in pairs {
            all.entry(name).or_default().push(value);
        }
        Self(all)
    }
}

impl<S: Send + Sync> FromRequest<S> for Typed {
    type Rejection = PageError;

    async fn from_request(request: Request, state: &S) -> Result<Self, PageError> {
        let Form(pairs) = Form::<Vec<(String, String)>>::from_request(request, state)
            .await
            .map_err(|_| PageError::bad("The form could not be read.", "Go back and send it again; nothing was changed."))?;
        Ok(pairs.into_iter().collect())
    }
}

/// A part of the address.
#[derive(Clone, Debug)]
pub struct Address<T>(pub T);

impl<S: Send + Sync, T: DeserializeOwned + Send> FromRequestParts<S> for Address<T> {
    type Rejection = PageError;

    async fn from_request_parts(parts: &mut Parts, state: &S) -> Result<Self, PageError> {
        let path: Result<axum::extract::Path<T>, PathRejection> = axum::extract::Path::from_request_parts(parts, state).await;
        path.map(|axum::extract::Path(part)| Self(part)).map_err(|_| PageError::nothing("page"))
    }
}

/// What is asked behind the question mark of an address.
#[derive(Clone, Debug)]
pub struct Asked<T>(pub T);

impl<S: Send + Sync, T: DeserializeOwned> FromRequestParts<S> for Asked<T> {
    type Rejection = PageError;

    async fn from_request_parts(parts: &mut Parts, state: &S) -> Result<Self, PageError> {
        let query = axum::extract::Query::<T>::from_request_parts(parts, state).await;
        query.map(|axum::extract::Query(asked)| Self(asked)).map_err(|_| {
            PageError::bad("What stands behind the question mark of the address cannot be read.", "Use the links of the pages.")
        })
    }
}
