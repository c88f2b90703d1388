//! What to fetch from the shelf for a job, and what to order from whom.

use super::need::{Need, NeedState, needs_of};
use super::part::{PART, Part};
use super::stock::on_shelf;
use crate::error::Result;
use crate::id::Id;
use crate::job::Job;
use crate::reach::Reach;
use crate::record::Record;
use crate::row::{Cell, read_row, record_of};
use crate::sql;
use crate::table::Kind;
use sea_orm::QueryResult;
use std::collections::BTreeMap;
use toothsayer_quantity::{Currency, Money};

/// What to do about a needed part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Advice {
    /// Choose a part of the list.
    Choose,
    /// Take it from the shelf.
    Take,
    /// Order it.
    Order,
    /// Wait: it is on its way.
    Wait,
}

/// One line of a job's pick list.
#[derive(Clone, Debug, PartialEq)]
pub struct PickLine {
    /// What is needed.
    pub need: Need,
    /// The part of the list that was chosen.
    pub part: Option<Part>,
    /// How many lie on the shelf.
    pub on_shelf: i64,
    /// How many of them no other job's goods are.
    pub free: i64,
    /// What to do.
    pub advice: Advice,
}

/// What a job still needs, where it is, and what to do about it.
///
/// # Errors
/// The database does not answer.
pub async fn pick_list(at: &impl Reach, job: Id<Job>) -> Result<Vec<PickLine>> {
    let open = [NeedState::Wanted, NeedState::Ordered, NeedState::Arrived];
    let needs = needs_of(at, job).await?.into_iter().filter(|need| open.contains(&need.state));
    let mut lines = Vec::new();
    let mut taken: BTreeMap<Id<Part>, i64> = BTreeMap::new();
    for need in needs {
        let line = pick_line(at, need, &taken).await?;
        if let (Advice::Take, Some(part)) = (line.advice, line.need.part) {
            *taken.entry(part).or_default() += line.need.quantity;
        }
        lines.push(line);
    }
    Ok(lines)
}

async fn pick_line(at: &impl Reach, need: Need, taken: &BTreeMap<Id<Part>, i64>) -> Result<PickLine> {
    let Some(id) = need.part else {
        return Ok(PickLine { need, part: None, on_shelf: 0, free: 0, advice: Advice::Choose });
    };
    let there = on_shelf(at, id).await?;
    let free = there - held_for_others(at, id, need.job).await? - taken.get(&id).copied().unwrap_or(0);
    let advice = match need.state {
        NeedState::Ordered => Advice::Wait,
        _ if free >= need.quantity => Advice::Take,
        _ => Advice::Order,
    };
    Ok(PickLine { part: Some(at.get(id).await?), on_shelf: there, free: free.max(0), advice, need })
}

/// Pieces that lie there for other jobs.
async fn held_for_others(at: &impl Reach, part: Id<Part>, job: Option<Id<Job>>) -> Result<i64> {
    let sql = "SELECT CAST(SUM(quantity) AS BIGINT) FROM need WHERE part = $1 AND state = 'arrived' AND job <> $2";
    let own = job.map_or_else(String::new, |job| job.to_string());
    sql::ask_number(at.connection(), sql, vec![sql::text(part), sql::text(own)]).await
}

/// One line of the order list.
#[derive(Clone, Debug, PartialEq)]
pub struct OrderLine {
    /// Whom it is ordered from.
    pub supplier: String,
    /// What.
    pub part: Part,
    /// How many.
    pub quantity: i64,
    /// The numbers of the jobs that wait for it.
    pub jobs: Vec<i64>,
    /// Why so many.
    pub why: Short,
}

/// Why pieces are short: what is needed and should be kept, less what is free and what comes, is what is to be ordered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Short {
    /// Pieces that jobs need and do not have yet.
    pub needed: i64,
    /// Pieces that the shelf should keep.
    pub keep: i64,
    /// Pieces on the shelf that are no job's.
    pub free: i64,
    /// Pieces on their way.
    pub coming: i64,
}

impl Short {
    /// Pieces that are to be ordered; none or fewer where enough are there.
    pub fn pieces(&self) -> i64 {
        self.needed + self.keep - self.free - self.coming
    }
}

