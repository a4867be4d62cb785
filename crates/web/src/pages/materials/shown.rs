//! What the bench found, as parts of a sheet.

use documents::figures;
use job::bench::{ArrivalReport, BatchReport, BlendReport, LimeReport, MortarReport, SandReport, SandResult, SlakeReport};
use maud::{Markup, html};
use reckoning::{Finding, Grade};

use super::Report;
use crate::doors::Visitor;
use crate::draw::theme;
use crate::layout::{changes_jobs, inline_svg, part};
use crate::pages::Standing;
use crate::words::{long_day, trimmed};

/// The one sentence that answers first.
pub fn sentence(report: &Report) -> Markup {
    match report {
        Report::Sand(report) => html! { (report.title) ": " (gravest(report.sands.iter().flat_map(|sand| &sand.findings))) },
        Report::Lime(report) => {
            html! { (report.title) ": " @match &report.arrival { Some(arrival) => (gravest(&arrival.arrival.findings)), None => "what a litre of each is worth." } }
        }
        Report::Slake(report) => {
            html! { "Its mean would reach " (trimmed(report.slaked.hottest_c, 0)) " °C, with " (trimmed(report.slaked.steam_kg, 1)) " kg of steam. No figure here is safe." }
        }
        Report::Mortar(report) => match &report.old {
            Some(old) => {
                html! { "It was one of lime to " (trimmed(old.mass.likely, 1)) " of sand by mass, between " (trimmed(old.mass.least, 1)) " and " (trimmed(old.mass.most, 1)) "." }
            }
            None => html! { (report.title) },
        },
    }
}

/// The first words of the gravest finding.
fn gravest<'f>(findings: impl IntoIterator<Item = &'f Finding>) -> String {
    let worst = findings.into_iter().min_by_key(|finding| finding.grade);
    worst.map_or("nothing to say against it.".to_owned(), |finding| finding.says.clone())
}

/// The parts of a report.
pub fn report(job: &Standing, who: &Visitor, report: &Report) -> Markup {
    match report {
        Report::Sand(report) => sand(job, who, report),
        Report::Lime(report) => lime(job, who, report),
        Report::Slake(report) => slake(report),
        Report::Mortar(report) => mortar(report),
    }
}

fn findings(all: &[Finding]) -> Markup {
    let class = |grade: Grade| match grade {
        Grade::Stop => "stop-here",
        Grade::Think => "think",
        _ => "note-it",
    };
    html! {
        ul.findings { @for finding in all { li class=(class(finding.grade)) {
            b { (finding.grade.word()) }
            div { p.says { (finding.says) } p { (finding.reason) } @if !finding.remedy.is_empty() { p { "Do: " (finding.remedy) } } }
            p.src { (finding.source) }
        } } }
    }
}

fn facts(rows: &[(&str, String)]) -> Markup {
    html! { dl.readings { @for (name, value) in rows { div { dt { (name) } dd { (value) } } } } }
}

fn shown(value: Option<f64>, places: usize) -> String {
    value.map_or("–".to_owned(), |value| trimmed(value, places))
}

fn sand(job: &Standing, who: &Visitor, report: &SandReport) -> Markup {
    let mut curves: Vec<(&str, &materials::bench::Grading)> = report.sands.iter().map(|sand| (sand.name.as_str(), &sand.grading)).collect();
    if let Some(blend) = &report.blend {
        curves.push(("the blend", &blend.blend.grading));
    }
    let envelope = report.coat.map(|coat| materials::bench::envelope(coat.laying)).unwrap_or_default();
    let figure = figures::grading(&curves, &envelope, &report.target, &theme(1100.0));
    html! {
        (part("Curves", &html! { p { "Every line has its own mark." } }, &html! { figure.wide { (inline_svg(&figure.svg, "sieves")) } }))
        @for sand in &report.sands { (part(&sand.name, &html! {}, &one_sand(sand))) }
        @if let Some(blend) = &report.blend { (part("Blend", &html! { p { "Nearest to the curve wished for, within the limits." } }, &blended(job, who, blend))) }
        @if let Some(arrival) = &report.arrival { (part("What came", &html! { p { "Against what was ordered." } }, &arrived(job, who, "sand", arrival))) }
    }
}

