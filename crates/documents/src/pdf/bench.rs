//! Two single sheets to print without a plan: the batch card of the bench, and what the length of the straight-edge comes to on one wall. It sets what it is
//! given and reckons nothing.

use jiff::civil::Date;
use materials::bench::BatchCard;
use serde_json::{Value, json};
use survey::{HeightField, Straightened};
use works::EdgeCurve;

use super::world::{Sheets, typeset, words};
use crate::figures::{Theme, edge_curve, relief_map};
use crate::words::{grouped, mix, parts, trimmed};
use crate::{DocumentError, words as said};

/// Width of a drawing on these sheets, points.
const WIDE_PT: f64 = 380.0;

/// What stands on a batch card.
#[derive(Clone, Debug, PartialEq)]
pub struct BatchSheet<'a> {
    /// Title of the bench file.
    pub title: &'a str,
    /// Name of the lime.
    pub lime: &'a str,
    /// Name of the sand.
    pub sand: &'a str,
    /// Parts of dry sand to one of lime.
    pub parts: f64,
    /// Fresh mortar the mixer takes at once, L.
    pub mixer_l: f64,
    /// Fresh mortar wanted in a day, L.
    pub day_l: f64,
    /// A full gauge box, L.
    pub box_l: f64,
    /// Moisture of the sand, share of its dry mass.
    pub moisture_share: f64,
    /// Bulking of the sand at that moisture.
    pub bulking: f64,
    /// One unit of lime as sold.
    pub lime_unit: &'a str,
    /// One unit of sand as sold.
    pub sand_unit: &'a str,
    /// What was reckoned; a card for quicklime carries no recipe.
    pub card: &'a BatchCard,
    /// True for quicklime.
    pub hot: bool,
    /// Cautions that go before the card.
    pub cautions: Vec<&'a str>,
    /// Date printed.
    pub dated: Date,
}

/// What stands on the sheet of a wall's straightening.
#[derive(Clone, Debug, PartialEq)]
pub struct ReliefSheet<'a> {
    /// Name, place and version for the title block: the job as planned.
    pub about: &'a works::About,
    /// Name of the wall.
    pub wall: &'a str,
    /// Heights of the face.
    pub field: &'a HeightField,
    /// Straightened with the edge that is drawn.
    pub drawn: &'a Straightened,
    /// What was dropped from the scan and taken for granted, in sentences.
    pub notes: &'a [String],
    /// Mortar, passes, days and money.
    pub curve: &'a EdgeCurve,
}

/// Typesets a batch card, PDF/UA-1; the same card gives the same bytes.
///
/// # Errors
/// [`DocumentError`] if a template is at fault; no card can bring it about.
pub fn batch_pdf(sheet: &BatchSheet<'_>) -> Result<Vec<u8>, DocumentError> {
    typeset(batch(sheet))
}

/// The words of a batch card as they are set.
///
/// # Errors
/// As [`batch_pdf`].
pub fn batch_words(sheet: &BatchSheet<'_>) -> Result<Vec<String>, DocumentError> {
    words(batch(sheet))
}

/// Typesets the sheet of a wall's straightening, PDF/UA-1.
///
/// # Errors
/// [`DocumentError`] if a template is at fault; no wall can bring it about.
pub fn relief_pdf(sheet: &ReliefSheet<'_>) -> Result<Vec<u8>, DocumentError> {
    typeset(relief(sheet))
}

/// The words of the sheet as they are set, those of the drawings not among them.
///
/// # Errors
/// As [`relief_pdf`].
pub fn relief_words(sheet: &ReliefSheet<'_>) -> Result<Vec<String>, DocumentError> {
    words(relief(sheet))
}

/// What the title block of a sheet without a plan says.
struct Head<'a> {
    document: &'a str,
    name: &'a str,
    place: &'a str,
    contractor: &'a str,
    revision: u32,
    dated: Date,
    basis: &'a str,
    invented: bool,
}

impl Head<'_> {
    fn json(&self) -> Value {
        let dated = self.dated;
        json!({
            "document": self.document, "name": self.name, "place": self.place, "contractor": self.contractor, "revision": self.revision,
            "dated": said::full_day(dated), "year": dated.year(), "month": dated.month(), "day": dated.day(), "invented": self.invented,
            "basis": self.basis,
        })
    }
}

