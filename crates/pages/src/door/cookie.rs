//! The one cookie: the session's secret, out of reach of scripts and of other sites.

use axum::http::HeaderMap;
use axum::http::header::COOKIE;

/// Its name.
const NAME: &str = "bench";

/// The secret that a request comes with.
pub(crate) fn secret(headers: &HeaderMap) -> Option<&str> {
    let all = headers.get_all(COOKIE).into_iter().filter_map(|value| value.to_str().ok());
    let pairs = all.flat_map(|text| text.split(';')).filter_map(|pair| pair.trim().split_once('='));
    pairs.into_iter().find_map(|(name, value)| (name == NAME).then_some(value))
}

/// The cookie that keeps a secret for so many minutes.
pub(crate) fn kept(secret: &str, minutes: i64, https: bool) -> String {
    let secure = if https { "; Secure" } else { "" };
    format!("{NAME}={secret}; Path=/; HttpOnly; SameSite=Lax; Max-Age={}{secure}", minutes * 60)
}

/// The cookie that forgets it.
pub(crate) fn forgotten() -> String {
    format!("{NAME}=; Path=/; HttpOnly; SameSite=Lax; Max-Age=0")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_secret_is_found_among_other_cookies() {
        let mut headers = HeaderMap::new();
        headers.insert(COOKIE, "a=b; bench=s3cret; benchmark=c".parse().unwrap());
        assert_eq!(secret(&headers), Some("s3cret"));
        assert_eq!(secret(&HeaderMap::new()), None);
    }

    #[test]
    fn the_cookie_is_kept_from_scripts_and_other_sites() {
        assert_eq!(kept("s", 2, true), "bench=s; Path=/; HttpOnly; SameSite=Lax; Max-Age=120; Secure");
    }
}
