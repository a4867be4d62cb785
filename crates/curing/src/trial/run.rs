//! The run of a trial: its layers and faces put into the kernel's words, its clock stepped, and what was asked for taken down.

use std::sync::Arc;

use physics::air::saturation_pa;
use physics::numbers::ln;

use super::data::{AirRow, CarbonDiffusion, Start, StartPoint, Trial, TrialFace, TrialLayer, TrialLime, Wetness};
use super::material::{LayerTableError, tables};
use super::result::{Books, Totals, TrialResult};
use super::{grid, report};
use crate::kernel::{Carbonation, Column, FaceCondition, PoreLaw, Settings};
use crate::material::suction_of_humidity_pa;
use crate::{CuringError, Layer, MaterialTables};

/// Film coefficient that stands for no film, m/s.
const NO_FILM_M_S: f64 = 1e12;
/// Last changes of ln(suction) and of temperature (K) at which a step counts as solved; the error left is of the order of their squares.
const TOLERANCE: f64 = 1e-4;
/// Most cells times steps of a trial: some minutes of one processor.
const MOST_CELL_STEPS: f64 = 5e9;

/// Runs a trial.
///
/// # Errors
/// A layer, face or start that cannot be computed, or a step that does not converge.
pub fn run(trial: &Trial) -> Result<TrialResult, CuringError> {
    check(trial)?;
    let materials = materials(trial)?;
    let mut column = column(trial, &materials)?;
    check_work(trial, column.awake_cells(0))?;
    let mut result = TrialResult {
        title: trial.title.clone(),
        source: trial.source.clone(),
        cells: column.awake_cells(0),
        steps: 0,
        table_errors: trial.layers.iter().zip(&materials).map(|(layer, tables)| LayerTableError::new(layer, tables)).collect(),
        profiles: Vec::new(),
        totals: Vec::new(),
        books: Books::default(),
    };
    let mut clock = Stepper { trial, materials: &materials, now_s: 0.0, step_s: trial.clock.first_step_s, last: Flows::default() };
    for &time_s in &trial.clock.report_s {
        result.steps += clock.go(&mut column, time_s)?;
        result.profiles.push(report::profile(trial, &column, time_s));
        result.totals.push(totals(trial, &column, time_s, clock.last));
    }
    result.books = Books::of(&column);
    Ok(result)
}

/// Refuses what cannot be run, or would silently be run as something else.
fn check(trial: &Trial) -> Result<(), CuringError> {
    let clock = &trial.clock;
    let positive = |value: f64| value > 0.0 && value.is_finite();
    let times_rise = clock.report_s.windows(2).all(|pair| pair[0] < pair[1]);
    let temperatures = start_points(trial).iter().map(|point| point.temperature_k);
    let spread_k = temperatures.clone().fold(f64::MIN, f64::max) - temperatures.fold(f64::MAX, f64::min);
    let last_s = clock.report_s.last().copied().unwrap_or(0.0);
    let rules = [
        (!trial.layers.is_empty(), "the number of layers", trial.layers.len() as f64, "at least 1"),
        (!clock.report_s.is_empty(), "the number of times to report", clock.report_s.len() as f64, "at least 1"),
        (times_rise && last_s.is_finite(), "the last time to report, s,", last_s, "finite, and each time later than the one before"),
        (positive(clock.first_step_s), "the first step, s,", clock.first_step_s, "above 0"),
        (clock.longest_step_s >= clock.first_step_s, "the longest step, s,", clock.longest_step_s, "at least the first step"),
        (clock.step_growth >= 1.0, "the growth of the steps", clock.step_growth, "at least 1"),
        (
            trial.switches.heat || spread_k == 0.0,
            "the spread of temperature at the start, K,",
            spread_k,
            "0 where heat is switched off, since the column then keeps one temperature",
        ),
    ];
    match rules.into_iter().find(|(holds, ..)| !holds) {
        None => Ok(()),
        Some((_, what, found, allowed)) => Err(refusal(what, found, allowed, "Change it in the trial.")),
    }
}

fn refusal(what: &str, found: f64, allowed: &str, remedy: &str) -> CuringError {
    let (place, what) = ("The trial".to_owned(), what.to_owned());
    CuringError::OutOfRange { place, what, found, allowed: allowed.to_owned(), remedy: remedy.to_owned() }
}

