//! The index of words: kept in the same write as what it is about, or made anew from all of it.

use super::Subject;
use super::words::{grams, phone, words};
use crate::error::Result;
use crate::job::Job;
use crate::parts::Part;
use crate::people::Customer;
use crate::reach::{Reach, list};
use crate::record::Record;
use crate::row::{Cell, Row};
use crate::sql;
use crate::table::{Column, Kind, Table};
use crate::truck::Truck;
use crate::write::Write;
use sea_orm::Value;
use std::collections::{BTreeMap, BTreeSet};

const DOC: Table = Table {
    name: "search_doc",
    one: "text",
    columns: &[
        Column::new("doc", Kind::Integer),
        Column::text("subject"),
        Column::text("row_key"),
        Column::text("words"),
    ],
};
const WORD: Table =
    Table { name: "search_word", one: "word", columns: &[Column::text("word"), Column::new("uses", Kind::Integer)] };
const GRAM: Table =
    Table { name: "search_gram", one: "letters", columns: &[Column::text("gram"), Column::text("word")] };

/// Brings the index up to what was just written.
pub(crate) async fn follow<R: Record>(write: &Write, record: &R) -> Result<()> {
    match record.found_as() {
        Some(subject) => {
            let key = subject.key();
            let mut found = words_between(write, subject.table(), [&key, &key]).await?;
            replace(write, subject, found.remove(&key).unwrap_or_default()).await
        }
        None => Ok(()),
    }
}

/// Where a subject's words stand: the subject's table, the table with the words, its column with the subject's key, and
/// the columns with the words.
struct Source {
    subject: &'static str,
    table: &'static str,
    key: &'static str,
    columns: &'static [&'static str],
}

const SOURCES: [Source; 7] = [
    Source {
        subject: "customer",
        table: "customer",
        key: "id",
        columns: &["name", "phone", "email", "address", "note"],
    },
    Source { subject: "truck", table: "truck", key: "id", columns: &["tag", "name", "note"] },
    Source { subject: "job", table: "job", key: "id", columns: &["CAST(number AS TEXT)", "complaint", "said"] },
    Source { subject: "job", table: "finding", key: "job", columns: &["asked", "note"] },
    Source { subject: "job", table: "photo", key: "job", columns: &["shows", "note"] },
    Source { subject: "part", table: "part", key: "id", columns: &["name", "supplier", "order_number"] },
    Source { subject: "job", table: "line", key: "job", columns: &["text"] },
];

/// The words of all subjects of a table whose keys lie between two, by key.
async fn words_between(at: &impl Reach, subject: &str, keys: [&str; 2]) -> Result<BTreeMap<String, BTreeSet<String>>> {
    let mut found: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for source in SOURCES.iter().filter(|source| source.subject == subject) {
        let Source { table, key, columns, .. } = source;
        let sql = format!("SELECT {key}, {} FROM {table} WHERE {key} >= $1 AND {key} <= $2", columns.join(", "));
        for answer in sql::ask(at.connection(), &sql, keys.iter().map(sql::text).collect()).await? {
            let Cell::Text(key) = Cell::read(&answer, 0, Kind::Text)? else { continue };
            let own = found.entry(key).or_default();
            for (place, column) in columns.iter().enumerate() {
                if let Cell::Text(text) = Cell::read(&answer, place + 1, Kind::Text)? {
                    own.extend(if *column == "phone" { phone(&text).into_iter().collect() } else { words(&text) });
                }
            }
        }
    }
    Ok(found)
}

/// Lays new words over those of a subject.
async fn replace(write: &Write, subject: Subject, new: BTreeSet<String>) -> Result<()> {
    let tail = "WHERE subject = $1 AND row_key = $2";
    let names = vec![sql::text(subject.table()), sql::text(subject.key())];
    let row = sql::select(write.connection(), &DOC, tail, names).await?.pop();
    let (doc, old) = match &row.as_deref() {
        Some([Cell::Integer(doc), _, _, Cell::Text(old)]) => (Some(*doc), old.split(' ').map(str::to_owned).collect()),
        _ => (None, BTreeSet::new()),
    };
    if old == new {
        return Ok(());
    }
    count_up(write, new.difference(&old)).await?;
    count_down(write, old.difference(&new)).await?;
    let text = new.into_iter().collect::<Vec<_>>().join(" ");
    put(write, doc, subject, &text).await
}

/// Writes the text of one subject; an empty one is taken away.
async fn put(write: &Write, doc: Option<i64>, subject: Subject, text: &str) -> Result<()> {
    let at = write.connection();
    if let Some(doc) = doc.filter(|_| text.is_empty()) {
        if !sql::is_postgres(at) {
            sql::run(at, "DELETE FROM search_text WHERE rowid = $1", vec![sql::number(doc)]).await?;
        }
        sql::run(at, "DELETE FROM search_doc WHERE doc = $1", vec![sql::number(doc)]).await?;
        return Ok(());
    }
    match doc {
        Some(doc) => {
            let values = vec![sql::number(doc), sql::text(text)];
            sql::run(at, "UPDATE search_doc SET words = $2 WHERE doc = $1", values).await?;
            index_text(write, "doc = $1", vec![sql::number(doc)]).await
        }
        None => {
            let doc = sql::ask_number(at, "SELECT MAX(doc) + 1 FROM search_doc", vec![]).await?.max(1);
            sql::insert(at, &DOC, vec![doc_row(doc, subject, text.to_owned())]).await?;
            index_text(write, "doc = $1", vec![sql::number(doc)]).await
        }
    }
}

