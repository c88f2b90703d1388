//! One line of an archive: a JSON object whose values hold nothing else, so that no line can unfold in memory.

use serde::de::{Error as _, MapAccess, Visitor};
use serde::{Deserialize, Deserializer};
use serde_json::{Map, Value};
use std::fmt;

/// Most keys of a line: more than any table has columns.
const MOST_KEYS: usize = 64;

/// An object of texts, numbers, flags and nulls.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Flat(pub(crate) Map<String, Value>);

impl<'de> Deserialize<'de> for Flat {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_map(Keys)
    }
}

struct Keys;

impl<'de> Visitor<'de> for Keys {
    type Value = Flat;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("an object")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut access: A) -> Result<Flat, A::Error> {
        let mut map = Map::new();
        while let Some((key, Scalar(value))) = access.next_entry::<String, Scalar>()? {
            if map.len() == MOST_KEYS {
                return Err(A::Error::custom(format!("a line has more than {MOST_KEYS} keys")));
            }
            if let Some(_twice) = map.insert(key.clone(), value) {
                return Err(A::Error::custom(format!("`{key}` stands twice in a line")));
            }
        }
        Ok(Flat(map))
    }
}

struct Scalar(Value);

impl<'de> Deserialize<'de> for Scalar {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(One).map(Scalar)
    }
}

struct One;

impl Visitor<'_> for One {
    type Value = Value;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a text, a whole number, true, false or null")
    }

    fn visit_str<E>(self, text: &str) -> Result<Value, E> {
        Ok(Value::from(text))
    }

    fn visit_string<E>(self, text: String) -> Result<Value, E> {
        Ok(Value::from(text))
    }

    fn visit_i64<E>(self, number: i64) -> Result<Value, E> {
        Ok(Value::from(number))
    }

    fn visit_u64<E>(self, number: u64) -> Result<Value, E> {
        Ok(Value::from(number))
    }

    fn visit_bool<E>(self, flag: bool) -> Result<Value, E> {
        Ok(Value::from(flag))
    }

    fn visit_unit<E>(self) -> Result<Value, E> {
        Ok(Value::Null)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(line: &str, wrong: Option<&str>) {
        let read = serde_json::from_str::<Flat>(line).map_err(|error| error.to_string());
        match (read, wrong) {
            (Ok(_), None) => {}
            (Err(error), Some(wrong)) => assert!(error.contains(wrong), "{line}: {error}"),
            (read, _) => panic!("{line}: {read:?}"),
        }
    }

    #[test]
    fn a_line_holds_plain_values_and_nothing_that_unfolds() {
        check(r#"{"id":"a","number":-3,"open":true,"due":null}"#, None);
        check(r#"{"id":[[[0,0]]]}"#, Some("a text, a whole number"));
        check(r#"{"id":{"id":1}}"#, Some("a text, a whole number"));
        check(r#"{"price":1.5}"#, Some("a text, a whole number"));
        check(r#"{"id":1,"id":2}"#, Some("twice"));
        check("[1]", Some("an object"));
        let keys: Vec<String> = (0..=MOST_KEYS).map(|key| format!("\"{key}\":0")).collect();
        check(&format!("{{{}}}", keys.join(",")), Some("more than 64 keys"));
    }
}
