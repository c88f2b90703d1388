//! Every table that holds the shop's own data, what others point at before them.

use crate::table::Table;
use crate::{audit, bench, job, once, parts, people, priced, seen, truck};

/// The tables, in an order in which they can be filled: no row points at one of a later table, but at earlier rows of
/// its own.
pub static TABLES: [Table; 18] = [
    people::PERSON,
    people::CUSTOMER,
    truck::TRUCK,
    truck::BUILD,
    job::JOB,
    job::MOVE,
    seen::FINDING,
    seen::VERDICT,
    priced::OFFER,
    priced::LINE,
    priced::GO_AHEAD,
    bench::STINT,
    bench::SIGN_OFF,
    parts::PART,
    parts::NEED,
    parts::STOCK,
    once::FORM,
    audit::TABLE,
];
