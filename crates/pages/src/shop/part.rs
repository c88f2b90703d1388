//! One part: what it is and costs, and its shelf as a ledger of what came and went.

use crate::app::App;
use crate::door::guard::Seat;
use crate::page::amount::{amount_field, read, shown};
use crate::page::html::{Html, tag};
use crate::page::shell::{Frame, choice, field, hidden, input, page, problems};
use crate::page::trouble::Trouble;
use crate::page::typed::{decimal_comma, quoted};
use crate::page::words::sentence;
use crate::shop::parts::twin;
use axum::extract::{Extension, Form, Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use serde::Deserialize;
use toothsayer_quantity::{Currency, Kind, Length, ParseError, System, parse};
use toothsayer_records::{
    Deed, Error, Gear, Id, KeptGear, Measures, Need, NeedState, Part, Person, Reach, Saved, Stock, StockChange,
    WallClock, Write, everybody, on_shelf, stock_of,
};
use toothsayer_report::words::value;

/// Letters of a name, and of a reason, at most.
const LONGEST_NAME: usize = 120;
const LONGEST_REASON: usize = 500;
/// Pieces at most, days until one arrives, and teeth of a gear.
const MOST_PIECES: i64 = 100_000;
const MOST_DAYS: i64 = 1000;
const TEETH: std::ops::RangeInclusive<i64> = 5..=500;
/// Lines of the ledger that are shown.
const LINES: usize = 50;

/// A part as it was typed.
#[derive(Clone, Deserialize)]
pub(crate) struct Typed {
    #[serde(default)]
    version: i64,
    name: String,
    price: String,
    cost: String,
    currency: String,
    supplier: String,
    order_number: String,
    lead_days: String,
    keep: String,
    gear: String,
    teeth: String,
    pitch: String,
    bore: String,
    #[serde(default)]
    gone: String,
}

/// The same, read.
pub(crate) struct Filled {
    /// What it is called.
    pub name: String,
    /// What a customer pays, minor units.
    pub price: i64,
    /// The currency of both amounts.
    pub currency: Currency,
    cost: i64,
    supplier: String,
    order_number: String,
    lead_days: Option<i64>,
    keep: i64,
    gear: KeptGear,
    active: bool,
}

impl Filled {
    /// Whether a supplier's own number is the other's too.
    pub(crate) fn is_ordered_as(&self, other: &Part) -> bool {
        let own = (&self.supplier, &self.order_number);
        !self.order_number.is_empty() && own == (&other.supplier, &other.order_number)
    }

    /// A part with these values.
    pub(crate) fn laid_on(&self, part: Part) -> Part {
        Part {
            name: self.name.clone(),
            gear: self.gear,
            supplier: self.supplier.clone(),
            order_number: self.order_number.clone(),
            currency: self.currency.to_string(),
            cost: self.cost,
            price: self.price,
            lead_days: self.lead_days,
            keep: self.keep,
            active: self.active,
            ..part
        }
    }
}

impl Typed {
    /// An empty form.
    pub(crate) fn empty(currency: &str) -> Self {
        let empty = String::new;
        Self {
            version: 0,
            name: empty(),
            price: empty(),
            cost: "0".into(),
            currency: currency.into(),
            supplier: empty(),
            order_number: empty(),
            lead_days: empty(),
            keep: "0".into(),
            gear: empty(),
            teeth: empty(),
            pitch: empty(),
            bore: empty(),
            gone: empty(),
        }
    }

    fn of(part: &Part, system: System) -> Self {
        let currency = Currency::parse(&part.currency).unwrap_or(Currency::EUR);
        let measures = part.measures();
        let length = |length: Length, system| value(Kind::Length, length.to_m(), system);
        Self {
            version: part.version,
            name: part.name.clone(),
            price: shown(part.price, currency),
            cost: shown(part.cost, currency),
            currency: part.currency.clone(),
            supplier: part.supplier.clone(),
            order_number: part.order_number.clone(),
            lead_days: part.lead_days.map_or(String::new(), |days| days.to_string()),
            keep: part.keep.to_string(),
            gear: measures.map_or(String::new(), |measures| measures.gear.word().to_owned()),
            teeth: measures.map_or(String::new(), |measures| measures.teeth.to_string()),
            // A module is told in mm everywhere.
            pitch: measures.map_or(String::new(), |measures| length(measures.module, System::Metric)),
            bore: measures.and_then(|own| own.bore).map_or(String::new(), |bore| length(bore, system)),
            gone: if part.active { String::new() } else { "yes".into() },
        }
    }

    /// The part as typed, or everything that is wrong with it.
    pub(crate) fn read(&self) -> Result<Filled, Vec<String>> {
        let mut wrong = Vec::new();
        let name = self.name.trim();
        for (what, text, least) in
            [("The name", name, 1), ("The supplier", &self.supplier, 0), ("The order number", &self.order_number, 0)]
        {
            let letters = text.trim().chars().count();
            if letters < least || letters > LONGEST_NAME {
                wrong.push(format!("{what} has {letters} letters; {least} to {LONGEST_NAME} are allowed."));
            }
        }
        let currency = Currency::parse(&self.currency.trim().to_uppercase());
        if currency.is_none() {
            wrong.push(format!("The currency “{}” is not three letters such as EUR.", self.currency.trim()));
        }
        let currency = currency.unwrap_or(Currency::EUR);
        let mut or_wrong = |result: Result<i64, String>| {
            result.unwrap_or_else(|told| {
                wrong.push(told);
                0
            })
        };
        let price = or_wrong(read("The price", &self.price, currency));
        let cost = or_wrong(read("What the shop pays", &self.cost, currency));
        let keep = or_wrong(whole("Pieces to keep", &self.keep, 0..=MOST_PIECES));
        let lead_days = match self.lead_days.trim() {
            "" => None,
            days => Some(or_wrong(whole("Days until one arrives", days, 0..=MOST_DAYS))),
        };
        let gear = self.measures().unwrap_or_else(|told| {
            wrong.push(told);
            KeptGear::default()
        });
        let (supplier, order_number) = (self.supplier.trim().to_owned(), self.order_number.trim().to_owned());
        let (name, active) = (name.to_owned(), self.gone != "yes");
        let filled = Filled { name, price, currency, cost, supplier, order_number, lead_days, keep, gear, active };
        if wrong.is_empty() { Ok(filled) } else { Err(wrong) }
    }

    /// What gear it is, where it is one.
    fn measures(&self) -> Result<KeptGear, String> {
        let gear = match self.gear.as_str() {
            "pinion" => Gear::Pinion,
            "spur" => Gear::Spur,
            _ => return Ok(KeptGear::default()),
        };
        let teeth = whole("The teeth", &self.teeth, TEETH)?;
        let module = module(self.pitch.trim())?;
        let bore = match self.bore.trim() {
            "" => None,
            bore => Some(Length::m(positive(Kind::Length, "The bore", bore)?)),
        };
        Ok(KeptGear::from(&Measures { gear, teeth, module, bore }))
    }
}

/// A module, or the teeth on an inch of diameter.
fn module(typed: &str) -> Result<Length, String> {
    match parse(Kind::PerLength, &decimal_comma(typed)) {
        Ok(per_length) if per_length.si > 0.0 => Ok(Length::m(1.0 / per_length.si)),
        _ => positive(Kind::Length, "The pitch", typed).map(Length::m),
    }
}

fn positive(kind: Kind, what: &str, typed: &str) -> Result<f64, String> {
    let wrong = |error: ParseError| quoted(&format!("{what}: {error}; {}.", error.hint()));
    let read = parse(kind, &decimal_comma(typed)).map_err(wrong)?;
    if read.si > 0.0 { Ok(read.si) } else { Err(format!("{what} is {typed}; more than nothing is needed.")) }
}

fn whole(what: &str, typed: &str, allowed: std::ops::RangeInclusive<i64>) -> Result<i64, String> {
    let told = || format!("{what}: “{}” is no whole number of {} to {}.", typed.trim(), allowed.start(), allowed.end());
    typed.trim().parse().ok().filter(|number| allowed.contains(number)).ok_or_else(told)
}

/// The fields of a part.
pub(crate) fn fields(typed: &Typed) -> Html {
    let text = |name: &str, value: &str| input("text", name).with("value", value).with("autocomplete", "off");
    let number = |name: &str, value: &str| text(name, value).with("inputmode", "numeric");
    let gears = [("", "No gear"), ("pinion", "Pinion"), ("spur", "Spur")].map(|(a, b)| (a.to_owned(), b.to_owned()));
    let gear = tag("fieldset").hold(tag("legend").say("Where it is a gear")).hold(tag("div").class("grid").all([
        field("Which", choice("gear", &gears, &typed.gear), "A wrong gear is refused for a job by these."),
        field("Teeth", number("teeth", &typed.teeth), ""),
        field(
            "Pitch",
            text("pitch", &typed.pitch).with("placeholder", "1 mm"),
            "The module, or teeth on an inch: 32 1/in.",
        ),
        field("Bore", text("bore", &typed.bore).with("placeholder", "8 mm"), ""),
    ]));
    let plain = tag("div").class("grid").all([
        field("Name", text("name", &typed.name).flag("required", true), "As the work calls it: “pinion 19”."),
        amount_field("Price for a customer", "price", &typed.price, ""),
        amount_field("What the shop pays", "cost", &typed.cost, ""),
        field("Currency", text("currency", &typed.currency), ""),
        field("Supplier", text("supplier", &typed.supplier), ""),
        field("Order number", text("order_number", &typed.order_number), ""),
        field("Days until one arrives", number("lead_days", &typed.lead_days), ""),
        field("Pieces to keep on the shelf", number("keep", &typed.keep), ""),
    ]);
    Html::of([hidden("version", &typed.version.to_string()), plain.into(), gear.into()])
}

/// The page.
pub(crate) async fn show(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path(id): Path<String>,
) -> Result<Response, Trouble> {
    let part = read_part(app.store(), &id).await?;
    let typed = Typed::of(&part, app.system().await?);
    sheet(&app, &seat, &part, &typed, &[]).await
}

async fn read_part(at: &impl Reach, id: &str) -> Result<Part, Trouble> {
    Ok(at.get(Id::parse(id).map_err(|_| Trouble::NoPage)?).await?)
}

async fn sheet(app: &App, seat: &Seat, part: &Part, typed: &Typed, wrong: &[String]) -> Result<Response, Trouble> {
    let there = on_shelf(app.store(), part.id).await?;
    let (ledger, people) = (stock_of(app.store(), part.id).await?, everybody(app.store()).await?);
    let told = [
        tag("p").class("kicker").say("Part of the list").into(),
        tag("h1").say(&part.name).into(),
        problems(wrong),
        tag("p").hold(tag("strong").say(&format!("{there} on the shelf"))).into(),
        shelf(part),
        change(seat, part, typed),
        history(&ledger, &people, &seat.clock),
        Html::from(tag("p").hold(tag("a").with("href", "/parts").say("All parts"))),
    ];
    Ok(page(&Frame::of(&part.name, seat), tag("main").with("id", "main").all(told).into()))
}

/// What may be told of the shelf.
const DEEDS: [(&str, &str); 3] = [
    ("counted", "So many lie there: I counted"),
    ("came", "So many came"),
    ("thrown", "So many were thrown away or are gone"),
];

fn shelf(part: &Part) -> Html {
    let options = DEEDS.map(|(word, words)| (word.to_owned(), words.to_owned()));
    let pieces =
        input("text", "pieces").with("inputmode", "numeric").with("autocomplete", "off").flag("required", true);
    let form = tag("form")
        .with("method", "post")
        .with("action", &format!("/parts/{}/shelf", part.id))
        .class("narrow-form")
        .all([
            field("What happened", choice("deed", &options, "counted"), ""),
            field("Pieces", pieces, ""),
            field("Reason or note", input("text", "reason").with("autocomplete", "off"), ""),
            tag("button").say("Note it").into(),
        ]);
    tag("section").with("id", "shelf").hold(tag("h2").say("The shelf")).hold(form).into()
}

fn change(seat: &Seat, part: &Part, typed: &Typed) -> Html {
    if !seat.may(Deed::Own) {
        let price = part.price().map_or(String::new(), |price| price.to_string());
        return tag("p").say(&format!("Price for a customer: {price}. The owner changes prices.")).into();
    }
    let gone = input("checkbox", "gone").with("value", "yes").flag("checked", typed.gone == "yes");
    let gone = tag("label").class("pick").hold(gone).hold(tag("span").say("It is no longer to be had"));
    let form = tag("form").with("method", "post").with("action", &format!("/parts/{}", part.id));
    let form = form.hold(fields(typed)).hold(gone).hold(tag("button").say("Keep the changes"));
    tag("section").with("id", "change").hold(tag("h2").say("What it is and costs")).hold(form).into()
}

fn history(ledger: &[Stock], people: &[Person], clock: &WallClock) -> Html {
    let lines = ledger.iter().rev().take(LINES).map(|line| {
        let who = people.iter().find(|person| Some(person.id) == line.who);
        let by = who.map_or(String::new(), |person| format!(", {}", person.name));
        let note = if line.note.is_empty() { String::new() } else { format!(": {}", line.note) };
        let told = format!("{:+} {}{note}, then {} there", line.change, why(line.why), line.on_shelf);
        let when = format!(" {}{by}", clock.when(line.at));
        tag("li").say(&told).hold(tag("span").class("small").say(&when)).into()
    });
    let told = if ledger.is_empty() { "Nobody counted it yet." } else { "" };
    let told = [
        tag("h2").say("What came and went").into(),
        Html::from(tag("p").say(told)),
        tag("ul").class("plain-list").all(lines).into(),
    ];
    tag("section").with("id", "ledger").all(told).into()
}

fn why(change: StockChange) -> &'static str {
    match change {
        StockChange::Counted => "by counting",
        StockChange::Lost => "thrown away or gone",
        StockChange::Arrived => "came",
        StockChange::Used => "went into a truck",
        StockChange::PutBack => "came out of a truck unused",
        StockChange::Returned => "sent back",
    }
}