fn batch(sheet: &BatchSheet<'_>) -> Sheets {
    let card = sheet.card;
    let recipe = json!({
        "lime_boxes": trimmed(card.lime_boxes, 1), "lime_count": card.lime_boxes, "lime": format!("{} litres, {} kg", trimmed(card.lime_l, 1), trimmed(card.lime_kg, 1)),
        "sand_boxes": trimmed(card.sand_boxes, 1), "sand_count": card.sand_boxes,
        "sand": format!("{} litres as it lies, {} kg", trimmed(card.damp_sand_l, 1), trimmed(card.damp_sand_kg, 0)),
        "water": trimmed(card.water_l, 1), "sand_water": trimmed(card.sand_water_l, 1), "batches": card.batches,
        "lime_units": format!("{} of {}", card.lime_units, sheet.lime_unit), "sand_units": format!("{} of {}", trimmed(card.sand_units, 2), sheet.sand_unit),
        "makes": trimmed(card.mortar_l, 0), "day": grouped(sheet.day_l), "box": trimmed(sheet.box_l, 1), "mixer": trimmed(sheet.mixer_l, 0),
    });
    let head = Head {
        document: "Batch card",
        name: sheet.title,
        place: "the bench",
        contractor: "",
        revision: 1,
        dated: sheet.dated,
        basis: "what was weighed on the bench",
        invented: false,
    };
    Sheets {
        document: "batch card",
        templates: vec![("/batch.typ", include_str!("../../templates/batch.typ")), super::COMMON],
        data: json!({
            "head": head.json(),
            "mix": mix(sheet.parts), "parts": parts(sheet.parts), "lime": sheet.lime, "sand": sheet.sand, "moisture": trimmed(100.0 * sheet.moisture_share, 1),
            "bulking": trimmed(100.0 * sheet.bulking, 0), "recipe": if sheet.hot { Value::Null } else { recipe }, "cautions": sheet.cautions,
            "findings": card.findings.iter().map(|finding| json!([finding.grade.word(), finding.says, finding.remedy])).collect::<Vec<_>>(),
        }),
        drawings: Vec::new(),
        dated: sheet.dated,
    }
}

fn relief(sheet: &ReliefSheet<'_>) -> Sheets {
    let theme = Theme::paper(WIDE_PT);
    let map = relief_map(sheet.wall, sheet.field, sheet.drawn, &theme);
    let curve = edge_curve(sheet.curve, &theme);
    let picture = |path: &str, figure: &crate::figures::Figure| json!({ "path": path, "alt": figure.description, "wide": figure.width, "tall": figure.height });
    let about = sheet.about;
    let head = Head {
        document: "Straightening",
        name: &about.name,
        place: &about.place,
        contractor: &about.contractor,
        revision: about.revision,
        dated: about.dated,
        basis: &sheet.curve.relief,
        invented: about.invented,
    };
    let rows: Vec<Value> = sheet.curve.choices.iter().map(row).collect();
    Sheets {
        document: "straightening",
        templates: vec![("/relief.typ", include_str!("../../templates/relief.typ")), super::COMMON],
        data: json!({
            "head": head.json(),
            "wall": sheet.wall, "map": picture("/map.svg", &map), "curve": picture("/curve.svg", &curve), "rows": rows, "notes": sheet.notes,
            "basis": said::capital(&sheet.curve.basis),
            "bands": sheet.drawn.bands.iter().filter(|band| band.area_m2 > 0.0).map(|band| json!([
                format!("{} to {} mm", trimmed(1000.0 * band.from_m, 0), trimmed(1000.0 * band.to_m, 0)), format!("{:.1}", band.area_m2),
                grouped(1000.0 * band.volume_m3),
            ])).collect::<Vec<_>>(),
            "edge": trimmed(sheet.drawn.edge_m, 2),
        }),
        drawings: vec![("/map.svg".to_owned(), map.svg), ("/curve.svg".to_owned(), curve.svg)],
        dated: sheet.about.dated,
    }
}

fn row(choice: &works::EdgeChoice) -> Value {
    json!([
        trimmed(choice.edge_m, 2),
        trimmed(1000.0 * choice.mean_m, 1),
        grouped(1000.0 * choice.mortar_m3),
        choice.passes.to_string(),
        choice.days.map_or("–".to_owned(), |days| days.to_string()),
        choice.before_tax.as_ref().map_or("–".to_owned(), ToString::to_string),
        if choice.quick { "quick" } else { "full run" },
    ])
}
