//! The programme of a job without weather against a critical path worked by hand (exact solution: the sums stand beside each test).

use jiff::civil::date;
use works::{CoatKind, GapsBy, Programme, ScaffoldKind, WaitReason};

use crate::fixture::{gang, job};

fn days(programme: &Programme, wall: usize) -> Vec<(String, String, String)> {
    let tasks = &programme.runs[0].walls[wall].tasks;
    tasks.iter().map(|task| (task.slug.clone(), task.from.to_string(), task.to.to_string())).collect()
}

fn row(slug: &str, from: &str, to: &str) -> (String, String, String) {
    (slug.to_owned(), format!("2026-{from}"), format!("2026-{to}"))
}

// 60 m² at 60 m² a gang-day: preparation and each coat take one day, the straightening laid at 75 (0.8 of a day) and ruled at 300 (0.2); each limewash half a day,
// one a day; three tie patches at 20 a gang-day a half-day. The scaffold takes a day up, a day to adapt (60 at 120, rounded up) and a day down.
// Fri 29 May scaffold up. Mon 1 June preparation; Tue 2 scud; + 7 = Tue 9 straightening; from the third day after it, Fri 12, the scaffold adapted; + 7 = Tue 16
// finish; + 7 = Tue 23 first limewash, Wed 24, Thu 25, Fri 26, over the weekend, Mon 29 the fifth; the day after it, Tue 30, tie patches and scaffold down.
// Span 1 to 30 June = 30 days = 1 + 3 + 5 + 1 worked + 3 × 6 waiting for age + 2 of a weekend.
#[test]
fn one_wall_one_gang() {
    let programme = job(&["north"]).programme().unwrap();
    let expected = [
        row("preparation", "06-01", "06-01"),
        row("scud", "06-02", "06-02"),
        row("straightening", "06-09", "06-09"),
        row("finish", "06-16", "06-16"),
        row("limewash", "06-23", "06-29"),
        row("tie-patches", "06-30", "06-30"),
    ];
    assert_eq!(days(&programme, 0), expected);
    assert_eq!(programme.runs[0].finished, Some(date(2026, 6, 30)));
    assert_eq!(programme.waits, vec![(WaitReason::LeastAge, 18), (WaitReason::Weekend, 2)]);
    assert_eq!(programme.gaps_by, GapsBy::RuleOfThumb);
    assert!(programme.odds.is_none() && programme.no_odds.is_some());
    // 1 + 3 whole days and 6 half days.
    assert_eq!(programme.runs[0].gang_days, 7.0);
    // Visits: Mon 1–Tue 2; Tue 9; Tue 16; Tue 23–Tue 30 (the weekend between does not part them).
    assert_eq!(programme.runs[0].visits, 4);
    // One wall of 60 m² in scaffold for 30 days: five started weeks.
    assert_eq!(programme.runs[0].scaffold_m2_weeks, 300.0);
    let scaffold: Vec<_> = programme.runs[0].walls[0].scaffold.iter().map(|step| (step.kind, step.from, step.to)).collect();
    let one = |kind, on| (kind, on, on);
    assert_eq!(
        scaffold,
        [one(ScaffoldKind::Up, date(2026, 5, 29)), one(ScaffoldKind::Adapt, date(2026, 6, 12)), one(ScaffoldKind::Down, date(2026, 6, 30)),]
    );
}

// Two such walls, one gang that takes the first wall in order that is ready. Mon 1 north prepared; Tue 2 north scud; Wed 3 south prepared; Thu 4 south scud;
// Tue 9 and Thu 11 straightening; Tue 16 and Thu 18 finish; north's limewashes Tue 23, Wed 24, Thu 25, Fri 26, Mon 29, each a morning;
// south's Thu 25, Fri 26, Mon 29, Tue 30, Wed 1 July, in the other half of the day while north's last; north's tie patches on the morning of Tue 30,
// south's on Thu 2 July.
#[test]
fn two_walls_share_a_gang() {
    let programme = job(&["north", "south"]).programme().unwrap();
    let south = [
        row("preparation", "06-03", "06-03"),
        row("scud", "06-04", "06-04"),
        row("straightening", "06-11", "06-11"),
        row("finish", "06-18", "06-18"),
        row("limewash", "06-25", "07-01"),
        row("tie-patches", "07-02", "07-02"),
    ];
    assert_eq!(days(&programme, 0)[4..], [row("limewash", "06-23", "06-29"), row("tie-patches", "06-30", "06-30")]);
    assert_eq!(days(&programme, 1), south);
    let waited = &programme.runs[0].walls[1].tasks[0].waited;
    assert_eq!(waited.len(), 1);
    assert_eq!((waited[0].from, waited[0].to, waited[0].reason), (date(2026, 6, 1), date(2026, 6, 2), WaitReason::GangElsewhere));
    assert_eq!(programme.runs[0].finished, Some(date(2026, 7, 2)));
    assert_eq!(programme.runs[0].gang_days, 14.0);
}

