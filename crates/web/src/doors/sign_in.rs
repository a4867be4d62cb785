//! Signing in and out. The answer to a wrong name and to a wrong password is the same, and takes as long.

use std::net::{IpAddr, Ipv6Addr, SocketAddr};
use std::time::Instant;

use axum::Router;
use axum::extract::{ConnectInfo, FromRequestParts, Query, State};
use axum::http::header::SET_COOKIE;
use axum::http::request::Parts;
use axum::http::{HeaderMap, StatusCode};
use axum::response::{AppendHeaders, IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum_extra::extract::Form;
use maud::{Markup, html};
use serde::Deserialize;

use super::rate::{MOST_FROM_ADDRESS, MOST_OF_NAME};
use super::{Doors, Refusal, Visitor, session};

/// Longest name looked at.
const LONGEST_NAME: usize = 80;

/// The pages for signing in and out.
pub fn routes(doors: Doors) -> Router {
    Router::new().route("/sign-in", get(ask).post(take)).route("/sign-out", post(leave)).with_state(doors)
}

/// Where to go after signing in.
#[derive(Debug, Default, Deserialize)]
struct Whither {
    #[serde(default)]
    next: String,
}

/// What the form holds.
#[derive(Deserialize)]
struct Given {
    #[serde(default)]
    name: String,
    #[serde(default)]
    password: String,
    #[serde(default)]
    next: String,
}

async fn ask(State(doors): State<Doors>, Query(whither): Query<Whither>) -> Markup {
    form(&doors, "", &whither.next, None)
}

fn form(doors: &Doors, name: &str, next: &str, wrong: Option<&str>) -> Markup {
    let body = html! {
        h1.answer { "Sign in to the job book." }
        @if let Some(wrong) = wrong { div.stop role="alert" id="wrong" { h2 { "Not let in." } p { (wrong) } } }
        form method="post" action="/sign-in" class="sign-in form" {
            input type="hidden" name="next" value=(next);
            div.field {
                label for="name" { "Name" }
                div.in {
                    input.long id="name" name="name" type="text" value=(name) autocomplete="username" autocapitalize="none" required
                        maxlength=(LONGEST_NAME) aria-describedby=[wrong.map(|_| "wrong")];
                }
            }
            div.field {
                label for="password" { "Password" }
                div.in {
                    input.long id="password" name="password" type="password" autocomplete="current-password" required maxlength="512"
                        aria-describedby=[wrong.map(|_| "wrong")];
                }
            }
            div.does { button.btn.first type="submit" { "Sign in" } }
        }
        p.note { "Accounts are made at the machine that keeps the book, with " code { "harlwright account add" } "." }
    };
    doors.dress()("Sign in", body)
}

async fn take(State(doors): State<Doors>, Caller(caller): Caller, headers: HeaderMap, Form(given): Form<Given>) -> Response {
    let from = caller_named(&doors, &headers, caller);
    let name: String = given.name.trim().chars().take(LONGEST_NAME).collect();
    let by_name = format!("name {name} from {from}");
    // The address first: past its own limit it is turned away before another name is kept.
    let keys = [(format!("from {from}"), MOST_FROM_ADDRESS), (by_name.clone(), MOST_OF_NAME)];
    if let Err(wait) = doors.tries().count(&keys, Instant::now()) {
        return Refusal::TooOften { wait_s: wait.as_secs() }.answer("/sign-in", &headers, doors.dress());
    }
    match enter(&doors, &name, given.password).await {
        Ok(Some(cookie)) => {
            doors.tries().forget(&by_name);
            (AppendHeaders([(SET_COOKIE, cookie)]), Redirect::to(inside(&given.next))).into_response()
        }
        Ok(None) => {
            let wrong = "The name or the password is not right. Type both again.";
            (StatusCode::UNAUTHORIZED, form(&doors, &name, &given.next, Some(wrong))).into_response()
        }
        Err(refusal) => refusal.answer("/sign-in", &headers, doors.dress()),
    }
}

/// Begins a session; the cookie that carries it, or `None` for a wrong name or password.
async fn enter(doors: &Doors, name: &str, password: String) -> Result<Option<String>, Refusal> {
    if doors.role_of(name.to_owned(), password).await?.is_none() {
        return Ok(None);
    }
    let token = session::new_token().map_err(Refusal::Book)?;
    let (name, hash) = (name.to_owned(), session::hash_of(&token));
    doors.ask(move |book| book.begin_session(&name, &hash, jiff::Timestamp::now().as_second() + session::LASTS_S)).await?;
    Ok(Some(session::set_cookie(doors.manner().secure, &token)))
}

async fn leave(State(doors): State<Doors>, visitor: Visitor) -> Response {
    if let Some(hash) = visitor.session
        && let Err(refusal) = doors.ask(move |book| book.end_session(&hash)).await
    {
        return refusal.page(doors.dress());
    }
    let cookie = session::clear_cookie(doors.manner().secure);
    (AppendHeaders([(SET_COOKIE, cookie)]), Redirect::to("/sign-in")).into_response()
}

/// Who is signed in, with the way out; nothing where nobody signs in.
pub fn leaving(visitor: &Visitor) -> Markup {
    html! {
        @if let Some(name) = &visitor.name {
            form.does method="post" action="/sign-out" { p { "Signed in as " b { (name) } ", " (visitor.role.word()) "." } button type="submit" { "Sign out" } }
        }
    }
}

/// A page of ours to go to: never another site, whatever the address said.
fn inside(next: &str) -> &str {
    let plain = next.starts_with('/') && !next.starts_with("//") && next.bytes().all(|byte| byte.is_ascii_graphic() && byte != b'\\');
    if plain { next } else { "/" }
}

/// A path as a value of a query.
pub fn escaped(path: &str) -> String {
    let mut text = String::new();
    for byte in path.bytes() {
        if byte.is_ascii_alphanumeric() || b"/-._~".contains(&byte) {
            text.push(char::from(byte));
        } else {
            text += &format!("%{byte:02X}");
        }
    }
    text
}

/// The address that calls; `None` where a test calls without one.
struct Caller(Option<SocketAddr>);

impl<S: Sync> FromRequestParts<S> for Caller {
    type Rejection = std::convert::Infallible;

    async fn from_request_parts(parts: &mut Parts, _: &S) -> Result<Self, Self::Rejection> {
        Ok(Self(parts.extensions.get::<ConnectInfo<SocketAddr>>().map(|info| info.0)))
    }
}

/// The caller as the tries are counted: its address, or behind a proxy the last one the proxy wrote.
fn caller_named(doors: &Doors, headers: &HeaderMap, caller: Option<SocketAddr>) -> String {
    let told = headers.get_all("x-forwarded-for").iter().next_back().and_then(|value| value.to_str().ok());
    let last = told.and_then(|value| value.rsplit(',').next()).map(str::trim).and_then(|word| word.parse::<IpAddr>().ok());
    let address = if doors.manner().behind_proxy { last } else { None };
    address.or_else(|| caller.map(|caller| caller.ip())).map_or_else(|| "nowhere".to_owned(), counted_as)
}

/// An address as it is counted: of version 6 its first 64 bits, because one household is given all the addresses behind them.
fn counted_as(address: IpAddr) -> String {
    match address.to_canonical() {
        IpAddr::V4(address) => address.to_string(),
        IpAddr::V6(address) => format!("{}/64", Ipv6Addr::from(u128::from(address) & !u128::from(u64::MAX))),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn addresses_of_one_household_count_as_one() {
        let counted = |text: &str| text.parse::<IpAddr>().map(counted_as).unwrap_or_default();
        assert_eq!(counted("2001:db8:1:2:3:4:5:6"), "2001:db8:1:2::/64");
        assert_eq!(counted("2001:db8:1:2::9"), "2001:db8:1:2::/64");
        assert_ne!(counted("2001:db8:1:3::9"), "2001:db8:1:2::/64");
        assert_eq!(counted("::ffff:192.0.2.7"), counted("192.0.2.7"));
    }

    #[test]
    fn after_signing_in_one_stays_inside() {
        assert_eq!(inside("/jobs/mill"), "/jobs/mill");
        for bad in ["", "https://evil.example", "//evil.example", "/\\evil.example", "jobs", "/a\r\nSet-Cookie: x", "/a b"] {
            assert_eq!(inside(bad), "/", "{bad}");
        }
        assert_eq!(escaped("/jobs/a b&c"), "/jobs/a%20b%26c");
    }
}
