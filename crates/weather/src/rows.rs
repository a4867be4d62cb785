//! Rows of readings put in their places: each reading goes to an hour of a year, whatever order or gaps the file has. What is wrong with the
//! hours (missing, twice, not a date) is found here; what the quantities mean is not.

use crate::calendar;
use crate::columns::{COUNT, Measure, Quantity};
use crate::error::Faults;
use crate::series::{Kind, Site};

/// Readings of one year: a column is empty when the file does not give it, and holds NaN where a reading is missing.
#[derive(Clone, Debug)]
pub(crate) struct RawYear {
    pub(crate) year: i32,
    pub(crate) leap: bool,
    pub(crate) columns: [Vec<f64>; COUNT],
    /// Line of the file that gave each hour; zero for none.
    pub(crate) lines: Vec<u32>,
}

impl RawYear {
    pub(crate) fn new(year: i32, leap: bool, given: &[Quantity]) -> Self {
        let hours = calendar::days_of_year(leap) * 24;
        let mut columns: [Vec<f64>; COUNT] = Default::default();
        for quantity in given {
            columns[*quantity as usize] = vec![f64::NAN; hours];
        }
        Self { year, leap, columns, lines: vec![0; hours] }
    }

    pub(crate) fn hours(&self) -> usize {
        self.lines.len()
    }

    pub(crate) fn column(&self, quantity: Quantity) -> &[f64] {
        &self.columns[quantity as usize]
    }

    pub(crate) fn has(&self, quantity: Quantity) -> bool {
        !self.columns[quantity as usize].is_empty()
    }
}

/// Readings before anything is filled, split or derived.
#[derive(Clone, Debug)]
pub(crate) struct Raw {
    pub(crate) name: String,
    pub(crate) site: Site,
    pub(crate) kind: Kind,
    /// Quantities the file names; `None` to take those of the first year.
    pub(crate) given: Option<Vec<Quantity>>,
    pub(crate) years: Vec<RawYear>,
}

/// A civil hour: its start.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Hour {
    pub(crate) year: i32,
    pub(crate) month: u32,
    pub(crate) day: u32,
    /// 0 to 23: the hour from here to one later.
    pub(crate) hour: u32,
}

/// Years an hour may belong to: those for which the sun's place and the calendar are sound.
const YEARS: std::ops::RangeInclusive<i32> = 1850..=2200;
/// Most years in one file.
const MOST_YEARS: usize = 200;
/// A year of hours takes more text than this, bytes: a short file cannot claim the memory of many years.
const LEAST_TEXT_OF_A_YEAR: usize = 80_000;

/// Gathers readings into years.
#[derive(Debug)]
pub(crate) struct Gatherer {
    given: Vec<Quantity>,
    years: Vec<RawYear>,
    most_years: usize,
    refused_years: bool,
}

impl Gatherer {
    /// A gatherer of these quantities from a text of so many bytes.
    pub(crate) fn new(given: &[Quantity], text_bytes: usize) -> Self {
        let most_years = (text_bytes / LEAST_TEXT_OF_A_YEAR + 2).min(MOST_YEARS);
        Self { given: given.to_vec(), years: Vec::new(), most_years, refused_years: false }
    }

    /// The quantities gathered.
    pub(crate) fn given(&self) -> &[Quantity] {
        &self.given
    }

    /// The place in which the readings of an hour belong: index of the year and of the hour. A fault and `None` for what is no hour, or is taken.
    pub(crate) fn place(&mut self, at: Hour, line: usize, faults: &mut Faults) -> Option<(usize, usize)> {
        let leap = calendar::is_leap(at.year);
        let length = calendar::days_of_month(at.month, leap);
        if !YEARS.contains(&at.year) || at.day == 0 || at.day > length || at.hour > 23 {
            let found = format!("{}-{:02}-{:02} hour {}", at.year, at.month, at.day, at.hour);
            let allowed = format!("years {} to {}, days of the calendar, hours 0 to 23", YEARS.start(), YEARS.end());
            faults.add(Some(line), "time", found, allowed, "Correct the date; the hour is the one that starts then.");
            return None;
        }
        let index = self.year_index(at.year, leap, line, faults)?;
        let year = &mut self.years[index];
        let hour = calendar::day_of_year(at.month, at.day, leap) * 24 + at.hour as usize;
        let taken = year.lines[hour];
        if taken != 0 {
            let found = format!("{}-{:02}-{:02} hour {} for the second time (first on line {taken})", at.year, at.month, at.day, at.hour);
            faults.add(
                Some(line),
                "time",
                found,
                "every hour once",
                "Delete the row that is wrong; clocks must not change for summer time.",
            );
            return None;
        }
        year.lines[hour] = u32::try_from(line).unwrap_or(u32::MAX);
        Some((index, hour))
    }

