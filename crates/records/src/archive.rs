//! The whole shop as one file of JSON lines, out of either database and into either.
//!
//! The first line tells the format, its version and the schema. Then, for every table in the order in which they can be
//! filled, a line `{"table": name}` and a line for every row, its columns by name, times by RFC 3339, JSON documents as
//! texts. The last line holds the number of rows and the SHA-256 (FIPS 180-4) of every byte before it. Nothing is
//! compressed and no path stands in it, so that nothing can unfold or be written elsewhere. A restore reads it once: what
//! was hashed is what was written, and only a foot that fits keeps it.

use crate::error::{Error, Result};
use crate::flat::Flat;
use crate::migrate::{self, LATEST, schema_of};
use crate::once::hex;
use crate::reach::Reach;
use crate::row::{Row, archived, map_of_row, row_of_map, shown_archived};
use crate::sql;
use crate::store::{Store, View};
use crate::table::{Kind, Table};
use crate::tables::TABLES;
use crate::write::{Acting, Write};
use serde::{Deserialize, Serialize};
use serde_json::{Value, json};
use sha2::{Digest, Sha256};
use std::io::{BufRead, Read, Write as Out};

/// The format's name.
const FORMAT: &str = "toothsayer-records";
/// The format's version.
const VERSION: i64 = 1;
/// Longest line, bytes: a verdict is some hundred kilobytes.
const LONGEST_LINE: u64 = 64 << 20;
/// Rows that are read or written at once.
const PAGE: usize = 2_000;
/// The same of tables with pixels in them: a row may hold some ten million bytes.
const PAGE_OF_BYTES: usize = 2;
/// Bytes of lines after which no more are gathered: long rows are written before there are many.
const PAGE_BYTES: usize = 4 << 20;

#[derive(Deserialize, Serialize)]
struct Head {
    format: String,
    version: i64,
    schema: i64,
}

#[derive(Deserialize, Serialize)]
struct Foot {
    rows: u64,
    sha256: String,
}

/// How many rows an archive of the view holds.
///
/// # Errors
/// The database does not answer.
pub async fn rows_in(view: &View) -> Result<u64> {
    let mut rows = 0;
    for table in &TABLES {
        let sql = format!("SELECT COUNT(*) FROM {}", table.name);
        rows += sql::ask_number(view.connection(), &sql, vec![]).await?.unsigned_abs();
    }
    Ok(rows)
}

/// Writes everything that the view shows; `tell` hears how many rows are out. Answers how many there are.
///
/// # Errors
/// The database does not answer, or the file cannot be written.
pub async fn write_archive(view: &View, out: &mut (impl Out + Send), mut tell: impl FnMut(u64) + Send) -> Result<u64> {
    let schema = schema_of(view).await?;
    let mut hashed = Hashed { out, hash: Sha256::new() };
    hashed.line(&json!({ "format": FORMAT, "version": VERSION, "schema": schema }))?;
    let mut rows = 0;
    for table in &TABLES {
        hashed.line(&json!({ "table": table.name }))?;
        let mut last = None;
        loop {
            let page = page(view, table, last.as_ref()).await?;
            for row in &page {
                hashed.line(&Value::Object(map_of_row(table, row, shown_archived)?))?;
            }
            rows += page.len() as u64;
            tell(rows);
            match page.into_iter().last() {
                Some(row) => last = Some(row),
                None => break,
            }
        }
    }
    let sha256 = hex(&hashed.hash.finalize());
    out.write_all(line_of(&json!({ "rows": rows, "sha256": sha256 })).as_bytes()).map_err(|error| of_file(&error))?;
    out.flush().map_err(|error| of_file(&error))?;
    Ok(rows)
}

struct Hashed<'a, O> {
    out: &'a mut O,
    hash: Sha256,
}

impl<O: Out> Hashed<'_, O> {
    fn line(&mut self, value: &Value) -> Result<()> {
        let line = line_of(value);
        self.hash.update(&line);
        self.out.write_all(line.as_bytes()).map_err(|error| of_file(&error))
    }
}

