//! The judgement as a drawing: rain as arrows on the plan of the house, and the months as strips. Plain SVG without script, text as text.

use std::fmt::Write;

use physics::numbers::{cos, sin};

use crate::judge::{Judged, MonthJudged, Spread};
use crate::words::month_name;

const PAPER: &str = "#FBF9F3";
const INK: &str = "#20282E";
const PENCIL: &str = "#4F595F";
const CHALK: &str = "#D6D1C4";
const WATER: &str = "#2F5B6B";
const STONE: &str = "#D9D9D3";
const SANS: &str = "Noto Sans, sans-serif";
const SERIF: &str = "Libertinus Serif, serif";

const WIDTH: f64 = 980.0;
const HEIGHT: f64 = 560.0;
/// Middle of the plan of the house, half its side, and the length of the longest arrow.
const MIDDLE: (f64, f64) = (190.0, 320.0);
const HALF_SIDE: f64 = 52.0;
const LONGEST: f64 = 96.0;
/// Left edge and step of the months, top and step of the strips.
const MONTHS_LEFT: f64 = 540.0;
const MONTH_STEP: f64 = 35.0;
const STRIPS_TOP: f64 = 132.0;
const STRIP_STEP: f64 = 82.0;
const STRIP_HEIGHT: f64 = 52.0;
/// A strip is drawn to this value at least, so that one day in ten years does not look like many.
const LEAST_SCALE: f64 = 10.0;

impl Judged {
    /// The drawing as SVG.
    pub fn to_svg(&self) -> String {
        let mut svg = String::with_capacity(16_000);
        let _ = write!(
            svg,
            r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" role="img" aria-labelledby="weather-title weather-desc"><title id="weather-title">{}</title><desc id="weather-desc">{}</desc><rect width="{WIDTH}" height="{HEIGHT}" fill="{PAPER}"/>"#,
            escaped(&format!("What the weather of {} offers to lime", self.place)),
            escaped(&format!("{} {}", self.answer(), self.rain_sentence())),
        );
        label(&mut svg, (32.0, 40.0), 21.0, INK, "start", SERIF, &self.place);
        label(&mut svg, (32.0, 64.0), 13.0, PENCIL, "start", SANS, &self.answer());
        self.plan(&mut svg);
        self.strips(&mut svg);
        svg.push_str("</svg>\n");
        svg
    }

    fn rain_sentence(&self) -> String {
        if !self.has_rain {
            return "No rain was given.".to_owned();
        }
        let faces: Vec<String> = self.faces.iter().map(|face| format!("{} {:.0}", face.words, face.rain_kg_m2_a)).collect();
        format!("Driving rain in the open, kg/m² a year: {}.", faces.join(", "))
    }

