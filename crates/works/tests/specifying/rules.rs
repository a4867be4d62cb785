//! Every rule agrees on the fixture and departs when its one thing is changed.

use std::collections::BTreeSet;

use jiff::civil::date;
use materials::Mix;
use reckoning::{Grade, Known};
use survey::*;
use works::*;

use crate::fixture::*;

/// Least number of rules that every job is told about.
const LEAST: usize = 24;

fn coat(slug: &str, kind: CoatKind, lime: &str, sand_parts: f64, thickness_m: f64, placing: Placing) -> CoatAsked {
    let mix = Mix { lime: lime.to_owned(), sand: "sharp-0-4".to_owned(), sand_parts };
    CoatAsked { slug: slug.to_owned(), kind, mix, thickness_m, placing, least_wait_days: 7.0 }
}

fn three(parts: [f64; 3], thickness_m: [f64; 3]) -> Vec<CoatAsked> {
    vec![
        coat("scud", CoatKind::Scud, "putty-cl90", parts[0], thickness_m[0], Placing::Thrown),
        coat("straightening", CoatKind::Straightening, "putty-cl90", parts[1], thickness_m[1], Placing::Laid),
        coat("finish", CoatKind::Finish, "putty-cl90", parts[2], thickness_m[2], Placing::Thrown),
    ]
}

fn with_coats(coats: Vec<CoatAsked>) -> Inputs {
    let mut job = inputs();
    job.system.coats = coats;
    job
}

#[test]
fn every_rule_is_reported_and_agrees_on_a_good_job() {
    let specification = specified(&inputs());
    let rules: BTreeSet<&str> = specification.findings.iter().map(|f| f.rule.as_str()).collect();
    assert!(rules.len() >= LEAST, "{}", rules.len());
    // Limewash by rule follows after a week; on air lime the note that four weeks are better stands by design.
    let odd: Vec<_> = specification.findings.iter().filter(|f| f.grade != Grade::Agrees && f.rule != "limewash-on-uncured-coat").collect();
    assert!(odd.is_empty(), "{odd:#?}");
}

#[test]
fn findings_are_sentences_with_reason_source_and_remedy() {
    let mut job = inputs();
    job.system.cement_share = 0.1;
    job.building.causes_of_damp.clear();
    job.building.walls[0].dampness.low = known(0.7);
    job.system.finish_sand = known("soft-building".to_owned());
    job.system.lime = known("nhl-5".to_owned());
    let specification = specified(&job);
    for finding in &specification.findings {
        assert!(finding.says.ends_with('.') && finding.reason.ends_with('.'), "{finding:?}");
        assert!(!finding.source.is_empty());
        assert_eq!(finding.remedy.is_empty(), finding.grade == Grade::Agrees, "{finding:?}");
        assert!(finding.grade == Grade::Agrees || finding.remedy.ends_with('.'), "{finding:?}");
    }
    assert!(specification.findings.windows(2).all(|pair| pair[0].grade <= pair[1].grade), "gravest first");
}

/// published rule and check values: mixes 1:2, 1:2½, 1:2 fail at the finish unless the exposure is severe (conservation article on lime harling).
#[test]
fn strength_falls_outward() {
    assert_eq!(grade(&with_coats(three([1.0, 2.0, 2.5], [0.0035, 0.010, 0.008])), "strength-outward"), Grade::Agrees);
    let mut job = with_coats(three([2.0, 2.5, 2.0], [0.0035, 0.010, 0.008]));
    assert_eq!(grade(&job, "strength-outward"), Grade::Stop);
    assert!(of_rule(&specified(&job), "strength-outward")[0].place.ends_with("coats.finish"));
    job.building.walls[0].exposure = Exposure { terrain: known(Terrain::Shore), obstruction_m: known(None), overhang: known(false) };
    assert_eq!(grade(&job, "strength-outward"), Grade::Think);
}

