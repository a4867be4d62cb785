//! The same reads and writes as the pages, as JSON for programs. One table of routes makes both the router and its description; it must never
//! show or do what a page would not.

mod answer;
mod describe;
mod jobs;
mod plans;
mod table;

use axum::Router;
use axum::http::{StatusCode, Uri};

use crate::App;
use answer::Problem;

pub use describe::openapi;

/// Everything below `/api`.
pub fn routes() -> Router<App> {
    let mut router = Router::new();
    for (path, methods) in table::by_path() {
        router = router.route(path, methods);
    }
    router.route("/api/{*rest}", axum::routing::any(nothing_here))
}

async fn nothing_here(uri: Uri) -> Problem {
    let path: String = uri.path().chars().take(80).collect();
    Problem::new(StatusCode::NOT_FOUND, format!("There is nothing at {path}."), "GET /api/openapi.json describes all there is.")
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test without its book must stop")]
    use axum::body::{Body, to_bytes};
    use axum::http::{Method, Request, StatusCode};
    use tower::ServiceExt;

    use super::table::{Takes, routes};
    use crate::doors::{Manner, gang_may};
    use crate::{App, router};

    fn sample(path: &str) -> String {
        path.replace("{job}", "mill").replace("{number}", "1").replace("{name}", "site.pdf")
    }

    fn method(verb: super::table::Verb) -> Method {
        verb.word().to_uppercase().parse().unwrap()
    }

    async fn asked(app: &App, method: Method, path: &str) -> (StatusCode, String) {
        let request = Request::builder().method(method).uri(path).header("host", "localhost").header("sec-fetch-site", "same-origin");
        let answer = router(app.clone(), Manner::loopback()).oneshot(request.body(Body::empty()).unwrap()).await.unwrap();
        let status = answer.status();
        (status, String::from_utf8_lossy(&to_bytes(answer.into_body(), 1 << 20).await.unwrap()).into_owned())
    }

    #[tokio::test]
    async fn the_description_and_the_router_name_the_same_routes() {
        let folder = tempfile::tempdir().unwrap();
        let app = App::open(&folder.path().join("book.sqlite")).unwrap();
        let described = super::openapi();
        let paths = described["paths"].as_object().unwrap();
        let count: usize = paths.values().map(|methods| methods.as_object().unwrap().len()).sum();
        assert_eq!(count, routes().len());
        for (path, methods) in paths {
            for verb in ["get", "post", "put", "patch", "delete"] {
                let (status, body) = asked(&app, verb.to_uppercase().parse().unwrap(), &sample(path)).await;
                let there = status != StatusCode::METHOD_NOT_ALLOWED && !body.contains("There is nothing at");
                assert_eq!(there, methods.get(verb).is_some(), "{verb} {path} answers {status}: {body}");
                if there && !status.is_success() {
                    let known = &methods[verb]["responses"];
                    assert!(known.get(status.as_str()).is_some(), "{verb} {path} answers {status}, which is not described: {body}");
                }
            }
        }
        assert!(asked(&app, Method::GET, "/api/nowhere").await.1.contains("There is nothing at"));
    }

    #[test]
    fn every_schema_referred_to_is_described_and_every_value_of_a_job_with_it() {
        let described = super::openapi();
        let schemas = described["components"]["schemas"].as_object().unwrap();
        let text = described["paths"].to_string();
        for name in text.split("#/components/schemas/").skip(1).map(|rest| rest.split('"').next().unwrap()) {
            assert!(schemas.contains_key(name), "{name}");
        }
        let file = schemas["JobFile"].to_string();
        for field in job::fields::all() {
            assert!(file.contains(&format!("\"{}\"", field.key())) || field.key() == "*", "{} is not described", field.path);
        }
    }

    #[test]
    fn the_gang_reaches_what_the_table_gives_it_and_nothing_else() {
        for route in routes() {
            assert_eq!(gang_may(&method(route.verb), &sample(route.path)), route.gang, "{} {}", route.verb.word(), route.path);
            assert!(route.verb.word() == "get" || route.takes != Takes::Nothing || !route.gang, "{}", route.path);
        }
    }
}
