//! Openings and chimneys of a wall, and whether they fit in it.

use survey::{Chimney, Opening, OpeningKind, Outline};

use super::outline::{TAPE_M, holds, is_whole, size_m};
use crate::problem::Fault;
use crate::reader::Reader;

pub(super) fn openings(reader: &mut Reader<'_>, wall: &str, outline: &Outline) -> Vec<Opening> {
    let table = format!("{wall}.openings");
    let openings: Vec<Opening> = reader.names(&table).iter().map(|name| opening(reader, &table, name)).collect();
    let mut fitting: Vec<&Opening> = Vec::new();
    for opening in &openings {
        let told = reader.problems_told();
        fits(reader, &format!("{table}.{}", opening.slug), opening, outline);
        if reader.problems_told() == told {
            fitting.push(opening);
        }
    }
    for (index, one) in fitting.iter().enumerate() {
        for other in &fitting[index + 1..] {
            if overlap(one, other) {
                reader.problem(
                    Fault::Contradiction,
                    &format!("{table}.{}", other.slug),
                    format!("The opening {:?} lies over {:?}.", other.slug, one.slug),
                    "Allowed are openings that do not overlap.",
                    "Measure left_m of both from the left end of the wall, seen from outside.",
                );
            }
        }
    }
    openings
}

fn opening(reader: &mut Reader<'_>, table: &str, name: &str) -> Opening {
    let path = format!("{table}.{name}");
    let kind = match reader.word(&format!("{path}.kind")).as_deref() {
        Some("door") => OpeningKind::Door,
        Some("cart-door") => OpeningKind::CartDoor,
        Some("vent") => OpeningKind::Vent,
        _ => OpeningKind::Window,
    };
    let sill_path = format!("{path}.sill_m");
    let stands_on_ground = matches!(kind, OpeningKind::Door | OpeningKind::CartDoor);
    let sill_m = match reader.number(&sill_path) {
        Some(sill_m) => sill_m,
        None if stands_on_ground => 0.0,
        None => reader.needed_number(&sill_path),
    };
    let height_m = height(reader, &path, sill_m);
    let mut number = |key: &str| reader.number(&format!("{path}.{key}")).unwrap_or(0.0);
    let (width_m, left_m, reveal_m, margin_m) = (number("width_m"), number("left_m"), number("reveal_m"), number("margin_m"));
    let head = reader.flag(&format!("{path}.head_harled")).unwrap_or(false);
    let has_sill = reader.flag(&format!("{path}.has_sill")).unwrap_or(kind == OpeningKind::Window);
    Opening { slug: name.to_owned(), kind, width_m, height_m, left_m, sill_m, reveal_m, head, has_sill, margin_m }
}

/// Height from sill to head, given as such or as the height of the head above the base.
fn height(reader: &mut Reader<'_>, path: &str, sill_m: f64) -> f64 {
    let (height_path, head_path) = (format!("{path}.height_m"), format!("{path}.head_m"));
    if reader.is_written_here(&height_path) && reader.is_written_here(&head_path) {
        reader.problem(
            Fault::Contradiction,
            &head_path,
            "Both height_m and head_m are given.",
            "Allowed is one of the two.",
            "Keep the one you measured.",
        );
    }
    let Some(head_m) = reader.number(&head_path) else {
        return reader.needed_number(&height_path);
    };
    reader.number(&height_path);
    if head_m <= sill_m {
        reader.problem(
            Fault::Contradiction,
            &head_path,
            format!("The sill at {sill_m} m is not below the head at {head_m} m."),
            "Allowed is a sill below the head, both measured from the base of the wall.",
            "Measure both from the base of the wall; the head is the upper one.",
        );
        return 0.0;
    }
    head_m - sill_m
}

fn fits(reader: &mut Reader<'_>, path: &str, opening: &Opening, outline: &Outline) {
    let (length_m, _) = size_m(outline);
    let (right_m, head_m) = (opening.left_m + opening.width_m, opening.sill_m + opening.height_m);
    if !is_whole(outline) || opening.width_m <= 0.0 || opening.height_m <= 0.0 {
        return;
    }
    if opening.width_m > length_m + TAPE_M {
        reader.problem(
            Fault::Contradiction,
            &format!("{path}.width_m"),
            format!("The opening is {} m wide and the wall {} m long.", round(opening.width_m), round(length_m)),
            "Allowed is an opening narrower than its wall.",
            "Measure both again; widths are in metres.",
        );
    } else if right_m > length_m + TAPE_M {
        reader.problem(
            Fault::Contradiction,
            &format!("{path}.left_m"),
            format!("The opening ends {} m from the left end, beyond the wall's {} m.", round(right_m), round(length_m)),
            "Allowed is an opening that ends within the wall.",
            "Measure from the left end of the wall, seen from outside, to the left jamb.",
        );
    } else if !corners_fit(opening, outline) {
        reader.problem(
            Fault::Contradiction,
            path,
            format!("The head at {} m stands out of the outline of the wall.", round(head_m)),
            "Allowed is an opening that lies within the outline, under the slope of a gable too.",
            "Measure sill and height again, and the height of the wall.",
        );
    }
}

fn corners_fit(opening: &Opening, outline: &Outline) -> bool {
    let (left, right) = (opening.left_m, opening.left_m + opening.width_m);
    let (sill, head) = (opening.sill_m, opening.sill_m + opening.height_m);
    [(left, sill), (right, sill), (left, head), (right, head)].into_iter().all(|corner| holds(outline, corner))
}

fn overlap(one: &Opening, other: &Opening) -> bool {
    let apart = |a: f64, a_size: f64, b: f64, b_size: f64| a + a_size <= b + TAPE_M || b + b_size <= a + TAPE_M;
    !apart(one.left_m, one.width_m, other.left_m, other.width_m) && !apart(one.sill_m, one.height_m, other.sill_m, other.height_m)
}

/// To the centimetre, for a sentence.
fn round(metres: f64) -> f64 {
    (metres * 100.0).round() / 100.0
}

pub(super) fn chimneys(reader: &mut Reader<'_>, wall: &str, outline: &Outline) -> Vec<Chimney> {
    let table = format!("{wall}.chimneys");
    let (wall_m, _) = size_m(outline);
    let mut chimneys = Vec::new();
    for name in reader.names(&table) {
        let mut number = |key: &str| reader.number(&format!("{table}.{name}.{key}")).unwrap_or(0.0);
        let chimney = Chimney { length_m: number("length_m"), width_m: number("width_m"), height_m: number("height_m") };
        if is_whole(outline) && chimney.length_m > wall_m + TAPE_M {
            reader.problem(
                Fault::Contradiction,
                &format!("{table}.{name}.length_m"),
                format!("The stack is {} m long and its wall {} m.", chimney.length_m, round(wall_m)),
                "Allowed is a stack no longer than its wall.",
                "Measure the stack along the wall it stands on.",
            );
        }
        chimneys.push(chimney);
    }
    chimneys
}
