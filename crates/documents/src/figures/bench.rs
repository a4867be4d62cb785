//! What the bench found, drawn: sieve curves against what the coat asks, the bath with its temperature, a wall's profile under its straight-edge. It draws
//! what was reckoned and reckons nothing.

use materials::bench::{Grading, Paced, TargetPoint};
use survey::HeightField;

use super::{Canvas, Figure, Hand, Theme};
use crate::words;

/// A chart's frame: where it lies and what its ends stand for.
struct Frame {
    left: f64,
    right: f64,
    top: f64,
    foot: f64,
    across: (f64, f64),
    up: (f64, f64),
}

impl Frame {
    fn x(&self, value: f64) -> f64 {
        self.left + (value - self.across.0) / (self.across.1 - self.across.0).max(1e-12) * (self.right - self.left)
    }

    fn y(&self, value: f64) -> f64 {
        self.foot - (value - self.up.0) / (self.up.1 - self.up.0).max(1e-12) * (self.foot - self.top)
    }

    /// Grid lines with their words at the left, and the frame's foot.
    fn rules(&self, canvas: &mut Canvas, theme: &Theme, marks: &[(f64, String)]) {
        for (value, said) in marks {
            let y = self.y(*value);
            canvas.line((self.left, y), (self.right, y), theme.chalk, theme.rule);
            canvas.text(self.left - theme.size * 0.4, y + theme.size * 0.3, said, Hand::soft(theme).end());
        }
        canvas.line((self.left, self.foot), (self.right, self.foot), theme.ink, theme.rule);
    }

    /// Words under the foot, those that would touch their neighbour left out.
    fn under(&self, canvas: &mut Canvas, theme: &Theme, marks: &[(f64, String)]) {
        let hand = Hand::soft(theme).middle();
        let mut free_from = f64::NEG_INFINITY;
        for (value, said) in marks {
            let x = self.x(*value);
            canvas.line((x, self.foot), (x, self.foot + theme.size * 0.3), theme.ink, theme.rule);
            let boxed = hand.boxed(x, self.foot + theme.size * 1.4, said);
            if boxed.left > free_from {
                canvas.text(x, self.foot + theme.size * 1.4, said, hand);
                free_from = boxed.right + theme.size * 0.4;
            }
        }
    }
}

/// Sieve curves by name, with the coat's envelope (opening, least and most share that pass) behind them and a wished curve among them.
pub fn grading(curves: &[(&str, &Grading)], envelope: &[(f64, f64, f64)], target: &[TargetPoint], theme: &Theme) -> Figure {
    let mut canvas = Canvas::new(theme);
    let names = curves.len() + usize::from(!target.is_empty());
    let foot = theme.size * (1.5 + 18.0);
    let frame = Frame {
        left: theme.size * 3.4,
        right: theme.wide - theme.size,
        top: theme.size * 1.5,
        foot,
        across: (libm::log10(0.05), libm::log10(16.0)),
        up: (0.0, 100.0),
    };
    let at = |opening: f64, share: f64| (frame.x(libm::log10(opening).clamp(frame.across.0, frame.across.1)), frame.y(100.0 * share));
    if !envelope.is_empty() {
        let lower = envelope.iter().map(|(opening, least, _)| at(*opening, *least));
        let upper = envelope.iter().rev().map(|(opening, _, most)| at(*opening, *most));
        canvas.polygon(&lower.chain(upper).collect::<Vec<_>>(), theme.sand, "none", 0.0);
    }
    frame.rules(&mut canvas, theme, &[0.0, 25.0, 50.0, 75.0, 100.0].map(|share| (share, format!("{share:.0} %"))));
    let sieves = [0.063, 0.125, 0.25, 0.5, 1.0, 2.0, 4.0, 8.0].map(|sieve| (libm::log10(sieve), words::trimmed(sieve, 3)));
    frame.under(&mut canvas, theme, &sieves);
    canvas.text(frame.left, foot + theme.size * 2.8, "Sieve, mm; share by mass that passes", Hand::soft(theme));
    let mut line = foot + theme.size * 4.4;
    let marks = [theme.ink, theme.ochre, theme.water, theme.madder, theme.hessian, theme.graphite];
    for (index, (name, curve)) in curves.iter().enumerate() {
        let tone = marks[index % marks.len()];
        let points: Vec<(f64, f64)> = curve.rows().iter().map(|row| at(row.opening_mm, row.passing)).collect();
        canvas.polyline(&points, tone, theme.heavy);
        points.iter().for_each(|point| mark(&mut canvas, theme, *point, index, tone));
        mark(&mut canvas, theme, (frame.left + theme.size * 0.5, line - theme.size * 0.3), index, tone);
        canvas.text(frame.left + theme.size * 1.6, line, name, Hand::plain(theme));
        line += theme.size * 1.6;
    }
    if !target.is_empty() {
        let points: Vec<(f64, f64)> = target.iter().map(|point| at(point.opening_mm, point.passing)).collect();
        points.windows(2).for_each(|pair| canvas.dashed(pair[0], pair[1], theme.ink, theme.rule, theme.size * 0.4));
        canvas.text(frame.left, line, "Dashed: the curve wished for", Hand::plain(theme));
        line += theme.size * 1.6;
    }
    if !envelope.is_empty() {
        canvas.text(frame.left, line, "Shaded: the envelope of the trade for this coat (no source)", Hand::soft(theme));
        line += theme.size * 1.6;
    }
    let said: Vec<&str> = curves.iter().map(|(name, _)| *name).collect();
    let describes = format!("{} drawn against {names} lines in all.", said.join(", "));
    canvas.finish("Sieve curves", describes, theme.wide, line)
}

