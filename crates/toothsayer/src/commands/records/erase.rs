//! `records erase`: a customer is forgotten; their jobs stay as history of nobody.

use super::told::{by_name, called, customer_json};
use crate::args::EraseArgs;
use crate::failure::Failure;
use crate::input::Desk;
use crate::json;
use serde_json::json;
use std::io::{IsTerminal, Write};
use toothsayer_records::{Acting, Customer, Store, erase, jobs_of, trucks_of};

/// Asks, and erases.
pub async fn run(desk: &Desk<'_>, store: &Store, args: &EraseArgs) -> Result<String, Failure> {
    let customer = by_name(store, &args.customer).await?;
    let mut jobs = 0;
    let trucks = trucks_of(store, customer.id).await?;
    for truck in &trucks {
        jobs += jobs_of(store, truck.id).await?.len();
    }
    let what = format!("{} with {} and {}", called(&customer), count(trucks.len(), "truck"), count(jobs, "job"));
    if !args.yes {
        ask(&what)?;
    }
    let told = customer_json(&customer)["id"].clone();
    let erased = erase(store, Acting::program(), customer.id).await?;
    if desk.global.json {
        return json::text(&json!({ "customer": told, "trucks": erased.trucks, "jobs": erased.jobs }));
    }
    Ok(told_text(&customer, erased.jobs))
}

fn told_text(customer: &Customer, jobs: usize) -> String {
    format!(
        "{} is erased: no name, number, address, note or spoken word is left in the records. {} as history of nobody. \
         Backups that were made before, and papers, still hold them: destroy those when you no longer need them.\n",
        called(customer),
        match jobs {
            1 => "One job stays".to_owned(),
            jobs => format!("{jobs} jobs stay"),
        }
    )
}

fn count(number: usize, one: &str) -> String {
    if number == 1 { format!("one {one}") } else { format!("{number} {one}s") }
}

/// Whoever sits at the terminal has to write "erase".
fn ask(what: &str) -> Result<(), Failure> {
    let hint = "give --yes where you are sure: it cannot be taken back";
    if !std::io::stdin().is_terminal() {
        return Err(Failure::usage(format!("nobody is there to say whether {what} shall be erased"), hint));
    }
    let question = format!("Erase {what}? It cannot be taken back. Write \"erase\" to do it: ");
    let mut said = String::new();
    let asked = std::io::stderr().write_all(question.as_bytes());
    let read = asked.and_then(|()| std::io::stdin().read_line(&mut said));
    if read.is_ok() && said.trim() == "erase" {
        return Ok(());
    }
    Err(Failure::could("nothing was erased", ""))
}
