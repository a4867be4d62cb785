//! The order of work as a user asks for it, and a job that takes one in.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "a test that cannot run the binary must stop")]

mod support;

use support::{folder, harlwright};

fn new_job(name: &str) -> std::path::PathBuf {
    let job = folder(name).join("job.toml");
    let said = harlwright(&["new".as_ref(), job.as_os_str(), "--accept-defaults".as_ref()]);
    assert_eq!(said.code, 0, "{}", said.err);
    job
}

#[test]
fn an_order_is_found_told_and_taken_into_a_new_job() {
    let job = new_job("order");
    let before = std::fs::read(&job).unwrap();
    let out = job.with_file_name("ordered.toml");
    let said = harlwright(&["order-of-work".as_ref(), job.as_os_str(), "--out".as_ref(), out.as_os_str()]);
    assert_eq!(said.code, 0, "{}", said.err);
    for words in ["Order of work", "by rule of thumb", "As the job stands", "Best", "comes to", "Take care", "is taken into"] {
        assert!(said.out.contains(words), "{words}: {}", said.out);
    }
    assert!(said.out.contains("Proved") || said.out.contains("none can come to less than"), "{}", said.out);
    assert_eq!(std::fs::read(&job).unwrap(), before, "the job itself is left as it was");
    let again = harlwright(&["check".as_ref(), out.as_os_str()]);
    assert_eq!(again.code, 0, "{}{}", again.out, again.err);
    // A file that is there is not overwritten, and nothing is reckoned first.
    let kept = std::fs::read(&out).unwrap();
    let refused = harlwright(&["order-of-work".as_ref(), job.as_os_str(), "--out".as_ref(), out.as_os_str()]);
    assert!(refused.code == 2 && refused.err.contains("exists already"), "{}", refused.err);
    assert_eq!(std::fs::read(&out).unwrap(), kept);
}

#[test]
fn the_job_alone_is_printed_where_asked() {
    let job = new_job("order-printed");
    let said = harlwright(&["order-of-work".as_ref(), job.as_os_str(), "--out".as_ref(), "-".as_ref()]);
    assert_eq!(said.code, 0, "{}", said.err);
    let out = job.with_file_name("printed.toml");
    std::fs::write(&out, &said.out).unwrap();
    let checked = harlwright(&["check".as_ref(), out.as_os_str()]);
    assert_eq!(checked.code, 0, "{}{}", checked.out, checked.err);
}

// By rule of thumb there is one run alone, in which no order is riskier than another.
#[test]
fn an_order_that_there_is_not_cannot_be_taken() {
    let job = new_job("order-not-there");
    let said =
        harlwright(&["order-of-work".as_ref(), job.as_os_str(), "--take".as_ref(), "riskier".as_ref(), "--out".as_ref(), "-".as_ref()]);
    assert_eq!(said.code, 2, "{}", said.out);
    assert!(said.err.contains("There is no such order"), "{}", said.err);
}
