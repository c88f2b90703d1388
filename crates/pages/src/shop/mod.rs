//! Pages about the whole shop.

pub(crate) mod customer;
pub(crate) mod find;
pub(crate) mod help;
pub(crate) mod orders;
pub(crate) mod part;
pub(crate) mod parts;
pub(crate) mod settings;
pub(crate) mod today;
pub(crate) mod truck;
