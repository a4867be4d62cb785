//! A catalogue of one lime, two sands, one stone and one cover, for the invented plan. Its figures are made up to be plausible.

use std::collections::BTreeMap;

use materials::{Catalogue, Cover, Lime, LimeKind, Masonry, Sand};

use crate::support::{cautions, moisture};

pub fn catalogue() -> Catalogue {
    let lime = Lime {
        name: "Lime putty CL 90, matured".into(),
        kind: LimeKind::Putty,
        designation: "CL 90 S PL".into(),
        bulk_kg_m3: 1350.0,
        portlandite_share: 0.45,
        water_share: 0.53,
        solid_kg_m3: 2240.0,
        class_mpa: None,
        hydraulic_share: None,
        final_set_h: None,
        unit_name: "20 litre tub".into(),
        unit_kg: 27.0,
        mature_weeks: 12.0,
        frost_free_days: (14.0, 28.0),
    };
    let sand = |name: &str, largest: f64| Sand {
        name: name.into(),
        loose_kg_m3: 1550.0,
        particle_kg_m3: 2650.0,
        largest_mm: largest,
        fines_share: 0.02,
        sharp: true,
        moisture_share: 0.04,
        bulking: 0.2,
        unit_name: "tonne bag".into(),
        unit_kg: 850.0,
    };
    let masonry = Masonry {
        name: "Whin rubble".into(),
        tell: "dark, cannot be scratched".into(),
        stone: moisture(2700.0),
        dense: true,
        hardness: "hard".into(),
        splash_s: (60.0, 120.0),
        solar_absorptance: 0.7,
    };
    let cover = Cover {
        name: "Damp hessian".into(),
        wind_leak: 0.2,
        sun_through: 0.2,
        rain_through: 0.5,
        sky_through: 0.1,
        gap_w_m2k: 5.0,
        cloth_kg_m2: 0.3,
        holds_kg_m2: 0.6,
        cloth_absorptance: 0.6,
        wetted: true,
        warms_k: 0.0,
        heater_w_m2: 0.0,
        skin_w_m2k: 0.0,
        burner: false,
        co2_film_m_s: 0.003,
        hang_h_per_100_m2: 3.0,
        load_kg_m2: 0.9,
        wind_limit_m_s: 12.0,
    };
    Catalogue {
        limes: BTreeMap::from([("putty-cl90".to_owned(), lime)]),
        sands: BTreeMap::from([
            ("sharp-concreting".to_owned(), sand("Sharp concreting sand 0/4", 4.0)),
            ("finish-grit".to_owned(), sand("Finish grit 2/6", 6.0)),
        ]),
        masonries: BTreeMap::from([("whin-rubble".to_owned(), masonry)]),
        covers: BTreeMap::from([("damp-hessian".to_owned(), cover)]),
        cautions: cautions(),
        sources: BTreeMap::new(),
    }
}
