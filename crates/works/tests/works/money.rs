//! The arithmetic of the price against sums worked by hand, and its exact identities.

use reckoning::{Currency, Known, Money};
use rust_decimal::Decimal;
use works::LastJob;

use crate::fixture::job;

fn pounds(text: &str) -> Decimal {
    text.parse().unwrap()
}

// Exact solution, worked on paper for the one wall of 60 m²:
// gang-day: 8 h × (2 × 30 + 20) = 640. Preparation 1, scud 1, straightening 1, finish 1, limewash 2.5 days = 6.5 × 640 = 4,160.
// Putty 40 × 12.50 = 500. Plant: work falls in the weeks of 1, 8, 15, 22 and 29 June = 5 × 120 = 600.
// Visits 4 × (50 + 1 h × 80) = 520. Scaffold up and down 60 × 9 = 540; hire 300 m²-weeks × 0.80 = 240.
// Cost 6,560; overhead 15 % = 984; before tax 7,544; tax 20 % = 1,508.80; with tax 9,052.80; per m² 7,544 ÷ 60 = 125.7333… → 125.73.
#[test]
fn the_price_of_one_wall() {
    let job = job(&["north"]);
    let price = job.price(&job.programme().unwrap()).unwrap();
    assert_eq!(price.cost.amount, pounds("6560"));
    assert_eq!(price.overhead.amount, pounds("984"));
    assert_eq!(price.before_tax.amount, pounds("7544"));
    assert_eq!(price.tax.amount, pounds("1508.80"));
    assert_eq!(price.total.amount, pounds("9052.80"));
    assert_eq!(price.per_m2.amount, pounds("125.73"));
    assert_eq!(price.walls.iter().map(|wall| wall.amount.amount).sum::<Decimal>(), price.before_tax.amount);
    assert_eq!(price.eight_in_ten, None);
    assert_eq!(price.valid_days, 60);
    for path in ["price.total", "price.per-m2", "price.before-tax", "price.labour.scud.first-gang"] {
        assert!(price.reckonings.get(path).is_some(), "{path} cannot be asked");
    }
}

// Derived: 10,000 × 1.10 × 1.08 × 1.06 × 1.05 × 1.20 = 15,866.928 (preliminaries, overhead, profit, contingency and tax, compounding in order).
// Published rule (round half away from zero, as Council Regulation (EC) No 1103/97, article 5, has sums "exactly half-way" rounded up): 15,866.93; 2.345 → 2.35.
#[test]
fn rounding_is_half_away_from_zero() {
    let pound = || Currency::from_code("GBP").unwrap();
    let chain = ["1.10", "1.08", "1.06", "1.05", "1.20"].iter().fold(pounds("10000"), |sum, factor| sum * pounds(factor));
    assert_eq!(Money::new(chain, pound()).to_cents().amount, pounds("15866.93"));
    assert_eq!(Money::new(pounds("2.345"), pound()).to_cents().amount, pounds("2.35"));
    assert_eq!(Money::new(pounds("-2.345"), pound()).to_cents().amount, pounds("-2.35"));
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
    let (one, two) = (plain.programme().unwrap(), twice.programme().unwrap());
    assert_eq!(one, two);
    let (one, two) = (plain.price(&one).unwrap(), twice.price(&two).unwrap());
    assert_eq!(one.before_tax.amount * Decimal::TWO, two.before_tax.amount);
    assert_eq!(one.total.amount * Decimal::TWO, two.total.amount);
}

// The last job cost 6,500 for 50 m²: 130 a m², shown beside this one's 125.73.
#[test]
fn the_last_job_stands_beside_the_price_a_square_metre() {
    let mut job = job(&["north"]);
    job.inputs.rates.last_job = Some(LastJob { cost: pounds("6500"), area_m2: 50.0, gang_days: 6.5 });
    let price = job.price(&job.programme().unwrap()).unwrap();
    let check = &price.reckonings.get("price.per-m2").unwrap().inputs[2];
    assert_eq!(check.value.to_string(), "£130");
    assert_eq!(price.before_tax.amount, pounds("7544"), "the last job sets no line of its own");
}

#[test]
fn a_material_without_a_price_is_left_out_and_said() {
    let mut job = job(&["north"]);
    job.quantities.materials.push(crate::fixture::material("goat-hair", 2, "1 kg bag", &["scud"]));
    let price = job.price(&job.programme().unwrap()).unwrap();
    assert_eq!(price.before_tax.amount, pounds("7544"));
    assert!(price.exclusions.iter().any(|line| line.contains("goat-hair") && line.contains("no price was given")));
}

// A gang that stands idle and is paid: Wed 3 June to Mon 22 June less days worked. Working days from 1 to 29 June: 21; worked 6.5; idle 14.5 × 640 = 9,280.
#[test]
fn a_gang_paid_while_idle_costs_its_days() {
    let mut job = job(&["north"]);
    job.inputs.gangs[0].between = works::Between::IdlePaid;
    let price = job.price(&job.programme().unwrap()).unwrap();
    let idle = price.lines.iter().find(|line| line.path.starts_with("price.labour.idle")).unwrap();
    assert_eq!(idle.amount.amount, pounds("9280"));
}

// Worked on paper: the gang is on site on 1, 2, 9, 16, 23, 24, 25, 26 and 29 June (five limewashes of half a day, each on its own day): 9 days × 1 h × 80 = 720
// for a gang that goes home each night, 4 visits × 80 = 320 for one that stays.
#[test]
fn travel_is_paid_each_day_when_the_gang_goes_home() {
    let line = |home: bool| {
        let mut job = job(&["north"]);
        job.inputs.gangs[0].home_each_night = Known::answered(home);
        let price = job.price(&job.programme().unwrap()).unwrap();
        price.lines.iter().find(|line| line.path == "price.travel.first-gang").unwrap().clone()
    };
    assert_eq!(line(true).amount.amount, pounds("720"));
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
