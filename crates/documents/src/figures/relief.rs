//! A face as deep as its straightening is thick, seen from the weather side, and what the length of the straight-edge comes to. It draws what was
//! reckoned and reckons nothing.

use survey::{HeightField, Straightened};
use works::{EdgeChoice, EdgeCurve};

use super::{Canvas, Figure, Hand, Theme};
use crate::words;

/// Steps of the map: up to this thickness, mm, and its tone. Deeper is darker, on every ground alike.
pub const STEPS: [(f64, &str); 7] = [
    (3.0, "#f6efe0"),
    (6.0, "#ead9b7"),
    (10.0, "#d9bd88"),
    (15.0, "#c29a5c"),
    (20.0, "#a3753b"),
    (30.0, "#7d5226"),
    (f64::INFINITY, "#4d2f14"),
];

/// Most tiles of the map along its longer side.
const MOST_TILES: usize = 160;

/// The map of thickness, foot of the wall below; cells without wall stay blank.
pub fn relief_map(name: &str, field: &HeightField, found: &Straightened, theme: &Theme) -> Figure {
    let mut canvas = Canvas::new(theme);
    let tile = field.columns.max(field.rows).div_ceil(MOST_TILES).max(1);
    let (across, up) = (field.columns.div_ceil(tile), field.rows.div_ceil(tile));
    // A wall higher than it is long is drawn no taller than the sheet is wide.
    let side = (theme.wide / across as f64).min(theme.wide / up as f64);
    for row in 0..up {
        let mut column = 0;
        while column < across {
            let Some(tone) = tone_of_tile(field, &found.thickness_m, (column * tile, row * tile), tile) else {
                column += 1;
                continue;
            };
            let from = column;
            while column < across && tone_of_tile(field, &found.thickness_m, (column * tile, row * tile), tile) == Some(tone) {
                column += 1;
            }
            let at = (side * from as f64, side * (up - 1 - row) as f64);
            // A hair wider than itself, so that no seam shows between tiles.
            canvas.rect(at, (side * (column - from) as f64 + 0.2, side + 0.2), tone, "none", 0.0);
        }
    }
    let foot = side * up as f64;
    canvas.rect((0.0, 0.0), (side * across as f64, foot), "none", theme.graphite, theme.rule);
    let head = legend(&mut canvas, theme, foot + theme.size * 1.2);
    let size_m = (field.columns as f64 * field.spacing_m, field.rows as f64 * field.spacing_m);
    let says = format!(
        "{:.2} by {:.2} m; mean {:.1} mm, deepest {:.0} mm under an edge of {} m.",
        size_m.0,
        size_m.1,
        1000.0 * found.mean_m,
        1000.0 * found.deepest_m,
        found.edge_m
    );
    let hand = Hand::soft(theme);
    let below = canvas.lines(0.0, head, &super::wrap(&says, hand.face, hand.size, theme.wide), hand);
    canvas.finish(format!("{name}: thickness of the straightening"), says, theme.wide, below)
}

/// The tones with their thicknesses, as many to a line as there is room for; where the next words stand.
fn legend(canvas: &mut Canvas, theme: &Theme, top: f64) -> f64 {
    let (mut x, mut y) = (0.0, top);
    for (to, tone) in STEPS {
        let words = if to.is_finite() { format!("to {to:.0} mm") } else { "deeper".to_owned() };
        let hand = Hand::soft(theme);
        let wide = theme.size * 2.4 + super::width(&words, hand.face, hand.size);
        if x + wide > theme.wide && x > 0.0 {
            (x, y) = (0.0, y + theme.size * 1.7);
        }
        canvas.rect((x, y - theme.size * 0.8), (theme.size, theme.size), tone, theme.graphite, theme.rule);
        canvas.text(x + theme.size * 1.4, y, &words, hand);
        x += wide;
    }
    y + theme.size * 2.0
}

fn tone_of_tile(field: &HeightField, thickness_m: &[f64], (left, foot): (usize, usize), tile: usize) -> Option<&'static str> {
    let (mut sum, mut count) = (0.0, 0.0);
    for row in foot..(foot + tile).min(field.rows) {
        let line = thickness_m.get(row * field.columns + left..row * field.columns + (left + tile).min(field.columns)).unwrap_or_default();
        for thickness in line.iter().filter(|thickness| thickness.is_finite()) {
            sum += thickness;
            count += 1.0;
        }
    }
    let mean_mm = if count > 0.0 { 1000.0 * sum / count } else { return None };
    STEPS.iter().find(|(to, _)| mean_mm < *to).map(|(_, tone)| *tone)
}

/// One line of the curve: its name, its unit, what it takes of a choice, and how a figure is said.
struct Line {
    name: &'static str,
    of: fn(&EdgeChoice) -> Option<f64>,
    said: fn(&EdgeChoice) -> String,
    steps: bool,
}

const LINES: [Line; 4] = [
    Line {
        name: "Mortar, litres",
        of: |choice| Some(1000.0 * choice.mortar_m3),
        said: |choice| words::grouped(1000.0 * choice.mortar_m3),
        steps: false,
    },
    Line { name: "Passes", of: |choice| Some(choice.passes as f64), said: |choice| choice.passes.to_string(), steps: true },
    Line {
        name: "Days from the start",
        of: |choice| choice.days.map(|days| days as f64),
        said: |choice| choice.days.map_or("–".to_owned(), |days| days.to_string()),
        steps: true,
    },
    Line {
        name: "Price before tax",
        of: |choice| choice.before_tax.as_ref().map(reckoning::Money::to_f64),
        said: |choice| choice.before_tax.as_ref().map_or("–".to_owned(), whole),
        steps: false,
    },
];

