//! `harlwright serve`: the job book in a browser.

use web::doors::{ListeningError, Wish};
use web::{ServeError, ServeOptions, serve};

use super::book::book_failure;
use crate::arguments::ServeArguments;
use crate::failure::Failure;
use crate::files::book_file;

/// Serves until asked to stop.
pub fn run(asked: ServeArguments) -> Result<(), Failure> {
    let ServeArguments { book, port, bind, tls_cert, tls_key, behind_tls_proxy, login } = asked;
    let wish = Wish { address: bind, port, tls: tls_cert.zip(tls_key), behind: behind_tls_proxy, login };
    let options = ServeOptions { book: book_file(&book), wish };
    let told = |address: &str| eprintln!("The job book {} is open at {address}/. Ctrl-C closes it.", book.display());
    serve(&options, told).map_err(|error| match error {
        ServeError::Doors(ListeningError::Refused(words)) => Failure::input(words, ""),
        ServeError::Book(error) => book_failure(&error),
        other => Failure::machine(other.to_string()),
    })
}
