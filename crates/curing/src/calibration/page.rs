//! The pages that `cargo xtask calibrate` writes: what calibration rests on, and days to ready. It must never say a figure that was not just computed, the
//! record of what was looked for excepted.

use std::fmt::Write as _;

use super::data::{BAND_DAYS, BANDS, READING_DAYS, RULES, Use};
use super::days::{AIR_C, HUMIDITY, LETTERS, Table, tables};
use super::fit::{Fit, fit, named};
use super::slab::{OUTDOOR_CO2_FRACTION, depths_mm, inside, law};
use super::{CalibrationError, RATES};
use crate::kernel::{Carbonation, PoreLaw};

const SEARCH: &str = include_str!("searched.md");

/// The page of the fit: its data, the fit, its profile, its residuals, and what the bands say.
///
/// # Errors
/// As [`fit`].
pub fn calibration() -> Result<String, CalibrationError> {
    let fit = fit()?;
    let mut page = String::from(
        "# What the dates rest on\n\n\
         Printed by `cargo xtask calibrate`; a test holds that the constants here are those of the fit. Nothing here is a measurement made for this\n\
         program. What each threshold rests on, fitted or not, stands in `crates/curing/src/calibration.rs`.\n\n",
    );
    data(&mut page);
    fitted(&mut page, &fit);
    residuals(&mut page, &fit);
    bands(&mut page)?;
    page.push_str(SEARCH);
    Ok(page)
}

fn data(page: &mut String) {
    page.push_str(
        "## The data\n\n\
         Two rules of the trade (common practice, no source), asked of a 3.5 mm scud of lime putty 1:1 on half a metre of dry sandstone and of granite, in\n\
         still, shaded weather with 2 m/s of wind, the rule of least age switched off so that it can fail. One threshold, one datum.\n\n\
         | weather | care | days | used |\n| --- | --- | --- | --- |\n",
    );
    for rule in RULES {
        let used = if rule.used == Use::Fitted { "fitted" } else { "predicted" };
        let _ = writeln!(
            page,
            "| {:.0} °C, {:.0} % | {} | {:.0} | {used} |",
            rule.still.air_c,
            100.0 * rule.still.humidity,
            rule.care.words(),
            rule.days
        );
    }
    page.push('\n');
}

fn fitted(page: &mut String, fit: &Fit) {
    let _ = write!(
        page,
        "## The fit\n\n\
         Depth of uptake of the least misfit: **{:.2} mm**; used, to the twentieth of a millimetre: **{:.2} mm**. The rule reads as spoken (within {READING_DAYS} day on\n\
         both walls) from {:.2} to {:.2} mm. A tenth of a millimetre moves the tended mild week by {:.1} days.\n\n\
         How the misfit changes along the threshold (days on sandstone and granite; root mean square against the rule):\n\n\
         | asked, mm | tended mild | tended cold | bare mild | bare cold | misfit of the week (fitted) | misfit of the fortnight (predicted) |\n\
         | --- | --- | --- | --- | --- | --- | --- |\n",
        1000.0 * fit.best_m,
        1000.0 * fit.used_m,
        1000.0 * fit.reads_m.0,
        1000.0 * fit.reads_m.1,
        fit.swing_days
    );
    for row in &fit.profile {
        let pairs: Vec<String> =
            row.days.chunks(2).map(|pair| pair.iter().map(|days| figure(*days)).collect::<Vec<_>>().join(" and ")).collect();
        let _ =
            writeln!(page, "| {:.1} | {} | {:.1} | {:.1} |", 1000.0 * row.uptake_m, pairs.join(" | "), row.fitted_rms, row.predicted_rms);
    }
    page.push('\n');
}

fn residuals(page: &mut String, fit: &Fit) {
    page.push_str(
        "## Residuals\n\n| weather | care | wall | days | rule | residual | set by |\n| --- | --- | --- | --- | --- | --- | --- |\n",
    );
    for residual in &fit.residuals {
        let (rule, off) = (residual.rule, residual.days());
        let _ = writeln!(
            page,
            "| {:.0} °C, {:.0} % | {} | {} | {} | {:.0} | {}{} | {} |",
            rule.still.air_c,
            100.0 * rule.still.humidity,
            rule.care.words(),
            residual.wall,
            figure(residual.wait.days),
            rule.days,
            off.map_or_else(|| "not ready".to_owned(), |off| format!("{off:+.1}")),
            if rule.used == Use::Fitted { ", fitted" } else { ", predicted" },
            named(residual.wait.decides)
        );
    }
    page.push_str(
        "\nBare coats are ready sooner by any measure of uptake, so the rules come out for tended coats only; for bare ones this is a miss, and it is why the\n\
         least age always stands.\n\n",
    );
}

