//! Pages at the counter: will it hold, and a truck comes in.

pub(crate) mod answer;
pub(crate) mod ask;
pub(crate) mod facts;
mod namesakes;
pub(crate) mod take_in;
