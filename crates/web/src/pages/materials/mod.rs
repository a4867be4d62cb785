//! The materials bench in a browser: what is typed is kept with the job and worked each time it is looked at; what comes out can be put into the job as an
//! entry of its catalogue. Cautions stand before everything that burns. It holds no procedure for slaking.

mod fields;
mod shown;

use axum::Router;
use axum::extract::State;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use job::Problem;
use job::bench::{LimeReport, MortarReport, SandReport, SlakeReport};
use job::edit::Editing;
use materials::bench::{ACID_CAUTIONS, SLAKING_CAUTIONS};
use maud::{Markup, html};

use crate::doors::Visitor;
use crate::extract::{Address, Typed};
use crate::layout::{Page, answer, changes_jobs, job_page, part};
use crate::pages::Standing;
use crate::pages::start::{only_for_changers, title_of};
use crate::{App, PageError};

/// The benches: address, name, and what each answers.
const BENCHES: [(&str, &str, &str); 4] = [
    ("sand", "Sand", "Sieves, void test, bulking and silt: what a sand is good for, a blend, a delivery."),
    ("lime", "Lime", "What limes are worth against each other by a litre jug, and a batch card to print."),
    ("slake", "Slaking bath", "Heat, steam and putty of a bath, and when to slake. It tells no way of slaking."),
    ("mortar", "Old mortar", "What an old mortar was, by acid or by heat, and the nearest repair mix."),
];

/// Most bytes of what was typed.
const MOST: u64 = 256 * 1024;

/// The bench's pages.
pub fn routes() -> Router<App> {
    Router::new()
        .route("/jobs/{slug}/materials", get(benches))
        .route("/jobs/{slug}/materials/{bench}", get(bench).post(work))
        .route("/jobs/{slug}/materials/{bench}/entry", post(keep))
        .route("/jobs/{slug}/materials/lime/card.pdf", get(card))
}

async fn benches(State(app): State<App>, who: Visitor, Address(slug): Address<String>) -> Result<Markup, PageError> {
    let job = Standing::of(&app, &slug).await?;
    let listed = html! {
        ul.jobs { @for (bench, name, says) in BENCHES { li { h3 { a href=(job.address(&format!("materials/{bench}"))) { (name) } } p { (says) } } } }
    };
    let sentence = html! { "Sieves, a jug and a scale say what the mortar will be." };
    let then = html! { "What comes out can be put into the job: then specification, order, curing and price go by it." };
    let body = html! { (answer("", &sentence, &then)) (part("The bench", &html! {}, &listed)) };
    Ok(job_page(&Page { job: &job, who: &who, here: "materials", title: "Materials", body }))
}

fn named(bench: &str) -> Result<&'static (&'static str, &'static str, &'static str), PageError> {
    BENCHES.iter().find(|(known, ..)| *known == bench).ok_or_else(|| PageError::nothing("bench"))
}

/// What the bench made of what was typed.
enum Report {
    Sand(Box<SandReport>),
    Lime(Box<LimeReport>),
    Slake(Box<SlakeReport>),
    Mortar(Box<MortarReport>),
}

fn worked(bench: &str, typed: &Typed) -> Result<Report, Vec<Problem>> {
    let text = fields::file(bench, typed);
    match bench {
        "sand" => job::bench::read_sand(&text, "the form").map(|report| Report::Sand(Box::new(report))),
        "lime" => job::bench::read_lime(&text, "the form").map(|report| Report::Lime(Box::new(report))),
        "slake" => job::bench::read_slake(&text, "the form").map(|report| Report::Slake(Box::new(report))),
        _ => job::bench::read_mortar(&text, "the form").map(|report| Report::Mortar(Box::new(report))),
    }
}

fn kept_name(bench: &str) -> String {
    format!("bench-{bench}.json")
}

/// What was typed last, as it lies with the job; nothing where nothing was.
async fn typed_last(app: &App, slug: &str, bench: &str) -> Result<Option<Typed>, PageError> {
    let (slug, name) = (slug.to_owned(), kept_name(bench));
    let bytes = app.read(move |book| book.attachment(&slug, &name)?.map(|attached| book.blob_bytes(&attached.sha256)).transpose()).await?;
    Ok(bytes.and_then(|bytes| serde_json::from_slice::<Vec<(String, String)>>(&bytes).ok()).map(|pairs| pairs.into_iter().collect()))
}

