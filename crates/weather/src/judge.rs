//! What a climate offers to lime, month by month: mild damp hours in which it takes up carbon dioxide, frost nights, days that dry too fast, days fit for wet
//! work in the open, rain driven on each side of a house. Indicators of a climate, for choosing a season; a day's work is decided elsewhere.

use physics::{driven_rain, evaporation, sky};

use serde::Serialize;

use crate::moist::ZERO_C;
use crate::series::{Kind, Weather, WeatherYear};
use crate::words::{bearing, month_name};

/// Mild: air from 5 to 20 °C. Damp: humidity from 65 to 95 %, no rain (from the humidity at which lime takes up carbon dioxide best; common practice).
const MILD_C: std::ops::RangeInclusive<f64> = 5.0..=20.0;
const DAMP: std::ops::RangeInclusive<f64> = 0.65..=0.95;
/// A drying day has four hours in which a wet level surface would lose more than this, kg/m² an hour (Uno 1998; the limit is the caution for slow-bleeding
/// concrete, since none is published for lime).
const DRYING_KG_M2_H: f64 = 0.5;
const DRYING_HOURS: usize = 4;
/// Working hours, local mean time of the series.
const WORKING: std::ops::Range<usize> = 8..17;
/// A working day: air at 5 °C or more throughout, below 28 °C, under 8 m/s of open wind in the mean, at most 0.5 mm of rain (common practice, no source).
const WORKING_C: std::ops::Range<f64> = 5.0..28.0;
const WORKING_WIND_M_S: f64 = 8.0;
const WORKING_RAIN_MM: f64 = 0.5;
/// Emissivity of a wall face, and the convection of a calm, W/(m² K) (EN ISO 6946: 4 + 4v, with half the open wind).
const FACE_EMISSIVITY: f64 = 0.9;
/// A spell of driving rain ends when so many hours bring none (ISO 15927-3).
const SPELL_GAP_H: usize = 96;

/// A figure over the years: its mean, and the values that one year in ten falls below and above.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Spread {
    /// Mean of the years.
    pub mean: f64,
    /// One year in ten has less.
    pub low: f64,
    /// One year in ten has more.
    pub high: f64,
}

/// A month.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct MonthJudged {
    /// Hours that are mild, damp and without rain.
    pub mild_damp_h: Spread,
    /// Nights (and days) with the air below 0 °C at some hour.
    pub frost_nights: Spread,
    /// Nights in which a wall face that has no heat behind it falls below 0 °C, though the air may not.
    pub freezing_faces: Spread,
    /// Days that dry a wet face too fast.
    pub drying_days: Spread,
    /// Days fit for wet work in the open, any day of the week.
    pub working_days: Spread,
    /// Rain, mm.
    pub rain_mm: Spread,
}

/// One side of the house.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FaceJudged {
    /// Bearing it looks towards, degrees.
    pub faces_deg: f64,
    /// The bearing in words.
    pub words: String,
    /// Rain driven through a plane in the open in a year, kg/m²: the annual airfield index of ISO 15927-3.
    pub rain_kg_m2_a: f64,
    /// Rain of the worst spell, as it is passed once in three years, kg/m²: the spell index.
    pub spell_kg_m2: f64,
}

/// A climate judged.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Judged {
    /// The place.
    pub place: String,
    /// Where the years come from.
    pub kind: Kind,
    /// How many years.
    pub years: usize,
    /// True if the spread over the years may be read as odds.
    pub gives_odds: bool,
    /// True if rain was given or spread, so that what hangs on rain means something.
    pub has_rain: bool,
    /// January first.
    pub months: [MonthJudged; 12],
    /// Four sides, from the one given, clockwise.
    pub faces: Vec<FaceJudged>,
}

/// One year's count of a month.
#[derive(Clone, Copy, Default)]
struct Count([f64; 6]);

/// Judges a climate for a house whose one side looks towards `side_deg` and whose others stand square to it.
pub fn judge(weather: &Weather, side_deg: f64) -> Judged {
    let counts: Vec<[Count; 12]> = weather.years.iter().map(count).collect();
    let of = |month: usize, which: usize| spread(counts.iter().map(|year| year[month].0[which]).collect());
    let months = std::array::from_fn(|month| MonthJudged {
        mild_damp_h: of(month, 0),
        frost_nights: of(month, 1),
        freezing_faces: of(month, 2),
        drying_days: of(month, 3),
        working_days: of(month, 4),
        rain_mm: of(month, 5),
    });
    let faces = (0..4).map(|side| face(weather, (side_deg + 90.0 * f64::from(side)).rem_euclid(360.0))).collect();
    Judged {
        place: weather.site.name.clone(),
        kind: weather.kind,
        years: weather.years.len(),
        gives_odds: weather.gives_odds(),
        has_rain: weather.fit_for_planning().is_ok(),
        months,
        faces,
    }
}

