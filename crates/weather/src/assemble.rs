//! From readings to a series that can be used: short gaps filled and listed, absent quantities derived by published forms, the whole hashed.

use physics::{numbers, sky, sun};
use reckoning::{Finding, Grade};
use sha2::{Digest, Sha256};

use crate::calendar;
use crate::columns::Quantity;
use crate::error::{Faults, WeatherError};
use crate::rows::{Raw, RawYear, check_hours, no_rows};
use crate::series::{Kind, RainRecord, Site, Weather, WeatherYear};

/// Longest gap that is filled by drawing a line between its ends, hours.
pub(crate) const LONGEST_GAP_H: usize = 6;

/// Turns readings into weather, adding to the faults already found in the text.
pub(crate) fn assemble(mut raw: Raw, mut faults: Faults) -> Result<Weather, WeatherError> {
    if faults.count() == 0 {
        if raw.years.is_empty() {
            no_rows(&mut faults);
        }
        check_hours(&raw.years, LONGEST_GAP_H, &mut faults);
    }
    check_given(&raw, &mut faults);
    if faults.count() == 0 {
        check_units(&raw, &mut faults);
    }
    let mut filled = Vec::new();
    if faults.count() == 0 {
        for year in &mut raw.years {
            fill_gaps(year, &mut faults, &mut filled);
        }
    }
    faults.into_result(&raw.name)?;
    let rain = if raw.years.iter().all(|year| year.has(Quantity::Rain)) { RainRecord::Hourly } else { RainRecord::Missing };
    let mut findings: Vec<Finding> = filled_finding(&filled).into_iter().collect();
    findings.extend(derived_findings(&raw.years[0], rain, raw.kind, raw.years.len()));
    findings.extend(raw.years.iter().find_map(rain_amount_finding));
    findings.extend(raw.years.first().and_then(|year| shifted_sun_finding(year, &raw.site)));
    let years = raw.years.into_iter().map(|year| complete(year, &raw.site)).collect();
    Ok(finish(raw.site, raw.kind, years, rain, findings))
}

/// Weather of complete years, with its hash.
pub(crate) fn finish(site: Site, kind: Kind, years: Vec<WeatherYear>, rain: RainRecord, findings: Vec<Finding>) -> Weather {
    let hash = hash(&site, kind, rain, &years);
    Weather { site, kind, years, rain, hash, findings }
}

fn check_given(raw: &Raw, faults: &mut Faults) {
    let of_first = || {
        raw.years.first().map(|year| crate::columns::TABLE.iter().map(|row| row.quantity).filter(|quantity| year.has(*quantity)).collect())
    };
    let Some(given) = raw.given.clone().or_else(of_first) else { return };
    let has = |quantity: Quantity| given.contains(&quantity);
    let mut need = |held: bool, column: &str, remedy: &str| {
        if !held {
            faults.add(None, column, "no such column", "a column of this name", remedy);
        }
    };
    need(has(Quantity::Air), "air_c", "Give the air temperature in °C.");
    need(has(Quantity::Humidity) || has(Quantity::DewPoint), "humidity_percent", "Give the relative humidity in per cent, or dew_point_c.");
    need(has(Quantity::Wind), "wind_m_s", "Give the wind speed at 10 m in m/s.");
    need(has(Quantity::WindFrom), "wind_from_deg", "Give where the wind blows from in degrees: driving rain needs it.");
    let light = has(Quantity::Global) || (has(Quantity::Direct) && has(Quantity::Diffuse)) || has(Quantity::Cloud);
    need(light, "global_w_m2", "Give the global radiation in W/m², or direct_w_m2 and diffuse_w_m2, or cloud_percent.");
}

