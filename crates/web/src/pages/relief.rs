//! A wall's relief: a scan or a table of offsets brought to it, the map with a depth under the pointer, a profile along any line, and the length of the
//! straight-edge with mortar and passes at once, days and money quick. Works by forms alone; a script only spares the waiting.

use axum::Router;
use axum::body::Bytes;
use axum::extract::{DefaultBodyLimit, Multipart, Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::get;
use documents::figures;
use job::edit::Editing;
use job::{ReliefForm, read_relief};
use maud::{Markup, html};
use serde::Deserialize;
use sha2::{Digest, Sha256};
use store::{Book, StoreError};
use survey::{HeightField, Ruling, Straightened, straighten, usual_laying};
use works::{EdgeChoice, EdgeCurve};

use crate::doors::Visitor;
use crate::draw::theme;
use crate::extract::{Address, Typed};
use crate::layout::{Page, answer, changes_jobs, inline_svg, job_page, part};
use crate::pages::Standing;
use crate::pages::lain::{Lain, heavy, lain};
use crate::pages::start::{only_for_changers, title_of};
use crate::words::{counted, trimmed};
use crate::{App, PageError};

/// Largest file of relief taken in over the web, bytes.
const MOST_BYTES: usize = 256 * 1024 * 1024;
/// Shortest and longest edge of the slider, m, and its step.
const EDGES_M: (f64, f64, f64) = (0.3, 3.0, 0.05);
/// Tiles of the depth table along the longer side.
const MOST_TILES: usize = 240;

/// The list, the page of a wall, its quick answer, its depths.
pub fn routes() -> Router<App> {
    Router::new()
        .route("/jobs/{slug}/relief", get(walls))
        .route("/jobs/{slug}/relief/{wall}", get(wall).post(bring).layer(DefaultBodyLimit::max(MOST_BYTES)))
        .route("/jobs/{slug}/relief/{wall}/edge", get(wall).post(quick))
        .route("/jobs/{slug}/relief/{wall}/depths.json", get(depths))
}

/// What may stand behind the address.
#[derive(Debug, Default, Deserialize)]
struct Asked {
    edge: Option<f64>,
    x1: Option<f64>,
    y1: Option<f64>,
    x2: Option<f64>,
    y2: Option<f64>,
}

impl Asked {
    fn edge_m(&self, own_m: f64) -> f64 {
        let asked = self.edge.filter(|edge| edge.is_finite()).unwrap_or(own_m);
        asked.clamp(EDGES_M.0, EDGES_M.1)
    }

    fn line(&self, field: &HeightField) -> ((f64, f64), (f64, f64)) {
        let size = (field.columns as f64 * field.spacing_m, field.rows as f64 * field.spacing_m);
        let within = |value: Option<f64>, otherwise: f64, most: f64| value.filter(|v| v.is_finite()).unwrap_or(otherwise).clamp(0.0, most);
        let middle = size.1 / 2.0;
        (
            (within(self.x1, 0.0, size.0), within(self.y1, middle, size.1)),
            (within(self.x2, size.0, size.0), within(self.y2, middle, size.1)),
        )
    }
}

async fn walls(State(app): State<App>, who: Visitor, Address(slug): Address<String>) -> Result<Markup, PageError> {
    let job = Standing::of(&app, &slug).await?;
    let Ok(read) = &job.read else { return Ok(unreadable(&job, &who)) };
    let listed = html! {
        ul.jobs { @for wall in &read.inputs.building.walls {
            li {
                h3 { a href=(job.address(&format!("relief/{}", wall.slug))) { (wall.name) } }
                p.soft { @match read.reliefs.iter().find(|asked| asked.wall == wall.slug) { Some(asked) => { "From the file " (asked.file) "." } None => "No scan or table of offsets yet." } }
            }
        } }
    };
    let sentence = html! { "How uneven is each wall, and what does the length of the straight-edge cost?" };
    let body = html! { (answer("", &sentence, &html! { "Choose a wall." })) (part("Walls", &html! {}, &listed)) };
    Ok(job_page(&Page { job: &job, who: &who, here: "relief", title: "Relief", body }))
}

fn unreadable(job: &Standing, who: &Visitor) -> Markup {
    let body = answer("", &html! { "The job file has problems." }, &html! { a href=(job.address("file")) { "Mend the file" } " first." });
    job_page(&Page { job, who, here: "relief", title: "Relief", body })
}

async fn wall(
    State(app): State<App>,
    who: Visitor,
    Address((slug, wall)): Address<(String, String)>,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let job = Standing::of(&app, &slug).await?;
    if job.read.is_err() {
        return Ok(unreadable(&job, &who).into_response());
    }
    // A relief that cannot be read leaves the page standing, so that another can be brought.
    let (lain, fault) = match lain(&app, &slug, &wall).await {
        Ok(lain) => (Some(lain), None),
        Err(error) if error.status == StatusCode::UNPROCESSABLE_ENTITY => (None, Some(error)),
        Err(error) => return Err(error),
    };
    let body = match &lain {
        Some(lain) => {
            let (own, asked) = (std::sync::Arc::clone(lain), asked);
            let looked = heavy("The relief could not be ruled.", move || look(&own, &asked)).await?;
            sheet(&job, &who, lain, &looked)
        }
        None => {
            html! { (answer("", &html! { "The relief of this wall cannot be read." }, &html! { @if let Some(error) = &fault { (error.says) } })) }
        }
    };
    let body = html! { (body) @if changes_jobs(&who) { (part("Bring a scan", &html! { p { "Or a table of offsets. The wall of the job gives outline and openings." } }, &upload(&job, &wall))) } };
    Ok(job_page(&Page { job: &job, who: &who, here: "relief", title: "Relief", body }).into_response())
}

/// What one length of edge looks like.
struct Looked {
    choice: EdgeChoice,
    curve: EdgeCurve,
    drawn: Option<Straightened>,
    line: Option<((f64, f64), (f64, f64))>,
}

fn look(lain: &Lain, asked: &Asked) -> Result<Looked, PageError> {
    let edge_m = asked.edge_m(lain.inputs.system.straight_edge_m.value);
    let curve = lain.curve(&works::EDGES_M)?;
    let choice = one(lain, edge_m)?;
    let drawn = lain.read.as_ref().map(|read| {
        let cover_m = (choice.mean_m - lain.mean_fill_m(edge_m)).max(0.0);
        let pinning_m = lain.inputs.system.pinning_m;
        let ruling = Ruling { edge_m, laid: usual_laying(&read.field), least_cover_m: cover_m, pass_m: f64::INFINITY, pinning_m };
        straighten(&read.field, &ruling)
    });
    Ok(Looked { choice, curve, line: lain.read.as_ref().map(|read| asked.line(&read.field)), drawn })
}

fn one(lain: &Lain, edge_m: f64) -> Result<EdgeChoice, PageError> {
    let curve = lain.curve(&[edge_m])?;
    curve.choices.into_iter().next().ok_or_else(|| PageError::machine("The edge could not be reckoned."))
}

fn sheet(job: &Standing, who: &Visitor, lain: &Lain, looked: &Looked) -> Markup {
    let here = job.address(&format!("relief/{}", lain.wall));
    let edge_m = looked.choice.edge_m;
    let sentence = html! { (lain.name) ": " (said(&looked.choice, who.sees_prices())) };
    let then = html! { "The relief is known by: " (looked.curve.relief) "." };
    let slider = html! {
        form method="get" action=(here) data-draws={ (here) "/edge" } data-into="edge-says" {
            div.field.whole {
                label for="edge" { "Length of the straight-edge, m" }
                p.help id="edge-help" { "From " (trimmed(EDGES_M.0, 2)) " to " (trimmed(EDGES_M.1, 2)) " m. The job itself is planned with " (trimmed(looked.curve.own_edge_m, 2)) " m." }
                div.in { input.slider type="range" id="edge" name="edge" min=(EDGES_M.0) max=(EDGES_M.1) step=(EDGES_M.2) value=(trimmed(edge_m, 2)) aria-describedby="edge-help edge-says"; button type="submit" { "Rule it" } }
            }
        }
        div id="edge-says" role="status" aria-live="polite" { (readings(&looked.choice, who.sees_prices())) }
    };
    html! {
        (answer("", &sentence, &then))
        (part("The edge", &html! { p { "A longer edge leaves a flatter wall, more to fill under it and, past the limit of a pass, another pass." } p { "Days and money are quick: " (looked.curve.basis.trim_start_matches("quick: ")) "." } }, &slider))
        @if let (Some(read), Some(drawn)) = (&lain.read, &looked.drawn) { (mapped(job, lain, read, drawn, looked)) }
        (part("Every length", &html! { p { "Quick, until the plan is reckoned with the length you choose." } }, &curve(who, &looked.curve)))
    }
}

fn said(choice: &EdgeChoice, priced: bool) -> String {
    let litres = documents::words::grouped(1000.0 * choice.mortar_m3);
    let passes = counted(choice.passes, "pass", "passes");
    let days = choice.days.map_or("not finished this season".to_owned(), |days| format!("about {days} days from the start"));
    let money = choice.before_tax.as_ref().filter(|_| priced).map_or(String::new(), |money| format!(", about {}", money.to_tens()));
    format!("an edge of {} m takes {litres} litres in {passes}; {days}{money}.", trimmed(choice.edge_m, 2))
}

/// The quick answer: what a moved slider shows at once.
fn readings(choice: &EdgeChoice, priced: bool) -> Markup {
    let marked = if choice.quick { "quick" } else { "by the weather" };
    html! {
        dl.readings {
            div { dt { "Edge" } dd { (trimmed(choice.edge_m, 2)) " m" } }
            div { dt { "Mean" } dd { (trimmed(1000.0 * choice.mean_m, 1)) " mm" } }
            div { dt { "Mortar" } dd { (documents::words::grouped(1000.0 * choice.mortar_m3)) " litres" } }
            div { dt { "Passes" } dd { (choice.passes) } }
            div { dt { "Days (" (marked) ")" } dd { (choice.days.map_or("–".to_owned(), |days| days.to_string())) } }
            @if priced { div { dt { "Before tax (" (marked) ")" } dd { (choice.before_tax.as_ref().map_or("–".to_owned(), ToString::to_string)) } } }
        }
    }
}

async fn quick(
    State(app): State<App>,
    who: Visitor,
    Address((slug, wall)): Address<(String, String)>,
    typed: Typed,
) -> Result<Markup, PageError> {
    let lain = lain(&app, &slug, &wall).await?;
    let asked = Asked { edge: typed.text("edge").trim().parse().ok(), ..Asked::default() };
    let choice = tokio::task::spawn_blocking(move || one(&lain, asked.edge_m(lain.inputs.system.straight_edge_m.value))).await;
    let choice = choice.map_err(|_| PageError::machine("The edge could not be reckoned."))??;
    Ok(readings(&choice, who.sees_prices()))
}

fn mapped(job: &Standing, lain: &Lain, read: &job::ReliefRead, drawn: &Straightened, looked: &Looked) -> Markup {
    let here = job.address(&format!("relief/{}", lain.wall));
    let edge = trimmed(drawn.edge_m, 2);
    let map = figures::relief_map(&lain.name, &read.field, drawn, &theme(1100.0));
    let line = looked.line.map(|(from, to)| (figures::profile(&read.field, &drawn.thickness_m, from, to, &theme(1100.0)), from, to));
    let notes = html! { p { "Thickness under an edge of " (edge) " m, seen from outside." } @for note in &read.notes { p { (note) } } };
    let matter = html! {
        figure.wide.relief tabindex="0" aria-label="Map of the thickness" data-depths={ (here) "/depths.json?edge=" (edge) } {
            (inline_svg(&map.svg, "relief"))
            p.reading role="status" { "Put the pointer on the map to read the depth there." }
        }
        @if !lain.high_spots().is_empty() { (spots(lain)) }
    };
    html! {
        (part("The face", &notes, &matter))
        @if let Some((figure, from, to)) = &line {
            (part("A profile", &html! { p { "Along any line: two places, metres along and up from the lower left corner." } }, &html! {
                form.fields method="get" action=(here) id="profile" {
                    input type="hidden" name="edge" value=(edge);
                    (place("x1", "From, along", from.0)) (place("y1", "From, up", from.1)) (place("x2", "To, along", to.0)) (place("y2", "To, up", to.1))
                    div.does { button type="submit" { "Draw it" } }
                }
                figure.wide tabindex="0" aria-label="Profile along the line" { (inline_svg(&figure.svg, "profile")) }
            }))
        }
    }
}

fn place(name: &str, label: &str, value: f64) -> Markup {
    html! { div.field { label for=(name) { (label) } div.in { input type="text" inputmode="decimal" id=(name) name=(name) value=(trimmed(value, 2)); span.unit { "m" } } } }
}

fn spots(lain: &Lain) -> Markup {
    html! {
        h3 { "High spots worth dressing off" }
        p.soft { "Up to 10 mm off, under an edge of " (trimmed(lain.spots_edge_m(), 2)) " m. All of them would save " (documents::words::grouped(1000.0 * lain.dressing_saves_m3())) " litres. Ask first whether the stone may be dressed; eye protection and a dust mask where it is cut." }
        table.stack { thead { tr { th { "Along" } th { "Up" } th { "Proud" } th { "Saves" } } } tbody { @for spot in lain.high_spots() { tr {
            td data-l="Along" { (trimmed(spot.along_m, 2)) " m" } td data-l="Up" { (trimmed(spot.up_m, 2)) " m" } td data-l="Proud" { (trimmed(1000.0 * spot.proud_m, 0)) " mm" } td data-l="Saves" { (trimmed(1000.0 * spot.saved_m3, 1)) " litres" }
        } } } }
    }
}

fn curve(who: &Visitor, curve: &EdgeCurve) -> Markup {
    let priced = who.sees_prices();
    html! {
        @if priced { figure.wide tabindex="0" aria-label="What every length of edge comes to" { (inline_svg(&figures::edge_curve(curve, &theme(1100.0)).svg, "curve")) } }
        table.stack {
            thead { tr { th { "Edge" } th { "Mean" } th { "Mortar" } th { "Passes" } th { "Days" } @if priced { th { "Before tax" } } } }
            tbody { @for choice in &curve.choices { tr {
                td data-l="Edge" { b { (trimmed(choice.edge_m, 2)) " m" } } td data-l="Mean" { (trimmed(1000.0 * choice.mean_m, 1)) " mm" }
                td data-l="Mortar" { (documents::words::grouped(1000.0 * choice.mortar_m3)) " litres" } td data-l="Passes" { (choice.passes) }
                td data-l="Days" { (choice.days.map_or("–".to_owned(), |days| days.to_string())) }
                @if priced { td data-l="Before tax" { (choice.before_tax.as_ref().map_or("–".to_owned(), ToString::to_string)) } }
            } } }
        }
    }
}

/// Thickness by tile, tenths of a millimetre, for the reading under the pointer; nothing where there is no wall.
async fn depths(
    State(app): State<App>,
    Address((slug, wall)): Address<(String, String)>,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let lain = lain(&app, &slug, &wall).await?;
    let table = heavy("The depths could not be read.", move || depths_of(&lain, &asked)).await?;
    Ok(axum::Json(table).into_response())
}

fn depths_of(lain: &Lain, asked: &Asked) -> Result<serde_json::Value, PageError> {
    let looked = look(lain, asked)?;
    let (Some(read), Some(drawn)) = (&lain.read, &looked.drawn) else { return Err(PageError::nothing("relief")) };
    let field = &read.field;
    let tile = field.columns.max(field.rows).div_ceil(MOST_TILES).max(1);
    let (across, up) = (field.columns.div_ceil(tile), field.rows.div_ceil(tile));
    let at = |row: usize, column: usize| {
        let cell = (row * tile + tile / 2).min(field.rows - 1) * field.columns + (column * tile + tile / 2).min(field.columns - 1);
        drawn.thickness_m.get(cell).filter(|thick| thick.is_finite()).map(|thick| (10_000.0 * thick).round() as i64)
    };
    let rows: Vec<Vec<Option<i64>>> = (0..up).map(|row| (0..across).map(|column| at(row, column)).collect()).collect();
    Ok(
        serde_json::json!({ "cell_m": field.spacing_m * tile as f64, "length_m": field.columns as f64 * field.spacing_m, "height_m": field.rows as f64 * field.spacing_m, "tenths_mm": rows }),
    )
}

fn upload(job: &Standing, wall: &str) -> Markup {
    let file = html! { div.field { label for="file" { "File" } p.help { "PLY, LAS, LAZ, E57 or a table of x, y, z; or rows of offsets in mm, the lowest row first." } div.in { input type="file" id="file" name="file" required; } } };
    let choice = |name: &str, label: &str, help: &str, choices: &[(&str, &str)]| html! { div.field { label for=(name) { (label) } p.help { (help) } div.in { select id=(name) name=(name) { @for (value, words) in choices { option value=(value) { (words) } } } } } };
    html! {
        form method="post" action=(job.address(&format!("relief/{wall}"))) enctype="multipart/form-data" {
            input type="hidden" name="version" value=(job.job.version);
            div.fields {
                (file)
                (choice("form", "What is in it", "Points of a scan, or offsets from a line or batten.", &[("scan", "a scan"), ("offsets", "offsets")]))
                (choice("unit", "Unit of a scan", "Left open, the one that gives the face the size of the wall.", &[("", "not known"), ("m", "metres"), ("mm", "millimetres"), ("cm", "centimetres"), ("ft", "feet"), ("in", "inches")]))
                div.field { label for="cell" { "Cell, or distance of offsets" } p.help { "10 mm for a scan if left empty." } div.in { input type="text" inputmode="decimal" id="cell" name="cell"; span.unit { "mm" } } }
            }
            div.does { button.btn.first type="submit" { "Bring it" } }
        }
    }
}

/// What an upload carries.
#[derive(Default)]
struct Brought {
    name: String,
    bytes: Bytes,
    typed: Vec<(String, String)>,
}

/// A file that reads as a relief of its wall, and the job that names it.
struct Fitting {
    /// Name under which it lies with the job.
    file: String,
    bytes: Bytes,
    /// The job file.
    text: String,
    /// What was done, for the history.
    what: String,
}

async fn bring(
    State(app): State<App>,
    who: Visitor,
    Address((slug, wall)): Address<(String, String)>,
    mut form: Multipart,
) -> Result<Response, PageError> {
    only_for_changers(&who)?;
    let broken = |_| {
        PageError::bad(
            "The file broke off on its way, or is larger than 256 MB.",
            "Thin the scan to a point each 5 mm and bring it again; nothing was kept.",
        )
    };
    // The whole file is held in memory until it is kept.
    let _room = app.upload()?;
    let mut brought = Brought::default();
    while let Some(field) = form.next_field().await.map_err(broken)? {
        let name = field.name().unwrap_or_default().to_owned();
        match field.file_name().map(str::to_owned) {
            Some(file) => (brought.name, brought.bytes) = (file, field.bytes().await.map_err(broken)?),
            None => brought.typed.push((name, field.text().await.map_err(broken)?)),
        }
    }
    if brought.bytes.is_empty() {
        return Err(PageError::bad("No file came with the form.", "Choose a file and send the form again."));
    }
    let back = format!("/jobs/{slug}/relief/{wall}");
    let typed: Typed = brought.typed.iter().cloned().collect();
    let made_on = typed.made_on()?;
    let name = slug.clone();
    let stood = app.read(move |book| book.job(&name)).await?;
    if stood.version != made_on {
        return Err(stale(&StoreError::Conflict { stands: stood.version, made_on }));
    }
    // Read before the book is asked to write, which it does for one at a time.
    let fitting = heavy("The relief could not be read.", move || fit(&stood.text, &wall, &typed, brought)).await?;
    match app.write(move |book| Ok(keep(book, &slug, made_on, &fitting))).await? {
        Err(error @ StoreError::Conflict { .. }) => Err(stale(&error)),
        kept => kept.map(|()| Redirect::to(&back).into_response()).map_err(PageError::from),
    }
}

/// The job was saved elsewhere since the form was opened.
fn stale(error: &StoreError) -> PageError {
    let remedy = "Open the relief of the wall again and bring the file once more; nothing was changed.";
    PageError::new(StatusCode::CONFLICT, error.to_string(), remedy)
}

/// Reads a file as a relief of the wall and names it in the job file; one that does not read changes nothing. The file is named by its content, so that no
/// file brought earlier, to which an undo goes back, is ever replaced.
fn fit(stood: &str, wall: &str, typed: &Typed, brought: Brought) -> Result<Fitting, PageError> {
    let ending: String = brought.name.rsplit('.').next().unwrap_or_default().chars().filter(char::is_ascii_alphanumeric).take(8).collect();
    let mark: String = Sha256::digest(&brought.bytes).iter().take(6).map(|byte| format!("{byte:02x}")).collect();
    let file = format!("relief-{wall}-{mark}.{}", if ending.is_empty() { "csv".to_owned() } else { ending.to_lowercase() });
    let mut editing = Editing::open(stood).unwrap_or_else(Editing::empty);
    for key in ["gaps_mm", "offsets_mm", "offsets_spacing_m", "evenness"] {
        editing.remove(&format!("walls.{wall}.{key}"));
    }
    for (key, value) in
        [("file", file.clone()), ("form", typed.text("form")), ("unit", typed.text("unit")), ("cell_mm", typed.text("cell"))]
    {
        let refused =
            |refused: job::edit::Refused| PageError::new(StatusCode::UNPROCESSABLE_ENTITY, refused.to_string(), "Nothing was changed.");
        editing.set(&format!("walls.{wall}.relief_{key}"), &value).map_err(refused)?;
    }
    let text = editing.text();
    let told = |says: Vec<String>| PageError::new(StatusCode::UNPROCESSABLE_ENTITY, says.join(" "), "Nothing was changed.");
    let read = job::read(&text, "the job").map_err(|problems| told(problems.iter().map(ToString::to_string).collect()))?;
    let (Some(found), Some(asked)) =
        (read.inputs.building.walls.iter().find(|found| found.slug == wall), read.reliefs.iter().find(|asked| asked.wall == wall))
    else {
        return Err(PageError::nothing("wall"));
    };
    let form: &ReliefForm = &asked.form;
    read_relief(found, form, &brought.bytes, &brought.name).map_err(told)?;
    Ok(Fitting { file, text, what: format!("relief of {wall}: {}", brought.name), bytes: brought.bytes })
}

/// Keeps a file of relief and the job that names it, unless the job was saved meanwhile.
fn keep(book: &Book, slug: &str, made_on: i64, fitting: &Fitting) -> Result<(), StoreError> {
    let stands = book.job(slug)?.version;
    if stands != made_on {
        return Err(StoreError::Conflict { stands, made_on });
    }
    let mut bytes: &[u8] = &fitting.bytes;
    let sha256 = book.put_blob(&mut bytes, MOST_BYTES as u64)?;
    book.attach(slug, &fitting.file, &sha256)?;
    book.save_job(slug, made_on, &title_of(&fitting.text), &fitting.text, &fitting.what).map(drop)
}
