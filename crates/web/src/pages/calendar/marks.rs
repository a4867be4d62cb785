//! The marks of the calendar: what a square looks like, the letters of waiting, the hatches, and the key that explains them.

use jiff::civil::Date;
use maud::{Markup, html};
use works::WaitReason;

use crate::plan::days::{self, What, is_coat};
use crate::plan::{Run, WallRun};

/// How a day's square is marked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mark {
    /// A coat goes on.
    Coat,
    /// The wall is prepared.
    Preparation,
    /// Limewash goes on.
    Limewash,
    /// It waits.
    Waits(WaitReason),
    /// Nothing stands in the programme.
    Free,
}

impl Mark {
    /// The mark of a day of a wall; a coat counts before anything else on its day.
    pub fn of(wall: &WallRun, date: Date) -> Self {
        match days::what(wall, date) {
            What::Work(tasks) if tasks.iter().any(|task| is_coat(task)) => Self::Coat,
            What::Work(tasks) if tasks.iter().any(|task| task.slug == "limewash") => Self::Limewash,
            What::Work(_) => Self::Preparation,
            What::Waits(wait) => days::reason(&wait.reason).map_or(Self::Free, Self::Waits),
            What::Free => Self::Free,
        }
    }

    /// Name of its style.
    pub fn class(self) -> &'static str {
        match self {
            Self::Coat => "sq coat",
            Self::Preparation => "sq prep",
            Self::Limewash => "sq wash",
            Self::Waits(WaitReason::Weekend | WaitReason::Break) => "sq shut",
            Self::Waits(_) => "sq wait",
            Self::Free => "sq free",
        }
    }

    /// Its sign in a diary, where the square bears no stroke of its own.
    pub fn sign(self) -> Option<String> {
        match self {
            Self::Preparation => Some("×".to_owned()),
            Self::Limewash => Some("//".to_owned()),
            _ => self.letter().map(String::from),
        }
    }

    /// Its letter, for a day that waits.
    pub fn letter(self) -> Option<char> {
        if let Self::Waits(reason) = self { Some(reason.letter()) } else { None }
    }
}

/// A reason in two or three words.
pub fn brief(reason: WaitReason) -> String {
    let day = Date::default();
    let words = documents::words::waits_in_brief(&[works::Wait { from: day, to: day, reason }]);
    words.trim_start_matches("1 ").to_owned()
}

/// Hatches that the drawings fill with; once on a page.
pub fn hatches() -> Markup {
    let lines = |id: &str, ground: &str, line: &str, step: u32, d: &str| {
        html! {
            pattern id=(id) width=(step) height=(step) patternUnits="userSpaceOnUse" {
                rect width=(step) height=(step) fill=(ground) {}
                path d=(d) stroke=(line) stroke-width="1" fill="none" {}
            }
        }
    };
    let grains = |id: &str, ground: &str, radius: &str, step: u32| {
        html! {
            pattern id=(id) width=(step) height=(step) patternUnits="userSpaceOnUse" {
                rect width=(step) height=(step) fill=(ground) {}
                circle cx=(step / 4) cy=(step / 4) r=(radius) fill="var(--ink)" fill-opacity="0.55" {}
                circle cx=(step * 3 / 4) cy=(step * 5 / 8) r=(radius) fill="var(--ink)" fill-opacity="0.35" {}
            }
        }
    };
    html! {
        defs {
            (lines("h-wait", "var(--paper)", "var(--graphite)", 5, "M-1 6 L6 -1"))
            (lines("h-caustic", "var(--madder-wash)", "var(--madder)", 6, "M-1 7 L7 -1"))
            (lines("h-straightening", "var(--straightening)", "var(--graphite)", 5, "M0 2.5 H5"))
            (lines("h-stone", "var(--stone)", "var(--stone-line)", 14, "M0 .5 H14 M3 0 V7 M10 7 V14 M0 7.5 H14"))
            (grains("h-scud", "var(--scud)", "1", 8))
            (grains("h-finish", "var(--finish)", "0.8", 10))
        }
    }
}

/// The hatch of a kind of coat.
pub fn hatch_of(kind: &str) -> &'static str {
    match kind {
        "scud" => "url(#h-scud)",
        "straightening" => "url(#h-straightening)",
        _ => "url(#h-finish)",
    }
}

/// What the marks mean.
pub fn key() -> Markup {
    let square = |inside: Markup| html! { svg.mk width="20" height="20" viewBox="0 0 20 20" aria-hidden="true" { (inside) } };
    html! {
        ul.key {
            li { (square(html! { rect.sq.coat x="2" y="2" width="16" height="16" {} })) "A coat goes on" }
            li { (square(html! { rect.sq.prep x="2" y="2" width="16" height="16" {} path.cross d="M5 5 L15 15 M15 5 L5 15" {} })) "The wall is prepared" }
            li { (square(html! { rect.sq.wash x="2" y="2" width="16" height="16" {} path.cross d="M6 16 L10 4 M11 16 L15 4" {} })) "Limewash" }
            li { (square(html! { rect.sq.wait x="2" y="2" width="16" height="16" {} text.lt x="10" y="14" { "c" } })) "Waits, with the letter of its reason" }
            li { (square(html! { rect.sq.shut x="2" y="2" width="16" height="16" {} text.lt x="10" y="14" { "e" } })) "Weekend or holiday" }
            li { (square(html! { rect x="1" y="4" width="18" height="12" fill="url(#h-caustic)" stroke="var(--graphite)" {} })) "Still caustic" }
            li { (square(html! { rect x="1" y="4" width="18" height="12" fill="url(#h-straightening)" stroke="var(--graphite)" {} })) "Air has got in: the coat’s own hatch" }
            li { (square(html! { path.front d="M1 5 L7 11 L19 14" {} })) "How far, day by day" }
            li { (square(html! { path.cover d="M1 10 h18 M5 7 v6 M10 7 v6 M15 7 v6" {} })) "Cover hung" }
            li { (square(html! { circle.dot cx="10" cy="5" r="2.4" {} circle.dot cx="10" cy="11" r="2.4" {} })) "Damped, once for each dot" }
            li { (square(html! { path.tri d="M5 5 h10 l-5 9 z" {} })) "Reckoned ready: make the test" }
        }
    }
}

/// The letters in use in a run, with their words.
pub fn letters(run: &Run) -> Markup {
    let waits = run.walls.iter().flat_map(|wall| wall.tasks.iter().flat_map(|task| &task.waited).chain(&wall.still_waiting));
    let mut used: Vec<WaitReason> = waits.filter_map(|wait| days::reason(&wait.reason)).collect();
    used.sort_unstable();
    used.dedup();
    html! { dl.letters { @for reason in used { div { dt { (reason.letter()) } dd { (brief(reason)) } } } } }
}
