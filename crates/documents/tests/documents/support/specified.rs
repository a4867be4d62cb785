//! What is specified for it, and how much that takes. Made up to be plausible; nothing here checks arithmetic.

use super::*;

pub(super) fn mortar(mix: &Mix) -> Mortar {
    let sand = 1000.0;
    let lime = sand / mix.sand_parts;
    Mortar {
        mix: mix.clone(),
        yield_per_sand: 1.0,
        lime_kg_m3: lime * 1.35,
        lime_l_m3: lime,
        sand_kg_m3: 1550.0,
        sand_l_m3: sand,
        water_added_kg_m3: 120.0,
        water_fresh_kg_m3: 310.0,
        portlandite_mol_m3: 4000.0,
        set: None,
        hardened: moisture(1750.0),
        fresh: moisture(1950.0),
        strength_rank: 1.0 / mix.sand_parts,
    }
}

pub(super) fn coat(slug: &str, name: &str, kind: CoatKind, parts: f64, mm: [f64; 3], placing: Placing, grain: f64) -> CoatSpecification {
    let sand = if kind == CoatKind::Finish { "finish-grit" } else { "sharp-concreting" };
    let mix = Mix { lime: "putty-cl90".into(), sand: sand.into(), sand_parts: parts };
    CoatSpecification {
        slug: slug.into(),
        name: name.into(),
        kind,
        mortar: mortar(&mix),
        mix,
        thickness_m: mm.map(|value| value / 1000.0),
        mean_thickness_m: mm[1] / 1000.0,
        placing,
        largest_grain_mm: grain,
        protection: Protection { cover: "damp-hessian".into(), days: 10, damp_days: 7, wettings_a_day: 2, policy: None },
        least_wait_days: 7.0,
        test: "Nail test: a nail drawn with a firm hand marks the coat and does not plough it; the knuckle leaves no print.".into(),
        method: "Thrown hard from the scoop on a wall damped the evening before and again half an hour before; not trowelled.".into(),
    }
}

pub(super) fn specification(found: &[WallFound]) -> Specification {
    let walls = found
        .iter()
        .enumerate()
        .map(|(index, wall)| {
            let mut coats = vec![coat("scud", "Scud coat", CoatKind::Scud, 1.0, [3.0, 3.5, 4.0], Placing::Thrown, 4.0)];
            coats.push(coat("straightening", "Straightening coat", CoatKind::Straightening, 2.0, [5.0, 12.0, 24.0], Placing::Laid, 4.0));
            if index == 1 {
                coats.push(coat(
                    "straightening-2",
                    "Straightening coat, second pass",
                    CoatKind::Straightening,
                    2.0,
                    [4.0, 8.0, 12.0],
                    Placing::Laid,
                    4.0,
                ));
            }
            coats.push(coat("finish", "Finish harl", CoatKind::Finish, 2.5, [7.0, 8.0, 9.0], Placing::Thrown, 6.0));
            WallSpecification {
                slug: wall.slug.clone(),
                coats,
                limewash: Limewash {
                    coats: 5,
                    water_parts: 3.0,
                    interval_h: 24.0,
                    lime: "putty-cl90".into(),
                    colour: "natural white".into(),
                    least_wait_days: 7.0,
                },
            }
        })
        .collect();
    Specification {
        walls,
        panel: Panel {
            area_m2: 1.0,
            words: "A panel of one square metre on the north wall, all coats, approved by the client before the work is begun.".into(),
            lead_days: 42,
        },
        preparation: vec![
            "Mend the gutter over the north wall before anything else.".into(),
            "Take off the cement covering by hand, without percussion on the arrises.".into(),
            "Rake out loose joints to twice their width, pin hollows with stone bedded in lime.".into(),
        ],
        findings: Vec::new(),
        reckonings: Reckonings::default(),
    }
}

pub(super) fn quantities(specification: &Specification, measured: &[WallMeasured]) -> Quantities {
    let walls = specification
        .walls
        .iter()
        .zip(measured)
        .map(|(wall, measure)| WallQuantities {
            slug: wall.slug.clone(),
            coats: wall
                .coats
                .iter()
                .map(|coat| {
                    let area = measure.net_m2 + measure.reveal_m2;
                    let net = area * coat.mean_thickness_m;
                    CoatQuantities {
                        slug: coat.slug.clone(),
                        area_m2: area,
                        mean_thickness_m: coat.mean_thickness_m,
                        net_m3: net,
                        mixed_m3: net * 1.2,
                        mixed_range_m3: (net * 1.1, net * 1.4),
                        lime_kg: net * 1.2 * coat.mortar.lime_kg_m3,
                        sand_kg: net * 1.2 * coat.mortar.sand_kg_m3,
                        water_l: net * 1.2 * coat.mortar.water_added_kg_m3,
                    }
                })
                .collect(),
            limewash_l: 54.0,
            hessian_m2: 52.0,
            tie_patches: 3,
            tie_mortar_m3: 0.002,
        })
        .collect();
    Quantities {
        walls,
        materials: vec![Material {
            slug: "putty-cl90".into(),
            name: "Lime putty CL 90, matured".into(),
            amount: 1240.0,
            unit: "kg".into(),
            units: 46,
            unit_name: "20 litre tub".into(),
            purpose: "all coats and limewash".into(),
            one_load: false,
            serves: vec!["scud".into(), "straightening".into(), "finish".into(), "limewash".into()],
        }],
        area_m2: 0.0,
        reckonings: Reckonings::default(),
    }
}
