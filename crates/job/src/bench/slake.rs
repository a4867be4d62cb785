//! The slaking file: a bath of quicklime and water, the pace of adding, the slaking test, and the day the putty is to be thrown. It holds no procedure.

use jiff::ToSpan;
use jiff::civil::Date;
use materials::bench::{
    Bath, PaceAsked, Paced, Reactivity, Slaked, boil_limits, maturing_days, pace, reactivity_class, slake, time_constant_s,
};
use serde::Serialize;

use super::{pairs, read, tell};
use crate::problem::{Fault, Problem};
use crate::trial::reader::{Section, Wrong, from_to};

/// What the bench says of the file.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SlakeReport {
    /// Title of the file.
    pub title: String,
    /// Quicklime, kg.
    pub quicklime_kg: f64,
    /// Water, kg.
    pub water_kg: f64,
    /// Water that the lime binds, kg.
    pub bound_kg: f64,
    /// The balance without losses.
    pub slaked: Slaked,
    /// Water to a kilogram of quicklime below which the bath boils dry, and above which it never boils.
    pub boil_limits: (f64, f64),
    /// Class by the slaking test or as written.
    pub reactivity: Option<Reactivity>,
    /// Time constant of slaking, s.
    pub slaking_s: Option<f64>,
    /// The bath in time, if a pace was given.
    pub paced: Option<Paced>,
    /// Latest, usual and best day to slake for the throwing day.
    pub slake_on: Option<[Date; 3]>,
}

/// Reads a slaking file and works it.
///
/// # Errors
/// Every problem at once: of the text, of the fields, and of measurements that cannot be true.
pub fn read_slake(text: &str, name: &str) -> Result<SlakeReport, Vec<Problem>> {
    read(text, name, whole)
}

fn whole(root: &Section<'_, '_>) -> Option<SlakeReport> {
    let title = root.needs_text("title", "Say in one line what is slaked.");
    let bath_section = root.needs_section("bath", "Add [bath] with quicklime_kg, purity_percent, water_kg and start_c.");
    let bath = bath_section.as_ref().and_then(bath);
    let purity = bath.map_or(0.92, |bath| bath.purity);
    let test = root.section("test").map(|section| test(&section, purity));
    let throwing = throwing_day(root);
    let pace_section = root.section("pace");
    let asked = pace_section.as_ref().map(|section| pace_asked(section, bath));
    root.finish();
    let (bath_section, bath) = (bath_section?, bath?);
    let slaked = tell(&bath_section, slake(&bath));
    let limits = tell(&bath_section, boil_limits(bath.purity, bath.start_c));
    let (reactivity, slaking_s) = match test {
        Some(test) => test?,
        None => (None, None),
    };
    let paced = match (pace_section, asked) {
        (Some(section), Some(asked)) => {
            if slaking_s.is_none() {
                section.missing(
                    "test",
                    "A pace needs to know how fast the lime slakes.",
                    "Add [test] with class, or with minutes and reached_c.",
                );
            }
            Some(tell(&section, pace(&PaceAsked { slaking_s: slaking_s?, ..asked? }))?)
        }
        _ => None,
    };
    Some(SlakeReport {
        title: title?.to_owned(),
        quicklime_kg: bath.quicklime_kg,
        water_kg: bath.water_kg,
        bound_kg: bath.bound_kg(),
        slaked: slaked?,
        boil_limits: limits?,
        reactivity,
        slaking_s,
        paced,
        slake_on: throwing?,
    })
}

fn bath(section: &Section<'_, '_>) -> Option<Bath> {
    let quicklime_kg = section.needs_number("quicklime_kg", from_to(0.01, 100_000.0));
    let purity = section.number("purity_percent", from_to(30.0, 100.0)).unwrap_or(92.0) / 100.0;
    let water_kg = section.needs_number("water_kg", from_to(0.0, 1e6));
    let sand_kg = section.number("sand_kg", from_to(0.0, 1e6)).unwrap_or(0.0);
    let start_c = section.number("start_c", from_to(0.0, 60.0)).unwrap_or(15.0);
    section.finish();
    Some(Bath { quicklime_kg: quicklime_kg?, purity, water_kg: water_kg?, sand_kg, start_c })
}

/// The class and the time constant, from readings or from a class written.
fn test(section: &Section<'_, '_>, purity: f64) -> Option<(Option<Reactivity>, Option<f64>)> {
    const CLASSES: [(&str, Reactivity); 4] =
        [("R5", Reactivity::R5), ("R4", Reactivity::R4), ("R3", Reactivity::R3), ("R2", Reactivity::R2)];
    let written = section.choice("class", &CLASSES);
    let readings = pairs(section, ("minutes", 0.0, 1440.0), ("reached_c", 0.0, 110.0));
    if section.has("class") == section.has("minutes") {
        section.missing("class", "Either a class, or minutes with reached_c.", "Give one of the two.");
    }
    section.finish();
    if let Some(class) = written {
        let slaking_s = match class.limit() {
            Some((reached_c, minutes)) => Some(tell(section, time_constant_s(purity, reached_c, minutes))?),
            None => None,
        };
        return Some((Some(class), slaking_s));
    }
    let readings = readings?;
    let class = tell(section, reactivity_class(&readings))?;
    // The reading nearest to half the usual rise says most of the pace.
    let half = readings.iter().filter(|row| row.0 > 0.0).min_by(|a, b| (a.1 - 50.0).abs().total_cmp(&(b.1 - 50.0).abs()))?;
    let slaking_s = tell(section, time_constant_s(purity, half.1, half.0))?;
    Some((Some(class), Some(slaking_s)))
}

fn pace_asked(section: &Section<'_, '_>, bath: Option<Bath>) -> Option<PaceAsked> {
    let pace_kg_min = section.needs_number("kg_min", from_to(0.001, 10_000.0));
    let loss_w_k = section.number("loss_w_k", from_to(0.0, 1000.0)).unwrap_or(0.0);
    let air_c = section.number("air_c", from_to(-20.0, 50.0)).unwrap_or(15.0);
    let minutes = section.number("minutes", from_to(1.0, 1440.0)).unwrap_or(120.0);
    section.finish();
    Some(PaceAsked { bath: bath?, pace_kg_min: pace_kg_min?, slaking_s: 0.0, loss_w_k, air_c, minutes })
}

/// Latest, usual and best day to slake for putty that is first thrown on a day; `None` beyond the calendar.
pub fn slake_days(throwing: Date) -> Option<[Date; 3]> {
    let (least, usual, best) = maturing_days();
    let before = |days: u32| throwing.checked_sub(i64::from(days).days()).ok();
    Some([before(least)?, before(usual)?, before(best)?])
}

/// Days to slake on before the throwing day; `None` outside if the day will not do.
fn throwing_day(root: &Section<'_, '_>) -> Option<Option<[Date; 3]>> {
    let Some(text) = root.text("throwing_day") else { return (!root.has("throwing_day")).then_some(None) };
    match text.parse::<Date>().ok().and_then(slake_days) {
        Some(days) => Some(Some(days)),
        None => {
            let found = format!("`throwing_day` is “{text}”, not a day.");
            root.refuse(
                "throwing_day",
                Wrong::new(Fault::WrongKind, found, "It must be a day as \"2027-05-10\".", "Write year, month and day in quotes."),
            );
            None
        }
    }
}
