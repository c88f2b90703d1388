//! Every table that holds the shop's own data, what others point at before them.

use crate::table::Table;
use crate::{audit, bench, job, once, parts, people, photos, priced, seen, session, shop, token, truck};

/// The tables, in an order in which they can be filled: no row points at one of a later table, but at earlier rows of
/// its own.
pub static TABLES: [Table; 22] = [
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
    photos::PHOTO,
    photos::PHOTO_COPY,
    shop::SHOP,
    token::TOKEN,
    once::FORM,
    audit::TABLE,
];

/// Tables that are no part of an archive: what they hold passes, and a restored backup must let nobody in.
pub static PASSING: [Table; 1] = [session::SESSION];
