//! Typeset documents: they pass PDF/UA-1, repeat to the byte, and take any words as words.

use documents::{damping_pdf, damping_words, proposal_pdf, proposal_words, season_pdf, season_words, site_pdf, site_words};

use crate::support::{Names, plan};

fn keep(bytes: &[u8], name: &str) {
    std::fs::write(std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join(name), bytes).unwrap();
}

#[test]
fn all_pass_the_accessibility_export_and_repeat_to_the_byte() {
    for (walls, names, name) in
        [(4, Names::Short, "four"), (1, Names::Short, "one"), (8, Names::Long, "eight"), (3, Names::Markup, "markup")]
    {
        let plan = plan(walls, names);
        let (proposal, site) = (proposal_pdf(&plan, None).unwrap(), site_pdf(&plan).unwrap());
        keep(&proposal, &format!("proposal-{name}.pdf"));
        keep(&site, &format!("site-{name}.pdf"));
        assert_eq!(proposal, proposal_pdf(&plan, None).unwrap(), "proposal of {name} differs on repeat");
        assert_eq!(site, site_pdf(&plan).unwrap(), "site sheets of {name} differ on repeat");
        let damping = damping_pdf(&plan).unwrap();
        keep(&damping, &format!("damping-{name}.pdf"));
        assert_eq!(damping, damping_pdf(&plan).unwrap(), "damping sheet of {name} differs on repeat");
    }
}

/// Words with every blank taken out: lines and runs break where they must.
fn squeezed(words: &str) -> String {
    words.chars().filter(|c| !c.is_whitespace()).collect()
}

#[test]
fn the_first_page_answers_every_question_and_each_page_says_it_is_invented() {
    for plan in [plan(4, Names::Short), crate::ferry_house::ferry_house()] {
        let pages = proposal_words(&plan, None).unwrap();
        let first = squeezed(&pages[0]);
        assert_eq!(plan.answers.len(), 10);
        for answer in &plan.answers {
            assert!(first.contains(&squeezed(&answer.question)), "{} is not on the first page", answer.question);
            assert!(first.contains(&squeezed(&answer.answer)), "{} is not answered on the first page", answer.question);
        }
        for page in pages.iter().chain(&site_words(&plan).unwrap()).chain(&damping_words(&plan).unwrap()) {
            assert!(squeezed(page).contains("Inventedexample"), "a page does not say that it is invented: {page}");
        }
    }
}

#[test]
fn every_caution_that_applies_stands_in_both_documents() {
    for plan in [plan(1, Names::Short), crate::ferry_house::ferry_house()] {
        let (proposal, site) = (squeezed(&proposal_words(&plan, None).unwrap().join("")), squeezed(&site_words(&plan).unwrap().join("")));
        for caution in &plan.cautions {
            assert!(proposal.contains(&squeezed(&caution.words)), "the proposal lacks: {}", caution.words);
            assert!(site.contains(&squeezed(&caution.words)), "the site sheets lack: {}", caution.words);
        }
    }
}

#[test]
fn what_needs_a_decision_stands_in_the_proposal_with_its_remedy() {
    let plan = crate::ferry_house::ferry_house();
    let proposal = squeezed(&proposal_words(&plan, None).unwrap().join(""));
    let heavy = plan.findings.iter().filter(|finding| matches!(finding.grade, reckoning::Grade::Stop | reckoning::Grade::Think));
    for finding in heavy {
        for words in [&finding.says, &finding.reason, &finding.remedy] {
            assert!(proposal.contains(&squeezed(words)), "the proposal lacks: {words}");
        }
    }
}

#[test]
fn markup_in_names_is_shown_as_it_was_written() {
    let plan = plan(3, Names::Markup);
    let words = squeezed(&proposal_words(&plan, None).unwrap().join(""));
    assert!(words.contains(&squeezed(&plan.about.client)), "the client's name was read as markup");
    for wall in &plan.survey.building.walls {
        assert!(words.contains(&squeezed(&wall.name)), "a wall's name was read as markup: {}", wall.name);
    }
    let site = squeezed(&site_words(&plan).unwrap().join(""));
    assert!(site.contains(&squeezed(&plan.survey.building.walls[0].name)));
}

