//! The arithmetic of the price against sums worked by hand, and its exact identities.

use reckoning::{Currency, Known, Money};
use rust_decimal::Decimal;
use works::LastJob;

use crate::fixture::job;

fn pounds(text: &str) -> Decimal {
    text.parse().unwrap()
}

// Exact solution, worked on paper for the one wall of 60 m²:
// gang-day: 8 h × (2 × 30 + 20) = 640. Preparation 1, scud 1, straightening laid 0.8 and ruled 0.2, finish 1, limewash 2.5, tie patches 0.5 days = 7 × 640 = 4,480.
// Putty 40 × 12.50 = 500. Plant: work falls in the weeks of 1, 8, 15, 22 and 29 June = 5 × 120 = 600.
// Visits 4 × (50 + 1 h × 80) = 520. Fresh coats looked at on 3, 4, 10, 11, 17 and 18 June with no gang there: 6 × 15 = 90.
// Scaffold up and down 60 × 9 = 540; adapted 60 × 1 = 60; hire 300 m²-weeks × 0.80 = 240.
// Cost 7,030; overhead 15 % = 1,054.50; before tax 8,084.50; tax 20 % = 1,616.90; with tax 9,701.40; per m² 8,084.50 ÷ 60 = 134.7416… → 134.74.
#[test]
fn the_price_of_one_wall() {
    let job = job(&["north"]);
    let price = job.price(&job.programme().unwrap()).unwrap();
    assert_eq!(price.cost.amount, pounds("7030"));
    assert_eq!(price.overhead.amount, pounds("1054.50"));
    assert_eq!(price.before_tax.amount, pounds("8084.50"));
    assert_eq!(price.tax.amount, pounds("1616.90"));
    assert_eq!(price.total.amount, pounds("9701.40"));
    assert_eq!(price.per_m2.amount, pounds("134.74"));
    assert_eq!(price.walls.iter().map(|wall| wall.amount.amount).sum::<Decimal>(), price.before_tax.amount);
    assert_eq!(price.eight_in_ten, None);
    assert_eq!(price.valid_days, 60);
    for path in ["price.total", "price.per-m2", "price.before-tax", "price.labour.scud.first-gang"] {
        assert!(price.reckonings.get(path).is_some(), "{path} cannot be asked");
    }
}

// Published rule: HMRC internal manual VATREC12030: less than 0.5 of a penny is rounded down, 0.5 of a penny or more up, "the same system as that outlined in
// EU Council Regulation 1103/97". Published worked example, an invoicing service's reference on calculations and rounding
// (developer.wafeq.com/reference/calculations-and-rounding): 45.30 at 5 % is 2.265, shown 2.27; 33.45 at 10 % is 3.345, shown 3.35; tax 5.62 on 78.75, in
// all 84.37. Rounding half to even would give 2.26 and 3.34. Published worked example of tax on the whole, as the price has it: 5.31 at 6 % is 0.32, in all
// 5.63 (mrp.com.my, Calculating GST on tax invoices, example 2).
// Derived: 10,000 × 1.10 × 1.08 × 1.06 × 1.05 × 1.20 = 15,866.928 (preliminaries, overhead, profit, contingency and tax, compounding in order): 15,866.93.
#[test]
fn rounding_is_half_away_from_zero_as_published() {
    let cents = |amount: Decimal| Money::new(amount, Currency::from_code("GBP").unwrap()).to_cents().amount;
    let (first, second) = (cents(pounds("45.30") * pounds("0.05")), cents(pounds("33.45") * pounds("0.10")));
    assert_eq!((first, second), (pounds("2.27"), pounds("3.35")));
    assert_eq!(first + second, pounds("5.62"));
    assert_eq!(pounds("78.75") + first + second, pounds("84.37"));
    let whole = cents(pounds("5.31") * pounds("0.06"));
    assert_eq!((whole, pounds("5.31") + whole), (pounds("0.32"), pounds("5.63")));
    let chain = ["1.10", "1.08", "1.06", "1.05", "1.20"].iter().fold(pounds("10000"), |sum, factor| sum * pounds(factor));
    assert_eq!(cents(chain), pounds("15866.93"));
    assert_eq!(cents(pounds("-2.345")), pounds("-2.35"));
}