/// published rule: 12, 10, 8 passes, 8, 10 flags, a thin first coat is excepted (suppliers' guidance).
#[test]
fn thickness_falls_outward_but_for_the_scud() {
    assert_eq!(grade(&with_coats(three([1.0, 2.0, 2.5], [0.004, 0.012, 0.008])), "thickness-outward"), Grade::Agrees);
    assert_eq!(grade(&with_coats(three([1.0, 2.0, 2.5], [0.008, 0.007, 0.010])), "thickness-outward"), Grade::Think);
}

/// published limit: a single pass of 18 mm is refused, 15 mm is the most for putty.
#[test]
fn pass_limit() {
    assert_eq!(grade(&with_coats(three([1.0, 2.0, 2.5], [0.0035, 0.018, 0.008])), "pass-limit"), Grade::Stop);
    assert_eq!(grade(&with_coats(three([1.0, 2.0, 2.5], [0.0035, 0.010, 0.0095])), "pass-limit"), Grade::Think);
}

#[test]
fn grain_against_thickness() {
    assert_eq!(grade(&with_coats(three([1.0, 2.0, 2.5], [0.0035, 0.006, 0.005])), "grain-against-thickness"), Grade::Think);
    let mut job = inputs();
    job.system.sand = known("gritty-0-8".to_owned());
    assert_eq!(grade(&job, "grain-against-thickness"), Grade::Think, "grains of 8 mm in a scud of 3.5 mm");
}

