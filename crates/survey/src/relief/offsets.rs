//! Offsets from a line or batten to the wall, as a bare table of numbers: comma, semicolon, tab or blanks between, one row a line, the lowest row first.
//! It reads text and must never guess a missing reading: an empty place, `-` or `nan` is no wall.

use crate::SurveyError;
use crate::straight_edge::HeightField;

/// Largest table, cells.
const MOST_CELLS: usize = 20_000_000;

/// Largest offset that is believed, mm: a line is not stretched two metres off a wall.
const LARGEST_MM: f64 = 2000.0;

/// Reads a table of offsets in millimetres, larger where the wall is hollower, `cell_m` apart both ways. `name` is the file, for the messages.
///
/// # Errors
/// Every row that is not numbers, or not as long as the first (the first twenty such rows); a table of fewer than three readings.
pub fn read_offsets(text: &str, name: &str, cell_m: f64) -> Result<HeightField, Vec<SurveyError>> {
    let mut faults = Vec::new();
    let mut heights_m = Vec::new();
    let (mut columns, mut rows) = (0, 0);
    for (number, line) in text.lines().enumerate() {
        let line = line.trim_start_matches('\u{feff}');
        if line.trim().is_empty() || line.trim_start().starts_with('#') {
            continue;
        }
        let before = heights_m.len();
        let place = || format!("{name}, line {}", number + 1);
        for cell in cells(line) {
            match offset(cell) {
                Ok(offset_m) => heights_m.push(-offset_m),
                Err(allowed) => {
                    heights_m.push(f64::NAN);
                    faults.push(SurveyError::NotANumber { place: place(), found: cell.chars().take(40).collect(), allowed });
                }
            }
        }
        let found = heights_m.len() - before;
        if rows == 0 {
            columns = found;
        } else if found != columns {
            faults.push(SurveyError::Ragged { place: place(), row: rows + 1, found, expected: columns });
        }
        rows += 1;
        if faults.len() > 20 || heights_m.len() > MOST_CELLS {
            break;
        }
    }
    let readings = heights_m.iter().filter(|height| height.is_finite()).count();
    if faults.is_empty() && (readings < 3 || heights_m.len() > MOST_CELLS) {
        let allowed = format!("at least three and at most {MOST_CELLS} are needed; give one row of offsets in mm a line");
        faults.push(SurveyError::Count { place: name.to_owned(), what: "offsets", found: readings, allowed });
    }
    if faults.is_empty() { Ok(HeightField { columns, rows, spacing_m: cell_m, heights_m }) } else { Err(faults) }
}

/// The places of a line: by the first separator that it holds, blanks where it holds none.
fn cells(line: &str) -> Vec<&str> {
    for separator in ['\t', ';', ','] {
        if line.contains(separator) {
            return line.split(separator).map(str::trim).collect();
        }
    }
    line.split_whitespace().collect()
}

fn offset(cell: &str) -> Result<f64, String> {
    if cell.is_empty() || cell == "-" || cell.eq_ignore_ascii_case("nan") {
        return Ok(f64::NAN);
    }
    match cell.parse::<f64>() {
        Ok(millimetres) if millimetres.abs() <= LARGEST_MM => Ok(millimetres / 1000.0),
        _ => Err(format!(
            "a number of millimetres between -{LARGEST_MM} and {LARGEST_MM} with a decimal point, or nothing where there is no wall"
        )),
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_table_is_read_whatever_stands_between() {
        for text in ["0,5,10\n5,,0\n", "0;5;10\n5;-;0", "0\t5\t10\n5\tNaN\t0\n\n", "# mm\n0 5 10\n5 nan 0"] {
            let field = read_offsets(text, "wall.csv", 0.1).unwrap();
            assert_eq!((field.columns, field.rows), (3, 2));
            assert_eq!(field.heights_m[..4], [0.0, -0.005, -0.010, -0.005]);
            assert!(field.heights_m[4].is_nan());
        }
    }

    #[test]
    fn every_fault_is_told_with_its_line() {
        let faults = read_offsets("1,2,3\n1,two,3\n1,2\n1,2,1e9\n", "wall.csv", 0.1).unwrap_err();
        let words: Vec<String> = faults.iter().map(ToString::to_string).collect();
        assert_eq!(words.len(), 3, "{words:?}");
        assert!(words[0].contains("line 2") && words[0].contains("two") && words[1].contains("line 3") && words[2].contains("line 4"));
        assert!(read_offsets("", "wall.csv", 0.1).unwrap_err()[0].to_string().contains("offsets"));
    }

    proptest! {
        #[test]
        fn no_text_brings_it_down(text in ".{0,200}") {
            let _ = read_offsets(&text, "any", 0.1);
        }
    }
}
