//! The question: which words may be meant, and what holds all of them.

use super::Subject;
use super::words::{distance, forgiven, grams, words};
use crate::error::Result;
use crate::reach::Reach;
use crate::row::Cell;
use crate::sql;
use crate::table::Kind;
use crate::tag;
use sea_orm::Value;

/// Something that was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hit {
    /// What.
    pub subject: Subject,
    /// Whether every word stands in it as typed, or begins so.
    pub exact: bool,
}

/// Words of a question that are looked at; more make no question a person asks.
const MOST_WORDS: usize = 8;
/// Words that one typed word may mean, of each sort.
const MOST_MEANINGS: usize = 40;
/// Words that share letters in threes and are then compared letter by letter.
const MOST_NEAR: i64 = 200;

/// Kinds of what can be found, in the order in which they are told: names before what speaks of them.
const KINDS: [&str; 4] = ["customer", "truck", "part", "job"];

/// What holds every word of a question: first what has them as typed or begun, then what has them as a fragment or
/// with typing errors; the newest first among each. At most so many of each kind, so that a word that stands in every
/// job hides no part of that name.
///
/// # Errors
/// The database does not answer.
pub async fn find(at: &impl Reach, question: &str, most: usize) -> Result<Vec<Hit>> {
    let typed = typed(question);
    let mut begun = Vec::new();
    for word in &typed {
        begun.push(beginning(at, word).await?);
    }
    let mut hits = holding(at, &begun, most, true).await?;
    if hits.len() < most {
        let mut wide = Vec::new();
        for (word, begun) in typed.iter().zip(begun) {
            wide.push(widened(at, word, begun).await?);
        }
        let more = holding(at, &wide, most, false).await?;
        for hit in more {
            let known = hits.iter().any(|had| had.subject == hit.subject);
            let of_kind = hits.iter().filter(|had| had.subject.table() == hit.subject.table()).count();
            if !known && of_kind < most {
                hits.push(hit);
            }
        }
    }
    Ok(hits)
}

/// The words of a question; a number written in groups is one word, and a label's tag is read as one.
fn typed(question: &str) -> Vec<String> {
    if let Ok(tag) = tag::read(question) {
        return words(&tag.to_string());
    }
    let number = question.chars().all(|letter| letter.is_ascii_digit() || " +-/().".contains(letter));
    let digits: String = question.chars().filter(char::is_ascii_digit).collect();
    if number && digits.len() >= 3 {
        return vec![digits.trim_start_matches('0').to_owned()];
    }
    words(question).into_iter().take(MOST_WORDS).collect()
}

/// Known words that begin so, the word itself first.
async fn beginning(at: &impl Reach, word: &str) -> Result<Vec<String>> {
    let past = format!("{word}\u{10FFFF}");
    texts(at, BEGINNING, vec![sql::text(word), sql::text(past), sql::number(MOST_MEANINGS as i64)]).await
}

/// The same, with the words that hold it or are it but for typing errors.
async fn widened(at: &impl Reach, word: &str, mut meant: Vec<String>) -> Result<Vec<String>> {
    let letters = word.chars().count();
    if letters < 3 {
        return Ok(meant);
    }
    let mut near: Vec<(usize, String)> =
        sharing(at, word).await?.into_iter().filter_map(|known| rank(word, known)).collect();
    near.sort();
    let new: Vec<String> = near.into_iter().map(|(_, known)| known).filter(|known| !meant.contains(known)).collect();
    meant.extend(new.into_iter().take(MOST_MEANINGS));
    Ok(meant)
}

/// How far a known word is from the typed one; none where it cannot be meant.
fn rank(word: &str, known: String) -> Option<(usize, String)> {
    let far = if known.contains(word) { 1 } else { distance(word, &known).max(1) + 1 };
    let allowed = if known.contains(word) { 1 } else { forgiven(word.chars().count()) + 1 };
    (far <= allowed).then_some((far, known))
}

/// The known words that share most letters in threes.
async fn sharing(at: &impl Reach, word: &str) -> Result<Vec<String>> {
    let grams = grams(word);
    let places: Vec<String> = (1..=grams.len()).map(|place| format!("${place}")).collect();
    let sql = format!(
        "SELECT word FROM search_gram WHERE gram IN ({}) GROUP BY word ORDER BY COUNT(*) DESC, word LIMIT ${}",
        places.join(", "),
        grams.len() + 1
    );
    let values = grams.iter().map(sql::text).chain([sql::number(MOST_NEAR)]).collect();
    texts(at, &sql, values).await
}

async fn texts(at: &impl Reach, sql: &str, values: Vec<Value>) -> Result<Vec<String>> {
    let answers = sql::ask(at.connection(), sql, values).await?;
    let cells = answers.iter().map(|answer| Cell::read(answer, 0, Kind::Text));
    cells
        .filter_map(|cell| cell.map(|cell| if let Cell::Text(text) = cell { Some(text) } else { None }).transpose())
        .collect()
}

/// What holds one of each list's words, kind after kind, the newest first.
async fn holding(at: &impl Reach, lists: &[Vec<String>], most: usize, exact: bool) -> Result<Vec<Hit>> {
    if lists.is_empty() || lists.iter().any(Vec::is_empty) {
        return Ok(Vec::new());
    }
    let postgres = sql::is_postgres(at.connection());
    let sql = if postgres { IN_POSTGRES } else { IN_SQLITE };
    let (or, and, quote) = if postgres { (" | ", " & ", '\'') } else { (" OR ", " AND ", '"') };
    let any = lists.iter().map(|list| {
        let quoted: Vec<String> = list.iter().map(|word| format!("{quote}{word}{quote}")).collect();
        format!("({})", quoted.join(or))
    });
    let question = any.collect::<Vec<_>>().join(and);
    let mut hits = Vec::new();
    for kind in KINDS {
        let values = vec![sql::text(&question), sql::text(kind), sql::number(most as i64)];
        for key in texts(at, sql, values).await? {
            hits.push(Hit { subject: Subject::read(kind, &key)?, exact });
        }
    }
    Ok(hits)
}

/// Known words from one on to another.
pub(crate) const BEGINNING: &str = "SELECT word FROM search_word WHERE word >= $1 AND word < $2 ORDER BY word LIMIT $3";
/// Words are letters and digits alone, so that nothing in them can be taken for the question's own signs.
pub(crate) const IN_SQLITE: &str = "SELECT row_key FROM search_text CROSS JOIN search_doc ON doc = search_text.rowid \
     WHERE search_text MATCH $1 AND subject = $2 ORDER BY search_text.rowid DESC LIMIT $3";
pub(crate) const IN_POSTGRES: &str =
    "SELECT row_key FROM search_doc WHERE vector @@ CAST($1 AS tsquery) AND subject = $2 ORDER BY doc DESC LIMIT $3";
