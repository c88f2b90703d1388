//! The schema's history: migrations are only ever appended, and each runs up and down on both databases.

use crate::error::{Error, Result};
use crate::forgettable::{forgettable, unforgettable};
use crate::reach::Reach;
use crate::row::Cell;
use crate::sql;
use crate::store::Store;
use crate::table::Kind;
use crate::write::{Acting, Write};

/// One change of the schema.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Migration {
    /// What it is about.
    pub name: &'static str,
    /// Why it is so, the way up, the way down.
    text: &'static str,
}

const MIGRATIONS: [Migration; 7] = [
    Migration { name: "jobs", text: include_str!("../migrations/0001-jobs.sql") },
    Migration { name: "search", text: include_str!("../migrations/0002-search.sql") },
    Migration { name: "bench", text: include_str!("../migrations/0003-bench.sql") },
    Migration { name: "parts", text: include_str!("../migrations/0004-parts.sql") },
    Migration { name: "shop", text: include_str!("../migrations/0005-shop.sql") },
    Migration { name: "photos", text: include_str!("../migrations/0006-photos.sql") },
    Migration { name: "erasure", text: include_str!("../migrations/0007-erasure.sql") },
];

/// The schema that this program knows.
pub const LATEST: i64 = MIGRATIONS.len() as i64;

/// Every migration, the oldest first; the n-th makes schema n.
pub fn migrations() -> &'static [Migration] {
    &MIGRATIONS
}

impl Migration {
    fn up(&self, postgres: bool) -> Vec<String> {
        let up = self.text.split_once("-- up\n").map_or("", |(_, up)| up);
        statements(up.split_once("-- down\n").map_or(up, |(up, _)| up), postgres)
    }

    fn down(&self, postgres: bool) -> Vec<String> {
        statements(self.text.split_once("-- down\n").map_or("", |(_, down)| down), postgres)
    }
}

/// The statements of one database: each ends with two semicolons, may be for one database alone, and is written in
/// SQLite's strict types, which have one counterpart each.
fn statements(text: &str, postgres: bool) -> Vec<String> {
    let own = text.split(";;").map(without_comments).filter(|part| !part.is_empty());
    own.flat_map(|part| dialect(&part, postgres)).collect()
}

fn without_comments(part: &str) -> String {
    let lines = part.lines().filter(|line| !line.trim_start().starts_with("--"));
    lines.collect::<Vec<_>>().join("\n").trim().to_owned()
}

fn dialect(part: &str, postgres: bool) -> Vec<String> {
    if let Some(table) = part.strip_prefix("APPEND ONLY ") {
        return append_only(table, postgres);
    }
    if let Some(what) = part.strip_prefix("FORGETTABLE ") {
        return forgettable(what, postgres);
    }
    if let Some(what) = part.strip_prefix("UNFORGETTABLE ") {
        let table = what.split(" BUT ").next().unwrap_or(what);
        let older = append_only(what, postgres).into_iter().filter(|statement| statement.contains("BEFORE UPDATE"));
        return unforgettable(table, postgres).into_iter().chain(older).collect();
    }
    let own = match (part.strip_prefix("ONLY SQLITE "), part.strip_prefix("ONLY POSTGRES ")) {
        (Some(own), _) => (!postgres).then_some(own),
        (_, Some(own)) => postgres.then_some(own),
        _ => Some(part),
    };
    own.into_iter().map(|own| if postgres { in_postgres(own) } else { own.to_owned() }).collect()
}

/// Text is compared byte by byte on both, so that both sort alike.
fn in_postgres(statement: &str) -> String {
    if !statement.starts_with("CREATE TABLE") {
        return statement.to_owned();
    }
    let typed =
        statement.replace(" INTEGER", " BIGINT").replace(" BLOB", " BYTEA").replace(" TEXT", " TEXT COLLATE \"C\"");
    typed.trim_end_matches(" STRICT").to_owned()
}

/// Triggers that refuse to change or take away a row; `BUT column` lets that one be emptied.
fn append_only(what: &str, postgres: bool) -> Vec<String> {
    let (table, forgotten) = what.split_once(" BUT ").unwrap_or((what, ""));
    let told = format!("rows of {table} are never changed");
    let but = if forgotten.is_empty() { String::new() } else { format!(" WHEN NEW.{forgotten} <> ''") };
    if !postgres {
        let refuse = format!("BEGIN SELECT RAISE(ABORT, '{told}'); END");
        return vec![
            format!("CREATE TRIGGER {table}_change BEFORE UPDATE ON {table}{but} {refuse}"),
            format!("CREATE TRIGGER {table}_delete BEFORE DELETE ON {table} {refuse}"),
        ];
    }
    let but = if but.is_empty() { but } else { format!(" WHEN (NEW.{forgotten} <> '')") };
    let each = "FOR EACH ROW";
    vec![
        "CREATE OR REPLACE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS \
         $$ BEGIN RAISE EXCEPTION 'rows of % are never changed', TG_TABLE_NAME; END $$"
            .to_owned(),
        format!("CREATE TRIGGER {table}_change BEFORE UPDATE ON {table} {each}{but} EXECUTE FUNCTION refuse_change()"),
        format!("CREATE TRIGGER {table}_delete BEFORE DELETE ON {table} {each} EXECUTE FUNCTION refuse_change()"),
    ]
}

