//! What an unsettled figure is worth measuring: the job planned again with the figure at its low and at its high end, and the difference in days and money.
//! A figure is unsettled when it carries a range. The same question on several walls counts once, all walls together.
//!
//! To be quick, the job is run again in the middle weather year alone. Figures of labour keep each coat's days to ready as they were; figures of the wall and
//! its exposure step the engine again.

use reckoning::{Known, Money};
use rust_decimal::Decimal;

use crate::Inputs;

/// Which end of a range.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum End {
    Low,
    High,
}

/// What must be reckoned again when a figure changes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Reach {
    /// Money alone.
    Money,
    /// Days of work, quantities and money.
    Work,
    /// The curing too.
    Curing,
}

/// A question whose answer is unsettled.
pub(crate) struct Question {
    pub(crate) path: &'static str,
    pub(crate) label: &'static str,
    pub(crate) question: &'static str,
    pub(crate) reach: Reach,
    /// Sets the figure to an end of its range; what was taken and its range in words, or `None` when it is settled.
    pub(crate) set: fn(&mut Inputs, End) -> Option<String>,
}

/// Sets one figure to an end; says what it was and its range.
fn put<T: Clone>(known: &mut Known<T>, end: End, said: impl Fn(&T) -> String) -> Option<String> {
    let (low, high) = known.range.clone()?;
    let words = format!("{}, may be {} to {}", said(&known.value), said(&low), said(&high));
    known.value = if end == End::Low { low } else { high };
    Some(words)
}

/// Several figures that are one question: the words of the first that is unsettled.
fn all(words: impl IntoIterator<Item = Option<String>>) -> Option<String> {
    words.into_iter().fold(None, |first, next| first.or(next))
}

fn percent(share: &f64) -> String {
    format!("{:.0} %", share * 100.0)
}

fn money(amount: &Decimal) -> String {
    amount.normalize().to_string()
}

fn words<T: std::fmt::Debug>(value: &T) -> String {
    // The words of an enumeration are its name: "RoughRubble" is said "rough rubble".
    let mut said = String::new();
    for letter in format!("{value:?}").chars() {
        if letter.is_uppercase() && !said.is_empty() {
            said.push(' ');
        }
        said.extend(letter.to_lowercase());
    }
    said
}

fn a_day(output: &f64) -> String {
    format!("{output:.0} m² a gang-day")
}

/// Every question that may be unsettled.
pub(crate) fn questions() -> Vec<Question> {
    let mut list = of_the_wall();
    list.extend(of_the_work());
    list.extend(of_money());
    list
}

fn of_the_wall() -> Vec<Question> {
    vec![
        Question {
            path: "walls.*.dampness",
            label: "How wet the walls are",
            question: "Is the wall dry, damp or wet to the hand at knee, waist and head height? Better: weigh a drilled sample.",
            reach: Reach::Curing,
            set: |inputs, end| {
                all(inputs.building.walls.iter_mut().flat_map(|wall| {
                    let damp = &mut wall.dampness;
                    [put(&mut damp.middle, end, percent), put(&mut damp.low, end, percent), put(&mut damp.high, end, percent)]
                }))
            },
        },
        Question {
            path: "walls.*.evenness",
            label: "How uneven the walls are",
            question: "What are ten gaps under a 1.8 m straight-edge?",
            reach: Reach::Curing,
            set: |inputs, end| {
                all(inputs.building.walls.iter_mut().map(|wall| match &mut wall.evenness {
                    survey::Evenness::Class { class } => put(class, end, words),
                    _ => None,
                }))
            },
        },
        Question {
            path: "walls.*.inside",
            label: "What is behind the walls",
            question: "Is the room behind each wall heated while the work goes on?",
            reach: Reach::Curing,
            set: |inputs, end| all(inputs.building.walls.iter_mut().map(|wall| put(&mut wall.inside, end, words))),
        },
        Question {
            path: "walls.*.exposure",
            label: "How the walls stand to wind and rain",
            question: "Is it shore, farmland, suburb or town, and how far is the next thing as high as the wall?",
            reach: Reach::Curing,
            set: |inputs, end| {
                all(inputs.building.walls.iter_mut().flat_map(|wall| {
                    let exposure = &mut wall.exposure;
                    let far = |metres: &Option<f64>| metres.map_or("open".to_owned(), |metres| format!("{metres:.0} m"));
                    [
                        put(&mut exposure.terrain, end, words),
                        put(&mut exposure.obstruction_m, end, far),
                        put(&mut exposure.overhang, end, words),
                    ]
                }))
            },
        },
        Question {
            path: "walls.*.thickness",
            label: "How thick the walls are",
            question: "What does a tape through a window or door show?",
            reach: Reach::Curing,
            set: |inputs, end| {
                all(inputs.building.walls.iter_mut().map(|wall| put(&mut wall.thickness_m, end, |m| format!("{:.0} mm", m * 1000.0))))
            },
        },
        Question {
            path: "walls.*.masonry",
            label: "What stone the walls are of",
            question: "Does a nail scratch it, and how fast does a splash go in?",
            reach: Reach::Curing,
            set: |inputs, end| all(inputs.building.walls.iter_mut().map(|wall| put(&mut wall.masonry, end, String::clone))),
        },
        Question {
            path: "system.cover",
            label: "What is hung before the coats",
            question: "Which cover will be hung, and will it be lapped and tied?",
            reach: Reach::Curing,
            set: |inputs, end| put(&mut inputs.system.cover, end, String::clone),
        },
    ]
}

