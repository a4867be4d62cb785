//! The slaking bath by its balance of heat: quicklime and water by mass, how hot, how much boils off, what putty is left, what happens when water is
//! short. It is a sum, never a procedure: it must never put water on quicklime and never call a bath safe.

use physics::lime::{SLAKED_KG_KG, SLAKING_J_KG, SLAKING_WATER_KG_KG};
use reckoning::{Finding, Grade};
use serde::Serialize;

use super::error::Checks;
use super::{BenchError, PRACTICE, finding};
use crate::putty_density_kg_m3;

/// What stands first wherever slaking is spoken of.
pub const SLAKING_CAUTIONS: [&str; 6] = [
    "Quicklime goes into water, a little at a time: never water onto quicklime.",
    "Sealed goggles and face shield, alkali gauntlets over the cuffs, boots inside the trousers, a mask for the dust. Clean water for eyes at arm's length.",
    "Steam and spitting lime scald and blind. Stand upwind; nobody else within reach.",
    "Never in a closed vessel, a plastic bath that may soften, or on timber or grass. Quicklime that gets damp sets light to what burns; put no water on such a fire.",
    "A bath's mean temperature is not that of a lump. No figure here is safe: start with a tenth, and be ready to stop.",
    "Read the product's safety data sheet first, and have a competent person there who has slaked before.",
];

/// What stands first wherever old mortar meets acid.
pub const ACID_CAUTIONS: [&str; 5] = [
    "Acid into water, never water into acid.",
    "Out of doors or under a hood: it fizzes, spits and gives off fumes.",
    "Sealed goggles, acid-proof gloves, an apron; clean water for eyes at arm's length.",
    "Never with bleach or anything that holds chlorine: that gives off a poisonous gas.",
    "A trained person does it, and the acid's safety data sheet is read first.",
];

/// Specific heats, J/(kg K): Ca(OH)₂ 1180, water 4190 (CRC Handbook); what does not slake 850 and quicklime 850 (warm mean of 0.75 at 25 °C and 0.9 hot);
/// Ca(OH)₂ from 100 to 500 °C 1450 (NIST heat capacities); sand 800 (common practice, no source).
pub(super) const SLAKED_J_KGK: f64 = 1180.0;
const SLAKED_HOT_J_KGK: f64 = 1450.0;
pub(super) const UNSLAKED_J_KGK: f64 = 850.0;
pub(super) const WATER_J_KGK: f64 = 4190.0;
const SAND_J_KGK: f64 = 800.0;
/// Heat of boiling at 100 °C, J/kg (steam tables).
pub(super) const BOILING_J_KG: f64 = 2_257_000.0;
/// Where Ca(OH)₂ gives its water off again under one atmosphere of steam, °C: published 512 (CRC Handbook, from memory). Nothing gets hotter by slaking.
const DECOMPOSITION_C: f64 = 512.0;
/// Boiling water at one atmosphere, °C.
pub(super) const BOILING_C: f64 = 100.0;

/// Quicklime and water that come together, with sand for a hot mix.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bath {
    /// Quicklime, kg.
    pub quicklime_kg: f64,
    /// Share of it that is CaO and slakes, 0 to 1.
    pub purity: f64,
    /// Water, kg.
    pub water_kg: f64,
    /// Dry sand in it, kg; zero for putty.
    pub sand_kg: f64,
    /// Temperature of all before, °C.
    pub start_c: f64,
}

impl Bath {
    pub(super) fn check(&self) -> Result<(), Vec<BenchError>> {
        let mut checks = Checks::default();
        checks.number("The quicklime", self.quicklime_kg, 0.01, 100_000.0, " kg");
        checks.number("The share that slakes", self.purity, 0.3, 1.0, "");
        checks.number("The water", self.water_kg, 0.0, 1_000_000.0, " kg");
        checks.number("The sand", self.sand_kg, 0.0, 1_000_000.0, " kg");
        checks.number("The temperature before", self.start_c, 0.0, 60.0, " °C");
        checks.done()
    }

    /// Water that slaking binds, kg.
    pub fn bound_kg(&self) -> f64 {
        SLAKING_WATER_KG_KG * self.purity * self.quicklime_kg
    }

    /// Heat to warm what does not take part, J/K.
    pub(super) fn still_j_k(&self) -> f64 {
        UNSLAKED_J_KGK * (1.0 - self.purity) * self.quicklime_kg + SAND_J_KGK * self.sand_kg
    }

