//! The shop's memory: customers, trucks, jobs and all that belongs to them, on SQLite or PostgreSQL.

#![warn(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod archive;
mod audit;
mod bench;
mod csv;
mod customer_data;
mod erase;
mod error;
mod flat;
mod forgettable;
mod hangs;
mod health;
mod id;
mod job;
mod job_file;
mod life_cycle;
mod migrate;
mod minutes;
mod moment;
mod once;
mod parts;
mod people;
mod photos;
mod place;
mod plans;
mod priced;
mod reach;
mod record;
mod row;
mod search;
mod secret;
mod seen;
mod session;
mod shop;
mod sql;
mod store;
mod table;
mod tables;
mod tag;
mod token;
mod truck;
mod wall_clock;
mod write;

pub use archive::{check_archive, restore, restore_in_place, rows_in, write_archive};
pub use audit::{AuditEntry, audit_of, newest_change};
pub use bench::{SignOff, Signed, Stint, clocks_of, sign_offs_of, stints_of};
pub use csv::{order_csv, write_csv};
pub use customer_data::data_of;
pub use erase::{Erased, erase};
pub use error::{Error, Result};
pub use health::{Health, health_of};
pub use id::Id;
pub use job::{
    Earlier, Job, JobKind, Move, NewJob, comeback_of, job_by_number, jobs_of, latest_jobs, moves_of, risen, today,
};
pub use job_file::{Incoming, Tables, export, told_file, with_tables};
pub use life_cycle::{Facts, JobState, Refusal, Word, step};
pub use migrate::{LATEST, Migration, migrate_to, migrations, schema_of};
pub use minutes::{Minutes, minutes_by_step, minutes_of};
pub use moment::Moment;
pub use once::form_key;
pub use parts::{
    Advice, Gear, KeptGear, Measures, Need, NeedState, ORDER_COLUMNS, OrderLine, Part, PartRefusal, PickLine, Short,
    Stock, StockChange, differences, every_part, needs_for, needs_of, needs_ordered, on_shelf, order_list, parts_named,
    pick_list, shelves, stock_of, wanted_gear,
};
pub use people::{Customer, Deed, Person, Role, customers_named, everybody};
pub use photos::{
    LARGEST_PHOTO, MOST_PIXELS, Photo, PhotoMoment, Picture, Scale, photo_bytes, photos_of, unfiled_photos,
};
pub use place::Place;
pub use plans::{HotPath, hot_paths, plan_of};
pub use priced::{
    Channel, GoAhead, Line, LineKind, Offer, OfferAnswer, go_aheads_of, lines_of, offers_of, owed, price_of,
};
pub use reach::Reach;
pub use record::{Record, Saved};
pub use search::{Hit, Subject, find};
pub use secret::Secret;
pub use seen::{Answer, Finding, Verdict, findings_of, verdicts_of};
pub use session::{Session, session_of, sessions_of};
pub use shop::{Shop, Units, shop_of};
pub use store::{Store, View};
pub use table::{Column, Kind, Table};
pub use tables::{PASSING, TABLES};
pub use tag::{Tag, read as read_tag};
pub use token::{Token, TokenKind, links_of, program_tokens, token_of};
pub use truck::{Build, Difference, Truck, builds_of, compare, truck_by_tag, trucks_of, trucks_of_each};
pub use wall_clock::WallClock;
pub use write::{Acting, Write};
