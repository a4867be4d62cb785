//! Sessions: a random token in a cookie, and its hash in the book. Whoever reads the book cannot sign in with what it holds.

use axum::http::HeaderMap;
use axum_extra::extract::CookieJar;
use sha2::{Digest, Sha256};

/// How long a session lasts, seconds: four weeks, for the phone in the hut.
pub const LASTS_S: i64 = 28 * 24 * 60 * 60;

/// Name of the cookie. Over TLS the prefix makes the browser refuse one set by another host, for a path, or without TLS (RFC 6265bis, §4.1.3.2).
pub fn cookie_name(secure: bool) -> &'static str {
    if secure { "__Host-harlwright" } else { "harlwright" }
}

/// A new token: 32 random bytes in hexadecimal.
///
/// # Errors
/// When the machine has no randomness.
pub fn new_token() -> Result<String, String> {
    let mut bytes = [0_u8; 32];
    getrandom::fill(&mut bytes).map_err(|error| format!("This machine gave no random numbers: {error}. Nobody was signed in."))?;
    Ok(hexadecimal(&bytes))
}

/// What the book keeps of a token.
pub fn hash_of(token: &str) -> String {
    hexadecimal(&Sha256::digest(token.as_bytes()))
}

fn hexadecimal(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

/// The header that gives a token to the browser.
pub fn set_cookie(secure: bool, token: &str) -> String {
    format!("{}={token}; Path=/; HttpOnly; SameSite=Lax; Max-Age={LASTS_S}{}", cookie_name(secure), secure_word(secure))
}

/// The header that takes it away.
pub fn clear_cookie(secure: bool) -> String {
    format!("{}=; Path=/; HttpOnly; SameSite=Lax; Max-Age=0{}", cookie_name(secure), secure_word(secure))
}

fn secure_word(secure: bool) -> &'static str {
    if secure { "; Secure" } else { "" }
}

/// The token of a request; what has not the form of one is none.
pub fn token_in(headers: &HeaderMap, secure: bool) -> Option<String> {
    let jar = CookieJar::from_headers(headers);
    let token = jar.get(cookie_name(secure))?.value().to_owned();
    (token.len() == 64 && token.bytes().all(|byte| byte.is_ascii_hexdigit())).then_some(token)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test without its token must stop")]
    use super::*;

    #[test]
    fn a_token_goes_out_and_comes_back() {
        let token = new_token().unwrap();
        assert_ne!(token, new_token().unwrap());
        let given = set_cookie(true, &token);
        assert!(
            given.starts_with("__Host-harlwright=") && given.contains("; Path=/; HttpOnly; SameSite=Lax;") && given.ends_with("; Secure")
        );
        let mut headers = HeaderMap::new();
        headers.insert("cookie", format!("a=b; {}", given.split(';').next().unwrap()).parse().unwrap());
        assert_eq!(token_in(&headers, true), Some(token));
        assert_eq!(token_in(&headers, false), None, "without TLS another name is read");
    }

    #[test]
    fn what_is_no_token_is_none() {
        for bad in ["", "x", "../../etc/passwd", &"g".repeat(64), &"a".repeat(63)] {
            let mut headers = HeaderMap::new();
            headers.insert("cookie", format!("harlwright={bad}").parse().unwrap());
            assert_eq!(token_in(&headers, false), None, "{bad}");
        }
    }

    /// SHA-256 of "abc": the worked example of FIPS 180-4's companion (NIST, SHA256.pdf).
    #[test]
    fn the_hash_is_that_of_the_standard() {
        assert_eq!(hash_of("abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    }
}
