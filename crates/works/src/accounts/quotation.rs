//! The reckonings behind a quotation: the price by measure, its check, daywork, stages, retention. It explains figures and must never make one.

use reckoning::{Reckoning, Value};

use super::{last_job, rates_behind, worked};
use crate::Price;
use crate::pricing::Pricing;

/// Every figure of the quotation that can be asked, each resting on the price before tax.
pub(super) fn reckonings(price: &Price, pricing: &Pricing, before_tax: &Reckoning) -> Vec<Reckoning> {
    let quotation = &price.quotation;
    let on_the_price = || vec![before_tax.clone()];
    let mut list = Vec::new();
    for (number, line) in quotation.by_measure.iter().enumerate() {
        if let Some(amount) = &line.amount {
            let formula = "price before tax × share of the gang-days that the outputs give this measure";
            list.push(worked(&format!("price.by-measure.{}", number + 1), &line.words, amount, formula, on_the_price()));
        }
    }
    let formula = "cost of the lines but those of scaffold, with overhead, ÷ area; the last such job stands beside it, if one was given";
    let inputs = on_the_price().into_iter().chain(last_job(pricing)).collect();
    let label = "Price before tax for one m², without scaffold";
    list.push(worked("price.without-scaffold-per-m2", label, &quotation.without_scaffold_m2, formula, inputs));
    for (number, stage) in quotation.stages.iter().enumerate() {
        let formula = "price before tax × share of the gang-days, in tens, the last taking what is left; less what is retained";
        list.push(worked(&format!("price.stages.{}", number + 1), &stage.words, &stage.due, formula, on_the_price()));
    }
    if let Some((retained, _)) = &quotation.retention {
        list.push(worked("price.retention", "Retained", retained, "every stage × share retained", on_the_price()));
    }
    if let Some(worth) = &quotation.worth_at_start {
        let formula = "Σ payment ÷ (1 + interest)^years from the first day";
        list.push(worked("price.worth-at-start", "Worth of the payments on the first day", worth, formula, on_the_price()));
    }
    for (number, (words, rate)) in quotation.daywork.iter().enumerate() {
        let wage = rates_behind("labour", pricing).into_iter().nth(number).into_iter().collect();
        let value = Value::Money(rate.clone());
        let path = format!("price.daywork.{}", number + 1);
        list.push(Reckoning::worked(
            path,
            format!("Daywork: {words}"),
            value,
            "wage × (1 + what is laid on for daywork)",
            wage,
            super::RULE,
        ));
    }
    list
}
