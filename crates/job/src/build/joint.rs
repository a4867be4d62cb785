//! Where a joint of the finish coat may be hidden on a wall, and whether it can stand there.

use survey::{HiddenJoint, JointKind, Opening, Outline};

use super::outline::{is_whole, size_m};
use crate::problem::Fault;
use crate::reader::Reader;

pub(super) fn build(reader: &mut Reader<'_>, wall: &str, outline: &Outline, openings: &[Opening]) -> Vec<HiddenJoint> {
    let table = format!("{wall}.joints");
    let (length_m, _) = size_m(outline);
    let mut joints = Vec::new();
    for name in reader.names(&table) {
        let path = format!("{table}.{name}.at_m");
        let at_m = reader.number(&path).unwrap_or(0.0);
        let kind = match reader.word(&format!("{table}.{name}.kind")).as_deref() {
            Some("margin") => JointKind::Margin,
            _ => JointKind::Downpipe,
        };
        if is_whole(outline) && at_m >= length_m {
            reader.problem(
                Fault::Contradiction,
                &path,
                format!("The joint is {at_m} m from the left end and the wall {length_m:.2} m long."),
                "Allowed is a joint between the two ends of its wall.",
                "Measure from the left end of the wall, seen from outside. A corner needs no entry: the finish may always end there.",
            );
        }
        let across = openings.iter().find(|opening| opening.left_m < at_m && at_m < opening.left_m + opening.width_m);
        if let Some(opening) = across.filter(|_| kind == JointKind::Downpipe) {
            reader.problem(
                Fault::Contradiction,
                &path,
                format!("The downpipe would stand before the opening {:?}.", opening.slug),
                "Allowed is a downpipe clear of every opening.",
                "Measure the downpipe and left_m of the opening again, both from the left end of the wall.",
            );
        }
        joints.push(HiddenJoint { slug: name, kind, at_m });
    }
    joints
}