/// A mark for each curve, told apart by its shape and not by its tone alone.
fn mark(canvas: &mut Canvas, theme: &Theme, (x, y): (f64, f64), index: usize, tone: &str) {
    let r = theme.size * 0.3;
    match index % 3 {
        0 => canvas.circle((x, y), r, tone, tone, theme.rule),
        1 => canvas.rect((x - r, y - r), (2.0 * r, 2.0 * r), theme.paper, tone, theme.heavy * 0.7),
        _ => canvas.polygon(&[(x, y - 1.3 * r), (x + 1.2 * r, y + r), (x - 1.2 * r, y + r)], tone, tone, theme.rule),
    }
}

/// The bath as lumps go in: its mean temperature in time, the boiling line, and when it boils or runs dry.
pub fn bath(paced: &Paced, theme: &Theme) -> Figure {
    let mut canvas = Canvas::new(theme);
    let last = paced.rows.last().map_or(1.0, |row| row.minutes).max(1.0);
    let hottest = paced.rows.iter().map(|row| row.mean_c).fold(100.0, f64::max);
    let foot = theme.size * 16.0;
    let frame = Frame {
        left: theme.size * 4.0,
        right: theme.wide - theme.size * 1.5,
        top: theme.size * 2.0,
        foot,
        across: (0.0, last),
        up: (0.0, hottest * 1.1),
    };
    let step = if hottest > 200.0 { 100.0 } else { 25.0 };
    let marks: Vec<(f64, String)> = (0..)
        .map(|mark| f64::from(mark) * step)
        .take_while(|value| *value <= hottest * 1.1)
        .map(|value| (value, format!("{value:.0} °C")))
        .collect();
    frame.rules(&mut canvas, theme, &marks);
    canvas.dashed((frame.left, frame.y(100.0)), (frame.right, frame.y(100.0)), theme.madder, theme.heavy, theme.size * 0.5);
    let points: Vec<(f64, f64)> = paced.rows.iter().map(|row| (frame.x(row.minutes), frame.y(row.mean_c))).collect();
    canvas.polyline(&points, theme.ink, theme.heavy);
    let every = (last / 6.0).ceil().max(1.0);
    let times: Vec<(f64, String)> =
        (0..).map(|mark| f64::from(mark) * every).take_while(|value| *value <= last).map(|value| (value, format!("{value:.0}"))).collect();
    frame.under(&mut canvas, theme, &times);
    canvas.text(
        frame.left,
        foot + theme.size * 2.8,
        "Minutes from the first lump; mean of the bath. Dashed: boiling. A lump is hotter.",
        Hand::soft(theme).sized(theme.size * 0.92),
    );
    let ends = match (paced.boils_min, paced.dry_min) {
        (_, Some(dry)) => format!("It boils dry after {dry:.0} minutes: the line stops there, the heat does not."),
        (Some(boils), None) => format!("It boils after {boils:.0} minutes."),
        (None, None) => "The mean does not boil; lumps do.".to_owned(),
    };
    canvas.text(frame.left, foot + theme.size * 4.4, &ends, Hand::bold(theme));
    canvas.finish("The bath as lumps go in", ends, theme.wide, foot + theme.size * 5.2)
}

