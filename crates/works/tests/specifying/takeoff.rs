//! Quantities: a worked take-off, and identities.
//!
//! Source of the take-off: worked by hand with the same form of yield model (derived: it checks the arithmetic of areas, thicknesses, allowances and
//! units, not the model itself, whose check against handbook yields stands with the materials).

use materials::Mix;
use survey::{Evenness, Outline};
use works::*;

use crate::fixture::*;

fn taken_off(job: &Inputs) -> Quantities {
    let survey = survey(job);
    quantities(&survey, &specify(&survey, job), job)
}

/// derived: 100 m² of NHL 3.5 1:2½ throughout: 3 mm dubbing +10 %, 10 mm first coat +15 %, 8 mm straightening +10 %, 7 mm finish +20 % make
/// 0.33 + 1.15 + 0.88 + 0.84 = 3.20 m³ of mortar, 806 kg of lime (33 bags of 25 kg), 4656 kg of dry sand, 3.88 m³ damp at 25 % of bulking.
/// Volumes are exact; masses within 3 % (the hand's water need is rounded otherwise).
#[test]
fn a_hundred_square_metres() {
    let mut job = inputs();
    job.building.walls[0].outline = Outline::Rectangle { length_m: 25.0, height_m: 4.0 };
    // A plane wall, so that straightening coats are as thick as the job gives them.
    job.building.walls[0].evenness = Evenness::Gaps { gaps_m: vec![0.0; 10] };
    let sand = job.catalogue.sands.get_mut("sharp-0-4").unwrap();
    sand.bulking = 0.25;
    let coat = |slug: &str, kind, thickness_m, placing| CoatAsked {
        slug: slug.to_owned(),
        kind,
        mix: Mix { lime: "nhl-3-5".to_owned(), sand: "sharp-0-4".to_owned(), sand_parts: 2.5 },
        thickness_m,
        placing,
        least_wait_days: 7.0,
    };
    job.system.coats = vec![
        coat("dubbing", CoatKind::Straightening, 0.003, Placing::Laid),
        coat("first", CoatKind::Scud, 0.010, Placing::Thrown),
        coat("straightening", CoatKind::Straightening, 0.008, Placing::Laid),
        coat("finish", CoatKind::Finish, 0.007, Placing::Thrown),
    ];
    job.system.limewash_coats = known(0);
    let a = &mut job.allowances;
    (a.waste_laid, a.rebound_scud, a.rebound_thrown, a.waste_lime, a.waste_sand) =
        (known(0.10), known(0.15), known(0.20), known(0.0), known(0.0));
    let found = taken_off(&job);
    let mixed: Vec<f64> = found.walls[0].coats.iter().map(|coat| coat.mixed_m3).collect();
    for (ours, hand) in mixed.iter().zip([0.33, 1.15, 0.88, 0.84]) {
        assert!((ours - hand).abs() < 1e-9, "{ours} for {hand}");
    }
    let of = |slug: &str| found.materials.iter().find(|material| material.slug == slug).unwrap();
    let lime = of("nhl-3-5");
    println!("lime {:.0} kg, {} bags", lime.amount, lime.units);
    assert!((lime.amount / 806.4 - 1.0).abs() < 0.03, "{}", lime.amount);
    assert!((32..=34).contains(&lime.units), "{}", lime.units);
    let dry_kg: f64 = found.walls[0].coats.iter().map(|coat| coat.sand_kg).sum();
    assert!((dry_kg / 4656.0 - 1.0).abs() < 0.03, "{dry_kg}");
    let damp = found.reckonings.get("materials.sharp-0-4.volume").unwrap();
    let reckoning::Value::Number { amount, .. } = damp.value else { panic!("{damp:?}") };
    println!("sand {dry_kg:.0} kg dry, {amount:.2} m³ damp");
    assert!((amount / 3.88 - 1.0).abs() < 0.03, "{amount}");
}

