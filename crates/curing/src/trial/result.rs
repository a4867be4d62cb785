//! What a trial gives: profiles and totals at the times asked for, how its tables and books came out, and these as CSV or JSON.

use std::fmt::Write;

use serde::Serialize;

use super::material::LayerTableError;
use crate::Balance;
use crate::kernel::Column;

/// A trial that has been run.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TrialResult {
    /// Title of the trial.
    pub title: String,
    /// Where its numbers come from.
    pub source: String,
    /// Cells in the column.
    pub cells: usize,
    /// Steps taken.
    pub steps: u64,
    /// How far the tables of each layer lie from its functions.
    pub table_errors: Vec<LayerTableError>,
    /// The column at each time.
    pub profiles: Vec<Profile>,
    /// What it holds and what has passed at each time.
    pub totals: Vec<Totals>,
    /// How the books close at the end.
    pub books: Books,
}

/// How far water, carbon and energy are from being accounted for, and how much of each moved.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Books {
    /// Water held less what was at the start and what came in, kg/m².
    pub water_residual_kg_m2: f64,
    /// Water that passed the faces, added without regard to sign, kg/m².
    pub water_moved_kg_m2: f64,
    /// Calcite made less carbon dioxide that came in, mol/m².
    pub carbon_residual_mol_m2: f64,
    /// Carbon dioxide that came in, mol/m².
    pub carbon_moved_mol_m2: f64,
    /// Energy held less what was at the start and what came in, J/m².
    pub energy_residual_j_m2: f64,
    /// Energy that passed the faces or was set free, added without regard to sign, J/m².
    pub energy_moved_j_m2: f64,
}

/// The column at one time.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Profile {
    /// Time since the start, s.
    pub time_s: f64,
    /// Its points by rising depth.
    pub points: Vec<ProfilePoint>,
}

/// The state at one depth.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ProfilePoint {
    /// Depth from the outer face, m.
    pub depth_m: f64,
    /// Number of its layer, from 1 at the outer face; a joint belongs to the layer outside it.
    pub layer: usize,
    /// Temperature, °C.
    pub temperature_c: f64,
    /// Relative humidity in the pores, 0 to 1.
    pub humidity: f64,
    /// Vapour pressure in the pores, Pa.
    pub vapour_pa: f64,
    /// Water, kg/m³.
    pub water_kg_m3: f64,
    /// Suction of its whole water, Pa.
    pub suction_pa: f64,
    /// Portlandite left as a share of what was there, 0 to 1; 1 where there never was any.
    pub portlandite_share: f64,
    /// Ice, the frozen part of the water, kg/m³; `None` in a trial whose pore water does not freeze.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ice_kg_m3: Option<f64>,
}

/// What the column holds and what has passed through its faces by one time.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Totals {
    /// Time since the start, s.
    pub time_s: f64,
    /// Water held, kg/m².
    pub water_kg_m2: f64,
    /// Water that came in through the outer face since the start (negative: went out), kg/m².
    pub outer_water_kg_m2: f64,
    /// Of it, rain and free water.
    pub outer_liquid_kg_m2: f64,
    /// Rain that ran off, kg/m².
    pub run_off_kg_m2: f64,
    /// Water that came in through the inner face since the start, kg/m².
    pub inner_water_kg_m2: f64,
    /// Flow of water in through the outer face now, kg/(m² s).
    pub outer_flow_kg_m2s: f64,
    /// Flow of water in through the inner face now, kg/(m² s).
    pub inner_flow_kg_m2s: f64,
    /// Temperature of the outer face, °C.
    pub outer_face_c: f64,
    /// Relative humidity at the outer face, 0 to 1.
    pub outer_face_humidity: f64,
    /// Temperature of the inner face, °C.
    pub inner_face_c: f64,
    /// Relative humidity at the inner face, 0 to 1.
    pub inner_face_humidity: f64,
    /// Carbon dioxide taken up since the start, mol/m².
    pub carbon_mol_m2: f64,
    /// Depth taken up: carbon dioxide taken up over the portlandite at the start in the outermost layer that has any, m.
    pub uptake_m: f64,
    /// Depth of the front (portlandite below half), m.
    pub front_m: f64,
}

impl Books {
    /// The books of a column as they stand.
    pub(super) fn of(column: &Column<1>) -> Self {
        let Balance { water, carbon, energy } = column.balance(0);
        Self {
            water_residual_kg_m2: water.residual,
            water_moved_kg_m2: water.moved,
            carbon_residual_mol_m2: carbon.residual,
            carbon_moved_mol_m2: carbon.moved,
            energy_residual_j_m2: energy.residual,
            energy_moved_j_m2: energy.moved,
        }
    }
}