#[test]
fn money_twice_is_the_same_plan_at_twice_the_price() {
    let plain = job(&["north", "south"]);
    let mut twice = job(&["north", "south"]);
    let double = |known: &mut Known<Decimal>| known.value *= Decimal::TWO;
    let rates = &mut twice.inputs.rates;
    [&mut rates.mason_h, &mut rates.labourer_h, &mut rates.water_m3, &mut rates.plant_week].into_iter().for_each(double);
    [&mut rates.visit, &mut rates.damping_visit, &mut rates.hessian_m2].into_iter().for_each(double);
    rates.materials.iter_mut().for_each(|(_, rate)| double(rate));
    double(&mut twice.inputs.scaffold.up_and_down_m2);
    double(&mut twice.inputs.scaffold.hire_m2_week);
    double(&mut twice.inputs.scaffold.adapt_m2);
    let (one, two) = (plain.programme().unwrap(), twice.programme().unwrap());
    assert_eq!(one, two);
    let (one, two) = (plain.price(&one).unwrap(), twice.price(&two).unwrap());
    assert_eq!(one.before_tax.amount * Decimal::TWO, two.before_tax.amount);
    assert_eq!(one.total.amount * Decimal::TWO, two.total.amount);
}

// The last job cost 6,500 for 50 m²: 130 a m², shown beside this one's 134.74.
#[test]
fn the_last_job_stands_beside_the_price_a_square_metre() {
    let mut job = job(&["north"]);
    job.inputs.rates.last_job = Some(LastJob { cost: pounds("6500"), area_m2: 50.0, gang_days: 6.5 });
    let price = job.price(&job.programme().unwrap()).unwrap();
    let check = &price.reckonings.get("price.per-m2").unwrap().inputs[2];
    assert_eq!(check.value.to_string(), "£130");
    assert_eq!(price.quotation.last_job_m2.as_ref().unwrap().amount, pounds("130"));
    // Without scaffold, as the last job is asked for: (7,030 − 540 − 60 − 240) × 1.15 = 7,118.50, over 60 m².
    assert_eq!(price.quotation.without_scaffold_m2.amount, pounds("118.64"));
    assert_eq!(price.before_tax.amount, pounds("8084.50"), "the last job sets no line of its own");
}

#[test]
fn a_material_without_a_price_is_left_out_and_said() {
    let mut job = job(&["north"]);
    job.quantities.materials.push(crate::fixture::material("goat-hair", 2, "1 kg bag", &["scud"]));
    let price = job.price(&job.programme().unwrap()).unwrap();
    assert_eq!(price.before_tax.amount, pounds("8084.50"));
    assert!(price.exclusions.iter().any(|line| line.contains("goat-hair") && line.contains("no price was given")));
}

// A gang that stands idle and is paid: Wed 3 June to Mon 22 June less days worked. Working days from 1 to 30 June: 22; worked 7; idle 15 × 640 = 9,600.
#[test]
fn a_gang_paid_while_idle_costs_its_days() {
    let mut job = job(&["north"]);
    job.inputs.gangs[0].between = works::Between::IdlePaid;
    let price = job.price(&job.programme().unwrap()).unwrap();
    let idle = price.lines.iter().find(|line| line.path.starts_with("price.labour.idle")).unwrap();
    assert_eq!(idle.amount.amount, pounds("9600"));
}

