//! The section: the whole wall at true thickness, then its face enlarged with the sand at its own size, and the mixes as measures.

use works::{CoatKind, CoatSpecification, Plan, WallSpecification};

use super::hatch::Strew;
use super::metrics::{self, Face};
use super::{Canvas, Figure, Hand, Theme};
use crate::words;

/// Depth of stone shown in the enlarged face, as a share of its width.
const STONE_SHOWN: f64 = 0.13;
/// What a coat of limewash adds, m: five coats make about half a millimetre (design value, see the curing model).
const LIMEWASH_COAT_M: f64 = 0.0001;

/// The section through one wall; `None` if the specification has no such wall or the wall has no coats.
pub fn section(plan: &Plan, slug: &str, theme: &Theme) -> Option<Figure> {
    let wall = plan.specification.walls.iter().find(|wall| wall.slug == slug)?;
    let found = plan.survey.building.walls.iter().find(|found| found.slug == slug)?;
    if wall.coats.is_empty() {
        return None;
    }
    let harl: f64 = wall.coats.iter().map(|coat| coat.thickness_m[1]).sum();
    let thick = found.thickness_m.value.max(0.05);
    let mut canvas = Canvas::new(theme);
    let strip = whole_wall(&mut canvas, theme, wall, thick, harl, words::material_name(plan, &found.masonry.value));
    let face_top = strip.bottom + theme.size * 6.9;
    let face = enlarged(&mut canvas, theme, wall, face_top);
    leaders(&mut canvas, theme, &strip, &face);
    let bottom = columns(&mut canvas, theme, wall, &face);
    Some(canvas.finish(format!("Section through the {}", found.name), describe(wall, thick, harl), theme.wide, bottom))
}

/// The strip of the whole wall: where its harl stands, its lower edge and its scale.
struct Strip {
    face: f64,
    right: f64,
    bottom: f64,
    per_metre: f64,
}

fn whole_wall(canvas: &mut Canvas, theme: &Theme, wall: &WallSpecification, thick: f64, harl: f64, masonry: &str) -> Strip {
    let size = theme.size;
    let (left, right) = (size * 4.0, theme.wide - size * 5.4);
    let per_metre = (right - left) / (thick + harl);
    let (top, tall) = (size * 2.6, (size * 7.0).min(theme.wide * 0.12));
    let face = left + thick * per_metre;
    canvas.clip("clip-wall", (left, top), (face - left, tall));
    masonry_cut(canvas, theme, (left, face), (top, top + tall), per_metre);
    canvas.unclip();
    let mut x = face;
    for coat in &wall.coats {
        let wide = coat.thickness_m[1] * per_metre;
        canvas.rect((x, top), (wide, tall), tone(theme, coat.kind), theme.ink, theme.rule * 0.5);
        x += wide;
    }
    canvas.rect((left, top), (right - left, tall), "none", theme.ink, theme.heavy);
    canvas.line((face, top), (face, top + tall), theme.ink, theme.heavy);
    canvas.text(left - size * 0.6, top + tall / 2.0 + size * 0.3, "inside", Hand::soft(theme).end());
    canvas.text(right + size * 0.6, top + tall / 2.0 + size * 0.3, "weather", Hand::soft(theme));
    canvas.text(0.0, size * 1.3, "The whole wall, at true thickness", Hand::name(theme).sized(size * 1.3));
    canvas.text(right, size * 1.7, &format!("{} of harl", words::millimetres(harl)), Hand::bold(theme).end());
    let label = metrics::cut(&format!("{}, {:.0} mm", masonry, thick * 1000.0), Face::Sans, size, (face - left) * 0.8);
    canvas.text(left, top + tall + size * 1.2, &label, Hand::soft(theme));
    Strip { face, right, bottom: top + tall, per_metre }
}