#[test]
fn letters_that_no_font_holds_do_not_stop_a_document() {
    let mut plan = plan(1, Names::Short);
    plan.about.client = "石灰 \u{202e}x\u{0} 🏚 Ωmega".to_owned();
    proposal_pdf(&plan, None).unwrap();
    site_pdf(&plan).unwrap();
    damping_pdf(&plan).unwrap();
    assert!(proposal_words(&plan, None).unwrap()[0].contains('Ω'));
}

/// A hot-mixed job gets no recipe: nothing on its cards puts water to quicklime.
#[test]
fn no_card_gives_a_recipe_for_quicklime() {
    let mut plan = plan(1, Names::Short);
    plan.catalogue.limes.get_mut("putty-cl90").unwrap().kind = materials::LimeKind::Quicklime;
    let cards = documents::batch::cards(&plan);
    assert!(cards.iter().all(|card| card.recipe == documents::batch::Recipe::HotMixed));
    let words = site_words(&plan).unwrap().join("");
    assert!(squeezed(&words).contains("nobatchisgivenhere") && !words.contains("buckets"));
}

#[test]
fn a_plan_without_walls_or_weather_still_gives_documents() {
    let mut empty = plan(1, Names::Short);
    empty.programme.runs.clear();
    empty.programme.odds = None;
    empty.programme.no_odds = Some("No weather was given, so no odds are given.".to_owned());
    empty.survey.walls.clear();
    empty.survey.building.walls.clear();
    empty.specification.walls.clear();
    empty.quantities.walls.clear();
    proposal_pdf(&empty, None).unwrap();
    site_pdf(&empty).unwrap();
    assert_eq!(damping_words(&empty).unwrap().len(), 1);
    assert!(documents::plan_json(&empty).len() > 100 && documents::programme_ics(&empty).contains("END:VCALENDAR"));
}

#[test]
fn the_damping_sheet_is_one_page_and_asks_for_the_days_the_programme_pays_for() {
    for (plan, name) in [(crate::ferry_house::ferry_house(), "demo"), (plan(1, Names::Short), "one"), (plan(8, Names::Long), "eight")] {
        let pages = damping_words(&plan).unwrap();
        assert_eq!(pages.len(), 1, "{name}");
        let page = squeezed(&pages[0]);
        for words in documents::damping::HOW.iter().chain(&documents::damping::NEVER).chain([&documents::damping::CALL]) {
            assert!(page.contains(&squeezed(words)), "{name} lacks: {words}");
        }
        assert!(page.contains("Telephone") && page.contains("Otherdays"), "{name}");
        assert!(!page.contains('£'), "no price goes to a neighbour");
    }
    let plan = crate::ferry_house::ferry_house();
    keep(&damping_pdf(&plan).unwrap(), "damping-demo.pdf");
    let days = documents::damping::damping_days(&plan);
    let run = &plan.programme.runs[plan.programme.middle];
    assert!(!days.is_empty() && days.iter().any(documents::damping::DampingDay::is_weekend));
    let page = squeezed(&damping_words(&plan).unwrap()[0]);
    for day in days.iter().take(60) {
        assert!(page.contains(&squeezed(&day.date.strftime("%a %-d %b").to_string())), "{} is not on the sheet", day.date);
    }
    // The foreman pays a visit for each hour at which something is wetted, and the evening's damping down falls in the last of them.
    let visits: u32 = days.iter().map(|day| day.times.max(u32::from(!day.evening.is_empty()))).sum();
    assert!(
        visits <= run.damping_visits && run.damping_visits <= visits + days.len() as u32,
        "{visits} on the sheet, {} paid",
        run.damping_visits
    );
}