/// Faults of unit that no single reading shows.
fn check_units(raw: &Raw, faults: &mut Faults) {
    let mut all = |quantity: Quantity, wrong: &dyn Fn(f64, f64) -> bool, found: &str, remedy: &str| {
        let readings = || raw.years.iter().flat_map(|year| year.column(quantity)).copied().filter(|value| !value.is_nan());
        let count = readings().count();
        if count > 0 {
            let mean = readings().sum::<f64>() / count as f64;
            let greatest = readings().fold(f64::NEG_INFINITY, f64::max);
            if wrong(mean, greatest) {
                let unit = quantity.described();
                faults.add(None, unit.name, format!("{found} (mean {mean:.1}, greatest {greatest:.1})"), unit.unit, remedy);
            }
        }
    };
    all(Quantity::Humidity, &|_, greatest| greatest <= 1.5, "what looks like shares", "Give per cent: multiply by 100.");
    all(Quantity::Wind, &|mean, _| mean > 16.0, "what looks like knots or km/h", "Knots times 0.514, or km/h divided by 3.6, gives m/s.");
    all(Quantity::Air, &|mean, _| mean > 40.0, "what looks like Fahrenheit", "Take off 32 and divide by 1.8.");
    all(
        Quantity::Global,
        &|mean, greatest| greatest < 8.0 && mean > 0.0,
        "what looks like MJ/m² or kWh/m²",
        "Give the mean of the hour in W/m².",
    );
    all(Quantity::Rain, &|mean, _| mean > 2.0, "what looks like a sum so far, or tenths of mm", "Give what fell in the hour, in mm.");
}

/// A gap that was filled.
struct Filled {
    column: &'static str,
    hours: usize,
    first: String,
}

fn fill_gaps(year: &mut RawYear, faults: &mut Faults, filled: &mut Vec<Filled>) {
    for column in &crate::columns::TABLE {
        let quantity = column.quantity;
        let hours = year.columns[quantity as usize].len();
        let mut hour = 0;
        while hour < hours {
            if !year.columns[quantity as usize][hour].is_nan() {
                hour += 1;
                continue;
            }
            let end = (hour..hours).find(|later| !year.columns[quantity as usize][*later].is_nan()).unwrap_or(hours);
            let (month, day) = calendar::month_and_day(hour / 24, year.leap);
            let first = format!("{}-{month:02}-{day:02} hour {}", year.year, hour % 24);
            if end - hour > LONGEST_GAP_H && !may_stay_away(quantity) {
                let line = Some(year.lines[hour] as usize).filter(|line| *line != 0);
                let found = format!("{} hours without a reading from {first}", end - hour);
                faults.add(
                    line,
                    column.name,
                    found,
                    format!("gaps of at most {LONGEST_GAP_H} hours"),
                    "Fill the gap from a neighbouring station, or leave the whole year out.",
                );
            } else {
                fill(&mut year.columns[quantity as usize], hour, end, quantity);
                filled.push(Filled { column: column.name, hours: end - hour, first });
            }
            hour = end;
        }
    }
}

/// A calm has no direction, so a direction may be absent for as long as it is calm.
fn may_stay_away(quantity: Quantity) -> bool {
    quantity == Quantity::WindFrom
}

fn fill(column: &mut [f64], start: usize, end: usize, quantity: Quantity) {
    let before = start.checked_sub(1).map(|index| column[index]);
    let after = column.get(end).copied();
    let length = (end + 1 - start) as f64;
    for (step, slot) in column[start..end].iter_mut().enumerate() {
        *slot = match (quantity, before, after) {
            (Quantity::Rain, ..) => 0.0,
            (Quantity::WindFrom, Some(known), _) | (_, Some(known), None) | (_, None, Some(known)) => known,
            (_, Some(left), Some(right)) => left + (right - left) * (step + 1) as f64 / length,
            (_, None, None) => 0.0,
        };
    }
}

fn filled_finding(filled: &[Filled]) -> Option<Finding> {
    if filled.is_empty() {
        return None;
    }
    let hours: usize = filled.iter().map(|gap| gap.hours).sum();
    let listed: Vec<String> = filled.iter().take(6).map(|gap| format!("{} for {} h from {}", gap.column, gap.hours, gap.first)).collect();
    let rest = if filled.len() > 6 { format!(", and {} more", filled.len() - 6) } else { String::new() };
    Some(Finding {
        grade: Grade::Note,
        rule: "weather-gaps".into(),
        place: "weather".into(),
        says: format!("{} short gaps ({hours} readings) of the weather file were filled: {}{rest}.", filled.len(), listed.join("; ")),
        reason:
            "A column must have every hour; rain is taken as none in a gap, direction as before it, all else as a line between its ends."
                .into(),
        source: "common practice, no source".into(),
        remedy: "Nothing, unless the gaps fall on the days that matter.".into(),
    })
}

