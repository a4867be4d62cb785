//! The layers of a trial: thickness, cells, and the functions of the material, each a named closed form, a table, or taken from the catalogue.

use curing::trial::{
    AirPermeability, CarbonDiffusion, Heat, LayerGrid, Liquid, Retention, TrialLayer, TrialLime, VanGenuchtenTerm, Vapour, WetVapour,
};
use physics::constants::{GRAVITY_M_S2, WATER_DENSITY_KG_M3};

use super::one_of;
use super::reader::{Bounds, Section, from_to};
use super::shipped;

/// Reads all layers, outermost first.
pub(super) fn read_all(root: &Section<'_, '_>) -> Option<Vec<TrialLayer>> {
    let sections = root.sections("layers");
    if sections.is_empty() {
        root.missing("layers", "A column has at least one layer.", "Add [[layers]], the outermost first.");
    }
    let layers: Vec<Option<TrialLayer>> = sections.iter().map(layer).collect();
    let layers: Vec<TrialLayer> = layers.into_iter().collect::<Option<_>>()?;
    let limed = layers.iter().take_while(|layer| layer.lime.is_some()).count();
    if layers[limed..].iter().any(|layer| layer.lime.is_some()) {
        root.contradicts(
            "layers",
            "A layer with lime lies behind one without.",
            "Carbon dioxide comes in through the outer face, and a layer without lime lets none through.",
            "Give the layers outside it a lime too (a little portlandite, a rate near zero), or take its lime away.",
        );
    }
    (!layers.is_empty()).then_some(layers)
}

fn layer(section: &Section<'_, '_>) -> Option<TrialLayer> {
    let name = section.needs_text("name", "Name the layer.");
    let metres = section.number("thickness_m", from_to(1e-4, 1000.0));
    let millimetres = section.number("thickness_mm", from_to(0.1, 1e6));
    if section.has("thickness_m") == section.has("thickness_mm") {
        one_of(section, "thickness_m", "thickness_mm");
    }
    let thickness_m = metres.or(millimetres.map(|thickness| thickness / 1000.0));
    let grid = grid(section);
    let shipped = shipped::read(section);
    let names_one = section.has("catalogue") || section.has("mortar");
    let needs = |key: &'static str| match (&shipped, section.section(key)) {
        (None, None) if !names_one => {
            let remedy = format!("Add [layers.{key}], or take the whole material with `catalogue` or `mortar`.");
            section.missing(key, "Every layer needs it.", remedy);
            None
        }
        (_, own) => own,
    };
    let moisture = shipped.as_ref().map(|shipped| &shipped.moisture);
    let retention = needs("retention").and_then(|own| retention(&own)).or(moisture.map(shipped::retention));
    let vapour = needs("vapour").and_then(|own| vapour(&own)).or(moisture.map(shipped::vapour));
    let liquid = needs("liquid").and_then(|own| liquid(&own)).or(moisture.map(shipped::liquid));
    let heat = needs("heat").and_then(|own| heat(&own)).or(moisture.map(shipped::heat));
    let from_mix = FromMix {
        named: section.has("mortar"),
        portlandite_mol_m3: shipped.as_ref().and_then(|shipped| shipped.portlandite_mol_m3),
        porosity: moisture.map(|moisture| moisture.porosity).filter(|_| names_one),
    };
    let lime = section.section("lime").map(|own| lime(&own, &from_mix));
    section.finish();
    Some(TrialLayer {
        name: name?.to_owned(),
        thickness_m: thickness_m?,
        grid: grid?,
        retention: retention?,
        vapour: vapour?,
        liquid: liquid?,
        heat: heat?,
        lime: match lime {
            Some(read) => Some(read?),
            None => None,
        },
    })
}

