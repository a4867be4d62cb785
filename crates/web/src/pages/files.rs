//! Files that lie with a job: brought in as a stream that goes to the disk as it comes, bounded in size and in number at once; and taken away again.

use std::io::{ErrorKind, Read};

use axum::Router;
use axum::body::Bytes;
use axum::extract::{DefaultBodyLimit, Multipart, State};
use axum::http::header;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use job::edit::Editing;
use store::{Book, StoreError};
use tokio::sync::mpsc;

use crate::doors::Visitor;
use crate::extract::Address;
use crate::pages::start::{only_for_changers, title_of};
use crate::{App, PageError};

/// Most bytes of a file brought in.
const MOST: u64 = 512 * 1024 * 1024;
/// Largest photograph, bytes: it is cleaned in memory.
const PICTURE_MOST: u64 = 24 * 1024 * 1024;
/// Largest weather file, bytes: thirty hourly years with room to spare.
const WEATHER_MOST: u64 = 64 * 1024 * 1024;
/// Pieces on the way between the network and the disk.
const PIECES: usize = 4;

/// Bring in, take away.
pub fn routes() -> Router<App> {
    let bring = post(bring).layer(DefaultBodyLimit::max(MOST as usize + 64 * 1024));
    Router::new().route("/jobs/{slug}/files", bring).route("/jobs/{slug}/files/{name}", get(take))
}

/// A reader of pieces as they come from the network.
struct Pieces {
    coming: mpsc::Receiver<Result<Bytes, ()>>,
    piece: Bytes,
}

impl Read for Pieces {
    fn read(&mut self, into: &mut [u8]) -> std::io::Result<usize> {
        while self.piece.is_empty() {
            match self.coming.blocking_recv() {
                Some(Ok(piece)) => self.piece = piece,
                Some(Err(())) => return Err(std::io::Error::new(ErrorKind::UnexpectedEof, "the file broke off on its way")),
                None => return Ok(0),
            }
        }
        let count = self.piece.len().min(into.len());
        into[..count].copy_from_slice(&self.piece.split_to(count));
        Ok(count)
    }
}

async fn bring(State(app): State<App>, who: Visitor, Address(slug): Address<String>, form: Multipart) -> Result<Response, PageError> {
    only_for_changers(&who)?;
    let (name, sha256) = {
        let _room = app.upload()?;
        receive(&app, form).await?
    };
    let (job, file) = (slug.clone(), name.clone());
    let used = app.read(move |book| Ok(take_in(book, &job, &file, &sha256))).await?;
    used?;
    Ok(Redirect::to(&format!("/jobs/{slug}/survey")).into_response())
}

/// Streams the first file of a form into the book; returns its name and its hash.
async fn receive(app: &App, mut form: Multipart) -> Result<(String, String), PageError> {
    let broken = |_| PageError::bad("The file broke off on its way, or is larger than 512 MB.", "Bring it in again; nothing was kept.");
    while let Some(mut field) = form.next_field().await.map_err(broken)? {
        let Some(name) = field.file_name().and_then(plain_name) else { continue };
        let (send, coming) = mpsc::channel(PIECES);
        let book = std::sync::Arc::clone(app.book());
        let kept = tokio::task::spawn_blocking(move || keep(&book, &mut Pieces { coming, piece: Bytes::new() }));
        loop {
            match field.chunk().await {
                Ok(Some(piece)) => {
                    // The other end goes away when the book would not take more; it says why below.
                    if send.send(Ok(piece)).await.is_err() {
                        break;
                    }
                }
                Ok(None) => break,
                Err(error) => {
                    let _ = send.send(Err(())).await;
                    drop(kept.await);
                    return Err(broken(error));
                }
            }
        }
        drop(send);
        let sha256 = kept.await.map_err(|_| PageError::machine("The file could not be kept."))??;
        return Ok((name, sha256));
    }
    Err(PageError::bad("No file came with the form.", "Choose a file and send the form again."))
}

/// Keeps a file; a photograph without its place and device, and one that cannot be cleaned not at all.
fn keep(book: &Book, from: &mut dyn Read) -> Result<String, StoreError> {
    let broken = |_| StoreError::Picture("the file broke off on its way");
    let mut head = Vec::new();
    from.take(16).read_to_end(&mut head).map_err(broken)?;
    if is_uncleanable(&head) {
        return Err(StoreError::Picture("only JPEG and PNG can be freed of place and device"));
    }
    if !head.starts_with(&[0xFF, 0xD8, 0xFF]) && !head.starts_with(b"\x89PNG\r\n\x1a\n") {
        return book.put_blob(&mut head.as_slice().chain(from), MOST);
    }
    from.take(PICTURE_MOST).read_to_end(&mut head).map_err(broken)?;
    if head.len() as u64 > PICTURE_MOST {
        return Err(StoreError::Picture("it is larger than 24 MB"));
    }
    book.put_blob(&mut store::strip(&head)?.bytes.as_slice(), PICTURE_MOST)
}

