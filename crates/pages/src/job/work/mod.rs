//! The work on a job: its steps to be signed for, its clocks, its screws, its parts; for several people at once.

pub(crate) mod clock;
pub(crate) mod needs;
pub(crate) mod plan;
pub(crate) mod sign;
mod steps;

use crate::app::App;
use crate::door::guard::Seat;
use crate::job::lead;
use crate::job::way::way;
use crate::page::html::{Html, tag};
use crate::page::shell::{Frame, live, live_main, page, problems};
use crate::page::trouble::Trouble;
use crate::page::words::{minutes, money, sentence, waits_for};
use axum::extract::{Extension, Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use plan::{Repair, Step, WorkPlan, joints_table, work_out};
use std::collections::BTreeMap;
use std::sync::Arc;
use steps::Typed;
use toothsayer_quantity::System;
use toothsayer_records::{
    Job, JobState, Line, LineKind, Moment, Offer, Person, Reach, SignOff, Stint, Truck, clocks_of, everybody, export,
    job_by_number, lines_of, minutes_of, newest_change, offers_of, sign_offs_of, stints_of,
};
use toothsayer_verdict::RECOMMENDED;

/// What stands before the id of a line that the shop added to the work.
pub(crate) const LINE: &str = "line ";

/// A job's work as it stands.
pub(crate) struct Work {
    /// The job.
    pub job: Job,
    truck: Truck,
    plan: Arc<WorkPlan>,
    offers: Vec<Offer>,
    lines: Vec<Line>,
    signs: Vec<SignOff>,
    stints: Vec<Stint>,
    took: BTreeMap<String, f64>,
    /// The reader's clocks on other jobs, with the job's number.
    elsewhere: Vec<(Stint, i64)>,
    people: Vec<Person>,
    /// The unit that a torque is asked for in.
    torque_hint: &'static str,
    /// Who reads.
    seat: Seat,
}

/// The page.
pub(crate) async fn show(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path(number): Path<i64>,
) -> Result<Response, Trouble> {
    sheet(&app, &seat, number, &[]).await
}

/// The page with what is wrong.
pub(crate) async fn sheet(app: &App, seat: &Seat, number: i64, wrong: &[String]) -> Result<Response, Trouble> {
    with_typed(app, seat, number, wrong, &Typed::default()).await
}

/// The page for a form that was not kept.
async fn refused(app: &App, seat: &Seat, number: i64, wrong: &[String]) -> Result<Response, Trouble> {
    Ok((StatusCode::UNPROCESSABLE_ENTITY, sheet(app, seat, number, wrong).await?).into_response())
}

async fn with_typed(app: &App, seat: &Seat, number: i64, wrong: &[String], typed: &Typed) -> Result<Response, Trouble> {
    let changes = newest_change(app.store()).await?;
    let work = Work::read(app, seat, number).await?;
    let needs = needs::section(app, &work).await?;
    let job = &work.job;
    let told = [
        way(seat, job.number, "/work"),
        head(&work),
        live("problems", tag("div")).hold(problems(wrong)).into(),
        live("elsewhere", tag("div")).hold(elsewhere(&work)).into(),
        cautions(&work),
        steps::section(&work, typed),
        screws(&work.plan),
        needs,
        lead::steps_from(job, "work"),
    ];
    let title = format!("Work on {} · {}", job.number, work.truck.name);
    Ok(page(&Frame::of(&title, seat), live_main(changes, told)))
}

impl Work {
    async fn read(app: &App, seat: &Seat, number: i64) -> Result<Self, Trouble> {
        let store = app.store();
        let job = job_by_number(store, number).await?;
        let plan = plan_of(app, &job).await?;
        let mut elsewhere = Vec::new();
        for stint in clocks_of(store, seat.person.id).await?.into_iter().filter(|stint| stint.job != job.id) {
            let other: Job = store.get(stint.job).await?;
            elsewhere.push((stint, other.number));
        }
        Ok(Self {
            truck: store.get(job.truck).await?,
            plan,
            offers: offers_of(store, job.id).await?,
            lines: lines_of(store, job.id).await?,
            signs: sign_offs_of(store, job.id).await?,
            stints: stints_of(store, job.id).await?,
            took: minutes_of(store, job.id, Moment::now()).await?,
            elsewhere,
            people: everybody(store).await?,
            torque_hint: if app.system().await? == System::Us { "in lbf*in" } else { "in N*m" },
            seat: seat.clone(),
            job,
        })
    }

    fn repair(&self) -> Option<(&Repair, bool)> {
        self.plan.repair(&self.offers)
    }

    /// The repair's steps, and behind them what the shop added.
    fn steps(&self) -> Vec<Step> {
        let of_plan = self.repair().map_or(&[][..], |(repair, _)| &repair.steps);
        let added = self.lines.iter().filter(|line| line.kind == LineKind::Work).map(|line| Step {
            id: format!("{LINE}{}", line.id),
            name: line.text.clone(),
            what: String::new(),
            minutes: line.minutes as f64,
            tools: Vec::new(),
            cautions: Vec::new(),
            joints: Vec::new(),
            figure: None,
        });
        of_plan.iter().cloned().chain(added).collect()
    }

    /// The newest signature under a step, for one of its joints where it tightens any.
    fn signed(&self, step: &str, joint: &str) -> Option<&SignOff> {
        self.signs.iter().rfind(|sign| sign.step == step && sign.joint == joint)
    }

    fn is_done(&self, step: &Step) -> bool {
        match step.joints.is_empty() {
            true => self.signed(&step.id, "").is_some(),
            false => step.joints.iter().all(|joint| self.signed(&step.id, joint).is_some()),
        }
    }

    fn name_of(&self, who: toothsayer_records::Id<Person>) -> &str {
        self.people.iter().find(|person| person.id == who).map_or("somebody", |person| &person.name)
    }
}

/// The work as it is computed.
async fn plan_of(app: &App, job: &Job) -> Result<Arc<WorkPlan>, Trouble> {
    let (text, system, own) = (export(app.store(), job).await?, app.system().await?, app.clone());
    let key = format!("{system:?}\n{text}");
    app.desk.computed(&key, move |memo| work_out(&text, own.book(), system, memo)).await
}

/// Where the step with this place stands on the page.
fn anchor(number: i64, place: usize) -> String {
    format!("/jobs/{number}/work#step-{place}")
}

fn head(work: &Work) -> Html {
    let steps = work.steps();
    let done = steps.iter().filter(|step| work.is_done(step)).count();
    let planned: f64 = steps.iter().map(|step| step.minutes).sum();
    let took: f64 = work.took.values().sum();
    let told =
        format!("{done} of {} steps signed · planned {} · so far {}", steps.len(), minutes(planned), minutes(took));
    let title = format!("Work on {} · {}", work.job.number, work.truck.name);
    live("head", tag("header"))
        .all([
            tag("p").class("kicker").say(waits_for(work.job.state)).into(),
            tag("h1").say(&title).into(),
            tag("p").class("under").say(&told).into(),
            on_this_page(steps.iter().position(|step| !work.is_done(step))),
            which(work),
        ])
        .into()
}

/// The way down a long page, the next step first.
fn on_this_page(next: Option<usize>) -> Html {
    let next = next.map(|place| (format!("#step-{}", place + 1), "Next step"));
    let rest = [("#screws", "Screws"), ("#parts", "Parts"), ("#lead", "Lead on")];
    let rest = rest.into_iter().map(|(address, words)| (address.to_owned(), words));
    let links = next.into_iter().chain(rest);
    let links = links.map(|(address, words)| tag("a").class("button plain").with("href", &address).say(words).into());
    tag("nav").class("actions").with("aria-label", "On this page").all(links.collect::<Vec<_>>()).into()
}

/// Which repair is worked by, and whether the customer said yes to it.
fn which(work: &Work) -> Html {
    let Some((repair, taken)) = work.repair() else {
        return tag("p").class("notice doubt").say("There is no plan for this job.").into();
    };
    let name = repair.words.to_lowercase();
    if let Some(gone) = work.plan.gone(&work.offers) {
        let price = money(gone.price, &work.job.currency);
        let told = format!(
            "The customer agreed to: {}, {price}. The plan no longer has that repair as it was agreed on: offer anew before \
             work goes on. Shown is the plan's, which nobody agreed to: {name}.",
            gone.name
        );
        return tag("p").class("notice bad").say(&told).into();
    }
    let agreed = [JobState::Agreed, JobState::WaitingForParts, JobState::OnTheBench, JobState::Checked];
    match (taken, agreed.contains(&work.job.state)) {
        (true, _) if repair.name == RECOMMENDED => {
            tag("p").say(&format!("The repair that the customer chose: {name}.")).into()
        }
        (true, _) => {
            let told = "The torque windows are those for the blows of the recommended repair.";
            tag("p").say(&format!("The repair that the customer chose: {name}. {told}")).into()
        }
        (false, true) => tag("p").say(&format!("Worked by the plan's repair: {name}.")).into(),
        (false, false) => {
            let told = format!("No repair is agreed on yet. Shown is the plan's: {name}.");
            tag("p").class("notice doubt").say(&told).into()
        }
    }
}

/// The reader's clocks that run on other jobs.
fn elsewhere(work: &Work) -> Html {
    if work.elsewhere.is_empty() {
        return Html::default();
    }
    let lines = work.elsewhere.iter().map(|(stint, number)| {
        let link = tag("a").class("button plain").with("href", &format!("/jobs/{number}/work"));
        let link = link.say(&format!("Job {number}"));
        tag("li").class("row").hold(link).hold(clock::stop(*number, stint, "Stop that clock")).into()
    });
    let told = "Your clock runs on other jobs too; while several run, the time is shared among them.";
    let told = [Html::from(tag("p").say(told)), tag("ul").class("plain-list").all(lines).into()];
    tag("section").class("notice").with("aria-label", "Your other clocks").all(told).into()
}

fn cautions(work: &Work) -> Html {
    let Some((repair, _)) = work.repair().filter(|(repair, _)| !repair.cautions.is_empty()) else {
        return Html::default();
    };
    let lines = repair.cautions.iter().map(|caution| tag("li").say(&sentence(caution)).into());
    let told = [Html::from(tag("h3").say("Before and while you work")), tag("ul").all(lines).into()];
    tag("div").class("notice doubt").all(told).into()
}

/// Which screw goes in which hole.
fn screws(plan: &WorkPlan) -> Html {
    if plan.joints.is_empty() {
        return Html::default();
    }
    let map = match &plan.map {
        Ok(html) => html.clone(),
        Err(why) => tag("p").class("notice doubt").say(&format!("The screw map cannot be drawn: {why}.")).into(),
    };
    let table = tag("div").class("scrolls").hold(joints_table(&plan.joints));
    let told = [Html::from(tag("h2").say("Which screw goes where, how tight and no tighter")), table.into(), map];
    tag("section").with("id", "screws").all(told).into()
}
