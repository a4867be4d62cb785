//! The coats of a wall: the default system (scud 1:1 thrown, straightening 1:2 as the evenness asks, finish 1:2½ thrown, limewash), or those the
//! job gives.

use std::collections::BTreeSet;

use materials::{Catalogue, Mix, Mortar};
use reckoning::{Finding, Grade};
use survey::{WallFound, WallMeasured};

use crate::specify::passes::{LEAST_COVER_M, Pass, passes};
use crate::specify::{CoatSpecification, Limewash, Protection, WallSpecification, words};
use crate::{CoatAsked, CoatKind, Inputs, Placing, ProtectionAsked};

/// Proportions of the default system, parts of sand to one of lime: the trade's facts.
const SCUD_PARTS: f64 = 1.0;
const STRAIGHTENING_PARTS: f64 = 2.0;
const FINISH_PARTS: f64 = 2.5;
/// Thicknesses, m: 10th, 50th and 90th percentile. Scud one grain thick (3 to 4 mm): the trade's facts. Finish 8 mm: common practice, no source.
const SCUD_M: [f64; 3] = [0.003, 0.0035, 0.004];
const FINISH_M: [f64; 3] = [0.0065, 0.008, 0.0095];
/// Least wait, days at or above 5 °C: common practice, no source.
const LEAST_WAIT_DAYS: f64 = 7.0;
/// Spread of a thickness that the job gives, as shares of it: common practice, no source.
const SPREAD: [f64; 3] = [0.85, 1.0, 1.15];
/// Days a cover hangs, days it is kept damp, wettings a day: common practice, no source; the same as in the trial of the curing model.
const COVER_DAYS: (u32, u32, u32) = (7, 3, 3);
/// The lime of limewash and of any coat whose own cannot be reckoned.
pub(crate) const PUTTY: &str = "putty-cl90";
const SHARP: &str = "sharp-0-4";

/// What is needed to make coats, and what went wrong on the way.
pub(crate) struct Bench<'a> {
    inputs: &'a Inputs,
    lime: &'a str,
    shipped: Catalogue,
    told: BTreeSet<String>,
    /// Faults found in names and mixes, one for each.
    pub faults: Vec<Finding>,
}

impl<'a> Bench<'a> {
    pub(crate) fn new(inputs: &'a Inputs, lime: &'a str) -> Self {
        Self { inputs, lime, shipped: Catalogue::shipped(), told: BTreeSet::new(), faults: Vec::new() }
    }

    /// The mortar of a mix; where the catalogue cannot make it, a finding of grade stop and the nearest mortar of the shipped one.
    fn mortar(&mut self, mix: &Mix) -> Option<Mortar> {
        let fault = match self.inputs.catalogue.mortar(mix) {
            Ok(mortar) => return Some(mortar),
            Err(fault) => fault.to_string(),
        };
        if self.told.insert(fault.clone()) {
            self.faults.push(Finding {
                grade: Grade::Stop,
                rule: "materials-known".to_owned(),
                place: "job".to_owned(),
                says: fault,
                reason: "Quantities, strength and curing follow from the lime and the sand: here they are reckoned with putty and sharp sand instead."
                    .to_owned(),
                source: "the catalogue".to_owned(),
                remedy: "Name a lime and a sand of the catalogue, or add the entry with its data sheet.".to_owned(),
            });
        }
        let parts = if mix.sand_parts.is_finite() { mix.sand_parts.clamp(0.5, 4.0) } else { STRAIGHTENING_PARTS };
        self.shipped.mortar(&Mix { lime: PUTTY.to_owned(), sand: SHARP.to_owned(), sand_parts: parts }).ok()
    }

    fn mix(&self, kind: CoatKind) -> Mix {
        let system = &self.inputs.system;
        let (sand, sand_parts) = match kind {
            CoatKind::Scud => (&system.sand.value, SCUD_PARTS),
            CoatKind::Straightening => (&system.sand.value, STRAIGHTENING_PARTS),
            CoatKind::Finish => (&system.finish_sand.value, FINISH_PARTS),
        };
        Mix { lime: self.lime.to_owned(), sand: sand.clone(), sand_parts }
    }

    fn protection(&self) -> Protection {
        if let ProtectionAsked::Policy(policy) = self.inputs.system.protection {
            return Protection::by(policy);
        }
        let name = &self.inputs.system.cover.value;
        let (days, damp_days, wettings_a_day) = COVER_DAYS;
        match self.inputs.catalogue.covers.get(name) {
            Some(cover) if cover.wetted => Protection { cover: name.clone(), days, damp_days, wettings_a_day, policy: None },
            Some(_) if name == "none" => Protection { cover: name.clone(), days: 0, damp_days: 0, wettings_a_day: 0, policy: None },
            _ => Protection { cover: name.clone(), days, damp_days: 0, wettings_a_day: 0, policy: None },
        }
    }
}

/// A coat before its mortar is known.
struct Draft {
    slug: String,
    kind: CoatKind,
    mix: Mix,
    thickness_m: [f64; 3],
    mean_m: f64,
    placing: Placing,
    least_wait_days: f64,
    hollows_only: bool,
}

