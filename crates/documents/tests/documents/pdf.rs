//! Typeset documents: they pass PDF/UA-1, repeat to the byte, and take any words as words.

use documents::{proposal_pdf, site_pdf};

use crate::support::{Names, plan};

fn keep(bytes: &[u8], name: &str) {
    std::fs::write(std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join(name), bytes).unwrap();
}

#[test]
fn both_pass_the_accessibility_export_and_repeat_to_the_byte() {
    for (walls, names, name) in
        [(4, Names::Short, "four"), (1, Names::Short, "one"), (8, Names::Long, "eight"), (3, Names::Markup, "markup")]
    {
        let plan = plan(walls, names);
        let (proposal, site) = (proposal_pdf(&plan).unwrap(), site_pdf(&plan).unwrap());
        keep(&proposal, &format!("proposal-{name}.pdf"));
        keep(&site, &format!("site-{name}.pdf"));
        assert_eq!(proposal, proposal_pdf(&plan).unwrap(), "proposal of {name} differs on repeat");
        assert_eq!(site, site_pdf(&plan).unwrap(), "site sheets of {name} differ on repeat");
    }
}
