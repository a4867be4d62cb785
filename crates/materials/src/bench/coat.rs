//! What a coat needs of its sand, in words: largest grain against thickness, coarse share for texture, fines for suction, the curve against the
//! envelope of the trade. It gives no score.

use reckoning::{Finding, Grade};
use serde::Serialize;

use super::{Grading, PRACTICE, finding};

/// How a coat is laid.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Laying {
    /// An undercoat or straightening coat, trowelled.
    Trowelled,
    /// A coat thrown and left, its grains standing proud.
    Thrown,
}

/// A coat that wants a sand.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Coat {
    /// How it is laid.
    pub laying: Laying,
    /// Its thickness, mm.
    pub thickness_mm: f64,
}

/// What may pass each sieve: opening mm, least and most per cent.
type Envelope = [(f64, f64, f64); 8];

/// Envelopes of the trade: common practice, no source. Proposed for lime undercoats of 0/4 mm sharp sand and for thrown finishes of 0/8 to 0/10 mm grit.
const TROWELLED: Envelope = [
    (8.0, 100.0, 100.0),
    (4.0, 90.0, 100.0),
    (2.0, 70.0, 90.0),
    (1.0, 50.0, 75.0),
    (0.5, 30.0, 55.0),
    (0.25, 12.0, 30.0),
    (0.125, 3.0, 12.0),
    (0.063, 0.0, 5.0),
];
const THROWN: Envelope = [
    (8.0, 85.0, 100.0),
    (4.0, 65.0, 85.0),
    (2.0, 50.0, 72.0),
    (1.0, 35.0, 58.0),
    (0.5, 20.0, 42.0),
    (0.25, 8.0, 24.0),
    (0.125, 2.0, 10.0),
    (0.063, 0.0, 4.0),
];

/// What may pass each sieve of a coat's sand: opening, mm, least and most share of mass. Common practice, no source.
pub fn envelope(laying: Laying) -> Vec<(f64, f64, f64)> {
    let rows = if laying == Laying::Trowelled { &TROWELLED } else { &THROWN };
    rows.iter().map(|(opening, least, most)| (*opening, least / 100.0, most / 100.0)).collect()
}

/// Judges a grading for a coat.
pub fn judge_grading(grading: &Grading, coat: &Coat) -> Vec<Finding> {
    let mut all = vec![largest(grading, coat)];
    all.push(curve(grading, coat));
    all.extend(fines(grading));
    all.extend(spread(grading));
    if coat.laying == Laying::Thrown {
        all.extend(texture(grading));
    }
    all.sort_by_key(|finding| finding.grade);
    all
}

fn largest(grading: &Grading, coat: &Coat) -> Finding {
    let (most_mm, words) = match coat.laying {
        Laying::Trowelled => (coat.thickness_mm / 3.0, "a third of the coat"),
        Laying::Thrown => (coat.thickness_mm, "the coat itself"),
    };
    let reason = "A grain larger than that drags under the trowel or stands loose in the coat.";
    let Some(found_mm) = grading.largest_mm() else {
        let says = "The coarsest sieve holds back more than 15 %, so the largest grain is not known.";
        return finding(Grade::Think, "largest-grain", says, reason, PRACTICE, "Sieve again with coarser sieves above these.");
    };
    let says = format!("The largest grain is {found_mm} mm by name; {words} is {most_mm:.1} mm.");
    if found_mm <= most_mm {
        return finding(Grade::Agrees, "largest-grain", says, reason, PRACTICE, "");
    }
    let remedy = format!("Screen the sand at {most_mm:.1} mm, lay a thicker coat, or take a finer sand.");
    finding(Grade::Think, "largest-grain", says, reason, PRACTICE, remedy)
}

