//! A wall growing outward from its stone, days across: still caustic behind the front, carbonated before it; the depth taken up beside the front, the
//! depth asked for until the coat is ready.

use works::{Plan, Told};

use super::super::hatch::{self, Hatch};
use super::super::{Canvas, Hand, Theme, WordBox, metrics};
use super::span::Span;
use super::{Drawn, brief, hatch_of, heading};
use crate::words;

/// Hours between the points of a line.
const EVERY_H: usize = 6;

/// A coat as it is drawn; days are counted from the first midnight.
pub(super) struct Layer {
    pub(super) name: String,
    pub(super) hatch: Hatch,
    pub(super) inner_mm: f64,
    pub(super) outer_mm: f64,
    pub(super) placed: f64,
    pub(super) ready: Option<f64>,
    pub(super) asked_mm: Option<f64>,
    /// Day, depth of the front and depth taken up, mm.
    pub(super) points: Vec<(f64, f64, f64)>,
}

/// What hangs and is wetted.
#[derive(Default)]
pub(super) struct Tended {
    /// First and last day of each time a cover hung.
    pub(super) covered: Vec<(f64, f64)>,
    /// Wettings.
    pub(super) wetted: Vec<f64>,
}

/// The picture of a story.
pub(super) fn of_story(canvas: &mut Canvas, theme: &Theme, story: &Told, top: f64) -> Drawn {
    let layers = layers_of(story, story.coats.len());
    let span = Span { from: story.from, days: story.days.len(), left: theme.size * 4.6, right: theme.wide - theme.size * 1.2 };
    let title = format!("{}: coats and front, day by day", story.wall_name);
    let says = format!(
        "Weather of {}. The heavy line is the front behind which lime is still caustic; the dashed one is the depth of air taken up, which a coat is judged by.",
        story.year
    );
    let below = heading(canvas, theme, top, &title, &says);
    let bottom = draw(canvas, theme, &layers, &tended_of(story), span, below);
    Drawn { title, description: describe(&layers, story.from), bottom }
}

/// The first coats of a story as layers.
pub(super) fn layers_of(story: &Told, most: usize) -> Vec<Layer> {
    let mut inner_mm = 0.0;
    let mut layers = Vec::new();
    for (index, coat) in story.coats.iter().enumerate().take(most) {
        let outer_mm = inner_mm + coat.thickness_m * 1000.0;
        let first = story.hours.iter().position(|hour| hour.coats.len() > index);
        if let (Some(first), Some(placed)) = (first, coat.placed) {
            let points = story.hours.iter().enumerate().skip(first).step_by(EVERY_H).filter_map(|(at, hour)| {
                hour.coats.get(index).map(|coat| ((at + 1) as f64 / 24.0, coat.front_m * 1000.0, coat.uptake_m * 1000.0))
            });
            layers.push(Layer {
                name: brief(&coat.name),
                hatch: hatch_of(coat.kind),
                inner_mm,
                outer_mm,
                placed: since(story, placed),
                ready: coat.ready.map(|ready| since(story, ready)),
                asked_mm: Some(coat.asked_m * 1000.0),
                points: points.collect(),
            });
        }
        inner_mm = outer_mm;
    }
    layers
}

fn since(story: &Told, at: works::Moment) -> f64 {
    words::days_between(story.from, at.date) as f64 + f64::from(at.hour) / 24.0
}

/// Cover and wettings of a story.
pub(super) fn tended_of(story: &Told) -> Tended {
    let mut tended = Tended::default();
    for (day, record) in story.days.iter().enumerate() {
        if record.cover.is_some() {
            tended.covered.push((day as f64, (day + 1) as f64));
        }
        let wetted = record.done.iter().filter(|done| done.what == works::Doing::Wetted);
        tended.wetted.extend(wetted.map(|done| day as f64 + f64::from(done.hour) / 24.0));
    }
    tended
}

