//! The four policies on one wall: cover follows the hazard of the day, foresight that cannot matter changes nothing, the client's visits are not the
//! contractor's, and what cannot be told is refused. Weather made by hand; what must follow from the rules is exact, the rest is said beside it.

use jiff::civil::date;
use survey::Inside;
use weather::{Kind, Weather, WeatherYear};
use works::protect::{EventKind, Foresight, Lookahead, LookaheadAsked, Policy, Story, StoryAsked, foresight_worth, lookahead, story};
use works::{Unwatched, WorksError};

use crate::fixture::job;
use crate::seasons::{dull, weather};

fn asked(policy: Policy) -> StoryAsked {
    StoryAsked {
        wall: "north".to_owned(),
        from: date(2026, 6, 1),
        policy,
        foresight: Foresight::Imperfect,
        year: None,
        hasty_days: None,
        client_wets: false,
        smooth: false,
    }
}

/// The same day all year: °C by night and by day, humidity, wind.
fn same(night_c: f64, day_c: f64, humidity: f64, wind_m_s: f64) -> Weather {
    let mut year = dull(2026);
    for hour in 0..year.air_c.len() {
        let by_day = (9..19).contains(&(hour % 24));
        year.air_c[hour] = if by_day { day_c } else { night_c };
        year.humidity[hour] = humidity;
        year.wind_m_s[hour] = wind_m_s;
    }
    weather(Kind::Invented, vec![year])
}

fn told(weather: &Weather, asked: &StoryAsked) -> Story {
    let mut job = job(&["north"]);
    job.inputs.building.surveyed_on = "2026-05-25".to_owned();
    story(&job.inputs, weather, asked, &Unwatched).unwrap()
}

fn hung(story: &Story) -> Vec<&'static str> {
    let covers = story.events.iter().filter_map(|event| match event.kind {
        EventKind::Hung { cover } => Some(cover),
        _ => None,
    });
    covers.collect()
}

#[test]
fn cover_follows_the_hazard_of_the_day() {
    let hot = told(&same(16.0, 27.0, 0.45, 5.0), &asked(Policy::HessianByRule));
    assert_eq!(hung(&hot)[0], "damp-hessian", "{:?}", hot.events);
    assert!(hot.outcome.tally().wettings > hot.outcome.tally().hangings);
    // Thrown in mild days that turn to frost five days on: hung dry, and not wetted.
    let mut turning = same(8.0, 10.0, 0.92, 1.0);
    for hour in 0..8760 {
        let night = !(8..20).contains(&(hour % 24));
        if hour / 24 >= 156 && night {
            turning.years[0].air_c[hour] = -2.0;
        }
    }
    let frost = told(&turning, &StoryAsked { foresight: Foresight::Perfect, ..asked(Policy::HessianByRule) });
    assert!(hung(&frost).contains(&"dry-hessian"), "{:?}", frost.events);
    assert_eq!(frost.outcome.tally().wettings, 0);
    let cold_damp = told(&same(7.0, 8.0, 0.93, 1.0), &asked(Policy::HessianByRule));
    assert!(hung(&cold_damp).is_empty(), "hessian starves a coat in cold damp weather: {:?}", cold_damp.events);
}

#[test]
fn a_shelter_stands_and_is_heated_only_while_it_is_cold() {
    let mild = told(&same(10.0, 14.0, 0.8, 2.0), &asked(Policy::Heated));
    assert_eq!(hung(&mild), ["roofed-shelter"]);
    assert_eq!(mild.outcome.tally().heated_h, 0);
    let cold = told(&same(1.0, 6.0, 0.85, 2.0), &asked(Policy::Heated));
    assert!(cold.outcome.tally().heated_h > 0, "{:?}", cold.events);
    let bare = told(&same(10.0, 14.0, 0.8, 2.0), &asked(Policy::Nothing));
    // A bare coat takes no visit but to damp its ground down the evening before, where that is thirsty.
    let evenings = bare.events.iter().filter(|event| event.kind == EventKind::DampedDown).count();
    assert!(hung(&bare).is_empty() && bare.outcome.tally().visits as usize == evenings, "{:?}", bare.events);
    assert!(bare.outcome.days().is_some());
}