/// True for the first bytes of HEIF in its usual brands, AVIF, CR3, WebP, TIFF and BigTIFF: photographs too, which would keep where they were taken.
fn is_uncleanable(head: &[u8]) -> bool {
    let brand = head.get(8..12).filter(|_| head.get(4..8) == Some(b"ftyp"));
    let heif = matches!(brand, Some(b"heic" | b"heix" | b"heim" | b"heis" | b"hevc" | b"hevx" | b"mif1" | b"msf1"));
    let still = heif || matches!(brand, Some(b"avif" | b"avis" | b"crx "));
    let webp = head.starts_with(b"RIFF") && head.get(8..12) == Some(b"WEBP");
    still || webp || [b"II*\0", b"MM\0*", b"II+\0", b"MM\0+"].iter().any(|tiff| head.starts_with(*tiff))
}

/// The last part of a file's name, of letters, digits, points, hyphens and blanks alone; `None` if nothing is left of it.
fn plain_name(name: &str) -> Option<String> {
    let last = name.rsplit(['/', '\\']).next().unwrap_or_default();
    let kept: String = last.chars().map(|c| if c.is_alphanumeric() || matches!(c, '.' | '-' | '_') { c } else { '-' }).take(80).collect();
    let kept = kept.trim_start_matches('.').to_owned();
    (!kept.is_empty()).then_some(kept)
}

/// True for a file named as weather is, small enough to be it, and not named by the job as the relief of a wall.
fn becomes_weather(book: &Book, slug: &str, name: &str, sha256: &str) -> Result<bool, PageError> {
    let text = book.job(slug)?.text;
    let named = [".csv", ".epw", ".tmy3", ".tmy"].iter().any(|end| name.to_lowercase().ends_with(end));
    let is_relief = job::read(&text, "the job").is_ok_and(|read| read.reliefs.iter().any(|asked| asked.file == name));
    if !named || is_relief {
        return Ok(false);
    }
    let size = book.blob(sha256)?.metadata().map_err(|error| PageError::machine(format!("The file could not be read: {error}.")))?;
    Ok(size.len() <= WEATHER_MOST)
}

/// Gives a file to the job; one that is to be its weather and does not read is not kept, one that does becomes the weather of the job.
fn take_in(book: &Book, slug: &str, name: &str, sha256: &str) -> Result<(), PageError> {
    if !becomes_weather(book, slug, name, sha256)? {
        return book.attach(slug, name, sha256).map_err(PageError::from);
    }
    // Read first: a bad file under the name of the job's weather must not take its place.
    weather::read_any(&book.blob_bytes(sha256)?, name).map_err(|error| {
        PageError::bad(
            format!("{name} cannot be used as its weather: {error} The file was not kept; the weather the job had still stands."),
            "See what a weather file must hold, and bring in a mended one.",
        )
    })?;
    book.attach(slug, name, sha256)?;
    for _ in 0..3 {
        let job = book.job(slug)?;
        let mut editing = Editing::open(&job.text).unwrap_or_else(Editing::empty);
        editing.set("weather.file", name).map_err(|refused| PageError::bad(refused.to_string(), "Give the file a plain name."))?;
        let text = editing.text();
        if text == job.text {
            return Ok(());
        }
        match book.save_job(slug, job.version, &title_of(&text), &text, &format!("weather: {name}")) {
            Err(StoreError::Conflict { .. }) => {}
            other => return other.map(drop).map_err(PageError::from),
        }
    }
    Err(PageError::busy())
}

async fn take(State(app): State<App>, who: Visitor, Address((slug, name)): Address<(String, String)>) -> Result<Response, PageError> {
    only_for_changers(&who)?;
    let file = name.clone();
    let found = app
        .read(move |book| {
            let attached = book.attachment(&slug, &file)?;
            attached.map(|attached| book.blob(&attached.sha256)).transpose()
        })
        .await?;
    let file = found.ok_or_else(|| PageError::nothing("file"))?;
    let name = plain_name(&name).unwrap_or_else(|| "file".to_owned());
    let headers = [
        (header::CONTENT_TYPE, "application/octet-stream".to_owned()),
        (header::CONTENT_DISPOSITION, format!("attachment; filename=\"{}\"", name.chars().filter(char::is_ascii).collect::<String>())),
    ];
    Ok((headers, stream(file)).into_response())
}

/// A file as a body, piece by piece.
fn stream(mut file: std::fs::File) -> axum::body::Body {
    let (send, coming) = mpsc::channel::<std::io::Result<Bytes>>(PIECES);
    tokio::task::spawn_blocking(move || {
        loop {
            let mut piece = vec![0; 64 * 1024];
            let read = file.read(&mut piece);
            let piece = match read {
                Ok(0) => return,
                Ok(count) => {
                    piece.truncate(count);
                    Ok(Bytes::from(piece))
                }
                Err(error) => Err(error),
            };
            let last = piece.is_err();
            if send.blocking_send(piece).is_err() || last {
                return;
            }
        }
    });
    axum::body::Body::from_stream(tokio_stream::wrappers::ReceiverStream::new(coming))
}
