//! The order: what must be on site, how much, and by when.

use jiff::civil::Date;
use serde::Serialize;

/// The order list.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Order {
    /// Lines, by date.
    pub lines: Vec<OrderLine>,
    /// Putty and coarse stuff laid down ahead.
    pub lay_down: Vec<LayDown>,
}

/// One line, readable over a telephone.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct OrderLine {
    /// Material.
    pub slug: String,
    /// Name shown.
    pub name: String,
    /// Units of sale.
    pub units: u32,
    /// Name of one unit.
    pub unit_name: String,
    /// Net need in words, for example "1,240 kg".
    pub need: String,
    /// Day it must be on site.
    pub on_site_by: Date,
    /// What is first done with it.
    pub first_used_for: String,
    /// Remark: one load, keep dry, matured.
    pub remark: String,
}

/// Something laid down to mature.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LayDown {
    /// What.
    pub what: String,
    /// Latest day; may lie before the start, and before today.
    pub by: Date,
    /// Why.
    pub why: String,
}
