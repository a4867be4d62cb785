//! How the work is run: gangs of walls, visits held back, daylight, damping on days off, charges for lateness and risk.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use works::{Running, WeekendDamping};

use crate::problem::Fault;
use crate::reader::Reader;

pub(super) fn build(reader: &mut Reader<'_>) -> Running {
    Running {
        gang_of: gangs_of_walls(reader),
        hold_days: reader.count("calendar.hold_days").unwrap_or(works::HOLD_DAYS),
        hours_before_dusk: reader.number("calendar.hours_before_dusk").unwrap_or(works::HOURS_BEFORE_DUSK),
        weekend_damping: match reader.word("calendar.weekend_damping").as_deref() {
            Some("client") => WeekendDamping::Client,
            Some("neighbour") => WeekendDamping::Neighbour,
            _ => WeekendDamping::Hand,
        },
        late_a_day: reader.decimal("window.late_per_day"),
        risk_share: reader.decimal("window.risk_percent").unwrap_or(Decimal::new(25, 2)),
    }
}

fn gangs_of_walls(reader: &mut Reader<'_>) -> BTreeMap<String, usize> {
    let gangs = reader.names("gangs");
    let mut found = BTreeMap::new();
    for wall in reader.names("walls") {
        let path = format!("walls.{wall}.gang");
        let Some(asked) = reader.word(&path) else { continue };
        match gangs.iter().position(|gang| *gang == asked) {
            Some(gang) => {
                found.insert(wall, gang);
            }
            None if reader.sheet.is_spoiled("gangs") => {}
            None => {
                let known = if gangs.is_empty() { "none is named".to_owned() } else { gangs.join(", ") };
                reader.problem(
                    Fault::NotFound,
                    &path,
                    format!("There is no gang called {asked:?}: {known}."),
                    "Allowed is the short name of a gang of this job.",
                    "Add the gang under [gangs], or leave this out, so that any gang may do the wall.",
                );
            }
        }
    }
    found
}
