//! Of all orders lived the best, a cheaper but riskier and a safer but dearer one, named by how they came out, and what differs in a sentence. It must never
//! call an order by a name that its own lived years do not bear out.

use reckoning::Money;
use rust_decimal::Decimal;

use super::Judged;
use super::order::Order;
use crate::Inputs;
use crate::calendar::{day, days_between};
use crate::reasons::{count, inside, listed};

/// A difference of money that is none: prices are told in tens.
const TOLD_MONEY: Decimal = Decimal::TEN;

/// An order with what it came to.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Lived {
    pub(super) order: Order,
    pub(super) judged: Judged,
}

/// The three by their place among all that were lived.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Chosen {
    pub(super) best: usize,
    /// Cheaper in the mean of the years, and dearer in the dearest quarter of them, or oftener not finished.
    pub(super) riskier: Option<usize>,
    /// Dearer in the mean, and cheaper in the dearest quarter or less often not finished.
    pub(super) safer: Option<usize>,
}

/// Chooses; of equals the one that was lived first.
pub(super) fn chosen(lived: &[Lived]) -> Chosen {
    let all = || 0..lived.len();
    let best = all().min_by_key(|&at| (rank(&lived[at].judged), at)).unwrap_or(0);
    let than = &lived[best].judged;
    let mean = |judged: &Judged| judged.cost.amount + judged.late.amount;
    let cheaper = |judged: &Judged| mean(than) - mean(judged) >= TOLD_MONEY;
    let dearer = |judged: &Judged| mean(judged) - mean(than) >= TOLD_MONEY;
    let riskier = |judged: &Judged| {
        judged.unfinished > than.unfinished || (judged.unfinished == than.unfinished && judged.dear.amount - than.dear.amount >= TOLD_MONEY)
    };
    let safer = |judged: &Judged| {
        judged.unfinished < than.unfinished || (judged.unfinished == than.unfinished && than.dear.amount - judged.dear.amount >= TOLD_MONEY)
    };
    let of = |at: usize| &lived[at].judged;
    Chosen {
        best,
        riskier: all().filter(|&at| cheaper(of(at)) && riskier(of(at))).min_by_key(|&at| (mean(of(at)), at)),
        safer: all().filter(|&at| dearer(of(at)) && safer(of(at))).min_by_key(|&at| (of(at).unfinished, of(at).dear.amount, at)),
    }
}

/// Years that are not finished weigh before money.
pub(super) fn rank(judged: &Judged) -> (u32, Decimal) {
    (judged.unfinished, judged.expected.amount)
}

/// What differs between an order and another, in one sentence; `than` names the other in words.
pub(super) fn differs(this: &Lived, other: &Lived, than: &str, inputs: &Inputs) -> String {
    let mut parts = Vec::new();
    match days_between(other.order.start, this.order.start) {
        0 => {}
        later if later > 0 => parts.push(format!("begins {} later, on {}", days(later), day(this.order.start))),
        sooner => parts.push(format!("begins {} sooner, on {}", days(-sooner), day(this.order.start))),
    }
    if this.order.walls != other.order.walls {
        let walls: Vec<String> = this.order.walls.iter().map(|slug| name(inputs, slug)).collect();
        parts.push(format!("takes the walls in the order {}", listed(&walls)));
    }
    if this.order.gangs != other.order.gangs {
        parts.push(given(this, inputs));
    }
    parts.push(money(&this.judged, &other.judged));
    if let (Some(one), Some(two)) = (this.judged.middle, other.judged.middle)
        && one != two
    {
        let by = days_between(two, one);
        parts.push(format!("is finished {} {} in the middle year", days(by.abs()), if by > 0 { "later" } else { "sooner" }));
    }
    let visits = this.judged.visits - other.judged.visits;
    if visits.abs() >= 0.05 {
        parts.push(format!("takes {:.1} visits {} on average", visits.abs(), if visits > 0.0 { "more" } else { "fewer" }));
    }
    if this.judged.unfinished != other.judged.unfinished {
        parts.push(format!("is not finished in {} instead of {}", count(this.judged.unfinished, "year"), other.judged.unfinished));
    }
    format!("Beside {than} it {}.", listed(&parts))
}

fn days(days: i64) -> String {
    count(u32::try_from(days).unwrap_or(0), "day")
}

/// The difference in the mean of the years, and in the dearest quarter of them.
fn money(this: &Judged, other: &Judged) -> String {
    let said = |by: Decimal, currency: &Money| {
        let sum = Money::new(by.abs(), currency.currency.clone()).to_tens();
        match by {
            by if by.abs() < TOLD_MONEY => "as much".to_owned(),
            by if by > Decimal::ZERO => format!("{sum} more"),
            _ => format!("{sum} less"),
        }
    };
    let mean = (this.cost.amount + this.late.amount) - (other.cost.amount + other.late.amount);
    let dear = this.dear.amount - other.dear.amount;
    let (mean, dear) = (said(mean, &this.cost), said(dear, &this.cost));
    let late = if this.late.amount + other.late.amount > Decimal::ZERO { ", the charge for lateness counted in" } else { "" };
    format!("costs {mean} in the mean of the years and {dear} in the dearest quarter of them{late}")
}

fn given(this: &Lived, inputs: &Inputs) -> String {
    if this.order.gangs.is_empty() {
        return "binds no wall to a gang".to_owned();
    }
    let one = |(slug, gang): (&String, &usize)| {
        format!("the {} to the {}", name(inputs, slug), inputs.gangs.get(*gang).map_or("", |gang| gang.name.as_str()))
    };
    format!("gives {}", listed(&this.order.gangs.iter().map(one).collect::<Vec<_>>()))
}

fn name(inputs: &Inputs, slug: &str) -> String {
    inputs.building.walls.iter().find(|wall| wall.slug == slug).map_or(slug.to_owned(), |wall| inside(&wall.name))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use jiff::civil::date;
    use reckoning::Currency;

    use super::*;

    fn lived(mean: i64, dear: i64, unfinished: u32) -> Lived {
        let money = |sum: i64| Money::new(Decimal::from(sum), Currency::from_code("GBP").unwrap());
        let risk = (dear - mean) / 4;
        let judged = Judged {
            expected: money(mean + risk),
            cost: money(mean),
            late: money(0),
            risk: money(risk),
            dear: money(dear),
            middle: Some(date(2026, 7, 1)),
            latest: None,
            unfinished,
            kept: None,
            visits: 4.0,
            lost: 0.0,
        };
        Lived { order: Order { walls: Vec::new(), start: date(2026, 6, 1), gangs: Default::default() }, judged }
    }

    // Worked by hand: with a quarter of the spread charged, 1000 with 1400 counts 1100, 980 with 1700 counts 1160, 1030 with 1340 counts 1107.
    #[test]
    fn the_three_are_named_by_how_they_came_out() {
        let all = [lived(1000, 1400, 0), lived(980, 1700, 0), lived(1030, 1340, 0), lived(900, 1000, 1)];
        let chosen = chosen(&all);
        assert_eq!(chosen.best, 0);
        // The cheapest that is riskier is the one that is not finished in a year.
        assert_eq!((chosen.riskier, chosen.safer), (Some(3), Some(2)));
    }

    // Dearer and riskier at once is neither, and a difference under ten is none.
    #[test]
    fn no_name_is_given_that_the_years_do_not_bear_out() {
        let all = [lived(1000, 1400, 0), lived(1100, 1900, 0), lived(995, 1500, 0), lived(1005, 1395, 0)];
        let chosen = chosen(&all);
        assert_eq!((chosen.best, chosen.riskier, chosen.safer), (0, None, None));
    }
}