/// derived by hand: 100 m², five coats, 3.5 m² a litre are 142.9 litres; at one of putty to three of water 35.7 litres of putty.
#[test]
fn limewash() {
    let mut job = inputs();
    job.building.walls[0].outline = Outline::Rectangle { length_m: 25.0, height_m: 4.0 };
    job.system.lime = known("nhl-3-5".to_owned());
    job.allowances.waste_lime = known(0.0);
    let found = taken_off(&job);
    assert!((found.walls[0].limewash_l - 142.857).abs() < 1e-2);
    let putty = found.materials.iter().find(|material| material.slug == "putty-cl90").unwrap();
    assert!((putty.amount / 1.35 - 35.714).abs() < 1e-2, "{}", putty.amount);
    assert_eq!(putty.serves, ["limewash"]);
}

#[test]
fn units_of_sale_cover_the_need_and_are_not_one_too_many() {
    let found = taken_off(&inputs());
    let catalogue = inputs().catalogue;
    for material in &found.materials {
        let each = catalogue
            .limes
            .get(&material.slug)
            .map(|lime| lime.unit_kg)
            .or_else(|| catalogue.sands.get(&material.slug).map(|sand| sand.unit_kg))
            .unwrap_or_else(|| match material.slug.as_str() {
                "hessian" => 63.0,
                "ties" => 100.0,
                "water" => 1000.0,
                other => panic!("{other}"),
            });
        let bought = f64::from(material.units) * each;
        assert!(bought >= material.amount - 1e-6 && bought - each < material.amount, "{material:?}");
        assert!(found.reckonings.get(&format!("materials.{}.amount", material.slug)).is_some());
        assert!(found.reckonings.get(&format!("materials.{}.units", material.slug)).is_some());
    }
    let slugs: Vec<&str> = found.materials.iter().map(|m| m.slug.as_str()).collect();
    assert_eq!(slugs, ["putty-cl90", "sharp-0-4", "hessian", "ties", "water"]);
    assert!(found.materials[1].one_load, "the finish sand comes in one load");
}

/// Ranges hold the figure; a class by eye leaves more open than ten gaps.
#[test]
fn ranges_are_honest() {
    let width = |evenness: Evenness, stage| {
        let mut job = inputs();
        job.building.walls[0].evenness = evenness;
        job.building.stage = stage;
        let found = taken_off(&job);
        for coat in &found.walls[0].coats {
            assert!(coat.mixed_range_m3.0 <= coat.mixed_m3 && coat.mixed_m3 <= coat.mixed_range_m3.1);
            assert!(coat.mixed_m3 > coat.net_m3);
        }
        let range = found.walls[0].coats[1].mixed_range_m3;
        range.1 / range.0
    };
    let gaps = || Evenness::Gaps { gaps_m: vec![0.022, 0.026, 0.024, 0.020, 0.025, 0.023, 0.027, 0.024, 0.022, 0.027] };
    let opened = width(gaps(), survey::Stage::AfterOpeningUp);
    assert!(width(gaps(), survey::Stage::BeforeStripping) > opened);
}

/// Twice the wall takes twice the mortar.
#[test]
fn twice_the_wall() {
    let mut job = inputs();
    let one = taken_off(&job);
    job.building.walls[0].outline = Outline::Rectangle { length_m: 16.0, height_m: 3.5 };
    let two = taken_off(&job);
    for (single, double) in one.walls[0].coats.iter().zip(&two.walls[0].coats) {
        assert!((double.mixed_m3 / single.mixed_m3 - 2.0).abs() < 1e-12);
    }
    assert!((two.area_m2 / one.area_m2 - 2.0).abs() < 1e-12);
}

#[test]
fn a_figure_can_be_asked_why_down_to_what_was_assumed() {
    let mut job = inputs();
    job.building.walls[0].evenness =
        Evenness::Class { class: reckoning::Known::assumed(survey::EvennessClass::Rubble, "not answered", None) };
    let found = taken_off(&job);
    let volume =
        found.reckonings.get("walls.north.coats.straightening-2.volume").or(found.reckonings.get("walls.north.coats.straightening.volume"));
    assert!(volume.unwrap().rests_on_assumption());
    assert!(!found.reckonings.get("walls.north.coats.finish.volume").unwrap().rests_on_assumption());
}
