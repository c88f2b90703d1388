//! Pages about the whole shop.

pub(crate) mod customer;
pub(crate) mod find;
pub(crate) mod settings;
pub(crate) mod today;