fn line_of(value: &Value) -> String {
    format!("{value}\n")
}

/// The column that a table is walked by: one whose earlier rows never point at later ones.
fn walked_by(table: &Table) -> usize {
    let counted = ["job", "stock", "audit"].contains(&table.name);
    usize::from(counted && table.columns.len() > 1)
}

fn page_of(table: &Table) -> usize {
    let bytes = table.columns.iter().any(|column| column.kind == Kind::Bytes);
    if bytes { PAGE_OF_BYTES } else { PAGE }
}

/// The rows behind one, at most a page of them.
pub(crate) async fn page(view: &View, table: &Table, after: Option<&Row>) -> Result<Vec<Row>> {
    let place = walked_by(table);
    let Some(column) = table.columns.get(place) else { return Ok(Vec::new()) };
    let order = format!("ORDER BY {} LIMIT {}", column.name, page_of(table));
    match after.and_then(|row| row.get(place)) {
        None => sql::select(view.connection(), table, &order, vec![]).await,
        Some(cell) => {
            let tail = format!("WHERE {} > $1 {order}", column.name);
            sql::select(view.connection(), table, &tail, vec![cell.clone().bound(column.kind)]).await
        }
    }
}

/// A file that cannot be written.
pub(crate) fn of_file(error: &std::io::Error) -> Error {
    let why = error.to_string();
    match error.kind() {
        std::io::ErrorKind::StorageFull | std::io::ErrorKind::QuotaExceeded => Error::Full { why },
        _ => Error::Content { what: "the file".into(), why },
    }
}

fn wrong(why: &impl ToString) -> Error {
    Error::Content { what: "the archive".into(), why: why.to_string() }
}

/// Reads every line and holds it against its foot without writing anywhere. Answers how many rows there are.
///
/// # Errors
/// It is cut short, changed, of another format or version, or a row is none.
pub fn check_archive(file: &mut impl BufRead, mut tell: impl FnMut(u64)) -> Result<u64> {
    let mut lines = Lines::of(file)?;
    while lines.page()?.is_some() {
        tell(lines.rows);
    }
    lines.end()
}

/// Fills an empty store with an archive, all of it or nothing; `tell` hears how many rows are in.
///
/// # Errors
/// The store holds something already, or the archive is not what it should be: then nothing was changed.
pub async fn restore(store: &Store, file: &mut (impl BufRead + Send), tell: impl FnMut(u64) + Send) -> Result<u64> {
    let write = store.begin(Acting::program()).await?;
    for table in &TABLES {
        let sql = format!("SELECT COUNT(*) FROM (SELECT 1 FROM {} LIMIT 1) AS sample", table.name);
        if sql::ask_number(write.connection(), &sql, vec![]).await? > 0 {
            return Err(Error::NotEmpty { one: table.one });
        }
    }
    fill(write, Lines::of(file)?, tell).await
}

/// Puts an archive in the place of whatever the store holds, all of it or nothing; `tell` hears how many rows are in.
///
/// # Errors
/// The archive is not what it should be: then nothing was changed.
pub async fn restore_in_place(
    store: &Store,
    file: &mut (impl BufRead + Send),
    tell: impl FnMut(u64) + Send,
) -> Result<u64> {
    let write = store.begin(Acting::program()).await?;
    let lines = Lines::of(file)?;
    fill(write, lines, tell).await
}

/// The schema is made anew as it was when the archive was written, filled, and brought up to date: so an older archive
/// goes the way that the older records would have gone.
async fn fill<F: BufRead + Send>(
    write: Write,
    mut lines: Lines<'_, F>,
    mut tell: impl FnMut(u64) + Send,
) -> Result<u64> {
    migrate::anew(&write, lines.schema).await?;
    while let Some((table, page)) = lines.page()? {
        sql::insert(write.connection(), table, page).await?;
        tell(lines.rows);
    }
    let rows = lines.end()?;
    migrate::climb_to(&write, LATEST).await?;
    write.index_anew().await?;
    write.commit().await?;
    Ok(rows)
}

