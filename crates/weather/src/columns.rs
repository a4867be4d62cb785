//! The quantities a weather file may give: names, units and the range that can be true on earth.

/// A quantity given by the hour.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Quantity {
    Air,
    DewPoint,
    Humidity,
    Pressure,
    Wind,
    WindFrom,
    Rain,
    Global,
    Direct,
    Diffuse,
    Sky,
    Cloud,
}

/// How many quantities there are.
pub(crate) const COUNT: usize = 12;

/// One quantity: its standard column, unit and range in the units kept inside.
pub(crate) struct Described {
    pub(crate) quantity: Quantity,
    /// Standard column name.
    pub(crate) name: &'static str,
    /// Unit inside.
    pub(crate) unit: &'static str,
    /// Least and greatest value that can be true.
    pub(crate) range: (f64, f64),
    /// What a value outside usually means.
    pub(crate) hint: &'static str,
}

/// The table; the order is that of [`Quantity`]. Ranges: the records of the World Meteorological Organization's archive of extremes, rounded outwards.
pub(crate) const TABLE: [Described; COUNT] = [
    Described {
        quantity: Quantity::Air,
        name: "air_c",
        unit: "°C",
        range: (-90.0, 60.0),
        hint: "A value near 280 is kelvin, a summer of 70 is Fahrenheit: convert to °C.",
    },
    Described {
        quantity: Quantity::DewPoint,
        name: "dew_point_c",
        unit: "°C",
        range: (-100.0, 40.0),
        hint: "A value near 280 is kelvin: convert to °C.",
    },
    Described {
        quantity: Quantity::Humidity,
        name: "humidity_percent",
        unit: "%",
        range: (0.0, 100.0),
        hint: "Give per cent, not a share; cut readings above 100 to 100.",
    },
    Described {
        quantity: Quantity::Pressure,
        name: "pressure_pa",
        unit: "Pa",
        range: (50_000.0, 110_000.0),
        hint: "A value near 1000 is hectopascal: name the column pressure_hpa. Give the pressure at the station, not at sea level.",
    },
    Described {
        quantity: Quantity::Wind,
        name: "wind_m_s",
        unit: "m/s",
        range: (0.0, 90.0),
        hint: "Knots times 0.514, or km/h divided by 3.6, gives m/s.",
    },
    Described {
        quantity: Quantity::WindFrom,
        name: "wind_from_deg",
        unit: "°",
        range: (0.0, 360.0),
        hint: "Give where the wind blows from, in degrees from north; leave variable or calm empty.",
    },
    Described {
        quantity: Quantity::Rain,
        name: "rain_mm",
        unit: "mm in the hour",
        range: (0.0, 310.0),
        hint: "Give what fell in the hour, in mm, not the sum so far; leave trace and missing empty.",
    },
    Described {
        quantity: Quantity::Global,
        name: "global_w_m2",
        unit: "W/m²",
        range: (0.0, 1600.0),
        hint: "Give the mean of the hour in W/m²: kJ/m² in the hour divided by 3.6.",
    },
    Described {
        quantity: Quantity::Direct,
        name: "direct_w_m2",
        unit: "W/m²",
        range: (0.0, 1400.0),
        hint: "Give the mean of the hour in W/m² on a plane facing the sun.",
    },
    Described {
        quantity: Quantity::Diffuse,
        name: "diffuse_w_m2",
        unit: "W/m²",
        range: (0.0, 1200.0),
        hint: "Give the mean of the hour in W/m² on the horizontal.",
    },
    Described {
        quantity: Quantity::Sky,
        name: "longwave_w_m2",
        unit: "W/m²",
        range: (50.0, 700.0),
        hint: "Give the long-wave radiation down from the sky on the horizontal, in W/m².",
    },
    Described {
        quantity: Quantity::Cloud,
        name: "cloud_percent",
        unit: "%",
        range: (0.0, 100.0),
        hint: "Give the share of the sky under cloud in per cent: oktas times 12.5.",
    },
];

impl Quantity {
    /// Its row of the table.
    pub(crate) fn described(self) -> &'static Described {
        &TABLE[self as usize]
    }
}

/// A quantity with what turns the number read into the unit kept inside: value × `scale` + `shift`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Measure {
    pub(crate) quantity: Quantity,
    pub(crate) scale: f64,
    pub(crate) shift: f64,
}

impl Measure {
    /// A quantity read in the unit kept inside.
    pub(crate) fn plain(quantity: Quantity) -> Self {
        Self { quantity, scale: 1.0, shift: 0.0 }
    }

    /// The measure of a standard column name, or of its hectopascal form.
    pub(crate) fn of_column(name: &str) -> Option<Self> {
        if name == "pressure_hpa" {
            return Some(Self { quantity: Quantity::Pressure, scale: 100.0, shift: 0.0 });
        }
        TABLE.iter().find(|row| row.name == name).map(|row| Self::plain(row.quantity))
    }

    /// The value in the unit kept inside.
    pub(crate) fn apply(self, read: f64) -> f64 {
        if self.scale == 1.0 && self.shift == 0.0 { read } else { read * self.scale + self.shift }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_is_in_the_order_of_the_quantities() {
        for (index, row) in TABLE.iter().enumerate() {
            assert_eq!(row.quantity as usize, index, "{}", row.name);
        }
    }
}
