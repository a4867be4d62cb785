//! Figures: no two runs of words share ground, none leaves the sheet, and names with markup stay words.

use documents::figures::{Figure, Theme, calendar, cure, elevations, section, site_plan, spread, walls_in_a_row};
use works::Plan;

use crate::support::{Names, plan};

fn all(plan: &Plan, theme: &Theme) -> Vec<Figure> {
    let slugs: Vec<&str> = plan.survey.walls.iter().map(|wall| wall.slug.as_str()).collect();
    let mut figures = vec![
        elevations(plan, theme),
        walls_in_a_row(plan, theme),
        site_plan(plan, &Theme { wide: theme.size * 18.0, ..theme.clone() }),
        spread(plan, theme),
    ];
    figures.extend(slugs.iter().filter_map(|slug| section(plan, slug, theme)));
    figures.extend(calendar(plan, &slugs, theme));
    figures.extend(slugs.iter().filter_map(|slug| cure::front_of_plan(plan, slug, theme)));
    figures
}

pub fn keep(figure: &Figure, name: &str) {
    let path = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("{name}.svg"));
    std::fs::write(path, &figure.svg).unwrap();
}

#[test]
fn no_words_collide_and_none_leave_the_sheet() {
    for (walls, names) in [(1, Names::Short), (4, Names::Short), (8, Names::Long), (3, Names::Markup)] {
        check_all(&plan(walls, names), &format!("{walls} walls"));
    }
}

/// Every figure of a plan in four themes.
pub fn check_all(plan: &Plan, name: &str) {
    for (which, theme) in [Theme::paper(500.0), Theme::paper(750.0), Theme::daylight(1080.0), Theme::dark(700.0)].iter().enumerate() {
        for (index, figure) in all(plan, theme).iter().enumerate() {
            keep(figure, &format!("figure-{}-{which}-{index}", name.replace(' ', "-")));
            check(figure, &format!("{name}, theme {which}"));
        }
    }
}

pub fn check(figure: &Figure, which: &str) {
    for (index, boxed) in figure.words.iter().enumerate() {
        let inside = boxed.left >= -0.5 && boxed.right <= figure.width + 0.5 && boxed.top >= -0.5 && boxed.bottom <= figure.height + 0.5;
        assert!(
            inside,
            "{which}: {:?} leaves the sheet of {} ({} by {}): {boxed:?}",
            boxed.words, figure.title, figure.width, figure.height
        );
        for other in &figure.words[index + 1..] {
            assert!(!boxed.meets(other), "{which}: {:?} meets {:?} in {}", boxed.words, other.words, figure.title);
        }
    }
}

#[test]
fn a_collision_would_be_seen() {
    let mut figure = elevations(&plan(1, Names::Short), &Theme::paper(500.0));
    let twin = figure.words[0].clone();
    figure.words.push(twin);
    assert!(std::panic::catch_unwind(|| check(&figure, "twin")).is_err());
}

#[test]
fn markup_in_names_stays_words() {
    let figure = elevations(&plan(1, Names::Markup), &Theme::paper(500.0));
    assert!(figure.svg.contains("*&lt;b&gt;&amp;amp;"), "{}", &figure.svg[figure.svg.len() - 900..]);
    assert!(!figure.svg.contains("<b>"));
}
