//! The pages from outside: who gets in, what is kept, what is shown, and a real browser.

mod browser;
mod build;
mod deal;
mod decide;
mod decide_counter;
mod decide_hold;
mod doors;
mod encryption;
mod forms;
mod ground;
mod hand_over;
mod help;
mod interface;
mod job;
mod link;
mod numbers;
mod operate;
mod parts;
mod photos;
#[path = "../../../records/tests/both/postgres.rs"]
mod postgres;
mod routes;
mod serving;
mod settings;
mod take_in;
mod work;
