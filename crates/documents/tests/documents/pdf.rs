//! Typeset documents: they pass PDF/UA-1, repeat to the byte, and take any words as words.

use documents::{proposal_pdf, proposal_words, site_pdf, site_words};

use crate::support::{Names, plan};

fn keep(bytes: &[u8], name: &str) {
    std::fs::write(std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join(name), bytes).unwrap();
}

#[test]
fn both_pass_the_accessibility_export_and_repeat_to_the_byte() {
    for (walls, names, name) in
        [(4, Names::Short, "four"), (1, Names::Short, "one"), (8, Names::Long, "eight"), (3, Names::Markup, "markup")]
    {
        let plan = plan(walls, names);
        let (proposal, site) = (proposal_pdf(&plan).unwrap(), site_pdf(&plan).unwrap());
        keep(&proposal, &format!("proposal-{name}.pdf"));
        keep(&site, &format!("site-{name}.pdf"));
        assert_eq!(proposal, proposal_pdf(&plan).unwrap(), "proposal of {name} differs on repeat");
        assert_eq!(site, site_pdf(&plan).unwrap(), "site sheets of {name} differ on repeat");
    }
}

/// Words with every blank taken out: lines and runs break where they must.
fn squeezed(words: &str) -> String {
    words.chars().filter(|c| !c.is_whitespace()).collect()
}

#[test]
fn the_first_page_answers_every_question_and_each_page_says_it_is_invented() {
    for plan in [plan(4, Names::Short), crate::ferry_house::ferry_house()] {
        let pages = proposal_words(&plan).unwrap();
        let first = squeezed(&pages[0]);
        assert_eq!(plan.answers.len(), 9);
        for answer in &plan.answers {
            assert!(first.contains(&squeezed(&answer.question)), "{} is not on the first page", answer.question);
            assert!(first.contains(&squeezed(&answer.answer)), "{} is not answered on the first page", answer.question);
        }
        for page in pages.iter().chain(&site_words(&plan).unwrap()) {
            assert!(squeezed(page).contains("Inventedexample"), "a page does not say that it is invented: {page}");
        }
    }
}

#[test]
fn every_caution_that_applies_stands_in_both_documents() {
    for plan in [plan(1, Names::Short), crate::ferry_house::ferry_house()] {
        let (proposal, site) = (squeezed(&proposal_words(&plan).unwrap().join("")), squeezed(&site_words(&plan).unwrap().join("")));
        for caution in &plan.cautions {
            assert!(proposal.contains(&squeezed(&caution.words)), "the proposal lacks: {}", caution.words);
            assert!(site.contains(&squeezed(&caution.words)), "the site sheets lack: {}", caution.words);
        }
    }
}

#[test]
fn what_needs_a_decision_stands_in_the_proposal_with_its_remedy() {
    let plan = crate::ferry_house::ferry_house();
    let proposal = squeezed(&proposal_words(&plan).unwrap().join(""));
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
    let words = squeezed(&proposal_words(&plan).unwrap().join(""));
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
    proposal_pdf(&plan).unwrap();
    site_pdf(&plan).unwrap();
    assert!(proposal_words(&plan).unwrap()[0].contains('Ω'));
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
    proposal_pdf(&empty).unwrap();
    site_pdf(&empty).unwrap();
    assert!(documents::plan_json(&empty).len() > 100 && documents::programme_ics(&empty).contains("END:VCALENDAR"));
}

/// Not a bar but a look at the cost, for `cargo test -- --nocapture`: both documents of the demonstration, warm and in one process.
#[test]
fn both_documents_of_the_demonstration_are_set_in_reasonable_time() {
    let plan = crate::ferry_house::ferry_house();
    let started = std::time::Instant::now();
    proposal_pdf(&plan).unwrap();
    let proposal = started.elapsed();
    site_pdf(&plan).unwrap();
    println!("proposal {proposal:?}, both {:?}", started.elapsed());
    assert!(started.elapsed() < std::time::Duration::from_secs(20), "setting both documents took {:?}", started.elapsed());
}