    fn plan(&self, svg: &mut String) {
        label(svg, (32.0, 112.0), 14.0, INK, "start", SANS, "Driving rain on the house, kg/m² a year");
        let Some(first) = self.faces.first() else { return };
        let corner = |turn: f64| along(MIDDLE, first.faces_deg + turn, HALF_SIDE * std::f64::consts::SQRT_2);
        let corners: Vec<String> =
            [45.0, 135.0, 225.0, 315.0].iter().map(|turn| corner(*turn)).map(|(x, y)| format!("{x:.1},{y:.1}")).collect();
        let _ = write!(svg, r#"<polygon points="{}" fill="{STONE}" stroke="{INK}" stroke-width="2.5"/>"#, corners.join(" "));
        let most = self.faces.iter().map(|face| face.rain_kg_m2_a).fold(0.0, f64::max).max(1e-9);
        for face in &self.faces {
            let length = LONGEST * face.rain_kg_m2_a / most;
            let tip = along(MIDDLE, face.faces_deg, HALF_SIDE + 4.0);
            let tail = along(MIDDLE, face.faces_deg, HALF_SIDE + 4.0 + length.max(1.0));
            if self.has_rain && length > 6.0 {
                arrow(svg, tail, tip, face.faces_deg);
            }
            let words = if self.has_rain { format!("{} {:.0}", face.words, face.rain_kg_m2_a) } else { face.words.clone() };
            let (x, y) = along(MIDDLE, face.faces_deg, HALF_SIDE + 4.0 + length.max(6.0) + 14.0);
            let side = sin(face.faces_deg.to_radians());
            let anchor = if side > 0.5 {
                "start"
            } else if side < -0.5 {
                "end"
            } else {
                "middle"
            };
            // Words beside a long arrow to the side would leave the sheet: they stand above its shaft.
            let (x, y) = if side.abs() > 0.5 && length > 60.0 {
                (along(MIDDLE, face.faces_deg, HALF_SIDE + 4.0 + length).0, y - 10.0)
            } else {
                (x, y + 4.0)
            };
            let anchor = if side.abs() > 0.5 && length > 60.0 { if side > 0.0 { "end" } else { "start" } } else { anchor };
            label(svg, (x, y), 13.0, WATER, anchor, SANS, &words);
        }
        north_point(svg);
        if !self.has_rain {
            label(svg, (32.0, HEIGHT - 24.0), 13.0, PENCIL, "start", SANS, "No rain was given.");
        }
    }

    fn strips(&self, svg: &mut String) {
        type Row = (&'static str, fn(&MonthJudged) -> Spread);
        let rows: [Row; 5] = [
            ("mild damp hours", |month| month.mild_damp_h),
            ("freezing faces, nights", |month| month.freezing_faces),
            ("drying days", |month| month.drying_days),
            ("working days", |month| month.working_days),
            ("rain, mm", |month| month.rain_mm),
        ];
        let legend = if self.gives_odds {
            "bar: mean of the years; line: what eight years in ten keep within"
        } else {
            "bar: mean; too few years for odds"
        };
        label(svg, (month_x(11) + 16.0, HEIGHT - 16.0), 13.0, PENCIL, "end", SANS, legend);
        for month in 0..12 {
            label(svg, (month_x(month), STRIPS_TOP - 16.0), 13.0, PENCIL, "middle", SANS, &month_name(month)[..3]);
        }
        for (index, (name, of)) in rows.iter().enumerate() {
            let base = STRIPS_TOP + STRIP_STEP * index as f64 + STRIP_HEIGHT;
            label(svg, (MONTHS_LEFT - MONTH_STEP * 0.5 - 14.0, base - 4.0), 13.0, INK, "end", SANS, name);
            let most = self.months.iter().map(|month| of(month).high.max(of(month).mean)).fold(0.0, f64::max).max(LEAST_SCALE);
            let _ = write!(
                svg,
                r#"<line x1="{:.1}" y1="{base:.1}" x2="{:.1}" y2="{base:.1}" stroke="{CHALK}"/>"#,
                MONTHS_LEFT - 16.0,
                month_x(11) + 16.0
            );
            for (month, judged) in self.months.iter().enumerate() {
                self.bar(svg, month_x(month), base, of(judged), most);
            }
        }
    }

    fn bar(&self, svg: &mut String, x: f64, base: f64, value: Spread, most: f64) {
        let up = |value: f64| (STRIP_HEIGHT - 14.0) * value / most;
        let height = up(value.mean);
        let _ = write!(
            svg,
            r#"<rect x="{:.1}" y="{:.1}" width="18" height="{height:.1}" fill="{STONE}" stroke="{PENCIL}"/>"#,
            x - 9.0,
            base - height
        );
        let top = if self.gives_odds {
            let _ = write!(
                svg,
                r#"<line x1="{x:.1}" y1="{:.1}" x2="{x:.1}" y2="{:.1}" stroke="{INK}" stroke-width="1.5"/>"#,
                base - up(value.low),
                base - up(value.high)
            );
            height.max(up(value.high))
        } else {
            height
        };
        label(svg, (x, base - top - 4.0), 13.0, INK, "middle", SANS, &format!("{:.0}", value.mean));
    }
}

fn month_x(month: usize) -> f64 {
    MONTHS_LEFT + MONTH_STEP * month as f64
}

/// A point so far from another towards a bearing; north is up.
fn along(from: (f64, f64), bearing_deg: f64, distance: f64) -> (f64, f64) {
    let angle = bearing_deg.to_radians();
    (from.0 + distance * sin(angle), from.1 - distance * cos(angle))
}

fn arrow(svg: &mut String, tail: (f64, f64), tip: (f64, f64), bearing_deg: f64) {
    let back = along(tip, bearing_deg, 9.0);
    let (left, right) = (along(back, bearing_deg + 90.0, 6.0), along(back, bearing_deg - 90.0, 6.0));
    let _ = write!(
        svg,
        r#"<line x1="{:.1}" y1="{:.1}" x2="{:.1}" y2="{:.1}" stroke="{WATER}" stroke-width="4"/><polygon points="{:.1},{:.1} {:.1},{:.1} {:.1},{:.1}" fill="{WATER}"/>"#,
        tail.0, tail.1, back.0, back.1, tip.0, tip.1, left.0, left.1, right.0, right.1
    );
}

fn north_point(svg: &mut String) {
    let (x, y) = (44.0, 150.0);
    let _ = write!(
        svg,
        r#"<line x1="{x}" y1="{}" x2="{x}" y2="{}" stroke="{INK}"/><polygon points="{x},{} {},{} {},{}" fill="{INK}"/>"#,
        y + 28.0,
        y + 8.0,
        y,
        x - 5.0,
        y + 10.0,
        x + 5.0,
        y + 10.0
    );
    label(svg, (x + 10.0, y + 12.0), 13.0, INK, "start", SANS, "N");
}

fn label(svg: &mut String, (x, y): (f64, f64), size: f64, colour: &str, anchor: &str, font: &str, words: &str) {
    let _ = write!(
        svg,
        r#"<text x="{x:.1}" y="{y:.1}" font-family="{font}" font-size="{size}" fill="{colour}" text-anchor="{anchor}">{}</text>"#,
        escaped(words)
    );
}

fn escaped(words: &str) -> String {
    let kept: String = words.chars().filter(|letter| !letter.is_control()).collect();
    kept.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}
