//! Writes: nobody overwrites anybody, a form counts once, eight writers lose nothing.

use crate::ground::on_both;
use toothsayer_quantity::Currency;
use toothsayer_records::{
    Acting, Answer, Build, Customer, Error, Finding, Id, Job, JobKind, Moment, NewJob, Photo, Picture, Reach, Saved,
    Store, audit_of, find, findings_of, health_of, job_by_number, newest_change, photos_of,
};

/// Nobody of the shop, so many minutes after a morning.
pub fn now(minutes: i64) -> Acting {
    Acting { who: None, at: Moment::parse("2026-03-02T09:00:00Z").unwrap().after_minutes(minutes) }
}

pub fn new_job(build: Id<Build>, comeback_of: Option<Id<Job>>) -> NewJob {
    NewJob {
        build,
        kind: JobKind::Repair,
        complaint: "stripped".into(),
        comeback_of,
        said: "It screamed, then it stood still.".into(),
        tables: String::new(),
        currency: Currency::EUR,
        looking_fee: 2_500,
        due: None,
    }
}

/// A customer's truck, taken in.
pub async fn taken_in(store: &Store, name: &str) -> Job {
    let write = store.begin(now(0)).await.unwrap();
    let customer = write.add(Customer { phone: "030 1234567".into(), ..Customer::new(&write, name) }).await.unwrap();
    let truck = write.truck(customer.id, "Tarnhorn 6").await.unwrap();
    let build = write.build(truck.id, "[gears]\npinion.teeth = 19\n", "").await.unwrap();
    let job = write.take_in(new_job(build.id, None)).await.unwrap();
    write.commit().await.unwrap();
    job
}

#[test]
fn the_loser_of_a_race_gets_both_versions() {
    on_both(|store| async move {
        let job = taken_in(&store, "Anna Vogel").await;
        let write = store.begin(now(1)).await.unwrap();
        let first = write.save(Job { said: "It stood still.".into(), ..job.clone() }).await.unwrap().saved().unwrap();
        write.commit().await.unwrap();
        assert_eq!(first.version, 2);
        let write = store.begin(now(2)).await.unwrap();
        let mine = Job { said: "It screamed.".into(), ..job };
        assert_eq!(write.save(mine.clone()).await.unwrap(), Saved::Clash { yours: mine, theirs: first });
    });
}

#[test]
fn an_answer_is_taken_back_by_whoever_saw_it_last_and_leaves_its_photo() {
    on_both(|store| async move {
        let job = taken_in(&store, "Anna Vogel").await;
        let write = store.begin(now(1)).await.unwrap();
        let answer = Finding { note: "slots worn".into(), ..Finding::new(&write, job.id, "motor-rocks", Answer::Yes) };
        let answer = write.add(answer).await.unwrap();
        let photo = write.keep_photo(Picture::read(&crate::photos::png([40, 30])).unwrap(), "the mount").await.unwrap();
        let photo = write.save(Photo { job: Some(job.id), finding: Some(answer.id), ..photo }).await.unwrap();
        let changed = write.save(Finding { answer: Answer::No, ..answer.clone() }).await.unwrap().saved().unwrap();
        let clash = write.take_back(&answer).await.unwrap();
        assert_eq!(clash, Saved::Clash { yours: answer, theirs: changed.clone() });
        assert_eq!(write.take_back(&changed).await.unwrap(), Saved::Saved(changed.clone()));
        write.commit().await.unwrap();
        assert_eq!(findings_of(&store, job.id).await.unwrap(), []);
        let left = photos_of(&store, job.id).await.unwrap();
        assert_eq!((left[0].id, left[0].finding), (photo.saved().unwrap().id, None));
        assert!(find(&store, "slots", 9).await.unwrap().is_empty(), "its words are no longer found");
        let told = audit_of(&store, &changed.id.to_string()).await.unwrap();
        assert_eq!(told.last().unwrap().act, "taken back");
        assert_eq!(health_of(&store.view().await.unwrap(), |_| {}).await.unwrap().faults, Vec::<String>::new());
    });
}

#[test]
fn every_change_counts_and_looking_does_not() {
    on_both(|store| async move {
        assert_eq!(newest_change(&store).await.unwrap(), 0);
        let job = taken_in(&store, "Anna Vogel").await;
        let before = newest_change(&store).await.unwrap();
        assert_eq!(newest_change(&store).await.unwrap(), before);
        let write = store.begin(now(1)).await.unwrap();
        write.add(Finding::new(&write, job.id, "motor-rocks", Answer::Yes)).await.unwrap();
        write.commit().await.unwrap();
        assert_eq!(newest_change(&store).await.unwrap(), before + 1);
    });
}

