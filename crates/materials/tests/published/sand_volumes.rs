//! Voids and bulking of sand.
//!
//! Sources: Artis R., "Mortar mix ratios", Building Conservation Directory 2022 (published: common sands have about a third of voids, hence 1:3);
//! site handbooks' bulking (published: damp sand 200 mm high that settles to 160 mm when flooded has bulked 25 %; fine sand at 4 to 6 % of moisture
//! 20 to 35 %, 4 % about 25 to 30 %); CRC Handbook, quartz 2.65 g/cm³ (published).

use materials::{Catalogue, voids_share};

/// exact solution: 1.50 over 2.65 leaves 43.4 %; 1.75 leaves 34.0 %, about the published third (of rodded sand).
#[test]
fn voids_by_density() {
    assert!((voids_share(1500.0, 2650.0) - 0.434).abs() < 1e-3);
    assert!((voids_share(1750.0, 2650.0) - 1.0 / 3.0).abs() < 0.01);
}

/// published: bulking as above. Coarse sharp sand bulks less than fine: every entry lies between nothing and 35 %, and in the order of fineness.
#[test]
fn bulking_of_the_catalogue() {
    let sands = Catalogue::shipped().sands;
    let order = ["gritty-0-8", "sharp-0-4", "sharp-0-2", "soft-building"];
    for pair in order.windows(2) {
        assert!(sands[pair[0]].bulking < sands[pair[1]].bulking);
    }
    assert!(sands.values().all(|s| s.bulking > 0.0 && s.bulking <= 0.35 && s.moisture_share <= 0.06));
    let soft = &sands["soft-building"];
    assert!((0.20..=0.35).contains(&soft.bulking), "fine sand at {} of moisture", soft.moisture_share);
}

/// from memory: EN 1097-3 loose bulk density of dry sand 1.35 to 1.60 kg/l.
#[test]
fn loose_density_of_the_catalogue() {
    assert!(Catalogue::shipped().sands.values().all(|s| (1350.0..=1600.0).contains(&s.loose_kg_m3)));
}
