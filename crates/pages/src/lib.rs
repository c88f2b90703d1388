//! The bench pages: the whole job in a browser, rendered here, working without script, with nothing from elsewhere.
//!
//! No SQL and no formula: records keep, the verdict computes, these pages show and ask.

#![warn(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod app;
mod counter;
mod desk;
mod door;
mod interface;
mod job;
mod link;
mod live;
mod operation;
mod page;
mod routes;
mod server;
mod shop;

pub use app::{App, Setting};
pub use door::hosts::Hosts;
pub use operation::log::Log;
pub use routes::{Access, Route, Verb, router, routes};
pub use server::{CertificateFiles, Encryption, EncryptionError, Error, Limits, Listening, serve, serve_at};