fn note(rule: &str, grade: Grade, says: &str, reason: &str, source: &str, remedy: &str) -> Finding {
    let words = |text: &str| text.to_owned();
    Finding {
        grade,
        rule: words(rule),
        place: "weather".into(),
        says: words(says),
        reason: words(reason),
        source: words(source),
        remedy: words(remedy),
    }
}

fn derived_findings(year: &RawYear, rain: RainRecord, kind: Kind, count: usize) -> Vec<Finding> {
    let mut notes = Vec::new();
    if !(year.has(Quantity::Direct) && year.has(Quantity::Diffuse)) {
        let reason = "A wall is lit by beam and sky differently, and the file gives only their sum or the cloud.";
        notes.push(note(
            "weather-split",
            Grade::Note,
            "Beam and diffuse sun were split from the global radiation.",
            reason,
            "Erbs, Klein & Duffie 1982; from cloud alone Kasten & Czeplak 1980",
            "Give direct_w_m2 and diffuse_w_m2 if they were measured.",
        ));
    }
    if !year.has(Quantity::Sky) {
        let reason = "A wall cools to the sky at night; the file does not say how cold the sky was.";
        notes.push(note(
            "weather-sky",
            Grade::Note,
            "The sky's long-wave radiation was reckoned from dew point and cloud.",
            reason,
            "Berdahl & Martin 1984; Unsworth & Monteith 1975; cloud from radiation Crawford & Duchon 1999",
            "Give longwave_w_m2 if it was measured.",
        ));
    }
    if rain == RainRecord::Missing {
        let reason = "A wall that is never rained on dries too well.";
        notes.push(note(
            "weather-no-rain",
            Grade::Stop,
            "The weather file has no rain.",
            reason,
            "design rule of the planning of wet trades; common practice, no source",
            "Give the twelve monthly totals of rain beside the file.",
        ));
    }
    if kind == Kind::Typical {
        let reason = "A typical year is put together from calm, middling months of several years.";
        notes.push(note(
            "weather-typical",
            Grade::Think,
            "One typical year gives no odds.",
            reason,
            "EN ISO 15927-4 says what such a year is for: mean energy use",
            "Give ten or more measured years, or make years from monthly normals.",
        ));
    } else if count < Weather::FEWEST_YEARS_FOR_ODDS {
        let says = format!("{count} {} too few for odds; ten are needed.", if count == 1 { "year is" } else { "years are" });
        notes.push(note(
            "weather-few-years",
            Grade::Think,
            &says,
            "With fewer years one odd season decides the answer.",
            "common practice, no source",
            "Give ten or more years, or make years from monthly normals.",
        ));
    }
    notes
}

/// Hours by which the light of a file may run before or after the sun of its place, in the mean of a year: in three sound files it is below 0.1, and the least
/// mistake, a stamp of the half hour, is 0.5.
const MOST_SHIFT_H: f64 = 0.4;

/// A finding when the light of a file does not fit the sun of its place and time zone: the offset from UTC, or the stamp of the hours, is wrong.
fn shifted_sun_finding(year: &RawYear, site: &Site) -> Option<Finding> {
    let global = if year.has(Quantity::Global) { year.column(Quantity::Global) } else { return None };
    let clear: Vec<f64> = crate::sunlit::hourly(site, year.year, year.leap).map(|sun| sun::clear_sky_w_m2(sun.up)).collect();
    let middle = |light: &[f64]| {
        let sum: f64 = light.iter().sum();
        let turned: f64 = light.iter().enumerate().map(|(hour, light)| light * (hour % 24) as f64).sum();
        (sum > 0.0).then(|| turned / sum)
    };
    let shift = middle(global)? - middle(&clear)?;
    if shift.abs() <= MOST_SHIFT_H {
        return None;
    }
    let way = if shift < 0.0 { "before" } else { "after" };
    let says = format!("The light of the file runs {:.1} h {way} the sun of its place.", shift.abs());
    let reason = "Its offset from UTC or the stamp of its hours is wrong, so morning and evening sun fall on the wrong walls.";
    Some(note(
        "weather-sun-shifted",
        Grade::Think,
        &says,
        reason,
        "position of the sun by the NREL algorithm; the limit is harlwright's own",
        "Correct the offset from UTC in the file's head.",
    ))
}

/// Least and most rain of a year that is taken without a word, mm: all but deserts and the wettest mountains lie between (from memory).
const LIKELY_RAIN_MM: (f64, f64) = (100.0, 6000.0);