async fn bench(State(app): State<App>, who: Visitor, Address((slug, bench)): Address<(String, String)>) -> Result<Markup, PageError> {
    named(&bench)?;
    let job = Standing::of(&app, &slug).await?;
    let typed = typed_last(&app, &slug, &bench).await?;
    let report = typed.as_ref().map(|typed| worked(&bench, typed));
    let typed = typed.unwrap_or_else(|| begun(&job, &bench));
    let (report, problems) = match report {
        Some(Ok(report)) => (Some(report), Vec::new()),
        Some(Err(problems)) => (None, problems),
        None => (None, Vec::new()),
    };
    page(&job, &who, &bench, &typed, report.as_ref(), &problems)
}

/// What can be filled in from the job before anybody has typed: the day on which its first coat goes on.
fn begun(job: &Standing, bench: &str) -> Typed {
    let first = job.saved.as_ref().and_then(|saved| saved.plan.programme.run(None)).and_then(|run| {
        let tasks = run.walls.iter().flat_map(|wall| &wall.tasks);
        tasks.filter(|task| task.slug != "preparation").map(|task| task.from).min()
    });
    match (bench, first) {
        ("slake", Some(day)) => [("throwing_day".to_owned(), day.to_string())].into_iter().collect(),
        _ => Typed::default(),
    }
}

fn page(
    job: &Standing,
    who: &Visitor,
    bench: &str,
    typed: &Typed,
    report: Option<&Report>,
    problems: &[Problem],
) -> Result<Markup, PageError> {
    let (_, name, says) = named(bench)?;
    let first: &[&str] = match bench {
        "slake" => &SLAKING_CAUTIONS,
        "mortar" => &ACID_CAUTIONS,
        _ => &[],
    };
    let here = job.address(&format!("materials/{bench}"));
    let form = html! {
        form method="post" action=(here) data-keeps="" { (fields::form(bench, typed)) div.does { button.btn.first type="submit" { "Work it out" } } }
    };
    let body = html! {
        (answer("", &html! { @match report { Some(report) => (shown::sentence(report)), None => (says) } }, &html! { a href=(job.address("materials")) { "All of the bench" } }))
        @if !first.is_empty() { (part("Before anything", &html! {}, &html! { div.stop role="note" { ul { @for caution in first { li { (caution) } } } } })) }
        @if !problems.is_empty() { (part("", &html! {}, &told(problems))) }
        @if let Some(report) = report { (shown::report(job, who, report)) }
        @if changes_jobs(who) { (part("What was measured", &html! { p { "Leave empty what was not. Lists with blanks between." } }, &form)) }
    };
    Ok(job_page(&Page { job, who, here: "materials", title: name, body }))
}

fn told(problems: &[Problem]) -> Markup {
    html! {
        div.stop role="alert" {
            h2 { (crate::words::capital(&crate::words::counted(problems.len(), "problem", "problems"))) "; what you typed stands below." }
            ul { @for problem in problems { li { @if !problem.path.is_empty() { b { (problem.path) } ": " } (problem.found) " " (problem.allowed) " " (problem.remedy) } } }
        }
    }
}

async fn work(
    State(app): State<App>,
    who: Visitor,
    Address((slug, bench)): Address<(String, String)>,
    typed: Typed,
) -> Result<Response, PageError> {
    only_for_changers(&who)?;
    named(&bench)?;
    if let Err(problems) = worked(&bench, &typed) {
        let job = Standing::of(&app, &slug).await?;
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, page(&job, &who, &bench, &typed, None, &problems)?).into_response());
    }
    let pairs: Vec<(String, String)> =
        typed.iter().filter(|(_, value)| !value.is_empty()).map(|(name, value)| (name.to_owned(), value)).collect();
    let bytes = serde_json::to_vec(&pairs).map_err(|error| PageError::machine(format!("The form could not be kept: {error}.")))?;
    let (own, name) = (slug.clone(), kept_name(&bench));
    app.write(move |book| {
        let sha256 = book.put_blob(&mut bytes.as_slice(), MOST)?;
        book.attach(&own, &name, &sha256)
    })
    .await?;
    Ok(Redirect::to(&format!("/jobs/{slug}/materials/{bench}")).into_response())
}

