//! plan/1: the coats, and what they take.

use serde::Serialize;
use works::{CoatKind, CoatQuantities, CoatSpecification, Material as Bought, Placing, Plan, WallQuantities, WallSpecification};

#[derive(Serialize)]
pub(super) struct Specification<'p> {
    panel: Panel<'p>,
    preparation: &'p [String],
    walls: Vec<Wall<'p>>,
}

#[derive(Serialize)]
struct Panel<'p> {
    area_m2: f64,
    words: &'p str,
    lead_days: u32,
}

impl<'p> Specification<'p> {
    pub(super) fn of(plan: &'p Plan) -> Self {
        let specification = &plan.specification;
        let panel = &specification.panel;
        Self {
            panel: Panel { area_m2: panel.area_m2, words: &panel.words, lead_days: panel.lead_days },
            preparation: &specification.preparation,
            walls: specification.walls.iter().map(Wall::of).collect(),
        }
    }
}

#[derive(Serialize)]
struct Wall<'p> {
    slug: &'p str,
    coats: Vec<Coat<'p>>,
    limewash: Limewash<'p>,
}

impl<'p> Wall<'p> {
    fn of(wall: &'p WallSpecification) -> Self {
        let wash = &wall.limewash;
        Self {
            slug: &wall.slug,
            coats: wall.coats.iter().map(Coat::of).collect(),
            limewash: Limewash {
                coats: wash.coats,
                water_parts: wash.water_parts,
                interval_h: wash.interval_h,
                lime: &wash.lime,
                colour: &wash.colour,
                least_wait_days: wash.least_wait_days,
            },
        }
    }
}

#[derive(Serialize)]
struct Coat<'p> {
    slug: &'p str,
    name: &'p str,
    kind: &'static str,
    lime: &'p str,
    sand: &'p str,
    sand_parts: f64,
    thickness_m: [f64; 3],
    mean_thickness_m: f64,
    placing: &'static str,
    largest_grain_mm: f64,
    cover: &'p str,
    cover_days: u32,
    damp_days: u32,
    wettings_a_day: u32,
    /// Name of the policy that tends it in place of those days.
    tended_by: Option<&'static str>,
    least_wait_days: f64,
    test: &'p str,
    method: &'p str,
    /// Of one cubic metre of mortar.
    mortar: Mortar,
}

#[derive(Serialize)]
struct Mortar {
    lime_kg: f64,
    lime_l: f64,
    sand_kg: f64,
    sand_l: f64,
    water_added_kg: f64,
    yield_per_sand: f64,
    portlandite_mol: f64,
}

impl<'p> Coat<'p> {
    fn of(coat: &'p CoatSpecification) -> Self {
        let mortar = &coat.mortar;
        Self {
            slug: &coat.slug,
            name: &coat.name,
            kind: match coat.kind {
                CoatKind::Scud => "scud",
                CoatKind::Straightening => "straightening",
                CoatKind::Finish => "finish",
            },
            lime: &coat.mix.lime,
            sand: &coat.mix.sand,
            sand_parts: coat.mix.sand_parts,
            thickness_m: coat.thickness_m,
            mean_thickness_m: coat.mean_thickness_m,
            placing: match coat.placing {
                Placing::Thrown => "thrown",
                Placing::Laid => "laid",
            },
            largest_grain_mm: coat.largest_grain_mm,
            cover: &coat.protection.cover,
            cover_days: coat.protection.days,
            damp_days: coat.protection.damp_days,
            wettings_a_day: coat.protection.wettings_a_day,
            tended_by: coat.protection.policy.map(works::protect::Policy::name),
            least_wait_days: coat.least_wait_days,
            test: &coat.test,
            method: &coat.method,
            mortar: Mortar {
                lime_kg: mortar.lime_kg_m3,
                lime_l: mortar.lime_l_m3,
                sand_kg: mortar.sand_kg_m3,
                sand_l: mortar.sand_l_m3,
                water_added_kg: mortar.water_added_kg_m3,
                yield_per_sand: mortar.yield_per_sand,
                portlandite_mol: mortar.portlandite_mol_m3,
            },
        }
    }
}

#[derive(Serialize)]
struct Limewash<'p> {
    coats: u32,
    water_parts: f64,
    interval_h: f64,
    lime: &'p str,
    colour: &'p str,
    least_wait_days: f64,
}

#[derive(Serialize)]
pub(super) struct Quantities<'p> {
    area_m2: f64,
    walls: Vec<WallTakes<'p>>,
    materials: Vec<Material<'p>>,
}

impl<'p> Quantities<'p> {
    pub(super) fn of(plan: &'p Plan) -> Self {
        let quantities = &plan.quantities;
        Self {
            area_m2: quantities.area_m2,
            walls: quantities.walls.iter().map(WallTakes::of).collect(),
            materials: quantities.materials.iter().map(Material::of).collect(),
        }
    }
}

#[derive(Serialize)]
struct WallTakes<'p> {
    slug: &'p str,
    coats: Vec<CoatTakes<'p>>,
    limewash_l: f64,
    hessian_m2: f64,
    tie_patches: u32,
    tie_mortar_l: f64,
}

impl<'p> WallTakes<'p> {
    fn of(wall: &'p WallQuantities) -> Self {
        let coats = wall.coats.iter().map(CoatTakes::of).collect();
        Self {
            slug: &wall.slug,
            coats,
            limewash_l: wall.limewash_l,
            hessian_m2: wall.hessian_m2,
            tie_patches: wall.tie_patches,
            tie_mortar_l: 1000.0 * wall.tie_mortar_m3,
        }
    }
}

#[derive(Serialize)]
struct CoatTakes<'p> {
    slug: &'p str,
    area_m2: f64,
    mean_thickness_m: f64,
    net_m3: f64,
    mixed_m3: f64,
    mixed_low_m3: f64,
    mixed_high_m3: f64,
    lime_kg: f64,
    sand_kg: f64,
    water_l: f64,
}

impl<'p> CoatTakes<'p> {
    fn of(coat: &'p CoatQuantities) -> Self {
        Self {
            slug: &coat.slug,
            area_m2: coat.area_m2,
            mean_thickness_m: coat.mean_thickness_m,
            net_m3: coat.net_m3,
            mixed_m3: coat.mixed_m3,
            mixed_low_m3: coat.mixed_range_m3.0,
            mixed_high_m3: coat.mixed_range_m3.1,
            lime_kg: coat.lime_kg,
            sand_kg: coat.sand_kg,
            water_l: coat.water_l,
        }
    }
}

#[derive(Serialize)]
struct Material<'p> {
    slug: &'p str,
    name: &'p str,
    amount: f64,
    unit: &'p str,
    units: u32,
    unit_name: &'p str,
    purpose: &'p str,
    one_load: bool,
    serves: &'p [String],
}

impl<'p> Material<'p> {
    fn of(material: &'p Bought) -> Self {
        Self {
            slug: &material.slug,
            name: &material.name,
            amount: material.amount,
            unit: &material.unit,
            units: material.units,
            unit_name: &material.unit_name,
            purpose: &material.purpose,
            one_load: material.one_load,
            serves: &material.serves,
        }
    }
}
