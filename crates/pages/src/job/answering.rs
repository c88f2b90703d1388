//! The customer's answer as the counter writes it down.

use crate::app::App;
use crate::door::guard::Seat;
use crate::job::alternatives::{Typed, sheet, weighed};
use crate::job::go_ahead::{Chosen, Heard, Reckoned, Said, answer};
use crate::page::trouble::Trouble;
use crate::page::words::typed_money;
use axum::extract::{Extension, Form, Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use serde::Deserialize;
use toothsayer_records::{Channel, job_by_number};

/// The form, as it was typed.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Reply {
    /// Which offer, as [`Chosen::text`] writes it.
    pub offer: String,
    /// "counter" or "phone".
    pub channel: String,
    /// Who said it.
    pub said_by: String,
    /// Up to which price; empty for what it costs.
    pub up_to: String,
    /// Why not.
    pub reason: String,
    /// "yes" or "no".
    pub answer: String,
    /// The job's version that stood on the page.
    pub version: i64,
    /// What the shop's own lines came to on it, minor units.
    pub lines: i64,
}

impl Reply {
    /// How it was said; the usual way where nothing is chosen.
    pub(crate) fn channel_or_usual(&self) -> &str {
        if self.channel.is_empty() { "counter" } else { &self.channel }
    }

    fn channel(&self) -> Result<Channel, Trouble> {
        match self.channel_or_usual() {
            "counter" => Ok(Channel::Counter),
            "phone" => Ok(Channel::Phone),
            other => Err(Trouble::Form { field: "channel", value: other.into(), allowed: "counter or phone" }),
        }
    }

    fn yes(&self) -> Result<bool, Trouble> {
        match self.answer.as_str() {
            "yes" => Ok(true),
            "no" => Ok(false),
            other => Err(Trouble::Form { field: "answer", value: other.into(), allowed: "yes or no" }),
        }
    }
}

/// Keeps the answer.
pub(crate) async fn keep(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path(number): Path<i64>,
    Form(reply): Form<Reply>,
) -> Result<Response, Trouble> {
    let (channel, yes) = (reply.channel()?, reply.yes()?);
    let (text, offering) = weighed(&app, &job_by_number(app.store(), number).await?).await?;
    let write = seat.write(&app).await?;
    let job = job_by_number(&write, number).await?;
    let up_to = typed_money(&reply.up_to, &job.currency);
    let heard = if up_to.is_none() && yes && !reply.up_to.trim().is_empty() {
        Heard::Not(vec![format!("Up to which price: “{}” is no amount such as 86.40.", reply.up_to)])
    } else {
        let said = Said {
            channel,
            said_by: &reply.said_by,
            to: Chosen::parse(&reply.offer),
            yes,
            up_to,
            reason: &reply.reason,
            version: reply.version,
            lines: reply.lines,
        };
        answer(&write, &job, &said, Reckoned { text: &text, offering: &offering }).await?
    };
    match heard {
        Heard::Kept => {
            write.commit().await?;
            Ok(Redirect::to(&format!("/jobs/{number}/alternatives#standing")).into_response())
        }
        Heard::Not(wrong) => {
            drop(write);
            let status =
                if job.version == reply.version { StatusCode::UNPROCESSABLE_ENTITY } else { StatusCode::CONFLICT };
            let typed = Typed { reply: Some(&reply), wrong: &wrong, ..Typed::default() };
            Ok((status, sheet(&app, &seat, number, &typed).await?).into_response())
        }
    }
}
