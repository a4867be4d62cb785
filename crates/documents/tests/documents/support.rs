//! A plan to draw and typeset before and beside the real ones: an invented house at an invented place, with one wall or many, short
//! names or long. Its figures are made up to be plausible; nothing here checks arithmetic.

use jiff::civil::{Date, Weekday, date};
use materials::{Mix, Moisture, Mortar};
use reckoning::{Caution, Currency, Finding, Grade, Hazard, Known, Money, Reckoning, Reckonings, Unit, Value};
use rust_decimal::Decimal;
use survey::*;
use works::*;

mod found;
mod lived;
mod priced;
mod specified;
mod told;

use crate::catalogue::catalogue;
pub use crate::names::Names;
use crate::names::wall_name;
pub use found::moisture;
use found::{building, measure, wall_found};
use lived::{plus, programme};
use priced::{answers, area_reckoning, order, price, price_reckoning, swings};
use specified::{quantities, specification};
pub use told::cautions;
use told::findings;

pub fn plan(walls: usize, names: Names) -> Plan {
    let start = date(2027, 4, 19);
    let found: Vec<WallFound> = (0..walls).map(|index| wall_found(index, names)).collect();
    let measured: Vec<WallMeasured> = found.iter().map(measure).collect();
    let area: f64 = measured.iter().map(|wall| wall.net_m2 + wall.reveal_m2).sum();
    let specification = specification(&found);
    let quantities = quantities(&specification, &measured);
    let programme = programme(&found, &specification, start);
    let price = price(&found, &measured, &programme);
    let mut reckonings = Reckonings::default();
    for wall in &measured {
        reckonings.keep(area_reckoning(wall));
    }
    reckonings.keep(price_reckoning(&price));
    Plan {
        about: about(names),
        window: Window { start, finish_by: Some(date(2027, 8, 31)) },
        survey: Survey { building: building(found), walls: measured, findings: Vec::new(), reckonings: Reckonings::default() },
        specification,
        quantities,
        answers: answers(&price),
        swings: swings(),
        findings: findings(),
        cautions: cautions(),
        reckonings,
        basis: Basis {
            version: "0.1.0".into(),
            arithmetic: "portable".into(),
            seed: 7,
            weather_hash: Some("ab12".repeat(16)),
            weather: "twelve invented years for Port Calder".into(),
            years: 12,
            cell_steps: 8_400_000,
        },
        protection: None,
        order: order(start),
        price,
        programme,
        catalogue: catalogue(),
    }
    .with_area(area)
}

trait WithArea {
    fn with_area(self, area: f64) -> Self;
}

impl WithArea for Plan {
    fn with_area(mut self, area: f64) -> Self {
        self.quantities.area_m2 = area;
        self
    }
}

fn about(names: Names) -> About {
    let client = if names == Names::Markup { "A. #eval(1) *Client* <script>" } else { "Isla Dunmarrow" };
    About {
        name: "Ferry House".into(),
        place: "Port Calder".into(),
        client: client.into(),
        contractor: "Calder Lime, masons".into(),
        surveyor: "R. Tavish Orr".into(),
        revision: 7,
        dated: date(2027, 3, 1),
        invented: true,
        time_zone: "Europe/London".into(),
    }
}
