//! The verdict of a job as a page of the shop, and its job file.

use crate::app::App;
use crate::door::guard::Seat;
use crate::job::hold::Hold;
use crate::job::matter::Ground;
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
use toothsayer_records::{Job, export, job_by_number};
use toothsayer_report::{VerdictSection, verdict_parts};
use toothsayer_verdict::Narrow;

/// How it is asked for.
#[derive(Default, Deserialize)]
#[serde(default)]
pub(crate) struct Wish {
    /// "yes" where the inputs' ranges are to be drawn, which takes seconds.
    ranges: String,
    /// "yes" where the smallest changes are to be sought, which takes seconds.
    changes: String,
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
    let (ground, ranges, own) = (Ground::of(&app, &job).await?, wish.ranges == "yes", app.clone());
    let key = ground.key(&format!("verdict {ranges}"));
    let narrow = ranges.then_some(Narrow::Never);
    let body = app.desk.computed(&key, move |memo| ground.weigh(narrow, own.book(), memo, verdict_parts)).await?;
    let sections = body.sections.iter().filter(|section| SHOWN.contains(&section.id));
    let sections = sections.map(|section| Html::written(section.html.clone()));
    let main = tag("main").with("id", "main").all([
        way(&seat, number, "/verdict"),
        Html::written(body.banner.clone()),
        live,
        links(number, ranges),
        Html::of(sections),
        elsewhere(number),
        assumed(number, &body.sections),
        foot(),
    ]);
    Ok(page(&Frame::of(&format!("Will it hold · job {number}"), &seat), main.into()))
}

/// Sections that are told whole here; the others have pages of their own.
const SHOWN: [&str; 3] = ["why", "holds", "notes"];

/// The way to what the repairs cost, how the work is done, and what comes after.
fn elsewhere(number: i64) -> Html {
    const PAGES: [(&str, &str); 3] = [
        ("alternatives", "What to do, and what it costs"),
        ("work", "The work, and how tight"),
        ("hand-over", "What to do next"),
    ];
    let link = |(end, words): (&str, &str)| {
        tag("a").class("button plain").with("href", &format!("/jobs/{number}/{end}")).say(words).into()
    };
    tag("p").class("actions").all(PAGES.map(link)).into()
}

/// What was assumed, behind a fold, with the way to put measured values in its place.
fn assumed(number: i64, sections: &[VerdictSection]) -> Html {
    let Some(section) = sections.iter().find(|section| section.id == "assumed") else { return Html::default() };
    let build = tag("a").class("button").with("href", &format!("/jobs/{number}/build")).say("Tell what you measured");
    tag("details")
        .class("check")
        .hold(tag("summary").hold(tag("h3").say(section.title)))
        .hold(tag("p").class("actions").hold(build))
        .hold(Html::written(section.html.clone()))
        .into()
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

/// The job as a file.
pub(crate) async fn file(State(app): State<App>, Path(number): Path<i64>) -> Result<Response, Trouble> {
    let text = export(app.store(), &job_by_number(app.store(), number).await?).await?;
    let name = format!("attachment; filename=\"job-{number}.toml\"");
    Ok(([(CONTENT_TYPE, "text/plain; charset=utf-8".to_owned()), (CONTENT_DISPOSITION, name)], text).into_response())
}
