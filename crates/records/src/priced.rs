//! What the work costs, what was offered, and what the customer said to it.

use crate::audit;
use crate::error::Result;
use crate::id::Id;
use crate::job::{Job, JobKind};
use crate::moment::Moment;
use crate::people::Person;
use crate::reach::{Reach, list};
use crate::record::Record;
use crate::row::row_of;
use crate::search::{self, Subject};
use crate::seen::Answer;
use crate::sql;
use crate::table::{Column, Kind, Table};
use crate::write::Write;
use serde::{Deserialize, Serialize};

/// What became of an offer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum OfferAnswer {
    /// Nobody decided yet.
    Open,
    /// The customer took it.
    Taken,
    /// The customer did not want it.
    Declined,
}

/// One of the repairs that were offered.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Offer {
    /// Its id.
    pub id: Id<Offer>,
    /// Of which job.
    pub job: Id<Job>,
    /// What it is called ("new gears only").
    pub name: String,
    /// Its price, minor units of the job's currency.
    pub price: i64,
    /// Planned minutes.
    pub minutes: i64,
    /// The computed chance of a comeback, millionths.
    pub comeback_ppm: Option<i64>,
    /// What became of it.
    pub answer: OfferAnswer,
    /// Counts the changes.
    pub version: i64,
    /// When it was last changed.
    pub changed: Moment,
}

impl Record for Offer {
    const TABLE: &'static Table = &OFFER;
}

pub(crate) const OFFER: Table = Table {
    name: "offer",
    one: "offer",
    columns: &[
        Column::new("id", Kind::Id),
        Column::new("job", Kind::Id),
        Column::text("name"),
        Column::new("price", Kind::Minor),
        Column::new("minutes", Kind::Integer),
        Column::new("comeback_ppm", Kind::Integer).optional(),
        Column::new("answer", Kind::Word(&["open", "taken", "declined"])),
        Column::new("version", Kind::Integer),
        Column::new("changed", Kind::Time),
    ],
};

impl Offer {
    /// A new offer that nobody decided on yet.
    pub fn new(write: &Write, job: Id<Job>, name: &str, price: i64) -> Self {
        Self {
            id: write.id(),
            job,
            name: name.to_owned(),
            price,
            minutes: 0,
            comeback_ppm: None,
            answer: OfferAnswer::Open,
            version: 1,
            changed: write.now(),
        }
    }

    /// Whether the customer left it.
    pub fn was_not_taken(&self) -> bool {
        self.answer != OfferAnswer::Taken
    }
}

/// Whether a line is work or a part.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum LineKind {
    /// Work.
    Work,
    /// A part.
    Part,
}

/// Whatever else the truck needs, in the shop's own words.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Line {
    /// Its id.
    pub id: Id<Line>,
    /// Of which job.
    pub job: Id<Job>,
    /// Work or a part.
    pub kind: LineKind,
    /// What it is.
    pub text: String,
    /// How many.
    pub quantity: i64,
    /// The price of one, minor units of the job's currency.
    pub price: i64,
    /// Planned minutes.
    pub minutes: i64,
    /// Counts the changes.
    pub version: i64,
    /// When it was last changed.
    pub changed: Moment,
}

impl Record for Line {
    const TABLE: &'static Table = &LINE;

    fn found_as(&self) -> Option<Subject> {
        Some(Subject::Job(self.job))
    }
}

pub(crate) const LINE: Table = Table {
    name: "line",
    one: "line of a job",
    columns: &[
        Column::new("id", Kind::Id),
        Column::new("job", Kind::Id),
        Column::new("kind", Kind::Word(&["work", "part"])),
        Column::text("text").personal(),
        Column::new("quantity", Kind::Integer),
        Column::new("price", Kind::Minor),
        Column::new("minutes", Kind::Integer),
        Column::new("version", Kind::Integer),
        Column::new("changed", Kind::Time),
    ],
};

impl Line {
    /// One piece of something.
    pub fn new(write: &Write, job: Id<Job>, kind: LineKind, text: &str) -> Self {
        let (id, changed) = (write.id(), write.now());
        Self { id, job, kind, text: text.to_owned(), quantity: 1, price: 0, minutes: 0, version: 1, changed }
    }
}

/// How a customer answered.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Channel {
    /// At the counter.
    Counter,
    /// On the telephone.
    Phone,
    /// By the link that was sent.
    Link,
}

