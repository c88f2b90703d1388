//! The schema: up, down and up again; as the tables' rows say; with the life cycle that the program knows.

use crate::ground::{on_both, on_postgres, on_sqlite, wait};
use sea_orm::{ConnectionTrait, DbBackend, Statement};
use std::collections::BTreeSet;
use toothsayer_records::{Error, JobState, LATEST, Reach, Store, TABLES, migrate_to, schema_of};

async fn rows(store: &Store, sql: &str) -> Vec<sea_orm::QueryResult> {
    let statement = Statement::from_string(store.connection().get_database_backend(), sql);
    store.connection().query_all_raw(statement).await.unwrap()
}

#[test]
fn every_migration_runs_up_down_and_up_again() {
    on_both(|store| async move {
        for step in (0..LATEST).rev().chain(1..=LATEST) {
            migrate_to(&store, step).await.unwrap();
            assert_eq!(schema_of(&store).await.unwrap(), step);
        }
    });
}

#[test]
fn the_tables_are_as_their_rows_say() {
    on_both(|store| async move {
        for table in &TABLES {
            let sqlite = store.connection().get_database_backend() == DbBackend::Sqlite;
            let name = table.name;
            let sql = if sqlite {
                format!("SELECT name FROM pragma_table_info('{name}')")
            } else {
                format!("SELECT CAST(column_name AS TEXT) FROM information_schema.columns WHERE table_name = '{name}'")
            };
            let found: BTreeSet<String> =
                rows(&store, &sql).await.iter().map(|row| row.try_get_by_index(0).unwrap()).collect();
            let known: BTreeSet<String> = table.columns.iter().map(|column| column.name.to_owned()).collect();
            assert_eq!(found, known, "{name}");
        }
    });
}

#[test]
fn the_database_knows_the_same_life_cycle() {
    on_both(|store| async move {
        let pairs = rows(&store, "SELECT from_state, to_state FROM life_cycle WHERE from_state <> ''").await;
        let found: BTreeSet<(String, String)> =
            pairs.iter().map(|row| (row.try_get_by_index(0).unwrap(), row.try_get_by_index(1).unwrap())).collect();
        let known = JobState::ALL
            .iter()
            .flat_map(|from| from.next().iter().map(|to| (from.word().to_owned(), to.word().to_owned())));
        assert_eq!(found, known.collect());
    });
}

#[test]
fn records_of_a_newer_program_are_refused_with_what_to_do() {
    for fresh in [on_sqlite(), on_postgres()] {
        wait(async {
            let store = Store::open(&fresh.place).await.unwrap();
            let sql = format!("INSERT INTO schema_step (step, name) VALUES ({}, 'later')", LATEST + 1);
            store.connection().execute_unprepared(&sql).await.unwrap();
            store.close().await.unwrap();
            let error = Store::open(&fresh.place).await.err().unwrap();
            assert_eq!(error, Error::NewerSchema { found: LATEST + 1, known: LATEST });
            assert!(error.hint().contains("newer program"), "{}", error.hint());
        });
    }
}

#[test]
fn a_file_that_is_no_database_is_told_so_and_left_as_it_is() {
    let fresh = on_sqlite();
    let path = crate::ground::file(&fresh.place).to_owned();
    let text = "these are no records, however long one looks at them. ".repeat(200);
    std::fs::write(&path, &text).unwrap();
    let error = wait(Store::open(&fresh.place)).err().unwrap();
    assert!(matches!(error, Error::Damaged { .. }), "{error:?}");
    assert_eq!(std::fs::read_to_string(&path).unwrap(), text);
}
