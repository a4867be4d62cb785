//! Backup, check, restore, and what is told of a file that is no sound book.
#![allow(clippy::unwrap_used, reason = "a test that cannot use its book must stop")]

use store::{Book, Role, StoreError, restore};

use crate::support::{book, folder};

#[test]
fn a_backup_taken_while_the_book_is_written_restores_to_a_sound_book() {
    let book = book("backup");
    let job = book.add_job("Mill", "text 0", "new").unwrap();
    let large: Vec<u8> = (0..9_000_000_u32).map(|n| (n * 31 % 251) as u8).collect();
    let hash = book.put_blob(&mut large.as_slice(), 20_000_000).unwrap();
    let empty = book.put_blob(&mut &b""[..], 10).unwrap();
    book.attach("mill", "scan.ply", &hash).unwrap();
    book.add_account("ann", Role::Owner, "$argon2id$...").unwrap();
    book.begin_session("ann", "token", i64::MAX).unwrap();
    let to = book.path().with_file_name("evening.backup");
    let (done, at_least) = std::thread::scope(|scope| {
        let writer = scope.spawn(|| {
            let mut at = job.version;
            while !to.exists() && at < 4000 {
                at = book.save_job("mill", at, "Mill", &format!("text {at}"), "typing").unwrap().version;
            }
        });
        let done = book.backup(&to).unwrap();
        writer.join().unwrap();
        (done, job.version)
    });
    assert_eq!((done.jobs, done.blobs), (1, 2));
    let again = folder("backup-restored").join("jobs.book");
    let restored = restore(&to, &again).unwrap();
    assert_eq!((restored.jobs, restored.blobs), (1, 2));
    let again = Book::open_existing(&again).unwrap();
    let checked = again.check().unwrap();
    assert_eq!((checked.faults, checked.blobs), (Vec::new(), 2));
    assert!(again.account("ann").unwrap().is_some() && again.session("token").unwrap().is_none(), "everyone signs in anew");
    assert_eq!(again.blob_bytes(&hash).unwrap(), large);
    assert_eq!(again.blob_bytes(&empty).unwrap(), b"");
    let stood = again.job("mill").unwrap();
    assert!(stood.version >= at_least && stood.text == book.text_at("mill", stood.version).unwrap());
}

#[test]
fn nothing_is_overwritten_by_a_backup_or_a_restore() {
    let book = book("in-the-way");
    let to = book.path().with_file_name("there");
    std::fs::write(&to, b"mine").unwrap();
    assert!(matches!(book.backup(&to), Err(StoreError::InTheWay(_))));
    assert_eq!(std::fs::read(&to).unwrap(), b"mine");
    let good = book.path().with_file_name("good.backup");
    book.backup(&good).unwrap();
    assert!(matches!(restore(&good, book.path()), Err(StoreError::InTheWay(_))));
}

#[test]
fn a_damaged_book_is_told_plainly_and_left_as_it_is() {
    let book = book("damaged");
    for number in 0..40 {
        book.add_job(&format!("Job {number}"), &"x".repeat(4000), "new").unwrap();
    }
    let path = book.path().to_owned();
    drop(book);
    let mut bytes = std::fs::read(&path).unwrap();
    let middle = bytes.len() / 2;
    bytes[4096..middle].fill(0x5a);
    std::fs::write(&path, &bytes).unwrap();
    let told = match Book::open_existing(&path) {
        Err(error) => error.to_string(),
        Ok(book) => match book.check() {
            Err(error) => error.to_string(),
            Ok(checked) => checked.faults.join(" "),
        },
    };
    assert!(!told.is_empty() && told.ends_with('.'), "{told}");
    assert!(told.contains("malformed") || told.contains("damaged") || told.contains("The database says"), "{told}");
    assert_eq!(std::fs::read(&path).unwrap().len(), bytes.len());
}

#[test]
fn a_changed_or_missing_blob_is_found_by_the_check() {
    let book = book("blob-check");
    let hash = book.put_blob(&mut &b"one"[..], 10).unwrap();
    let lost = book.put_blob(&mut &b"two"[..], 10).unwrap();
    let blobs = book.path().with_file_name("jobs.book-blobs");
    std::fs::write(blobs.join(&hash), b"changed").unwrap();
    std::fs::remove_file(blobs.join(lost)).unwrap();
    let faults = book.check().unwrap().faults;
    assert_eq!(faults.len(), 2);
    assert!(faults.iter().any(|fault| fault.contains("not what it was")), "{faults:?}");
}

#[test]
fn a_file_that_is_something_else_is_no_book_and_no_backup() {
    let folder = folder("no-book");
    let letter = folder.join("letter.txt");
    std::fs::write(&letter, "Dear client, ".repeat(200)).unwrap();
    let error = Book::open_existing(&letter).unwrap_err();
    assert!(matches!(error, StoreError::NotABook { .. }), "{error}");
    assert!(restore(&letter, &folder.join("new.book")).is_err());
    assert!(!folder.join("new.book").exists() && !folder.join("new.book.part").exists());
    let book = book("not-a-backup");
    let error = restore(book.path(), &folder.join("other.book")).unwrap_err();
    assert!(error.to_string().contains("not a backup"), "{error}");
    assert!(!folder.join("other.book-blobs").exists());
}

#[test]
fn a_backup_cut_short_is_refused_and_leaves_nothing() {
    let book = book("cut-short");
    let hash = book.put_blob(&mut vec![7_u8; 300_000].as_slice(), 1_000_000).unwrap();
    assert_eq!(hash.len(), 64);
    let good = book.path().with_file_name("good.backup");
    book.backup(&good).unwrap();
    let bytes = std::fs::read(&good).unwrap();
    let short = book.path().with_file_name("short.backup");
    std::fs::write(&short, &bytes[..bytes.len() / 2]).unwrap();
    let to = folder("cut-short-restored").join("jobs.book");
    let error = restore(&short, &to).unwrap_err();
    assert!(matches!(error, StoreError::Damaged { .. }), "{error}");
    assert_eq!(std::fs::read_dir(to.parent().unwrap()).unwrap().count(), 0);
}