/// A customer's answer: never changed, a later one stands beside it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct GoAhead {
    /// Its id.
    pub id: Id<GoAhead>,
    /// To which job.
    pub job: Id<Job>,
    /// How it was given.
    pub channel: Channel,
    /// Yes or no.
    pub answer: Answer,
    /// Up to which price, minor units of the job's currency.
    pub up_to: i64,
    /// Who said it.
    pub said_by: String,
    /// Who of the shop heard it.
    pub taken_by: Option<Id<Person>>,
    /// When.
    pub at: Moment,
}

impl Record for GoAhead {
    const TABLE: &'static Table = &GO_AHEAD;
}

pub(crate) const GO_AHEAD: Table = Table {
    name: "go_ahead",
    one: "go-ahead",
    columns: &[
        Column::new("id", Kind::Id),
        Column::new("job", Kind::Id),
        Column::new("channel", Kind::Word(&["counter", "phone", "link"])),
        Column::new("answer", Kind::Word(&["yes", "no"])),
        Column::new("up_to", Kind::Minor),
        Column::text("said_by").personal(),
        Column::new("taken_by", Kind::Id).optional(),
        Column::new("at", Kind::Time),
    ],
};

impl GoAhead {
    /// A yes up to a price, heard now.
    pub fn yes(write: &Write, job: Id<Job>, channel: Channel, up_to: i64) -> Self {
        let (id, taken_by, at) = (write.id(), write.acting().who, write.now());
        Self { id, job, channel, answer: Answer::Yes, up_to, said_by: String::new(), taken_by, at }
    }

    /// Up to which price it goes; none where it was a no.
    pub fn limit(&self) -> Option<i64> {
        (self.answer == Answer::Yes).then_some(self.up_to)
    }
}

impl Write {
    /// Takes a line away, as it was last read; whether it was.
    ///
    /// # Errors
    /// The database could not.
    pub async fn take_line_away(&self, line: &Line) -> Result<bool> {
        let sql = "DELETE FROM line WHERE id = $1 AND version = $2";
        let gone = sql::run(self.connection(), sql, vec![sql::text(line.id), sql::number(line.version)]).await? > 0;
        if gone {
            audit::note(self, &LINE, "taken away", None, &row_of(line)?).await?;
            search::follow(self, line).await?;
        }
        Ok(gone)
    }
}

/// A job's offers.
///
/// # Errors
/// The database does not answer.
pub async fn offers_of(at: &impl Reach, job: Id<Job>) -> Result<Vec<Offer>> {
    list(at, OF_JOB, vec![sql::text(job)]).await
}

/// A job's lines.
///
/// # Errors
/// The database does not answer.
pub async fn lines_of(at: &impl Reach, job: Id<Job>) -> Result<Vec<Line>> {
    list(at, OF_JOB, vec![sql::text(job)]).await
}

/// A customer's answers, the oldest first.
///
/// # Errors
/// The database does not answer.
pub async fn go_aheads_of(at: &impl Reach, job: Id<Job>) -> Result<Vec<GoAhead>> {
    list(at, ANSWERS, vec![sql::text(job)]).await
}

/// What the customer owes when the truck is collected: the work, no further than their yes goes, or the looking where
/// nothing was agreed on; nothing where the shop or the maker pays. Minor units of the job's currency.
///
/// # Errors
/// The database does not answer.
pub async fn owed(at: &impl Reach, job: &Job) -> Result<i64> {
    if job.kind == JobKind::Warranty {
        return Ok(0);
    }
    match go_aheads_of(at, job.id).await?.last().and_then(GoAhead::limit) {
        Some(up_to) => Ok(price_of(at, job).await?.min(up_to)),
        None => Ok(job.looking_fee),
    }
}

/// What the customer pays for the work: the offer that was taken and the lines, minor units of the job's currency.
///
/// # Errors
/// The database does not answer.
pub async fn price_of(at: &impl Reach, job: &Job) -> Result<i64> {
    let offers = offers_of(at, job.id).await?;
    let taken = offers.iter().filter(|offer| !offer.was_not_taken()).map(|offer| offer.price);
    let lines = lines_of(at, job.id).await?;
    let lines = lines.iter().map(|line| line.price.saturating_mul(line.quantity));
    Ok(taken.chain(lines).fold(0, i64::saturating_add))
}

/// The end of the question for a customer's answers.
pub(crate) const ANSWERS: &str = "WHERE job = $1 ORDER BY at, id";

/// The end of the question for a job's offers, and for its lines.
pub(crate) const OF_JOB: &str = "WHERE job = $1 ORDER BY id";
