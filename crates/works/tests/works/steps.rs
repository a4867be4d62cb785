//! The steps within a coat, worked by hand: reveals before the face, laying and ruling on one day, bays of the finish that are ended on the day they are begun,
//! who looks at a fresh coat, the scaffold's crew.

use jiff::civil::{Date, date};
use survey::{HiddenJoint, JointKind, Opening, OpeningKind};
use works::{Gang, Part, PartKind, Programme, Task};

use crate::fixture::{Job, gang, job, known};

fn joined(slugs: &[&str], at_m: &[f64]) -> Job {
    let mut made = job(slugs);
    let mut building = made.survey.building.clone();
    for wall in &mut building.walls {
        wall.joints = at_m.iter().map(|&at_m| HiddenJoint { slug: format!("at-{at_m:.0}"), kind: JointKind::Downpipe, at_m }).collect();
    }
    made.inputs.building = building.clone();
    made.survey = survey::measure(building).unwrap();
    made
}

fn task<'p>(programme: &'p Programme, slug: &str) -> &'p Task {
    programme.runs[0].walls[0].tasks.iter().find(|task| task.slug == slug).unwrap()
}

fn on(part: &Part) -> (Date, Date) {
    (part.from, part.to)
}

const TUE: Date = date(2026, 6, 16);
const WED: Date = date(2026, 6, 17);

// 60 m² of finish at 40 m² a gang-day are a day and a half. A joint in the middle makes two bays of three quarters of a day: one on Tue 16 June, the other not
// begun in the quarter that is left but on Wed 17. Four half-days are paid.
#[test]
fn a_bay_is_ended_on_the_day_it_is_begun() {
    let mut job = joined(&["north"], &[5.0]);
    job.inputs.rates.outputs.finish = known(40.0);
    let programme = job.programme().unwrap();
    let finish = task(&programme, "finish");
    let bays: Vec<_> = finish.parts.iter().map(|part| (part.kind, on(part), part.amount, part.gang_days, part.cold_joint)).collect();
    assert_eq!(bays, [(PartKind::Bay, (TUE, TUE), 30.0, 0.75, false), (PartKind::Bay, (WED, WED), 30.0, 0.75, false)]);
    assert_eq!(finish.gang_days, 2.0);
    // 6 m in lifts of 2 m.
    assert!(finish.parts.iter().all(|part| part.lifts == Some(3)));
}

// At 60 m² a gang-day three bays of 20 m² fill one day.
#[test]
fn small_bays_share_a_day() {
    let programme = joined(&["north"], &[10.0 / 3.0, 20.0 / 3.0]).programme().unwrap();
    let finish = task(&programme, "finish");
    assert_eq!(finish.parts.iter().map(on).collect::<Vec<_>>(), [(TUE, TUE); 3]);
    assert_eq!(finish.gang_days, 1.0);
}

// Begun on Thu 4 June: scud Fri 5, straightening Fri 12, finish Fri 19: the first bay is thrown that day and the second on Mon 22, the joint hidden.
#[test]
fn a_weekend_may_stand_between_two_bays() {
    let mut job = joined(&["north"], &[5.0]);
    job.inputs.rates.outputs.finish = known(40.0);
    job.inputs.window.start = date(2026, 6, 4);
    let programme = job.programme().unwrap();
    let finish = task(&programme, "finish");
    assert_eq!(finish.parts.iter().map(|part| part.from).collect::<Vec<_>>(), [date(2026, 6, 19), date(2026, 6, 22)]);
    assert!(finish.parts.iter().all(|part| !part.cold_joint));
}

// Without a joint the gang cannot cover the day and a half in a day: it is thrown on Tue and the morning of Wed, and a cold joint is told.
#[test]
fn a_bay_too_large_for_the_day_has_a_cold_joint() {
    let mut job = job(&["north"]);
    job.inputs.rates.outputs.finish = known(40.0);
    let programme = job.programme().unwrap();
    let finish = task(&programme, "finish");
    assert_eq!(finish.parts.iter().map(|part| (on(part), part.cold_joint)).collect::<Vec<_>>(), [((TUE, WED), true)]);
    assert_eq!(finish.gang_days, 1.5);
}

// A gang of four masons throws it in three quarters of a day. The small gang, first in the list, prepares and lays the coats before it, and leaves the finish to
// the large one.
#[test]
fn the_gang_that_covers_the_bay_throws_it() {
    let mut job = job(&["north"]);
    job.inputs.rates.outputs.finish = known(40.0);
    job.inputs.gangs.push(Gang { masons: 4, ..gang("Large gang") });
    let programme = job.programme().unwrap();
    assert_eq!(task(&programme, "straightening").gang, "First gang");
    let finish = task(&programme, "finish");
    assert_eq!((finish.gang.as_str(), finish.from, finish.to), ("Large gang", TUE, TUE));
    assert!(finish.parts.iter().all(|part| !part.cold_joint));
}

