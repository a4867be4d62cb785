//! The walls as the surveyor found them, all at one scale: outline, openings, what is on them, dimension lines and a scale bar.

use survey::{Chimney, OldCovering, Opening, OpeningKind, Outline, WallFound, WallMeasured};
use works::Plan;

use super::hatch::{self, Hatch};
use super::metrics::{self, Face};
use super::{Canvas, Figure, Hand, Theme};

/// Metres of the world in one point at 1 : 1.
const METRES_PER_POINT: f64 = 0.0254 / 72.0;
/// Scales that a building drawing may have.
const SCALES: [f64; 10] = [50.0, 75.0, 100.0, 125.0, 150.0, 200.0, 250.0, 500.0, 1000.0, 2000.0];

/// One wall ready to be drawn: corners in metres, y up from the base.
struct Drawn<'p> {
    /// Its number where there are several.
    number: Option<usize>,
    wall: &'p WallFound,
    measured: Option<&'p WallMeasured>,
    corners: Vec<(f64, f64)>,
    chimneys: Vec<Vec<(f64, f64)>>,
    long: f64,
    tall: f64,
}

/// The place of a wall on the sheet.
struct Cell {
    left: f64,
    wide: f64,
    row: usize,
}

/// How much is drawn: elevations with their dimensions, or a row of small pictures with names.
struct Manner {
    dimensions: bool,
    /// Room left of a wall, least width of a wall with its words, gap between walls.
    side: f64,
    least: f64,
    gap: f64,
    rows: usize,
}

impl Manner {
    fn full(theme: &Theme, walls: usize) -> Self {
        let size = theme.size;
        Self { dimensions: true, side: size * 3.1, least: size * 13.0, gap: size * 2.4, rows: if walls > 6 { 3 } else { 2 } }
    }

    fn small(theme: &Theme, walls: usize) -> Self {
        let size = theme.size;
        Self { dimensions: false, side: size * 0.7, least: size * 8.0, gap: size * 1.6, rows: if walls > 5 { 2 } else { 1 } }
    }
}

/// All walls of the plan, walked round, in rows at one scale, with dimensions.
pub fn elevations(plan: &Plan, theme: &Theme) -> Figure {
    let (found, measured) = (&plan.survey.building.walls, &plan.survey.walls);
    draw(found, measured, theme, &Manner::full(theme, found.len()), "The walls, to scale")
}

/// Walls as surveyed, before anything is planned, at one scale with their dimensions; one that was not measured shows no area.
pub fn surveyed(found: &[WallFound], measured: &[WallMeasured], theme: &Theme) -> Figure {
    draw(found, measured, theme, &Manner::full(theme, found.len()), "The walls as surveyed")
}

/// The walls in a row at one scale, with their names alone: a picture of the job.
pub fn walls_in_a_row(plan: &Plan, theme: &Theme) -> Figure {
    let (found, measured) = (&plan.survey.building.walls, &plan.survey.walls);
    draw(found, measured, theme, &Manner::small(theme, found.len()), "The walls in a row")
}

fn draw(found: &[WallFound], measured: &[WallMeasured], theme: &Theme, manner: &Manner, title: &str) -> Figure {
    let walls: Vec<Drawn<'_>> =
        found.iter().enumerate().map(|(index, wall)| drawn(measured, (found.len() > 1).then_some(index + 1), wall)).collect();
    let (scale, cells) = fit(&walls, theme, manner);
    let per_metre = per_metre(scale);
    let mut canvas = Canvas::new(theme);
    let mut top = 0.0;
    let rows = cells.iter().map(|cell| cell.row + 1).max().unwrap_or(0);
    for row in 0..rows {
        let members = || walls.iter().zip(&cells).filter(|(_, cell)| cell.row == row);
        let tallest = members().map(|(wall, _)| wall.tall * per_metre).fold(0.0, f64::max);
        let base = top + theme.size * 0.8 + tallest;
        let mut lowest: f64 = base;
        for (wall, cell) in members() {
            lowest = lowest.max(draw_wall(&mut canvas, theme, manner, wall, cell, base, per_metre));
        }
        top = lowest + theme.size * 1.2;
    }
    let bottom = if manner.dimensions { scale_bar(&mut canvas, theme, scale, top + theme.size * 0.6) } else { top };
    let names: Vec<String> = walls.iter().map(|wall| wall.wall.name.clone()).collect();
    let description = format!(
        "Elevations drawn to one scale, walked round: {}. Each shows its outline, openings and what covers it now.",
        crate::words::listed(&names)
    );
    canvas.finish(title, description, theme.wide, bottom)
}

