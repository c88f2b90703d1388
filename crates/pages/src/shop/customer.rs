//! A customer with their trucks, and every truck with its jobs.

use crate::app::App;
use crate::door::guard::Seat;
use crate::page::html::{Html, tag};
use crate::page::shell::{Frame, field, hidden, input, page, problems};
use crate::page::trouble::Trouble;
use crate::page::typed::misfit;
use crate::shop::today::cards;
use axum::extract::{Extension, Form, Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use serde::Deserialize;
use toothsayer_records::{Customer, Deed, Id, Reach, Saved, Truck, jobs_of, trucks_of};

/// Letters of a name or a number, and of a note, at most.
const LONGEST_NAME: usize = 120;
const LONGEST_NOTE: usize = 4000;

/// The page.
pub(crate) async fn show(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path(id): Path<String>,
) -> Result<Response, Trouble> {
    let customer: Customer = app.store().get(Id::parse(&id).map_err(|_| Trouble::NoPage)?).await?;
    sheet(&app, &seat, &customer, &Typed::of(&customer), &[]).await
}

async fn sheet(
    app: &App,
    seat: &Seat,
    customer: &Customer,
    typed: &Typed,
    wrong: &[String],
) -> Result<Response, Trouble> {
    let mut trucks = Vec::new();
    for truck in trucks_of(app.store(), customer.id).await? {
        trucks.push(one(app, seat, &truck).await?);
    }
    let name = if customer.erased { "A customer who was forgotten" } else { &customer.name };
    let ways: Vec<&str> =
        [&customer.phone, &customer.email].into_iter().map(String::as_str).filter(|way| !way.is_empty()).collect();
    let told = [
        Html::from(tag("h1").say(name)),
        tag("p").class("quiet").say(&ways.join(" · ")).into(),
        tag("p").say(&customer.note).into(),
        problems(wrong),
        correct(seat, customer, typed, !wrong.is_empty()),
        Html::of(trucks),
        take_in(seat, &format!("/take-in?customer={}", customer.id), "Take in another truck"),
    ];
    Ok(page(&Frame::of(name, seat), tag("main").with("id", "main").all(told).into()))
}

/// The form that puts a name or a number right.
fn correct(seat: &Seat, customer: &Customer, typed: &Typed, is_open: bool) -> Html {
    if !seat.may(Deed::Counter) || customer.erased {
        return Html::default();
    }
    let text = |kind: &str, name: &str, value: &str| input(kind, name).with("value", value).with("autocomplete", "off");
    let note = tag("textarea").with("name", "note").with("rows", "2").say(&typed.note);
    let form = tag("form").with("method", "post").with("action", &format!("/customers/{}", customer.id));
    let form = form.class("narrow-form").all([
        hidden("version", &typed.version.to_string()),
        field("Name", text("text", "name", &typed.name).flag("required", true), ""),
        field("Telephone", text("tel", "phone", &typed.phone), ""),
        field("Electronic mail", text("email", "email", &typed.email), ""),
        field("Note of the shop", note, "Never shown to the customer."),
        tag("button").say("Keep it").into(),
    ]);
    let summary = tag("summary").hold(tag("h3").say("Correct name and numbers"));
    tag("details").class("check").flag("open", is_open).hold(summary).hold(form).into()
}

/// What is kept of a customer, as it was typed.
#[derive(Clone, Debug, Deserialize)]
pub(crate) struct Typed {
    version: i64,
    name: String,
    #[serde(default)]
    phone: String,
    #[serde(default)]
    email: String,
    #[serde(default)]
    note: String,
}

impl Typed {
    fn of(customer: &Customer) -> Self {
        let Customer { version, name, phone, email, note, .. } = customer.clone();
        Self { version, name, phone, email, note }
    }

    fn unfit(&self) -> Vec<String> {
        let fields = [
            ("The name", &self.name, [1, LONGEST_NAME]),
            ("The telephone number", &self.phone, [0, LONGEST_NAME]),
            ("The mail address", &self.email, [0, LONGEST_NAME]),
            ("The note", &self.note, [0, LONGEST_NOTE]),
        ];
        fields.into_iter().filter_map(|(what, text, fits)| misfit(what, text, fits)).collect()
    }
}

/// Keeps a customer's name and numbers, if nobody else changed them meanwhile.
pub(crate) async fn keep(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path(id): Path<String>,
    Form(typed): Form<Typed>,
) -> Result<Response, Trouble> {
    let write = seat.write(&app).await?;
    let customer: Customer = write.get(Id::parse(&id).map_err(|_| Trouble::NoPage)?).await?;
    let mut wrong = typed.unfit();
    if customer.erased {
        wrong.push("This customer was forgotten: nothing is kept of them.".to_owned());
    }
    let text = |text: &str| text.trim().to_owned();
    let (name, phone) = (text(&typed.name), text(&typed.phone));
    let changed = Customer {
        version: typed.version,
        name,
        phone,
        email: text(&typed.email),
        note: text(&typed.note),
        ..customer.clone()
    };
    if wrong.is_empty() {
        match write.save(changed).await? {
            Saved::Saved(_) => {
                write.commit().await?;
                return Ok(Redirect::to(&format!("/customers/{id}")).into_response());
            }
            Saved::Clash { .. } => {
                wrong.push("Somebody else changed this customer meanwhile: look, then keep it again.".to_owned())
            }
        }
    }
    drop(write);
    // What is typed is kept over what now stands the next time.
    let typed = Typed { version: customer.version, ..typed };
    Ok((StatusCode::UNPROCESSABLE_ENTITY, sheet(&app, &seat, &customer, &typed, &wrong).await?).into_response())
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
