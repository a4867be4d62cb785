//! The site sheet for a phone, and a plan without its money: nothing of a price, nothing loaded from elsewhere, user words never markup.

use documents::week::weeks;
use documents::{plan_json, site_html, site_html_served, without_prices};

use crate::ferry_house::ferry_house;
use crate::support::{Names, plan};

/// The words of the page a person sees, without its style and script.
fn seen(html: &str) -> String {
    let from = html.find("<body").unwrap();
    let to = html.find("<script").unwrap();
    html[from..to].to_owned()
}

#[test]
fn the_sheet_is_one_file_that_loads_nothing_and_repeats() {
    let plan = ferry_house();
    let html = site_html(&plan);
    assert_eq!(html, site_html(&plan));
    assert_eq!(html.matches("href=").count(), html.matches("href=\"#").count(), "a link leads out of the sheet");
    for word in ["src=", "url(", "@import", "http://", "https://", "fetch(", "XMLHttpRequest"] {
        assert!(!html.contains(word), "the sheet reaches outside with {word}");
    }
    assert!(html.contains("default-src 'none'"));
    assert!(html.len() < 2_000_000, "{} bytes", html.len());
}

#[test]
fn every_day_of_the_middle_year_stands_on_the_sheet_with_its_work() {
    let plan = ferry_house();
    let html = site_html(&plan);
    let run = &plan.programme.runs[plan.programme.middle];
    let all = weeks(&plan);
    for wall in &run.walls {
        for task in &wall.tasks {
            let day = all.iter().flat_map(|week| &week.days).find(|day| day.date == task.from).unwrap();
            let on = day.walls.iter().find(|on| on.slug == wall.slug).unwrap();
            assert!(!on.work.is_empty(), "{} on {}", task.name, task.from);
        }
        let wettings: u32 = wall.days.iter().map(|day| day.wettings).sum();
        let told: u32 =
            all.iter().flat_map(|week| &week.days).flat_map(|day| &day.walls).filter(|on| on.slug == wall.slug).map(|on| on.wet).sum();
        assert_eq!(told, wettings, "wettings of {}", wall.slug);
        let evenings = all.iter().flat_map(|week| &week.days).filter(|day| day.walls.iter().any(|on| on.slug == wall.slug && on.evening));
        assert!(evenings.map(|day| day.date).eq(wall.damped.iter().copied()), "evenings of {}", wall.slug);
    }
    for caution in &plan.cautions {
        let words = caution.words.replace('&', "&amp;").replace('\'', "&#39;").replace('"', "&quot;");
        assert!(html.contains(&words), "the caution is missing: {}", caution.words);
    }
    for test in plan.specification.walls.iter().flat_map(|wall| &wall.coats).map(|coat| &coat.test) {
        assert!(html.contains(&test.replace('\'', "&#39;")), "the test is missing: {test}");
    }
}

#[test]
fn no_price_stands_on_the_sheet() {
    for plan in [ferry_house(), plan(4, Names::Short)] {
        let seen = seen(&site_html(&plan));
        let code = &plan.price.total.currency.code;
        assert!(!seen.contains(['£', '€', '$']) && !seen.contains(code.as_str()));
        for sum in [&plan.price.total, &plan.price.before_tax, &plan.price.per_m2] {
            assert!(!seen.contains(&sum.to_string()) && !seen.contains(&sum.to_tens().to_string()));
        }
    }
}

#[test]
fn stored_markup_is_shown_as_typed() {
    let html = site_html(&plan(4, Names::Markup));
    assert!(!html.contains("<b>&amp; "), "a wall's name became markup");
    assert!(html.contains("&lt;b&gt;"));
    let mut job = plan(1, Names::Short);
    job.about.name = "</script><script>alert(1)</script>".to_owned();
    job.about.place = "data-server=\"\" data-job=\"\"".to_owned();
    let html = site_html(&job);
    assert_eq!(html.matches("<script").count(), 2, "a name of a job opened a script of its own");
    let served = site_html_served(&html, "https://book.example.org", "mill\" onload=\"x", "abc");
    assert!(served.contains("<body data-server=\"https://book.example.org\" data-job=\"mill&quot; onload=&quot;x\">"));
    assert_eq!(served.matches("nonce=\"abc\"").count(), 2);
}

#[test]
fn a_plan_without_prices_names_no_money() {
    for plan in [ferry_house(), plan(4, Names::Short)] {
        let text = plan_json(&plan);
        let code = plan.price.total.currency.code.as_str();
        assert!(text.contains(code), "the whole plan names money, so that leaving it out can be seen");
        let bare = without_prices(&text).unwrap();
        let written = bare.to_string();
        assert!(!written.contains(&format!("\"{code}\"")) && !written.contains(['£', '€']));
        assert!(bare.get("price").is_none() && bare.get("headline").is_none() && bare.get("answers").is_none());
        let sums = [&plan.price.total, &plan.price.before_tax, &plan.price.cost, &plan.price.per_m2, &plan.price.overhead];
        for sum in sums {
            assert!(!written.contains(&format!("\"{}\"", sum.amount)) && !written.contains(&sum.to_string()), "{sum}");
        }
        for line in &plan.price.lines {
            assert!(
                !written.contains(&format!("\"path\":\"{}\",\"label\"", line.path)) || !line.path.starts_with("price"),
                "{}",
                line.path
            );
        }
        assert_eq!(bare["without_prices"], true);
        assert!(bare["programme"]["runs"].as_array().is_some_and(|runs| !runs.is_empty()), "the programme is kept");
    }
    assert!(without_prices("no plan").is_none() && without_prices("{}").is_none() && without_prices("[]").is_none());
}
