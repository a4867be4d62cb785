//! Figures from a plan as SVG: one source for screen and paper, words kept as words, every figure with a title and a description.
//! A figure draws what the plan says and computes nothing of the trade.

mod bench;
mod calendar;
mod canvas;
pub mod cure;
mod elevation;
mod hatch;
mod metrics;
mod relief;
mod season;
mod section;
mod site_plan;
mod spread;
mod theme;

pub use bench::{bath, grading, profile};
pub use calendar::calendar;
pub use canvas::{Anchor, Canvas, Figure, Hand, WordBox};
pub use elevation::{elevations, surveyed, walls_in_a_row};
pub use hatch::{Hatch, Strew};
pub use metrics::{Face, cut, width, wrap};
pub use relief::{edge_curve, relief_map};
pub use season::season;
pub use section::section;
pub use site_plan::site_plan;
pub use spread::spread;
pub use theme::Theme;