/// An entry that a report offers, and the field of the job that would use it.
fn entry<'r>(report: &'r Report, which: &str) -> Option<(&'r str, &'static str)> {
    match (report, which) {
        (Report::Sand(report), "blend") => report.blend.as_ref().map(|blend| (blend.entry.as_str(), "system.sand")),
        (Report::Sand(report), "arrival") => report.arrival.as_ref().map(|arrival| (arrival.entry.as_str(), "system.sand")),
        (Report::Lime(report), "arrival") => report.arrival.as_ref().map(|arrival| (arrival.entry.as_str(), "system.lime")),
        _ => None,
    }
}

/// Puts an entry into the job's own catalogue, and uses it if that was asked.
async fn keep(
    State(app): State<App>,
    who: Visitor,
    Address((slug, bench)): Address<(String, String)>,
    asked: Typed,
) -> Result<Redirect, PageError> {
    only_for_changers(&who)?;
    let typed = typed_last(&app, &slug, &bench).await?.ok_or_else(|| PageError::nothing("measurement"))?;
    let report = worked(&bench, &typed).map_err(|_| PageError::nothing("entry"))?;
    let (text, field) = entry(&report, &asked.text("which")).ok_or_else(|| PageError::nothing("entry"))?;
    let (text, uses, made_on) = (text.to_owned(), asked.text("use") == "yes", asked.made_on()?);
    let own = slug.clone();
    app.write(move |book| Ok(put(book, &own, made_on, &text, uses.then_some(field)))).await??;
    Ok(Redirect::to(&format!("/jobs/{slug}/materials/{bench}")))
}

fn put(book: &store::Book, slug: &str, made_on: i64, entry: &str, field: Option<&str>) -> Result<(), PageError> {
    let stood = book.job(slug)?;
    let table = entry.lines().next().unwrap_or_default().trim_matches(['[', ']']).to_owned();
    let name = table.rsplit('.').next().unwrap_or_default().to_owned();
    let refused = |says: String| PageError::new(StatusCode::UNPROCESSABLE_ENTITY, says, "Nothing was changed.");
    let mut editing = Editing::open(&stood.text).ok_or_else(|| refused("The job file cannot be read.".to_owned()))?;
    editing.remove(&table);
    let mut editing = Editing::open(&format!("{}\n\n{entry}", editing.text().trim_end()))
        .ok_or_else(|| refused("The entry does not fit into the job file.".to_owned()))?;
    if let Some(field) = field {
        editing.set(field, &name).map_err(|error| refused(error.to_string()))?;
    }
    let text = editing.text();
    job::read(&text, "the job").map_err(|problems| refused(problems.iter().map(ToString::to_string).collect::<Vec<_>>().join(" ")))?;
    book.save_job(slug, made_on, &title_of(&text), &text, &format!("from the bench: {name}"))?;
    Ok(())
}

#[cfg(feature = "pdf")]
async fn card(State(app): State<App>, Address(slug): Address<String>) -> Result<Response, PageError> {
    let typed = typed_last(&app, &slug, "lime").await?.ok_or_else(|| PageError::nothing("batch card"))?;
    let Ok(Report::Lime(report)) = worked("lime", &typed) else { return Err(PageError::nothing("batch card")) };
    let batch = report.batch.as_ref().ok_or_else(|| PageError::nothing("batch card"))?;
    let catalogue = materials::Catalogue::shipped();
    let due = catalogue.cautions.iter().filter(|caution| caution.is_always_shown_in("lime") || caution.is_called_for_by("lime"));
    let sheet = documents::BatchSheet {
        title: &report.title,
        lime: &batch.lime,
        sand: &batch.sand,
        parts: batch.parts,
        mixer_l: batch.mixer_l,
        day_l: batch.day_l,
        box_l: batch.box_l,
        moisture_share: batch.moisture_share,
        bulking: batch.bulking,
        lime_unit: &batch.lime_unit,
        sand_unit: &batch.sand_unit,
        card: &batch.card,
        hot: batch.hot,
        cautions: due.map(|caution| caution.words.as_str()).collect(),
        dated: jiff::ZonedDateTime::now().date(),
    };
    let bytes = documents::batch_pdf(&sheet).map_err(|error| PageError::machine(error.to_string()))?;
    let headers = [(header::CONTENT_TYPE, "application/pdf"), (header::CONTENT_DISPOSITION, "inline; filename=\"batch-card.pdf\"")];
    Ok((headers, bytes).into_response())
}

#[cfg(not(feature = "pdf"))]
async fn card() -> PageError {
    PageError::nothing("batch card")
}
