//! Drawn secrets: given out once, kept as a hash alone.

use crate::error::{Error, Result};
use crate::once::{hex, sha256};
use std::fmt;

/// Bytes of a secret: 256 bits cannot be guessed, so that a quick hash is enough.
const BYTES: usize = 32;

/// A secret that somebody comes in with. It is shown once, when it is given out.
#[derive(Clone, PartialEq, Eq)]
pub struct Secret(String);

impl Secret {
    /// A new one, of the machine's own source of chance.
    ///
    /// # Errors
    /// The machine gives none.
    pub fn drawn() -> Result<Self> {
        let mut bytes = [0; BYTES];
        getrandom::fill(&mut bytes).map_err(|error| Error::Content {
            what: "the machine's source of chance".into(),
            why: error.to_string(),
        })?;
        Ok(Self(hex(&bytes)))
    }

    /// What is given out.
    pub fn reveal(&self) -> &str {
        &self.0
    }

    /// Whether it is the one that somebody came with. Their hashes are compared: how long that takes tells nothing of it.
    pub fn is(&self, told: &str) -> bool {
        self.hash() == hash(told)
    }

    /// What is kept.
    pub(crate) fn hash(&self) -> String {
        hash(&self.0)
    }
}

/// What is kept of a secret that somebody came with.
pub(crate) fn hash(secret: &str) -> String {
    sha256(secret.as_bytes())
}

impl fmt::Debug for Secret {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Secret(…)")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_secret_is_long_never_the_same_and_not_told_by_accident() {
        let [one, other] = [Secret::drawn().unwrap(), Secret::drawn().unwrap()];
        assert_eq!(one.reveal().len(), 2 * BYTES);
        assert_ne!(one, other);
        assert_ne!(one.hash(), one.reveal());
        assert!(one.is(one.reveal()) && !one.is(other.reveal()) && !one.is(""));
        assert_eq!(format!("{one:?}"), "Secret(…)");
    }
}
