//! Fields of money: rates, outputs, scaffold, allowances.

use super::{Field, Kind, Measure, Names, PRACTICE, Page, Preset, Reach, count, number, per_cent};

const fn price(path: &'static str, label: &'static str, kind: Kind) -> Field {
    Field::new(Page::Price, path, label, kind)
}

const fn money(most: f64) -> Kind {
    Kind::Decimal { low: 0.0, high: most, measure: Measure::As("in the currency of the job") }
}

const fn money_percent(most: f64) -> Kind {
    Kind::Decimal { low: 0.0, high: most, measure: Measure::PerCent }
}

const fn output(path: &'static str, label: &'static str, question: &'static str, default: f64, reach: (f64, f64)) -> Field {
    price(path, label, number(0.5, 1000.0, "m² a gang's day")).ask(question).assume(
        Preset::Number(default),
        Reach::Numbers(reach.0, reach.1),
        PRACTICE,
    )
}

/// Prices are the user's own; a round figure stands in so that a first plan has a sum in it.
const ROUND: &str = "a round figure to be replaced by your own; no source";

pub(super) const FIELDS: &[Field] = &[
    price("rates", "rates", Kind::Section)
        .help("Your own prices before tax. A round figure stands in for each one left out, marked assumed."),
    price("rates.currency", "currency", Kind::Text { most: 3 })
        .ask("In what money is it priced?")
        .help("The three letters of ISO 4217, such as GBP or EUR.")
        .usual(Preset::Word("GBP"), "the default of the file"),
    price("rates.tax_percent", "tax", money_percent(60.0)).ask("How much tax is added at the end?").assume(
        Preset::Number(20.0),
        Reach::Numbers(0.0, 25.0),
        "a usual rate on building work; ask your accountant",
    ),
    price("rates.mason_per_h", "mason, an hour, all in", money(100_000.0)).ask("What does a mason cost an hour, all in?").assume(
        Preset::Number(38.0),
        Reach::Numbers(28.0, 50.0),
        ROUND,
    ),
    price("rates.labourer_per_h", "labourer, an hour, all in", money(100_000.0)).ask("What does a labourer cost an hour, all in?").assume(
        Preset::Number(26.0),
        Reach::Numbers(20.0, 34.0),
        ROUND,
    ),
    price("rates.water_per_m3", "water", money(100_000.0)).ask("What does water cost a cubic metre?").assume(
        Preset::Number(5.0),
        Reach::Numbers(0.0, 15.0),
        ROUND,
    ),
    price("rates.plant_per_week", "plant, a working week", money(10_000_000.0))
        .ask("What do mixer, tools and small plant cost a week?")
        .assume(Preset::Number(180.0), Reach::Numbers(100.0, 300.0), ROUND),
    price("rates.visit", "a visit beyond wages", money(10_000_000.0))
        .ask("What does it cost to come back once more, beyond wages?")
        .assume(Preset::Number(120.0), Reach::Numbers(60.0, 250.0), ROUND),
    price("rates.damping_visit", "a damping visit", money(10_000_000.0))
        .ask("What does a hand living near ask for one round with the hose?")
        .assume(Preset::Number(25.0), Reach::Numbers(0.0, 45.0), ROUND),
    price("rates.hessian_per_m2", "hessian", money(100_000.0)).ask("What does hessian cost a square metre?").assume(
        Preset::Number(1.2),
        Reach::Numbers(0.8, 2.0),
        ROUND,
    ),
    price("rates.ties_per_pack", "ties for hessian, a pack of 100", money(100_000.0))
        .ask("What does a pack of 100 ties cost, stainless or plastic?")
        .assume(Preset::Number(9.0), Reach::Numbers(5.0, 15.0), ROUND),
    price("rates.waste_per_m3", "carting away waste", money(100_000.0))
        .ask("What does it cost to cart away a cubic metre of old covering, as it lies loose?")
        .help("Only where a covering comes off. What holds lead or asbestos is dearer and wants a licence.")
        .assume(Preset::Number(60.0), Reach::Numbers(35.0, 110.0), ROUND),
    price("rates.making_good_per_m2", "pinning and making good, provisional", money(100_000.0))
        .ask("What do you allow a square metre for pinning and making good what taking off brings to light?")
        .help("A provisional sum: used before stripping and on a wall that is still covered.")
        .assume(Preset::Number(8.0), Reach::Numbers(0.0, 25.0), ROUND),
    price("rates.overhead_percent", "overhead and profit", money_percent(200.0)).ask("What is added for overhead and profit?").assume(
        Preset::Number(18.0),
        Reach::Numbers(12.0, 25.0),
        PRACTICE,
    ),
    price("rates.margin_years_in_20", "margin: years in 20", count(10.0, 19.0))
        .ask("In how many weather years of 20 should the price not lose money?")
        .help("16 is 8 years in 10. Left out, the price stands at the mean of the years."),
    price("rates.retention_percent", "retention", money_percent(20.0))
        .ask("How much of each payment is held back?")
        .usual(Preset::Number(0.0), "none unless the contract says so"),
    price("rates.retention_months", "retention held for", count(0.0, 60.0))
        .ask("How many months after the finish is it paid?")
        .usual(Preset::Number(6.0), PRACTICE),
    price("rates.least_charge", "least charge of a small job", money(10_000_000.0))
        .ask("What is the least you come for, before tax?")
        .usual(Preset::Number(0.0), "none"),
    price("rates.daywork_percent", "on wages for daywork", money_percent(300.0))
        .ask("What is laid on wages for work ordered beyond the quotation?")
        .usual(Preset::Number(0.0), "none"),
    price("rates.height_percent", "on labour above 6 m", money_percent(300.0))
        .ask("What is laid on the labour of the face above 6 m?")
        .usual(Preset::Number(0.0), "none"),
    price("rates.access", "a sum for difficult access", money(10_000_000.0))
        .ask("What does it cost to get plant, scaffold and materials to the walls, if access is difficult?")
        .usual(Preset::Number(0.0), "none"),
    price("rates.lodging_per_night", "lodging of one hand, a night", money(100_000.0))
        .ask("What does a night's lodging cost one hand, when the gang does not go home?")
        .usual(Preset::Number(0.0), "none"),
    price("rates.least_paid_hours", "hours paid at least", Kind::Decimal { low: 0.0, high: 24.0, measure: Measure::As("hours") })
        .ask("How many hours is a hand paid at least for a day on which he comes?")
        .help("Less than a half-day adds nothing.")
        .usual(Preset::Number(0.0), "the hours worked"),
    price("rates.interest_percent", "interest a year", money_percent(100.0))
        .ask("At what interest a year is money worth less the later it comes?")
        .help("Shows what the stage payments and the retention are worth on the first day. Left out, it is not reckoned."),
    price("rates.valid_days", "days the quotation stands", count(1.0, 730.0))
        .ask("For how many days does the quotation stand?")
        .usual(Preset::Number(60.0), PRACTICE),
    price("rates.putty_per_kg", "lime putty, a kilogram", money(10_000.0))
        .ask("What does lime putty cost a kilogram?")
        .help("Used for each putty without a price of its own under rates.materials.")
        .assume(Preset::Number(0.6), Reach::Numbers(0.4, 0.9), ROUND),
    price("rates.hydrate_per_kg", "hydrated lime, a kilogram", money(10_000.0)).ask("What does hydrated lime cost a kilogram?").assume(
        Preset::Number(0.5),
        Reach::Numbers(0.35, 0.8),
        ROUND,
    ),
    price("rates.quicklime_per_kg", "quicklime, a kilogram", money(10_000.0)).ask("What does quicklime cost a kilogram?").assume(
        Preset::Number(0.55),
        Reach::Numbers(0.4, 0.9),
        ROUND,
    ),
    price("rates.hydraulic_per_kg", "natural hydraulic lime, a kilogram", money(10_000.0))
        .ask("What does hydraulic lime cost a kilogram?")
        .assume(Preset::Number(0.7), Reach::Numbers(0.5, 1.0), ROUND),
    price("rates.sand_per_t", "sand, a tonne", money(100_000.0))
        .ask("What does sand cost a tonne, delivered?")
        .help("Used for each sand without a price of its own under rates.materials.")
        .assume(Preset::Number(70.0), Reach::Numbers(45.0, 110.0), ROUND),
    price("rates.materials", "prices of materials", Kind::Each { names: Names::Slugs, at_most: 200 })
        .help("By catalogue name of a lime or sand: the price of one unit of sale."),
    price("rates.materials.*.price", "price of one unit of sale", money(1_000_000.0))
        .required()
        .ask("What does one bag, tub or load cost?"),
    price("rates.last_job", "my last such job", Kind::Section)
        .help("If you keep no rates: what the last such job cost, how many m² and how many days. Rates left out are worked from it."),
    price("rates.last_job.cost", "what it cost", money(1_000_000_000.0))
        .required()
        .ask("What did it cost before tax, without the scaffold?"),
    price("rates.last_job.area_m2", "how many m²", number(1.0, 1_000_000.0, "m²")).required().ask("How many square metres of harl was it?"),
    price("rates.last_job.gang_days", "gang's days", number(0.5, 100_000.0, "days"))
        .required()
        .ask("How many days was the gang on the wall?"),
    price("rates.outputs", "outputs", Kind::Section).help("What a gang of two masons and a labourer covers in a day."),
    output(
        "rates.outputs.preparation_m2_per_day",
        "raking out, pinning, dubbing",
        "How many m² do two masons and a labourer rake out, pin and dub in a day?",
        20.0,
        (12.0, 30.0),
    ),
    output(
        "rates.outputs.take_off_cement_m2_per_day",
        "cement taken off",
        "How many m² of cement do two masons and a labourer take off in a day without hurting the stone?",
        10.0,
        (6.0, 16.0),
    ),
    output(
        "rates.outputs.take_off_lime_harl_m2_per_day",
        "old lime harl taken off",
        "How many m² of loose old harl do two masons and a labourer take off in a day?",
        25.0,
        (15.0, 40.0),
    ),
    output(
        "rates.outputs.take_off_paint_m2_per_day",
        "paint taken off",
        "How many m² of old paint do two masons and a labourer take off in a day?",
        20.0,
        (10.0, 35.0),
    ),
    output(
        "rates.outputs.scud_m2_per_day",
        "scud in a day",
        "How many m² of scud do two masons and a labourer throw in a day?",
        60.0,
        (40.0, 80.0),
    ),
    output(
        "rates.outputs.straightening_m2_per_day",
        "straightening laid in a day",
        "How many m² of straightening do two masons and a labourer lay in a day, the ruling left out?",
        30.0,
        (24.0, 36.0),
    ),
    output(
        "rates.outputs.ruling_m2_per_day",
        "straightening ruled in a day",
        "How many m² of straightening, freshly laid, do two masons and a labourer rule in a day?",
        150.0,
        (100.0, 200.0),
    ),
    output(
        "rates.outputs.finish_m2_per_day",
        "finish in a day",
        "How many m² of finish do two masons and a labourer throw in a day?",
        32.0,
        (25.0, 40.0),
    ),
    output(
        "rates.outputs.limewash_m2_per_day",
        "limewash in a day",
        "How many m² of one coat of limewash do two masons and a labourer put on in a day?",
        100.0,
        (75.0, 135.0),
    ),
    price("rates.outputs.reveals_m_per_day", "reveals", number(0.5, 1000.0, "m a gang's day"))
        .ask("How many metres of reveal does the gang harl in a day, one coat?")
        .help("Reveals are done before the face of the same coat.")
        .assume(Preset::Number(30.0), Reach::Numbers(20.0, 40.0), PRACTICE),
    output(
        "rates.outputs.hessian_m2_per_day",
        "hessian hung in a day",
        "How many m² of hessian do two masons and a labourer hang and wet in a day?",
        200.0,
        (150.0, 250.0),
    ),
    price("rates.outputs.tie_patches_per_day", "tie patches made good in a day", number(1.0, 1000.0, "patches a gang's day"))
        .ask("How many patches at scaffold ties do two masons and a labourer make good in a day, as the scaffold comes down?")
        .help("Each is filled with finish mortar in thin passes pressed into one another, and limewashed once; not coat by coat.")
        .assume(Preset::Number(40.0), Reach::Numbers(20.0, 60.0), PRACTICE),
    price("scaffold", "scaffold", Kind::Section)
        .help("Its designer decides what may hang on it: soaked hessian is heavy and catches wind."),
    price("scaffold.walls_at_once", "walls scaffolded at once", count(1.0, 500.0))
        .ask("How many walls can be scaffolded at the same time?")
        .help("Left out, all of them."),
    price("scaffold.from", "first day it stands", Kind::Date).ask("From what day does the scaffold stand?").assume(
        Preset::Worked("the day of the start"),
        Reach::None,
        "taken to stand on the day of the start",
    ),
    price("scaffold.up_m2_per_day", "put up in a day", number(5.0, 2000.0, "m² a day"))
        .ask("How many m² of face do the scaffolders put up in a day?")
        .assume(Preset::Number(80.0), Reach::Numbers(50.0, 120.0), PRACTICE),
    price("scaffold.adapt_m2_per_day", "adapted in a day", number(5.0, 5000.0, "m² a day"))
        .ask("How many m² of face do the scaffolders adapt in a day, boards and ties moved clear for the finish?")
        .assume(Preset::Number(250.0), Reach::Numbers(150.0, 400.0), PRACTICE),
    price("scaffold.down_m2_per_day", "taken down in a day", number(5.0, 2000.0, "m² a day"))
        .ask("How many m² of face do the scaffolders take down in a day?")
        .assume(Preset::Number(120.0), Reach::Numbers(80.0, 180.0), PRACTICE),
    price("scaffold.lift_m", "height of a lift", number(1.0, 3.0, "m"))
        .ask("How high is one lift of the scaffold?")
        .help("The finish is thrown lift by lift, the top one first.")
        .assume(Preset::Number(2.0), Reach::Numbers(1.8, 2.2), PRACTICE),
    price("scaffold.m2_per_tie", "face to one tie", number(2.0, 200.0, "m²"))
        .ask("To how many m² of face is there one tie into the wall?")
        .help("Its designer says. Each tie leaves a patch that is made good as the scaffold comes down.")
        .assume(Preset::Number(20.0), Reach::Numbers(12.0, 40.0), PRACTICE),
    price("scaffold.adapt_per_m2", "adapting before the finish", money(100_000.0))
        .ask("What does it cost a square metre to adapt it for the finish?")
        .assume(Preset::Number(1.5), Reach::Numbers(0.0, 4.0), ROUND),
    price("scaffold.up_and_down_per_m2", "up and down", money(100_000.0))
        .ask("What does it cost a square metre to put up and take down?")
        .assume(Preset::Number(16.0), Reach::Numbers(10.0, 25.0), ROUND),
    price("scaffold.hire_per_m2_week", "hire", money(100_000.0)).ask("What is its hire, a square metre a week?").assume(
        Preset::Number(0.9),
        Reach::Numbers(0.5, 1.5),
        ROUND,
    ),
];

