//! What was seen at the bench, and what the program made of it.

use crate::audit::{self, Told};
use crate::error::Result;
use crate::id::Id;
use crate::job::Job;
use crate::moment::Moment;
use crate::people::Person;
use crate::photos::{Photo, photos_of};
use crate::reach::{Reach, list};
use crate::record::{Record, Saved};
use crate::search::{self, Subject};
use crate::sql;
use crate::table::{Column, Kind, Table};
use crate::write::Write;
use serde::{Deserialize, Serialize};

/// The answer to a check.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Answer {
    /// So it is.
    Yes,
    /// It is not so.
    No,
}

/// An answered check: who saw what, when, and what was measured.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Finding {
    /// Its id.
    pub id: Id<Finding>,
    /// In which job.
    pub job: Id<Job>,
    /// The check's id in the fault book.
    pub asked: String,
    /// Yes or no.
    pub answer: Answer,
    /// What was measured, with its unit ("0.45 mm").
    pub value: Option<String>,
    /// What else there is to say.
    pub note: String,
    /// Who saw it.
    pub seen_by: Option<Id<Person>>,
    /// When.
    pub seen_at: Moment,
    /// Counts the changes.
    pub version: i64,
    /// When it was last changed.
    pub changed: Moment,
}

impl Record for Finding {
    const TABLE: &'static Table = &FINDING;

    fn found_as(&self) -> Option<Subject> {
        Some(Subject::Job(self.job))
    }
}

pub(crate) const FINDING: Table = Table {
    name: "finding",
    one: "finding",
    columns: &[
        Column::new("id", Kind::Id),
        Column::new("job", Kind::Id),
        Column::text("asked"),
        Column::new("answer", Kind::Word(&["yes", "no"])),
        Column::text("value").optional(),
        Column::text("note").personal(),
        Column::new("seen_by", Kind::Id).optional(),
        Column::new("seen_at", Kind::Time),
        Column::new("version", Kind::Integer),
        Column::new("changed", Kind::Time),
    ],
};

impl Finding {
    /// What somebody just saw.
    pub fn new(write: &Write, job: Id<Job>, asked: &str, answer: Answer) -> Self {
        let now = write.now();
        Self {
            id: write.id(),
            job,
            asked: asked.to_owned(),
            answer,
            value: None,
            note: String::new(),
            seen_by: write.acting().who,
            seen_at: now,
            version: 1,
            changed: now,
        }
    }
}

/// A job's findings, as they were made.
///
/// # Errors
/// The database does not answer.
pub async fn findings_of(at: &impl Reach, job: Id<Job>) -> Result<Vec<Finding>> {
    list(at, FINDINGS, vec![sql::text(job)]).await
}

impl Write {
    /// Takes an answer back, if nobody else changed it since it was read: the check is open again. Photos that were filed
    /// under it stay with the job.
    ///
    /// # Errors
    /// It is not there.
    pub async fn take_back(&self, finding: &Finding) -> Result<Saved<Finding>> {
        let theirs: Finding = self.get(finding.id).await?;
        if theirs.version != finding.version {
            return Ok(Saved::Clash { yours: finding.clone(), theirs });
        }
        let photos = photos_of(self, finding.job).await?;
        for photo in photos.into_iter().filter(|photo| photo.finding == Some(finding.id)) {
            // Read in this write, so nobody can have changed it.
            self.save(Photo { finding: None, ..photo }).await?.saved();
        }
        let key = finding.id.to_string();
        let told = Told { subject: FINDING.name, key: &key, act: "taken back", what: serde_json::json!({}) };
        audit::say(self, told).await?;
        sql::run(self.connection(), "DELETE FROM finding WHERE id = $1", vec![sql::text(&key)]).await?;
        search::follow(self, &theirs).await?;
        Ok(Saved::Saved(theirs))
    }
}

/// What the program said of a job at some time: never changed, a later one stands beside it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Verdict {
    /// Its id.
    pub id: Id<Verdict>,
    /// Of which job.
    pub job: Id<Job>,
    /// The program's version.
    pub program: String,
    /// The fault book's version.
    pub book: String,
    /// What was said.
    pub body: serde_json::Value,
    /// When.
    pub made: Moment,
}

impl Record for Verdict {
    const TABLE: &'static Table = &VERDICT;
}

pub(crate) const VERDICT: Table = Table {
    name: "verdict",
    one: "verdict",
    columns: &[
        Column::new("id", Kind::Id),
        Column::new("job", Kind::Id),
        Column::text("program"),
        Column::text("book"),
        Column::new("body", Kind::Json).personal(),
        Column::new("made", Kind::Time),
    ],
};

/// A job's verdicts, the oldest first.
///
/// # Errors
/// The database does not answer.
pub async fn verdicts_of(at: &impl Reach, job: Id<Job>) -> Result<Vec<Verdict>> {
    list(at, "WHERE job = $1 ORDER BY made, id", vec![sql::text(job)]).await
}

/// The end of the question for a job's findings.
pub(crate) const FINDINGS: &str = "WHERE job = $1 ORDER BY id";
