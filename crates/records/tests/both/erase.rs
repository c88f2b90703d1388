//! A customer's data handed out, and erased: no word of them is left anywhere, and the jobs stay.

use crate::archive::archive;
use crate::ground::{Fresh, on_postgres, on_sqlite, wait};
use crate::writes::{new_job, now, taken_in};
use sea_orm::ConnectionTrait;
use toothsayer_fault_book::FaultBook;
use toothsayer_quantity::{Currency, Money};
use toothsayer_records::{
    Answer, Channel, Customer, Error, Finding, GoAhead, Id, Incoming, Job, JobState, Line, LineKind, Need, NeedState,
    Part, Person, Photo, Picture, Reach, Role, Saved, Store, Verdict, Write, data_of, erase, export, find, health_of,
    job_by_number, links_of, needs_of, photos_of,
};

/// Stands in every text that somebody can write about a customer.
const WORDS: [&str; 11] = [
    "Zwiebelfisch",
    "0301928374",
    "zwiebel@example.org",
    "Quittenweg",
    "Nachbarin",
    "Blitz",
    "Heuboden",
    "Plauderei",
    "Stimme",
    "Randnotiz",
    "Sonderwunsch",
];

/// A customer with something in every column that may tell of them.
async fn customer(store: &Store) -> (Id<Customer>, Job) {
    let write = store.begin(now(0)).await.unwrap();
    let person = write.add(Person::new(&write, "Jan Maas", Role::Technician)).await.unwrap();
    write.commit().await.unwrap();
    let write = store.begin(toothsayer_records::Acting { who: Some(person.id), ..now(1) }).await.unwrap();
    let customer = Customer {
        phone: "0301928374".into(),
        email: "zwiebel@example.org".into(),
        address: "Quittenweg 7".into(),
        note: "the Nachbarin fetches it".into(),
        ..Customer::new(&write, "Zwiebelfisch")
    };
    let customer = write.add(customer).await.unwrap().id;
    let truck = write.truck(customer, "Blitz").await.unwrap().id;
    let text = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/tarnhorn.toml")).unwrap();
    let text = text.replace("name = \"Tarnhorn 6\"", "name = \"Blitz\" # stands in the Heuboden");
    let incoming = Incoming { truck, comeback_of: None, text: &text, book: FaultBook::built_in() };
    let job = write.import(incoming).await.unwrap();
    let job = around(&write, job).await;
    write.commit().await.unwrap();
    (customer, job)
}

/// What hangs on the job.
async fn around(write: &Write, job: Job) -> Job {
    let said = Job { said: "Plauderei at the fence".into(), ..job };
    let job = write.save(said).await.unwrap().saved().unwrap();
    write
        .add(Finding { note: "Randnotiz".into(), ..Finding::new(write, job.id, "mount-rocks", Answer::No) })
        .await
        .unwrap();
    let yes = GoAhead { said_by: "Stimme".into(), ..GoAhead::yes(write, job.id, Channel::Phone, 9_000) };
    write.add(yes).await.unwrap();
    write.add(Line::new(write, job.id, LineKind::Work, "Sonderwunsch")).await.unwrap();
    let body = serde_json::json!({ "truck": "Blitz", "margin": 0.98 });
    let made = write.now();
    let verdict = Verdict { id: write.id(), job: job.id, program: "0".into(), book: "0".into(), body, made };
    write.add(verdict).await.unwrap();
    let signed = toothsayer_records::Signed { job: job.id, step: "mesh", joint: "", tightened: "", note: "Randnotiz" };
    write.sign(signed).await.unwrap();
    parts_and_photos(write, &job).await;
    match write.lead(&job, JobState::Declined, "the Nachbarin is against it").await.unwrap() {
        Saved::Saved(job) => job,
        clash => panic!("{clash:?}"),
    }
}

/// A part that the job needed and got, a photo of it, a link for the customer.
async fn parts_and_photos(write: &Write, job: &Job) {
    let part = write.add(Part::new(write, "pinion 19", Money { minor: 900, currency: Currency::EUR })).await.unwrap();
    write.count_shelf(part.id, 3, "").await.unwrap();
    let need = Need { note: "Randnotiz".into(), ..Need::new(write, job.id, "Sonderwunsch") };
    let need = write.add(need).await.unwrap();
    let chosen = write.choose(&need, &part).await.unwrap().saved().unwrap();
    write.lead_need(&chosen, NeedState::Used).await.unwrap().saved().unwrap();
    let mut file = std::io::Cursor::new(Vec::new());
    image::RgbImage::new(8, 8).write_to(&mut file, image::ImageFormat::Png).unwrap();
    let photo = write.keep_photo(Picture::read(file.get_ref()).unwrap(), "Randnotiz").await.unwrap();
    write.save(Photo { job: Some(job.id), ..photo }).await.unwrap().saved().unwrap();
    write.link(job.id, "for Zwiebelfisch", 60).await.unwrap();
}

