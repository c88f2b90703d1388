//! Pages that stay open: told when the records changed, so that two people at one job see each other's answers.

pub(crate) mod changes;
