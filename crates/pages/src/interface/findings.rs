//! Findings for programs: what was answered in a job, and an answer to be kept.

use crate::app::App;
use crate::door::guard::Seat;
use crate::interface::problem::Problem;
use crate::interface::sent::{Number, Sent};
use crate::job::finding::{Sent as Kept, kept};
use axum::Json;
use axum::extract::{Extension, State};
use axum::http::StatusCode;
use serde::{Deserialize, Serialize};
use toothsayer_records::{Answer, Finding, Person, everybody, findings_of, job_by_number};
use utoipa::ToSchema;

/// Yes or no.
#[derive(Clone, Copy, Deserialize, Serialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum YesOrNo {
    /// So it is.
    Yes,
    /// It is not so.
    No,
}

/// An answered check.
#[derive(Serialize, ToSchema)]
pub(crate) struct FindingTold {
    /// The check's id in the fault book.
    check: String,
    /// The answer.
    answer: YesOrNo,
    /// What was measured, with its unit.
    value: Option<String>,
    /// What else there is to say.
    note: String,
    /// Who saw it.
    seen_by: Option<String>,
    /// When (RFC 3339).
    seen_at: String,
    /// Counts the changes.
    version: i64,
}

impl FindingTold {
    fn of(finding: Finding, people: &[Person]) -> Self {
        let who = people.iter().find(|person| Some(person.id) == finding.seen_by);
        Self {
            check: finding.asked,
            answer: if finding.answer == Answer::Yes { YesOrNo::Yes } else { YesOrNo::No },
            value: finding.value,
            note: finding.note,
            seen_by: who.map(|person| person.name.clone()),
            seen_at: finding.seen_at.to_string(),
            version: finding.version,
        }
    }
}

/// Findings.
#[derive(Serialize, ToSchema)]
pub(crate) struct FindingsTold {
    /// As they were made.
    findings: Vec<FindingTold>,
}

/// An answer to a check.
#[derive(Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct NewFinding {
    /// The check's id in the fault book.
    check: String,
    /// The answer.
    answer: YesOrNo,
    /// What was measured, with its unit ("0.45 mm").
    #[serde(default)]
    value: String,
    /// What else there is to say.
    #[serde(default)]
    #[schema(max_length = 1000)]
    note: String,
    /// Of the answer that it takes the place of; 0 where there was none.
    #[schema(minimum = 0)]
    version: i64,
}

/// What was answered in a job.
#[utoipa::path(get, path = "/api/v1/jobs/{number}/findings", tag = "findings", security(("token" = [])),
    params(("number" = i64, Path, minimum = 1, description = "The job's number.")),
    responses(
        (status = 200, description = "Its findings.", body = FindingsTold, content_type = "application/json"),
        (status = 404, description = "There is no such job.", body = Problem, content_type = "application/problem+json"),
    )
)]
pub(crate) async fn list(State(app): State<App>, Number(number): Number) -> Result<Json<FindingsTold>, Problem> {
    let job = job_by_number(app.store(), number).await?;
    let (findings, people) = (findings_of(app.store(), job.id).await?, everybody(app.store()).await?);
    let findings = findings.into_iter().map(|finding| FindingTold::of(finding, &people)).collect();
    Ok(Json(FindingsTold { findings }))
}

/// Keeps an answer. The same answer sent again changes nothing.
#[utoipa::path(post, path = "/api/v1/jobs/{number}/findings", tag = "findings", security(("token" = [])),
    request_body = NewFinding,
    params(("number" = i64, Path, minimum = 1, description = "The job's number.")),
    responses(
        (status = 200, description = "It is kept.", body = FindingTold, content_type = "application/json"),
        (status = 400, description = "No JSON.", body = Problem, content_type = "application/problem+json"),
        (status = 404, description = "There is no such job.", body = Problem, content_type = "application/problem+json"),
        (status = 409, description = "Somebody else answered meanwhile.", body = Problem, content_type = "application/problem+json"),
        (status = 413, description = "Too large.", body = Problem, content_type = "application/problem+json"),
        (status = 415, description = "Not told to be JSON.", body = Problem, content_type = "application/problem+json"),
        (status = 422, description = "It is no answer to a check of the book.", body = Problem, content_type = "application/problem+json"),
    )
)]
pub(crate) async fn keep(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Number(number): Number,
    Sent(new): Sent<NewFinding>,
) -> Result<Json<FindingTold>, Problem> {
    let answer = if matches!(new.answer, YesOrNo::Yes) { Answer::Yes } else { Answer::No };
    let sent = Kept { check: new.check, answer, value: new.value, note: new.note, version: new.version };
    let wrong = kept(&app, &seat, number, &sent).await?;
    let job = job_by_number(app.store(), number).await?;
    let findings = findings_of(app.store(), job.id).await?;
    let stands = findings.into_iter().find(|finding| finding.asked == sent.check);
    if !wrong.is_empty() {
        let clash = stands.is_some_and(|finding| finding.version != sent.version);
        let status = if clash { StatusCode::CONFLICT } else { StatusCode::UNPROCESSABLE_ENTITY };
        return Err(Problem::unfit(wrong).with(status));
    }
    let people = everybody(app.store()).await?;
    let kept = stands.ok_or_else(|| Problem::new(StatusCode::CONFLICT, "the answer was taken back meanwhile", ""))?;
    Ok(Json(FindingTold::of(kept, &people)))
}
