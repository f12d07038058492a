//! Who may see the job: one-time addresses, the cookie that one of them is traded for, and
//! the names and origins under which this server answers.
//!
//! Another page in the same browser cannot read the cookie or have it sent (HttpOnly,
//! SameSite=Strict), and is refused by its `Origin`; a name that was made to point at this
//! computer (DNS rebinding) is refused by its `Host`.

use std::collections::BTreeSet;

/// The name of the cookie.
pub const COOKIE: &str = "fill";
/// The most browsers at once; the oldest is shown out.
const MOST: usize = 16;

/// The addresses that are open, and the browsers that are in.
#[derive(Debug, Default)]
pub struct Sessions {
    /// Tokens of one-time addresses that nobody has used.
    open: BTreeSet<String>,
    /// The cookies of the browsers that came by one, the oldest first.
    inside: Vec<String>,
}

impl Sessions {
    /// Opens a one-time address with this token.
    pub fn open(&mut self, token: String) {
        self.open.insert(token);
    }

    /// Trades a token for a cookie; a token serves once.
    pub fn enter(&mut self, token: &str, cookie: String) -> bool {
        if !self.open.remove(token) {
            return false;
        }
        if self.inside.len() >= MOST {
            self.inside.remove(0);
        }
        self.inside.push(cookie);
        true
    }

    /// Whether a browser with this `Cookie` header is in.
    pub fn knows(&self, header: &str) -> bool {
        header
            .split(';')
            .filter_map(|pair| pair.trim().split_once('='))
            .any(|(name, value)| name == COOKIE && self.inside.iter().any(|one| same(one, value)))
    }
}

/// Compares in a time that does not tell how much of it was right.
fn same(one: &str, other: &str) -> bool {
    let (one, other) = (one.as_bytes(), other.as_bytes());
    let differing = one.iter().zip(other).fold(0, |sum, (a, b)| sum | (a ^ b));
    one.len() == other.len() && differing == 0
}

/// What a request says of where it comes from.
#[derive(Debug, Clone, Copy)]
pub struct Said<'a> {
    /// Its `Host`.
    pub host: Option<&'a str>,
    /// Its `Origin`.
    pub origin: Option<&'a str>,
    /// Its `Sec-Fetch-Site`.
    pub site: Option<&'a str>,
    /// Its `Cookie`.
    pub cookie: Option<&'a str>,
}

/// Why a request is refused.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Refused {
    /// It names another host than this server.
    Host,
    /// It comes from another page.
    Origin,
    /// It has no cookie that is known here.
    Stranger,
}

/// Checks a request to a server that is known by `hosts`; `changes` is whether it would
/// change anything.
///
/// # Errors
/// [`Refused`].
pub fn check(
    said: Said<'_>,
    hosts: &[String],
    changes: bool,
    sessions: &Sessions,
) -> Result<(), Refused> {
    check_host(said, hosts)?;
    if !said.cookie.is_some_and(|header| sessions.knows(header)) {
        return Err(Refused::Stranger);
    }
    let host = said.host.unwrap_or_default();
    let is_own = match said.origin {
        Some(origin) => origin == format!("http://{host}"),
        // Browsers name the origin of whatever changes something.
        None => !changes,
    };
    let from_elsewhere = matches!(said.site, Some("cross-site" | "same-site"));
    if !is_own || (changes && from_elsewhere) {
        return Err(Refused::Origin);
    }
    Ok(())
}

/// Checks only under which name the server was asked.
///
/// # Errors
/// [`Refused::Host`].
pub fn check_host(said: Said<'_>, hosts: &[String]) -> Result<(), Refused> {
    let known = said
        .host
        .is_some_and(|host| hosts.iter().any(|one| one == host));
    if known { Ok(()) } else { Err(Refused::Host) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inside() -> Sessions {
        let mut sessions = Sessions::default();
        sessions.open("today".to_owned());
        assert!(sessions.enter("today", "c00k1e".to_owned()));
        sessions
    }

    const OWN: Said<'_> = Said {
        host: Some("127.0.0.1:4123"),
        origin: Some("http://127.0.0.1:4123"),
        site: Some("same-origin"),
        cookie: Some("other=1; fill=c00k1e"),
    };

    fn checked(said: Said<'_>, changes: bool) -> Result<(), Refused> {
        check(said, &["127.0.0.1:4123".to_owned()], changes, &inside())
    }

    #[test]
    fn a_token_serves_once() {
        let mut sessions = inside();
        assert!(!sessions.enter("today", "again".to_owned()));
        assert!(!sessions.enter("yesterday", "x".to_owned()));
        assert!(!sessions.enter("", "x".to_owned()));
        assert!(!sessions.knows("fill=again") && !sessions.knows("fill="));
        assert!(sessions.knows("fill=c00k1e") && !sessions.knows("fill=c00k1"));
    }

    #[test]
    fn the_oldest_browser_is_shown_out() {
        let mut sessions = inside();
        for number in 0..MOST {
            sessions.open(number.to_string());
            assert!(sessions.enter(&number.to_string(), format!("cookie {number}")));
        }
        assert!(!sessions.knows("fill=c00k1e"));
        assert!(sessions.knows("fill=cookie 0") && sessions.knows("fill=cookie 15"));
    }

    #[test]
    fn who_may_change_something() {
        assert_eq!(checked(OWN, true), Ok(()));
        let stranger = Said {
            cookie: None,
            ..OWN
        };
        assert_eq!(checked(stranger, false), Err(Refused::Stranger));
        let rebound = Said {
            host: Some("evil.example:4123"),
            origin: Some("http://evil.example:4123"),
            ..OWN
        };
        assert_eq!(checked(rebound, false), Err(Refused::Host));
        let nameless = Said { host: None, ..OWN };
        assert_eq!(checked(nameless, false), Err(Refused::Host));
        for origin in [
            Some("http://evil.example"),
            Some("null"),
            Some("https://127.0.0.1:4123"),
            None,
        ] {
            let other = Said { origin, ..OWN };
            assert_eq!(checked(other, true), Err(Refused::Origin), "{origin:?}");
        }
        for site in ["cross-site", "same-site"] {
            let other = Said {
                site: Some(site),
                ..OWN
            };
            assert_eq!(checked(other, true), Err(Refused::Origin), "{site}");
        }
        // A page may be opened from a bookmark: without an origin, and with nothing to change.
        let bookmark = Said {
            origin: None,
            site: Some("none"),
            ..OWN
        };
        assert_eq!(checked(bookmark, false), Ok(()));
    }
}
