//! An invented house of one or more walls on which every rule agrees, from which each test departs in one thing.

use jiff::civil::{Weekday, date, time};
use materials::Catalogue;
use reckoning::{Currency, Finding, Grade, Known};
use rust_decimal::Decimal;
use survey::*;
use works::*;

pub fn known<T>(value: T) -> Known<T> {
    Known::answered(value)
}

/// A house wall of 8 by 3.5 m without openings, squared stone, dry, long bare, under eaves.
pub fn wall(slug: &str) -> WallFound {
    WallFound {
        slug: slug.to_owned(),
        name: slug.to_owned(),
        outline: Outline::Rectangle { length_m: 8.0, height_m: 3.5 },
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
        dampness: Dampness { low: known(0.2), middle: known(0.15), high: known(0.15), face: None },
        splash_s: known(20.0),
        evenness: Evenness::Gaps { gaps_m: vec![0.010; 10] },
        inside: known(Inside::Heated),
        exposure: Exposure { terrain: known(Terrain::Town), obstruction_m: known(Some(15.0)), overhang: known(true) },
    }
}

/// A window in the middle of [`wall`].
pub fn window(slug: &str) -> Opening {
    Opening {
        slug: slug.to_owned(),
        kind: OpeningKind::Window,
        width_m: 1.0,
        height_m: 1.4,
        left_m: 3.0,
        sill_m: 0.9,
        reveal_m: 0.18,
        head: true,
        has_sill: true,
        margin_m: 0.0,
    }
}

pub fn inputs() -> Inputs {
    let money = |hundredths: i64| known(Decimal::new(hundredths, 2));
    use DampKind::*;
    Inputs {
        about: About {
            name: "Invented job".to_owned(),
            place: "Port Calder".to_owned(),
            client: "Invented client".to_owned(),
            contractor: "Invented contractor".to_owned(),
            surveyor: "Invented surveyor".to_owned(),
            revision: 1,
            dated: date(2026, 1, 10),
            invented: true,
            time_zone: "UTC".to_owned(),
        },
        building: Building {
            stage: Stage::AfterOpeningUp,
            surveyed_on: "2026-01-05".to_owned(),
            protected: known(false),
            causes_of_damp: [Gutters, Downpipes, Wallhead, Skews, HighGround, RustingIron, Salts]
                .into_iter()
                .map(|kind| CauseOfDamp { kind, state: DampState::Sound, walls: Vec::new() })
                .collect(),
            walls: vec![wall("north")],
            small_opening_m2: 0.5,
        },
        catalogue: Catalogue::shipped(),
        system: System {
            lime: known("putty-cl90".to_owned()),
            sand: known("sharp-0-4".to_owned()),
            finish_sand: known("sharp-0-4".to_owned()),
            all_thrown: known(false),
            straight_edge_m: known(0.9),
            pinning_m: 0.048,
            pigment_g_l: None,
            coats: Vec::new(),
            limewash_coats: known(5),
            colour: Known::assumed("the off-white of lime".to_owned(), "common practice, no source", None),
            cover: known("damp-hessian".to_owned()),
            protection: works::ProtectionAsked::Rule,
            cement_share: 0.0,
        },
        window: Window { start: date(2026, 4, 27), finish_by: None },
        before: BeforeStart::default(),
        calendar: Calendar {
            days: vec![Weekday::Monday, Weekday::Tuesday, Weekday::Wednesday, Weekday::Thursday, Weekday::Friday],
            from: time(8, 0, 0, 0),
            to: time(16, 0, 0, 0),
            breaks: Vec::new(),
        },
        gangs: vec![Gang {
            name: "First gang".to_owned(),
            masons: 2,
            labourers: 1,
            between: Between::OtherWork,
            travel_h: known(1.0),
            home_each_night: known(false),
        }],
        running: works::Running::default(),
        rates: Rates {
            currency: Currency::from_code("GBP").unwrap(),
            tax: money(20),
            mason_h: money(3000),
            labourer_h: money(2000),
            outputs: Outputs {
                preparation: known(20.0),
                take_off_cement: known(10.0),
                take_off_lime_harl: known(25.0),
                take_off_paint: known(20.0),
                scud: known(60.0),
                straightening: known(25.0),
                ruling: known(300.0),
                finish: known(36.0),
                limewash: known(100.0),
                reveals_m: known(30.0),
                hessian: known(200.0),
                tie_patches: known(20.0),
            },
            materials: Vec::new(),
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
            from: known(date(2026, 4, 20)),
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
            waste_laid: known(0.075),
            rebound_scud: known(0.15),
            rebound_thrown: known(0.2),
            waste_lime: known(0.05),
            waste_sand: known(0.1),
            limewash_m2_l: known(3.5),
            limewash_water: known(3.0),
            hessian_lap: known(0.15),
        },
        questions: std::collections::BTreeMap::new(),
        foresight: works::protect::Foresight::default(),
        seed: 1,
    }
}

pub fn survey(inputs: &Inputs) -> Survey {
    measure(inputs.building.clone()).unwrap()
}

pub fn specified(inputs: &Inputs) -> Specification {
    specify(&survey(inputs), inputs)
}

pub fn of_rule<'a>(specification: &'a Specification, rule: &str) -> Vec<&'a Finding> {
    specification.findings.iter().filter(|finding| finding.rule == rule).collect()
}

/// The gravest grade of a rule.
pub fn grade(inputs: &Inputs, rule: &str) -> Grade {
    let specification = specified(inputs);
    of_rule(&specification, rule).iter().map(|finding| finding.grade).min().unwrap_or_else(|| panic!("no report of {rule}"))
}
