//! plan/1: the protection policies compared for the start, wall by wall, and the choice.

use serde::Serialize;
use works::protect::{self, CoatOption, DamageShare, ProtectionOption, Spread, WallProtection};

use super::money::Money;

#[derive(Serialize)]
pub(super) struct Protection<'p> {
    /// Weather years compared in.
    years: &'p [i32],
    walls: Vec<Wall<'p>>,
}

impl<'p> Protection<'p> {
    pub(super) fn of(protection: &'p protect::Protection) -> Self {
        Self { years: &protection.years, walls: protection.walls.iter().map(Wall::of).collect() }
    }
}

#[derive(Serialize)]
struct Wall<'p> {
    slug: &'p str,
    fixed: Option<&'p str>,
    chosen: Vec<&'static str>,
    why: &'p str,
    options: Vec<Choice<'p>>,
}

impl<'p> Wall<'p> {
    fn of(wall: &'p WallProtection) -> Self {
        Self {
            slug: &wall.wall,
            fixed: wall.fixed.as_deref(),
            chosen: wall.chosen.iter().map(|policy| policy.name()).collect(),
            why: &wall.why,
            options: wall.options.iter().map(Choice::of).collect(),
        }
    }
}

#[derive(Serialize)]
struct Choice<'p> {
    policy: &'static str,
    days: Days,
    visits: f64,
    person_h: f64,
    redo_share: f64,
    money: Money<'p>,
    coats: Vec<Coat<'p>>,
}

impl<'p> Choice<'p> {
    fn of(option: &'p ProtectionOption) -> Self {
        Self {
            policy: option.policy.name(),
            days: Days::of(&option.days),
            visits: option.visits,
            person_h: option.hours,
            redo_share: option.redo,
            money: Money::of(&option.money),
            coats: option.coats.iter().map(Coat::of).collect(),
        }
    }
}

#[derive(Serialize)]
struct Coat<'p> {
    slug: &'p str,
    thrown_share: f64,
    waited: Days,
    days: Days,
    visits: f64,
    person_h: f64,
    mend_share: f64,
    redo_share: f64,
    damage: Vec<Damage>,
    money: Money<'p>,
}

impl<'p> Coat<'p> {
    fn of(coat: &'p CoatOption) -> Self {
        let ahead = &coat.ahead;
        Self {
            slug: &coat.coat,
            thrown_share: ahead.thrown,
            waited: Days::of(&ahead.waited_days),
            days: Days::of(&ahead.days),
            visits: ahead.visits,
            person_h: ahead.hours,
            mend_share: coat.mend,
            redo_share: ahead.redone,
            damage: ahead.damage.iter().map(Damage::of).collect(),
            money: Money::of(&coat.money),
        }
    }
}

/// A spread over the years, days.
#[derive(Serialize)]
struct Days {
    least: Option<f64>,
    lower_quarter: Option<f64>,
    middle: Option<f64>,
    upper_quarter: Option<f64>,
    eight_in_ten: Option<f64>,
    most: Option<f64>,
    not_this_season_share: f64,
}

impl Days {
    fn of(spread: &Spread) -> Self {
        Self {
            least: spread.least,
            lower_quarter: spread.lower_quarter,
            middle: spread.middle,
            upper_quarter: spread.upper_quarter,
            eight_in_ten: spread.eight_in_ten,
            most: spread.most,
            not_this_season_share: spread.not_this_season,
        }
    }
}

#[derive(Serialize)]
struct Damage {
    kind: String,
    grade: String,
    share: f64,
}

impl Damage {
    fn of(damage: &DamageShare) -> Self {
        Self { kind: damage.kind.to_string(), grade: damage.grade.to_string(), share: damage.share }
    }
}
