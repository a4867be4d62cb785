//! Money: rates, outputs, prices of materials, scaffold, allowances; and rates worked from the last such job where none are kept.

use materials::{Catalogue, LimeKind};
use reckoning::{Currency, Known};
use rust_decimal::Decimal;
use rust_decimal::prelude::{FromPrimitive, ToPrimitive};
use works::{Allowances, Calendar, Gang, LastJob, Outputs, Rates, Scaffold, System, Terms, Window};

use super::season::day_hours;
use crate::fields::{self, Preset};
use crate::problem::{Fault, nearest};
use crate::reader::Reader;

/// How rates left out are worked from the last such job.
#[derive(Clone, Copy)]
struct FromLastJob {
    /// Outputs are the usual ones times this.
    output_factor: f64,
    /// Wages are the usual ones times this.
    wage_factor: f64,
}

const FROM_LAST_JOB: &str = "worked from the last such job: its days spread over the coats as is usual, and six tenths of its cost taken as wages; common practice, no source";

/// Share of such a job's cost that is wages, and its honest range; common practice, no source.
const WAGES: (f64, f64, f64) = (0.6, 0.5, 0.7);

/// The name under which the price of ties is looked up.
const TIES: &str = "ties";

/// The name under which the price of pigment is looked up.
const PIGMENT: &str = "pigment";

/// Coats of limewash in the usual job from which the last one's days are spread.
const LIMEWASHES: f64 = 5.0;

pub(super) fn build(reader: &mut Reader<'_>, catalogue: &Catalogue, calendar: &Calendar, gangs: &[Gang], system: &System) -> Option<Rates> {
    let currency = currency(reader);
    let overhead = reader.known_decimal("rates.overhead_percent");
    let last_job = last_job(reader);
    let from = last_job.as_ref().and_then(|last| from_last_job(reader, last, calendar, gangs, overhead.value));
    Some(Rates {
        tax: reader.known_decimal("rates.tax_percent"),
        mason_h: wage(reader, "rates.mason_per_h", from),
        labourer_h: wage(reader, "rates.labourer_per_h", from),
        outputs: outputs(reader, from),
        materials: materials(reader, catalogue, system),
        water_m3: reader.known_decimal("rates.water_per_m3"),
        plant_week: reader.known_decimal("rates.plant_per_week"),
        visit: reader.known_decimal("rates.visit"),
        damping_visit: reader.known_decimal("rates.damping_visit"),
        hessian_m2: reader.known_decimal("rates.hessian_per_m2"),
        waste_m3: reader.known_decimal("rates.waste_per_m3"),
        making_good_m2: reader.known_decimal("rates.making_good_per_m2"),
        overhead,
        terms: terms(reader),
        last_job,
        currency: currency?,
    })
}

fn terms(reader: &mut Reader<'_>) -> Terms {
    let mut amount = |key: &str| reader.decimal(&format!("rates.{key}"));
    let retention = amount("retention_percent").unwrap_or_default();
    let least_charge = amount("least_charge").unwrap_or_default();
    let daywork_on = amount("daywork_percent").unwrap_or_default();
    let height = amount("height_percent").unwrap_or_default();
    let access = amount("access").unwrap_or_default();
    let lodging = amount("lodging_per_night").unwrap_or_default();
    let least_paid_h = amount("least_paid_hours").unwrap_or_default();
    let interest = amount("interest_percent");
    Terms {
        margin_years_in_20: reader.count("rates.margin_years_in_20"),
        retention,
        retention_months: reader.count("rates.retention_months").unwrap_or(0),
        least_charge,
        daywork_on,
        height,
        access,
        lodging,
        least_paid_h,
        interest,
        valid_days: reader.count("rates.valid_days").unwrap_or(60),
    }
}

fn currency(reader: &mut Reader<'_>) -> Option<Currency> {
    let code = reader.word("rates.currency")?;
    let currency = Currency::from_code(&code);
    if currency.is_none() {
        reader.problem(
            Fault::WrongKind,
            "rates.currency",
            format!("{code:?} is not the code of a currency."),
            "Allowed are the three capital letters of ISO 4217.",
            "Write for example \"GBP\" or \"EUR\".",
        );
    }
    currency
}

fn last_job(reader: &mut Reader<'_>) -> Option<LastJob> {
    if !reader.has_table("rates.last_job") {
        return None;
    }
    let cost = reader.decimal("rates.last_job.cost");
    let area_m2 = reader.number("rates.last_job.area_m2");
    let gang_days = reader.number("rates.last_job.gang_days");
    Some(LastJob { cost: cost?, area_m2: area_m2?, gang_days: gang_days? })
}

/// The default of a field, as a number in the unit as written.
fn usual(path: &str) -> f64 {
    match fields::field(path).map(|field| field.preset) {
        Some(Preset::Number(number)) => number,
        _ => 1.0,
    }
}

