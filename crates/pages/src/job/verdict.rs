//! The verdict of a job as a page of the shop, and its job file.

use crate::app::App;
use crate::door::guard::Seat;
use crate::job::hold::Hold;
use crate::job::way::way;
use crate::job::{smallest, tried};
use crate::page::html::{Html, tag};
use crate::page::shell::{Frame, page};
use crate::page::trouble::Trouble;
use axum::extract::{Extension, Path, Query, State};
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use serde::Deserialize;
use std::sync::Arc;
use toothsayer_fault_book::FaultBook;
use toothsayer_job::Job as JobFile;
use toothsayer_quantity::System;
use toothsayer_records::{Customer, Job, Reach, Truck, export, job_by_number, shop_of};
use toothsayer_report::{Cover, Matter, PaperSize, VerdictParts, verdict_parts};
use toothsayer_verdict::{Memo, Narrow, Ranges, Statement, Verdict};

/// Draws of the first block, and at most, as at the command line.
const FIRST_DRAWS: u32 = 128;
const MOST_DRAWS: u32 = 1024;
/// Fixes the draws: the same job gives the same page.
const SEED: u32 = 1;

/// How it is asked for.
#[derive(Default, Deserialize)]
#[serde(default)]
pub(crate) struct Wish {
    /// "yes" where the inputs' ranges are to be drawn, which takes seconds.
    ranges: String,
    /// "yes" where the smallest changes are to be sought, which takes seconds.
    changes: String,
}

/// What the page is made from.
struct Asked {
    text: String,
    cover: Cover,
    system: System,
    ranges: bool,
}

/// The page.
pub(crate) async fn show(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path(number): Path<i64>,
    Query(wish): Query<Wish>,
    Query(tries): Query<tried::Wish>,
) -> Result<Response, Trouble> {
    let job = job_by_number(app.store(), number).await?;
    let live = live(&app, &job, &tries, wish.changes == "yes").await?;
    let asked = asked(&app, &job, wish.ranges == "yes").await?;
    let (ranges, own) = (asked.ranges, app.clone());
    let key = format!("{:?}\n{:?}\n{}\n{}", asked.cover, asked.system, asked.ranges, asked.text);
    let body = app.desk.computed(&key, move |memo| write(&asked, own.book(), memo)).await?;
    let told = Html::of([
        way(&seat, number, "/verdict"),
        Html::written(body.banner.clone()),
        live,
        links(number, ranges),
        Html::written(body.sections.clone()),
        foot(),
    ]);
    Ok(page(&Frame::of(&format!("Verdict of job {number}"), &seat), told))
}

/// How a job's truck holds in each state, with all that it comes from.
pub(crate) async fn hold_of(app: &App, job: &Job) -> Result<(String, Arc<Hold>), Trouble> {
    let (text, system, own) = (export(app.store(), job).await?, app.system().await?, app.clone());
    let (key, asked) = (format!("{system:?}\n{text}"), text);
    let hold = app.desk.computed(&key, move |memo| Hold::new(&asked, own.book(), system, memo)).await?;
    Ok((key, hold))
}

/// What stands before the verdict: the states, the hardest blow, what would have to change, and what if.
async fn live(app: &App, job: &Job, tries: &tried::Wish, changes: bool) -> Result<Html, Trouble> {
    let (key, hold) = hold_of(app, job).await?;
    let (_, answer) = tried::tried(app, job.number, tries).await?;
    let told = [
        tag("section").with("id", "hold").hold(tag("h2").say("Will it hold?")).hold(hold.told.clone()).into(),
        smallest_changes(app, job, &key, changes).await?,
        tried::section(job.number, &hold, tries, app.system().await?, answer),
    ];
    Ok(tag("section").class("live").with("aria-label", "Will it hold").all(told).into())
}

async fn smallest_changes(app: &App, job: &Job, key: &str, wanted: bool) -> Result<Html, Trouble> {
    let head = Html::from(tag("h2").say("What would have to change"));
    let address = format!("/jobs/{}/verdict?changes=yes#changes", job.number);
    let told = match wanted {
        false => {
            let link = tag("a").class("button plain").with("href", &address);
            tag("p").class("actions").hold(link.say("Seek the three smallest changes (takes some seconds)")).into()
        }
        true => {
            let (text, system, own) = (export(app.store(), job).await?, app.system().await?, app.clone());
            let key = format!("changes\n{key}");
            let told = app.desk.computed(&key, move |memo| smallest::of_job(&text, own.book(), system, memo)).await?;
            Html::written(told.as_str().to_owned())
        }
    };
    Ok(tag("section").with("id", "changes").hold(head).hold(told).into())
}

async fn asked(app: &App, job: &Job, ranges: bool) -> Result<Asked, Trouble> {
    let store = app.store();
    let (truck, shop): (Truck, _) = (store.get(job.truck).await?, shop_of(store).await?);
    let customer: Customer = store.get(truck.customer).await?;
    let named = |text: String| Some(text).filter(|text| !text.is_empty());
    let cover = Cover {
        shop: named(shop.name),
        customer: named(customer.name),
        number: Some(job.number.to_string()),
        ..Cover::default()
    };
    Ok(Asked { text: export(store, job).await?, cover, system: app.system().await?, ranges })
}

fn links(number: i64, ranges: bool) -> Html {
    let more = tag("a").class("button plain").with("href", &format!("/jobs/{number}/verdict?ranges=yes"));
    if ranges {
        return Html::default();
    }
    tag("p").class("actions").hold(more.say("With ranges (takes some seconds)")).into()
}

fn foot() -> Html {
    let told = "Figures are estimates for a hobby-size machine, not a design approval. Where people can be hurt, follow the \
                venue's and the local rules and the makers' instructions. Causes are probabilities, never accusations.";
    tag("footer").hold(tag("p").say(told)).into()
}

fn write(asked: &Asked, book: &FaultBook, memo: &Memo) -> Result<VerdictParts, Trouble> {
    let job = JobFile::parse(&asked.text, book)?;
    let verdict = Verdict::new(&job, book, memo)?;
    let watch = |_: u32, _: u32| true;
    let ranges = Ranges { first: FIRST_DRAWS, most: MOST_DRAWS, seed: SEED, narrow: Narrow::Never, watch: &watch };
    let margins = verdict.margins(asked.ranges.then_some(&ranges), memo)?;
    let matter = Matter {
        verdict: &verdict,
        memo,
        margins: &margins,
        care: &verdict.care(SEED, memo)?,
        statement: &Statement::new(&verdict, &margins, memo)?,
        cover: &asked.cover,
        system: asked.system,
        size: PaperSize::A4,
    };
    Ok(verdict_parts(&matter)?)
}

/// The job as a file.
pub(crate) async fn file(State(app): State<App>, Path(number): Path<i64>) -> Result<Response, Trouble> {
    let text = export(app.store(), &job_by_number(app.store(), number).await?).await?;
    let name = format!("attachment; filename=\"job-{number}.toml\"");
    Ok(([(CONTENT_TYPE, "text/plain; charset=utf-8".to_owned()), (CONTENT_DISPOSITION, name)], text).into_response())
}
