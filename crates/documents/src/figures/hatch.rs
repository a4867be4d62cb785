//! Hatches: what a material looks like in every drawing, and the named draw that strews grains and stones the same way each time.

use std::fmt::Write as _;

use super::canvas::n;
use super::{Canvas, Theme};

/// What is hatched.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hatch {
    /// Rubble masonry.
    Rubble,
    /// An old lime covering, and the finish harl.
    Finish,
    /// A cement covering.
    Cement,
    /// Paint.
    Paint,
    /// Scud.
    Scud,
    /// Straightening.
    Straightening,
    /// Lime not yet carbonated.
    Caustic,
    /// Days not worked.
    Idle,
}

/// A stream of numbers from a named seed (SplitMix64, Steele, Lea and Flood 2014), for strewing grains; never for results.
#[derive(Debug)]
pub struct Strew(u64);

impl Strew {
    /// The stream of a name.
    pub fn named(name: &str) -> Self {
        let seed = name.bytes().fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3));
        Self(seed)
    }

    /// The next number, 0 to 1.
    pub fn draw(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// The next number between two bounds.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.draw()
    }
}

/// Paints an outline: the ground first and the marks over it, so that no seam shows between the tiles of a pattern.
pub fn polygon(canvas: &mut Canvas, theme: &Theme, hatch: Hatch, corners: &[(f64, f64)], stroke: &str, width: f64) {
    if let Some(ground) = ground(theme, hatch) {
        canvas.polygon(corners, ground, "none", 0.0);
    }
    let marks = marks(canvas, theme, hatch);
    canvas.polygon(corners, &marks, stroke, width);
}

/// Paints an upright rectangle, ground first.
pub fn rect(canvas: &mut Canvas, theme: &Theme, hatch: Hatch, at: (f64, f64), size: (f64, f64)) {
    if let Some(ground) = ground(theme, hatch) {
        canvas.rect(at, size, ground, "none", 0.0);
    }
    let marks = marks(canvas, theme, hatch);
    canvas.rect(at, size, &marks, "none", 0.0);
}

/// Tone under the marks.
fn ground(theme: &Theme, hatch: Hatch) -> Option<&'static str> {
    match hatch {
        Hatch::Rubble | Hatch::Paint => Some(theme.lime),
        Hatch::Finish => Some(theme.finish),
        Hatch::Cement => Some(theme.stone),
        Hatch::Scud => Some(theme.scud),
        Hatch::Straightening => Some(theme.straightening),
        Hatch::Caustic => Some(theme.madder_wash),
        Hatch::Idle => None,
    }
}

/// Defines the marks of the hatch on the canvas and returns the fill that paints them.
fn marks(canvas: &mut Canvas, theme: &Theme, hatch: Hatch) -> String {
    let (name, tile) = match hatch {
        Hatch::Rubble => ("rubble", rubble(theme)),
        Hatch::Finish => ("finish", grit(theme, "finish", theme.hessian, 1.9)),
        Hatch::Cement => ("cement", grit(theme, "cement", theme.stone_line, 1.4)),
        Hatch::Paint => ("paint", strokes(theme, "paint", theme.chalk)),
        Hatch::Scud => ("scud", grit(theme, "scud", theme.hessian, 1.5)),
        Hatch::Straightening => ("straightening", strokes(theme, "straightening", theme.hessian)),
        Hatch::Caustic => ("caustic", diagonal(theme, "caustic", theme.madder, 0.42)),
        Hatch::Idle => ("idle", diagonal(theme, "idle", theme.graphite, 0.5)),
    };
    canvas.define(name, &tile);
    format!("url(#{name})")
}

