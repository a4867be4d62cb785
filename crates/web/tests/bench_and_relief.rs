//! The pages of the bench and of the relief as a browser without a script uses them: forms are filled, files brought, entries put into the job; what will not
//! do is told and changes nothing.
#![allow(clippy::unwrap_used, clippy::expect_used)]

use axum::body::Body;
use axum::http::{Request, StatusCode, header};
use tower::ServiceExt;
use web::App;
use web::doors::Manner;

/// A book with one small job: a wall lower than the survey's edge is long.
fn book() -> (tempfile::TempDir, App, String) {
    let folder = tempfile::tempdir().unwrap();
    let app = App::open(&folder.path().join("book.sqlite")).unwrap();
    let text = "[job]\nname = \"Gate Lodge\"\nplace = \"Port Calder\"\ninvented = true\n[survey]\nsurveyed_on = 2027-04-12\nstage = \"after-opening-up\"\n[window]\nstart = 2027-04-26\n[walls.north]\nfaces = \"north\"\nlength_m = 7.2\nheight_m = 1.5\nevenness = \"coursed\"\n";
    let slug = app.book().add_job("Gate Lodge", text, "invented").unwrap().slug;
    (folder, app, slug)
}

async fn send(app: &App, request: Request<Body>) -> (StatusCode, String) {
    let response = web::router(app.clone(), Manner::loopback()).oneshot(request).await.unwrap();
    let status = response.status();
    let bytes = axum::body::to_bytes(response.into_body(), 64 * 1024 * 1024).await.unwrap();
    (status, String::from_utf8_lossy(&bytes).into_owned())
}

async fn get(app: &App, path: &str) -> (StatusCode, String) {
    send(app, Request::get(path).header(header::HOST, "localhost").body(Body::empty()).unwrap()).await
}

async fn post(app: &App, path: &str, kind: &str, body: impl Into<Body>) -> (StatusCode, String) {
    let request = Request::post(path).header(header::HOST, "localhost").header("sec-fetch-site", "same-origin");
    send(app, request.header(header::CONTENT_TYPE, kind).body(body.into()).unwrap()).await
}

async fn typed(app: &App, path: &str, fields: &[(&str, &str)]) -> (StatusCode, String) {
    let escaped = |text: &str| {
        text.bytes()
            .map(|byte| if byte.is_ascii_alphanumeric() { char::from(byte).to_string() } else { format!("%{byte:02X}") })
            .collect::<String>()
    };
    let body: Vec<String> = fields.iter().map(|(name, value)| format!("{}={}", escaped(name), escaped(value))).collect();
    post(app, path, "application/x-www-form-urlencoded", body.join("&")).await
}

const SAND: [(&str, &str); 12] = [
    ("title", "Sand of the pit (invented)"),
    ("coat.thickness_mm", "12"),
    ("coat.laying", "trowelled"),
    ("sands.1.name", "Calder pit"),
    ("sands.1.sieves_mm", "8 4 2 1 0.5 0.25 0.125 0.063"),
    ("sands.1.passing_percent", "100 96 80 62 41 19 6 2"),
    ("sands.1.loose_kg_l", "1.40"),
    ("ordered.lime", "putty-cl90"),
    ("ordered.sand", "sharp-0-4"),
    ("ordered.parts", "2.5"),
    ("ordered.lime_price", "11.5"),
    ("ordered.sand_price", "40"),
];

