//! Where a request comes from. A page of another site may not change anything here (cross-site request forgery), and a name of another site
//! may not be made to point here (rebinding). Both are read off headers that a page cannot set.

use axum::http::request::Parts;
use axum::http::{HeaderMap, Method};

/// Names under which this machine is itself.
const LOOPBACK_NAMES: [&str; 3] = ["localhost", "127.0.0.1", "[::1]"];

/// Which hosts a request may name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Hosts {
    /// This machine alone, whatever the port (a tunnel changes it).
    Loopback,
    /// Any: the server's own TLS speaks for its name.
    Any,
    /// Behind a proxy: the host of its origin, or this machine's own name where the proxy puts that.
    Behind(String),
}

/// The host a request names, with its port: the `Host` header, or the authority of HTTP/2.
pub fn host_of(parts: &Parts) -> Option<String> {
    let authority = parts.uri.authority().map(|authority| authority.as_str().to_owned());
    authority.or_else(|| parts.headers.get("host")?.to_str().ok().map(str::to_owned)).map(|host| host.to_ascii_lowercase())
}

/// True if a request may name this host.
pub fn host_is_ours(host: &str, hosts: &Hosts) -> bool {
    let loopback = || LOOPBACK_NAMES.contains(&without_port(host));
    match hosts {
        Hosts::Any => true,
        Hosts::Loopback => loopback(),
        Hosts::Behind(origin) => origin.split_once("://").is_some_and(|(_, named)| named == host) || loopback(),
    }
}

fn without_port(host: &str) -> &str {
    match host.rsplit_once(':') {
        Some((name, port)) if port.bytes().all(|byte| byte.is_ascii_digit()) && !port.is_empty() => name,
        _ => host,
    }
}

/// True if a request that changes something comes from one of our own pages, or does not change anything.
///
/// Every browser since 2023 sends `Sec-Fetch-Site`, older ones `Origin`; a program must send an `Origin` equal to the address it calls.
pub fn is_from_here(method: &Method, headers: &HeaderMap, our_origin: &str) -> bool {
    if method.is_safe() {
        return true;
    }
    let word = |name: &str| headers.get(name).map(|value| value.to_str().unwrap_or_default().to_ascii_lowercase());
    match (word("sec-fetch-site"), word("origin")) {
        (Some(site), _) => site == "same-origin",
        (None, Some(origin)) => origin == our_origin,
        (None, None) => false,
    }
}

/// An origin as a person gives it, such as `https://book.example.org`: scheme and host, nothing behind.
///
/// # Errors
/// A sentence that says what is allowed.
pub fn origin_of(text: &str) -> Result<String, String> {
    let lower = text.trim_end_matches('/').to_ascii_lowercase();
    let host = lower.strip_prefix("https://").unwrap_or_default();
    let plain = |c: char| c.is_ascii_alphanumeric() || ".-:[]".contains(c);
    if host.is_empty() || !host.chars().all(plain) {
        return Err(format!("“{text}” is not an origin. Give the address people type, such as https://book.example.org, without a path."));
    }
    Ok(lower)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test without its header must stop")]
    use super::*;

    fn headers(pairs: &[(&'static str, &'static str)]) -> HeaderMap {
        pairs.iter().map(|(name, value)| (name.parse().unwrap(), value.parse().unwrap())).collect()
    }

    #[test]
    fn a_name_of_another_site_is_not_ours() {
        for host in ["localhost", "localhost:8420", "127.0.0.1:9", "[::1]:8420", "[::1]"] {
            assert!(host_is_ours(host, &Hosts::Loopback), "{host}");
        }
        for host in ["evil.example", "localhost.evil.example", "127.0.0.1.evil.example:8420", "evil.example:127", "[::2]", "", "127.0.0.1:"]
        {
            assert!(!host_is_ours(host, &Hosts::Loopback), "{host}");
        }
        let behind = Hosts::Behind("https://book.example.org".to_owned());
        assert!(host_is_ours("book.example.org", &behind) && host_is_ours("127.0.0.1:8420", &behind));
        assert!(!host_is_ours("evil.example", &behind));
    }

    #[test]
    fn only_our_own_pages_change_anything() {
        let ours = "https://book.example.org";
        let from_here = |pairs: &[(&'static str, &'static str)]| is_from_here(&Method::POST, &headers(pairs), ours);
        assert!(from_here(&[("sec-fetch-site", "same-origin")]));
        assert!(from_here(&[("origin", "https://book.example.org")]));
        assert!(!from_here(&[("sec-fetch-site", "cross-site")]));
        assert!(!from_here(&[("sec-fetch-site", "same-site")]), "a neighbour on the same domain is another");
        assert!(!from_here(&[("sec-fetch-site", "none")]));
        assert!(!from_here(&[("sec-fetch-site", "cross-site"), ("origin", "https://book.example.org")]));
        assert!(!from_here(&[("origin", "null")]) && !from_here(&[("origin", "http://book.example.org")]));
        assert!(!from_here(&[]), "what says nothing is not let in");
        assert!(is_from_here(&Method::GET, &headers(&[("sec-fetch-site", "cross-site")]), ours));
        for method in [Method::PUT, Method::PATCH, Method::DELETE] {
            assert!(!is_from_here(&method, &headers(&[]), ours));
        }
    }

    #[test]
    fn an_origin_is_a_scheme_and_a_host() {
        assert_eq!(origin_of("https://Book.example.org/").unwrap(), "https://book.example.org");
        for bad in
            ["book.example.org", "http://book.example.org", "https://", "https://book.example.org/jobs", "https://a b", "https://a\"b"]
        {
            assert!(origin_of(bad).is_err(), "{bad}");
        }
    }
}
