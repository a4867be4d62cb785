//! Its price, the order, the client's answers, the swings and a few reckonings. Made up to be plausible; nothing here checks arithmetic.

use super::*;

pub(super) fn pounds(amount: i64) -> Money {
    Money::new(Decimal::from(amount), Currency { code: "GBP".into(), mark: "£".into() })
}

pub(super) fn price(found: &[WallFound], measured: &[WallMeasured], programme: &Programme) -> Price {
    let walls = found
        .iter()
        .zip(measured)
        .map(|(wall, measure)| WallPrice {
            slug: wall.slug.clone(),
            words: format!(
                "{}: {:.0} m² of harl in three coats, five limewashes, scaffold and damping",
                wall.name,
                measure.net_m2 + measure.reveal_m2
            ),
            amount: pounds((measure.net_m2 * 190.0) as i64),
        })
        .collect();
    let line = |heading: &str, words: &str, quantity: f64, unit: &str, rate: i64, amount: i64| PriceLine {
        heading: heading.into(),
        words: words.into(),
        quantity,
        unit: unit.into(),
        rate: pounds(rate),
        amount: pounds(amount),
        path: format!("price.{heading}"),
    };
    Price {
        walls,
        lines: vec![
            line("Labour", "Masons throwing, laying and limewashing", 704.0, "hours", 24, 16896),
            line("Labour", "Labourer", 352.0, "hours", 18, 6336),
            line("Materials", "Lime putty", 46.0, "20 litre tub", 14, 644),
            line("Materials", "Sharp sand", 6.0, "tonne bag", 62, 372),
            line("Scaffold", "Up and down", 160.0, "m²", 14, 2240),
            line("Scaffold", "Hire", 1600.0, "m² a week", 1, 1600),
            line("Attendance", "Damping by a hand living near", 160.0, "visits", 12, 1920),
        ],
        cost: pounds(30008),
        overhead: pounds(3601),
        before_tax: pounds(33609),
        tax_rate: Decimal::new(20, 2),
        tax: pounds(6722),
        total: pounds(40331),
        not_given: None,
        range: None,
        per_m2: pounds(214),
        by_year: programme.runs.iter().enumerate().map(|(year, _)| pounds(33000 + 150 * year as i64)).collect(),
        eight_in_ten: Some(pounds(34350)),
        risk: None,
        quotation: Quotation {
            by_measure: Vec::new(),
            without_scaffold_m2: pounds(190),
            last_job_m2: None,
            least_charge: None,
            daywork: Vec::new(),
            stages: Vec::new(),
            retention: None,
            interest: None,
            worth_at_start: None,
        },
        exclusions: vec!["Mending gutters and leadwork".into(), "Consent fees".into(), "Painting of woodwork".into()],
        valid_days: 60,
        reckonings: Reckonings::default(),
    }
}

pub(super) fn answers(price: &Price) -> Vec<Answer> {
    let line = |question: &str, answer: String| Answer { question: question.into(), answer };
    vec![
        line("How much?", format!("{} before tax, {} with it.", price.before_tax, price.total)),
        line("How long?", "From Monday 19 April; 8 years in 10 are finished by 9 July.".into()),
        line("Why does a day's work stand for weeks?", "Each coat takes up air before the next: 12 days in the middle.".into()),
        line("When is the scaffold gone?", "The week after the last limewash: about 16 July.".into()),
        line("Why not cement?", "It traps the water that gets in behind it and fails all at once, in sheets.".into()),
        line("Will it crack?", "Fine crazing may show and heals under limewash; a crack that opens is put right.".into()),
        line("What colour?", "Natural white, shown on the sample panel before we begin.".into()),
        line("Do I move out?", "No. Windows are covered on throwing days and the doors stay usable.".into()),
        line("What if it rains?", "We wait, and the wait is in the programme: 12 days of it in the middle year.".into()),
        line("Who comes if it fails?", "We do, for two years, and the record of the work says what was done.".into()),
    ]
}

pub(super) fn swings() -> Vec<Swing> {
    vec![Swing {
        path: "walls.wall-1.dampness.middle".into(),
        label: "dampness of the walls".into(),
        assumed: "30 % of the pores full, 10 to 50 %".into(),
        days: 9.0,
        money: pounds(1240),
        question: "Is the wall damp to the touch at waist height?".into(),
    }]
}

pub(super) fn order(start: Date) -> Order {
    let line = |slug: &str, name: &str, units: u32, unit: &str, need: &str, days: i64, remark: &str| OrderLine {
        slug: slug.into(),
        name: name.into(),
        units,
        unit_name: unit.into(),
        need: need.into(),
        on_site_by: plus(start, days),
        first_used_for: "scud coat, north wall".into(),
        remark: remark.into(),
    };
    Order {
        lines: vec![
            line("putty-cl90", "Lime putty CL 90, matured", 46, "20 litre tub", "1,240 kg", -3, "matured at least 12 weeks"),
            line("sharp-concreting", "Sharp concreting sand 0/4", 6, "tonne bag", "5,100 kg", -3, "sheeted"),
            line("finish-grit", "=Finish grit 2/6, \"washed\"", 3, "tonne bag", "2,300 kg", 20, "one load, one colour"),
        ],
        lay_down: vec![LayDown {
            what: "Coarse stuff for the finish".into(),
            by: plus(start, -30),
            why: "lime and sand mature together".into(),
        }],
    }
}

pub(super) fn area_reckoning(wall: &WallMeasured) -> Reckoning {
    let path = format!("walls.{}.area", wall.slug);
    let gross = Reckoning::given(
        format!("{path}.gross"),
        "outline with chimneys",
        Value::number(wall.gross_m2, Unit::SquareMetre, 1),
        "measured",
        false,
    );
    let openings = Reckoning::given(
        format!("{path}.openings"),
        "openings over 0.5 m²",
        Value::number(wall.deducted_m2, Unit::SquareMetre, 1),
        "measured",
        true,
    );
    Reckoning::worked(
        path,
        "area to be harled",
        Value::number(wall.net_m2, Unit::SquareMetre, 1),
        "outline less openings",
        vec![gross, openings],
        "measured from the survey",
    )
}

pub(super) fn price_reckoning(price: &Price) -> Reckoning {
    let cost = Reckoning::given("price.cost", "sum of the lines", Value::Money(price.cost.clone()), "lines of the price", false);
    let overhead = Reckoning::given(
        "price.overhead",
        "overhead and profit, 12 %",
        Value::Money(price.overhead.clone()),
        "common practice, no source",
        true,
    );
    Reckoning::worked(
        "price.before-tax",
        "price before tax",
        Value::Money(price.before_tax.clone()),
        "cost and overhead",
        vec![cost, overhead],
        "the price lines",
    )
}
