//! The pages as a browser without a script meets them: asked and answered through the whole router, with a book of their own.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "a test that cannot set up must stop")]

use std::time::Duration;

use axum::body::Body;
use axum::http::{Request, StatusCode, header};
use axum::response::Response;
use tower::ServiceExt;
use web::App;
use web::doors::Manner;

struct House {
    app: App,
    _folder: tempfile::TempDir,
}

impl House {
    fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let app = App::open(&folder.path().join("book.sqlite")).unwrap();
        Self { app, _folder: folder }
    }

    async fn ask(&self, request: Request<Body>) -> Response {
        web::router(self.app.clone(), Manner::loopback()).oneshot(request).await.unwrap()
    }

    async fn get(&self, path: &str) -> (StatusCode, String) {
        let request = Request::get(path).header(header::HOST, "127.0.0.1").header(header::ACCEPT, "text/html").body(Body::empty()).unwrap();
        read(self.ask(request).await).await
    }

    async fn post(&self, path: &str, pairs: &[(&str, &str)]) -> (StatusCode, String, String) {
        let form: Vec<String> = pairs.iter().map(|(name, value)| format!("{}={}", coded(name), coded(value))).collect();
        let request = Request::post(path)
            .header(header::HOST, "127.0.0.1")
            .header(header::ORIGIN, "http://127.0.0.1")
            .header(header::CONTENT_TYPE, "application/x-www-form-urlencoded")
            .body(Body::from(form.join("&")))
            .unwrap();
        let response = self.ask(request).await;
        let to = response.headers().get(header::LOCATION).map_or(String::new(), |to| to.to_str().unwrap().to_owned());
        let (status, text) = read(response).await;
        (status, to, text)
    }

    /// A house with the demo in it, planned.
    async fn with_demo() -> Self {
        let house = Self::new();
        let (status, to, _) = house.post("/demo", &[]).await;
        assert_eq!((status, to.as_str()), (StatusCode::SEE_OTHER, DEMO));
        house.planned(1).await;
        house
    }

    /// Waits until a plan of a number is saved.
    async fn planned(&self, number: i64) {
        for _ in 0..600 {
            if self.app.book().revisions("ferry-house-port-calder").unwrap().iter().any(|revision| revision.number == number) {
                return;
            }
            tokio::time::sleep(Duration::from_millis(100)).await;
        }
        panic!("plan {number} was not saved within a minute");
    }
}

const DEMO: &str = "/jobs/ferry-house-port-calder";

async fn read(response: Response) -> (StatusCode, String) {
    let status = response.status();
    let bytes = axum::body::to_bytes(response.into_body(), 64 * 1024 * 1024).await.unwrap();
    (status, String::from_utf8_lossy(&bytes).into_owned())
}

fn coded(text: &str) -> String {
    text.bytes().map(|byte| if byte.is_ascii_alphanumeric() { char::from(byte).to_string() } else { format!("%{byte:02X}") }).collect()
}

/// What a form on a page would send if nothing were typed into it.
fn form_of(page: &str, action: &str) -> Vec<(String, String)> {
    let from = page.find(&format!("action=\"{action}\"")).unwrap_or_else(|| panic!("no form to {action}"));
    let form = &page[from..page[from..].find("</form>").map_or(page.len(), |end| from + end)];
    let attribute = |tag: &str, name: &str| tag.split(&format!(" {name}=\"")).nth(1).and_then(|rest| rest.split('"').next()).map(plain);
    let mut pairs = Vec::new();
    for tag in form.split("<input").skip(1).map(|rest| rest.split('>').next().unwrap()) {
        let ticks = tag.contains("type=\"checkbox\"") || tag.contains("type=\"radio\"");
        if let (Some(name), true) = (attribute(tag, "name"), !ticks || tag.contains(" checked")) {
            pairs.push((name, attribute(tag, "value").unwrap_or_default()));
        }
    }
    for select in form.split("<select").skip(1).map(|rest| rest.split("</select>").next().unwrap()) {
        let chosen = select.split("<option").skip(1).find(|option| option.split('>').next().unwrap().contains(" selected"));
        pairs.push((attribute(select, "name").unwrap(), chosen.and_then(|option| attribute(option, "value")).unwrap_or_default()));
    }
    for area in form.split("<textarea").skip(1).map(|rest| rest.split("</textarea>").next().unwrap()) {
        let (tag, text) = area.split_once('>').unwrap();
        pairs.push((attribute(tag, "name").unwrap(), plain(text.trim_start_matches('\n'))));
    }
    pairs
}

