//! What an old mortar was, from acid dissolution or thermogravimetry: proportions by mass and volume, with the range that weighing, shell in the sand,
//! carbonation, lost fines and a hydraulic part leave open. It never gives a bare number.

use serde::Serialize;

use super::BenchError;
use super::error::Checks;
use physics::lime::{CALCITE_KG_KG, CALCITE_MOLAR_KG_MOL, CO2_MOLAR_KG_MOL, QUICKLIME_MOLAR_KG_MOL, SLAKED_KG_KG};

/// Dicalcium silicate and the CaO bound in it, kg for each kg of soluble silica: molar masses 172.24, 112.15 and 60.08.
const SILICATE_KG_KG: f64 = 2.8666;
const SILICATE_LIME_KG_KG: f64 = 1.8666;
/// Ca(OH)₂ to each kg of water driven off at 400 to 500 °C: molar masses.
const PORTLANDITE_PER_WATER: f64 = 4.113;
/// Most uncertain inputs that are run through at both ends.
const ENDS: usize = 9;

/// A measured value with the least and most it may be.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Uncertain {
    /// Most likely value.
    pub value: f64,
    /// Least.
    pub least: f64,
    /// Most.
    pub most: f64,
}

impl Uncertain {
    /// A value known exactly.
    pub fn exact(value: f64) -> Self {
        Self { value, least: value, most: value }
    }

    /// A value give or take.
    pub fn within(value: f64, error: f64) -> Self {
        Self { value, least: value - error, most: value + error }
    }
}

/// A result with the range the inputs leave open.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Interval {
    /// From the most likely values.
    pub likely: f64,
    /// Least.
    pub least: f64,
    /// Most.
    pub most: f64,
}

/// Carbon dioxide given off, if it was caught.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Gas {
    /// Volume, L.
    pub litres: Uncertain,
    /// Its temperature, °C.
    pub warm_c: f64,
    /// Its pressure, Pa.
    pub pressure_pa: f64,
}

/// Chemistry of the dissolved part, where a laboratory gave it, g in the sample.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Hydraulic {
    /// CaO dissolved, g.
    pub lime_g: Uncertain,
    /// Soluble silica, g.
    pub silica_g: Uncertain,
    /// Alumina dissolved, g.
    pub alumina_g: f64,
    /// Iron oxide dissolved, g.
    pub iron_g: f64,
}

/// An acid dissolution.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Dissolved {
    /// Dry sample before, g.
    pub sample_g: Uncertain,
    /// Dry residue after, g.
    pub residue_g: Uncertain,
    /// Calcium carbonate of the sand itself (shell, limestone), g in the sample.
    pub shell_g: Uncertain,
    /// Share of the lime that had carbonated, 0 to 1.
    pub carbonated: Uncertain,
    /// Fines lost through the filter, share of the residue.
    pub lost: Uncertain,
    /// Loose bulk density of the dry sand, kg/L.
    pub sand_kg_l: Uncertain,
    /// Gas caught; it then says how much had carbonated.
    pub gas: Option<Gas>,
    /// Chemistry; without it the lime is taken as air lime.
    pub hydraulic: Option<Hydraulic>,
}

/// Parts of sand to one of binder, by volume, in each form the binder may have been measured in.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Ratios {
    /// To putty of 1.35 kg a litre.
    pub putty: Interval,
    /// To hydrate of 0.50 kg a litre.
    pub hydrate: Interval,
    /// To pure quicklime of 0.95 kg a litre.
    pub quicklime: Interval,
    /// To hydraulic lime of 0.65 kg a litre, counting silicates; equals nothing real for an air lime.
    pub hydraulic: Interval,
}

/// What the mortar was.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct OldMortar {
    /// Sand to one of binder (Ca(OH)₂ and silicates), by mass.
    pub mass: Interval,
    /// By volume.
    pub volume: Ratios,
    /// Free Ca(OH)₂ before it carbonated, g in the sample.
    pub portlandite_g: Interval,
    /// Sand, g in the sample.
    pub sand_g: Interval,
    /// Share of dicalcium silicate in the binder, 0 to 1.
    pub silicate: Interval,
    /// Cementation index after Eckel and Boynton; `None` without chemistry.
    pub cementation: Option<f64>,
    /// Carbonated share that the gas showed; `None` without gas.
    pub carbonated: Option<Interval>,
}

/// One run with every input at one value.
#[derive(Clone, Copy)]
struct Inputs {
    sample: f64,
    residue: f64,
    shell: f64,
    carbonated: f64,
    lost: f64,
    sand_kg_l: f64,
    gas_g: Option<f64>,
    silica: f64,
    dissolved_lime: f64,
}

#[derive(Clone, Copy)]
struct Outcome {
    mass: f64,
    putty: f64,
    hydrate: f64,
    quicklime: f64,
    hydraulic: f64,
    portlandite: f64,
    sand: f64,
    silicate: f64,
    carbonated: f64,
}