// Days that are all alike are forecast as well by the last day as by the truth.
#[test]
fn foresight_is_worth_nothing_where_every_day_is_the_same() {
    let weather = same(12.0, 24.0, 0.55, 3.0);
    let with = |foresight| {
        let story = told(&weather, &StoryAsked { foresight, ..asked(Policy::HessianByRule) });
        (story.events, story.outcome)
    };
    assert_eq!(with(Foresight::None), with(Foresight::Perfect));
}

#[test]
fn the_client_damps_on_days_that_are_not_worked() {
    let weather = same(16.0, 27.0, 0.45, 5.0);
    let alone = told(&weather, &asked(Policy::HessianByRule));
    let helped = told(&weather, &StoryAsked { client_wets: true, ..asked(Policy::HessianByRule) });
    assert_eq!(alone.outcome.tally().client_visits, 0);
    assert!(helped.outcome.tally().client_visits > 0);
    let on_closed_days = helped.events.iter().filter(|event| event.kind == EventKind::WettedByClient);
    assert!(on_closed_days.into_iter().all(|event| event.at.date().weekday().to_monday_zero_offset() >= 5));
}

#[test]
fn the_impatient_coat_is_thrown_on_its_day() {
    let weather = same(9.0, 13.0, 0.8, 2.0);
    let hasty = told(&weather, &StoryAsked { hasty_days: Some(2), ..asked(Policy::Nothing) });
    let thrown: Vec<_> = hasty.events.iter().filter(|event| matches!(event.kind, EventKind::Thrown { .. })).map(|event| event.at).collect();
    assert_eq!(thrown[0].until(thrown[1]).unwrap().get_days(), 2);
    let patient = told(&weather, &asked(Policy::Nothing));
    let uptake = |story: &Story| story.hours.iter().find(|hour| hour.look.coats.len() == 2).map(|hour| hour.look.coats[0].uptake_m);
    assert!(uptake(&hasty) < uptake(&patient), "the scud has taken up less when it is covered so soon");
}

// A gale of 20 m/s on an open face takes the cloth down, and nobody hangs one into a gale that is forecast.
#[test]
fn wind_above_its_limit_takes_the_cloth_down() {
    let mut windy = same(14.0, 25.0, 0.5, 4.0);
    let year: &mut WeatherYear = &mut windy.years[0];
    for hour in 0..8760 {
        if (hour / 24) >= 154 {
            year.wind_m_s[hour] = 30.0;
        }
    }
    let blind = told(&windy, &StoryAsked { foresight: Foresight::None, ..asked(Policy::HessianByRule) });
    assert!(blind.events.iter().any(|event| matches!(event.kind, EventKind::Blown { .. })), "{:?}", blind.events);
    let seer = told(&windy, &StoryAsked { foresight: Foresight::Perfect, ..asked(Policy::HessianByRule) });
    assert!(!seer.events.iter().any(|event| matches!(event.kind, EventKind::Blown { .. })), "{:?}", seer.events);
}

#[test]
fn what_cannot_be_told_is_refused() {
    let mut job = job(&["north"]);
    job.inputs.building.surveyed_on = "2026-05-25".to_owned();
    let refused = |weather: &Weather, asked: StoryAsked| story(&job.inputs, weather, &asked, &Unwatched).unwrap_err();
    let fair = same(12.0, 15.0, 0.75, 2.0);
    assert!(matches!(Policy::named("tarpaulin"), Err(WorksError::NoSuchPolicy { found }) if found == "tarpaulin"));
    assert_eq!(Policy::ALL.map(|policy| Policy::named(policy.name()).unwrap()), Policy::ALL);
    let unknown = refused(&fair, StoryAsked { wall: "nort".to_owned(), ..asked(Policy::Nothing) });
    assert_eq!(unknown.to_string(), "The job has no wall called “nort”: it has north.");
    let year = refused(&fair, StoryAsked { year: Some(1987), ..asked(Policy::Nothing) });
    assert!(matches!(year, WorksError::NoSuchWeatherYear { found: 1987, first: 2026, last: 2026 }));
    let measured = Weather { kind: Kind::Measured, ..fair.clone() };
    let late = refused(&measured, StoryAsked { from: date(2027, 3, 1), ..asked(Policy::Nothing) });
    assert!(late.to_string().contains("lies after the weather ends with 2026"), "{late}");
    let mut short = fair.clone();
    short.years[0].rain_mm.truncate(5000);
    let gap = refused(&short, asked(Policy::Nothing));
    assert!(gap.to_string().contains("rain is given for 5000 of 8760 hours"), "{gap}");
    short = fair;
    short.years[0].air_c[4321] = f64::NAN;
    let gap = refused(&short, asked(Policy::Nothing));
    assert!(gap.to_string().contains("air temperature has no value on day 181 at 1:00"), "{gap}");
}