fn plain(text: &str) -> String {
    text.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&amp;", "&")
}

fn with<'a>(pairs: &'a [(String, String)], changed: &[(&'a str, &'a str)]) -> Vec<(&'a str, &'a str)> {
    let kept = pairs.iter().map(|(name, value)| (name.as_str(), value.as_str()));
    let mut all: Vec<(&str, &str)> = kept.filter(|(name, _)| !changed.iter().any(|(other, _)| other == name)).collect();
    all.extend_from_slice(changed);
    all
}

#[tokio::test]
async fn a_newcomer_begins_with_an_empty_book_and_has_a_first_plan_from_four_questions() {
    let house = House::new();
    let (status, page) = house.get("/").await;
    assert!(status.is_success() && page.contains("New job") && page.contains("Open the demo"), "{page}");
    let (status, _, page) = house.post("/new", &[("name", "Mill"), ("length", "ten metres or so")]).await;
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(page.contains("value=\"ten metres or so\"") && page.contains("value=\"Mill\"") && page.contains("Cannot be read"), "as typed");
    let (status, to, _) = house.post("/new", &[("name", "Mill"), ("place", "Invented"), ("length", "9.5"), ("stone", "granite")]).await;
    assert_eq!((status, to.as_str()), (StatusCode::SEE_OTHER, "/jobs/mill-invented"));
    for _ in 0..600 {
        if !house.app.book().revisions("mill-invented").unwrap().is_empty() {
            break;
        }
        tokio::time::sleep(Duration::from_millis(100)).await;
    }
    let (status, page) = house.get(&to).await;
    assert!(status.is_success() && page.contains("without odds"), "by rule of thumb, and said so: {page}");
}

#[tokio::test]
async fn every_page_of_a_planned_job_answers_without_a_script() {
    let house = House::with_demo().await;
    for leaf in ["", "/survey", "/coats", "/why", "/why/price.total", "/why/finish", "/history", "/file", "/coats?wall=south"] {
        let (status, page) = house.get(&format!("{DEMO}{leaf}")).await;
        assert!(status.is_success(), "{leaf}: {status}");
        assert!(
            page.contains("<h1") && page.contains("Ferry House, Port Calder") && page.contains("class=\"block\""),
            "{leaf} is a whole sheet"
        );
        assert!(!page.contains("<script>") && !page.contains(" style=\""), "{leaf} holds no script and no style of its own");
    }
    for table in [
        "job",
        "survey",
        "damp",
        "every_wall",
        "walls.north",
        "weather",
        "system",
        "catalogue",
        "window",
        "calendar",
        "gangs",
        "rates",
        "scaffold",
        "allowances",
    ] {
        let (status, page) = house.get(&format!("{DEMO}/form/{table}")).await;
        assert!(status.is_success() && page.contains("name=\"version\""), "{table}: {status}");
    }
    for name in ["order.csv", "programme.ics", "plan.json"] {
        let (status, text) = house.get(&format!("{DEMO}/plans/1/{name}")).await;
        assert!(status.is_success() && text.len() > 500, "{name}: {status}");
    }
    #[cfg(feature = "pdf")]
    for name in ["plans/1/proposal.pdf", "plans/1/damping.pdf", "site.pdf", "damping.pdf"] {
        assert!(house.get(&format!("{DEMO}/{name}")).await.1.starts_with("%PDF"), "{name}");
    }
    for path in [
        "/jobs/none",
        "/jobs/none/survey",
        &format!("{DEMO}/form/no.such"),
        &format!("{DEMO}/why/no.such"),
        "/nowhere",
        &format!("{DEMO}/plans/9/plan.json"),
        &format!("{DEMO}/plans/1/figures.json"),
    ] {
        let (status, page) = house.get(path).await;
        assert!(status == StatusCode::NOT_FOUND && page.contains("To the job book"), "{path}: {status}");
    }
}

