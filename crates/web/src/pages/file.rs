//! The job file as text: looked at, mended, taken away. Kept only whole and right.

use axum::Router;
use axum::extract::State;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::get;
use job::Problem;
use maud::{Markup, html};

use crate::doors::Visitor;
use crate::extract::{Address, Typed};
use crate::layout::{Page, answer, job_page, part};
use crate::pages::Standing;
use crate::pages::start::{only_for_changers, problems_of, title_of};
use crate::{App, PageError};

/// The file, and the file to take away.
pub fn routes() -> Router<App> {
    Router::new().route("/jobs/{slug}/file", get(show).post(keep)).route("/jobs/{slug}/job.toml", get(take))
}

async fn show(State(app): State<App>, who: Visitor, Address(slug): Address<String>) -> Result<Markup, PageError> {
    only_for_changers(&who)?;
    let job = Standing::of(&app, &slug).await?;
    let problems = job.read.as_ref().err().cloned().unwrap_or_default();
    Ok(page(&job, &who, &job.job.text, &problems, None))
}

fn page(job: &Standing, who: &Visitor, text: &str, problems: &[Problem], conflict: Option<&str>) -> Markup {
    let matter = html! {
        (problems_of(problems))
        @if let Some(theirs) = conflict {
            div.stop role="alert" {
                h2 { "The job was changed elsewhere while you typed." }
                p { "Your text stands below, unkept. Keeping it now puts it over these:" }
                ul { @for change in store::job_changes(theirs, &job.job.text) { li { b { (change.path) } " is now " (change.after.as_deref().unwrap_or("not written")) "." } } }
            }
        }
        form method="post" action=(job.address("file")) data-keeps="" {
            input type="hidden" name="version" value=(job.job.version);
            div.field.whole { label for="text" { "The whole job" } textarea.file id="text" name="text" spellcheck="false" { "\n" (text) } }
            div.does { button.btn.first type="submit" { "Keep" } a.btn.quiet href=(job.address("job.toml")) { "Take it away as a file" } }
        }
    };
    let sentence = html! { "The job as the file it is." };
    let body = html! { (answer("Comments and order are yours: forms change single lines and leave the rest.", &sentence, &html! { "The same text plans on the command line." })) (part("", &html! {}, &matter)) };
    job_page(&Page { job, who, here: "survey", title: "The file", body })
}

async fn keep(State(app): State<App>, who: Visitor, Address(slug): Address<String>, typed: Typed) -> Result<Response, PageError> {
    only_for_changers(&who)?;
    let job = Standing::of(&app, &slug).await?;
    let made_on = typed.made_on()?;
    let text = typed.text("text").replace("\r\n", "\n");
    if made_on != job.job.version {
        let name = slug.clone();
        let base = app.read(move |book| book.text_at(&name, made_on)).await?;
        return Ok((StatusCode::CONFLICT, page(&job, &who, &text, &[], Some(&base))).into_response());
    }
    if let Err(problems) = job::read(&text, "the job") {
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, page(&job, &who, &text, &problems, None)).into_response());
    }
    if text != job.job.text {
        let title = title_of(&text);
        app.write(move |book| book.save_job(&slug, made_on, &title, &text, "the file as text")).await?;
    }
    Ok(Redirect::to(&job.address("file")).into_response())
}

async fn take(State(app): State<App>, who: Visitor, Address(slug): Address<String>) -> Result<Response, PageError> {
    only_for_changers(&who)?;
    let name = slug.clone();
    let job = app.read(move |book| book.job(&name)).await?;
    let headers = [
        (header::CONTENT_TYPE, "application/toml; charset=utf-8".to_owned()),
        (header::CONTENT_DISPOSITION, format!("attachment; filename=\"{slug}.toml\"")),
    ];
    Ok((headers, job.text).into_response())
}
