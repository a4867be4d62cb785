//! How wet a wall is, from a reading, a hand laid on it, or the months since its covering came off.

use reckoning::Known;
use survey::Dampness;

use crate::problem::Fault;
use crate::reader::Reader;

/// What a hand feels, as degree of saturation of the pores: word, middle, low, high. Common practice, no source: a dusty face stands near the
/// moisture it takes from the air, a shining one near saturation, and the ranges meet between.
const TOUCHES: [(&str, f64, f64, f64); 3] = [("dry", 0.08, 0.02, 0.15), ("damp", 0.25, 0.15, 0.45), ("wet", 0.65, 0.45, 1.0)];

/// The trade's rule for a stone wall drying from the face that was opened: a month for each 25 mm of its thickness.
const MONTHS_PER_M: f64 = 40.0;

pub(super) fn build(reader: &mut Reader<'_>, wall: &str, bared_months: Option<f64>, thickness_m: f64) -> Dampness {
    let from_months = bared_months.map(|months| dried(months, thickness_m));
    let mut at = |height: &str| place(reader, wall, height, from_months);
    let (low, middle, high) = (at("low"), at("middle"), at("high"));
    let face = reader.number(&format!("{wall}.saturation_face_percent"));
    let face = face.map(|share| Known { source: "a sample drilled from the outer 50 mm".to_owned(), ..Known::answered(share) });
    Dampness { low, middle, high, face }
}

fn place(reader: &mut Reader<'_>, wall: &str, height: &str, from_months: Option<f64>) -> Known<f64> {
    let reading = format!("{wall}.saturation_{height}_percent");
    let touch = format!("{wall}.touch_{height}");
    if reader.is_written_here(&reading) && reader.is_written_here(&touch) {
        reader.problem(
            Fault::Contradiction,
            &touch,
            "The dampness here is given both by touch and by a reading.",
            "Allowed is one of the two.",
            "Keep the reading: a weighed sample says more than a hand.",
        );
    }
    if let Some(saturation) = reader.number(&reading) {
        return Known { source: "a reading given in the job".to_owned(), ..Known::answered(saturation) };
    }
    if let (Some(saturation), false) = (from_months, reader.is_written(&touch)) {
        let source = "worked from the months since the covering came off, at a month for each 25 mm of wall; common practice, no source";
        reader.assume_word(&touch, nearest_touch(saturation), source);
        return Known::assumed(saturation, source, Some((saturation * 0.5, (saturation * 1.7).min(1.0))));
    }
    let word = reader.known_word(&touch);
    let (_, middle, low, high) = TOUCHES.into_iter().find(|(name, ..)| *name == word.value).unwrap_or(TOUCHES[1]);
    let source = format!("{}, a hand laid on it: {}; the share of the pores is common practice, no source", word.source, word.value);
    Known { value: middle, assumed: word.assumed, source, range: Some((low, high)) }
}

/// Saturation after drying for some months from wet, in a straight line to dry by the trade's rule.
fn dried(months: f64, thickness_m: f64) -> f64 {
    let (dry, wet) = (TOUCHES[0].1, TOUCHES[2].1);
    let left = (1.0 - months / (thickness_m * MONTHS_PER_M).max(1.0)).max(0.0);
    dry + (wet - dry) * left
}

fn nearest_touch(saturation: f64) -> &'static str {
    TOUCHES.iter().find(|(_, _, _, high)| saturation <= *high).map_or("wet", |(word, ..)| *word)
}
