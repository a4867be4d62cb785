//! Reads a trial file: one column with its layers, faces, clock and reports, entered by hand for study or for a published check.
//! It opens nothing itself: the files a trial names (an hourly table, a weather file) are asked of the caller.

mod face;
mod layer;
pub(crate) mod reader;
mod shipped;
mod weather_face;

use curing::trial::{AirCarbon, Clock, Start, StartPoint, Switches, Trial, Wetness};

use crate::problem::{Fault, Problem};
use reader::{Section, Wrong, from_to, read_whole};

/// Gives the text of a file that a trial names, or says why it cannot.
pub type Files<'f> = &'f dyn Fn(&str) -> Result<String, String>;

/// Zero degrees Celsius, K.
const ZERO_C_K: f64 = 273.15;

/// Reads a trial.
///
/// `name` is what the file is called in messages; `files` gives the text of files it names, by the name written in it.
///
/// # Errors
/// Every problem of the file at once, in order of place.
pub fn read(text: &str, name: &str, files: Files<'_>) -> Result<Trial, Vec<Problem>> {
    read_whole(text, name, "Put long tables into a CSV file beside the trial.", |root| whole(root, files))
}

fn whole(root: &Section<'_, '_>, files: Files<'_>) -> Option<Trial> {
    let title = root.needs_text("title", "Say in one line what is tried.");
    let source = root.needs_text("source", "Say where the numbers come from, or that they are invented.");
    let latent = root.number("latent_j_kg", from_to(1e6, 4e6)).unwrap_or(2.5e6);
    let clock = clock(root);
    let depths = depths(root);
    let layers = layer::read_all(root);
    let start = start(root);
    let outer = root.needs_section("outer", "Add [outer] with a kind.").and_then(|face| face::read(&face, files));
    let inner = root.needs_section("inner", "Add [inner] with a kind.").and_then(|face| face::read(&face, files));
    let carbonation = root.section("carbonation").and_then(|section| carbonation(&section));
    let switches = switches(root, carbonation.is_some());
    root.finish();
    let trial = Trial {
        title: title?.to_owned(),
        source: source?.to_owned(),
        layers: layers?,
        start: start?,
        outer: outer?,
        inner: inner?,
        carbonation,
        switches,
        clock: clock?,
        depths_m: depths,
        latent_j_kg: latent,
    };
    check_depths(root, &trial);
    check_lime(root, &trial);
    Some(trial)
}

fn clock(root: &Section<'_, '_>) -> Option<Clock> {
    let run = root.needs_section("run", "Add [run] with report_s, report_h or report_d.")?;
    let century_s = 100.0 * 365.25 * 86_400.0;
    let mut report_s = Vec::new();
    for (key, unit_s) in [("report_s", 1.0), ("report_h", 3600.0), ("report_d", 86_400.0)] {
        let times = run.numbers(key, from_to(0.0, century_s / unit_s)).unwrap_or_default();
        report_s.extend(times.into_iter().map(|time| time * unit_s));
    }
    report_s.sort_by(f64::total_cmp);
    report_s.dedup();
    if report_s.last().is_none_or(|last| *last <= 0.0) && !root.reader.any() {
        run.missing("report_h", "At least one time after the start must be given.", "Add, for example, report_h = [1, 24].");
    }
    let first_step_s = run.number("first_step_s", from_to(1e-6, 1e9)).unwrap_or(1.0);
    let longest_step_s = run.number("longest_step_s", from_to(1e-6, 1e9)).unwrap_or(3600.0);
    let step_growth = run.number("step_growth", from_to(1.0, 10.0)).unwrap_or(1.3);
    run.finish();
    Some(Clock { report_s, first_step_s: first_step_s.min(longest_step_s), longest_step_s, step_growth })
}

fn depths(root: &Section<'_, '_>) -> Vec<f64> {
    let Some(report) = root.section("report") else { return Vec::new() };
    let mut depths = report.numbers("depths_m", from_to(0.0, 1000.0)).unwrap_or_default();
    let millimetres = report.numbers("depths_mm", from_to(0.0, 1e6)).unwrap_or_default();
    depths.extend(millimetres.into_iter().map(|depth| depth / 1000.0));
    depths.sort_by(f64::total_cmp);
    depths.dedup();
    report.finish();
    depths
}

fn switches(root: &Section<'_, '_>, has_carbonation: bool) -> Switches {
    let Some(section) = root.section("switches") else {
        return Switches { heat: true, moisture: true, rain: true, latent_heat: true, freezing: false, reaction: has_carbonation };
    };
    let switches = Switches {
        heat: section.flag("heat", true),
        moisture: section.flag("moisture", true),
        rain: section.flag("rain", true),
        latent_heat: section.flag("latent_heat", true),
        freezing: section.flag("freezing", false),
        reaction: section.flag("reaction", has_carbonation),
    };
    if switches.reaction && !has_carbonation {
        section.contradicts(
            "reaction",
            "The reaction is switched on, but the trial has no [carbonation].",
            "A reaction needs carbon dioxide in front of the outer face.",
            "Add [carbonation] with air_ppm or air_mol_m3, or set reaction = false.",
        );
    }
    section.finish();
    switches
}

