//! Jobs: taken in, led through their life cycle, never taken away.

use crate::error::{Error, Result};
use crate::id::Id;
use crate::life_cycle::{Facts, JobState, step};
use crate::moment::Moment;
use crate::people::Person;
use crate::priced::{GoAhead, Offer, go_aheads_of, offers_of, price_of};
use crate::reach::{Reach, list};
use crate::record::{Record, Saved};
use crate::search::Subject;
use crate::shop::known_currency;
use crate::sql;
use crate::table::{Column, Kind, Table};
use crate::truck::{Build, Truck};
use crate::write::Write;
use serde::{Deserialize, Serialize};
use toothsayer_quantity::Currency;

/// Why the truck is here.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum JobKind {
    /// Something broke.
    Repair,
    /// Something broke, and the shop or the maker pays.
    Warranty,
    /// To be looked at only.
    Check,
    /// Other parts or settings are wanted.
    Change,
}

/// A job.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Job {
    /// Its id.
    pub id: Id<Job>,
    /// The number that people say: 1, 2, 3 …
    pub number: i64,
    /// Which truck.
    pub truck: Id<Truck>,
    /// As which build it came.
    pub build: Id<Build>,
    /// Why it is here.
    pub kind: JobKind,
    /// The fault book's word for what the customer came with.
    pub complaint: String,
    /// Where it stands.
    pub state: JobState,
    /// Whether the shop still has to do something.
    pub open: bool,
    /// The earlier job that it comes back from.
    pub comeback_of: Option<Id<Job>>,
    /// What the customer said, in their words.
    pub said: String,
    /// The job file's tables that tell of this visit.
    pub tables: String,
    /// The currency of every amount of the job, three letters of ISO 4217.
    pub currency: String,
    /// What looking costs where nothing is repaired, minor units.
    pub looking_fee: i64,
    /// Until when it is promised.
    pub due: Option<Moment>,
    /// When it was taken in.
    pub taken_in: Moment,
    /// Counts the changes.
    pub version: i64,
    /// When it was last changed.
    pub changed: Moment,
}

impl Record for Job {
    const TABLE: &'static Table = &JOB;

    fn found_as(&self) -> Option<Subject> {
        Some(Subject::Job(self.id))
    }
}

pub(crate) const JOB: Table = Table {
    name: "job",
    one: "job",
    columns: &[
        Column::new("id", Kind::Id),
        Column::new("number", Kind::Integer),
        Column::new("truck", Kind::Id),
        Column::new("build", Kind::Id),
        Column::new("kind", Kind::Word(&["repair", "warranty", "check", "change"])),
        Column::text("complaint"),
        Column::new("state", Kind::Word(&JobState::WORDS)),
        Column::new("open", Kind::Flag),
        Column::new("comeback_of", Kind::Id).optional(),
        Column::text("said").personal(),
        Column::text("tables").personal(),
        Column::text("currency"),
        Column::new("looking_fee", Kind::Minor),
        Column::new("due", Kind::Time).optional(),
        Column::new("taken_in", Kind::Time),
        Column::new("version", Kind::Integer),
        Column::new("changed", Kind::Time),
    ],
};

/// One step of a job's life.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Move {
    /// Its id.
    pub id: Id<Move>,
    /// Of which job.
    pub job: Id<Job>,
    /// 1, 2, 3 …
    pub step: i64,
    /// From which state; empty for the first.
    pub from_state: String,
    /// Into which.
    pub to_state: JobState,
    /// Why.
    pub reason: String,
    /// Who led it there.
    pub who: Option<Id<Person>>,
    /// When.
    pub at: Moment,
}

impl Record for Move {
    const TABLE: &'static Table = &MOVE;
}

pub(crate) const MOVE: Table = Table {
    name: "job_move",
    one: "step of a job",
    columns: &[
        Column::new("id", Kind::Id),
        Column::new("job", Kind::Id),
        Column::new("step", Kind::Integer),
        Column::text("from_state"),
        Column::new("to_state", Kind::Word(&JobState::WORDS)),
        Column::text("reason").personal(),
        Column::new("who", Kind::Id).optional(),
        Column::new("at", Kind::Time),
    ],
};