const fn share(path: &'static str, label: &'static str, question: &'static str, default: f64, reach: (f64, f64)) -> Field {
    price(path, label, per_cent(0.0, 100.0)).ask(question).assume(Preset::Number(default), Reach::Numbers(reach.0, reach.1), PRACTICE)
}

pub(super) const ALLOWANCES: &[Field] = &[
    price("allowances", "allowances of quantity", Kind::Section).help("What is added to the net amounts for waste, rebound and lap."),
    share("allowances.waste_laid_percent", "waste of mortar laid", "How much mortar is lost when a coat is laid?", 7.5, (5.0, 10.0)),
    share(
        "allowances.rebound_scud_percent",
        "rebound and waste of the scud",
        "How much of the scud falls back and is lost?",
        15.0,
        (10.0, 20.0),
    ),
    share(
        "allowances.rebound_thrown_percent",
        "rebound and waste of a thrown coat",
        "How much of a thrown coat falls back and is lost?",
        20.0,
        (15.0, 25.0),
    ),
    share("allowances.waste_lime_percent", "waste of lime", "How much lime is lost on the way to the mixer?", 5.0, (3.0, 8.0)),
    share("allowances.waste_sand_percent", "waste of sand", "How much sand is lost on the way to the mixer?", 10.0, (5.0, 15.0)),
    price("allowances.limewash_m2_per_litre", "limewash spreads", number(0.5, 20.0, "m² a litre"))
        .ask("How many square metres does a litre of limewash cover, one coat?")
        .assume(Preset::Number(3.5), Reach::Numbers(2.5, 4.0), "common practice on harl, no source"),
    price("allowances.limewash_water_parts", "water in limewash", number(0.5, 10.0, "measures to one of putty"))
        .ask("How many measures of water to one of putty in the limewash?")
        .assume(Preset::Number(3.0), Reach::Numbers(2.5, 4.0), PRACTICE),
    share("allowances.hessian_lap_percent", "lap of hessian", "How much more hessian than wall, for laps?", 15.0, (10.0, 25.0)),
];
