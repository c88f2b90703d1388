//! The job file in and out: the truck's tables become a build, the visit's stay with the job, findings become rows.

use crate::error::{Error, Result};
use crate::id::Id;
use crate::job::{Job, JobKind, NewJob};
use crate::parts::{Part, every_part, shelves};
use crate::reach::Reach;
use crate::record::Saved;
use crate::seen::{Answer, Finding, findings_of};
use crate::truck::{Build, Truck};
use crate::write::Write;
use toml_edit::{ArrayOfTables, DocumentMut, Item, Table, TomlError, value};
use toothsayer_fault_book::FaultBook;
use toothsayer_quantity::Money;

/// Tables that tell of the visit; all others tell of the truck.
const OF_THE_VISIT: [&str; 5] = ["job", "driver", "found", "after", "shop"];

/// What is wrong with a file whose parts are none.
const NO_LIST: &str = "`shop.parts` is no list of parts: write [[shop.parts]]";

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

    /// Keeps a job with what its file now says of the truck and of the visit: a new build where the truck's tables
    /// differ, with the reason; the findings stay as they are.
    ///
    /// # Errors
    /// With the job's findings the file is no job by this book.
    pub async fn correct(&self, job: Job, text: &str, book: &FaultBook, reason: &str) -> Result<Saved<Job>> {
        let Parts { truck, visit, .. } = parts(text)?;
        let mut file = document(text)?;
        lay_findings(self, job.id, &mut file).await?;
        let read = toothsayer_job::Job::parse(&file.to_string(), book).map_err(|error| content(&error))?;
        let before: Build = self.get(job.build).await?;
        let build = match before.tables == truck {
            true => before,
            false => self.build(job.truck, &truck, reason).await?,
        };
        self.save(Job { build: build.id, complaint: read.complaint, tables: visit, ..job }).await
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
    let mut file = told_of(at, job).await?;
    lay_findings(at, job.id, &mut file).await?;
    lay_prices(at, job, &mut file).await?;
    Ok(file.to_string())
}

/// What was told of a job's truck and visit, as a job file without findings and without the list's prices.
///
/// # Errors
/// The job is not there.
pub async fn told_file(at: &impl Reach, job: &Job) -> Result<String> {
    Ok(told_of(at, job).await?.to_string())
}

async fn told_of(at: &impl Reach, job: &Job) -> Result<DocumentMut> {
    let build: Build = at.get(job.build).await?;
    let mut file = document(&build.tables)?;
    for (key, item) in document(&job.tables)?.iter() {
        file.insert(key, item.clone());
    }
    Ok(file)
}

async fn lay_findings(at: &impl Reach, job: Id<Job>, file: &mut DocumentMut) -> Result<()> {
    let findings = findings_of(at, job).await?;
    if !findings.is_empty() {
        file.insert("findings", Item::ArrayOfTables(findings.iter().map(told).collect()));
    }
    Ok(())
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
    *shop = Item::Table(std::mem::take(shop).into_table().map_err(|_| content(&"`shop` is no table: write [shop]"))?);
    let Some(shop) = shop.as_table_mut() else { return Ok(()) };
    shop.entry("currency").or_insert_with(|| value(job.currency.as_str()));
    let Some(parts) = parts_of(shop)? else { return Ok(()) };
    for part in &listed {
        let known = |table: &Table| table.get("part").and_then(Item::as_str) == Some(part.name.as_str());
        let told = parts.iter().any(known);
        if let Some(price) = part.price().filter(|_| !told) {
            parts.push(on_the_list(part, price, shelves.get(&part.id).copied().unwrap_or(0)));
        }
    }
    Ok(())
}

/// The parts that a file prices, as [[shop.parts]] also where it has them in one line.
fn parts_of(shop: &mut Table) -> Result<Option<&mut ArrayOfTables>> {
    let item = shop.entry("parts").or_insert(Item::None);
    let is_empty = item.is_none() || item.as_array().is_some_and(toml_edit::Array::is_empty);
    let tables = match is_empty {
        true => ArrayOfTables::new(),
        false => std::mem::take(item).into_array_of_tables().map_err(|_| content(&NO_LIST))?,
    };
    *item = Item::ArrayOfTables(tables);
    Ok(item.as_array_of_tables_mut())
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
