//! The coat system asked for, or what stands in for it.

use materials::{Catalogue, Mix};
use reckoning::Known;
use works::protect::Policy;
use works::{CoatAsked, CoatKind, Placing, ProtectionAsked, System};

use super::catalogue::must_be_on;
use crate::fields::Shelf;
use crate::reader::{Reader, whole};

pub(super) fn build(reader: &mut Reader<'_>, catalogue: &Catalogue) -> System {
    let mut entry = |key: &str, shelf: Shelf| {
        let path = format!("system.{key}");
        let known = reader.known_word(&path);
        must_be_on(reader, catalogue, shelf, &path, &known.value);
        known
    };
    let (lime, sand, finish_sand) = (entry("lime", Shelf::Limes), entry("sand", Shelf::Sands), entry("finish_sand", Shelf::Sands));
    let cover = entry("cover", Shelf::Covers);
    let protection = protection(reader);
    let all_thrown = reader.known_flag("system.all_thrown");
    let straight_edge_m = reader.known_number("system.straight_edge_m");
    let pinning_m = reader.number("system.pinning_mm").unwrap_or(0.048);
    let limewash = reader.known_number("system.limewash_coats");
    let colour = reader.known_word("system.colour");
    let pigment_g_l = reader.number("system.pigment_g_per_litre");
    let cement_share = reader.number("system.cement_percent").unwrap_or(0.0);
    let names = reader.names("system.coats");
    let mut system = System {
        lime,
        sand,
        finish_sand,
        all_thrown,
        straight_edge_m,
        pinning_m,
        coats: Vec::new(),
        limewash_coats: Known {
            value: whole(limewash.value),
            assumed: limewash.assumed,
            source: limewash.source,
            range: limewash.range.map(|(low, high)| (whole(low), whole(high))),
        },
        colour,
        pigment_g_l,
        cover,
        protection,
        cement_share,
    };
    system.coats = names.iter().map(|name| coat(reader, catalogue, &system, name)).collect();
    system
}

/// What tends the coats: a word of the field's list.
fn protection(reader: &mut Reader<'_>) -> ProtectionAsked {
    match reader.word("system.protection").as_deref() {
        Some("chosen") => ProtectionAsked::Chosen,
        Some(name) => Policy::named(name).map_or(ProtectionAsked::Rule, ProtectionAsked::Policy),
        None => ProtectionAsked::Rule,
    }
}

fn coat(reader: &mut Reader<'_>, catalogue: &Catalogue, system: &System, name: &str) -> CoatAsked {
    let path = format!("system.coats.{name}");
    let kind = match reader.word(&format!("{path}.kind")).as_deref() {
        Some("scud") => CoatKind::Scud,
        Some("straightening") => CoatKind::Straightening,
        _ => CoatKind::Finish,
    };
    let usual_sand = if kind == CoatKind::Finish { &system.finish_sand.value } else { &system.sand.value };
    let lime = reader.word(&format!("{path}.lime"));
    let sand = reader.word(&format!("{path}.sand"));
    must_be_on(reader, catalogue, Shelf::Limes, &format!("{path}.lime"), lime.as_deref().unwrap_or_default());
    must_be_on(reader, catalogue, Shelf::Sands, &format!("{path}.sand"), sand.as_deref().unwrap_or_default());
    let mix = Mix {
        lime: lime.unwrap_or_else(|| system.lime.value.clone()),
        sand: sand.unwrap_or_else(|| usual_sand.clone()),
        sand_parts: reader.number(&format!("{path}.mix")).unwrap_or(2.0),
    };
    let placing = match (reader.word(&format!("{path}.placing")).as_deref(), kind) {
        (Some("laid"), _) => Placing::Laid,
        (None, CoatKind::Straightening) if !system.all_thrown.value => Placing::Laid,
        _ => Placing::Thrown,
    };
    let thickness_m = reader.number(&format!("{path}.thickness_mm")).unwrap_or(0.0);
    let least_wait_days = reader.number(&format!("{path}.least_wait_days")).unwrap_or(7.0);
    CoatAsked { slug: name.to_owned(), kind, mix, thickness_m, placing, least_wait_days }
}
