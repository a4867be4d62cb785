//! What an unsettled figure is worth measuring: the job planned again with the figure at its low and at its high end, and the difference in days and money.
//! A figure is unsettled when it carries a range. The same question on several walls counts once, all walls together. What a figure is called and how it
//! is asked comes from the job's own table of fields; this file must never hold a second list of labels or questions.
//!
//! To be quick, the job is run again in the middle weather year alone. Figures of labour keep each coat's days to ready as they were; figures of the wall and
//! its exposure step the engine again.

use materials::LimeKind;
use reckoning::{Known, Money};
use rust_decimal::Decimal;

use crate::{Asked, Inputs};

/// Which end of a range.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum End {
    Low,
    High,
}

/// What must be reckoned again when a figure changes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Reach {
    /// Money alone.
    Money,
    /// Days of work, quantities and money.
    Work,
    /// The curing too.
    Curing,
}

/// Sets the figures to an end of their range; what was taken and its range in words, or `None` when all are settled.
type Set = fn(&mut Inputs, End) -> Option<String>;

/// A figure, or a few that are settled by one look, whose answer may be unsettled.
pub(crate) struct Candidate {
    /// Fields of the job that settle it, the first naming it.
    pub(crate) fields: &'static [&'static str],
    pub(crate) reach: Reach,
    pub(crate) set: Set,
}

impl Candidate {
    /// Path of the field that names it.
    pub(crate) fn path(&self) -> &'static str {
        self.fields.first().copied().unwrap_or("")
    }

    /// True for an output of the gang.
    pub(crate) fn is_output(&self) -> bool {
        self.path().starts_with("rates.outputs.")
    }

    /// Label and question in the words of the job's table; the path where the table was not given.
    pub(crate) fn asked(&self, inputs: &Inputs) -> Asked {
        let found: Vec<&Asked> = self.fields.iter().filter_map(|field| inputs.questions.get(*field)).collect();
        if found.is_empty() {
            return Asked { label: self.path().to_owned(), question: String::new() };
        }
        let labels: Vec<&str> = found.iter().map(|asked| asked.label.as_str()).collect();
        let questions: Vec<&str> = found.iter().map(|asked| asked.question.as_str()).collect();
        let mut label = labels.join("; ");
        if let Some(first) = label.chars().next() {
            label.replace_range(..first.len_utf8(), &first.to_uppercase().to_string());
        }
        Asked { label, question: questions.join(" ") }
    }
}

/// Every field of the job whose settling may be swung, so that the table of fields can be held against it.
pub fn swing_paths() -> Vec<&'static str> {
    candidates().iter().flat_map(|candidate| candidate.fields.iter().copied()).collect()
}

/// Sets one figure to an end; says what it was and its range.
fn put<T: Clone>(known: &mut Known<T>, end: End, said: impl Fn(&T) -> String) -> Option<String> {
    let (low, high) = known.range.clone()?;
    let words = ranged(&said(&known.value), &said(&low), &said(&high));
    known.value = if end == End::Low { low } else { high };
    Some(words)
}

/// A figure and its range in words: numbers lie between their ends, words are one or the other.
fn ranged(value: &str, low: &str, high: &str) -> String {
    if low.starts_with(|first: char| first.is_ascii_digit()) {
        return format!("{value}, may be {low} to {high}");
    }
    let others: Vec<&str> = [low, high].into_iter().filter(|other| *other != value).collect();
    format!("{value}, may be {}", others.join(" or "))
}

/// Several figures that are one question: the words of all that are unsettled, each once.
fn all(words: impl IntoIterator<Item = Option<String>>) -> Option<String> {
    let mut said: Vec<String> = Vec::new();
    for words in words.into_iter().flatten() {
        if !said.contains(&words) {
            said.push(words);
        }
    }
    (!said.is_empty()).then(|| said.join("; "))
}

fn percent(share: &f64) -> String {
    format!("{:.0} %", share * 100.0)
}

fn money(amount: &Decimal) -> String {
    amount.normalize().to_string()
}

fn words<T: std::fmt::Debug>(value: &T) -> String {
    // The words of an enumeration are its name: "RoughRubble" is said "rough rubble".
    let mut said = String::new();
    for letter in format!("{value:?}").chars() {
        if letter.is_uppercase() && !said.is_empty() {
            said.push(' ');
        }
        said.extend(letter.to_lowercase());
    }
    said
}

