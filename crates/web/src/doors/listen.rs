//! Where the server may listen, and how. Beyond this machine it needs an account and an encrypted line; it never listens on hope.

use std::net::{IpAddr, SocketAddr, TcpListener};
use std::path::PathBuf;
use std::time::Duration;

use axum::Router;
use axum_server::tls_rustls::RustlsConfig;

use super::Manner;
use super::origin::{Hosts, origin_of};

/// What was asked for.
#[derive(Clone, Debug, Default)]
pub struct Wish {
    /// Address to listen at; `None` for this machine alone.
    pub address: Option<IpAddr>,
    /// Port; nought for a free one.
    pub port: u16,
    /// Certificate and key of the server's own TLS, PEM.
    pub tls: Option<(PathBuf, PathBuf)>,
    /// Origin people type, where a proxy keeps the encrypted line.
    pub behind: Option<String>,
    /// Ask for a name and a password on this machine too.
    pub login: bool,
}

/// Where and how the server listens.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Listening {
    /// Address and port.
    pub at: SocketAddr,
    /// What the doors need to know of it.
    pub manner: Manner,
    /// Certificate and key.
    pub tls: Option<(PathBuf, PathBuf)>,
}

/// Why the server does not start.
#[derive(Debug, thiserror::Error)]
pub enum ListeningError {
    /// Others could reach it and nobody could be told apart, or anybody could listen in.
    #[error("{0}")]
    Refused(String),
    /// The machine would not.
    #[error("The job book could not be served at {at}: {error}. {remedy}")]
    Machine {
        /// Address.
        at: SocketAddr,
        /// What the machine said.
        error: std::io::Error,
        /// What to do.
        remedy: &'static str,
    },
    /// The certificate or key cannot be used.
    #[error("The certificate {} or the key {} could not be used: {error}. Both are PEM files; the certificate file holds the whole chain.", certificate.display(), key.display())]
    Certificate {
        /// Certificate.
        certificate: PathBuf,
        /// Key.
        key: PathBuf,
        /// What was said of them.
        error: std::io::Error,
    },
}

/// Decides whether and how to listen.
///
/// # Errors
/// [`ListeningError::Refused`], with everything that is missing and each remedy at once.
pub fn decide(wish: &Wish, has_accounts: bool) -> Result<Listening, ListeningError> {
    let address = wish.address.unwrap_or(IpAddr::from([127, 0, 0, 1]));
    let behind = wish.behind.as_deref().map(origin_of).transpose().map_err(ListeningError::Refused)?;
    let beyond = !address.is_loopback();
    let encrypted = wish.tls.is_some() || behind.is_some();
    let login = beyond || encrypted || wish.login;
    let mut missing = Vec::new();
    if beyond && !encrypted {
        missing.push(format!(
            "At {address} other machines can reach the job book, and passwords would travel in the clear. Either give a certificate and its key with `--tls-cert CERT.pem --tls-key KEY.pem`, or let a proxy keep the encrypted line and say so with `--behind-tls-proxy https://NAME`."
        ));
    }
    if login && !has_accounts {
        missing.push(
            "Nobody has an account in this book, so nobody could be let in. Make one first: `harlwright account add NAME --role owner --book BOOK`.".to_owned(),
        );
    }
    if !missing.is_empty() {
        return Err(ListeningError::Refused(missing.join("\n")));
    }
    let hosts = match (&behind, beyond || wish.tls.is_some()) {
        (Some(origin), _) => Hosts::Behind(origin.clone()),
        (None, true) => Hosts::Any,
        (None, false) => Hosts::Loopback,
    };
    let manner = Manner { hosts, secure: encrypted, login, behind_proxy: behind.is_some() };
    Ok(Listening { at: SocketAddr::new(address, wish.port), manner, tls: wish.tls.clone() })
}

impl Manner {
    /// The origin of our own pages, as a browser names it.
    pub(super) fn our_origin(&self, host: &str) -> String {
        match &self.hosts {
            Hosts::Behind(origin) => origin.clone(),
            _ if self.secure => format!("https://{host}"),
            _ => format!("http://{host}"),
        }
    }
}

