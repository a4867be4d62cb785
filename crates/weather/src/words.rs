//! Names of months and bearings.

const MONTHS: [&str; 12] =
    ["January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"];
const BEARINGS: [&str; 8] = ["north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"];

/// Name of a month from 0; December for any above.
pub(crate) fn month_name(index: usize) -> &'static str {
    MONTHS[index.min(11)]
}

/// The nearest of eight bearings in words.
pub(crate) fn bearing(degrees: f64) -> String {
    let eighth = (degrees.rem_euclid(360.0) / 45.0).round() as usize % 8;
    BEARINGS[eighth].to_owned()
}
