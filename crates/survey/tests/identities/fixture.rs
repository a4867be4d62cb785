//! An invented building for tests.
#![allow(dead_code, reason = "each program that shares this file uses a part of it")]

use reckoning::Known;
use survey::*;

/// A wall of 10 by 4 m without openings.
pub fn wall(slug: &str) -> WallFound {
    let known = Known::answered;
    WallFound {
        slug: slug.to_owned(),
        name: slug.to_owned(),
        outline: Outline::Rectangle { length_m: 10.0, height_m: 4.0 },
        faces_deg: 0.0,
        openings: Vec::new(),
        chimneys: Vec::new(),
        lines: Lines::default(),
        joints: Vec::new(),
        masonry: Known::answered("red-sandstone".to_owned()),
        thickness_m: known(0.6),
        joint_share: known(0.2),
        old_covering: Known::answered(OldCovering::Bare),
        bared_months: None,
        dampness: Dampness { low: known(0.2), middle: known(0.15), high: known(0.15), face: None },
        splash_s: known(20.0),
        evenness: Evenness::Gaps { gaps_m: vec![0.010; 10] },
        inside: Known::answered(Inside::Heated),
        exposure: Exposure {
            terrain: Known::answered(Terrain::Town),
            obstruction_m: Known::answered(Some(15.0)),
            overhang: Known::answered(true),
        },
    }
}

/// An opening of a wall.
pub fn opening(slug: &str, left_m: f64, sill_m: f64, width_m: f64, height_m: f64) -> Opening {
    Opening {
        slug: slug.to_owned(),
        kind: OpeningKind::Window,
        width_m,
        height_m,
        left_m,
        sill_m,
        reveal_m: 0.2,
        head: true,
        has_sill: true,
        margin_m: 0.0,
    }
}

/// A building of these walls, opened up, every opening deducted.
pub fn building(walls: Vec<WallFound>) -> Building {
    Building {
        stage: Stage::AfterOpeningUp,
        surveyed_on: "2026-03-01".to_owned(),
        protected: Known::answered(false),
        causes_of_damp: Vec::new(),
        walls,
        small_opening_m2: 0.0,
    }
}
