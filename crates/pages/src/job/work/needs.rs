//! The parts that a job needs: put on its list, chosen, ordered, fetched, fitted; the wrong gear is refused.

use super::{Work, plan_of, refused};
use crate::app::App;
use crate::door::guard::Seat;
use crate::page::html::{Html, Tag, tag};
use crate::page::shell::{choice, field, hidden, input, live};
use crate::page::trouble::Trouble;
use crate::page::words::{need_state, need_step, sentence};
use axum::extract::{Extension, Form, Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use serde::Deserialize;
use std::collections::BTreeMap;
use toothsayer_records::{
    Advice, Deed, Error, Id, Job, LineKind, Moment, Need, NeedState, Part, PickLine, Reach, Result as Kept, Saved,
    Write, every_part, form_key, job_by_number, lines_of, needs_of, offers_of, parts_named, pick_list, shelves,
};

/// Letters of a need's name at most, and pieces.
const LONGEST_NAME: usize = 120;
const MOST_PIECES: i64 = 1000;

/// The form that puts something on the list: the plan's parts, or one in the shop's words.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct New {
    plan: String,
    key: String,
    text: String,
    quantity: String,
}

/// The form that leads one on, or chooses a part for it.
#[derive(Deserialize)]
pub(crate) struct Step {
    need: String,
    version: i64,
    #[serde(default)]
    state: String,
    #[serde(default)]
    part: String,
}

/// What the list is shown with.
struct Store {
    parts: Vec<Part>,
    shelves: BTreeMap<Id<Part>, i64>,
    picks: Vec<PickLine>,
}

pub(super) async fn section(app: &App, work: &Work) -> Result<Html, Trouble> {
    let at = app.store();
    let needs = needs_of(at, work.job.id).await?;
    let parts = every_part(at).await?.into_iter().filter(|part| part.active).collect();
    let store = Store { parts, shelves: shelves(at).await?, picks: pick_list(at, work.job.id).await? };
    let number = work.job.number;
    let lines = needs.iter().map(|need| line(work, &store, need));
    let list = match needs.is_empty() {
        true => tag("p").say("No part is on this job's list yet.").into(),
        false => tag("ul").class("plain-list").all(lines).into(),
    };
    let told = [
        Html::from(tag("h2").say("Parts of this job")),
        from_plan(work, &needs),
        list,
        new(number),
        tag("p").hold(tag("a").with("href", "/parts/orders").say("Everything that is to be ordered")).into(),
    ];
    Ok(live("parts", tag("section")).with("id", "parts").all(told).into())
}

/// The plan's parts that are not on the list yet.
fn from_plan(work: &Work, needs: &[Need]) -> Html {
    let missing = missing(work, needs);
    if missing.is_empty() {
        return Html::default();
    }
    let told = format!("The work needs also: {}.", missing.join(", "));
    let form = post(work.job.number, "needs").with("data-send", "stay").hold(hidden("plan", "yes"));
    let form = form.hold(tag("button").say("Put them on the list"));
    tag("div").class("notice").hold(tag("p").say(&told)).hold(form).into()
}

fn missing(work: &Work, needs: &[Need]) -> Vec<String> {
    let of_plan = work.repair().map_or(&[][..], |(repair, _)| &repair.parts);
    let added = work.lines.iter().filter(|line| line.kind == LineKind::Part).map(|line| &line.text);
    let mut missing: Vec<String> = Vec::new();
    for name in of_plan.iter().chain(added) {
        if !missing.contains(name) && !needs.iter().any(|need| need.text == *name) {
            missing.push(name.clone());
        }
    }
    missing
}

fn post(number: i64, end: &str) -> Tag {
    tag("form").with("method", "post").with("action", &format!("/jobs/{number}/{end}"))
}

fn new(number: i64) -> Html {
    let form = post(number, "needs").class("answer").all([
        hidden("key", &form_key(Moment::now())),
        field("Something else", input("text", "text").with("autocomplete", "off").flag("required", true), ""),
        field("Pieces", input("text", "quantity").with("value", "1").with("inputmode", "numeric"), ""),
        tag("button").class("plain").say("Put it on the list").into(),
    ]);
    tag("details").hold(tag("summary").say("Add another part")).hold(form).into()
}

fn line(work: &Work, store: &Store, need: &Need) -> Html {
    let pieces = if need.quantity == 1 { String::new() } else { format!("{} × ", need.quantity) };
    let pick = store.picks.iter().find(|pick| pick.need.id == need.id);
    let chosen = need.part.and_then(|id| store.parts.iter().find(|part| part.id == id));
    let told = [
        Html::from(tag("h3").say(&format!("{pieces}{}", need.text))),
        tag("p").hold(tag("strong").say(need_state(need.state))).say(&pick.map_or(String::new(), advice)).into(),
        tag("p").class("small").say(&chosen.map_or(String::new(), |part| described(store, part))).into(),
        choose(work, store, need),
        steps(work, need),
    ];
    let class = if need.state == NeedState::Used { "check answered" } else { "check" };
    tag("li").class(class).all(told).into()
}