fn two_invented_years() -> Weather {
    weather::invented::years(11, 2).unwrap()
}

fn ahead(policies: &[Policy], percentiles: bool) -> Lookahead {
    let mut job = job(&["north", "south"]);
    job.inputs.building.surveyed_on = "2026-03-02".to_owned();
    job.inputs.building.walls[1].faces_deg = 180.0;
    let asked = LookaheadAsked {
        policies: policies.to_vec(),
        foresight: Foresight::Imperfect,
        from: date(2026, 4, 6),
        weeks: 3,
        client_wets: false,
        percentiles,
    };
    lookahead(&job.inputs, &two_invented_years(), &asked, &Unwatched).unwrap()
}

// Exact identity: what is ahead of a start is the story told from it, though the lookahead forks, fills lanes anew and hands coats on.
#[test]
fn the_lookahead_is_made_of_stories() {
    let mut job = job(&["north", "south"]);
    job.inputs.building.surveyed_on = "2026-03-02".to_owned();
    job.inputs.building.walls[1].faces_deg = 180.0;
    let weather = two_invented_years();
    let policies = [Policy::HessianByRule, Policy::Sheltered];
    let ahead = ahead(&policies, false);
    assert!(ahead.followed.0 <= ahead.followed.1 && ahead.cell_steps > 0);
    for wall in &ahead.walls {
        for (policy, week) in wall.policies.iter().flat_map(|by| by.weeks.iter().map(move |week| (by.policy, week))) {
            let outcomes: Vec<_> = weather
                .years
                .iter()
                .map(|year| {
                    let asked = StoryAsked { wall: wall.wall.clone(), from: week.start, year: Some(year.year), ..asked(policy) };
                    story(&job.inputs, &weather, &asked, &Unwatched).unwrap().outcome
                })
                .collect();
            let days: Vec<f64> = outcomes.iter().filter_map(|outcome| outcome.days().map(f64::from)).collect();
            let place = format!("{} {policy:?} {}", wall.wall, week.start);
            assert_eq!(week.days.least, days.iter().copied().reduce(f64::min), "{place}");
            assert_eq!(week.days.most, days.iter().copied().reduce(f64::max), "{place}");
            let visits = outcomes.iter().map(|outcome| f64::from(outcome.tally().visits)).sum::<f64>() / 2.0;
            let hours = outcomes.iter().map(|outcome| outcome.tally().hours).sum::<f64>() / 2.0;
            assert_eq!((week.visits, week.hours), (visits, hours), "{place}");
            assert_eq!(
                week.coats[0].waited_days.most,
                outcomes.iter().map(|of| f64::from(of.coats[0].waited_days)).reduce(f64::max),
                "{place}"
            );
        }
    }
}

#[test]
fn threads_and_other_policies_change_no_bit() {
    let pool = |threads| rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
    let one = pool(1).install(|| ahead(&[Policy::Nothing, Policy::HessianByRule], false));
    let three = pool(3).install(|| ahead(&[Policy::HessianByRule], false));
    for (wall, alone) in one.walls.iter().zip(&three.walls) {
        assert_eq!(wall.policies[1], alone.policies[0]);
    }
}

