//! The file of a wall's relief as the job asks for it.

use survey::{Gridding, LengthUnit};

use super::must_lie_beside;
use crate::reader::Reader;
use crate::relief::{ReliefAsked, ReliefForm};

/// Side of a cell when nothing is said, m.
const CELL_M: f64 = 0.010;

/// What the wall asks of a file; `None` where it names none. The values that go with a file ask for the file.
pub(super) fn build(reader: &mut Reader<'_>, wall: &str) -> Option<ReliefAsked> {
    let path = |key: &str| format!("{wall}.relief_{key}");
    let named = reader.is_written_here(&path("file"));
    if !named && ["form", "cell_mm", "unit", "turned"].iter().any(|key| reader.is_written_here(&path(key))) {
        reader.missing(&path("file"));
    }
    let file = reader.word(&path("file")).unwrap_or_default();
    let offsets = reader.word(&path("form")).as_deref() == Some("offsets");
    let unit = reader.word(&path("unit")).and_then(|word| unit(&word));
    let turned = reader.flag(&path("turned")).unwrap_or(false);
    let cell_m = reader.number(&path("cell_mm"));
    if !named {
        return None;
    }
    must_lie_beside(reader, &path("file"), &file);
    let form = if offsets {
        if cell_m.is_none() {
            reader.missing(&path("cell_mm"));
        }
        ReliefForm::Offsets { spacing_m: cell_m.unwrap_or(0.3) }
    } else {
        ReliefForm::Scan(Gridding { cell_m: cell_m.unwrap_or(CELL_M), unit, turned })
    };
    Some(ReliefAsked { wall: wall.trim_start_matches("walls.").to_owned(), file, form })
}

fn unit(word: &str) -> Option<LengthUnit> {
    match word {
        "m" => Some(LengthUnit::Metre),
        "mm" => Some(LengthUnit::Millimetre),
        "cm" => Some(LengthUnit::Centimetre),
        "ft" => Some(LengthUnit::Foot),
        "in" => Some(LengthUnit::Inch),
        _ => None,
    }
}
