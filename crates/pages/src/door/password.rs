//! Passwords: kept as argon2id hashes alone (RFC 9106), computed outside the threads that serve pages.

use crate::page::html::Html;
use crate::page::shell::{field, input};
use crate::page::trouble::Trouble;
use argon2::Argon2;
use argon2::password_hash::phc::PasswordHash;
use argon2::password_hash::{PasswordHasher, PasswordVerifier};
use std::sync::LazyLock;

/// Letters of a password at least (NIST SP 800-63B, 3.1.1.2, from memory: 8 at the very least).
const SHORTEST: usize = 10;
/// Letters at most: more would only cost time.
const LONGEST: usize = 200;

/// What is compared where there is no such person, so that names cannot be told from how long the answer takes.
static NOBODY: LazyLock<Option<String>> = LazyLock::new(|| hash_now("nobody has this password"));

fn hash_now(password: &str) -> Option<String> {
    Argon2::default().hash_password(password.as_bytes()).ok().map(|hash| hash.to_string())
}

fn fits_now(password: &str, hash: &str) -> bool {
    PasswordHash::new(hash).is_ok_and(|hash| Argon2::default().verify_password(password.as_bytes(), &hash).is_ok())
}

/// What to say of a password that is not taken.
fn refusal(password: &str) -> Option<String> {
    let letters = password.chars().count();
    let fits = (SHORTEST..=LONGEST).contains(&letters);
    (!fits).then(|| format!("The password has {letters} letters; {SHORTEST} to {LONGEST} are allowed."))
}

/// What is wrong with a password that was typed twice.
pub(crate) fn refusals(password: &str, again: &str) -> Vec<String> {
    let differ = (password != again).then(|| "The two passwords differ.".to_owned());
    refusal(password).into_iter().chain(differ).collect()
}

/// The fields for a password that is given: typed twice, wherever that is.
pub(crate) fn fields(label: &str) -> Html {
    let new = |name: &str| input("password", name).with("autocomplete", "new-password").flag("required", true);
    let told = format!("At least {SHORTEST} letters. Several words are good.");
    Html::of([field(label, new("password"), &told), field("The same again", new("again"), "")])
}

/// The hash of a password.
pub(crate) async fn hash(password: String) -> Result<String, Trouble> {
    let hash = tokio::task::spawn_blocking(move || hash_now(&password)).await.ok().flatten();
    hash.ok_or(Trouble::Chance)
}

/// Whether a password fits a person's hash; none where there is no such person, which takes as long.
pub(crate) async fn fits(password: String, hash: Option<String>) -> bool {
    let compared = move || {
        let known = hash.as_deref().or(NOBODY.as_deref());
        known.is_some_and(|known| fits_now(&password, known)) && hash.is_some()
    };
    tokio::task::spawn_blocking(compared).await.unwrap_or(false)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_password_fits_its_own_hash_alone() {
        let hash = hash_now("two left spanners").unwrap();
        assert!(hash.starts_with("$argon2id$"), "{hash}");
        assert!(fits_now("two left spanners", &hash));
        assert!(!fits_now("two left spanner", &hash) && !fits_now("two left spanners", "no hash"));
        assert_ne!(hash, hash_now("two left spanners").unwrap(), "every hash has its own salt");
    }

    #[test]
    fn short_and_endless_passwords_are_refused() {
        assert!(refusal("short").is_some() && refusal(&"x".repeat(LONGEST + 1)).is_some());
        assert!(refusal("ten letters").is_none());
    }
}
