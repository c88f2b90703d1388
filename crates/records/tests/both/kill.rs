//! A program that is killed while it writes leaves every write whole or none of it, and each that it told of is there.

use crate::ground::{Fresh, on_postgres, on_sqlite, wait};
use sea_orm::{ConnectionTrait, Statement};
use std::io::{BufRead, BufReader};
use std::process::{Command, Stdio};
use std::time::Duration;
use toothsayer_records::{JobState, Place, Reach, Store, job_by_number, latest_jobs, moves_of};

/// Rounds in a usual run and in a long one.
const ROUNDS: u64 = 10;
const LONG_ROUNDS: u64 = 200;
/// A round's longest time under load; each is another share of it.
const LONGEST_MS: u64 = 400;

fn rounds() -> u64 {
    if std::env::var_os("TOOTHSAYER_LONG").is_some() { LONG_ROUNDS } else { ROUNDS }
}

/// Writes for some time, is killed, and answers the last number that it told of.
fn killed_after(place: &str, ms: u64) -> Option<i64> {
    let program = env!("CARGO_BIN_EXE_write-under-load");
    let mut child = Command::new(program).arg(place).stdout(Stdio::piped()).spawn().unwrap();
    let mut lines = BufReader::new(child.stdout.take().unwrap()).lines();
    // The clock starts with the first write that was told of.
    let first = lines.next().map(|line| line.unwrap());
    std::thread::sleep(Duration::from_millis(ms));
    child.kill().unwrap();
    child.wait().unwrap();
    let told: Vec<String> = first.into_iter().chain(lines.map_while(Result::ok)).collect();
    told.last().map(|line| line.parse().unwrap())
}

fn address(fresh: &Fresh) -> String {
    match &fresh.place {
        Place::File(path) => path.display().to_string(),
        Place::Postgres(url) => url.clone(),
    }
}

async fn number(store: &Store, sql: &str) -> i64 {
    let statement = Statement::from_string(store.connection().get_database_backend(), sql);
    store.connection().query_one_raw(statement).await.unwrap().unwrap().try_get_by_index(0).unwrap()
}

async fn nothing_is_lost_or_half_there(store: &Store, told: i64) {
    let last = latest_jobs(store, None, 1).await.unwrap()[0].number;
    assert!(last >= told, "job {told} was told of, the last one there is {last}");
    // The number that was told last, and the write that was under way.
    for number in [told, last] {
        let job = job_by_number(store, number).await.unwrap();
        assert_eq!(job.state, JobState::LookedAt, "job {number}");
        assert_eq!(moves_of(store, job.id).await.unwrap().len(), 2, "job {number}");
    }
    assert_eq!(number(store, "SELECT COUNT(*) FROM job").await, last, "every number below is there");
    for table in ["customer", "truck", "build"] {
        assert_eq!(number(store, &format!("SELECT COUNT(*) FROM {table}")).await, last, "{table}");
    }
    assert_eq!(number(store, "SELECT COUNT(*) FROM audit").await, number(store, "SELECT MAX(step) FROM audit").await);
}

fn check(fresh: &Fresh) {
    for round in 0..rounds() {
        let told = killed_after(&address(fresh), (round * 37) % LONGEST_MS).unwrap();
        wait(async {
            let store = Store::open(&fresh.place).await.unwrap();
            nothing_is_lost_or_half_there(&store, told).await;
            if !store.is_postgres() {
                let statement =
                    Statement::from_string(store.connection().get_database_backend(), "PRAGMA integrity_check");
                let answer = store.connection().query_one_raw(statement).await.unwrap().unwrap();
                assert_eq!(answer.try_get_by_index::<String>(0).unwrap(), "ok");
            }
            store.close().await.unwrap();
        });
    }
}

#[test]
fn on_sqlite_a_killed_writer_loses_nothing_that_it_told_of() {
    check(&on_sqlite());
}

#[test]
fn on_postgresql_a_killed_writer_loses_nothing_that_it_told_of() {
    check(&on_postgres());
}