fn count(year: &WeatherYear) -> [Count; 12] {
    let mut months = [Count::default(); 12];
    for day in 0..year.hours() / 24 {
        let count = &mut months[year.month_and_day(day * 24).0 as usize - 1].0;
        let hours = day * 24..day * 24 + 24;
        count[0] += hours.clone().filter(|hour| mild_damp(year, *hour)).count() as f64;
        count[1] += f64::from(hours.clone().any(|hour| year.air_c[hour] < 0.0));
        count[2] += f64::from(hours.clone().any(|hour| face_c(year, hour) < 0.0));
        count[3] += f64::from(hours.clone().filter(|hour| drying_kg_m2_h(year, *hour) > DRYING_KG_M2_H).count() >= DRYING_HOURS);
        count[4] += f64::from(working(year, day));
        count[5] += hours.map(|hour| year.rain_mm[hour]).sum::<f64>();
    }
    months
}

fn mild_damp(year: &WeatherYear, hour: usize) -> bool {
    year.rain_mm[hour] <= 0.0 && MILD_C.contains(&year.air_c[hour]) && DAMP.contains(&year.humidity[hour])
}

/// Temperature of a shaded face without heat behind it, °C: convection against long-wave exchange, in its linear form.
fn face_c(year: &WeatherYear, hour: usize) -> f64 {
    let air_k = year.air_c[hour] + ZERO_C;
    if year.global_w_m2[hour] > 0.0 {
        return year.air_c[hour];
    }
    let falling = sky::onto_vertical_w_m2(year.sky_w_m2[hour], air_k, 0.5);
    let own = sky::black_body_w_m2(air_k);
    let convection = 4.0 + 4.0 * 0.5 * year.wind_m_s[hour];
    year.air_c[hour] + FACE_EMISSIVITY * (falling - own) / (convection + FACE_EMISSIVITY * 4.0 * own / air_k)
}

/// Evaporation of a wet surface at air temperature in half the open wind, kg/m² an hour.
fn drying_kg_m2_h(year: &WeatherYear, hour: usize) -> f64 {
    let air_k = year.air_c[hour] + ZERO_C;
    3600.0 * evaporation::uno_kg_m2s(air_k, air_k, year.humidity[hour], 0.5 * year.wind_m_s[hour])
}

fn working(year: &WeatherYear, day: usize) -> bool {
    let hours = || WORKING.map(|hour| day * 24 + hour);
    let wind = hours().map(|hour| year.wind_m_s[hour]).sum::<f64>() / WORKING.len() as f64;
    let rain: f64 = hours().map(|hour| year.rain_mm[hour]).sum();
    hours().all(|hour| WORKING_C.contains(&year.air_c[hour])) && wind < WORKING_WIND_M_S && rain <= WORKING_RAIN_MM
}

fn face(weather: &Weather, faces_deg: f64) -> FaceJudged {
    let mut sum = 0.0;
    let mut worst = Vec::new();
    for year in &weather.years {
        let driven: Vec<f64> = (0..year.hours())
            .map(|hour| driven_rain::airfield_kg_m2(year.wind_m_s[hour], year.rain_mm[hour], year.wind_from_deg[hour], faces_deg))
            .collect();
        sum += driven.iter().sum::<f64>();
        worst.push(worst_spell(&driven));
    }
    let years = weather.years.len().max(1) as f64;
    FaceJudged { faces_deg, words: bearing(faces_deg), rain_kg_m2_a: sum / years, spell_kg_m2: quantile(&mut worst, 0.67) }
}

/// Most driving rain in one spell of the year.
fn worst_spell(driven: &[f64]) -> f64 {
    let (mut worst, mut spell, mut dry) = (0.0f64, 0.0, 0);
    for rain in driven {
        dry = if *rain > 0.0 { 0 } else { dry + 1 };
        if dry >= SPELL_GAP_H {
            spell = 0.0;
        }
        spell += rain;
        worst = worst.max(spell);
    }
    worst
}

fn spread(mut values: Vec<f64>) -> Spread {
    let mean = values.iter().sum::<f64>() / values.len().max(1) as f64;
    Spread { mean, low: quantile(&mut values, 0.1), high: quantile(&mut values, 0.9) }
}

/// Quantile by linear interpolation; sorts its input. Zero of nothing.
fn quantile(values: &mut [f64], share: f64) -> f64 {
    values.sort_by(f64::total_cmp);
    let Some(last) = values.len().checked_sub(1) else { return 0.0 };
    let at = share * last as f64;
    let from = at as usize;
    values[from] + (values[(from + 1).min(last)] - values[from]) * (at - from as f64)
}

