//! Pages about the whole shop.

pub(crate) mod customer;
pub(crate) mod find;
pub(crate) mod today;
