//! The pages that are read by the day, asked as a browser asks: the calendar, the order, the price, today, the record, upkeep; and a gang that must
//! see no price on any of them.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "a test without its book must stop")]

use std::io::Read;
use std::sync::OnceLock;

use axum::Router;
use axum::body::{Body, to_bytes};
use axum::http::{Request, StatusCode, header};
use job::{Fetched, Wanted};
use sha2::{Digest, Sha256};
use store::{NewRevision, Role, SiteEntry};
use tower::ServiceExt;
use web::doors::{Manner, Wish, decide};
use web::{App, router};

const TOKEN: &str = "5ca1ab1e5ca1ab1e5ca1ab1e5ca1ab1e5ca1ab1e5ca1ab1e5ca1ab1e5ca1ab1e";

/// A book with the invented job, planned and saved; made once, for planning takes a second.
struct Booked {
    app: App,
    slug: String,
    _folder: tempfile::TempDir,
}

fn booked() -> &'static Booked {
    static BOOKED: OnceLock<Booked> = OnceLock::new();
    BOOKED.get_or_init(|| {
        let folder = tempfile::tempdir().unwrap();
        let app = App::open(&folder.path().join("test.book")).unwrap();
        let book = app.book();
        let added = book.add_job("Ferry House, Port Calder", job::demo::JOB, "the invented job").unwrap();
        let weather = job::demo::weather_csv().unwrap();
        let fetch = |file: &str, _: Wanted| Ok::<_, String>(Fetched { name: file.to_owned(), bytes: weather.clone().into_bytes() });
        let opened = job::open(job::demo::JOB, "the job", fetch).unwrap();
        let plan = works::plan(&opened.job.inputs, opened.weather.as_ref(), &works::Unwatched).unwrap();
        let files: Vec<(String, String)> = [
            ("weeks.json", serde_json::to_vec(&documents::week::weeks(&plan)).unwrap()),
            ("order.csv", documents::order_csv(&plan)),
            ("programme.ics", documents::programme_ics(&plan).into_bytes()),
        ]
        .into_iter()
        .map(|(name, bytes)| (name.to_owned(), book.put_blob(&mut bytes.as_slice(), bytes.len() as u64).unwrap()))
        .collect();
        let json = documents::plan_json(&plan);
        let revision = NewRevision {
            text: job::demo::JOB,
            engine: &plan.basis.version,
            arithmetic: &plan.basis.arithmetic,
            seed: "1",
            weather_hash: plan.basis.weather_hash.as_deref(),
            headline: "planned",
            plan: &json,
            files: &files,
        };
        book.save_revision(&added.slug, &revision).unwrap();
        book.add_account("gang", Role::Gang, "not asked for here").unwrap();
        let hash: String = Sha256::digest(TOKEN.as_bytes()).iter().map(|byte| format!("{byte:02x}")).collect();
        book.begin_session("gang", &hash, jiff::Timestamp::now().as_second() + 3600).unwrap();
        Booked { app, slug: added.slug, _folder: folder }
    })
}

/// The app as the person at the machine finds it.
fn here() -> Router {
    router(booked().app.clone(), Manner::loopback())
}

/// The app behind a login, with the cookie of the gang.
fn as_gang(path: &str) -> (Router, Request<Body>) {
    let manner = decide(&Wish { login: true, ..Wish::default() }, true).unwrap().manner;
    let cookie = format!("harlwright={TOKEN}");
    let request = Request::get(path).header(header::HOST, "127.0.0.1").header(header::COOKIE, cookie).body(Body::empty()).unwrap();
    (router(booked().app.clone(), manner), request)
}

async fn answered(app: Router, request: Request<Body>) -> (StatusCode, Vec<u8>) {
    let answer = app.oneshot(request).await.unwrap();
    let status = answer.status();
    (status, to_bytes(answer.into_body(), 64 << 20).await.unwrap().to_vec())
}

async fn page(path: &str) -> String {
    let request = Request::get(path).header(header::HOST, "127.0.0.1").body(Body::empty()).unwrap();
    let (status, body) = answered(here(), request).await;
    assert_eq!(status, StatusCode::OK, "{path}: {}", String::from_utf8_lossy(&body));
    String::from_utf8(body).unwrap()
}