/// Gang's days for one m² of the usual job, all coats.
fn usual_days_per_m2() -> f64 {
    let output = |key: &str| 1.0 / usual(&format!("rates.outputs.{key}_m2_per_day"));
    output("preparation")
        + output("scud")
        + output("straightening")
        + output("ruling")
        + output("finish")
        + LIMEWASHES * output("limewash")
        + 3.0 * output("hessian")
}

fn from_last_job(reader: &mut Reader<'_>, last: &LastJob, calendar: &Calendar, gangs: &[Gang], overhead: Decimal) -> Option<FromLastJob> {
    let m2_per_day = last.area_m2 / last.gang_days;
    if !(0.5..=60.0).contains(&m2_per_day) {
        reader.problem(
            Fault::Contradiction,
            "rates.last_job.gang_days",
            format!("The last job comes to {m2_per_day:.1} m² a gang's day, all coats."),
            "Allowed is 0.5 to 60 m² a day; about 5 is usual.",
            "Count every day the gang was on the wall, preparation and limewash too.",
        );
        return None;
    }
    let (masons, labourers) = gangs.first().map_or((2, 1), |gang| (gang.masons, gang.labourers));
    let usual_wage = f64::from(masons) * usual("rates.mason_per_h") + f64::from(labourers) * usual("rates.labourer_per_h");
    let cost = last.cost.to_f64()? / (1.0 + overhead.to_f64()?);
    let wage_an_hour = WAGES.0 * cost / (last.gang_days * day_hours(calendar));
    Some(FromLastJob { output_factor: m2_per_day * usual_days_per_m2(), wage_factor: wage_an_hour / usual_wage.max(1.0) })
}

fn wage(reader: &mut Reader<'_>, path: &str, from: Option<FromLastJob>) -> Known<Decimal> {
    let Some(from) = from else { return reader.known_decimal(path) };
    let worked = usual(path) * from.wage_factor;
    let money = |share: f64| Decimal::from_f64(worked * share / WAGES.0).unwrap_or_default().round_dp(2);
    reader.known_decimal_or(path, money(WAGES.0), (money(WAGES.1), money(WAGES.2)), FROM_LAST_JOB)
}

fn outputs(reader: &mut Reader<'_>, from: Option<FromLastJob>) -> Outputs {
    let mut output = |key: &str| {
        let path = format!("rates.outputs.{key}_per_day");
        match from {
            None => reader.known_number(&path),
            Some(from) => {
                let worked = usual(&path) * from.output_factor;
                reader.known_number_or(&path, worked, (worked * 0.8, worked * 1.25), FROM_LAST_JOB.to_owned())
            }
        }
    };
    Outputs {
        preparation: output("preparation_m2"),
        take_off_cement: output("take_off_cement_m2"),
        take_off_lime_harl: output("take_off_lime_harl_m2"),
        take_off_paint: output("take_off_paint_m2"),
        scud: output("scud_m2"),
        straightening: output("straightening_m2"),
        ruling: output("ruling_m2"),
        finish: output("finish_m2"),
        limewash: output("limewash_m2"),
        reveals_m: output("reveals_m"),
        hessian: output("hessian_m2"),
        tie_patches: output("tie_patches"),
    }
}

/// A price for one unit of sale of each lime and sand of the catalogue: the job's own, or one by weight.
fn materials(reader: &mut Reader<'_>, catalogue: &Catalogue, system: &System) -> Vec<(String, Known<Decimal>)> {
    let priced = reader.names("rates.materials");
    priced_are_known(reader, catalogue, &priced);
    let used = Used { names: used(system), priced: &priced };
    let mut prices = Vec::new();
    let kinds = [
        (LimeKind::Putty, "rates.putty_per_kg"),
        (LimeKind::Hydrate, "rates.hydrate_per_kg"),
        (LimeKind::Quicklime, "rates.quicklime_per_kg"),
        (LimeKind::Hydraulic, "rates.hydraulic_per_kg"),
    ];
    for (kind, path) in kinds {
        let limes: Vec<_> = catalogue.limes.iter().filter(|(_, lime)| lime.kind == kind).collect();
        // Limewash is made of putty, whatever the coats are made of.
        let always = kind == LimeKind::Putty && !limes.iter().any(|(name, _)| priced.contains(name));
        let rate = used.rate(reader, path, always, limes.iter().map(|(name, _)| name.as_str()));
        prices.extend(limes.iter().map(|(name, lime)| ((*name).clone(), unit_price(reader, &priced, name, &rate, lime.unit_kg))));
    }
    let rate = used.rate(reader, "rates.sand_per_t", false, catalogue.sands.keys().map(String::as_str));
    prices
        .extend(catalogue.sands.iter().map(|(name, sand)| (name.clone(), unit_price(reader, &priced, name, &rate, sand.unit_kg / 1000.0))));
    if priced.iter().any(|own| own == PIGMENT) {
        let price = reader.decimal(&format!("rates.materials.{PIGMENT}.price")).unwrap_or_default();
        prices.push((PIGMENT.to_owned(), Known::answered(price)));
    }
    prices.push((TIES.to_owned(), reader.known_decimal("rates.ties_per_pack")));
    prices
}

