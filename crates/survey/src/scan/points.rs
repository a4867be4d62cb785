//! Points of a scan, kept small: three single-precision numbers each, from the first point on, which holds a tenth of a millimetre over a kilometre.

use serde::Serialize;

use super::{MOST_POINTS, ScanError};

/// Unit of a scan's coordinates.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs, reason = "the words say it")]
pub enum LengthUnit {
    Metre,
    Millimetre,
    Centimetre,
    Foot,
    Inch,
}

impl LengthUnit {
    /// All units.
    pub const ALL: [Self; 5] = [Self::Metre, Self::Millimetre, Self::Centimetre, Self::Foot, Self::Inch];

    /// One unit in metres (exact by definition).
    pub fn metres(self) -> f64 {
        match self {
            Self::Metre => 1.0,
            Self::Millimetre => 0.001,
            Self::Centimetre => 0.01,
            Self::Foot => 0.3048,
            Self::Inch => 0.0254,
        }
    }

    /// The unit in words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Metre => "metres",
            Self::Millimetre => "millimetres",
            Self::Centimetre => "centimetres",
            Self::Foot => "feet",
            Self::Inch => "inches",
        }
    }
}

/// A cloud of points in the unit of its file.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Cloud {
    /// Where the first point lies; the others count from it.
    pub origin: [f64; 3],
    /// Points, less the origin.
    pub points: Vec<[f32; 3]>,
    /// Points dropped because a coordinate was not a finite number, or was marked as not measured.
    pub not_finite: u64,
    /// Format, for the report.
    pub format: &'static str,
    /// Unit, where the format fixes it.
    pub unit: Option<LengthUnit>,
}

/// A coordinate beyond this is no place on earth, whatever the unit.
const FARTHEST: f64 = 1.0e11;

impl Cloud {
    pub(super) fn new(format: &'static str, unit: Option<LengthUnit>, expected: usize) -> Self {
        Self { points: Vec::with_capacity(expected.min(MOST_POINTS)), format, unit, ..Self::default() }
    }

    /// Takes a point in.
    pub(super) fn push(&mut self, point: [f64; 3], name: &str) -> Result<(), ScanError> {
        if !point.iter().all(|coordinate| coordinate.abs() < FARTHEST) {
            self.not_finite += 1;
            return Ok(());
        }
        if self.points.is_empty() {
            self.origin = point;
        }
        if self.points.len() >= MOST_POINTS {
            return Err(ScanError::TooMany { name: name.to_owned(), most: MOST_POINTS });
        }
        let near = [0, 1, 2].map(|axis| (point[axis] - self.origin[axis]) as f32);
        self.points.push(near);
        Ok(())
    }
}