fn drawn<'p>(measured: &'p [WallMeasured], number: Option<usize>, wall: &'p WallFound) -> Drawn<'p> {
    let corners = corners(&wall.outline);
    let long = corners.iter().map(|corner| corner.0).fold(0.0, f64::max);
    let head = corners.iter().map(|corner| corner.1).fold(0.0, f64::max);
    let chimneys = chimneys(&wall.chimneys, &wall.outline, long, head);
    let tall = chimneys.iter().flatten().map(|corner| corner.1).fold(head, f64::max);
    let measured = measured.iter().find(|measured| measured.slug == wall.slug);
    Drawn { number, wall, measured, corners, chimneys, long, tall }
}

/// Outline as corners, m; a round wall is unrolled.
pub(super) fn corners(outline: &Outline) -> Vec<(f64, f64)> {
    match outline {
        Outline::Rectangle { length_m, height_m } => vec![(0.0, 0.0), (*length_m, 0.0), (*length_m, *height_m), (0.0, *height_m)],
        Outline::Gable { length_m, eaves_m, apex_m } => {
            vec![(0.0, 0.0), (*length_m, 0.0), (*length_m, *eaves_m), (length_m / 2.0, *apex_m), (0.0, *eaves_m)]
        }
        Outline::Polygon { corners_m } => {
            let left = corners_m.iter().map(|corner| corner.0).fold(f64::INFINITY, f64::min);
            let base = corners_m.iter().map(|corner| corner.1).fold(f64::INFINITY, f64::min).min(0.0);
            corners_m.iter().map(|(x, y)| (x - left, y - base)).collect()
        }
        Outline::Round { radius_m, arc_deg, height_m } => {
            let long = radius_m * arc_deg.to_radians();
            vec![(0.0, 0.0), (long, 0.0), (long, *height_m), (0.0, *height_m)]
        }
    }
}

/// Chimneys on the head of the wall: one on the apex of a gable, others spread along the head, since the survey gives no place.
fn chimneys(found: &[Chimney], outline: &Outline, long: f64, head: f64) -> Vec<Vec<(f64, f64)>> {
    let count = found.len() as f64;
    let gable = matches!(outline, Outline::Gable { .. });
    found
        .iter()
        .enumerate()
        .map(|(index, chimney)| {
            let middle = if gable && found.len() == 1 { long / 2.0 } else { long * (index as f64 + 0.5) / count };
            let (l, r) = (middle - chimney.length_m / 2.0, middle + chimney.length_m / 2.0);
            let sunk = if gable { chimney.length_m * 0.35 } else { 0.0 };
            vec![(l, head - sunk), (r, head - sunk), (r, head + chimney.height_m), (l, head + chimney.height_m)]
        })
        .collect()
}

fn per_metre(scale: f64) -> f64 {
    1.0 / (METRES_PER_POINT * scale)
}