/// What was typed, unless another part is that already.
async fn unique(write: &Write, part: &Part, filled: Filled) -> Result<Result<Filled, Vec<String>>, Trouble> {
    let twin = twin(write, &filled, Some(part)).await?;
    Ok(twin.map_or(Ok(filled), |(_, wrong)| Err(vec![wrong])))
}

/// Changes a part.
pub(crate) async fn keep(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path(id): Path<String>,
    Form(typed): Form<Typed>,
) -> Result<Response, Trouble> {
    let write = seat.write(&app).await?;
    let part = read_part(&write, &id).await?;
    let filled = match typed.read() {
        Ok(filled) => unique(&write, &part, filled).await?,
        wrong => wrong,
    };
    let wrong = match filled {
        Err(wrong) => wrong,
        Ok(filled) => match write.save(Part { version: typed.version, ..filled.laid_on(part.clone()) }).await? {
            Saved::Saved(part) => {
                write.commit().await?;
                return Ok(Redirect::to(&format!("/parts/{}", part.id)).into_response());
            }
            Saved::Clash { theirs, .. } => {
                let price = theirs.price().map_or(String::new(), |price| price.to_string());
                vec![format!("Somebody else changed this part meanwhile: it is now “{}” at {price}.", theirs.name)]
            }
        },
    };
    drop(write);
    Ok((StatusCode::UNPROCESSABLE_ENTITY, sheet(&app, &seat, &part, &typed, &wrong).await?).into_response())
}