fn a_day(output: &f64) -> String {
    format!("{output:.0} m² a gang-day")
}

/// Every question that may be unsettled.
pub(crate) fn candidates() -> Vec<Candidate> {
    let mut list = of_the_wall();
    list.extend(of_the_work());
    list.extend(of_the_allowances());
    list.extend(of_money());
    list.extend(of_materials());
    list
}

const fn one(fields: &'static [&'static str], reach: Reach, set: Set) -> Candidate {
    Candidate { fields, reach, set }
}

fn of_the_wall() -> Vec<Candidate> {
    let curing = |fields, set| one(fields, Reach::Curing, set);
    vec![
        curing(&["walls.*.touch_low", "walls.*.touch_middle", "walls.*.touch_high"], |inputs, end| {
            all(inputs.building.walls.iter_mut().flat_map(|wall| {
                let damp = &mut wall.dampness;
                [put(&mut damp.low, end, percent), put(&mut damp.middle, end, percent), put(&mut damp.high, end, percent)]
            }))
        }),
        curing(&["walls.*.evenness"], |inputs, end| {
            all(inputs.building.walls.iter_mut().map(|wall| match &mut wall.evenness {
                survey::Evenness::Class { class } => put(class, end, words),
                _ => None,
            }))
        }),
        curing(&["walls.*.inside"], |inputs, end| all(inputs.building.walls.iter_mut().map(|wall| put(&mut wall.inside, end, words)))),
        curing(&["walls.*.terrain", "walls.*.obstruction_m", "walls.*.overhang"], |inputs, end| {
            all(inputs.building.walls.iter_mut().flat_map(|wall| {
                let exposure = &mut wall.exposure;
                let far = |metres: &Option<f64>| metres.map_or("open".to_owned(), |metres| format!("{metres:.0} m"));
                let clear = |yes: &bool| if *yes { "water thrown clear" } else { "water not thrown clear" }.to_owned();
                [
                    put(&mut exposure.terrain, end, words),
                    put(&mut exposure.obstruction_m, end, far),
                    put(&mut exposure.overhang, end, clear),
                ]
            }))
        }),
        curing(&["walls.*.thickness_mm"], |inputs, end| {
            all(inputs.building.walls.iter_mut().map(|wall| put(&mut wall.thickness_m, end, |m| format!("{:.0} mm", m * 1000.0))))
        }),
        curing(&["walls.*.masonry"], |inputs, end| {
            all(inputs.building.walls.iter_mut().map(|wall| put(&mut wall.masonry, end, String::clone)))
        }),
        curing(&["system.cover"], |inputs, end| put(&mut inputs.system.cover, end, String::clone)),
    ]
}

fn of_the_work() -> Vec<Candidate> {
    let work = |fields, set| one(fields, Reach::Work, set);
    vec![
        work(&["rates.outputs.preparation_m2_per_day"], |inputs, end| put(&mut inputs.rates.outputs.preparation, end, a_day)),
        work(&["rates.outputs.scud_m2_per_day"], |inputs, end| put(&mut inputs.rates.outputs.scud, end, a_day)),
        work(&["rates.outputs.straightening_m2_per_day"], |inputs, end| put(&mut inputs.rates.outputs.straightening, end, a_day)),
        work(&["rates.outputs.ruling_m2_per_day"], |inputs, end| put(&mut inputs.rates.outputs.ruling, end, a_day)),
        work(&["rates.outputs.finish_m2_per_day"], |inputs, end| put(&mut inputs.rates.outputs.finish, end, a_day)),
        work(&["rates.outputs.limewash_m2_per_day"], |inputs, end| put(&mut inputs.rates.outputs.limewash, end, a_day)),
        work(&["rates.outputs.hessian_m2_per_day"], |inputs, end| put(&mut inputs.rates.outputs.hessian, end, a_day)),
        work(&["rates.outputs.reveals_m_per_day"], |inputs, end| {
            put(&mut inputs.rates.outputs.reveals_m, end, |metres| format!("{metres:.0} m a gang-day"))
        }),
        work(&["rates.outputs.tie_patches_per_day", "scaffold.m2_per_tie"], |inputs, end| {
            let patches = put(&mut inputs.rates.outputs.tie_patches, end, |patches| format!("{patches:.0} patches a gang-day"));
            all([patches, put(&mut inputs.scaffold.m2_per_tie, end, |m2| format!("a tie to {m2:.0} m²"))])
        }),
        work(&["scaffold.up_m2_per_day", "scaffold.adapt_m2_per_day", "scaffold.down_m2_per_day"], |inputs, end| {
            let scaffold = &mut inputs.scaffold;
            let a_day = |face: &f64| format!("{face:.0} m² of scaffold a day");
            all([&mut scaffold.up_m2_day, &mut scaffold.adapt_m2_day, &mut scaffold.down_m2_day].map(|output| put(output, end, a_day)))
        }),
        work(&["rates.outputs.take_off_cement_m2_per_day"], |inputs, end| put(&mut inputs.rates.outputs.take_off_cement, end, a_day)),
        work(&["rates.outputs.take_off_lime_harl_m2_per_day"], |inputs, end| put(&mut inputs.rates.outputs.take_off_lime_harl, end, a_day)),
        work(&["rates.outputs.take_off_paint_m2_per_day"], |inputs, end| put(&mut inputs.rates.outputs.take_off_paint, end, a_day)),
        work(&["system.straight_edge_m"], |inputs, end| put(&mut inputs.system.straight_edge_m, end, |metres| format!("{metres:.1} m"))),
    ]
}

