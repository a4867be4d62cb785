//! The reckonings behind a price: every line down to the rates it rests on, and whether somebody has answered for them.

use reckoning::{Known, Money, Reckoning, Reckonings, Unit, Value};
use rust_decimal::Decimal;

use crate::pricing::Pricing;
use crate::{Gang, Price, PriceLine, Risk};

mod quotation;

const RULE: &str = "decimal money, each line rounded half away from zero to the hundredth part";
const PLOTTING: &str = "plotting position k/(n + 1), Weibull 1939, as in handbooks of hydrology";

/// Everything about a price that can be asked.
pub(crate) fn reckonings(price: &Price, pricing: &Pricing) -> Reckonings {
    let mut kept = Reckonings::default();
    let lines: Vec<Reckoning> = price.lines.iter().map(|line| line_reckoning(line, pricing)).collect();
    lines.iter().for_each(|line| kept.keep(line.clone()));
    let cost = worked("price.cost", "Cost: the lines added up", &price.cost, "sum of the lines", lines);
    let before_tax = totals(price, pricing, cost, &mut kept);
    let area = area(pricing);
    let per_m2_inputs = [before_tax.clone(), area.clone()].into_iter().chain(last_job(pricing)).collect();
    let formula = "price before tax ÷ area; the last such job stands beside it as a check, if one was given";
    kept.keep(worked("price.per-m2", "Price before tax for one m²", &price.per_m2, formula, per_m2_inputs));
    kept.keep(area);
    if let Some(eight) = &price.eight_in_ten {
        kept.keep(eight_in_ten(price, eight));
    }
    for reckoning in price.risk.iter().flat_map(|risk| risk_reckonings(price, risk)) {
        kept.keep(reckoning);
    }
    quotation::reckonings(price, pricing, &before_tax).into_iter().for_each(|reckoning| kept.keep(reckoning));
    for wall in &price.walls {
        let path = format!("walls.{}.price", wall.slug);
        let formula = "price before tax shared half by gang-days, half by area";
        kept.keep(worked(&path, "Share of the price before tax", &wall.amount, formula, vec![before_tax.clone()]));
    }
    kept
}

fn worked(path: &str, label: &str, money: &Money, formula: &str, inputs: Vec<Reckoning>) -> Reckoning {
    Reckoning::worked(path, label, Value::Money(money.clone()), formula, inputs, RULE)
}

/// Overhead, tax and total, kept; gives the price before tax.
fn totals(price: &Price, pricing: &Pricing, cost: Reckoning, kept: &mut Reckonings) -> Reckoning {
    let rates = &pricing.inputs.rates;
    let share = |path: &str, label: &str, known: &Known<Decimal>| {
        let percent = Money::new(known.value * Decimal::ONE_HUNDRED, rates.currency.clone()).to_f64();
        Reckoning::given(path, label, Value::number(percent, Unit::PerCent, 1), known.source.clone(), known.assumed)
    };
    let overhead_share = share("rates.overhead", "Overhead and profit on cost", &rates.overhead);
    let overhead = worked("price.overhead", "Overhead and profit", &price.overhead, "cost × share", vec![cost.clone(), overhead_share]);
    let formula = "cost + overhead and profit";
    let before_tax = worked("price.before-tax", "Price before tax", &price.before_tax, formula, vec![cost.clone(), overhead.clone()]);
    let tax_share = share("rates.tax", "Rate of tax", &rates.tax);
    let tax = worked("price.tax", "Tax", &price.tax, "price before tax × rate of tax", vec![before_tax.clone(), tax_share]);
    let total = worked("price.total", "Price with tax", &price.total, "price before tax + tax", vec![before_tax.clone(), tax.clone()]);
    for reckoning in [cost, overhead, before_tax.clone(), tax, total] {
        kept.keep(reckoning);
    }
    before_tax
}

