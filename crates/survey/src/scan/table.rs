//! Points as text: x, y, z in the first three columns, whatever follows; commas, semicolons, tabs or blanks between. One line of headings is allowed.

use super::points::Cloud;
use super::{ScanError, plane::LEAST_POINTS};

/// Reads a table of points.
pub(super) fn read(bytes: &[u8], name: &str) -> Result<Cloud, ScanError> {
    if bytes.iter().take(4096).any(|byte| *byte == 0) {
        return Err(ScanError::NotKnown { name: name.to_owned() });
    }
    let mut cloud = Cloud::new("table of x, y, z", None, bytes.len() / 24);
    let mut headings = 0;
    for (number, line) in bytes.split(|byte| *byte == b'\n').enumerate() {
        let line = String::from_utf8_lossy(line);
        let line = line.trim().trim_start_matches('\u{feff}');
        if line.is_empty() || line.starts_with('#') || line.starts_with("//") {
            continue;
        }
        match point(line) {
            Some(point) => cloud.push(point, name)?,
            None if cloud.points.is_empty() && headings == 0 => headings = number + 1,
            None if cloud.points.is_empty() => return Err(ScanError::NotKnown { name: name.to_owned() }),
            None => return Err(ScanError::Line { name: name.to_owned(), line: number + 1, found: line.chars().take(60).collect() }),
        }
    }
    if cloud.points.is_empty() && cloud.not_finite == 0 {
        return Err(ScanError::TooFew { name: name.to_owned(), found: 0, least: LEAST_POINTS });
    }
    Ok(cloud)
}

fn point(line: &str) -> Option<[f64; 3]> {
    let mut numbers = line.split([',', ';', '\t', ' ']).filter(|cell| !cell.is_empty()).map(|cell| cell.trim().parse::<f64>().ok());
    Some([numbers.next()??, numbers.next()??, numbers.next()??])
}