// With one wall scaffolded at a time the south wall's scaffold is put up the day after the north wall's came down on Tue 30 June: Wed 1 July. From there
// preparation Thu 2 July, scud Fri 3, Fri 10, Fri 17, limewash Fri 24, Mon 27, 28, 29, Thu 30, tie patches and scaffold down Fri 31 July.
#[test]
fn one_scaffold_makes_walls_follow_each_other() {
    let mut job = job(&["north", "south"]);
    job.inputs.scaffold.walls_at_once = Some(1);
    let programme = job.programme().unwrap();
    assert_eq!(days(&programme, 1)[0], row("preparation", "07-02", "07-02"));
    assert_eq!(programme.runs[0].finished, Some(date(2026, 7, 31)));
    // 30 days of 1 to 30 June and 30 of 2 to 31 July: five started weeks each.
    assert_eq!(programme.runs[0].scaffold_m2_weeks, 600.0);
}

// A gang of four masons works twice as fast: preparation and scud are half a day each and share the first day.
#[test]
fn a_gang_of_four_works_twice_as_fast() {
    let mut job = job(&["north"]);
    job.inputs.gangs[0].masons = 4;
    let programme = job.programme().unwrap();
    assert_eq!(days(&programme, 0)[..2], [row("preparation", "06-01", "06-01"), row("scud", "06-01", "06-01")]);
}

// In November a fortnight stands between coats: start Mon 2 November: scud Tue 3, straightening Tue 17 November, finish Tue 1 December, limewash Tue 15.
#[test]
fn a_cold_month_waits_a_fortnight() {
    let mut job = job(&["north"]);
    job.inputs.window.start = date(2026, 11, 2);
    job.inputs.scaffold.from.value = date(2026, 11, 2);
    let programme = job.programme().unwrap();
    let tasks = &programme.runs[0].walls[0].tasks;
    assert_eq!(tasks[2].from, date(2026, 11, 17));
    assert_eq!(tasks[3].from, date(2026, 12, 1));
    assert_eq!(tasks[4].from, date(2026, 12, 15));
}

// A works holiday from 8 to 19 June: straightening, due Tue 9, waits for Mon 22 June.
#[test]
fn a_break_is_waited_out() {
    let mut job = job(&["north"]);
    job.inputs.calendar.breaks = vec![(date(2026, 6, 8), date(2026, 6, 19))];
    let programme = job.programme().unwrap();
    let straightening = &programme.runs[0].walls[0].tasks[2];
    assert_eq!(straightening.from, date(2026, 6, 22));
    let reasons: Vec<WaitReason> = straightening.waited.iter().map(|wait| wait.reason).collect();
    assert_eq!(reasons, [WaitReason::LeastAge, WaitReason::Break, WaitReason::Weekend, WaitReason::Break, WaitReason::Weekend]);
}

// The order follows the middle run: putty is first used for the scud on Tue 2 June. The putty lies twelve weeks in
// the coarse stuff: 2 June less 84 days is 10 March, before the plan's date of 2 April, and says so: what goes into it is on site at once, by 2 April.
#[test]
fn the_order_follows_the_programme() {
    let job = job(&["north"]);
    let programme = job.programme().unwrap();
    let order = job.order(&programme);
    assert_eq!(order.lines[0].on_site_by, date(2026, 4, 2));
    let coarse = order.lay_down.iter().find(|laid| laid.what.starts_with("Coarse stuff")).unwrap();
    assert_eq!(coarse.by, date(2026, 3, 10));
    assert!(coarse.why.contains("That day has passed"));
}

// Planned in February the coarse stuff can lie its twelve weeks: putty is on site five working days before Tue 10 March, on Tue 3 March.
#[test]
fn putty_is_on_site_for_the_coarse_stuff() {
    let mut job = job(&["north"]);
    job.inputs.about.dated = date(2026, 2, 2);
    let order = job.order(&job.programme().unwrap());
    assert_eq!(order.lines[0].on_site_by, date(2026, 3, 3));
    assert!(order.lines[0].first_used_for.starts_with("coarse stuff laid down for the scud coat"));
}