    fn year_index(&mut self, year: i32, leap: bool, line: usize, faults: &mut Faults) -> Option<usize> {
        // Files run on in order, so the last year is nearly always the one.
        if let Some(index) = self.years.iter().rposition(|known| known.year == year) {
            return Some(index);
        }
        if self.years.len() >= self.most_years {
            if !self.refused_years {
                self.refused_years = true;
                let most = self.most_years;
                let remedy = "Every year needs its 8760 hours; split a file that is longer.";
                faults.add(
                    Some(line),
                    "time",
                    format!("more than {most} different years"),
                    format!("at most {most} in a file of this size"),
                    remedy,
                );
            }
            return None;
        }
        self.years.push(RawYear::new(year, leap, &self.given));
        Some(self.years.len() - 1)
    }

    /// Sets a reading after checking its range.
    pub(crate) fn set(&mut self, (year, hour): (usize, usize), measure: Measure, read: f64, line: usize, faults: &mut Faults) {
        let value = measure.apply(read);
        let described = measure.quantity.described();
        let (low, high) = described.range;
        if value < low || value > high {
            let allowed = format!("{low} to {high} {}", described.unit);
            faults.add(Some(line), described.name, format!("{read}"), allowed, described.hint);
        } else {
            self.years[year].columns[measure.quantity as usize][hour] = value;
        }
    }

    /// The years in order; a leap year whose 29 February is wholly absent becomes one of 365 days.
    pub(crate) fn into_years(mut self) -> Vec<RawYear> {
        self.years.sort_by_key(|year| year.year);
        for year in &mut self.years {
            drop_absent_leap_day(year);
        }
        self.years
    }
}

fn drop_absent_leap_day(year: &mut RawYear) {
    let day = calendar::day_of_year(2, 29, true) * 24;
    if !year.leap || year.lines[day..day + 24].iter().any(|line| *line != 0) {
        return;
    }
    year.leap = false;
    year.lines.drain(day..day + 24);
    for column in year.columns.iter_mut().filter(|column| !column.is_empty()) {
        column.drain(day..day + 24);
    }
}

/// The fault of a file without readings.
pub(crate) fn no_rows(faults: &mut Faults) {
    faults.add(None, "rows", "no row of readings", "8760 or 8784 rows a year", "Give the readings under the line of column names.");
}

/// Checks that every hour of every year is there, save gaps short enough to fill, and that no year in the middle is missing.
pub(crate) fn check_hours(years: &[RawYear], longest_gap_h: usize, faults: &mut Faults) {
    for pair in years.windows(2) {
        if pair[1].year != pair[0].year + 1 {
            let found = format!("year {} is followed by {}", pair[0].year, pair[1].year);
            faults.add(None, "time", found, "years that follow each other", "Add the years between, or give the parts as separate files.");
        }
    }
    for year in years {
        check_year(year, longest_gap_h, faults);
    }
}

fn check_year(year: &RawYear, longest_gap_h: usize, faults: &mut Faults) {
    let mut hour = 0;
    while hour < year.hours() {
        if year.lines[hour] != 0 {
            hour += 1;
            continue;
        }
        let end = (hour..year.hours()).find(|later| year.lines[*later] != 0).unwrap_or(year.hours());
        if end - hour > longest_gap_h {
            let (month, day) = calendar::month_and_day(hour / 24, year.leap);
            let found = format!("{} hours missing from {}-{month:02}-{day:02} hour {}", end - hour, year.year, hour % 24);
            let line = year.lines[..hour].iter().rev().find(|line| **line != 0).map(|line| *line as usize);
            let remedy =
                "Fill the gap from a neighbouring station, or leave the whole year out: a year must run from 1 January to 31 December.";
            faults.add(line, "time", found, format!("gaps of at most {longest_gap_h} hours"), remedy);
        }
        hour = end;
    }
}
