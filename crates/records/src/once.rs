//! A form that is sent twice counts once: its key, kept in the same write as what it did.

use crate::error::{Error, Result};
use crate::id::Id;
use crate::moment::Moment;
use crate::reach::Reach;
use crate::record::Record;
use crate::row::record_of;
use crate::sql;
use crate::table::{Column, Kind, Table};
use crate::write::Write;
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};
use std::fmt::Write as _;

/// A form that was sent.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(crate) struct Form {
    id: String,
    content: String,
    answer: serde_json::Value,
    at: Moment,
}

impl Record for Form {
    const TABLE: &'static Table = &FORM;
}

pub(crate) const FORM: Table = Table {
    name: "form",
    one: "form",
    columns: &[
        Column::text("id"),
        Column::text("content"),
        Column::new("answer", Kind::Json),
        Column::new("at", Kind::Time),
    ],
};

/// Days for which a form's key is kept: longer than any browser holds a form.
const KEPT_DAYS: i64 = 30;

impl Write {
    /// What the form with this key did before; none where it is the first time. The content is what was sent.
    ///
    /// # Errors
    /// The key was used before with other content.
    pub async fn first_time(&self, key: &str, content: &[u8]) -> Result<Option<serde_json::Value>> {
        let Some(row) = sql::by_key(self.connection(), &FORM, key).await? else { return Ok(None) };
        let form: Form = record_of(&row)?;
        if form.content == sha256(content) { Ok(Some(form.answer)) } else { Err(Error::OtherForm { key: key.into() }) }
    }

    /// Remembers what the form with this key did, and forgets old ones. The answer holds numbers and ids alone: it
    /// outlives an erasure.
    ///
    /// # Errors
    /// The key has less than 8 or more than 100 letters.
    pub async fn was_done(&self, key: &str, content: &[u8], answer: serde_json::Value) -> Result<()> {
        let old = self.now().after_minutes(-KEPT_DAYS * 24 * 60);
        sql::run(self.connection(), "DELETE FROM form WHERE at < $1", vec![sql::number(old.to_ms())]).await?;
        let form = Form { id: key.to_owned(), content: sha256(content), answer, at: self.now() };
        sql::insert(self.connection(), &FORM, vec![crate::row::row_of(&form)?]).await
    }
}

/// SHA-256 (FIPS 180-4) in hexadecimal digits.
pub(crate) fn sha256(content: &[u8]) -> String {
    hex(&Sha256::digest(content))
}

/// Bytes in hexadecimal digits.
pub(crate) fn hex(bytes: &[u8]) -> String {
    bytes.iter().fold(String::new(), |mut text, byte| {
        let _ = write!(text, "{byte:02x}");
        text
    })
}

/// A key for a form, unlike every other: of the time, a count and drawn bits. It is no secret.
pub fn form_key(now: Moment) -> String {
    Id::<Form>::new(now).to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_hash_is_the_standards() {
        // FIPS 180-4, example "abc" of its published test values.
        assert_eq!(sha256(b"abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    }
}
