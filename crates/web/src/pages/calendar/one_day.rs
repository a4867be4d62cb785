//! A day of a wall by its own address: what is done or waited for, why, what hangs, what the weather does, and the section through the coats that
//! evening.

use jiff::civil::Date;
use maud::{Markup, html};

use super::View;
use super::marks;
use crate::layout::{answer, part};
use crate::plan::days::{self, What, between, later};
use crate::plan::{Plan, WallRun};
use crate::words::{capital, day, long_day, trimmed};

/// The page of a day.
pub fn sheet(view: &View<'_>, wall: &WallRun, date: Date) -> Markup {
    let name = days::wall_name(view.plan, &wall.slug);
    let told = days::told(view.plan, view.run, wall, date);
    let sentence = html! { (long_day(date)) ", " (name.to_lowercase()) ". " (told.what) };
    let then = html! { (told.care) " " (told.weather) " " (capital(&view.year_words())) "; the weather of the day itself will differ, and the test on the wall decides." };
    html! {
        (answer("One day of the calendar.", &sentence, &then))
        (part("That evening", &html! { p { "The section through the coats, weather side up; true proportion." } @if !told.front.is_empty() { p { (told.front) } } }, &section(view, wall, date)))
        (part("Why", &html! {}, &why(view, wall, date)))
        (part("Near it", &html! {}, &near(view, wall, date)))
    }
}

/// The coats on the wall that evening, drawn to scale, each with its thickness and its front.
fn section(view: &View<'_>, wall: &WallRun, date: Date) -> Markup {
    let on: Vec<_> = days::laid(view.plan, wall).into_iter().filter(|(_, task)| task.from <= date).collect();
    if on.is_empty() {
        return html! { p { "No coat is on the wall yet." } };
    }
    let record = days::record(wall, date);
    let total: f64 = on.iter().map(|(coat, _)| coat.thickness_m[1]).sum();
    let per_m = 150.0 / total.max(1e-6);
    let mut inner = 176.0;
    let mut parts = Vec::new();
    for (index, (coat, _)) in on.iter().enumerate() {
        let tall = coat.thickness_m[1] * per_m;
        let front = record.and_then(|day| day.front_m.get(index)).map(|depth| (depth * per_m).min(tall));
        parts.push((coat, inner - tall, tall, front));
        inner -= tall;
    }
    let label = format!("Section through the {} on {}", days::wall_name(view.plan, &wall.slug).to_lowercase(), day(date));
    html! {
        figure {
            svg.section-day viewBox="0 0 620 206" role="img" aria-label=(label) {
                (marks::hatches())
                @for (coat, top, tall, front) in &parts {
                    @if let Some(front) = front {
                        rect x="0" y=(trimmed(*top, 1)) width="330" height=(trimmed(*tall, 1)) fill="url(#h-caustic)" {}
                        rect x="0" y=(trimmed(*top, 1)) width="330" height=(trimmed(*front, 1)) fill=(marks::hatch_of(&coat.kind)) {}
                        path.front d={ "M0 " (trimmed(top + front, 1)) " H330" } {}
                    } @else {
                        rect x="0" y=(trimmed(*top, 1)) width="330" height=(trimmed(*tall, 1)) fill=(marks::hatch_of(&coat.kind)) {}
                    }
                    path.rule-line d={ "M0 " (trimmed(*top, 1)) " H344" } {}
                    text.big x="350" y=(trimmed(top + tall / 2.0 + 5.0, 1)) { (coat.name) ", " (documents::words::millimetres(coat.thickness_m[1])) }
                }
                rect x="0" y="176" width="330" height="24" fill="url(#h-stone)" {}
                path.heavy d="M0 176 H330" {}
                text.big x="350" y="196" { "stone" }
            }
        }
    }
}