/// The picture of one wall of a plan in its middle year.
pub(super) fn of_plan(canvas: &mut Canvas, theme: &Theme, plan: &Plan, slug: &str) -> Option<Drawn> {
    let run = plan.programme.runs.get(plan.programme.middle)?;
    let wall = run.walls.iter().find(|wall| wall.slug == slug)?;
    let specified = plan.specification.walls.iter().find(|wall| wall.slug == slug)?;
    let tasks: Vec<_> =
        specified.coats.iter().filter_map(|coat| Some((coat, wall.tasks.iter().find(|task| task.slug == coat.slug)?))).collect();
    let from = tasks.first()?.1.to;
    let last = wall.days.last()?.date;
    let day = |date| words::days_between(from, date) as f64;
    let mut inner_mm = 0.0;
    let mut layers = Vec::new();
    for (index, (coat, task)) in tasks.iter().enumerate() {
        let outer_mm = inner_mm + coat.thickness_m[1] * 1000.0;
        let after = wall.days.iter().filter(|record| record.date >= task.to);
        let points = after
            .filter_map(|record| Some((day(record.date) + 1.0, record.front_m.get(index)? * 1000.0, record.uptake_m.get(index)? * 1000.0)));
        let asked = task.rules.iter().find(|rule| rule.rule == works::ReadyRule::Uptake);
        layers.push(Layer {
            name: brief(&coat.name),
            hatch: hatch_of(coat.kind),
            inner_mm,
            outer_mm,
            placed: day(task.to) + 0.5,
            ready: task.ready.map(|ready| day(ready) + 0.3),
            asked_mm: asked.map(|rule| rule.limit * 1000.0),
            points: points.collect(),
        });
        inner_mm = outer_mm;
    }
    if layers.iter().all(|layer| layer.points.is_empty()) {
        return None;
    }
    let covered = wall.days.iter().filter(|record| record.cover.is_some()).map(|record| (day(record.date), day(record.date) + 1.0));
    let wetted = wall.days.iter().flat_map(|record| (0..record.wettings).map(move |_| record)).map(|record| day(record.date) + 0.5);
    let tended = Tended { covered: covered.filter(|(from, _)| *from >= 0.0).collect(), wetted: wetted.filter(|at| *at >= 0.0).collect() };
    let days = usize::try_from(words::days_between(from, last) + 1).unwrap_or(1).max(1);
    let span = Span { from, days, left: theme.size * 4.6, right: theme.wide - theme.size * 1.2 };
    let bottom = draw(canvas, theme, &layers, &tended, span, 0.0);
    Some(Drawn { title: format!("{}: the front against time", words::wall_name(plan, slug)), description: describe(&layers, from), bottom })
}

/// Draws the wall with its key below a line; returns the foot.
pub(super) fn draw(canvas: &mut Canvas, theme: &Theme, layers: &[Layer], tended: &Tended, span: Span, top: f64) -> f64 {
    let foot = wall(canvas, theme, layers, tended, span, (0.0, top));
    key(canvas, theme, foot + theme.size * 1.2)
}

/// Draws the wall alone; `at` is the left edge of its words and its top. Returns the foot.
pub(super) fn wall(canvas: &mut Canvas, theme: &Theme, layers: &[Layer], tended: &Tended, span: Span, at: (f64, f64)) -> f64 {
    let size = theme.size;
    let (left, top) = at;
    let deepest = layers.last().map_or(1.0, |layer| layer.outer_mm);
    // A millimetre is as tall as the picture bears: a scud must stay readable under a thick straightening.
    let per_mm = (size * 15.0 / deepest.max(4.0)).min(size * 2.2);
    let stone = top + size * 3.4 + deepest * per_mm;
    span.weekends(canvas, theme, top + size * 1.8, stone);
    for (index, layer) in layers.iter().enumerate() {
        draw_layer(canvas, theme, layer, (index, &span), (stone, per_mm));
    }
    scale(canvas, theme, layers, &span, (stone, per_mm));
    canvas.text(left, stone + size * 2.2, "mm", Hand::soft(theme));
    hatch::rect(canvas, theme, Hatch::Rubble, (span.left, stone), (span.right - span.left, size * 0.9));
    canvas.line((span.left, stone), (span.right, stone), theme.ink, theme.heavy);
    covers(canvas, theme, layers, tended, &span, (stone, per_mm));
    for layer in layers {
        ready(canvas, theme, layer, &span, (stone, per_mm));
    }
    names(canvas, theme, layers, &span, (stone, per_mm, top));
    wettings(canvas, theme, tended, &span, stone + size * 1.4);
    span.axis(canvas, theme, stone + size * 1.9)
}

