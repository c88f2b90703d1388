//! The customer's answer by their link: the repairs that were offered with what each costs, a yes to one, or a no.

use crate::app::App;
use crate::job::go_ahead::{Chosen, Heard, Said, answer};
use crate::link::page::{Peer, Shut, job_of, sheet};
use crate::page::html::{Html, tag};
use crate::page::shell::{field, hidden, input, problems};
use crate::page::trouble::Trouble;
use crate::page::words::{chance, money};
use axum::extract::{Form, Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use serde::Deserialize;
use toothsayer_records::{Channel, Job, JobState, Offer, OfferAnswer, job_by_number, lines_of, offers_of};

/// Chances are kept in millionths.
const PPM: f64 = 1e6;

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
}

/// What is asked of the customer; nothing where nothing is.
pub(crate) async fn section(
    app: &App,
    job: &Job,
    secret: &str,
    typed: &Reply,
    wrong: &[String],
) -> Result<Html, Trouble> {
    let offers = offers_of(app.store(), job.id).await?;
    let open: Vec<&Offer> = offers.iter().filter(|offer| offer.answer == OfferAnswer::Open).collect();
    if open.is_empty() || job.state != JobState::WaitingForAnswer {
        // What went wrong is told even where there is nothing left to answer.
        return Ok(problems(wrong));
    }
    let lines = lines_of(app.store(), job.id).await?;
    let extra = lines.iter().map(|line| line.price.saturating_mul(line.quantity)).fold(0, i64::saturating_add);
    let choices = open.into_iter().map(|offer| choice(job, offer, extra, typed)).collect::<Vec<_>>();
    let name =
        input("text", "said_by").with("value", &typed.said_by).with("autocomplete", "name").flag("required", true);
    let reason = input("text", "reason").with("value", &typed.reason).with("autocomplete", "off");
    let button = |value: &str, words: &str| tag("button").with("name", "answer").with("value", value).say(words);
    let form = tag("form").with("method", "post").with("action", &format!("/link/{secret}/answer")).all([
        hidden("version", &job.version.to_string()),
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
    Ok(tag("section")
        .with("id", "answer")
        .hold(tag("h2").say("Your answer"))
        .hold(problems(wrong))
        .hold(tag("p").say(told))
        .hold(form)
        .into())
}

fn choice(job: &Job, offer: &Offer, extra: i64, typed: &Reply) -> Html {
    let value = Chosen::of(offer).text();
    let radio = input("radio", "offer").with("value", &value).flag("checked", value == typed.offer);
    let comeback =
        offer.comeback_ppm.map_or(String::new(), |ppm| format!(" · {} that it comes back", chance(ppm as f64 / PPM)));
    let up_to = money(offer.price.saturating_add(extra), &job.currency);
    let told = tag("span").hold(tag("strong").say(&offer.name)).say(&format!(" · up to {up_to}{comeback}"));
    tag("label").class("pick").hold(radio).hold(told).into()
}

/// Keeps the answer.
pub(crate) async fn keep(
    State(app): State<App>,
    peer: Peer,
    Path(secret): Path<String>,
    Form(reply): Form<Reply>,
) -> Result<Response, Shut> {
    let known = job_of(&app, peer, &secret).await?;
    let yes = match reply.answer.as_str() {
        "yes" => true,
        "no" => false,
        other => return Err(Trouble::Form { field: "answer", value: other.into(), allowed: "yes or no" }.into()),
    };
    let write = app.write().await?;
    let heard = match known.state {
        JobState::WaitingForAnswer => {
            let said = Said {
                channel: Channel::Link,
                said_by: &reply.said_by,
                to: Chosen::parse(&reply.offer),
                yes,
                up_to: None,
                reason: &reply.reason,
                version: reply.version,
            };
            answer(&write, &known, &said).await?
        }
        _ => Heard::Not(vec!["This was answered already. Ask the shop if something is to change.".into()]),
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