// A window 1 m wide and 1.5 m high with reveals 0.2 m deep, head harled, has an ingo of 2 × 1.5 + 1 = 4 m and takes 1.5 m² off the face. The scud is 4 ÷ 20 = 0.2 of a
// day of reveals and 58.5 ÷ 60 = 0.975 of face, so it is ended on the morning of Wed 3 June, and the straightening is due on Wed 10: 0.2 of reveals,
// 58.5 ÷ 75 = 0.78 of laying and 58.5 ÷ 300 = 0.195 of ruling: 1.175 days. On Wed 0.8 of a day is left after the reveals; of the 0.975 of the face that is
// 80 ∕ 97.5: 48 m², and 10.5 m² on Thu 11, each ruled on its day.
#[test]
fn reveals_come_first_and_what_is_laid_is_ruled_the_same_day() {
    let mut job = job(&["north"]);
    let mut building = job.survey.building.clone();
    building.walls[0].openings.push(Opening {
        slug: "window".to_owned(),
        kind: OpeningKind::Window,
        width_m: 1.0,
        height_m: 1.5,
        left_m: 4.0,
        sill_m: 1.0,
        reveal_m: 0.2,
        head: true,
        has_sill: true,
        margin_m: 0.0,
    });
    job.inputs.building = building.clone();
    job.survey = survey::measure(building).unwrap();
    let programme = job.programme().unwrap();
    let straightening = task(&programme, "straightening");
    let kinds: Vec<PartKind> = straightening.parts.iter().map(|part| part.kind).collect();
    assert_eq!(kinds, [PartKind::Reveals, PartKind::Face, PartKind::Ruling, PartKind::Face, PartKind::Ruling]);
    let (wed, thu) = (date(2026, 6, 10), date(2026, 6, 11));
    assert_eq!(straightening.parts.iter().map(|part| part.from).collect::<Vec<_>>(), [wed, wed, wed, thu, thu]);
    let near = |number: usize, amount: f64, days: f64| {
        let part = &straightening.parts[number];
        assert!((part.amount - amount).abs() < 1e-9 && (part.gang_days - days).abs() < 1e-9, "{part:?}");
    };
    near(0, 4.0, 0.2);
    near(1, 48.0, 0.64);
    near(2, 48.0, 0.16);
    near(3, 10.5, 0.14);
    near(4, 10.5, 0.035);
    assert_eq!(straightening.gang_days, 1.5);
}

// Scud Tue 2, straightening Tue 9, finish Tue 16: on the Wednesday and the Thursday after each no gang is on the job of one wall, so somebody comes: six visits.
// With a second wall the gang is there on Wed 3 and Thu 4 June (south prepared and scudded), Thu 11 and Thu 18; north's Wed 10 and Wed 17 and the Friday and
// Saturday after each of south's coats are visits: 2 + 6.
#[test]
fn a_fresh_coat_is_looked_at_for_two_days_and_counted_once() {
    let alone = job(&["north"]).programme().unwrap();
    assert_eq!(alone.runs[0].damping_visits, 6);
    let scud = task(&alone, "scud");
    assert_eq!(
        scud.looked.iter().map(|look| (look.date, look.gang.clone())).collect::<Vec<_>>(),
        [(date(2026, 6, 3), None), (date(2026, 6, 4), None)]
    );
    let both = job(&["north", "south"]).programme().unwrap();
    assert_eq!(both.runs[0].damping_visits, 8);
    assert!(task(&both, "scud").looked.iter().all(|look| look.gang.as_deref() == Some("First gang")));
}

// One crew of scaffolders: the walls of the start stand on the day the scaffold is asked for, put up one after the other before it, and two walls that are done
// on one day come down one after the other.
#[test]
fn one_crew_of_scaffolders_goes_from_wall_to_wall() {
    let mut job = job(&["north", "south"]);
    job.inputs.gangs.push(gang("Second gang"));
    let programme = job.programme().unwrap();
    let steps = |wall: usize| programme.runs[0].walls[wall].scaffold.iter().map(|step| step.from).collect::<Vec<_>>();
    assert_eq!(steps(0), [date(2026, 5, 28), date(2026, 6, 12), date(2026, 6, 30)]);
    assert_eq!(steps(1), [date(2026, 5, 29), date(2026, 6, 12), date(2026, 7, 1)]);
    assert_eq!(programme.runs[0].finished, Some(date(2026, 7, 1)));
}

// Tie patches, laid and ruled days and the adapted scaffold are paid: three patches are half a day, ruling a fifth of the straightening's day.
#[test]
fn ruling_patches_and_adapting_have_lines_of_their_own() {
    let job = job(&["north"]);
    let programme = job.programme().unwrap();
    let price = job.price(&programme).unwrap();
    let quantity = |path: &str| price.lines.iter().find(|line| line.path == path).unwrap_or_else(|| panic!("{path}")).quantity;
    assert_eq!(quantity("price.labour.straightening.first-gang"), 0.8);
    assert_eq!(quantity("price.labour.ruling.first-gang"), 0.2);
    assert_eq!(quantity("price.labour.tie-patches.first-gang"), 0.5);
    assert_eq!(quantity("price.scaffold.adapt"), 60.0);
    assert_eq!(quantity("price.attendance"), 6.0);
}
