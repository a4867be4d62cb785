//! The forms the book has had, oldest first, and the way from each to the next. A step that has been released is never changed.

use std::path::Path;

use rusqlite::{Connection, TransactionBehavior};

use crate::StoreError;

/// Marks a SQLite file as a job book ("harl").
pub(crate) const APPLICATION: i32 = 0x6861_726c;

/// The steps; the form of a book is how many of them it has taken.
pub(crate) const STEPS: [&str; 2] = [JOBS, PEOPLE];

const JOBS: &str = "
create table job (
    id integer primary key,
    slug text not null unique,
    title text not null,
    version integer not null,
    put_away integer not null default 0 check (put_away in (0, 1)),
    changed_at text not null
) strict;
create table edit (
    job integer not null references job (id),
    version integer not null,
    kind text not null check (kind in ('edit', 'undo', 'redo')),
    stands_for integer not null,
    before integer,
    what text not null,
    text text not null,
    at text not null,
    primary key (job, version)
) strict, without rowid;
create trigger edit_stays before update on edit begin select raise(abort, 'the history of a job is never changed'); end;
create trigger edit_is_kept before delete on edit begin select raise(abort, 'the history of a job is never deleted'); end;
create table blob (
    sha256 text primary key,
    bytes integer not null,
    at text not null
) strict, without rowid;
create table attachment (
    job integer not null references job (id),
    name text not null,
    sha256 text not null references blob (sha256),
    primary key (job, name)
) strict, without rowid;
create table revision (
    job integer not null references job (id),
    number integer not null,
    text text not null,
    engine text not null,
    arithmetic text not null,
    seed text not null,
    weather_hash text,
    headline text not null,
    plan text not null,
    at text not null,
    primary key (job, number)
) strict;
create table revision_file (
    job integer not null,
    number integer not null,
    name text not null,
    sha256 text not null references blob (sha256),
    primary key (job, number, name),
    foreign key (job, number) references revision (job, number)
) strict, without rowid;
create trigger revision_stays before update on revision begin select raise(abort, 'a saved plan is never changed'); end;
";

const PEOPLE: &str = "
create table account (
    id integer primary key,
    name text not null unique,
    role text not null check (role in ('owner', 'surveyor', 'gang')),
    password text not null,
    at text not null,
    closed integer not null default 0 check (closed in (0, 1))
) strict;
create table session (
    token_sha256 text primary key,
    account integer not null references account (id) on delete cascade,
    ends_at integer not null
) strict, without rowid;
create table site_entry (
    id integer primary key,
    job integer not null references job (id),
    given_id text not null unique,
    happened_at text not null,
    who text not null,
    kind text not null,
    body text not null check (json_valid(body)),
    at text not null
) strict;
create trigger site_entry_stays before update on site_entry begin select raise(abort, 'the site log is never changed'); end;
create trigger site_entry_is_kept before delete on site_entry begin select raise(abort, 'the site log is never deleted'); end;
";

/// Brings a book to the latest form; a book of a later form is refused.
pub(crate) fn bring_up(connection: &mut Connection, path: &Path) -> Result<(), StoreError> {
    up_to(connection, path, STEPS.len())
}

fn up_to(connection: &mut Connection, path: &Path, form: usize) -> Result<(), StoreError> {
    let opening = |error: rusqlite::Error| StoreError::opening(path, &error);
    let application: i32 = connection.pragma_query_value(None, "application_id", |row| row.get(0)).map_err(opening)?;
    let tables: i64 = connection.query_row("select count(*) from sqlite_schema", [], |row| row.get(0)).map_err(opening)?;
    if application != APPLICATION && tables > 0 {
        return Err(StoreError::NotABook { path: path.to_owned(), found: "it is a database of something else".to_owned() });
    }
    let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate).map_err(opening)?;
    let found: i64 = transaction.pragma_query_value(None, "user_version", |row| row.get(0)).map_err(opening)?;
    let done = usize::try_from(found).unwrap_or(usize::MAX);
    if done > STEPS.len() {
        return Err(StoreError::Newer { path: path.to_owned(), found, known: STEPS.len() as i64 });
    }
    for (index, step) in STEPS.iter().enumerate().take(form).skip(done) {
        transaction.execute_batch(step)?;
        transaction.pragma_update(None, "user_version", (index + 1) as i64)?;
    }
    transaction.pragma_update(None, "application_id", APPLICATION)?;
    transaction.commit()?;
    Ok(())
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, reason = "a test that cannot open a book must stop")]
    use super::*;

    #[test]
    fn a_book_of_every_earlier_form_is_brought_up_with_what_it_holds() {
        for form in 1..STEPS.len() {
            let mut connection = Connection::open_in_memory().unwrap();
            up_to(&mut connection, Path::new("old"), form).unwrap();
            connection
                .execute("insert into job (slug, title, version, changed_at) values ('mill', 'The mill', 1, '2027-01-01T00:00:00Z')", [])
                .unwrap();
            bring_up(&mut connection, Path::new("old")).unwrap();
            let title: String = connection.query_row("select title from job", [], |row| row.get(0)).unwrap();
            assert_eq!(title, "The mill");
            let now: i64 = connection.pragma_query_value(None, "user_version", |row| row.get(0)).unwrap();
            assert_eq!(now, STEPS.len() as i64);
            connection.execute("select count(*) from site_entry", []).unwrap_err();
            let entries: i64 = connection.query_row("select count(*) from site_entry", [], |row| row.get(0)).unwrap();
            assert_eq!(entries, 0);
        }
    }

    #[test]
    fn a_book_of_a_later_form_and_a_database_of_something_else_are_refused() {
        let mut later = Connection::open_in_memory().unwrap();
        bring_up(&mut later, Path::new("later")).unwrap();
        later.pragma_update(None, "user_version", 99).unwrap();
        assert!(matches!(bring_up(&mut later, Path::new("later")), Err(StoreError::Newer { found: 99, .. })));
        let mut other = Connection::open_in_memory().unwrap();
        other.execute_batch("create table bills (sum integer)").unwrap();
        assert!(matches!(bring_up(&mut other, Path::new("other")), Err(StoreError::NotABook { .. })));
    }
}
