//! Pictures of a wall that cures: its coats growing outward with the front falling through them, small sections on chosen days, the face against the
//! nights, the water in the hessian, and the impatient pair side by side. They draw what a story says and work nothing out.

mod cloth;
mod grown;
mod nights;
mod pair;
mod sections;
mod span;

use works::{CoatKind, Impatient, Plan, Told};

use super::hatch::Hatch;
use super::{Canvas, Figure, Hand, Theme, metrics};
use crate::words;

/// The coats growing outward from the stone, days across, with the front, the depth taken up and the depth asked for.
pub fn front(story: &Told, theme: &Theme) -> Figure {
    alone(theme, |canvas| grown::of_story(canvas, theme, story, 0.0))
}

/// The same for one wall of a plan in its middle year; `None` if the plan holds no day of it.
pub fn front_of_plan(plan: &Plan, slug: &str, theme: &Theme) -> Option<Figure> {
    let mut canvas = Canvas::new(theme);
    let drawn = grown::of_plan(&mut canvas, theme, plan, slug)?;
    Some(canvas.finish(drawn.title, drawn.description, theme.wide, drawn.bottom))
}

/// Small sections through the coats on chosen days: water, lime still caustic, temperature; `None` before the first coat.
pub fn sections(story: &Told, theme: &Theme) -> Option<Figure> {
    let mut canvas = Canvas::new(theme);
    let drawn = sections::draw(&mut canvas, theme, story, 0.0)?;
    Some(canvas.finish(drawn.title, drawn.description, theme.wide, drawn.bottom))
}

/// Temperature of the face and of the air through days and nights.
pub fn nights(story: &Told, theme: &Theme) -> Figure {
    alone(theme, |canvas| nights::draw(canvas, theme, story, 0.0))
}

/// Water in the cloth; `None` where no cloth hung.
pub fn cloth(story: &Told, theme: &Theme) -> Option<Figure> {
    let mut canvas = Canvas::new(theme);
    let drawn = cloth::draw(&mut canvas, theme, story, 0.0)?;
    Some(canvas.finish(drawn.title, drawn.description, theme.wide, drawn.bottom))
}

/// The impatient pair side by side.
pub fn pair(pair: &Impatient, theme: &Theme) -> Figure {
    alone(theme, |canvas| pair::draw(canvas, theme, pair))
}

/// All pictures of a story on one sheet.
pub fn sheet(story: &Told, theme: &Theme) -> Figure {
    let mut canvas = Canvas::new(theme);
    let gap = theme.size * 2.6;
    let mut parts = vec![grown::of_story(&mut canvas, theme, story, 0.0)];
    let below = |parts: &[Drawn]| parts.last().map_or(0.0, |part| part.bottom + gap);
    parts.extend(sections::draw(&mut canvas, theme, story, below(&parts)));
    parts.push(nights::draw(&mut canvas, theme, story, below(&parts)));
    parts.extend(cloth::draw(&mut canvas, theme, story, below(&parts)));
    let bottom = parts.last().map_or(1.0, |part| part.bottom);
    let said: Vec<&str> = parts.iter().map(|part| part.description.as_str()).collect();
    canvas.finish(format!("{}, {}", story.wall_name, words::full_day(story.from)), said.join(" "), theme.wide, bottom)
}

/// A picture drawn on a canvas: what it is called, what it shows, where it ends.
struct Drawn {
    title: String,
    description: String,
    bottom: f64,
}

fn alone(theme: &Theme, draw: impl FnOnce(&mut Canvas) -> Drawn) -> Figure {
    let mut canvas = Canvas::new(theme);
    let drawn = draw(&mut canvas);
    canvas.finish(drawn.title, drawn.description, theme.wide, drawn.bottom)
}

/// A heading in the serif with a softer line under it, wrapped; returns the base line below both.
fn heading(canvas: &mut Canvas, theme: &Theme, top: f64, title: &str, says: &str) -> f64 {
    let name = Hand::name(theme).sized(theme.size * 1.3);
    canvas.text(0.0, top + theme.size * 1.3, title, name);
    let soft = Hand::soft(theme);
    let lines = metrics::wrap(says, soft.face, soft.size, theme.wide);
    canvas.lines(0.0, top + theme.size * 2.9, &lines, soft)
}

fn hatch_of(kind: CoatKind) -> Hatch {
    match kind {
        CoatKind::Scud => Hatch::Scud,
        CoatKind::Straightening => Hatch::Straightening,
        CoatKind::Finish => Hatch::Finish,
    }
}

fn tone_of(theme: &Theme, kind: CoatKind) -> &'static str {
    match kind {
        CoatKind::Scud => theme.scud,
        CoatKind::Straightening => theme.straightening,
        CoatKind::Finish => theme.finish,
    }
}

/// The name of a coat for a drawing: without the word coat and without what stands behind a second comma.
fn brief(name: &str) -> String {
    let parts: Vec<&str> = name.split(", ").take(2).collect();
    parts.join(", ").replace(" coat", "")
}