fn advice(pick: &PickLine) -> String {
    let told = match pick.advice {
        Advice::Choose => "choose a part of the shop's list".to_owned(),
        Advice::Take => format!("take it from the shelf: {} free", pick.free),
        Advice::Order if pick.on_shelf > pick.free => {
            format!("order it: {} on the shelf, but kept for other jobs", pick.on_shelf)
        }
        Advice::Order => "order it: none is free on the shelf".to_owned(),
        Advice::Wait => "it is on its way".to_owned(),
    };
    format!(" · {told}")
}

/// "pinion 19 · Ratchet Row · 14.50 EUR · 2 on the shelf".
fn described(store: &Store, part: &Part) -> String {
    let there = store.shelves.get(&part.id).copied().unwrap_or(0);
    let price = part.price().map_or(String::new(), |price| price.to_string());
    let told = [part.name.clone(), part.supplier.clone(), price, format!("{there} on the shelf")];
    told.into_iter().filter(|text| !text.is_empty()).collect::<Vec<_>>().join(" · ")
}

/// The parts that may be meant: of that name, or the same gear; of no gear, all that are none.
fn choose(work: &Work, store: &Store, need: &Need) -> Html {
    if !matches!(need.state, NeedState::Wanted) {
        return Html::default();
    }
    let fits = |part: &&Part| need.takes(part) && (part.name == need.text || part.gear.gear == need.gear.gear);
    let mut options: Vec<&Part> = store.parts.iter().filter(fits).collect();
    options.sort_by_key(|part| part.name != need.text);
    if options.is_empty() {
        let told = "The shop's list has no such part yet.";
        return tag("p").class("small").say(told).hold(tag("a").with("href", "/parts#new").say("Add it there")).into();
    }
    let mut told: Vec<(String, String)> = vec![(String::new(), "Choose".into())];
    told.extend(options.into_iter().map(|part| (part.id.to_string(), described(store, part))));
    let chosen = need.part.map_or(String::new(), |part| part.to_string());
    let form = post(work.job.number, "needs/choose").with("data-send", "stay").class("answer").all([
        hidden("need", &need.id.to_string()),
        hidden("version", &need.version.to_string()),
        field("Part of the shop's list", choice("part", &told, &chosen), ""),
        tag("button").class("plain").say("Take this one").into(),
    ]);
    let label = if need.part.is_some() { "Choose another" } else { "Choose the part" };
    tag("details").flag("open", need.part.is_none()).hold(tag("summary").say(label)).hold(form).into()
}

fn steps(work: &Work, need: &Need) -> Html {
    let may = |state: &NeedState| *state != NeedState::Ordered || work.seat.may(Deed::Counter);
    let ready = |state: &NeedState| need.part.is_some() || matches!(state, NeedState::Wanted | NeedState::Dropped);
    let buttons = need.state.next().filter(may).filter(ready).map(|state| {
        tag("button")
            .class("plain")
            .with("name", "state")
            .with("value", state.word())
            .say(need_step(need.state, state))
            .into()
    });
    post(work.job.number, "needs/lead")
        .with("data-send", "stay")
        .all([
            hidden("need", &need.id.to_string()),
            hidden("version", &need.version.to_string()),
            tag("div").class("actions").all(buttons).into(),
        ])
        .into()
}

fn to_list(number: i64) -> Response {
    Redirect::to(&format!("/jobs/{number}/work#parts")).into_response()
}

/// Puts something on the job's list.
pub(crate) async fn add(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path(number): Path<i64>,
    Form(form): Form<New>,
) -> Result<Response, Trouble> {
    if form.plan == "yes" {
        return add_plan(&app, &seat, number).await;
    }
    let (text, letters) = (form.text.trim(), form.text.trim().chars().count());
    let pieces = form.quantity.trim().parse::<i64>().ok().filter(|pieces| (1..=MOST_PIECES).contains(pieces));
    let Some(quantity) = pieces.filter(|_| (1..=LONGEST_NAME).contains(&letters)) else {
        let wrong = format!(
            "The part “{text}”, {} pieces: a name of 1 to {LONGEST_NAME} letters and 1 to {MOST_PIECES} pieces are taken.",
            form.quantity.trim()
        );
        return refused(&app, &seat, number, &[wrong]).await;
    };
    let write = seat.write(&app).await?;
    let job = job_by_number(&write, number).await?;
    let content = format!("{} {form:?}", job.id);
    if write.first_time(&form.key, content.as_bytes()).await?.is_some() {
        return Ok(to_list(number));
    }
    let need = write.add(Need { quantity, ..Need::new(&write, job.id, text) }).await?;
    write.was_done(&form.key, content.as_bytes(), need.id.to_string().into()).await?;
    choose_alone(&write, need).await?;
    write.commit().await?;
    Ok(to_list(number))
}

