//! `records find`: what holds the words that were typed.

use super::told::{Owned, called, customer_json, labelled, state, truck_json};
use crate::args::FindArgs;
use crate::failure::Failure;
use crate::input::Desk;
use crate::json;
use crate::paper::Paper;
use serde_json::{Value, json};
use toothsayer_records::{Customer, Part, Reach, Store, Subject, Truck, find};

/// What was found.
enum Found {
    Customer(Customer),
    Truck(Truck, Customer),
    Job(Box<Owned>),
    Part(Box<Part>),
}

impl Found {
    async fn of(at: &impl Reach, subject: Subject) -> Result<Self, Failure> {
        Ok(match subject {
            Subject::Customer(id) => Self::Customer(at.get(id).await?),
            Subject::Truck(id) => {
                let truck: Truck = at.get(id).await?;
                let customer = at.get(truck.customer).await?;
                Self::Truck(truck, customer)
            }
            Subject::Part(id) => Self::Part(Box::new(at.get(id).await?)),
            Subject::Job(id) => Self::Job(Box::new(Owned::of(at, at.get(id).await?).await?)),
        })
    }

    fn json(&self) -> Value {
        match self {
            Self::Customer(customer) => json!({ "is": "customer", "customer": customer_json(customer) }),
            Self::Truck(truck, customer) => {
                json!({ "is": "truck", "truck": truck_json(truck), "customer": customer_json(customer) })
            }
            Self::Part(part) => json!({ "is": "part", "part": part_json(part) }),
            Self::Job(job) => json!({ "is": "job", "job": job.json() }),
        }
    }

    fn line(&self) -> String {
        match self {
            Self::Customer(customer) => {
                let reach = [&customer.phone, &customer.email];
                let reach: Vec<&str> = reach.into_iter().map(String::as_str).filter(|text| !text.is_empty()).collect();
                let words = [called(customer)].into_iter().chain(reach).collect::<Vec<_>>().join(", ");
                format!("customer {words}, id {}", customer.id)
            }
            Self::Truck(truck, customer) => format!("truck {} of {}", labelled(truck), called(customer)),
            Self::Part(part) => {
                let price = part.price().map_or(String::new(), |price| format!(", {price}"));
                format!("part {}{price}, {} {}", part.name, part.supplier, part.order_number)
                    .trim_end_matches([',', ' '])
                    .to_owned()
            }
            Self::Job(owned) => {
                let Owned { job, truck, customer } = owned.as_ref();
                format!("job {}, {}: {} of {}", job.number, state(job), labelled(truck), called(customer))
            }
        }
    }
}

fn part_json(part: &Part) -> Value {
    json!({
        "id": part.id, "name": part.name, "supplier": part.supplier, "order_number": part.order_number,
        "price_minor": part.price().map(|price| price.minor),
        "currency": part.price().map(|price| price.currency.to_string()),
    })
}

/// Everything that holds all the words.
pub async fn run(desk: &Desk<'_>, store: &Store, args: &FindArgs) -> Result<String, Failure> {
    let view = store.view().await?;
    let mut found = Vec::new();
    for hit in find(&view, &args.words.join(" "), args.most as usize).await? {
        found.push((Found::of(&view, hit.subject).await?, hit.exact));
    }
    if desk.global.json {
        let told = found.iter().map(|(one, exact)| {
            let mut told = one.json();
            told["exact"] = Value::Bool(*exact);
            told
        });
        return json::text(&json!({ "found": told.collect::<Vec<_>>() }));
    }
    let mut paper = Paper::new();
    if found.is_empty() {
        paper.paragraph("Nothing holds these words.");
    }
    for (one, exact) in &found {
        let near = if *exact { "" } else { " (by a fragment, or another spelling)" };
        paper.item("·", &format!("{}{near}", one.line()));
    }
    Ok(paper.finish())
}
