//! The bench pages: the whole job in a browser, rendered here, working without script, with nothing from elsewhere.
//!
//! No SQL and no formula: records keep, the verdict computes, these pages show and ask.

#![warn(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod app;
mod assets;
mod bench;
mod cookie;
mod customer;
mod desk;
mod drawing;
mod facts;
mod find;
mod finding;
mod first_run;
mod guard;
mod hosts;
mod html;
mod lead;
mod limiter;
mod opinion;
mod parts;
mod password;
mod people;
mod routes;
mod server;
mod shell;
mod sign_in;
mod take_in;
mod today;
mod trouble;
mod verdict;
mod words;

pub use app::{App, Setting};
pub use hosts::Hosts;
pub use routes::{Access, Route, Verb, router, routes};
pub use server::{Error, serve};
