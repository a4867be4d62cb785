//! The forms of the bench: what is asked for, and what was typed turned into a file of the bench, which alone judges it. Keys and meanings are those of
//! docs/bench.md.

use std::fmt::Write as _;

use maud::{Markup, html};

use crate::extract::Typed;

/// What a field takes.
#[derive(Clone, Copy)]
pub enum Takes {
    /// Words.
    Words,
    /// A number with its unit.
    Number(&'static str),
    /// Several numbers with blanks between, with their unit.
    Numbers(&'static str),
    /// One of some words, each with what it means; the first may be empty.
    One(&'static [(&'static str, &'static str)]),
    /// Yes or no.
    Flag,
}

/// A field.
pub struct Field(pub &'static str, pub &'static str, pub &'static str, pub Takes);

/// A group of fields: a table of the file.
pub struct Group {
    /// Its table; empty for the head of the file.
    pub table: &'static str,
    /// How many such tables can be typed; nought for a table that stands once.
    pub many: usize,
    /// Its heading.
    pub heading: &'static str,
    /// Its fields.
    pub fields: &'static [Field],
}

use Takes::{Flag, Number, Numbers, One, Words};

const MM: Takes = Numbers("mm");
const PERCENT: Takes = Numbers("%");
const TITLE: Group = Group { table: "", many: 0, heading: "What it is", fields: &[Field("title", "Title", "In one line.", Words)] };
const LIMES: &[(&str, &str)] =
    &[("putty-cl90", "putty"), ("hydrate-cl90", "dry hydrate"), ("nhl-2", "NHL 2"), ("nhl-3-5", "NHL 3.5"), ("nhl-5", "NHL 5")];
const SANDS: &[(&str, &str)] = &[("sharp-0-4", "sharp 0/4 mm"), ("gritty-0-8", "gritty 0/8 mm")];
const ORDERED: Group = Group {
    table: "ordered",
    many: 0,
    heading: "Against what was ordered",
    fields: &[
        Field("parts", "Parts of sand to one of lime", "Left empty, nothing is held against an order.", Number("")),
        Field("lime", "Lime ordered", "", One(LIMES)),
        Field("sand", "Sand ordered", "", One(SANDS)),
        Field("lime_price", "Price of a unit of lime", "As sold. With both prices the money is told.", Number("")),
        Field("sand_price", "Price of a unit of sand", "As sold.", Number("")),
    ],
};

/// The forms, by the name of the bench.
pub fn groups(bench: &str) -> &'static [Group] {
    match bench {
        "sand" => SAND,
        "lime" => LIME,
        "slake" => SLAKE,
        _ => MORTAR,
    }
}

const SAND: &[Group] = &[
    TITLE,
    Group {
        table: "coat",
        many: 0,
        heading: "The coat it is for",
        fields: &[
            Field("thickness_mm", "Thickness", "Left empty, the sand is judged for no coat.", Number("mm")),
            Field("laying", "How it is laid", "", One(&[("trowelled", "trowelled"), ("thrown", "thrown")])),
        ],
    },
    Group {
        table: "sands",
        many: 3,
        heading: "Sand",
        fields: &[
            Field("name", "Name", "", Words),
            Field("sieves_mm", "Sieves", "Any series, the coarsest first.", MM),
            Field("passing_percent", "What passes each", "One figure a sieve; or give masses instead.", PERCENT),
            Field("retained_g", "Or: what stayed on each", "Masses, checked against the dry mass.", Numbers("g")),
            Field("dry_g", "Dry mass sieved", "", Number("g")),
            Field("pan_g", "In the pan", "", Number("g")),
            Field("washed_g", "Washed out before", "", Number("g")),
            Field("loose_kg_l", "A litre, dry and loose", "Struck off, not shaken.", Number("kg")),
            Field("void_sand_ml", "Void test: sand", "One figure a reading.", Numbers("ml")),
            Field("void_water_ml", "Void test: water taken up", "", Numbers("ml")),
            Field("damp_height_mm", "Bulking jar: damp", "", Number("mm")),
            Field("flooded_height_mm", "Bulking jar: flooded", "", Number("mm")),
            Field("moisture_percent", "Or: moisture", "", Number("%")),
            Field("sand_height_mm", "Silt jar: sand", "", Number("mm")),
            Field("silt_height_mm", "Silt jar: silt", "", Number("mm")),
            Field(
                "origin",
                "Origin",
                "",
                One(&[("", "not said"), ("pit", "pit"), ("river", "river"), ("beach", "beach"), ("unknown", "unknown")]),
            ),
            Field("chloride_percent", "Chlorides", "", Number("%")),
            Field("organic_darker", "Caustic-soda test darker than the standard", "", Flag),
            Field("price_per_t", "Price of a dry tonne", "For a blend.", Number("")),
            Field("least_percent", "At least in a blend", "", Number("%")),
            Field("most_percent", "At most in a blend", "", Number("%")),
        ],
    },
    Group {
        table: "target",
        many: 0,
        heading: "The curve a blend should come nearest to",
        fields: &[
            Field("sieves_mm", "Sieves", "Left empty, nothing is blended.", MM),
            Field("passing_percent", "Wished to pass", "", PERCENT),
            Field("least_percent", "At least", "", PERCENT),
            Field("most_percent", "At most", "", PERCENT),
        ],
    },
    ORDERED,
];

const LIME: &[Group] = &[
    TITLE,
    Group {
        table: "",
        many: 0,
        heading: "The mix",
        fields: &[Field("parts", "Parts of dry sand to one of the first lime", "2.5 if left empty.", Number(""))],
    },
    Group {
        table: "limes",
        many: 3,
        heading: "Lime",
        fields: &[
            Field("name", "Name", "", Words),
            Field(
                "kind",
                "Kind",
                "",
                One(&[("putty", "putty"), ("hydrate", "dry hydrate"), ("quicklime", "quicklime"), ("hydraulic", "hydraulic")]),
            ),
            Field("litre_kg", "A struck litre", "", Number("kg")),
            Field("active_percent", "Active share", "Of the data sheet; usual if left empty.", Number("%")),
            Field("class_mpa", "Class of a hydraulic lime", "2, 3.5 or 5.", Number("MPa")),
        ],
    },
    Group {
        table: "batch",
        many: 0,
        heading: "Batch card for the first lime",
        fields: &[
            Field("mixer_l", "The mixer takes", "Left empty, no card is made.", Number("litres")),
            Field("day_l", "Mortar wanted in a day", "", Number("litres")),
            Field("parts", "Parts of dry sand to one", "", Number("")),
            Field("lime", "The lime is like", "", One(LIMES)),
            Field("sand", "Sand", "", One(SANDS)),
            Field("box_l", "Gauge box", "15 litres if left empty.", Number("litres")),
            Field("moisture_percent", "Moisture of the sand", "", Number("%")),
            Field("bulking_percent", "Its bulking", "", Number("%")),
        ],
    },
    ORDERED,
];

const SLAKE: &[Group] = &[
    Group {
        table: "",
        many: 0,
        heading: "What it is",
        fields: &[
            Field("title", "Title", "In one line.", Words),
            Field("throwing_day", "Day its putty is thrown", "As 2027-05-10.", Words),
        ],
    },
    Group {
        table: "bath",
        many: 0,
        heading: "What comes together",
        fields: &[
            Field("quicklime_kg", "Quicklime", "", Number("kg")),
            Field("water_kg", "Water in the bath before the first lump", "", Number("kg")),
            Field("purity_percent", "Share that slakes", "92 % if left empty.", Number("%")),
            Field("sand_kg", "Sand", "For a hot mix: heat and yield only.", Number("kg")),
            Field("start_c", "Temperature before", "", Number("°C")),
        ],
    },
    Group {
        table: "test",
        many: 0,
        heading: "The slaking test",
        fields: &[
            Field("class", "Class", "", One(&[("", "by readings"), ("R5", "R5"), ("R4", "R4"), ("R3", "R3"), ("R2", "R2")])),
            Field("minutes", "Or readings: minutes", "", Numbers("min")),
            Field("reached_c", "Temperature reached", "", Numbers("°C")),
        ],
    },
    Group {
        table: "pace",
        many: 0,
        heading: "In time",
        fields: &[
            Field("kg_min", "Lime goes in at", "The limit of a model, and never called safe.", Number("kg/min")),
            Field("loss_w_k", "Heat lost to the air", "", Number("W/K")),
            Field("air_c", "Air", "", Number("°C")),
            Field("minutes", "Followed for", "", Number("min")),
        ],
    },
];

const MORTAR: &[Group] = &[
    TITLE,
    Group {
        table: "acid",
        many: 0,
        heading: "By acid",
        fields: &[
            Field("sample_g", "Dry mass before", "", Number("g")),
            Field("residue_g", "Dry mass after", "", Number("g")),
            Field("weighing_g", "A weighing may be off by", "", Number("g")),
            Field("shell_g", "Shell and limestone in the sand", "Likely, least, most.", Numbers("g")),
            Field("carbonated_percent", "Carbonated", "Likely, least, most.", PERCENT),
            Field("lost_percent", "Lost on the way", "Likely, least, most.", PERCENT),
        ],
    },
    Group {
        table: "residue",
        many: 0,
        heading: "The sieved residue",
        fields: &[Field("sieves_mm", "Sieves", "", MM), Field("passing_percent", "What passes each", "", PERCENT)],
    },
    Group {
        table: "thermogravimetry",
        many: 0,
        heading: "By heat, from a laboratory",
        fields: &[
            Field("water_percent", "Lost at 400 to 500 °C", "", Number("%")),
            Field("carbon_dioxide_percent", "Lost at 600 to 900 °C", "", Number("%")),
        ],
    },
];

/// Names of the fields of a group's table, its number among several counted from one.
fn name(group: &Group, number: usize, key: &str) -> String {
    match (group.table, group.many) {
        ("", _) => key.to_owned(),
        (table, 0) => format!("{table}.{key}"),
        (table, _) => format!("{table}.{number}.{key}"),
    }
}

/// What was typed as a file of the bench. A table is written where something was typed in it that is not a choice made for everyone.
pub fn file(bench: &str, typed: &Typed) -> String {
    let mut text = String::new();
    for group in groups(bench) {
        for number in 1..=group.many.max(1) {
            let value = |field: &Field| Some(typed.text(&name(group, number, field.0))).filter(|value| !value.trim().is_empty());
            let said = group.fields.iter().any(|field| !matches!(field.3, One(_) | Flag) && value(field).is_some());
            if !said && !group.table.is_empty() {
                let chosen = group.fields.iter().any(|field| {
                    matches!(field.3, One(words) if words.first().is_some_and(|first| first.0.is_empty())) && value(field).is_some()
                });
                if !chosen {
                    continue;
                }
            }
            match (group.table, group.many) {
                ("", _) => {}
                (table, 0) => {
                    let _ = writeln!(text, "[{table}]");
                }
                (table, _) => {
                    let _ = writeln!(text, "[[{table}]]");
                }
            }
            for field in group.fields {
                if let Some(value) = value(field) {
                    let _ = writeln!(text, "{} = {}", field.0, literal(field.3, value.trim()));
                }
            }
        }
    }
    text
}

/// A typed value as TOML; what is no number stays words, and the bench says what it wanted.
fn literal(takes: Takes, value: &str) -> String {
    let number =
        |word: &str| word.replace(',', ".").parse::<f64>().ok().filter(|number| number.is_finite()).map(|number| format!("{number:?}"));
    match takes {
        Number(_) => number(value).unwrap_or_else(|| quoted(value)),
        Numbers(_) => {
            let words = value.split([' ', ';', '\n', '\t', '\r']).map(|word| word.trim_matches(',')).filter(|word| !word.is_empty());
            let each: Vec<String> = words.map(|word| number(word).unwrap_or_else(|| quoted(word))).collect();
            format!("[{}]", each.join(", "))
        }
        Flag => (value == "yes").to_string(),
        Words | One(_) => quoted(value),
    }
}

fn quoted(words: &str) -> String {
    let kept: String = words.chars().filter(|c| !c.is_control()).take(200).collect();
    format!("\"{}\"", kept.replace('\\', "\\\\").replace('"', "\\\""))
}

/// The form, filled with what was typed.
pub fn form(bench: &str, typed: &Typed) -> Markup {
    html! {
        @for group in groups(bench) {
            @for number in 1..=group.many.max(1) {
                @let open = number == 1 || group.fields.iter().any(|field| !matches!(field.3, One(_) | Flag) && !typed.text(&name(group, number, field.0)).is_empty());
                @if group.many > 0 {
                    details.more open[open] { summary { (group.heading) " " (number) } div.fields { @for field in group.fields { (one(group, number, field, typed)) } } }
                } @else {
                    fieldset { legend { (group.heading) } div.fields { @for field in group.fields { (one(group, number, field, typed)) } } }
                }
            }
        }
    }
}

fn one(group: &Group, number: usize, Field(key, label, help, takes): &Field, typed: &Typed) -> Markup {
    let (name, unit) = (
        name(group, number, key),
        match takes {
            Number(unit) | Numbers(unit) => *unit,
            _ => "",
        },
    );
    let value = typed.text(&name);
    html! {
        div.field.whole[matches!(takes, Numbers(_))] {
            label for=(name) { (label) }
            @if !help.is_empty() { p.help id={ (name) "-help" } { (help) } }
            div.in {
                @match takes {
                    One(words) => { select id=(name) name=(name) { @for (word, says) in *words { option value=(word) selected[*word == value] { (says) } } } }
                    Flag => { select id=(name) name=(name) { option value="" { "not made" } option value="no" selected[value == "no"] { "no" } option value="yes" selected[value == "yes"] { "yes" } } }
                    Words | Numbers(_) => { input.long type="text" id=(name) name=(name) value=(value) autocomplete="off"; }
                    Number(_) => { input type="text" inputmode="decimal" id=(name) name=(name) value=(value) autocomplete="off"; }
                }
                @if !unit.is_empty() { span.unit { (unit) } }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    fn typed(pairs: &[(&str, &str)]) -> Typed {
        pairs.iter().map(|(name, value)| ((*name).to_owned(), (*value).to_owned())).collect()
    }

    #[test]
    fn what_is_typed_is_a_file_that_the_bench_reads() {
        let sand = typed(&[
            ("title", "A \"sharp\" one"),
            ("coat.thickness_mm", "12"),
            ("coat.laying", "trowelled"),
            ("sands.1.name", "pit"),
            ("sands.1.sieves_mm", "4 2 1 0.5 0.25 0.125 0.063"),
            ("sands.1.passing_percent", "96, 80, 62, 41, 19, 6, 2"),
            ("sands.1.origin", "pit"),
            ("sands.2.origin", ""),
            ("ordered.lime", "putty-cl90"),
            ("ordered.sand", "sharp-0-4"),
        ]);
        let report = job::bench::read_sand(&file("sand", &sand), "form").unwrap();
        assert_eq!((report.sands.len(), report.title.as_str()), (1, "A \"sharp\" one"));
        assert!(report.arrival.is_none(), "an order without parts is none");
        assert_eq!(report.sands[0].grading.rows().len(), 7);
    }

    #[test]
    fn what_is_no_number_is_told_by_the_bench() {
        let lime = typed(&[("title", "x"), ("limes.1.name", "a"), ("limes.1.kind", "putty"), ("limes.1.litre_kg", "heavy")]);
        let problems = job::bench::read_lime(&file("lime", &lime), "form").unwrap_err();
        assert!(problems.iter().any(|problem| problem.path.contains("litre_kg")), "{problems:?}");
    }

    #[test]
    fn every_field_is_known_to_the_bench() {
        for (bench, read) in [("sand", None), ("lime", Some("x"))] {
            for group in groups(bench).iter().filter(|group| group.many > 0) {
                assert!(group.fields.iter().all(|field| !field.1.is_empty()), "{bench} {read:?}");
            }
        }
    }
}
