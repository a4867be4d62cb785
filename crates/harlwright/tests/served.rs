//! The job book served by the built binary, called as a program or an attacker would: what it refuses, what it holds under load, and that nothing it
//! acknowledged is lost when it is killed.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "a test without its server must stop")]

#[path = "support/served.rs"]
mod served;
mod support;

use std::net::TcpStream;
use std::process::Command;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, Instant};

use served::{Answer, Served, call, demo_book, reckon};
use store::Book;
use support::folder;

const HTML: (&str, &str) = ("Accept", "text/html");

fn get(served: &Served, path: &str) -> Answer {
    call(served.host(), "GET", path, &[HTML], b"").unwrap()
}

fn job_text() -> String {
    std::fs::read_to_string(support::demo()).unwrap()
}

fn version_of(served: &Served) -> i64 {
    call(served.host(), "GET", "/api/jobs/ferry-house-port-calder", &[], b"").unwrap().json()["version"].as_i64().unwrap()
}

#[test]
fn it_refuses_to_start_beyond_this_machine_and_names_both_remedies() {
    let book = folder("served-refuses").join("book");
    let run = |more: &[&str]| {
        let said =
            Command::new(env!("CARGO_BIN_EXE_harlwright")).args(["serve", "--port", "0", "--book"]).arg(&book).args(more).output().unwrap();
        (said.status.code(), String::from_utf8_lossy(&said.stderr).into_owned())
    };
    let (code, words) = run(&["--bind", "0.0.0.0"]);
    assert_eq!(code, Some(2), "{words}");
    for remedy in ["--tls-cert", "--tls-key", "--behind-tls-proxy", "account add"] {
        assert!(words.contains(remedy), "{remedy} is not named: {words}");
    }
    Book::open(&book.join("book.sqlite")).unwrap().add_account("ann", store::Role::Owner, "$argon2id$none").unwrap();
    let (code, words) = run(&["--bind", "0.0.0.0"]);
    assert!(code == Some(2) && words.contains("--behind-tls-proxy") && !words.contains("account add"), "{words}");
    let (code, words) = run(&["--tls-cert", "none.pem", "--tls-key", "none.pem"]);
    assert!(code != Some(0) && words.contains("none.pem"), "{words}");
    let (code, words) = run(&["--behind-tls-proxy", "book.example.org"]);
    assert!(code == Some(2) && words.contains("is not an origin"), "{words}");
}

#[test]
fn what_does_not_come_from_its_own_pages_changes_nothing() {
    let folder = folder("served-origins");
    let served = Served::of(&demo_book(&folder), &[]);
    let own = served.address.clone();
    let post = |headers: &[(&str, &str)]| call(served.host(), "POST", "/demo", headers, b"").unwrap().status;
    let form = ("Content-Type", "application/x-www-form-urlencoded");
    for headers in [
        vec![form],
        vec![form, ("Origin", "null")],
        vec![form, ("Origin", "http://evil.example")],
        vec![form, ("Sec-Fetch-Site", "cross-site")],
        vec![form, ("Sec-Fetch-Site", "same-site"), ("Origin", &own)],
        vec![form, ("Sec-Fetch-Site", "none")],
    ] {
        assert_eq!(post(&headers), 403, "{headers:?}");
    }
    assert_eq!(call(served.host(), "GET", "/api/jobs", &[], b"").unwrap().json()["jobs"].as_array().unwrap().len(), 1, "nothing was added");
    assert_eq!(
        call(served.host(), "GET", "/", &[("Host", "evil.example")], b"").unwrap().status,
        421,
        "a name made to point here is not answered"
    );
    assert_eq!(call(served.host(), "GET", "/", &[("Host", "localhost:99")], b"").unwrap().status, 200, "a tunnel may change the port");
    let page = get(&served, "/");
    for (name, value) in
        [("content-security-policy", "default-src 'self'"), ("x-content-type-options", "nosniff"), ("x-frame-options", "DENY")]
    {
        assert!(page.header(name).is_some_and(|found| found.contains(value)), "{name}: {}", page.head);
    }
    assert!(!page.header("content-security-policy").unwrap().contains("unsafe"));
}