fn draw_layer(canvas: &mut Canvas, theme: &Theme, layer: &Layer, (index, span): (usize, &Span), (stone, per_mm): (f64, f64)) {
    let (outer, inner) = (stone - layer.outer_mm * per_mm, stone - layer.inner_mm * per_mm);
    let (start, right) = (span.x(layer.placed), span.right);
    let at = |day: f64, depth_mm: f64| (span.x(day).min(right), (outer + depth_mm * per_mm).min(inner));
    let line = |of: fn(&(f64, f64, f64)) -> f64| -> Vec<(f64, f64)> {
        let mut points = vec![(start, outer)];
        points.extend(layer.points.iter().map(|point| at(point.0, of(point))));
        if let Some(&(_, y)) = points.last() {
            points.push((right, y));
        }
        points
    };
    let (front, taken) = (line(|point| point.1), line(|point| point.2));
    canvas.group("coat", &format!("{index} {}", layer.name));
    hatch::rect(canvas, theme, Hatch::Caustic, (start, outer), (right - start, inner - outer));
    let mut skin = vec![(start, outer)];
    skin.extend(front.iter().copied());
    skin.push((right, outer));
    hatch::polygon(canvas, theme, layer.hatch, &skin, "none", 0.0);
    canvas.polyline(&front, theme.ink, theme.heavy);
    for pair in taken.windows(2).step_by(2) {
        canvas.line(pair[0], pair[1], theme.ink, theme.rule * 1.2);
    }
    canvas.line((start, outer), (right, outer), theme.graphite, theme.rule);
    canvas.line((start, outer), (start, inner), theme.ink, theme.heavy);
    readings(canvas, layer, span, (outer, inner));
    canvas.unclip();
}

/// A strip for each day that carries its reading, for a script.
fn readings(canvas: &mut Canvas, layer: &Layer, span: &Span, (outer, inner): (f64, f64)) {
    let mut day = layer.placed.floor();
    while day < span.days as f64 {
        let last = layer.points.iter().rev().find(|point| point.0 > day && point.0 <= day + 1.0);
        if let Some((_, front, taken)) = last {
            let date = words::day(words::days_after(span.from, day as i64));
            canvas.group("reading", &format!("{date}: front {front:.1} mm, taken up {taken:.2} mm"));
            canvas.rect((span.x(day), outer), (span.each(), inner - outer), "none", "none", 0.0);
            canvas.unclip();
        }
        day += 1.0;
    }
}

/// Millimetres from the stone, those that collide left out.
fn scale(canvas: &mut Canvas, theme: &Theme, layers: &[Layer], span: &Span, (stone, per_mm): (f64, f64)) {
    let hand = Hand::soft(theme).end();
    let mut free_below = f64::INFINITY;
    for mm in std::iter::once(0.0).chain(layers.iter().map(|layer| layer.outer_mm)) {
        let y = stone - mm * per_mm;
        let boxed = hand.boxed(span.left - theme.size * 0.6, y + theme.size * 0.3, &words::trimmed(mm, 1));
        canvas.line((span.left - theme.size * 0.4, y), (span.left, y), theme.graphite, theme.rule);
        if boxed.bottom <= free_below {
            canvas.text(span.left - theme.size * 0.6, y + theme.size * 0.3, &words::trimmed(mm, 1), hand);
            free_below = boxed.top;
        }
    }
}

/// Height of the wall's face on a day.
fn surface(layers: &[Layer], day: f64, (stone, per_mm): (f64, f64)) -> f64 {
    let on = layers.iter().filter(|layer| layer.placed < day + 1.0).map(|layer| layer.outer_mm).fold(0.0, f64::max);
    stone - on * per_mm
}

/// Cover as a line of stitches before the face while it hangs.
fn covers(canvas: &mut Canvas, theme: &Theme, layers: &[Layer], tended: &Tended, span: &Span, at: (f64, f64)) {
    for &(from, to) in &tended.covered {
        let y = surface(layers, from, at) - theme.size * 0.5;
        let (left, right) = (span.x(from), span.x(to).min(span.right));
        canvas.line((left, y), (right, y), theme.hessian, theme.heavy);
        let middle = (left + right) / 2.0;
        canvas.line((middle, y - theme.size * 0.18), (middle, y + theme.size * 0.18), theme.hessian, theme.rule);
    }
}

/// The depth asked for, from placing to ready, and the day it was ready.
fn ready(canvas: &mut Canvas, theme: &Theme, layer: &Layer, span: &Span, (stone, per_mm): (f64, f64)) {
    let (outer, inner) = (stone - layer.outer_mm * per_mm, stone - layer.inner_mm * per_mm);
    let until = span.x(layer.ready.unwrap_or(span.days as f64));
    if let Some(asked) = layer.asked_mm {
        let y = (outer + asked * per_mm).min(inner);
        canvas.dashed((span.x(layer.placed), y), (until, y), theme.ochre, theme.rule * 1.2, theme.size * 0.3);
    }
    if layer.ready.is_some() {
        canvas.line((until, outer), (until, inner), theme.ochre, theme.heavy);
    }
}

