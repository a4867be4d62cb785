//! The house as it was found: its walls, measured. Made up to be plausible; nothing here checks arithmetic.

use super::*;

pub(super) fn building(walls: Vec<WallFound>) -> Building {
    Building {
        stage: Stage::AfterOpeningUp,
        surveyed_on: "2027-02-12".into(),
        protected: Known::answered(true),
        causes_of_damp: vec![CauseOfDamp { kind: DampKind::Gutters, state: DampState::ToMend, walls: vec!["wall-1".into()] }],
        walls,
        small_opening_m2: 0.5,
    }
}

pub(super) fn opening(slug: &str, kind: OpeningKind, left: f64, sill: f64, width: f64, height: f64) -> Opening {
    Opening {
        slug: slug.into(),
        kind,
        width_m: width,
        height_m: height,
        left_m: left,
        sill_m: sill,
        reveal_m: 0.18,
        head: true,
        has_sill: kind == OpeningKind::Window,
        margin_m: if kind == OpeningKind::Window { 0.12 } else { 0.0 },
    }
}

pub(super) fn wall_found(index: usize, names: Names) -> WallFound {
    let (outline, openings, chimneys) = match index % 4 {
        0 => (
            Outline::Rectangle { length_m: 9.6, height_m: 4.7 },
            vec![
                opening("w1", OpeningKind::Window, 1.3, 3.0, 1.0, 1.2),
                opening("w2", OpeningKind::Window, 4.3, 3.0, 1.0, 1.2),
                opening("w3", OpeningKind::Window, 7.2, 3.0, 1.0, 1.2),
                opening("w4", OpeningKind::Window, 1.3, 0.8, 1.0, 1.3),
                opening("door", OpeningKind::Door, 4.3, 0.0, 1.0, 2.1),
            ],
            vec![],
        ),
        1 => (
            Outline::Gable { length_m: 6.4, eaves_m: 4.7, apex_m: 7.6 },
            vec![opening("attic", OpeningKind::Window, 2.8, 4.6, 0.8, 1.0)],
            vec![Chimney { length_m: 1.0, width_m: 0.6, height_m: 1.1 }],
        ),
        2 => (
            Outline::Polygon { corners_m: vec![(0.0, 0.0), (9.6, 0.3), (9.6, 4.7), (0.0, 4.7)] },
            vec![
                opening("cart", OpeningKind::CartDoor, 1.0, 0.2, 2.4, 2.3),
                opening("w1", OpeningKind::Window, 5.6, 3.0, 1.0, 1.2),
                opening("vent", OpeningKind::Vent, 7.8, 0.7, 0.3, 0.3),
            ],
            vec![],
        ),
        _ => (
            Outline::Round { radius_m: 2.4, arc_deg: 150.0, height_m: 4.7 },
            vec![opening("w1", OpeningKind::Window, 2.6, 3.0, 0.7, 1.0)],
            vec![],
        ),
    };
    WallFound {
        slug: format!("wall-{}", index + 1),
        name: wall_name(index, names),
        outline,
        faces_deg: (index as f64 * 90.0) % 360.0,
        openings,
        chimneys,
        lines: Lines::default(),
        joints: Vec::new(),
        masonry: Known::answered("whin-rubble".into()),
        thickness_m: Known::answered(0.61),
        joint_share: Known::assumed(0.25, "common practice, no source", Some((0.15, 0.35))),
        old_covering: Known::answered([OldCovering::Bare, OldCovering::Cement, OldCovering::LimeHarl, OldCovering::Paint][index % 4]),
        bared_months: None,
        dampness: Dampness {
            low: Known::assumed(0.4, "common practice, no source", Some((0.2, 0.6))),
            middle: Known::assumed(0.3, "common practice, no source", Some((0.1, 0.5))),
            high: Known::answered(0.2),
            face: None,
        },
        splash_s: Known::answered(70.0),
        evenness: Evenness::Class { class: Known::assumed(EvennessClass::Rubble, "common practice, no source", None) },
        inside: Known::answered(Inside::Heated),
        exposure: Exposure {
            terrain: Known::answered(Terrain::Shore),
            obstruction_m: Known::answered(None),
            overhang: Known::answered(false),
        },
    }
}

pub(super) fn measure(wall: &WallFound) -> WallMeasured {
    let (gross, top, length) = match &wall.outline {
        Outline::Rectangle { length_m, height_m } => (length_m * height_m, *height_m, *length_m),
        Outline::Gable { length_m, eaves_m, apex_m } => (length_m * (eaves_m + apex_m) / 2.0, *apex_m, *length_m),
        Outline::Polygon { .. } => (9.6 * 4.55, 4.7, 9.6),
        Outline::Round { radius_m, arc_deg, height_m } => {
            (radius_m * arc_deg.to_radians() * height_m, *height_m, radius_m * arc_deg.to_radians())
        }
    };
    let openings: f64 = wall.openings.iter().map(|o| o.width_m * o.height_m).sum();
    WallMeasured {
        slug: wall.slug.clone(),
        gross_m2: gross,
        deducted_m2: openings,
        net_m2: gross - openings,
        reveal_m2: 1.9,
        top_m: top,
        length_m: length,
        bays: vec![survey::Bay { from_m: 0.0, to_m: length, share: 1.0, top_m: top }],
        lines: MeasuredLines { ingo_m: 12.4, sill_m: 3.0, base_m: length, wallhead_m: length, ..MeasuredLines::default() },
        relief: Relief {
            mean_m: 0.012,
            mean_range_m: (0.008, 0.017),
            percentiles_m: [0.005, 0.012, 0.024],
            deepest_m: 0.04,
            basis: "class by eye".into(),
            assumed: true,
            spread_m: Vec::new(),
            curve: Vec::new(),
        },
    }
}

pub fn moisture(density: f64) -> Moisture {
    Moisture {
        density_kg_m3: density,
        porosity: 0.3,
        saturation_kg_m3: 250.0,
        retention_a_per_pa: 1e-5,
        retention_n: 1.6,
        absorption_kg_m2_s05: 0.1,
        vapour_resistance: 15.0,
        conductivity_w_mk: 0.7,
        conductivity_per_water: 0.002,
        heat_j_kgk: 850.0,
    }
}
