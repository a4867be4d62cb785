//! Pictures and words of a wall that cures, from the shipped demonstration: no words collide, none leave the sheet, each carries its readings.

use documents::figures::{Figure, Theme, cure};
use documents::telling;
use jiff::civil::{Date, date};
use works::protect::{Foresight, Policy, StoryAsked};
use works::{Told, Unwatched};

use crate::ferry_house::ferry_house_job;
use crate::figures::{check, keep};

fn asked(wall: &str, from: Date, policy: Policy) -> StoryAsked {
    StoryAsked {
        wall: wall.to_owned(),
        from,
        policy,
        foresight: Foresight::Imperfect,
        year: None,
        hasty_days: None,
        client_wets: false,
        smooth: false,
    }
}

fn all(told: &Told, theme: &Theme) -> Vec<Figure> {
    let mut figures = vec![cure::front(told, theme), cure::nights(told, theme), cure::sheet(told, theme)];
    figures.extend(cure::sections(told, theme));
    figures.extend(cure::cloth(told, theme));
    figures
}

const THEMES: [fn(f64) -> Theme; 3] = [Theme::daylight, Theme::dark, Theme::paper];
const WIDTHS: [f64; 3] = [1080.0, 700.0, 385.0];

#[test]
fn no_words_collide_in_any_season_wall_or_theme() {
    let (job, weather) = ferry_house_job();
    for (name, wall, from, policy) in [
        ("spring", "north", date(2027, 4, 28), Policy::HessianByRule),
        ("summer", "south", date(2027, 6, 2), Policy::Nothing),
        ("autumn", "north", date(2027, 10, 5), Policy::Heated),
    ] {
        let told = works::tell(&job.inputs, &weather, &asked(wall, from, policy), &Unwatched).unwrap();
        for (which, (theme, wide)) in THEMES.iter().zip(WIDTHS).enumerate() {
            for (index, figure) in all(&told, &theme(wide)).iter().enumerate() {
                keep(figure, &format!("cure-{name}-{which}-{index}"));
                check(figure, &format!("{name}, theme {which}"));
                assert!(!figure.title.is_empty() && figure.description.len() > 20);
            }
        }
        assert_eq!(cure::cloth(&told, &Theme::daylight(900.0)).is_some(), told.cloth_holds_kg_m2 > 0.0);
        assert_eq!(cure::front(&told, &Theme::daylight(900.0)).svg, cure::front(&told, &Theme::daylight(900.0)).svg);
    }
}

#[test]
fn the_pair_is_drawn_at_one_scale_and_told_in_one_sentence() {
    let (job, weather) = ferry_house_job();
    let spring = asked("south", date(2027, 6, 2), Policy::HessianByRule);
    let pair = works::impatient(&job.inputs, &weather, &spring, [2, 9], &Unwatched).unwrap();
    for (which, (theme, wide)) in THEMES.iter().zip([1080.0, 900.0, 500.0]).enumerate() {
        let figure = cure::pair(&pair, &theme(wide));
        keep(&figure, &format!("cure-pair-{which}"));
        check(&figure, &format!("pair, theme {which}"));
    }
    let said = telling::impatient(&pair);
    for taken in pair.first_coat_m {
        assert!(said.contains(&format!("{:.2} mm", taken * 1000.0)), "{said}");
    }
    assert_eq!(pair.walls[0].days.len(), pair.walls[1].days.len(), "both are told to the same day");
}

#[test]
fn a_told_day_adds_up_to_its_hours() {
    let (job, weather) = ferry_house_job();
    let told = works::tell(&job.inputs, &weather, &asked("north", date(2027, 4, 28), Policy::HessianByRule), &Unwatched).unwrap();
    let rain: f64 = told.hours.iter().map(|hour| hour.rain_mm).sum();
    let by_day: f64 = told.days.iter().map(|day| day.rain_mm).sum();
    assert!((rain - by_day).abs() < 1e-9 && rain > 0.0);
    let table = String::from_utf8(telling::cure_csv(&told, true)).unwrap();
    assert_eq!(table.lines().count(), told.hours.len() + 1);
    for coat in told.coats.iter().filter(|coat| coat.ready.is_some()) {
        assert!(coat.placed < coat.ready && coat.rules.iter().all(|rule| rule.met.is_some_and(|met| Some(met) >= coat.placed)));
    }
}
