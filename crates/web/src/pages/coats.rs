//! The coats: the section through each wall as the form. Thickness and mix are typed under the drawing where each coat lies; what follows is told as
//! findings when the plan is reckoned again.

use axum::Router;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::get;
use job::edit::Editing;
use maud::{Markup, html};
use serde::Deserialize;

use crate::doors::Visitor;
use crate::draw::section_of;
use crate::extract::{Address, Asked, Typed};
use crate::layout::{Page, answer, changes_jobs, inline_svg, job_page, part, wide};
use crate::pages::Standing;
use crate::pages::start::{only_for_changers, problems_of, title_of};
use crate::plan::{Coat, Finding, Plan, SpecifiedWall};
use crate::words::{capital, counted, mix, mm};
use crate::{App, PageError};

/// The sheet, and coats typed into it.
pub fn routes() -> Router<App> {
    Router::new().route("/jobs/{slug}/coats", get(coats).post(keep))
}

/// The wall looked at.
#[derive(Debug, Default, Deserialize)]
struct Looked {
    wall: Option<String>,
}

async fn coats(
    State(app): State<App>,
    who: Visitor,
    Address(slug): Address<String>,
    Asked(looked): Asked<Looked>,
) -> Result<Markup, PageError> {
    let job = Standing::of(&app, &slug).await?;
    Ok(page(&job, &who, looked.wall.as_deref(), None, &html! {}))
}

fn page(job: &Standing, who: &Visitor, wall: Option<&str>, typed: Option<&Typed>, told: &Markup) -> Markup {
    let body = match &job.saved {
        None => answer(
            "",
            &html! { "No coats are chosen yet." },
            &html! { "Reckon the plan: the coats follow from the walls, their exposure and the season." },
        ),
        Some(saved) => {
            let walls = &saved.plan.specification.walls;
            let shown = walls.iter().find(|each| Some(each.slug.as_str()) == wall).or(walls.first());
            match shown {
                Some(shown) => of_wall(job, who, &saved.plan, shown, saved.figure(&section_of(&shown.slug)), typed, told),
                None => answer("", &html! { "The plan holds no wall." }, &html! {}),
            }
        }
    };
    job_page(&Page { job, who, here: "coats", title: "Coats", body })
}

fn of_wall(
    job: &Standing,
    who: &Visitor,
    plan: &Plan,
    wall: &SpecifiedWall,
    section: Option<&str>,
    typed: Option<&Typed>,
    told: &Markup,
) -> Markup {
    let harl: f64 = wall.coats.iter().map(|coat| coat.thickness_m[1]).sum();
    let departs: Vec<&Finding> = plan.findings.iter().filter(|finding| finding.grade != "agrees" && about(finding, &wall.slug)).collect();
    let sentence = html! {
        (capital(&counted(wall.coats.len(), "coat", "coats"))) ", " (mm(harl)) " in all, on the " (job.wall_name(&wall.slug).to_lowercase()) ". "
        @match departs.iter().filter(|finding| finding.grade != "note").count() {
            0 => "Nothing departs from good practice.",
            1 => "One thing is to be decided.",
            count => { (capital(&crate::words::count(count))) " things are to be decided." },
        }
    };
    let pick = html! {
        ul.wallpick { @for other in &plan.specification.walls { li { a href={ (job.address("coats")) "?wall=" (other.slug) } aria-current=[(other.slug == wall.slug).then_some("true")] { (job.wall_name(&other.slug)) } } } }
    };
    let matter = html! {
        (told)
        (pick)
        @if let Some(section) = section { (wide("Section through the wall and its coats", &inline_svg(section, "section"))) }
        @if changes_jobs(who) { (form(job, plan, wall, typed)) } @else { div.cols { @for coat in &wall.coats { div { (words_of(plan, coat)) } } } }
    };
    html! {
        (answer("The section of one wall. The others differ where their stone and relief do.", &sentence, &html! { "Strongest against the stone, weakest to the weather. Thickness and mix are typed where the coat lies." }))
        (part("The section", &html! { p { "Above the wall from room to weather, below its face enlarged, the sand at its own size." } }, &matter))
        (part("Findings", &html! { p { "Stop, think, note; then what was checked and agrees." } }, &findings(plan, &wall.slug)))
        (part("Preparation", &html! {}, &html! { ol { @for sentence in &plan.specification.preparation { li { (sentence) } } } p { b { "Sample panel. " } (plan.specification.panel.words) } }))
    }
}

/// True if a finding is about this wall or about the whole job.
fn about(finding: &Finding, slug: &str) -> bool {
    finding.place.strip_prefix("walls.").is_none_or(|rest| rest.split('.').next() == Some(slug))
}

fn findings(plan: &Plan, slug: &str) -> Markup {
    let (says, agrees): (Vec<&Finding>, Vec<&Finding>) =
        plan.findings.iter().filter(|finding| about(finding, slug)).partition(|finding| finding.grade != "agrees");
    let one = |finding: &Finding| {
        let class = match finding.grade.as_str() {
            "stop" => "stop-here",
            other => other,
        };
        html! {
            li class=(class) {
                p.says { (capital(&finding.grade)) }
                div { p { b { (finding.says) } } p { (finding.reason) @if !finding.remedy.is_empty() { " " b { "Do: " } (finding.remedy) } } }
                p.src { (capital(&finding.source)) }
            }
        }
    };
    html! {
        ul.findings { @for finding in &says { (one(finding)) } }
        details.more { summary { (capital(&counted(agrees.len(), "rule agrees", "rules agree"))) span.note { "what was checked" } } ul.findings { @for finding in &agrees { (one(finding)) } } }
    }
}

