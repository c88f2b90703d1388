//! The verdict of a job for programs: what the commands `margins`, `why` and `plan` print, at one address.

use crate::app::App;
use crate::interface::problem::Problem;
use crate::interface::sent::Number;
use crate::job::matter::judged;
use crate::page::trouble::Trouble;
use axum::extract::rejection::QueryRejection;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::http::header::CONTENT_TYPE;
use axum::response::{IntoResponse, Response};
use serde::{Deserialize, Serialize};
use serde_json::{Value, json};
use toothsayer_fault_book::FaultBook;
use toothsayer_job::{Job as JobFile, State as Step};
use toothsayer_records::{export, job_by_number};
use toothsayer_report::machine;
use toothsayer_verdict::{Memo, Narrow, USUAL_SEED, Verdict};
use utoipa::{IntoParams, ToSchema};

/// How a verdict is asked for.
#[derive(Deserialize, IntoParams)]
pub(crate) struct Wish {
    /// Point values at once, instead of the ranges that the inputs' spread gives, which take seconds.
    #[serde(default)]
    points: bool,
}

/// A verdict: SI units, the unit at the end of each key.
#[derive(Serialize, ToSchema)]
pub(crate) struct VerdictTold {
    /// What `toothsayer margins --json` prints.
    #[schema(value_type = Object)]
    margins: Value,
    /// What `toothsayer why --json` prints.
    #[schema(value_type = Object)]
    why: Value,
    /// What `toothsayer plan --json` prints.
    #[schema(value_type = Object)]
    plan: Value,
}

/// The verdict of a job.
#[utoipa::path(get, path = "/api/v1/jobs/{number}/verdict", tag = "verdict", security(("token" = [])),
    params(("number" = i64, Path, minimum = 1, description = "The job's number."), Wish),
    responses(
        (status = 200, description = "The verdict.", body = VerdictTold, content_type = "application/json"),
        (status = 400, description = "No such wish.", body = Problem, content_type = "application/problem+json"),
        (status = 404, description = "There is no such job.", body = Problem, content_type = "application/problem+json"),
        (status = 422, description = "The job cannot be computed.", body = Problem, content_type = "application/problem+json"),
    )
)]
pub(crate) async fn show(
    State(app): State<App>,
    Number(number): Number,
    wish: Result<Query<Wish>, QueryRejection>,
) -> Result<Response, Problem> {
    let odd = |refused: QueryRejection| {
        Problem::new(StatusCode::BAD_REQUEST, &refused.body_text(), "ask with points=true or points=false")
    };
    let Query(wish) = wish.map_err(odd)?;
    let job = job_by_number(app.store(), number).await?;
    let (text, own) = (export(app.store(), &job).await?, app.clone());
    let key = format!("verdict {}\n{text}", wish.points);
    let narrow = (!wish.points).then_some(Narrow::WhereUnsure);
    let bytes = app.desk.computed(&key, move |memo| told(&text, own.book(), narrow, memo)).await?;
    Ok(([(CONTENT_TYPE, "application/json")], bytes.to_vec()).into_response())
}

fn told(text: &str, book: &FaultBook, narrow: Option<Narrow>, memo: &Memo) -> Result<Vec<u8>, Trouble> {
    let job = JobFile::parse(text, book)?;
    let verdict = Verdict::new(&job, book, memo)?;
    let margins = judged(&verdict, narrow, memo)?;
    let repaired = verdict.margins(None, memo)?.into_iter().find(|state| state.state == Step::Proposed);
    let told = VerdictTold {
        margins: machine::margins(&verdict, &margins, narrow.is_some()),
        why: machine::causes(&verdict),
        plan: machine::plan(&verdict, &verdict.care(USUAL_SEED, memo)?, repaired.map(|state| state.holds)),
    };
    Ok(json!(told).to_string().into_bytes())
}
