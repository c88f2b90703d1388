//! The job file in and out: the truck's tables become a build, the visit's stay with the job, findings become rows.

use crate::error::{Error, Result};
use crate::id::Id;
use crate::job::{Job, JobKind, NewJob};
use crate::parts::{Part, every_part, shelves};
use crate::reach::Reach;
use crate::seen::{Answer, Finding, findings_of};
use crate::truck::{Build, Truck};
use crate::write::Write;
use toml_edit::{ArrayOfTables, DocumentMut, Item, Table, TomlError, value};
use toothsayer_fault_book::FaultBook;
use toothsayer_quantity::Money;

/// Tables that tell of the visit; all others tell of the truck.
const OF_THE_VISIT: [&str; 5] = ["job", "driver", "found", "after", "shop"];

/// A job file to be kept.
#[derive(Clone, Copy)]
pub struct Incoming<'a> {
    /// Whose visit it is.
    pub truck: Id<Truck>,
    /// The earlier job that it comes back from.
    pub comeback_of: Option<Id<Job>>,
    /// The file's text.
    pub text: &'a str,
    /// The fault book that its checks are named in.
    pub book: &'a FaultBook,
}

impl Write {
    /// Takes a job file in as a job: a new build where the truck's last one says something else.
    ///
    /// # Errors
    /// The file is no job by this book, or the truck is not there.
    pub async fn import(&self, incoming: Incoming<'_>) -> Result<Job> {
        let read = toothsayer_job::Job::parse(incoming.text, incoming.book).map_err(|error| content(&error))?;
        let Parts { truck, visit, findings } = parts(incoming.text)?;
        let build = self.build(incoming.truck, &truck, "as in the job file").await?;
        let job = self.take_in(NewJob {
            build: build.id,
            kind: if read.strip_happened() { JobKind::Repair } else { JobKind::Check },
            complaint: read.complaint,
            comeback_of: incoming.comeback_of,
            said: String::new(),
            tables: visit,
            currency: read.shop.currency,
            looking_fee: 0,
            due: None,
        });
        let job = job.await?;
        // Collected first: the file's own iterator could not wait on another thread.
        let tables = findings.iter().flat_map(ArrayOfTables::iter);
        let findings: Vec<Finding> = tables.map(|table| self.finding_of(job.id, table)).collect();
        for finding in findings {
            self.add(finding).await?;
        }
        Ok(job)
    }

    fn finding_of(&self, job: Id<Job>, table: &Table) -> Finding {
        let word = |key: &str| table.get(key).and_then(Item::as_str);
        let answer = if word("answer") == Some("yes") { Answer::Yes } else { Answer::No };
        let asked = word("check").unwrap_or("");
        Finding { value: word("value").map(str::to_owned), ..Finding::new(self, job, asked, answer) }
    }
}

/// What becomes of a table that both files have.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tables {
    /// The first file's stays.
    WhereMissing,
    /// The other's stands in its place.
    InPlace,
}

/// A job file with the tables of another.
///
/// # Errors
/// One of them is no TOML.
pub fn with_tables(file: &str, other: &str, tables: Tables) -> Result<String> {
    let mut file = document(file)?;
    for (key, item) in document(other)?.iter() {
        if tables == Tables::InPlace || !file.contains_key(key) {
            file.insert(key, item.clone());
        }
    }
    Ok(file.to_string())
}

/// A job as a job file, with the prices of the shop's list as they stand now: what the file prices itself stays.
///
/// # Errors
/// The job is not there.
pub async fn export(at: &impl Reach, job: &Job) -> Result<String> {
    let build: Build = at.get(job.build).await?;
    let mut file = document(&build.tables)?;
    for (key, item) in document(&job.tables)?.iter() {
        file.insert(key, item.clone());
    }
    let findings = findings_of(at, job.id).await?;
    if !findings.is_empty() {
        file.insert("findings", Item::ArrayOfTables(findings.iter().map(told).collect()));
    }
    lay_prices(at, job, &mut file).await?;
    Ok(file.to_string())
}

/// Puts the list's parts in the job's currency among the shop's, those that the file does not name.
async fn lay_prices(at: &impl Reach, job: &Job, file: &mut DocumentMut) -> Result<()> {
    let shelves = shelves(at).await?;
    let listed = every_part(at).await?.into_iter().filter(|part| part.active && part.currency == job.currency);
    let listed: Vec<Part> = listed.collect();
    if listed.is_empty() {
        return Ok(());
    }
    let shop = file.entry("shop").or_insert_with(toml_edit::table);
    let Some(shop) = shop.as_table_mut() else { return Ok(()) };
    shop.entry("currency").or_insert_with(|| value(job.currency.as_str()));
    let parts = shop.entry("parts").or_insert_with(|| Item::ArrayOfTables(ArrayOfTables::new()));
    let Some(parts) = parts.as_array_of_tables_mut() else { return Ok(()) };
    for part in &listed {
        let known = |table: &Table| table.get("part").and_then(Item::as_str) == Some(part.name.as_str());
        let told = parts.iter().any(known);
        if let Some(price) = part.price().filter(|_| !told) {
            parts.push(on_the_list(part, price, shelves.get(&part.id).copied().unwrap_or(0)));
        }
    }
    Ok(())
}

fn on_the_list(part: &Part, price: Money, there: i64) -> Table {
    let mut table = Table::new();
    table.insert("part", value(part.name.as_str()));
    table.insert("price", value(price.to_string()));
    table.insert("on_shelf", value(there));
    if let Some(days) = part.lead_days {
        table.insert("lead_days", value(days));
    }
    table
}

fn told(finding: &Finding) -> Table {
    let mut table = Table::new();
    table.insert("check", value(finding.asked.as_str()));
    table.insert("answer", value(if finding.answer == Answer::Yes { "yes" } else { "no" }));
    if let Some(measured) = &finding.value {
        table.insert("value", value(measured.as_str()));
    }
    table
}

/// What a file says of the truck, of the visit, and what was found.
struct Parts {
    truck: String,
    visit: String,
    findings: Option<ArrayOfTables>,
}

fn parts(text: &str) -> Result<Parts> {
    let mut truck = document(text)?;
    let mut visit = DocumentMut::new();
    for key in OF_THE_VISIT {
        if let Some(item) = truck.remove(key) {
            visit.insert(key, item);
        }
    }
    let findings = truck.remove("findings").and_then(|item| item.into_array_of_tables().ok());
    Ok(Parts { truck: truck.to_string(), visit: visit.to_string(), findings })
}

fn document(text: &str) -> Result<DocumentMut> {
    text.parse().map_err(|error: TomlError| content(&error.message()))
}

fn content(why: &impl ToString) -> Error {
    Error::Content { what: "the job file".into(), why: why.to_string() }
}
