//! Which rows hang on a customer: told by the columns that a table has, so that no later table is forgotten.

use crate::table::Table;

/// What follows WHERE in a question for the table's rows of the customer `$1`; none where none hang on one.
pub(crate) fn of_customer(table: &Table) -> Option<&'static str> {
    let has = |name: &str| table.columns.iter().any(|column| column.name == name);
    if table.name == "customer" {
        return Some("id = $1");
    }
    let ways = [
        ("customer", "customer = $1"),
        ("truck", "truck IN (SELECT id FROM truck WHERE customer = $1)"),
        ("job", "job IN (SELECT job.id FROM job JOIN truck ON truck.id = job.truck WHERE truck.customer = $1)"),
        (
            "need",
            "need IN (SELECT need.id FROM need JOIN job ON job.id = need.job JOIN truck ON truck.id = job.truck \
             WHERE truck.customer = $1)",
        ),
        (
            "photo",
            "photo IN (SELECT photo.id FROM photo JOIN job ON job.id = photo.job JOIN truck ON truck.id = job.truck \
             WHERE truck.customer = $1)",
        ),
    ];
    ways.into_iter().find(|(column, _)| has(column)).map(|(_, way)| way)
}