// Worked on paper: the gang is on site on 1, 2, 9, 16, 23, 24, 25, 26, 29 and 30 June (five limewashes and the tie patches, half a day each on its own day): 10 days × 1 h × 80 = 800
// for a gang that goes home each night, 4 visits × 80 = 320 for one that stays.
#[test]
fn travel_is_paid_each_day_when_the_gang_goes_home() {
    let line = |home: bool| {
        let mut job = job(&["north"]);
        job.inputs.gangs[0].home_each_night = Known::answered(home);
        let price = job.price(&job.programme().unwrap()).unwrap();
        price.lines.iter().find(|line| line.path == "price.travel.first-gang").unwrap().clone()
    };
    assert_eq!(line(true).amount.amount, pounds("800"));
    assert!(line(true).words.contains("each day on site"));
    assert_eq!(line(false).amount.amount, pounds("320"));
}

// Worked on paper: 60 m² of cement at 10 m² a gang-day (6 to 16) is 6 days more than a bare wall's one; its waste lies 60 × 0.020 × 1.5 = 1.8 m³ at 60 = 108;
// making good is 60 m² × 8 (0 to 25) = 480. At the low ends: (60/16 = 3.8) days, 60 × 0.012 × 1.5 = 1.1 m³ and nothing made good.
#[test]
fn a_covered_wall_costs_more_than_a_bare_one() {
    let bare = job(&["north"]);
    let bare = bare.price(&bare.programme().unwrap()).unwrap();
    assert_eq!(bare.range, None);
    assert!(!bare.lines.iter().any(|line| line.heading == "Provisional"));
    let mut covered = job(&["north"]);
    covered.survey.building.walls[0].old_covering.value = survey::OldCovering::Cement;
    let output = &mut covered.inputs.rates.outputs.take_off_cement;
    *output = Known::assumed(10.0, "common practice, no source", Some((6.0, 16.0)));
    let making_good = &mut covered.inputs.rates.making_good_m2;
    *making_good = Known::assumed(pounds("8"), "common practice, no source", Some((pounds("0"), pounds("25"))));
    let price = covered.price(&covered.programme().unwrap()).unwrap();
    let line = |path: &str| price.lines.iter().find(|line| line.path == path).unwrap();
    assert_eq!(line("price.labour.preparation.first-gang").quantity, 7.0);
    assert!(line("price.labour.preparation.first-gang").words.contains("3.8 to 10.0"));
    assert_eq!(line("price.provisional.waste").amount.amount, pounds("108"));
    assert_eq!(line("price.provisional.making-good").amount.amount, pounds("480"));
    let (low, high) = price.range.as_ref().unwrap();
    // Cost less 6 × 640 + 108 + 480 = 4,428, and 3.8 × 640 + 1.1 × 60 = 2,498 in its place, with 15 % overhead.
    assert_eq!(low.amount, ((price.cost.amount - pounds("4428") + pounds("2498")) * pounds("1.15")).round_dp(2));
    assert!(low.amount < price.before_tax.amount && price.before_tax.amount < high.amount);
    for path in ["price.provisional.waste", "price.provisional.making-good", "price.travel.first-gang"] {
        assert!(price.reckonings.get(path).is_some(), "{path} cannot be asked");
    }
}

// Before stripping even a wall said to be bare carries the sum for what is not yet seen.
#[test]
fn before_stripping_the_price_is_a_range() {
    let mut job = job(&["north"]);
    job.survey.building.stage = survey::Stage::BeforeStripping;
    let price = job.price(&job.programme().unwrap()).unwrap();
    assert!(price.lines.iter().any(|line| line.path == "price.provisional.making-good"));
    assert!(price.range.is_some());
}

// A middle year that does not end has no price to be given; the lines stay for the record.
#[test]
fn a_job_unfinished_in_the_middle_year_has_no_price_to_give() {
    let job = job(&["north"]);
    let mut programme = job.programme().unwrap();
    assert_eq!(job.price(&programme).unwrap().not_given, None);
    let middle = programme.middle;
    programme.runs[middle].finished = None;
    let price = job.price(&programme).unwrap();
    assert!(price.not_given.unwrap().contains("not finished this season"));
    assert!(!price.lines.is_empty());
}