#[test]
fn paths_lead_nowhere_and_stored_markup_is_shown_as_typed() {
    let folder = folder("served-paths");
    let named = demo_book(&folder);
    std::fs::write(folder.join("secret.txt"), "not to be read").unwrap();
    {
        let book = Book::open_existing(&named.join("book.sqlite")).unwrap();
        let text = job_text().replace("Ferry House", "<script>alert(1)</script><img src=x onerror=alert(2)>");
        assert!(job::read(&text, "the job").is_ok(), "the name is one that a job may bear");
        book.add_job("<script>alert(1)</script>", &text, "<b>markup</b>").unwrap();
    }
    let served = Served::of(&named, &[]);
    for path in [
        "/assets/../../book.sqlite",
        "/assets/%2e%2e/%2e%2e/book.sqlite",
        "/assets/x/..%2f..%2fsecret.txt",
        "/jobs/ferry-house-port-calder/files/..%2F..%2Fbook.sqlite",
        "/jobs/ferry-house-port-calder/files/%2e%2e%2fbook.sqlite",
        "/jobs/ferry-house-port-calder/plans/1/..%2f..%2fsecret.txt",
        "/jobs/..%2f..%2fsecret.txt",
        "/jobs/%00",
        "/api/jobs/..%2f..%2fsecret.txt",
        "/api/jobs/ferry-house-port-calder/plans/1/files/..%2f..%2fbook.sqlite",
        "//etc/passwd",
        "/..%5c..%5csecret.txt",
    ] {
        let answer = get(&served, path);
        assert!((400..500).contains(&answer.status), "{path} answers {}", answer.status);
        assert!(!answer.body.contains("not to be read") && !answer.body.contains("SQLite format"), "{path} lets something out");
    }
    let jobs = call(served.host(), "GET", "/api/jobs", &[], b"").unwrap().json();
    let slugs: Vec<String> = jobs["jobs"].as_array().unwrap().iter().map(|job| job["slug"].as_str().unwrap().to_owned()).collect();
    let marked = slugs.iter().find(|slug| !slug.starts_with("ferry")).unwrap();
    for path in [
        "/".to_owned(),
        format!("/jobs/{marked}"),
        format!("/jobs/{marked}/survey"),
        format!("/jobs/{marked}/history"),
        format!("/jobs/{marked}/file"),
    ] {
        let page = get(&served, &path);
        assert_eq!(page.status, 200, "{path}: {}", page.body);
        assert!(!page.body.contains("<script>alert") && !page.body.contains("<img src=x"), "{path} holds stored markup");
    }
    assert!(get(&served, &format!("/jobs/{marked}/history")).body.contains("&lt;b&gt;markup"));
}

