//! The lime file: limes by what a struck litre weighs, what each is worth against the first, a batch card, and a delivery against what was ordered.

use materials::bench::{BatchAsked, BatchCard, Equivalent, LimeForm, LimeMeasured, arrival_of_lime, batch_card, equivalent_parts};
use materials::{Catalogue, LimeKind};
use serde::Serialize;

use super::{ArrivalReport, Delivered, delivery_money, known, lime_entry, mix, read, tell};
use crate::problem::Problem;
use crate::trial::reader::{Section, from_to};

/// One lime.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LimeRow {
    /// As weighed.
    pub lime: LimeMeasured,
    /// Ca(OH)₂ in a litre of it, once slaked, kg.
    pub portlandite_kg_l: f64,
    /// Against the first lime at the parts of the file; `None` for the first itself.
    pub against_first: Option<Equivalent>,
}

/// A batch card with the names that stand on it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BatchReport {
    /// Lime.
    pub lime: String,
    /// Sand.
    pub sand: String,
    /// Parts of dry sand to one of lime.
    pub parts: f64,
    /// Fresh mortar the mixer takes at once, L.
    pub mixer_l: f64,
    /// Fresh mortar wanted in a day, L.
    pub day_l: f64,
    /// A full gauge box, L.
    pub box_l: f64,
    /// Moisture of the sand, share of its dry mass.
    pub moisture_share: f64,
    /// Its bulking at that moisture.
    pub bulking: f64,
    /// One unit of lime as sold.
    pub lime_unit: String,
    /// One unit of sand as sold.
    pub sand_unit: String,
    /// True for quicklime: no recipe is shown.
    pub hot: bool,
    /// What was reckoned.
    #[serde(flatten)]
    pub card: BatchCard,
}

/// What the bench says of the file.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LimeReport {
    /// Title of the file.
    pub title: String,
    /// Parts of dry sand to one of the first lime.
    pub parts: f64,
    /// The limes, in order.
    pub limes: Vec<LimeRow>,
    /// The batch card, if one was asked for.
    pub batch: Option<BatchReport>,
    /// The first lime against what was ordered, if that was said.
    pub arrival: Option<ArrivalReport>,
}

/// Reads a lime file and works it.
///
/// # Errors
/// Every problem at once: of the text, of the fields, and of measurements that cannot be true.
pub fn read_lime(text: &str, name: &str) -> Result<LimeReport, Vec<Problem>> {
    read(text, name, whole)
}

fn whole(root: &Section<'_, '_>) -> Option<LimeReport> {
    let catalogue = Catalogue::shipped();
    let title = root.needs_text("title", "Say in one line what is weighed.");
    let parts = root.number("parts", from_to(0.5, 12.0)).unwrap_or(2.5);
    let sections = root.sections("limes");
    if sections.is_empty() {
        root.missing("limes", "At least one lime is weighed.", "Add [[limes]] with name, kind and litre_kg.");
    }
    let limes: Vec<Option<LimeMeasured>> = sections.iter().map(lime).collect();
    let batch = root.section("batch").map(|section| batch(&section, &catalogue, limes.first().and_then(Option::as_ref)));
    let ordered = root.section("ordered");
    let mut prices = None;
    let mix = ordered.as_ref().map(|section| {
        let mix = mix(section, &catalogue);
        prices = super::prices(section);
        section.finish();
        mix
    });
    root.finish();
    let limes: Vec<LimeMeasured> = limes.into_iter().collect::<Option<_>>()?;
    let first = limes.first()?.clone();
    let rows: Vec<Option<LimeRow>> = limes
        .into_iter()
        .zip(&sections)
        .enumerate()
        .map(|(index, (lime, section))| {
            let against = tell(section, equivalent_parts(&first, &lime, parts))?;
            Some(LimeRow { portlandite_kg_l: lime.portlandite_kg_l(), lime, against_first: (index > 0).then_some(against) })
        })
        .collect();
    let arrival = match (ordered, mix) {
        (Some(section), Some(mix)) => {
            let mix = mix?;
            let (delivered, arrival) = tell(&section, arrival_of_lime(&catalogue, &mix, &first))?;
            let entry = lime_entry(&mix.lime, &delivered);
            let money =
                delivery_money(&arrival, prices, (delivered.unit_kg, catalogue.sands.get(&mix.sand).map_or(1000.0, |sand| sand.unit_kg)));
            Some(ArrivalReport { mix, arrival, entry, money, delivered: Delivered::Lime(delivered) })
        }
        _ => None,
    };
    let batch = match batch {
        Some(card) => Some(card?),
        None => None,
    };
    Some(LimeReport { title: title?.to_owned(), parts, limes: rows.into_iter().collect::<Option<_>>()?, batch, arrival })
}