#[tokio::test]
async fn a_sand_is_typed_judged_and_put_into_the_job() {
    let (_folder, app, slug) = book();
    let here = format!("/jobs/{slug}/materials/sand");
    assert_eq!(get(&app, &format!("/jobs/{slug}/materials")).await.0, StatusCode::OK);
    let (status, page) = typed(&app, &here, &SAND[..5]).await;
    assert!(status == StatusCode::UNPROCESSABLE_ENTITY && page.contains("passing_percent") && page.contains("Calder pit"), "{status}");
    let (status, _) = typed(&app, &here, &SAND).await;
    assert_eq!(status, StatusCode::SEE_OTHER);
    let (status, page) = get(&app, &here).await;
    assert_eq!(status, StatusCode::OK);
    for word in [
        "Fineness modulus",
        "the envelope of the trade",
        "what came, same boxes",
        "[catalogue.sands.sharp-0-4-delivered]",
        "Lime and sand cost",
        "<svg",
    ] {
        assert!(page.contains(word), "{word}");
    }
    let version = app.book().job(&slug).unwrap().version.to_string();
    let (status, _) = typed(&app, &format!("{here}/entry"), &[("version", &version), ("which", "arrival"), ("use", "yes")]).await;
    assert_eq!(status, StatusCode::SEE_OTHER);
    let text = app.book().job(&slug).unwrap().text;
    let job = job::read(&text, "job").unwrap();
    assert_eq!(job.inputs.system.sand.value, "sharp-0-4-delivered");
    assert!((job.inputs.catalogue.sands["sharp-0-4-delivered"].loose_kg_m3 - 1400.0).abs() < 1e-9);
    // Put in again it stands once.
    let version = app.book().job(&slug).unwrap().version.to_string();
    typed(&app, &format!("{here}/entry"), &[("version", &version), ("which", "arrival"), ("use", "no")]).await;
    assert_eq!(app.book().job(&slug).unwrap().text.matches("[catalogue.sands.sharp-0-4-delivered]").count(), 1);
}

#[tokio::test]
async fn cautions_stand_before_baths_and_acid_and_no_procedure_is_told() {
    let (_folder, app, slug) = book();
    for (bench, first) in [("slake", "never water onto quicklime"), ("mortar", "never water into acid")] {
        let (status, page) = get(&app, &format!("/jobs/{slug}/materials/{bench}")).await;
        assert!(status == StatusCode::OK && page.contains(first), "{bench}");
        assert!(page.find(first) < page.find("name=\"title\""), "{bench}: cautions come before the form");
    }
    let bath = [
        ("title", "A bath (invented)"),
        ("throwing_day", "2027-05-10"),
        ("bath.quicklime_kg", "25"),
        ("bath.water_kg", "55"),
        ("test.class", "R5"),
        ("pace.kg_min", "0.5"),
    ];
    let here = format!("/jobs/{slug}/materials/slake");
    assert_eq!(typed(&app, &here, &bath).await.0, StatusCode::SEE_OTHER);
    let page = get(&app, &here).await.1;
    for word in ["The bath as lumps go in", "Saturday 10 April 2027", "start with a tenth", "No figure here is safe"] {
        assert!(page.contains(word), "{word}");
    }
}

#[tokio::test]
async fn limes_make_a_card_to_print() {
    let (_folder, app, slug) = book();
    let fields = [
        ("title", "Limes (invented)"),
        ("limes.1.name", "putty of the pit"),
        ("limes.1.kind", "putty"),
        ("limes.1.litre_kg", "1.33"),
        ("limes.2.name", "hydrate"),
        ("limes.2.kind", "hydrate"),
        ("limes.2.litre_kg", "0.48"),
        ("batch.lime", "putty-cl90"),
        ("batch.sand", "sharp-0-4"),
        ("batch.parts", "2.5"),
        ("batch.mixer_l", "100"),
        ("batch.day_l", "600"),
    ];
    let here = format!("/jobs/{slug}/materials/lime");
    assert_eq!(typed(&app, &here, &fields).await.0, StatusCode::SEE_OTHER);
    let page = get(&app, &here).await.1;
    assert!(page.contains("6 batches") && page.contains("equal portlandite"), "{page}");
    let (status, card) = get(&app, &format!("{here}/card.pdf")).await;
    assert!(status == StatusCode::OK && card.starts_with("%PDF"));
}

