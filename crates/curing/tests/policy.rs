//! The policy runner counts what a given policy asks for and chooses nothing.
#![allow(clippy::unwrap_used, clippy::expect_used)]
mod common;

use std::ops::ControlFlow;

use common::*;
use curing::policy::{Attendance, Labour, run};
use curing::{Action, Bench, CuringError};

fn attendance() -> Attendance {
    Attendance { working: 8..17, area_m2: 50.0, labour: Labour::default() }
}

/// Thrown at eight on the first day behind hessian, wetted at 8, 12 and 16 for three days, struck on the fifth, over on the sixth: counted by hand.
#[test]
fn visits_hours_and_water_are_those_asked_for() {
    let mut bench = Bench::new(&sandstone(0.15), &[scud()], steady(20.0, 0.5, 3.0), &[0, 5]).unwrap();
    let costs = run(&mut bench, 24 * 30, &attendance(), |moment, look, actions| {
        let day = moment.hour / 24;
        if look.coats.is_empty() {
            actions.extend([Action::DampDown(0.4), Action::Throw, Action::Hang(hessian(0.15)), Action::Wet(0.9)]);
        } else if day < 3 && [8, 12, 16].contains(&moment.hour_of_day) {
            actions.push(Action::Wet(0.9));
        } else if day == 4 && moment.hour_of_day == 9 {
            actions.push(Action::Strike);
        }
        if day == 5 { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
    })
    .unwrap();
    for cost in &costs {
        println!("{cost:?}");
        // One throw, eight wettings, one striking.
        assert_eq!(cost.visits, 10);
        let hours = (0.5 + 4.0 + 9.0 * 0.5 + 0.5 * 4.0) * 0.5;
        assert!((cost.labour_h - hours).abs() < 1e-12, "{} against {hours}", cost.labour_h);
        assert!(cost.water_kg > (0.4 + 0.9) * 50.0 - 5.0 && cost.water_kg <= (0.4 + 9.0 * 0.9) * 50.0, "{}", cost.water_kg);
        assert_eq!(cost.covered_h, 4 * 24 + 1);
        assert_eq!(cost.taken_off, 0);
    }
}

#[test]
fn a_policy_that_does_nothing_costs_nothing_and_an_impossible_one_is_refused() {
    let mut bench = Bench::new(&sandstone(0.15), &[scud()], steady(20.0, 0.5, 3.0), &[0]).unwrap();
    let nothing = run(&mut bench, 72, &attendance(), |_, _, _| ControlFlow::Continue(())).unwrap();
    assert_eq!(nothing, [curing::policy::PolicyCost::default()]);
    let refused = run(&mut bench, 24, &attendance(), |_, _, actions| {
        actions.push(Action::Wet(0.9));
        ControlFlow::Continue(())
    });
    assert!(matches!(refused, Err(CuringError::Action { .. })));
}
