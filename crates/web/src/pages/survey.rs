//! The survey: the walls drawn to scale from the job as it stands, planned or not; every table of the job file with its form; the weather and the
//! other files that lie with the job.

use axum::Router;
use axum::extract::State;
use axum::routing::get;
use job::edit::Editing;
use maud::{Markup, html};
use store::Attachment;

use crate::doors::Visitor;
use crate::draw::theme;
use crate::extract::Address;
use crate::forms::{TABLES, heading_of};
use crate::layout::{Page, answer, changes_jobs, inline_svg, job_page, part};
use crate::pages::Standing;
use crate::words::{capital, counted, trimmed};
use crate::{App, PageError};

/// The sheet.
pub fn routes() -> Router<App> {
    Router::new().route("/jobs/{slug}/survey", get(survey))
}

async fn survey(State(app): State<App>, who: Visitor, Address(slug): Address<String>) -> Result<Markup, PageError> {
    let job = Standing::of(&app, &slug).await?;
    let name = slug.clone();
    let files = app.read(move |book| book.attachments(&name)).await?;
    let editing = Editing::open(&job.job.text).unwrap_or_else(Editing::empty);
    let body = html! {
        (opening(&job))
        (walls(&job, &who, &editing))
        (part("The rest", &html! { p { "Every value of the job has its place in one of these." } (crate::pages::form::undo(&job)) }, &rest(&job, &who, &editing)))
        (part("Files", &html! { p { "What lies with the job in the book." } }, &with_it(&job, &who, &editing, &files)))
    };
    Ok(job_page(&Page { job: &job, who: &who, here: "survey", title: "Survey", body }))
}

fn opening(job: &Standing) -> Markup {
    let Ok(read) = &job.read else {
        return answer(
            "",
            &html! { "The job file does not read." },
            &html! { a href=(job.address("file")) { "Mend it" } " as text; every problem is told there with its line." },
        );
    };
    let building = &read.inputs.building;
    let count = capital(&counted(building.walls.len(), "wall", "walls"));
    let measured = survey::measure(building.clone());
    let area = measured.as_ref().ok().map(|survey| survey.walls.iter().map(|wall| wall.net_m2 + wall.reveal_m2).sum::<f64>());
    let sentence = html! { (count) @if let Some(area) = area { ", " (trimmed(area, 0)) " m² to harl" } @if !read.assumed.is_empty() { "; " (counted(read.assumed.len(), "value is", "values are")) " still assumed" } "." };
    let then = html! {
        "Looked at on " (looked_at(&building.surveyed_on)) ", " (if building.stage == survey::Stage::AfterOpeningUp { "after opening up." } else { "before stripping: quantities are ranges." })
        @if let Err(faults) = &measured { @for fault in faults { " " b { (fault) } } }
    };
    answer("A wall opens its form.", &sentence, &then)
}

fn looked_at(date: &str) -> String {
    date.parse().map_or_else(|_| date.to_owned(), crate::words::long_day)
}

fn walls(job: &Standing, who: &Visitor, editing: &Editing) -> Markup {
    let matter = html! {
        // All at one scale side by side; on a phone each by itself, because four in a row would be too small to read.
        @if let Ok(read) = &job.read {
            figure.on-wide { (drawn(&read.inputs.building, &read.inputs.building.walls, 1100.0)) }
        }
        div.walls.words {
            @for name in editing.names("walls") {
                div.wall {
                    div.on-narrow { (one_wall(job, &name)) }
                    h3 { a href=(job.address(&format!("form/walls.{name}"))) { (heading_of(editing, &format!("walls.{name}"))) } }
                    p.says { (assumed_on(job, &name)) }
                }
            }
        }
        @if changes_jobs(who) {
            form.does method="get" action=(job.address("form")) {
                div.field { label for="wall" { "Another wall" } p.help { "What the gang calls it." } div.in { input.long type="text" id="wall" name="wall" required placeholder="porch" autocomplete="off"; button type="submit" { "Add it" } } }
            }
        }
    };
    part("The walls", &html! { p { "Walked round with the sun, each from outside" span.not-narrow { ", all at one scale" } "." } }, &matter)
}

