//! The face against the nights: temperature of the air and of the face hour by hour, nights shaded, with the lines at which frost begins and below which
//! nothing is thrown.

use works::{Doing, Told};

use super::super::{Canvas, Hand, Theme, metrics};
use super::span::Span;
use super::{Drawn, brief, heading};
use crate::{telling, words};

/// Temperature below which nothing is thrown, °C (the published limit the programme goes by).
const THROW_C: f64 = 5.0;

/// Draws it below a line.
pub(super) fn draw(canvas: &mut Canvas, theme: &Theme, story: &Told, top: f64) -> Drawn {
    let size = theme.size;
    let title = format!("{}: its face against the nights", story.wall_name);
    let span = Span { from: story.from, days: story.days.len(), left: size * 4.6, right: theme.wide - size * 1.2 };
    let below = heading(canvas, theme, top, &title, &summary(story));
    let (high, low) = (below + size * 0.6, below + size * 9.6);
    let (coldest, hottest) = reach(story);
    let y = |celsius: f64| low - (celsius - coldest) / (hottest - coldest) * (low - high);
    nights(canvas, theme, story, &span, (high, low));
    marks(canvas, theme, &span, (coldest, hottest), &y);
    let line = |of: fn(&works::ToldHour) -> f64| -> Vec<(f64, f64)> {
        story.hours.iter().enumerate().map(|(hour, told)| (span.x((hour as f64 + 0.5) / 24.0), y(of(told)))).collect()
    };
    canvas.group("line", "air");
    canvas.polyline(&line(|hour| hour.air_c), theme.graphite, theme.rule);
    canvas.unclip();
    canvas.group("line", "face");
    canvas.polyline(&line(|hour| hour.face_c), theme.ink, theme.rule * 1.6);
    canvas.unclip();
    for (day, told) in story.days.iter().enumerate() {
        let says = format!(
            "{}: air {:.0} to {:.0} °C, face {:.0} to {:.0} °C",
            words::day(told.date),
            told.air_c.0,
            told.air_c.1,
            told.face_c.0,
            told.face_c.1
        );
        canvas.group("reading", &says);
        canvas.rect((span.x(day as f64), high), (span.each(), low - high), "none", "none", 0.0);
        canvas.unclip();
    }
    placed(canvas, theme, story, &span, (high, low));
    let foot = span.axis(canvas, theme, low + size * 0.5);
    Drawn { title, description: summary(story), bottom: key(canvas, theme, foot + size * 1.2) }
}

/// Least and greatest temperature of the picture, to whole fives.
fn reach(story: &Told) -> (f64, f64) {
    let all = || story.hours.iter().flat_map(|hour| [hour.air_c, hour.face_c]);
    let low = all().fold(THROW_C, f64::min);
    let high = all().fold(20.0, f64::max);
    ((low / 5.0).floor() * 5.0, (high / 5.0).ceil() * 5.0)
}

/// Nights as shades: the hours without sun.
fn nights(canvas: &mut Canvas, theme: &Theme, story: &Told, span: &Span, (top, bottom): (f64, f64)) {
    let mut from = None;
    let dark = |hour: usize| story.hours.get(hour).is_some_and(|told| told.sun_w_m2 < 1.0);
    for hour in 0..=story.hours.len() {
        match (from, dark(hour)) {
            (None, true) => from = Some(hour),
            (Some(first), false) => {
                let (left, right) = (span.x(first as f64 / 24.0), span.x(hour as f64 / 24.0));
                canvas.rect((left, top), (right - left, bottom - top), theme.tint, "none", 0.0);
                from = None;
            }
            _ => {}
        }
    }
}

