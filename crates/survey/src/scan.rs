//! A point cloud of a wall, from the bytes of a file to a height field on the wall's own plane: readers, plane, crop, grid. It opens no file, it never
//! fills a hole with a high spot, and it says what it dropped.

mod error;
mod grid;
mod laser;
mod place;
mod plane;
mod ply;
mod points;
mod table;

pub use error::ScanError;
pub use grid::{Dropped, Gridded, Gridding, grid};
pub use plane::{Plane, fit_plane};
pub use points::{Cloud, LengthUnit};

/// Most points taken in: at twelve bytes each, 1.2 GB. A wall of 100 m² with a point each 5 mm has four million.
pub const MOST_POINTS: usize = 100_000_000;

/// Reads a scan, its format known by its first bytes; `name` is for the messages.
///
/// # Errors
/// A [`ScanError`] for an unknown format, a faulty header, a file that ends early, a line that is no point, and too many points. Points with a
/// coordinate that is not a finite number are dropped and counted.
pub fn read_scan(bytes: &[u8], name: &str) -> Result<Cloud, ScanError> {
    if bytes.starts_with(b"ply") {
        ply::read(bytes, name)
    } else if bytes.starts_with(b"LASF") {
        laser::read_las(bytes, name)
    } else if bytes.starts_with(b"ASTM-E57") {
        laser::read_e57(bytes, name)
    } else {
        table::read(bytes, name)
    }
}