impl TrialResult {
    /// Remarks behind #, profiles, a blank line, totals: two tables of comma-separated values with a heading each. Numbers carry seven digits.
    pub fn to_csv(&self) -> String {
        let mut text = self.remarks();
        text.push_str("time_s,depth_m,layer,temperature_c,humidity,vapour_pa,water_kg_m3,suction_pa,portlandite_share");
        let freezes = self.profiles.iter().flat_map(|profile| &profile.points).any(|point| point.ice_kg_m3.is_some());
        text.push_str(if freezes { ",ice_kg_m3\n" } else { "\n" });
        for profile in &self.profiles {
            for point in &profile.points {
                let mut numbers = vec![
                    point.temperature_c,
                    point.humidity,
                    point.vapour_pa,
                    point.water_kg_m3,
                    point.suction_pa,
                    point.portlandite_share,
                ];
                numbers.extend(point.ice_kg_m3);
                let _ = writeln!(text, "{},{},{},{}", profile.time_s, point.depth_m, point.layer, joined(&numbers));
            }
        }
        text.push('\n');
        text.push_str(Totals::HEADING);
        text.push('\n');
        for totals in &self.totals {
            let _ = writeln!(text, "{},{}", totals.time_s, joined(&totals.numbers()));
        }
        text
    }

    /// What it is, how far the tables lie from the functions, and how the books close.
    fn remarks(&self) -> String {
        let one_line = |words: &str| words.split_whitespace().collect::<Vec<_>>().join(" ");
        let mut text = format!("# {}\n# Source: {}\n", one_line(&self.title), one_line(&self.source));
        for LayerTableError { layer, water, potential, vapour, heat_conductivity } in &self.table_errors {
            let layer = one_line(layer);
            let _ = writeln!(
                text,
                "# Greatest error of the tables of {layer}: water {water:.1e}, liquid {potential:.1e}, vapour {vapour:.1e}, \
                 heat conductivity {heat_conductivity:.1e}"
            );
        }
        let books = &self.books;
        let _ = writeln!(
            text,
            "# {} cells, {} steps. Not accounted for at the end: water {:.1e} of {:.1e} kg/m2 moved, carbon {:.1e} of {:.1e} mol/m2, \
             energy {:.1e} of {:.1e} J/m2",
            self.cells,
            self.steps,
            books.water_residual_kg_m2,
            books.water_moved_kg_m2,
            books.carbon_residual_mol_m2,
            books.carbon_moved_mol_m2,
            books.energy_residual_j_m2,
            books.energy_moved_j_m2
        );
        text
    }

    /// The whole result as JSON.
    ///
    /// # Errors
    /// Never for a result that was run: its numbers are finite.
    pub fn to_json(&self) -> Result<String, serde_json::Error> {
        serde_json::to_string_pretty(self)
    }
}

impl Totals {
    const HEADING: &str = "time_s,water_kg_m2,outer_water_kg_m2,outer_liquid_kg_m2,run_off_kg_m2,inner_water_kg_m2,outer_flow_kg_m2s,\
        inner_flow_kg_m2s,outer_face_c,outer_face_humidity,inner_face_c,inner_face_humidity,carbon_mol_m2,uptake_m,front_m";

    fn numbers(&self) -> [f64; 14] {
        [
            self.water_kg_m2,
            self.outer_water_kg_m2,
            self.outer_liquid_kg_m2,
            self.run_off_kg_m2,
            self.inner_water_kg_m2,
            self.outer_flow_kg_m2s,
            self.inner_flow_kg_m2s,
            self.outer_face_c,
            self.outer_face_humidity,
            self.inner_face_c,
            self.inner_face_humidity,
            self.carbon_mol_m2,
            self.uptake_m,
            self.front_m,
        ]
    }
}

fn joined(numbers: &[f64]) -> String {
    numbers.iter().map(|number| seven_digits(*number)).collect::<Vec<_>>().join(",")
}

/// Seven significant digits, plain where that is readable and with an exponent where it is not.
fn seven_digits(number: f64) -> String {
    let size = number.abs();
    if size == 0.0 {
        "0".to_owned()
    } else if (1e-3..1e7).contains(&size) {
        let whole_digits = if size >= 1.0 { format!("{size:.0}").len() } else { 0 };
        format!("{number:.*}", 7_usize.saturating_sub(whole_digits))
    } else {
        format!("{number:.6e}")
    }
}

#[cfg(test)]
mod tests {
    use super::seven_digits;

    #[test]
    fn numbers_are_written_with_seven_digits() {
        let written: Vec<String> =
            [0.0, 1.0, -20.157_812_34, 1_234_567.8, 0.012_345_678, 1.234_567_89e-9].into_iter().map(seven_digits).collect();
        assert_eq!(written, ["0", "1.000000", "-20.15781", "1234568", "0.0123457", "1.234568e-9"]);
    }
}
