//! A step in the pieces in which it is worked, and how much of them a half-day takes: a coat's reveals before its face, a finish bay by bay, each begun only
//! where it is ended the same day. It must never know weather, dates or money.

use survey::WallMeasured;

use crate::Rates;

/// Days below which nothing is left to do.
const HAIR_DAYS: f64 = 1e-9;
/// A half-day, in days.
pub(crate) const HALF_DAY: f64 = 0.5;

/// What a piece of a step is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum PieceKind {
    /// The whole of a step that lays no coat.
    Whole,
    /// The reveals, before the face of the same coat.
    Reveals,
    /// The face of a coat in which a joint is covered by the next.
    Face,
    /// A bay of the finish, by its number from the left.
    Bay(usize),
}

/// A piece of a step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Piece {
    pub(crate) kind: PieceKind,
    /// Days of a gang of two masons and a labourer, covering and ruling with it.
    pub(crate) gang_days: f64,
    /// Of these the days of ruling what was laid the same day.
    pub(crate) ruling_days: f64,
    /// m² of face or m of reveal.
    pub(crate) amount: f64,
    /// It is begun only where it is ended the same day. False too for a bay that no gang of the job covers in a day: it is thrown as far as the day goes, and a
    /// cold joint stands there.
    pub(crate) unbroken: bool,
}

impl Piece {
    /// A step in one piece.
    pub(crate) fn whole(gang_days: f64) -> Self {
        Self { kind: PieceKind::Whole, gang_days, ruling_days: 0.0, amount: 0.0, unbroken: false }
    }
}

/// How far a step has come.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Progress {
    /// Pieces that are done.
    pub(crate) done: usize,
    /// Days the gang has worked on the next one.
    days: f64,
}

impl Progress {
    /// The piece in hand or to be begun next.
    pub(crate) fn next<'p>(&self, pieces: &'p [Piece]) -> Option<&'p Piece> {
        pieces.get(self.done)
    }

    /// True while a piece is in hand that must be ended this day.
    pub(crate) fn must_be_ended(&self, pieces: &[Piece]) -> bool {
        self.days > 0.0 && self.next(pieces).is_some_and(|piece| piece.unbroken)
    }

    /// Whether a gang of a pace may go on, with so much of the day before it.
    pub(crate) fn goes_on(&self, pieces: &[Piece], pace: f64, rest_days: f64) -> bool {
        self.next(pieces).is_none_or(|piece| !piece.unbroken || self.days > 0.0 || piece.gang_days / pace <= rest_days + HAIR_DAYS)
    }

    /// Works a half-day, with so much of the same day after it; `did` is told each piece worked on and for how many days.
    pub(crate) fn half_day(self, pieces: &[Piece], pace: f64, later_days: f64, mut did: impl FnMut(usize, f64)) -> Self {
        let (mut at, mut left) = (self, HALF_DAY);
        while let Some(piece) = at.next(pieces) {
            if !at.goes_on(pieces, pace, left + later_days) {
                break;
            }
            let to_do = (piece.gang_days / pace - at.days).max(0.0);
            if to_do <= left + HAIR_DAYS {
                did(at.done, to_do);
                left = (left - to_do).max(0.0);
                at = Self { done: at.done + 1, days: 0.0 };
                continue;
            }
            if left > HAIR_DAYS {
                did(at.done, left);
                at.days += left;
            }
            break;
        }
        at
    }
}

/// Whether a gang of a pace can end every piece of a step on the day it is begun that must be so ended.
pub(crate) fn is_able(pieces: &[Piece], pace: f64) -> bool {
    pieces.iter().all(|piece| !piece.unbroken || piece.gang_days / pace <= 1.0 + HAIR_DAYS)
}

/// Half-days from a morning on to the end of a step, with what is left of a day in which the next bay would not be ended.
pub(crate) fn half_days(pieces: &[Piece], pace: f64) -> u32 {
    const MOST: u32 = 2000;
    if !is_able(pieces, pace) {
        let broken: Vec<Piece> = pieces.iter().map(|piece| Piece { unbroken: false, ..*piece }).collect();
        return half_days(&broken, pace);
    }
    let (mut at, mut halves) = (Progress::default(), 0);
    while at.done < pieces.len() && halves < MOST {
        let later = if halves % 2 == 0 { HALF_DAY } else { 0.0 };
        at = at.half_day(pieces, pace, later, |_, _| {});
        halves += 1;
    }
    halves.max(1)
}

/// Days of a gang of two masons and a labourer for each bay of the finish of a wall, hanging its share of the cloth with it.
pub(crate) fn bay_days(size: &WallMeasured, rates: &Rates, hung_m2: f64) -> Vec<f64> {
    let whole = size.net_m2 / rates.outputs.finish.value + hung_m2 / rates.outputs.hessian.value;
    size.bays.iter().map(|bay| bay.share * whole).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bay(gang_days: f64) -> Piece {
        Piece { kind: PieceKind::Bay(0), gang_days, ruling_days: 0.0, amount: 1.0, unbroken: true }
    }

    // Worked by hand: ⅓ + ⅓ + ⅓ of a day fill one day; 0.6 and 0.6 take two, the rest of each day left; a gang twice as fast throws both of them in 0.6 of
    // a day, so the second half-day is begun; what may be broken goes on where it was left.
    #[test]
    fn bays_are_packed_into_days() {
        assert_eq!(half_days(&[bay(1.0 / 3.0), bay(1.0 / 3.0), bay(1.0 / 3.0)], 1.0), 2);
        assert_eq!(half_days(&[bay(0.6), bay(0.6)], 1.0), 4);
        assert_eq!(half_days(&[bay(0.6), bay(0.6)], 2.0), 2);
        assert_eq!(half_days(&[Piece::whole(0.7), bay(0.8)], 1.0), 4);
        assert_eq!(half_days(&[Piece::whole(1.6)], 1.0), 4);
        assert_eq!(half_days(&[Piece::whole(1.0)], 1.0), 2);
    }

    #[test]
    fn a_bay_is_begun_only_where_the_day_is_long_enough() {
        let pieces = [bay(0.6)];
        assert!(!Progress::default().goes_on(&pieces, 1.0, HALF_DAY) && Progress::default().goes_on(&pieces, 1.0, 1.0));
        assert!(is_able(&pieces, 1.0) && !is_able(&pieces, 0.5));
        let begun = Progress::default().half_day(&pieces, 1.0, HALF_DAY, |_, _| {});
        assert!(begun.must_be_ended(&pieces) && begun.goes_on(&pieces, 1.0, HALF_DAY));
    }
}
