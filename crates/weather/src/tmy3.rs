//! Typical years in the public-domain TMY3 layout: a line of the place, a line of column names, then 8,760 rows stamped with the end of their hour,
//! −9900 for missing. Source: S. Wilcox & W. Marion, Users Manual for TMY3 Data Sets, NREL/TP-581-43156 (2008).

use crate::error::{Faults, WeatherError};
use crate::hours::shortened;
use crate::mapped::{Mapping, read_mapped};
use crate::number::decimal;
use crate::series::{Kind, Site, Weather};
use crate::stamp::Stamp;
use crate::text::fields;
use crate::{columns::Quantity, units};

/// Column names of the layout with their units.
const COLUMNS: [(&str, Quantity, &str); 10] = [
    ("Dry-bulb (C)", Quantity::Air, "c"),
    ("Dew-point (C)", Quantity::DewPoint, "c"),
    ("RHum (%)", Quantity::Humidity, "percent"),
    ("Pressure (mbar)", Quantity::Pressure, "mbar"),
    ("Wspd (m/s)", Quantity::Wind, "m_s"),
    ("Wdir (degrees)", Quantity::WindFrom, "deg"),
    ("GHI (W/m^2)", Quantity::Global, "w_m2"),
    ("DNI (W/m^2)", Quantity::Direct, "w_m2"),
    ("DHI (W/m^2)", Quantity::Diffuse, "w_m2"),
    ("TotCld (tenths)", Quantity::Cloud, "tenths"),
];

/// Reads a file in the TMY3 layout. `name` is what the file is called in messages. The layout's rain is not taken: it is gathered over 1, 6 or 24 hours and
/// mostly missing, and in a file that has it for every hour it sums to 8,345 mm a year where about 1,100 falls. Such a file counts as one without rain.
///
/// # Errors
/// [`WeatherError::Faults`] with everything that is wrong at once.
pub fn read_tmy3(text: &str, name: &str) -> Result<Weather, WeatherError> {
    let text = text.trim_start_matches('\u{feff}');
    let mut faults = Faults::default();
    let site = site(text.lines().next().unwrap_or(""), &mut faults);
    faults.into_result(name)?;
    let columns =
        COLUMNS.iter().filter_map(|(column, quantity, unit)| Some(((*column).to_owned(), units::measure(*quantity, unit)?))).collect();
    let mapping = Mapping {
        site,
        kind: Kind::Typical,
        delimiter: ',',
        decimal: '.',
        missing: ["-9900", "-9900.0", "-9900.00", "-9900.000"].map(str::to_owned).to_vec(),
        skip_lines: 1,
        time: vec![("Date (MM/DD/YYYY)".to_owned(), "mm/dd/yyyy".to_owned()), ("Time (HH:MM)".to_owned(), "HH:MM".to_owned())],
        stamp: Stamp::End,
        stand_in_year: Some(crate::epw::STAND_IN_YEAR),
        columns,
    };
    read_mapped(text, &mapping, name)
}

fn site(line: &str, faults: &mut Faults) -> Site {
    let parts = fields(line, ',');
    let mut number = |index: usize, what: &str, low: f64, high: f64| {
        let field = parts.get(index).copied().unwrap_or("");
        let read = decimal(field.as_bytes(), b'.').filter(|number| (low..=high).contains(number));
        read.unwrap_or_else(|| {
            let remedy = "The first line holds number, name, state, time zone, latitude, longitude, height: correct it, or this is not the TMY3 layout.";
            faults.add(Some(1), what, format!("“{}”", shortened(field)), format!("a number from {low} to {high}"), remedy);
            0.0
        })
    };
    let utc_offset_h = number(3, "time zone", -12.0, 14.0);
    let latitude_deg = number(4, "latitude", -90.0, 90.0);
    let longitude_deg = number(5, "longitude", -180.0, 180.0);
    let elevation_m = number(6, "elevation", -430.0, 6000.0);
    Site { name: parts.get(1).map(|name| (*name).to_owned()).unwrap_or_default(), latitude_deg, longitude_deg, elevation_m, utc_offset_h }
}