// No coarse stuff is laid down before the lime and the sand that go into it are on site, whether its day has passed or not.
#[test]
fn nothing_is_laid_down_before_it_is_on_site() {
    for dated in [date(2026, 1, 5), date(2026, 2, 2), date(2026, 4, 2)] {
        let mut job = job(&["north", "south"]);
        job.inputs.about.dated = dated;
        let finish_sand = "sharp-0-4".to_owned();
        for coat in job.specification.walls.iter_mut().flat_map(|wall| &mut wall.coats).filter(|coat| coat.kind == CoatKind::Finish) {
            coat.mix.sand.clone_from(&finish_sand);
        }
        let first_sand = job.specification.walls[0].coats[0].mix.sand.clone();
        job.quantities.materials.push(crate::fixture::material(&first_sand, 5, "bag", &["scud", "straightening"]));
        job.quantities.materials.push(crate::fixture::material(&finish_sand, 5, "bag", &["finish"]));
        let order = job.order(&job.programme().unwrap());
        let on_site = |slug: &str| order.lines.iter().find(|line| line.slug == slug).unwrap().on_site_by;
        let coarse: Vec<_> = order.lay_down.iter().filter(|laid| laid.what.starts_with("Coarse stuff")).collect();
        assert_eq!(coarse.len(), 2);
        for laid in coarse {
            let sand = if laid.what.contains("sharp") { finish_sand.as_str() } else { first_sand.as_str() };
            let mixed = laid.by.max(dated);
            assert!(on_site("putty-cl90") <= mixed && on_site(sand) <= mixed, "{} {}", laid.what, laid.by);
        }
    }
}

// Walls given in another order are planned in that order, and where no gang binds each wall's own dates stay the same.
#[test]
fn walls_permuted_is_the_plan_permuted() {
    let many = |slugs: &[&str]| {
        let mut job = job(slugs);
        job.inputs.gangs = (1..=3).map(|number| gang(&format!("Gang {number}"))).collect();
        job.programme().unwrap()
    };
    let (one, other) = (many(&["north", "east", "south"]), many(&["south", "north", "east"]));
    for slug in ["north", "east", "south"] {
        let find = |programme: &Programme| programme.runs[0].walls.iter().position(|wall| wall.slug == slug).unwrap();
        assert_eq!(days(&one, find(&one)), days(&other, find(&other)));
    }
    assert_eq!(one.runs[0].finished, other.runs[0].finished);
}

// A panel of 28 days begun on the plan's date, 20 May, is approved from 17 June: the scud, due Tue 2 June, waits for it, weekends and all.
#[test]
fn the_first_coat_waits_for_the_panel() {
    let mut job = job(&["north"]);
    job.inputs.about.dated = date(2026, 5, 20);
    let programme = job.programme().unwrap();
    let scud = &programme.runs[0].walls[0].tasks[1];
    assert_eq!(scud.from, date(2026, 6, 17));
    assert_eq!(scud.waited.len(), 1);
    assert_eq!(
        (scud.waited[0].from, scud.waited[0].to, scud.waited[0].reason),
        (date(2026, 6, 2), date(2026, 6, 16), WaitReason::Approval)
    );
}

// Before the start of 1 June: consent 84 days before the panel (9 February), mended gutters 28 (4 May), the panel 28 (4 May), in order of date; what lies before the
// survey of 1 April says so.
#[test]
fn what_must_be_true_before_the_start() {
    let mut job = job(&["north"]);
    job.survey.building.protected.value = true;
    job.survey.building.causes_of_damp =
        vec![survey::CauseOfDamp { kind: survey::DampKind::Gutters, state: survey::DampState::ToMend, walls: Vec::new() }];
    let programme = job.programme().unwrap();
    let by = |path: &str| programme.before.iter().find(|before| before.path == path).unwrap();
    assert_eq!(by("before.consent").by, date(2026, 2, 9));
    assert!(by("before.consent").why.contains("before the survey"));
    assert_eq!(by("before.damp-gutters").by, date(2026, 5, 4));
    assert_eq!(by("before.panel").by, date(2026, 5, 4));
    assert!(!by("before.panel").why.contains("before the survey"));
    assert_eq!(by("before.panel-lime").by, date(2026, 4, 27));
    assert!(programme.before.windows(2).all(|pair| pair[0].by <= pair[1].by));
}

// 60 m² at 0.18 m² a gang-day are 334 days of preparation, 467 days with weekends: the second wall waits for the gang all that while, which is no reason
// to give it up. At half that output the job is longer than any is followed, and the gang is named as what it waits for.
#[test]
fn a_wall_that_waits_for_the_gang_alone_is_not_given_up() {
    let slow = |output: f64| {
        let mut job = job(&["north", "south"]);
        job.inputs.rates.outputs.preparation.value = output;
        job.programme().unwrap().runs.remove(0)
    };
    assert!(slow(0.18).finished.is_some(), "{:?}", slow(0.18).unfinished);
    let why = slow(0.07).unfinished.unwrap();
    assert!(why.contains("1000 days") && why.contains("while the gang was on another wall") && why.contains("Add a gang"), "{why}");
}
