//! Rain by the hour from twelve monthly totals, for a file that has none: right in amount, guessed in hour.

use physics::numbers;

use crate::assemble::finish;
use crate::calendar;
use crate::error::WeatherError;
use crate::series::{RainRecord, Weather, WeatherYear};
use reckoning::{Finding, Grade};

/// Mean rain in an hour that has rain, mm: the order of frontal rain in a maritime climate (from memory, range 0.6 to 1.5).
const MEAN_WET_HOUR_MM: f64 = 0.9;

impl Weather {
    /// The same weather with rain from twelve monthly totals, mm, January first. In each month of each year the dampest hours are taken as wet, as many as
    /// give 0.9 mm in the mean (ties go to the earlier hour); the total is shared among them as an exponential distribution, the most in the dampest.
    /// The hours are a guess: the same total falls every year, so the spread of wet and dry years is missing, and a finding says so.
    ///
    /// # Errors
    /// [`WeatherError::MonthlyRain`] for a total that is not from 0 to 2000 mm.
    pub fn with_monthly_rain(mut self, totals_mm: [f64; 12]) -> Result<Weather, WeatherError> {
        if let Some(index) = totals_mm.iter().position(|total| !(0.0..=2000.0).contains(total)) {
            return Err(WeatherError::MonthlyRain { found: format!("month {} has {}", index + 1, totals_mm[index]) });
        }
        for year in &mut self.years {
            spread(year, &totals_mm);
        }
        let mut findings = self.findings;
        findings.retain(|finding| finding.rule != "weather-no-rain");
        findings.push(Finding {
            grade: Grade::Think,
            rule: "weather-rain-spread".into(),
            place: "weather".into(),
            says: "The hours of rain were guessed from twelve monthly totals.".into(),
            reason: "The file has no rain by the hour; the dampest hours of each month were taken as wet, the same total every year."
                .into(),
            source: "harlwright's own rule, no source; 0.9 mm in a wet hour from memory".into(),
            remedy: "Give a file with rain by the hour if driving rain decides on this job.".into(),
        });
        Ok(finish(self.site, self.kind, self.years, RainRecord::SpreadFromMonths, findings))
    }
}

fn spread(year: &mut WeatherYear, totals_mm: &[f64; 12]) {
    let hours = year.hours();
    year.rain_mm = vec![0.0; hours];
    let months = calendar::months_by_day(hours / 24 == 366);
    for (month, total) in totals_mm.iter().enumerate() {
        let mut of_month: Vec<usize> = (0..hours).filter(|hour| months.get(hour / 24) == Some(&month)).collect();
        of_month.sort_by(|one, other| year.humidity[*other].total_cmp(&year.humidity[*one]).then(one.cmp(other)));
        let wet = ((total / MEAN_WET_HOUR_MM) as usize + usize::from(*total > 0.0)).min(of_month.len());
        // Quantiles of an exponential distribution, largest first; scaled so that they give the total.
        let shares: Vec<f64> = (0..wet).map(|rank| -numbers::ln((rank as f64 + 0.5) / wet as f64)).collect();
        let sum: f64 = shares.iter().sum();
        for (hour, share) in of_month.iter().zip(&shares) {
            year.rain_mm[*hour] = total * share / sum;
        }
    }
}
