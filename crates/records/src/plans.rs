//! What is asked again and again, and how the database goes about it: for tests and whoever wonders why it is slow.

use crate::audit;
use crate::bench::{STINT, STINTS};
use crate::error::Result;
use crate::job::{BY_NUMBER, JOB, LATEST_JOBS, MOVE, MOVES, OF_TRUCK, RISEN, TODAY};
use crate::parts::{LEDGER, NEED, NEEDS, STOCK};
use crate::photos::{PHOTO, PHOTOS, UNFILED};
use crate::priced::{ANSWERS, GO_AHEAD, LINE, OF_JOB, OFFER};
use crate::reach::Reach;
use crate::row::Cell;
use crate::search::{BEGINNING, IN_POSTGRES, IN_SQLITE};
use crate::seen::{FINDING, FINDINGS};
use crate::sql;
use crate::table::{Kind, Table};
use crate::truck::{BY_TAG, OF_CUSTOMER, TRUCK};
use sea_orm::Value;

/// One question that pages ask again and again.
#[derive(Clone, Debug, PartialEq)]
pub struct HotPath {
    /// What it is about.
    pub name: &'static str,
    /// The statement.
    pub sql: String,
    values: Vec<Value>,
}

/// Whether a parameter is a key, or a number.
#[derive(Clone, Copy)]
enum Asked {
    Key,
    Number,
    Both,
}

/// Name, table, end of the question, what is asked with.
const PATHS: [(&str, &Table, &str, Asked); 18] = [
    ("job by id", &JOB, "WHERE id = $1", Asked::Key),
    ("job by number", &JOB, BY_NUMBER, Asked::Number),
    ("today's list", &JOB, TODAY, Asked::Number),
    ("jobs whose price rose", &JOB, RISEN, Asked::Number),
    ("latest jobs", &JOB, LATEST_JOBS, Asked::Both),
    ("a truck's jobs", &JOB, OF_TRUCK, Asked::Key),
    ("a customer's trucks", &TRUCK, OF_CUSTOMER, Asked::Key),
    ("truck by tag", &TRUCK, BY_TAG, Asked::Key),
    ("a job's life", &MOVE, MOVES, Asked::Key),
    ("a job's findings", &FINDING, FINDINGS, Asked::Key),
    ("a job's offers", &OFFER, OF_JOB, Asked::Key),
    ("a job's lines", &LINE, OF_JOB, Asked::Key),
    ("a job's answers", &GO_AHEAD, ANSWERS, Asked::Key),
    ("a job's stints", &STINT, STINTS, Asked::Key),
    ("a job's needs", &NEED, NEEDS, Asked::Key),
    ("a part's ledger", &STOCK, LEDGER, Asked::Key),
    ("a job's photos", &PHOTO, PHOTOS, Asked::Key),
    ("photos to be filed", &PHOTO, UNFILED, Asked::Number),
];

/// Every such question, as it is asked of this database.
pub fn hot_paths(at: &impl Reach) -> Vec<HotPath> {
    let texts = if sql::is_postgres(at.connection()) { IN_POSTGRES } else { IN_SQLITE };
    let own = PATHS.into_iter().map(|(name, table, tail, asked)| HotPath {
        name,
        sql: format!("SELECT {} FROM {} {tail}", table.names(), table.name),
        values: match asked {
            Asked::Key => vec![sql::text("a")],
            Asked::Number => vec![sql::number(9)],
            Asked::Both => vec![sql::number(9), sql::number(9)],
        },
    });
    let trail = HotPath {
        name: "what happened to a row",
        sql: format!("SELECT {} FROM {} {}", audit::TABLE.names(), audit::TABLE.name, audit::OF_ROW),
        values: vec![sql::text("a")],
    };
    let words = vec![sql::text("a"), sql::text("b"), sql::number(9)];
    let words = HotPath { name: "words that begin so", sql: BEGINNING.to_owned(), values: words };
    let of_kind = vec![sql::text("a"), sql::text("part"), sql::number(9)];
    let texts = HotPath { name: "texts with a word", sql: texts.to_owned(), values: of_kind };
    let newest = HotPath { name: "the newest change", sql: audit::NEWEST.to_owned(), values: vec![] };
    own.chain([trail, words, texts, newest]).collect()
}

/// The steps in which the database goes about a question, in its own words.
///
/// # Errors
/// The database does not answer.
pub async fn plan_of(at: &impl Reach, path: &HotPath) -> Result<Vec<String>> {
    let (how, place) = if sql::is_postgres(at.connection()) { ("EXPLAIN", 0) } else { ("EXPLAIN QUERY PLAN", 3) };
    let answers = sql::ask(at.connection(), &format!("{how} {}", path.sql), path.values.clone()).await?;
    let steps = answers.iter().map(|answer| match Cell::read(answer, place, Kind::Text)? {
        Cell::Text(step) => Ok(step),
        _ => Ok(String::new()),
    });
    steps.collect()
}
