//! Reckoning a job: begun, watched and stopped. Without a script the sheet itself says how far it is.

use std::convert::Infallible;

use axum::Router;
use axum::extract::State;
use axum::response::Redirect;
use axum::response::sse::{Event, KeepAlive, Sse};
use axum::routing::{get, post};
use tokio_stream::wrappers::WatchStream;
use tokio_stream::{Stream, StreamExt};

use crate::doors::Visitor;
use crate::extract::Address;
use crate::pages::start::only_for_changers;
use crate::{App, PageError, reckoning};

/// Begin, watch, stop.
pub fn routes() -> Router<App> {
    Router::new()
        .route("/jobs/{slug}/reckoning", post(begin))
        .route("/jobs/{slug}/reckoning/progress", get(progress))
        .route("/jobs/{slug}/reckoning/stop", post(stop))
}

async fn begin(State(app): State<App>, who: Visitor, Address(slug): Address<String>) -> Result<Redirect, PageError> {
    only_for_changers(&who)?;
    let name = slug.clone();
    app.read(move |book| book.job(&name)).await?;
    reckoning::begin(&app, &slug)?;
    Ok(Redirect::to(&format!("/jobs/{slug}")))
}

async fn stop(State(app): State<App>, who: Visitor, Address(slug): Address<String>) -> Result<Redirect, PageError> {
    only_for_changers(&who)?;
    if let Some(under_way) = app.reckonings().of(&slug) {
        under_way.stop();
    }
    Ok(Redirect::to(&format!("/jobs/{slug}")))
}

async fn progress(
    State(app): State<App>,
    Address(slug): Address<String>,
) -> Result<Sse<impl Stream<Item = Result<Event, Infallible>>>, PageError> {
    let under_way = app.reckonings().of(&slug).ok_or_else(|| PageError::nothing("reckoning"))?;
    let mut ended = false;
    let events = WatchStream::new(under_way.follow()).take_while(move |progress| !std::mem::replace(&mut ended, progress.end.is_some()));
    let told = events.map(|progress| {
        let name = if progress.end.is_some() { "end" } else { "progress" };
        let data = serde_json::json!({ "says": progress.says(), "done": progress.done, "of": progress.of });
        Ok(Event::default().event(name).data(data.to_string()))
    });
    Ok(Sse::new(told).keep_alive(KeepAlive::default()))
}
