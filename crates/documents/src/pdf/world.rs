//! The small world the typesetter sees: templates, fonts from packages, one file of data and the drawings. No disk, no network, no clock.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use jiff::civil::Date;
use typst::diag::{FileError, FileResult, SourceDiagnostic};
use typst::foundations::{Bytes, Datetime, Duration, Smart};
use typst::layout::{Frame, FrameItem};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards, Timestamp};

use crate::DocumentError;

/// Library, fonts and their book, made once in a process.
struct Shelf {
    library: LazyHash<Library>,
    book: LazyHash<FontBook>,
    fonts: Vec<Font>,
}

static SHELF: LazyLock<Shelf> = LazyLock::new(|| {
    let sans = [notosans::REGULAR_TTF, notosans::BOLD_TTF, notosans::ITALIC_TTF, notosans::BOLD_ITALIC_TTF];
    let mut fonts: Vec<Font> = sans.into_iter().filter_map(|data| Font::new(Bytes::new(data), 0)).collect();
    let serif = typst_assets::fonts().filter_map(|data| Font::new(Bytes::new(data), 0));
    fonts.extend(serif.filter(|font| font.info().family == "Libertinus Serif"));
    Shelf { library: LazyHash::new(Library::default()), book: LazyHash::new(FontBook::from_fonts(&fonts)), fonts }
});

/// One document's files.
pub struct Desk {
    main: FileId,
    sources: BTreeMap<String, Source>,
    files: BTreeMap<String, Bytes>,
}

impl World for Desk {
    fn library(&self) -> &LazyHash<Library> {
        &SHELF.library
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &SHELF.book
    }

    fn main(&self) -> FileId {
        self.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        let path = id.get().vpath().get_with_slash();
        self.sources.get(path).cloned().ok_or_else(|| FileError::NotFound(path.into()))
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        let path = id.get().vpath().get_with_slash();
        self.files.get(path).cloned().ok_or_else(|| FileError::NotFound(path.into()))
    }

    fn font(&self, index: usize) -> Option<Font> {
        SHELF.fonts.get(index).cloned()
    }

    fn today(&self, _: Option<Duration>) -> Option<Datetime> {
        None
    }
}

/// What a document is made of.
pub struct Sheets {
    /// Name of the document, for errors.
    pub document: &'static str,
    /// Template file by path; the first is the one to set.
    pub templates: Vec<(&'static str, &'static str)>,
    /// The data, shown to the template as `/data.json`.
    pub data: serde_json::Value,
    /// Drawings by path.
    pub drawings: Vec<(String, String)>,
    /// Date of the document.
    pub dated: Date,
}

/// The words of each page, run after run.
pub fn words(sheets: Sheets) -> Result<Vec<String>, DocumentError> {
    let document = sheets.document;
    let fault = |found: String| DocumentError::Template { document, found };
    let desk = desk(sheets).ok_or_else(|| fault("a file has no usable name".to_owned()))?;
    let set = typst::compile::<PagedDocument>(&desk).output.map_err(|found| fault(said(&found)))?;
    let pages = set.pages().iter().map(|page| {
        let mut words = String::new();
        gather(&page.frame, &mut words);
        words
    });
    Ok(pages.collect())
}

fn gather(frame: &Frame, words: &mut String) {
    for (_, item) in frame.items() {
        match item {
            FrameItem::Group(group) => gather(&group.frame, words),
            FrameItem::Text(text) => {
                words.push_str(&text.text);
                words.push(' ');
            }
            _ => {}
        }
    }
}

/// Typesets to PDF/UA-1. The bytes depend on the sheets alone.
pub fn typeset(sheets: Sheets) -> Result<Vec<u8>, DocumentError> {
    let document = sheets.document;
    let dated = Datetime::from_ymd_hms(
        i32::from(sheets.dated.year()),
        sheets.dated.month().unsigned_abs(),
        sheets.dated.day().unsigned_abs(),
        12,
        0,
        0,
    );
    let template = |found: String| DocumentError::Template { document, found };
    let desk = desk(sheets).ok_or_else(|| template("a file has no usable name".to_owned()))?;
    let set = typst::compile::<PagedDocument>(&desk).output.map_err(|found| template(said(&found)))?;
    let standards = PdfStandards::new(&[PdfStandard::Ua_1]).map_err(|found| template(found.message().to_string()))?;
    let options = PdfOptions {
        ident: Smart::Custom(format!("harlwright {document}")),
        creator: Smart::Custom(Some("harlwright".to_owned())),
        timestamp: dated.map(Timestamp::new_utc),
        standards,
        ..PdfOptions::default()
    };
    let bytes = typst_pdf::pdf(&set, &options).map_err(|found| DocumentError::Accessibility { document, found: said(&found) });
    typst::comemo::evict(8);
    bytes
}