/// Refuses a run that would not end in a sensible time.
fn check_work(trial: &Trial, cells: usize) -> Result<(), CuringError> {
    let clock = &trial.clock;
    let last_s = clock.report_s.last().copied().unwrap_or(0.0);
    let changes = [&trial.outer, &trial.inner].map(|face| match face {
        TrialFace::Air(rows) => rows.partition_point(|row| row.from_s < last_s),
        _ => 1,
    });
    let growing = if clock.step_growth > 1.0 { ln(clock.longest_step_s / clock.first_step_s) / ln(clock.step_growth) } else { 0.0 };
    let longest_s = if clock.step_growth > 1.0 { clock.longest_step_s } else { clock.first_step_s };
    let starts = changes.iter().sum::<usize>() as f64;
    let work = cells as f64 * (last_s / longest_s + growing.max(1.0) * starts);
    if work <= MOST_CELL_STEPS {
        return Ok(());
    }
    let remedy = "Lengthen the steps, let them grow, or use fewer cells.";
    Err(refusal("the number of cells times steps", work, &format!("at most {MOST_CELL_STEPS:e}"), remedy))
}

fn materials(trial: &Trial) -> Result<Vec<Arc<MaterialTables>>, CuringError> {
    trial.layers.iter().map(|layer| tables(layer, trial.switches.moisture).map(Arc::new)).collect()
}

/// Builds the column, which the kernel orders from the inside out, and sets its start.
fn column(trial: &Trial, materials: &[Arc<MaterialTables>]) -> Result<Column<1>, CuringError> {
    let mut layers = Vec::new();
    let mut cells = 0;
    for (layer, material) in trial.layers.iter().zip(materials).rev() {
        let mut widths_m = grid::cells_m(layer)?;
        widths_m.reverse();
        cells += widths_m.len();
        grid::check_count(cells)?;
        let lime = layer.lime.filter(|_| trial.switches.reaction);
        layers.push(Layer { material: material.clone(), widths_m, carbonation: lime.map(carbonation) });
    }
    let latent = trial.switches.latent_heat && trial.switches.heat && trial.switches.moisture;
    let settings = Settings {
        latent_j_kg: if latent { trial.latent_j_kg } else { 0.0 },
        tolerance_y: TOLERANCE,
        tolerance_k: TOLERANCE,
        freezing: trial.switches.freezing,
        shortest_step_s: trial.clock.first_step_s * 1e-3,
        ..Settings::default()
    };
    let count = layers.len();
    let mut column = Column::new(layers, count, settings)?;
    for index in 0..count {
        let outside_in = count - 1 - index;
        let centres: Vec<f64> = column.layer_cells(0, index).map(|cell| cell.depth_m).collect();
        for (cell, depth_m) in centres.into_iter().enumerate() {
            let point = at_depth(trial, depth_m);
            let suction_pa = suction(&trial.layers[outside_in], &materials[outside_in], point.wetness, point.temperature_k)?;
            column.set_cell(0, index, cell, point.temperature_k, suction_pa);
        }
    }
    column.settle(0);
    Ok(column)
}

fn carbonation(lime: TrialLime) -> Carbonation {
    let (porosity, pores) = match lime.diffusion {
        CarbonDiffusion::Constant(diffusivity) => (0.3, PoreLaw::Constant(diffusivity)),
        CarbonDiffusion::PoreLaw { porosity, factor, porosity_exponent, air_exponent } => {
            (porosity, PoreLaw::Power { factor, porosity: porosity_exponent, air: air_exponent })
        }
    };
    Carbonation {
        portlandite_mol_m3: lime.portlandite_mol_m3,
        porosity,
        pores,
        rate_per_s: lime.rate_per_s,
        activation_j_mol: lime.activation_j_mol,
        humidity_ramp: if lime.needs_film { (0.3, 0.6) } else { (0.0, 0.0) },
        film_saturation: if lime.needs_film { 0.05 } else { 0.0 },
        narrows: lime.narrows,
        feeds_back: lime.feeds_back,
    }
}

fn start_points(trial: &Trial) -> &[StartPoint] {
    match &trial.start {
        Start::Uniform(point) => std::slice::from_ref(point),
        Start::Profile(points) => points,
    }
}