fn grid(section: &Section<'_, '_>) -> Option<LayerGrid> {
    let cells = section.whole("cells", 1, 5000);
    let Some(own) = section.section("grid") else {
        return Some(cells.map_or(LayerGrid::STANDARD, |cells| LayerGrid::Even { cells: cells as usize }));
    };
    if cells.is_some() {
        section.contradicts("cells", "The grid is given twice.", "Either cells or [layers.grid] sets it.", "Keep one of them.");
    }
    let first_mm = own.needs_number("first_mm", from_to(0.001, 1e5));
    let last_mm = own.number("last_mm", from_to(0.001, 1e6));
    let growth = own.number("growth", from_to(1.0, 2.0)).unwrap_or(1.12);
    let greatest_mm = own.number("greatest_mm", from_to(0.01, 1e6)).unwrap_or(1e6);
    own.finish();
    let first_m = first_mm? / 1000.0;
    Some(LayerGrid::Graded { first_m, last_m: last_mm.map(|last| last / 1000.0), growth, greatest_m: greatest_mm / 1000.0 })
}

#[derive(Clone, Copy)]
enum RetentionForm {
    VanGenuchten,
    HumidityPower,
    Kuenzel,
    Linear,
    SuctionTable,
    HumidityTable,
}

const RETENTION_FORMS: [(&str, RetentionForm); 6] = [
    ("van-genuchten", RetentionForm::VanGenuchten),
    ("humidity-power", RetentionForm::HumidityPower),
    ("kuenzel", RetentionForm::Kuenzel),
    ("linear", RetentionForm::Linear),
    ("table-of-suction", RetentionForm::SuctionTable),
    ("table-of-humidity", RetentionForm::HumidityTable),
];

fn retention(own: &Section<'_, '_>) -> Option<Retention> {
    let reference_k = own.number("reference_temperature_c", from_to(-20.0, 60.0)).unwrap_or(20.0) + super::ZERO_C_K;
    let water = |key| own.needs_number(key, from_to(1e-6, 1500.0));
    let form = own.needs_choice("form", &RETENTION_FORMS)?;
    let read = match form {
        RetentionForm::VanGenuchten => van_genuchten(own),
        RetentionForm::HumidityPower => {
            let (saturation, a) = (water("saturation_kg_m3"), own.needs_number("a", from_to(1e-6, 1e3)));
            let exponent = own.needs_number("exponent", from_to(0.01, 20.0));
            saturation.zip(a).zip(exponent).map(|((saturation_kg_m3, a), exponent)| Retention::HumidityPower {
                saturation_kg_m3,
                a,
                exponent,
                reference_k,
            })
        }
        RetentionForm::Kuenzel => water("free_saturation_kg_m3").zip(water("w80_kg_m3")).map(|(free, w80)| {
            if w80 >= 0.8 * free {
                own.contradicts(
                    "w80_kg_m3",
                    "The water at 80 % is too close to free saturation for this form.",
                    "It must be below 0.8 of free_saturation_kg_m3.",
                    "Give a smaller w80_kg_m3, or use a table.",
                );
            }
            Retention::Kuenzel { free_saturation_kg_m3: free, w80_kg_m3: w80, reference_k }
        }),
        RetentionForm::Linear => water("saturation_kg_m3").map(|saturation_kg_m3| Retention::Linear { saturation_kg_m3, reference_k }),
        RetentionForm::SuctionTable => {
            points(own, ("suction_pa", 1.0, 1e10), ("water_kg_m3", 0.0, 1500.0), Slope::Falling).map(Retention::SuctionTable)
        }
        RetentionForm::HumidityTable => points(own, ("humidity", 0.0, 1.0), ("water_kg_m3", 0.0, 1500.0), Slope::Rising)
            .map(|points| Retention::HumidityTable { points, reference_k }),
    };
    own.finish();
    read
}

