//! Find: customers, trucks, jobs by words, beginnings of words, mistyped words, numbers and tags.

use crate::app::App;
use crate::door::guard::Seat;
use crate::page::html::{Html, tag};
use crate::page::shell::{Frame, page};
use crate::page::trouble::Trouble;
use crate::shop::today::card;
use axum::extract::{Extension, Query, State};
use axum::response::Response;
use serde::Deserialize;
use toothsayer_records::{Customer, Job, Part, Reach, Subject, Truck, find, job_by_number};

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
        lines.push(card(&app, &job).await?);
    }
    for hit in find(app.store(), &asked.q, MOST).await? {
        lines.push(line(&app, hit.subject).await?);
    }
    let found = match lines.is_empty() {
        true => tag("p").say("Nothing is found. A name, a part of it, a job's number or a truck's tag will do."),
        false => tag("ul").class("cards").all(lines),
    };
    let told = [Html::from(tag("h1").say(&format!("Found for “{}”", asked.q))), found.into()];
    Ok(page(&Frame::of("Find", &seat), tag("main").with("id", "main").all(told).into()))
}

async fn line(app: &App, subject: Subject) -> Result<Html, Trouble> {
    let store = app.store();
    match subject {
        Subject::Job(id) => card(app, &store.get::<Job>(id).await?).await,
        Subject::Customer(id) => {
            let customer: Customer = store.get(id).await?;
            Ok(row(&format!("/customers/{}", customer.id), &customer.name, "customer"))
        }
        Subject::Truck(id) => {
            let truck: Truck = store.get(id).await?;
            let customer: Customer = store.get(truck.customer).await?;
            let told = format!("truck {} of {}", truck.tag, customer.name);
            Ok(row(&format!("/trucks/{}", truck.tag), &truck.name, &told))
        }
        Subject::Part(id) => {
            let part: Part = store.get(id).await?;
            Ok(row(&format!("/parts/{}", part.id), &part.name, "part of the list"))
        }
    }
}

fn row(address: &str, name: &str, what: &str) -> Html {
    let link = tag("a").with("href", address);
    let told = [tag("strong").say(name).into(), tag("span").class("small").say(what).into()];
    tag("li").hold(link.all(told)).into()
}