/// What a coat is, in words.
fn words_of(plan: &Plan, coat: &Coat) -> Markup {
    let name = |slug: &str| {
        plan.quantities.materials.iter().find(|material| material.slug == slug).map_or(slug.to_owned(), |material| material.name.clone())
    };
    html! {
        dl {
            dt { "Lime" } dd { (name(&coat.lime)) }
            dt { "Sand" } dd { (name(&coat.sand)) }
            dt { "Placed" } dd { (coat.method) }
            dt { "Ready when" } dd { (coat.test) }
            dt { "Cover" } dd { "hung " (coat.cover_days) " days, kept damp " (coat.damp_days) ", wetted " (documents::words::times(coat.wettings_a_day)) " a day" }
        }
    }
}

/// The coats of a wall as fields under the section. Kept, they are the coats of every wall.
fn form(job: &Standing, plan: &Plan, wall: &SpecifiedWall, typed: Option<&Typed>) -> Markup {
    let editing = Editing::open(&job.job.text).unwrap_or_else(Editing::empty);
    let given = !editing.names("system.coats").is_empty();
    let value = |slug: &str, key: &str, stands: String| typed.and_then(|typed| typed.get(&format!("{slug}.{key}"))).unwrap_or(stands);
    html! {
        form method="post" action=(job.address("coats")) data-keeps="" {
            input type="hidden" name="version" value=(job.job.version);
            input type="hidden" name="wall" value=(wall.slug);
            button.vh type="submit" name="do" value="keep" tabindex="-1" aria-hidden="true" { "Keep" }
            div.cols {
                @for coat in &wall.coats {
                    div {
                        h3 { (coat.name) }
                        input type="hidden" name="coat" value=(coat.slug);
                        input type="hidden" name={ (coat.slug) ".kind" } value=(coat.kind);
                        input type="hidden" name={ (coat.slug) ".lime" } value=(coat.lime);
                        input type="hidden" name={ (coat.slug) ".sand" } value=(coat.sand);
                        input type="hidden" name={ (coat.slug) ".placing" } value=(coat.placing);
                        div.field { label for={ (coat.slug) "-thick" } { "Thickness" } div.in { input type="text" id={ (coat.slug) "-thick" } name={ (coat.slug) ".thickness_mm" } value=(value(&coat.slug, "thickness_mm", documents::words::trimmed(coat.thickness_m[1] * 1000.0, 1))) autocomplete="off"; span.unit { "mm" } } }
                        div.field { label for={ (coat.slug) "-mix" } { "Lime to sand" } div.in { input type="text" id={ (coat.slug) "-mix" } name={ (coat.slug) ".mix" } value=(value(&coat.slug, "mix", mix(coat.sand_parts).replace(' ', ""))) autocomplete="off"; span.unit { "by volume" } } }
                        (words_of(plan, coat))
                    }
                }
                div {
                    h3 { "Limewash" }
                    dl {
                        dt { "Coats" } dd { (wall.limewash.coats) ", " (wall.limewash.interval_h) " hours apart at least" }
                        dt { "Gauged" } dd { "1 : " (documents::words::parts(wall.limewash.water_parts)) " putty to water" }
                        dt { "Colour" } dd { (wall.limewash.colour) }
                    }
                    p.note { a href=(job.address("form/system")) { "Limewash, colour, limes and sands" } }
                }
            }
            div.does {
                button.btn.first type="submit" name="do" value="keep" { "Keep these for every wall" }
                @if given { button type="submit" name="do" value="choose" { "Let them be chosen again" } }
                span.note { @if given { "These coats are given by the job." } @else { "These coats were chosen. Kept, they are given by the job." } }
            }
        }
    }
}

async fn keep(State(app): State<App>, who: Visitor, Address(slug): Address<String>, typed: Typed) -> Result<Response, PageError> {
    only_for_changers(&who)?;
    let job = Standing::of(&app, &slug).await?;
    let (made_on, wall) = (typed.made_on()?, typed.text("wall"));
    if made_on != job.job.version {
        let told = html! { div.stop role="alert" { h2 { "The job was changed elsewhere while you typed." } p { "Nothing you typed is lost: it stands below, unkept. Look it through and keep it." } } };
        return Ok((StatusCode::CONFLICT, page(&job, &who, Some(&wall), Some(&typed), &told)).into_response());
    }
    let mut editing = Editing::open(&job.job.text).unwrap_or_else(Editing::empty);
    editing.remove("system.coats");
    let chooses = typed.text("do") == "choose";
    let mut faults = Vec::new();
    if !chooses {
        for coat in typed.text("coat").split(", ") {
            for key in ["kind", "lime", "sand", "mix", "thickness_mm", "placing"] {
                if let Err(refused) = editing.set(&format!("system.coats.{coat}.{key}"), &typed.text(&format!("{coat}.{key}"))) {
                    faults.push(refused);
                }
            }
        }
    }
    let text = editing.text();
    let problems = job::read(&text, "the job").err().unwrap_or_default();
    if !faults.is_empty() || !problems.is_empty() {
        let told = html! {
            @if faults.is_empty() { (problems_of(&problems)) } @else { div.stop role="alert" { h2 { "Not kept." } ul { @for fault in &faults { li { b { (fault.path) } ": " (fault) } } } } }
        };
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, page(&job, &who, Some(&wall), Some(&typed), &told)).into_response());
    }
    let (title, what) = (title_of(&text), if chooses { "coats chosen again" } else { "coats, as typed on the section" });
    app.write(move |book| book.save_job(&slug, made_on, &title, &text, what)).await?;
    Ok(Redirect::to(&format!("{}?wall={wall}", job.address("coats"))).into_response())
}
