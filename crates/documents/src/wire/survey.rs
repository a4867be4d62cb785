//! plan/1: what was surveyed and measured.

use serde::Serialize;
use survey::{CauseOfDamp, DampKind, DampState, Inside, OldCovering, Opening, OpeningKind, Outline, Stage, WallFound, WallMeasured};
use works::Plan;

#[derive(Serialize)]
pub(super) struct Survey<'p> {
    stage: &'static str,
    surveyed_on: &'p str,
    protected: bool,
    area_m2: f64,
    causes_of_damp: Vec<Cause<'p>>,
    walls: Vec<Wall<'p>>,
}

impl<'p> Survey<'p> {
    pub(super) fn of(plan: &'p Plan) -> Self {
        let building = &plan.survey.building;
        let measured = |wall: &WallFound| plan.survey.walls.iter().find(|measured| measured.slug == wall.slug);
        Self {
            stage: match building.stage {
                Stage::BeforeStripping => "before-stripping",
                Stage::AfterOpeningUp => "after-opening-up",
            },
            surveyed_on: &building.surveyed_on,
            protected: building.protected.value,
            area_m2: plan.quantities.area_m2,
            causes_of_damp: building.causes_of_damp.iter().map(Cause::of).collect(),
            walls: building.walls.iter().map(|wall| Wall::of(wall, measured(wall))).collect(),
        }
    }
}

#[derive(Serialize)]
struct Cause<'p> {
    kind: &'static str,
    state: &'static str,
    walls: &'p [String],
}

impl<'p> Cause<'p> {
    fn of(cause: &'p CauseOfDamp) -> Self {
        let kind = match cause.kind {
            DampKind::Gutters => "gutters",
            DampKind::Downpipes => "downpipes",
            DampKind::Wallhead => "wallhead",
            DampKind::Skews => "skews",
            DampKind::HighGround => "high-ground",
            DampKind::RustingIron => "rusting-iron",
            DampKind::Salts => "salts",
        };
        let state = match cause.state {
            DampState::Sound => "sound",
            DampState::ToMend => "to-mend",
            DampState::NotSeen => "not-seen",
        };
        Self { kind, state, walls: &cause.walls }
    }
}

#[derive(Serialize)]
struct Wall<'p> {
    slug: &'p str,
    name: &'p str,
    faces_deg: f64,
    outline: Shape<'p>,
    openings: Vec<Hole<'p>>,
    masonry: &'p str,
    thickness_m: f64,
    old_covering: &'static str,
    inside: &'static str,
    measured: Option<Measured<'p>>,
}

impl<'p> Wall<'p> {
    fn of(wall: &'p WallFound, measured: Option<&'p WallMeasured>) -> Self {
        Self {
            slug: &wall.slug,
            name: &wall.name,
            faces_deg: wall.faces_deg,
            outline: Shape::of(&wall.outline),
            openings: wall.openings.iter().map(Hole::of).collect(),
            masonry: &wall.masonry.value,
            thickness_m: wall.thickness_m.value,
            old_covering: match wall.old_covering.value {
                OldCovering::Bare => "bare",
                OldCovering::LimeHarl => "lime-harl",
                OldCovering::Cement => "cement",
                OldCovering::Paint => "paint",
            },
            inside: match wall.inside.value {
                Inside::Heated => "heated",
                Inside::Unheated => "unheated",
                Inside::Roofless => "roofless",
                Inside::FreeStanding => "free-standing",
            },
            measured: measured.map(Measured::of),
        }
    }
}

#[derive(Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
enum Shape<'p> {
    Rectangle { length_m: f64, height_m: f64 },
    Gable { length_m: f64, eaves_m: f64, apex_m: f64 },
    Polygon { corners_m: &'p [(f64, f64)] },
    Round { radius_m: f64, arc_deg: f64, height_m: f64 },
}

