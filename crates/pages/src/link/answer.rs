//! The customer's answer by their link: the repairs that were offered with what each costs, a yes to one, or a no.

use crate::app::App;
use crate::job::alternatives::{caution, weighed};
use crate::job::deal::{Asked, Deal};
use crate::job::go_ahead::{ANEW, Chosen, Heard, Reckoned, Said, answer};
use crate::job::offering::{Offering, Repair};
use crate::link::page::{Peer, Shut, job_of, sheet};
use crate::page::html::{Html, tag};
use crate::page::shell::{field, hidden, input, problems};
use crate::page::trouble::Trouble;
use crate::page::words::{money, sentence};
use axum::extract::{Form as Sent, Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use serde::Deserialize;
use toothsayer_records::{Channel, Job, Line, Offer, job_by_number};
use toothsayer_report::plain::comes_back;
use toothsayer_report::words::list;

/// The form, as it was typed.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Reply {
    /// Which offer, as [`Chosen::text`] writes it.
    offer: String,
    said_by: String,
    reason: String,
    answer: String,
    /// The job's version that stood on the page.
    version: i64,
    /// What the shop's own lines came to on it, minor units.
    lines: i64,
}

/// What is asked of the customer; nothing where nothing is.
pub(crate) fn section(job: &Job, deal: &Deal, offering: &Offering, form: &Form<'_>) -> Html {
    match deal.asked(offering) {
        // What went wrong is told even where there is nothing left to answer.
        Asked::Nothing => problems(form.wrong),
        Asked::Anew => tag("section")
            .with("id", "answer")
            .hold(tag("h2").say("Your answer"))
            .hold(problems(form.wrong))
            .hold(tag("p").class("notice doubt").say(ANEW))
            .into(),
        Asked::Of(offers) => ask(job, deal, &offers, form),
    }
}

/// Where the form goes, as it was typed, with what is wrong with it.
pub(crate) struct Form<'a> {
    pub secret: &'a str,
    pub typed: &'a Reply,
    pub wrong: &'a [String],
}

fn ask(job: &Job, deal: &Deal, offers: &[(&Offer, &Repair)], Form { secret, typed, wrong }: &Form<'_>) -> Html {
    let choices = offers.iter().map(|(offer, repair)| choice(job, deal, (offer, repair), typed)).collect::<Vec<_>>();
    let name =
        input("text", "said_by").with("value", &typed.said_by).with("autocomplete", "name").flag("required", true);
    let reason = input("text", "reason").with("value", &typed.reason).with("autocomplete", "off");
    let button = |value: &str, words: &str| tag("button").with("name", "answer").with("value", value).say(words);
    let form = tag("form").with("method", "post").with("action", &format!("/link/{secret}/answer")).all([
        hidden("version", &job.version.to_string()),
        hidden("lines", &deal.extra().to_string()),
        tag("fieldset").hold(tag("legend").say("Which repair")).all(choices).into(),
        field("Your name", name, ""),
        field("If not: why", reason, "May stay empty."),
        tag("div")
            .class("actions")
            .hold(button("yes", "Yes, do it"))
            .hold(button("no", "No, leave it").class("plain"))
            .into(),
    ]);
    let told =
        "A yes goes up to the amount that stands beside the repair, and no further: what costs more is asked again.";
    tag("section")
        .with("id", "answer")
        .hold(tag("h2").say("Your answer"))
        .hold(problems(wrong))
        .hold(rose(job, deal))
        .hold(lines(job, deal))
        .hold(tag("p").say(told))
        .hold(form)
        .into()
}

/// What was agreed on and what it comes to now.
fn rose(job: &Job, deal: &Deal) -> Html {
    let (Some(agreed), true) = (deal.agreed(), deal.rose()) else { return Html::default() };
    let [agreed, price] = [agreed, deal.price].map(|minor| money(minor, &job.currency));
    let told = format!("You agreed up to {agreed}. Now it comes to {price}: we ask you again before we go on.");
    tag("p").class("notice doubt").say(&told).into()
}