/// Names over the coats with the days they took; one that would meet another steps up.
fn names(canvas: &mut Canvas, theme: &Theme, layers: &[Layer], span: &Span, (stone, per_mm, top): (f64, f64, f64)) {
    let mut placed: Vec<WordBox> = Vec::new();
    for layer in layers {
        let says = match layer.ready {
            Some(ready) => format!("{}: ready after {} days", layer.name, words::trimmed(ready.floor() - layer.placed.floor(), 0)),
            None => format!("{}: not ready", layer.name),
        };
        let hand = Hand::bold(theme);
        let wide = metrics::width(&says, hand.face, hand.size);
        let x = (span.x(layer.placed) + theme.size * 0.2).min(span.right - wide).max(span.left);
        let natural = stone - layer.outer_mm * per_mm - theme.size * 0.95;
        let free = (0..4).map(|step| natural - theme.size * 1.15 * f64::from(step)).find(|y| {
            let boxed = hand.boxed(x, *y, &says);
            boxed.top >= top + theme.size * 0.2 && !placed.iter().any(|other| other.meets(&boxed)) && boxed.left >= 0.0
        });
        if let Some(y) = free {
            let boxed = hand.boxed(x, y, &says);
            canvas.ground(&boxed);
            placed.push(canvas.text(x, y, &says, hand));
        }
    }
}

fn wettings(canvas: &mut Canvas, theme: &Theme, tended: &Tended, span: &Span, y: f64) {
    for &at in &tended.wetted {
        canvas.circle((span.x(at), y), theme.size * 0.16, theme.water, "none", 0.0);
    }
}

/// What the marks mean; returns the foot.
pub(super) fn key(canvas: &mut Canvas, theme: &Theme, top: f64) -> f64 {
    let size = theme.size;
    let entries = ["still caustic", "carbonated", "front", "taken up", "asked for", "ready", "cover hung", "cloth wetted"];
    let (mut x, mut y) = (0.0, top + size);
    for (index, says) in entries.iter().enumerate() {
        let hand = Hand::soft(theme);
        let wide = size * 3.9 + metrics::width(says, hand.face, hand.size);
        if x > 0.0 && x + wide > theme.wide {
            x = 0.0;
            y += size * 1.7;
        }
        let (l, r, up, down) = (x, x + size * 2.2, y - size * 0.75, y + size * 0.15);
        let (middle, corners) = (y - size * 0.3, [(l, up), (r, up), (r, down), (l, down)]);
        match index {
            0 => hatch::polygon(canvas, theme, Hatch::Caustic, &corners, theme.graphite, theme.rule),
            1 => hatch::polygon(canvas, theme, Hatch::Scud, &corners, theme.graphite, theme.rule),
            2 => canvas.line((l, middle), (r, middle), theme.ink, theme.heavy),
            3 => canvas.dashed((l, middle), (r, middle), theme.ink, theme.rule * 1.2, size * 0.4),
            4 => canvas.dashed((l, middle), (r, middle), theme.ochre, theme.rule * 1.2, size * 0.3),
            5 => canvas.line(((l + r) / 2.0, up), ((l + r) / 2.0, down), theme.ochre, theme.heavy),
            6 => canvas.line((l, middle), (r, middle), theme.hessian, theme.heavy),
            _ => canvas.circle(((l + r) / 2.0, middle), size * 0.2, theme.water, "none", 0.0),
        }
        canvas.text(x + size * 2.7, y, says, hand);
        x += wide;
    }
    y + size * 0.6
}

pub(super) fn describe(layers: &[Layer], from: jiff::civil::Date) -> String {
    let coats: Vec<String> = layers
        .iter()
        .map(|layer| {
            let placed = words::weekday(words::days_after(from, layer.placed as i64));
            let end = layer.points.last().copied().unwrap_or_default();
            let ready = layer.ready.map_or("not found ready".to_owned(), |ready| {
                format!("ready on {}", words::weekday(words::days_after(from, ready as i64)))
            });
            format!(
                "{}, {} mm, placed on {placed}, {ready}; at the end its front lies {:.1} mm deep and {:.2} mm are taken up",
                layer.name,
                words::trimmed(layer.outer_mm - layer.inner_mm, 1),
                end.1,
                end.2
            )
        })
        .collect();
    format!("Days across, the wall growing outward from its stone. {}.", coats.join(". "))
}