/// Stones of both faces with the hearting between them, at true size; a thin wall is stone right through.
fn masonry_cut(canvas: &mut Canvas, theme: &Theme, across: (f64, f64), down: (f64, f64), per_metre: f64) {
    let (left, right) = across;
    canvas.rect((left, down.0), (right - left, down.1 - down.0), theme.lime, "none", 0.0);
    let bonded = (right - left) / per_metre < 0.45;
    let deep = if bonded { (right - left) * 0.5 } else { (right - left) * 0.36 };
    let joint = (0.008 * per_metre).max(theme.rule * 2.0);
    let mut strew = Strew::named("masonry");
    if !bonded {
        let hearting = (left + deep * 0.92, right - deep * 0.92);
        for (centre, corners) in grains("hearting", hearting, down, 0.055 * per_metre) {
            let shape: Vec<(f64, f64)> = corners.iter().map(|(x, y)| (centre.0 + x, centre.1 + y)).collect();
            canvas.polygon(&shape, theme.stone, theme.stone_line, theme.rule);
        }
    }
    let bed = down.0 + (down.1 - down.0) * strew.between(0.42, 0.58);
    for (outer, way) in [(left, 1.0), (right, -1.0)] {
        for (top, bottom) in [(down.0 - joint, bed - joint / 2.0), (bed + joint / 2.0, down.1 + joint)] {
            let long = deep * strew.between(0.82, 1.0);
            let skew = joint * strew.between(0.5, 2.5);
            let shape =
                [(outer, top), (outer + way * long, top + skew), (outer + way * (long - skew), bottom - skew * 0.4), (outer, bottom)];
            canvas.polygon(&shape, theme.stone, theme.stone_line, theme.rule);
        }
    }
}

/// The enlarged face: left and right edge of each coat and of the limewash, upper and lower edge.
struct Enlarged {
    edges: Vec<(f64, f64)>,
    wash: (f64, f64),
    left: f64,
    top: f64,
    bottom: f64,
    per_metre: f64,
}

fn enlarged(canvas: &mut Canvas, theme: &Theme, wall: &WallSpecification, top: f64) -> Enlarged {
    let size = theme.size;
    let right = theme.wide - size * 9.5;
    let stone_right = right * STONE_SHOWN;
    let wash_m = f64::from(wall.limewash.coats) * LIMEWASH_COAT_M;
    let harl: f64 = wall.coats.iter().map(|coat| coat.thickness_m[1]).sum();
    let per_metre = (right - stone_right) / (harl + wash_m).max(1e-6);
    let bottom = top + (theme.wide * 0.2).max(size * 11.0);
    stone_cut(canvas, theme, stone_right, (top, bottom));
    let mut left = stone_right;
    let mut edges = Vec::new();
    for coat in &wall.coats {
        let edge = left + coat.thickness_m[1] * per_metre;
        coat_body(canvas, theme, coat, (left, edge), (top, bottom), per_metre);
        edges.push((left, edge));
        left = edge;
    }
    let wash = (left, right.max(left));
    wash_body(canvas, theme, wash, (top, bottom));
    for (left, edge) in &edges {
        rough_edge(canvas, theme, *left, (top, bottom));
        dimension(canvas, theme, (*left, *edge), top - size * 0.9);
    }
    rough_edge(canvas, theme, wash.0, (top, bottom));
    rough_edge(canvas, theme, wash.1, (top, bottom));
    canvas.line((0.0, top), (wash.1, top), theme.graphite, theme.rule);
    canvas.line((0.0, bottom), (wash.1, bottom), theme.graphite, theme.rule);
    dimension_figures(canvas, theme, wall, &edges, top - size * 0.9);
    let lines = metrics::wrap(
        &format!("{} of limewash, {} coats", words::millimetres(wash_m), words::count(wall.limewash.coats as usize)),
        Face::Sans,
        size,
        size * 8.0,
    );
    canvas.lines(wash.1 + size, top + size * 1.4, &lines, Hand::plain(theme));
    canvas.text(wash.1 + size, (top + bottom) / 2.0 + size * 1.6, "rain", Hand::soft(theme));
    canvas.text(wash.1 + size, (top + bottom) / 2.0 + size * 2.9, "and wind", Hand::soft(theme));
    Enlarged { edges, wash, left: stone_right, top, bottom, per_metre }
}

/// The stone behind the harl with the flecks of its grain.
fn stone_cut(canvas: &mut Canvas, theme: &Theme, right: f64, down: (f64, f64)) {
    canvas.rect((0.0, down.0), (right, down.1 - down.0), theme.stone, "none", 0.0);
    let mut strew = Strew::named("stone");
    for _ in 0..26 {
        let (x, y) = (strew.between(0.04, 0.86) * right, strew.between(down.0 + 2.0, down.1 - 2.0));
        let long = theme.size * strew.between(0.3, 0.9);
        canvas.line((x, y), ((x + long).min(right), y - long * 0.25), theme.stone_line, theme.rule * 0.7);
    }
}