#[test]
fn the_damping_sheet_carries_the_cautions_its_words_call_for() {
    let plan = crate::ferry_house::ferry_house();
    let page = damping_words(&plan).unwrap().join("");
    let flowed = squeezed(&page);
    let shown: Vec<_> = plan.catalogue.cautions.iter().filter(|caution| flowed.contains(&squeezed(&caution.words))).collect();
    // The cautions' own words call for nothing more.
    let speech = page.split("Wet lime burns").next().unwrap_or_default();
    for caution in &plan.catalogue.cautions {
        let due = caution.is_always_shown_in("damping") || caution.is_called_for_by(speech);
        assert!(!due || shown.contains(&caution), "{:?} is named without its caution", caution.hazard);
    }
    assert!(shown.len() >= 3, "lime, height and a loaded scaffold at least");
}

#[test]
fn a_reckoned_year_stands_in_the_proposal_and_on_a_sheet_of_its_own() {
    let plan = crate::ferry_house::ferry_house();
    let season = crate::almanac::invented(52, "Wall to the");
    let without = proposal_words(&plan, None).unwrap();
    let with = proposal_words(&plan, Some(&season)).unwrap();
    assert_eq!(with.len(), without.len() + 1, "one page more");
    assert!(!squeezed(&without.join("")).contains("Whentostart"));
    let alone = season_words(&plan.about, &season).unwrap();
    keep(&season_pdf(&plan.about, &season).unwrap(), "season.pdf");
    assert_eq!(season_pdf(&plan.about, &season).unwrap(), season_pdf(&plan.about, &season).unwrap());
    for words in [with.join(""), alone.join("")] {
        let words = squeezed(&words);
        assert!(words.contains(&squeezed(&season.sentence)));
        for wall in &season.walls {
            assert!(words.contains(&squeezed(&wall.says)), "{}", wall.says);
        }
    }
    let table = squeezed(&alone.join(""));
    for week in &season.weeks {
        assert!(table.contains(&squeezed(&documents::words::day(week.start))), "{} is not in the table", week.start);
    }
}

#[test]
fn the_price_is_given_in_all_its_parts() {
    let plan = crate::ferry_house::ferry_house();
    let words = squeezed(&proposal_words(&plan, None).unwrap().join(""));
    let price = &plan.price;
    for part in ["Whattheweathercosts", "Bymeasure", "Provisionalsums", "Paymentandterms", "Workorderedbeyondthis", "Notinit", "Taxat20%"] {
        assert!(words.contains(part), "{part}");
    }
    let risk = price.risk.as_ref().unwrap();
    let tens = [&risk.middle, &risk.expected_weather, &risk.redo, &risk.mean];
    for money in tens.into_iter().chain(risk.shares.iter().filter_map(|share| share.margin.as_ref())) {
        assert!(words.contains(&squeezed(&money.to_tens().to_string())), "{money} is not told");
    }
    let told = price.quotation.stages.iter().map(|stage| &stage.words).chain(price.quotation.by_measure.iter().map(|line| &line.words));
    for told in told.chain(&price.exclusions) {
        assert!(words.contains(&squeezed(told)), "{told}");
    }
    for (what, rate) in &price.quotation.daywork {
        assert!(words.contains(&squeezed(what)) && words.contains(&squeezed(&rate.to_string())), "{what}");
    }
}

/// Not a bar but a look at the cost, for `cargo test -- --nocapture`: both documents of the demonstration, warm and in one process.
#[test]
fn both_documents_of_the_demonstration_are_set_in_reasonable_time() {
    let plan = crate::ferry_house::ferry_house();
    let started = std::time::Instant::now();
    proposal_pdf(&plan, None).unwrap();
    let proposal = started.elapsed();
    site_pdf(&plan).unwrap();
    println!("proposal {proposal:?}, both {:?}", started.elapsed());
    assert!(started.elapsed() < std::time::Duration::from_secs(20), "setting both documents took {:?}", started.elapsed());
}