impl Judged {
    /// The judgement in words and a table, the answer first.
    pub fn to_text(&self) -> String {
        let mut text = format!("{}: {}.\n{}\n\n", self.place, self.source(), self.answer());
        text.push_str("month       mild damp h   frost nights  freezing faces  drying days  working days       rain mm\n");
        for (index, month) in self.months.iter().enumerate() {
            let columns = [
                (month.mild_damp_h, 13),
                (month.frost_nights, 14),
                (month.freezing_faces, 15),
                (month.drying_days, 12),
                (month.working_days, 13),
                (month.rain_mm, 13),
            ];
            text.push_str(&format!("{:<9}", month_name(index)));
            for (value, width) in columns {
                text.push_str(&format!(" {:>width$}", self.cell(value)));
            }
            text.push('\n');
        }
        text.push_str(&self.rain_words());
        text.push_str(MEANINGS);
        text
    }

    fn source(&self) -> String {
        let kind = match self.kind {
            Kind::Measured => "measured",
            Kind::Typical => "typical",
            Kind::Made => "made",
            Kind::Invented => "invented",
        };
        let odds = if self.gives_odds {
            "in brackets what eight years in ten keep within"
        } else {
            "no odds can be taken from so few or from a typical year"
        };
        format!("{} {kind} year{}; {odds}", self.years, if self.years == 1 { "" } else { "s" })
    }

    fn cell(&self, value: Spread) -> String {
        if self.gives_odds { format!("{:.0} ({:.0}–{:.0})", value.mean, value.low, value.high) } else { format!("{:.0}", value.mean) }
    }

    /// One sentence or two that answer the question.
    pub fn answer(&self) -> String {
        let by = |of: &dyn Fn(&MonthJudged) -> f64, most: bool| {
            let better = |one: f64, other: f64| if most { one > other } else { one < other };
            let mut best = 0;
            for month in 1..12 {
                if better(of(&self.months[month]), of(&self.months[best])) {
                    best = month;
                }
            }
            best
        };
        let working = |month: &MonthJudged| month.working_days.mean;
        let (most, fewest) = (by(&working, true), by(&working, false));
        let free: Vec<&str> = (0..12).filter(|month| self.months[*month].freezing_faces.mean < 0.05).map(month_name).collect();
        let frost = match free.as_slice() {
            [] => "A face may freeze in any month.".to_owned(),
            [only] => format!("Only {only} is free of freezing faces."),
            [.., last] => format!("Free of freezing faces: {} and {last}.", free[..free.len() - 1].join(", ")),
        };
        let days = |month: usize| format!("{:.0} days in {}", self.months[month].working_days.mean, month_name(month));
        format!("Fit for wet work in the open: most {}, fewest {}. {frost}", days(most), days(fewest))
    }

    fn rain_words(&self) -> String {
        if !self.has_rain {
            return "\nNo rain was given, so nothing can be said of driving rain, and working days are too many.\n".to_owned();
        }
        let mut text = String::from("\nDriving rain in the open, kg/m² a year (worst spell in three years):\n");
        for face in &self.faces {
            text.push_str(&format!("  {:<12} {:>5.0} ({:.0})\n", face.words, face.rain_kg_m2_a, face.spell_kg_m2));
        }
        text
    }
}

const MEANINGS: &str = "
mild damp: 5 to 20 °C, humidity 65 to 95 %, no rain. freezing faces: nights in which a face without heat behind it falls below 0 °C under the sky.
drying days: four hours or more in which a wet surface would lose over 0.5 kg/m² an hour (Uno 1998). working days: 8 to 17 h at 5 to 28 °C, wind under
8 m/s, at most 0.5 mm of rain (common practice, no source). Driving rain: ISO 15927-3, annual and spell index, before roughness, shelter and wall factor.
";

/// What made years gave against the normals they were made from, as a table.
pub fn made_against_given(weather: &Weather, normals: &crate::Normals) -> Result<String, crate::WeatherError> {
    let made = crate::Normals::from_weather(weather)?;
    let mut text = String::from(
        "month      greatest °C     least °C      rain mm    wet days  kWh/m² a day  humidity %     wind m/s   (given → made)\n",
    );
    for (index, (given, made)) in normals.months.iter().zip(&made.months).enumerate() {
        let pair = |given: f64, made: f64, decimals: usize| format!("{given:.decimals$} → {made:.decimals$}");
        text.push_str(&format!(
            "{:<9} {:>12} {:>12} {:>12} {:>11} {:>13} {:>11} {:>12}\n",
            month_name(index),
            pair(given.mean_max_c, made.mean_max_c, 1),
            pair(given.mean_min_c, made.mean_min_c, 1),
            pair(given.rain_mm, made.rain_mm, 0),
            pair(given.wet_days, made.wet_days, 1),
            pair(given.global_wh_m2_day / 1000.0, made.global_wh_m2_day / 1000.0, 2),
            pair(given.humidity * 100.0, made.humidity * 100.0, 0),
            pair(given.wind_m_s, made.wind_m_s, 1),
        ));
    }
    Ok(text)
}