#[test]
fn what_is_too_large_or_broken_is_refused_and_changes_nothing() {
    let folder = folder("served-uploads");
    let served = Served::of(&demo_book(&folder), &[]);
    let own = served.address.clone();
    let json = ("Content-Type", "application/json");
    let put = |headers: &[(&str, &str)], body: &[u8]| {
        let mut all = vec![("Origin", own.as_str())];
        all.extend_from_slice(headers);
        call(served.host(), "PUT", "/api/jobs/ferry-house-port-calder", &all, body).unwrap().status
    };
    let tag = ("If-Match", "\"v1\"");
    assert_eq!(put(&[json, tag], format!("{{\"text\": \"{}\"}}", "x".repeat(9_000_000)).as_bytes()), 413);
    assert_eq!(put(&[json, tag], b"{\"text\": "), 400);
    assert_eq!(put(&[json, tag], b"{\"text\": \"no = job\"}"), 422);
    assert_eq!(put(&[("Content-Type", "text/plain"), tag], b"x"), 415);
    assert_eq!(put(&[json], b"{\"text\": \"\"}"), 428);
    assert_eq!(put(&[json, ("If-Match", "\"v7\"")], serde_json::json!({ "text": job_text() }).to_string().as_bytes()), 412);
    let form = |head: &str, body: &str| {
        let whole = format!("--b\r\nContent-Disposition: form-data; name=\"file\"{head}\r\n\r\n{body}\r\n--b--\r\n");
        let headers = [("Origin", own.as_str()), ("Content-Type", "multipart/form-data; boundary=b"), HTML];
        call(served.host(), "POST", "/jobs/ferry-house-port-calder/files", &headers, whole.as_bytes()).unwrap().status
    };
    assert!(form("; filename=\"weather.csv\"", "no weather at all") >= 400);
    assert!(form("", "no file") >= 400);
    let headers = [("Origin", own.as_str()), ("Content-Type", "multipart/form-data; boundary=b"), HTML];
    let broken = call(
        served.host(),
        "POST",
        "/jobs/ferry-house-port-calder/files",
        &headers,
        b"--b\r\nContent-Disposition: form-data; name=\"file\"; filename=\"a.ply\"\r\n\r\nhalf",
    )
    .unwrap();
    assert!((400..500).contains(&broken.status), "{}", broken.status);
    let announced = [("Origin", own.as_str()), ("Content-Type", "multipart/form-data; boundary=b")];
    let endless = call_announcing(&served, &announced, 4_000_000_000);
    assert_eq!(endless, 413, "what is announced as too large is refused before it comes");
    let restore = call(
        served.host(),
        "POST",
        "/restore",
        &headers,
        b"--b\r\nContent-Disposition: form-data; name=\"backup\"; filename=\"b\"\r\n\r\nno backup\r\n--b--\r\n",
    )
    .unwrap();
    assert!((400..500).contains(&restore.status), "{}", restore.status);
    let heic =
        b"--b\r\nContent-Disposition: form-data; name=\"file\"; filename=\"wall.csv\"\r\n\r\n\0\0\0\x18ftypheic\0\0\0\0\r\n--b--\r\n";
    let photograph = call(served.host(), "POST", "/jobs/ferry-house-port-calder/files", &headers, heic).unwrap();
    assert_eq!(
        photograph.status, 422,
        "a photograph that would keep its place is not taken in, whatever it is called: {}",
        photograph.body
    );
    assert_eq!(version_of(&served), 1, "nothing was changed");
    let left: Vec<String> =
        std::fs::read_dir(&served.book).unwrap().map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned()).collect();
    assert!(left.iter().all(|name| name.starts_with("book.sqlite")), "something is left behind: {left:?}");
}

/// Announces a length and sends nothing of it; the status that comes.
fn call_announcing(served: &Served, headers: &[(&str, &str)], bytes: u64) -> u16 {
    use std::io::{Read, Write};
    let mut stream = TcpStream::connect(served.host()).unwrap();
    stream.set_read_timeout(Some(Duration::from_secs(10))).unwrap();
    let mut head = format!("POST /jobs/ferry-house-port-calder/files HTTP/1.1\r\nHost: {}\r\nContent-Length: {bytes}\r\n", served.host());
    for (name, value) in headers {
        head += &format!("{name}: {value}\r\n");
    }
    stream.write_all(format!("{head}\r\n").as_bytes()).unwrap();
    let mut answer = [0_u8; 64];
    let read = stream.read(&mut answer).unwrap();
    String::from_utf8_lossy(&answer[..read]).split(' ').nth(1).and_then(|word| word.parse().ok()).unwrap()
}

