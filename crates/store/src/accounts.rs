//! Accounts and sessions. The book keeps a password's hash as the text it is given and a session's token as its hash; it makes neither.

use rusqlite::{OptionalExtension, params};

use crate::book::now;
use crate::{Book, StoreError};

/// What an account may do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    /// Everything, accounts too.
    Owner,
    /// Jobs, prices, documents.
    Surveyor,
    /// The site's pages, without prices.
    Gang,
}

impl Role {
    /// Its word.
    pub fn word(self) -> &'static str {
        match self {
            Self::Owner => "owner",
            Self::Surveyor => "surveyor",
            Self::Gang => "gang",
        }
    }

    /// The role of a word.
    pub fn from_word(word: &str) -> Option<Self> {
        [Self::Owner, Self::Surveyor, Self::Gang].into_iter().find(|role| role.word() == word)
    }
}

/// An account.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Account {
    /// Name signed in with.
    pub name: String,
    /// What it may do.
    pub role: Role,
    /// Hash of its password, as given.
    pub password: String,
}

/// Who is signed in, or could be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Session {
    /// Name of the account.
    pub name: String,
    /// Its role.
    pub role: Role,
}

impl Book {
    /// Makes an account; one that was closed under the name is opened again with the new role and password.
    ///
    /// # Errors
    /// When the name is taken.
    pub fn add_account(&self, name: &str, role: Role, password: &str) -> Result<(), StoreError> {
        self.write(|transaction| {
            let added = transaction.execute(
                "insert into account (name, role, password, at) values (?1, ?2, ?3, ?4)
                 on conflict (name) do update set role = excluded.role, password = excluded.password, at = excluded.at, closed = 0
                 where closed = 1",
                params![name, role.word(), password, now()],
            )?;
            if added == 0 {
                return Err(StoreError::Taken { what: "account", name: name.to_owned() });
            }
            Ok(())
        })
    }

    /// All open accounts, by name.
    ///
    /// # Errors
    /// When the book could not be read.
    pub fn accounts(&self) -> Result<Vec<Session>, StoreError> {
        self.read(|transaction| {
            let mut query = transaction.prepare_cached("select name, role from account where closed = 0 order by name")?;
            let rows: Vec<(String, String)> = query.query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?.collect::<Result<_, _>>()?;
            Ok(rows.into_iter().filter_map(|(name, role)| Some(Session { name, role: Role::from_word(&role)? })).collect())
        })
    }

    /// Gives an account another role; its sessions have it from the next request on.
    ///
    /// # Errors
    /// When there is none of that name.
    pub fn set_role(&self, name: &str, role: Role) -> Result<(), StoreError> {
        self.change_account(name, |transaction| {
            transaction.execute("update account set role = ?2 where name = ?1 and closed = 0", params![name, role.word()])
        })
    }

    /// Gives an account another password, by its hash; its sessions end.
    ///
    /// # Errors
    /// When there is none of that name.
    pub fn set_password(&self, name: &str, password: &str) -> Result<(), StoreError> {
        self.change_account(name, |transaction| {
            transaction.execute("delete from session where account in (select id from account where name = ?1)", [name])?;
            transaction.execute("update account set password = ?2 where name = ?1 and closed = 0", params![name, password])
        })
    }

    fn change_account(
        &self,
        name: &str,
        change: impl FnOnce(&rusqlite::Transaction<'_>) -> rusqlite::Result<usize>,
    ) -> Result<(), StoreError> {
        self.write(|transaction| match change(transaction)? {
            0 => Err(StoreError::NotFound { what: "account", name: name.to_owned() }),
            _ => Ok(()),
        })
    }

    /// An account that is open; `None` if there is none of that name.
    ///
    /// # Errors
    /// When the book could not be read.
    pub fn account(&self, name: &str) -> Result<Option<Account>, StoreError> {
        self.read(|transaction| {
            let found: Option<(String, String)> = transaction
                .query_row("select role, password from account where name = ?1 and closed = 0", [name], |row| {
                    Ok((row.get(0)?, row.get(1)?))
                })
                .optional()?;
            Ok(found.and_then(|(role, password)| Some(Account { name: name.to_owned(), role: Role::from_word(&role)?, password })))
        })
    }

    /// True if anybody could sign in.
    ///
    /// # Errors
    /// When the book could not be read.
    pub fn has_accounts(&self) -> Result<bool, StoreError> {
        self.read(|transaction| Ok(transaction.prepare_cached("select 1 from account where closed = 0")?.exists([])?))
    }

    /// Closes an account; its sessions end.
    ///
    /// # Errors
    /// When there is none of that name.
    pub fn close_account(&self, name: &str) -> Result<(), StoreError> {
        self.write(|transaction| {
            let changed = transaction.execute("update account set closed = 1 where name = ?1 and closed = 0", [name])?;
            if changed == 0 {
                return Err(StoreError::NotFound { what: "account", name: name.to_owned() });
            }
            transaction.execute("delete from session where account in (select id from account where name = ?1)", [name])?;
            Ok(())
        })
    }

    /// Begins a session of an account, by the hash of its token, until a second of the Unix clock.
    ///
    /// # Errors
    /// When there is no such open account.
    pub fn begin_session(&self, name: &str, token_sha256: &str, ends_at: i64) -> Result<(), StoreError> {
        self.write(|transaction| {
            let begun = transaction.execute(
                "insert into session (token_sha256, account, ends_at) select ?2, id, ?3 from account where name = ?1 and closed = 0",
                params![name, token_sha256, ends_at],
            )?;
            if begun == 0 {
                return Err(StoreError::NotFound { what: "account", name: name.to_owned() });
            }
            transaction.execute("delete from session where ends_at <= ?1", [jiff::Timestamp::now().as_second()])?;
            Ok(())
        })
    }

    /// The session of a token's hash, if it still runs.
    ///
    /// # Errors
    /// When the book could not be read.
    pub fn session(&self, token_sha256: &str) -> Result<Option<Session>, StoreError> {
        self.read(|transaction| {
            let found: Option<(String, String)> = transaction
                .query_row(
                    "select name, role from session join account on account = id where token_sha256 = ?1 and ends_at > ?2 and closed = 0",
                    params![token_sha256, jiff::Timestamp::now().as_second()],
                    |row| Ok((row.get(0)?, row.get(1)?)),
                )
                .optional()?;
            Ok(found.and_then(|(name, role)| Some(Session { name, role: Role::from_word(&role)? })))
        })
    }

    /// Ends a session.
    ///
    /// # Errors
    /// When the book could not be written.
    pub fn end_session(&self, token_sha256: &str) -> Result<(), StoreError> {
        self.write(|transaction| {
            transaction.execute("delete from session where token_sha256 = ?1", [token_sha256])?;
            Ok(())
        })
    }
}
