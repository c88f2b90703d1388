//! Tokens: what lets a program in as somebody of the shop, or a customer to the page of one job.

use crate::error::Result;
use crate::id::Id;
use crate::job::Job;
use crate::moment::Moment;
use crate::people::Person;
use crate::reach::{Reach, list};
use crate::record::{Record, Saved};
use crate::secret::{Secret, hash};
use crate::sql;
use crate::table::{Column, Kind, Table};
use crate::write::Write;
use serde::{Deserialize, Serialize};

/// What a token opens.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum TokenKind {
    /// What its person may do, for a program.
    Program,
    /// One job's page, for its customer.
    Link,
}

/// A token.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Token {
    /// Its id.
    pub id: Id<Token>,
    /// The hash of its secret.
    secret: String,
    /// What it opens.
    pub kind: TokenKind,
    /// As whom a program comes in.
    pub person: Option<Id<Person>>,
    /// The job whose page a customer sees.
    pub job: Option<Id<Job>>,
    /// What it is for, in words.
    pub label: String,
    /// When it was given out.
    pub made: Moment,
    /// Until when it goes.
    pub ends: Moment,
    /// When it was revoked.
    pub revoked: Option<Moment>,
    /// Counts the changes.
    pub version: i64,
    /// When it was last changed.
    pub changed: Moment,
}

impl Record for Token {
    const TABLE: &'static Table = &TOKEN;
}

pub(crate) const TOKEN: Table = Table {
    name: "token",
    one: "token",
    columns: &[
        Column::new("id", Kind::Id),
        Column::text("secret").personal(),
        Column::new("kind", Kind::Word(&["program", "link"])),
        Column::new("person", Kind::Id).optional(),
        Column::new("job", Kind::Id).optional(),
        Column::text("label").personal(),
        Column::new("made", Kind::Time),
        Column::new("ends", Kind::Time),
        Column::new("revoked", Kind::Time).optional(),
        Column::new("version", Kind::Integer),
        Column::new("changed", Kind::Time),
    ],
};

/// The token that a secret is, if it goes now: not ended, not revoked, and its person still works here.
///
/// # Errors
/// The database does not answer.
pub async fn token_of(at: &impl Reach, secret: &str, now: Moment) -> Result<Option<Token>> {
    let values = vec![sql::text(hash(secret)), sql::number(now.to_ms())];
    let found = list::<Token>(at, "WHERE secret = $1 AND ends > $2 AND revoked IS NULL", values).await?.pop();
    let Some(token) = found else { return Ok(None) };
    let goes = match token.person {
        Some(person) => at.get(person).await?.active,
        None => true,
    };
    Ok(goes.then_some(token))
}

/// The tokens of programs, the newest first.
///
/// # Errors
/// The database does not answer.
pub async fn program_tokens(at: &impl Reach) -> Result<Vec<Token>> {
    list(at, "WHERE kind = 'program' ORDER BY id DESC", vec![]).await
}

/// A job's links, the newest first.
///
/// # Errors
/// The database does not answer.
pub async fn links_of(at: &impl Reach, job: Id<Job>) -> Result<Vec<Token>> {
    list(at, "WHERE job = $1 ORDER BY id DESC", vec![sql::text(job)]).await
}

impl Write {
    /// Gives out a token with which a program comes in as somebody. The secret is told here alone.
    ///
    /// # Errors
    /// The person is not there, or the time is none.
    pub async fn program_token(&self, person: Id<Person>, label: &str, minutes: i64) -> Result<(Token, Secret)> {
        self.token(TokenKind::Program, label, minutes, |token| Token { person: Some(person), ..token }).await
    }

    /// Gives out a link with which a customer sees one job's page. The secret is told here alone.
    ///
    /// # Errors
    /// The job is not there, or the time is none.
    pub async fn link(&self, job: Id<Job>, label: &str, minutes: i64) -> Result<(Token, Secret)> {
        self.token(TokenKind::Link, label, minutes, |token| Token { job: Some(job), ..token }).await
    }

    async fn token(
        &self,
        kind: TokenKind,
        label: &str,
        minutes: i64,
        of: impl FnOnce(Token) -> Token + Send,
    ) -> Result<(Token, Secret)> {
        let (secret, now) = (Secret::drawn()?, self.now());
        let token = Token {
            id: self.id(),
            secret: secret.hash(),
            kind,
            person: None,
            job: None,
            label: label.to_owned(),
            made: now,
            ends: now.after_minutes(minutes),
            revoked: None,
            version: 1,
            changed: now,
        };
        Ok((self.add(of(token)).await?, secret))
    }

    /// Revokes a token, for good.
    ///
    /// # Errors
    /// It is not there, or was revoked before.
    pub async fn revoke(&self, token: &Token) -> Result<Saved<Token>> {
        self.save(Token { revoked: Some(self.now()), ..token.clone() }).await
    }
}
