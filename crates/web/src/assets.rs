//! What pages load beside themselves: type, style and script, from the binary. Addresses carry the hash of the content, so that a browser may keep
//! them for ever.

use std::sync::LazyLock;

use axum::Router;
use axum::extract::State;
use axum::http::header;
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use sha2::{Digest, Sha256};

use crate::extract::Address;
use crate::{App, PageError};

const STYLE: &str = concat!(
    include_str!("../assets/tokens.css"),
    include_str!("../assets/sheet.css"),
    include_str!("../assets/forms.css"),
    include_str!("../assets/pages.css"),
    include_str!("../assets/days.css"),
    include_str!("../assets/narrow.css"),
    include_str!("../assets/print.css")
);
const SCRIPT: &str =
    concat!(include_str!("../assets/harlwright.js"), include_str!("../assets/relief.js"), include_str!("../assets/log.js"));

/// One file.
struct Asset {
    name: &'static str,
    kind: &'static str,
    bytes: Vec<u8>,
    mark: String,
}

static ASSETS: LazyLock<Vec<Asset>> = LazyLock::new(|| {
    let fonts = [
        ("sans.ttf", notosans::REGULAR_TTF),
        ("sans-bold.ttf", notosans::BOLD_TTF),
        ("serif.otf", serif("Regular")),
        ("serif-semibold.otf", serif("Semibold")),
        ("serif-italic.otf", serif("Italic")),
    ];
    let mut all: Vec<Asset> = fonts
        .into_iter()
        .map(|(name, bytes)| asset(name, if name.ends_with("otf") { "font/otf" } else { "font/ttf" }, bytes.to_vec()))
        .collect();
    let mut style = STYLE.to_owned();
    for font in &all {
        style = style.replace(&format!("url({})", font.name), &format!("url(/assets/{}/{})", font.mark, font.name));
    }
    all.push(asset("style.css", "text/css; charset=utf-8", style.into_bytes()));
    all.push(asset("harlwright.js", "text/javascript; charset=utf-8", SCRIPT.as_bytes().to_vec()));
    all.push(asset("mark.svg", "image/svg+xml", include_bytes!("../assets/mark.svg").to_vec()));
    all
});

/// The serif of a style, found by the name it bears inside; nothing if the package no longer holds it, and the browser's own serif stands in.
fn serif(style: &str) -> &'static [u8] {
    let name = format!("LibertinusSerif-{style}");
    let bears = |data: &&[u8]| {
        let found = data.windows(name.len()).position(|window| window == name.as_bytes());
        found.is_some_and(|at| !data.get(at + name.len()).is_some_and(u8::is_ascii_alphabetic))
    };
    typst_assets::fonts().find(bears).unwrap_or_default()
}

fn asset(name: &'static str, kind: &'static str, bytes: Vec<u8>) -> Asset {
    let mark = Sha256::digest(&bytes).iter().take(6).map(|byte| format!("{byte:02x}")).collect();
    Asset { name, kind, bytes, mark }
}

/// Address of an asset.
pub fn address(name: &str) -> String {
    let mark = ASSETS.iter().find(|asset| asset.name == name).map_or("0", |asset| asset.mark.as_str());
    format!("/assets/{mark}/{name}")
}

/// The addresses of the assets.
pub fn routes() -> Router<App> {
    Router::new()
        .route("/assets/{mark}/{name}", get(one))
        .route("/favicon.ico", get(|| async { axum::response::Redirect::permanent(&address("mark.svg")) }))
}

async fn one(State(_): State<App>, Address((mark, name)): Address<(String, String)>) -> Result<Response, PageError> {
    let asset = ASSETS.iter().find(|asset| asset.name == name && asset.mark == mark).ok_or_else(|| PageError::nothing("file"))?;
    let headers = [(header::CONTENT_TYPE, asset.kind), (header::CACHE_CONTROL, "public, max-age=31536000, immutable")];
    Ok((headers, asset.bytes.as_slice()).into_response())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_face_is_in_the_binary_and_the_style_names_it() {
        for asset in ASSETS.iter() {
            assert!(asset.bytes.len() > 100, "{} is empty", asset.name);
        }
        let style = ASSETS.iter().find(|asset| asset.name == "style.css").map(|asset| String::from_utf8_lossy(&asset.bytes));
        let style = style.unwrap_or_default();
        for font in ASSETS.iter().filter(|asset| asset.kind.starts_with("font/")) {
            assert!(style.contains(&format!("url(/assets/{}/{})", font.mark, font.name)), "{}", font.name);
        }
    }
}