#[tokio::test]
async fn a_wall_is_edited_line_by_line_and_taken_back_again() {
    let house = House::with_demo().await;
    let action = format!("{DEMO}/form/walls.north");
    let (_, page) = house.get(&action).await;
    let form = form_of(&page, &action);
    let (status, to, _) = house.post(&action, &with(&form, &[("walls.north.length_m", "37 ft 6 in"), ("do", "keep")])).await;
    assert_eq!((status, to.as_str()), (StatusCode::SEE_OTHER, action.as_str()));
    let text = house.app.book().job("ferry-house-port-calder").unwrap().text;
    assert_eq!(
        text,
        job::demo::JOB.replacen("length_m      = 11.40", "length_m      = \"37 ft 6 in\"", 1),
        "one line changed, every other byte stands"
    );
    let (_, page) = house.get(DEMO).await;
    assert!(page.contains("The job was changed since plan revision 1"), "the plan shown is told to be older");
    let (status, _, _) = house.post(&format!("{DEMO}/undo"), &[("version", "2")]).await;
    assert_eq!(status, StatusCode::SEE_OTHER);
    assert_eq!(house.app.book().job("ferry-house-port-calder").unwrap().text, job::demo::JOB);
    let (_, page) = house.get(&format!("{DEMO}/history")).await;
    assert!(page.contains("walls.north: length") && page.contains("undone: "), "{page}");
    let (status, _, _) = house.post(&format!("{DEMO}/redo"), &[("version", "3")]).await;
    assert_eq!(status, StatusCode::SEE_OTHER);
    assert!(house.app.book().job("ferry-house-port-calder").unwrap().text.contains("37 ft 6 in"));
}

#[tokio::test]
async fn what_will_not_do_is_told_at_its_field_and_nothing_is_kept() {
    let house = House::with_demo().await;
    let action = format!("{DEMO}/form/walls.north");
    let (_, page) = house.get(&action).await;
    let form = form_of(&page, &action);
    let typed =
        [("walls.north.length_m", "ten"), ("walls.north.openings.door.left_m", "11.2"), ("walls.north.splash_s", "55"), ("do", "keep")];
    let (status, _, page) = house.post(&action, &with(&form, &typed)).await;
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(
        page.contains("value=\"ten\"") && page.contains("value=\"55\"") && page.contains("Cannot be kept"),
        "as typed, with the reason"
    );
    assert_eq!(house.app.book().job("ferry-house-port-calder").unwrap().version, 1);
}

#[tokio::test]
async fn an_opening_is_added_and_taken_out() {
    let house = House::with_demo().await;
    let action = format!("{DEMO}/form/walls.north");
    let (_, page) = house.get(&action).await;
    let form = form_of(&page, &action);
    let (status, _, page) =
        house.post(&action, &with(&form, &[("add:walls.north.openings", "Loft hatch"), ("do", "add:walls.north.openings")])).await;
    assert!(status.is_success() && page.contains("name=\"walls.north.openings.loft-hatch.width_m\""), "{status}");
    let form = form_of(&page, &action);
    let values = [
        ("walls.north.openings.loft-hatch.width_m", "0.6"),
        ("walls.north.openings.loft-hatch.height_m", "0.6"),
        ("walls.north.openings.loft-hatch.left_m", "7.2"),
        ("walls.north.openings.loft-hatch.sill_m", "3.4"),
        ("do", "keep"),
    ];
    let (status, _, page) = house.post(&action, &with(&form, &values)).await;
    assert_eq!(status, StatusCode::SEE_OTHER, "{page}");
    let (_, page) = house.get(&action).await;
    let form = form_of(&page, &action);
    let (status, _, _) = house.post(&action, &with(&form, &[("do", "remove:walls.north.openings.loft-hatch")])).await;
    assert_eq!(status, StatusCode::SEE_OTHER);
    assert_eq!(house.app.book().job("ferry-house-port-calder").unwrap().text, job::demo::JOB);
}