fn one_sand(sand: &SandResult) -> Markup {
    let [d10, d30, d50, d60] = sand.sizes_mm.map(|size| shown(size, 3));
    let mut rows = vec![
        ("Fineness modulus", shown(sand.fineness_modulus.map(|modulus| modulus.value), 2)),
        ("D10, D30, D50, D60", format!("{d10}, {d30}, {d50}, {d60} mm")),
        ("Uniformity, curvature", format!("{}, {}", shown(sand.uniformity, 1), shown(sand.curvature, 2))),
    ];
    if let Some(voids) = &sand.voids {
        rows.push((
            "Voids",
            format!("{} %; 1 : {} is the leanest that fills them", trimmed(100.0 * voids.voids, 1), trimmed(voids.most_parts, 2)),
        ));
    }
    if let Some(bulking) = sand.bulking {
        rows.push((
            "Bulking",
            format!("{} %: {} boxes damp for one dry", trimmed(100.0 * bulking.bulking, 0), trimmed(1.0 + bulking.bulking, 2)),
        ));
    }
    html! { (facts(&rows)) (findings(&sand.findings)) }
}

fn blended(job: &Standing, who: &Visitor, report: &BlendReport) -> Markup {
    let blend = &report.blend;
    html! {
        table.stack {
            thead { tr { th { "Sand" } th { "By mass" } th { "By loose dry volume" } } }
            tbody { @for ((name, mass), volume) in report.names.iter().zip(&blend.shares).zip(&blend.volume_shares) { tr {
                td data-l="Sand" { (name) } td data-l="By mass" { b { (trimmed(100.0 * mass, 1)) " %" } } td data-l="By volume" { (trimmed(100.0 * volume, 1)) " %" }
            } } }
        }
        (facts(&[
            ("Voids", format!("{} to {} %: a void test of the blend says where", trimmed(100.0 * blend.voids.0, 0), trimmed(100.0 * blend.voids.1, 0))),
            ("A dry tonne", report.price_per_t.map_or("no prices".to_owned(), |price| price.to_string())),
        ]))
        (findings(&blend.findings))
        (keeping(job, who, "sand", "blend", &report.entry))
    }
}

fn arrived(job: &Standing, who: &Visitor, bench: &str, report: &ArrivalReport) -> Markup {
    let arrival = &report.arrival;
    let money = |which: fn(&job::bench::DeliveryMoney) -> rust_decimal::Decimal| {
        report.money.as_ref().map_or("–".to_owned(), |money| which(money).to_string())
    };
    let rows = [
        ("as ordered", &arrival.ordered, money(|money| money.ordered)),
        ("what came, same boxes", &arrival.same_parts, money(|money| money.same_parts)),
        ("what came, mix set right", &arrival.adjusted, money(|money| money.adjusted)),
    ];
    html! {
        table.stack {
            thead { tr { th { "A cubic metre" } th { "Mix" } th { "Lime" } th { "Sand" } th { "Water" } th { "Pores" } @if report.money.is_some() && who.sees_prices() { th { "Lime and sand cost" } } } }
            tbody { @for (name, mortar, cost) in &rows { tr {
                td data-l="" { b { (name) } } td data-l="Mix" { "1 : " (trimmed(mortar.mix.sand_parts, 2)) } td data-l="Lime" { (trimmed(mortar.lime_kg_m3, 0)) " kg" } td data-l="Sand" { (trimmed(mortar.sand_kg_m3, 0)) " kg" }
                td data-l="Water" { (trimmed(mortar.water_added_kg_m3, 0)) " kg" } td data-l="Pores" { (trimmed(100.0 * mortar.hardened.porosity, 0)) " %" }
                @if report.money.is_some() && who.sees_prices() { td data-l="Cost" { (cost) } }
            } } }
        }
        p { "The mix set right takes " (trimmed(arrival.lime_ratio, 2)) " times the lime; the air must turn " (trimmed(arrival.portlandite_ratio, 2)) " times the portlandite, and the gap between coats grows or shrinks with it. Put it into the job and reckon again: days and price of the whole follow." }
        (findings(&arrival.findings))
        (keeping(job, who, bench, "arrival", &report.entry))
    }
}

