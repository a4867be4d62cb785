//! Many at once: writers lose nothing to each other, readers see whole states and never wait for a writer.
#![allow(clippy::unwrap_used, reason = "a test that cannot use its book must stop")]

use store::{Book, StoreError};

use crate::support::book;

#[test]
fn writers_in_two_programs_and_four_readers_lose_nothing() {
    let book = book("together");
    book.add_job("Mill", "0", "new").unwrap();
    // A second book on the same file stands for a second program.
    let other = Book::open_existing(book.path()).unwrap();
    let saves = 40;
    std::thread::scope(|scope| {
        let writers: Vec<_> =
            [&book, &other, &book].into_iter().map(|book| scope.spawn(move || (0..saves).map(|_| add_one(book)).sum::<u32>())).collect();
        for book in [&book, &other, &book, &other] {
            scope.spawn(move || {
                for _ in 0..200 {
                    let job = book.job("mill").unwrap();
                    assert_eq!(job.text, (job.version - 1).to_string(), "a reader sees version and text of one moment");
                }
            });
        }
        let conflicts: u32 = writers.into_iter().map(|writer| writer.join().unwrap()).sum();
        assert!(conflicts < 100_000);
    });
    assert_eq!(book.job("mill").unwrap().text, (3 * saves).to_string(), "every save that was acknowledged counts");
    assert!(book.check().unwrap().faults.is_empty());
}

/// Adds one to the number in the job, beginning again when somebody was first; returns how often that was.
fn add_one(book: &Book) -> u32 {
    for conflicts in 0.. {
        let job = book.job("mill").unwrap();
        let next: u64 = job.text.parse::<u64>().unwrap() + 1;
        match book.save_job("mill", job.version, "Mill", &next.to_string(), "one more") {
            Ok(_) => return conflicts,
            Err(StoreError::Conflict { .. }) => {}
            Err(error) => panic!("{error}"),
        }
    }
    0
}