#[test]
fn a_form_that_is_sent_twice_counts_once() {
    on_both(|store| async move {
        let key = "form-0001";
        for time in 0..2 {
            let write = store.begin(now(time)).await.unwrap();
            match write.first_time(key, b"name=Anna").await.unwrap() {
                Some(answer) => assert_eq!((time, answer), (1, serde_json::json!("kept"))),
                None => {
                    assert_eq!(time, 0);
                    write.was_done(key, b"name=Anna", serde_json::json!("kept")).await.unwrap();
                }
            }
            write.commit().await.unwrap();
        }
        let write = store.begin(now(3)).await.unwrap();
        let other = write.first_time(key, b"name=Jan").await.unwrap_err();
        assert_eq!(other, Error::OtherForm { key: key.into() });
    });
}

#[test]
fn the_audit_trail_tells_what_changed_and_nothing_of_people() {
    on_both(|store| async move {
        let job = taken_in(&store, "Anna Vogel").await;
        let write = store.begin(now(1)).await.unwrap();
        write.save(Job { looking_fee: 3_000, said: "secret".into(), ..job.clone() }).await.unwrap().saved().unwrap();
        write.commit().await.unwrap();
        let trail = audit_of(&store, &job.id.to_string()).await.unwrap();
        assert_eq!(trail[1].what, serde_json::json!({ "looking_fee": [2_500, 3_000], "said": true }));
        assert!(!serde_json::to_string(&trail).unwrap().contains("screamed"));
    });
}

/// Writers at once, and what each writes.
const WRITERS: i64 = 8;
const EACH: i64 = 25;

#[test]
fn eight_writers_on_one_job_lose_no_update() {
    on_both(|store| async move {
        let job = taken_in(&store, "Anna Vogel").await;
        let writers: Vec<_> = (0..WRITERS).map(|_| tokio::spawn(raise(store.clone(), job.number))).collect();
        let mut clashes = 0;
        for writer in writers {
            clashes += writer.await.unwrap();
        }
        let last = job_by_number(&store, job.number).await.unwrap();
        assert_eq!(last.looking_fee, job.looking_fee + WRITERS * EACH);
        assert_eq!(last.version, 1 + WRITERS * EACH);
        assert!(clashes > 0, "the writers never met: the test shows nothing");
    });
}

/// Adds one to a job's looking fee, as often as it has to, reading outside of the write as a page does.
async fn raise(store: Store, number: i64) -> i64 {
    let (mut done, mut clashes) = (0, 0);
    while done < EACH {
        let read = job_by_number(&store, number).await.unwrap();
        let write = store.begin(now(1)).await.unwrap();
        match write.save(Job { looking_fee: read.looking_fee + 1, ..read }).await.unwrap() {
            Saved::Saved(_) => {
                write.commit().await.unwrap();
                done += 1;
            }
            Saved::Clash { .. } => clashes += 1,
        }
    }
    clashes
}

#[test]
fn eight_writers_on_many_jobs_get_numbers_without_gap_or_twin() {
    on_both(|store| async move {
        let writers: Vec<_> = (0..WRITERS)
            .map(|writer| {
                let store = store.clone();
                tokio::spawn(async move {
                    let mut numbers = Vec::new();
                    for _ in 0..5 {
                        numbers.push(taken_in(&store, &format!("Customer {writer}")).await.number);
                    }
                    numbers
                })
            })
            .collect();
        let mut numbers = Vec::new();
        for writer in writers {
            numbers.extend(writer.await.unwrap());
        }
        numbers.sort_unstable();
        assert_eq!(numbers, (1..=WRITERS * 5).collect::<Vec<_>>());
    });
}

#[test]
fn what_is_not_there_is_told() {
    on_both(|store| async move {
        let error = job_by_number(&store, 7).await.unwrap_err();
        assert_eq!(error.to_string(), "there is no job 7");
        assert!(store.get(Id::<Customer>::new(Moment::now())).await.is_err());
    });
}

#[test]
fn several_records_come_in_the_order_asked_for_and_one_that_is_not_there_is_told() {
    on_both(|store| async move {
        let (first, second) = (taken_in(&store, "Anna Vogel").await, taken_in(&store, "Bertil Quist").await);
        let asked = [second.id, first.id, second.id];
        let found: Vec<Id<Job>> = store.several(&asked).await.unwrap().iter().map(|job| job.id).collect();
        assert_eq!(found, asked);
        assert!(store.several::<Job>(&[]).await.unwrap().is_empty());
        let strange = Id::<Job>::new(Moment::now());
        let error = store.several(&[first.id, strange]).await.unwrap_err();
        assert_eq!(error.to_string(), format!("there is no job {strange}"));
    });
}
