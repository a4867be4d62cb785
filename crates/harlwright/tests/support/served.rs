//! A job book served by the built binary on a free port, with a folder of its own, and a plain caller for it. Whatever a test does, the server ends
//! with it.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    dead_code,
    reason = "a test without its server must stop; each test file uses its own share"
)]

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use store::Book;

/// A server, ended when dropped.
pub struct Served {
    child: Child,
    /// Scheme, host and port.
    pub address: String,
    /// Folder of the book.
    pub book: PathBuf,
    /// How long it took to listen.
    pub took: Duration,
}

impl Served {
    /// Serves a book with further arguments.
    pub fn of(book: &Path, more: &[&str]) -> Self {
        let begun = Instant::now();
        let mut child = Command::new(env!("CARGO_BIN_EXE_harlwright"))
            .args(["serve", "--port", "0", "--book"])
            .arg(book)
            .args(more)
            .env("NO_COLOR", "1")
            .stdin(Stdio::null())
            .stdout(Stdio::null())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let mut lines = BufReader::new(child.stderr.take().unwrap()).lines();
        let mut told = Vec::new();
        let line = loop {
            match lines.next() {
                Some(Ok(line)) if line.contains("://") => break line,
                Some(Ok(line)) => told.push(line),
                _ => panic!("it did not say where it listens: {told:?}"),
            }
        };
        let from = line.find("http").unwrap();
        let (scheme, rest) = line[from..].split_once("://").unwrap();
        let host: String = rest.chars().take_while(|c| !c.is_whitespace() && *c != '/').collect();
        // Whatever it says later is read and let go, so that it never waits for room to speak.
        std::thread::spawn(move || lines.for_each(drop));
        Self { child, address: format!("{scheme}://{host}"), book: book.to_owned(), took: begun.elapsed() }
    }

    /// Host and port.
    pub fn host(&self) -> &str {
        self.address.split_once("://").unwrap().1
    }

    /// Ends it without warning.
    pub fn kill(&mut self) {
        self.child.kill().unwrap();
        self.child.wait().unwrap();
    }
}

impl Drop for Served {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// An answer.
pub struct Answer {
    /// Status.
    pub status: u16,
    /// Head, in small letters.
    pub head: String,
    /// Body.
    pub body: String,
}

impl Answer {
    /// A header.
    pub fn header(&self, name: &str) -> Option<&str> {
        self.head.lines().find_map(|line| line.strip_prefix(name)?.strip_prefix(": "))
    }

    /// The body as JSON.
    pub fn json(&self) -> serde_json::Value {
        serde_json::from_str(&self.body).unwrap_or_else(|error| panic!("{error}: {}", self.body))
    }
}

/// Sends a request as written but for its length and its end, and reads the answer to its end. An error is a connection that broke.
pub fn call(host: &str, method: &str, path: &str, headers: &[(&str, &str)], body: &[u8]) -> std::io::Result<Answer> {
    let mut stream = TcpStream::connect(host)?;
    stream.set_read_timeout(Some(Duration::from_secs(30)))?;
    let mut head = format!("{method} {path} HTTP/1.1\r\nConnection: close\r\nContent-Length: {}\r\n", body.len());
    if !headers.iter().any(|(name, _)| *name == "Host") {
        head += &format!("Host: {host}\r\n");
    }
    for (name, value) in headers {
        head += &format!("{name}: {value}\r\n");
    }
    head += "\r\n";
    stream.write_all(head.as_bytes())?;
    // A server that refuses early may close before it has read everything; its answer still counts.
    let sent = stream.write_all(body);
    let mut bytes = Vec::new();
    match stream.read_to_end(&mut bytes) {
        Err(error) if bytes.is_empty() => return Err(sent.err().unwrap_or(error)),
        _ => {}
    }
    let text = String::from_utf8_lossy(&bytes).into_owned();
    let broke = || std::io::Error::new(std::io::ErrorKind::UnexpectedEof, "the answer broke off");
    let (head, body) = text.split_once("\r\n\r\n").ok_or_else(broke)?;
    let status = head.split(' ').nth(1).and_then(|word| word.parse().ok()).ok_or_else(broke)?;
    let mut lines = String::new();
    for line in head.lines() {
        let (name, value) = line.split_once(':').unwrap_or((line, ""));
        lines += &format!("{}:{value}\n", name.to_ascii_lowercase());
    }
    let chunked = lines.contains("transfer-encoding: chunked");
    Ok(Answer { status, head: lines, body: if chunked { unchunked(body) } else { body.to_owned() } })
}

fn unchunked(mut rest: &str) -> String {
    let mut whole = String::new();
    while let Some((size, after)) = rest.split_once("\r\n") {
        let size = usize::from_str_radix(size.trim(), 16).unwrap_or(0);
        if size == 0 || size > after.len() || !after.is_char_boundary(size) {
            break;
        }
        whole += &after[..size];
        rest = after[size..].trim_start_matches("\r\n");
    }
    whole
}

/// A book in an empty folder with the demo job, its weather, and its plan reckoned and saved through a server once.
pub fn demo_book(folder: &Path) -> PathBuf {
    let named = folder.join("book");
    let book = Book::open(&named.join("book.sqlite")).unwrap();
    let text = std::fs::read_to_string(crate::support::demo()).unwrap();
    let weather = std::fs::read(crate::support::demo().with_file_name("weather.csv")).unwrap();
    let job = book.add_job("Ferry House, Port Calder", &text, "the invented job").unwrap();
    let sha256 = book.put_blob(&mut weather.as_slice(), weather.len() as u64).unwrap();
    book.attach(&job.slug, "weather.csv", &sha256).unwrap();
    named
}

/// Reckons a job through the server and waits for its plan.
pub fn reckon(served: &Served, slug: &str) {
    let begun = call(served.host(), "POST", &format!("/api/jobs/{slug}/reckoning"), &[("Origin", &served.address)], b"").unwrap();
    assert_eq!(begun.status, 202, "{}", begun.body);
    let until = Instant::now() + Duration::from_secs(120);
    loop {
        let progress = call(served.host(), "GET", &format!("/api/jobs/{slug}/reckoning"), &[], b"").unwrap().json();
        match progress["state"].as_str().unwrap() {
            "saved" => return,
            "under-way" if Instant::now() < until => std::thread::sleep(Duration::from_millis(50)),
            _ => panic!("no plan came: {progress}"),
        }
    }
}