/// One term written flat, or several as lists `share`, `a_per_pa` (or `a_per_m`), `n`.
fn van_genuchten(own: &Section<'_, '_>) -> Option<Retention> {
    let saturation = own.needs_number("saturation_kg_m3", from_to(1e-6, 1500.0));
    let many = own.has("share");
    let list = |key: &'static str, least, greatest| {
        if many { own.numbers(key, from_to(least, greatest)) } else { own.number(key, from_to(least, greatest)).map(|one| vec![one]) }
    };
    let shares = if many { list("share", 0.0, 1.0) } else { Some(vec![1.0]) };
    let per_pa = list("a_per_pa", 1e-12, 1.0);
    let per_m =
        list("a_per_m", 1e-8, 1e4).map(|list| list.into_iter().map(|a| a / (WATER_DENSITY_KG_M3 * GRAVITY_M_S2)).collect::<Vec<_>>());
    if own.has("a_per_pa") == own.has("a_per_m") {
        one_of(own, "a_per_pa", "a_per_m");
    }
    if !own.has("n") {
        own.missing("n", "Numbers above 1 are possible.", "Add the exponent n.");
    }
    let (a, n) = (per_pa.or(per_m)?, list("n", 1.001, 50.0)?);
    let m = if own.has("m") { list("m", 0.001, 10.0)? } else { n.iter().map(|n| 1.0 - 1.0 / n).collect() };
    let shares = shares?;
    if a.len() != shares.len() || n.len() != shares.len() || m.len() != shares.len() {
        own.contradicts(
            "share",
            "The lists of the terms differ in length.",
            "Every term has a share, an a and an n.",
            "Make the lists equally long.",
        );
        return None;
    }
    if (shares.iter().sum::<f64>() - 1.0).abs() > 1e-9 {
        own.contradicts("share", "The shares of the terms do not make 1.", "All pore water must be shared out.", "Let them make 1.");
    }
    let terms = (0..shares.len()).map(|i| VanGenuchtenTerm { share: shares[i], a_per_pa: a[i], n: n[i], m: m[i] }).collect();
    Some(Retention::VanGenuchten { saturation_kg_m3: saturation?, terms })
}

/// What a table's second column must do.
#[derive(Clone, Copy, PartialEq)]
enum Slope {
    Rising,
    Falling,
    Any,
}

/// Two columns of equal length, the first rising.
fn points(own: &Section<'_, '_>, x: (&'static str, f64, f64), y: (&'static str, f64, f64), slope: Slope) -> Option<Vec<(f64, f64)>> {
    let xs = own.needs_numbers(x.0, from_to(x.1, x.2));
    let ys = own.needs_numbers(y.0, from_to(y.1, y.2));
    let (xs, ys) = (xs?, ys?);
    if xs.len() != ys.len() || xs.len() < 2 {
        let found = format!("`{}` has {} entries and `{}` has {}.", x.0, xs.len(), y.0, ys.len());
        own.contradicts(y.0, found, "A table needs two or more points.", "Give as many numbers in one list as in the other.");
        return None;
    }
    if xs.windows(2).any(|pair| pair[1] <= pair[0]) {
        let found = format!("`{}` does not rise from point to point.", x.0);
        own.contradicts(x.0, found, "Each number must be above the one before.", "Order the points.");
        return None;
    }
    let wrong = |pair: &[f64]| match slope {
        Slope::Rising => pair[1] <= pair[0],
        Slope::Falling => pair[1] >= pair[0],
        Slope::Any => false,
    };
    if ys.windows(2).any(wrong) {
        let (must, why) = if slope == Slope::Rising { ("rise", "more humid") } else { ("fall", "under more suction") };
        let found = format!("`{}` does not {must} from point to point.", y.0);
        let allowed = format!("Water must {must} strictly as the pores are {why}, or the state could not be told from it.");
        own.contradicts(y.0, found, &allowed, "Correct the table.");
        return None;
    }
    Some(xs.into_iter().zip(ys).collect())
}

#[derive(Clone, Copy)]
enum VapourForm {
    Constant,
    Resistance,
    Table,
}

#[derive(Clone, Copy)]
enum Wet {
    None,
    Linear,
    Narrowing,
}