/// What happened at the shelf.
#[derive(Deserialize)]
pub(crate) struct AtShelf {
    deed: String,
    pieces: String,
    #[serde(default)]
    reason: String,
}

/// Notes what came to the shelf or left it.
pub(crate) async fn move_pieces(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path(id): Path<String>,
    Form(form): Form<AtShelf>,
) -> Result<Response, Trouble> {
    let write = seat.write(&app).await?;
    let part = read_part(&write, &id).await?;
    let wrong = match note(&write, &part, &form).await {
        Ok(()) => {
            write.commit().await?;
            return Ok(Redirect::to(&format!("/parts/{}#shelf", part.id)).into_response());
        }
        Err(Trouble::Records(Error::Part(refusal))) => {
            format!("{}: {}.", sentence(&refusal.to_string()), refusal.hint())
        }
        Err(Trouble::Form { value, allowed, .. }) => format!("Pieces: “{value}” is not {allowed}."),
        Err(Trouble::Records(Error::Value { of, allowed, .. })) => format!("{}: {allowed} is needed.", sentence(&of)),
        Err(other) => return Err(other),
    };
    drop(write);
    let typed = Typed::of(&part, app.system().await?);
    Ok((StatusCode::UNPROCESSABLE_ENTITY, sheet(&app, &seat, &part, &typed, &[wrong]).await?).into_response())
}