/// Prices of the weather years, as inputs.
fn years(price: &Price) -> Vec<Reckoning> {
    let year = |(number, money): (usize, &Money)| {
        let number = number + 1;
        Reckoning::given(
            format!("price.years.{number}"),
            format!("Weather year {number}"),
            Value::Money(money.clone()),
            "that year's run",
            false,
        )
    };
    price.by_year.iter().enumerate().map(year).collect()
}

/// What the weather costs, each figure with the years behind it.
fn risk_reckonings(price: &Price, risk: &Risk) -> Vec<Reckoning> {
    let middle =
        worked("price.risk.middle", "The middle year before tax", &risk.middle, "the lines of the middle year with overhead", Vec::new());
    let mean =
        worked("price.risk.mean", "Mean of the finished years before tax", &risk.mean, "sum ÷ number of finished years", years(price));
    let weather = "mean − middle year, without coats to redo";
    let mut list = vec![
        worked("price.risk.expected-weather", "Expected weather", &risk.expected_weather, weather, vec![mean.clone(), middle.clone()]),
        worked("price.risk.redo", "Coats to redo in the mean", &risk.redo, "mean over the finished years of what each lost", Vec::new()),
    ];
    if let Some(margin) = &risk.margin {
        let formula = "what the chosen share of the years does not pass, never below the mean, − the middle year";
        list.push(worked("price.risk.margin", "Margin", margin, formula, vec![mean.clone(), middle.clone()]));
    }
    for share in &risk.shares {
        let years_in_20 = share.years_in_20;
        if let (Some(at), Some(margin)) = (&share.price, &share.margin) {
            let label = format!("Price before tax that {} do not pass", crate::pricing::years_in_words(years_in_20));
            let formula = "prices of the finished years in order, read at their share × (years + 1)";
            let path = format!("price.risk.share-{years_in_20}");
            list.push(Reckoning::worked(path, label, Value::Money(at.clone()), formula, years(price), PLOTTING));
            let label = format!("Margin for {}", crate::pricing::years_in_words(years_in_20));
            let formula = "what so many years do not pass, never below the mean, − the middle year";
            list.push(worked(&format!("price.risk.margin-{years_in_20}"), &label, margin, formula, vec![mean.clone(), middle.clone()]));
        }
    }
    list.extend([mean, middle]);
    list
}

fn eight_in_ten(price: &Price, eight: &Money) -> Reckoning {
    let years = years(price);
    let formula = "prices of the finished years in order, years that tie counted each, read at rank 0.8 × (years + 1); the stated price where that is higher";
    let label = "Price before tax that about eight years in ten do not pass";
    Reckoning::worked("price.eight-in-ten", label, Value::Money(eight.clone()), formula, years, PLOTTING)
}

/// The area that the price is divided by.
fn area(pricing: &Pricing) -> Reckoning {
    let value = Value::number(pricing.quantities.area_m2, Unit::SquareMetre, 1);
    let measured = &pricing.survey.reckonings;
    let inputs = ["survey.net", "survey.reveals"].iter().filter_map(|path| measured.get(path).cloned()).collect();
    Reckoning::worked("area", "Area harled", value, "faces and reveals, all walls", inputs, "the survey")
}

/// What the last such job cost for one m², before tax and without scaffold.
fn last_job(pricing: &Pricing) -> Option<Reckoning> {
    let per_m2 = crate::pricing::last_job(pricing)?;
    let label = "The last such job for one m², without scaffold";
    Some(Reckoning::given("rates.last_job.per-m2", label, Value::Money(per_m2), "answered in the job", false))
}

fn line_reckoning(line: &PriceLine, pricing: &Pricing) -> Reckoning {
    let quantity = Value::Text(format!("{} {}", line.quantity, line.unit));
    let rate = Reckoning::worked(
        format!("{}.rate", line.path),
        format!("Rate for one of {}", line.unit),
        Value::Money(line.rate.clone()),
        "from the rates of the job",
        rates_behind(&line.path, pricing),
        RULE,
    );
    let inputs =
        vec![Reckoning::given(format!("{}.quantity", line.path), "Quantity", quantity, "the middle run and the quantities", false), rate];
    worked(&line.path, &line.words, &line.amount, "quantity × rate", inputs)
}

