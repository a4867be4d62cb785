//! Laser scans in LAS, LAZ (ASPRS) and E57 (ASTM E2807), by libraries, in batches, so that a header that lies cannot ask for memory.

use std::io::Cursor;

use e57::{CartesianCoordinate, E57Reader};

use super::ScanError;
use super::points::{Cloud, LengthUnit};

/// Points and bytes asked for at a time, at most.
const BATCH: u64 = 100_000;
const BATCH_BYTES: u64 = 16_000_000;

/// Runs a library over bytes that may break it: whatever it does, a faulty file is a fault told.
fn guarded(name: &str, format: &'static str, read: impl FnOnce() -> Result<Cloud, ScanError>) -> Result<Cloud, ScanError> {
    let found = "its inside contradicts itself".to_owned();
    std::panic::catch_unwind(std::panic::AssertUnwindSafe(read))
        .unwrap_or_else(|_| Err(ScanError::Header { name: name.to_owned(), format, found }))
}

/// The whole number of eight bytes at a place, where there are so many.
fn long_at(bytes: &[u8], place: usize) -> Option<u64> {
    bytes.get(place..place.checked_add(8)?)?.try_into().ok().map(u64::from_le_bytes)
}

/// The whole number of four bytes at a place, where there are so many.
fn word_at(bytes: &[u8], place: usize) -> Option<u32> {
    bytes.get(place..place.checked_add(4)?)?.try_into().ok().map(u32::from_le_bytes)
}

/// False where a packed file claims more chunks than it has bytes for: the library would ask for their memory before it looks.
fn chunks_fit(bytes: &[u8]) -> bool {
    const PACKED: u8 = 0x80;
    if bytes.get(104).is_none_or(|format| format & PACKED == 0) {
        return true;
    }
    let table = word_at(bytes, 96).and_then(|body| long_at(bytes, body as usize)).and_then(|table| usize::try_from(table).ok());
    table.and_then(|table| word_at(bytes, table.checked_add(4)?)).is_some_and(|chunks| u64::from(chunks) <= bytes.len() as u64 / 4)
}

/// Reads LAS or LAZ. The unit is not fixed by the format: it is that of the projection, mostly metres.
pub(super) fn read_las(bytes: &[u8], name: &str) -> Result<Cloud, ScanError> {
    guarded(name, "LAS", || las_points(bytes, name))
}

fn las_points(bytes: &[u8], name: &str) -> Result<Cloud, ScanError> {
    let faulty = |found: String| ScanError::Header { name: name.to_owned(), format: "LAS", found };
    if !chunks_fit(bytes) {
        return Err(faulty("its table of chunks is not there, or larger than the file".to_owned()));
    }
    let mut reader = las::Reader::new(Cursor::new(bytes.to_vec())).map_err(|error| faulty(error.to_string()))?;
    let promised = reader.header().number_of_points();
    let expected = usize::try_from(promised).unwrap_or(usize::MAX).min(bytes.len() / 2);
    let mut cloud = Cloud::new("LAS", None, expected);
    let record = u64::from(reader.header().point_format().len()).max(1);
    let batch = BATCH.min(BATCH_BYTES / record).max(1);
    let mut found = 0;
    while found < promised {
        let asked = batch.min(promised - found);
        let Ok(points) = reader.read_points(asked) else { break };
        if points.is_empty() {
            break;
        }
        found += points.len() as u64;
        for ((x, y), z) in points.x().zip(points.y()).zip(points.z()) {
            cloud.push([x, y, z], name)?;
        }
    }
    if found < promised {
        return Err(ScanError::Truncated { name: name.to_owned(), promised, found });
    }
    Ok(cloud)
}

/// Reads every cloud of an E57 file, brought into one frame by their poses. The format is in metres.
pub(super) fn read_e57(bytes: &[u8], name: &str) -> Result<Cloud, ScanError> {
    guarded(name, "E57", || e57_points(bytes, name))
}

fn e57_points(bytes: &[u8], name: &str) -> Result<Cloud, ScanError> {
    let faulty = |found: String| ScanError::Header { name: name.to_owned(), format: "E57", found };
    // The length of the description stands in the header; the library would take it at its word.
    if long_at(bytes, 32).is_none_or(|length| length > bytes.len() as u64) {
        return Err(faulty("it promises more than the file holds".to_owned()));
    }
    let mut reader = E57Reader::new(Cursor::new(bytes)).map_err(|error| faulty(error.to_string()))?;
    let mut cloud = Cloud::new("E57", Some(LengthUnit::Metre), 0);
    for one in reader.pointclouds() {
        let promised = one.records;
        let mut found = 0;
        let points = reader.pointcloud_simple(&one).map_err(|error| faulty(error.to_string()))?;
        for point in points {
            let Ok(point) = point else { break };
            found += 1;
            match point.cartesian {
                CartesianCoordinate::Valid { x, y, z } => cloud.push([x, y, z], name)?,
                _ => cloud.not_finite += 1,
            }
        }
        if found < promised {
            return Err(ScanError::Truncated { name: name.to_owned(), promised, found });
        }
    }
    Ok(cloud)
}