/// The coats on a wall on a day as a small stack, weather side up; the tone of each is its own, and a line shows how far air has got.
pub fn stack(plan: &Plan, wall: &WallRun, date: Date) -> Markup {
    let record = days::record(wall, date);
    let on: Vec<_> = days::laid(plan, wall).into_iter().filter(|(_, task)| task.from <= date).collect();
    let mut inner = 46.0;
    let mut parts = Vec::new();
    for (index, (coat, _)) in on.iter().enumerate() {
        // Two pixels a millimetre, and never so much that the stack leaves its picture.
        let tall = (coat.thickness_m[1] * 2000.0).min(14.0);
        let front = record.and_then(|day| day.front_m.get(index)).map(|depth| (depth / coat.thickness_m[1].max(1e-6)).min(1.0) * tall);
        parts.push((coat.kind.as_str(), inner - tall, tall, front));
        inner -= tall;
    }
    html! {
        svg.stack width="112" height="56" viewBox="0 0 112 56" aria-hidden="true" {
            @for (kind, top, tall, front) in &parts {
                rect class={ "tone-" (kind) } x="0.5" y=(trimmed(*top, 1)) width="111" height=(trimmed(*tall, 1)) {}
                @if let Some(front) = front { path.front d={ "M0 " (trimmed(top + front, 1)) " H112" } {} }
            }
            rect.tone-stone x="0.5" y="46" width="111" height="9" {}
            path.heavy d="M0 46 H112" {}
        }
    }
}

/// Why the day is what it is, with the test that stands before the next coat.
fn why(view: &View<'_>, wall: &WallRun, date: Date) -> Markup {
    let laid = days::laid(view.plan, wall);
    let outermost = laid.iter().rfind(|(_, task)| task.to <= date);
    html! {
        @match days::what(wall, date) {
            What::Waits(wait) => {
                p { "It waits from " (day(wait.from)) " to " (day(wait.to)) " " @if let Some(reason) = days::reason(&wait.reason) { (reason.words()) } "." }
            }
            What::Work(tasks) => { @for task in tasks {
                p { (capital(&days::work_words(view.plan, task))) " from " (day(task.from)) " to " (day(task.to)) ", " (trimmed(task.gang_days, 1)) " days of the gang" @if !task.gang.is_empty() { " (" (task.gang) ")" } "." }
                @if let Some((coat, _)) = laid.iter().find(|(coat, _)| coat.slug == task.slug) { p { (coat.method) } }
            } }
            What::Free => { p { "No work and no wait stands in the programme for this day." } }
        }
        @if let Some((coat, task)) = outermost {
            @if let Some(ready) = task.ready {
                @let path = format!("walls.{}.coats.{}.ready", wall.slug, coat.slug);
                p { "The " (coat.name.to_lowercase()) " is reckoned ready for the next on "
                    @if let Some(why) = view.why(&path) { a.why href=(why) { (day(ready)) } } @else { (day(ready)) }
                    @if !task.decides.is_empty() { "; what decided was " (task.decides) } "." }
            }
            p { b { "The test: " } (coat.test) }
        }
    }
}

/// The days beside it, the other walls on the same day, the wall.
fn near(view: &View<'_>, wall: &WallRun, date: Date) -> Markup {
    let within = |date: Date| view.from <= date && date <= view.to;
    let (before, after) = (later(date, -1), later(date, 1));
    html! {
        p.does {
            @if within(before) { a.btn href=(view.day_address(&wall.slug, before)) rel="prev" { (day(before)) } }
            @if within(after) { a.btn href=(view.day_address(&wall.slug, after)) rel="next" { (day(after)) } }
            a.btn.quiet href=(view.wall_address(&wall.slug)) { "The wall’s diary" }
        }
        table.stack {
            thead { tr { th { "The same day on" } th { "What" } th { "Cover and damping" } } }
            tbody { @for other in view.run.walls.iter().filter(|other| other.slug != wall.slug) {
                @let told = days::told(view.plan, view.run, other, date);
                tr { td data-l="Wall" { a href=(view.day_address(&other.slug, date)) { (days::wall_name(view.plan, &other.slug)) } } td data-l="What" { (told.what) } td data-l="Care" { (told.care) } }
            } }
        }
        p.note { "Day " (between(view.plan.window.start, date) + 1) " from the start of the job." }
    }
}