async fn status_of(path: &str) -> StatusCode {
    let request = Request::get(path).header(header::HOST, "127.0.0.1").body(Body::empty()).unwrap();
    answered(here(), request).await.0
}

async fn sent(path: &str, kind: &str, body: impl Into<Body>) -> (StatusCode, String) {
    let request = Request::post(path)
        .header(header::HOST, "127.0.0.1")
        .header("sec-fetch-site", "same-origin")
        .header(header::CONTENT_TYPE, kind)
        .body(body.into())
        .unwrap();
    let (status, body) = answered(here(), request).await;
    (status, String::from_utf8_lossy(&body).into_owned())
}

fn address(leaf: &str) -> String {
    format!("/jobs/{}/{leaf}", booked().slug)
}

/// The saved plan, for what the pages must agree with.
fn plan() -> serde_json::Value {
    serde_json::from_str(&booked().app.book().revision(&booked().slug, 1).unwrap().plan).unwrap()
}

fn middle(plan: &serde_json::Value) -> &serde_json::Value {
    let year = &plan["programme"]["middle_year"];
    plan["programme"]["runs"].as_array().unwrap().iter().find(|run| run["year"] == *year).unwrap()
}

#[tokio::test]
async fn the_calendar_draws_every_day_of_work_and_of_waiting_once() {
    let plan = plan();
    let calendar = page(&address("calendar")).await;
    assert_eq!(calendar.matches("<h1").count(), 1, "one sentence answers");
    let run = middle(&plan);
    let mut expected = 0;
    for wall in run["walls"].as_array().unwrap() {
        // A wall's days are its days of work and of waiting, each once, from the start of the job to its last day; the days its cover hangs are among them.
        let from: jiff::civil::Date = plan["window"]["start"].as_str().unwrap().parse().unwrap();
        let to: jiff::civil::Date = wall["tasks"].as_array().unwrap().last().unwrap()["to"].as_str().unwrap().parse().unwrap();
        expected += (to - from).get_days() + 1;
    }
    let squares = calendar.matches("data-goes=").count();
    assert_eq!(i64::try_from(squares).unwrap(), i64::from(expected), "a square for each day");
    for wall in run["walls"].as_array().unwrap() {
        for task in wall["tasks"].as_array().unwrap() {
            assert!(calendar.contains(task["name"].as_str().unwrap()));
        }
    }
}

#[tokio::test]
async fn another_weather_year_and_a_single_day_have_addresses_of_their_own() {
    let plan = plan();
    let other = plan["programme"]["runs"].as_array().unwrap().iter().find(|run| run["year"] != plan["programme"]["middle_year"]).unwrap();
    let calendar = page(&address(&format!("calendar?year={}", other["year"]))).await;
    assert!(calendar.contains(&format!("in the weather of {}", other["year"])));
    assert!(!calendar.contains("Night to day</text>"), "weather that the plan does not keep is not drawn");
    let wall = page(&address("calendar/north")).await;
    assert!(wall.contains("class=\"diary\""));
    // A wait once a coat is on the wall, whose test stands on the page.
    let wait =
        middle(&plan)["walls"][0]["tasks"].as_array().unwrap().iter().skip(2).find_map(|task| task["waited"].as_array()?.first()).unwrap();
    let day = page(&address(&format!("calendar/north/{}", wait["from"].as_str().unwrap()))).await;
    assert!(day.contains("Waits ") && day.contains("The test: "), "{day}");
    for nowhere in ["calendar?year=1066", "calendar?year=x", "calendar/moat", "calendar/north/1999-01-01", "calendar/north/soon"] {
        assert_eq!(status_of(&address(nowhere)).await, StatusCode::NOT_FOUND, "{nowhere}");
    }
}

#[tokio::test]
async fn the_order_says_every_line_and_hands_it_over_as_a_table() {
    let plan = plan();
    let order = page(&address("order")).await;
    let strokes: u64 = plan["order"]["lines"].as_array().unwrap().iter().map(|line| line["units"].as_u64().unwrap().div_ceil(5)).sum();
    assert_eq!(order.matches("viewBox=\"0 0 28 22\"").count() as u64, strokes, "a bundle for every five units");
    for line in plan["order"]["lines"].as_array().unwrap() {
        assert!(order.contains(line["remark"].as_str().unwrap()), "{line}");
    }
    let csv = page(&address("order.csv")).await;
    assert_eq!(
        csv.lines().count(),
        1 + plan["order"]["lines"].as_array().unwrap().len() + plan["order"]["lay_down"].as_array().unwrap().len()
    );
}

