//! A look at the records says what stands in the file now, whatever its connection saw before.

use crate::ground::{on_sqlite, wait};
use crate::writes::{now, taken_in};
use toothsayer_records::{Customer, Store, health_of};

/// Connections that a store keeps at most.
const CONNECTIONS: usize = 8;
/// Writes within which SQLite merges its full-text index's parts and throws the old ones away, twice.
const WRITES: usize = 40;

/// Looks over every connection of the store.
async fn whole_over_every_connection(store: &Store) {
    let mut views = Vec::new();
    for _ in 0..CONNECTIONS {
        views.push(store.view().await.unwrap());
    }
    for view in &views {
        assert_eq!(health_of(view, |_| {}).await.unwrap().faults, Vec::<String>::new());
    }
}

#[test]
fn what_a_connection_saw_of_the_index_before_does_not_count_as_damage() {
    let fresh = on_sqlite();
    wait(async {
        let store = Store::open(&fresh.place).await.unwrap();
        taken_in(&store, "Jan Maas").await;
        for number in 0..WRITES {
            let write = store.begin(now(1)).await.unwrap();
            write
                .add(Customer { note: format!("told {number}"), ..Customer::new(&write, "Anna Vogel") })
                .await
                .unwrap();
            write.commit().await.unwrap();
            whole_over_every_connection(&store).await;
        }
    });
}
