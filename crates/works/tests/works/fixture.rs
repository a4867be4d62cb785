//! An invented job of plain walls with round outputs, so that its programme can be worked on paper.

use materials::{Catalogue, Mix};
use reckoning::Reckonings;
use survey::*;
use works::*;

#[path = "../common/mod.rs"]
mod common;
pub use common::*;

pub struct Job {
    pub survey: Survey,
    pub specification: Specification,
    pub quantities: Quantities,
    pub inputs: Inputs,
}

impl Job {
    pub fn programme(&self) -> Result<Programme, WorksError> {
        self.programme_in(None)
    }

    pub fn programme_in(&self, weather: Option<&weather::Weather>) -> Result<Programme, WorksError> {
        programme(&self.survey, &self.specification, &self.quantities, &self.inputs, weather, &Unwatched)
    }

    pub fn price(&self, programme: &Programme) -> Result<Price, WorksError> {
        price(&self.survey, &self.specification, &self.quantities, &self.inputs, programme)
    }

    pub fn order(&self, programme: &Programme) -> Order {
        order(&self.specification, &self.quantities, &self.inputs, programme).unwrap()
    }
}

/// A wall of 10 m × 6 m (60 m²) without openings.
pub fn wall(slug: &str) -> WallFound {
    WallFound {
        slug: slug.to_owned(),
        name: format!("{} wall", slug[..1].to_uppercase() + &slug[1..]),
        outline: Outline::Rectangle { length_m: 10.0, height_m: 6.0 },
        faces_deg: 0.0,
        openings: Vec::new(),
        chimneys: Vec::new(),
        lines: Lines::default(),
        joints: Vec::new(),
        masonry: known("red-sandstone".to_owned()),
        thickness_m: known(0.6),
        joint_share: known(0.2),
        old_covering: known(OldCovering::Bare),
        bared_months: None,
        dampness: Dampness { low: known(0.3), middle: known(0.15), high: known(0.15), face: None },
        splash_s: known(20.0),
        evenness: Evenness::Class { class: known(EvennessClass::Coursed) },
        inside: known(Inside::Heated),
        exposure: Exposure { terrain: known(Terrain::Farmland), obstruction_m: known(None), overhang: known(true) },
    }
}

pub fn building(walls: Vec<WallFound>) -> Building {
    Building {
        stage: Stage::AfterOpeningUp,
        surveyed_on: "2026-04-01".to_owned(),
        protected: known(false),
        causes_of_damp: Vec::new(),
        walls,
        small_opening_m2: 0.5,
    }
}

/// Three coats, no cover, a week between them, five limewashes.
pub fn coats(catalogue: &Catalogue) -> Vec<CoatSpecification> {
    [
        ("scud", "Scud coat", CoatKind::Scud, 1.0, 0.0035),
        ("straightening", "Straightening coat", CoatKind::Straightening, 2.0, 0.010),
        ("finish", "Finish coat", CoatKind::Finish, 2.5, 0.005),
    ]
    .into_iter()
    .map(|(slug, name, kind, sand_parts, thickness_m)| {
        let mix = Mix { lime: "putty-cl90".to_owned(), sand: catalogue.sands.keys().next().unwrap().clone(), sand_parts };
        CoatSpecification {
            slug: slug.to_owned(),
            name: name.to_owned(),
            kind,
            mortar: catalogue.mortar(&mix).unwrap(),
            mix,
            thickness_m: [thickness_m; 3],
            mean_thickness_m: thickness_m,
            placing: if kind == CoatKind::Straightening { Placing::Laid } else { Placing::Thrown },
            largest_grain_mm: 4.0,
            protection: Protection { cover: "none".to_owned(), days: 0, damp_days: 0, wettings_a_day: 0, policy: None },
            least_wait_days: 7.0,
            test: "The nail test.".to_owned(),
            method: String::new(),
        }
    })
    .collect()
}

pub fn job(slugs: &[&str]) -> Job {
    let catalogue = Catalogue::shipped();
    let walls: Vec<WallFound> = slugs.iter().map(|slug| wall(slug)).collect();
    let survey = survey::measure(building(walls)).unwrap();
    let specification = Specification {
        walls: slugs
            .iter()
            .map(|slug| WallSpecification {
                slug: (*slug).to_owned(),
                coats: coats(&catalogue),
                limewash: Limewash {
                    coats: 5,
                    water_parts: 3.0,
                    interval_h: 24.0,
                    lime: "putty-cl90".to_owned(),
                    colour: "white".to_owned(),
                    least_wait_days: 7.0,
                },
            })
            .collect(),
        panel: Panel { area_m2: 1.0, words: String::new(), lead_days: 28 },
        preparation: Vec::new(),
        findings: Vec::new(),
        reckonings: Reckonings::default(),
    };
    let quantities = Quantities {
        walls: slugs
            .iter()
            .map(|slug| WallQuantities {
                slug: (*slug).to_owned(),
                coats: Vec::new(),
                limewash_l: 100.0,
                hessian_m2: 66.0,
                tie_patches: 3,
                tie_mortar_m3: 0.0,
            })
            .collect(),
        materials: vec![material("putty-cl90", 40, "20 litre tub", &["scud", "straightening", "finish", "limewash"])],
        area_m2: 60.0 * slugs.len() as f64,
        reckonings: Reckonings::default(),
    };
    Job { survey, specification, quantities, inputs: inputs(catalogue, building(slugs.iter().map(|slug| wall(slug)).collect())) }
}

pub fn material(slug: &str, units: u32, unit_name: &str, serves: &[&str]) -> Material {
    Material {
        slug: slug.to_owned(),
        name: slug.to_owned(),
        amount: f64::from(units) * 25.0,
        unit: "kg".to_owned(),
        units,
        unit_name: unit_name.to_owned(),
        purpose: "harl".to_owned(),
        one_load: false,
        serves: serves.iter().map(|word| (*word).to_owned()).collect(),
    }
}
