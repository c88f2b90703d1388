//! Jobs for programs: today's list, one job, its file out, and a file in.

use crate::app::App;
use crate::counter::take_in::told;
use crate::door::guard::Seat;
use crate::interface::problem::Problem;
use crate::interface::sent::{Number, Sent, key};
use crate::page::trouble::Trouble;
use axum::Json;
use axum::extract::{Extension, State};
use axum::http::header::{CONTENT_TYPE, LOCATION};
use axum::http::{HeaderMap, StatusCode};
use axum::response::{IntoResponse, Response};
use serde::{Deserialize, Serialize};
use toothsayer_job::Job as JobFile;
use toothsayer_records::{
    Customer, Incoming, Job, Reach, Truck, Write, export, job_by_number, jobs_of, owed, shop_of, today, truck_by_tag,
};
use utoipa::ToSchema;

/// Jobs that are listed at most.
const MOST: u32 = 100;
/// Letters of a name, and of what was said, at most.
const LONGEST_NAME: usize = 120;
const LONGEST_TEXT: usize = 4000;

/// A job.
#[derive(Serialize, ToSchema)]
pub(crate) struct JobTold {
    /// The number that people say.
    number: i64,
    /// Where it stands, as the life of a job names it.
    state: &'static str,
    /// Whether the shop still has to do something.
    open: bool,
    /// What the customer came with, by the fault book's word.
    complaint: String,
    /// What the truck is called.
    truck: String,
    /// What is printed on the truck's label.
    tag: String,
    /// Whose it is.
    customer: String,
    /// When it was taken in (RFC 3339).
    taken_in: String,
    /// Until when it is promised (RFC 3339).
    due: Option<String>,
    /// What the customer owes, minor units of the currency.
    owed_minor: i64,
    /// Three letters of ISO 4217.
    currency: String,
    /// Counts the changes.
    version: i64,
}

impl JobTold {
    async fn of(at: &impl Reach, job: Job) -> Result<Self, Problem> {
        let truck: Truck = at.get(job.truck).await?;
        let customer: Customer = at.get(truck.customer).await?;
        Ok(Self {
            number: job.number,
            state: job.state.word(),
            open: job.open,
            truck: truck.name,
            tag: truck.tag.to_string(),
            customer: customer.name,
            taken_in: job.taken_in.to_string(),
            due: job.due.map(|due| due.to_string()),
            owed_minor: owed(at, &job).await?,
            complaint: job.complaint,
            currency: job.currency,
            version: job.version,
        })
    }
}

/// Jobs.
#[derive(Serialize, ToSchema)]
pub(crate) struct JobsTold {
    /// Open ones, what is promised first at the top; at most 100.
    jobs: Vec<JobTold>,
}

/// Today's list: the open jobs.
#[utoipa::path(get, path = "/api/v1/jobs", tag = "jobs", security(("token" = [])), responses(
    (status = 200, description = "The open jobs.", body = JobsTold, content_type = "application/json"),
))]
pub(crate) async fn list(State(app): State<App>) -> Result<Json<JobsTold>, Problem> {
    let mut jobs = Vec::new();
    for job in today(app.store(), MOST).await? {
        jobs.push(JobTold::of(app.store(), job).await?);
    }
    Ok(Json(JobsTold { jobs }))
}

/// A job by its number.
#[utoipa::path(get, path = "/api/v1/jobs/{number}", tag = "jobs", security(("token" = [])),
    params(("number" = i64, Path, minimum = 1, description = "The job's number.")),
    responses(
        (status = 200, description = "The job.", body = JobTold, content_type = "application/json"),
        (status = 404, description = "There is none.", body = Problem, content_type = "application/problem+json"),
    )
)]
pub(crate) async fn one(State(app): State<App>, Number(number): Number) -> Result<Json<JobTold>, Problem> {
    let job = job_by_number(app.store(), number).await?;
    Ok(Json(JobTold::of(app.store(), job).await?))
}

/// A job as a job file.
#[utoipa::path(get, path = "/api/v1/jobs/{number}/file", tag = "jobs", security(("token" = [])),
    params(("number" = i64, Path, minimum = 1, description = "The job's number.")),
    responses(
        (status = 200, description = "The job file.", body = String, content_type = "application/toml"),
        (status = 404, description = "There is none.", body = Problem, content_type = "application/problem+json"),
    )
)]
pub(crate) async fn file(State(app): State<App>, Number(number): Number) -> Result<Response, Problem> {
    let job = job_by_number(app.store(), number).await?;
    Ok(([(CONTENT_TYPE, "application/toml")], export(app.store(), &job).await?).into_response())
}