/// Factors on the rate and on the pore law for which the depths are shown.
const RATE_FACTORS: [f64; 3] = [1.0 / 3.0, 1.0, 10.0 / 3.0];
const PORE_FACTORS: [f64; 3] = [0.5, 1.0, 2.0];

fn bands(page: &mut String) -> Result<(), CalibrationError> {
    page.push_str(
        "## Depths against recollected bands\n\n\
         Depth at which half the lime is turned, mm, in a 50 mm slab of 1:3 air lime, placed wet, one face open. In brackets the bands: **recollected priors of\n\
         about ±50 %, from memory**, not data, and nothing is fitted to them.\n\n\
         | climate | 7 d | 14 d | 28 d | 90 d | 365 d |\n| --- | --- | --- | --- | --- | --- |\n",
    );
    for band in &BANDS {
        let found = depths_mm(band.still, law(), OUTDOOR_CO2_FRACTION)?;
        let _ = write!(page, "| {:.0} °C, {:.0} % |", band.still.air_c, 100.0 * band.still.humidity);
        for (depth, (low, high)) in found.iter().zip(band.mm) {
            let band = if low.is_finite() { format!("{low} to {high}") } else { "stops".to_owned() };
            let _ = write!(page, " {depth:.1} ({band}) |");
        }
        page.push('\n');
    }
    let _ = write!(
        page,
        "\nDepths inside their band, by factors on the two constants that were chosen by eye with the bands in view (rate {} 1/s, pore law of\n\
         Thiery), of {} judged:\n\n| | pore law × 0.5 | × 1 | × 2 |\n| --- | --- | --- | --- |\n",
        RATES.rate_per_s,
        BAND_DAYS.len() * BANDS.len() - 1
    );
    for rate in RATE_FACTORS {
        let _ = write!(page, "| rate {:.0} 1/s |", RATES.rate_per_s * rate);
        for pores in PORE_FACTORS {
            let mut hits = 0;
            for band in &BANDS {
                hits += inside(&depths_mm(band.still, scaled(rate, pores), OUTDOOR_CO2_FRACTION)?, band).0;
            }
            let _ = write!(page, " {hits} |");
        }
        page.push('\n');
    }
    page.push('\n');
    Ok(())
}

fn scaled(rate: f64, pores: f64) -> Carbonation {
    let law = law();
    let scaled = match law.pores {
        PoreLaw::Power { factor, porosity, air } => PoreLaw::Power { factor: factor * pores, porosity, air },
        PoreLaw::Constant(diffusivity) => PoreLaw::Constant(diffusivity * pores),
    };
    Carbonation { rate_per_s: law.rate_per_s * rate, pores: scaled, ..law }
}

fn figure(days: Option<f64>) -> String {
    days.map_or_else(|| "–".to_owned(), |days| format!("{days:.1}"))
}

/// The page of days to ready.
///
/// # Errors
/// As [`tables`].
pub fn days_to_ready() -> Result<String, CalibrationError> {
    let mut page = String::from(
        "# Days to ready\n\n\
         Printed by `cargo xtask calibrate`: computed here, and good for comparing, not for dates. A coat on half a metre of dry red sandstone, unheated\n\
         behind, in weather that stands still: shaded, dry, 2 m/s of wind. *Tended* is behind damp hessian, soaked every eight hours for three days and left\n\
         hanging. Temperature limits of the throw are left out. Before the next coat make the test on the wall: the nail, then phenolphthalein on a\n\
         broken edge.\n\nEach cell: days from the throw, and what sets them; – where the coat is not ready in 120 days.\n\n",
    );
    for (letter, meaning) in LETTERS {
        let _ = writeln!(page, "- **{letter}** {meaning}");
    }
    let mut lime = String::new();
    for table in tables()? {
        if table.lime.0 != lime {
            lime.clone_from(&table.lime.0);
            let _ = write!(page, "\n## {} (`{lime}`)\n", table.lime.1);
        }
        print(&mut page, &table);
    }
    Ok(page)
}

fn print(page: &mut String, table: &Table) {
    let care = if table.care == super::data::Care::Bare { "bare" } else { "tended" };
    let _ = write!(page, "\n### {}, {care}\n\n| |", table.coat);
    for humidity in HUMIDITY {
        let _ = write!(page, " {:.0} % |", 100.0 * humidity);
    }
    page.push_str("\n| --- |");
    page.push_str(&" --- |".repeat(HUMIDITY.len()));
    for (air_c, row) in AIR_C.iter().zip(&table.cells) {
        let _ = write!(page, "\n| {air_c:.0} °C |");
        for cell in row {
            let _ = write!(page, " {} |", cell.words());
        }
    }
    page.push('\n');
}