fn of_the_work() -> Vec<Question> {
    let output = |path, label, set| Question {
        path,
        label,
        question: "How many square metres did your gang cover in a day on the last such wall?",
        reach: Reach::Work,
        set,
    };
    vec![
        output("rates.outputs.preparation", "Output in preparation", |inputs, end| put(&mut inputs.rates.outputs.preparation, end, a_day)),
        output("rates.outputs.throwing", "Output in the three coats", |inputs, end| {
            let outputs = &mut inputs.rates.outputs;
            all([put(&mut outputs.scud, end, a_day), put(&mut outputs.straightening, end, a_day), put(&mut outputs.finish, end, a_day)])
        }),
        output("rates.outputs.limewash", "Output in limewash", |inputs, end| put(&mut inputs.rates.outputs.limewash, end, a_day)),
        output("rates.outputs.hessian", "Output in hanging hessian", |inputs, end| put(&mut inputs.rates.outputs.hessian, end, a_day)),
        Question {
            path: "rates.outputs.reveals",
            label: "Output in reveals",
            question: "How many metres of reveal did your gang cover in a day?",
            reach: Reach::Work,
            set: |inputs, end| put(&mut inputs.rates.outputs.reveals_m, end, |metres| format!("{metres:.0} m a gang-day")),
        },
        Question {
            path: "system.straight_edge",
            label: "The straight-edge",
            question: "How long is the edge the straightening coat is ruled with?",
            reach: Reach::Work,
            set: |inputs, end| put(&mut inputs.system.straight_edge_m, end, |metres| format!("{metres:.1} m")),
        },
        Question {
            path: "allowances",
            label: "Waste and rebound",
            question: "How much mortar fell and was not thrown again on the last such wall?",
            reach: Reach::Work,
            set: |inputs, end| {
                let allowances = &mut inputs.allowances;
                all([
                    put(&mut allowances.rebound_thrown, end, percent),
                    put(&mut allowances.rebound_scud, end, percent),
                    put(&mut allowances.waste_laid, end, percent),
                    put(&mut allowances.waste_lime, end, percent),
                    put(&mut allowances.waste_sand, end, percent),
                ])
            },
        },
    ]
}

fn of_money() -> Vec<Question> {
    let question = |path, label, question, set| Question { path, label, question, reach: Reach::Money, set };
    vec![
        question("rates.wages", "Wages", "What does an hour of a mason and of a labourer cost you, all in?", |inputs, end| {
            let rates = &mut inputs.rates;
            all([put(&mut rates.mason_h, end, money), put(&mut rates.labourer_h, end, money)])
        }),
        question("rates.materials", "Prices of materials", "What did your merchant quote for lime and sand?", |inputs, end| {
            all(inputs.rates.materials.iter_mut().map(|(_, rate)| put(rate, end, money)))
        }),
        question(
            "scaffold.rates",
            "Price of scaffold",
            "What did the scaffolder quote to put it up and down, and a week's hire?",
            |inputs, end| {
                let scaffold = &mut inputs.scaffold;
                all([put(&mut scaffold.hire_m2_week, end, money), put(&mut scaffold.up_and_down_m2, end, money)])
            },
        ),
        question("rates.visit", "What a visit costs", "What do travel and setting up cost you for one visit?", |inputs, end| {
            put(&mut inputs.rates.visit, end, money)
        }),
        question(
            "rates.damping_visit",
            "What a damping visit costs",
            "Who damps the hessian on days without a gang, and for how much?",
            |inputs, end| put(&mut inputs.rates.damping_visit, end, money),
        ),
        question("rates.plant_week", "What plant costs", "What do mixer and tools cost you a week?", |inputs, end| {
            put(&mut inputs.rates.plant_week, end, money)
        }),
        question("rates.hessian", "Price of hessian", "What does a square metre of hessian cost you?", |inputs, end| {
            put(&mut inputs.rates.hessian_m2, end, money)
        }),
        question("rates.overhead", "Overhead and profit", "What share do you lay on cost?", |inputs, end| {
            put(&mut inputs.rates.overhead, end, money)
        }),
    ]
}

/// Days and money between the two ends.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Swung {
    pub(crate) days: f64,
    pub(crate) money: Money,
}

/// The heaviest three of what was swung: by days and by money together, each as a share of the largest found.
pub(crate) fn heaviest(mut swings: Vec<crate::Swing>) -> Vec<crate::Swing> {
    const SHOWN: usize = 3;
    let most_days = swings.iter().map(|swing| swing.days).fold(0.0, f64::max).max(1e-9);
    let most_money = swings.iter().map(|swing| swing.money.to_f64()).fold(0.0, f64::max).max(1e-9);
    swings.retain(|swing| swing.days > 0.0 || swing.money.to_f64() > 0.0);
    let weight = |swing: &crate::Swing| swing.days / most_days + swing.money.to_f64() / most_money;
    swings.sort_by(|one, other| weight(other).total_cmp(&weight(one)).then_with(|| one.path.cmp(&other.path)));
    swings.truncate(SHOWN);
    swings
}
