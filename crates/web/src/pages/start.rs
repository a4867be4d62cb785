//! Ways into the book: the demo, a job of one's own in four questions, a job file brought in. Each begins its first plan at once.

use axum::Router;
use axum::extract::{Multipart, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use job::{Answers, Problem, Question};
use maud::{Markup, html};

use crate::doors::Visitor;
use crate::extract::Typed;
use crate::layout::{answer, book_page, changes_jobs, part};
use crate::{App, PageError, reckoning};

/// The ways in.
pub fn routes() -> Router<App> {
    Router::new()
        .route("/demo", post(demo))
        .route("/new", get(ask).post(begin))
        .route("/import", get(bring).post(brought))
        .route("/import/file", post(brought_as_file))
}

async fn demo(State(app): State<App>, who: Visitor) -> Result<Redirect, PageError> {
    only_for_changers(&who)?;
    let slug = app
        .write(|book| {
            let weather = job::demo::weather_csv().unwrap_or_default();
            let sha256 = book.put_blob(&mut weather.as_bytes(), weather.len() as u64)?;
            let job = book.add_job("Ferry House, Port Calder", job::demo::JOB, "the invented job")?;
            book.attach(&job.slug, job::demo::WEATHER_FILE, &sha256)?;
            Ok(job.slug)
        })
        .await?;
    first_plan(&app, &slug)
}

/// Begins the first plan of a job and shows the job.
fn first_plan(app: &App, slug: &str) -> Result<Redirect, PageError> {
    reckoning::begin(app, slug)?;
    Ok(Redirect::to(&format!("/jobs/{slug}")))
}

/// Refuses whoever may not change jobs.
pub fn only_for_changers(who: &Visitor) -> Result<(), PageError> {
    if changes_jobs(who) { Ok(()) } else { Err(PageError::not_yours()) }
}

fn today() -> jiff::civil::Date {
    jiff::ZonedDateTime::now().date()
}

/// The four questions, each with the answers it gathers.
const QUESTIONS: [(&str, &[&str]); 4] = [
    ("Where?", &["name", "place", "country"]),
    ("How big?", &["length", "depth", "eaves", "windows", "doors"]),
    ("What stone?", &["stone"]),
    ("When?", &["start"]),
];

async fn ask(who: Visitor) -> Result<Markup, PageError> {
    only_for_changers(&who)?;
    Ok(questions_page(&Typed::default(), &[]))
}

async fn begin(State(app): State<App>, who: Visitor, typed: Typed) -> Result<Response, PageError> {
    only_for_changers(&who)?;
    let mut answers = Answers::new();
    let mut faults: Vec<(&'static str, String)> = Vec::new();
    for question in job::questions(today()) {
        let text = typed.text(question.key);
        match job::check_answer(question.key, &text) {
            Ok(()) if text.trim().is_empty() => {}
            Ok(()) => {
                answers.insert(question.key.to_owned(), text.trim().to_owned());
            }
            Err(says) => faults.push((question.key, says)),
        }
    }
    if !faults.is_empty() {
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, questions_page(&typed, &faults)).into_response());
    }
    let text = job::template(&answers, today());
    let title = title_of(&text);
    let slug = app.write(move |book| book.add_job(&title, &text, "begun in four questions").map(|job| job.slug)).await?;
    Ok(first_plan(&app, &slug)?.into_response())
}

/// The name a job goes by in the book: its own and its place.
pub fn title_of(text: &str) -> String {
    let editing = job::edit::Editing::open(text);
    let written = |path: &str| editing.as_ref().and_then(|editing| editing.written(path)).filter(|words| !words.trim().is_empty());
    let named: Vec<String> = [written("job.name"), written("job.place")].into_iter().flatten().collect();
    if named.is_empty() { "A job without a name".to_owned() } else { named.join(", ") }
}