fn of_the_allowances() -> Vec<Candidate> {
    let work = |fields, set| one(fields, Reach::Work, set);
    vec![
        work(&["allowances.rebound_thrown_percent"], |inputs, end| put(&mut inputs.allowances.rebound_thrown, end, percent)),
        work(&["allowances.rebound_scud_percent"], |inputs, end| put(&mut inputs.allowances.rebound_scud, end, percent)),
        work(&["allowances.waste_laid_percent"], |inputs, end| put(&mut inputs.allowances.waste_laid, end, percent)),
        work(&["allowances.waste_lime_percent"], |inputs, end| put(&mut inputs.allowances.waste_lime, end, percent)),
        work(&["allowances.waste_sand_percent"], |inputs, end| put(&mut inputs.allowances.waste_sand, end, percent)),
    ]
}

fn of_money() -> Vec<Candidate> {
    let rate = |fields, set| one(fields, Reach::Money, set);
    vec![
        rate(&["rates.mason_per_h"], |inputs, end| put(&mut inputs.rates.mason_h, end, money)),
        rate(&["rates.labourer_per_h"], |inputs, end| put(&mut inputs.rates.labourer_h, end, money)),
        rate(&["scaffold.hire_per_m2_week"], |inputs, end| put(&mut inputs.scaffold.hire_m2_week, end, money)),
        rate(&["scaffold.up_and_down_per_m2"], |inputs, end| put(&mut inputs.scaffold.up_and_down_m2, end, money)),
        rate(&["scaffold.adapt_per_m2"], |inputs, end| put(&mut inputs.scaffold.adapt_m2, end, money)),
        rate(&["rates.visit"], |inputs, end| put(&mut inputs.rates.visit, end, money)),
        rate(&["rates.damping_visit"], |inputs, end| put(&mut inputs.rates.damping_visit, end, money)),
        rate(&["rates.plant_per_week"], |inputs, end| put(&mut inputs.rates.plant_week, end, money)),
        rate(&["rates.hessian_per_m2"], |inputs, end| put(&mut inputs.rates.hessian_m2, end, money)),
        rate(&["rates.overhead_percent"], |inputs, end| {
            put(&mut inputs.rates.overhead, end, |share| format!("{} %", (share * Decimal::ONE_HUNDRED).normalize()))
        }),
        rate(&["rates.waste_per_m3"], |inputs, end| put(&mut inputs.rates.waste_m3, end, money)),
        rate(&["rates.making_good_per_m2"], |inputs, end| put(&mut inputs.rates.making_good_m2, end, money)),
        rate(&["gangs.*.travel_h"], |inputs, end| {
            all(inputs.gangs.iter_mut().map(|gang| put(&mut gang.travel_h, end, |hours| format!("{hours:.1} hours"))))
        }),
        rate(&["gangs.*.home_each_night"], |inputs, end| {
            let said = |home: &bool| if *home { "home each night" } else { "away while it works" }.to_owned();
            all(inputs.gangs.iter_mut().map(|gang| put(&mut gang.home_each_night, end, said)))
        }),
    ]
}