/// Waves of 12 mm either way each 0.6 m along the wall, crests at both ends.
fn scan() -> String {
    let mut text = String::from("x,y,z\n");
    for cell in 0..360 * 75 {
        let (along, up) = (f64::from(cell % 360) * 0.02 + 0.01, f64::from(cell / 360) * 0.02 + 0.01);
        text += &format!("{along:.3},{:.5},{up:.3}\n", 6.0 - 0.012 * (2.0 * std::f64::consts::PI * along / 0.6).cos());
    }
    text
}

fn form(version: &str, file: &str) -> String {
    let part = |name: &str, value: &str| format!("--edge\r\nContent-Disposition: form-data; name=\"{name}\"\r\n\r\n{value}\r\n");
    format!(
        "{}{}{}{}--edge\r\nContent-Disposition: form-data; name=\"file\"; filename=\"north.csv\"\r\nContent-Type: text/csv\r\n\r\n{file}\r\n--edge--\r\n",
        part("version", version),
        part("form", "scan"),
        part("unit", "m"),
        part("cell", "20")
    )
}

#[tokio::test]
async fn a_scan_is_brought_mapped_and_ruled_with_any_edge() {
    let (_folder, app, slug) = book();
    let here = format!("/jobs/{slug}/relief/north");
    assert!(get(&app, &format!("/jobs/{slug}/relief")).await.1.contains("No scan or table of offsets yet"));
    let page = get(&app, &here).await.1;
    assert!(
        page.contains("type=\"range\"") && page.contains("by eye") && !page.contains("data-depths"),
        "a wall by eye has a slider and no map"
    );
    let version = app.book().job(&slug).unwrap().version.to_string();
    let kind = "multipart/form-data; boundary=edge";
    let (status, page) = post(&app, &here, kind, form(&version, "x,y,z\n1,2,3\n4,5,6\n")).await;
    assert!(status == StatusCode::UNPROCESSABLE_ENTITY && page.contains("too few"), "{status} {page}");
    assert!(app.book().job(&slug).unwrap().text.contains("coursed"), "a file that does not read changes nothing");
    assert_eq!(post(&app, &here, kind, form(&version, &scan())).await.0, StatusCode::SEE_OTHER);
    let text = app.book().job(&slug).unwrap().text;
    assert!(text.contains("relief_file = \"relief-north-") && !text.contains("coursed"), "{text}");
    let kept = app.book().attachments(&slug).unwrap();
    let (status, page) = post(&app, &here, kind, form(&version, &format!("{}0,0,0\n", scan()))).await;
    assert!(status == StatusCode::CONFLICT && page.contains("saved elsewhere"), "{status} {page}");
    assert_eq!(app.book().attachments(&slug).unwrap(), kept, "a form of an earlier version brings no file");
    let page = get(&app, &format!("{here}?edge=0.9&x1=0&y1=0.7&x2=3&y2=0.7")).await.1;
    for word in ["data-depths", "Profile under the straight-edge", "Every length", "quick"] {
        assert!(page.contains(word), "{word}");
    }
    // exact solution: under an edge longer than the waves the hollows are filled to the crests, 24 mm at the deepest and the least cover over it.
    let depths: serde_json::Value = serde_json::from_str(&get(&app, &format!("{here}/depths.json?edge=0.9")).await.1).unwrap();
    let rows = depths["tenths_mm"].as_array().unwrap();
    let deepest = rows.iter().flat_map(|row| row.as_array().unwrap()).filter_map(serde_json::Value::as_i64).max().unwrap();
    assert!((265..=275).contains(&deepest), "{deepest}");
    // The slider asks again and again: the second answer stands on what the first laid out.
    let begun = std::time::Instant::now();
    let (status, quick) = typed(&app, &format!("{here}/edge"), &[("edge", "0.3")]).await;
    println!("the slider answered in {:?}", begun.elapsed());
    assert!(status == StatusCode::OK && quick.contains("Mortar") && quick.contains("0.3 m"), "{quick}");
}
