//! An old covering on the wall: how long it takes to come off, and how much waste it makes. What it hides stays a provisional sum until the wall is open.

use reckoning::Known;
use survey::OldCovering;

use crate::Outputs;

/// Waste carted away from a covered face, m³ a m²: middle, low and high, lying loose. Cement 20 mm thick (12 to 35), old harl 12 mm (6 to 25), paint
/// with what comes off with it 1 mm (½ to 2), half as much again when loose: common practice, no source.
const LOOSE: f64 = 1.5;
const CEMENT_M: [f64; 3] = [0.020, 0.012, 0.035];
const LIME_HARL_M: [f64; 3] = [0.012, 0.006, 0.025];
const PAINT_M: [f64; 3] = [0.001, 0.0005, 0.002];

/// Output in taking a covering off, m² a gang-day; `None` for a bare wall.
pub(crate) fn output(outputs: &Outputs, covering: OldCovering) -> Option<&Known<f64>> {
    match covering {
        OldCovering::Bare => None,
        OldCovering::Cement => Some(&outputs.take_off_cement),
        OldCovering::LimeHarl => Some(&outputs.take_off_lime_harl),
        OldCovering::Paint => Some(&outputs.take_off_paint),
    }
}

/// Gang-days of taking a covering off a face: middle, low and high.
pub(crate) fn gang_days(outputs: &Outputs, covering: OldCovering, face_m2: f64) -> [f64; 3] {
    let Some(output) = output(outputs, covering) else { return [0.0; 3] };
    let (slow, fast) = output.range.unwrap_or((output.value, output.value));
    [output.value, fast, slow].map(|a_day| face_m2 / a_day)
}

/// Loose waste of a face, m³: middle, low and high.
pub(crate) fn waste_m3(covering: OldCovering, face_m2: f64) -> [f64; 3] {
    let depths = match covering {
        OldCovering::Bare => [0.0; 3],
        OldCovering::Cement => CEMENT_M,
        OldCovering::LimeHarl => LIME_HARL_M,
        OldCovering::Paint => PAINT_M,
    };
    depths.map(|depth_m| LOOSE * depth_m * face_m2)
}

/// Whether a covering holds the water of a wall back.
pub(crate) fn is_impermeable(covering: OldCovering) -> bool {
    matches!(covering, OldCovering::Cement | OldCovering::Paint)
}
