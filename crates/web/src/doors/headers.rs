//! Headers of every answer: what a page may load and who may frame it. A handler that needs other rules sets its own, and they stand.

use axum::http::header::{HeaderName, HeaderValue};
use axum::http::{HeaderMap, header};

/// Pages load from here alone; no script or style in a page, no plug-in, no frame, no form to elsewhere.
pub const CONTENT_SECURITY: &str =
    "default-src 'self'; img-src 'self' data:; object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'";

const ALWAYS: [(HeaderName, &str); 7] = [
    (header::CONTENT_SECURITY_POLICY, CONTENT_SECURITY),
    (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
    (header::X_FRAME_OPTIONS, "DENY"),
    (header::REFERRER_POLICY, "same-origin"),
    (HeaderName::from_static("cross-origin-opener-policy"), "same-origin"),
    (HeaderName::from_static("cross-origin-resource-policy"), "same-origin"),
    (HeaderName::from_static("permissions-policy"), "camera=(), geolocation=(), microphone=(), payment=(), usb=()"),
];

/// Sets what is not set yet. What is told to somebody signed in is kept by nobody, neither on the way nor by the browser, so that it cannot be shown
/// after signing out. Drawings of the house (`/assets`) tell nothing and set a rule of their own.
pub fn harden(headers: &mut HeaderMap, secure: bool, signed_in: bool) {
    for (name, value) in ALWAYS {
        headers.entry(name).or_insert(HeaderValue::from_static(value));
    }
    if signed_in {
        headers.entry(header::CACHE_CONTROL).or_insert(HeaderValue::from_static("private, no-store"));
    }
    if secure {
        headers.entry(header::STRICT_TRANSPORT_SECURITY).or_insert(HeaderValue::from_static("max-age=31536000"));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_handlers_own_rules_stand() {
        let mut headers = HeaderMap::new();
        headers.insert(header::CONTENT_SECURITY_POLICY, HeaderValue::from_static("default-src 'none'"));
        harden(&mut headers, true, true);
        assert_eq!(headers[header::CONTENT_SECURITY_POLICY], "default-src 'none'");
        assert_eq!(headers[header::X_CONTENT_TYPE_OPTIONS], "nosniff");
        assert_eq!(headers[header::CACHE_CONTROL], "private, no-store");
        assert!(headers.contains_key(header::STRICT_TRANSPORT_SECURITY));
    }

    #[test]
    fn no_page_may_hold_a_script_of_its_own() {
        assert!(!CONTENT_SECURITY.contains("unsafe") && !CONTENT_SECURITY.contains('*'));
    }
}
