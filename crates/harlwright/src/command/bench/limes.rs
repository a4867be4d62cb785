//! Limes and slaking baths in words; no words here tell how to slake.

use job::bench::{BatchReport, LimeReport, SlakeReport};
use materials::bench::Paced;

use super::{arrival, figure, findings};
use crate::words::{heading, long_date};

/// A lime report.
pub fn lime(report: &LimeReport) -> String {
    let mut text = format!("{}\n\n{}\n", report.title, heading("What a litre is worth"));
    for row in &report.limes {
        let lime = &row.lime;
        text += &format!(
            "  {}: {:.2} kg a litre, {:.3} kg of calcium hydroxide in it once slaked\n",
            lime.name, lime.litre_kg, row.portlandite_kg_l
        );
        if let Some(against) = &row.against_first {
            text += &format!(
                "    {:.2} L of it stand for a litre of the first; 1 : {:.2} of the first is 1 : {:.2} of it (equal {})\n",
                against.litres_for_litre, report.parts, against.parts, against.held
            );
            text += &findings(&against.findings);
        }
    }
    if let Some(card) = &report.batch {
        text += &batch(card);
    }
    if let Some(report) = &report.arrival {
        text += &arrival(report);
    }
    text
}

fn batch(report: &BatchReport) -> String {
    let card = &report.card;
    let mut text = format!("\n{}\n", heading(&format!("Batch card: {:.0} L of mortar", card.mortar_l)));
    text += &format!("  lime      {:.1} L = {:.1} kg = {:.1} boxes\n", card.lime_l, card.lime_kg, card.lime_boxes);
    text += &format!("  sand      {:.1} L damp = {:.0} kg = {:.1} boxes\n", card.damp_sand_l, card.damp_sand_kg, card.sand_boxes);
    text += &format!("  water     at most {:.1} L; the sand brings {:.1} L already\n", card.water_l, card.sand_water_l);
    text += &format!(
        "  the day   {} batches; lime: {} of {}; sand: {:.2} of {}\n",
        card.batches, card.lime_units, report.lime_unit, card.sand_units, report.sand_unit
    );
    text + &findings(&card.findings)
}

/// A slaking report.
pub fn slake(report: &SlakeReport) -> String {
    let slaked = &report.slaked;
    let mut text = format!("{}\n\n{}\n", report.title, heading("All together, without losses"));
    text += &format!(
        "  {:.1} kg of quicklime and {:.1} kg of water; slaking binds {:.1} kg of it\n",
        report.quicklime_kg, report.water_kg, report.bound_kg
    );
    text += &format!(
        "  hottest mean {:.0} °C, steam {:.1} kg, free water left {:.1} kg\n",
        slaked.hottest_c, slaked.steam_kg, slaked.water_left_kg
    );
    text += &format!("  calcium hydroxide {:.1} kg, {:.0} % solids\n", slaked.portlandite_kg, 100.0 * slaked.solids_share);
    if slaked.putty_l.is_some() {
        let density = figure(slaked.putty_kg_m3.map(|density| density / 1000.0), 2);
        text += &format!("  putty {} L of {density} kg a litre, before it drains\n", figure(slaked.putty_l, 0));
    }
    let (dry, warm) = report.boil_limits;
    text += &format!("  boils dry below {dry:.2} kg of water to a kilogram of quicklime, and never boils above {warm:.2}\n");
    text += &findings(&slaked.findings);
    if let Some(class) = report.reactivity {
        text += &format!(
            "\n{}\n  {class:?} by EN 459; time constant about {} s at this model's simplest\n",
            heading("How fast it slakes"),
            figure(report.slaking_s, 0)
        );
    }
    if let Some(paced) = &report.paced {
        text += &pace(paced);
    }
    if let Some([least, usual, best]) = report.slake_on {
        text += &format!("\n{}\n", heading("When to slake"));
        text += &format!(
            "  by {} at the very latest (one month)\n  usually by {} (three months)\n  best by {} (six months)\n",
            long_date(least),
            long_date(usual),
            long_date(best)
        );
        text += "  Keep it wet under a skin of water, and from frost.\n";
    }
    text
}

fn pace(paced: &Paced) -> String {
    let mut text = format!("\n{}\n", heading("As the lumps go in (the mean of the bath, not of a lump)"));
    text += "   minutes   mean °C   added kg   waiting kg   steam kg   water kg\n";
    let every = (paced.rows.len() / 12).max(1);
    let last = paced.rows.len().saturating_sub(1);
    for (_, row) in paced.rows.iter().enumerate().filter(|(at, _)| at % every == 0 || *at == last) {
        text += &format!(
            "  {:>8.0}  {:>8.0}  {:>9.1}  {:>11.2}  {:>9.2}  {:>9.1}\n",
            row.minutes, row.mean_c, row.added_kg, row.waiting_kg, row.steam_kg, row.water_kg
        );
    }
    let boils =
        paced.boils_min.map_or("The mean does not boil; lumps do.".to_owned(), |at| format!("The mean boils after {at:.0} minutes."));
    let dry = paced
        .dry_min
        .map_or(String::new(), |at| format!(" The free water is gone after {at:.0} minutes: the model stops there, the heat does not."));
    text += &format!("  {boils}{dry} Up to {:.1} kg lie unslaked at once: stopping does not stop that heat.\n", paced.most_waiting_kg);
    text + "  No pace shown is safe: start at a tenth, and be ready to stop.\n"
}