/// Changes of one thing each, with the rule they break and the grade it is told with.
#[test]
fn each_departure_is_told() {
    type Change = fn(&mut Inputs);
    let cases: &[(&str, Grade, Change)] = &[
        ("consent", Grade::Think, |j| j.building.protected = known(true)),
        ("consent", Grade::Think, |j| j.building.protected = Known::assumed(false, "not asked", None)),
        ("sample-panel", Grade::Think, |j| j.about.dated = date(2026, 4, 20)),
        ("stage-of-survey", Grade::Think, |j| j.building.stage = Stage::BeforeStripping),
        ("old-covering", Grade::Think, |j| j.building.walls[0].old_covering = known(OldCovering::Paint)),
        ("putty-maturity", Grade::Note, |j| j.about.dated = date(2026, 4, 1)),
        ("hot-mixing", Grade::Think, |j| j.system.lime = known("quicklime-cl90".to_owned())),
        ("one-load", Grade::Note, |j| j.system.finish_sand = known("gritty-0-8".to_owned())),
        ("cause-of-damp", Grade::Stop, |j| j.building.causes_of_damp[0].state = DampState::ToMend),
        ("cause-of-damp", Grade::Think, |j| j.building.causes_of_damp[1].state = DampState::NotSeen),
        ("cause-of-damp", Grade::Think, |j| j.building.causes_of_damp.truncate(3)),
        ("salts", Grade::Think, |j| j.building.causes_of_damp[6].state = DampState::ToMend),
        ("wall-too-wet", Grade::Think, |j| j.building.walls[0].dampness.low = known(0.4)),
        ("wall-too-wet", Grade::Stop, |j| j.building.walls[0].dampness.high = known(0.7)),
        ("bared-too-recently", Grade::Stop, |j| j.building.walls[0].bared_months = Some(known(1.0))),
        ("bared-too-recently", Grade::Think, |j| j.building.walls[0].old_covering = known(OldCovering::Cement)),
        ("suction", Grade::Note, |j| j.building.walls[0].splash_s = known(5.0)),
        ("suction", Grade::Think, |j| j.building.walls[0].splash_s = known(300.0)),
        ("weather-on-both-sides", Grade::Think, |j| j.building.walls[0].inside = known(Inside::FreeStanding)),
        ("cement", Grade::Stop, |j| j.system.cement_share = 0.05),
        ("cement", Grade::Stop, |j| j.system.cement_share = f64::NAN),
        ("binder-against-stone", Grade::Think, |j| j.system.lime = known("nhl-5".to_owned())),
        ("binder-against-stone", Grade::Stop, |j| {
            j.system.lime = known("nhl-5".to_owned());
            j.building.walls[0].masonry = known("soft-brick".to_owned());
        }),
        ("binder-against-exposure", Grade::Think, |j| {
            j.building.walls[0].exposure = Exposure { terrain: known(Terrain::Shore), obstruction_m: known(None), overhang: known(false) };
        }),
        ("soft-sand", Grade::Stop, |j| j.system.sand = known("soft-building".to_owned())),
        ("sand-fines", Grade::Think, |j| j.system.sand = known("soft-building".to_owned())),
        ("voids-filled", Grade::Think, |j| j.system.coats = three([1.0, 2.0, 3.5], [0.0035, 0.010, 0.008])),
        ("scud-on-dense-wall", Grade::Stop, |j| {
            j.building.walls[0].masonry = known("granite".to_owned());
            j.system.coats = three([1.0, 2.0, 2.5], [0.0035, 0.010, 0.008])[1..].to_vec();
        }),
        ("limewash-coats", Grade::Think, |j| j.system.limewash_coats = known(0)),
        ("limewash-on-uncured-coat", Grade::Note, |_| {}),
        ("deep-hollows", Grade::Note, |j| j.building.walls[0].evenness = Evenness::Gaps { gaps_m: vec![0.08; 10] }),
        ("straightening-fills", Grade::Think, |j| {
            j.building.walls[0].evenness = Evenness::Gaps { gaps_m: vec![0.08; 10] };
            j.system.coats = three([1.0, 2.0, 2.5], [0.0035, 0.009, 0.008]);
        }),
        ("straight-edge", Grade::Note, |j| {
            j.building.walls[0].evenness = Evenness::Gaps { gaps_m: vec![0.03; 10] };
            j.system.straight_edge_m = known(1.8);
        }),
        ("least-interval", Grade::Stop, |j| {
            j.system.coats = three([1.0, 2.0, 2.5], [0.0035, 0.010, 0.008]);
            j.system.coats[0].least_wait_days = 1.0;
        }),
        ("frost-window", Grade::Think, |j| j.window.start = date(2026, 9, 14)),
        ("frost-window", Grade::Stop, |j| {
            j.window.start = date(2026, 12, 1);
            j.system.lime = known("nhl-3-5".to_owned());
            j.building.walls[0].exposure = Exposure { terrain: known(Terrain::Shore), obstruction_m: known(None), overhang: known(false) };
        }),
        ("binder-against-season", Grade::Think, |j| j.window.start = date(2026, 11, 2)),
        ("cover", Grade::Think, |j| j.system.cover = known("none".to_owned())),
        ("cover", Grade::Think, |j| j.system.cover = known("heated-shelter".to_owned())),
        ("cover", Grade::Stop, |j| j.system.cover = known("blanket".to_owned())),
        ("reveals-first", Grade::Note, |j| j.building.walls[0].openings = vec![Opening { reveal_m: 0.0, ..window("w1") }]),
        ("reveal-depth", Grade::Think, |j| j.building.walls[0].openings = vec![Opening { reveal_m: 0.02, ..window("w1") }]),
        ("harl-dies-to-margin", Grade::Note, |j| j.building.walls[0].openings = vec![Opening { reveal_m: 0.0, ..window("w1") }]),
        ("base-stop", Grade::Think, |j| j.building.causes_of_damp[4].state = DampState::NotSeen),
        ("wallhead-and-chimneys", Grade::Note, |j| {
            j.building.walls[0].chimneys = vec![Chimney { length_m: 0.9, width_m: 0.6, height_m: 1.2 }];
        }),
        ("scaffold-ties", Grade::Note, |j| j.building.walls[0].outline = Outline::Rectangle { length_m: 6.0, height_m: 5.0 }),
        ("wet-edge", Grade::Think, |j| j.building.walls[0].outline = Outline::Rectangle { length_m: 20.0, height_m: 3.0 }),
        ("materials-known", Grade::Stop, |j| j.system.lime = known("chalk".to_owned())),
    ];
    for (rule, expected, change) in cases {
        let mut job = inputs();
        change(&mut job);
        assert_eq!(grade(&job, rule), *expected, "{rule}");
    }
}

