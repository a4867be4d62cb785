//! Days to ready of every lime of the catalogue in still weather, bare and behind damp hessian on dry sandstone, and what sets each. It must never be read as
//! a forecast: weather does not stand still.

use materials::Catalogue;

use super::CalibrationError;
use super::data::{Care, Still, coat, walls};
use super::watch::{Brake, Wait, watch};
use crate::Criterion;

/// Temperatures, °C, and relative humidities of the tables.
pub const AIR_C: [f64; 6] = [2.0, 6.0, 10.0, 15.0, 20.0, 25.0];
/// See [`AIR_C`].
pub const HUMIDITY: [f64; 5] = [0.50, 0.65, 0.75, 0.85, 0.95];
/// Coats of the tables: parts of sand to one of lime, and thickness, m.
pub const COATS: [(&str, f64, f64); 2] = [("scud 1:1, 3.5 mm", 1.0, 3.5e-3), ("straightening 1:2, 12 mm", 2.0, 12e-3)];

/// One cell.
#[derive(Clone, Copy, Debug)]
pub struct Cell {
    /// The wait with the rule of age.
    pub ruled: Wait,
    /// The wait without it.
    pub by_nature: Wait,
    /// What held uptake back.
    pub brake: Brake,
}

/// One table: by temperature, then by humidity.
#[derive(Clone, Debug)]
pub struct Table {
    /// Lime, by its slug and by the name shown.
    pub lime: (String, String),
    /// Coat, one of [`COATS`].
    pub coat: &'static str,
    /// Care.
    pub care: Care,
    /// Its cells.
    pub cells: Vec<Vec<Cell>>,
}

/// All tables, limes in the order of their slugs.
///
/// # Errors
/// As [`watch`].
pub fn tables() -> Result<Vec<Table>, CalibrationError> {
    let catalogue = Catalogue::shipped();
    let mut tables = Vec::new();
    for (slug, lime) in &catalogue.limes {
        for (name, parts, thickness_m) in COATS {
            for care in [Care::Bare, Care::Tended] {
                let mut cells = Vec::new();
                for air_c in AIR_C {
                    cells.push(
                        HUMIDITY
                            .iter()
                            .map(|&humidity| cell(&catalogue, slug, (parts, thickness_m), Still { air_c, humidity }, care))
                            .collect::<Result<_, _>>()?,
                    );
                }
                tables.push(Table { lime: (slug.clone(), lime.name.clone()), coat: name, care, cells });
            }
        }
    }
    Ok(tables)
}

/// One cell of a table: a coat of a lime with its parts of sand and thickness.
///
/// # Errors
/// As [`watch`].
pub fn cell(
    catalogue: &Catalogue,
    lime: &str,
    (parts, thickness_m): (f64, f64),
    still: Still,
    care: Care,
) -> Result<Cell, CalibrationError> {
    let coat = coat(catalogue, lime, parts, thickness_m)?;
    let [(_, sandstone), _] = walls(catalogue)?;
    let watch = watch(catalogue, &sandstone, &coat, still, care)?;
    let asked = coat.thresholds.uptake_m;
    Ok(Cell { ruled: watch.wait(asked, true), by_nature: watch.wait(asked, false), brake: watch.brake(asked) })
}

impl Cell {
    /// Days to a tenth, with the letter of what sets them; the wait by nature in brackets where only age holds the coat back.
    pub fn words(&self) -> String {
        let figure = |wait: Wait| wait.days.map_or_else(|| "–".to_owned(), |days| format!("{days:.1}"));
        if self.ruled.decides == Criterion::Age && self.by_nature.days.is_some() {
            return format!("{} a ({} {})", figure(self.ruled), figure(self.by_nature), self.letter(self.by_nature));
        }
        format!("{} {}", figure(self.ruled), self.letter(self.ruled))
    }

    fn letter(&self, wait: Wait) -> &'static str {
        match (wait.decides, self.brake) {
            (Criterion::Age, _) => "a",
            (Criterion::Firm, _) => "f",
            (Criterion::Carbonated, _) if wait.by_set => "h",
            (Criterion::Carbonated, Brake::Wet) => "w",
            (Criterion::Carbonated, Brake::Gas) => "g",
            (Criterion::Carbonated, Brake::TooDry) => "d",
            (Criterion::DampNotWet, _) => "s",
            (Criterion::Sound, _) => "x",
            (Criterion::ThermallyFit, _) => "t",
        }
    }
}

/// What the letters mean, as a list for a page.
pub const LETTERS: [(&str, &str); 9] = [
    ("a", "the least age of a week: nothing in the coat asks for it (in brackets what the coat itself asks for)"),
    ("w", "water in the pores: for more than half the wait they pass less than a tenth of the gas they pass dry"),
    ("g", "the gas on its way through open pores, and the reaction"),
    ("d", "the face is too dry for the full rate of the reaction for more than half the wait"),
    ("h", "its hydraulic set, which comes before the uptake"),
    ("f", "not yet firm under the thumb"),
    ("s", "the face is still too wet to hold the next coat"),
    ("x", "damage that asks for the coat to be redone"),
    ("t", "too cold or too hot for a throw"),
];
