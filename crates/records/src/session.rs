//! Who is signed in, on which device, until when. Sessions are no part of an archive: a restored backup lets nobody in.

use crate::error::Result;
use crate::id::Id;
use crate::moment::Moment;
use crate::people::Person;
use crate::reach::{Reach, list};
use crate::record::Record;
use crate::row::row_of;
use crate::secret::{Secret, hash};
use crate::sql;
use crate::table::{Column, Kind, Table};
use crate::write::Write;
use serde::{Deserialize, Serialize};

/// Somebody's session.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Session {
    /// The hash of its secret.
    id: String,
    /// Whose it is.
    pub person: Id<Person>,
    /// On which device, in words.
    pub device: String,
    /// When they signed in.
    pub made: Moment,
    /// When they were last seen.
    pub seen: Moment,
    /// Until when it goes.
    pub ends: Moment,
}

impl Record for Session {
    const TABLE: &'static Table = &SESSION;
}

pub(crate) const SESSION: Table = Table {
    name: "session",
    one: "session",
    columns: &[
        Column::text("id"),
        Column::new("person", Kind::Id),
        Column::text("device").personal(),
        Column::new("made", Kind::Time),
        Column::new("seen", Kind::Time),
        Column::new("ends", Kind::Time),
    ],
};

/// The session that a secret opens now, of somebody who still works here; none where there is none.
///
/// # Errors
/// The database does not answer.
pub async fn session_of(at: &impl Reach, secret: &str, now: Moment) -> Result<Option<(Session, Person)>> {
    let values = vec![sql::text(hash(secret)), sql::number(now.to_ms())];
    let Some(session) = list::<Session>(at, "WHERE id = $1 AND ends > $2", values).await?.pop() else {
        return Ok(None);
    };
    let person: Person = at.get(session.person).await?;
    Ok(person.active.then_some((session, person)))
}

/// Somebody's sessions, the newest first.
///
/// # Errors
/// The database does not answer.
pub async fn sessions_of(at: &impl Reach, person: Id<Person>) -> Result<Vec<Session>> {
    list(at, "WHERE person = $1 ORDER BY made DESC, id", vec![sql::text(person)]).await
}

impl Write {
    /// Signs somebody in for so many minutes; sessions that have ended are forgotten. The secret is given out here alone.
    ///
    /// # Errors
    /// The person is not there, or the time is none.
    pub async fn sign_in(&self, person: Id<Person>, device: &str, minutes: i64) -> Result<Secret> {
        let ended = vec![sql::number(self.now().to_ms())];
        sql::run(self.connection(), "DELETE FROM session WHERE ends <= $1", ended).await?;
        let (secret, now) = (Secret::drawn()?, self.now());
        let (id, ends, device) = (secret.hash(), now.after_minutes(minutes), device.to_owned());
        let session = Session { id, person, device, made: now, seen: now, ends };
        sql::insert(self.connection(), &SESSION, vec![row_of(&session)?]).await?;
        Ok(secret)
    }

    /// Notes that somebody was seen now, and lets the session go on for so many minutes from here.
    ///
    /// # Errors
    /// The database does not answer.
    pub async fn was_seen(&self, session: &Session, minutes: i64) -> Result<()> {
        let ends = self.now().after_minutes(minutes);
        let values = vec![sql::text(&session.id), sql::number(self.now().to_ms()), sql::number(ends.to_ms())];
        let sql = "UPDATE session SET seen = $2, ends = $3 WHERE id = $1";
        sql::run(self.connection(), sql, values).await.map(|_| ())
    }

    /// Ends a session.
    ///
    /// # Errors
    /// The database does not answer.
    pub async fn sign_out(&self, session: &Session) -> Result<()> {
        let values = vec![sql::text(&session.id)];
        sql::run(self.connection(), "DELETE FROM session WHERE id = $1", values).await.map(|_| ())
    }

    /// Ends all of somebody's sessions, as after a changed password; answers how many there were.
    ///
    /// # Errors
    /// The database does not answer.
    pub async fn sign_out_everywhere(&self, person: Id<Person>) -> Result<u64> {
        sql::run(self.connection(), "DELETE FROM session WHERE person = $1", vec![sql::text(person)]).await
    }
}