fn carbonation(section: &Section<'_, '_>) -> Option<AirCarbon> {
    let mol = section.number("air_mol_m3", from_to(1e-6, 50.0));
    let ppm = section.number("air_ppm", from_to(0.1, 1e6));
    let temperature_c = section.number("air_temperature_c", from_to(-60.0, 80.0)).unwrap_or(20.0);
    let film_m_s = section.number("film_m_s", from_to(1e-8, 10.0));
    section.finish();
    let air_mol_m3 = match (mol, ppm) {
        (Some(mol), None) => mol,
        (None, Some(ppm)) => ppm * 1e-6 * 101_325.0 / (8.314_462_618 * (temperature_c + ZERO_C_K)),
        _ => {
            one_of(section, "air_mol_m3", "air_ppm");
            return None;
        }
    };
    Some(AirCarbon { air_mol_m3, film_m_s })
}

fn start(root: &Section<'_, '_>) -> Option<Start> {
    let points = root.sections("start_profile");
    let uniform = root.section("start");
    match (uniform, points.is_empty()) {
        (Some(section), true) => {
            let point = state(&section);
            section.finish();
            let (wetness, temperature_k) = point?;
            Some(Start::Uniform(StartPoint { depth_m: 0.0, wetness, temperature_k }))
        }
        (None, false) => profile(root, &points),
        _ => {
            one_of(root, "start", "start_profile");
            None
        }
    }
}

fn profile(root: &Section<'_, '_>, sections: &[Section<'_, '_>]) -> Option<Start> {
    let points: Vec<Option<StartPoint>> = sections
        .iter()
        .map(|section| {
            let depth_m = section.needs_number("depth_m", from_to(0.0, 1000.0));
            let point = state(section);
            section.finish();
            let (wetness, temperature_k) = point?;
            Some(StartPoint { depth_m: depth_m?, wetness, temperature_k })
        })
        .collect();
    let points: Vec<StartPoint> = points.into_iter().collect::<Option<_>>()?;
    if points.windows(2).any(|pair| pair[1].depth_m <= pair[0].depth_m) {
        root.contradicts(
            "start_profile",
            "The points do not go inwards.",
            "Each must lie deeper than the one before.",
            "Order them by rising depth_m.",
        );
    }
    let kind = |point: &StartPoint| std::mem::discriminant(&point.wetness);
    if points.windows(2).any(|pair| kind(&pair[0]) != kind(&pair[1])) {
        root.contradicts(
            "start_profile",
            "The points give moisture in different ways.",
            "All points must use the same key.",
            "Use one of humidity, water_kg_m3 and suction_pa throughout.",
        );
    }
    Some(Start::Profile(points))
}

/// A state of moisture and temperature.
fn state(section: &Section<'_, '_>) -> Option<(Wetness, f64)> {
    let temperature_c = section.needs_number("temperature_c", from_to(-60.0, 120.0));
    let wetness = wetness(section);
    if wetness.is_none() && !section.has("humidity") && !section.has("water_kg_m3") && !section.has("suction_pa") {
        section.missing("humidity", "The moisture must be given.", "Add one of humidity (0 to 1), water_kg_m3 and suction_pa.");
    }
    Some((wetness?, temperature_c? + ZERO_C_K))
}

/// At most one of humidity, water and suction.
fn wetness(section: &Section<'_, '_>) -> Option<Wetness> {
    let humidity = section.number("humidity", from_to(1e-6, 1.0)).map(Wetness::Humidity);
    let water = section.number("water_kg_m3", from_to(1e-9, 2000.0)).map(Wetness::Water);
    let suction = section.number("suction_pa", from_to(0.0, 1e10)).map(Wetness::Suction);
    let given: Vec<Wetness> = [humidity, water, suction].into_iter().flatten().collect();
    if given.len() > 1 {
        section.contradicts(
            "humidity",
            "The moisture is given more than once.",
            "One of humidity, water_kg_m3 and suction_pa is enough.",
            "Keep one of them.",
        );
    }
    given.first().copied()
}

fn check_depths(root: &Section<'_, '_>, trial: &Trial) {
    let thickness_m: f64 = trial.layers.iter().map(|layer| layer.thickness_m).sum();
    if let Some(deep) = trial.depths_m.iter().find(|depth| **depth > thickness_m * (1.0 + 1e-12)) {
        root.contradicts(
            "report",
            format!("A depth of {deep} m is to be reported, but the column is {thickness_m} m thick."),
            "Depths are measured from the outer face inwards.",
            "Leave out those beyond the inner face.",
        );
    }
}

fn check_lime(root: &Section<'_, '_>, trial: &Trial) {
    if trial.switches.reaction && trial.carbonation.is_some() && trial.layers.iter().all(|layer| layer.lime.is_none()) {
        root.contradicts(
            "carbonation",
            "There is carbon dioxide to react, but no layer has lime.",
            "At least one layer must have lime.",
            "Add [layers.lime] to a layer, or set reaction = false under [switches].",
        );
    }
}

/// Says that exactly one of two keys must be given.
fn one_of(section: &Section<'_, '_>, first: &'static str, second: &'static str) {
    let both = section.has(first) && section.has(second);
    let found =
        if both { format!("`{first}` and `{second}` are both given.") } else { format!("Neither `{first}` nor `{second}` is there.") };
    let fault = if both { Fault::Contradiction } else { Fault::Missing };
    let remedy = if both { "Keep one of them." } else { "Add one of them." };
    section.refuse(first, Wrong::new(fault, found, format!("Exactly one of `{first}` and `{second}` is needed."), remedy));
}
