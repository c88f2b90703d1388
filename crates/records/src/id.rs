//! Names of kept things: unique anywhere without asking anybody, sorted by the time they were given.

use crate::error::{Error, Result};
use crate::moment::Moment;
use serde::{Deserialize, Deserializer, Serialize, Serializer, de};
use std::fmt;
use std::hash::{Hash, Hasher};
use std::marker::PhantomData;
use std::sync::atomic::{AtomicU32, Ordering};
use uuid::{Builder, Uuid};

/// How many ids this program gave: 26 of the bits of the next one, so that they sort as they were given.
static GIVEN: AtomicU32 = AtomicU32::new(0);

/// The id of a `T`: a UUID of version 7 (RFC 9562, 5.7).
///
/// An id of a truck cannot be given where one of a customer is asked for. Ids move from one database to another
/// unchanged, which counted numbers could not.
pub struct Id<T> {
    uuid: Uuid,
    of: PhantomData<fn() -> T>,
}

impl<T> Id<T> {
    /// A new id, given at `moment`: after every one that this program gave before in the same millisecond.
    pub fn new(moment: Moment) -> Self {
        let mut bytes = [0; 10];
        bytes.copy_from_slice(&Uuid::now_v7().as_bytes()[6..]);
        bytes[..4].copy_from_slice(&GIVEN.fetch_add(1, Ordering::Relaxed).to_be_bytes());
        Self::drawn(moment, bytes)
    }

    /// The id that `moment` and these drawn bytes make: the same again for the same bytes.
    pub fn drawn(moment: Moment, bytes: [u8; 10]) -> Self {
        let ms = u64::try_from(moment.to_ms()).unwrap_or(0);
        Self { uuid: Builder::from_unix_timestamp_millis(ms, &bytes).into_uuid(), of: PhantomData }
    }

    /// Reads an id as it is shown.
    ///
    /// # Errors
    /// The text is no UUID.
    pub fn parse(text: &str) -> Result<Self> {
        let uuid = Uuid::try_parse(text).map_err(|_| Error::Value {
            of: "id".into(),
            value: text.into(),
            allowed: "36 hexadecimal digits and hyphens",
        })?;
        Ok(Self { uuid, of: PhantomData })
    }
}

impl<T> fmt::Display for Id<T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.uuid.as_hyphenated())
    }
}

impl<T> fmt::Debug for Id<T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Id({self})")
    }
}

impl<T> Clone for Id<T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T> Copy for Id<T> {}

impl<T> PartialEq for Id<T> {
    fn eq(&self, other: &Self) -> bool {
        self.uuid == other.uuid
    }
}

impl<T> Eq for Id<T> {}

impl<T> PartialOrd for Id<T> {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}

impl<T> Ord for Id<T> {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.uuid.cmp(&other.uuid)
    }
}

impl<T> Hash for Id<T> {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.uuid.hash(state);
    }
}

impl<T> Serialize for Id<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de, T> Deserialize<'de> for Id<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> std::result::Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        Self::parse(&text).map_err(de::Error::custom)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ids_sort_by_the_time_they_were_given() {
        let [early, late] = [1_000, 2_000].map(|ms| Id::<()>::new(Moment::from_ms(ms).unwrap()));
        assert!(early < late && early.to_string() < late.to_string());
        assert_eq!(Id::parse(&early.to_string()).unwrap(), early);
        assert!(Id::<()>::parse("42").is_err());
    }

    #[test]
    fn an_id_is_a_uuid_of_version_7() {
        // RFC 9562, appendix A.6: 0x017F22E279B0, the time of 2022-02-22 19:22:22 UTC.
        let id = Id::<()>::drawn(Moment::from_ms(0x017F_22E2_79B0).unwrap(), [0; 10]);
        assert!(id.to_string().starts_with("017f22e2-79b0-7"), "{id}");
    }
}
