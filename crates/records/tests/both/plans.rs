//! No question that is asked again and again reads a whole table.

use crate::ground::{on_both, on_sqlite, wait};
use sea_orm::ConnectionTrait;
use toothsayer_records::{HotPath, Reach, Store, hot_paths, plan_of};

/// A handful of rows of one job may be sorted; where only the first of many are asked for, all would be.
fn sorts_all(path: &HotPath, step: &str) -> bool {
    path.sql.contains("LIMIT") && step.contains("USE TEMP B-TREE FOR ORDER BY")
}

/// What SQLite (its page "EXPLAIN QUERY PLAN") and PostgreSQL (chapter "Using EXPLAIN") call reading a whole table.
fn reads_all(step: &str) -> bool {
    let indexed =
        step.contains("USING INDEX") || step.contains("USING COVERING INDEX") || step.contains("VIRTUAL TABLE");
    step.contains("Seq Scan") || (step.contains("SCAN ") && !indexed)
}

#[test]
fn hot_paths_go_by_an_index_on_both_databases() {
    on_both(|store| async move {
        let view = store.view().await.unwrap();
        if store.is_postgres() {
            // Of an empty table PostgreSQL reads all gladly: it is asked whether it could do otherwise.
            view.connection().execute_unprepared("SET LOCAL enable_seqscan = off").await.unwrap();
        }
        let paths = hot_paths(&view);
        assert!(paths.len() > 15);
        for path in paths {
            let plan = plan_of(&view, &path).await.unwrap();
            assert!(!plan.is_empty(), "{}", path.name);
            assert!(!plan.iter().any(|step| reads_all(step) || sorts_all(&path, step)), "{}: {plan:?}", path.name);
        }
    });
}

#[test]
fn the_test_of_plans_can_fail() {
    let fresh = on_sqlite();
    wait(async {
        let store = Store::open(&fresh.place).await.unwrap();
        let mut path = hot_paths(&store).remove(0);
        path.sql = "SELECT id FROM job WHERE said = $1 ORDER BY complaint".into();
        let plan = plan_of(&store, &path).await.unwrap();
        assert!(plan.iter().any(|step| reads_all(step)), "{plan:?}");
    });
}