// 20 m by 3 m are 60 m²: at 36 m² a gang-day, 200 m² a day of cloth hung, 60 ÷ 36 + 60 ÷ 200 = 1.967 days, so a gang covers 60 ÷ 1.967 = 30.5 m² in a day; a downpipe in
// the middle parts it into two bays of 0.983 of a day, and four masons throw it whole.
#[test]
fn a_bay_too_large_for_a_day_is_named_with_its_ways_out() {
    let mut job = inputs();
    job.building.walls[0].outline = Outline::Rectangle { length_m: 20.0, height_m: 3.0 };
    let found = specified(&job).findings.into_iter().find(|finding| finding.rule == "wet-edge").unwrap();
    assert!(found.says.contains("one bay of 60 m²") && found.says.contains("31 m² of it in a day"), "{}", found.says);
    assert!(
        ["another hand", "two gangs", "downpipe", "margin", "smaller"].iter().all(|way| found.remedy.contains(way)),
        "{}",
        found.remedy
    );
    let mut parted = job.clone();
    parted.building.walls[0].joints = vec![HiddenJoint { slug: "pipe".to_owned(), kind: JointKind::Downpipe, at_m: 10.0 }];
    assert_eq!(grade(&parted, "wet-edge"), Grade::Agrees);
    job.gangs[0].masons = 4;
    assert_eq!(grade(&job, "wet-edge"), Grade::Agrees);
}

/// No numbers make it panic, however wrong: what cannot be is refused elsewhere, and here gives findings.
#[test]
fn any_numbers_give_a_specification_and_quantities() {
    let base = survey(&inputs());
    for wild in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, -1.0, 0.0, 1e300, 1e-300] {
        let mut job = inputs();
        job.system.straight_edge_m = known(wild);
        job.allowances.limewash_m2_l = known(wild);
        job.allowances.limewash_water = known(wild);
        job.allowances.waste_lime = known(wild);
        job.rates.outputs.finish = known(wild);
        job.system.limewash_coats = known(u32::MAX);
        quantities(&base, &specify(&base, &job), &job);
        job.system.coats = three([wild; 3], [wild; 3]);
        job.system.coats[0].least_wait_days = wild;
        job.gangs.clear();
        job.calendar.days.clear();
        let specification = specify(&base, &job);
        assert!(!specification.findings.is_empty());
        quantities(&base, &specification, &job);
    }
}

#[test]
fn the_same_thing_on_many_walls_is_said_once() {
    let mut job = inputs();
    job.building.walls = ["north", "east", "south"].map(wall).to_vec();
    for one in &mut job.building.walls {
        one.old_covering = known(OldCovering::Paint);
    }
    let specification = specified(&job);
    let told = of_rule(&specification, "old-covering");
    assert_eq!(told.len(), 1);
    assert!(told[0].says.contains("on every wall"), "{}", told[0].says);
    job.building.walls[1].old_covering = known(OldCovering::Bare);
    let specification = specified(&job);
    let told = of_rule(&specification, "old-covering");
    assert!(told.len() == 1 && told[0].says.contains("on north, south"), "{}", told[0].says);
}

#[test]
fn a_lime_is_chosen_by_exposure_season_and_stone() {
    let open = || {
        let mut job = inputs();
        job.system.lime = Known::assumed("putty-cl90".to_owned(), "common practice, no source", None);
        job
    };
    let lime = |job: &Inputs| specified(job).walls[0].coats[0].mix.lime.clone();
    assert_eq!(lime(&open()), "putty-cl90");
    let mut late = open();
    late.window.start = date(2026, 9, 1);
    assert_eq!(lime(&late), "nhl-3-5");
    late.building.walls[0].masonry = known("soft-brick".to_owned());
    assert_eq!(lime(&late), "nhl-2");
    let mut shore = open();
    shore.building.walls[0].exposure = Exposure { terrain: known(Terrain::Shore), obstruction_m: known(None), overhang: known(false) };
    assert_eq!(lime(&shore), "nhl-3-5");
    assert!(of_rule(&specified(&shore), "lime-chosen")[0].says.contains("north"));
}
