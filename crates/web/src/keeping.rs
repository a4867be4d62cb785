//! Keeping the book: backups given out, and restored beside the book. What comes in goes to the disk as it comes, a little at a time, and no more
//! of it than is allowed. It must never touch the book that is open.

use std::io::Read;
use std::path::PathBuf;
use std::sync::LazyLock;

use axum::Router;
use axum::body::{Body, Bytes};
use axum::extract::multipart::{Field, Multipart, MultipartRejection};
use axum::extract::{DefaultBodyLimit, State};
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE, HeaderValue};
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use documents::words::counted;
use maud::{Markup, html};
use tokio::io::AsyncReadExt;
use tokio::sync::{Semaphore, mpsc};

use crate::doors::Owner;
use crate::layout::{answer, book_page, part};
use crate::{App, PageError};

/// Most bytes of a backup that is restored here.
const MOST_BACKUP: u64 = 2 * 1024 * 1024 * 1024;

/// Files taken in at once; one more is told to come again.
static UPLOADS: LazyLock<Semaphore> = LazyLock::new(|| Semaphore::new(3));

/// Pages of keeping.
pub fn routes() -> Router<App> {
    // Bounded by what is written to the disk, not by what fits into memory: nothing here holds a whole body.
    let unbounded = DefaultBodyLimit::disable();
    Router::new()
        .route("/backup", get(backup_page))
        .route("/backup/book", get(backup))
        .route("/restore", get(backup_page).post(restore).layer(unbounded))
}

async fn backup_page(_: Owner) -> Markup {
    keeping_page(None)
}

fn keeping_page(says: Option<&str>) -> Markup {
    let out = html! { p { "The book as it stands at this moment, with every file in it, as one file. It may be used meanwhile." } p.does { a.btn.first href="/backup/book" { "Download a backup" } } };
    let back = html! {
        @if let Some(says) = says { p role="status" { b { (says) } } }
        form method="post" action="/restore" enctype="multipart/form-data" {
            div.field {
                label for="backup" { "Backup" }
                p.help id="backup-help" { "It becomes a book of its own beside this one and is looked through; this book stays as it is." }
                input id="backup" name="backup" type="file" required aria-describedby="backup-help";
            }
            p.does { button type="submit" { "Restore beside this book" } }
        }
    };
    let sentence = html! { "A backup a week, kept in another house." };
    let body = html! { (answer("", &sentence, &html! { "Restoring never overwrites a book." })) (part("Backup", &html! {}, &out)) (part("Restore", &html! {}, &back)) };
    book_page("Backup", &body)
}

/// A folder for what is being made, beside the book; gone when dropped.
fn workshop(app: &App) -> Result<tempfile::TempDir, PageError> {
    let beside = app.book().path().parent().map_or_else(|| PathBuf::from("."), PathBuf::from);
    tempfile::Builder::new()
        .prefix("harlwright-")
        .tempdir_in(beside)
        .map_err(|error| PageError::machine(format!("Beside the book nothing could be written: {error}.")))
}

async fn backup(State(app): State<App>, _: Owner) -> Result<Response, PageError> {
    let folder = workshop(&app)?;
    let place = folder.path().join("book.backup");
    let to = place.clone();
    app.read(move |book| book.backup(&to)).await?;
    let opened = tokio::fs::File::open(&place).await;
    let mut file = opened.map_err(|error| PageError::machine(format!("The backup could not be read: {error}.")))?;
    let (send, receive) = mpsc::channel::<std::io::Result<Bytes>>(4);
    tokio::spawn(async move {
        // The folder is kept until the last byte is sent.
        let _folder = folder;
        loop {
            let mut part = vec![0; 256 * 1024];
            let sent = match file.read(&mut part).await {
                Ok(0) => break,
                Ok(read) => {
                    part.truncate(read);
                    send.send(Ok(part.into())).await
                }
                Err(error) => send.send(Err(error)).await,
            };
            if sent.is_err() {
                break;
            }
        }
    });
    let mut response = Body::from_stream(tokio_stream::wrappers::ReceiverStream::new(receive)).into_response();
    let headers = response.headers_mut();
    headers.insert(CONTENT_TYPE, HeaderValue::from_static("application/vnd.sqlite3"));
    headers.insert(CONTENT_DISPOSITION, HeaderValue::from_static("attachment; filename=\"harlwright.backup\""));
    Ok(response)
}

/// The one file of a form, or a page that says what is missing.
fn form(form: Result<Multipart, MultipartRejection>) -> Result<Multipart, PageError> {
    form.map_err(|_| PageError::bad("The form did not come as one with a file in it.", "Open the page again and choose a file."))
}

