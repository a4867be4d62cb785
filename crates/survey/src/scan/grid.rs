//! From a cloud to heights on the wall's plane: which way is out and up, crop to the outline, openings left out, what stands in front or lies behind
//! dropped, the middle of each cell, spikes dropped, small holes bridged. It must never make a high spot that was not scanned: a hole is filled on
//! the line between its edges, and by the lower of the two lines where it has two.

use serde::Serialize;

use super::ScanError;
use super::points::{Cloud, LengthUnit};
use crate::WallFound;
use crate::geometry::{Point, corners, extent, sides};
use crate::scan::place::{Placed, place};
use crate::straight_edge::{HeightField, transposed};

/// What stands farther before the face than this is scaffold, a pipe or a plant, m; what lies farther behind is a reveal or a room, m.
pub(super) const FACE_M: (f64, f64) = (-0.20, 0.15);

/// Within a cell, what stands this far before its hollower quarter is a twig, m.
const TWIG_M: f64 = 0.03;

/// A cell that differs this much from the middle of its neighbours is a spike, m: no stone is so sharp.
const SPIKE_M: f64 = 0.05;

/// Widest hole that is bridged, m.
const WIDEST_HOLE_M: f64 = 0.30;

/// Most cells of a grid.
const MOST_CELLS: usize = 20_000_000;

/// How a cloud is to be gridded.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gridding {
    /// Side of a cell, m.
    pub cell_m: f64,
    /// Unit of the cloud, where it is declared; otherwise it is taken from the format, or found by the size of the wall.
    pub unit: Option<LengthUnit>,
    /// True to take the other side of the face for the outside than the one found.
    pub turned: bool,
}

/// What was dropped, and what was made up.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Dropped {
    /// Points in the scan.
    pub points: u64,
    /// Points without a finite coordinate.
    pub not_finite: u64,
    /// Points outside the outline.
    pub outside: u64,
    /// Points within openings.
    pub in_openings: u64,
    /// Points in front of the face: scaffold, pipes, plants.
    pub in_front: u64,
    /// Points behind the face.
    pub behind: u64,
    /// Cells whose height was a spike.
    pub spikes: u64,
    /// Cells bridged.
    pub bridged: u64,
    /// Cells of wall without a height, left as holes.
    pub holes: u64,
    /// Cells of wall with a height.
    pub cells: u64,
}

impl Dropped {
    /// What was dropped and made up, in two sentences.
    pub fn words(&self) -> String {
        let Self { points, not_finite, outside, in_openings, in_front, behind, spikes, bridged, holes, cells } = self;
        format!(
            "Of {points} points were dropped: {outside} outside the outline, {in_openings} in openings, {in_front} standing before the face, {behind} behind it, {not_finite} without a place. Of {cells} cells {bridged} were bridged over small holes; {spikes} spikes were taken out; {holes} cells are left as holes."
        )
    }
}

/// A scan on the wall's plane.
#[derive(Clone, Debug, PartialEq)]
pub struct Gridded {
    /// Heights from the plane, rows from the foot up.
    pub field: HeightField,
    /// Unit taken.
    pub unit: LengthUnit,
    /// Root mean square of the heights, m.
    pub spread_m: f64,
    /// What was dropped.
    pub dropped: Dropped,
    /// What was taken for granted, in sentences.
    pub notes: Vec<String>,
}

