//! The one fit: the depth of uptake asked of a coat, set to the tended week; its profile, and the residual of every rule, fitted or predicted. It must
//! never choose the datum: that stands in `data`.

use materials::Catalogue;

use super::CalibrationError;
use super::data::{READING_DAYS, RULES, Rule, Use, scud, walls};
use super::watch::{MOST_ASKED_M, Wait, Watch, watch};
use crate::Criterion;

/// Depths that are tried, m: from the first, by the step, to the deepest a watch can tell.
const FIRST_M: f64 = 0.5e-3;
const STEP_M: f64 = 0.01e-3;
/// The threshold is given to this, m: finer than this the datum does not tell.
const ROUND_M: f64 = 0.05e-3;

/// A rule on one wall, watched.
#[derive(Clone, Debug)]
struct Case {
    rule: Rule,
    wall: &'static str,
    watch: Watch,
}

/// What a depth gives.
#[derive(Clone, Debug)]
pub struct Row {
    /// Depth asked for, m.
    pub uptake_m: f64,
    /// Days to ready by rule (in the order of [`RULES`]) and wall.
    pub days: Vec<Option<f64>>,
    /// Root mean square of days less the rule, over the fitted rule.
    pub fitted_rms: f64,
    /// The same over the tended rule that is predicted.
    pub predicted_rms: f64,
}

/// A rule, what the model gives for it, and how far off that is.
#[derive(Clone, Copy, Debug)]
pub struct Residual {
    /// The rule.
    pub rule: Rule,
    /// The wall.
    pub wall: &'static str,
    /// The wait.
    pub wait: Wait,
}

impl Residual {
    /// Days less the rule.
    pub fn days(&self) -> Option<f64> {
        self.wait.days.map(|days| days - self.rule.days)
    }
}

/// The fit.
#[derive(Clone, Debug)]
pub struct Fit {
    /// Depth of the least misfit, m.
    pub best_m: f64,
    /// That depth as it is used, to the twentieth of a millimetre, m.
    pub used_m: f64,
    /// Depths for which every fitted wait reads as the rule is spoken, m.
    pub reads_m: (f64, f64),
    /// How the misfit changes along the threshold.
    pub profile: Vec<Row>,
    /// Every rule on every wall, at the depth used.
    pub residuals: Vec<Residual>,
    /// The waits on the two walls of each rule, in days for a tenth of a millimetre, at the depth used.
    pub swing_days: f64,
}

/// Fits the threshold.
///
/// # Errors
/// As [`watch`].
pub fn fit() -> Result<Fit, CalibrationError> {
    let cases = cases()?;
    let steps = ((MOST_ASKED_M - FIRST_M) / STEP_M) as usize;
    let all: Vec<Row> = (0..=steps).map(|step| row(&cases, FIRST_M + step as f64 * STEP_M)).collect();
    let least = all.iter().map(|row| row.fitted_rms).fold(f64::INFINITY, f64::min);
    let best_m = middle(all.iter().filter(|row| row.fitted_rms <= least + 1e-9));
    let reads = |row: &&Row| off(&cases, row, Use::Fitted).all(|off| off.abs() <= READING_DAYS);
    let (low, high) =
        all.iter().filter(reads).fold((f64::INFINITY, 0.0_f64), |(low, high), row| (low.min(row.uptake_m), high.max(row.uptake_m)));
    let used_m = (best_m / ROUND_M).round() * ROUND_M;
    let mean = |uptake_m: f64| {
        let row = row(&cases, uptake_m);
        let tended: Vec<f64> = off(&cases, &row, Use::Fitted).collect();
        tended.iter().sum::<f64>() / tended.len() as f64
    };
    Ok(Fit {
        best_m,
        used_m,
        reads_m: (low, high),
        profile: all.into_iter().step_by(10).collect(),
        residuals: cases.iter().map(|case| Residual { rule: case.rule, wall: case.wall, wait: case.watch.wait(used_m, false) }).collect(),
        swing_days: mean(used_m + 0.05e-3) - mean(used_m - 0.05e-3),
    })
}

fn cases() -> Result<Vec<Case>, CalibrationError> {
    let catalogue = Catalogue::shipped();
    let (walls, coat) = (walls(&catalogue)?, scud(&catalogue)?);
    let mut cases = Vec::new();
    for rule in RULES {
        for (name, wall) in &walls {
            cases.push(Case { rule, wall: name, watch: watch(&catalogue, wall, &coat, rule.still, rule.care)? });
        }
    }
    Ok(cases)
}

fn row(cases: &[Case], uptake_m: f64) -> Row {
    let days = cases.iter().map(|case| case.watch.wait(uptake_m, false).days).collect();
    let mut row = Row { uptake_m, days, fitted_rms: 0.0, predicted_rms: 0.0 };
    row.fitted_rms = rms(off(cases, &row, Use::Fitted));
    let tended =
        cases.iter().zip(&row.days).filter(|(case, _)| case.rule.used == Use::Predicted && case.rule.care == super::data::Care::Tended);
    row.predicted_rms = rms(tended.map(|(case, days)| days.map_or(f64::INFINITY, |days| days - case.rule.days)));
    row
}

/// Days less the rule, of the rules used so.
fn off<'a>(cases: &'a [Case], row: &'a Row, used: Use) -> impl Iterator<Item = f64> + 'a {
    let chosen = cases.iter().zip(&row.days).filter(move |(case, _)| case.rule.used == used);
    chosen.map(|(case, days)| days.map_or(f64::INFINITY, |days| days - case.rule.days))
}

fn rms(values: impl Iterator<Item = f64>) -> f64 {
    let (sum, count) = values.fold((0.0, 0), |(sum, count), value| (sum + value * value, count + 1));
    (sum / f64::from(count.max(1))).sqrt()
}

/// Middle of the depths of some rows.
fn middle<'a>(rows: impl Iterator<Item = &'a Row>) -> f64 {
    let (sum, count) = rows.fold((0.0, 0), |(sum, count), row| (sum + row.uptake_m, count + 1));
    sum / f64::from(count.max(1))
}

/// A rule's short name for a table.
pub fn named(decides: Criterion) -> &'static str {
    match decides {
        Criterion::Age => "age",
        Criterion::Firm => "firm",
        Criterion::Carbonated => "carbonated",
        Criterion::DampNotWet => "damp, not wet",
        Criterion::Sound => "sound",
        Criterion::ThermallyFit => "thermally fit",
    }
}
