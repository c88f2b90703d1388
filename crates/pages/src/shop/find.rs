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
use toothsayer_records::{Customer, Id, Job, Part, Reach, Subject, Truck, WallClock, find, job_by_number};

/// What is shown at most.
const MOST: usize = 40;

/// The question.
#[derive(Deserialize)]
pub(crate) struct Asked {
    #[serde(default)]
    q: String,
}

/// The page.
pub(crate) async fn show(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Query(asked): Query<Asked>,
) -> Result<Response, Trouble> {
    let mut lines = Vec::new();
    if let Ok(number) = asked.q.trim().parse()
        && let Ok(job) = job_by_number(app.store(), number).await
    {
        lines.extend(cards(&app, &seat.clock, &[job]).await?);
    }
    let found: Vec<Subject> = find(app.store(), &asked.q, MOST).await?.into_iter().map(|hit| hit.subject).collect();
    lines.extend(self::lines(&app, &seat.clock, &found).await?);
    let found = match lines.is_empty() {
        true => tag("p").say("Nothing is found. A name, a part of it, a job's number or a truck's tag will do."),
        false => tag("ul").class("cards").all(lines),
    };
    let told = [Html::from(tag("h1").say(&format!("Found for “{}”", asked.q))), found.into()];
    Ok(page(&Frame::of("Find", &seat), tag("main").with("id", "main").all(told).into()))
}

/// A line for each. Those of a kind are asked for together, and then told in the order in which they were found.
async fn lines(app: &App, clock: &WallClock, found: &[Subject]) -> Result<Vec<Html>, Trouble> {
    let mut jobs = jobs(app, clock, found).await?.into_iter();
    let mut customers = customers(app, found).await?.into_iter();
    let mut trucks = trucks(app, found).await?.into_iter();
    let mut parts = parts(app, found).await?.into_iter();
    let mut line = |subject: &Subject| match subject {
        Subject::Job(_) => jobs.next(),
        Subject::Customer(_) => customers.next(),
        Subject::Truck(_) => trucks.next(),
        Subject::Part(_) => parts.next(),
    };
    Ok(found.iter().filter_map(&mut line).collect())
}

async fn jobs(app: &App, clock: &WallClock, found: &[Subject]) -> Result<Vec<Html>, Trouble> {
    let of = |subject: &Subject| if let Subject::Job(id) = subject { Some(*id) } else { None };
    let ids: Vec<Id<Job>> = found.iter().filter_map(of).collect();
    cards(app, clock, &app.store().several(&ids).await?).await
}

async fn customers(app: &App, found: &[Subject]) -> Result<Vec<Html>, Trouble> {
    let of = |subject: &Subject| if let Subject::Customer(id) = subject { Some(*id) } else { None };
    let ids: Vec<Id<Customer>> = found.iter().filter_map(of).collect();
    let customers = app.store().several(&ids).await?;
    Ok(customers
        .iter()
        .map(|customer| row(&format!("/customers/{}", customer.id), &customer.name, "customer"))
        .collect())
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
    let told = |part: &Part| row(&format!("/parts/{}", part.id), &part.name, "part of the list");
    Ok(app.store().several(&ids).await?.iter().map(told).collect())
}

fn row(address: &str, name: &str, what: &str) -> Html {
    let link = tag("a").with("href", address);
    let told = [tag("strong").say(name).into(), tag("span").class("small").say(what).into()];
    tag("li").hold(link.all(told)).into()
}