/// What is known when a truck is taken in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewJob {
    /// The build that stands on the bench; its truck is the job's.
    pub build: Id<Build>,
    /// Why it is here.
    pub kind: JobKind,
    /// The fault book's word for what the customer came with.
    pub complaint: String,
    /// The earlier job that it comes back from.
    pub comeback_of: Option<Id<Job>>,
    /// What the customer said.
    pub said: String,
    /// The job file's tables that tell of this visit.
    pub tables: String,
    /// The currency of every amount.
    pub currency: Currency,
    /// What looking costs where nothing is repaired, minor units.
    pub looking_fee: i64,
    /// Until when it is promised.
    pub due: Option<Moment>,
}

impl Write {
    /// Takes a truck in.
    ///
    /// # Errors
    /// The build is not there, or the earlier job is of another truck.
    pub async fn take_in(&self, new: NewJob) -> Result<Job> {
        let build: Build = self.get(new.build).await?;
        let number = sql::ask_number(self.connection(), "SELECT MAX(number) + 1 FROM job", vec![]).await?.max(1);
        let job = self.add(self.first_state(new, build.truck, number)).await?;
        self.moved(&job, "", "").await?;
        Ok(job)
    }

    fn first_state(&self, new: NewJob, truck: Id<Truck>, number: i64) -> Job {
        Job {
            id: self.id(),
            number,
            truck,
            build: new.build,
            kind: new.kind,
            complaint: new.complaint,
            state: JobState::TakenIn,
            open: true,
            comeback_of: new.comeback_of,
            said: new.said,
            tables: new.tables,
            currency: new.currency.to_string(),
            looking_fee: new.looking_fee,
            due: new.due,
            taken_in: self.now(),
            version: 1,
            changed: self.now(),
        }
    }

    /// Leads a job into another state, as it was last read.
    ///
    /// # Errors
    /// The life cycle does not allow it, or the customer's answer is missing.
    pub async fn lead(&self, job: &Job, to: JobState, reason: &str) -> Result<Saved<Job>> {
        let now: Job = self.get(job.id).await?;
        let changed = Job { state: to, open: to.is_open(), ..job.clone() };
        if now.version != job.version {
            return Ok(Saved::Clash { yours: changed, theirs: now });
        }
        let price = price_of(self, job).await?;
        let agreed_up_to = self.agreed_up_to(job).await?;
        let clocks = self.clocks(job.id).await?;
        let currency = known_currency(&now.currency)?;
        step(now.state, to, &Facts { price, agreed_up_to, currency, clocks, reason })?;
        let saved = self.save(changed).await?;
        if let Saved::Saved(kept) = &saved {
            self.moved(kept, now.state.word(), reason).await?;
        }
        Ok(saved)
    }

    /// Up to which price the customer said yes; what the shop or the maker pays needs no yes.
    async fn agreed_up_to(&self, job: &Job) -> Result<Option<i64>> {
        if job.kind == JobKind::Warranty {
            return Ok(Some(i64::MAX));
        }
        Ok(go_aheads_of(self, job.id).await?.last().and_then(GoAhead::limit))
    }

    async fn moved(&self, job: &Job, from: &str, reason: &str) -> Result<()> {
        let sql = "SELECT MAX(step) + 1 FROM job_move WHERE job = $1";
        let step = sql::ask_number(self.connection(), sql, vec![sql::text(job.id)]).await?.max(1);
        let moved = Move {
            id: self.id(),
            job: job.id,
            step,
            from_state: from.to_owned(),
            to_state: job.state,
            reason: reason.to_owned(),
            who: self.acting().who,
            at: self.now(),
        };
        self.add(moved).await.map(|_| ())
    }
}

/// The job with this number.
///
/// # Errors
/// There is none.
pub async fn job_by_number(at: &impl Reach, number: i64) -> Result<Job> {
    let found = list(at, BY_NUMBER, vec![sql::number(number)]).await?.pop();
    found.ok_or_else(|| Error::missing("job", number))
}

