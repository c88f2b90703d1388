//! The records on both databases: every test runs on SQLite and on PostgreSQL, each on a database of its own.

mod archive;
mod crowd;
mod doors;
mod erase;
mod ground;
mod health;
mod hostile;
mod job_file;
mod jobs;
mod kill;
mod model;
mod parts;
mod photos;
mod plans;
mod postgres;
mod schema;
mod search;
mod trouble;
mod upgrade;
mod whole;
mod writes;
