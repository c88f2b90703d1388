//! Offering the repairs: what stood on the page is kept, and the job waits for the customer's answer.

use crate::app::App;
use crate::door::guard::Seat;
use crate::job::alternatives::{Typed, sheet, weighed};
use crate::job::go_ahead::{Heard, lead_through, to_question};
use crate::job::offering::{Offering, Repair};
use crate::page::trouble::Trouble;
use axum::extract::{Extension, Form, Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use serde::Deserialize;
use toothsayer_records::{Job, Offer, OfferAnswer, Write, export, job_by_number, offers_of};

/// Why a job goes back to the question.
const ANEW: &str = "the repairs were offered anew";

/// The form.
#[derive(Deserialize)]
pub(crate) struct Put {
    /// The job's version that stood on the page.
    version: i64,
    /// The mark of the repairs that stood on it.
    shown: String,
}

/// Keeps the repairs as offers.
pub(crate) async fn offer(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path(number): Path<i64>,
    Form(put): Form<Put>,
) -> Result<Response, Trouble> {
    // Weighed before the write begins, as nobody else could write meanwhile.
    let (text, offering) = weighed(&app, &job_by_number(app.store(), number).await?).await?;
    let write = seat.write(&app).await?;
    let job = job_by_number(&write, number).await?;
    let now = export(&write, &job).await?;
    let moved = job.version != put.version || now != text || offering.mark() != put.shown;
    let heard = match moved {
        true => Heard::Not(vec![
            "Somebody else changed something meanwhile: the repairs now stand as told here. Look, then offer them."
                .into(),
        ]),
        false => keep(&write, &job, &offering).await?,
    };
    match heard {
        Heard::Kept => {
            write.commit().await?;
            Ok(Redirect::to(&format!("/jobs/{number}/alternatives#answer")).into_response())
        }
        Heard::Not(wrong) => {
            drop(write);
            let typed = Typed { wrong: &wrong, ..Typed::default() };
            Ok((StatusCode::CONFLICT, sheet(&app, &seat, number, &typed).await?).into_response())
        }
    }
}

async fn keep(write: &Write, job: &Job, offering: &Offering) -> Result<Heard, Trouble> {
    let other = offering.repairs.iter().find(|repair| repair.price.currency.to_string() != job.currency);
    if let Some(other) = other {
        let told = format!("The job's prices are in {}, and {} costs {}.", job.currency, other.name, other.price);
        return Ok(Heard::Not(vec![told]));
    }
    let Some(way) = to_question(job.state) else {
        return Ok(Heard::Not(vec!["The work is done already: there is nothing left to offer.".into()]));
    };
    let known = offers_of(write, job.id).await?;
    let (same, gone): (Vec<Offer>, Vec<Offer>) =
        known.into_iter().partition(|offer| offering.repairs.iter().any(|repair| repair.name == offer.name));
    for offer in gone {
        let _ = write.save(Offer { answer: OfferAnswer::Declined, ..offer }).await?;
    }
    for repair in &offering.repairs {
        match same.iter().find(|offer| offer.name == repair.name) {
            Some(offer) => drop(write.save(as_offered(offer.clone(), repair)).await?),
            None => drop(write.add(as_offered(Offer::new(write, job.id, &repair.name, 0), repair)).await?),
        }
    }
    lead_through(write, job, way, ANEW).await
}

/// An offer of a repair as it stands, that nobody decided on.
fn as_offered(offer: Offer, repair: &Repair) -> Offer {
    Offer {
        price: repair.price.minor,
        minutes: repair.whole_minutes(),
        comeback_ppm: Some(repair.comeback_ppm()),
        answer: OfferAnswer::Open,
        ..offer
    }
}