fn vapour(own: &Section<'_, '_>) -> Option<Vapour> {
    let forms = [("constant", VapourForm::Constant), ("resistance", VapourForm::Resistance), ("table", VapourForm::Table)];
    let airs = [("en-15026", AirPermeability::En15026), ("iso-13788", AirPermeability::Iso13788), ("schirmer", AirPermeability::Schirmer)];
    let wet = match own.choice("wet", &[("none", Wet::None), ("linear", Wet::Linear), ("narrowing", Wet::Narrowing)]) {
        Some(Wet::Linear) => WetVapour::Linear,
        Some(Wet::Narrowing) => WetVapour::Narrowing(own.needs_number("p", from_to(0.01, 1.0)).unwrap_or(1.0)),
        Some(Wet::None) | None => WetVapour::None,
    };
    let read = match own.needs_choice("form", &forms)? {
        VapourForm::Constant => {
            own.needs_number("permeability_s", from_to(0.0, 1e-6)).map(|permeability_s| Vapour::Constant { permeability_s, wet })
        }
        VapourForm::Resistance => {
            let factor = own.needs_number("resistance_factor", from_to(0.5, 1e7));
            let air = own.choice("air", &airs).unwrap_or(AirPermeability::Schirmer);
            factor.map(|factor| Vapour::Resistance { factor, air, wet })
        }
        VapourForm::Table => points(own, ("water_kg_m3", 0.0, 1500.0), ("permeability_s", 0.0, 1e-6), Slope::Any).map(Vapour::Table),
    };
    own.finish();
    read
}

#[derive(Clone, Copy)]
enum LiquidForm {
    None,
    ConductivityPower,
    ConductivityExponential,
    ConductivityTable,
    DiffusivityConstant,
    DiffusivityExponential,
    DiffusivityTable,
}

const LIQUID_FORMS: [(&str, LiquidForm); 7] = [
    ("none", LiquidForm::None),
    ("conductivity-power", LiquidForm::ConductivityPower),
    ("conductivity-exponential", LiquidForm::ConductivityExponential),
    ("conductivity-table", LiquidForm::ConductivityTable),
    ("diffusivity-constant", LiquidForm::DiffusivityConstant),
    ("diffusivity-exponential", LiquidForm::DiffusivityExponential),
    ("diffusivity-table", LiquidForm::DiffusivityTable),
];

fn liquid(own: &Section<'_, '_>) -> Option<Liquid> {
    let read = match own.needs_choice("form", &LIQUID_FORMS)? {
        LiquidForm::None => Some(Liquid::None),
        LiquidForm::ConductivityPower => {
            let saturated = own.needs_number("saturated_s", from_to(1e-30, 1.0));
            let exponent = own.needs_number("exponent", from_to(0.0, 50.0));
            saturated.zip(exponent).map(|(saturated_s, exponent)| Liquid::ConductivityPower { saturated_s, exponent })
        }
        LiquidForm::ConductivityExponential => {
            let offset_kg_m3 = own.number("offset_kg_m3", from_to(-1000.0, 1500.0)).unwrap_or(0.0);
            let scale_kg_m3 = own.number("scale_kg_m3", from_to(1e-3, 1e4)).unwrap_or(1.0);
            own.needs_numbers("coefficients", from_to(-1e9, 1e9)).map(|coefficients| Liquid::ConductivityExponential {
                offset_kg_m3,
                scale_kg_m3,
                coefficients,
            })
        }
        LiquidForm::ConductivityTable => {
            points(own, ("water_kg_m3", 0.0, 1500.0), ("conductivity_s", 1e-40, 1.0), Slope::Any).map(Liquid::ConductivityTable)
        }
        LiquidForm::DiffusivityConstant => own.needs_number("diffusivity_m2_s", from_to(0.0, 1.0)).map(Liquid::DiffusivityConstant),
        LiquidForm::DiffusivityExponential => {
            let absorption = own.needs_number("absorption_kg_m2_s05", from_to(1e-6, 10.0));
            let factor = own.number("factor", from_to(1e-3, 1e3)).unwrap_or(3.8);
            let base = own.number("base", from_to(1.0, 1e9)).unwrap_or(1000.0);
            absorption.map(|absorption_kg_m2_s05| Liquid::DiffusivityExponential { absorption_kg_m2_s05, factor, base })
        }
        LiquidForm::DiffusivityTable => {
            points(own, ("water_kg_m3", 0.0, 1500.0), ("diffusivity_m2_s", 1e-30, 1.0), Slope::Any).map(Liquid::DiffusivityTable)
        }
    };
    own.finish();
    read
}

