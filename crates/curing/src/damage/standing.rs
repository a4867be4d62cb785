//! From what a coat has been through to what a person is told: of each kind the gravest grade that stands, with what happened and the cheapest change that
//! would have prevented it.

use crate::damage::measures::{
    DRY_FACE, EVAPORATION, FROSTED, MEASURES, ROBBED, SHRUNK, SLIPPED, STARVED, STRONGER, TOO_THICK, UNREADY, WASHED,
};
use crate::damage::wear::Wear;
use crate::{Damage, DamageGrade, DamageIndex, DamageKind, Prevention};

/// Adds the damage that stands on a coat, in the order of the kinds.
pub(crate) fn add_standing(wear: &Wear, coat: usize, damage: &mut Vec<Damage>) {
    for kind in DamageKind::ALL {
        let graver = (0..MEASURES.len())
            .filter(|&measure| MEASURES[measure].kind == kind)
            .filter_map(|measure| wear.grade(measure).map(|(grade, hour)| (grade, severity(wear, measure, grade), measure, hour)))
            .max_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
        if let Some((grade, severity, measure, hour)) = graver {
            let (cause, prevention) = told(wear, measure);
            damage.push(Damage { kind, grade, coat, hour, severity, cause, prevention });
        }
    }
}

/// Every index of a coat with its limits.
pub(crate) fn add_indices(wear: &Wear, coat: usize, indices: &mut Vec<DamageIndex>) {
    indices.extend((0..MEASURES.len()).map(|measure| DamageIndex { coat, measure: &MEASURES[measure], value: wear.value(measure) }));
}

/// The index over the limit of a grade.
fn severity(wear: &Wear, measure: usize, grade: DamageGrade) -> f64 {
    let [note, mend, redo] = MEASURES[measure].limits;
    let limit = match grade {
        DamageGrade::Note => note,
        DamageGrade::Mend => mend,
        DamageGrade::Redo => redo,
    };
    (wear.value(measure) / limit.at).max(1.0)
}

/// What happened, and what would have prevented it.
fn told(wear: &Wear, measure: usize) -> (String, Prevention) {
    let value = wear.value(measure);
    let percent = 100.0 * value;
    let covered = wear.was_covered(measure);
    let or_covered = |bare, behind| if covered { behind } else { bare };
    match measure {
        ROBBED => (format!("the ground took {percent:.0} % of its water in the first hours"), Prevention::DampDown),
        SLIPPED => (
            format!("its ground drew so little that its weight came to {percent:.0} % of what held it"),
            if value < 1.5 { Prevention::ThinnerPasses } else { Prevention::DryTheWall },
        ),
        SHRUNK => (
            format!("it shrank by {value:.1} mm in a metre faster than it could give"),
            or_covered(Prevention::DampHessian, Prevention::MistAndPressBack),
        ),
        DRY_FACE => (
            format!("its face stood dry for {value:.0} hours' worth before it had taken up half a millimetre"),
            or_covered(Prevention::DampHessian, Prevention::TieAndSheet),
        ),
        EVAPORATION => (
            format!("while fresh it lost water at up to {value:.1} kg/m² an hour"),
            or_covered(Prevention::DampHessian, Prevention::TieAndSheet),
        ),
        WASHED => (format!("{value:.1} kg/m² of driving rain reached it while it was soft"), Prevention::KeepRainOff),
        FROSTED => (format!("{percent:.0} % of it was ice while its pores were too full"), Prevention::Blanket),
        STARVED => (
            format!("it took up nothing on {value:.0} days, too wet or too shut in"),
            or_covered(Prevention::DryTheWall, Prevention::OpenCover),
        ),
        TOO_THICK => (format!("it was laid {value:.0} mm thick in one pass"), Prevention::ThinnerPasses),
        UNREADY if value > 1.0 => ("it was laid on a coat that was not firm".to_owned(), Prevention::WaitForCoatBeneath),
        UNREADY => (format!("the coat beneath lacked {percent:.0} % of the uptake asked of it"), Prevention::WaitForCoatBeneath),
        STRONGER => (format!("its mix is {value:.1} times as strong as the one beneath"), Prevention::WeakerMix),
        _ => (MEASURES[measure].what.to_owned(), Prevention::WaitForCoatBeneath),
    }
}