/// The start at a depth, between the points given.
fn at_depth(trial: &Trial, depth_m: f64) -> StartPoint {
    let points = start_points(trial);
    let deeper = points.partition_point(|point| point.depth_m <= depth_m);
    match (deeper.checked_sub(1).map(|above| points[above]), points.get(deeper)) {
        (Some(low), Some(high)) => {
            let share = (depth_m - low.depth_m) / (high.depth_m - low.depth_m);
            let between = |a: f64, b: f64| a + share * (b - a);
            let wetness = match (low.wetness, high.wetness) {
                (Wetness::Humidity(a), Wetness::Humidity(b)) => Wetness::Humidity(between(a, b)),
                (Wetness::Water(a), Wetness::Water(b)) => Wetness::Water(between(a, b)),
                (Wetness::Suction(a), Wetness::Suction(b)) => Wetness::Suction(between(a, b)),
                (as_given, _) => as_given,
            };
            StartPoint { depth_m, wetness, temperature_k: between(low.temperature_k, high.temperature_k) }
        }
        (Some(end), None) => end,
        (None, Some(end)) => *end,
        (None, None) => StartPoint { depth_m, wetness: Wetness::Humidity(0.5), temperature_k: 293.15 },
    }
}

/// Suction of a state of moisture in a layer, Pa.
fn suction(layer: &TrialLayer, material: &MaterialTables, wetness: Wetness, temperature_k: f64) -> Result<f64, CuringError> {
    match wetness {
        Wetness::Humidity(humidity) => Ok(suction_of_humidity_pa(humidity, temperature_k).max(1.0)),
        Wetness::Suction(suction_pa) => Ok(suction_pa.max(1.0)),
        Wetness::Water(water) if water <= material.saturation_kg_m3() => Ok(material.suction_pa(water)),
        Wetness::Water(water) => Err(CuringError::OutOfRange {
            place: format!("Layer “{}”", layer.name),
            what: "the water at the start or at its face, kg/m³,".to_owned(),
            found: water,
            allowed: format!("at most what it holds without suction, {:.3}", material.saturation_kg_m3()),
            remedy: "Give less water, or suction_pa = 0 for a full layer.".to_owned(),
        }),
    }
}

/// Flows through the faces in the last step, kg/(m² s), inwards.
#[derive(Clone, Copy, Default)]
struct Flows {
    outer: f64,
    inner: f64,
}

/// Takes the column from time to time in steps that grow, and start small again where the air changes.
struct Stepper<'t> {
    trial: &'t Trial,
    materials: &'t [Arc<MaterialTables>],
    now_s: f64,
    step_s: f64,
    last: Flows,
}