fn keeping(job: &Standing, who: &Visitor, bench: &str, which: &str, entry: &str) -> Markup {
    html! {
        details.more { summary { "As it would stand in the job file" } pre { (entry) } }
        @if changes_jobs(who) && !entry.is_empty() {
            form method="post" action=(job.address(&format!("materials/{bench}/entry"))) {
                input type="hidden" name="version" value=(job.job.version);
                input type="hidden" name="which" value=(which);
                div.does { button.btn.first type="submit" name="use" value="yes" { "Put it into the job and use it" } button type="submit" name="use" value="no" { "Only into the catalogue" } }
            }
        }
    }
}

fn lime(job: &Standing, who: &Visitor, report: &LimeReport) -> Markup {
    let worth = html! {
        table.stack {
            thead { tr { th { "Lime" } th { "A litre weighs" } th { "Calcium hydroxide in it" } th { "For a litre of the first" } th { "1 : " (trimmed(report.parts, 2)) " of the first is" } } }
            tbody { @for row in &report.limes { tr {
                td data-l="Lime" { b { (row.lime.name) } } td data-l="Weighs" { (trimmed(row.lime.litre_kg, 2)) " kg" } td data-l="Hydroxide" { (trimmed(row.portlandite_kg_l, 3)) " kg" }
                td data-l="For a litre" { @match &row.against_first { Some(against) => { (trimmed(against.litres_for_litre, 2)) " L" } None => "–" } }
                td data-l="Mix" { @match &row.against_first { Some(against) => { "1 : " (trimmed(against.parts, 2)) ", equal " (against.held) } None => "–" } }
            } } }
        }
        @for row in &report.limes { @if let Some(against) = &row.against_first { (findings(&against.findings)) } }
    };
    html! {
        (part("What a litre is worth", &html! {}, &worth))
        @if let Some(batch) = &report.batch { (part("Batch card", &html! { p { (batch.lime) " with " (batch.sand) "." } }, &batched(job, batch))) }
        @if let Some(arrival) = &report.arrival { (part("What came", &html! { p { "Against what was ordered." } }, &arrived(job, who, "lime", arrival))) }
    }
}

fn batched(job: &Standing, report: &BatchReport) -> Markup {
    let card = &report.card;
    html! {
        @if !report.hot {
            (facts(&[
                ("Lime", format!("{} boxes = {} L = {} kg", trimmed(card.lime_boxes, 1), trimmed(card.lime_l, 1), trimmed(card.lime_kg, 1))),
                ("Sand, damp", format!("{} boxes = {} L = {} kg", trimmed(card.sand_boxes, 1), trimmed(card.damp_sand_l, 1), trimmed(card.damp_sand_kg, 0))),
                ("Water", format!("at most {} L; the sand brings {} L", trimmed(card.water_l, 1), trimmed(card.sand_water_l, 1))),
                ("Makes", format!("{} L", trimmed(card.mortar_l, 0))),
                ("The day", format!("{} batches", card.batches)),
                ("It uses", format!("{} of {}; {} of {}", card.lime_units, report.lime_unit, trimmed(card.sand_units, 2), report.sand_unit)),
            ]))
        }
        (findings(&card.findings))
        p.does { a.btn href=(job.address("materials/lime/card.pdf")) { "Print the card" } }
    }
}