/// Money without its hundredths: quick figures are not so sure.
fn whole(money: &reckoning::Money) -> String {
    reckoning::Money::from_f64(money.to_f64().round(), money.currency.clone()).to_string()
}

/// Mortar, passes, days and money against the length of the edge, one above the other, the job's own edge marked.
pub fn edge_curve(curve: &EdgeCurve, theme: &Theme) -> Figure {
    let mut canvas = Canvas::new(theme);
    let edges = || curve.choices.iter().map(|choice| choice.edge_m);
    let (low, high) = (edges().fold(f64::INFINITY, f64::min), edges().fold(0.0, f64::max));
    let right = theme.wide - theme.size * 6.5;
    let span = (high - low).max(1e-9);
    let x = |edge_m: f64| theme.size + (edge_m - low) / span * (right - theme.size);
    let (tall, apart) = (theme.size * 5.0, theme.size * 3.8);
    let mut top = theme.size * 1.2;
    let first = top;
    for line in &LINES {
        canvas.text(0.0, top, line.name, Hand::bold(theme));
        one_line(&mut canvas, theme, curve, line, (top + theme.size * 0.9, tall), &x);
        top += tall + apart;
    }
    let base = top - apart + theme.size * 2.4;
    let own = x(curve.own_edge_m.clamp(low, high));
    canvas.dashed((own, first + theme.size * 0.5), (own, base), theme.ochre, theme.rule, theme.size * 0.4);
    canvas.line((x(low), base), (x(high), base), theme.ink, theme.rule);
    let hand = Hand::soft(theme).middle();
    let mut free_from = f64::NEG_INFINITY;
    for edge_m in edges() {
        canvas.line((x(edge_m), base), (x(edge_m), base + theme.size * 0.3), theme.ink, theme.rule);
        let said = words::trimmed(edge_m, 2);
        let boxed = hand.boxed(x(edge_m), base + theme.size * 1.4, &said);
        if boxed.left > free_from {
            canvas.text(x(edge_m), base + theme.size * 1.4, &said, hand);
            free_from = boxed.right + theme.size * 0.5;
        }
    }
    canvas.text(right + theme.size, base + theme.size * 1.4, "m of edge", Hand::soft(theme));
    let mark = format!("Dashed: the job's own edge, {} m.", words::trimmed(curve.own_edge_m, 2));
    canvas.text(0.0, base + theme.size * 3.2, &mark, Hand::soft(theme).tone(theme.ochre));
    canvas.finish("What the length of the straight-edge comes to", describe(curve), theme.wide, base + theme.size * 4.0)
}

fn one_line(canvas: &mut Canvas, theme: &Theme, curve: &EdgeCurve, line: &Line, (top, tall): (f64, f64), x: &impl Fn(f64) -> f64) {
    let known: Vec<(&EdgeChoice, f64)> = curve.choices.iter().filter_map(|choice| Some((choice, (line.of)(choice)?))).collect();
    let Some(&(last, last_value)) = known.last() else {
        canvas.text(theme.size, top + tall / 2.0, "not this season", Hand::soft(theme));
        return;
    };
    let low = known.iter().map(|(_, value)| *value).fold(f64::INFINITY, f64::min);
    let high = known.iter().map(|(_, value)| *value).fold(f64::NEG_INFINITY, f64::max);
    let y = |value: f64| if high > low { top + tall - (value - low) / (high - low) * tall * 0.9 } else { top + tall / 2.0 };
    let mut points: Vec<(f64, f64)> = Vec::new();
    for (choice, value) in &known {
        if let (true, Some(&(_, before))) = (line.steps, points.last()) {
            points.push((x(choice.edge_m), before));
        }
        points.push((x(choice.edge_m), y(*value)));
    }
    canvas.polyline(&points, theme.ink, theme.heavy);
    for (choice, value) in &known {
        canvas.circle((x(choice.edge_m), y(*value)), theme.size * 0.22, theme.ink, theme.paper, theme.rule);
    }
    canvas.text(x(last.edge_m) + theme.size, y(last_value) + theme.size * 0.35, &(line.said)(last), Hand::plain(theme));
    if let Some((first, value)) =
        known.first().filter(|(first, value)| first.edge_m < last.edge_m && y(*value) - y(last_value) > theme.size * 1.4)
    {
        canvas.text(x(first.edge_m), y(*value) + theme.size * 1.15, &(line.said)(first), Hand::plain(theme));
    }
}

fn describe(curve: &EdgeCurve) -> String {
    let each: Vec<String> = curve
        .choices
        .iter()
        .map(|choice| {
            let said: Vec<String> = LINES.iter().map(|line| format!("{} {}", line.name.to_lowercase(), (line.said)(choice))).collect();
            format!("{} m: {}", words::trimmed(choice.edge_m, 2), said.join(", "))
        })
        .collect();
    format!("{}. {}.", words::capital(&curve.basis), each.join("; "))
}
