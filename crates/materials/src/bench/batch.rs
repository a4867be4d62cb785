//! The batch card: what goes into one mixer of mortar by gauge box, the sand's own moisture taken off the water, and what a day needs.

use reckoning::{Finding, Grade};
use serde::Serialize;

use super::error::Checks;
use super::{BenchError, PRACTICE, finding};
use crate::{Catalogue, Lime, LimeKind, Mix, Sand};

/// What a batch card is asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct BatchAsked {
    /// The lime: a catalogue entry, or one weighed on the bench.
    pub lime: Lime,
    /// The sand as it lies, with its moisture and bulking.
    pub sand: Sand,
    /// Parts of dry sand to one of lime, by volume; quicklime counts as the putty it makes.
    pub parts: f64,
    /// Fresh mortar the mixer takes at once, L.
    pub mixer_l: f64,
    /// Fresh mortar wanted in a day, L.
    pub day_l: f64,
    /// A full gauge box, L.
    pub box_l: f64,
}

/// One batch and one day.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BatchCard {
    /// Fresh mortar of a batch, L.
    pub mortar_l: f64,
    /// Lime as measured out, L.
    pub lime_l: f64,
    /// Lime, kg: weigh powders where a scale is at hand.
    pub lime_kg: f64,
    /// Gauge boxes of lime.
    pub lime_boxes: f64,
    /// Damp sand as it lies, L.
    pub damp_sand_l: f64,
    /// Damp sand, kg.
    pub damp_sand_kg: f64,
    /// Gauge boxes of damp sand.
    pub sand_boxes: f64,
    /// Water to add at most, L: what the mortar needs, less what sand and putty bring.
    pub water_l: f64,
    /// Water the sand brings, L.
    pub sand_water_l: f64,
    /// Batches in the day, rounded up.
    pub batches: u32,
    /// Units of lime as sold that the day uses, rounded up.
    pub lime_units: u32,
    /// Units of sand as sold that the day uses.
    pub sand_units: f64,
    /// What to think of it.
    pub findings: Vec<Finding>,
}

/// The batch card of a mix.
///
/// # Errors
/// All faults: a mixer, a day, a box outside what can be; moisture above 25 % or bulking above 60 %; parts or entries the yield model refuses.
pub fn batch_card(asked: &BatchAsked) -> Result<BatchCard, Vec<BenchError>> {
    let mut checks = Checks::default();
    checks.number("The mixer", asked.mixer_l, 5.0, 3000.0, " L");
    checks.number("The mortar of a day", asked.day_l, 1.0, 100_000.0, " L");
    checks.number("The gauge box", asked.box_l, 0.5, 200.0, " L");
    checks.number("The moisture of the sand", asked.sand.moisture_share, 0.0, 0.25, " of its dry mass");
    checks.number("The bulking of the sand", asked.sand.bulking, 0.0, 0.6, "");
    checks.number("A unit of lime", asked.lime.unit_kg, 0.5, 30_000.0, " kg");
    checks.number("A unit of sand", asked.sand.unit_kg, 1.0, 100_000.0, " kg");
    checks.done()?;
    let mut own = Catalogue::default();
    own.limes.insert("lime".to_owned(), asked.lime.clone());
    own.sands.insert("sand".to_owned(), asked.sand.clone());
    let mix = Mix { lime: "lime".to_owned(), sand: "sand".to_owned(), sand_parts: asked.parts };
    let mortar = own.mortar(&mix).map_err(|error| vec![BenchError::Mix(error)])?;
    let share = asked.mixer_l / 1000.0;
    let sand_kg = mortar.sand_kg_m3 * share;
    let sand_water_l = sand_kg * asked.sand.moisture_share;
    let water = mortar.water_added_kg_m3 * share - sand_water_l;
    let damp_sand_l = mortar.sand_l_m3 * share * (1.0 + asked.sand.bulking);
    let damp_sand_kg = sand_kg + sand_water_l;
    let lime_kg = mortar.lime_kg_m3 * share;
    let batches = (asked.day_l / asked.mixer_l).ceil();
    Ok(BatchCard {
        mortar_l: asked.mixer_l,
        lime_l: mortar.lime_l_m3 * share,
        lime_kg,
        lime_boxes: mortar.lime_l_m3 * share / asked.box_l,
        damp_sand_l,
        damp_sand_kg,
        sand_boxes: damp_sand_l / asked.box_l,
        water_l: water.max(0.0),
        sand_water_l,
        batches: batches as u32,
        lime_units: (batches * lime_kg / asked.lime.unit_kg).ceil() as u32,
        sand_units: batches * damp_sand_kg / asked.sand.unit_kg,
        findings: judged(asked, water),
    })
}

fn judged(asked: &BatchAsked, water: f64) -> Vec<Finding> {
    let mut all = Vec::new();
    if water < 0.0 {
        let says = format!("The sand and the lime bring {:.1} L more water than the mortar needs.", -water);
        let remedy = "Let the sand drain under cover, or let the putty stiffen first; add no water.";
        all.push(finding(Grade::Think, "too-wet", says, "A wet mix shrinks and slides.", PRACTICE, remedy));
    }
    if asked.lime.kind == LimeKind::Quicklime {
        let says = "The lime is quicklime: this card gives masses, not a way of mixing.";
        let reason = "A hot mix boils in the mixer and spits; what boils off is not in the water shown.";
        all.push(finding(
            Grade::Stop,
            "hot-mix",
            says,
            reason,
            PRACTICE,
            "Leave it to people trained in hot mixing, with the product's data sheet.",
        ));
    }
    let reason = "The water of a mortar goes by feel; only its upper limit can be reckoned.";
    let says = "Hold back a fifth of the water, and add the rest only as the mix asks for it.";
    all.push(finding(Grade::Note, "water", says, reason, PRACTICE, "Mix for twenty minutes or more before judging whether it is too dry."));
    all
}
