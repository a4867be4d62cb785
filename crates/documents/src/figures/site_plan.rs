//! The building on plan with its north point: walls joined in the order they are walked round, or, where they do not close, each set out
//! by the way it faces.

use works::Plan;

use super::elevation::corners;
use super::{Canvas, Figure, Hand, Theme, WordBox};

/// One wall on plan: its two ends and the way it faces, in metres, x east and y north.
struct Line {
    from: (f64, f64),
    to: (f64, f64),
    out: (f64, f64),
}

/// Share of the way round by which the walls may fail to meet and still be drawn closed.
const MAY_GAPE: f64 = 0.12;

/// Plan of the walls with their numbers and the north point.
pub fn site_plan(plan: &Plan, theme: &Theme) -> Figure {
    let mut canvas = Canvas::new(theme);
    let (lines, closed) = set_out(plan);
    let side = theme.wide;
    let room = side - theme.size * 7.0;
    let xs = || lines.iter().flat_map(|line| [line.from.0, line.to.0]);
    let ys = || lines.iter().flat_map(|line| [line.from.1, line.to.1]);
    let (west, east) = (xs().fold(f64::INFINITY, f64::min), xs().fold(f64::NEG_INFINITY, f64::max));
    let (south, north) = (ys().fold(f64::INFINITY, f64::min), ys().fold(f64::NEG_INFINITY, f64::max));
    let reach = (east - west).max(north - south).max(0.1);
    let scale = room / reach;
    let middle = ((east + west) / 2.0, (north + south) / 2.0);
    let tall = (north - south) * scale + theme.size * 8.0;
    let at = |(x, y): (f64, f64)| (side / 2.0 + (x - middle.0) * scale, tall / 2.0 + theme.size * 0.6 - (y - middle.1) * scale);
    let mut placed: Vec<WordBox> = vec![Hand::bold(theme).middle().boxed(theme.size * 1.3, theme.size * 1.2, "N")];
    for (index, line) in lines.iter().enumerate() {
        canvas.line(at(line.from), at(line.to), theme.ink, theme.heavy * 1.6);
        number(&mut canvas, theme, &mut placed, index + 1, (at(line.from), at(line.to)), line.out);
    }
    north_point(&mut canvas, theme, theme.size * 1.3, theme.size * 1.2);
    let how = if closed { "joined as they are walked round" } else { "each set out by the way it faces, not joined" };
    let words = format!("Plan of the walls, {how}, north at the top; the numbers are those of the elevations.");
    canvas.finish("Plan and north", words, side, tall)
}

/// The number of a wall outside its middle, or as near along it as there is room.
fn number(canvas: &mut Canvas, theme: &Theme, placed: &mut Vec<WordBox>, number: usize, ends: ((f64, f64), (f64, f64)), out: (f64, f64)) {
    let ((x0, y0), (x1, y1)) = ends;
    let hand = Hand::bold(theme).middle();
    let says = number.to_string();
    let away = theme.size * 1.1;
    let spot = |share: f64| (x0 + (x1 - x0) * share + out.0 * away, y0 + (y1 - y0) * share - out.1 * away + theme.size * 0.35);
    for share in [0.5, 0.35, 0.65, 0.2, 0.8, 0.08, 0.92] {
        let (x, y) = spot(share);
        let boxed = hand.boxed(x, y, &says);
        if !placed.iter().any(|other| other.meets(&boxed)) {
            placed.push(canvas.text(x, y, &says, hand));
            return;
        }
    }
}

/// The walls joined end to end with the sun or against it, whichever leaves every wall facing out; else a rose.
fn set_out(plan: &Plan) -> (Vec<Line>, bool) {
    let sunwise = joined(plan, 1.0);
    for (lines, turn) in [(sunwise, 1.0), (joined(plan, -1.0), -1.0)] {
        let end = lines.last().map_or((0.0, 0.0), |line| line.to);
        let around: f64 = lines.iter().map(length).sum();
        let gape = (end.0 * end.0 + end.1 * end.1).sqrt();
        let twice_area: f64 = lines.iter().map(|line| line.from.0 * line.to.1 - line.to.0 * line.from.1).sum();
        if lines.len() > 2 && gape <= MAY_GAPE * around && twice_area * turn < 0.0 {
            return (lines, true);
        }
    }
    (rose(&joined(plan, 1.0)), false)
}

fn length(line: &Line) -> f64 {
    ((line.to.0 - line.from.0).powi(2) + (line.to.1 - line.from.1).powi(2)).sqrt()
}

/// Walls end to end; `turn` is 1 for walking with the sun, -1 against it.
fn joined(plan: &Plan, turn: f64) -> Vec<Line> {
    let mut at = (0.0, 0.0);
    let mut lines = Vec::new();
    for wall in &plan.survey.building.walls {
        let long = corners(&wall.outline).iter().map(|corner| corner.0).fold(0.0, f64::max);
        let bearing = wall.faces_deg.to_radians();
        let out = (libm::sin(bearing), libm::cos(bearing));
        let to = (at.0 + out.1 * turn * long, at.1 - out.0 * turn * long);
        lines.push(Line { from: at, to, out });
        at = to;
    }
    lines
}

/// Walls set out on a ring by the way they face; those that face alike stand one behind the other.
fn rose(lines: &[Line]) -> Vec<Line> {
    let longest = lines.iter().map(length).fold(0.1, f64::max);
    let mut placed: Vec<Line> = Vec::new();
    for line in lines {
        let behind = placed.iter().filter(|other| other.out.0 * line.out.0 + other.out.1 * line.out.1 > 0.85).count() as f64;
        let away = longest * (0.62 + 0.34 * behind);
        let half = length(line) / 2.0;
        let middle = (line.out.0 * away, line.out.1 * away);
        let along = (line.out.1, -line.out.0);
        placed.push(Line {
            from: (middle.0 - along.0 * half, middle.1 - along.1 * half),
            to: (middle.0 + along.0 * half, middle.1 + along.1 * half),
            out: line.out,
        });
    }
    placed
}

/// An arrow to the north with its letter.
pub(super) fn north_point(canvas: &mut Canvas, theme: &Theme, x: f64, y: f64) {
    let size = theme.size;
    canvas.text(x, y, "N", Hand::bold(theme).middle());
    canvas.line((x, y + size * 0.45), (x, y + size * 2.8), theme.ink, theme.rule);
    canvas.polygon(&[(x, y + size * 0.4), (x - size * 0.34, y + size * 1.4), (x, y + size * 1.1)], theme.ink, theme.ink, theme.rule * 0.5);
    canvas.polygon(
        &[(x, y + size * 0.4), (x + size * 0.34, y + size * 1.4), (x, y + size * 1.1)],
        theme.paper,
        theme.ink,
        theme.rule * 0.5,
    );
}