fn of_materials() -> Vec<Candidate> {
    let rate = |fields, set| one(fields, Reach::Money, set);
    vec![
        rate(&["rates.putty_per_kg"], |inputs, end| limes(inputs, end, LimeKind::Putty)),
        rate(&["rates.hydrate_per_kg"], |inputs, end| limes(inputs, end, LimeKind::Hydrate)),
        rate(&["rates.quicklime_per_kg"], |inputs, end| limes(inputs, end, LimeKind::Quicklime)),
        rate(&["rates.hydraulic_per_kg"], |inputs, end| limes(inputs, end, LimeKind::Hydraulic)),
        rate(&["rates.sand_per_t"], |inputs, end| {
            let Inputs { rates, catalogue, .. } = inputs;
            all(rates.materials.iter_mut().map(|(name, price)| {
                let sand = catalogue.sands.get(name)?;
                put(price, end, |amount| format!("{} for one {}", money(amount), sand.unit_name))
            }))
        }),
        rate(&["rates.ties_per_pack"], |inputs, end| {
            let ties = inputs.rates.materials.iter_mut().find(|(name, _)| name == "ties");
            ties.and_then(|(_, price)| put(price, end, money))
        }),
    ]
}

/// Prices of the limes of one kind.
fn limes(inputs: &mut Inputs, end: End, kind: LimeKind) -> Option<String> {
    let Inputs { rates, catalogue, .. } = inputs;
    all(rates.materials.iter_mut().map(|(name, price)| {
        let lime = catalogue.limes.get(name).filter(|lime| lime.kind == kind)?;
        put(price, end, |amount| format!("{} for one {}", money(amount), lime.unit_name))
    }))
}

/// Days and money between the two ends.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Swung {
    pub(crate) days: f64,
    pub(crate) money: Money,
}

/// A swing, and what it is ranked by.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Ranked {
    pub(crate) swing: crate::Swing,
    /// Share of it that is change of work and not of rounding to half-days, 0 to 1.
    pub(crate) real: f64,
    /// Gang-days between its ends before any rounding.
    pub(crate) work_days: f64,
    /// True for an output of the gang, of which one is told.
    pub(crate) is_output: bool,
}

/// The heaviest three of what was swung, one output of the gang at most: by days and by money together, each as a share of the largest found.
pub(crate) fn heaviest(mut swings: Vec<Ranked>) -> Vec<crate::Swing> {
    const SHOWN: usize = 3;
    let days = |ranked: &Ranked| ranked.real * ranked.swing.days;
    let money = |ranked: &Ranked| ranked.real * ranked.swing.money.to_f64();
    let most_days = swings.iter().map(days).fold(0.0, f64::max).max(1e-9);
    let most_money = swings.iter().map(money).fold(0.0, f64::max).max(1e-9);
    swings.retain(|ranked| ranked.swing.days > 0.0 || ranked.swing.money.to_f64() > 0.0);
    let weight = |ranked: &Ranked| days(ranked) / most_days + money(ranked) / most_money;
    swings.sort_by(|one, other| weight(other).total_cmp(&weight(one)).then_with(|| one.swing.path.cmp(&other.swing.path)));
    // Of the outputs the one with most work behind it is told: how many days it moves in one year hangs on where that year's half-days happen to fall.
    let most_work = swings.iter().filter(|ranked| ranked.is_output).map(|ranked| ranked.work_days).fold(0.0, f64::max);
    let mut told_output = false;
    swings.retain(|ranked| !ranked.is_output || (ranked.work_days >= most_work && !std::mem::replace(&mut told_output, true)));
    swings.into_iter().map(|ranked| ranked.swing).take(SHOWN).collect()
}

#[cfg(test)]
mod tests {
    use super::ranged;

    #[test]
    fn a_range_of_numbers_and_a_choice_of_words_are_said_differently() {
        assert_eq!(ranged("20 m²", "12 m²", "30 m²"), "20 m², may be 12 m² to 30 m²");
        assert_eq!(ranged("home each night", "away while it works", "home each night"), "home each night, may be away while it works");
        assert_eq!(ranged("unheated", "roofless", "heated"), "unheated, may be roofless or heated");
    }
}