/// A job file with whose truck it is: the tag of a known truck, or the names of a new customer and truck.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct NewJob {
    /// The tag on a known truck's label; left out for a new one.
    #[serde(default)]
    #[schema(max_length = 40)]
    tag: Option<String>,
    /// The name of a new customer.
    #[serde(default)]
    #[schema(min_length = 1, max_length = 120)]
    customer: Option<String>,
    /// What a new truck is called.
    #[serde(default)]
    #[schema(min_length = 1, max_length = 120)]
    truck: Option<String>,
    /// What the customer said.
    #[serde(default)]
    #[schema(max_length = 4000)]
    said: String,
    /// The job file.
    #[schema(min_length = 1)]
    file: String,
}

/// Takes a job file in.
#[utoipa::path(post, path = "/api/v1/jobs", tag = "jobs", security(("token" = [])), request_body = NewJob,
    params(("Idempotency-Key" = String, Header, min_length = 8, max_length = 100, pattern = "^[!-~]+$",
        description = "A new one for each job: what is sent twice with the same key counts once.")),
    responses(
        (status = 200, description = "It was taken in before, by this key.", body = JobTold, content_type = "application/json"),
        (status = 201, description = "It is taken in.", body = JobTold, content_type = "application/json",
            headers(("Location" = String, description = "The job's address."))),
        (status = 400, description = "No JSON.", body = Problem, content_type = "application/problem+json"),
        (status = 404, description = "There is no truck of this tag.", body = Problem, content_type = "application/problem+json"),
        (status = 409, description = "The key came before with something else.", body = Problem, content_type = "application/problem+json"),
        (status = 413, description = "Too large.", body = Problem, content_type = "application/problem+json"),
        (status = 415, description = "Not told to be JSON.", body = Problem, content_type = "application/problem+json"),
        (status = 422, description = "It cannot be a job.", body = Problem, content_type = "application/problem+json"),
    )
)]
pub(crate) async fn take_in(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    headers: HeaderMap,
    Sent(new): Sent<NewJob>,
) -> Result<Response, Problem> {
    let key = key(&headers)?;
    let wrong = unfit(&app, &new);
    if !wrong.is_empty() {
        return Err(Problem::unfit(wrong));
    }
    let content = format!("{new:?}");
    let write = seat.write(&app).await?;
    if let Some(known) = write.first_time(key, content.as_bytes()).await? {
        let job = job_by_number(&write, known.as_i64().unwrap_or(0)).await?;
        return Ok((StatusCode::OK, Json(JobTold::of(&write, job).await?)).into_response());
    }
    let job = keep(&write, &app, &new).await?;
    write.was_done(key, content.as_bytes(), job.number.into()).await?;
    let (address, told) = (format!("/api/v1/jobs/{}", job.number), JobTold::of(&write, job).await?);
    write.commit().await?;
    Ok((StatusCode::CREATED, [(LOCATION, address)], Json(told)).into_response())
}

fn unfit(app: &App, new: &NewJob) -> Vec<String> {
    let mut wrong = JobFile::parse(&new.file, app.book()).map_or_else(told, |_| Vec::new());
    let mut length = |what: &str, text: &str, [least, most]: [usize; 2]| {
        let letters = text.trim().chars().count();
        if letters < least || letters > most {
            wrong.push(format!("{what} has {letters} letters; {least} to {most} are allowed."));
        }
        // PostgreSQL keeps no text with it.
        if text.contains('\0') {
            wrong.push(format!("{what} holds the character U+0000, which no text takes."));
        }
    };
    length("What the customer said", &new.said, [0, LONGEST_TEXT]);
    length("The truck's tag", new.tag.as_deref().unwrap_or(""), [0, LONGEST_NAME]);
    if new.tag.is_none() {
        length("The customer's name", new.customer.as_deref().unwrap_or(""), [1, LONGEST_NAME]);
        length("What the truck is called", new.truck.as_deref().unwrap_or(""), [1, LONGEST_NAME]);
    }
    wrong
}

async fn keep(write: &Write, app: &App, new: &NewJob) -> Result<Job, Trouble> {
    let name = |text: &Option<String>| text.as_deref().unwrap_or("").trim().to_owned();
    let truck = match &new.tag {
        Some(tag) => truck_by_tag(write, tag).await?,
        None => {
            let customer = write.add(Customer::new(write, &name(&new.customer))).await?;
            write.truck(customer.id, &name(&new.truck)).await?
        }
    };
    let before = jobs_of(write, truck.id).await?.into_iter().next();
    let incoming = Incoming { truck: truck.id, comeback_of: None, text: &new.file, book: app.book() };
    let job = write.import(incoming).await?;
    let comeback_of = before.filter(|_| job.complaint == "stripped-again").map(|before| before.id);
    let shop = shop_of(write).await?;
    let said = Job { said: new.said.trim().to_owned(), comeback_of, looking_fee: shop.looking_fee, ..job.clone() };
    Ok(write.save(said).await?.saved().unwrap_or(job))
}
