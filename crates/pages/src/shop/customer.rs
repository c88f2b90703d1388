//! A customer with their trucks, and every truck with its jobs.

use crate::app::App;
use crate::door::guard::Seat;
use crate::page::html::{Html, tag};
use crate::page::shell::{Frame, page};
use crate::page::trouble::Trouble;
use crate::shop::today::cards;
use axum::extract::{Extension, Path, State};
use axum::response::Response;
use toothsayer_records::{Customer, Deed, Id, Reach, Truck, jobs_of, trucks_of};

/// The page.
pub(crate) async fn show(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path(id): Path<String>,
) -> Result<Response, Trouble> {
    let customer: Customer = app.store().get(Id::parse(&id).map_err(|_| Trouble::NoPage)?).await?;
    let mut trucks = Vec::new();
    for truck in trucks_of(app.store(), customer.id).await? {
        trucks.push(one(&app, &seat, &truck).await?);
    }
    let name = if customer.erased { "A customer who was forgotten" } else { &customer.name };
    let ways: Vec<&str> =
        [&customer.phone, &customer.email].into_iter().map(String::as_str).filter(|way| !way.is_empty()).collect();
    let told = [
        Html::from(tag("h1").say(name)),
        tag("p").class("quiet").say(&ways.join(" · ")).into(),
        Html::of(trucks),
        take_in(&seat, &format!("/take-in?customer={}", customer.id), "Take in another truck"),
    ];
    Ok(page(&Frame::of(name, &seat), tag("main").with("id", "main").all(told).into()))
}

async fn one(app: &App, seat: &Seat, truck: &Truck) -> Result<Html, Trouble> {
    let cards = cards(app, &seat.clock, &jobs_of(app.store(), truck.id).await?).await?;
    let told = [
        Html::from(tag("h2").hold(tag("a").with("href", &format!("/trucks/{}", truck.tag)).say(&truck.name))),
        tag("p").class("small").say(&format!("tag {}", truck.tag)).into(),
        tag("ul").class("cards").all(cards).into(),
        take_in(seat, &format!("/take-in?truck={}", truck.tag), "Take it in again"),
    ];
    Ok(tag("section").all(told).into())
}

fn take_in(seat: &Seat, address: &str, words: &str) -> Html {
    let link = tag("a").class("button").with("href", address).say(words);
    if seat.may(Deed::Counter) { tag("p").hold(link).into() } else { Html::default() }
}