#[tokio::test]
async fn a_second_tab_is_told_of_the_first_and_loses_nothing() {
    let house = House::with_demo().await;
    let action = format!("{DEMO}/form/walls.north");
    let (_, page) = house.get(&action).await;
    let form = form_of(&page, &action);
    let (status, _, _) = house.post(&action, &with(&form, &[("walls.north.length_m", "12"), ("do", "keep")])).await;
    assert_eq!(status, StatusCode::SEE_OTHER);
    let (status, _, page) =
        house.post(&action, &with(&form, &[("walls.north.height_m", "4.9"), ("walls.north.length_m", "11.8"), ("do", "keep")])).await;
    assert_eq!(status, StatusCode::CONFLICT);
    assert!(page.contains("changed elsewhere while you typed") && page.contains("is now 12; you typed 11.8"), "{page}");
    let form = form_of(&page, &action);
    assert!(
        form.contains(&("walls.north.height_m".to_owned(), "4.9".to_owned()))
            && form.contains(&("walls.north.length_m".to_owned(), "11.8".to_owned()))
    );
    let (status, _, _) = house.post(&action, &with(&form, &[("do", "keep")])).await;
    assert_eq!(status, StatusCode::SEE_OTHER, "looked through, it is kept");
    let text = house.app.book().job("ferry-house-port-calder").unwrap().text;
    assert!(text.contains("= 4.9") && text.contains("= 11.8"));
}

#[tokio::test]
async fn coats_are_typed_on_the_section_reckoned_again_and_two_plans_compared() {
    let house = House::with_demo().await;
    let action = format!("{DEMO}/coats");
    let (_, page) = house.get(&action).await;
    let form = form_of(&page, &action);
    let (status, _, page) = house.post(&action, &with(&form, &[("finish.thickness_mm", "ninety"), ("do", "keep")])).await;
    assert!(status == StatusCode::UNPROCESSABLE_ENTITY && page.contains("value=\"ninety\""));
    let (status, _, page) = house.post(&action, &with(&form, &[("finish.thickness_mm", "9"), ("finish.mix", "1:3"), ("do", "keep")])).await;
    assert_eq!(status, StatusCode::SEE_OTHER, "{page}");
    let (status, to, _) = house.post(&format!("{DEMO}/reckoning"), &[]).await;
    assert_eq!((status, to.as_str()), (StatusCode::SEE_OTHER, DEMO));
    house.planned(2).await;
    let (status, page) = house.get(&format!("{DEMO}/compare?from=1&to=2")).await;
    assert!(status.is_success() && page.contains("system.coats.finish.mix") && page.contains("price"), "{page}");
    let (status, page) = house.get(&format!("{DEMO}/compare")).await;
    assert!(status == StatusCode::BAD_REQUEST && page.contains("Two plans are compared"));
}

#[tokio::test]
async fn a_file_comes_in_and_goes_out_to_the_byte_and_a_bad_one_is_told_whole() {
    let house = House::new();
    let (status, _, page) = house.post("/import", &[("text", "format = \"job/1\"\n[job]\nname = 3\nnmae = \"x\"\n")]).await;
    assert!(status == StatusCode::UNPROCESSABLE_ENTITY && page.contains("Line 3") && page.contains("nmae"), "{page}");
    let (status, to, _) = house.post("/import", &[("text", job::demo::JOB)]).await;
    assert_eq!((status, to.as_str()), (StatusCode::SEE_OTHER, "/jobs/ferry-house-port-calder/survey"));
    let (_, page) = house.get(&to).await;
    assert!(page.contains("The weather file weather.csv is not here yet"));
    assert_eq!(house.get(&format!("{DEMO}/job.toml")).await.1, job::demo::JOB);
}