#[test]
fn every_acknowledged_write_through_the_server_outlives_a_kill() {
    let kills: usize = if std::env::var_os("HARLWRIGHT_LONG").is_some() { 200 } else { 20 };
    let book = demo_book(&folder("served-killed"));
    let mut acknowledged = 0;
    for kill in 0..kills {
        let mut served = Served::of(&book, &[]);
        let (host, own) = (served.host().to_owned(), served.address.clone());
        let begun = version_of(&served);
        let writer = std::thread::spawn(move || {
            let mut told = Vec::new();
            for version in begun.. {
                let text = format!("{}\n# change {version}\n", job_text());
                let body = serde_json::json!({ "text": text, "what": format!("change {version}") }).to_string();
                let tag = format!("\"v{version}\"");
                let headers = [("Origin", own.as_str()), ("Content-Type", "application/json"), ("If-Match", tag.as_str())];
                match call(&host, "PUT", "/api/jobs/ferry-house-port-calder", &headers, body.as_bytes()) {
                    Ok(answer) if answer.status == 200 => told.push((version + 1, text)),
                    Ok(answer) => panic!("{}: {}", answer.status, answer.body),
                    Err(_) => return told,
                }
            }
            told
        });
        // Differing moments, the same in every run of the test.
        std::thread::sleep(Duration::from_micros(60_000 + (kill as u64 * 7919) % 45_000));
        served.kill();
        let told = writer.join().unwrap();
        acknowledged += told.len();
        let opened = Book::open_existing(&book.join("book.sqlite")).unwrap();
        for (version, text) in &told {
            assert_eq!(&opened.text_at("ferry-house-port-calder", *version).unwrap(), text, "version {version} was acknowledged");
        }
        assert_eq!(opened.check().unwrap().faults, Vec::<String>::new());
    }
    assert!(acknowledged >= kills, "only {acknowledged} writes were acknowledged in {kills} kills");
    println!("{kills} kills, {acknowledged} acknowledged writes, none lost");
}

#[test]
fn two_hundred_read_at_once_without_an_error() {
    let book = demo_book(&folder("served-readers"));
    {
        let opened = Book::open_existing(&book.join("book.sqlite")).unwrap();
        for number in 0..499 {
            opened.add_job(&format!("Job {number}"), &job_text(), "filled").unwrap();
        }
    }
    let served = Served::of(&book, &[]);
    println!("start to listening: {:?}", served.took);
    let first = Instant::now();
    assert_eq!(get(&served, "/").status, 200);
    println!("first page: {:?}", first.elapsed());
    reckon(&served, "ferry-house-port-calder");
    let paths = [
        "/",
        "/jobs/ferry-house-port-calder",
        "/jobs/ferry-house-port-calder/survey",
        "/api/jobs",
        "/jobs/ferry-house-port-calder/history",
    ];
    for path in paths {
        let mut times: Vec<Duration> = (0..40)
            .map(|_| {
                let begun = Instant::now();
                assert_eq!(get(&served, path).status, 200);
                begun.elapsed()
            })
            .collect();
        times.sort();
        println!("{path} with 500 jobs, one reader: median {:?}, 95th percentile {:?}", times[20], times[37]);
    }
    let (errors, answers) = (AtomicUsize::new(0), AtomicUsize::new(0));
    let begun = Instant::now();
    std::thread::scope(|scope| {
        for reader in 0..200 {
            let (served, errors, answers) = (&served, &errors, &answers);
            scope.spawn(move || {
                for round in 0..5 {
                    match call(served.host(), "GET", paths[(reader + round) % paths.len()], &[HTML], b"") {
                        Ok(answer) if answer.status == 200 && answer.body.len() > 200 => answers.fetch_add(1, Ordering::Relaxed),
                        _ => errors.fetch_add(1, Ordering::Relaxed),
                    };
                }
            });
        }
    });
    println!("1000 pages for 200 readers at once in {:?}", begun.elapsed());
    assert_eq!((errors.into_inner(), answers.into_inner()), (0, 1000));
}
