//! An invented house of one or more walls on which every rule agrees, from which each test departs in one thing.

use jiff::civil::date;
use materials::Catalogue;
use reckoning::{Finding, Grade, Known};
use survey::*;
use works::*;

#[path = "../common/mod.rs"]
mod common;
pub use common::known;

/// A house wall of 8 by 3.5 m without openings, squared stone, dry, long bare, under eaves.
pub fn wall(slug: &str) -> WallFound {
    WallFound {
        slug: slug.to_owned(),
        name: slug.to_owned(),
        outline: Outline::Rectangle { length_m: 8.0, height_m: 3.5 },
        faces_deg: 0.0,
        openings: Vec::new(),
        chimneys: Vec::new(),
        lines: Lines::default(),
        joints: Vec::new(),
        masonry: known("red-sandstone".to_owned()),
        thickness_m: known(0.6),
        joint_share: known(0.2),
        old_covering: known(OldCovering::Bare),
        bared_months: None,
        dampness: Dampness { low: known(0.2), middle: known(0.15), high: known(0.15), face: None },
        splash_s: known(20.0),
        evenness: Evenness::Gaps { gaps_m: vec![0.010; 10] },
        inside: known(Inside::Heated),
        exposure: Exposure { terrain: known(Terrain::Town), obstruction_m: known(Some(15.0)), overhang: known(true) },
    }
}

/// A window in the middle of [`wall`].
pub fn window(slug: &str) -> Opening {
    Opening {
        slug: slug.to_owned(),
        kind: OpeningKind::Window,
        width_m: 1.0,
        height_m: 1.4,
        left_m: 3.0,
        sill_m: 0.9,
        reveal_m: 0.18,
        head: true,
        has_sill: true,
        margin_m: 0.0,
    }
}

pub fn inputs() -> Inputs {
    use DampKind::*;
    let building = Building {
        stage: Stage::AfterOpeningUp,
        surveyed_on: "2026-01-05".to_owned(),
        protected: known(false),
        causes_of_damp: [Gutters, Downpipes, Wallhead, Skews, HighGround, RustingIron, Salts]
            .into_iter()
            .map(|kind| CauseOfDamp { kind, state: DampState::Sound, walls: Vec::new() })
            .collect(),
        walls: vec![wall("north")],
        small_opening_m2: 0.5,
    };
    let mut job = common::inputs(Catalogue::shipped(), building);
    job.about.dated = date(2026, 1, 10);
    job.system.straight_edge_m = known(0.9);
    job.system.colour = Known::assumed("the off-white of lime".to_owned(), "common practice, no source", None);
    job.system.cover = known("damp-hessian".to_owned());
    job.window.start = date(2026, 4, 27);
    job.scaffold.from = known(date(2026, 4, 20));
    job.rates.outputs.preparation = known(20.0);
    job.rates.outputs.straightening = known(25.0);
    job.rates.outputs.finish = known(36.0);
    job.rates.outputs.limewash = known(100.0);
    job.rates.outputs.reveals_m = known(30.0);
    job.rates.materials = Vec::new();
    job.allowances.waste_laid = known(0.075);
    job.allowances.limewash_m2_l = known(3.5);
    job.allowances.hessian_lap = known(0.15);
    job
}

pub fn survey(inputs: &Inputs) -> Survey {
    measure(inputs.building.clone()).unwrap()
}

pub fn specified(inputs: &Inputs) -> Specification {
    specify(&survey(inputs), inputs)
}

pub fn of_rule<'a>(specification: &'a Specification, rule: &str) -> Vec<&'a Finding> {
    specification.findings.iter().filter(|finding| finding.rule == rule).collect()
}

/// The gravest grade of a rule.
pub fn grade(inputs: &Inputs, rule: &str) -> Grade {
    let specification = specified(inputs);
    of_rule(&specification, rule).iter().map(|finding| finding.grade).min().unwrap_or_else(|| panic!("no report of {rule}"))
}