#[tokio::test]
async fn every_sum_of_the_price_leads_to_its_why_and_the_headings_add_up() {
    let plan = plan();
    let price = page(&address("price")).await;
    for line in plan["price"]["lines"].as_array().unwrap() {
        assert!(price.contains(&address(&format!("why/{}", line["path"].as_str().unwrap()))), "{line}");
    }
    let sum = |value: &serde_json::Value| value.as_str().unwrap().parse::<rust_decimal::Decimal>().unwrap();
    let quotation = &plan["price"]["quotation"];
    for (name, rows) in [("stages", &quotation["stages"]), ("daywork", &quotation["daywork_an_hour"])] {
        for number in 1..=rows.as_array().unwrap().len() {
            assert!(price.contains(&address(&format!("why/price.{name}.{number}"))), "{name} {number}");
        }
    }
    for figure in ["risk.expected-weather", "risk.margin-10", "risk.margin-16", "by-measure.1", "without-scaffold-per-m2"] {
        assert!(price.contains(&address(&format!("why/price.{figure}"))), "{figure}");
    }
    for words in ["8 years in 10", "19 years in 20", "Nothing is retained.", "None: the walls are open and bare.", "tax is added last"] {
        assert!(price.contains(words), "{words}");
    }
    let headings: rust_decimal::Decimal = plan["price"]["headings"].as_array().unwrap().iter().map(|heading| sum(&heading["amount"])).sum();
    assert_eq!(headings, sum(&plan["price"]["cost"]["amount"]), "the headings are the cost");
    assert_eq!(price.matches("class=\"year\"").count(), plan["programme"]["runs"].as_array().unwrap().len());
}

#[tokio::test]
async fn the_pack_holds_the_documents_the_plan_and_the_job() {
    let request = Request::get(address("pack.zip")).header(header::HOST, "127.0.0.1").body(Body::empty()).unwrap();
    let (status, bytes) = answered(here(), request).await;
    assert_eq!(status, StatusCode::OK);
    let mut pack = zip::ZipArchive::new(std::io::Cursor::new(bytes)).unwrap();
    let names: Vec<String> = pack.file_names().map(|name| name.unwrap().into_owned()).collect();
    for wanted in ["job.toml", "order.csv", "plan.json", "programme.ics"] {
        assert!(names.iter().any(|name| name == wanted), "{wanted} in {names:?}");
    }
    assert!(!names.iter().any(|name| name == "weeks.json"), "what the pages keep for themselves stays here");
    let mut text = String::new();
    pack.by_name("job.toml").unwrap().read_to_string(&mut text).unwrap();
    assert_eq!(text, job::demo::JOB);
}

#[tokio::test]
async fn what_is_logged_on_the_scaffold_stands_once_and_on_the_record() {
    let day = middle(&plan())["walls"][0]["tasks"][1]["from"].as_str().unwrap().to_owned();
    let today = page(&address(&format!("today?day={day}"))).await;
    assert!(today.contains("Yes, if the test holds") && today.contains("value=\"placed\""), "the first coat of the north wall goes on");
    let form = format!("tell=placed&wall=north&coat=scud&day={day}&id=0123456789abcdef&at={day}T09%3A00%3A00%2B01%3A00&quiet=1");
    for _ in 0..2 {
        assert_eq!(sent(&address("today"), "application/x-www-form-urlencoded", form.clone()).await.0, StatusCode::CREATED);
    }
    let log: Vec<SiteEntry> = booked().app.book().site_log(&booked().slug).unwrap();
    assert_eq!(log.iter().filter(|entry| entry.given_id.starts_with("0123456789abcdef")).count(), 1, "told twice it stands once");
    let strange = "entries=%7B%22format%22%3A%22site-log%2F1%22%2C%22job%22%3A%7B%22slug%22%3A%22kiln%22%7D%2C%22entries%22%3A%5B%5D%7D";
    let (status, refused) = sent(&address("log"), "application/x-www-form-urlencoded", strange.to_owned()).await;
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.contains("This log was kept for kiln; hand it in there."), "{refused}");
    let record = page(&address("record")).await;
    assert!(record.contains("logged on") && record.contains("on the day"), "the coat is compared with its reckoning");
    let bad = format!("tell=thrown&wall=moat&day=soon&id=x&words={}", "y".repeat(401));
    let (status, words) = sent(&address("today"), "application/x-www-form-urlencoded", bad).await;
    assert_eq!(status, StatusCode::BAD_REQUEST);
    for wrong in ["none of placed", "no name of 8", "no such wall", "no date", "longer than"] {
        assert!(words.contains(wrong), "{wrong}: every fault is told at once");
    }
}