fn doc_row(doc: i64, subject: Subject, text: String) -> Row {
    vec![Cell::Integer(doc), Cell::Text(subject.table().to_owned()), Cell::Text(subject.key()), Cell::Text(text)]
}

/// Gives the texts that `which` names to the database's own full-text index. PostgreSQL's parser is left out: the words
/// are words already.
async fn index_text(write: &Write, which: &str, values: Vec<Value>) -> Result<()> {
    let sql = if sql::is_postgres(write.connection()) {
        format!("UPDATE search_doc SET vector = array_to_tsvector(string_to_array(words, ' ')) WHERE {which}")
    } else {
        format!("INSERT OR REPLACE INTO search_text (rowid, words) SELECT doc, words FROM search_doc WHERE {which}")
    };
    sql::run(write.connection(), &sql, values).await?;
    Ok(())
}

async fn count_up(write: &Write, new: impl Iterator<Item = &String>) -> Result<()> {
    for word in new {
        let sql = "INSERT INTO search_word (word, uses) VALUES ($1, 1) \
                   ON CONFLICT (word) DO UPDATE SET uses = search_word.uses + 1 RETURNING uses";
        if sql::ask_number(write.connection(), sql, vec![sql::text(word)]).await? == 1 {
            sql::insert(write.connection(), &GRAM, gram_rows(word)).await?;
        }
    }
    Ok(())
}

fn gram_rows(word: &str) -> Vec<Row> {
    grams(word).into_iter().map(|gram| vec![Cell::Text(gram), Cell::Text(word.to_owned())]).collect()
}

/// Words that no text has any more are forgotten with their letters: an erased name leaves no trace.
async fn count_down(write: &Write, gone: impl Iterator<Item = &String>) -> Result<()> {
    let at = write.connection();
    for word in gone {
        let last = sql::run(at, "DELETE FROM search_word WHERE word = $1 AND uses = 1", vec![sql::text(word)]).await?;
        let sql = match last {
            0 => "UPDATE search_word SET uses = uses - 1 WHERE word = $1",
            _ => "DELETE FROM search_gram WHERE word = $1",
        };
        sql::run(at, sql, vec![sql::text(word)]).await?;
    }
    Ok(())
}

/// Rows that are read at once where all are.
const PAGE: i64 = 2_000;

/// Makes the index anew from everything that can be found.
async fn rebuild(write: &Write) -> Result<()> {
    clear(write).await?;
    let mut made = Made { doc: 0, uses: BTreeMap::new() };
    let mut after = String::new();
    while let Some(page) = page::<Customer>(write, &after, &mut made).await? {
        after = page;
    }
    after.clear();
    while let Some(page) = page::<Truck>(write, &after, &mut made).await? {
        after = page;
    }
    after.clear();
    while let Some(page) = page::<Job>(write, &after, &mut made).await? {
        after = page;
    }
    after.clear();
    while let Some(page) = page::<Part>(write, &after, &mut made).await? {
        after = page;
    }
    index_text(write, "doc >= $1", vec![sql::number(0)]).await?;
    let words = made.uses.iter().map(|(word, uses)| vec![Cell::Text(word.clone()), Cell::Integer(*uses)]);
    sql::insert(write.connection(), &WORD, words).await?;
    sql::insert(write.connection(), &GRAM, made.uses.keys().flat_map(|word| gram_rows(word))).await
}

/// How far the new index is.
struct Made {
    doc: i64,
    uses: BTreeMap<String, i64>,
}

/// Puts the subjects after a key into the new index; answers the last key, or none where there are no more.
async fn page<R: Record>(write: &Write, after: &str, made: &mut Made) -> Result<Option<String>> {
    let values = vec![sql::text(after), sql::number(PAGE)];
    let records: Vec<R> = list(write, "WHERE id > $1 ORDER BY id LIMIT $2", values).await?;
    let subjects: Vec<Subject> = records.iter().filter_map(Record::found_as).collect();
    let [Some(first), Some(last)] = [subjects.first(), subjects.last()].map(|one| one.map(|one| one.key())) else {
        return Ok(None);
    };
    let mut found = words_between(write, R::TABLE.name, [&first, &last]).await?;
    let mut rows = Vec::new();
    for subject in subjects {
        let words = found.remove(&subject.key()).unwrap_or_default();
        words.iter().for_each(|word| *made.uses.entry(word.clone()).or_default() += 1);
        made.doc += 1;
        rows.push(doc_row(made.doc, subject, words.into_iter().collect::<Vec<_>>().join(" ")));
    }
    sql::insert(write.connection(), &DOC, rows).await?;
    Ok(Some(last))
}

async fn clear(write: &Write) -> Result<()> {
    let own = if sql::is_postgres(write.connection()) { None } else { Some("search_text") };
    for table in ["search_doc", "search_word", "search_gram"].into_iter().chain(own) {
        sql::run(write.connection(), &format!("DELETE FROM {table}"), vec![]).await?;
    }
    Ok(())
}

impl Write {
    /// Makes the index of words anew from everything that can be found, as after a restore.
    ///
    /// # Errors
    /// The database does not answer.
    pub async fn index_anew(&self) -> Result<()> {
        rebuild(self).await
    }
}
