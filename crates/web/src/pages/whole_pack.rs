//! The whole pack of a plan as one file: its documents, the plan as plan/1 and the job file it was made from, as they were saved. The same revision
//! gives the same bytes.

use std::io::{Cursor, Write};

use axum::Router;
use axum::extract::State;
use axum::http::header;
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use zip::write::SimpleFileOptions;

use crate::doors::Priced;
use crate::extract::Address;
use crate::pages::Standing;
use crate::plan::{FIGURES, WEEKS};
use crate::{App, PageError};

/// The pack.
pub fn routes() -> Router<App> {
    Router::new().route("/jobs/{slug}/pack.zip", get(pack))
}

async fn pack(State(app): State<App>, _: Priced, Address(slug): Address<String>) -> Result<Response, PageError> {
    let job = Standing::of(&app, &slug).await?;
    let saved = job.saved.ok_or_else(|| PageError::nothing("plan"))?;
    let (number, of_the_pages) = (saved.number, [FIGURES, WEEKS]);
    let bytes = app
        .read(move |book| {
            let mut files =
                vec![("plan.json".to_owned(), saved.json.clone().into_bytes()), ("job.toml".to_owned(), saved.text.clone().into_bytes())];
            for (name, sha256) in saved.files.iter().filter(|(name, _)| !of_the_pages.contains(&name.as_str())) {
                files.push((name.clone(), book.blob_bytes(sha256)?));
            }
            files.sort();
            Ok(zipped(&files))
        })
        .await?
        .map_err(|error| PageError::machine(format!("The pack could not be put together: {error}.")))?;
    let named = format!("attachment; filename=\"{slug}-plan-{number}.zip\"");
    Ok(([(header::CONTENT_TYPE, "application/zip".to_owned()), (header::CONTENT_DISPOSITION, named)], bytes).into_response())
}

fn zipped(files: &[(String, Vec<u8>)]) -> zip::result::ZipResult<Vec<u8>> {
    let mut writer = zip::ZipWriter::new(Cursor::new(Vec::new()));
    for (name, bytes) in files {
        // A fixed time: the pack of a revision does not change with the day it is fetched on.
        writer.start_file(name, SimpleFileOptions::default().last_modified_time(zip::DateTime::default()))?;
        writer.write_all(bytes)?;
    }
    Ok(writer.finish()?.into_inner())
}