fn tone(theme: &Theme, kind: CoatKind) -> &'static str {
    match kind {
        CoatKind::Scud => theme.scud,
        CoatKind::Straightening => theme.straightening,
        CoatKind::Finish => theme.finish,
    }
}

fn coat_body(canvas: &mut Canvas, theme: &Theme, coat: &CoatSpecification, across: (f64, f64), down: (f64, f64), per_metre: f64) {
    canvas.clip(&format!("clip-{}", crate::words::name_token(&coat.slug)), (across.0, down.0), (across.1 - across.0, down.1 - down.0));
    canvas.rect((across.0, down.0), (across.1 - across.0, down.1 - down.0), tone(theme, coat.kind), "none", 0.0);
    let largest = coat.largest_grain_mm / 1000.0 * per_metre;
    let ground = if coat.kind == CoatKind::Finish { theme.lime } else { theme.sand };
    for (centre, corners) in grains(&coat.slug, across, down, largest) {
        let shape: Vec<(f64, f64)> = corners.iter().map(|(x, y)| (centre.0 + x, centre.1 + y)).collect();
        canvas.polygon(&shape, ground, theme.hessian, theme.rule * 0.7);
    }
    canvas.unclip();
}

/// Where a grain lies, and its corners round that.
type Grain = ((f64, f64), Vec<(f64, f64)>);

/// Grains strewn in a coat, none over another, from the largest down to a fifth of it: a picture of the sand at its own size, not a count.
fn grains(name: &str, across: (f64, f64), down: (f64, f64), largest: f64) -> Vec<Grain> {
    let mut strew = Strew::named(name);
    let mut placed: Vec<((f64, f64), f64)> = Vec::new();
    let mut shapes = Vec::new();
    for (share, tries) in [(1.0, 60), (0.72, 120), (0.48, 260), (0.3, 420), (0.19, 600)] {
        let radius = largest * share / 2.0;
        for _ in 0..tries {
            let at = (strew.between(across.0 - radius * 0.2, across.1 + radius * 0.2), strew.between(down.0 - radius, down.1 + radius));
            let free = placed.iter().all(|(other, far)| {
                let (dx, dy) = (other.0 - at.0, other.1 - at.1);
                dx * dx + dy * dy > (far + radius * 1.06).powi(2)
            });
            let inside = at.0 - radius * 0.9 > across.0 && at.0 + radius * 0.9 < across.1;
            if free && (inside || share == 1.0 && across.1 - across.0 < radius * 2.2) {
                placed.push((at, radius));
                shapes.push((at, sharp_grain(&mut strew, radius)));
            }
        }
    }
    shapes
}

fn sharp_grain(strew: &mut Strew, radius: f64) -> Vec<(f64, f64)> {
    let corners = 6 + (strew.draw() * 3.0) as usize;
    let turn = strew.between(0.0, std::f64::consts::TAU);
    (0..corners)
        .map(|corner| {
            let angle = turn + std::f64::consts::TAU * (corner as f64 + strew.between(-0.22, 0.22)) / corners as f64;
            let far = radius * strew.between(0.82, 1.0);
            (far * libm::cos(angle), far * libm::sin(angle))
        })
        .collect()
}

fn wash_body(canvas: &mut Canvas, theme: &Theme, across: (f64, f64), down: (f64, f64)) {
    canvas.rect((across.0, down.0), (across.1 - across.0, down.1 - down.0), theme.lime, "none", 0.0);
    let strokes = 4;
    for stroke in 1..strokes {
        let x = across.0 + (across.1 - across.0) * f64::from(stroke) / f64::from(strokes);
        canvas.line((x, down.0), (x, down.1), theme.graphite, theme.rule * 0.6);
    }
}