/// Puts the plan's parts on the list, those that are not there yet.
async fn add_plan(app: &App, seat: &Seat, number: i64) -> Result<Response, Trouble> {
    let plan = plan_of(app, &job_by_number(app.store(), number).await?).await?;
    let write = seat.write(app).await?;
    let job: Job = job_by_number(&write, number).await?;
    let (offers, lines, needs) =
        (offers_of(&write, job.id).await?, lines_of(&write, job.id).await?, needs_of(&write, job.id).await?);
    let of_plan = plan.repair(&offers).map_or(&[][..], |(repair, _)| &repair.parts);
    let mut wanted: Vec<(&str, i64)> = Vec::new();
    let own = of_plan.iter().map(|name| (name.as_str(), 1));
    let added = lines.iter().filter(|line| line.kind == LineKind::Part);
    for (name, quantity) in own.chain(added.map(|line| (line.text.as_str(), line.quantity))) {
        let there = wanted.iter().any(|(known, _)| *known == name) || needs.iter().any(|need| need.text == name);
        if !there {
            wanted.push((name, quantity));
        }
    }
    for (name, quantity) in wanted {
        let need = Need { quantity, ..Need::new(&write, job.id, name) };
        let need = plan.wanted(name).map_or(need.clone(), |measures| need.of(measures));
        choose_alone(&write, write.add(need).await?).await?;
    }
    write.commit().await?;
    Ok(to_list(number))
}

/// Chooses the part where the list has one of that name alone, and it is the right one.
async fn choose_alone(write: &Write, need: Need) -> Kept<()> {
    let named = parts_named(write, &need.text).await?;
    let [part] = &named[..] else { return Ok(()) };
    match write.choose(&need, part).await {
        Ok(_) | Err(Error::Part(_)) => Ok(()),
        Err(other) => Err(other),
    }
}

/// Chooses a part for a need.
pub(crate) async fn choose_part(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path(number): Path<i64>,
    Form(form): Form<Step>,
) -> Result<Response, Trouble> {
    if form.part.is_empty() {
        return refused(&app, &seat, number, &["Choose a part of the shop's list first.".to_owned()]).await;
    }
    let write = seat.write(&app).await?;
    let need = need_of(&write, number, &form).await?;
    let part: Part = write.get(Id::parse(&form.part)?).await?;
    // The same form sent twice counts once.
    if need.part == Some(part.id) {
        return Ok(to_list(number));
    }
    let kept = write.choose(&need, &part).await;
    finish(&app, &seat, number, write, kept).await
}

/// Leads a need on.
pub(crate) async fn lead(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path(number): Path<i64>,
    Form(form): Form<Step>,
) -> Result<Response, Trouble> {
    let allowed = "a state of a needed part";
    let unknown = || Trouble::Form { field: "state", value: form.state.clone(), allowed };
    let to = NeedState::of_word(&form.state).ok_or_else(unknown)?;
    if to == NeedState::Ordered && !seat.may(Deed::Counter) {
        let wrong = "Parts are ordered by the counter or the owner; tell them what is needed.".to_owned();
        return refused(&app, &seat, number, &[wrong]).await;
    }
    let write = seat.write(&app).await?;
    let need = need_of(&write, number, &form).await?;
    if need.state == to {
        return Ok(to_list(number));
    }
    let kept = write.lead_need(&need, to).await;
    finish(&app, &seat, number, write, kept).await
}

/// The need as it stood on the page; none of another job.
async fn need_of(write: &Write, number: i64, form: &Step) -> Result<Need, Trouble> {
    let job = job_by_number(write, number).await?;
    let need: Need = write.get(Id::parse(&form.need)?).await?;
    if need.job != Some(job.id) {
        return Err(Trouble::NoPage);
    }
    Ok(Need { version: form.version, ..need })
}

async fn finish(
    app: &App,
    seat: &Seat,
    number: i64,
    write: Write,
    kept: Kept<Saved<Need>>,
) -> Result<Response, Trouble> {
    let wrong = match kept {
        Ok(Saved::Saved(_)) => {
            write.commit().await?;
            return Ok(to_list(number));
        }
        Ok(Saved::Clash { theirs, .. }) => {
            let state = need_state(theirs.state).to_lowercase();
            format!("Somebody else changed “{}” meanwhile: it is now {state}.", theirs.text)
        }
        Err(Error::Part(refusal)) => format!("{}: {}.", sentence(&refusal.to_string()), refusal.hint()),
        Err(other) => return Err(other.into()),
    };
    drop(write);
    refused(app, seat, number, &[wrong]).await
}
