//! The impatient coat: one wall twice, side by side at one scale; the second coat thrown early at the left, later at the right.

use works::{Impatient, Told};

use super::super::{Canvas, Hand, Theme, metrics};
use super::span::Span;
use super::{Drawn, brief, grown, heading};
use crate::{telling, words};

/// Draws the pair.
pub(super) fn draw(canvas: &mut Canvas, theme: &Theme, pair: &Impatient) -> Drawn {
    let size = theme.size;
    let [sooner, later] = pair.days;
    let title = format!(
        "{}: the next coat at {} days and at {}",
        pair.walls[0].wall_name,
        words::count(sooner as usize),
        words::count(later as usize)
    );
    let below = heading(canvas, theme, 0.0, &title, &telling::impatient(pair));
    let half = (theme.wide - size * 2.0) / 2.0;
    let mut bottom = below;
    for (index, story) in pair.walls.iter().enumerate() {
        let left = (half + size * 2.0) * index as f64;
        let foot = panel(canvas, theme, pair, (index, story), (left, left + half), below);
        bottom = bottom.max(foot);
    }
    let foot = grown::key(canvas, theme, bottom + size * 0.6);
    Drawn { description: telling::impatient(pair), title, bottom: foot }
}

fn panel(canvas: &mut Canvas, theme: &Theme, pair: &Impatient, (index, story): (usize, &Told), (left, right): (f64, f64), top: f64) -> f64 {
    let size = theme.size;
    let layers = grown::layers_of(story, 2);
    let second = story.coats.get(1).map_or(String::new(), |coat| brief(&coat.name).to_lowercase());
    let head = format!("{} after {} days", words::capital(&second), pair.days[index]);
    let name = Hand::name(theme).sized(size * 1.15);
    canvas.text(left, top + size * 1.2, &metrics::cut(&head, name.face, name.size, right - left), name);
    let says = format!("By day {} the first coat has taken up {:.2} mm.", pair.compared_after_days, pair.first_coat_m[index] * 1000.0);
    let lines = metrics::wrap(&says, metrics::Face::Sans, size, right - left);
    let below = canvas.lines(left, top + size * 2.7, &lines, Hand::plain(theme));
    let span = Span { from: story.from, days: story.days.len(), left: left + size * 3.0, right: right - size * 0.4 };
    grown::wall(canvas, theme, &layers, &grown::tended_of(story), span, (left, below - size * 0.6))
}
