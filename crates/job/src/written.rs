//! Values the way people write them: `3 1/2`, `12 ft 6 in`, `1:2½`, `26 April 2027`, `north-east`. Pure functions of text; they never panic.

use jiff::civil::{Date, Time};

use crate::fields::Measure;

/// Longest text that is tried as a value; nobody writes a length in more.
const MOST: usize = 80;

/// A number as written, in the unit of `measure`; units of length may be written after it. The error is a complete sentence.
pub(crate) fn amount(text: &str, measure: Measure) -> Result<f64, String> {
    if text.len() > MOST {
        return Err("It is too long for a number.".to_owned());
    }
    let parts = parts(text)?;
    let mut total = 0.0;
    let mut position = 0;
    let mut bare = 0;
    let mut terms = 0;
    while position < parts.len() {
        let (number, used) = mixed(&parts[position..]).ok_or_else(|| format!("{text:?} does not read as a number."))?;
        position += used;
        terms += 1;
        match parts.get(position) {
            Some(Part::Word(unit)) => {
                total += number * in_measure(unit, measure)?;
                position += 1;
            }
            _ => {
                total += number;
                bare += 1;
            }
        }
    }
    match (terms, bare) {
        (0, _) => Err("There is no number in it.".to_owned()),
        (1, _) | (_, 0) => Ok(if text.trim_start().starts_with(['-', '−']) { -total } else { total }),
        _ => Err(format!("{text:?} does not read as one number: give every part its unit.")),
    }
}

#[derive(Clone, Debug, PartialEq)]
enum Part {
    Number(f64),
    Fraction(f64),
    Word(String),
}

/// A whole number with or without a fraction after it, and how many parts it used.
fn mixed(parts: &[Part]) -> Option<(f64, usize)> {
    match parts {
        [Part::Number(whole), Part::Fraction(fraction), ..] if whole.fract() == 0.0 => Some((whole + fraction, 2)),
        [Part::Number(number), ..] => Some((*number, 1)),
        [Part::Fraction(fraction), ..] => Some((*fraction, 1)),
        _ => None,
    }
}

fn parts(text: &str) -> Result<Vec<Part>, String> {
    let mut parts = Vec::new();
    let trimmed = text.trim().trim_start_matches(['-', '−', '+']);
    let mut rest = trimmed.trim_start();
    while let Some(first) = rest.chars().next() {
        let (part, used) = if first.is_ascii_digit() || first == '.' {
            let end = rest.find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',' | '/'))).unwrap_or(rest.len());
            (digits(&rest[..end])?, end)
        } else if let Some(fraction) = vulgar(first) {
            (Part::Fraction(fraction), first.len_utf8())
        } else {
            let end = rest.find(|c: char| c.is_ascii_digit() || c.is_whitespace() || c == '.' || vulgar(c).is_some()).unwrap_or(rest.len());
            (Part::Word(rest[..end].to_lowercase()), end.max(first.len_utf8()))
        };
        parts.push(part);
        rest = rest[used..].trim_start();
    }
    Ok(parts)
}

fn digits(text: &str) -> Result<Part, String> {
    if let Some((over, under)) = text.split_once('/') {
        return match (over.parse::<u32>(), under.parse::<u32>()) {
            (Ok(over), Ok(under)) if under > 0 => Ok(Part::Fraction(f64::from(over) / f64::from(under))),
            _ => Err(format!("{text:?} does not read as a fraction.")),
        };
    }
    let decimal = match text.split_once(',') {
        None => text.to_owned(),
        Some((_, after)) if after.len() == 3 => {
            return Err(format!("{text:?} can be read in two ways: write thousands without a comma, and a decimal with a point."));
        }
        Some((before, after)) => format!("{before}.{after}"),
    };
    decimal.parse().map(Part::Number).map_err(|_| format!("{text:?} does not read as a number."))
}

fn vulgar(c: char) -> Option<f64> {
    Some(match c {
        '½' => 0.5,
        '¼' => 0.25,
        '¾' => 0.75,
        '⅓' => 1.0 / 3.0,
        '⅔' => 2.0 / 3.0,
        '⅛' => 0.125,
        '⅜' => 0.375,
        '⅝' => 0.625,
        '⅞' => 0.875,
        _ => return None,
    })
}

/// How many of `measure` one of the written unit is.
fn in_measure(unit: &str, measure: Measure) -> Result<f64, String> {
    let millimetres = match unit {
        "mm" => Some(1.0),
        "cm" => Some(10.0),
        "m" | "metre" | "metres" | "meter" | "meters" => Some(1000.0),
        "in" | "in." | "inch" | "inches" | "\"" | "″" => Some(25.4),
        "ft" | "ft." | "foot" | "feet" | "'" | "′" => Some(304.8),
        _ => None,
    };
    let factor = match (measure, millimetres) {
        (Measure::Millimetres, Some(millimetres)) => Some(millimetres),
        (Measure::Metres, Some(millimetres)) => Some(millimetres / 1000.0),
        (Measure::PerCent, None) if matches!(unit, "%" | "percent") => Some(1.0),
        (Measure::As(words), _) if words.starts_with(unit) && !unit.is_empty() => Some(1.0),
        _ => None,
    };
    factor.ok_or_else(|| match measure.words() {
        "" => format!("The unit {unit:?} does not belong here: a bare number is asked for."),
        words => format!("The unit {unit:?} is not one this value can be written in ({words})."),
    })
}