fn slake(report: &SlakeReport) -> Markup {
    let slaked = &report.slaked;
    let (dry, warm) = report.boil_limits;
    let mut rows = vec![
        ("Hottest mean", format!("{} °C", trimmed(slaked.hottest_c, 0))),
        ("Steam", format!("{} kg", trimmed(slaked.steam_kg, 1))),
        ("Free water left", format!("{} kg", trimmed(slaked.water_left_kg, 1))),
        ("Water it binds", format!("{} kg", trimmed(report.bound_kg, 1))),
        ("Boils dry below", format!("{} kg of water a kg", trimmed(dry, 2))),
        ("Never boils above", format!("{} kg of water a kg", trimmed(warm, 2))),
    ];
    if let (Some(litres), Some(density)) = (slaked.putty_l, slaked.putty_kg_m3) {
        rows.push(("Putty", format!("{} L of {} kg a litre, before it drains", trimmed(litres, 0), trimmed(density / 1000.0, 2))));
    }
    if let Some(class) = report.reactivity {
        rows.push(("Reactivity", format!("{class:?} by EN 459")));
    }
    html! {
        (part("All together", &html! { p { "Without losses: the hottest its mean can get. Lumps get hotter." } }, &html! { (facts(&rows)) (findings(&slaked.findings)) }))
        @if let Some(paced) = &report.paced {
            (part("As lumps go in", &html! { p { "The model's limit, and never called safe: start with a tenth, be ready to stop." } }, &html! {
                figure.wide { (inline_svg(&figures::bath(paced, &theme(1100.0)).svg, "bath")) }
                p { "Up to " (trimmed(paced.most_waiting_kg, 1)) " kg lie unslaked at once: stopping does not stop that heat." }
            }))
        }
        @if let Some([least, usual, best]) = report.slake_on {
            (part("When to slake", &html! { p { "So that the putty is mature on its throwing day." } }, &facts(&[
                ("At the very latest", long_day(least)), ("Usually by", long_day(usual)), ("Best by", long_day(best)),
            ])))
        }
    }
}

fn mortar(report: &MortarReport) -> Markup {
    html! {
        @if let Some(old) = &report.old {
            (part("By acid", &html! { p { "Sand to one of lime: likely, and what the doubts together leave open." } }, &html! {
                table.stack {
                    thead { tr { th { "Measured" } th { "Likely" } th { "Least" } th { "Most" } } }
                    tbody { @for (name, of) in [
                        ("by mass", &old.mass), ("by volume, as putty", &old.volume.putty), ("by volume, as dry hydrate", &old.volume.hydrate),
                        ("by volume, as quicklime", &old.volume.quicklime), ("by volume, as hydraulic lime", &old.volume.hydraulic),
                    ] { tr { td data-l="" { (name) } td data-l="Likely" { b { "1 : " (trimmed(of.likely, 2)) } } td data-l="Least" { "1 : " (trimmed(of.least, 2)) } td data-l="Most" { "1 : " (trimmed(of.most, 2)) } } } }
                }
                p { "One mortar, several ratios: say in which form the lime was measured." }
            }))
        }
        @if let Some(residue) = &report.residue {
            (part("Its sand", &html! {}, &html! { figure.wide { (inline_svg(&figures::grading(&[("the residue", residue)], &[], &[], &theme(1100.0)).svg, "residue")) } }))
        }
        @if let Some(heat) = &report.thermogravimetry {
            (part("By heat", &html! {}, &facts(&[("Carbonated", format!("{} %", trimmed(100.0 * heat.carbonated, 0))), ("By mass", format!("1 : {}, if the sand holds no carbonate", trimmed(heat.mass, 2)))])))
        }
        @if let Some(repair) = &report.repair {
            (part("Nearest repair mix", &html! {}, &html! { p { b { (repair.lime) " 1 : " (trimmed(repair.parts, 2)) " " (repair.sand.as_deref().unwrap_or("(sand to be matched)")) } } (findings(&repair.findings)) }))
        }
    }
}
