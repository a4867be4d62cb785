//! An invented job of round figures, apart from its walls: what both groups of tests begin from and change what they are about.

use jiff::civil::{Date, Weekday, date, time};
use materials::Catalogue;
use reckoning::{Currency, Known};
use rust_decimal::Decimal;
use survey::Building;
use works::*;

pub fn known<T>(value: T) -> Known<T> {
    Known::answered(value)
}

/// Hundredths of money, answered.
pub fn money(hundredths: i64) -> Known<Decimal> {
    known(Decimal::new(hundredths, 2))
}

/// Monday 1 June 2026.
pub fn start() -> Date {
    date(2026, 6, 1)
}

/// The job with these walls.
pub fn inputs(catalogue: Catalogue, building: Building) -> Inputs {
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
        building,
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
