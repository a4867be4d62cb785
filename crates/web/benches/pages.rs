//! How fast pages come with five hundred jobs in the book: from opening it to the first page, each page at the 95th percentile, and two hundred
//! readers at once over loopback. Run with `cargo bench -p web --bench pages`.
#![allow(clippy::unwrap_used, clippy::expect_used)]

use std::time::{Duration, Instant};

use axum::body::Body;
use axum::http::{Request, header};
use store::{Book, NewRevision};
use tokio::io::{AsyncReadExt, AsyncWriteExt};
use tokio::net::TcpStream;
use tower::ServiceExt;
use web::App;
use web::doors::{self, Manner, Wish};

const JOBS: usize = 500;
const PLANNED: usize = 20;
const ASKED: usize = 200;
const READERS: usize = 200;
const LEAVES: [&str; 9] = ["", "/survey", "/form/walls.north", "/form/rates", "/coats", "/why", "/why/price.total", "/history", "/file"];

#[tokio::main]
async fn main() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("book.sqlite");
    fill(&path).await;

    let started = Instant::now();
    let app = App::open(&path).unwrap();
    let bytes = get(&app, "/").await;
    println!("open the book of {JOBS} jobs and answer the first page ({bytes} bytes): {:?}", started.elapsed());

    let slugs: Vec<String> = app.book().jobs().unwrap().into_iter().map(|job| job.slug).filter(|slug| is_planned(&app, slug)).collect();
    measure(&app, "the job book", |_| "/".to_owned()).await;
    for leaf in LEAVES {
        measure(&app, leaf, |turn| format!("/jobs/{}{leaf}", slugs[turn % slugs.len()])).await;
    }
    readers(app, &slugs).await;
}

fn is_planned(app: &App, slug: &str) -> bool {
    app.book().revisions(slug).unwrap().iter().any(|revision| revision.headline != "not planned")
}

/// Five hundred jobs: one planned through the pages, its plan copied to some, the rest with a headline alone.
async fn fill(path: &std::path::Path) {
    let app = App::open(path).unwrap();
    let request = Request::post("/demo").header(header::HOST, "127.0.0.1").header(header::ORIGIN, "http://127.0.0.1").body(Body::empty());
    web::router(app.clone(), Manner::loopback()).oneshot(request.unwrap()).await.unwrap();
    let book = app.book();
    let first = loop {
        tokio::time::sleep(Duration::from_millis(100)).await;
        if let Ok(revision) = book.revision("ferry-house-port-calder", 1) {
            break revision;
        }
    };
    for number in 1..JOBS {
        let job = book.add_job(&format!("Ferry House {number}, Port Calder"), job::demo::JOB, "for the bench").unwrap();
        let whole = number < PLANNED;
        save(book, &job.slug, &first, whole);
    }
}

fn save(book: &Book, slug: &str, first: &store::Revision, whole: bool) {
    let new = NewRevision {
        text: &first.text,
        engine: &first.engine,
        arithmetic: &first.arithmetic,
        seed: &first.seed,
        weather_hash: first.weather_hash.as_deref(),
        headline: if whole { &first.headline } else { "not planned" },
        plan: if whole { &first.plan } else { "{}" },
        files: if whole { &first.files } else { &[] },
    };
    book.save_revision(slug, &new).unwrap();
}

async fn get(app: &App, path: &str) -> usize {
    let request = Request::get(path).header(header::HOST, "127.0.0.1").header(header::ACCEPT, "text/html").body(Body::empty()).unwrap();
    let response = web::router(app.clone(), Manner::loopback()).oneshot(request).await.unwrap();
    assert!(response.status().is_success(), "{path}: {}", response.status());
    axum::body::to_bytes(response.into_body(), usize::MAX).await.unwrap().len()
}

async fn measure(app: &App, name: &str, path: impl Fn(usize) -> String) {
    let mut times = Vec::new();
    let mut bytes = 0;
    for turn in 0..ASKED {
        let started = Instant::now();
        bytes = get(app, &path(turn)).await;
        times.push(started.elapsed());
    }
    times.sort();
    let at = |share: f64| times[((ASKED as f64 * share) as usize).min(ASKED - 1)];
    let name = if name.is_empty() { "walls" } else { name };
    println!("{name:20} median {:>10.2?}  95th percentile {:>10.2?}  worst {:>10.2?}  {bytes} bytes", at(0.5), at(0.95), at(1.0));
}

/// Two hundred readers at once, each asking for ten pages.
async fn readers(app: App, slugs: &[String]) {
    let listening = doors::decide(&Wish::default(), false).unwrap();
    let router = web::router(app, listening.manner.clone());
    let (tell, told) = tokio::sync::oneshot::channel();
    tokio::spawn(doors::serve(listening, router, move |address| drop(tell.send(address.to_owned()))));
    let address = told.await.unwrap().trim_start_matches("http://").to_owned();
    let started = Instant::now();
    let tasks: Vec<_> = (0..READERS)
        .map(|reader| {
            let (address, slug) = (address.clone(), slugs[reader % slugs.len()].clone());
            tokio::spawn(async move {
                let mut good = 0;
                for turn in 0..10 {
                    let path = format!("/jobs/{slug}{}", LEAVES[(reader + turn) % LEAVES.len()]);
                    good += usize::from(asked(&address, &path).await.is_some_and(|answer| answer.starts_with(b"HTTP/1.1 200")));
                }
                good
            })
        })
        .collect();
    let mut good = 0;
    for task in tasks {
        good += task.await.unwrap();
    }
    println!("{READERS} readers at once, ten pages each: {good} of {} answered with 200 in {:?}", READERS * 10, started.elapsed());
}

async fn asked(address: &str, path: &str) -> Option<Vec<u8>> {
    let mut stream = TcpStream::connect(address).await.ok()?;
    let request = format!("GET {path} HTTP/1.1\r\nHost: {address}\r\nAccept: text/html\r\nConnection: close\r\n\r\n");
    stream.write_all(request.as_bytes()).await.ok()?;
    let mut answer = Vec::new();
    stream.read_to_end(&mut answer).await.ok()?;
    Some(answer)
}
