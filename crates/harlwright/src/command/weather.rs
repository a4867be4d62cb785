//! `harlwright weather`: make years from monthly normals, and show what a file's weather offers to lime.

use std::path::Path;

use weather::{Forecast, Kind, Mapping, Normals, Weather};

use crate::arguments::{WeatherMake, WeatherShow};
use crate::failure::Failure;
use crate::files::{print, read_bytes, read_text, weather_failure, write_new};

/// Makes years and writes them as hourly CSV.
pub fn make(asked: &WeatherMake) -> Result<(), Failure> {
    let normals = normals(asked)?;
    let years = usize::from(asked.years);
    let name = asked.from.display().to_string();
    let made = weather::make(&normals, asked.seed, years).map_err(|error| weather_failure(&error, &name))?;
    let text = weather::write_csv(&made);
    let Some(out) = &asked.out else { return print(&text) };
    write_new(out, text.as_bytes())?;
    let spread = if normals.from_typical_year { " Made from a single typical year: spread understated." } else { "" };
    println!("Written: {}, {years} made years of {} with seed {}.{spread}", out.display(), made.site.name, asked.seed);
    println!("Next: harlwright weather show {}", out.display());
    Ok(())
}

/// Normals from a TOML file, or the statistics of hourly years.
fn normals(asked: &WeatherMake) -> Result<Normals, Failure> {
    let name = asked.from.display().to_string();
    if is_toml(&asked.from) {
        let text = read_text(&asked.from, "file of normals")?;
        return Normals::from_toml(&text, &name).map_err(|error| weather_failure(&error, &name));
    }
    let read = with_rain(open(&asked.from, None)?, asked.monthly_rain.as_deref(), &name)?;
    Normals::from_weather(&read).map_err(|error| weather_failure(&error, &name))
}

fn with_rain(read: Weather, totals: Option<&[f64]>, name: &str) -> Result<Weather, Failure> {
    let Some(totals) = totals else { return Ok(read) };
    read.with_monthly_rain(twelve(totals)?).map_err(|error| weather_failure(&error, name))
}

fn twelve(totals: &[f64]) -> Result<[f64; 12], Failure> {
    totals.try_into().map_err(|_| {
        let message = format!("--monthly-rain has {} totals; it takes twelve.", totals.len());
        Failure::input(message, "Give the rain of each month in mm, January first, commas between.")
    })
}

/// Shows what the weather of a file offers to lime.
pub fn show(asked: &WeatherShow) -> Result<(), Failure> {
    let name = asked.file.display().to_string();
    let mut shown = with_rain(open(&asked.file, asked.mapping.as_deref())?, asked.monthly_rain.as_deref(), &name)?;
    if let Some(path) = &asked.forecast {
        let text = read_text(path, "forecast")?;
        let forecast = Forecast::from_text(&text, &path.display().to_string())
            .map_err(|error| weather_failure(&error, &path.display().to_string()))?;
        shown = shown.spliced(&forecast);
    }
    let judged = weather::judge(&shown, asked.side);
    let mut written = Vec::new();
    if let Some(path) = &asked.csv {
        write_new(path, weather::write_csv(&shown).as_bytes())?;
        written.push(path);
    }
    if let Some(path) = &asked.svg {
        write_new(path, judged.to_svg().as_bytes())?;
        written.push(path);
    }
    if asked.json {
        let json = serde_json::to_string_pretty(&judged);
        return print(&json.map_err(|error| Failure::machine(format!("The result could not be written as JSON: {error}.")))?);
    }
    let mut text = judged.to_text();
    for finding in &shown.findings {
        text.push_str(&format!("\n{}: {} {}", finding.grade.word(), finding.says, finding.remedy));
    }
    text.push('\n');
    if let Some(path) = &asked.normals {
        text.push('\n');
        text.push_str(&against(&shown, path)?);
    }
    for path in written {
        text.push_str(&format!("\nWritten: {}\n", path.display()));
    }
    if shown.kind == Kind::Invented {
        text.push_str("\nThis weather is invented.\n");
    }
    print(&text)
}

/// The table of made years against the normals in a file.
fn against(shown: &Weather, path: &Path) -> Result<String, Failure> {
    let name = path.display().to_string();
    let given = Normals::from_toml(&read_text(path, "file of normals")?, &name).map_err(|error| weather_failure(&error, &name))?;
    weather::made_against_given(shown, &given).map_err(|error| weather_failure(&error, &name))
}

/// A weather file: any that is known by its first lines, or an hourly table with the declaration beside it.
fn open(path: &Path, mapping: Option<&Path>) -> Result<Weather, Failure> {
    let name = path.display().to_string();
    let bytes = read_bytes(path, "weather file")?;
    let Some(mapping) = mapping else { return weather::read_any(&bytes, &name).map_err(|error| weather_failure(&error, &name)) };
    let beside = mapping.display().to_string();
    let declared =
        Mapping::from_toml(&read_text(mapping, "declaration of columns")?, &beside).map_err(|error| weather_failure(&error, &beside))?;
    weather::read_mapped(&weather::decode(&bytes).0, &declared, &name).map_err(|error| weather_failure(&error, &name))
}

fn is_toml(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("toml"))
}
