//! Command line.

#![warn(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
fn main() {}
