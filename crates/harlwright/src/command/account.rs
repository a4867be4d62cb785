//! `harlwright account`: who may sign in to a job book. A password is made here and shown once, or read from standard input; the book keeps its
//! hash alone.

use std::io::Read;

use store::Book;

use super::book::book_failure;
use crate::arguments::AccountVerb;
use crate::failure::Failure;
use crate::files::{book_file, print};

/// Longest name.
const LONGEST_NAME: usize = 40;

/// Does what is asked.
pub fn run(verb: &AccountVerb) -> Result<(), Failure> {
    match verb {
        AccountVerb::Add { name, role, password_stdin, book } => {
            check_name(name)?;
            let book = Book::open(&book_file(book)).map_err(|error| book_failure(&error))?;
            let (password, made) = password(*password_stdin)?;
            let hash = hashed(&password)?;
            book.add_account(name, (*role).into(), &hash).map_err(|error| book_failure(&error))?;
            told(name, &password, made)
        }
        AccountVerb::Password { name, password_stdin, book } => {
            let book = Book::open_existing(&book_file(book)).map_err(|error| book_failure(&error))?;
            let (password, made) = password(*password_stdin)?;
            let hash = hashed(&password)?;
            book.set_password(name, &hash).map_err(|error| book_failure(&error))?;
            told(name, &password, made)
        }
        AccountVerb::List { book } => {
            let book = Book::open_existing(&book_file(book)).map_err(|error| book_failure(&error))?;
            let accounts = book.accounts().map_err(|error| book_failure(&error))?;
            let lines: Vec<String> = accounts.iter().map(|account| format!("{}  {}", account.name, account.role.word())).collect();
            print(if lines.is_empty() { "Nobody has an account in this book.".to_owned() } else { lines.join("\n") }.as_str())
        }
        AccountVerb::Remove { name, book } => {
            let book = Book::open_existing(&book_file(book)).map_err(|error| book_failure(&error))?;
            book.close_account(name).map_err(|error| book_failure(&error))?;
            print(&format!("{name} is closed and signed out everywhere."))
        }
        AccountVerb::Role { name, role, book } => {
            let book = Book::open_existing(&book_file(book)).map_err(|error| book_failure(&error))?;
            let role: store::Role = (*role).into();
            book.set_role(name, role).map_err(|error| book_failure(&error))?;
            print(&format!("{name} is {} now.", role.word()))
        }
    }
}

fn check_name(name: &str) -> Result<(), Failure> {
    let fits = !name.is_empty() && name.len() <= LONGEST_NAME && name.chars().all(|c| c.is_alphanumeric() || "-_.@".contains(c));
    if fits {
        return Ok(());
    }
    Err(Failure::input(
        format!("“{name}” is no name to sign in with."),
        format!("Up to {LONGEST_NAME} letters, digits and - _ . @, without blanks."),
    ))
}

/// The password, and whether it was made here.
fn password(from_stdin: bool) -> Result<(String, bool), Failure> {
    if !from_stdin {
        return Ok((web::doors::generated().map_err(Failure::machine)?, true));
    }
    let mut text = String::new();
    let read = std::io::stdin().take(4096).read_to_string(&mut text);
    read.map_err(|error| Failure::input(format!("The password could not be read: {error}."), "Give it as one line of UTF-8."))?;
    Ok((text.lines().next().unwrap_or_default().to_owned(), false))
}

fn hashed(password: &str) -> Result<String, Failure> {
    web::doors::hash_password(password).map_err(|words| Failure::input(words, ""))
}

fn told(name: &str, password: &str, made: bool) -> Result<(), Failure> {
    let says = format!("{name} can sign in.");
    print(&if made { format!("{says}\nPassword, shown this once: {password}") } else { says })
}
