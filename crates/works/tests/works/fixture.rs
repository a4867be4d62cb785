//! An invented job of plain walls with round outputs, so that its programme can be worked on paper.

use jiff::civil::{Date, Weekday, date, time};
use materials::{Catalogue, Mix};
use reckoning::{Currency, Known, Reckonings};
use rust_decimal::Decimal;
use survey::*;
use works::*;

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

pub fn known<T>(value: T) -> Known<T> {
    Known::answered(value)
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
    Job { survey, specification, quantities, inputs: inputs(catalogue, slugs) }
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

/// Monday 1 June 2026.
pub fn start() -> Date {
    date(2026, 6, 1)
}

fn inputs(catalogue: Catalogue, slugs: &[&str]) -> Inputs {
    let money = |hundredths: i64| known(Decimal::new(hundredths, 2));
    Inputs {
        about: About {
            name: "Invented job".to_owned(),
            place: "Port Calder".to_owned(),
            client: "Invented client".to_owned(),
            contractor: "Invented contractor".to_owned(),
            surveyor: "Invented surveyor".to_owned(),
            revision: 1,
            dated: date(2026, 4, 2),
            invented: true,
            time_zone: "UTC".to_owned(),
        },
        building: building(slugs.iter().map(|slug| wall(slug)).collect()),
        catalogue,
        system: System {
            lime: known("putty-cl90".to_owned()),
            sand: known("sharp-0-4".to_owned()),
            finish_sand: known("sharp-0-4".to_owned()),
            all_thrown: known(false),
            straight_edge_m: known(1.8),
            pinning_m: 0.048,
            pigment_g_l: None,
            coats: Vec::new(),
            limewash_coats: known(5),
            colour: known("white".to_owned()),
            cover: known("none".to_owned()),
            protection: works::ProtectionAsked::Rule,
            cement_share: 0.0,
        },
        window: Window { start: start(), finish_by: None },
        before: BeforeStart::default(),
        calendar: Calendar {
            days: vec![Weekday::Monday, Weekday::Tuesday, Weekday::Wednesday, Weekday::Thursday, Weekday::Friday],
            from: time(8, 0, 0, 0),
            to: time(16, 0, 0, 0),
            breaks: Vec::new(),
        },
        gangs: vec![gang("First gang")],
        running: Running::default(),
        rates: Rates {
            currency: Currency::from_code("GBP").unwrap(),
            tax: money(20),
            mason_h: money(3000),
            labourer_h: money(2000),
            outputs: Outputs {
                preparation: known(60.0),
                take_off_cement: known(10.0),
                take_off_lime_harl: known(25.0),
                take_off_paint: known(20.0),
                scud: known(60.0),
                straightening: known(75.0),
                ruling: known(300.0),
                finish: known(60.0),
                limewash: known(120.0),
                reveals_m: known(20.0),
                hessian: known(200.0),
                tie_patches: known(20.0),
            },
            materials: vec![("putty-cl90".to_owned(), money(1250))],
            water_m3: money(300),
            plant_week: money(12000),
            visit: money(5000),
            damping_visit: money(1500),
            hessian_m2: money(110),
            waste_m3: money(6000),
            making_good_m2: money(800),
            overhead: known(Decimal::new(15, 2)),
            terms: Terms::default(),
            last_job: None,
        },
        scaffold: Scaffold {
            walls_at_once: None,
            from: known(start()),
            up_m2_day: known(60.0),
            adapt_m2_day: known(120.0),
            down_m2_day: known(60.0),
            lift_m: known(2.0),
            m2_per_tie: known(20.0),
            adapt_m2: money(100),
            up_and_down_m2: money(900),
            hire_m2_week: money(80),
        },
        allowances: Allowances {
            waste_laid: known(0.1),
            rebound_scud: known(0.15),
            rebound_thrown: known(0.2),
            waste_lime: known(0.05),
            waste_sand: known(0.1),
            limewash_m2_l: known(3.5),
            limewash_water: known(3.0),
            hessian_lap: known(0.1),
        },
        questions: std::collections::BTreeMap::new(),
        foresight: works::protect::Foresight::default(),
        seed: 1,
    }
}

/// Two masons and a labourer.
pub fn gang(name: &str) -> Gang {
    Gang {
        name: name.to_owned(),
        masons: 2,
        labourers: 1,
        between: Between::OtherWork,
        travel_h: known(1.0),
        home_each_night: known(false),
    }
}
