//! The invented job to try things on: its text and its weather. Nothing in it is true of any place.

use weather::WeatherError;

/// The invented job, as the repository holds it.
pub const JOB: &str = include_str!("../../../examples/ferry-house/job.toml");

/// Name under which the invented job knows its weather.
pub const WEATHER_FILE: &str = "weather.csv";

/// The invented weather as an hourly table, the same bytes every time.
///
/// # Errors
/// Never for the shipped seed; the maker of weather says what it would not make.
pub fn weather_csv() -> Result<String, WeatherError> {
    let years = weather::invented::years(weather::invented::DEMO_SEED, weather::invented::DEMO_YEARS)?;
    Ok(weather::write_csv(&years))
}