// Worked on paper: the gang is on site on 1, 2, 9, 16, 23, 24, 25, 26, 29 and 30 June, the last six being half-days; two hands and a labourer stay the
// nights of 1, 23, 24, 25 and 29 June: 5 × 3 × 45 = 675; six half-days of 4 h paid as 6 h: 6 × 2 h × 80 = 960.
#[test]
fn a_gang_away_pays_lodging_and_a_least_day() {
    let mut job = job(&["north"]);
    job.inputs.rates.terms.lodging = pounds("45");
    job.inputs.rates.terms.least_paid_h = pounds("6");
    let price = job.price(&job.programme().unwrap()).unwrap();
    let amount = |path: &str| price.lines.iter().find(|line| line.path == path).map(|line| line.amount.amount);
    assert_eq!(amount("price.lodging.first-gang"), Some(pounds("675")));
    assert_eq!(amount("price.least-day.first-gang"), Some(pounds("960")));
    job.inputs.gangs[0].home_each_night = Known::answered(true);
    let price = job.price(&job.programme().unwrap()).unwrap();
    assert!(price.lines.iter().all(|line| line.heading != "Lodging"));
}

// Published worked examples: numpy-financial 1.0.0, reference of `npv`: 40,000 laid out and 5,000, 8,000, 12,000 and 30,000 brought in at the ends of four
// periods at 8 % are worth 3,065.22267. NumPy 1.17, reference of `npv`, after L. J. Gitman, Principles of Managerial Finance, 2003, page 346: 100 laid out
// and 39, 59, 55 and 20 brought in at 28.1 % are worth −0.00848. Beside them, from memory: HM Treasury, The Green Book, discount factors at 3.5 % a year.
#[test]
fn net_present_value_is_that_of_published_examples() {
    let worth = |rate: f64, sums: &[f64]| {
        let flows: Vec<(f64, f64)> = sums.iter().enumerate().map(|(year, sum)| (year as f64, *sum)).collect();
        works::present_value(rate, &flows)
    };
    let project = worth(0.08, &[-40_000.0, 5_000.0, 8_000.0, 12_000.0, 30_000.0]);
    assert!((project - 3_065.222_67).abs() < 5e-6, "{project}");
    let at_its_own_rate = worth(0.281, &[-100.0, 39.0, 59.0, 55.0, 20.0]);
    assert!((at_its_own_rate - -0.008_478_591_6).abs() < 5e-11, "{at_its_own_rate}");
    for (years, factor) in [(1.0, 0.9662), (2.0, 0.9335), (3.0, 0.9019), (4.0, 0.8714), (10.0, 0.7089)] {
        assert!((works::present_value(0.035, &[(years, 1.0)]) - factor).abs() < 5e-5, "year {years}");
    }
}

// The stages add up to the price to the penny; 5 % of each is held back; what comes later is worth less.
#[test]
fn stages_and_retention_add_up_to_the_price() {
    let mut job = job(&["north"]);
    job.inputs.rates.terms.retention = pounds("0.05");
    job.inputs.rates.terms.interest = Some(pounds("0.06"));
    let price = job.price(&job.programme().unwrap()).unwrap();
    let stages = &price.quotation.stages;
    assert_eq!(stages.len(), 5);
    assert_eq!(stages.iter().map(|stage| stage.gross.amount).sum::<Decimal>(), price.before_tax.amount);
    let (retained, due) = price.quotation.retention.as_ref().unwrap();
    assert_eq!(stages.iter().map(|stage| stage.due.amount).sum::<Decimal>() + retained.amount, price.before_tax.amount);
    assert!(stages[..4].iter().all(|stage| (stage.gross.amount % Decimal::TEN).is_zero()), "tens of money");
    // Tie patches are made good on Tuesday 30 June, the last day on the job; six months later by the calendar.
    assert_eq!(*due, Some(jiff::civil::date(2026, 12, 30)));
    let worth = price.quotation.worth_at_start.as_ref().unwrap();
    assert!(worth.amount < price.before_tax.amount && worth.amount > price.before_tax.amount * pounds("0.98"));
    let measured: Decimal = price.quotation.by_measure.iter().filter_map(|line| line.amount.as_ref()).map(|money| money.amount).sum();
    assert_eq!(measured, price.before_tax.amount, "a wall without openings is measured by its face alone");
}

