//! A wall's relief from a file the job names: what is asked of the file, and its bytes turned into the surface the road from survey to price takes. It opens
//! nothing itself.

use reckoning::Known;
use survey::{Dropped, Evenness, EvennessClass, Gridding, HeightField, LengthUnit, Surface, SurfaceAsked, WallFound};

use crate::Job;

/// A file of a wall's relief, named in the job.
#[derive(Clone, Debug, PartialEq)]
pub struct ReliefAsked {
    /// Short name of the wall.
    pub wall: String,
    /// File, named from the folder of the job file.
    pub file: String,
    /// What is in it.
    pub form: ReliefForm,
}

/// What a file of relief holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ReliefForm {
    /// Points of a scan.
    Scan(Gridding),
    /// A table of offsets from a line or batten, in mm.
    Offsets {
        /// Distance between offsets both ways, m.
        spacing_m: f64,
    },
}

/// A wall's relief read from its file.
#[derive(Clone, Debug, PartialEq)]
pub struct ReliefRead {
    /// Heights of the face, m, the lowest row first.
    pub field: HeightField,
    /// Where it comes from, in words.
    pub basis: String,
    /// What was dropped and what was taken for granted, in sentences.
    pub notes: Vec<String>,
    /// Cells of wall without a height.
    pub holes: u64,
    /// Unit of a scan.
    pub unit: Option<LengthUnit>,
    /// What a scan lost on the way.
    pub dropped: Option<Dropped>,
}

/// Reads the bytes of a file of relief as a height field of `wall`; `name` is for the messages.
///
/// # Errors
/// What is wrong with the file, a sentence each.
pub fn read_relief(wall: &WallFound, form: &ReliefForm, bytes: &[u8], name: &str) -> Result<ReliefRead, Vec<String>> {
    match form {
        ReliefForm::Scan(gridding) => {
            let cloud = survey::read_scan(bytes, name).map_err(|error| vec![error.to_string()])?;
            let found = survey::grid(&cloud, wall, gridding, name).map_err(|error| vec![error.to_string()])?;
            let basis = format!("scan {name}, {} points in cells of {:.0} mm", found.dropped.points, 1000.0 * gridding.cell_m);
            let spread_mm = 1000.0 * found.spread_m;
            let unit = found.unit.words();
            let mut notes = vec![
                found.dropped.words(),
                format!("Taken in {unit}. The face strays {spread_mm:.1} mm from its plane (root mean square)."),
            ];
            notes.extend(found.notes);
            let (holes, unit, dropped) = (found.dropped.holes, Some(found.unit), Some(found.dropped));
            Ok(ReliefRead { field: found.field, basis, notes, holes, unit, dropped })
        }
        ReliefForm::Offsets { spacing_m } => {
            let text =
                std::str::from_utf8(bytes).map_err(|_| vec![format!("{name}: the table is not UTF-8 text. Save it again as UTF-8.")])?;
            let told = |faults: Vec<survey::SurveyError>| faults.iter().map(ToString::to_string).collect::<Vec<_>>();
            let field = survey::read_offsets(text, name, *spacing_m).map_err(told)?;
            too_wide(&field, wall, name)?;
            let basis = format!("offsets {name}, {} by {} of them {:.0} mm apart", field.columns, field.rows, 1000.0 * spacing_m);
            Ok(ReliefRead { field, basis, notes: Vec::new(), holes: 0, unit: None, dropped: None })
        }
    }
}

/// Refuses a table that reaches farther than its wall.
fn too_wide(field: &HeightField, wall: &WallFound, name: &str) -> Result<(), Vec<String>> {
    let (length_m, top_m) = crate::build::size_m(&wall.outline);
    let span = |count: usize| count.saturating_sub(1) as f64 * field.spacing_m;
    let (across_m, up_m) = (span(field.columns), span(field.rows));
    if across_m > length_m + field.spacing_m || up_m > top_m + field.spacing_m {
        return Err(vec![format!(
            "{name}: the offsets reach over {across_m:.1} m by {up_m:.1} m and the wall over {length_m:.1} m by {top_m:.1} m. Look at the distance between offsets again."
        )]);
    }
    Ok(())
}

impl Job {
    /// Takes the bytes of a file of relief in: from here on the wall's straightening follows from them. `name` is the file, for the messages.
    ///
    /// # Errors
    /// What is wrong with the file, a sentence each; the job is then as it was.
    pub fn take_relief(&mut self, asked: &ReliefAsked, bytes: &[u8], name: &str) -> Result<(), Vec<String>> {
        let wall = self.inputs.building.walls.iter().find(|wall| wall.slug == asked.wall);
        let wall = wall.ok_or_else(|| vec![format!("The job has no wall “{}”.", asked.wall)])?;
        let read = read_relief(wall, &asked.form, bytes, name)?;
        self.put_relief(&asked.wall, &read);
        Ok(())
    }

    /// Puts a relief that was read in the place of what the wall was known by; nothing where the job has no such wall.
    pub fn put_relief(&mut self, wall: &str, read: &ReliefRead) {
        let edge = &self.inputs.system.straight_edge_m;
        let edges_m: Vec<f64> =
            [Some(edge.value), edge.range.map(|range| range.0), edge.range.map(|range| range.1)].into_iter().flatten().collect();
        let asked_of = SurfaceAsked { edges_m, basis: read.basis.clone(), notes: read.notes.clone(), holes: read.holes };
        if let Some(wall) = self.inputs.building.walls.iter_mut().find(|found| found.slug == wall) {
            wall.evenness = Evenness::Surface { surface: Surface::of(&read.field, &asked_of) };
        }
    }

    /// The surfaces of another reading of this job, for files that are asked for alike.
    pub(crate) fn keep_reliefs(&mut self, earlier: &Job) {
        for asked in self.reliefs.iter().filter(|asked| earlier.reliefs.contains(asked)) {
            let read = earlier.inputs.building.walls.iter().find(|wall| wall.slug == asked.wall);
            if let (Some(read), Some(wall)) = (read, self.inputs.building.walls.iter_mut().find(|wall| wall.slug == asked.wall)) {
                wall.evenness = read.evenness.clone();
            }
        }
    }
}

/// What stands for the relief until its file is read.
pub(crate) fn unread(file: &str) -> Evenness {
    let source = format!("the file {file} was not read; random rubble was taken instead");
    Evenness::Class { class: Known::assumed(EvennessClass::Rubble, source, Some((EvennessClass::Coursed, EvennessClass::RoughRubble))) }
}