fn pattern(name: &str, width: f64, height: f64, body: &str) -> String {
    format!(r#"<pattern id="{name}" patternUnits="userSpaceOnUse" width="{}" height="{}">{body}</pattern>"#, n(width), n(height))
}

/// Four courses of stones with their joints, closing on themselves at the edges of the tile.
fn rubble(theme: &Theme) -> String {
    let unit = theme.size;
    let (width, height) = (unit * 7.2, unit * 3.6);
    let mut body = String::new();
    let mut strew = Strew::named("rubble");
    let courses = [0.86, 1.06, 0.74, 0.94];
    let mut top = 0.0;
    for course in courses {
        let tall = course * unit;
        let widths: Vec<f64> = (0..5).map(|_| strew.between(0.8, 1.9)).collect();
        let scale = width / widths.iter().sum::<f64>();
        let mut left = strew.between(0.0, width / 5.0);
        for share in widths {
            let wide = share * scale;
            let shape = stone(&mut strew, wide, tall, unit * 0.07);
            for shift in [0.0, -width] {
                if left + shift < width {
                    body.push_str(&placed(&shape, left + shift, top, theme));
                }
            }
            left += wide;
        }
        top += tall;
    }
    pattern("rubble", width, height, &body)
}

/// Corners of one rough stone in a box, its joint left free round it.
fn stone(strew: &mut Strew, wide: f64, tall: f64, joint: f64) -> Vec<(f64, f64)> {
    let (l, t, r, b) = (joint, joint, wide - joint, tall - joint);
    let bite = (tall * 0.24).min(wide * 0.2);
    let mut nudge = |value: f64| value * strew.between(0.35, 1.0);
    vec![
        (l, t + nudge(bite)),
        (l + nudge(bite), t),
        (r - nudge(bite), t + nudge(joint)),
        (r, t + nudge(bite)),
        (r - nudge(joint), b - nudge(bite)),
        (r - nudge(bite), b),
        (l + nudge(bite), b - nudge(joint)),
        (l, b - nudge(bite)),
    ]
}

fn placed(shape: &[(f64, f64)], left: f64, top: f64, theme: &Theme) -> String {
    let points: Vec<String> = shape.iter().map(|(x, y)| format!("{},{}", n(x + left), n(y + top))).collect();
    format!(
        r#"<polygon points="{}" fill="{}" stroke="{}" stroke-width="{}" stroke-linejoin="round"/>"#,
        points.join(" "),
        theme.stone,
        theme.stone_line,
        n(theme.rule * 0.8)
    )
}

/// Grains strewn.
fn grit(theme: &Theme, name: &str, ink: &str, grain: f64) -> String {
    let unit = theme.size;
    let side = unit * 3.0;
    let mut body = String::new();
    let mut strew = Strew::named(name);
    for row in 0..5 {
        for column in 0..5 {
            let x = (f64::from(column) + strew.between(0.25, 0.75)) * side / 5.0;
            let y = (f64::from(row) + strew.between(0.25, 0.75)) * side / 5.0;
            let radius = strew.between(0.3, 1.0) * grain * unit * 0.05;
            let _ = write!(body, r#"<circle cx="{}" cy="{}" r="{}" fill="{ink}" fill-opacity="0.55"/>"#, n(x), n(y), n(radius));
        }
    }
    pattern(name, side, side, &body)
}

/// Short level strokes, as a comb or a brush leaves them.
fn strokes(theme: &Theme, name: &str, ink: &str) -> String {
    let unit = theme.size;
    let (width, height) = (unit * 4.0, unit * 1.5);
    let mut body = String::new();
    let mut strew = Strew::named(name);
    for row in 0..4 {
        let y = (f64::from(row) + 0.5) * height / 4.0;
        let from = strew.between(0.0, 0.5) * width;
        let long = strew.between(0.3, 0.45) * width;
        let lift = unit * strew.between(-0.06, 0.06);
        let _ = write!(
            body,
            r#"<path d="M{} {}q{} {} {} 0" fill="none" stroke="{ink}" stroke-opacity="0.6" stroke-width="{}"/>"#,
            n(from),
            n(y),
            n(long / 2.0),
            n(lift * 2.0),
            n(long),
            n(theme.rule * 0.8)
        );
    }
    pattern(name, width, height, &body)
}

/// Slanting lines.
fn diagonal(theme: &Theme, name: &str, ink: &str, pitch: f64) -> String {
    let side = theme.size * pitch;
    let mut body = String::new();
    let _ = write!(
        body,
        r#"<path d="M{a} {b}L{b} {a}M{c} {s}L{s} {c}M{a} {s}L{s} {a}" stroke="{ink}" stroke-width="{w}" fill="none"/>"#,
        a = n(-0.01 * side),
        b = n(0.01 * side),
        c = n(side * 0.99),
        s = n(side),
        w = n(theme.rule * 0.75)
    );
    pattern(name, side, side, &body)
}