/// Grids the scan of `wall`.
///
/// # Errors
/// A [`ScanError`] where the cloud holds no plane, two walls, or not this wall, or the grid would be empty or too large.
pub fn grid(cloud: &Cloud, wall: &WallFound, asked: &Gridding, name: &str) -> Result<Gridded, ScanError> {
    let corners = corners(&wall.outline);
    let frame = extent(&corners);
    let (length_m, height_m) = (frame.right - frame.left, frame.head - frame.foot);
    let count = |size_m: f64| (size_m / asked.cell_m - 1e-9).ceil();
    let (columns, rows) = (count(length_m), count(height_m));
    if !(columns >= 2.0 && rows >= 2.0 && columns * rows <= MOST_CELLS as f64) {
        return Err(ScanError::Grid { name: name.to_owned(), length_m, height_m, cell_m: asked.cell_m, most: MOST_CELLS });
    }
    let mask = Mask::new(wall, &corners, (frame.left, frame.foot), (columns as usize, rows as usize), asked.cell_m);
    let placed = place(cloud, wall, (length_m, height_m), asked, name)?;
    let mut dropped = Dropped { points: cloud.points.len() as u64 + cloud.not_finite, not_finite: cloud.not_finite, ..Dropped::default() };
    let mut heights_m = middles(cloud, &placed, &mask, &mut dropped);
    drop_spikes(&mut heights_m, mask.columns, &mut dropped);
    bridge_holes(&mut heights_m, &mask, &mut dropped);
    for (height, ground) in heights_m.iter().zip(&mask.ground) {
        dropped.cells += u64::from(height.is_finite());
        dropped.holes += u64::from(*ground == Ground::Wall && !height.is_finite());
    }
    if dropped.cells < 4 {
        return Err(ScanError::TooFew { name: name.to_owned(), found: dropped.cells as usize, least: 4 });
    }
    let squares: f64 = heights_m.iter().filter(|height| height.is_finite()).map(|height| height * height).sum();
    let field = HeightField { columns: mask.columns, rows: mask.rows, spacing_m: asked.cell_m, heights_m };
    Ok(Gridded { field, unit: placed.unit, spread_m: (squares / dropped.cells as f64).sqrt(), dropped, notes: placed.notes })
}

/// What a cell stands on.
#[derive(Clone, Copy, PartialEq)]
enum Ground {
    Wall,
    Opening,
    Outside,
}

struct Mask {
    columns: usize,
    rows: usize,
    cell_m: f64,
    ground: Vec<Ground>,
}

impl Mask {
    fn new(wall: &WallFound, corners: &[Point], foot: (f64, f64), (columns, rows): (usize, usize), cell_m: f64) -> Self {
        let ground = (0..columns * rows)
            .map(|cell| {
                let at = (foot.0 + ((cell % columns) as f64 + 0.5) * cell_m, foot.1 + ((cell / columns) as f64 + 0.5) * cell_m);
                let within = |o: &crate::Opening| {
                    at.0 > o.left_m - o.margin_m
                        && at.0 < o.left_m + o.width_m + o.margin_m
                        && at.1 > o.sill_m - o.margin_m
                        && at.1 < o.sill_m + o.height_m + o.margin_m
                };
                if !inside(corners, at) {
                    Ground::Outside
                } else if wall.openings.iter().any(within) {
                    Ground::Opening
                } else {
                    Ground::Wall
                }
            })
            .collect();
        Self { columns, rows, cell_m, ground }
    }

    /// The cell under a place counted from the foot of the frame.
    fn cell(&self, along_m: f64, up_m: f64) -> Option<usize> {
        let (column, row) = ((along_m / self.cell_m).floor(), (up_m / self.cell_m).floor());
        let within = column >= 0.0 && row >= 0.0 && column < self.columns as f64 && row < self.rows as f64;
        within.then(|| row as usize * self.columns + column as usize)
    }
}

/// True if a place lies within a polygon: a line to the right of it crosses an odd number of sides.
fn inside(corners: &[Point], at: Point) -> bool {
    let crossed = |(a, b): &(Point, Point)| (a.1 > at.1) != (b.1 > at.1) && at.0 < a.0 + (at.1 - a.1) / (b.1 - a.1) * (b.0 - a.0);
    sides(corners).filter(crossed).count() % 2 == 1
}