impl<'p> Shape<'p> {
    fn of(outline: &'p Outline) -> Self {
        match outline {
            Outline::Rectangle { length_m, height_m } => Shape::Rectangle { length_m: *length_m, height_m: *height_m },
            Outline::Gable { length_m, eaves_m, apex_m } => Shape::Gable { length_m: *length_m, eaves_m: *eaves_m, apex_m: *apex_m },
            Outline::Polygon { corners_m } => Shape::Polygon { corners_m },
            Outline::Round { radius_m, arc_deg, height_m } => Shape::Round { radius_m: *radius_m, arc_deg: *arc_deg, height_m: *height_m },
        }
    }
}

#[derive(Serialize)]
struct Hole<'p> {
    slug: &'p str,
    kind: &'static str,
    width_m: f64,
    height_m: f64,
    left_m: f64,
    sill_m: f64,
    reveal_m: f64,
}

impl<'p> Hole<'p> {
    fn of(opening: &'p Opening) -> Self {
        Self {
            slug: &opening.slug,
            kind: match opening.kind {
                OpeningKind::Window => "window",
                OpeningKind::Door => "door",
                OpeningKind::CartDoor => "cart-door",
                OpeningKind::Vent => "vent",
            },
            width_m: opening.width_m,
            height_m: opening.height_m,
            left_m: opening.left_m,
            sill_m: opening.sill_m,
            reveal_m: opening.reveal_m,
        }
    }
}

#[derive(Serialize)]
struct Measured<'p> {
    gross_m2: f64,
    deducted_m2: f64,
    net_m2: f64,
    reveal_m2: f64,
    length_m: f64,
    top_m: f64,
    lines_m: Lines,
    bays: Vec<Bay>,
    relief: Relief<'p>,
}

/// A bay of the finish, from the left end.
#[derive(Serialize)]
struct Bay {
    from_m: f64,
    to_m: f64,
    share: f64,
    top_m: f64,
}

#[derive(Serialize)]
struct Lines {
    ingo: f64,
    sill: f64,
    skew: f64,
    margin: f64,
    quoin: f64,
    wallhead: f64,
    base: f64,
}

#[derive(Serialize)]
struct Relief<'p> {
    mean_m: f64,
    mean_low_m: f64,
    mean_high_m: f64,
    percentiles_m: [f64; 3],
    deepest_m: f64,
    basis: &'p str,
    assumed: bool,
    /// Where the face was measured closely.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    under: Vec<Under>,
}

/// The face ruled with one length of edge.
#[derive(Serialize)]
struct Under {
    edge_m: f64,
    mean_m: f64,
    percentiles_m: [f64; 3],
    deepest_m: f64,
}

impl<'p> Measured<'p> {
    fn of(wall: &'p WallMeasured) -> Self {
        let (lines, relief) = (&wall.lines, &wall.relief);
        Self {
            gross_m2: wall.gross_m2,
            deducted_m2: wall.deducted_m2,
            net_m2: wall.net_m2,
            reveal_m2: wall.reveal_m2,
            length_m: wall.length_m,
            top_m: wall.top_m,
            lines_m: Lines {
                ingo: lines.ingo_m,
                sill: lines.sill_m,
                skew: lines.skew_m,
                margin: lines.margin_m,
                quoin: lines.quoin_m,
                wallhead: lines.wallhead_m,
                base: lines.base_m,
            },
            bays: wall.bays.iter().map(|bay| Bay { from_m: bay.from_m, to_m: bay.to_m, share: bay.share, top_m: bay.top_m }).collect(),
            relief: Relief {
                mean_m: relief.mean_m,
                mean_low_m: relief.mean_range_m.0,
                mean_high_m: relief.mean_range_m.1,
                percentiles_m: relief.percentiles_m,
                deepest_m: relief.deepest_m,
                basis: &relief.basis,
                assumed: relief.assumed,
                under: relief.curve.iter().map(Under::of).collect(),
            },
        }
    }
}

impl Under {
    fn of(ruled: &survey::UnderEdge) -> Self {
        Self { edge_m: ruled.edge_m, mean_m: ruled.mean_m, percentiles_m: ruled.percentiles_m, deepest_m: ruled.deepest_m }
    }
}