/// Where the schema's own history stands.
const HISTORY: &str = "CREATE TABLE IF NOT EXISTS schema_step (step INTEGER NOT NULL PRIMARY KEY, name TEXT NOT NULL)";

/// The schema that the database has; 0 where it is empty.
///
/// # Errors
/// The database does not answer.
pub async fn schema_of(at: &impl Reach) -> Result<i64> {
    let sql = if sql::is_postgres(at.connection()) {
        "SELECT COUNT(*) FROM information_schema.tables WHERE table_name = 'schema_step' AND table_schema = current_schema()"
    } else {
        "SELECT COUNT(*) FROM sqlite_master WHERE name = 'schema_step'"
    };
    if sql::ask_number(at.connection(), sql, vec![]).await? == 0 {
        return Ok(0);
    }
    let answers = sql::ask(at.connection(), "SELECT CAST(MAX(step) AS BIGINT) FROM schema_step", vec![]).await?;
    let step = answers.first().map(|answer| Cell::read(answer, 0, Kind::Integer)).transpose()?;
    Ok(if let Some(Cell::Integer(step)) = step { step } else { 0 })
}

/// Brings the schema up to date, in one write, and the index of words with it: what it holds may have grown.
pub(crate) async fn up(store: &Store) -> Result<()> {
    let found = schema_of(store).await?;
    match found {
        newer if newer > LATEST => return Err(Error::NewerSchema { found: newer, known: LATEST }),
        LATEST => return Ok(()),
        _ => {}
    }
    let write = store.begin(Acting::program()).await?;
    sql::run(write.connection(), HISTORY, vec![]).await?;
    climb_to(&write, LATEST).await?;
    if found > 0 {
        write.index_anew().await?;
    }
    write.commit().await
}

/// Takes the schema to another step, up or down; down loses what the tables taken away held.
///
/// # Errors
/// The program knows no such step, or the database does not answer.
pub async fn migrate_to(store: &Store, wanted: i64) -> Result<()> {
    let write = store.begin(Acting::program()).await?;
    sql::run(write.connection(), HISTORY, vec![]).await?;
    climb_to(&write, wanted).await?;
    descend_to(&write, wanted).await?;
    write.commit().await
}

/// Takes everything away and makes an empty schema of this step.
pub(crate) async fn anew(write: &Write, wanted: i64) -> Result<()> {
    descend_to(write, 0).await?;
    climb_to(write, wanted).await
}

/// Takes the schema up to a step. Where it stands is read in the write: another program may have done it meanwhile.
pub(crate) async fn climb_to(write: &Write, wanted: i64) -> Result<()> {
    for step in schema_of(write).await?..wanted {
        climb(write, step).await?;
    }
    Ok(())
}

async fn descend_to(write: &Write, wanted: i64) -> Result<()> {
    for step in (wanted..schema_of(write).await?).rev() {
        descend(write, step).await?;
    }
    Ok(())
}

fn migration(step: i64) -> Result<&'static Migration> {
    let known = usize::try_from(step).ok().and_then(|step| MIGRATIONS.get(step));
    known.ok_or(Error::NewerSchema { found: step + 1, known: LATEST })
}

async fn climb(write: &Write, step: i64) -> Result<()> {
    let migration = migration(step)?;
    for statement in migration.up(sql::is_postgres(write.connection())) {
        sql::run(write.connection(), &statement, vec![]).await?;
    }
    let values = vec![sql::number(step + 1), sql::text(migration.name)];
    sql::run(write.connection(), "INSERT INTO schema_step (step, name) VALUES ($1, $2)", values).await?;
    Ok(())
}

async fn descend(write: &Write, step: i64) -> Result<()> {
    for statement in migration(step)?.down(sql::is_postgres(write.connection())) {
        sql::run(write.connection(), &statement, vec![]).await?;
    }
    sql::run(write.connection(), "DELETE FROM schema_step WHERE step = $1", vec![sql::number(step + 1)]).await?;
    Ok(())
}