/// Wall and face along a line from one place to another, m along and up; heights are drawn many times larger than lengths, and the figure says how many.
pub fn profile(field: &HeightField, thickness_m: &[f64], from: (f64, f64), to: (f64, f64), theme: &Theme) -> Figure {
    let mut canvas = Canvas::new(theme);
    let length_m = libm::hypot(to.0 - from.0, to.1 - from.1);
    let steps = ((length_m / field.spacing_m).ceil() as usize).clamp(2, 4000);
    let cut: Vec<(f64, f64, f64)> = (0..=steps)
        .filter_map(|step| {
            let share = step as f64 / steps as f64;
            let at = (from.0 + share * (to.0 - from.0), from.1 + share * (to.1 - from.1));
            let cell = cell_at(field, at)?;
            let (wall, thick) = (*field.heights_m.get(cell)?, *thickness_m.get(cell)?);
            (wall.is_finite() && thick.is_finite()).then_some((share * length_m, wall, wall + thick))
        })
        .collect();
    if cut.len() < 2 {
        canvas.text(0.0, theme.size * 1.4, "No wall was seen along this line.", Hand::soft(theme));
        return canvas.finish("Profile", "No wall was seen along this line.", theme.wide, theme.size * 2.0);
    }
    let low = cut.iter().map(|(_, wall, _)| *wall).fold(f64::INFINITY, f64::min);
    let high = cut.iter().map(|(_, _, face)| *face).fold(f64::NEG_INFINITY, f64::max);
    let foot = theme.size * 13.0;
    let frame = Frame {
        left: theme.size * 4.0,
        right: theme.wide - theme.size,
        top: theme.size * 1.5,
        foot,
        across: (0.0, length_m.max(1e-6)),
        up: (1000.0 * low, (1000.0 * high).max(1000.0 * low + 1.0)),
    };
    let wall: Vec<(f64, f64)> = cut.iter().map(|(along, wall, _)| (frame.x(*along), frame.y(1000.0 * wall))).collect();
    let face: Vec<(f64, f64)> = cut.iter().map(|(along, _, face)| (frame.x(*along), frame.y(1000.0 * face))).collect();
    canvas.polygon(&wall.iter().copied().chain(face.iter().rev().copied()).collect::<Vec<_>>(), theme.straightening, "none", 0.0);
    canvas.polyline(&wall, theme.stone_line, theme.heavy);
    canvas.polyline(&face, theme.ink, theme.heavy);
    let span_mm = 1000.0 * (high - low);
    frame.rules(&mut canvas, theme, &[(1000.0 * low, "0 mm".to_owned()), (1000.0 * high, format!("{span_mm:.0} mm"))]);
    let every = if length_m > 6.0 { 1.0 } else { 0.5 };
    let places: Vec<(f64, String)> = (0..)
        .map(|mark| f64::from(mark) * every)
        .take_while(|value| *value <= length_m)
        .map(|value| (value, format!("{} m", words::trimmed(value, 1))))
        .collect();
    frame.under(&mut canvas, theme, &places);
    let thickest = cut.iter().map(|(_, wall, face)| 1000.0 * (face - wall)).fold(0.0, f64::max);
    let times = (foot - frame.top) / (high - low).max(1e-3) / ((frame.right - frame.left) / length_m.max(1e-6));
    let says = format!("Stone below, ruled face above; thickest {thickest:.0} mm. Depths are drawn {times:.0} times as large as lengths.");
    canvas.text(frame.left, foot + theme.size * 3.0, &says, Hand::soft(theme).sized(theme.size * 0.92));
    canvas.finish("Profile under the straight-edge", says, theme.wide, foot + theme.size * 3.8)
}

fn cell_at(field: &HeightField, (along, up): (f64, f64)) -> Option<usize> {
    let (column, row) = ((along / field.spacing_m).floor(), (up / field.spacing_m).floor());
    if column < 0.0 || row < 0.0 {
        return None;
    }
    let (column, row) = ((column as usize).min(field.columns.saturating_sub(1)), (row as usize).min(field.rows.saturating_sub(1)));
    Some(row * field.columns + column)
}
