//! Sands and old mortars in words.

use job::bench::{BlendReport, MortarReport, SandReport, SandResult};
use materials::bench::Interval;

use super::{arrival, figure, findings};
use crate::words::heading;

/// A sand report.
pub fn sand(report: &SandReport) -> String {
    let mut text = format!("{}\n", report.title);
    for sand in &report.sands {
        text += &one(sand);
    }
    if let Some(blend) = &report.blend {
        text += &blended(blend);
    }
    if let Some(report) = &report.arrival {
        text += &arrival(report);
    }
    text
}

fn one(sand: &SandResult) -> String {
    let mut text = format!("\n{}\n", heading(&sand.name));
    let sieves: Vec<String> = sand.grading.rows().iter().map(|row| format!("{} mm {:.0} %", row.opening_mm, 100.0 * row.passing)).collect();
    text += &format!("  passes    {}\n", sieves.join(", "));
    let modulus = sand.fineness_modulus;
    let series = modulus.map_or("", |modulus| if modulus.metric_sieves { " (4 to 0.125 mm)" } else { " (4.75 to 0.15 mm)" });
    text += &format!("  fineness  modulus {}{series}\n", figure(modulus.map(|modulus| modulus.value), 2));
    let [d10, d30, d50, d60] = sand.sizes_mm.map(|size| figure(size, 3));
    text += &format!("  sizes     D10 {d10}, D30 {d30}, D50 {d50}, D60 {d60} mm\n");
    text += &format!("  spread    D60/D10 {}, curvature {}\n", figure(sand.uniformity, 1), figure(sand.curvature, 2));
    if let Some(voids) = &sand.voids {
        text += &format!("  voids     {:.1} %; 1 : {:.2} is the leanest that fills them\n", 100.0 * voids.voids, voids.most_parts);
    }
    if let Some(bulking) = sand.bulking {
        let how = if bulking.measured { "by the jar" } else { "by its moisture, from a table" };
        text +=
            &format!("  bulking   {:.0} % {how}: measure {:.2} boxes damp for one dry\n", 100.0 * bulking.bulking, 1.0 + bulking.bulking);
    }
    text + &findings(&sand.findings)
}

fn blended(report: &BlendReport) -> String {
    let blend = &report.blend;
    let mut text = format!("\n{}\n", heading("Blend"));
    for ((name, mass), volume) in report.names.iter().zip(&blend.shares).zip(&blend.volume_shares) {
        text += &format!("  {:>5.1} % by mass, {:>5.1} % by loose dry volume  {name}\n", 100.0 * mass, 100.0 * volume);
    }
    let sieves: Vec<String> =
        blend.grading.rows().iter().map(|row| format!("{} mm {:.0} %", row.opening_mm, 100.0 * row.passing)).collect();
    text += &format!("  passes    {}\n", sieves.join(", "));
    text += &format!(
        "  voids     between {:.0} and {:.0} %: a void test of the blend says where\n",
        100.0 * blend.voids.0,
        100.0 * blend.voids.1
    );
    if let Some(price) = report.price_per_t {
        text += &format!("  price     {price} a tonne, dry\n");
    }
    text += &findings(&blend.findings);
    text + &format!("\n{}\n{}", heading("The blend for the job file"), report.entry)
}

/// An old mortar report.
pub fn mortar(report: &MortarReport) -> String {
    let mut text = format!("{}\n", report.title);
    if let Some(old) = &report.old {
        text += &format!("\n{}\n", heading("By acid: sand to one of lime, likely (least to most)"));
        let row = |word: &str, of: &Interval| format!("  {word:<46} 1 : {:.2}  ({:.2} to {:.2})\n", of.likely, of.least, of.most);
        text += &row("by mass", &old.mass);
        text += &row("by volume, as putty of 1.35 kg a litre", &old.volume.putty);
        text += &row("by volume, as dry hydrate of 0.50", &old.volume.hydrate);
        text += &row("by volume, as pure quicklime of 0.95", &old.volume.quicklime);
        text += &row("by volume, as hydraulic lime of 0.65", &old.volume.hydraulic);
        text += "  One mortar, several ratios: say in which form the lime was measured.\n";
        if let Some(index) = old.cementation {
            text += &format!("  cementation index {index:.2}; silicates are {:.0} % of the binder\n", 100.0 * old.silicate.likely);
        }
        if let Some(share) = old.carbonated {
            text += &format!(
                "  carbonated by the gas: {:.0} % ({:.0} to {:.0})\n",
                100.0 * share.likely,
                100.0 * share.least,
                100.0 * share.most
            );
        }
    }
    if let Some(heat) = &report.thermogravimetry {
        text += &format!("\n{}\n", heading("By thermogravimetry"));
        text += &format!("  carbonated {:.0} %; 1 : {:.2} by mass, if the sand holds no carbonate\n", 100.0 * heat.carbonated, heat.mass);
    }
    if let Some(repair) = &report.repair {
        text += &format!("\n{}\n", heading("Nearest repair mix"));
        text += &format!("  {} 1 : {} {}\n", repair.lime, repair.parts, repair.sand.as_deref().unwrap_or("(sand to be matched)"));
        text += &findings(&repair.findings);
    }
    text
}
