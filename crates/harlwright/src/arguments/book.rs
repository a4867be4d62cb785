//! The verbs that keep a job book, as declared: its log, its accounts, its check.

use std::path::PathBuf;

use clap::Subcommand;

/// What can be done with the site log.
#[derive(Debug, Subcommand)]
pub enum LogVerb {
    /// Take in what a site sheet handed over; an entry that is there already stands once
    #[command(
        after_help = "Examples:\n  harlwright log import site-log-ferry-house-2027-05-11.json\n  harlwright log import site-log.json --job ferry-house"
    )]
    Import {
        /// The file that the sheet wrote (site-log/1, docs/site-log.md).
        file: PathBuf,
        /// Short name of the job in the book. Default: the one the file names.
        #[arg(long)]
        job: Option<String>,
        /// Folder of the job book.
        #[arg(long, value_name = "FOLDER", default_value = crate::files::BOOK)]
        book: PathBuf,
    },
    /// Print the log of a job as JSON
    #[command(after_help = "Examples:\n  harlwright log show ferry-house")]
    Show {
        /// Short name of the job in the book.
        job: String,
        /// Folder of the job book.
        #[arg(long, value_name = "FOLDER", default_value = crate::files::BOOK)]
        book: PathBuf,
    },
}

/// What can be done with a job book.
#[derive(Debug, Subcommand)]
pub enum BookVerb {
    /// Look the whole book through: the database, what refers to what, every file against its hash
    #[command(after_help = "Examples:\n  harlwright book check harlwright-book")]
    Check {
        /// Folder of the job book.
        book: PathBuf,
    },
}

/// What can be done with accounts.
#[cfg(feature = "web")]
#[derive(Debug, Subcommand)]
pub enum AccountVerb {
    /// Make an account; prints a password made for it, once
    #[command(
        after_help = "Examples:\n  harlwright account add ann --role owner\n  harlwright account add gang --role gang --password-stdin < password.txt"
    )]
    Add {
        /// Name to sign in with.
        name: String,
        /// What the account may see and do.
        #[arg(long, value_enum)]
        role: RoleWord,
        /// Read the password from standard input instead of making one.
        #[arg(long)]
        password_stdin: bool,
        /// Folder of the job book; begun there if it is not there yet.
        #[arg(long, value_name = "FOLDER", default_value = crate::files::BOOK)]
        book: PathBuf,
    },
    /// List accounts
    List {
        /// Folder of the job book.
        #[arg(long, value_name = "FOLDER", default_value = crate::files::BOOK)]
        book: PathBuf,
    },
    /// Close an account; it is signed out everywhere
    Remove {
        /// Its name.
        name: String,
        /// Folder of the job book.
        #[arg(long, value_name = "FOLDER", default_value = crate::files::BOOK)]
        book: PathBuf,
    },
    /// Give an account another role
    #[command(after_help = "Examples:\n  harlwright account role ann surveyor")]
    Role {
        /// Its name.
        name: String,
        /// The new role.
        #[arg(value_enum)]
        role: RoleWord,
        /// Folder of the job book.
        #[arg(long, value_name = "FOLDER", default_value = crate::files::BOOK)]
        book: PathBuf,
    },
    /// Give an account another password; it is signed out everywhere
    Password {
        /// Its name.
        name: String,
        /// Read the password from standard input instead of making one.
        #[arg(long)]
        password_stdin: bool,
        /// Folder of the job book.
        #[arg(long, value_name = "FOLDER", default_value = crate::files::BOOK)]
        book: PathBuf,
    },
}

/// Roles.
#[cfg(feature = "web")]
#[derive(Clone, Copy, Debug, clap::ValueEnum)]
pub enum RoleWord {
    /// Everything, accounts and backups too.
    Owner,
    /// Jobs, prices and documents.
    Surveyor,
    /// The site's pages, without prices.
    Gang,
}

#[cfg(feature = "web")]
impl From<RoleWord> for store::Role {
    fn from(role: RoleWord) -> Self {
        match role {
            RoleWord::Owner => Self::Owner,
            RoleWord::Surveyor => Self::Surveyor,
            RoleWord::Gang => Self::Gang,
        }
    }
}
