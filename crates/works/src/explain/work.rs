//! The reckonings behind the days of work: a coat's pieces with the outputs they rest on, the scaffold's days, and outputs with their ranges. It must never
//! reckon a day anew: it tells what the foreman's book says.

use reckoning::{Known, Reckoning, Unit, Value};

use super::{MIDDLE, Told};
use crate::sheet::WallSheet;
use crate::{PartKind, ScaffoldKind, Task, WallRun};

const PRACTICE: &str = "common practice, no source";

/// An output with its standing, and how far it may be out.
pub(super) fn output(key: &str, label: &str, known: &Known<f64>, unit: Unit) -> Reckoning {
    let range = known.range.map_or(String::new(), |(low, high)| format!(" (may be {low:.0} to {high:.0})"));
    let value = Value::number(known.value, unit, 0);
    Reckoning::given(format!("rates.outputs.{key}"), format!("{label}{range}"), value, known.source.clone(), known.assumed)
}

impl Told<'_> {
    /// The days of every coat of a wall and of its scaffold.
    pub(super) fn work(&self, wall: &WallRun, sheet: &WallSheet) -> Vec<Reckoning> {
        let coats = wall.tasks.iter().filter(|task| !task.parts.is_empty()).map(|task| self.coat_days(wall, task));
        coats.chain(self.scaffold_days(wall, sheet)).collect()
    }

    /// Days of a coat: its parts, each over its output.
    fn coat_days(&self, wall: &WallRun, task: &Task) -> Reckoning {
        let base = format!("walls.{}.coats.{}", wall.slug, task.slug);
        let part = |(number, part): (usize, &crate::Part)| {
            let label = match part.kind {
                PartKind::Reveals => format!("Reveals before the face, {:.1} m, on {}", part.amount, part.from),
                PartKind::Ruling => format!("Ruling what was laid on {}, {:.1} m²", part.from, part.amount),
                PartKind::Face => format!("Face and its cover, {:.1} m², on {}", part.amount, part.from),
                PartKind::Bay if part.cold_joint => {
                    format!("{}, {:.1} m², {} to {}: a cold joint", part.name, part.amount, part.from, part.to)
                }
                PartKind::Bay => format!("{}, {:.1} m², on {}", part.name, part.amount, part.from),
            };
            let value = Value::number(part.gang_days, Unit::Day, 2);
            Reckoning::given(format!("{base}.parts.{}", number + 1), label, value, "its size over its output", false)
        };
        let inputs = task.parts.iter().enumerate().map(part).chain(self.output_leaves()).collect();
        let value = Value::number(task.gang_days, Unit::Day, 1);
        let formula = "reveals, then the face, rounded up to half-days; a bay of the finish is begun only where it is ended the same day, so the rest of a day may go unused";
        Reckoning::worked(format!("{base}.gang-days"), format!("{}, days of the gang", task.name), value, formula, inputs, MIDDLE)
    }

    /// Days of the scaffolders on a wall.
    fn scaffold_days(&self, wall: &WallRun, sheet: &WallSheet) -> Vec<Reckoning> {
        let step = |step: &crate::ScaffoldStep| {
            let (key, label, days) = match step.kind {
                ScaffoldKind::Up => ("up", "Scaffold put up", sheet.scaffold.up_days),
                ScaffoldKind::Adapt => ("adapt", "Scaffold adapted before the finish", sheet.scaffold.adapt_days),
                ScaffoldKind::Down => ("down", "Scaffold taken down", sheet.scaffold.down_days),
            };
            let when = Value::Text(format!("{} to {}", step.from, step.to));
            let inputs = vec![
                Reckoning::given(format!("walls.{}.scaffold.{key}.on", wall.slug), "In the middle run", when, MIDDLE, false),
                Reckoning::given(
                    format!("walls.{}.scaffold.{key}.face", wall.slug),
                    "Face",
                    Value::number(sheet.scaffold_m2, Unit::SquareMetre, 0),
                    "the survey",
                    false,
                ),
            ];
            let path = format!("walls.{}.scaffold.{key}", wall.slug);
            let value = Value::number(f64::from(days), Unit::Day, 0);
            let formula = "face ÷ what the scaffolders do in a day, rounded up to whole days; one crew goes from wall to wall";
            Reckoning::worked(path, label, value, formula, inputs, PRACTICE)
        };
        wall.scaffold.iter().map(step).collect()
    }
}
