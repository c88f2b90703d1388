//! Writes jobs as fast as it can until it is ended, and says each number once it is kept: for trials of what a power
//! cut leaves behind.

use std::io::Write as _;
use std::process::ExitCode;
use toothsayer_quantity::Currency;
use toothsayer_records::{Acting, Customer, JobKind, JobState, NewJob, Place, Result, Store};

fn main() -> ExitCode {
    let Some(place) = std::env::args().nth(1) else {
        eprintln!("usage: write-under-load PLACE");
        return ExitCode::from(2);
    };
    let done = tokio::runtime::Builder::new_multi_thread().worker_threads(1).enable_all().build();
    let ended = match done {
        Ok(runtime) => runtime.block_on(write(&place)).map_err(|error| error.to_string()),
        Err(error) => Err(error.to_string()),
    };
    if let Err(error) = ended {
        eprintln!("error: {error}");
    }
    ExitCode::from(1)
}

async fn write(place: &str) -> Result<()> {
    let store = Store::open(&Place::parse(place)?).await?;
    loop {
        let number = one_job(&store).await?;
        println!("{number}");
        if std::io::stdout().flush().is_err() {
            return Ok(());
        }
    }
}

/// A customer, a truck, a build and a job that was looked at, all in one write.
async fn one_job(store: &Store) -> Result<i64> {
    let write = store.begin(Acting::program()).await?;
    let customer = write.add(Customer::new(&write, "Load")).await?;
    let truck = write.truck(customer.id, "Tarnhorn 6").await?;
    let build = write.build(truck.id, "[truck]\nmass = \"10.4 kg\"\n", "").await?;
    let job = write.take_in(NewJob {
        build: build.id,
        kind: JobKind::Check,
        complaint: "check".into(),
        comeback_of: None,
        said: String::new(),
        tables: String::new(),
        currency: Currency::EUR,
        looking_fee: 0,
        due: None,
    });
    let job = job.await?;
    let _clash_of_one_writer_cannot_be = write.lead(&job, JobState::LookedAt, "").await?;
    write.commit().await?;
    Ok(job.number)
}
