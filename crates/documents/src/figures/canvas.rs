//! A sheet that a figure is drawn on: shapes as SVG, words as words, and a record of where every word stands, so that a test can prove that
//! no two collide. It knows shapes and words only, no trade.

use std::fmt::Write as _;

use super::Theme;
use super::metrics::{self, Face};

/// A finished figure.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// The picture as a complete SVG document.
    pub svg: String,
    /// What it is, in a few words.
    pub title: String,
    /// What it shows, in sentences, for who cannot see it.
    pub description: String,
    /// Width in the figure's units.
    pub width: f64,
    /// Height in the figure's units.
    pub height: f64,
    /// Where the words stand.
    pub words: Vec<WordBox>,
}

/// The box that a run of words takes up.
#[derive(Clone, Debug, PartialEq)]
pub struct WordBox {
    /// The words.
    pub words: String,
    /// Left edge.
    pub left: f64,
    /// Upper edge.
    pub top: f64,
    /// Right edge.
    pub right: f64,
    /// Lower edge.
    pub bottom: f64,
}

impl WordBox {
    /// True if the two boxes share ground.
    pub fn meets(&self, other: &WordBox) -> bool {
        self.left < other.right && other.left < self.right && self.top < other.bottom && other.top < self.bottom
    }
}

/// Which end of the words stands at the given point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// The left end.
    Start,
    /// The middle.
    Middle,
    /// The right end.
    End,
}

/// How words are set.
#[derive(Clone, Copy, Debug)]
pub struct Hand<'t> {
    /// Face.
    pub face: Face,
    /// Size.
    pub size: f64,
    /// Colour.
    pub fill: &'t str,
    /// Which end stands at the point.
    pub anchor: Anchor,
}

impl<'t> Hand<'t> {
    /// Ordinary words in ink, set from the left.
    pub fn plain(theme: &Theme) -> Self {
        Self { face: Face::Sans, size: theme.size, fill: theme.ink, anchor: Anchor::Start }
    }

    /// Second words.
    pub fn soft(theme: &Theme) -> Self {
        Self { fill: theme.pencil, ..Self::plain(theme) }
    }

    /// Words that matter.
    pub fn bold(theme: &Theme) -> Self {
        Self { face: Face::SansBold, ..Self::plain(theme) }
    }

    /// Names, in the serif.
    pub fn name(theme: &Theme) -> Self {
        Self { face: Face::SerifSemibold, size: theme.size * 1.42, ..Self::plain(theme) }
    }

    /// The same, set to the middle.
    pub fn middle(self) -> Self {
        Self { anchor: Anchor::Middle, ..self }
    }

    /// The same, set to the right.
    pub fn end(self) -> Self {
        Self { anchor: Anchor::End, ..self }
    }

    /// The same in another colour.
    pub fn tone(self, fill: &'t str) -> Self {
        Self { fill, ..self }
    }

    /// The same at another size.
    pub fn sized(self, size: f64) -> Self {
        Self { size, ..self }
    }

    /// Box of `words` standing on the base line `y` at `x`.
    pub fn boxed(&self, x: f64, y: f64, words: &str) -> WordBox {
        let width = metrics::width(words, self.face, self.size);
        let left = match self.anchor {
            Anchor::Start => x,
            Anchor::Middle => x - width / 2.0,
            Anchor::End => x - width,
        };
        WordBox { words: words.to_owned(), left, top: y - self.size * 0.78, right: left + width, bottom: y + self.size * 0.24 }
    }
}

/// The sheet.
#[derive(Debug)]
pub struct Canvas {
    body: String,
    definitions: String,
    defined: Vec<String>,
    words: Vec<WordBox>,
    paper: &'static str,
}

impl Canvas {
    /// An empty sheet.
    pub fn new(theme: &Theme) -> Self {
        Self { body: String::new(), definitions: String::new(), defined: Vec::new(), words: Vec::new(), paper: theme.paper }
    }

    /// Adds a definition (a pattern, a clip) once; later ones of the same name are passed over.
    pub fn define(&mut self, name: &str, svg: &str) {
        if !self.defined.iter().any(|known| known == name) {
            self.defined.push(name.to_owned());
            self.definitions.push_str(svg);
        }
    }

    /// A straight line.
    pub fn line(&mut self, from: (f64, f64), to: (f64, f64), stroke: &str, width: f64) {
        let _ = write!(
            self.body,
            r#"<line x1="{}" y1="{}" x2="{}" y2="{}" stroke="{stroke}" stroke-width="{}"/>"#,
            n(from.0),
            n(from.1),
            n(to.0),
            n(to.1),
            n(width)
        );
    }

    /// A dashed line.
    pub fn dashed(&mut self, from: (f64, f64), to: (f64, f64), stroke: &str, width: f64, dash: f64) {
        let _ = write!(
            self.body,
            r#"<line x1="{}" y1="{}" x2="{}" y2="{}" stroke="{stroke}" stroke-width="{}" stroke-dasharray="{} {}"/>"#,
            n(from.0),
            n(from.1),
            n(to.0),
            n(to.1),
            n(width),
            n(dash),
            n(dash * 0.7)
        );
    }

    /// An upright rectangle. `fill` and `stroke` may be `none`; `fill` may be `url(#pattern)`.
    pub fn rect(&mut self, at: (f64, f64), size: (f64, f64), fill: &str, stroke: &str, width: f64) {
        let _ = write!(
            self.body,
            r#"<rect x="{}" y="{}" width="{}" height="{}" fill="{fill}" stroke="{stroke}" stroke-width="{}"/>"#,
            n(at.0),
            n(at.1),
            n(size.0.max(0.0)),
            n(size.1.max(0.0)),
            n(width)
        );
    }