// Worked on paper: 8,084.50 before tax is made up to 9,000 by 915.50 ÷ 1.15 = 796.0869…, rounded up to 796.09 so that it is never under.
#[test]
fn a_small_job_has_a_least_charge() {
    let mut job = job(&["north"]);
    job.inputs.rates.terms.least_charge = pounds("9000");
    let price = job.price(&job.programme().unwrap()).unwrap();
    let line = price.lines.iter().find(|line| line.path == "price.least-charge").unwrap();
    assert_eq!(line.amount.amount, pounds("796.09"));
    assert!(price.before_tax.amount >= pounds("9000") && price.before_tax.amount < pounds("9000.02"));
    job.inputs.rates.terms.least_charge = pounds("8000");
    assert_eq!(job.price(&job.programme().unwrap()).unwrap().before_tax.amount, pounds("8084.50"));
}

// The identities of risk: middle + expected weather + redo = mean; the price stands at the mean, or at the margin, which is never below it.
#[test]
fn the_price_stands_on_the_middle_year_and_carries_the_weather() {
    let years = weather::invented::years(3, 20).unwrap();
    let mut job = job(&["north", "south"]);
    job.survey.building.surveyed_on = "2026-05-25".to_owned();
    let programme = job.programme_in(Some(&years)).unwrap();
    let cent = pounds("0.03");
    let plain = job.price(&programme).unwrap();
    let risk = plain.risk.as_ref().unwrap();
    let sum = risk.middle.amount + risk.expected_weather.amount + risk.redo.amount;
    assert!((sum - risk.mean.amount).abs() <= cent, "{sum} against {}", risk.mean.amount);
    let by_year: Decimal = plain.by_year.iter().map(|money| money.amount).sum::<Decimal>() / Decimal::from(20);
    assert!((by_year - risk.mean.amount).abs() <= cent, "the mean of the years: {by_year}");
    assert!((plain.before_tax.amount - risk.mean.amount).abs() <= cent, "without a margin the price stands at the mean");
    assert_eq!(risk.margin, None);
    for share in &risk.shares {
        let (at, margin) = (share.price.as_ref().unwrap().amount, share.margin.as_ref().unwrap().amount);
        assert_eq!(margin, at.max(risk.mean.amount) - risk.middle.amount, "{} in 20", share.years_in_20);
        assert!(plain.reckonings.get(&format!("price.risk.margin-{}", share.years_in_20)).is_some());
    }
    let shares: Vec<Decimal> = risk.shares.iter().map(|share| share.price.as_ref().unwrap().amount).collect();
    assert!(shares[0] <= shares[1] && shares[1] <= shares[2], "{shares:?}");
    for twentieths in [10, 16, 19] {
        job.inputs.rates.terms.margin_years_in_20 = Some(twentieths);
        let price = job.price(&programme).unwrap();
        let risk = price.risk.as_ref().unwrap();
        let with = risk.with_margin.as_ref().unwrap();
        assert!(with.amount >= risk.mean.amount, "never below the mean");
        assert_eq!(risk.margin.as_ref().unwrap().amount, with.amount - risk.middle.amount);
        assert!(
            (price.before_tax.amount - with.amount).abs() <= cent,
            "{twentieths} in 20: {} against {}",
            price.before_tax.amount,
            with.amount
        );
    }
    for path in ["price.risk.mean", "price.risk.expected-weather", "price.risk.redo"] {
        assert!(plain.reckonings.get(path).is_some(), "{path} cannot be asked");
    }
}
