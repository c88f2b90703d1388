//! What the database's tables hold, as data: reading, writing, archives and CSV all follow these rows.

/// What a column's values are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// An id.
    Id,
    /// Text.
    Text,
    /// One of these words.
    Word(&'static [&'static str]),
    /// A whole number.
    Integer,
    /// An amount in minor units of the row's currency.
    Minor,
    /// A point in time, milliseconds since 1970, UTC.
    Time,
    /// Yes or no, kept as 1 or 0.
    Flag,
    /// A JSON document, kept as text.
    Json,
    /// Bytes.
    Bytes,
}

/// A column.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Column {
    /// Its name.
    pub name: &'static str,
    /// What its values are.
    pub kind: Kind,
    /// Whether it may be empty.
    pub optional: bool,
    /// Whether it may tell of a person, or is long: the audit trail says that it changed, never what it holds.
    pub personal: bool,
}

impl Column {
    /// A column that is always filled.
    pub const fn new(name: &'static str, kind: Kind) -> Self {
        Self { name, kind, optional: false, personal: false }
    }

    /// A text.
    pub const fn text(name: &'static str) -> Self {
        Self::new(name, Kind::Text)
    }

    /// The same, and it may be empty.
    pub const fn optional(self) -> Self {
        Self { optional: true, ..self }
    }

    /// The same, and it may tell of a person, or is long.
    pub const fn personal(self) -> Self {
        Self { personal: true, ..self }
    }
}

/// A table. Its first column is its key.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Table {
    /// Its name.
    pub name: &'static str,
    /// What a person calls one row.
    pub one: &'static str,
    /// Its columns, the key first.
    pub columns: &'static [Column],
}

impl Table {
    /// The name of the key.
    pub fn key(&self) -> &'static str {
        self.columns.first().map_or("", |column| column.name)
    }

    /// The names of the columns, with commas.
    pub fn names(&self) -> String {
        self.columns.iter().map(|column| column.name).collect::<Vec<_>>().join(", ")
    }

    /// Whether rows are changed after they are written.
    pub fn has_versions(&self) -> bool {
        self.columns.iter().any(|column| column.name == "version")
    }
}
