//! Batch cards: a mix as boxes and buckets for the mixer, worked from the mortar's own amounts. For quicklime it gives no recipe: a card
//! that put water and quicklime together would be a procedure this tool must not hold.

use materials::LimeKind;
use works::{CoatKind, CoatSpecification, Placing, Plan};

use crate::words;

/// A gauge box, litres: 400 × 200 × 200 mm inside (common practice, no source).
pub const GAUGE_BOX_L: f64 = 16.0;
/// A builder's bucket filled to the mark, litres (common practice, no source).
pub const BUCKET_L: f64 = 10.0;
/// What a small drum or pan mixer turns out at once, litres of mortar (common practice, no source).
pub const MIXER_L: f64 = 100.0;

/// One card: a mix and where it goes.
#[derive(Clone, Debug, PartialEq)]
pub struct Card {
    /// Coats it serves, in words.
    pub name: String,
    /// Sand to one of lime.
    pub sand_parts: f64,
    /// Name of the lime.
    pub lime: String,
    /// Name of the sand.
    pub sand: String,
    /// Name of the cover to hang after it.
    pub cover: String,
    /// True for a scud, which is thrown very wet.
    pub is_scud: bool,
    /// Thrown or laid.
    pub placing: &'static str,
    /// Thickness in the middle, m.
    pub thickness_m: f64,
    /// Mortar in all, m³.
    pub volume_m3: f64,
    /// Batches for each wall, by slug; empty words' worth where there is no recipe.
    pub walls: Vec<(String, u32)>,
    /// What goes into a batch.
    pub recipe: Recipe,
    /// Moisture of the sand, share of its dry mass.
    pub moisture_share: f64,
    /// Bulking of the sand at that moisture.
    pub bulking: f64,
}

/// What goes into a batch.
#[derive(Clone, Debug, PartialEq)]
pub enum Recipe {
    /// Boxes and buckets.
    Gauged(Batch),
    /// Mixed hot from quicklime by trained people: no recipe is given.
    HotMixed,
}

/// One batch in the mixer.
#[derive(Clone, Debug, PartialEq)]
pub struct Batch {
    /// Gauge boxes of lime, struck off.
    pub lime_boxes: f64,
    /// Gauge boxes of sand, had it been dry.
    pub sand_boxes_dry: f64,
    /// Gauge boxes of sand as it lies, damp and bulked.
    pub sand_boxes_damp: f64,
    /// Water to add, litres, the sand's own taken off.
    pub water_l: f64,
    /// The same in buckets.
    pub water_buckets: f64,
    /// Water that the sand brings, litres.
    pub sand_brings_l: f64,
    /// Mortar made, litres.
    pub makes_l: f64,
    /// Batches for the job.
    pub batches: u32,
}

/// Coats of one kind and mix, with the names they go by and the mortar of each wall.
struct Group<'p> {
    coat: &'p CoatSpecification,
    names: Vec<String>,
    walls: Vec<(String, f64)>,
}

/// A card for each mix of the plan, in the order of the coats; coats of one kind and mix share a card.
pub fn cards(plan: &Plan) -> Vec<Card> {
    let mut groups: Vec<Group<'_>> = Vec::new();
    for wall in &plan.specification.walls {
        for coat in &wall.coats {
            let volume = mixed_m3(plan, &wall.slug, &coat.slug);
            let same = |group: &&mut Group<'_>| group.coat.kind == coat.kind && group.coat.mix == coat.mix;
            if let Some(group) = groups.iter_mut().find(same) {
                group.names.push(coat.name.clone());
                match group.walls.iter_mut().find(|(slug, _)| *slug == wall.slug) {
                    Some((_, sum)) => *sum += volume,
                    None => group.walls.push((wall.slug.clone(), volume)),
                }
            } else {
                groups.push(Group { coat, names: vec![coat.name.clone()], walls: vec![(wall.slug.clone(), volume)] });
            }
        }
    }
    groups.sort_by_key(|group| group.coat.kind);
    groups.iter().map(|group| card(plan, group)).collect()
}

fn mixed_m3(plan: &Plan, wall: &str, coat: &str) -> f64 {
    let walls = plan.quantities.walls.iter().filter(|quantities| quantities.slug == wall);
    walls.flat_map(|quantities| &quantities.coats).filter(|quantities| quantities.slug == coat).map(|quantities| quantities.mixed_m3).sum()
}