#[tokio::test]
async fn weather_is_brought_in_as_a_stream_and_a_bad_name_does_not_climb_out() {
    let house = House::new();
    let (_, _, _) = house.post("/import", &[("text", job::demo::JOB)]).await;
    let weather = job::demo::weather_csv().unwrap();
    let (status, _) = house.bring("../../etc/weather.csv", weather.as_bytes()).await;
    assert_eq!(status, StatusCode::SEE_OTHER);
    let files = house.app.book().attachments("ferry-house-port-calder").unwrap();
    assert_eq!(files.iter().map(|file| (file.name.as_str(), file.bytes)).collect::<Vec<_>>(), [("weather.csv", weather.len() as u64)]);
    for name in ["other.csv", "weather.csv"] {
        let (status, page) = house.bring(name, b"year,month\n1,2\n").await;
        assert!(status == StatusCode::BAD_REQUEST && page.contains("cannot be used as its weather"), "{page}");
        assert!(page.contains("The file was not kept; the weather the job had still stands."), "{page}");
    }
    assert_eq!(house.app.book().attachments("ferry-house-port-calder").unwrap(), files);
    for head in [&b"\0\0\0\x18ftyphevc\0\0\0\0"[..], b"\0\0\0\x18ftypcrx \0\0\0\0", b"II+\0\x08\0\0\0", b"MM\0+\0\x08\0\0"] {
        let (status, page) = house.bring("wall.bin", head).await;
        assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY, "a photograph that cannot be cleaned is not kept: {page}");
    }
    assert_eq!(house.get(&format!("{DEMO}/files/weather.csv")).await.1, weather);
}

impl House {
    async fn bring(&self, name: &str, bytes: &[u8]) -> (StatusCode, String) {
        let mut body =
            format!("--cut\r\nContent-Disposition: form-data; name=\"file\"; filename=\"{name}\"\r\nContent-Type: text/csv\r\n\r\n")
                .into_bytes();
        body.extend_from_slice(bytes);
        body.extend_from_slice(b"\r\n--cut--\r\n");
        let request = Request::post(format!("{DEMO}/files"))
            .header(header::HOST, "127.0.0.1")
            .header(header::ORIGIN, "http://127.0.0.1")
            .header(header::CONTENT_TYPE, "multipart/form-data; boundary=cut")
            .body(Body::from(body))
            .unwrap();
        read(self.ask(request).await).await
    }
}

#[tokio::test]
async fn the_drawing_follows_what_is_typed_and_says_what_cannot_be_drawn() {
    let house = House::new();
    house.post("/import", &[("text", job::demo::JOB)]).await;
    let path = format!("{DEMO}/draw/walls.north");
    let (_, page) = house.get(&format!("{DEMO}/form/walls.north")).await;
    let form = form_of(&page, &format!("{DEMO}/form/walls.north"));
    let (status, _, drawn) = house.post(&path, &with(&form, &[("walls.north.length_m", "12.25")])).await;
    assert!(status.is_success() && drawn.starts_with("<svg") && drawn.contains("12.25 m"), "{drawn}");
    let (_, _, told) = house.post(&path, &with(&form, &[("walls.north.length_m", "5.00")])).await;
    assert!(told.contains("Cannot be drawn as typed"), "an opening runs past the end: {told}");
    assert_eq!(house.app.book().job("ferry-house-port-calder").unwrap().version, 1, "drawing keeps nothing");
}

#[tokio::test]
async fn a_job_put_away_leaves_the_list_and_comes_back() {
    let house = House::new();
    house.post("/import", &[("text", job::demo::JOB)]).await;
    assert_eq!(house.post(&format!("{DEMO}/away"), &[("away", "true")]).await.0, StatusCode::SEE_OTHER);
    let (_, page) = house.get("/").await;
    assert!(!page.contains(DEMO) && page.contains("One job put away"), "{page}");
    assert!(house.get("/away").await.1.contains(DEMO));
    house.post(&format!("{DEMO}/away"), &[("away", "false")]).await;
    assert!(house.get("/").await.1.contains(DEMO));
}

#[tokio::test]
async fn stored_markup_stays_words() {
    let house = House::new();
    let text = job::demo::JOB
        .replace("\"Ferry House\"", "\"<script>alert(1)</script>\"")
        .replace("\"North wall\"", "\"<img src=x onerror=alert(1)>\"");
    let (_, to, _) = house.post("/import", &[("text", &text)]).await;
    for path in ["/", &to] {
        let (_, page) = house.get(path).await;
        assert!(!page.contains("<script>alert") && !page.contains("<img src=x"), "{path}");
        assert!(page.contains("&lt;"), "{path}");
    }
}
