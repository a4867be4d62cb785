//! Old mortar from acid and from thermogravimetry.
//!
//! Sources: two worked acid dissolutions and one thermogravimetry, worked by hand from molar masses (derived: no complete published example was found);
//! Eckel and Boynton, classes of the cementation index (published, from memory).

use materials::Catalogue;
use materials::bench::{Dissolved, Gas, Grading, Hydraulic, Uncertain, dissolved, repair_mix, thermogravimetry};

fn near(ours: f64, theirs: f64, limit: f64) {
    assert!((ours - theirs).abs() <= limit, "ours {ours}, theirs {theirs}");
}

fn siliceous(sample: f64, residue: f64) -> Dissolved {
    let exact = Uncertain::exact;
    Dissolved {
        sample_g: exact(sample),
        residue_g: exact(residue),
        shell_g: exact(0.0),
        carbonated: exact(1.0),
        lost: exact(0.0),
        sand_kg_l: exact(1.5),
        gas: None,
        hydraulic: None,
    }
}

/// derived: 20 g leave 15.2 g; 1 : 4.278 by mass, 1 : 1.803 putty, 1.426 hydrate, 3.579 quicklime.
#[test]
fn an_air_lime_mortar() {
    let old = dissolved(&siliceous(20.0, 15.2)).unwrap();
    near(old.mass.likely, 4.278, 0.003);
    near(old.volume.putty.likely, 1.803, 0.005);
    near(old.volume.hydrate.likely, 1.426, 0.002);
    near(old.volume.quicklime.likely, 3.579, 0.005);
    assert!(old.mass.least == old.mass.likely && old.mass.most == old.mass.likely);
}

/// derived: 50 g with 33.1 g residue, 2 g of shell, 8.10 g CaO, 0.90 g silica, 0.30 g alumina, 0.15 g iron oxide; 1 : 3.50 by mass, 1 : 1.516 by volume,
/// index 0.423, feebly hydraulic.
#[test]
fn a_hydraulic_mortar_with_shell() {
    let exact = Uncertain::exact;
    let chemistry = Hydraulic { lime_g: exact(8.10), silica_g: exact(0.90), alumina_g: 0.30, iron_g: 0.15 };
    let old = dissolved(&Dissolved { shell_g: exact(2.0), hydraulic: Some(chemistry), ..siliceous(50.0, 33.1) }).unwrap();
    near(old.mass.likely, 3.50, 0.01);
    near(old.volume.hydraulic.likely, 1.516, 0.01);
    near(old.silicate.likely, 0.257, 0.001);
    near(old.cementation.unwrap(), 0.423, 0.001);
    let repair = repair_mix(&old, None, &Catalogue::shipped());
    assert_eq!((repair.lime.as_str(), repair.parts), ("nhl-2", 1.5));
}

/// derived: 0.30 % of water and 7.2 % of carbon dioxide; 90.8 % carbonated, 1 : 6.17 by mass.
#[test]
fn thermogravimetry_of_a_young_mortar() {
    let found = thermogravimetry(0.003, 0.072).unwrap();
    near(found.carbonated, 0.908, 0.001);
    near(found.mass, 6.17, 0.01);
    assert!(thermogravimetry(0.3, 0.072).is_err() && thermogravimetry(0.0, 0.0).is_err());
}

/// exact: 10 g of calcite give 4.397 g of carbon dioxide, 2.3943 L at 15 °C and one atmosphere (ideal gas, 23.65 L/mol); so caught, the gas says all had carbonated.
#[test]
fn gas_tells_how_much_had_carbonated() {
    let litres = 10.0 / 100.086 * 8.314_462_618 * 288.15 / 101_325.0 * 1000.0;
    let gas = |litres| Some(Gas { litres: Uncertain::within(litres, 0.02), warm_c: 15.0, pressure_pa: 101_325.0 });
    let all = dissolved(&Dissolved { gas: gas(litres), ..siliceous(50.0, 40.0) }).unwrap();
    near(all.carbonated.unwrap().likely, 1.0, 1e-4);
    near(all.portlandite_g.likely, 7.403, 0.001);
    let half = dissolved(&Dissolved { gas: gas(litres / 2.0), ..siliceous(50.0, 40.0) }).unwrap();
    assert!(half.portlandite_g.likely > all.portlandite_g.likely && half.carbonated.unwrap().likely < 0.5);
}

/// The range holds every inside point: a thousand drawn inputs (linear congruential generator, seed 7) never leave it.
#[test]
fn the_range_holds_what_lies_inside() {
    let test = Dissolved {
        sample_g: Uncertain::within(20.0, 0.05),
        residue_g: Uncertain::within(15.2, 0.05),
        shell_g: Uncertain { value: 0.3, least: 0.0, most: 0.8 },
        carbonated: Uncertain { value: 0.97, least: 0.85, most: 1.0 },
        lost: Uncertain { value: 0.01, least: 0.0, most: 0.05 },
        sand_kg_l: Uncertain::within(1.5, 0.1),
        ..siliceous(20.0, 15.2)
    };
    let range = dissolved(&test).unwrap().volume.putty;
    assert!(range.least < range.likely && range.likely < range.most);
    let mut state = 7_u64;
    let mut draw = |of: &Uncertain| {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        Uncertain::exact(of.least + (of.most - of.least) * ((state >> 11) as f64 / (1_u64 << 53) as f64))
    };
    for _ in 0..1000 {
        let drawn = Dissolved {
            sample_g: draw(&test.sample_g),
            residue_g: draw(&test.residue_g),
            shell_g: draw(&test.shell_g),
            carbonated: draw(&test.carbonated),
            lost: draw(&test.lost),
            sand_kg_l: draw(&test.sand_kg_l),
            ..test
        };
        let inside = dissolved(&drawn).unwrap().volume.putty.likely;
        assert!((range.least..=range.most).contains(&inside), "{inside} outside {range:?}");
    }
}

/// What cannot be is told: a residue above the sample, shell for more than dissolved.
#[test]
fn analyses_that_cannot_be() {
    let told = dissolved(&siliceous(20.0, 21.0)).unwrap_err()[0].to_string();
    assert!(told.contains("nothing was dissolved"), "{told}");
    let shell = dissolved(&Dissolved { shell_g: Uncertain::exact(5.0), ..siliceous(20.0, 15.2) }).unwrap_err()[0].to_string();
    assert!(shell.contains("no lime is left"), "{shell}");
}

/// A sieved residue names the nearest sand of the catalogue; without silica the hydraulic part stays open and is said so.
#[test]
fn a_repair_mix_with_reasons() {
    let residue = Grading::from_passing(&[(4.0, 97.0), (2.0, 80.0), (1.0, 60.0), (0.25, 15.0), (0.063, 2.0)]).unwrap();
    let repair = repair_mix(&dissolved(&siliceous(20.0, 15.2)).unwrap(), Some(&residue), &Catalogue::shipped());
    assert_eq!((repair.lime.as_str(), repair.sand.as_deref(), repair.parts), ("putty-cl90", Some("sharp-0-4"), 2.0));
    assert!(repair.findings.iter().any(|f| f.rule == "hydraulic-unknown"));
}
