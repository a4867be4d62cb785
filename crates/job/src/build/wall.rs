//! One wall as found.

use materials::Catalogue;
use reckoning::{Finding, Grade, Known};
use survey::{Evenness, EvennessClass, Exposure, Inside, Lines, OldCovering, Terrain, WallFound};

use super::{catalogue, dampness, joint, opening, outline, relief};
use crate::fields::{PRACTICE, Shelf};
use crate::problem::Fault;
use crate::reader::Reader;
use crate::relief::ReliefAsked;

pub(super) fn build(
    reader: &mut Reader<'_>,
    materials: &Catalogue,
    slug: &str,
    findings: &mut Vec<Finding>,
    reliefs: &mut Vec<ReliefAsked>,
) -> WallFound {
    let wall = format!("walls.{slug}");
    let outline = outline::build(reader, &wall);
    let openings = opening::openings(reader, &wall, &outline);
    let chimneys = opening::chimneys(reader, &wall, &outline);
    let joints = joint::build(reader, &wall, &outline, &openings);
    let masonry = reader.known_word(&format!("{wall}.masonry"));
    catalogue::must_be_on(reader, materials, Shelf::Masonries, &written_path(reader, &wall, "masonry"), &masonry.value);
    let thickness_m = reader.known_number(&format!("{wall}.thickness_mm"));
    let bared_months = reader.number(&format!("{wall}.bared_months"));
    WallFound {
        slug: slug.to_owned(),
        name: reader.word(&format!("{wall}.name")).unwrap_or_else(|| spoken(slug)),
        faces_deg: reader.number(&format!("{wall}.faces")).unwrap_or(0.0),
        openings,
        chimneys,
        lines: lines(reader, &wall),
        joints,
        splash_s: splash(reader, materials, &wall, &masonry.value),
        masonry,
        joint_share: reader.known_number(&format!("{wall}.joint_percent")),
        old_covering: covering(reader, &wall, bared_months.is_some()),
        dampness: dampness::build(reader, &wall, bared_months, thickness_m.value),
        bared_months: bared_months.map(Known::answered),
        thickness_m,
        evenness: evenness(reader, &wall, &outline, findings, reliefs),
        inside: choose(&reader.known_word(&format!("{wall}.inside")), inside),
        exposure: exposure(reader, &wall),
        outline,
    }
}

/// A short name as it is spoken: `east-gable` is "East gable".
pub(super) fn spoken(slug: &str) -> String {
    let words = slug.replace('-', " ");
    let mut letters = words.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}

/// The path at which a wall's value was written: its own, or that for every wall.
fn written_path(reader: &Reader<'_>, wall: &str, key: &str) -> String {
    let own = format!("{wall}.{key}");
    if reader.is_written_here(&own) || !reader.is_written(&own) { own } else { format!("{}.{key}", crate::fields::EVERY_WALL) }
}

fn lines(reader: &mut Reader<'_>, wall: &str) -> Lines {
    let mut line = |key: &str| reader.number(&format!("{wall}.lines.{key}"));
    Lines {
        skew_m: line("skew_m"),
        margin_m: line("margin_m"),
        quoin_m: line("quoin_m"),
        wallhead_m: line("wallhead_m"),
        base_m: line("base_m"),
    }
}

/// Seconds until a splash is gone; left out, the middle of what is usual for the stone.
fn splash(reader: &mut Reader<'_>, materials: &Catalogue, wall: &str, masonry: &str) -> Known<f64> {
    let path = format!("{wall}.splash_s");
    match materials.masonries.get(masonry) {
        Some(stone) => {
            let (low, high) = stone.splash_s;
            // The geometric middle, because suction runs over decades.
            let middle = (low * high).sqrt().round().max(low);
            reader.known_number_or(&path, middle, (low, high), format!("usual for {}; {PRACTICE}", stone.name))
        }
        None => reader.known_number(&path),
    }
}

/// A word with its standing turned into what it stands for, range and all.
fn choose<T>(word: &Known<String>, turn: impl Fn(&str) -> T) -> Known<T> {
    Known {
        value: turn(&word.value),
        assumed: word.assumed,
        source: word.source.clone(),
        range: word.range.as_ref().map(|(low, high)| (turn(low), turn(high))),
    }
}

/// What covers the wall. Left out before stripping, a covering must be taken to be there, and the dearest to take off is the honest one to price; a wall
/// of which somebody says since when it stands bare, or that has been opened up, is bare.
fn covering(reader: &mut Reader<'_>, wall: &str, is_bared: bool) -> Known<OldCovering> {
    let path = format!("{wall}.old_covering");
    if reader.is_written(&path) {
        return choose(&reader.known_word(&path), old_covering);
    }
    let opened = reader.word("survey.stage").as_deref() == Some("after-opening-up");
    let (word, source) = match (opened || is_bared, opened) {
        (true, true) => ("bare", "the survey was made after opening up"),
        (true, false) => ("bare", "the job says since when it stands bare"),
        _ => ("cement", "the survey was made before stripping, so something is taken to cover it: cement, the slowest to take off"),
    };
    reader.assume_word(&path, word, source);
    Known::assumed(old_covering(word), source, Some((OldCovering::Bare, OldCovering::Cement)))
}

fn old_covering(word: &str) -> OldCovering {
    match word {
        "lime-harl" => OldCovering::LimeHarl,
        "cement" => OldCovering::Cement,
        "paint" => OldCovering::Paint,
        _ => OldCovering::Bare,
    }
}