async fn field<'f>(form: &'f mut Multipart, name: &str) -> Result<Field<'f>, PageError> {
    let broken = || PageError::bad("The file broke off on its way.", "Send it again; nothing was taken in.");
    match form.next_field().await.map_err(|_| broken())? {
        Some(field) if field.name() == Some(name) => Ok(field),
        _ => Err(PageError::bad("No file came with the form.", "Choose a file and send it again.")),
    }
}

/// Hands the bytes of a field over to a thread that may block, as they come.
async fn through<T: Send + 'static>(
    mut field: Field<'_>,
    take: impl FnOnce(&mut dyn Read) -> Result<T, PageError> + Send + 'static,
) -> Result<T, PageError> {
    let Ok(_room) = UPLOADS.try_acquire() else { return Err(PageError::busy()) };
    let (send, receive) = mpsc::channel::<Option<Bytes>>(4);
    let taking = tokio::task::spawn_blocking(move || take(&mut Coming { receive, part: Bytes::new(), ended: false }));
    loop {
        let part = match field.chunk().await {
            Ok(Some(part)) => Some(part),
            Ok(None) => break,
            Err(_) => None,
        };
        let broke = part.is_none();
        // A receiver that has gone away has said why it takes no more.
        if send.send(part).await.is_err() || broke {
            break;
        }
    }
    drop(send);
    taking.await.map_err(|_| PageError::machine("The file could not be taken in."))?
}

/// Bytes as they come; a file that breaks off is an error, never an end.
struct Coming {
    receive: mpsc::Receiver<Option<Bytes>>,
    part: Bytes,
    ended: bool,
}

impl Read for Coming {
    fn read(&mut self, buffer: &mut [u8]) -> std::io::Result<usize> {
        while self.part.is_empty() && !self.ended {
            match self.receive.blocking_recv() {
                Some(Some(part)) => self.part = part,
                Some(None) => return Err(std::io::Error::new(std::io::ErrorKind::UnexpectedEof, "the file broke off on its way")),
                None => self.ended = true,
            }
        }
        let taken = self.part.len().min(buffer.len());
        buffer[..taken].copy_from_slice(&self.part.split_to(taken));
        Ok(taken)
    }
}

async fn restore(State(app): State<App>, _: Owner, sent: Result<Multipart, MultipartRejection>) -> Result<Markup, PageError> {
    let mut sent = form(sent)?;
    let folder = workshop(&app)?;
    let (backup, stands) = (folder.path().join("sent.backup"), app.book().path().to_owned());
    let says = through(field(&mut sent, "backup").await?, move |from| {
        let writing = |error: std::io::Error| {
            PageError::bad(format!("The backup could not be taken in: {error}."), "Send it again; nothing was restored.")
        };
        let mut file = std::fs::File::create(&backup).map_err(writing)?;
        let copied = std::io::copy(&mut from.take(MOST_BACKUP + 1), &mut file).map_err(writing)?;
        if copied > MOST_BACKUP {
            return Err(PageError::new(
                axum::http::StatusCode::PAYLOAD_TOO_LARGE,
                "The backup is larger than 2 GB.",
                "Restore it at the machine: `harlwright restore BACKUP FOLDER`.",
            ));
        }
        let to = free_beside(&stands);
        let restored = store::restore(&backup, &to.join("book.sqlite"))
            .map_err(|error| PageError::bad(error.to_string(), "Nothing was restored, and this book stays as it is."))?;
        let found = store::Book::open_existing(&to.join("book.sqlite"))?.check()?;
        if !found.faults.is_empty() {
            return Err(PageError::machine(found.faults.join(" ")));
        }
        // The whole address: whoever opens it may stand in another folder than the one this was served from.
        let whole = std::path::absolute(&to).unwrap_or(to);
        let place = whole.display();
        Ok(format!(
            "Restored as {place}, beside this book, and found sound: {}, {}. Open it with harlwright serve --book \"{place}\".",
            counted(restored.jobs as usize, "job", "jobs"),
            counted(restored.blobs as usize, "file", "files")
        ))
    })
    .await?;
    Ok(keeping_page(Some(&says)))
}

/// A folder beside the book's own that is not there yet.
fn free_beside(book: &std::path::Path) -> PathBuf {
    let folder = book.parent().map_or_else(|| PathBuf::from("."), PathBuf::from);
    let name = folder.file_name().map_or_else(|| "book".to_owned(), |name| name.to_string_lossy().into_owned());
    let named = |number: u32| folder.with_file_name(format!("{name}-restored-{number}"));
    (1..).map(named).find(|place| !place.exists()).unwrap_or_else(|| named(0))
}
