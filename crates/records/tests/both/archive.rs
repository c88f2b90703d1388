//! The whole shop out of one database and into the other; damaged and hostile archives change nothing.

use crate::ground::{on_both, on_postgres, on_sqlite, wait};
use crate::writes::taken_in;
use std::io::Cursor;
use toothsayer_records::{Error, Store, check_archive, find, latest_jobs, restore, write_archive};

pub async fn archive(store: &Store) -> Vec<u8> {
    let mut out = Vec::new();
    write_archive(&store.view().await.unwrap(), &mut out, |_| {}).await.unwrap();
    out
}

#[test]
fn a_shop_moves_from_sqlite_to_postgresql_and_back() {
    let (here, there, back) = (on_sqlite(), on_postgres(), on_sqlite());
    wait(async {
        let store = Store::open(&here.place).await.unwrap();
        for name in ["Anna Vogel", "Jan Maas"] {
            taken_in(&store, name).await;
        }
        let first = archive(&store).await;
        for place in [&there.place, &back.place] {
            let store = Store::open(place).await.unwrap();
            let rows = restore(&store, &mut Cursor::new(&first), |_| {}).await.unwrap();
            assert!(rows > 10, "{rows}");
            assert!(archive(&store).await == first, "{place} gives back something else");
            assert_eq!(find(&store, "vogle", 9).await.unwrap().len(), 1, "the index is there too");
        }
    });
}

#[test]
fn records_that_hold_something_are_not_written_over() {
    on_both(|store| async move {
        taken_in(&store, "Anna Vogel").await;
        let full = archive(&store).await;
        let refused = restore(&store, &mut Cursor::new(&full), |_| {}).await.unwrap_err();
        assert_eq!(refused, Error::NotEmpty { one: "customer" });
        assert!(archive(&store).await == full);
    });
}

#[test]
fn damaged_archives_are_refused_and_nothing_is_changed() {
    let (here, there) = (on_sqlite(), on_sqlite());
    wait(async {
        let store = Store::open(&here.place).await.unwrap();
        taken_in(&store, "Anna Vogel").await;
        let good = archive(&store).await;
        let empty = Store::open(&there.place).await.unwrap();
        for place in (0..good.len()).step_by(97) {
            let mut flipped = good.clone();
            flipped[place] ^= 1;
            for bad in [&flipped, &good[..place].to_vec()] {
                assert!(restore(&empty, &mut Cursor::new(bad), |_| {}).await.is_err(), "byte {place}");
            }
        }
        assert!(latest_jobs(&empty, None, 9).await.unwrap().is_empty());
        restore(&empty, &mut Cursor::new(&good), |_| {}).await.unwrap();
    });
}

#[test]
fn strangers_are_told_what_is_wrong() {
    for (text, told) in [
        ("", "cut short"),
        ("hello\n", "none of this format"),
        ("{\"format\":\"toothsayer-records\",\"version\":2,\"schema\":1}\n", "version 2"),
        ("{\"format\":\"toothsayer-records\",\"version\":1,\"schema\":999}\n", "newer"),
        ("{\"format\":\"toothsayer-records\",\"version\":1,\"schema\":1}\n{\"table\":\"../../etc\"}\n", "no table"),
        ("{\"format\":\"toothsayer-records\",\"version\":1,\"schema\":1}\n{\"id\":1}\n", "before its table"),
    ] {
        let error = check_archive(&mut Cursor::new(text), |_| {}).unwrap_err().to_string();
        assert!(error.contains(told), "{text}: {error}");
    }
}