/// The largest scale at which the walls stand in at most two rows (three if there are many), and where each stands.
fn fit(walls: &[Drawn<'_>], theme: &Theme, manner: &Manner) -> (f64, Vec<Cell>) {
    let steps: Vec<f64> = if manner.dimensions && theme.on_paper {
        SCALES.to_vec()
    } else {
        (0..120).map(|step| 20.0 * libm::pow(1.04, f64::from(step))).collect()
    };
    let mut last = (SCALES[SCALES.len() - 1], Vec::new());
    for scale in steps {
        let cells = flow(walls, theme, manner, per_metre(scale));
        let rows = cells.iter().map(|cell| cell.row + 1).max().unwrap_or(0);
        let inside = cells.iter().all(|cell| cell.left + cell.wide <= theme.wide + 0.01);
        let tall = walls.iter().map(|wall| wall.tall).fold(0.0, f64::max) * per_metre(scale);
        last = (scale, cells);
        if rows <= manner.rows && inside && tall <= theme.wide * 0.5 {
            break;
        }
    }
    last
}

fn flow(walls: &[Drawn<'_>], theme: &Theme, manner: &Manner, per_metre: f64) -> Vec<Cell> {
    let (mut left, mut row) = (0.0, 0);
    let mut cells = Vec::new();
    for wall in walls {
        let wide = (wall.long * per_metre + manner.side * if manner.dimensions { 1.0 } else { 2.0 }).max(manner.least);
        if left > 0.0 && left + wide > theme.wide {
            left = 0.0;
            row += 1;
        }
        cells.push(Cell { left, wide, row });
        left += wide + manner.gap;
    }
    cells
}

/// Draws one wall with its base on `base`; returns the lowest line used.
fn draw_wall(canvas: &mut Canvas, theme: &Theme, manner: &Manner, wall: &Drawn<'_>, cell: &Cell, base: f64, per_metre: f64) -> f64 {
    let origin = cell.left + manner.side;
    let at = |(x, y): (f64, f64)| (origin + x * per_metre, base - y * per_metre);
    canvas.group("wall", &wall.wall.slug);
    let on_it = covering(wall.wall.old_covering.value);
    let outline: Vec<(f64, f64)> = wall.corners.iter().map(|corner| at(*corner)).collect();
    for chimney in &wall.chimneys {
        let corners: Vec<(f64, f64)> = chimney.iter().map(|corner| at(*corner)).collect();
        hatch::polygon(canvas, theme, on_it, &corners, theme.ink, theme.rule);
    }
    hatch::polygon(canvas, theme, on_it, &outline, theme.ink, theme.heavy);
    for opening in &wall.wall.openings {
        draw_opening(canvas, theme, opening, at, per_metre);
    }
    let (left, right) = (origin, origin + wall.long * per_metre);
    ground(canvas, theme, left - theme.size * 0.7, right + theme.size * 0.7, base);
    if !manner.dimensions {
        canvas.unclip();
        return small_caption(canvas, theme, wall, cell, base + theme.size * 1.5);
    }
    let eaves = eaves(&wall.wall.outline);
    upright_dimension(canvas, theme, left - theme.size * 0.8, base, eaves * per_metre, eaves);
    let below = level_dimension(canvas, theme, left, right, base + theme.size * 1.35, wall.long);
    let bottom = caption(canvas, theme, wall, cell, below + theme.size * 1.7);
    canvas.unclip();
    bottom
}

fn covering(old: OldCovering) -> Hatch {
    match old {
        OldCovering::Bare => Hatch::Rubble,
        OldCovering::LimeHarl => Hatch::Finish,
        OldCovering::Cement => Hatch::Cement,
        OldCovering::Paint => Hatch::Paint,
    }
}

fn covering_words(old: OldCovering) -> &'static str {
    match old {
        OldCovering::Bare => "bare stone",
        OldCovering::LimeHarl => "old lime harl on it",
        OldCovering::Cement => "cement on it",
        OldCovering::Paint => "painted",
    }
}

/// The height a dimension line is drawn to: eaves of a gable, head of the others.
fn eaves(outline: &Outline) -> f64 {
    match outline {
        Outline::Gable { eaves_m, .. } => *eaves_m,
        other => corners(other).iter().map(|corner| corner.1).fold(0.0, f64::max),
    }
}

fn draw_opening(canvas: &mut Canvas, theme: &Theme, opening: &Opening, at: impl Fn((f64, f64)) -> (f64, f64), per_metre: f64) {
    let (x, y) = at((opening.left_m, opening.sill_m + opening.height_m));
    let (w, h) = (opening.width_m * per_metre, opening.height_m * per_metre);
    if opening.margin_m > 0.0 {
        let m = opening.margin_m * per_metre;
        let down = if opening.kind == OpeningKind::Window { m } else { 0.0 };
        canvas.rect((x - m, y - m), (w + 2.0 * m, h + m + down), theme.stone, theme.stone_line, theme.rule);
    }
    canvas.rect((x, y), (w, h), theme.paper, theme.ink, theme.rule);
    let frame = theme.size * 0.16;
    match opening.kind {
        OpeningKind::Window => {
            canvas.rect((x + frame, y + frame), (w - 2.0 * frame, h - 2.0 * frame), "none", theme.graphite, theme.rule * 0.7);
            canvas.line((x + w / 2.0, y + frame), (x + w / 2.0, y + h - frame), theme.graphite, theme.rule * 0.7);
            canvas.line((x + frame, y + h / 2.0), (x + w - frame, y + h / 2.0), theme.ink, theme.rule);
        }
        OpeningKind::Door | OpeningKind::CartDoor => {
            let boards = if opening.kind == OpeningKind::Door { 4 } else { 8 };
            for board in 1..boards {
                let x = x + w * f64::from(board) / f64::from(boards);
                canvas.line((x, y + frame), (x, y + h), theme.graphite, theme.rule * 0.7);
            }
        }
        OpeningKind::Vent => canvas.line((x, y + h), (x + w, y), theme.graphite, theme.rule * 0.7),
    }
    if opening.has_sill {
        canvas.line((x - frame * 2.0, y + h), (x + w + frame * 2.0, y + h), theme.ink, theme.heavy);
    }
}

fn ground(canvas: &mut Canvas, theme: &Theme, left: f64, right: f64, base: f64) {
    canvas.line((left, base), (right, base), theme.ink, theme.heavy);
    let step = theme.size * 0.55;
    let mut x = left + step * 0.6;
    while x < right - step * 0.2 {
        canvas.line((x, base + theme.rule), (x - step * 0.55, base + step * 0.6), theme.graphite, theme.rule * 0.7);
        x += step;
    }
}

/// A level dimension line with ticks and its figure below it; returns the base line of the figure.
fn level_dimension(canvas: &mut Canvas, theme: &Theme, left: f64, right: f64, y: f64, metres: f64) -> f64 {
    let tick = theme.size * 0.3;
    canvas.line((left, y), (right, y), theme.graphite, theme.rule);
    for x in [left, right] {
        canvas.line((x - tick, y + tick), (x + tick, y - tick), theme.ink, theme.rule);
        canvas.line((x, y - tick * 1.6), (x, y + tick * 1.6), theme.graphite, theme.rule * 0.7);
    }
    let base = y + theme.size * 1.15;
    canvas.text((left + right) / 2.0, base, &format!("{metres:.2} m"), Hand::soft(theme).middle());
    base
}

/// An upright dimension line left of the wall, its figure to the left of it.
fn upright_dimension(canvas: &mut Canvas, theme: &Theme, x: f64, base: f64, tall: f64, metres: f64) {
    let tick = theme.size * 0.3;
    canvas.line((x, base), (x, base - tall), theme.graphite, theme.rule);
    for y in [base, base - tall] {
        canvas.line((x - tick, y + tick), (x + tick, y - tick), theme.ink, theme.rule);
    }
    canvas.text(x - tick, base - tall / 2.0 + theme.size * 0.3, &format!("{metres:.2}"), Hand::soft(theme).end());
}

/// Number, where there are several, and name.
fn named(wall: &Drawn<'_>) -> String {
    wall.number.map_or_else(|| wall.wall.name.clone(), |number| format!("{number} {}", wall.wall.name))
}

/// Number, name and area below a wall; returns the lowest line used.
fn caption(canvas: &mut Canvas, theme: &Theme, wall: &Drawn<'_>, cell: &Cell, base: f64) -> f64 {
    let left = cell.left;
    let hand = Hand::name(theme).sized(theme.size * 1.3);
    let named = named(wall);
    let mut lines = metrics::wrap(&named, hand.face, hand.size, cell.wide);
    lines.truncate(3);
    let lines: Vec<String> = lines.iter().map(|line| metrics::cut(line, hand.face, hand.size, cell.wide)).collect();
    let next = canvas.lines(left, base, &lines, hand);
    let area =
        wall.measured.map_or("not measured".to_owned(), |measured| format!("{:.1} m² to cover", measured.net_m2 + measured.reveal_m2));
    let unrolled = if matches!(wall.wall.outline, Outline::Round { .. }) { ", drawn unrolled" } else { "" };
    let words = format!("{area}; {}{unrolled}", covering_words(wall.wall.old_covering.value));
    let soft = Hand::soft(theme);
    let below = canvas.lines(left, next - theme.size * 0.2, &metrics::wrap(&words, Face::Sans, soft.size, cell.wide), soft);
    below - theme.size
}

/// Number and name below a small wall.
fn small_caption(canvas: &mut Canvas, theme: &Theme, wall: &Drawn<'_>, cell: &Cell, base: f64) -> f64 {
    let hand = Hand::plain(theme);
    let words = metrics::cut(&named(wall), hand.face, hand.size, cell.wide);
    canvas.text(cell.left, base, &words, hand);
    base + theme.size * 0.3
}

/// A scale bar in metres and, on paper, the scale; returns the bottom of the sheet.
fn scale_bar(canvas: &mut Canvas, theme: &Theme, scale: f64, top: f64) -> f64 {
    let metre = per_metre(scale);
    let tall = theme.size * 0.4;
    for part in 0..4 {
        let tone = if part % 2 == 0 { theme.ink } else { theme.paper };
        canvas.rect((theme.size * 0.3 + metre * f64::from(part), top), (metre, tall), tone, theme.ink, theme.rule);
    }
    let base = top + tall + theme.size * 1.1;
    let step = if metre < theme.size * 1.4 { 4 } else { 1 };
    for mark in (0..=4).step_by(step) {
        let words = if mark == 4 { "4 m".to_owned() } else { mark.to_string() };
        canvas.text(theme.size * 0.3 + metre * f64::from(mark), base, &words, Hand::soft(theme).middle());
    }
    if theme.on_paper {
        let words = format!("1 : {scale:.0} on A4");
        canvas.text(theme.size * 0.3 + metre * 4.0 + theme.size * 2.4, base, &words, Hand::soft(theme));
    }
    base + theme.size * 0.5
}