    /// A closed outline.
    pub fn polygon(&mut self, corners: &[(f64, f64)], fill: &str, stroke: &str, width: f64) {
        let points: Vec<String> = corners.iter().map(|(x, y)| format!("{},{}", n(*x), n(*y))).collect();
        let _ = write!(
            self.body,
            r#"<polygon points="{}" fill="{fill}" stroke="{stroke}" stroke-width="{}" stroke-linejoin="round"/>"#,
            points.join(" "),
            n(width)
        );
    }

    /// An open line through points.
    pub fn polyline(&mut self, points: &[(f64, f64)], stroke: &str, width: f64) {
        let points: Vec<String> = points.iter().map(|(x, y)| format!("{},{}", n(*x), n(*y))).collect();
        let _ = write!(
            self.body,
            r#"<polyline points="{}" fill="none" stroke="{stroke}" stroke-width="{}" stroke-linejoin="round"/>"#,
            points.join(" "),
            n(width)
        );
    }

    /// A disc or ring.
    pub fn circle(&mut self, at: (f64, f64), radius: f64, fill: &str, stroke: &str, width: f64) {
        let _ = write!(
            self.body,
            r#"<circle cx="{}" cy="{}" r="{}" fill="{fill}" stroke="{stroke}" stroke-width="{}"/>"#,
            n(at.0),
            n(at.1),
            n(radius),
            n(width)
        );
    }

    /// Opens a group clipped to a rectangle; close it with `unclip`.
    pub fn clip(&mut self, name: &str, at: (f64, f64), size: (f64, f64)) {
        let rect = format!(
            r#"<clipPath id="{name}"><rect x="{}" y="{}" width="{}" height="{}"/></clipPath>"#,
            n(at.0),
            n(at.1),
            n(size.0.max(0.0)),
            n(size.1.max(0.0))
        );
        self.define(name, &rect);
        let _ = write!(self.body, r#"<g clip-path="url(#{name})">"#);
    }

    /// Closes the group that `clip` opened.
    pub fn unclip(&mut self) {
        self.body.push_str("</g>");
    }

    /// Opens a group with a data attribute, for a script that reads the drawing; close it with `unclip`.
    pub fn group(&mut self, attribute: &str, value: &str) {
        let _ = write!(self.body, r#"<g data-{attribute}="{}">"#, escape(value));
    }

    /// Words on the base line `y` at `x`; returns their box.
    pub fn text(&mut self, x: f64, y: f64, words: &str, hand: Hand<'_>) -> WordBox {
        let (family, weight) = match hand.face {
            Face::Sans => ("Noto Sans", "400"),
            Face::SansBold => ("Noto Sans", "700"),
            Face::Serif => ("Libertinus Serif", "400"),
            Face::SerifSemibold => ("Libertinus Serif", "600"),
        };
        let anchor = match hand.anchor {
            Anchor::Start => "start",
            Anchor::Middle => "middle",
            Anchor::End => "end",
        };
        let _ = write!(
            self.body,
            r#"<text x="{}" y="{}" font-family="{family}" font-weight="{weight}" font-size="{}" fill="{}" text-anchor="{anchor}">{}</text>"#,
            n(x),
            n(y),
            n(hand.size),
            hand.fill,
            escape(words)
        );
        let boxed = hand.boxed(x, y, words);
        self.words.push(boxed.clone());
        boxed
    }

    /// Lines of words below one another, the first on the base line `y`; returns the base line below the last.
    pub fn lines(&mut self, x: f64, y: f64, lines: &[String], hand: Hand<'_>) -> f64 {
        let mut base = y;
        for line in lines {
            self.text(x, base, line, hand);
            base += hand.size * 1.32;
        }
        base
    }

    /// A small piece of ground under words that must cross a line.
    pub fn ground(&mut self, under: &WordBox) {
        let (x, y) = (under.left - 1.5, under.top);
        self.rect((x, y), (under.right - under.left + 3.0, under.bottom - under.top), self.paper, "none", 0.0);
    }

    /// The figure, `width` by `height`.
    pub fn finish(self, title: impl Into<String>, description: impl Into<String>, width: f64, height: f64) -> Figure {
        let (title, description) = (title.into(), description.into());
        // A drawing without size is not a drawing: readers refuse it.
        let (width, height) = (width.max(1.0), height.max(1.0));
        let svg = format!(
            concat!(
                r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {w} {h}" width="{w}" height="{h}" role="img">"#,
                "<title>{t}</title><desc>{d}</desc><defs>{defs}</defs>{body}</svg>"
            ),
            w = n(width),
            h = n(height),
            t = escape(&title),
            d = escape(&description),
            defs = self.definitions,
            body = self.body
        );
        Figure { svg, title, description, width, height, words: self.words }
    }
}

/// A coordinate with two decimals at most, so that the same figure is the same text.
pub fn n(value: f64) -> String {
    let rounded = (value * 100.0).round() / 100.0;
    if rounded == 0.0 { "0".to_owned() } else { format!("{rounded}") }
}

/// Words made safe inside SVG; characters that XML forbids are left out.
fn escape(words: &str) -> String {
    let mut out = String::with_capacity(words.len());
    for c in words.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            c if c.is_control() => out.push(' '),
            c => out.push(c),
        }
    }
    out
}
