//! Job files go in and come out without loss.

use crate::ground::on_both;
use crate::writes::now;
use std::path::{Path, PathBuf};
use toothsayer_fault_book::FaultBook;
use toothsayer_job::Job;
use toothsayer_quantity::{Currency, Money};
use toothsayer_records::{Customer, Incoming, Part, Store, Tables, builds_of, export, findings_of, with_tables};

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

/// Tables of another file stand in the place of the first's, or only where it has none.
#[track_caller]
fn check_tables(tables: Tables, expected: &str) {
    let whole =
        with_tables("[job]\ncomplaint = \"noise\"\n", "[job]\ncomplaint = \"check\"\n[shop]\n", tables).unwrap();
    assert!(whole.contains(expected) && whole.contains("[shop]"), "{whole}");
}

#[test]
fn tables_of_another_file_are_laid_in() {
    check_tables(Tables::WhereMissing, "noise");
    check_tables(Tables::InPlace, "check");
    assert!(with_tables("[job", "", Tables::InPlace).is_err());
}

const SHORT: &str = "[truck]\nname = \"Tarnhorn 6\"\nstart = \"1/6 electric 4WD\"\nmass = \"10.4 kg\"\n[battery]\ncells = 7\n\
    [motor]\nkv = \"980 rpm/V\"\n[gears]\nmodule = \"1 mm\"\npinion = { teeth = 19 }\nspur = { teeth = 53 }\n\
    [wheels]\ndiameter = \"188 mm\"\nmass = \"410 g\"\n[job]\ncomplaint = \"stripped\"\n";
const PRICED: &str = "[[shop.parts]]\npart = \"spur 53\"\nprice = \"16.90 EUR\"\n";

#[test]
fn the_lists_prices_are_told_where_the_file_has_none() {
    on_both(|store| async move {
        let book = FaultBook::built_in();
        let write = store.begin(now(0)).await.unwrap();
        let price = |minor, currency| Money { minor, currency: Currency::parse(currency).unwrap() };
        for (name, price) in
            [("pinion 19", price(1_450, "EUR")), ("spur 53", price(9_900, "EUR")), ("shim", price(1, "CHF"))]
        {
            let part = write.add(Part { lead_days: Some(4), ..Part::new(&write, name, price) }).await.unwrap();
            write.count_shelf(part.id, 2, "").await.unwrap();
        }
        let customer = write.add(Customer::new(&write, "Anna Vogel")).await.unwrap();
        let truck = write.truck(customer.id, "Tarnhorn 6").await.unwrap().id;
        let text = format!("{SHORT}{PRICED}");
        let job = write.import(Incoming { truck, comeback_of: None, text: &text, book }).await.unwrap();
        let parts = Job::parse(&export(&write, &job).await.unwrap(), book).unwrap().shop.parts;
        let told: Vec<_> = parts.iter().map(|part| (part.name.as_str(), part.price.minor, part.on_shelf)).collect();
        assert_eq!(told, [("spur 53", 1_690, None), ("pinion 19", 1_450, Some(2))]);
        assert_eq!(parts[1].lead_days, Some(4));
        // The same where the file has its parts in one line, or none.
        for (line, told) in [
            ("parts = [{ part = \"spur 53\", price = \"16.90 EUR\" }]", [("spur 53", 1_690), ("pinion 19", 1_450)]),
            ("parts = []", [("pinion 19", 1_450), ("spur 53", 9_900)]),
        ] {
            let text = format!("{SHORT}[shop]\n{line}\n");
            let job = write.import(Incoming { truck, comeback_of: None, text: &text, book }).await.unwrap();
            let parts = Job::parse(&export(&write, &job).await.unwrap(), book).unwrap().shop.parts;
            let names: Vec<_> = parts.iter().map(|part| (part.name.as_str(), part.price.minor)).collect();
            assert_eq!(names, told, "{line}");
        }
    });
}