/// Materials named in the coat system, and those with a price of their own.
struct Used<'a> {
    names: Vec<&'a str>,
    priced: &'a [String],
}

impl Used<'_> {
    /// A price by weight; it stands among the assumptions only if a material the job uses rests on it.
    fn rate<'n>(&self, reader: &mut Reader<'_>, path: &str, always: bool, mut names: impl Iterator<Item = &'n str>) -> Known<Decimal> {
        let rests = always || names.any(|name| self.names.contains(&name) && !self.priced.iter().any(|own| own == name));
        if rests { reader.known_decimal(path) } else { reader.idle_decimal(path) }
    }
}

fn used(system: &System) -> Vec<&str> {
    let coats = system.coats.iter().flat_map(|coat| [coat.mix.lime.as_str(), coat.mix.sand.as_str()]);
    [&system.lime, &system.sand, &system.finish_sand].into_iter().map(|known| known.value.as_str()).chain(coats).collect()
}

fn priced_are_known(reader: &mut Reader<'_>, catalogue: &Catalogue, priced: &[String]) {
    let known: Vec<&str> = catalogue.limes.keys().chain(catalogue.sands.keys()).map(String::as_str).chain([PIGMENT]).collect();
    for name in priced.iter().filter(|name| !known.contains(&name.as_str())) {
        let remedy = match nearest(name, known.iter().copied()) {
            Some(near) => format!("Did you mean {near:?}?"),
            None => "Write the catalogue name of the lime or sand.".to_owned(),
        };
        let path = format!("rates.materials.{name}");
        reader.problem(
            Fault::NotFound,
            &path,
            format!("There is no lime or sand {name:?}."),
            format!("Allowed are: {}.", known.join(", ")),
            remedy,
        );
    }
}

fn unit_price(reader: &mut Reader<'_>, priced: &[String], name: &str, rate: &Known<Decimal>, amount: f64) -> Known<Decimal> {
    if priced.iter().any(|own| own == name) {
        return Known::answered(reader.decimal(&format!("rates.materials.{name}.price")).unwrap_or_default());
    }
    let amount = Decimal::from_f64(amount).unwrap_or_default();
    let price = |rate: Decimal| (rate * amount).round_dp(2);
    Known {
        value: price(rate.value),
        assumed: rate.assumed,
        source: rate.source.clone(),
        range: rate.range.map(|(low, high)| (price(low), price(high))),
    }
}

pub(super) fn scaffold(reader: &mut Reader<'_>, window: &Window) -> Scaffold {
    let from = reader.known_date_or("scaffold.from", window.start);
    if let Some(finish_by) = window.finish_by.filter(|finish_by| !from.assumed && *finish_by < from.value) {
        reader.problem(
            Fault::Contradiction,
            "scaffold.from",
            format!("The scaffold stands from {}, after the latest day of the job, {finish_by}.", from.value),
            "Allowed is a scaffold that stands before the job must end.",
            "Ask for the scaffold earlier, or give more time.",
        );
    }
    Scaffold {
        walls_at_once: reader.count("scaffold.walls_at_once"),
        from,
        up_m2_day: reader.known_number("scaffold.up_m2_per_day"),
        adapt_m2_day: reader.known_number("scaffold.adapt_m2_per_day"),
        down_m2_day: reader.known_number("scaffold.down_m2_per_day"),
        lift_m: reader.known_number("scaffold.lift_m"),
        m2_per_tie: reader.known_number("scaffold.m2_per_tie"),
        adapt_m2: reader.known_decimal("scaffold.adapt_per_m2"),
        up_and_down_m2: reader.known_decimal("scaffold.up_and_down_per_m2"),
        hire_m2_week: reader.known_decimal("scaffold.hire_per_m2_week"),
    }
}

pub(super) fn allowances(reader: &mut Reader<'_>) -> Allowances {
    let mut share = |key: &str| reader.known_number(&format!("allowances.{key}"));
    Allowances {
        waste_laid: share("waste_laid_percent"),
        rebound_scud: share("rebound_scud_percent"),
        rebound_thrown: share("rebound_thrown_percent"),
        waste_lime: share("waste_lime_percent"),
        waste_sand: share("waste_sand_percent"),
        limewash_m2_l: share("limewash_m2_per_litre"),
        limewash_water: share("limewash_water_parts"),
        hessian_lap: share("hessian_lap_percent"),
    }
}
