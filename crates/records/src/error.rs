//! What can go wrong with the records, and the way out of it.

use crate::life_cycle::Refusal;
use crate::parts::PartRefusal;
use sea_orm::sqlx::Error as DriverError;
use sea_orm::{ConnAcquireErr, DbErr, RuntimeErr};

/// What this room's functions return.
pub type Result<T> = std::result::Result<T, Error>;

/// Why the records could not do what was asked. Nothing was changed where one of these is returned.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Error {
    /// The database does not answer.
    #[error("the database {place} does not answer: {why}")]
    Unreachable {
        /// Which one.
        place: String,
        /// What its driver said.
        why: String,
    },
    /// The disk is full.
    #[error("no space is left on the disk: {why}")]
    Full {
        /// What the driver said.
        why: String,
    },
    /// Others kept the database busy for too long.
    #[error("the records were busy for too long: {why}")]
    Busy {
        /// What the driver said.
        why: String,
    },
    /// The file is no database, or damaged.
    #[error("the records are damaged: {why}")]
    Damaged {
        /// What was seen.
        why: String,
    },
    /// A newer program wrote them.
    #[error("the records are of schema {found}, newer than the {known} that this program knows")]
    NewerSchema {
        /// The database's.
        found: i64,
        /// The program's.
        known: i64,
    },
    /// Something is to be restored over records that hold something.
    #[error("the records hold a {one} already")]
    NotEmpty {
        /// What was seen first.
        one: &'static str,
    },
    /// There is no such row.
    #[error("there is no {one} {key}")]
    Missing {
        /// What it would be.
        one: String,
        /// Which one was asked for.
        key: String,
    },
    /// A value is outside what is allowed.
    #[error("{of} is `{value}`, allowed is {allowed}")]
    Value {
        /// What the value is of.
        of: String,
        /// The value.
        value: String,
        /// What is allowed.
        allowed: &'static str,
    },
    /// The life cycle of a job does not allow it.
    #[error(transparent)]
    Refused(#[from] Refusal),
    /// A part, or a piece of one, may not go there.
    #[error(transparent)]
    Part(#[from] PartRefusal),
    /// The database's own rules do not allow it.
    #[error("the records do not allow that: {why}")]
    Constraint {
        /// The rule, as the database names it.
        why: String,
    },
    /// A form was sent again with other content under the same key.
    #[error("the form {key} was sent before with other content")]
    OtherForm {
        /// Its key.
        key: String,
    },
    /// A job file, picture or archive is not what it should be.
    #[error("{what}: {why}")]
    Content {
        /// What was read.
        what: String,
        /// What is wrong.
        why: String,
    },
    /// Anything else that the database says.
    #[error("the database could not do it: {why}")]
    Database {
        /// What the driver said.
        why: String,
    },
}

impl Error {
    /// The way out.
    pub fn hint(&self) -> &'static str {
        match self {
            Self::Unreachable { .. } => {
                "is the database running, and is its address right? nothing was lost: try again"
            }
            Self::Full { .. } => "free some space and try again: what was saved before is there",
            Self::Busy { .. } => "another program writes to these records for long: wait, or end it, and try again",
            Self::Damaged { .. } => "leave the file as it is, copy it, and restore the last backup into a new place",
            Self::NewerSchema { .. } => "use the newer program, or restore a backup that this one wrote",
            Self::Missing { .. } => "look for it by a word, a number or a label's tag",
            Self::NotEmpty { .. } => {
                "name an empty place with --database, or give --replace: then what the records hold now is lost"
            }
            Self::OtherForm { .. } => "load the page again and send the form once more",
            Self::Refused(refusal) => refusal.hint(),
            Self::Part(refusal) => refusal.hint(),
            Self::Value { .. } | Self::Constraint { .. } | Self::Content { .. } | Self::Database { .. } => "",
        }
    }

    /// A row that is not there.
    pub(crate) fn missing(one: &str, key: impl ToString) -> Self {
        Self::Missing { one: one.into(), key: key.to_string() }
    }
}