/// The rows of an archive, a page at a time, after its head was looked at.
struct Lines<'a, F> {
    file: &'a mut F,
    hash: Sha256,
    schema: i64,
    table: Option<&'static Table>,
    rows: u64,
    foot: Option<Foot>,
}

impl<'a, F: BufRead> Lines<'a, F> {
    fn of(file: &'a mut F) -> Result<Self> {
        let mut lines = Lines { file, hash: Sha256::new(), schema: 0, table: None, rows: 0, foot: None };
        let line = lines.line()?;
        lines.hash.update(&line);
        let head: Head = serde_json::from_str(&line).map_err(|_| wrong(&"its first line is none of this format"))?;
        if head.format != FORMAT || head.version != VERSION {
            return Err(wrong(&format!(
                "it is {} of version {}, not {FORMAT} of version {VERSION}",
                head.format, head.version
            )));
        }
        match head.schema {
            newer if newer > LATEST => Err(Error::NewerSchema { found: newer, known: LATEST }),
            older if older < 1 => Err(wrong(&format!("it is of schema {older}, and the first one is 1"))),
            schema => Ok(Self { schema, ..lines }),
        }
    }

    fn line(&mut self) -> Result<String> {
        let mut line = String::new();
        self.file.by_ref().take(LONGEST_LINE).read_line(&mut line).map_err(|error| wrong(&error))?;
        match line.ends_with('\n') {
            true => Ok(line),
            false if line.len() as u64 == LONGEST_LINE => Err(wrong(&format!("a line is above {LONGEST_LINE} bytes"))),
            false => Err(wrong(&"it is cut short")),
        }
    }

    /// Rows of one table; none at the end.
    fn page(&mut self) -> Result<Option<(&'static Table, Vec<Row>)>> {
        let (mut page, mut bytes) = (Vec::new(), 0);
        while self.foot.is_none() {
            let line = self.line()?;
            let Flat(map) = serde_json::from_str(&line).map_err(|error| wrong(&error))?;
            if map.contains_key("sha256") && map.contains_key("rows") {
                self.foot = Some(serde_json::from_str(&line).map_err(|error| wrong(&error))?);
                break;
            }
            self.hash.update(&line);
            if let (Some(name), 1) = (map.get("table"), map.len()) {
                let before = self.table.replace(next_table(self.table, name)?);
                if let Some(before) = before.filter(|_| !page.is_empty()) {
                    return Ok(Some((before, page)));
                }
                continue;
            }
            let table = self.table.ok_or_else(|| wrong(&"a row stands before its table"))?;
            page.push(row_of_map(table, &map, archived)?);
            (self.rows, bytes) = (self.rows + 1, bytes + line.len());
            if page.len() == page_of(table) || bytes > PAGE_BYTES {
                return Ok(Some((table, page)));
            }
        }
        Ok(self.table.filter(|_| !page.is_empty()).map(|table| (table, page)))
    }

    /// Holds what was read against the foot, and sees to it that nothing stands behind it.
    fn end(self) -> Result<u64> {
        let foot = self.foot.ok_or_else(|| wrong(&"it is cut short"))?;
        if foot.sha256 != hex(&self.hash.finalize()) || foot.rows != self.rows {
            return Err(wrong(&"its content does not fit its checksum: it was changed or damaged"));
        }
        match self.file.read(&mut [0]) {
            Ok(0) => Ok(foot.rows),
            _ => Err(wrong(&"something stands behind its end")),
        }
    }
}

/// The table of this name, if it stands behind the last one.
fn next_table(last: Option<&'static Table>, name: &Value) -> Result<&'static Table> {
    let place = |name: &str| TABLES.iter().position(|table| table.name == name);
    let found = name.as_str().and_then(place);
    let after = last.and_then(|table| place(table.name));
    match found.filter(|found| after.is_none_or(|after| after < *found)) {
        Some(found) => Ok(&TABLES[found]),
        None => Err(wrong(&format!("{name} is no table, or out of order"))),
    }
}
