//! What can be wrong with a scan, in sentences that say what was found, what is allowed and what to do.

use thiserror::Error;

/// A scan that cannot be read or used.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum ScanError {
    /// None of the formats read.
    #[error("{name}: this is none of the scans that are read. Give PLY, LAS, LAZ, E57, or a table of x, y, z (CSV, XYZ).")]
    NotKnown {
        /// File.
        name: String,
    },
    /// A header that breaks the format.
    #[error("{name}: the {format} header is faulty: {found}. Write the scan again from the program it came from.")]
    Header {
        /// File.
        name: String,
        /// Format.
        format: &'static str,
        /// What was found.
        found: String,
    },
    /// Fewer points than promised.
    #[error("{name}: the file ends early: its header promises {promised} points and {found} are there. Copy it again, whole.")]
    Truncated {
        /// File.
        name: String,
        /// Points promised.
        promised: u64,
        /// Points there.
        found: u64,
    },
    /// A line of a table that is not a point.
    #[error("{name}, line {line}: “{found}” is no point; at least three numbers are needed, x, y, z. Correct the line, or take it out.")]
    Line {
        /// File.
        name: String,
        /// Line, counted from one.
        line: usize,
        /// What stands there.
        found: String,
    },
    /// More points than are taken.
    #[error("{name}: there are more than {most} points. Thin the scan to one point each 5 mm; more do not help a 10 mm grid.")]
    TooMany {
        /// File.
        name: String,
        /// Most allowed.
        most: usize,
    },
    /// Too few points to make a plane of.
    #[error("{name}: {found} usable points are too few; at least {least} are needed. Scan the whole wall.")]
    TooFew {
        /// File.
        name: String,
        /// Usable points.
        found: usize,
        /// Least number.
        least: usize,
    },
    /// Points on one line or in one spot.
    #[error("{name}: the points lie on one line or in one spot and give no plane. Scan the whole wall.")]
    Flat {
        /// File.
        name: String,
    },
    /// Two walls of about the same size.
    #[error(
        "{name}: there is more than one wall in the scan: the main face holds {first_percent:.0} % of the points, another plane {second_percent:.0} %. Cut the scan to one wall."
    )]
    TwoWalls {
        /// File.
        name: String,
        /// Share of the first.
        first_percent: f64,
        /// Share of the second.
        second_percent: f64,
    },
    /// Not the wall of the survey.
    #[error(
        "{name}: the face scanned is {found_length_m:.2} m long and {found_height_m:.2} m high, the wall of the survey {length_m:.2} by {height_m:.2} m. {hint}"
    )]
    WrongWall {
        /// File.
        name: String,
        /// m.
        found_length_m: f64,
        /// m.
        found_height_m: f64,
        /// m.
        length_m: f64,
        /// m.
        height_m: f64,
        /// What to do.
        hint: String,
    },
    /// An outline without area, or one that would make too large a grid.
    #[error(
        "{name}: the wall of {length_m} by {height_m} m gives no grid of {cell_m} m cells between 2 × 2 and {most} of them. Correct the outline, or choose another cell."
    )]
    Grid {
        /// File.
        name: String,
        /// m.
        length_m: f64,
        /// m.
        height_m: f64,
        /// m.
        cell_m: f64,
        /// Most cells.
        most: usize,
    },
}
