//! A fresh database for each test, on SQLite and on PostgreSQL.

use crate::postgres;
use std::future::Future;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU32, Ordering};
use toothsayer_records::{Place, Store};

static COUNT: AtomicU32 = AtomicU32::new(0);

/// A place that holds nothing yet.
pub struct Fresh {
    pub place: Place,
    folder: PathBuf,
}

impl Drop for Fresh {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.folder);
    }
}

fn name() -> String {
    format!("records_{}_{}", std::process::id(), COUNT.fetch_add(1, Ordering::SeqCst))
}

pub fn on_sqlite() -> Fresh {
    let folder = std::env::temp_dir().join(name());
    std::fs::create_dir_all(&folder).unwrap();
    Fresh { place: Place::File(folder.join("records.sqlite")), folder }
}

pub fn on_postgres() -> Fresh {
    Fresh { place: postgres::fresh(), folder: std::env::temp_dir().join(name()) }
}

/// Runs a test on a fresh database of each sort.
#[track_caller]
pub fn on_both<F: Future<Output = ()>>(test: impl Fn(Store) -> F) {
    for fresh in [on_sqlite(), on_postgres()] {
        wait(async {
            let store = Store::open(&fresh.place).await.unwrap();
            test(store.clone()).await;
            store.close().await.unwrap();
        });
    }
}

pub fn wait<F: Future>(future: F) -> F::Output {
    tokio::runtime::Builder::new_multi_thread().worker_threads(2).enable_all().build().unwrap().block_on(future)
}

/// The path of an SQLite place.
pub fn file(place: &Place) -> &Path {
    match place {
        Place::File(path) => path,
        Place::Postgres(url) => panic!("{url} is no file"),
    }
}
