//! The plan: all the stages and the reckonings that explain them. It holds nothing volatile: no clock, no host.

use materials::Catalogue;
use reckoning::{Caution, Finding, Reckonings};
use serde::Serialize;

use crate::protect::Protection;
use crate::{About, Order, Price, Programme, Quantities, Specification, Window};

/// A whole plan.
#[derive(Clone, Debug)]
pub struct Plan {
    /// Names for the documents.
    pub about: About,
    /// When work may begin and must end.
    pub window: Window,
    /// The measured survey.
    pub survey: survey::Survey,
    /// The specification.
    pub specification: Specification,
    /// The quantities.
    pub quantities: Quantities,
    /// The protection policies compared for the start; `None` where that was not asked for, or without weather.
    pub protection: Option<Protection>,
    /// The programme.
    pub programme: Programme,
    /// The order.
    pub order: Order,
    /// The price.
    pub price: Price,
    /// The client's ten questions, each answered in a line.
    pub answers: Vec<Answer>,
    /// The assumed figures that swing days and money most, most first.
    pub swings: Vec<Swing>,
    /// All findings, gravest first.
    pub findings: Vec<Finding>,
    /// Cautions that apply.
    pub cautions: Vec<Caution>,
    /// Every figure that can be asked why.
    pub reckonings: Reckonings,
    /// What the plan was reckoned from.
    pub basis: Basis,
    /// The catalogue it was reckoned with, for names, kinds of lime, the moisture and bulking of sands and the limits of covers in the documents.
    pub catalogue: Catalogue,
}

/// A client's question and its answer.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Answer {
    /// The question.
    pub question: String,
    /// One line.
    pub answer: String,
}

/// What an assumed figure is worth measuring.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Swing {
    /// Path of the assumed value in the job.
    pub path: String,
    /// In words.
    pub label: String,
    /// What was assumed, and its range, in words.
    pub assumed: String,
    /// Days between the finish at the low and at the high end.
    pub days: f64,
    /// Money between them, before tax.
    pub money: reckoning::Money,
    /// The plain question that would settle it.
    pub question: String,
}

/// What a plan was reckoned from.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Basis {
    /// Version of harlwright.
    pub version: String,
    /// Arithmetic: "portable".
    pub arithmetic: String,
    /// Seed.
    pub seed: u64,
    /// Hash of the weather series; `None` without weather.
    pub weather_hash: Option<String>,
    /// The weather in words.
    pub weather: String,
    /// Years of weather.
    pub years: u32,
    /// Hours simulated and cell-steps taken.
    pub cell_steps: u64,
}
