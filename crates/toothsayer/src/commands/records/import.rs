//! `records import`: a job file taken in as a job.

use super::told::{Owned, called, labelled, several_named};
use crate::args::ImportArgs;
use crate::failure::Failure;
use crate::input::Desk;
use crate::json;
use crate::paper::Paper;
use toothsayer_job::Job as JobFile;
use toothsayer_records::{
    Acting, Customer, Id, Incoming, Job, Reach, Saved, Store, Truck, Write, customers_named, job_by_number,
    truck_by_tag, trucks_of,
};

/// Takes the file in, with customer and truck where they are new: all of it or nothing.
pub async fn run(desk: &Desk<'_>, store: &Store, args: &ImportArgs, text: &str) -> Result<String, Failure> {
    // Before anything is written, so that the file's errors show with their place.
    let file = desk.job_of(&args.file.display().to_string(), text)?;
    let write = store.begin(Acting::program()).await?;
    let truck = truck(&write, args, &file).await?;
    let comeback_of = match args.comeback_of {
        Some(number) => Some(earlier(&write, number, &truck).await?),
        None => None,
    };
    let job = write.import(Incoming { truck: truck.id, comeback_of, text, book: &desk.book }).await?;
    let job = said(&write, job, args).await?;
    let told = Owned::of(&write, job).await?;
    write.commit().await?;
    if desk.global.json {
        return json::text(&told.json());
    }
    let mut paper = Paper::new();
    let Owned { job, truck, customer } = &told;
    let number = job.number;
    paper.paragraph(&format!("Job {number} is taken in: {} of {}.", labelled(truck), called(customer)));
    paper.paragraph(&format!("Its label is {}. `toothsayer records show {number}` shows the job.", truck.tag));
    Ok(paper.finish())
}

/// The job that this one comes back from, which must be of the same truck.
async fn earlier(write: &Write, number: i64, truck: &Truck) -> Result<Id<Job>, Failure> {
    let job = job_by_number(write, number).await?;
    if job.truck == truck.id {
        return Ok(job.id);
    }
    let message = format!("job {number} was of another truck than {}", labelled(truck));
    Err(Failure::could(message, "`toothsayer records show` with the truck's label lists its jobs"))
}

async fn said(write: &Write, job: Job, args: &ImportArgs) -> Result<Job, Failure> {
    let Some(said) = &args.said else { return Ok(job) };
    match write.save(Job { said: said.clone(), ..job }).await? {
        Saved::Saved(job) | Saved::Clash { theirs: job, .. } => Ok(job),
    }
}

/// The truck with the label, or the customer's truck of the file's name, or a new one.
async fn truck(write: &Write, args: &ImportArgs, file: &JobFile) -> Result<Truck, Failure> {
    if let Some(label) = &args.truck {
        return Ok(truck_by_tag(write, label).await?);
    }
    let name = file.built.fields.word("truck.name").unwrap_or("truck");
    let customer = customer(write, args).await?;
    let known = trucks_of(write, customer.id).await?;
    if let Some(known) = known.iter().find(|truck| truck.name == name && !args.new_truck) {
        let message = format!("{} has a {} already", called(&customer), labelled(known));
        return Err(Failure::could(message, format!("give --truck {} for that one, or --new-truck", known.tag)));
    }
    Ok(write.truck(customer.id, name).await?)
}

/// The customer of an id, the one of a name, or a new one.
async fn customer(write: &Write, args: &ImportArgs) -> Result<Customer, Failure> {
    let name = args.customer.as_deref().unwrap_or("").trim();
    if let Ok(id) = Id::<Customer>::parse(name) {
        return Ok(write.get(id).await?);
    }
    let known = if args.new_customer { Vec::new() } else { customers_named(write, name).await? };
    match known.as_slice() {
        [] if name.is_empty() => Err(Failure::usage("--customer is empty", "give a name, or the id of a customer")),
        [] => {
            let phone = args.phone.clone().unwrap_or_default();
            Ok(write.add(Customer { phone, ..Customer::new(write, name) }).await?)
        }
        [one] => Ok(one.clone()),
        several => Err(several_named(name, several)),
    }
}
