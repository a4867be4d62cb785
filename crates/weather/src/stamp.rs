//! Times as files write them: a pattern read into parts, and a stamp brought to the hour it stands for.

use crate::calendar;
use crate::rows::Hour;

/// What the time written on a row says of the hour it was measured in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Stamp {
    /// The hour begins then (or the reading was taken then).
    #[default]
    Start,
    /// The hour ends then: 01:00 to 24:00.
    End,
    /// The hour's middle: half past.
    Middle,
}

/// Parts of a time.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Parts {
    pub(crate) year: i32,
    pub(crate) month: u32,
    pub(crate) day: u32,
    pub(crate) hour: u32,
    pub(crate) minute: u32,
}

/// Reads `text` by a pattern of `yyyy`, `mm`, `dd`, `HH`, `MM` and signs between them into `parts`. A sign in the pattern must stand in the text; before a
/// sign or the end a number may be shorter than its letters, or longer by nothing. `false` when it does not fit.
pub(crate) fn read(text: &str, pattern: &str, parts: &mut Parts) -> bool {
    let (text, pattern) = (text.as_bytes(), pattern.as_bytes());
    let (mut at, mut letter) = (0, 0);
    while letter < pattern.len() {
        let token = pattern[letter];
        let length = pattern[letter..].iter().take_while(|other| **other == token).count();
        if !b"ymdHM".contains(&token) {
            if text.get(at) != Some(&token) {
                return false;
            }
            (at, letter) = (at + 1, letter + 1);
            continue;
        }
        let digits = text[at.min(text.len())..].iter().take(length).take_while(|digit| digit.is_ascii_digit());
        let (count, number) =
            digits.fold((0, 0u32), |(count, number), digit| (count + 1, number.saturating_mul(10).saturating_add(u32::from(digit - b'0'))));
        if count == 0 {
            return false;
        }
        match token {
            b'y' => parts.year = number.min(9999) as i32,
            b'm' => parts.month = number,
            b'd' => parts.day = number,
            b'H' => parts.hour = number,
            _ => parts.minute = number,
        }
        (at, letter) = (at + count, letter + length);
    }
    // Seconds or a zone behind what the pattern asks for are let be only if they say nothing: zeros.
    text[at.min(text.len())..].iter().all(|rest| b": 0.Z".contains(rest))
}

/// The hour a time stands for. `None` when the minute does not fit the stamp or the parts are no time; hour 24 is the end of its day.
pub(crate) fn hour(parts: Parts, stamp: Stamp) -> Option<Hour> {
    let minute_fits = match stamp {
        Stamp::Start | Stamp::End => parts.minute == 0,
        Stamp::Middle => parts.minute == 30,
    };
    let leap = calendar::is_leap(parts.year);
    let length = calendar::days_of_month(parts.month, leap);
    if !minute_fits || parts.hour > 24 || parts.day == 0 || parts.day > length || (stamp == Stamp::Middle && parts.hour == 24) {
        return None;
    }
    let at = Hour { year: parts.year, month: parts.month, day: parts.day, hour: parts.hour };
    match (stamp, parts.hour) {
        (Stamp::End, 0) => Some(day_before(at)),
        (Stamp::End, hour) => Some(Hour { hour: hour - 1, ..at }),
        (Stamp::Start, 24) => Some(day_after(at, length)),
        _ => Some(at),
    }
}

fn day_before(at: Hour) -> Hour {
    match (at.month, at.day) {
        (1, 1) => Hour { year: at.year - 1, month: 12, day: 31, hour: 23 },
        (month, 1) => Hour { month: month - 1, day: calendar::days_of_month(month - 1, calendar::is_leap(at.year)), hour: 23, ..at },
        (_, day) => Hour { day: day - 1, hour: 23, ..at },
    }
}

fn day_after(at: Hour, length: u32) -> Hour {
    match (at.month, at.day) {
        (12, 31) => Hour { year: at.year + 1, month: 1, day: 1, hour: 0 },
        (month, day) if day == length => Hour { month: month + 1, day: 1, hour: 0, ..at },
        (_, day) => Hour { day: day + 1, hour: 0, ..at },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn parsed(text: &str, pattern: &str) -> Option<Parts> {
        let mut parts = Parts::default();
        read(text, pattern, &mut parts).then_some(parts)
    }

    #[test]
    fn patterns() {
        let wanted = Some(Parts { year: 2019, month: 3, day: 7, hour: 5, minute: 30 });
        assert_eq!(parsed("07.03.2019 05:30", "dd.mm.yyyy HH:MM"), wanted);
        assert_eq!(parsed("7/3/2019 5:30", "dd/mm/yyyy HH:MM"), wanted);
        assert_eq!(parsed("201903070530", "yyyymmddHHMM"), wanted);
        assert_eq!(parsed("2019-03-07T05:30:00Z", "yyyy-mm-ddTHH:MM"), wanted);
        assert_eq!(parsed("2019-03-07T05:30:15", "yyyy-mm-ddTHH:MM"), None);
        assert_eq!(parsed("2019/03/07", "yyyy-mm-dd"), None);
        assert_eq!(parsed("", "yyyy"), None);
    }

    #[test]
    fn stamps() {
        let at = |hour, minute| Parts { year: 2020, month: 1, day: 1, hour, minute };
        assert_eq!(hour(at(0, 0), Stamp::End), Some(Hour { year: 2019, month: 12, day: 31, hour: 23 }));
        assert_eq!(hour(at(24, 0), Stamp::End), Some(Hour { year: 2020, month: 1, day: 1, hour: 23 }));
        assert_eq!(hour(at(24, 0), Stamp::Start), Some(Hour { year: 2020, month: 1, day: 2, hour: 0 }));
        assert_eq!(hour(at(7, 30), Stamp::Middle), Some(Hour { year: 2020, month: 1, day: 1, hour: 7 }));
        assert_eq!(hour(at(7, 20), Stamp::Start), None);
        assert_eq!(hour(Parts { year: 2019, month: 2, day: 29, hour: 0, minute: 0 }, Stamp::Start), None);
    }
}
