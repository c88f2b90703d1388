//! The invented shop: the same for a seed, whole, marked as invented, and as the model says.

use std::sync::OnceLock;
use toothsayer_fault_book::FaultBook;
use toothsayer_invented_shop::{End, Error, JOBS, Large, Nature, SEED, fill, fill_large, visits};
use toothsayer_records::{
    Customer, Job, JobState, Moment, Place, Reach, Store, find, job_by_number, latest_jobs, minutes_by_step, moves_of,
    order_list, shop_of, sign_offs_of, today, verdicts_of,
};

fn wait<F: Future>(future: F) -> F::Output {
    tokio::runtime::Builder::new_multi_thread().worker_threads(2).enable_all().build().unwrap().block_on(future)
}

fn nature() -> &'static Nature {
    static NATURE: OnceLock<Nature> = OnceLock::new();
    NATURE.get_or_init(|| Nature::of(FaultBook::built_in()).unwrap())
}

struct Folder(std::path::PathBuf);

impl Folder {
    fn new(name: &str) -> Self {
        let path = std::env::temp_dir().join(format!("invented_{name}_{}", std::process::id()));
        std::fs::create_dir_all(&path).unwrap();
        Self(path)
    }

    fn place(&self) -> Place {
        Place::File(self.0.join("records.sqlite"))
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

#[test]
fn two_years_are_drawn_the_same_again_and_otherwise_for_another_seed() {
    let first = visits(nature(), SEED);
    assert_eq!(first, visits(nature(), SEED));
    assert_ne!(first, visits(nature(), SEED + 1));
    assert_eq!(first.len(), JOBS);
    assert!(first.is_sorted_by_key(|visit| visit.day));
}

#[test]
fn a_truck_comes_back_after_new_gears_alone_and_more_often_than_after_a_cure() {
    let (mut gears, mut cured) = ([0.0; 2], [0.0; 2]);
    for seed in 0..12 {
        let visits = visits(nature(), seed);
        for (place, visit) in visits.iter().enumerate() {
            let back = visits.iter().any(|later| later.comeback_of == Some(place));
            let counts = match visit.end {
                End::GearsOnly => &mut gears,
                End::Cured => &mut cured,
                End::Declined | End::LookedOver => {
                    assert!(!back, "what was not repaired cannot come back from its repair");
                    continue;
                }
            };
            counts[usize::from(back)] += 1.0;
        }
    }
    let share = |[stayed, back]: [f64; 2]| back / (stayed + back);
    assert!(gears[0] + gears[1] > 100.0 && share(gears) > 2.0 * share(cured), "{gears:?} {cured:?}");
}

#[test]
fn the_shop_stands_in_the_records_as_if_it_had_been_there() {
    let folder = Folder::new("shop");
    wait(async {
        let (store, book) = (Store::open(&folder.place()).await.unwrap(), FaultBook::built_in());
        assert_eq!(fill(&store, book, nature(), SEED).await.unwrap(), JOBS);
        let jobs = latest_jobs(&store, None, 500).await.unwrap();
        assert_eq!(jobs.len(), JOBS);
        let drawn = visits(nature(), SEED);
        for (visit, job) in drawn.iter().zip(jobs.iter().rev()) {
            assert_eq!(visit.comeback_of.is_some(), job.comeback_of.is_some(), "job {}", job.number);
            let over = visit.stages == usize::MAX;
            assert_eq!(over, job.state == JobState::Collected, "job {} is {:?}", job.number, job.state);
        }
        let open = today(&store, 100).await.unwrap();
        assert!(open.len() > 4, "{} jobs are open", open.len());
        let job = job_by_number(&store, 5).await.unwrap();
        assert_eq!(moves_of(&store, job.id).await.unwrap().last().unwrap().to_state, job.state);
        assert_eq!(verdicts_of(&store, job.id).await.unwrap()[0].body["invented"], true);
        let mut signed = 0;
        for job in &jobs {
            signed += sign_offs_of(&store, job.id).await.unwrap().len();
        }
        assert!(signed > JOBS, "{signed}");
        let minutes = minutes_by_step(&store, Moment::from_ms(0).unwrap()).await.unwrap();
        let correction = minutes["new-gears"].correction().unwrap();
        assert!((0.7..1.4).contains(&correction), "{correction}");
        order_list(&store).await.unwrap();
        everybody_is_plainly_invented(&store, &jobs).await;
        every_part_of_the_book_is_on_the_list(&store).await;
        assert!(!find(&store, "tarnhorn", 9).await.unwrap().is_empty());
        assert_eq!(fill(&store, book, nature(), SEED).await, Err(Error::NotEmpty));
    });
}

async fn everybody_is_plainly_invented(store: &Store, jobs: &[Job]) {
    assert!(shop_of(store).await.unwrap().name.contains("invented"));
    for job in jobs {
        let truck = store.get(job.truck).await.unwrap();
        let customer: Customer = store.get(truck.customer).await.unwrap();
        assert!(customer.email.ends_with("@invented.example"), "{customer:?}");
        assert!(customer.phone.starts_with("555 01") && customer.note == "invented", "{customer:?}");
    }
}

async fn every_part_of_the_book_is_on_the_list(store: &Store) {
    for word in FaultBook::built_in().steps().iter().flat_map(|step| &step.parts) {
        let known = word.trim_start_matches("smaller ").trim_start_matches("hardened ");
        assert!(!find(store, known, 9).await.unwrap().is_empty(), "{word} is on no list");
    }
}

#[test]
fn a_large_shop_is_whole_too() {
    let folder = Folder::new("large");
    wait(async {
        let store = Store::open(&folder.place()).await.unwrap();
        let size = Large { trucks: 50, jobs: 200, photos_a_job: 3 };
        let rows = fill_large(&store, size, |_| {}).await.unwrap();
        assert_eq!(rows, 1 + 3 * 50 + 21 * 200);
        assert_eq!(latest_jobs(&store, None, 500).await.unwrap().len(), 200);
        assert_eq!(today(&store, 100).await.unwrap().len(), 60);
        assert!(!find(&store, "bearing", 9).await.unwrap().is_empty());
    });
}