/// The joint between two coats: a heavy line, rough as a thrown face is.
fn rough_edge(canvas: &mut Canvas, theme: &Theme, x: f64, down: (f64, f64)) {
    let mut strew = Strew::named(&super::canvas::n(x));
    let steps = 22;
    let points: Vec<(f64, f64)> = (0..=steps)
        .map(|step| (x + theme.size * strew.between(-0.09, 0.09), down.0 + (down.1 - down.0) * f64::from(step) / f64::from(steps)))
        .collect();
    canvas.polyline(&points, theme.ink, theme.heavy);
}

fn dimension(canvas: &mut Canvas, theme: &Theme, across: (f64, f64), y: f64) {
    let tick = theme.size * 0.28;
    canvas.line((across.0, y), (across.1, y), theme.graphite, theme.rule);
    for x in [across.0, across.1] {
        canvas.line((x - tick, y + tick), (x + tick, y - tick), theme.ink, theme.rule);
    }
}

/// Thicknesses over their dimension lines; where a coat is thinner than its figure, the figure steps up a line.
fn dimension_figures(canvas: &mut Canvas, theme: &Theme, wall: &WallSpecification, edges: &[(f64, f64)], y: f64) {
    let hand = Hand::plain(theme).middle();
    let mut free_from = [f64::NEG_INFINITY; 3];
    for (coat, (left, right)) in wall.coats.iter().zip(edges) {
        let words = words::millimetres(coat.thickness_m[1]);
        let middle = (left + right) / 2.0;
        let boxed = hand.boxed(middle, y, &words);
        let row = free_from.iter().position(|free| boxed.left > *free + theme.size * 0.5).unwrap_or(2);
        canvas.text(middle, y - theme.size * (0.55 + 1.15 * row as f64), &words, hand);
        free_from[row] = boxed.right;
    }
}

/// The beginning of the lines from the strip to the enlarged face, and how many times larger it is.
fn leaders(canvas: &mut Canvas, theme: &Theme, strip: &Strip, face: &Enlarged) {
    let size = theme.size;
    let head = face.top - size * 3.4;
    let part = (head - strip.bottom) / (face.top - strip.bottom);
    let toward = |from: f64, to: f64| (from + (to - from) * part, head);
    canvas.line((strip.face, strip.bottom), toward(strip.face, face.left), theme.graphite, theme.rule);
    canvas.line((strip.right, strip.bottom), toward(strip.right, face.wash.1), theme.graphite, theme.rule);
    let larger = face.per_metre / strip.per_metre;
    let says = format!("Its face, {larger:.0} times larger, sand and all");
    canvas.text(0.0, strip.bottom + size * 3.0, &says, Hand::name(theme).sized(size * 1.3));
}

/// Under the face, a column for each coat and the limewash: name, thickness, the mix as measures.
fn columns(canvas: &mut Canvas, theme: &Theme, wall: &WallSpecification, face: &Enlarged) -> f64 {
    let size = theme.size;
    let count = wall.coats.len() + 1;
    let per_row = count.min(if theme.wide > theme.size * 48.0 { 5 } else { 4 });
    let wide = theme.wide / per_row as f64;
    let mut top = face.bottom + size * 4.0;
    let mut lowest: f64 = top;
    for (index, coat) in wall.coats.iter().enumerate() {
        let column = index % per_row;
        if index > 0 && column == 0 {
            top = lowest + size * 1.6;
        }
        let left = wide * column as f64;
        if index < per_row {
            leader(canvas, theme, face.edges[index], left, face.bottom, (top, index, per_row));
        }
        lowest = lowest.max(coat_column(canvas, theme, coat, (left, wide - size * 1.6), top));
    }
    let index = wall.coats.len();
    if index.is_multiple_of(per_row) {
        top = lowest + size * 1.6;
    } else {
        leader(canvas, theme, face.wash, wide * (index % per_row) as f64, face.bottom, (top, index, per_row));
    }
    lowest.max(wash_column(canvas, theme, wall, (wide * (index % per_row) as f64, wide - size * 1.6), top))
}

/// A line from a coat down and across to its column; each bends at its own height, so that none lies on another.
fn leader(canvas: &mut Canvas, theme: &Theme, edge: (f64, f64), left: f64, bottom: f64, (top, index, count): (f64, usize, usize)) {
    let x = (edge.0 + edge.1) / 2.0;
    let bend = bottom + theme.size * (0.7 + 1.6 * (1.0 - index as f64 / count as f64));
    let down = theme.size * 0.2;
    canvas.circle((x, bottom - theme.size * 0.6), theme.size * 0.2, theme.ink, theme.paper, theme.rule);
    canvas.polyline(
        &[(x, bottom - theme.size * 0.6), (x, bend), (left + down, bend), (left + down, top - theme.size * 1.2)],
        theme.graphite,
        theme.rule,
    );
}