    /// Heat to warm the solids when a share of the active lime has slaked, J/K.
    pub(super) fn solids_j_k(&self, slaked: f64, hot: bool) -> f64 {
        let active = self.purity * self.quicklime_kg;
        let hydrate = if hot { SLAKED_HOT_J_KGK } else { SLAKED_J_KGK };
        active * (slaked * SLAKED_KG_KG * hydrate + (1.0 - slaked) * UNSLAKED_J_KGK) + self.still_j_k()
    }
}

/// What a bath comes to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Regime {
    /// Never boils.
    Warm,
    /// Boils, and water is left.
    Boiling,
    /// Boils dry and passes 100 °C.
    Dried,
    /// Less water than the lime binds: part stays quicklime, and the rest gets far hotter than 100 °C.
    Starved,
}

/// The end of a bath that loses no heat.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Slaked {
    /// What it comes to.
    pub regime: Regime,
    /// Hottest mean temperature, °C.
    pub hottest_c: f64,
    /// True if the heat would carry it further and only the giving off of water holds it.
    pub held: bool,
    /// Steam, kg.
    pub steam_kg: f64,
    /// Free water left, kg.
    pub water_left_kg: f64,
    /// Ca(OH)₂ made, kg.
    pub portlandite_kg: f64,
    /// Quicklime left unslaked for want of water, kg of CaO.
    pub unslaked_kg: f64,
    /// Mass share of solids in what is left (sand not counted).
    pub solids_share: f64,
    /// Density of the putty as it stands, kg/m³; `None` where no water is left or sand is in it.
    pub putty_kg_m3: Option<f64>,
    /// Its volume, L.
    pub putty_l: Option<f64>,
    /// Heat set free, J.
    pub heat_j: f64,
    /// What to think of it.
    pub findings: Vec<Finding>,
}

/// The balance of a bath that loses no heat: the hottest its mean can get. Lumps get hotter than the mean.
///
/// # Errors
/// Masses, purity or temperature outside what can be.
pub fn slake(bath: &Bath) -> Result<Slaked, Vec<BenchError>> {
    bath.check()?;
    let bound_kg = bath.bound_kg();
    let slaked = (bath.water_kg / bound_kg).min(1.0);
    let active_kg = bath.purity * bath.quicklime_kg;
    let heat_j = SLAKING_J_KG * active_kg * slaked;
    let free_kg = bath.water_kg - bound_kg * slaked;
    let warming_j_k = bath.solids_j_k(slaked, false) + WATER_J_KGK * free_kg;
    let (hottest_c, steam_kg, held) = ends(bath, slaked, heat_j, free_kg, warming_j_k);
    let water_left_kg = free_kg - steam_kg;
    let regime = match () {
        () if slaked < 1.0 => Regime::Starved,
        () if hottest_c > BOILING_C => Regime::Dried,
        () if steam_kg > 0.0 => Regime::Boiling,
        () => Regime::Warm,
    };
    let solids_kg = bath.quicklime_kg + bound_kg * slaked;
    let solids_share = solids_kg / (solids_kg + water_left_kg);
    let wet = water_left_kg > 0.0 && bath.sand_kg == 0.0;
    let putty_kg_m3 = wet.then(|| putty_density_kg_m3(solids_share));
    let mut result = Slaked {
        regime,
        hottest_c,
        held,
        steam_kg,
        water_left_kg,
        portlandite_kg: SLAKED_KG_KG * active_kg * slaked,
        unslaked_kg: active_kg * (1.0 - slaked),
        solids_share,
        putty_kg_m3,
        putty_l: putty_kg_m3.map(|density| 1000.0 * (solids_kg + water_left_kg) / density),
        heat_j,
        findings: Vec::new(),
    };
    result.findings = judged(bath, &result);
    Ok(result)
}

/// Hottest temperature, steam, and whether the giving off of water holds it.
fn ends(bath: &Bath, slaked: f64, heat_j: f64, free_kg: f64, warming_j_k: f64) -> (f64, f64, bool) {
    let risen_c = bath.start_c + heat_j / warming_j_k;
    if risen_c <= BOILING_C {
        return (risen_c, 0.0, false);
    }
    let over_j = heat_j - warming_j_k * (BOILING_C - bath.start_c);
    if over_j <= free_kg * BOILING_J_KG {
        return (BOILING_C, over_j / BOILING_J_KG, false);
    }
    let dry_c = BOILING_C + (over_j - free_kg * BOILING_J_KG) / bath.solids_j_k(slaked, true);
    (dry_c.min(DECOMPOSITION_C), free_kg, dry_c > DECOMPOSITION_C)
}