fn marks(canvas: &mut Canvas, theme: &Theme, span: &Span, (coldest, hottest): (f64, f64), y: &impl Fn(f64) -> f64) {
    let mut celsius = coldest;
    let hand = Hand::soft(theme).end();
    while celsius <= hottest {
        let (from, to) = ((span.left, y(celsius)), (span.right, y(celsius)));
        if celsius == 0.0 {
            canvas.line(from, to, theme.water, theme.rule * 1.4);
        } else if celsius == THROW_C {
            canvas.dashed(from, to, theme.ochre, theme.rule * 1.2, theme.size * 0.3);
        } else {
            canvas.line(from, to, theme.chalk, theme.rule * 0.7);
        }
        let unit = if celsius == hottest { " °C" } else { "" };
        canvas.text(span.left - theme.size * 0.5, y(celsius) + theme.size * 0.3, &format!("{celsius:.0}{unit}"), hand);
        celsius += 5.0;
    }
}

/// A line up where a coat was placed.
fn placed(canvas: &mut Canvas, theme: &Theme, story: &Told, span: &Span, (top, bottom): (f64, f64)) {
    let mut free_from = f64::NEG_INFINITY;
    for (day, told) in story.days.iter().enumerate() {
        for done in &told.done {
            let Doing::Placed(coat) = done.what else { continue };
            let x = span.x(day as f64 + f64::from(done.hour) / 24.0);
            canvas.line((x, top), (x, bottom), theme.ochre, theme.heavy);
            let hand = Hand::bold(theme).tone(theme.ochre);
            let name = brief(&story.coats[coat].name);
            let wide = metrics::width(&name, hand.face, hand.size);
            let left = if x + wide + theme.size * 0.4 > span.right { x - wide - theme.size * 0.4 } else { x + theme.size * 0.4 };
            if left > free_from {
                let boxed = hand.boxed(left, top + theme.size * 0.9, &name);
                canvas.ground(&boxed);
                canvas.text(left, top + theme.size * 0.9, &name, hand);
                free_from = boxed.right + theme.size * 0.5;
            }
        }
    }
}

fn key(canvas: &mut Canvas, theme: &Theme, top: f64) -> f64 {
    let size = theme.size;
    let y = top + size;
    let mut x = 0.0;
    for (index, says) in ["face", "air", "freezing", "no throwing below", "coat placed", "night"].iter().enumerate() {
        let (l, r, middle) = (x, x + size * 2.2, y - size * 0.3);
        match index {
            0 => canvas.line((l, middle), (r, middle), theme.ink, theme.rule * 1.6),
            1 => canvas.line((l, middle), (r, middle), theme.graphite, theme.rule),
            2 => canvas.line((l, middle), (r, middle), theme.water, theme.rule * 1.4),
            3 => canvas.dashed((l, middle), (r, middle), theme.ochre, theme.rule * 1.2, size * 0.3),
            4 => canvas.line(((l + r) / 2.0, y - size * 0.75), ((l + r) / 2.0, y + size * 0.15), theme.ochre, theme.heavy),
            _ => canvas.rect((l, y - size * 0.75), (r - l, size * 0.9), theme.tint, theme.graphite, theme.rule * 0.6),
        }
        let hand = Hand::soft(theme);
        canvas.text(x + size * 2.7, y, says, hand);
        x += size * 3.9 + metrics::width(says, hand.face, hand.size);
    }
    y + size * 0.6
}

/// Hours below freezing, and the coldest hour, in words.
fn summary(story: &Told) -> String {
    let below = story.hours.iter().filter(|hour| hour.face_c < 0.0).count();
    let frosty = story.hours.iter().filter(|hour| hour.air_c < 0.0).count();
    let coldest = story.hours.iter().fold(None::<&works::ToldHour>, |least, hour| match least {
        Some(known) if known.face_c <= hour.face_c => Some(known),
        _ => Some(hour),
    });
    let Some(coldest) = coldest else { return String::new() };
    let when = format!("the coldest is {:.1} °C at {} on {}", coldest.face_c, telling::clock(coldest.at.hour), words::day(coldest.at.date));
    match (frosty, below) {
        (0, 0) => format!("Neither air nor face falls below freezing; of the face {when}."),
        (air, 0) => format!("The air is below freezing in {}, the face never: {when}.", words::counted(air, "hour", "hours")),
        (air, face) => {
            format!("The air is below freezing in {}, the face in {}: {when}.", words::counted(air, "hour", "hours"), words::count(face))
        }
    }
}
