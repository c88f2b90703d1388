//! The shop's settings, the owner's: what stands on papers, what an hour costs, currency and units.

use crate::app::App;
use crate::door::guard::Seat;
use crate::page::amount::{amount_field, read, shown};
use crate::page::html::{Html, tag};
use crate::page::shell::{Frame, choice, field, hidden, input, page, problems};
use crate::page::trouble::Trouble;
use axum::extract::{Extension, Form, Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use serde::Deserialize;
use toothsayer_quantity::Currency;
use toothsayer_records::{Error, Saved, Shop, Units, WallClock, every_part, shop_of};

/// Letters of the shop's name at most.
const LONGEST_NAME: usize = 120;

/// The fields' names, the same in the form and in what is said of it.
const NAME: &str = "Shop's name";
const CURRENCY: &str = "Currency";
const HOUR: &str = "An hour's work";
const LOOKING: &str = "Looking fee";
const COMEBACK: &str = "What a comeback costs the shop";
const RUNS: &str = "Runs that count";
const ZONE: &str = "Time zone";

/// The form as it was typed.
#[derive(Clone, Deserialize)]
pub(crate) struct Typed {
    version: i64,
    name: String,
    currency: String,
    labour_rate: String,
    looking_fee: String,
    comeback_cost: String,
    horizon_runs: String,
    units: String,
    time_zone: String,
}

/// Whether it was just kept.
#[derive(Deserialize)]
pub(crate) struct Came {
    #[serde(default)]
    kept: String,
}

impl Typed {
    fn of(shop: &Shop) -> Self {
        let currency = Currency::parse(&shop.currency).unwrap_or(Currency::EUR);
        let amount = |minor| shown(minor, currency);
        Self {
            version: shop.version,
            name: shop.name.clone(),
            currency: shop.currency.clone(),
            labour_rate: amount(shop.labour_rate),
            looking_fee: amount(shop.looking_fee),
            comeback_cost: amount(shop.comeback_cost),
            horizon_runs: shop.horizon_runs.to_string(),
            units: if shop.units == Units::Us { "us".into() } else { "metric".into() },
            time_zone: shop.time_zone.clone(),
        }
    }

    /// The settings as typed; what is not on the form stays as it is.
    fn read(&self, now: &Shop) -> Result<Shop, Vec<String>> {
        let mut wrong = Vec::new();
        let letters = self.name.trim().chars().count();
        if letters > LONGEST_NAME {
            wrong.push(format!("{NAME} has {letters} letters; up to {LONGEST_NAME} are allowed."));
        }
        let code = self.currency.trim().to_uppercase();
        let currency = Currency::parse(&code).unwrap_or_else(|| {
            wrong.push(format!("{CURRENCY} “{code}” is not three letters such as EUR."));
            Currency::EUR
        });
        let mut amount = |what: &str, typed: &str| {
            read(what, typed, currency).unwrap_or_else(|told| {
                wrong.push(told);
                0
            })
        };
        let labour_rate = amount(HOUR, self.labour_rate.trim_end_matches("/h"));
        let looking_fee = amount(LOOKING, &self.looking_fee);
        let comeback_cost = amount(COMEBACK, &self.comeback_cost);
        let horizon = self.horizon_runs.trim().parse::<i64>().ok().filter(|runs| (1..=10_000).contains(runs));
        if horizon.is_none() {
            wrong.push(format!("{RUNS} “{}” is no whole number of 1 to 10000 runs.", self.horizon_runs.trim()));
        }
        let zone = WallClock::of_zone(self.time_zone.trim()).map(|clock| clock.zone().to_owned());
        if zone.is_err() {
            wrong.push(format!("{ZONE} “{}” is none: such as Europe/Berlin or UTC.", self.time_zone.trim()));
        }
        let (Some(horizon_runs), Ok(time_zone), true) = (horizon, zone, wrong.is_empty()) else { return Err(wrong) };
        Ok(Shop {
            version: self.version,
            name: self.name.trim().to_owned(),
            currency: currency.to_string(),
            labour_rate,
            looking_fee,
            comeback_cost,
            horizon_runs,
            units: if self.units == "us" { Units::Us } else { Units::Metric },
            time_zone,
            ..now.clone()
        })
    }
}

/// The page.
pub(crate) async fn show(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Query(came): Query<Came>,
) -> Result<Response, Trouble> {
    let shop = shop_of(app.store()).await?;
    form(&app, &seat, &Typed::of(&shop), &[], came.kept == "yes").await
}

/// What is kept and may not be meant: no name, and parts that are priced in another currency.
async fn doubts(app: &App) -> Result<Html, Trouble> {
    let (shop, parts) = (shop_of(app.store()).await?, every_part(app.store()).await?);
    let notice = |told: &str, way: Html| Html::from(tag("p").class("notice doubt").say(told).hold(way));
    let mut told = Vec::new();
    if shop.name.is_empty() {
        told.push(notice(
            "The shop has no name yet: quotes, hand-overs and labels go out without one.",
            Html::default(),
        ));
    }
    let other = parts.iter().filter(|part| part.active && part.currency != shop.currency).count();
    if other > 0 {
        let told_of = format!(
            "{other} of the parts on the list have their price in another currency than {}: a job counts no part's price \
             in another currency than its own. ",
            shop.currency
        );
        told.push(notice(&told_of, tag("a").with("href", "/parts").say("Change them one by one").into()));
    }
    Ok(Html::of(told))
}

async fn form(app: &App, seat: &Seat, typed: &Typed, wrong: &[String], kept: bool) -> Result<Response, Trouble> {
    let kept =
        if kept { tag("p").class("notice good").with("role", "status").say("Kept.").into() } else { Html::default() };
    let text = |name: &str, value: &str| input("text", name).with("value", value).with("autocomplete", "off");
    let units = [("metric", "Millimetres, newtons, kilograms"), ("us", "Inches, pounds")];
    let units = units.map(|(word, words)| (word.to_owned(), words.to_owned()));
    let fields = tag("form").with("method", "post").with("action", "/settings").class("narrow-form").all([
        hidden("version", &typed.version.to_string()),
        field(NAME, text("name", &typed.name), "It stands on quotes, hand-overs and labels."),
        field(
            CURRENCY,
            text("currency", &typed.currency),
            "Three letters. Jobs keep the currency that they began with.",
        ),
        amount_field(HOUR, "labour_rate", &typed.labour_rate, "What a customer pays for an hour."),
        amount_field(LOOKING, "looking_fee", &typed.looking_fee, "What looking costs where nothing is repaired."),
        amount_field(
            COMEBACK,
            "comeback_cost",
            &typed.comeback_cost,
            "Work, parts and good will. The recommended repair weighs it against the price.",
        ),
        field(
            RUNS,
            text("horizon_runs", &typed.horizon_runs).with("inputmode", "numeric"),
            "A second strip within so many runs is a comeback; a new job begins with this number.",
        ),
        field("Units that people see", choice("units", &units, &typed.units), ""),
        field(
            ZONE,
            text("time_zone", &typed.time_zone).with("list", "zones"),
            "Continent and city; of days and times on pages and papers.",
        ),
        zones(),
        tag("button").say("Keep the settings").into(),
    ]);
    let more = tag("p").class("actions").all([
        tag("a").class("button plain").with("href", "/people").say("People").into(),
        tag("a").class("button plain").with("href", "/parts").say("Parts and prices").into(),
    ]);
    let told = "They hold for jobs that are taken in from now on; jobs that are open keep theirs.";
    let told = [
        tag("h1").say("Settings of the shop").into(),
        kept,
        problems(wrong),
        doubts(app).await?,
        tag("p").say(told).into(),
        Html::from(fields),
        more.into(),
    ];
    Ok(page(&Frame::of("Settings", seat), tag("main").with("id", "main").all(told).into()))
}

/// Names to choose from while one is typed.
fn zones() -> Html {
    let option = |name: String| tag("option").with("value", &name).into();
    tag("datalist").with("id", "zones").all(WallClock::zones().into_iter().map(option)).into()
}

/// Keeps the settings, if nobody else changed them meanwhile.
pub(crate) async fn keep(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Form(typed): Form<Typed>,
) -> Result<Response, Trouble> {
    let write = seat.write(&app).await?;
    let read = typed.read(&shop_of(&write).await?);
    let wrong = match read {
        Err(wrong) => wrong,
        Ok(shop) => match write.set_shop(shop).await {
            Ok(Saved::Saved(_)) => {
                write.commit().await?;
                return Ok(Redirect::to("/settings?kept=yes").into_response());
            }
            Ok(Saved::Clash { theirs, .. }) => vec![clash(&theirs)],
            Err(Error::Constraint { .. } | Error::Value { .. }) => {
                vec!["An amount is larger than any shop's: up to 10 million are taken.".to_owned()]
            }
            Err(other) => return Err(other.into()),
        },
    };
    drop(write);
    Ok((StatusCode::UNPROCESSABLE_ENTITY, form(&app, &seat, &typed, &wrong, false).await?).into_response())
}

fn clash(theirs: &Shop) -> String {
    let now = Typed::of(theirs);
    format!(
        "Somebody else changed the settings meanwhile: an hour {}, looking {}, a comeback {} {}. Load the page again and \
         change what you meant to.",
        now.labour_rate, now.looking_fee, now.comeback_cost, now.currency
    )
}
