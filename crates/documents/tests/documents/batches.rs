//! Batch cards: a batch is the mix it names, no larger than the mixer, and its water with the sand's own is the mortar's.

use documents::batch::{BUCKET_L, Card, GAUGE_BOX_L, MIXER_L, Recipe, cards};
use works::Plan;

use crate::ferry_house::ferry_house;
use crate::support::{Names, plan};

fn gauged(card: &Card) -> &documents::batch::Batch {
    match &card.recipe {
        Recipe::Gauged(batch) => batch,
        Recipe::HotMixed => panic!("no quicklime in this plan"),
    }
}

/// Exact relations: lime to sand by volume is the mix, within the quarter box that a gang can measure; all water is the mortar's.
#[test]
fn a_batch_is_the_mix_it_names() {
    for plan in [plan(4, Names::Short), ferry_house()] {
        for card in cards(&plan) {
            let batch = gauged(&card);
            let mortar = mortar_of(&plan, &card);
            let lime_l = batch.lime_boxes * GAUGE_BOX_L;
            assert!((lime_l - batch.makes_l / 1000.0 * mortar.lime_l_m3).abs() < 1e-6);
            let sand_boxes = batch.makes_l / 1000.0 * mortar.sand_l_m3 / GAUGE_BOX_L;
            assert!((batch.sand_boxes_dry - sand_boxes).abs() <= 0.125 + 1e-9);
            assert!((batch.sand_boxes_damp - sand_boxes * (1.0 + card.bulking)).abs() <= 0.125 + 1e-9);
            let water = batch.water_l + batch.sand_brings_l;
            assert!((water - batch.makes_l / 1000.0 * mortar.water_added_kg_m3).abs() < 1e-6 || batch.water_l == 0.0);
            assert!((batch.water_buckets * BUCKET_L - batch.water_l).abs() <= BUCKET_L / 8.0 + 1e-9);
            assert!(batch.makes_l <= MIXER_L + 1e-9 || batch.lime_boxes <= 0.5);
            assert!(f64::from(batch.batches) * batch.makes_l >= card.volume_m3 * 1000.0 - 1e-6);
        }
    }
}

fn mortar_of<'p>(plan: &'p Plan, card: &Card) -> &'p materials::Mortar {
    let coats = plan.specification.walls.iter().flat_map(|wall| &wall.coats);
    let base = |name: &str| name.split(", ").next().unwrap_or(name).to_owned();
    &coats.into_iter().find(|coat| base(&coat.name) == card.name).unwrap().mortar
}

#[test]
fn the_cards_cover_all_the_mortar_of_the_job() {
    let plan = ferry_house();
    let on_cards: f64 = cards(&plan).iter().map(|card| card.volume_m3).sum();
    let in_plan: f64 = plan.quantities.walls.iter().flat_map(|wall| &wall.coats).map(|coat| coat.mixed_m3).sum();
    assert!((on_cards - in_plan).abs() < 1e-9, "{on_cards} for {in_plan}");
}