/// Parts of sand to one of lime, from `1:2½` or a bare number of parts.
pub(crate) fn ratio(text: &str) -> Result<f64, String> {
    let Some((lime, sand)) = text.split_once(':') else {
        return Err(format!("{text:?} is not a proportion such as \"1:2½\"."));
    };
    let (lime, sand) = (amount(lime, Measure::One)?, amount(sand, Measure::One)?);
    if lime > 0.0 && sand > 0.0 { Ok(sand / lime) } else { Err(format!("{text:?} leaves out the lime or the sand.")) }
}

/// A civil date: `2027-04-26` or `26 April 2027`.
pub(crate) fn date(text: &str) -> Option<Date> {
    let text = text.trim();
    if text.len() > MOST {
        return None;
    }
    if let Ok(date) = text.parse::<Date>() {
        // jiff reads a date out of a longer timestamp; a job asks for the day alone.
        return (text.len() == 10).then_some(date);
    }
    let mut words = text.split_whitespace();
    let (day, month, year) = (words.next()?, words.next()?, words.next()?);
    if words.next().is_some() || month.len() < 3 {
        return None;
    }
    let month = month.to_lowercase();
    let months = ["january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november", "december"];
    let index = months.iter().position(|name| name.starts_with(&month))?;
    Date::new(year.parse().ok()?, i8::try_from(index + 1).ok()?, day.parse().ok()?).ok()
}

/// A time of day: `8:00` or `16:30`.
pub(crate) fn time(text: &str) -> Option<Time> {
    let (hour, minute) = text.trim().split_once(':')?;
    if minute.len() != 2 {
        return None;
    }
    Time::new(hour.parse().ok()?, minute.parse().ok()?, 0, 0).ok()
}

/// First and last day: `2027-07-12 to 2027-07-16`, or one day.
pub(crate) fn spell(text: &str) -> Option<(Date, Date)> {
    match text.split_once(" to ") {
        Some((first, last)) => Some((date(first)?, date(last)?)),
        None => date(text).map(|day| (day, day)),
    }
}

/// Degrees clockwise from north of a point of the compass in words or letters.
pub(crate) fn bearing(text: &str) -> Option<f64> {
    if text.len() > MOST {
        return None;
    }
    let letters = text
        .trim()
        .to_lowercase()
        .replace("north", "n")
        .replace("south", "s")
        .replace("east", "e")
        .replace("west", "w")
        .replace(['-', ' '], "");
    let points = ["n", "nne", "ne", "ene", "e", "ese", "se", "sse", "s", "ssw", "sw", "wsw", "w", "wnw", "nw", "nnw"];
    points.iter().zip(0_u8..).find(|(point, _)| **point == letters).map(|(_, index)| f64::from(index) * 22.5)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::float_cmp)]
    use super::*;

    #[test]
    fn lengths_are_read_as_people_write_them() {
        let cases = [
            ("3 1/2", Measure::Millimetres, 3.5),
            ("3½", Measure::Millimetres, 3.5),
            ("3.5 mm", Measure::Millimetres, 3.5),
            ("3,5", Measure::Millimetres, 3.5),
            ("½", Measure::One, 0.5),
            ("12 ft 6 in", Measure::Metres, 3.81),
            ("12'6\"", Measure::Metres, 3.81),
            ("2 ft", Measure::Millimetres, 609.6),
            ("1.2 m", Measure::Metres, 1.2),
            ("120 cm", Measure::Metres, 1.2),
            ("20 %", Measure::PerCent, 20.0),
            ("8 hours", Measure::As("hours"), 8.0),
        ];
        for (text, measure, expected) in cases {
            let read = amount(text, measure).unwrap();
            assert!((read - expected).abs() < 1e-12, "{text}: {read}");
        }
    }

    #[test]
    fn what_can_be_read_in_two_ways_is_refused() {
        for text in ["1,250", "3 4", "", "mm", "1/0", "3.5.1", "ten", "5 acres"] {
            assert!(amount(text, Measure::Metres).is_err(), "{text}");
        }
    }

    #[test]
    fn mixes_dates_and_bearings() {
        assert_eq!(ratio("1:2½").unwrap(), 2.5);
        assert_eq!(ratio("1 : 2 1/2").unwrap(), 2.5);
        assert_eq!(ratio("2:5").unwrap(), 2.5);
        assert!(ratio("2½").is_err() && ratio("0:3").is_err());
        assert_eq!(date("26 April 2027"), date("2027-04-26"));
        assert_eq!(date("31 April 2027"), None);
        assert_eq!(date("2027-04-26T10:00"), None);
        assert_eq!(bearing("North-East"), Some(45.0));
        assert_eq!(bearing("nnw"), Some(337.5));
        assert_eq!(bearing("up"), None);
        assert_eq!(time("7:30"), Time::new(7, 30, 0, 0).ok());
    }
}