/// What of a fresh coat a gang takes off in a day: that of an old lime harl.
fn outputs_of_taking_off(pricing: &Pricing) -> Option<Reckoning> {
    let output = &pricing.inputs.rates.outputs.take_off_lime_harl;
    let value = Value::number(output.value, Unit::SquareMetre, 0);
    let label = "Lime harl taken off in a gang-day";
    Some(Reckoning::given("rates.outputs.take_off_lime_harl_m2_per_day", label, value, output.source.clone(), output.assumed))
}

/// Hours of travel of a gang, with their standing.
fn travel(gang: &Gang) -> Reckoning {
    let path = format!("gangs.{}.travel_h", gang.name.to_lowercase().replace(' ', "-"));
    let label = format!("Travel of {} there and back", gang.name);
    Reckoning::given(path, label, Value::number(gang.travel_h.value, Unit::Hour, 1), gang.travel_h.source.clone(), gang.travel_h.assumed)
}

/// The job's rates that a line rests on, with their standing.
fn rates_behind(path: &str, pricing: &Pricing) -> Vec<Reckoning> {
    let rates = &pricing.inputs.rates;
    let scaffold = &pricing.inputs.scaffold;
    let rate = |path: &str, label: &str, known: &Known<Decimal>| {
        let money = Money::new(known.value, rates.currency.clone());
        Reckoning::given(path, label, Value::Money(money), known.source.clone(), known.assumed)
    };
    let wages =
        || vec![rate("rates.mason_h", "A mason's hour", &rates.mason_h), rate("rates.labourer_h", "A labourer's hour", &rates.labourer_h)];
    match path.trim_start_matches("price.").split('.').collect::<Vec<_>>().as_slice() {
        ["labour", ..] | ["mending"] => wages(),
        ["redo"] => wages().into_iter().chain(outputs_of_taking_off(pricing)).collect(),
        ["visits", ..] => vec![rate("rates.visit", "One visit beyond wages", &rates.visit)],
        ["travel", ..] => wages().into_iter().chain(pricing.inputs.gangs.iter().map(travel)).collect(),
        ["provisional", "waste"] => vec![rate("rates.waste_per_m3", "1 m³ of waste carted away", &rates.waste_m3)],
        ["provisional", "making-good"] => vec![rate("rates.making_good_per_m2", "1 m² made good", &rates.making_good_m2)],
        ["attendance"] => vec![rate("rates.damping_visit", "One damping visit", &rates.damping_visit)],
        ["covers", "shelter-hire"] => vec![rate("scaffold.hire_m2_week", "Hire of 1 m² for a week", &scaffold.hire_m2_week)],
        ["covers", "shelter-up-and-down"] => vec![rate("scaffold.up_and_down_m2", "1 m² put up and taken down", &scaffold.up_and_down_m2)],
        ["covers", ..] => vec![rate("rates.labourer_h", "A labourer's hour", &rates.labourer_h)],
        ["plant"] => vec![rate("rates.plant_week", "Plant for a week", &rates.plant_week)],
        ["scaffold", "adapt"] => vec![rate("scaffold.adapt_m2", "1 m² adapted", &scaffold.adapt_m2)],
        ["scaffold", "hire"] => vec![rate("scaffold.hire_m2_week", "Hire of 1 m² for a week", &scaffold.hire_m2_week)],
        ["scaffold", ..] => vec![rate("scaffold.up_and_down_m2", "1 m² put up and taken down", &scaffold.up_and_down_m2)],
        ["materials", slug @ ..] => {
            let slug = slug.join(".");
            let listed = rates.materials.iter().find(|(name, _)| *name == slug).map(|(_, known)| known);
            let known = listed.or(match slug.as_str() {
                "hessian" => Some(&rates.hessian_m2),
                "water" => Some(&rates.water_m3),
                _ => None,
            });
            known
                .map(|known| rate(&format!("rates.materials.{slug}"), &format!("Price of one unit of {slug}"), known))
                .into_iter()
                .collect()
        }
        _ => Vec::new(),
    }
}