fn heat(own: &Section<'_, '_>) -> Option<Heat> {
    let table = own.has("water_kg_m3");
    let conductivity_table =
        if table { points(own, ("water_kg_m3", 0.0, 1500.0), ("conductivity_w_mk", 0.001, 500.0), Slope::Any) } else { Some(Vec::new()) };
    let dry = if table { Some(0.0) } else { own.needs_number("conductivity_w_mk", from_to(0.001, 500.0)) };
    let conductivity_per_water = own.number("conductivity_per_water", from_to(0.0, 1.0)).unwrap_or(0.0);
    let density = own.needs_number("density_kg_m3", from_to(1.0, 20_000.0));
    let specific = own.needs_number("specific_j_kgk", from_to(1.0, 10_000.0));
    own.finish();
    Some(Heat {
        conductivity_w_mk: dry?,
        conductivity_per_water,
        conductivity_table: conductivity_table?,
        density_kg_m3: density?,
        specific_j_kgk: specific?,
    })
}

/// Exponents of porosity and of the air-filled share.
#[derive(Clone, Copy)]
struct PoreLaw(f64, f64);

/// What a mortar's mix says of its lime, where the layer is one. A mix that was refused says nothing, and then nothing else is missed.
struct FromMix {
    named: bool,
    portlandite_mol_m3: Option<f64>,
    porosity: Option<f64>,
}

impl FromMix {
    /// A number as written, else the mix's, else a problem unless a mix was named.
    fn or_written(&self, own: &Section<'_, '_>, key: &'static str, bounds: Bounds, mixed: Option<f64>) -> Option<f64> {
        if own.has(key) || !(self.named || mixed.is_some()) { own.needs_number(key, bounds) } else { mixed }
    }
}

fn lime(own: &Section<'_, '_>, from_mix: &FromMix) -> Option<TrialLime> {
    let laws = [("millington-quirk", PoreLaw(4.0 / 3.0, 10.0 / 3.0)), ("thiery", PoreLaw(2.74, 4.20))];
    let portlandite = from_mix.or_written(own, "portlandite_mol_m3", from_to(1.0, 30_000.0), from_mix.portlandite_mol_m3);
    let rate = own.needs_number("rate_per_s", from_to(1e-9, 1e6));
    let activation_j_mol = own.number("activation_j_mol", from_to(0.0, 2e5)).unwrap_or(0.0);
    let [needs_film, narrows, feeds_back] = ["needs_film", "narrows", "feeds_back"].map(|key| own.flag(key, false));
    let constant = own.number("diffusivity_m2_s", from_to(1e-15, 1e-3)).map(CarbonDiffusion::Constant);
    let law = own.choice("pore_law", &laws).and_then(|law| {
        let factor = own.number("factor", from_to(1e-4, 100.0)).unwrap_or(1.0);
        let porosity = from_mix.or_written(own, "porosity", from_to(0.01, 0.95), from_mix.porosity);
        porosity.map(|porosity| CarbonDiffusion::PoreLaw { porosity, factor, porosity_exponent: law.0, air_exponent: law.1 })
    });
    if own.has("diffusivity_m2_s") == own.has("pore_law") {
        one_of(own, "diffusivity_m2_s", "pore_law");
    }
    own.finish();
    Some(TrialLime {
        portlandite_mol_m3: portlandite?,
        rate_per_s: rate?,
        diffusion: constant.or(law)?,
        activation_j_mol,
        needs_film,
        narrows,
        feeds_back,
    })
}
