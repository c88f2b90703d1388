//! Job files go in and come out without loss.

use crate::ground::on_both;
use crate::writes::now;
use std::path::{Path, PathBuf};
use toothsayer_fault_book::FaultBook;
use toothsayer_job::Job;
use toothsayer_records::{Customer, Incoming, Store, builds_of, export, findings_of};

fn examples() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    let mut paths: Vec<PathBuf> = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.retain(|path| path.extension().is_some_and(|ending| ending == "toml"));
    paths.sort();
    assert!(paths.len() >= 8, "only {} examples", paths.len());
    paths
}

/// The file comes back with the same meaning, and taken in again makes no other build.
async fn check(store: &Store, path: &Path) {
    let (book, text) = (FaultBook::built_in(), std::fs::read_to_string(path).unwrap());
    let write = store.begin(now(0)).await.unwrap();
    let customer = write.add(Customer::new(&write, "Anna Vogel")).await.unwrap();
    let truck = write.truck(customer.id, "Tarnhorn 6").await.unwrap().id;
    let job = write.import(Incoming { truck, comeback_of: None, text: &text, book }).await.unwrap();
    let out = export(&write, &job).await.unwrap();
    let [was, is] = [&text, &out].map(|text| format!("{:?}", Job::parse(text, book).unwrap()));
    assert_eq!(was, is, "{}", path.display());
    write.import(Incoming { truck, comeback_of: Some(job.id), text: &out, book }).await.unwrap();
    assert_eq!(builds_of(&write, truck).await.unwrap().len(), 1, "{}:\n{out}", path.display());
    let read = Job::parse(&text, book).unwrap();
    assert_eq!(findings_of(&write, job.id).await.unwrap().len(), read.findings.len());
    write.commit().await.unwrap();
}

#[test]
fn every_example_comes_back_without_loss() {
    on_both(|store| async move {
        for path in examples() {
            check(&store, &path).await;
        }
    });
}

#[test]
fn a_file_that_is_no_job_leaves_nothing_behind() {
    on_both(|store| async move {
        let job = crate::writes::taken_in(&store, "Anna Vogel").await;
        let write = store.begin(now(1)).await.unwrap();
        let incoming = Incoming { truck: job.truck, comeback_of: None, text: "[truck\n", book: FaultBook::built_in() };
        assert!(write.import(incoming).await.is_err());
        assert_eq!(builds_of(&write, job.truck).await.unwrap().len(), 1);
    });
}