fn desk(sheets: Sheets) -> Option<Desk> {
    let id = |path: &str| Some(RootedPath::new(VirtualRoot::Project, VirtualPath::new(path).ok()?).intern());
    let mut sources = BTreeMap::new();
    for (path, text) in &sheets.templates {
        sources.insert((*path).to_owned(), Source::new(id(path)?, (*text).to_owned()));
    }
    let mut files = BTreeMap::from([("/data.json".to_owned(), Bytes::from_string(legible_data(sheets.data).to_string()))]);
    for (path, svg) in &sheets.drawings {
        files.insert(path.clone(), Bytes::from_string(legible(svg)));
    }
    Some(Desk { main: id(sheets.templates.first()?.0)?, sources, files })
}

/// Characters that no shipped font holds, and those that say nothing or that the standard forbids (control, private, turning the direction),
/// become a question mark: the export refuses a page with a letter it cannot show.
fn legible(text: &str) -> String {
    let said = |c: char| {
        !c.is_control()
            && !matches!(u32::from(c), 0x200b..=0x200f | 0x202a..=0x202e | 0x2060..=0x206f | 0xe000..=0xf8ff | 0xfeff | 0xfff0..)
    };
    let held = |c: char| SHELF.fonts.first().is_some_and(|font| font.info().coverage.contains(u32::from(c)));
    text.chars().map(|c| if c == '\n' || said(c) && held(c) { c } else { '?' }).collect()
}

/// The same for every text in the data, before it is written with escapes.
fn legible_data(data: serde_json::Value) -> serde_json::Value {
    use serde_json::Value;
    match data {
        Value::String(text) => Value::String(legible(&text)),
        Value::Array(items) => Value::Array(items.into_iter().map(legible_data).collect()),
        Value::Object(fields) => Value::Object(fields.into_iter().map(|(key, value)| (key, legible_data(value))).collect()),
        other => other,
    }
}

fn said(found: &[SourceDiagnostic]) -> String {
    let said: Vec<String> = found.iter().map(|diagnostic| diagnostic.message.to_string()).collect();
    said.join("; ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::{Face, width};

    /// Widths of the label placer against the fonts themselves (other tool: the typesetter's own reader of the fonts).
    #[test]
    fn widths_are_those_of_the_fonts() {
        for (face, family, weight) in [
            (Face::Sans, "Noto Sans", 400),
            (Face::SansBold, "Noto Sans", 700),
            (Face::Serif, "Libertinus Serif", 400),
            (Face::SerifSemibold, "Libertinus Serif", 600),
        ] {
            let found = SHELF.fonts.iter().find(|font| {
                let info = font.info();
                info.family == family && info.variant.weight.to_number() == weight && info.variant.style == typst::text::FontStyle::Normal
            });
            let instance = found.map(|font| {
                let info = font.info();
                font.clone().instantiate(info.variant, typst::layout::Abs::pt(10.0), &typst::text::FontVariations::default())
            });
            let font = instance.as_ref().map(|instance| instance.ttf());
            assert!(font.is_some(), "{family} {weight} is not on the shelf");
            let Some(font) = font else { continue };
            for c in (' '..='~').chain("£°²³×½¼¾–’…−".chars()) {
                let Some(glyph) = font.glyph_index(c) else { continue };
                let real = f64::from(font.glyph_hor_advance(glyph).unwrap_or(0)) * 1000.0 / f64::from(font.units_per_em());
                let ours = width(&c.to_string(), face, 1000.0);
                assert!((real - ours).abs() <= 0.5, "{c:?} in {family} {weight}: {ours} for {real}");
            }
        }
    }
}