/// Everything one wall gets.
pub(crate) fn wall(bench: &mut Bench, found: &WallFound, measured: &WallMeasured) -> WallSpecification {
    let drafts = if bench.inputs.system.coats.is_empty() { chosen(bench, measured) } else { asked(bench, measured) };
    let coats = drafts.into_iter().filter_map(|draft| finish_draft(bench, found, draft)).collect();
    WallSpecification { slug: found.slug.clone(), coats, limewash: limewash(bench) }
}

fn chosen(bench: &Bench, measured: &WallMeasured) -> Vec<Draft> {
    let laid = if bench.inputs.system.all_thrown.value { Placing::Thrown } else { Placing::Laid };
    let draft = |slug: String, kind, thickness_m, mean_m, placing| Draft {
        slug,
        kind,
        mix: bench.mix(kind),
        thickness_m,
        mean_m,
        placing,
        least_wait_days: LEAST_WAIT_DAYS,
        hollows_only: false,
    };
    let mut drafts = vec![draft("scud".to_owned(), CoatKind::Scud, SCUD_M, SCUD_M[1], Placing::Thrown)];
    let relief = measured.relief.under(bench.inputs.system.straight_edge_m.value);
    let passes: Vec<Pass> = passes(&relief, bench.inputs.system.pinning_m);
    for (index, pass) in passes.iter().enumerate() {
        let slug = if passes.len() == 1 { "straightening".to_owned() } else { format!("straightening-{}", index + 1) };
        let mut one = draft(slug, CoatKind::Straightening, pass.thickness_m, pass.mean_m, laid);
        one.hollows_only = pass.share < 1.0;
        drafts.push(one);
    }
    drafts.push(draft("finish".to_owned(), CoatKind::Finish, FINISH_M, FINISH_M[1], Placing::Thrown));
    drafts
}

/// The job's own coats. A straightening keeps the spread of the wall's relief round the thickness the job gives.
fn asked(bench: &Bench, measured: &WallMeasured) -> Vec<Draft> {
    let relief = measured.relief.under(bench.inputs.system.straight_edge_m.value);
    let one = |coat: &CoatAsked| {
        let middle = coat.thickness_m;
        let (thickness_m, mean_m) = match coat.kind {
            CoatKind::Straightening => {
                let about = |depth: f64| (middle + depth - relief.percentiles_m[1]).max(LEAST_COVER_M.min(middle));
                (relief.percentiles_m.map(about), about(relief.mean_m))
            }
            CoatKind::Scud | CoatKind::Finish => (SPREAD.map(|share| share * middle), middle),
        };
        Draft {
            slug: coat.slug.clone(),
            kind: coat.kind,
            mix: coat.mix.clone(),
            thickness_m,
            mean_m,
            placing: coat.placing,
            least_wait_days: coat.least_wait_days,
            hollows_only: false,
        }
    };
    let straightenings = bench.inputs.system.coats.iter().filter(|coat| coat.kind == CoatKind::Straightening).count();
    let mut seen = 0;
    bench
        .inputs
        .system
        .coats
        .iter()
        .map(|coat| {
            let mut draft = one(coat);
            if coat.kind == CoatKind::Straightening {
                seen += 1;
                // Only the first of several straightening coats meets the wall's own relief; what follows lies on a straightened face.
                if straightenings > 1 && seen > 1 {
                    draft.thickness_m = SPREAD.map(|share| share * coat.thickness_m);
                    draft.mean_m = coat.thickness_m;
                }
            }
            draft
        })
        .collect()
}

fn finish_draft(bench: &mut Bench, found: &WallFound, draft: Draft) -> Option<CoatSpecification> {
    let mortar = bench.mortar(&draft.mix)?;
    let dense = bench.inputs.catalogue.masonries.get(&found.masonry.value).is_some_and(|masonry| masonry.dense);
    let largest_grain_mm = bench.inputs.catalogue.sands.get(&draft.mix.sand).map_or(4.0, |sand| sand.largest_mm);
    let method = words::method(draft.kind, draft.placing, draft.hollows_only, dense, &mortar);
    Some(CoatSpecification {
        name: words::coat_name(&draft.slug, draft.kind, draft.hollows_only),
        kind: draft.kind,
        mix: draft.mix,
        mortar,
        thickness_m: draft.thickness_m,
        mean_thickness_m: draft.mean_m,
        placing: draft.placing,
        largest_grain_mm,
        protection: bench.protection(),
        least_wait_days: draft.least_wait_days,
        test: words::test(draft.kind),
        method,
        slug: draft.slug,
    })
}

fn limewash(bench: &Bench) -> Limewash {
    let inputs = bench.inputs;
    Limewash {
        coats: inputs.system.limewash_coats.value,
        water_parts: inputs.allowances.limewash_water.value,
        interval_h: 24.0,
        lime: PUTTY.to_owned(),
        colour: inputs.system.colour.value.clone(),
        least_wait_days: LEAST_WAIT_DAYS,
    }
}