fn both() -> [Fresh; 2] {
    [on_sqlite(), on_postgres()]
}

#[test]
fn a_customer_gets_everything_that_is_kept_of_them_and_nothing_else() {
    for fresh in both() {
        wait(async {
            let store = Store::open(&fresh.place).await.unwrap();
            let (customer, _) = customer(&store).await;
            taken_in(&store, "Anna Vogel").await;
            let data = serde_json::to_string(&data_of(&store, customer).await.unwrap()).unwrap();
            for word in WORDS {
                assert!(data.contains(word), "{word} is missing in {data}");
            }
            assert!(!data.contains("Vogel"), "{data}");
        });
    }
}

#[test]
fn no_word_of_an_erased_customer_is_left_and_the_jobs_stay() {
    for fresh in both() {
        wait(async {
            let store = Store::open(&fresh.place).await.unwrap();
            let (customer, job) = customer(&store).await;
            let other = taken_in(&store, "Anna Vogel").await;
            let erased = erase(&store, now(2), customer).await.unwrap();
            assert_eq!((erased.trucks, erased.jobs), (1, 1));
            nothing_is_left(&store, &job).await;
            let stale = store.begin(now(3)).await.unwrap();
            let clash = stale.save(job.clone()).await.unwrap();
            assert!(matches!(clash, Saved::Clash { .. }), "who read before writes the words back");
            drop(stale);
            assert_eq!(find(&store, "vogel", 9).await.unwrap().len(), 1, "others are found as before");
            assert_eq!(job_by_number(&store, other.number).await.unwrap(), other);
            let again = erase(&store, now(4), customer).await.unwrap_err();
            assert!(matches!(again, Error::Value { .. }), "{again:?}");
            if !store.is_postgres() {
                let path = crate::ground::file(&fresh.place).to_owned();
                store.close().await.unwrap();
                in_no_file(&path);
            }
        });
    }
}

async fn nothing_is_left(store: &Store, job: &Job) {
    let archive = String::from_utf8(archive(store).await).unwrap();
    for word in WORDS {
        assert!(!archive.contains(word), "{word} is left");
        assert!(find(store, word, 9).await.unwrap().is_empty(), "{word} is found");
    }
    let left = job_by_number(store, job.number).await.unwrap();
    assert_eq!((left.id, left.state, left.build), (job.id, job.state, job.build));
    assert!(photos_of(store, job.id).await.unwrap().is_empty() && links_of(store, job.id).await.unwrap().is_empty());
    let needs = needs_of(store, job.id).await.unwrap();
    assert_eq!((needs.len(), needs[0].state, needs[0].text.as_str()), (1, NeedState::Used, "erased"));
    let file = export(store, &left).await.unwrap();
    let read = toothsayer_job::Job::parse(&file, FaultBook::built_in()).unwrap();
    assert_eq!(read.built.fields.word("truck.name"), Some("truck"), "{file}");
    let health = health_of(&store.view().await.unwrap(), |_| {}).await.unwrap();
    assert_eq!(health.faults, Vec::<String>::new());
}

/// Nor in the bytes of SQLite's file.
fn in_no_file(path: &std::path::Path) {
    let bytes = std::fs::read(path).unwrap();
    for word in WORDS.iter().flat_map(|word| [(*word).to_owned(), word.to_lowercase()]) {
        let found = bytes.windows(word.len()).any(|window| window == word.as_bytes());
        assert!(!found, "{word} is left in the file");
    }
}

#[test]
fn history_of_customers_who_were_not_erased_is_never_changed() {
    for fresh in both() {
        wait(async {
            let store = Store::open(&fresh.place).await.unwrap();
            let (gone, job) = customer(&store).await;
            let kept = taken_in(&store, "Anna Vogel").await;
            let write = store.begin(now(2)).await.unwrap();
            write.take_in(new_job(kept.build, None)).await.unwrap();
            write.add(GoAhead::yes(&write, kept.id, Channel::Phone, 5)).await.unwrap();
            write.commit().await.unwrap();
            erase(&store, now(3), gone).await.unwrap();
            for (sql, id) in [
                ("UPDATE build SET tables = '' WHERE id = '{}'", kept.build.to_string()),
                ("UPDATE build SET number = 9 WHERE id = '{}'", job.build.to_string()),
                ("UPDATE go_ahead SET said_by = '', up_to = 99 WHERE job = '{}'", job.id.to_string()),
                ("UPDATE go_ahead SET said_by = '' WHERE job = '{}'", kept.id.to_string()),
                ("UPDATE job_move SET to_state = 'ready' WHERE job = '{}'", job.id.to_string()),
                ("DELETE FROM job_move WHERE job = '{}'", job.id.to_string()),
            ] {
                let sql = sql.replace("{}", &id);
                let refused = store.connection().execute_unprepared(&sql).await;
                assert!(refused.is_err(), "{sql} was done");
            }
        });
    }
}
