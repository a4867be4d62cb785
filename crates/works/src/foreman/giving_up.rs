//! A wall or a job that is given up, in words: what held it on most days, and what can be done. It must never decide when to give up.

use super::{Foreman, LONGEST_JOB_DAYS};
use crate::WaitReason;
use crate::reasons::{most, remedy};
use crate::sheet::Work;

impl Foreman<'_> {
    /// Why a wall is given up, with what held it on most of the days.
    pub(super) fn season_over(&self, wall: usize, days: i64, reason: WaitReason, most: u32) -> String {
        let sheet = &self.sheet.walls[wall];
        let held = format!("on {most} of them it waits {}", reason.words());
        let what = match (self.walls[wall].done.last().map(|done| (done.work, done.ready)), self.next(wall).work) {
            (Some((Work::Coat(coat), None)), _) => {
                format!("the {} was not ready for the next coat in {days} days on end", sheet.coats[coat].name.to_lowercase())
            }
            (_, Work::Coat(coat)) => format!("in {days} days on end none came for the {}", sheet.coats[coat].name.to_lowercase()),
            (_, Work::Limewash(_)) => format!("in {days} days on end none came for limewash"),
            (_, Work::Preparation) => format!("in {days} days on end none came for preparation"),
            (_, Work::TiePatches) => format!("in {days} days on end none came for the tie patches"),
        };
        format!("{}: {what} ({held}): not finished this season. {}", sheet.name, remedy(reason))
    }

    /// Why a job that goes on and on is given up: what the walls that are not finished wait for on most days.
    pub(super) fn too_long(&self) -> String {
        let left: Vec<usize> = (0..self.walls.len()).filter(|&wall| !self.finished(wall)).collect();
        let waits = left.iter().flat_map(|&wall| {
            let book = &self.walls[wall];
            book.done.iter().flat_map(|done| &done.waited).chain(&book.waited).cloned()
        });
        let why = most(waits)
            .map_or(String::new(), |(reason, _)| format!(" Most of their days they wait {}. {}", reason.words(), remedy(reason)));
        format!("{} of {} walls were not finished in {LONGEST_JOB_DAYS} days.{why}", left.len(), self.walls.len())
    }

    pub(super) fn give_up(&mut self, wall: usize, why: &str) {
        if self.unfinished.is_none() {
            self.unfinished = Some(format!("{}: {why}", self.sheet.walls[wall].name));
        }
    }
}