fn curve(grading: &Grading, coat: &Coat) -> Finding {
    let envelope = if coat.laying == Laying::Trowelled { &TROWELLED } else { &THROWN };
    let outside: Vec<String> = envelope
        .iter()
        .filter_map(|(opening, least, most)| {
            let passing = 100.0 * grading.passing(*opening)?;
            let word = if passing < least - 0.05 {
                "too little"
            } else if passing > most + 0.05 {
                "too much"
            } else {
                return None;
            };
            Some(format!("{word} passes {opening} mm ({passing:.0} % against {least:.0} to {most:.0} %)"))
        })
        .collect();
    let reason = "A curve without gaps packs closely: less lime fills it and it shrinks less.";
    let seen = envelope.iter().filter(|row| grading.passing(row.0).is_some()).count();
    if outside.is_empty() {
        let says = format!("The curve keeps within the envelope of the trade at the {seen} sizes that could be compared.");
        return finding(Grade::Agrees, "envelope", says, reason, PRACTICE, "");
    }
    let says = format!("Outside the envelope of the trade: {}.", outside.join("; "));
    finding(Grade::Think, "envelope", says, reason, PRACTICE, "Blend it with a sand that has what is lacking, or make a trial panel first.")
}

fn fines(grading: &Grading) -> Option<Finding> {
    let row = grading.fines()?;
    let percent = 100.0 * row.passing;
    let source = "EN 13139 categories of fines (2: at most 5 % for rendering; 3: at most 8 %), from memory";
    let reason =
        "Fines drink water and lime: the coat shrinks, crazes and dusts. A little helps the mortar to hold its water against suction.";
    let says = format!("{percent:.1} % passes {} mm.", row.opening_mm);
    Some(if percent > 8.0 {
        finding(Grade::Stop, "fines", says, reason, source, "Have it washed, or send it back; do not harl with it.")
    } else if percent > 5.0 {
        finding(Grade::Think, "fines", says, reason, source, "Blend it with a clean sand until at most 5 % is so fine, or have it washed.")
    } else {
        finding(Grade::Agrees, "fines", says, reason, source, "")
    })
}

fn spread(grading: &Grading) -> Vec<Finding> {
    let mut all = Vec::new();
    if let Some(modulus) = grading.fineness_modulus() {
        let says = format!("The fineness modulus is {:.2}; lime sands are usually 2.3 to 3.2.", modulus.value);
        let reason = "A fine sand wants more lime and water and shrinks; a very coarse one is harsh to lay.";
        let holds = (2.3..=3.2).contains(&modulus.value);
        let remedy = if holds {
            ""
        } else if modulus.value < 2.3 {
            "Blend in a coarser sand."
        } else {
            "Blend in a finer sand, unless a coarse throw is wanted."
        };
        all.push(finding(if holds { Grade::Agrees } else { Grade::Think }, "fineness", says, reason, PRACTICE, remedy));
    }
    if let Some(uniformity) = grading.uniformity() {
        let says = format!("D60 is {uniformity:.1} times D10; five times or more is wanted.");
        let holds = uniformity >= 5.0;
        let remedy =
            if holds { "" } else { "Blend two sands of different size: grains of one size leave large voids that only lime can fill." };
        let reason = "Grains of many sizes fill each other's gaps.";
        all.push(finding(if holds { Grade::Agrees } else { Grade::Think }, "uniformity", says, reason, PRACTICE, remedy));
    }
    all
}

fn texture(grading: &Grading) -> Option<Finding> {
    let coarse = 100.0 * (1.0 - grading.passing(4.0)?);
    let says = format!("{coarse:.0} % is coarser than 4 mm; a thrown finish takes its texture from 15 to 35 %.");
    let reason = "Too few coarse grains throw smooth and shrink; too many leave a face of pebbles with little between.";
    Some(if (15.0..=35.0).contains(&coarse) {
        finding(Grade::Agrees, "texture", says, reason, PRACTICE, "")
    } else {
        let remedy = if coarse < 15.0 { "Add a clean grit of 4 to 8 mm." } else { "Add sharp sand of 0 to 4 mm." };
        finding(Grade::Think, "texture", says, reason, PRACTICE, remedy)
    })
}