/// A finding when the rain of a year is so little or so much that its unit is likely wrong.
fn rain_amount_finding(year: &RawYear) -> Option<Finding> {
    let fell_mm: f64 = year.has(Quantity::Rain).then(|| year.column(Quantity::Rain).iter().sum())?;
    let (least, most) = LIKELY_RAIN_MM;
    if (least..=most).contains(&fell_mm) {
        return None;
    }
    let remedy = if fell_mm < least {
        "Look at the unit: inches times 25.4, centimetres times 10 or metres times 1,000 give mm. If the place is a desert, leave it."
    } else {
        "Look at the unit: tenths of a millimetre divided by 10 give mm; of a sum that runs on, give what fell in each hour."
    };
    let says = format!("The rain of {} adds up to {fell_mm:.0} mm, which is hardly rain in millimetres.", year.year);
    let reason = "A wall that gets too little rain dries too well, and too much keeps the gang off it.";
    Some(note("weather-rain-amount", Grade::Think, &says, reason, "yearly rain of the inhabited world, from memory", remedy))
}

fn complete(raw: RawYear, site: &Site) -> WeatherYear {
    let hours = raw.hours();
    let lights = lights(&raw, site);
    let mut columns = raw.columns;
    let mut take = |quantity: Quantity| std::mem::take(&mut columns[quantity as usize]);
    let air_c = take(Quantity::Air);
    let dew_point_c = take(Quantity::DewPoint);
    let percent = take(Quantity::Humidity);
    let humidity: Vec<f64> = if percent.is_empty() {
        air_c.iter().zip(&dew_point_c).map(|(air, dew)| crate::moist::humidity_from_dew_point(*air, *dew)).collect()
    } else {
        percent.iter().map(|percent| percent / 100.0).collect()
    };
    let mut pressure_pa = take(Quantity::Pressure);
    if pressure_pa.is_empty() {
        pressure_pa = vec![crate::moist::standard_pressure_pa(site.elevation_m); hours];
    }
    let mut rain_mm = take(Quantity::Rain);
    rain_mm.resize(hours, 0.0);
    let given_sky = take(Quantity::Sky);
    let given_cloud: Vec<f64> = take(Quantity::Cloud).iter().map(|percent| percent / 100.0).collect();
    let sky_w_m2 = if given_sky.is_empty() { sky_longwave(&air_c, &humidity, &given_cloud, &lights) } else { given_sky };
    let Lights { global, direct, diffuse, .. } = lights;
    WeatherYear {
        year: raw.year,
        air_c,
        humidity,
        pressure_pa,
        wind_m_s: take(Quantity::Wind),
        wind_from_deg: take(Quantity::WindFrom),
        rain_mm,
        global_w_m2: global,
        direct_w_m2: direct,
        diffuse_w_m2: diffuse,
        sky_w_m2,
    }
}

/// The sunlight of a year, and the clear-sky light of each hour where it was needed.
struct Lights {
    global: Vec<f64>,
    direct: Vec<f64>,
    diffuse: Vec<f64>,
    clear: Vec<f64>,
}

fn lights(raw: &RawYear, site: &Site) -> Lights {
    let given = |quantity| raw.column(quantity).to_vec();
    let split = raw.has(Quantity::Direct) && raw.has(Quantity::Diffuse);
    if raw.has(Quantity::Global) && split && raw.has(Quantity::Sky) {
        return Lights {
            global: given(Quantity::Global),
            direct: given(Quantity::Direct),
            diffuse: given(Quantity::Diffuse),
            clear: Vec::new(),
        };
    }
    let height: Vec<f64> = crate::sunlit::hourly(site, raw.year, raw.leap).map(|sun| sun.up).collect();
    let clear: Vec<f64> = height.iter().map(|up| sun::clear_sky_w_m2(*up)).collect();
    let global = if raw.has(Quantity::Global) {
        given(Quantity::Global)
    } else if split {
        let both = raw.column(Quantity::Direct).iter().zip(raw.column(Quantity::Diffuse));
        both.zip(&height).map(|((direct, diffuse), up)| direct * up.max(0.0) + diffuse).collect()
    } else {
        let cloud = raw.column(Quantity::Cloud);
        // Kasten & Czeplak 1980: the share of clear-sky radiation left under cloud of n eighths is 1 − 0.75 n^3.4.
        clear.iter().zip(cloud).map(|(clear, percent)| clear * (1.0 - 0.75 * numbers::pow(percent / 100.0, 3.4))).collect()
    };
    if split {
        return Lights { global, direct: given(Quantity::Direct), diffuse: given(Quantity::Diffuse), clear };
    }
    let (direct, diffuse) = split_all(&global, &height);
    Lights { global, direct, diffuse, clear }
}

