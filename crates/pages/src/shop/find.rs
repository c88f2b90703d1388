//! Find: customers, trucks, jobs by words, beginnings of words, mistyped words, numbers and tags.

use crate::app::App;
use crate::door::guard::Seat;
use crate::page::html::{Html, tag};
use crate::page::shell::{Frame, page};
use crate::page::trouble::Trouble;
use crate::shop::today::cards;
use axum::extract::{Extension, Query, State};
use axum::response::Response;
use serde::Deserialize;
use toothsayer_records::{
    Customer, Error, Id, Job, Part, Reach, Subject, Truck, WallClock, find, job_by_number, shelves, trucks_of_each,
};

/// What is shown of each kind at most.
const MOST: usize = 20;

/// The question.
#[derive(Deserialize)]
pub(crate) struct Asked {
    /// The words; none where nothing was typed.
    #[serde(default)]
    pub q: String,
}

/// The page.
pub(crate) async fn show(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Query(asked): Query<Asked>,
) -> Result<Response, Trouble> {
    let numbered = numbered(&app, &asked.q).await?;
    let hits = find(app.store(), &asked.q, MOST).await?.into_iter().map(|hit| hit.subject);
    let found: Vec<Subject> = hits.filter(|hit| numbered.iter().all(|job| *hit != Subject::Job(job.id))).collect();
    let groups = [
        ("Job of this number", cards(&app, &seat.clock, &numbered).await?),
        ("Customers", customers(&app, &found).await?),
        ("Trucks", trucks(&app, &found).await?),
        ("Parts", parts(&app, &found).await?),
        ("Jobs", jobs(&app, &seat.clock, &found).await?),
    ];
    let found = match groups.iter().all(|(_, lines)| lines.is_empty()) {
        true => tag("p").say("Nothing is found. A name, a part of it, a job's number or a truck's tag will do.").into(),
        false => Html::of(groups.into_iter().map(|(head, lines)| group(head, lines))),
    };
    let told = [Html::from(tag("h1").say(&format!("Found for “{}”", asked.q))), found];
    Ok(page(&Frame::of("Find", &seat), tag("main").with("id", "main").all(told).into()))
}

/// The job whose number was typed, where there is one.
async fn numbered(app: &App, typed: &str) -> Result<Vec<Job>, Trouble> {
    let Ok(number) = typed.trim().parse() else { return Ok(Vec::new()) };
    match job_by_number(app.store(), number).await {
        Ok(job) => Ok(vec![job]),
        Err(Error::Missing { .. }) => Ok(Vec::new()),
        Err(other) => Err(other.into()),
    }
}

/// What was found of a kind. Those of a kind are asked for together.
fn group(head: &str, lines: Vec<Html>) -> Html {
    if lines.is_empty() {
        return Html::default();
    }
    let more = if lines.len() < MOST { "" } else { "The newest are shown: one more word finds the others." };
    let told = [
        Html::from(tag("h2").say(head)),
        tag("ul").class("cards").all(lines).into(),
        tag("p").class("small").say(more).into(),
    ];
    tag("section").all(told).into()
}

async fn jobs(app: &App, clock: &WallClock, found: &[Subject]) -> Result<Vec<Html>, Trouble> {
    let of = |subject: &Subject| if let Subject::Job(id) = subject { Some(*id) } else { None };
    let ids: Vec<Id<Job>> = found.iter().filter_map(of).collect();
    cards(app, clock, &app.store().several(&ids).await?).await
}

async fn customers(app: &App, found: &[Subject]) -> Result<Vec<Html>, Trouble> {
    let of = |subject: &Subject| if let Subject::Customer(id) = subject { Some(*id) } else { None };
    let ids: Vec<Id<Customer>> = found.iter().filter_map(of).collect();
    let (customers, trucks) = (app.store().several(&ids).await?, trucks_of_each(app.store(), &ids).await?);
    let told = |customer: &Customer| {
        let trucks = match trucks.iter().filter(|truck| truck.customer == customer.id).count() {
            0 => "no truck yet".to_owned(),
            1 => "1 truck".to_owned(),
            more => format!("{more} trucks"),
        };
        let phone = if customer.phone.is_empty() { String::new() } else { format!("{} · ", customer.phone) };
        row(&format!("/customers/{}", customer.id), &customer.name, &format!("{phone}{trucks}"))
    };
    Ok(customers.iter().map(told).collect())
}

async fn trucks(app: &App, found: &[Subject]) -> Result<Vec<Html>, Trouble> {
    let of = |subject: &Subject| if let Subject::Truck(id) = subject { Some(*id) } else { None };
    let ids: Vec<Id<Truck>> = found.iter().filter_map(of).collect();
    let trucks = app.store().several(&ids).await?;
    let whose = app.store().several(&trucks.iter().map(|truck| truck.customer).collect::<Vec<_>>()).await?;
    let told = |(truck, customer): (&Truck, &Customer)| {
        let told = format!("truck {} of {}", truck.tag, customer.name);
        row(&format!("/trucks/{}", truck.tag), &truck.name, &told)
    };
    Ok(trucks.iter().zip(&whose).map(told).collect())
}

async fn parts(app: &App, found: &[Subject]) -> Result<Vec<Html>, Trouble> {
    let of = |subject: &Subject| if let Subject::Part(id) = subject { Some(*id) } else { None };
    let ids: Vec<Id<Part>> = found.iter().filter_map(of).collect();
    let shelves = shelves(app.store()).await?;
    let told = |part: &Part| {
        let there = shelves.get(&part.id).copied().unwrap_or(0);
        let price = part.price().map_or(String::new(), |price| format!(" · {price}"));
        row(&format!("/parts/{}", part.id), &part.name, &format!("{there} on the shelf{price}"))
    };
    Ok(app.store().several(&ids).await?.iter().map(told).collect())
}

fn row(address: &str, name: &str, what: &str) -> Html {
    let link = tag("a").with("href", address);
    let told = [tag("strong").say(name).into(), tag("span").class("small").say(what).into()];
    tag("li").hold(link.all(told)).into()
}