fn card(plan: &Plan, group: &Group<'_>) -> Card {
    let Group { coat, names, walls } = group;
    let volume_m3: f64 = walls.iter().map(|(_, volume)| volume).sum();
    let sand = plan.catalogue.sands.get(&coat.mix.sand);
    let (moisture_share, bulking) = sand.map_or((0.0, 0.0), |sand| (sand.moisture_share, sand.bulking));
    let hot = plan.catalogue.limes.get(&coat.mix.lime).is_some_and(|lime| lime.kind == LimeKind::Quicklime);
    let recipe = if hot { Recipe::HotMixed } else { Recipe::Gauged(batch(coat, volume_m3, moisture_share, bulking)) };
    let makes_m3 = match &recipe {
        Recipe::Gauged(batch) => batch.makes_l / 1000.0,
        Recipe::HotMixed => f64::INFINITY,
    };
    Card {
        name: words::listed(&bases(names)),
        sand_parts: coat.mix.sand_parts,
        lime: words::material_name(plan, &coat.mix.lime).to_owned(),
        sand: words::material_name(plan, &coat.mix.sand).to_owned(),
        cover: words::material_name(plan, &coat.protection.cover).to_owned(),
        is_scud: coat.kind == CoatKind::Scud,
        placing: if coat.placing == Placing::Thrown { "thrown" } else { "laid" },
        thickness_m: coat.thickness_m[1],
        volume_m3,
        walls: walls.iter().map(|(slug, volume)| (slug.clone(), whole(volume / makes_m3))).collect(),
        recipe,
        moisture_share,
        bulking,
    }
}

/// Names of coats without what stands behind a comma, each once: passes of one coat are one mix.
fn bases(names: &[String]) -> Vec<String> {
    let mut bases: Vec<String> = Vec::new();
    for name in names {
        let base = name.split(", ").next().unwrap_or(name).to_owned();
        if !bases.contains(&base) {
            bases.push(base);
        }
    }
    bases
}

/// The largest batch that fills both kinds of box whole and at least half the mixer; failing that, the largest in half boxes of lime.
fn boxes_of_lime(litres_per_box: f64, sand_l_m3: f64) -> f64 {
    let halves = (2.0 * MIXER_L / litres_per_box).floor().clamp(1.0, 12.0);
    let sand_boxes = |lime: f64| lime * litres_per_box / 1000.0 * sand_l_m3 / GAUGE_BOX_L;
    let mut whole_boxes = (halves / 2.0).floor();
    while whole_boxes >= 1.0 && whole_boxes * 4.0 >= halves {
        let sand = sand_boxes(whole_boxes);
        if (sand - sand.round()).abs() < 0.1 {
            return whole_boxes;
        }
        whole_boxes -= 1.0;
    }
    halves / 2.0
}

/// One batch for the mixer, boxes to the quarter.
fn batch(coat: &CoatSpecification, volume_m3: f64, moisture_share: f64, bulking: f64) -> Batch {
    let mortar = &coat.mortar;
    let litres_per_box = 1000.0 * GAUGE_BOX_L / mortar.lime_l_m3.max(1.0);
    let lime_boxes = boxes_of_lime(litres_per_box, mortar.sand_l_m3);
    let makes_l = lime_boxes * litres_per_box;
    let sand_boxes_dry = makes_l / 1000.0 * mortar.sand_l_m3 / GAUGE_BOX_L;
    let sand_brings_l = makes_l / 1000.0 * mortar.sand_kg_m3 * moisture_share;
    let water_l = (makes_l / 1000.0 * mortar.water_added_kg_m3 - sand_brings_l).max(0.0);
    Batch {
        lime_boxes,
        sand_boxes_dry: quarters(sand_boxes_dry),
        sand_boxes_damp: quarters(sand_boxes_dry * (1.0 + bulking)),
        water_l,
        water_buckets: quarters(water_l / BUCKET_L),
        sand_brings_l,
        makes_l,
        batches: whole(volume_m3 * 1000.0 / makes_l),
    }
}

fn quarters(boxes: f64) -> f64 {
    (boxes * 4.0).round() / 4.0
}

fn whole(count: f64) -> u32 {
    if count.is_finite() { count.ceil().clamp(0.0, 1.0e6) as u32 } else { 0 }
}
