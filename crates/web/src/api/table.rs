//! The one table of routes of the JSON: what each does, what it takes and what it answers. The router and its description are both made from it,
//! so that neither can say what the other does not.

use axum::routing::{MethodRouter, get, patch, post, put};

use super::{describe, jobs, plans};
use crate::App;

/// How a route is asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verb {
    /// Reads.
    Get,
    /// Adds or begins.
    Post,
    /// Replaces.
    Put,
    /// Changes a part.
    Patch,
}

impl Verb {
    /// As the description writes it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Get => "get",
            Self::Post => "post",
            Self::Put => "put",
            Self::Patch => "patch",
        }
    }
}

/// What a route takes as its body.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Takes {
    /// Nothing.
    Nothing,
    /// JSON of a schema among the components.
    Json(&'static str),
}

/// One route.
pub struct Route {
    /// How it is asked.
    pub verb: Verb,
    /// Its address, with the parts that vary in braces.
    pub path: &'static str,
    /// What it does.
    pub says: &'static str,
    /// What may be asked behind the question mark: name, schema type, needed.
    pub asks: &'static [(&'static str, &'static str, bool)],
    /// What it takes.
    pub takes: Takes,
    /// True if it needs `If-Match`.
    pub on_version: bool,
    /// Status and schema of the answer; a schema of `binary` is a file.
    pub answers: (u16, &'static str),
    /// True if the gang may ask it.
    pub gang: bool,
    handler: fn() -> MethodRouter<App>,
}

impl Route {
    /// A route that takes nothing and asks nothing.
    fn new(verb: Verb, path: &'static str, says: &'static str, handler: fn() -> MethodRouter<App>, answers: (u16, &'static str)) -> Self {
        Self { verb, path, says, asks: &[], takes: Takes::Nothing, on_version: false, answers, gang: false, handler }
    }

    fn asks(self, asks: &'static [(&'static str, &'static str, bool)]) -> Self {
        Self { asks, ..self }
    }

    fn takes(self, schema: &'static str) -> Self {
        Self { takes: Takes::Json(schema), ..self }
    }

    fn on_version(self) -> Self {
        Self { on_version: true, ..self }
    }

    fn gang(self) -> Self {
        Self { gang: true, ..self }
    }
}

/// All routes.
#[rustfmt::skip]
pub fn routes() -> Vec<Route> {
    vec![
        Route::new(Verb::Get, "/api/openapi.json", "This description", || get(describe::show), (200, "Description")).gang(),
        Route::new(Verb::Get, "/api/fields", "Every value a job can hold: the one table of fields", || get(jobs::fields), (200, "Fields")),
        Route::new(Verb::Get, "/api/schema", "The JSON Schema of a job file", || get(jobs::schema), (200, "Description")),
        Route::new(Verb::Get, "/api/jobs", "All jobs, the last changed first", || get(jobs::list), (200, "Jobs")).gang(),
        Route::new(Verb::Post, "/api/jobs", "Put a job into the book", || post(jobs::add), (201, "Job")).takes("JobText"),
        Route::new(Verb::Get, "/api/jobs/{job}", "A job as it stands, with its entity tag", || get(jobs::show), (200, "Job")),
        Route::new(Verb::Put, "/api/jobs/{job}", "Replace the text of a job", || put(jobs::change), (200, "Job")).takes("JobText").on_version(),
        Route::new(Verb::Patch, "/api/jobs/{job}/values", "Write some values of a job, by their paths in the table of fields", || patch(jobs::set), (200, "Job")).takes("Values").on_version(),
        Route::new(Verb::Post, "/api/jobs/{job}/undo", "Take the last change back", || post(jobs::undo), (200, "Job")).on_version(),
        Route::new(Verb::Post, "/api/jobs/{job}/redo", "Do again what was last taken back", || post(jobs::redo), (200, "Job")).on_version(),
        Route::new(Verb::Get, "/api/jobs/{job}/history", "Every change of a job, latest first", || get(jobs::history), (200, "History")),
        Route::new(Verb::Get, "/api/jobs/{job}/log", "The site log", || get(jobs::log), (200, "Log")).gang(),
        Route::new(Verb::Post, "/api/jobs/{job}/log", "Take in what a site sheet handed over (site-log/1)", || post(jobs::tell), (200, "TakenIn")).takes("SiteLog").gang(),
        Route::new(Verb::Get, "/api/jobs/{job}/plan", "The latest plan as plan/1; without prices for the gang", || get(plans::latest), (200, "Plan")).gang(),
        Route::new(Verb::Get, "/api/jobs/{job}/plans", "All saved plans, latest first", || get(plans::list), (200, "Plans")),
        Route::new(Verb::Get, "/api/jobs/{job}/plans/{number}", "A saved plan as plan/1, as it was saved", || get(plans::show), (200, "Plan")),
        Route::new(Verb::Get, "/api/jobs/{job}/plans/{number}/files/{name}", "A document of a saved plan", || get(plans::file), (200, "binary")),
        Route::new(Verb::Get, "/api/jobs/{job}/changes", "What differs between two saved plans", || get(plans::changes), (200, "Changes")).asks(&[("from", "integer", true), ("to", "integer", true)]),
        Route::new(Verb::Get, "/api/jobs/{job}/why", "The reckoning behind one figure of the latest plan, or behind all", || get(plans::why), (200, "Reckonings")).asks(&[("path", "string", false)]),
        Route::new(Verb::Get, "/api/jobs/{job}/reckoning", "How far the reckoning of a job is", || get(plans::progress), (200, "Progress")),
        Route::new(Verb::Post, "/api/jobs/{job}/reckoning", "Begin to reckon a job as it stands", || post(plans::begin), (202, "Progress")),
        Route::new(Verb::Post, "/api/jobs/{job}/reckoning/stop", "Stop the reckoning of a job", || post(plans::stop), (200, "Progress")),
    ]
}

/// The routes by their address, as the router takes them.
pub fn by_path() -> Vec<(&'static str, MethodRouter<App>)> {
    let mut all: Vec<(&'static str, MethodRouter<App>)> = Vec::new();
    for route in routes() {
        let methods = (route.handler)();
        match all.iter_mut().find(|(path, _)| *path == route.path) {
            Some((_, known)) => *known = std::mem::take(known).merge(methods),
            None => all.push((route.path, methods)),
        }
    }
    all
}