impl Stepper<'_> {
    /// Goes to a time; gives the number of steps.
    fn go(&mut self, column: &mut Column<1>, until_s: f64) -> Result<u64, CuringError> {
        let mut steps = 0;
        while self.now_s < until_s {
            let change_s = self.next_change_s();
            let stop_s = until_s.min(change_s);
            let (inner, outer) = (self.condition(false)?, self.condition(true)?);
            let left_s = stop_s - self.now_s;
            let parts = (left_s / self.step_s - 1e-9).ceil().max(1.0);
            let step_s = left_s / parts;
            let before = *column.books(0);
            if let [Some(lost)] = column.advance(&[true], step_s, &[step_s], &[inner], &[outer]) {
                let (hour, depth_mm) = ((self.now_s / 3600.0) as usize, lost.depth_m * 1000.0);
                return Err(CuringError::NotConverged { hour, depth_mm, step_s: lost.step_s });
            }
            let after = column.books(0);
            let came = |books: &crate::kernel::Books| books.absorbed_kg_m2 - books.evaporated_kg_m2;
            self.last = Flows { outer: (came(after) - came(&before)) / step_s, inner: (before.inner_kg_m2 - after.inner_kg_m2) / step_s };
            steps += 1;
            self.now_s = if parts == 1.0 { stop_s } else { self.now_s + step_s };
            self.step_s = (self.step_s * self.trial.clock.step_growth).min(self.trial.clock.longest_step_s);
            if self.now_s == change_s {
                self.step_s = self.trial.clock.first_step_s;
            }
        }
        Ok(steps)
    }

    /// When the air before either face next changes, s.
    fn next_change_s(&self) -> f64 {
        let next = |face: &TrialFace| match face {
            TrialFace::Air(rows) => rows.get(rows.partition_point(|row| row.from_s <= self.now_s)).map_or(f64::INFINITY, |row| row.from_s),
            _ => f64::INFINITY,
        };
        next(&self.trial.outer).min(next(&self.trial.inner))
    }

    /// What stands before a face now.
    fn condition(&self, is_outer: bool) -> Result<FaceCondition, CuringError> {
        let trial = self.trial;
        let face = if is_outer { &trial.outer } else { &trial.inner };
        let end = if is_outer { 0 } else { trial.layers.len().saturating_sub(1) };
        let depth_m = if is_outer { 0.0 } else { f64::INFINITY };
        let start_k = at_depth(trial, depth_m).temperature_k;
        let mut condition = match face {
            TrialFace::Sealed => FaceCondition::sealed(),
            TrialFace::FreeWater { temperature_k } => FaceCondition::free_water(*temperature_k),
            TrialFace::Fixed { wetness, temperature_k } => {
                let held =
                    wetness.map(|wetness| suction(&trial.layers[end], &self.materials[end], wetness, temperature_k.unwrap_or(start_k)));
                FaceCondition { held_k: *temperature_k, held_suction_pa: held.transpose()?, ..FaceCondition::sealed() }
            }
            TrialFace::Air(rows) => self.air(rows, is_outer),
        };
        if !trial.switches.heat {
            condition.held_k = Some(start_k);
        }
        if !trial.switches.moisture {
            (condition.held_suction_pa, condition.vapour_s_m, condition.rain_kg_m2s) = (None, 0.0, 0.0);
        }
        if let Some(carbon) = trial.carbonation.filter(|_| is_outer && trial.switches.reaction) {
            condition.co2_mol_m3 = carbon.air_mol_m3;
            condition.co2_m_s = carbon.film_m_s.unwrap_or(NO_FILM_M_S);
        }
        Ok(condition)
    }

    fn air(&self, rows: &[AirRow], is_outer: bool) -> FaceCondition {
        let now = rows.partition_point(|row| row.from_s <= self.now_s).saturating_sub(1);
        let Some(row) = rows.get(now) else { return FaceCondition::sealed() };
        let mut condition = FaceCondition::film(row.air_k, row.vapour_pa, row.heat_w_m2k, row.vapour_s_m);
        (condition.absorbed_w_m2, condition.rain_k) = (row.absorbed_w_m2, row.rain_k);
        condition.rain_kg_m2s = if self.trial.switches.rain && is_outer { row.rain_kg_m2s } else { 0.0 };
        if let Some(longwave) = row.longwave {
            (condition.emissivity, condition.longwave_w_m2) = (longwave.emissivity, longwave.falling_w_m2);
        }
        condition
    }
}

fn totals(trial: &Trial, column: &Column<1>, time_s: f64, flows: Flows) -> Totals {
    let books = column.books(0);
    let (outer, inner) = (column.outer_face(0), column.inner_face(0));
    let limed = trial.layers.iter().find_map(|layer| layer.lime).filter(|_| trial.switches.reaction);
    Totals {
        time_s,
        water_kg_m2: column.contents(0).water_kg_m2,
        outer_water_kg_m2: books.absorbed_kg_m2 - books.evaporated_kg_m2,
        outer_liquid_kg_m2: books.absorbed_kg_m2,
        run_off_kg_m2: books.run_off_kg_m2,
        inner_water_kg_m2: -books.inner_kg_m2,
        outer_flow_kg_m2s: flows.outer,
        inner_flow_kg_m2s: flows.inner,
        outer_face_c: outer.temperature_k - 273.15,
        outer_face_humidity: outer.humidity,
        inner_face_c: inner.temperature_k - 273.15,
        inner_face_humidity: inner.humidity,
        carbon_mol_m2: books.taken_up_mol_m2,
        uptake_m: limed.map_or(0.0, |lime| books.taken_up_mol_m2 / lime.portlandite_mol_m3),
        front_m: report::front_m(trial, column),
    }
}

/// Vapour pressure in pores, Pa.
pub(super) fn vapour_pa(humidity: f64, temperature_k: f64) -> f64 {
    humidity * saturation_pa(temperature_k)
}