/// Beam and diffuse of every hour from global radiation and the sine of the sun's height.
pub(crate) fn split_all(global: &[f64], height: &[f64]) -> (Vec<f64>, Vec<f64>) {
    let mut direct = Vec::with_capacity(global.len());
    let mut diffuse = Vec::with_capacity(global.len());
    for (day, (global, height)) in global.chunks(24).zip(height.chunks(24)).enumerate() {
        let outside = sun::extraterrestrial_w_m2(day as u32 + 1);
        for (global, up) in global.iter().zip(height) {
            let split = sun::split_global(*global, *up, outside);
            direct.push(split.direct_w_m2);
            diffuse.push(split.diffuse_w_m2);
        }
    }
    (direct, diffuse)
}

/// Long-wave radiation down from the sky by the hour, from dew point and cloud; cloud from radiation where it is not given.
fn sky_longwave(air_c: &[f64], humidity: &[f64], given_cloud: &[f64], lights: &Lights) -> Vec<f64> {
    let reckoned;
    let cloud = if given_cloud.is_empty() {
        reckoned = cloud_by_hour(&lights.global, &lights.clear);
        &reckoned
    } else {
        given_cloud
    };
    air_c
        .iter()
        .zip(humidity)
        .zip(cloud)
        .map(|((air, humidity), cloud)| sky::downward_w_m2(air + 273.15, crate::moist::dew_point_c(*air, *humidity), *cloud))
        .collect()
}

/// Least sum of clear-sky radiation, Wh/m² in a day, from which that day's cloud can be told.
const LEAST_DAYLIGHT_WH_M2: f64 = 150.0;
/// Share of the sky under cloud where no light tells it (polar night): the mean of cloudy northern coasts, from memory.
const CLOUD_IN_THE_DARK: f64 = 0.7;

/// Cloud by the hour: each day's share from its radiation stands at noon, and a line joins one noon to the next.
pub(crate) fn cloud_by_hour(global: &[f64], clear: &[f64]) -> Vec<f64> {
    let mut last = CLOUD_IN_THE_DARK;
    let daily: Vec<f64> = global
        .chunks(24)
        .zip(clear.chunks(24))
        .map(|(global, clear)| {
            let light: f64 = clear.iter().sum();
            if light >= LEAST_DAYLIGHT_WH_M2 {
                last = sky::cloud_from_radiation(global.iter().sum(), light);
            }
            last
        })
        .collect();
    (0..global.len())
        .map(|hour| {
            let along = (hour as f64 + 0.5) / 24.0 - 0.5;
            let from = (along.max(0.0) as usize).min(daily.len() - 1);
            let to = (from + 1).min(daily.len() - 1);
            let part = (along - from as f64).clamp(0.0, 1.0);
            daily[from] + (daily[to] - daily[from]) * part
        })
        .collect()
}

/// SHA-256 of place, kind and every number of the series, hexadecimal.
fn hash(site: &Site, kind: Kind, rain: RainRecord, years: &[WeatherYear]) -> String {
    let mut digest = Sha256::new();
    digest.update(format!("{}|{kind:?}|{rain:?}|", site.name));
    for number in [site.latitude_deg, site.longitude_deg, site.elevation_m, site.utc_offset_h] {
        digest.update(number.to_le_bytes());
    }
    let mut bytes = Vec::new();
    for year in years {
        digest.update(year.year.to_le_bytes());
        let columns = [
            &year.air_c,
            &year.humidity,
            &year.pressure_pa,
            &year.wind_m_s,
            &year.wind_from_deg,
            &year.rain_mm,
            &year.global_w_m2,
            &year.direct_w_m2,
            &year.diffuse_w_m2,
            &year.sky_w_m2,
        ];
        for column in columns {
            bytes.clear();
            bytes.extend(column.iter().flat_map(|number| number.to_le_bytes()));
            digest.update(&bytes);
        }
    }
    digest.finalize().iter().map(|byte| format!("{byte:02x}")).collect()
}