/// Water to a kilogram of quicklime between which a putty bath boils and is left wet: (below it, it boils dry; above it, it never boils).
///
/// # Errors
/// As [`slake`].
pub fn boil_limits(purity: f64, start_c: f64) -> Result<(f64, f64), Vec<BenchError>> {
    let bath = Bath { quicklime_kg: 1.0, purity, water_kg: 1.0, sand_kg: 0.0, start_c };
    bath.check()?;
    let bound = bath.bound_kg();
    let spare_j = SLAKING_J_KG * purity - bath.solids_j_k(1.0, false) * (BOILING_C - start_c);
    let warm = WATER_J_KGK * (BOILING_C - start_c);
    Ok((bound + spare_j / (warm + BOILING_J_KG), bound + spare_j / warm))
}

/// Days putty lies before its throwing day: least, usual, best. One month is the least for mortar, three months usual, six as sold: handbooks and lime
/// makers' notes; longer does no harm if it stays wet and frost-free.
pub fn maturing_days() -> (u32, u32, u32) {
    (30, 91, 182)
}

fn judged(bath: &Bath, result: &Slaked) -> Vec<Finding> {
    let mut all = Vec::new();
    let ratio = bath.water_kg / bath.quicklime_kg;
    let reason = "Slaking makes about 1150 kJ to a kilogram of CaO. Free water boils away at 100 °C and carries heat off; once none is left, nothing holds the heat but the lime itself.";
    let source = "enthalpies of formation, CRC Handbook; decomposition of Ca(OH)₂ at 512 °C, published";
    match result.regime {
        Regime::Starved => {
            let says = format!(
                "The bath is starved: the lime binds {:.2} kg of water and there are {:.2} kg. {:.1} kg stay quicklime, and the rest passes 100 °C and can reach {:.0} °C; it stops only where calcium hydroxide gives its water off again, at about {DECOMPOSITION_C:.0} °C.",
                bath.bound_kg(),
                bath.water_kg,
                result.unslaked_kg,
                result.hottest_c
            );
            let remedy =
                "Do not slake so. Putty wants 2 to 2.5 times the quicklime's mass of water, all of it in the bath before the first lump.";
            all.push(finding(Grade::Stop, "starved", says, reason, source, remedy));
        }
        Regime::Dried => {
            let says = format!(
                "The bath boils dry: all its free water goes off as {:.2} kg of steam, and it passes 100 °C to about {:.0} °C.",
                result.steam_kg, result.hottest_c
            );
            let remedy = "Do not slake so: it burns the lime and sets light to what lies near. Putty wants 2 to 2.5 times the quicklime's mass of water in the bath before the first lump.";
            all.push(finding(Grade::Stop, "dried", says, reason, source, remedy));
        }
        Regime::Boiling => {
            let says = format!(
                "The bath boils at 100 °C and gives off {:.2} kg of steam if all comes together; {:.2} kg of free water stay.",
                result.steam_kg, result.water_left_kg
            );
            all.push(finding(
                Grade::Think,
                "boiling",
                says,
                reason,
                source,
                "Expect spitting and scalding steam from the first lump on; be ready to stop adding.",
            ));
        }
        Regime::Warm => {
            let says = format!(
                "With {ratio:.1} times its mass of water the mean stays below boiling, at {:.0} °C; lumps still boil.",
                result.hottest_c
            );
            all.push(finding(
                Grade::Note,
                "drowned",
                says,
                "A lime slaked too cold is coarse and lean (drowned).",
                PRACTICE,
                "Use less water next time, 2 to 2.5 times the mass, added before the lime.",
            ));
        }
    }
    if bath.sand_kg > 0.0 {
        let says = "With sand this is a hot mix: heat and yield are shown, and no way of doing it.";
        let remedy = "Leave it to people trained in hot mixing, with the product's data sheet. Never close a lid on it.";
        all.push(finding(Grade::Stop, "hot-mix", says, "Sand takes up heat but does not stop the boiling.", PRACTICE, remedy));
    }
    all
}
