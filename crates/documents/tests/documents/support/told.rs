//! Findings and cautions. Made up to be plausible; nothing here checks arithmetic.

use super::*;

pub(super) fn finding(grade: Grade, rule: &str, says: &str) -> Finding {
    Finding {
        grade,
        rule: rule.into(),
        place: "walls.wall-1".into(),
        says: says.into(),
        reason: "Water behind the harl has nowhere to go and brings it off.".into(),
        source: "common practice, no source".into(),
        remedy: if grade == Grade::Agrees { String::new() } else { "Mend the gutter and let the wall dry for a month.".into() },
    }
}

pub(super) fn findings() -> Vec<Finding> {
    vec![
        finding(Grade::Stop, "cause-of-damp", "The gutter over the north wall is to be mended before anything is thrown."),
        finding(Grade::Think, "grain-against-thickness", "The finish carries 6 mm grit in an 8 mm coat."),
        finding(Grade::Note, "suction", "Whin takes little water, so the scud is needed."),
        finding(Grade::Agrees, "strength-outward", "Each coat is weaker than the one behind it."),
    ]
}

pub fn cautions() -> Vec<Caution> {
    let caution = |hazard: Hazard, words: &str| Caution {
        hazard,
        words: words.into(),
        source: "common practice, no source".into(),
        triggers: Vec::new(),
        shown: vec!["proposal".into(), "site".into()],
    };
    vec![
        caution(
            Hazard::Lime,
            "Wet lime burns skin and blinds eyes: goggles while throwing, gauntlets, clean eyewash on each lift, and nobody below.",
        ),
        caution(Hazard::Height, "Work at height is planned by a competent person; the scaffold is inspected weekly."),
        caution(
            Hazard::ScaffoldLoad,
            "Soaked hessian and sheeting load a scaffold and catch wind: its designer decides, and nothing is tied to it unasked.",
        ),
        caution(Hazard::OldCoverings, "Old coverings may hold lead, asbestos or salts: have them looked at before they are stripped."),
        caution(Hazard::Simulated, "A reckoned date is not a test. Make the nail test on the wall before each coat."),
        caution(Hazard::Wildlife, "Look for nesting birds and bats before the scaffold goes up; if found, stop and ask."),
    ]
}
