//! Work at the bench: whose minutes went into which step of which job, and who signed for it.

use crate::error::{Error, Result};
use crate::id::Id;
use crate::job::Job;
use crate::moment::Moment;
use crate::people::Person;
use crate::reach::{Reach, list};
use crate::record::{Record, Saved};
use crate::sql;
use crate::table::{Column, Kind, Table};
use crate::write::Write;
use serde::{Deserialize, Serialize};

/// Somebody's time on one step of one job.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Stint {
    /// Its id.
    pub id: Id<Stint>,
    /// Of which job.
    pub job: Id<Job>,
    /// The fault book's step.
    pub step: String,
    /// What the book plans for it.
    pub planned_minutes: i64,
    /// Whose time.
    pub who: Id<Person>,
    /// From when.
    pub began: Moment,
    /// Until when; none while the clock runs.
    pub ended: Option<Moment>,
    /// Counts the changes.
    pub version: i64,
    /// When it was last changed.
    pub changed: Moment,
}

impl Record for Stint {
    const TABLE: &'static Table = &STINT;
}

pub(crate) const STINT: Table = Table {
    name: "stint",
    one: "stint",
    columns: &[
        Column::new("id", Kind::Id),
        Column::new("job", Kind::Id),
        Column::text("step"),
        Column::new("planned_minutes", Kind::Integer),
        Column::new("who", Kind::Id),
        Column::new("began", Kind::Time),
        Column::new("ended", Kind::Time).optional(),
        Column::new("version", Kind::Integer),
        Column::new("changed", Kind::Time),
    ],
};

/// A signature under a step of the work.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct SignOff {
    /// Its id.
    pub id: Id<SignOff>,
    /// Of which job.
    pub job: Id<Job>,
    /// The fault book's step.
    pub step: String,
    /// The joint that was tightened; empty where the step tightens nothing.
    pub joint: String,
    /// How tight, with its unit ("3.4 N*m").
    pub tightened: String,
    /// What else there is to say.
    pub note: String,
    /// Who signs.
    pub who: Id<Person>,
    /// When.
    pub at: Moment,
}

impl Record for SignOff {
    const TABLE: &'static Table = &SIGN_OFF;
}

pub(crate) const SIGN_OFF: Table = Table {
    name: "sign_off",
    one: "signature",
    columns: &[
        Column::new("id", Kind::Id),
        Column::new("job", Kind::Id),
        Column::text("step"),
        Column::text("joint"),
        Column::text("tightened"),
        Column::text("note").personal(),
        Column::new("who", Kind::Id),
        Column::new("at", Kind::Time),
    ],
};

impl Write {
    /// Starts somebody's clock on a step. Their other clocks go on: they share the time.
    ///
    /// # Errors
    /// Nobody acts, or this very clock runs already.
    pub async fn start_clock(&self, job: Id<Job>, step: &str, planned_minutes: i64) -> Result<Stint> {
        let (who, now) = (self.somebody()?, self.now());
        let id = self.id();
        self.add(Stint {
            id,
            job,
            step: step.into(),
            planned_minutes,
            who,
            began: now,
            ended: None,
            version: 1,
            changed: now,
        })
        .await
    }

    /// Stops a clock.
    ///
    /// # Errors
    /// It is not there, or the machine's clock stands before its beginning.
    pub async fn stop_clock(&self, stint: &Stint) -> Result<Saved<Stint>> {
        self.save(Stint { ended: Some(self.now()), ..stint.clone() }).await
    }

    /// Signs for a step; `tightened` of the joint, or two empty texts where nothing is tightened.
    ///
    /// # Errors
    /// Nobody acts, or a joint is named without how tight it is.
    pub async fn sign(&self, signed: Signed<'_>) -> Result<SignOff> {
        let sign_off = SignOff {
            id: self.id(),
            job: signed.job,
            step: signed.step.into(),
            joint: signed.joint.into(),
            tightened: signed.tightened.into(),
            note: signed.note.into(),
            who: self.somebody()?,
            at: self.now(),
        };
        self.add(sign_off).await
    }

    fn somebody(&self) -> Result<Id<Person>> {
        let nobody = || Error::Value { of: "who acts".into(), value: "nobody".into(), allowed: "somebody of the shop" };
        self.acting().who.ok_or_else(nobody)
    }

    /// How many clocks run on a job.
    pub(crate) async fn clocks(&self, job: Id<Job>) -> Result<i64> {
        let sql = "SELECT COUNT(*) FROM stint WHERE job = $1 AND ended IS NULL";
        sql::ask_number(self.connection(), sql, vec![sql::text(job)]).await
    }
}

/// What is signed for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Signed<'a> {
    /// Of which job.
    pub job: Id<Job>,
    /// The fault book's step.
    pub step: &'a str,
    /// The joint that was tightened.
    pub joint: &'a str,
    /// How tight, with its unit.
    pub tightened: &'a str,
    /// What else there is to say.
    pub note: &'a str,
}

/// A job's signatures, the oldest first.
///
/// # Errors
/// The database does not answer.
pub async fn sign_offs_of(at: &impl Reach, job: Id<Job>) -> Result<Vec<SignOff>> {
    list(at, "WHERE job = $1 ORDER BY at, id", vec![sql::text(job)]).await
}

/// A job's stints, the oldest first.
///
/// # Errors
/// The database does not answer.
pub async fn stints_of(at: &impl Reach, job: Id<Job>) -> Result<Vec<Stint>> {
    list(at, STINTS, vec![sql::text(job)]).await
}

/// Somebody's clocks that run, on whatever job, the oldest first.
///
/// # Errors
/// The database does not answer.
pub async fn clocks_of(at: &impl Reach, who: Id<Person>) -> Result<Vec<Stint>> {
    list(at, "WHERE who = $1 AND ended IS NULL ORDER BY began, id", vec![sql::text(who)]).await
}

/// The end of the question for a job's stints.
pub(crate) const STINTS: &str = "WHERE job = $1 ORDER BY began, id";
