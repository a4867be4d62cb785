//! Upkeep: what keeps the harl once it is on. No model of wear stands behind it yet, so nothing is reckoned for this wall here: the page gives the
//! trade's guidance, says so, and draws only what that guidance says.

use axum::Router;
use axum::extract::State;
use axum::routing::get;
use maud::{Markup, html};

use crate::doors::Visitor;
use crate::extract::Address;
use crate::layout::{Page, answer, job_page, part};
use crate::pages::Standing;
use crate::plan::Plan;
use crate::words::{capital, counted};
use crate::{App, PageError};

/// The sheet.
pub fn routes() -> Router<App> {
    Router::new().route("/jobs/{slug}/upkeep", get(upkeep))
}

async fn upkeep(State(app): State<App>, who: Visitor, Address(slug): Address<String>) -> Result<Markup, PageError> {
    let job = Standing::of(&app, &slug).await?;
    let body = match &job.saved {
        Some(saved) => sheet(&saved.plan),
        None => crate::pages::unplanned(&job),
    };
    Ok(job_page(&Page { job: &job, who: &who, here: "upkeep", title: "Upkeep", body }))
}

fn sheet(plan: &Plan) -> Markup {
    let colour = plan.specification.walls.first().map_or("the same colour", |wall| wall.limewash.colour.as_str());
    let guidance = documents::words::upkeep(colour);
    let sentence =
        html! { "Limewash it again at about five years, look at it every spring, and the harl behind lasts a hundred years and more." };
    let then = html! { "Common practice, no source: nothing on this page is reckoned for these walls. How fast their limewash wears is found by looking." };
    html! {
        (answer("", &sentence, &then))
        (part("A hundred years", &html! { p { "Drawn from the guidance beside it, not from a reckoning." } ul.key { li { (mark("M3 16 L9 4 M9 16 L15 4")) "Another coat of limewash" } li { (mark("M2 10 H18")) "Limewash whole" } li { (mark("M2 6 L6 14 M8 6 L12 14 M14 6 L18 14")) "Wearing through" } } }, &drawn()))
        (part("The guidance", &html! {}, &html! { @for sentence in guidance.split_inclusive(". ") { @if !sentence.trim().is_empty() { p { (sentence) } } } }))
        (part("What was put on", &html! { p { "So that whoever mends it uses the same." } }, &put_on(plan)))
    }
}

fn mark(path: &str) -> Markup {
    html! { svg.mk width="20" height="20" viewBox="0 0 20 20" aria-hidden="true" { path.cross d=(path) {} } }
}

/// The guidance as two lines of a hundred years: kept at about five years, and left alone until it is worn through in ten to fifteen.
fn drawn() -> Markup {
    let x = |year: u32| 100 + year * 9;
    let label = "A hundred years. Kept: another coat of limewash at about every fifth year, and it stays whole. Neglected: the limewash wears through in ten to fifteen years; the coats behind it then wear one at a time.";
    let kept: String = (5..100).step_by(5).map(|year| format!("M{} 78 l6 -20", x(year) - 3)).collect();
    html! {
        figure.wide tabindex="0" aria-label="A hundred years, kept and neglected" {
            svg.hundred viewBox="0 0 1100 210" role="img" aria-label=(label) {
                path.axis d={ "M100 30 H" (x(100)) } {}
                @for decade in 0..=10 { path.axis d={ "M" (x(decade * 10)) " 24 v12" } {} text.num x=(x(decade * 10)) y="16" { @if decade == 0 { "finished" } @else { (decade * 10) } } }
                text.wallname x="0" y="74" { "Kept" }
                path.whole d={ "M100 68 H" (x(100)) } {}
                path.cross d=(kept) {}
                text x=(x(0)) y="104" { "about every five years, another coat of limewash" }
                text.wallname x="0" y="150" { "Neglected" }
                path.whole d={ "M100 144 H" (x(10)) } {}
                path.cross d={ "M" (x(10)) " 136 l7 16 m3 -16 l7 16 m3 -16 l7 16 m3 -16 l7 16 m3 -16 l7 16" } {}
                path.gone d={ "M" (x(15) + 8) " 144 H" (x(100)) } {}
                text x=(x(0)) y="182" { "worn through in ten to fifteen years, sooner on the weather side" }
                text x=(x(17)) y="134" { "then the coats behind it wear, one at a time; when, nobody has reckoned" }
            }
        }
    }
}

fn put_on(plan: &Plan) -> Markup {
    let material = |slug: &str| crate::plan::days::material_name(plan, slug);
    html! {
        table.stack {
            thead { tr { th { "Wall" } th { "Coats, from the stone out" } th { "Limewash" } } }
            tbody { @for wall in &plan.specification.walls { tr {
                td data-l="Wall" { (crate::plan::days::wall_name(plan, &wall.slug)) }
                td data-l="Coats" { @for coat in &wall.coats { (coat.name) ", " (documents::words::mix(coat.sand_parts)) " " (material(&coat.lime)) " and " (material(&coat.sand)) ", " (documents::words::millimetres(coat.thickness_m[1])) br; } }
                td data-l="Limewash" { (capital(&counted(usize::try_from(wall.limewash.coats).unwrap_or(0), "coat", "coats"))) " of " (material(&wall.limewash.lime)) ", " (wall.limewash.colour) }
            } } }
        }
    }
}
