//! Units in which weather services give their readings, each turned into the one kept inside.

use crate::columns::{Measure, Quantity};

/// Name of a unit, and value inside = value × scale + shift.
type Unit = (&'static str, f64, f64);

const TEMPERATURES: &[Unit] = &[("c", 1.0, 0.0), ("k", 1.0, -273.15), ("f", 1.0 / 1.8, -32.0 / 1.8), ("tenths_c", 0.1, 0.0)];
const SHARES: &[Unit] = &[("percent", 1.0, 0.0), ("share", 100.0, 0.0)];
const PRESSURES: &[Unit] = &[
    ("pa", 1.0, 0.0),
    ("hpa", 100.0, 0.0),
    ("mbar", 100.0, 0.0),
    ("kpa", 1000.0, 0.0),
    ("mmhg", 133.322_387_415, 0.0),
    ("inhg", 3386.389, 0.0),
];
const SPEEDS: &[Unit] =
    &[("m_s", 1.0, 0.0), ("km_h", 1.0 / 3.6, 0.0), ("knots", 1852.0 / 3600.0, 0.0), ("mph", 0.447_04, 0.0), ("tenths_m_s", 0.1, 0.0)];
const DIRECTIONS: &[Unit] = &[("deg", 1.0, 0.0), ("tens_deg", 10.0, 0.0)];
const DEPTHS: &[Unit] = &[("mm", 1.0, 0.0), ("tenths_mm", 0.1, 0.0), ("cm", 10.0, 0.0), ("m", 1000.0, 0.0), ("in", 25.4, 0.0)];
/// Means of the hour, and sums over the hour.
const RADIATIONS: &[Unit] =
    &[("w_m2", 1.0, 0.0), ("wh_m2", 1.0, 0.0), ("kj_m2", 1.0 / 3.6, 0.0), ("mj_m2", 1000.0 / 3.6, 0.0), ("j_cm2", 10.0 / 3.6, 0.0)];
const CLOUDS: &[Unit] = &[("percent", 1.0, 0.0), ("share", 100.0, 0.0), ("tenths", 10.0, 0.0), ("oktas", 12.5, 0.0)];

/// The units of a quantity.
fn units(quantity: Quantity) -> &'static [Unit] {
    match quantity {
        Quantity::Air | Quantity::DewPoint => TEMPERATURES,
        Quantity::Humidity => SHARES,
        Quantity::Pressure => PRESSURES,
        Quantity::Wind => SPEEDS,
        Quantity::WindFrom => DIRECTIONS,
        Quantity::Rain => DEPTHS,
        Quantity::Global | Quantity::Direct | Quantity::Diffuse | Quantity::Sky => RADIATIONS,
        Quantity::Cloud => CLOUDS,
    }
}

/// The measure of a quantity in a unit; `None` if the unit is not one of its own.
pub(crate) fn measure(quantity: Quantity, unit: &str) -> Option<Measure> {
    units(quantity).iter().find(|(name, ..)| *name == unit).map(|(_, scale, shift)| Measure { quantity, scale: *scale, shift: *shift })
}

/// Names of the units of a quantity, for messages.
pub(crate) fn names(quantity: Quantity) -> String {
    units(quantity).iter().map(|(name, ..)| *name).collect::<Vec<_>>().join(", ")
}

/// Names of the quantities in a declaration.
pub(crate) const QUANTITIES: [(&str, Quantity); 12] = [
    ("air", Quantity::Air),
    ("dew_point", Quantity::DewPoint),
    ("humidity", Quantity::Humidity),
    ("pressure", Quantity::Pressure),
    ("wind", Quantity::Wind),
    ("wind_from", Quantity::WindFrom),
    ("rain", Quantity::Rain),
    ("global", Quantity::Global),
    ("direct", Quantity::Direct),
    ("diffuse", Quantity::Diffuse),
    ("longwave", Quantity::Sky),
    ("cloud", Quantity::Cloud),
];

#[cfg(test)]
mod tests {
    use super::*;

    /// Exact definitions of the units.
    #[test]
    fn known_conversions() {
        let of = |quantity, unit, value| measure(quantity, unit).map(|measure| measure.apply(value));
        let near = |found: Option<f64>, wanted: f64| found.is_some_and(|found| (found - wanted).abs() < 1e-9 * wanted.abs().max(1.0));
        assert!(near(of(Quantity::Air, "f", 212.0), 100.0) && near(of(Quantity::Air, "k", 273.15), 0.0));
        assert!(near(of(Quantity::Wind, "knots", 1.0), 0.514_444_444_444_444_4));
        assert!(near(of(Quantity::Rain, "in", 2.0), 50.8) && near(of(Quantity::Global, "mj_m2", 3.6), 1000.0));
        assert!(near(of(Quantity::Pressure, "mmhg", 760.0), 101_325.014_435_4) && near(of(Quantity::Cloud, "oktas", 8.0), 100.0));
        assert!(of(Quantity::Rain, "k", 1.0).is_none());
    }
}
