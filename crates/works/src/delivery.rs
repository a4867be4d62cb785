//! One job planned twice: as it stands and with something changed, such as a sand that came in the place of the one ordered. It compares; it must never
//! advise.

use jiff::civil::Date;
use materials::LimeKind;
use reckoning::Money;
use serde::Serialize;
use weather::Weather;

use crate::calendar::days_between;
use crate::order::middle_run;
use crate::road::plan;
use crate::{Inputs, Plan, Watch, WorksError};

/// Two plans of one job, before and after.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Compared {
    /// Last day in the middle year; `None` where the job is not finished this season.
    pub finish: [Option<Date>; 2],
    /// Days by which it is finished later; `None` unless both are finished.
    pub later_days: Option<i64>,
    /// Price before tax.
    pub before_tax: [Money; 2],
    /// By how much it is dearer.
    pub dearer: Money,
    /// Mortar to be mixed, m³.
    pub mortar_m3: [f64; 2],
}

/// Plans a job as it stands and as changed.
///
/// # Errors
/// As [`plan`].
pub fn compared(before: &Inputs, after: &Inputs, weather: Option<&Weather>, watch: &dyn Watch) -> Result<Compared, WorksError> {
    let plans = [plan(before, weather, watch)?, plan(after, weather, watch)?];
    let finish = plans.each_ref().map(|plan| middle_run(&plan.programme).finished);
    let before_tax = plans.each_ref().map(|plan| plan.price.before_tax.clone());
    let mortar = |plan: &Plan| plan.quantities.walls.iter().flat_map(|wall| &wall.coats).map(|coat| coat.mixed_m3).sum();
    Ok(Compared {
        later_days: finish[0].zip(finish[1]).map(|(before, after)| days_between(before, after)),
        dearer: Money::new(before_tax[1].amount - before_tax[0].amount, before_tax[0].currency.clone()),
        mortar_m3: plans.each_ref().map(mortar),
        finish,
        before_tax,
    })
}

/// The first day in the middle year on which putty of a plan is thrown or brushed, and what for; `None` where no putty is used.
pub fn first_putty_day(plan: &Plan) -> Option<(Date, String)> {
    let putty = |lime: &str| plan.catalogue.limes.get(lime).is_some_and(|lime| lime.kind == LimeKind::Putty);
    let run = middle_run(&plan.programme);
    let mut first: Option<(Date, String)> = None;
    for wall in &run.walls {
        let Some(specified) = plan.specification.walls.iter().find(|specified| specified.slug == wall.slug) else { continue };
        for task in &wall.tasks {
            let coat = specified.coats.iter().find(|coat| coat.slug == task.slug);
            let uses = coat.map_or(task.slug == "limewash" && putty(&specified.limewash.lime), |coat| putty(&coat.mix.lime));
            if uses && first.as_ref().is_none_or(|(day, _)| task.from < *day) {
                first = Some((task.from, task.name.to_lowercase()));
            }
        }
    }
    first
}
