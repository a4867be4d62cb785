//! The sheet that every page is drawn on: title line, the job along a mason's rule, margin and wide column, cautions, title block at the foot.

use maud::{DOCTYPE, Markup, PreEscaped, html};

use crate::assets;
use crate::doors::Visitor;
use crate::pages::Standing;

/// A sheet of a job.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Leaf {
    /// Last part of its address; empty for the first sheet.
    pub path: &'static str,
    /// Its name.
    pub name: &'static str,
    /// True if it tells of prices.
    pub priced: bool,
}

/// The sheets, in the order they lie along the rule. A room that adds a page adds its leaf here.
pub const LEAVES: &[Leaf] = &[
    leaf("", "Walls"),
    leaf("survey", "Survey"),
    leaf("relief", "Relief"),
    leaf("materials", "Materials"),
    leaf("coats", "Coats"),
    leaf("season", "Season"),
    leaf("calendar", "Calendar"),
    leaf("order", "Order"),
    leaf("site", "Site"),
    Leaf { path: "price", name: "Price", priced: true },
    leaf("today", "Today"),
    leaf("record", "Record"),
    leaf("upkeep", "Upkeep"),
    Leaf { path: "why", name: "Why", priced: true },
    leaf("history", "History"),
];

const fn leaf(path: &'static str, name: &'static str) -> Leaf {
    Leaf { path, name, priced: false }
}

/// A page of a job.
pub struct Page<'a> {
    /// The job as it stands.
    pub job: &'a Standing,
    /// Who looks at it.
    pub who: &'a Visitor,
    /// Path of its leaf, `history` say; for a page off the rule that of the nearest leaf.
    pub here: &'a str,
    /// Title of the page.
    pub title: &'a str,
    /// The parts of the sheet.
    pub body: Markup,
}

/// The page of a job as a document.
pub fn job_page(page: &Page<'_>) -> Markup {
    let job = page.job;
    let leaves: Vec<&Leaf> = LEAVES.iter().filter(|leaf| is_theirs(job, page.who, leaf)).collect();
    let here = leaves.iter().position(|leaf| leaf.path == page.here);
    let title = format!("{}, {}", page.title, job.job.title);
    let inside = html! {
        header.top {
            div.line {
                p.job { a href="/" { "Job book" } span.sep { "/" } (job.job.title) }
                p.rev { (standing_line(job)) }
            }
            (rule(job, &leaves, here))
        }
        (waiting(page))
        main.sheet id="sheet" { (page.body) }
        (cautions(job, page.here))
        (title_block(job, page, here))
    };
    document(&title, &inside, job.under_way.is_some())
}

/// True if a leaf may be opened by whoever looks; a gang is shown only what it can reach.
fn is_theirs(job: &Standing, who: &Visitor, leaf: &Leaf) -> bool {
    who.sees_prices() || (!leaf.priced && crate::doors::gang_may(&axum::http::Method::GET, &job.address(leaf.path)))
}

fn standing_line(job: &Standing) -> String {
    match &job.saved {
        Some(saved) => format!("Plan revision {} · {}", saved.number, crate::words::moment(&saved.at)),
        None => "No plan yet".to_owned(),
    }
}

fn rule(job: &Standing, leaves: &[&Leaf], here: Option<usize>) -> Markup {
    let link = |index: usize, leaf: &Leaf| {
        let current = (Some(index) == here).then_some("page");
        html! { a href=(job.address(leaf.path)) aria-current=[current] { (leaf.name) } }
    };
    let name = here.and_then(|index| leaves.get(index)).map_or("This job", |leaf| leaf.name);
    html! {
        nav.rule aria-label="Sheets of the job" { ol { @for (index, leaf) in leaves.iter().enumerate() { li { (link(index, leaf)) } } } }
        details.sheets {
            summary { b { (name) } span { "All sheets" } }
            nav aria-label="All sheets" { ul { @for (index, leaf) in leaves.iter().enumerate() { li { (link(index, leaf)) } } } }
        }
    }
}

/// What the job waits for: a first plan, a new one after a change, or the end of a reckoning.
fn waiting(page: &Page<'_>) -> Markup {
    let job = page.job;
    if let Some(progress) = &job.under_way {
        if !changes_jobs(page.who) {
            return html! { section.stale aria-label="The plan" { p { "The plan is being reckoned anew. Open this page again in a while." } } };
        }
        return html! {
            section.stale aria-label="The plan" data-progress=(job.address("reckoning/progress")) {
                p data-says-progress="" role="status" { (progress.says()) }
                progress.progress max=(progress.of.max(1)) value=(progress.done) aria-label="How far the reckoning is" {}
                form method="post" action=(job.address("reckoning/stop")) { button type="submit" { "Stop it" } }
            }
        };
    }
    let says = match (&job.saved, job.is_stale(), &job.read) {
        (_, _, Err(problems)) => format!("The job file has {} problems and cannot be planned.", problems.len()),
        (None, ..) => "Nothing is reckoned yet.".to_owned(),
        (Some(saved), true, _) => {
            format!("The job was changed since plan revision {}: what you see is the plan as it was saved.", saved.number)
        }
        (Some(_), false, _) => return html! {},
    };
    html! {
        section.stale aria-label="The plan" {
            p { (says) }
            @if changes_jobs(page.who) {
                @if job.read.is_ok() {
                    form method="post" action=(job.address("reckoning")) { button.btn.first type="submit" { @if job.saved.is_some() { "Reckon again" } @else { "Reckon the plan" } } }
                } @else {
                    a.btn href=(job.address("file")) { "Mend the file" }
                }
            }
        }
    }
}

