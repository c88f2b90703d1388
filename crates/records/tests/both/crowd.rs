//! Eight writers of two programs at once: no update is lost, nobody waits in a circle, nobody hears "busy".

use crate::ground::on_both;
use crate::writes::{new_job, now, taken_in};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use toothsayer_records::{Job, Saved, Store, health_of, job_by_number, today};

/// Writers at once, and how often each moves one unit from one job's fee to the other's.
const WRITERS: i64 = 8;
const EACH: i64 = 8;
/// What the fees are at first; together they never change.
const FEES: [i64; 2] = [1_000, 9_000];

/// Two jobs with these fees; their numbers are 1 and 2.
async fn two_jobs(store: &Store) {
    let first = taken_in(store, "Anna Vogel").await;
    let write = store.begin(now(1)).await.unwrap();
    let second = write.take_in(new_job(first.build, None)).await.unwrap();
    for (job, fee) in [first, second].into_iter().zip(FEES) {
        write.save(Job { looking_fee: fee, ..job }).await.unwrap().saved().unwrap();
    }
    write.commit().await.unwrap();
}

/// Moves one unit as often as it has to, reading outside of the write as a page does; answers how often somebody else
/// was first. Odd writers begin with the other job: whoever locked rows one by one would wait in a circle.
async fn move_units(store: Store, writer: i64) -> i64 {
    let (mut done, mut clashes) = (0, 0);
    while done < EACH {
        let mut moved = Vec::new();
        for (number, unit) in [(1, 1), (2, -1)] {
            let job = job_by_number(&store, number).await.unwrap();
            moved.push(Job { looking_fee: job.looking_fee + unit, ..job });
        }
        if writer % 2 == 1 {
            moved.reverse();
        }
        let write = store.begin(now(2)).await.unwrap();
        let mut lost = false;
        for job in moved {
            lost |= matches!(write.save(job).await.unwrap(), Saved::Clash { .. });
        }
        if lost {
            clashes += 1;
        } else {
            write.commit().await.unwrap();
            done += 1;
        }
    }
    clashes
}

/// Reads both fees in one view, again and again: no view shows a half of a write.
async fn watch(store: Store, over: Arc<AtomicBool>) -> usize {
    let mut looks = 0;
    while !over.load(Ordering::SeqCst) {
        let view = store.view().await.unwrap();
        let mut sum = 0;
        for number in [1, 2] {
            sum += job_by_number(&view, number).await.unwrap().looking_fee;
        }
        assert_eq!(sum, FEES.iter().sum::<i64>());
        assert_eq!(today(&view, 9).await.unwrap().len(), 2);
        looks += 1;
    }
    looks
}

#[test]
fn eight_writers_of_two_programs_lose_nothing_while_others_read() {
    on_both(|store| async move {
        two_jobs(&store).await;
        let other = Store::open(store.place()).await.unwrap();
        let over = Arc::new(AtomicBool::new(false));
        let reader = tokio::spawn(watch(other.clone(), over.clone()));
        let programs = [store.clone(), other.clone()];
        let writers: Vec<_> = (0..WRITERS)
            .map(|writer| tokio::spawn(move_units(programs[usize::from(writer % 4 < 2)].clone(), writer)))
            .collect();
        let mut clashes = 0;
        for writer in writers {
            clashes += writer.await.unwrap();
        }
        over.store(true, Ordering::SeqCst);
        assert!(reader.await.unwrap() > 0 && clashes > 0, "they never met: the test shows nothing");
        for ((number, fee), unit) in [1, 2].into_iter().zip(FEES).zip([1, -1]) {
            let job = job_by_number(&store, number).await.unwrap();
            assert_eq!(job.looking_fee, fee + unit * WRITERS * EACH, "job {number}");
            assert_eq!(job.version, 2 + WRITERS * EACH, "job {number}");
        }
        let health = health_of(&store.view().await.unwrap(), |_| {}).await.unwrap();
        assert_eq!(health.faults, Vec::<String>::new());
        other.close().await.unwrap();
    });
}
