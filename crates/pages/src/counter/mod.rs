//! Pages at the counter: a truck comes in.

pub(crate) mod facts;
pub(crate) mod take_in;
