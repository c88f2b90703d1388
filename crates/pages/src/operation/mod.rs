//! Running the pages: whether they are well, what they do in numbers, and a line for each request.

pub(crate) mod exposition;
pub(crate) mod health;
pub(crate) mod log;
pub(crate) mod metrics;
pub(crate) mod watch;