async fn note(write: &Write, part: &Part, form: &AtShelf) -> Result<(), Trouble> {
    let number = form.pieces.trim().parse::<i64>().ok().filter(|pieces| (0..=MOST_PIECES).contains(pieces));
    let pieces = number.ok_or_else(|| Trouble::Form {
        field: "pieces",
        value: form.pieces.clone(),
        allowed: "a whole number of 0 to 100000",
    })?;
    let reason: String = form.reason.trim().chars().take(LONGEST_REASON).collect();
    match form.deed.as_str() {
        "thrown" => write.throw_away(part, pieces, &reason).await.map(|_| ())?,
        "came" => came(write, part, pieces, &reason).await?,
        _ => write.count_shelf(part.id, pieces, &reason).await.map(|_| ())?,
    }
    Ok(())
}

/// Pieces that came without being on the order list: bought over a counter.
async fn came(write: &Write, part: &Part, pieces: i64, note: &str) -> Result<(), Trouble> {
    if pieces < 1 {
        return Err(Trouble::Form { field: "pieces", value: pieces.to_string(), allowed: "1 or more" });
    }
    let mut need = write.add(Need { note: note.to_owned(), ..Need::for_shelf(write, part, pieces) }).await?;
    for state in [NeedState::Ordered, NeedState::Arrived] {
        // Written in this very write: nobody else can have changed it.
        if let Saved::Saved(led) = write.lead_need(&need, state).await? {
            need = led;
        }
    }
    Ok(())
}
