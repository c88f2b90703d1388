//! Times of a shop larger than any: a job by its id, today's list, search, the archive out and in.
//!
//! `cargo bench -p toothsayer-invented-shop`, with the number of jobs behind `--` where another one is wanted.

use std::fs::File;
use std::io::{BufReader, BufWriter};
use std::path::Path;
use std::time::Instant;
use toothsayer_invented_shop::{LARGE, Large, fill_large};
use toothsayer_records::{
    Job, Place, Reach, Store, find, job_by_number, latest_jobs, photos_of, restore, today, write_archive,
};

/// Seconds of the processor that this program has had, where the system tells (Linux, in hundredths): they say what a
/// busy machine's clock on the wall does not.
fn processor() -> f64 {
    let told = std::fs::read_to_string("/proc/self/stat").unwrap_or_default();
    let behind = told.rsplit_once(')').map_or("", |(_, behind)| behind);
    behind.split_whitespace().skip(11).take(2).filter_map(|ticks| ticks.parse::<f64>().ok()).sum::<f64>() / 100.0
}

/// Times that each question is asked.
const ROUNDS: usize = 200;

type Failed = Box<dyn std::error::Error>;

fn main() -> Result<(), Failed> {
    let jobs = std::env::args().filter_map(|word| word.parse().ok()).next().unwrap_or(LARGE.jobs);
    let size = Large { jobs, trucks: (jobs / 5).max(1), ..LARGE };
    let folder = std::env::temp_dir().join(format!("large_shop_{}", std::process::id()));
    std::fs::create_dir_all(&folder)?;
    let done = tokio::runtime::Builder::new_multi_thread()
        .worker_threads(2)
        .enable_all()
        .build()?
        .block_on(all(size, &folder));
    std::fs::remove_dir_all(&folder)?;
    done
}

async fn all(size: Large, folder: &Path) -> Result<(), Failed> {
    let store = Store::open(&Place::File(folder.join("records.sqlite"))).await?;
    let began = Instant::now();
    let rows = fill_large(&store, size, |_| {}).await?;
    println!("{} jobs, {} trucks, {rows} rows made in {:.1} s", size.jobs, size.trucks, began.elapsed().as_secs_f64());
    println!("{:.1} s of the processor so far", processor());
    questions(&store, size).await?;
    archive(&store, folder).await
}

async fn questions(store: &Store, size: Large) -> Result<(), Failed> {
    let jobs = latest_jobs(store, None, 200).await?;
    let mut times: [Vec<f64>; 6] = Default::default();
    let words = ["vernier", "tarnhorn", "batun", "vernir maple", "5550123", "screamed landing", "motor rocks", "hazel"];
    for round in 0..ROUNDS {
        let job: &Job = &jobs[round % jobs.len()];
        time(&mut times[0], store.get(job.id)).await?;
        let number = 1 + (round as i64 * 7_919) % i64::try_from(size.jobs)?;
        time(&mut times[1], job_by_number(store, number)).await?;
        time(&mut times[2], today(store, 100)).await?;
        time(&mut times[3], photos_of(store, job.id)).await?;
        time(&mut times[4], latest_jobs(store, Some(number), 50)).await?;
        time(&mut times[5], find(store, words[round % words.len()], 20)).await?;
    }
    let names = ["job by id", "job by number", "today's list", "a job's photos", "50 older jobs", "search"];
    for (name, times) in names.iter().zip(&mut times) {
        times.sort_by(f64::total_cmp);
        let at = |share: f64| times[((times.len() - 1) as f64 * share) as usize];
        println!("{name:>16}: median {:.2} ms, 99 in 100 below {:.2} ms", at(0.5), at(0.99));
    }
    Ok(())
}

async fn time<T, E: std::error::Error + 'static>(
    times: &mut Vec<f64>,
    question: impl Future<Output = Result<T, E>>,
) -> Result<(), Failed> {
    let began = Instant::now();
    question.await?;
    times.push(began.elapsed().as_secs_f64() * 1e3);
    Ok(())
}

async fn archive(store: &Store, folder: &Path) -> Result<(), Failed> {
    let path = folder.join("shop.archive");
    let began = Instant::now();
    let rows = write_archive(&store.view().await?, &mut BufWriter::new(File::create(&path)?), |_| {}).await?;
    let megabytes = std::fs::metadata(&path)?.len() as f64 / 1e6;
    println!("archive out: {rows} rows, {megabytes:.0} MB in {:.1} s", began.elapsed().as_secs_f64());
    println!("{:.1} s of the processor so far", processor());
    let began = Instant::now();
    let other = Store::open(&Place::File(folder.join("restored.sqlite"))).await?;
    restore(&other, &mut BufReader::new(File::open(&path)?), |_| {}).await?;
    println!("archive in: {:.1} s", began.elapsed().as_secs_f64());
    println!("{:.1} s of the processor so far", processor());
    Ok(())
}