/// The middle height of every cell; `NAN` where it holds no point.
fn middles(cloud: &Cloud, placed: &Placed, mask: &Mask, dropped: &mut Dropped) -> Vec<f64> {
    let cells = mask.ground.len();
    let mut starts = vec![0_u32; cells + 1];
    for point in &cloud.points {
        let [along, up, out] = placed.on_wall(*point);
        match mask.cell(along, up).map(|cell| (cell, mask.ground[cell])) {
            None | Some((_, Ground::Outside)) => dropped.outside += 1,
            Some((_, Ground::Opening)) => dropped.in_openings += 1,
            Some(_) if out > FACE_M.1 => dropped.in_front += 1,
            Some(_) if out < FACE_M.0 => dropped.behind += 1,
            Some((cell, Ground::Wall)) => starts[cell + 1] += 1,
        }
    }
    for cell in 0..cells {
        starts[cell + 1] += starts[cell];
    }
    let mut heights = vec![0.0_f32; starts[cells] as usize];
    let mut next = starts.clone();
    for point in &cloud.points {
        let [along, up, out] = placed.on_wall(*point);
        if let Some(cell) = mask.cell(along, up)
            && mask.ground[cell] == Ground::Wall
            && (FACE_M.0..=FACE_M.1).contains(&out)
        {
            heights[next[cell] as usize] = out as f32;
            next[cell] += 1;
        }
    }
    (0..cells).map(|cell| middle(&mut heights[starts[cell] as usize..starts[cell + 1] as usize])).collect()
}

/// The middle of the heights of a cell, twigs left out.
fn middle(heights: &mut [f32]) -> f64 {
    if heights.is_empty() {
        return f64::NAN;
    }
    heights.sort_by(f32::total_cmp);
    let most = f64::from(heights[heights.len() / 4]) + TWIG_M;
    let wall = &heights[..heights.partition_point(|height| f64::from(*height) <= most)];
    let half = wall.len() / 2;
    if wall.len() % 2 == 1 { f64::from(wall[half]) } else { 0.5 * (f64::from(wall[half - 1]) + f64::from(wall[half])) }
}

/// Drops cells that stand off the middle of the cells within two of them.
fn drop_spikes(heights_m: &mut [f64], columns: usize, dropped: &mut Dropped) {
    let rows = heights_m.len() / columns;
    let before = heights_m.to_vec();
    let mut near = Vec::with_capacity(25);
    for (cell, height) in heights_m.iter_mut().enumerate().filter(|(_, height)| height.is_finite()) {
        let (column, row) = (cell % columns, cell / columns);
        near.clear();
        for row in row.saturating_sub(2)..(row + 3).min(rows) {
            let line = &before[row * columns + column.saturating_sub(2)..row * columns + (column + 3).min(columns)];
            near.extend(line.iter().copied().filter(|height| height.is_finite()));
        }
        near.sort_by(f64::total_cmp);
        if (*height - near[near.len() / 2]).abs() > SPIKE_M {
            *height = f64::NAN;
            dropped.spikes += 1;
        }
    }
}

/// Bridges holes of the wall along rows and columns, taking the lower where both can be.
fn bridge_holes(heights_m: &mut [f64], mask: &Mask, dropped: &mut Dropped) {
    let widest = (WIDEST_HOLE_M / mask.cell_m + 1e-9) as usize;
    let across = bridged(heights_m, mask.columns, widest);
    let up = transposed(&bridged(&transposed(heights_m, mask.columns), mask.rows, widest), mask.rows);
    for (cell, height) in heights_m.iter_mut().enumerate() {
        if mask.ground[cell] == Ground::Wall && !height.is_finite() {
            *height = across[cell].min(up[cell]);
            dropped.bridged += u64::from(height.is_finite());
        }
    }
}

fn bridged(heights_m: &[f64], columns: usize, widest: usize) -> Vec<f64> {
    let mut out = heights_m.to_vec();
    for line in out.chunks_exact_mut(columns) {
        let mut last: Option<usize> = None;
        for place in 0..columns {
            if !line[place].is_finite() {
                continue;
            }
            if let Some(from) = last
                && place - from > 1
                && place - from - 1 <= widest
            {
                let slope = (line[place] - line[from]) / (place - from) as f64;
                (from + 1..place).for_each(|hole| line[hole] = line[from] + slope * (hole - from) as f64);
            }
            last = Some(place);
        }
    }
    out
}