/// The shop's own lines, which come with every repair.
fn lines(job: &Job, deal: &Deal) -> Html {
    if deal.lines.is_empty() {
        return Html::default();
    }
    let line = |line: &Line| {
        let count = if line.quantity == 1 { String::new() } else { format!("{} × ", line.quantity) };
        let amount = money(line.price.saturating_mul(line.quantity), &job.currency);
        tag("li").hold(tag("strong").say(&format!("{count}{}:", line.text))).say(&format!(" {amount}")).into()
    };
    let told = tag("p").say("With every repair there comes, within the amounts below:");
    Html::of([told.into(), tag("ul").all(deal.lines.iter().map(line)).into()])
}

/// An offer with what it is, how likely the truck comes back with it, what is done, and what is left.
fn choice(job: &Job, deal: &Deal, (offer, repair): (&Offer, &Repair), typed: &Reply) -> Html {
    let value = Chosen::of(offer).text();
    let taken = deal.taken().is_some_and(|taken| taken.id == offer.id);
    let checked = if typed.offer.is_empty() { taken } else { value == typed.offer };
    let radio = input("radio", "offer").with("value", &value).flag("checked", checked);
    let up_to = money(offer.price.saturating_add(deal.extra()), &job.currency);
    let named = tag("span").hold(tag("strong").say(&offer.name)).say(&format!(" · up to {up_to}"));
    let agreed = if taken { "This is what you agreed to before. " } else { "" };
    let says = |text: &str| Html::from(tag("p").say(text));
    let named_list = |head: &str, items: &[String]| match items.is_empty() {
        true => Html::default(),
        false => tag("p").hold(tag("strong").say(head)).say(&format!(" {}.", list(items))).into(),
    };
    let nothing = ["nothing that alone would likely come back".to_owned()];
    let leaves = if repair.leaves_plain.is_empty() { &nothing[..] } else { &repair.leaves_plain };
    let steps = tag("ul").all(repair.work.iter().map(|step| tag("li").say(step).into()));
    let summary = tag("summary").say(&format!("What is done ({} steps)", repair.work.len()));
    tag("div")
        .class("offer")
        .all([
            tag("label").class("pick").hold(radio).hold(named).into(),
            says(&format!("{agreed}{}", repair.kinds.join(" "))),
            says(&format!("{}.", sentence(&comes_back(repair.comeback, repair.horizon_runs)))),
            named_list("It cures:", &repair.cures),
            named_list("New parts:", &repair.part_names),
            named_list("It leaves:", leaves),
            caution(repair),
            tag("details").hold(summary).hold(steps).into(),
        ])
        .into()
}

/// Keeps the answer.
pub(crate) async fn keep(
    State(app): State<App>,
    peer: Peer,
    Path(secret): Path<String>,
    Sent(reply): Sent<Reply>,
) -> Result<Response, Shut> {
    let known = job_of(&app, peer, &secret).await?;
    let yes = match reply.answer.as_str() {
        "yes" => true,
        "no" => false,
        other => return Err(Trouble::Form { field: "answer", value: other.into(), allowed: "yes or no" }.into()),
    };
    let (text, offering) = weighed(&app, &known).await?;
    let write = app.write().await?;
    let deal = Deal::of(&write, &known).await?;
    let heard = match deal.asked(&offering) {
        Asked::Of(_) => {
            let said = Said {
                channel: Channel::Link,
                said_by: &reply.said_by,
                to: Chosen::parse(&reply.offer),
                yes,
                up_to: None,
                reason: &reply.reason,
                version: reply.version,
                lines: reply.lines,
            };
            answer(&write, &known, &said, Reckoned { text: &text, offering: &offering }).await?
        }
        // The page says so by itself.
        Asked::Anew => Heard::Not(Vec::new()),
        Asked::Nothing => Heard::Not(vec!["This was answered already. Ask the shop if something is to change.".into()]),
    };
    match heard {
        Heard::Kept => {
            write.commit().await?;
            Ok(Redirect::to(&format!("/link/{secret}")).into_response())
        }
        Heard::Not(wrong) => {
            drop(write);
            let job = job_by_number(app.store(), known.number).await?;
            let told = sheet(&app, &job, &secret, &reply, &wrong).await?;
            Ok((StatusCode::UNPROCESSABLE_ENTITY, told).into_response())
        }
    }
}
