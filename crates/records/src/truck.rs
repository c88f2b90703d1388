//! Trucks, and their builds: other parts or settings make a new build, an old one is never changed.

use crate::error::{Error, Result};
use crate::id::Id;
use crate::moment::Moment;
use crate::people::{Customer, Person};
use crate::reach::{Reach, list};
use crate::record::Record;
use crate::search::Subject;
use crate::sql;
use crate::table::{Column, Kind, Table};
use crate::tag::{self, Tag};
use crate::write::Write;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use toml_edit::{DocumentMut, Item, Value};

/// A truck.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Truck {
    /// Its id.
    pub id: Id<Truck>,
    /// Whose it is.
    pub customer: Id<Customer>,
    /// What is printed on its label.
    pub tag: Tag,
    /// What it is called.
    pub name: String,
    /// What the shop noted.
    pub note: String,
    /// Counts the changes.
    pub version: i64,
    /// When it was last changed.
    pub changed: Moment,
}

impl Record for Truck {
    const TABLE: &'static Table = &TRUCK;

    fn found_as(&self) -> Option<Subject> {
        Some(Subject::Truck(self.id))
    }
}

pub(crate) const TRUCK: Table = Table {
    name: "truck",
    one: "truck",
    columns: &[
        Column::new("id", Kind::Id),
        Column::new("customer", Kind::Id),
        Column::text("tag"),
        Column::text("name").personal(),
        Column::text("note").personal(),
        Column::new("version", Kind::Integer),
        Column::new("changed", Kind::Time),
    ],
};

impl Truck {
    /// A new truck of a customer.
    fn new(write: &Write, customer: Id<Customer>, name: &str) -> Self {
        let (id, changed) = (write.id(), write.now());
        Self { id, customer, tag: Tag::of(id), name: name.to_owned(), note: String::new(), version: 1, changed }
    }
}

/// A truck's parts and settings from some day on.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Build {
    /// Its id.
    pub id: Id<Build>,
    /// Of which truck.
    pub truck: Id<Truck>,
    /// 1, 2, 3 …
    pub number: i64,
    /// The job file's tables that tell of the truck as built, and as sold.
    pub tables: String,
    /// What made it another one.
    pub reason: String,
    /// Who wrote it down.
    pub who: Option<Id<Person>>,
    /// When.
    pub made: Moment,
}

impl Record for Build {
    const TABLE: &'static Table = &BUILD;
}

pub(crate) const BUILD: Table = Table {
    name: "build",
    one: "build",
    columns: &[
        Column::new("id", Kind::Id),
        Column::new("truck", Kind::Id),
        Column::new("number", Kind::Integer),
        Column::text("tables").personal(),
        Column::text("reason").personal(),
        Column::new("who", Kind::Id).optional(),
        Column::new("made", Kind::Time),
    ],
};

/// A customer's trucks.
///
/// # Errors
/// The database does not answer.
pub async fn trucks_of(at: &impl Reach, customer: Id<Customer>) -> Result<Vec<Truck>> {
    list(at, OF_CUSTOMER, vec![sql::text(customer)]).await
}

/// The trucks of several customers, asked for together.
///
/// # Errors
/// The database does not answer.
pub async fn trucks_of_each(at: &impl Reach, customers: &[Id<Customer>]) -> Result<Vec<Truck>> {
    let mut found = Vec::new();
    for some in customers.chunks(sql::MOST_PARAMETERS) {
        let places: Vec<String> = (1..=some.len()).map(|place| format!("${place}")).collect();
        let tail = format!("WHERE customer IN ({}) ORDER BY id", places.join(", "));
        found.extend(list(at, &tail, some.iter().map(sql::text).collect()).await?);
    }
    Ok(found)
}

/// The truck with this tag on its label, as somebody read it.
///
/// # Errors
/// There is none, or the tag was misread.
pub async fn truck_by_tag(at: &impl Reach, read: &str) -> Result<Truck> {
    let tag = tag::read(read)?;
    let found = list(at, BY_TAG, vec![sql::text(&tag)]).await?.pop();
    found.ok_or_else(|| Error::missing("truck with the tag", tag))
}