/// Pages that show what goes on, what it costs or when show the cautions that apply, whole.
fn cautions(job: &Standing, here: &str) -> Markup {
    let Some(saved) = &job.saved else { return html! {} };
    if !["", "coats", "calendar", "order", "season", "materials", "today"].contains(&here) {
        return html! {};
    }
    html! {
        section.caution aria-label="Take care" {
            p { b { "Take care." } }
            @for caution in &saved.plan.cautions { p { (caution.words) } }
        }
    }
}

fn title_block(job: &Standing, page: &Page<'_>, here: Option<usize>) -> Markup {
    let sheet = here.map_or_else(|| page.title.to_owned(), |index| format!("{} {}", index + 1, page.title));
    let (plan, drawn, from) = match &job.saved {
        Some(saved) => (format!("revision {}", saved.number), crate::words::moment(&saved.at), saved.plan.basis.weather.clone()),
        None => ("none yet".to_owned(), crate::words::moment(&job.job.changed_at), "the survey as it stands".to_owned()),
    };
    html! {
        footer.block {
            div { span { "Job" } b { (job.job.title) @if job.is_invented() { " (invented)" } } }
            div { span { "Sheet" } b { (sheet) } }
            div { span { "Plan" } b { (plan) } }
            div { span { "Drawn" } b { (drawn) } }
            div { span { "Reckoned from" } b { (from) } }
        }
    }
}

/// True if a visitor may change jobs.
pub fn changes_jobs(who: &Visitor) -> bool {
    who.role != store::Role::Gang
}

/// A part of the sheet: heading and notes in the margin, the matter beside it.
pub fn part(heading: &str, notes: &Markup, matter: &Markup) -> Markup {
    html! {
        section.part {
            div.m { div.mb { @if !heading.is_empty() { h2 { (heading) } } (notes) } }
            div.b { (matter) }
        }
    }
}

/// The part that answers first: one sentence in the serif, then one line.
pub fn answer(note: &str, sentence: &Markup, then: &Markup) -> Markup {
    part("", &html! { @if !note.is_empty() { p { (note) } } }, &html! { h1.answer { (sentence) } p { (then) } })
}

/// A page that belongs to no job.
pub fn bare_page(title: &str, inside: &Markup) -> Markup {
    let inside = html! {
        header.top { div.line { p.job { a href="/" { "Job book" } } } }
        main.sheet id="sheet" { section.part { div.m {} div.b { (inside) } } }
    };
    document(title, &inside, false)
}

/// A page of the doors, in the house's own dress.
pub fn dressed(title: &str, body: Markup) -> Markup {
    bare_page(title, &body)
}

/// A page of the book itself.
pub fn book_page(title: &str, body: &Markup) -> Markup {
    let inside = html! {
        header.top { div.line { p.job { @if title == "Job book" { "Job book" } @else { a href="/" { "Job book" } span.sep { "/" } (title) } } } }
        main.sheet id="sheet" { (body) }
    };
    document(title, &inside, false)
}

/// The document round a page.
fn document(title: &str, inside: &Markup, changes: bool) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en-GB" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (title) }
                // Without a script, a sheet that is being reckoned asks again by itself.
                @if changes { noscript { meta http-equiv="refresh" content="3"; } }
                link rel="icon" href=(assets::address("mark.svg")) type="image/svg+xml";
                link rel="stylesheet" href=(assets::address("style.css"));
                script src=(assets::address("harlwright.js")) defer {}
            }
            body { a.skip href="#sheet" { "To the sheet" } div.page { (inside) } }
        }
    }
}

/// A figure saved with a plan, as part of the page. Names inside it are made its own, so that two figures on a page do not share hatches.
pub fn inline_svg(svg: &str, name: &str) -> Markup {
    let own = svg.replace(" id=\"", &format!(" id=\"{name}-")).replace("url(#", &format!("url(#{name}-"));
    PreEscaped(own)
}

/// A figure wider than a phone, in a frame that scrolls by itself and can be reached by keyboard.
pub fn wide(label: &str, figure: &Markup) -> Markup {
    html! { div.wide tabindex="0" role="region" aria-label=(label) { (figure) } }
}

/// A chart whose marks say what they are, on hover and by keyboard, in a line below it.
pub fn chart(svg: &str, name: &str, label: &str, rest: &str) -> Markup {
    // A picture hides what is in it from who cannot see; a group of marks does not.
    let marks = PreEscaped(inline_svg(svg, name).into_string().replacen("role=\"img\"", "role=\"group\"", 1));
    html! { div data-chart="" { (wide(label, &marks)) p.reading role="status" { (rest) } } }
}
