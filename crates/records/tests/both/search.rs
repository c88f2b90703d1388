//! Finding again, on both databases alike.

use crate::ground::on_both;
use crate::writes::{now, taken_in};
use toothsayer_records::{Answer, Customer, Finding, Reach, Store, Subject, find};

/// The question finds these subjects, in any order.
async fn check(store: &Store, question: &str, expected: &[Subject]) {
    let found: Vec<Subject> = find(store, question, 20).await.unwrap().iter().map(|hit| hit.subject).collect();
    let both = expected.iter().all(|subject| found.contains(subject)) && found.len() == expected.len();
    assert!(both, "{question}: {found:?}, not {expected:?}");
}

#[test]
fn customers_trucks_and_jobs_are_found_by_words_fragments_and_slips() {
    on_both(|store| async move {
        let job = taken_in(&store, "Anna Vögel-Østby").await;
        let truck = store.get(job.truck).await.unwrap();
        let write = store.begin(now(1)).await.unwrap();
        let finding = Finding { note: "slots worn".into(), ..Finding::new(&write, job.id, "motor-rocks", Answer::Yes) };
        write.add(finding).await.unwrap();
        write.commit().await.unwrap();
        let customer = Subject::Customer(truck.customer);
        let (truck_found, job_found) = (Subject::Truck(truck.id), Subject::Job(job.id));
        for question in ["vogel", "VÖGEL anna", "vog", "vogle", "vgel", "030/12 345", "2345", "+49 30 1234567"] {
            check(&store, question, &[customer]).await;
        }
        for question in ["tarnhorn", "tarnhron", &truck.tag.to_string().to_lowercase()] {
            check(&store, question, &[truck_found]).await;
        }
        for question in ["screamed", "scremed still", "motor rocks", "slots", "worn motor"] {
            check(&store, question, &[job_found]).await;
        }
        for question in ["", "  ", "zzzz", "anna tarnhorn", "\" OR *", "') | ("] {
            check(&store, question, &[]).await;
        }
    });
}

#[test]
fn a_changed_name_is_found_and_the_old_one_is_forgotten() {
    on_both(|store| async move {
        let job = taken_in(&store, "Anna Vogel").await;
        let truck = store.get(job.truck).await.unwrap();
        let write = store.begin(now(1)).await.unwrap();
        let customer = write.get(truck.customer).await.unwrap();
        write.save(Customer { name: "Anna Brandt".into(), ..customer }).await.unwrap().saved().unwrap();
        write.commit().await.unwrap();
        check(&store, "brandt", &[Subject::Customer(truck.customer)]).await;
        check(&store, "vogel", &[]).await;
    });
}
