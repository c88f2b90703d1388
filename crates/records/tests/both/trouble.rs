//! A full disk and a database that goes away: told clearly, nothing damaged, and the same program goes on afterwards.

use crate::archive::archive;
use crate::ground::{on_both, on_postgres, on_sqlite, wait};
use crate::postgres::Server;
use crate::writes::{now, taken_in};
use sea_orm::ConnectionTrait;
use std::time::{Duration, Instant};
use toothsayer_records::{Customer, Error, Place, Reach, Store, health_of, latest_jobs, write_archive};

/// Longest that somebody waits before they are told that the database is gone: connecting is tried for 5 s, and a
/// busy machine of two cores may be slow.
const PATIENCE: Duration = Duration::from_secs(20);

/// Connections that a store keeps at most; a limit of SQLite's belongs to one of them.
const CONNECTIONS: usize = 8;

async fn whole(store: &Store) {
    let health = health_of(&store.view().await.unwrap(), |_| {}).await.unwrap();
    assert_eq!(health.faults, Vec::<String>::new());
}

/// Sends a statement to every connection of the store.
async fn to_all(store: &Store, statement: &str) {
    let mut views = Vec::new();
    for _ in 0..CONNECTIONS {
        views.push(store.view().await.unwrap());
    }
    for view in &views {
        view.connection().execute_unprepared(statement).await.unwrap();
    }
}

/// Writes large notes until it goes wrong; answers how many were kept, and what went wrong.
async fn fill(store: &Store) -> (usize, Error) {
    for kept in 0..500 {
        let write = store.begin(now(1)).await.unwrap();
        let customer = Customer { note: format!("{kept} ").repeat(10_000), ..Customer::new(&write, "Anna Vogel") };
        let done = async {
            write.add(customer).await?;
            write.commit().await
        };
        if let Err(error) = done.await {
            return (kept, error);
        }
    }
    panic!("the disk never was full");
}

#[test]
fn a_full_disk_under_sqlite_is_told_and_what_was_saved_stays() {
    let fresh = on_sqlite();
    wait(async {
        let store = Store::open(&fresh.place).await.unwrap();
        let job = taken_in(&store, "Jan Maas").await;
        // SQLite answers a file that may not grow as it answers a disk that is full: SQLITE_FULL.
        to_all(&store, "PRAGMA max_page_count = 300").await;
        let (kept, error) = fill(&store).await;
        assert!(kept > 0 && matches!(error, Error::Full { .. }), "{kept}: {error:?}");
        assert!(error.hint().contains("what was saved before is there"), "{}", error.hint());
        whole(&store).await;
        to_all(&store, "PRAGMA max_page_count = 1000000").await;
        taken_in(&store, "Jan Maas").await;
        assert_eq!(latest_jobs(&store, None, 9).await.unwrap().last(), Some(&job));
        whole(&store).await;
    });
}

#[test]
fn a_full_disk_under_postgresql_is_told_and_what_was_saved_stays() {
    let fresh = on_postgres();
    wait(async {
        let store = Store::open(&fresh.place).await.unwrap();
        // The server's own answer to a full disk: SQLSTATE 53100 of its manual's appendix A.
        for statement in [
            "CREATE FUNCTION full_disk() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN \
             IF (SELECT COUNT(*) FROM customer) >= 3 THEN RAISE EXCEPTION USING ERRCODE = '53100', \
             MESSAGE = 'could not extend file: No space left on device'; END IF; RETURN NEW; END $$",
            "CREATE TRIGGER full_disk BEFORE INSERT ON customer FOR EACH ROW EXECUTE FUNCTION full_disk()",
        ] {
            store.connection().execute_unprepared(statement).await.unwrap();
        }
        let (kept, error) = fill(&store).await;
        assert!(kept == 3 && matches!(error, Error::Full { .. }), "{kept}: {error:?}");
        store.connection().execute_unprepared("DROP TRIGGER full_disk ON customer").await.unwrap();
        taken_in(&store, "Jan Maas").await;
        whole(&store).await;
    });
}

#[cfg(target_os = "linux")]
#[test]
fn a_backup_onto_a_full_disk_is_told() {
    on_both(|store| async move {
        taken_in(&store, "Anna Vogel").await;
        let mut full = std::fs::OpenOptions::new().write(true).open("/dev/full").unwrap();
        let error = write_archive(&store.view().await.unwrap(), &mut full, |_| {}).await.unwrap_err();
        assert!(matches!(error, Error::Full { .. }), "{error:?}");
        whole(&store).await;
    });
}

#[track_caller]
fn gone(asked: Instant, error: &Error) {
    assert!(matches!(error, Error::Unreachable { .. }), "{error:?}");
    assert!(error.hint().contains("is the database running"), "{}", error.hint());
    assert!(asked.elapsed() < PATIENCE, "told after {:?}", asked.elapsed());
}

#[test]
fn a_postgresql_that_goes_away_is_told_and_found_again() {
    let mut server = Server::start();
    let place = Place::parse(&format!("{}/postgres", server.url)).unwrap();
    wait(async {
        let store = Store::open(&place).await.unwrap();
        taken_in(&store, "Anna Vogel").await;
        let before = archive(&store).await;
        // One write is under way when the server falls.
        let write = store.begin(now(1)).await.unwrap();
        write.add(Customer::new(&write, "Jan Maas")).await.unwrap();
        server.tell("stop");
        let asked = Instant::now();
        gone(asked, &write.commit().await.unwrap_err());
        let asked = Instant::now();
        gone(asked, &latest_jobs(&store, None, 9).await.unwrap_err());
        let asked = Instant::now();
        gone(asked, &store.begin(now(2)).await.err().unwrap());
        server.tell("start");
        assert!(archive(&store).await == before, "nothing of the broken write, everything of the one before");
        taken_in(&store, "Jan Maas").await;
        whole(&store).await;
    });
}