/// Serves a guarded router until it is stopped; tells the address once it listens.
///
/// # Errors
/// When the address is taken or may not be used, or the certificate is no good.
pub async fn serve(listening: Listening, router: Router, tell: impl FnOnce(&str)) -> Result<(), ListeningError> {
    let at = listening.at;
    let machine = |error: std::io::Error| {
        let remedy = match error.kind() {
            std::io::ErrorKind::AddrInUse => "Another program listens there; stop it, or choose another with `--port`.",
            std::io::ErrorKind::PermissionDenied => "Choose a port above 1023 with `--port`.",
            _ => "Check the address.",
        };
        ListeningError::Machine { at, error, remedy }
    };
    let config = match &listening.tls {
        Some((certificate, key)) => {
            // A second call finds a provider installed already, which is as good.
            let _ = rustls::crypto::ring::default_provider().install_default();
            let read = RustlsConfig::from_pem_file(certificate, key).await;
            Some(read.map_err(|error| ListeningError::Certificate { certificate: certificate.clone(), key: key.clone(), error })?)
        }
        None => None,
    };
    let listener = TcpListener::bind(at).map_err(machine)?;
    listener.set_nonblocking(true).map_err(machine)?;
    let bound = listener.local_addr().map_err(machine)?;
    let handle = axum_server::Handle::new();
    tokio::spawn(stop_when_asked(handle.clone()));
    let service = router.into_make_service_with_connect_info::<SocketAddr>();
    let scheme = if config.is_some() { "https" } else { "http" };
    let address = format!("{scheme}://{bound}");
    let served = match config {
        Some(config) => {
            let mut server = axum_server::from_tcp_rustls(listener, config).map_err(machine)?.handle(handle);
            patience(server.http_builder());
            tell(&address);
            server.serve(service).await
        }
        None => {
            let mut server = axum_server::from_tcp(listener).map_err(machine)?.handle(handle);
            patience(server.http_builder());
            tell(&address);
            server.serve(service).await
        }
    };
    served.map_err(machine)
}

/// How long a slow caller may take over the head of a request.
const HEAD_TAKES: Duration = Duration::from_secs(20);

fn patience(builder: &mut hyper_util::server::conn::auto::Builder<hyper_util::rt::TokioExecutor>) {
    builder.http1().timer(hyper_util::rt::TokioTimer::new()).header_read_timeout(HEAD_TAKES);
    builder.http2().timer(hyper_util::rt::TokioTimer::new()).max_concurrent_streams(100);
}

async fn stop_when_asked(handle: axum_server::Handle<SocketAddr>) {
    #[cfg(unix)]
    {
        let mut terminate = match tokio::signal::unix::signal(tokio::signal::unix::SignalKind::terminate()) {
            Ok(signal) => signal,
            Err(_) => return,
        };
        tokio::select! { _ = tokio::signal::ctrl_c() => {}, _ = terminate.recv() => {} }
    }
    #[cfg(not(unix))]
    if tokio::signal::ctrl_c().await.is_err() {
        return;
    }
    handle.graceful_shutdown(Some(Duration::from_secs(3)));
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test without its listening must stop")]
    use super::*;

    fn everywhere() -> Wish {
        Wish { address: Some(IpAddr::from([0, 0, 0, 0])), port: 8420, ..Wish::default() }
    }

    #[test]
    fn on_this_machine_nobody_signs_in_unless_asked() {
        let listening = decide(&Wish::default(), false).unwrap();
        assert!(listening.at.ip().is_loopback() && listening.manner == Manner::loopback());
        assert!(decide(&Wish { login: true, ..Wish::default() }, true).unwrap().manner.login);
        assert!(decide(&Wish { login: true, ..Wish::default() }, false).is_err());
    }

    #[test]
    fn beyond_this_machine_everything_missing_is_named_at_once() {
        let words = decide(&everywhere(), false).unwrap_err().to_string();
        for remedy in ["--tls-cert", "--tls-key", "--behind-tls-proxy", "harlwright account add"] {
            assert!(words.contains(remedy), "{remedy} is not in: {words}");
        }
        assert!(decide(&everywhere(), true).is_err(), "an account alone is not enough");
        let tls = Some((PathBuf::from("c.pem"), PathBuf::from("k.pem")));
        assert!(decide(&Wish { tls: tls.clone(), ..everywhere() }, false).is_err(), "nor is a certificate alone");
        let listening = decide(&Wish { tls, ..everywhere() }, true).unwrap();
        assert!(listening.manner.secure && listening.manner.login);
        let behind = decide(&Wish { behind: Some("https://book.example.org".into()), ..everywhere() }, true).unwrap();
        assert_eq!(behind.manner.our_origin("10.0.0.1:8420"), "https://book.example.org");
        assert!(decide(&Wish { behind: Some("book.example.org".into()), ..everywhere() }, true).is_err());
    }
}
