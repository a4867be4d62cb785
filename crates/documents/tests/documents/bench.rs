//! The batch card and the sheet of a wall's straightening: what they say, that they are the same on repeat, and that no words of the drawings collide.

use documents::figures::{Theme, edge_curve, relief_map};
use survey::{Evenness, HeightField, Laid, RandomRelief, Ruling, Surface, SurfaceAsked, straighten};
use works::{EdgeCurve, Inputs, Unwatched};

use crate::ferry_house::ferry_house_job;
use crate::figures::{check, keep};

fn field() -> HeightField {
    RandomRelief { amplitude_m: 0.008, correlation_m: 0.2, seed: 3 }.draw(228, 92, 0.05)
}

fn curve(inputs: &mut Inputs) -> EdgeCurve {
    let asked = SurfaceAsked { edges_m: vec![0.9], basis: "invented".to_owned(), notes: Vec::new(), holes: 0 };
    inputs.building.walls[0].evenness = Evenness::Surface { surface: Surface::of(&field(), &asked) };
    let slug = inputs.building.walls[0].slug.clone();
    let table = works::ready_table(inputs, None, &slug, &Unwatched).unwrap();
    works::edge_curve(inputs, &table, &works::EDGES_M).unwrap()
}

#[test]
fn no_words_of_map_and_curve_collide() {
    let (mut job, _) = ferry_house_job();
    let curve = curve(&mut job.inputs);
    let ruling = Ruling { edge_m: 0.9, laid: Laid::BothWays, least_cover_m: 0.003, pass_m: 0.012, pinning_m: 0.048 };
    let drawn = straighten(&field(), &ruling);
    for (which, theme) in [Theme::daylight(1080.0), Theme::dark(385.0), Theme::paper(380.0)].iter().enumerate() {
        for (name, figure) in [("map", relief_map("North wall", &field(), &drawn, theme)), ("curve", edge_curve(&curve, theme))] {
            keep(&figure, &format!("relief-{name}-{which}"));
            check(&figure, &format!("{name}, theme {which}"));
        }
    }
}

#[cfg(feature = "pdf")]
#[test]
fn the_sheet_of_a_wall_says_every_edge_and_marks_what_is_quick() {
    let (mut job, _) = ferry_house_job();
    let curve = curve(&mut job.inputs);
    let ruling = Ruling { edge_m: 0.9, laid: Laid::BothWays, least_cover_m: 0.003, pass_m: 0.012, pinning_m: 0.048 };
    let drawn = straighten(&field(), &ruling);
    let notes = vec!["Taken in metres.".to_owned()];
    let sheet = documents::ReliefSheet {
        about: &job.inputs.about,
        wall: "North wall",
        field: &field(),
        drawn: &drawn,
        notes: &notes,
        curve: &curve,
    };
    let words = documents::relief_words(&sheet).unwrap().join(" ");
    for word in ["North wall", "Taken in metres", "quick", "Litres to mix", "Invented example"] {
        assert!(words.contains(word), "{word}: {words}");
    }
    assert_eq!(words.matches("quick").count(), curve.choices.len());
    assert!(documents::relief_pdf(&sheet).unwrap() == documents::relief_pdf(&sheet).unwrap());
}

#[cfg(feature = "pdf")]
#[test]
fn a_batch_card_says_boxes_water_batches_and_cautions_and_no_recipe_for_quicklime() {
    let catalogue = materials::Catalogue::shipped();
    let asked = materials::bench::BatchAsked {
        lime: catalogue.limes["putty-cl90"].clone(),
        sand: catalogue.sands["sharp-0-4"].clone(),
        parts: 2.5,
        mixer_l: 100.0,
        day_l: 600.0,
        box_l: 14.0,
    };
    let card = materials::bench::batch_card(&asked).unwrap();
    let mut sheet = documents::BatchSheet {
        title: "Invented",
        lime: &asked.lime.name,
        sand: &asked.sand.name,
        parts: 2.5,
        mixer_l: 100.0,
        day_l: 600.0,
        box_l: 14.0,
        moisture_share: asked.sand.moisture_share,
        bulking: asked.sand.bulking,
        lime_unit: &asked.lime.unit_name,
        sand_unit: &asked.sand.unit_name,
        card: &card,
        hot: false,
        cautions: vec!["Wet lime burns skin and blinds eyes."],
        dated: jiff::civil::date(2027, 5, 10),
    };
    let words = documents::batch_words(&sheet).unwrap().join(" ");
    let water = documents::words::trimmed(card.water_l, 1);
    for word in ["Batch card", "1 : 2½", "Wet lime burns", "6 batches", "14 litres", water.as_str(), asked.lime.unit_name.as_str()] {
        assert!(words.contains(word), "{word}: {words}");
    }
    sheet.hot = true;
    let hot = documents::batch_words(&sheet).unwrap().join(" ");
    assert!(hot.contains("no recipe is given") && !hot.contains("batches"), "{hot}");
}