/// A truck's builds, the oldest first.
///
/// # Errors
/// The database does not answer.
pub async fn builds_of(at: &impl Reach, truck: Id<Truck>) -> Result<Vec<Build>> {
    list(at, "WHERE truck = $1 ORDER BY number", vec![sql::text(truck)]).await
}

impl Write {
    /// Keeps a new truck of a customer, with a tag that no other has.
    ///
    /// # Errors
    /// The customer is not there.
    pub async fn truck(&self, customer: Id<Customer>, name: &str) -> Result<Truck> {
        loop {
            let truck = Truck::new(self, customer, name);
            let taken = list::<Truck>(self, BY_TAG, vec![sql::text(&truck.tag)]).await?;
            if taken.is_empty() {
                return self.add(truck).await;
            }
        }
    }

    /// Keeps a build, if it says something else than the truck's last one; answers the one that now stands.
    ///
    /// # Errors
    /// The tables are no TOML, or the truck is not there.
    pub async fn build(&self, truck: Id<Truck>, tables: &str, reason: &str) -> Result<Build> {
        let builds = builds_of(self, truck).await?;
        let last = builds.last();
        if let Some(last) = last.filter(|last| last.tables == tables) {
            return Ok(last.clone());
        }
        fields(tables)?;
        let number = last.map_or(1, |last| last.number + 1);
        let (id, who, made) = (self.id(), self.acting().who, self.now());
        self.add(Build { id, truck, number, tables: tables.into(), reason: reason.into(), who, made }).await
    }
}

/// One value that differs between two builds.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Difference {
    /// Where ("gears.pinion.teeth", "joints.motor to mount.torque").
    pub key: String,
    /// What it was; none where it was not told.
    pub was: Option<String>,
    /// What it is; none where it is no longer told.
    pub is: Option<String>,
}

/// Every value that differs between two builds, by its key.
///
/// # Errors
/// One of them is no TOML.
pub fn compare(was: &Build, is: &Build) -> Result<Vec<Difference>> {
    let (was, is) = (fields(&was.tables)?, fields(&is.tables)?);
    let mut keys: Vec<&String> = was.keys().chain(is.keys()).collect();
    keys.sort();
    keys.dedup();
    let differ = keys.into_iter().filter(|key| was.get(*key) != is.get(*key));
    Ok(differ
        .map(|key| Difference { key: key.clone(), was: was.get(key).cloned(), is: is.get(key).cloned() })
        .collect())
}

/// Every value of some tables by its dotted key; entries of a list by their name.
fn fields(tables: &str) -> Result<BTreeMap<String, String>> {
    let document: DocumentMut = tables.parse().map_err(|error: toml_edit::TomlError| Error::Content {
        what: "the build's tables".into(),
        why: error.message().to_owned(),
    })?;
    let mut found = BTreeMap::new();
    for (key, item) in document.iter() {
        collect(key, item, &mut found);
    }
    Ok(found)
}

fn collect(path: &str, item: &Item, found: &mut BTreeMap<String, String>) {
    if let Some(list) = item.as_array_of_tables() {
        for (place, table) in list.iter().enumerate() {
            let name = table.get("name").and_then(Item::as_str).map_or_else(|| place.to_string(), str::to_owned);
            table.iter().for_each(|(key, item)| collect(&format!("{path}.{name}.{key}"), item, found));
        }
    } else if let Some(table) = item.as_table_like() {
        table.iter().for_each(|(key, item)| collect(&format!("{path}.{key}"), item, found));
    } else if let Some(value) = item.as_value() {
        found.insert(path.to_owned(), bare(value));
    }
}

/// The value without the blanks and comments around it.
fn bare(value: &Value) -> String {
    value.clone().decorated("", "").to_string()
}

/// The end of the question for a customer's trucks.
pub(crate) const OF_CUSTOMER: &str = "WHERE customer = $1 ORDER BY id";

/// The end of the question for the truck with a tag.
pub(crate) const BY_TAG: &str = "WHERE tag = $1";