#[tokio::test]
async fn a_photograph_is_kept_without_its_place() {
    // The smallest JPEG there can be, with a place in it.
    let mut picture = vec![0xff, 0xd8, 0xff, 0xe1, 0x00, 0x0c];
    picture.extend_from_slice(b"Exif\0\0GPS!");
    picture.extend_from_slice(&[0xff, 0xd9]);
    let mut body = b"--b\r\ncontent-disposition: form-data; name=\"wall\"\r\n\r\nnorth\r\n--b\r\ncontent-disposition: form-data; name=\"words\"\r\n\r\n<script>\r\n--b\r\ncontent-disposition: form-data; name=\"photograph\"; filename=\"../x.jpg\"\r\n\r\n".to_vec();
    body.extend_from_slice(&picture);
    body.extend_from_slice(b"\r\n--b--\r\n");
    let (status, words) = sent(&address("record/photographs"), "multipart/form-data; boundary=b", body).await;
    assert_eq!(status, StatusCode::SEE_OTHER, "{words}");
    let record = page(&address("record")).await;
    assert!(record.contains("&lt;script&gt;") && !record.contains("<script>"), "words are words");
    let file =
        booked().app.book().attachments(&booked().slug).unwrap().into_iter().find(|file| file.name.starts_with("photograph-")).unwrap();
    let kept = booked().app.book().blob_bytes(&file.sha256).unwrap();
    assert!(!kept.windows(3).any(|part| part == b"GPS"));
    let request =
        Request::get(address(&format!("record/photographs/{}", file.name))).header(header::HOST, "127.0.0.1").body(Body::empty()).unwrap();
    assert_eq!(answered(here(), request).await, (StatusCode::OK, kept));
    let not_one = b"--b\r\ncontent-disposition: form-data; name=\"wall\"\r\n\r\nnorth\r\n--b\r\ncontent-disposition: form-data; name=\"photograph\"\r\n\r\nno picture\r\n--b--\r\n";
    assert_eq!(
        sent(&address("record/photographs"), "multipart/form-data; boundary=b", not_one.to_vec()).await.0,
        StatusCode::UNPROCESSABLE_ENTITY
    );
}

#[tokio::test]
async fn upkeep_says_that_nothing_is_reckoned() {
    let upkeep = page(&address("upkeep")).await;
    assert!(upkeep.contains("nothing on this page is reckoned for these walls"));
}

#[tokio::test]
async fn a_gang_reaches_its_days_and_sees_no_price_on_them() {
    for leaf in ["today", "calendar", "calendar/north", "calendar/north/2027-05-03"] {
        let (app, request) = as_gang(&address(leaf));
        let (status, body) = answered(app, request).await;
        let body = String::from_utf8(body).unwrap();
        assert_eq!(status, StatusCode::OK, "{leaf}");
        assert!(
            !body.contains('£') && !body.contains("GBP") && !body.contains("/price") && !body.contains("/why"),
            "{leaf} speaks of money"
        );
        assert!(!body.contains("/record") && !body.contains("Stop it"), "{leaf} offers what a gang is refused");
    }
    for leaf in ["", "price", "order", "order.csv", "pack.zip", "record", "why/price.total"] {
        let (app, request) = as_gang(&address(leaf));
        assert_eq!(answered(app, request).await.0, StatusCode::FORBIDDEN, "{leaf}");
    }
}