impl From<DbErr> for Error {
    fn from(error: DbErr) -> Self {
        let why = error.to_string();
        match &error {
            DbErr::ConnectionAcquire(ConnAcquireErr::Timeout | ConnAcquireErr::ConnectionClosed) => {
                Self::Unreachable { place: "of the records".into(), why }
            }
            DbErr::Conn(RuntimeErr::SqlxError(driver))
            | DbErr::Exec(RuntimeErr::SqlxError(driver))
            | DbErr::Query(RuntimeErr::SqlxError(driver)) => of_driver(driver, why),
            _ => Self::Database { why },
        }
    }
}

fn of_driver(driver: &DriverError, why: String) -> Error {
    match driver {
        DriverError::Io(_) | DriverError::PoolTimedOut | DriverError::PoolClosed | DriverError::Tls(_) => {
            Error::Unreachable { place: "of the records".into(), why }
        }
        DriverError::WorkerCrashed | DriverError::Protocol(_) => {
            Error::Unreachable { place: "of the records".into(), why }
        }
        DriverError::Database(database) => of_code(database.code().as_deref().unwrap_or(""), database.message()),
        _ => Error::Database { why },
    }
}

/// SQLite gives its extended result codes as decimals (sqlite.org/rescode.html), PostgreSQL its five-letter SQLSTATE
/// (appendix A of its manual).
fn of_code(code: &str, message: &str) -> Error {
    let why = message.to_owned();
    match code.parse::<u32>().ok().filter(|_| code.len() < 5).map(|code| code & 0xff) {
        Some(5 | 6) => return Error::Busy { why },
        Some(13) => return Error::Full { why },
        Some(11 | 26) => return Error::Damaged { why },
        Some(10 | 14) => return Error::Unreachable { place: "of the records".into(), why },
        Some(19) => return Error::Constraint { why },
        _ => {}
    }
    match code {
        _ if code.starts_with("23") => Error::Constraint { why },
        "P0001" => Error::Constraint { why },
        "53100" => Error::Full { why },
        "55P03" | "40001" | "40P01" => Error::Busy { why },
        "XX001" | "XX002" => Error::Damaged { why },
        _ if code.starts_with("08") || code.starts_with("57P") || code.starts_with("53") || code.starts_with("28") => {
            Error::Unreachable { place: "of the records".into(), why }
        }
        "3D000" => Error::Unreachable { place: "of the records".into(), why },
        _ => Error::Database { why },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The code becomes an error of this name, and somebody is told what to do.
    #[track_caller]
    fn check(code: &str, name: &str) {
        let error = of_code(code, "said");
        let told = format!("{error:?}");
        assert!(told.starts_with(name), "{code}: {told}");
        assert!(
            !error.hint().is_empty() || matches!(error, Error::Constraint { .. } | Error::Database { .. }),
            "{told}"
        );
    }

    #[test]
    fn sqlites_codes_are_told_as_what_they_mean() {
        // sqlite.org/rescode.html: 5 busy, 6 locked, 10 I/O, 11 corrupt, 13 full, 14 cannot open, 19 constraint, 26 no
        // database; extended codes hold these in their lowest byte.
        for code in ["5", "6", "261", "517", "262"] {
            check(code, "Busy");
        }
        check("13", "Full");
        ["11", "26", "267"].iter().for_each(|code| check(code, "Damaged"));
        ["10", "14", "778"].iter().for_each(|code| check(code, "Unreachable"));
        ["19", "787", "2067"].iter().for_each(|code| check(code, "Constraint"));
        check("1", "Database");
    }

    #[test]
    fn postgresqls_codes_are_told_as_what_they_mean() {
        // Appendix A of its manual.
        ["55P03", "40001", "40P01"].iter().for_each(|code| check(code, "Busy"));
        check("53100", "Full");
        ["57P01", "57P03", "08006", "53300", "28P01", "3D000"].iter().for_each(|code| check(code, "Unreachable"));
        ["XX001", "XX002"].iter().for_each(|code| check(code, "Damaged"));
        ["23505", "23503", "P0001"].iter().for_each(|code| check(code, "Constraint"));
        check("42P01", "Database");
    }
}
