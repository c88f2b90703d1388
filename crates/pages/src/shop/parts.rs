//! The shop's list of parts: what lies on the shelf, what it costs, whom it comes from.

use crate::app::App;
use crate::door::guard::Seat;
use crate::page::html::{Html, tag};
use crate::page::shell::{Frame, field, input, page, problems};
use crate::page::trouble::Trouble;
use crate::shop::find::Asked;
use crate::shop::part::{Filled, Typed, fields};
use axum::extract::{Extension, Form, Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use std::collections::BTreeMap;
use toothsayer_quantity::Money;
use toothsayer_records::{Deed, Id, Part, Reach, every_part, shelves, shop_of};

/// Parts that are shown at once; the search finds the others.
const MOST: usize = 200;

/// The page.
pub(crate) async fn show(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Query(asked): Query<Asked>,
) -> Result<Response, Trouble> {
    let currency = shop_of(app.store()).await?.currency;
    sheet(&app, &seat, &asked.q, &Typed::empty(&currency), &[]).await
}

async fn sheet(app: &App, seat: &Seat, looked_for: &str, typed: &Typed, wrong: &[String]) -> Result<Response, Trouble> {
    let (parts, shelves) = (every_part(app.store()).await?, shelves(app.store()).await?);
    let found: Vec<&Part> = parts.iter().filter(|part| is_found(part, looked_for)).collect();
    let find = tag("form").with("action", "/parts").class("answer").all([
        field(
            "Find a part",
            input("search", "q").with("value", looked_for),
            "A piece of its name, its supplier or its order number.",
        ),
        tag("button").class("plain").say("Find").into(),
    ]);
    let lines = found.iter().take(MOST).map(|part| line(part, &shelves));
    let orders = tag("a").class("button plain").with("href", "/parts/orders").say("What is to be ordered");
    let told = [
        tag("h1").say("Parts and prices").into(),
        problems(wrong),
        Html::from(find),
        tag("p").class("actions").hold(orders).into(),
        tag("p").class("small").say(&counted(found.len(), parts.len())).into(),
        tag("ul").class("cards").all(lines).into(),
        new(seat, typed),
    ];
    Ok(page(&Frame::of("Parts and prices", seat), tag("main").with("id", "main").all(told).into()))
}

fn is_found(part: &Part, looked_for: &str) -> bool {
    let text = format!("{} {} {}", part.name, part.supplier, part.order_number).to_lowercase();
    looked_for.to_lowercase().split_whitespace().all(|word| text.contains(word))
}

fn counted(found: usize, all: usize) -> String {
    match (found, all) {
        (_, 0) => "The list is empty. Jobs name parts as the work does: “pinion 19”, “spur 53”.".into(),
        (found, _) if found > MOST => format!("{MOST} of {found} are shown: look for a word."),
        (found, all) => format!("{found} of {all} parts"),
    }
}

fn line(part: &Part, shelves: &BTreeMap<Id<Part>, i64>) -> Html {
    let there = shelves.get(&part.id).copied().unwrap_or(0);
    let short = if part.active && there < part.keep { format!(", {} should", part.keep) } else { String::new() };
    let gone = if part.active { "" } else { " · no longer to be had" };
    let price = part.price().map_or(String::new(), |price| price.to_string());
    let supplier = if part.supplier.is_empty() { "no supplier said" } else { &part.supplier };
    let link = tag("a").with("href", &format!("/parts/{}", part.id)).all([
        tag("strong").say(&part.name).into(),
        tag("span").say(&format!("{there} on the shelf{short} · {price}")).into(),
        tag("span").class("small").say(&format!("{supplier}{gone}")).into(),
    ]);
    tag("li").hold(link).into()
}

/// The form for a new part; prices are the owner's.
fn new(seat: &Seat, typed: &Typed) -> Html {
    if !seat.may(Deed::Own) {
        return Html::default();
    }
    let form = tag("form")
        .with("method", "post")
        .with("action", "/parts")
        .all([fields(typed), tag("button").say("Put it on the list").into()]);
    tag("section").with("id", "new").hold(tag("h2").say("Add a part")).hold(form).into()
}

/// A part of the list beside which a typed one cannot stand, and why: the same name, or the supplier's own number. What
/// is typed for a part that is there may keep the name that it has.
pub(crate) async fn twin(
    at: &impl Reach,
    typed: &Filled,
    of: Option<&Part>,
) -> toothsayer_records::Result<Option<(Part, String)>> {
    let renamed = of.is_none_or(|part| part.name != typed.name);
    let mut others = every_part(at).await?.into_iter().filter(|other| of.is_none_or(|part| part.id != other.id));
    Ok(others.find_map(|other| {
        let gone = if other.active { "" } else { ", no longer to be had" };
        let told = if renamed && other.name.to_lowercase() == typed.name.to_lowercase() {
            format!("There is a part “{}” already{gone}", other.name)
        } else if typed.is_ordered_as(&other) {
            let (supplier, number) = (&other.supplier, &other.order_number);
            format!("“{}”{gone} has the order number {number} of “{supplier}” already", other.name)
        } else {
            return None;
        };
        Some((other, format!("{told}: change that one, or tell this one apart from it.")))
    }))
}

/// Puts a part on the list.
pub(crate) async fn add(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Form(typed): Form<Typed>,
) -> Result<Response, Trouble> {
    let filled = match typed.read() {
        Ok(filled) => filled,
        Err(wrong) => {
            let told = sheet(&app, &seat, "", &typed, &wrong).await?;
            return Ok((StatusCode::UNPROCESSABLE_ENTITY, told).into_response());
        }
    };
    let write = seat.write(&app).await?;
    if let Some((twin, wrong)) = twin(&write, &filled, None).await? {
        drop(write);
        let told = sheet(&app, &seat, &twin.name, &typed, &[wrong]).await?;
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, told).into_response());
    }
    let price = Money { minor: filled.price, currency: filled.currency };
    let part = write.add(filled.laid_on(Part::new(&write, &filled.name, price))).await?;
    write.commit().await?;
    Ok(Redirect::to(&format!("/parts/{}", part.id)).into_response())
}
