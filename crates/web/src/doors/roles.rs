//! What each role may reach. The gang's list is short and complete: what is not on it is not theirs, so that a page made tomorrow shows them no
//! price by oversight.

use axum::http::Method;
use store::Role;

/// Pages of a job that hold no price and that the gang needs: below `/jobs/JOB/`.
const GANG_PAGES: [&str; 7] = ["site", "site.html", "site.pdf", "damping.pdf", "log", "today", "calendar"];
/// Those of them that also take entries in.
const GANG_TELLS: [&str; 2] = ["log", "today"];
/// The same below `/api/jobs/JOB/`.
const GANG_API: [&str; 2] = ["plan", "log"];

/// True if a role may ask for this.
pub fn may(role: Role, method: &Method, path: &str) -> bool {
    match role {
        Role::Owner => true,
        Role::Surveyor => !is_owners(path),
        Role::Gang => gang_may(method, path),
    }
}

/// Accounts and the whole book are the owner's.
fn is_owners(path: &str) -> bool {
    ["/accounts", "/backup", "/restore", "/api/accounts", "/api/backup"]
        .iter()
        .any(|head| path.strip_prefix(head).is_some_and(|rest| rest.is_empty() || rest.starts_with('/') || rest.starts_with('.')))
}

/// True if the gang may ask for this.
pub fn gang_may(method: &Method, path: &str) -> bool {
    let parts: Vec<&str> = path.trim_matches('/').split('/').collect();
    let reads = matches!(*method, Method::GET | Method::HEAD);
    match parts.as_slice() {
        ["site"] | ["api"] | ["api", "openapi.json"] | ["api", "jobs"] => reads,
        ["sign-in" | "sign-out"] => true,
        ["assets", ..] => reads,
        ["jobs", _, page] => GANG_PAGES.contains(page) && (reads || (GANG_TELLS.contains(page) && method == Method::POST)),
        ["jobs", _, "calendar", ..] => reads,
        ["jobs", _, "log", "hand-in"] => reads || method == Method::POST,
        ["api", "jobs", _, part] => GANG_API.contains(part) && (reads || (*part == "log" && method == Method::POST)),
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_gang_reaches_the_site_and_nothing_with_a_price() {
        for path in [
            "/site",
            "/jobs/mill/site",
            "/jobs/mill/site.html",
            "/jobs/mill/damping.pdf",
            "/jobs/mill/log",
            "/jobs/mill/today",
            "/jobs/mill/calendar/north",
            "/assets/style.css",
            "/api/jobs/mill/plan",
        ] {
            assert!(gang_may(&Method::GET, path), "{path}");
        }
        assert!(gang_may(&Method::POST, "/jobs/mill/log") && gang_may(&Method::POST, "/api/jobs/mill/log"));
        for path in [
            "/",
            "/jobs/mill/price",
            "/jobs/mill",
            "/jobs/mill/why/price.total",
            "/jobs/mill/order",
            "/jobs/mill/plans/1/proposal.pdf",
            "/jobs/mill/pack.zip",
            "/jobs/mill/job.toml",
            "/api/jobs/mill",
            "/api/jobs/mill/plans/1",
            "/api/jobs/mill/why",
            "/accounts",
            "/a/page/nobody/thought/of",
            "/jobs/mill/site/../price",
        ] {
            assert!(!gang_may(&Method::GET, path), "{path}");
        }
        assert!(!gang_may(&Method::POST, "/jobs/mill/site") && !gang_may(&Method::PUT, "/api/jobs/mill/plan"));
        assert!(!gang_may(&Method::POST, "/api/jobs"));
    }

    #[test]
    fn accounts_and_backups_are_the_owners() {
        assert!(may(Role::Owner, &Method::POST, "/accounts"));
        for path in ["/accounts", "/accounts/ann", "/backup", "/backup.book", "/restore", "/api/backup"] {
            assert!(!may(Role::Surveyor, &Method::GET, path), "{path}");
        }
        assert!(may(Role::Surveyor, &Method::GET, "/jobs/mill/price"));
        assert!(may(Role::Surveyor, &Method::GET, "/backups-explained"), "only whole words of a path count");
    }
}