fn coat_column(canvas: &mut Canvas, theme: &Theme, coat: &CoatSpecification, (left, wide): (f64, f64), top: f64) -> f64 {
    let size = theme.size;
    let name = Hand::name(theme).sized(size * 1.3);
    let y = canvas.lines(left, top, &metrics::wrap(&coat.name, name.face, name.size, wide), name);
    let thin = words::millimetres(coat.thickness_m[0]);
    let thick = words::millimetres(coat.thickness_m[2]);
    let placed = if coat.placing == works::Placing::Thrown { "thrown" } else { "laid and ruled" };
    let says = format!("{} in the middle, {thin} to {thick}, {placed}", words::millimetres(coat.thickness_m[1]));
    let y = canvas.lines(left, y, &metrics::wrap(&says, Face::Sans, size, wide), Hand::plain(theme));
    measures(canvas, theme, left, y, coat.mix.sand_parts, (theme.lime, theme.sand));
    let y = y + size * 3.6;
    canvas.text(left, y, &format!("{} lime to sand", words::mix(coat.mix.sand_parts)), Hand::bold(theme));
    y + size * 0.6
}

fn wash_column(canvas: &mut Canvas, theme: &Theme, wall: &WallSpecification, (left, wide): (f64, f64), top: f64) -> f64 {
    let size = theme.size;
    let y = canvas.lines(left, top, &["Limewash".to_owned()], Hand::name(theme).sized(size * 1.3));
    let says = format!("{}, {}", words::counted(wall.limewash.coats as usize, "coat", "coats"), wall.limewash.colour);
    let y = canvas.lines(left, y, &metrics::wrap(&says, Face::Sans, size, wide), Hand::plain(theme));
    measures(canvas, theme, left, y, wall.limewash.water_parts, (theme.lime, theme.water_wash));
    let y = y + size * 3.6;
    canvas.text(left, y, &format!("{} putty to water", words::mix(wall.limewash.water_parts)), Hand::bold(theme));
    y + size * 0.6
}

/// One measure of lime, then the measures of the other, the last cut to its part.
fn measures(canvas: &mut Canvas, theme: &Theme, left: f64, top: f64, parts: f64, tones: (&str, &str)) {
    let side = theme.size * 1.8;
    let (y, mut x) = (top - theme.size * 0.4, left);
    canvas.rect((x, y), (side, side), tones.0, theme.ink, theme.rule);
    for line in 1..4 {
        let y = y + side * f64::from(line) / 4.0;
        canvas.line((x + theme.rule, y), (x + side - theme.rule, y), theme.graphite, theme.rule * 0.6);
    }
    x += side + theme.size * 0.8;
    let mut rest = parts.clamp(0.0, 12.0);
    let mut strew = Strew::named("measures");
    while rest > 0.02 {
        let share = rest.min(1.0);
        canvas.rect((x, y), (side * share, side), tones.1, theme.ink, theme.rule);
        for _ in 0..(7.0 * share) as i32 {
            let at = (x + side * share * strew.between(0.15, 0.85), y + side * strew.between(0.15, 0.85));
            canvas.circle(at, theme.rule * 0.7, theme.hessian, "none", 0.0);
        }
        x += side * share + theme.rule * 1.5;
        rest -= share;
    }
}

fn describe(wall: &WallSpecification, thick: f64, harl: f64) -> String {
    let coats: Vec<String> = wall
        .coats
        .iter()
        .map(|coat| {
            format!("{} {} at {} lime to sand", coat.name, words::millimetres(coat.thickness_m[1]), words::mix(coat.mix.sand_parts))
        })
        .collect();
    format!(
        "A wall {:.0} mm thick with {} of harl, drawn at true thickness and then enlarged. From the stone outward: {}; then {} coats of limewash.",
        thick * 1000.0,
        words::millimetres(harl),
        words::listed(&coats),
        words::count(wall.limewash.coats as usize)
    )
}