/// The names of [`OrderLine::cells`].
pub const ORDER_COLUMNS: [&str; 9] =
    ["supplier", "order number", "part", "quantity", "cost of one", "cost", "currency", "lead time (days)", "for jobs"];

impl OrderLine {
    /// The line as cells of a table that any program reads.
    pub fn cells(&self) -> [String; 9] {
        let amount = |minor: i64| {
            let currency = Currency::parse(&self.part.currency).unwrap_or(Currency::EUR);
            let told = Money { minor, currency }.to_string();
            told.rsplit_once(' ').map_or(told.clone(), |(number, _)| number.to_owned())
        };
        [
            self.supplier.clone(),
            self.part.order_number.clone(),
            self.part.name.clone(),
            self.quantity.to_string(),
            amount(self.part.cost),
            amount(self.part.cost.saturating_mul(self.quantity)),
            self.part.currency.clone(),
            self.part.lead_days.map_or_else(String::new, |days| days.to_string()),
            self.jobs.iter().map(i64::to_string).collect::<Vec<_>>().join(" "),
        ]
    }
}

/// What is to be ordered, by supplier, then by name: what jobs want and the shelf should keep, less what lies there and
/// what is on its way.
///
/// # Errors
/// The database does not answer.
pub async fn order_list(at: &impl Reach) -> Result<Vec<OrderLine>> {
    let mut lines = Vec::new();
    let mut waiting = waiting(at).await?;
    for answer in sql::ask(at.connection(), &shelves_sql(), vec![]).await? {
        let part: Part = record_of(&read_row(&PART, &answer)?)?;
        let [there, wanted, held, coming] = balance(&answer)?;
        // Pieces that are kept for jobs and do not lie there are needed as those that nobody fetched yet.
        let (needed, free) = (wanted + (held - there).max(0), (there - held).max(0));
        let why = Short { needed, keep: part.keep, free, coming };
        if why.pieces() > 0 {
            let jobs = waiting.remove(&part.id.to_string()).unwrap_or_default();
            lines.push(OrderLine { supplier: part.supplier.clone(), part, quantity: why.pieces(), jobs, why });
        }
    }
    Ok(lines)
}

/// Every part that is to be had, with its shelf's count and what jobs want, what lies there for them, what is ordered.
fn shelves_sql() -> String {
    let columns: Vec<String> = Part::TABLE.columns.iter().map(|column| format!("part.{}", column.name)).collect();
    let sum = |which: &str| {
        format!("(SELECT CAST(SUM(quantity) AS BIGINT) FROM need WHERE need.part = part.id AND need.state = {which})")
    };
    format!(
        "SELECT {}, (SELECT on_shelf FROM stock WHERE stock.part = part.id ORDER BY step DESC LIMIT 1), {}, {}, {} \
         FROM part WHERE active = 1 ORDER BY supplier, name, id",
        columns.join(", "),
        sum("'wanted'"),
        sum("'arrived' AND job IS NOT NULL"),
        sum("'ordered'"),
    )
}

fn balance(answer: &QueryResult) -> Result<[i64; 4]> {
    let mut found = [0; 4];
    for (place, number) in found.iter_mut().enumerate() {
        if let Cell::Integer(read) = Cell::read(answer, PART.columns.len() + place, Kind::Integer)? {
            *number = read;
        }
    }
    Ok(found)
}

/// The numbers of the jobs that want a part, by the part's id.
async fn waiting(at: &impl Reach) -> Result<BTreeMap<String, Vec<i64>>> {
    let sql = "SELECT need.part, job.number FROM need JOIN job ON job.id = need.job \
               WHERE need.state = 'wanted' AND need.part IS NOT NULL ORDER BY job.number";
    let mut found: BTreeMap<String, Vec<i64>> = BTreeMap::new();
    for answer in sql::ask(at.connection(), sql, vec![]).await? {
        if let (Cell::Text(part), Cell::Integer(job)) =
            (Cell::read(&answer, 0, Kind::Id)?, Cell::read(&answer, 1, Kind::Integer)?)
        {
            found.entry(part).or_default().push(job);
        }
    }
    Ok(found)
}
