//! The pages from outside: who gets in, what is kept, what is shown, and a real browser.

mod browser;
mod doors;
mod ground;
mod job;
mod operate;
mod routes;
