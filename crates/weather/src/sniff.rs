//! Any weather file this crate can read without a declaration, told apart by its first lines.

use crate::error::WeatherError;
use crate::series::Weather;
use crate::text::{Encoding, decode};
use crate::{read_csv, read_daily, read_epw, read_tmy3};
use reckoning::{Finding, Grade};

/// Reads a weather file from its bytes: EPW, the TMY3 layout, our hourly CSV or a daily record, in UTF-8 or Latin-1. `name` is what it is called in messages;
/// its ending tells an EPW file whose first line is broken from a CSV.
///
/// # Errors
/// [`WeatherError::Faults`] with everything that is wrong at once.
pub fn read_any(bytes: &[u8], name: &str) -> Result<Weather, WeatherError> {
    let (text, encoding) = decode(bytes);
    let text = text.as_ref();
    let is_epw = name.to_ascii_lowercase().ends_with(".epw") || text.starts_with("LOCATION,");
    let mut weather = if is_epw {
        read_epw(text, name)
    } else if text.lines().nth(1).is_some_and(|heads| heads.starts_with("Date (MM/DD/YYYY)")) {
        read_tmy3(text, name)
    } else if heads(text).is_some_and(is_daily) {
        read_daily(text, name)
    } else {
        read_csv(text, name)
    }?;
    if encoding == Encoding::Latin1 {
        weather.findings.push(latin_finding());
    }
    Ok(weather)
}

/// The line of column names: the first that is neither empty nor a remark.
fn heads(text: &str) -> Option<&str> {
    text.lines().map(str::trim).find(|line| !line.is_empty() && !line.starts_with('#'))
}

fn is_daily(heads: &str) -> bool {
    let has = |name: &str| heads.split(',').any(|head| head.trim() == name);
    has("min_c") && has("max_c") && !has("hour")
}

fn latin_finding() -> Finding {
    Finding {
        grade: Grade::Note,
        rule: "weather-encoding".into(),
        place: "weather".into(),
        says: "The weather file is not UTF-8 and was read as Latin-1.".into(),
        reason: "Only names could be misread; numbers are the same in both.".into(),
        source: "ISO/IEC 8859-1".into(),
        remedy: "Nothing, unless a name looks wrong.".into(),
    }
}
