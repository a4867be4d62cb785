//! Passwords: hashed with Argon2id, a few at a time, and never kept. What a password may be is said here and nowhere else.

use argon2::Argon2;
use argon2::password_hash::phc::PasswordHash;
use argon2::password_hash::{PasswordHasher, PasswordVerifier};

/// Fewest characters of a password a person chooses (NIST SP 800-63B-4, §3.1.1.2: fifteen where it stands alone).
pub const LEAST_CHARACTERS: usize = 15;
/// Most bytes; more are refused before they are hashed.
pub const MOST_BYTES: usize = 512;
/// Letters of a made password: no two that look alike.
const LETTERS: &[u8; 32] = b"abcdefghijkmnpqrstuvwxyz23456789";
/// Letters of a made password in all: 5 bits each.
const MADE_LETTERS: usize = 20;

/// The hash of a password in PHC form (Argon2id, 19 MiB, two passes, one lane: the library's and OWASP's least).
///
/// # Errors
/// A sentence that says what is allowed, when the password is too short or too long, or the machine has no randomness.
pub fn hash(password: &str) -> Result<String, String> {
    if password.chars().count() < LEAST_CHARACTERS || password.len() > MOST_BYTES {
        return Err(format!(
            "A password has at least {LEAST_CHARACTERS} characters and at most {MOST_BYTES} bytes; this one has {} characters. Take a sentence you will remember.",
            password.chars().count()
        ));
    }
    match Argon2::default().hash_password(password.as_bytes()) {
        Ok(hash) => Ok(hash.to_string()),
        Err(error) => Err(format!("The password could not be hashed: {error}. Nothing was changed; try again.")),
    }
}

/// True if a password is that of a hash. A hash that cannot be read is nobody's.
pub fn matches(password: &str, hash: &str) -> bool {
    if password.len() > MOST_BYTES {
        return false;
    }
    PasswordHash::new(hash).is_ok_and(|hash| Argon2::default().verify_password(password.as_bytes(), &hash).is_ok())
}

/// A password of 100 random bits, in groups that can be read out over a telephone.
///
/// # Errors
/// When the machine has no randomness.
pub fn generated() -> Result<String, String> {
    let mut bytes = [0_u8; MADE_LETTERS];
    getrandom::fill(&mut bytes).map_err(|error| format!("This machine gave no random numbers: {error}. Nothing was changed."))?;
    let mut password = String::new();
    for (position, byte) in bytes.iter().enumerate() {
        if position > 0 && position % 5 == 0 {
            password.push('-');
        }
        password.push(char::from(LETTERS[usize::from(byte % 32)]));
    }
    Ok(password)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test without its hash must stop")]
    use super::*;

    #[test]
    fn a_password_matches_its_own_hash_alone() {
        let first = hash("lime putty in the tub").unwrap();
        assert!(first.starts_with("$argon2id$v=19$m=19456,t=2,p=1$"), "{first}");
        assert!(matches("lime putty in the tub", &first));
        assert!(!matches("lime putty in the tup", &first));
        assert_ne!(first, hash("lime putty in the tub").unwrap(), "the salt differs each time");
        assert!(!matches("anything", "no hash") && !matches("", ""));
    }

    /// Published: password, salt and hash for Argon2id, version 19, m = 2^16, t = 2, p = 1, as the reference program's own tests have them
    /// (phc-winner-argon2, src/test.c).
    #[test]
    fn a_hash_of_the_reference_program_is_understood() {
        let published = "$argon2id$v=19$m=65536,t=2,p=1$c29tZXNhbHQ$CTFhFdXPJO1aFaMaO6Mm5c8y7cJHAph8ArZWb2GRPPc";
        assert!(matches("password", published));
        assert!(!matches("differentpassword", published));
    }

    #[test]
    fn what_is_too_short_or_too_long_is_refused_before_it_is_hashed() {
        assert!(hash("short").unwrap_err().contains("at least 15"));
        assert!(hash(&"long ".repeat(200)).is_err());
        assert!(!matches(&"long ".repeat(200), &hash("lime putty in the tub").unwrap()));
    }

    #[test]
    fn made_passwords_are_long_enough_and_differ() {
        let (one, two) = (generated().unwrap(), generated().unwrap());
        assert_ne!(one, two);
        assert_eq!(one.split('-').map(str::len).collect::<Vec<_>>(), [5, 5, 5, 5]);
        assert!(hash(&one).is_ok());
    }
}