/// What the mortar was: most likely, and least and most over all ends of the uncertain inputs together.
///
/// # Errors
/// All faults: masses below zero or a residue above the sample, shares outside 0 to 1, ends out of order, gas or shell that cannot be, nothing dissolved.
pub fn dissolved(test: &Dissolved) -> Result<OldMortar, Vec<BenchError>> {
    check(test)?;
    let likely = reckon(test, &inputs(test, &[None; ENDS]))?;
    let mut runs = Vec::with_capacity(1 << ENDS);
    for mask in 0..(1_usize << ENDS) {
        let ends: [Option<bool>; ENDS] = std::array::from_fn(|bit| Some(mask >> bit & 1 == 1));
        runs.push(reckon(test, &inputs(test, &ends))?);
    }
    let over = |of: fn(&Outcome) -> f64| Interval {
        likely: of(&likely),
        least: runs.iter().map(of).fold(of(&likely), f64::min),
        most: runs.iter().map(of).fold(of(&likely), f64::max),
    };
    Ok(OldMortar {
        mass: over(|o| o.mass),
        volume: Ratios {
            putty: over(|o| o.putty),
            hydrate: over(|o| o.hydrate),
            quicklime: over(|o| o.quicklime),
            hydraulic: over(|o| o.hydraulic),
        },
        portlandite_g: over(|o| o.portlandite),
        sand_g: over(|o| o.sand),
        silicate: over(|o| o.silicate),
        cementation: test.hydraulic.as_ref().map(|chemistry| cementation(chemistry, test.shell_g.value)),
        carbonated: test.gas.as_ref().map(|_| over(|o| o.carbonated)),
    })
}

fn check(test: &Dissolved) -> Result<(), Vec<BenchError>> {
    let mut checks = Checks::default();
    let mut ranged = |what: &str, value: &Uncertain, least: f64, most: f64, unit: &'static str| {
        checks.number(what, value.value, least, most, unit);
        checks.number(format!("{what}, at its least,"), value.least, least, value.value, unit);
        checks.number(format!("{what}, at its most,"), value.most, value.value, most, unit);
    };
    ranged("The sample", &test.sample_g, 0.5, 10_000.0, " g");
    ranged("The residue", &test.residue_g, 0.0, 10_000.0, " g");
    ranged("The shell in the sample", &test.shell_g, 0.0, 10_000.0, " g");
    ranged("The carbonated share", &test.carbonated, 0.0, 1.0, "");
    ranged("The fines lost", &test.lost, 0.0, 0.3, " of the residue");
    ranged("The bulk density of the sand", &test.sand_kg_l, 1.0, 2.0, " kg/L");
    if let Some(gas) = &test.gas {
        ranged("The gas", &gas.litres, 0.0, 10_000.0, " L");
        ranged("The temperature of the gas", &Uncertain::exact(gas.warm_c), -10.0, 50.0, " °C");
        ranged("The pressure of the gas", &Uncertain::exact(gas.pressure_pa), 60_000.0, 110_000.0, " Pa");
    }
    if let Some(chemistry) = &test.hydraulic {
        ranged("The dissolved CaO", &chemistry.lime_g, 0.0, 10_000.0, " g");
        ranged("The soluble silica", &chemistry.silica_g, 0.0, 10_000.0, " g");
        ranged("The dissolved alumina", &Uncertain::exact(chemistry.alumina_g), 0.0, 10_000.0, " g");
        ranged("The dissolved iron oxide", &Uncertain::exact(chemistry.iron_g), 0.0, 10_000.0, " g");
    }
    if test.residue_g.value >= test.sample_g.value {
        let found = format!(
            "The residue ({} g) is not less than the sample ({} g): nothing was dissolved.",
            test.residue_g.value, test.sample_g.value
        );
        checks.contradiction(found, "Dry both at 105 °C to constant mass and weigh again; look whether two masses were exchanged.");
    }
    checks.done()
}

/// The inputs with each uncertain one at its least (`false`), most (`true`) or likely value.
fn inputs(test: &Dissolved, ends: &[Option<bool>; ENDS]) -> Inputs {
    let at = |index: usize, value: &Uncertain| match ends[index] {
        None => value.value,
        Some(false) => value.least,
        Some(true) => value.most,
    };
    Inputs {
        sample: at(0, &test.sample_g),
        residue: at(1, &test.residue_g),
        shell: at(2, &test.shell_g),
        carbonated: at(3, &test.carbonated),
        lost: at(4, &test.lost),
        sand_kg_l: at(5, &test.sand_kg_l),
        gas_g: test.gas.as_ref().map(|gas| {
            let moles = gas.pressure_pa * at(6, &gas.litres) / 1000.0 / (8.314_462_618 * (gas.warm_c + 273.15));
            1000.0 * CO2_MOLAR_KG_MOL * moles
        }),
        silica: test.hydraulic.as_ref().map_or(0.0, |chemistry| at(7, &chemistry.silica_g)),
        dissolved_lime: test.hydraulic.as_ref().map_or(0.0, |chemistry| at(8, &chemistry.lime_g)),
    }
}