/// A truck's jobs, the newest first.
///
/// # Errors
/// The database does not answer.
pub async fn jobs_of(at: &impl Reach, truck: Id<Truck>) -> Result<Vec<Job>> {
    list(at, OF_TRUCK, vec![sql::text(truck)]).await
}

/// The jobs with the highest numbers below one, the newest first.
///
/// # Errors
/// The database does not answer.
pub async fn latest_jobs(at: &impl Reach, below: Option<i64>, most: u32) -> Result<Vec<Job>> {
    let values = vec![sql::number(below.unwrap_or(i64::MAX)), sql::number(i64::from(most))];
    list(at, LATEST_JOBS, values).await
}

/// What the shop has to do: open jobs, what is promised first at the top, then by number.
///
/// # Errors
/// The database does not answer.
pub async fn today(at: &impl Reach, most: u32) -> Result<Vec<Job>> {
    list(at, TODAY, vec![sql::number(i64::from(most))]).await
}

/// The end of the question for today's list. What is promised to nobody comes last: both databases are told so, as they
/// do not agree by themselves. Only the open jobs are looked at, by an index of their own.
pub(crate) const TODAY: &str = "WHERE open = 1 ORDER BY due NULLS LAST, number LIMIT $1";

/// The jobs whose work came to cost more than the customer's last yes goes up to, in today's order: nothing goes on there
/// before they are asked again.
///
/// # Errors
/// The database does not answer.
pub async fn risen(at: &impl Reach, most: u32) -> Result<Vec<Job>> {
    list(at, RISEN, vec![sql::number(i64::from(most))]).await
}

/// The end of the question for the jobs whose price rose: of those that wait for work or are worked on, what was taken
/// and the lines come to more than the last answer.
pub(crate) const RISEN: &str = "WHERE open = 1 AND kind <> 'warranty' \
    AND state IN ('agreed', 'waiting-for-parts', 'on-the-bench') \
    AND COALESCE((SELECT SUM(offer.price) FROM offer WHERE offer.job = job.id AND offer.answer = 'taken'), 0) \
    + COALESCE((SELECT SUM(line.price * line.quantity) FROM line WHERE line.job = job.id), 0) \
    > COALESCE((SELECT said.up_to FROM go_ahead said WHERE said.job = job.id AND NOT EXISTS (SELECT 1 FROM go_ahead later \
    WHERE later.job = said.job AND (later.at > said.at OR (later.at = said.at AND later.id > said.id)))), 0) \
    ORDER BY due NULLS LAST, number LIMIT $1";

/// A job's life so far.
///
/// # Errors
/// The database does not answer.
pub async fn moves_of(at: &impl Reach, job: Id<Job>) -> Result<Vec<Move>> {
    list(at, MOVES, vec![sql::text(job)]).await
}

/// What was said and declined the time before.
#[derive(Clone, Debug, PartialEq)]
pub struct Earlier {
    /// The earlier job.
    pub job: Job,
    /// What was offered then and not taken.
    pub declined: Vec<Offer>,
    /// Its life, with the reasons.
    pub moves: Vec<Move>,
}

/// The earlier job of a comeback, with what was said and declined then; none where it is no comeback.
///
/// # Errors
/// The database does not answer.
pub async fn comeback_of(at: &impl Reach, job: &Job) -> Result<Option<Earlier>> {
    let Some(earlier) = job.comeback_of else { return Ok(None) };
    let offers = offers_of(at, earlier).await?;
    Ok(Some(Earlier {
        job: at.get(earlier).await?,
        declined: offers.into_iter().filter(Offer::was_not_taken).collect(),
        moves: moves_of(at, earlier).await?,
    }))
}

/// The end of the question for the job with a number.
pub(crate) const BY_NUMBER: &str = "WHERE number = $1";

/// The end of the question for a truck's jobs.
pub(crate) const OF_TRUCK: &str = "WHERE truck = $1 ORDER BY number DESC";

/// The end of the question for the latest jobs.
pub(crate) const LATEST_JOBS: &str = "WHERE number < $1 ORDER BY number DESC LIMIT $2";

/// The end of the question for a job's life.
pub(crate) const MOVES: &str = "WHERE job = $1 ORDER BY step";