fn questions_page(typed: &Typed, faults: &[(&'static str, String)]) -> Markup {
    let questions = job::questions(today());
    let form = html! {
        @if !faults.is_empty() {
            div.stop role="alert" { h2 { "Not quite." } p { (crate::words::capital(&crate::words::counted(faults.len(), "answer", "answers"))) " will not do; what you typed stands below." } }
        }
        form method="post" action="/new" data-keeps="" {
            ol.questions {
                @for (heading, keys) in QUESTIONS {
                    li { div {
                        h2 { (heading) }
                        div.fields { @for key in keys { @if let Some(question) = questions.iter().find(|question| question.key == *key) { (field(question, typed, faults)) } } }
                    } }
                }
            }
            div.does { button.btn.first type="submit" { "Plan it" } a.btn.quiet href="/" { "Back to the book" } }
        }
    };
    let sentence = html! { "Four questions give a first honest plan." };
    let then = html! { "Leave empty what you do not know: a default stands in and is marked as assumed until somebody measures." };
    book_page(
        "New job",
        &html! { (answer("", &sentence, &then)) (part("The house", &html! { p { "All of it can be changed later, wall by wall." } }, &form)) },
    )
}

fn field(question: &Question, typed: &Typed, faults: &[(&'static str, String)]) -> Markup {
    let fault = faults.iter().find(|(key, _)| *key == question.key).map(|(_, says)| says);
    let (id, help) = (question.key, format!("{}-help", question.key));
    let value = typed.text(question.key);
    html! {
        div.field.bad[fault.is_some()] {
            label for=(id) { (question.question) }
            p.help id=(help) { (question.help) }
            div.in {
                @if question.choices.is_empty() {
                    input.long[matches!(id, "name" | "place")] type="text" id=(id) name=(id) value=(value) placeholder=(question.default) aria-describedby=(help) aria-invalid=[fault.is_some().then_some("true")] autocomplete="off";
                } @else {
                    select id=(id) name=(id) aria-describedby=(help) {
                        option value="" { @if question.default.is_empty() { "Not known" } @else { (question.default) } }
                        @for choice in question.choices.iter().filter(|choice| **choice != question.default) { option value=(choice) selected[*choice == value] { (choice) } }
                    }
                }
            }
            @if let Some(says) = fault { p.err { b { "Cannot be read: " } (says) } }
        }
    }
}

async fn bring(who: Visitor) -> Result<Markup, PageError> {
    only_for_changers(&who)?;
    Ok(import_page("", &[]))
}

async fn brought_as_file(State(app): State<App>, who: Visitor, mut form: Multipart) -> Result<Response, PageError> {
    only_for_changers(&who)?;
    let broken =
        |_| PageError::bad("The file broke off on its way, or is larger than a job file may be.", "Send it again; nothing was kept.");
    let _room = app.upload()?;
    while let Some(field) = form.next_field().await.map_err(broken)? {
        if field.file_name().is_some() {
            let bytes = field.bytes().await.map_err(broken)?;
            let text = String::from_utf8(bytes.to_vec())
                .map_err(|_| PageError::bad("The file is not UTF-8 text.", "Save it again as UTF-8 in your editor."))?;
            return take_in(&app, text).await;
        }
    }
    Err(PageError::bad("No file came with the form.", "Choose a file and send the form again."))
}

async fn brought(State(app): State<App>, who: Visitor, typed: Typed) -> Result<Response, PageError> {
    only_for_changers(&who)?;
    // A browser sends line ends of its own; the file had one or the other, and one is kept.
    let text = typed.text("text").replace("\r\n", "\n");
    take_in(&app, text).await
}

/// Puts a job file into the book, or tells everything that is wrong with it.
async fn take_in(app: &App, text: String) -> Result<Response, PageError> {
    if let Err(problems) = job::read(&text, "the job file") {
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, import_page(&text, &problems)).into_response());
    }
    let title = title_of(&text);
    let slug = app.write(move |book| book.add_job(&title, &text, "brought in as a file").map(|job| job.slug)).await?;
    Ok(Redirect::to(&format!("/jobs/{slug}/survey")).into_response())
}

fn import_page(text: &str, problems: &[Problem]) -> Markup {
    let form = html! {
        (problems_of(problems))
        form method="post" action="/import/file" enctype="multipart/form-data" {
            div.field.whole { label for="file" { "As a file" } div.in { input type="file" id="file" name="file" required accept=".toml"; button type="submit" { "Bring it in" } } }
        }
        form method="post" action="/import" {
            div.field.whole { label for="text" { "Or as text" } p.help { "The whole of it; it is kept to the byte, comments too." } textarea.file id="text" name="text" spellcheck="false" { "\n" (text) } }
            div.does { button.btn.first type="submit" { "Bring it in" } a.btn.quiet href="/" { "Back to the book" } }
        }
    };
    let sentence = html! { "Bring in a job file and go on with it here." };
    book_page(
        "Bring in",
        &html! { (answer("", &sentence, &html! { "Its weather file is brought in afterwards, under Survey." })) (part("", &html! {}, &form)) },
    )
}

/// Problems of a job file, all of them, with their lines.
pub fn problems_of(problems: &[Problem]) -> Markup {
    html! {
        @if !problems.is_empty() {
            div.stop role="alert" {
                h2 { (crate::words::capital(&crate::words::counted(problems.len(), "problem", "problems"))) " in the file; nothing was changed." }
                ul { @for problem in problems { li { "Line " (problem.line) @if !problem.path.is_empty() { ", " (problem.path) } ": " (problem.found) " " (problem.allowed) " " (problem.remedy) } } }
            }
        }
    }
}
