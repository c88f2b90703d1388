//! The shop's interface for programs: JSON by a token, the same deeds as the pages, described by itself.

pub(crate) mod description;
pub(crate) mod findings;
pub(crate) mod jobs;
pub(crate) mod problem;
pub(crate) mod sent;
pub(crate) mod verdict;