fn reckon(test: &Dissolved, at: &Inputs) -> Result<Outcome, Vec<BenchError>> {
    let kept = at.residue * (1.0 + at.lost);
    let gone = at.sample - kept - at.shell;
    let (free, carbonated) = match &test.hydraulic {
        Some(_) => {
            let of_shell = at.shell * QUICKLIME_MOLAR_KG_MOL / CALCITE_MOLAR_KG_MOL;
            let lime = at.dissolved_lime - of_shell - SILICATE_LIME_KG_KG * at.silica;
            (SLAKED_KG_KG * lime, at.carbonated)
        }
        None => air_lime(at, gone),
    };
    if free <= 0.0 || gone <= 0.0 {
        let found = format!(
            "With {:.2} g of residue, {:.2} g of shell and what else was measured, no lime is left for the binder.",
            kept, at.shell
        );
        let remedy = "The shell, the lost fines or an error of weighing is set too high for this sample: narrow it, or have the sand looked at under a microscope.".to_owned();
        return Err(vec![BenchError::Contradiction { found, remedy }]);
    }
    let others = test.hydraulic.as_ref().map_or(0.0, |chemistry| chemistry.alumina_g + chemistry.iron_g);
    let silicate = SILICATE_KG_KG * at.silica;
    let binder = free + silicate + others;
    let sand = kept + at.shell;
    let volume = sand / at.sand_kg_l;
    Ok(Outcome {
        mass: sand / binder,
        putty: volume / (free / (crate::putty_solids_share(1350.0) * 1.35)),
        hydrate: volume / (free / 0.50),
        quicklime: volume / (free / SLAKED_KG_KG / 0.95),
        hydraulic: volume / (binder / 0.65),
        portlandite: free,
        sand,
        silicate: silicate / binder,
        carbonated,
    })
}

/// Free Ca(OH)₂ before carbonation and the share that had carbonated, from the mass dissolved and the gas or the share assumed.
fn air_lime(at: &Inputs, gone: f64) -> (f64, f64) {
    match at.gas_g {
        Some(gas) => {
            let carbonate = (gas * CALCITE_MOLAR_KG_MOL / CO2_MOLAR_KG_MOL - at.shell).clamp(0.0, gone.max(0.0));
            let was = carbonate / CALCITE_KG_KG;
            let free = was + (gone - carbonate);
            (free, if free > 0.0 { was / free } else { 0.0 })
        }
        None => (gone / (1.0 + (CALCITE_KG_KG - 1.0) * at.carbonated), at.carbonated),
    }
}

/// Cementation index (2.8 SiO₂ + 1.1 Al₂O₃ + 0.7 Fe₂O₃)/CaO, magnesia not counted: Eckel; Boynton (from memory).
fn cementation(chemistry: &Hydraulic, shell_g: f64) -> f64 {
    let lime = chemistry.lime_g.value - shell_g * QUICKLIME_MOLAR_KG_MOL / CALCITE_MOLAR_KG_MOL;
    (2.8 * chemistry.silica_g.value + 1.1 * chemistry.alumina_g + 0.7 * chemistry.iron_g) / lime
}

/// A sample by thermogravimetry.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Thermogravimetry {
    /// Ca(OH)₂, share of the sample.
    pub portlandite: f64,
    /// CaCO₃, share of the sample.
    pub calcite: f64,
    /// Ca(OH)₂ before any carbonated, share of the sample.
    pub lime: f64,
    /// Share of it that had carbonated, 0 to 1.
    pub carbonated: f64,
    /// Sand to one of Ca(OH)₂, by mass, for a siliceous sand.
    pub mass: f64,
}

/// From losses of mass, shares of the sample: water at 400 to 500 °C, carbon dioxide at 600 to 900 °C.
///
/// # Errors
/// Losses outside 0 to 0.24 (water) or 0.44 (carbon dioxide), or no lime, or no sand.
pub fn thermogravimetry(water: f64, carbon_dioxide: f64) -> Result<Thermogravimetry, Vec<BenchError>> {
    let mut checks = Checks::default();
    checks.number("The water lost at 400 to 500 °C", water, 0.0, 0.24, " of the sample");
    checks.number("The carbon dioxide lost at 600 to 900 °C", carbon_dioxide, 0.0, 0.44, " of the sample");
    let portlandite = PORTLANDITE_PER_WATER * water;
    let calcite = carbon_dioxide * CALCITE_MOLAR_KG_MOL / CO2_MOLAR_KG_MOL;
    checks.number("The lime by both losses", portlandite + calcite, 1e-4, 0.999, " of the sample");
    checks.done()?;
    let was = calcite / CALCITE_KG_KG;
    let lime = portlandite + was;
    Ok(Thermogravimetry { portlandite, calcite, lime, carbonated: was / lime, mass: (1.0 - portlandite - calcite) / lime })
}
