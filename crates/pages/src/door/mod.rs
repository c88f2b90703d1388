//! The shop's door: who signs in, by what, and who may do what.

pub(crate) mod cookie;
pub(crate) mod first_run;
pub(crate) mod guard;
pub(crate) mod hosts;
pub(crate) mod limiter;
pub(crate) mod own_account;
pub(crate) mod password;
pub(crate) mod people;
pub(crate) mod person;
pub(crate) mod sign_in;
pub(crate) mod tokens;
pub(crate) mod way_in;
