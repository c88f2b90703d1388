//! Drawings held against what they show.

#![expect(clippy::unwrap_used, clippy::panic, reason = "a test's helper fails by panicking")]

mod builds;
mod gallery;
mod golden;
mod kinds;
mod labels;
mod looks;
mod read;
mod scale;
mod speed;