/// What nobody has answered for on a wall.
fn assumed_on(job: &Standing, wall: &str) -> String {
    let Ok(read) = &job.read else { return String::new() };
    let prefix = format!("walls.{wall}.");
    let names: Vec<&str> = read
        .assumed
        .iter()
        .filter(|assumed| assumed.path.starts_with(&prefix))
        .map(|assumed| job::field(&assumed.path).map_or(assumed.label.as_str(), |field| field.label))
        .collect();
    match names.len() {
        0 => "Nothing on it is assumed.".to_owned(),
        1..=3 => format!("Assumed: {}.", names.join("; ")),
        more => format!("{more} values on it are assumed."),
    }
}

fn one_wall(job: &Standing, name: &str) -> Markup {
    let Ok(read) = &job.read else { return html! {} };
    let found: Vec<_> = read.inputs.building.walls.iter().filter(|wall| wall.slug == name).cloned().collect();
    drawn(&read.inputs.building, &found, 330.0)
}

/// The drawing of a wall from a text that may not read as a whole; says so where it cannot be drawn.
pub fn wall_drawing(text: &str, slug: &str) -> Markup {
    match job::read(text, "the job") {
        Ok(read) => {
            let found: Vec<_> = read.inputs.building.walls.iter().filter(|wall| wall.slug == slug).cloned().collect();
            if found.is_empty() {
                html! { p.note { "Nothing to draw yet: write length, height and which way it faces." } }
            } else {
                drawn(&read.inputs.building, &found, 450.0)
            }
        }
        Err(problems) => {
            let prefix = format!("walls.{slug}");
            let first = problems.iter().find(|problem| problem.path.starts_with(&prefix)).or(problems.first());
            html! { p.note role="status" { b { "Cannot be drawn as typed: " } @if let Some(problem) = first { (problem.found) " " (problem.remedy) } } }
        }
    }
}

fn drawn(building: &survey::Building, found: &[survey::WallFound], wide: f64) -> Markup {
    let measured = survey::measure(building.clone()).map(|survey| survey.walls).unwrap_or_default();
    let figure = documents::figures::surveyed(found, &measured, &theme(wide));
    let name =
        if found.len() > 1 { "walls".to_owned() } else { found.first().map_or_else(String::new, |wall| format!("wall-{}", wall.slug)) };
    inline_svg(&figure.svg, &name)
}

fn rest(job: &Standing, who: &Visitor, editing: &Editing) -> Markup {
    let count = |table: &str| {
        let read = job.read.as_ref().ok();
        read.map_or(0, |read| read.assumed.iter().filter(|assumed| assumed.path.starts_with(&format!("{table}."))).count())
    };
    html! {
        ul.index {
            @for at in TABLES.iter().filter(|at| who.sees_prices() || at.leaf != "price") {
                li {
                    a href=(job.address(&format!("form/{}", at.path))) { (heading_of(editing, at.path)) }
                    span.soft { @let assumed = count(at.path); @if assumed > 0 { (assumed) " assumed" } }
                }
            }
            li { a href=(job.address("file")) { "The file itself, as text" } span {} }
        }
    }
}

fn with_it(job: &Standing, who: &Visitor, editing: &Editing, files: &[Attachment]) -> Markup {
    let named = editing.written("weather.file");
    let missing = named.as_ref().filter(|named| !files.iter().any(|file| file.name == **named));
    html! {
        @if let Some(named) = missing { div.stop { h2 { "The weather file " (named) " is not here yet." } p { "Bring it in below, or take its name out under Weather: gaps then go by rule of thumb, without odds." } } }
        @if !files.is_empty() {
            table.stack {
                thead { tr { th { "File" } th { "Used for" } th.n { "Size" } } }
                tbody { @for file in files { tr {
                    td data-l="File" { a href=(job.address(&format!("files/{}", file.name))) { (file.name) } }
                    td data-l="Used for" { @if named.as_deref() == Some(file.name.as_str()) { "the weather of the job" } @else { "kept" } }
                    td.n data-l="Size" { (file.bytes.div_ceil(1024)) " kB" }
                } } }
            }
        }
        @if changes_jobs(who) {
            form method="post" action=(job.address("files")) enctype="multipart/form-data" {
                div.field.whole {
                    label for="file" { "Bring in a file" }
                    p.help { "Hourly weather (EPW, TMY3 or harlwright's CSV) is checked at once and used for the next plan; any other file is kept with the job. At most 512 MB." }
                    div.in { input type="file" id="file" name="file" required; button type="submit" { "Bring it in" } }
                }
            }
        }
    }
}
