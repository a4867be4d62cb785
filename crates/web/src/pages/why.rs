//! Why a figure is what it is: the tree of reasons under it, each with its formula, its source, and whether it was assumed.

use std::collections::BTreeSet;

use axum::Router;
use axum::extract::State;
use axum::routing::get;
use maud::{Markup, html};

use crate::doors::Visitor;
use crate::extract::Address;
use crate::layout::{Page, answer, job_page, part};
use crate::pages::Standing;
use crate::plan::{Input, Plan, Reckoning};
use crate::words::{capital, counted};
use crate::{App, PageError};

/// All figures, and one.
pub fn routes() -> Router<App> {
    Router::new().route("/jobs/{slug}/why", get(index)).route("/jobs/{slug}/why/{path}", get(one))
}

/// Deepest the tree is drawn; below stands a link.
const DEEPEST: usize = 7;

fn plan_of<'a>(job: &'a Standing, who: &Visitor) -> Result<&'a Plan, PageError> {
    if !who.sees_prices() {
        return Err(PageError::not_yours());
    }
    job.saved
        .as_ref()
        .map(|saved| &saved.plan)
        .ok_or_else(|| PageError::bad("Nothing is reckoned yet, so there is nothing to ask.", "Reckon the plan first."))
}

async fn index(State(app): State<App>, who: Visitor, Address(slug): Address<String>) -> Result<Markup, PageError> {
    let job = Standing::of(&app, &slug).await?;
    let plan = plan_of(&job, &who)?;
    let sentence = html! { (capital(&counted(plan.reckonings.len(), "figure", "figures"))) " can be asked why." };
    let groups: BTreeSet<&str> = plan.reckonings.keys().map(|path| group(path)).collect();
    let body = html! {
        (answer("", &sentence, &html! { "Each opens into what it was worked from, down to what somebody measured or nobody did." }))
        @for name in groups {
            (part(&heading(&job, name), &html! {}, &html! {
                ul.index {
                    @for (path, reckoning) in plan.reckonings.iter().filter(|(path, _)| group(path) == name) {
                        li { a href=(job.address(&format!("why/{path}"))) { (reckoning.label) } b { (reckoning.value) } }
                    }
                }
            }))
        }
    };
    Ok(job_page(&Page { job: &job, who: &who, here: "why", title: "Why", body }))
}

/// First part of a path; of a wall, the wall with it.
fn group(path: &str) -> &str {
    let parts = if path.starts_with("walls.") { 2 } else { 1 };
    let end = path.match_indices('.').nth(parts - 1).map_or(path.len(), |(at, _)| at);
    &path[..end]
}

fn heading(job: &Standing, group: &str) -> String {
    match group.strip_prefix("walls.") {
        Some(slug) => job.wall_name(slug).to_owned(),
        None => capital(&group.replace('-', " ")),
    }
}

async fn one(State(app): State<App>, who: Visitor, Address((slug, path)): Address<(String, String)>) -> Result<Markup, PageError> {
    let job = Standing::of(&app, &slug).await?;
    let plan = plan_of(&job, &who)?;
    let Some(reckoning) = plan.reckonings.get(&path) else {
        return Err(PageError::new(
            axum::http::StatusCode::NOT_FOUND,
            format!("There is no figure {path} in this plan."),
            "All that can be asked stand under Why.",
        ));
    };
    let assumptions = assumed(plan, reckoning);
    let sentence = html! { (reckoning.label) ": " (reckoning.value) "." };
    let then = html! {
        @if reckoning.formula.is_empty() { (capital(&reckoning.source)) "." } @else { (capital(&reckoning.formula)) "." }
        @if assumptions.is_empty() { " Nothing under it is assumed." } @else { " It rests on " (counted(assumptions.len(), "assumption", "assumptions")) ": " (assumptions.iter().cloned().collect::<Vec<_>>().join("; ")) "." }
    };
    let tree = html! { ul.tree { (node(&job, plan, reckoning, 0, &mut vec![])) } };
    let used: Vec<&Reckoning> = plan.reckonings.values().filter(|other| other.path != path && uses(other, &path)).collect();
    let body = html! {
        (answer("", &sentence, &then))
        (part("The reckoning", &html! { p { "Read it downward: each figure is worked from those hung under it." } p { "As the plan was saved; sources stand beside." } }, &tree))
        @if !used.is_empty() {
            (part("Goes into", &html! {}, &html! { ul.index { @for other in used { li { a href=(job.address(&format!("why/{}", other.path))) { (other.label) } b { (other.value) } } } } }))
        }
        (part("", &html! {}, &html! { p { a href=(job.address("why")) { "All figures" } } }))
    };
    Ok(job_page(&Page { job: &job, who: &who, here: "why", title: "Why", body }))
}

fn uses(reckoning: &Reckoning, path: &str) -> bool {
    reckoning.inputs.iter().any(|input| match input {
        Input::Kept { path: kept } => kept == path,
        Input::Whole(whole) => whole.path == path || uses(whole, path),
    })
}

/// Everything assumed under a figure, each once.
fn assumed(plan: &Plan, reckoning: &Reckoning) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    let mut seen = BTreeSet::new();
    let mut left = vec![reckoning];
    while let Some(next) = left.pop() {
        if !seen.insert(next.path.as_str()) {
            continue;
        }
        if next.assumed {
            found.insert(format!("{}, {}", next.label.to_lowercase(), next.value));
        }
        left.extend(next.inputs.iter().filter_map(|input| match input {
            Input::Whole(whole) => Some(whole),
            Input::Kept { path } => plan.reckonings.get(path),
        }));
    }
    found
}

fn node<'p>(job: &Standing, plan: &'p Plan, reckoning: &'p Reckoning, depth: usize, above: &mut Vec<&'p str>) -> Markup {
    let asked = plan.reckonings.contains_key(&reckoning.path) && depth > 0;
    let goes_on = depth < DEEPEST && !above.contains(&reckoning.path.as_str());
    above.push(&reckoning.path);
    let below = html! {
        @if goes_on && !reckoning.inputs.is_empty() {
            ul {
                @for input in &reckoning.inputs {
                    @match input {
                        Input::Whole(whole) => (node(job, plan, whole, depth + 1, above)),
                        Input::Kept { path } => @if let Some(kept) = plan.reckonings.get(path) { (node(job, plan, kept, depth + 1, above)) },
                    }
                }
            }
        }
    };
    above.pop();
    html! {
        li {
            div.nd {
                span { @if asked { a.why href=(job.address(&format!("why/{}", reckoning.path))) { (reckoning.label) } } @else { (reckoning.label) } @if reckoning.assumed { span.assumed { "assumed" } } }
                span.v { (reckoning.value) }
                span.f { (reckoning.formula) @if !reckoning.formula.is_empty() && !reckoning.source.is_empty() { ". " } (reckoning.source) }
            }
            (below)
        }
    }
}