#[derive(Clone, Copy)]
enum Kind {
    Putty,
    Hydrate,
    Quicklime,
    Hydraulic,
}

const KINDS: [(&str, Kind); 4] =
    [("putty", Kind::Putty), ("hydrate", Kind::Hydrate), ("quicklime", Kind::Quicklime), ("hydraulic", Kind::Hydraulic)];

fn lime(section: &Section<'_, '_>) -> Option<LimeMeasured> {
    let name = section.needs_text("name", "Name the lime.");
    let kind = section.needs_choice("kind", &KINDS);
    let litre_kg = section.needs_number("litre_kg", from_to(0.2, 2.0));
    let purity = section.number("active_percent", from_to(2.0, 100.0)).map(|percent| percent / 100.0);
    let class = section.number("class_mpa", from_to(1.0, 10.0));
    let form = match kind {
        Some(Kind::Putty) => Some(LimeForm::Putty { purity: purity.unwrap_or(0.95) }),
        Some(Kind::Hydrate) => Some(LimeForm::Hydrate { purity: purity.unwrap_or(0.93) }),
        Some(Kind::Quicklime) => Some(LimeForm::Quicklime { purity: purity.unwrap_or(0.92) }),
        Some(Kind::Hydraulic) => {
            if !section.has("class_mpa") {
                section.missing("class_mpa", "A hydraulic lime has a class: 2, 3.5 or 5.", "Read it off the bag and add class_mpa.");
            }
            // Least available lime of the class: EN 459-1, from memory.
            let least = |class: f64| {
                if class < 2.75 {
                    0.40
                } else if class < 4.25 {
                    0.25
                } else {
                    0.15
                }
            };
            class.map(|class_mpa| LimeForm::Hydraulic { class_mpa, purity: purity.unwrap_or(least(class_mpa)) })
        }
        None => None,
    };
    section.finish();
    let lime = LimeMeasured { name: name?.to_owned(), form: form?, litre_kg: litre_kg? };
    // Held against itself, so that a weight that cannot be is told beside every other problem.
    tell(section, equivalent_parts(&lime, &lime, 1.0)).map(|_| lime)
}

fn batch(section: &Section<'_, '_>, catalogue: &Catalogue, weighed: Option<&LimeMeasured>) -> Option<BatchReport> {
    let like = section.needs_text("lime", "Name the lime of the catalogue that the first lime here is like, for example \"putty-cl90\".");
    let sand = section.needs_text("sand", "Name a sand of the catalogue, for example \"sharp-0-4\".");
    let like = like.and_then(|name| known(section, "lime", name, catalogue.lime(name).map(|_| ())));
    let sand = sand.and_then(|name| known(section, "sand", name, catalogue.sand(name).map(|_| ())));
    let parts = section.needs_number("parts", from_to(0.25, 6.0));
    let mixer_l = section.needs_number("mixer_l", from_to(5.0, 3000.0));
    let day_l = section.needs_number("day_l", from_to(1.0, 100_000.0));
    let box_l = section.number("box_l", from_to(0.5, 200.0)).unwrap_or(15.0);
    let moisture = section.number("moisture_percent", from_to(0.0, 25.0));
    let bulking = section.number("bulking_percent", from_to(0.0, 60.0));
    section.finish();
    let (like, sand) = (catalogue.limes.get(&like?)?, catalogue.sands.get(&sand?)?);
    let mut sand = sand.clone();
    sand.moisture_share = moisture.map_or(sand.moisture_share, |percent| percent / 100.0);
    sand.bulking = bulking.map_or(sand.bulking, |percent| percent / 100.0);
    let lime = tell(section, weighed?.entry(like))?;
    let hot = lime.kind == LimeKind::Quicklime;
    let asked = BatchAsked { lime, sand, parts: parts?, mixer_l: mixer_l?, day_l: day_l?, box_l };
    let card = tell(section, batch_card(&asked))?;
    let BatchAsked { lime, sand, parts, mixer_l, day_l, box_l } = asked;
    Some(BatchReport {
        lime: lime.name,
        sand: sand.name,
        parts,
        mixer_l,
        day_l,
        box_l,
        moisture_share: sand.moisture_share,
        bulking: sand.bulking,
        lime_unit: lime.unit_name,
        sand_unit: sand.unit_name,
        hot,
        card,
    })
}
