//! The choice of protection in sentences: a finding a wall. It must never advise a shelter without saying that its cost is a guess.

use reckoning::{Finding, Grade};
use weather::Weather;

use crate::calendar::said;
use crate::protect::choose::in_ten;
use crate::protect::{Policy, Protection, ProtectionOption, WallProtection};
use crate::{Inputs, Programme, ProtectionAsked};

/// One finding a wall: what each policy comes to, which is chosen and why.
pub(crate) fn findings(protection: &Protection, followed: bool) -> Vec<Finding> {
    protection.walls.iter().filter(|wall| !wall.options.is_empty()).map(|wall| finding(wall, protection.years.len(), followed)).collect()
}

fn finding(wall: &WallProtection, years: usize, followed: bool) -> Finding {
    let remedy = if followed {
        "The programme follows this choice. Name another in the job (system.protection) to see what it comes to."
    } else {
        "The programme follows the specification's rule: write protection = \"chosen\" under [system] to have it follow the choice, or name one of the four there."
    };
    let options: Vec<String> = wall.options.iter().map(option).collect();
    let chosen_spoils = wall.options.iter().any(|option| wall.chosen.contains(&option.policy) && option.redo > 0.25);
    Finding {
        grade: if chosen_spoils { Grade::Think } else { Grade::Note },
        rule: "protection".to_owned(),
        place: format!("walls.{}.protection", wall.wall),
        says: format!("{}: {}. {}. {}", wall.name, choice(wall), wall.why.trim_end_matches('.'), options.join("; ") + "."),
        reason: format!(
            "Each was followed by the hour in {years} weather years with a forecast that errs, every coat at its thickest and thinnest, over the \
             thirstiest part of the wall. Nearly every limit of damage is a guess: they rank the policies, they are no odds that a coat fails."
        ),
        source: "the curing engine; roof, sheets and heat are priced by guess".to_owned(),
        remedy: remedy.to_owned(),
    }
}

/// What is chosen: one policy for all coats, or coat by coat.
fn choice(wall: &WallProtection) -> String {
    let Some(&first) = wall.chosen.first() else { return "nothing to protect".to_owned() };
    if wall.chosen.iter().all(|&policy| policy == first) {
        return format!("{} for every coat", first.words());
    }
    let coats = wall.options.first().map(|option| option.coats.as_slice()).unwrap_or_default();
    let by_coat = wall.chosen.iter().zip(coats).map(|(policy, coat)| format!("{} for the {}", policy.words(), coat.name.to_lowercase()));
    by_coat.collect::<Vec<_>>().join(", ")
}

/// A policy's figures in words.
fn option(option: &ProtectionOption) -> String {
    let days = match option.days.middle {
        Some(days) => format!("{days:.0} days in the middle year"),
        None => "not ready this season in the middle year".to_owned(),
    };
    let visits = match option.visits {
        none if none < 0.5 => String::new(),
        visits => format!(", {visits:.0} visits"),
    };
    let risk = match option.redo {
        0.0 => ", no limit of damage passed".to_owned(),
        share => format!(", a limit of damage passed somewhere on the wall in {:.0} years of ten", in_ten(share)),
    };
    let name = match option.policy {
        Policy::Nothing => "bare",
        Policy::HessianByRule => "hessian",
        Policy::Sheltered => "sheltered",
        Policy::Heated => "sheltered and heated",
    };
    format!("{name}: {days}{visits}{risk}, about {}", option.money.to_tens())
}

/// What the programme comes to under a policy that tends its coats: days, visits and coats lost; nothing where the specification's rule tends them, or
/// without weather.
pub(crate) fn followed(inputs: &Inputs, programme: &Programme, weather: Option<&Weather>) -> Option<Finding> {
    weather?;
    let by = match inputs.system.protection {
        ProtectionAsked::Rule => return None,
        ProtectionAsked::Chosen => "On each wall and coat the policy chosen tends it".to_owned(),
        ProtectionAsked::Policy(policy) => format!("Every coat is tended by one policy, {}", policy.words()),
    };
    let run = &programme.runs[programme.middle];
    let years = programme.runs.len();
    let lost = programme.runs.iter().filter(|run| !run.losses.is_empty()).count();
    let end = run.finished.map_or("it is not finished this season".to_owned(), |day| format!("the job is finished on {}", said(day)));
    let sheltered = match run.covers.sheltered_m2 {
        none if none <= 0.0 => String::new(),
        face_m2 => format!(", {face_m2:.0} m² of scaffold roofed and sheeted"),
    };
    Some(Finding {
        grade: Grade::Note,
        rule: "protection-followed".to_owned(),
        place: "programme".to_owned(),
        says: format!(
            "{by}: in the middle year {end}, with {} visits on days without a gang and {:.0} hours at the covers{sheltered}; a coat is lost in {lost} of {years} years.",
            run.damping_visits, run.covers.hours
        ),
        reason: "The foreman goes by a forecast that errs; what he hangs follows the hazard of the day.".to_owned(),
        source: "the programme's own runs; roof, sheets and heat are priced by guess".to_owned(),
        remedy: "Compare with system.protection = \"rule\", and with each of the four by name.".to_owned(),
    })
}
