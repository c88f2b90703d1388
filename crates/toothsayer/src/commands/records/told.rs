//! Words and JSON that several answers of the records share.

use crate::failure::Failure;
use serde_json::{Value, json};
use toothsayer_quantity::{Currency, Money};
use toothsayer_records::{Customer, Id, Job, JobKind, Reach, Truck, Word, customers_named};

/// A job with its truck and customer.
pub struct Owned {
    /// The job.
    pub job: Job,
    /// Its truck.
    pub truck: Truck,
    /// Whose truck it is.
    pub customer: Customer,
}

impl Owned {
    /// Reads truck and customer of a job.
    pub async fn of(at: &impl Reach, job: Job) -> Result<Self, Failure> {
        let truck = at.get(job.truck).await?;
        let customer = at.get(truck.customer).await?;
        Ok(Self { job, truck, customer })
    }

    /// The job for machines.
    pub fn json(&self) -> Value {
        let job = &self.job;
        json!({
            "job": job.number,
            "state": job.state.word(),
            "open": job.open,
            "kind": kind(job.kind),
            "complaint": job.complaint,
            "said": job.said,
            "currency": job.currency,
            "looking_fee_minor": job.looking_fee,
            "taken_in": job.taken_in.to_string(),
            "due": job.due.map(|due| due.to_string()),
            "version": job.version,
            "truck": truck_json(&self.truck),
            "customer": customer_json(&self.customer),
        })
    }
}

/// A truck for machines.
pub fn truck_json(truck: &Truck) -> Value {
    json!({ "id": truck.id, "label": truck.tag, "name": truck.name, "note": truck.note })
}

/// A customer for machines.
pub fn customer_json(customer: &Customer) -> Value {
    json!({
        "id": customer.id,
        "name": customer.name,
        "phone": customer.phone,
        "email": customer.email,
        "address": customer.address,
        "note": customer.note,
        "erased": customer.erased,
    })
}

/// A customer's name, or what stands for it.
pub fn called(customer: &Customer) -> &str {
    if customer.erased { "a customer who was erased" } else { &customer.name }
}

/// A truck's name with its label.
pub fn labelled(truck: &Truck) -> String {
    if truck.name.is_empty() { format!("truck {}", truck.tag) } else { format!("{} ({})", truck.name, truck.tag) }
}

/// The word for why a truck is here.
pub fn kind(kind: JobKind) -> &'static str {
    match kind {
        JobKind::Repair => "repair",
        JobKind::Warranty => "warranty",
        JobKind::Check => "check",
        JobKind::Change => "change",
    }
}

/// Where a job stands, in words.
pub fn state(job: &Job) -> String {
    Word(job.state).to_string()
}

/// An amount of a job in its currency.
pub fn amount(minor: i64, job: &Job) -> String {
    match Currency::parse(&job.currency) {
        Some(currency) => Money { minor, currency }.to_string(),
        None => format!("{minor} minor units of {}", job.currency),
    }
}

/// The one customer of a name or an id.
pub async fn by_name(at: &impl Reach, name: &str) -> Result<Customer, Failure> {
    if let Ok(id) = Id::<Customer>::parse(name) {
        return Ok(at.get(id).await?);
    }
    match customers_named(at, name.trim()).await?.as_slice() {
        [one] => Ok(one.clone()),
        [] => Err(Failure::could(
            format!("there is no customer {name}"),
            "`toothsayer records find` tells names and ids; a name is written in full",
        )),
        several => Err(several_named(name, several)),
    }
}

/// Which of them is meant cannot be told from the name.
pub fn several_named(name: &str, several: &[Customer]) -> Failure {
    let told: Vec<String> = several.iter().map(|one| format!("{} ({})", one.id, one.phone)).collect();
    let message = format!("{} customers are called {name}: {}", several.len(), told.join(", "));
    Failure::could(message, "give the id of the one that is meant")
}
