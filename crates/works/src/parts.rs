//! A task told in its parts by the day: reveals before the face, what was laid and ruled on which day, the bays of the finish. It must never move a date.

use crate::book::Done;
use crate::calendar::days_between;
use crate::pieces::{Piece, PieceKind};
use crate::sheet::{Step, WallSheet};
use crate::{Part, PartKind};

/// The parts of a step as it was done, in the order in which they were worked.
pub(crate) fn parts(sheet: &WallSheet, step: &Step, done: &Done) -> Vec<Part> {
    let mut parts = Vec::new();
    for (number, piece) in step.pieces.iter().enumerate() {
        let portions: Vec<_> = done.portions.iter().filter(|portion| portion.piece == number).collect();
        let days: f64 = portions.iter().map(|portion| portion.days).sum();
        let (Some(first), Some(last)) = (portions.first(), portions.last()) else { continue };
        let whole = Part {
            kind: PartKind::Reveals,
            name: name(sheet, piece),
            from: first.date,
            to: last.date,
            amount: piece.amount,
            gang_days: days,
            lifts: None,
            cold_joint: false,
        };
        match piece.kind {
            PieceKind::Whole => {}
            PieceKind::Reveals => parts.push(whole),
            PieceKind::Bay(bay) => {
                let top_m = sheet.bays.get(bay).map_or(0.0, |bay| bay.top_m);
                let lifts = ((top_m / sheet.lift_m.max(0.1)) - 1e-9).ceil().max(1.0) as u32;
                let cold_joint = days_between(first.date, last.date) > 0;
                parts.push(Part { kind: PartKind::Bay, lifts: Some(lifts), cold_joint, ..whole });
            }
            PieceKind::Face => {
                for portion in portions {
                    let share = if days > 0.0 { portion.days / days } else { 1.0 };
                    let ruled = if piece.gang_days > 0.0 { piece.ruling_days / piece.gang_days } else { 0.0 };
                    let today = Part {
                        kind: PartKind::Face,
                        from: portion.date,
                        to: portion.date,
                        amount: piece.amount * share,
                        gang_days: portion.days * (1.0 - ruled),
                        ..whole.clone()
                    };
                    let ruling = (ruled > 0.0).then(|| Part {
                        kind: PartKind::Ruling,
                        name: "Ruling".to_owned(),
                        gang_days: portion.days * ruled,
                        ..today.clone()
                    });
                    parts.push(today);
                    parts.extend(ruling);
                }
            }
        }
    }
    parts
}

fn name(sheet: &WallSheet, piece: &Piece) -> String {
    match piece.kind {
        PieceKind::Whole => String::new(),
        PieceKind::Reveals => "Reveals".to_owned(),
        PieceKind::Face => "Face".to_owned(),
        PieceKind::Bay(_) if sheet.bays.len() == 1 => "Whole wall".to_owned(),
        PieceKind::Bay(bay) => {
            let reach = sheet.bays.get(bay).map_or(String::new(), |bay| format!(", {:.1} to {:.1} m from the left", bay.from_m, bay.to_m));
            format!("Bay {}{reach}", bay + 1)
        }
    }
}