// The thickest coat is never ready sooner than the middle one: here all three percentiles are one, so that only the joint can hold the wall up.
#[test]
fn ends_are_ready_no_sooner_than_the_middle() {
    let (middle, ends) = (ahead(&[Policy::HessianByRule], false), ahead(&[Policy::HessianByRule], true));
    assert!(ends.cell_steps > 2 * middle.cell_steps);
    for (middle, ends) in middle.walls.iter().zip(&ends.walls) {
        for (middle, ends) in middle.policies[0].weeks.iter().zip(&ends.policies[0].weeks) {
            let less_often = ends.days.not_this_season > middle.days.not_this_season;
            let no_sooner = less_often || (ends.days.least >= middle.days.least && ends.days.most >= middle.days.most);
            assert!(no_sooner, "{} {:?}", ends.start, (middle.days, ends.days));
        }
    }
}

// Rain that the wind drives from behind reaches the wall where there is nothing behind it, and a room's wall not at all.
#[test]
fn rain_from_behind_wets_a_free_standing_wall() {
    let mut weather = same(8.0, 11.0, 0.9, 8.0);
    weather.years[0].wind_from_deg.fill(180.0);
    weather.years[0].rain_mm.fill(0.3);
    let wettest = |inside| {
        let mut job = job(&["north"]);
        job.inputs.building.surveyed_on = "2026-05-01".to_owned();
        let wall = &mut job.inputs.building.walls[0];
        assert_eq!(wall.faces_deg, 0.0);
        wall.inside.value = inside;
        wall.thickness_m.value = 0.2;
        let story = story(&job.inputs, &weather, &asked(Policy::Nothing), &Unwatched).unwrap();
        story.hours[0].look.masonry_saturation
    };
    let (room, roofless, free) = (wettest(Inside::Unheated), wettest(Inside::Roofless), wettest(Inside::FreeStanding));
    assert!(room < roofless && roofless <= free && free > room + 0.1, "{room} {roofless} {free}");
}

// Half of what a rough face dries faster is its texture: told with factor 1 the same coat keeps its water longer.
#[test]
fn a_story_can_be_told_with_smooth_faces() {
    let weather = same(10.0, 18.0, 0.6, 3.0);
    let driest = |smooth| {
        let story = told(&weather, &StoryAsked { smooth, ..asked(Policy::Nothing) });
        let coated = story.hours.iter().filter(|hour| hour.look.coats.len() == 1).take(24);
        coated.map(|hour| hour.look.coats[0].water_share).fold(1.0, f64::min)
    };
    assert!(driest(true) > driest(false), "{} {}", driest(true), driest(false));
}

// What foresight is worth where every day is the same is nothing; where frost comes without warning it is never less than nothing in coats kept.
#[test]
fn the_worth_of_foresight_is_nothing_where_every_day_is_the_same() {
    let mut job = job(&["north"]);
    job.inputs.building.surveyed_on = "2026-05-25".to_owned();
    let asked = LookaheadAsked {
        policies: vec![Policy::HessianByRule],
        foresight: Foresight::Imperfect,
        from: date(2026, 6, 1),
        weeks: 2,
        client_wets: false,
        percentiles: false,
    };
    let [none, imperfect, perfect] = foresight_worth(&job.inputs, &same(12.0, 24.0, 0.55, 3.0), &asked, &Unwatched).unwrap();
    assert_eq!((none.foresight, imperfect.foresight, perfect.foresight), (Foresight::None, Foresight::Imperfect, Foresight::Perfect));
    assert_eq!((none.days, none.visits, none.hours, none.redo), (perfect.days, perfect.visits, perfect.hours, perfect.redo));
    assert!(perfect.days > 0.0 && perfect.visits > 0.0 && imperfect.days > 0.0);
    // Two frosts a fortnight that no day before them tells of.
    let mut turning = same(9.0, 13.0, 0.8, 1.0);
    for hour in 0..8760 {
        if hour / 24 >= 152 && hour / 24 % 7 == 4 && !(8..19).contains(&(hour % 24)) {
            turning.years[0].air_c[hour] = -4.0;
        }
    }
    let [none, _, perfect] = foresight_worth(&job.inputs, &turning, &asked, &Unwatched).unwrap();
    println!("without foresight {none:?}\nwith the truth {perfect:?}");
    assert!(perfect.redo <= none.redo);
}