fn inside(word: &str) -> Inside {
    match word {
        "unheated" => Inside::Unheated,
        "roofless" => Inside::Roofless,
        "free-standing" => Inside::FreeStanding,
        _ => Inside::Heated,
    }
}

fn terrain(word: &str) -> Terrain {
    match word {
        "shore" => Terrain::Shore,
        "suburb" => Terrain::Suburb,
        "town" => Terrain::Town,
        _ => Terrain::Farmland,
    }
}

fn class(word: &str) -> EvennessClass {
    match word {
        "squared" => EvennessClass::Squared,
        "coursed" => EvennessClass::Coursed,
        "rough-rubble" => EvennessClass::RoughRubble,
        _ => EvennessClass::Rubble,
    }
}

fn exposure(reader: &mut Reader<'_>, wall: &str) -> Exposure {
    let path = format!("{wall}.obstruction_m");
    let as_number = reader.number(&path);
    let obstruction_m = match as_number {
        Some(metres) => Known::answered(Some(metres)),
        None => {
            let open = reader.standing_of_word(&path);
            Known { value: None, assumed: open.assumed, range: open.assumed.then_some((Some(20.0), None)), source: open.source }
        }
    };
    Exposure {
        terrain: choose(&reader.known_word(&format!("{wall}.terrain")), terrain),
        obstruction_m,
        overhang: reader.known_flag(&format!("{wall}.overhang")),
    }
}

/// A file goes before offsets, offsets before gaps, gaps before a class by eye; a wall may give only one of its own.
fn evenness(
    reader: &mut Reader<'_>,
    wall: &str,
    outline: &survey::Outline,
    findings: &mut Vec<Finding>,
    reliefs: &mut Vec<ReliefAsked>,
) -> Evenness {
    let path = |key: &str| format!("{wall}.{key}");
    let given: Vec<&str> =
        ["relief_file", "offsets_mm", "gaps_mm", "evenness"].into_iter().filter(|key| reader.is_written_here(&path(key))).collect();
    if let [_, second, ..] = given.as_slice() {
        reader.problem(
            Fault::Contradiction,
            &path(second),
            format!("The evenness of this wall is given in {} ways: {}.", given.len(), given.join(", ")),
            "Allowed is one of evenness, gaps_mm, offsets_mm and relief_file.",
            "Keep what was measured most closely: a scan before offsets, offsets before gaps, gaps before the eye.",
        );
    }
    if let Some(asked) = relief::build(reader, wall) {
        let unread = crate::relief::unread(&asked.file);
        reliefs.push(asked);
        return unread;
    }
    if reader.is_written_here(&path("offsets_mm")) {
        return offsets(reader, wall, outline);
    }
    if reader.is_written_here(&path("offsets_spacing_m")) {
        reader.missing(&path("offsets_mm"));
    }
    reader.number(&path("offsets_spacing_m"));
    match reader.numbers(&path("gaps_mm")) {
        Some(gaps_m) => {
            if gaps_m.len() < 10 {
                findings.push(few_gaps(wall, gaps_m.len()));
            }
            Evenness::Gaps { gaps_m }
        }
        None if reader.is_written_here(&path("gaps_mm")) => Evenness::Gaps { gaps_m: Vec::new() },
        None => Evenness::Class { class: choose(&reader.known_word(&path("evenness")), class) },
    }
}

fn offsets(reader: &mut Reader<'_>, wall: &str, outline: &survey::Outline) -> Evenness {
    let path = format!("{wall}.offsets_mm");
    let rows_m = reader.rows(&path).unwrap_or_default();
    let spacing_m = reader.needed_number(&format!("{wall}.offsets_spacing_m"));
    let columns = rows_m.first().map_or(0, Vec::len);
    if let Some((index, row)) = rows_m.iter().enumerate().find(|(_, row)| row.len() != columns) {
        reader.problem(
            Fault::Contradiction,
            &path,
            format!("Row {} has {} offsets and the first row {columns}.", index + 1, row.len()),
            "Allowed are rows of the same length.",
            "Repeat the nearest offset where one could not be taken, for instance at a window.",
        );
    }
    let (length_m, top_m) = outline::size_m(outline);
    let (across_m, up_m) = (span_m(columns, spacing_m), span_m(rows_m.len(), spacing_m));
    if outline::is_whole(outline) && (across_m > length_m + spacing_m || up_m > top_m + spacing_m) {
        reader.problem(
            Fault::Contradiction,
            &path,
            format!("The offsets reach over {across_m:.1} m by {up_m:.1} m and the wall over {length_m:.1} m by {top_m:.1} m."),
            "Allowed is a grid no larger than its wall.",
            "Look at offsets_spacing_m again: it is in metres.",
        );
    }
    Evenness::Offsets { spacing_m, rows_m }
}

#[expect(clippy::cast_precision_loss, reason = "a grid has at most 200 lines")]
fn span_m(lines: usize, spacing_m: f64) -> f64 {
    lines.saturating_sub(1) as f64 * spacing_m
}

fn few_gaps(wall: &str, gaps: usize) -> Finding {
    Finding {
        grade: Grade::Note,
        rule: "ten-gaps".to_owned(),
        place: wall.to_owned(),
        says: format!("Only {gaps} gaps were taken on this wall."),
        reason: "The mean of fewer than ten gaps is not sure enough to order mortar by.".to_owned(),
        source: PRACTICE.to_owned(),
        remedy: "Hold the straight-edge up in more places, chosen before looking.".to_owned(),
    }
}
