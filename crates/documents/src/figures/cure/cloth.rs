//! The water in the hessian: what the cloth holds hour by hour while it hangs, when it was wetted, and the rain that fell.

use works::{Doing, Told};

use super::super::{Canvas, Hand, Theme, metrics};
use super::span::Span;
use super::{Drawn, heading};
use crate::words;

/// A cloth that holds less than this share of what it can is dry to the hand (design choice; the cloth's own sorption is a twentieth).
const DRY_SHARE: f64 = 0.1;

/// Draws it below a line; `None` where no cloth hung.
pub(super) fn draw(canvas: &mut Canvas, theme: &Theme, story: &Told, top: f64) -> Option<Drawn> {
    let holds = story.cloth_holds_kg_m2;
    if holds <= 0.0 || story.hours.iter().all(|hour| hour.cloth_kg_m2.is_none()) {
        return None;
    }
    let size = theme.size;
    let title = format!("{}: the water in its hessian", story.wall_name);
    let span = Span { from: story.from, days: story.days.len(), left: size * 4.6, right: theme.wide - size * 1.2 };
    let below = heading(canvas, theme, top, &title, &summary(story));
    let (high, low) = (below + size * 0.8, below + size * 6.0);
    let y = |kg_m2: f64| low - kg_m2 / holds * (low - high);
    span.weekends(canvas, theme, high, low);
    canvas.dashed((span.left, high), (span.right, high), theme.graphite, theme.rule, size * 0.25);
    canvas.dashed((span.left, y(DRY_SHARE * holds)), (span.right, y(DRY_SHARE * holds)), theme.hessian, theme.rule, size * 0.25);
    let hand = Hand::soft(theme).end();
    canvas.text(span.left - size * 0.5, high + size * 0.3, "soaked", hand);
    canvas.text(span.left - size * 0.5, y(DRY_SHARE * holds) + size * 0.2, "dry", hand);
    for hung in hangings(story) {
        hanging(canvas, theme, story, hung, &span, low, &y);
    }
    canvas.line((span.left, low), (span.right, low), theme.ink, theme.rule);
    rain(canvas, theme, story, &span, low + size * 0.9);
    let foot = span.axis(canvas, theme, low + size * 3.4);
    Some(Drawn { title, description: summary(story), bottom: key(canvas, theme, foot + size * 1.2) })
}

/// Runs of hours in which a cloth hung, as first and one past the last.
fn hangings(story: &Told) -> Vec<(usize, usize)> {
    let mut runs: Vec<(usize, usize)> = Vec::new();
    for (hour, told) in story.hours.iter().enumerate() {
        match runs.last_mut() {
            _ if told.cloth_kg_m2.is_none() => {}
            Some(run) if run.1 == hour => run.1 = hour + 1,
            _ => runs.push((hour, hour + 1)),
        }
    }
    runs
}

fn hanging(canvas: &mut Canvas, theme: &Theme, story: &Told, (from, to): (usize, usize), span: &Span, low: f64, y: &impl Fn(f64) -> f64) {
    let line: Vec<(f64, f64)> =
        (from..to).map(|hour| (span.x((hour + 1) as f64 / 24.0), y(story.hours[hour].cloth_kg_m2.unwrap_or(0.0)))).collect();
    let mut body = vec![(span.x(from as f64 / 24.0), low)];
    body.extend(line.first().map(|&(_, y)| (span.x(from as f64 / 24.0), y)));
    body.extend(line.iter().copied());
    body.push((span.x(to as f64 / 24.0), low));
    canvas.polygon(&body, theme.water_wash, "none", 0.0);
    canvas.polyline(&line, theme.water, theme.rule * 1.6);
    for (day, told) in story.days.iter().enumerate() {
        for done in told.done.iter().filter(|done| done.what == Doing::Wetted) {
            let at = day as f64 + f64::from(done.hour) / 24.0;
            if at * 24.0 >= from as f64 && at * 24.0 <= to as f64 {
                canvas.circle((span.x(at), low + theme.size * 0.4), theme.size * 0.16, theme.water, "none", 0.0);
            }
        }
    }
}

fn rain(canvas: &mut Canvas, theme: &Theme, story: &Told, span: &Span, top: f64) {
    let wettest = story.days.iter().map(|day| day.rain_mm).fold(5.0, f64::max);
    canvas.text(span.left - theme.size * 0.5, top + theme.size * 1.0, "rain", Hand::soft(theme).end());
    canvas.line((span.left, top), (span.right, top), theme.water, theme.rule);
    let mut said = false;
    for (day, told) in story.days.iter().enumerate().filter(|(_, told)| told.rain_mm > 0.05) {
        let tall = told.rain_mm / wettest * theme.size * 1.6;
        canvas.group("reading", &format!("{}: {:.1} mm of rain", words::day(told.date), told.rain_mm));
        canvas.rect((span.x(day as f64) + span.each() * 0.2, top), (span.each() * 0.6, tall), theme.water, "none", 0.0);
        canvas.unclip();
        if told.rain_mm >= wettest && !said {
            let says = format!("{:.0} mm", told.rain_mm);
            let hand = Hand::soft(theme);
            let x = span.x(day as f64 + 1.0) + theme.size * 0.2;
            let boxed = hand.boxed(x, top + tall, &says);
            if boxed.right <= theme.wide {
                canvas.ground(&boxed);
                canvas.text(x, top + tall, &says, hand);
                said = true;
            }
        }
    }
}

fn key(canvas: &mut Canvas, theme: &Theme, top: f64) -> f64 {
    let size = theme.size;
    let y = top + size;
    let (l, r) = (0.0, size * 2.2);
    canvas.rect((l, y - size * 0.75), (r - l, size * 0.9), theme.water_wash, theme.water, theme.rule);
    let hand = Hand::soft(theme);
    let first = "water in the cloth";
    canvas.text(size * 2.7, y, first, hand);
    let x = size * 3.9 + metrics::width(first, hand.face, hand.size);
    canvas.circle((x + size * 1.1, y - size * 0.3), size * 0.2, theme.water, "none", 0.0);
    canvas.text(x + size * 2.7, y, "wetted", hand);
    y + size * 0.6
}

/// How often it was wetted and how long it hung dry, in words.
fn summary(story: &Told) -> String {
    let hung = story.hours.iter().filter_map(|hour| hour.cloth_kg_m2);
    let (mut hours, mut dry) = (0_usize, 0_usize);
    for water in hung {
        hours += 1;
        dry += usize::from(water < DRY_SHARE * story.cloth_holds_kg_m2);
    }
    format!(
        "It hangs {} of the days told, holds {:.1} kg on a square metre when soaked, is wetted {}, and hangs dry for {} of its {} hours.",
        words::trimmed(hours as f64 / 24.0, 0),
        story.cloth_holds_kg_m2,
        words::times(story.tally.wettings),
        dry,
        hours
    )
}
