//! The bench sheet: the gear bay on top, what to look at next and why, the causes as they stand, every check by its part.

use crate::app::App;
use crate::door::guard::Seat;
use crate::job::built::visit::KINDS;
use crate::job::drawing::anchor;
use crate::job::finding::Asked;
use crate::job::lead;
use crate::job::opinion::{Cause, Opinion, weigh};
use crate::job::parts::{is, part_of};
use crate::job::way::way;
use crate::page::html::{Html, tag};
use crate::page::shell::{Frame, explained, live, live_main, page, problems};
use crate::page::trouble::Trouble;
use crate::page::words::{chance, waits_for};
use axum::extract::{Extension, Path, State};
use axum::response::Response;
use std::sync::Arc;
use toothsayer_records::{
    Customer, Finding, Job, Person, Reach, Truck, everybody, export, findings_of, job_by_number, newest_change,
};

/// Open checks that are asked at the top.
const FIRST: usize = 3;

/// A job with what its sheet tells.
pub(crate) struct Sheet {
    /// The job.
    pub job: Job,
    truck: Truck,
    customer: Customer,
    findings: Vec<Finding>,
    people: Vec<Person>,
    /// What the program makes of it.
    opinion: Arc<Opinion>,
}

/// The page.
pub(crate) async fn show(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path(number): Path<i64>,
) -> Result<Response, Trouble> {
    sheet(&app, &seat, number, &[]).await
}

/// The page, with what is wrong with a form that was sent.
pub(crate) async fn sheet(app: &App, seat: &Seat, number: i64, wrong: &[String]) -> Result<Response, Trouble> {
    let changes = newest_change(app.store()).await?;
    let sheet = Sheet::read(app, number).await?;
    let job = &sheet.job;
    let title = format!("{} · {}", job.number, sheet.truck.name);
    let told = [
        way(seat, job.number, ""),
        head(app, seat, &sheet),
        live("problems", tag("div").hold(problems(wrong))).into(),
        bay(&sheet.opinion),
        next(app, &sheet),
        causes(&sheet.opinion.causes),
        by_part(app, seat, &sheet),
        lead::steps(job),
    ];
    Ok(page(&Frame::of(&title, seat), live_main(changes, told)))
}

impl Sheet {
    async fn read(app: &App, number: i64) -> Result<Self, Trouble> {
        let store = app.store();
        let job = job_by_number(store, number).await?;
        let truck: Truck = store.get(job.truck).await?;
        let customer = store.get(truck.customer).await?;
        let (text, system, own) = (export(store, &job).await?, app.system().await?, app.clone());
        let key = format!("{system:?}\n{text}");
        let opinion = app.desk.computed(&key, move |memo| weigh(&text, own.book(), system, memo)).await?;
        let (findings, people) = (findings_of(store, job.id).await?, everybody(store).await?);
        Ok(Self { job, truck, customer, findings, people, opinion })
    }

    fn answered(&self, check: &str) -> Option<&Finding> {
        self.findings.iter().find(|finding| finding.asked == check)
    }
}

fn head(app: &App, seat: &Seat, sheet: &Sheet) -> Html {
    let (job, customer) = (&sheet.job, &sheet.customer);
    let complaint = app.book().complaint(&job.complaint).map_or(job.complaint.as_str(), |entry| entry.name.as_str());
    let kind = KINDS.iter().find(|(kind, ..)| *kind == job.kind).map_or("", |(_, word, _)| word);
    let due = job.due.map_or(String::new(), |due| format!(" · promised for {}", seat.clock.day(due)));
    let since = seat.clock.when(job.taken_in);
    let under = format!("{complaint} · {kind} · tag {} · in since {since}{due}", sheet.truck.tag);
    let links = tag("p").class("actions").all([
        tag("a").class("button plain").with("href", &format!("/jobs/{}/file", job.number)).say("Job file").into(),
        tag("a").class("button plain").with("href", &format!("/customers/{}", customer.id)).say(&customer.name).into(),
    ]);
    let said = job.said.lines().map(|line| tag("p").say(line).into());
    live("head", tag("header"))
        .all([
            tag("p").class("kicker").say(waits_for(job.state)).into(),
            tag("h1").say(&format!("{} · {}", job.number, sheet.truck.name)).into(),
            tag("p").class("under").say(&under).into(),
            links.into(),
            tag("div").class("said").all(said).into(),
        ])
        .into()
}

fn bay(opinion: &Opinion) -> Html {
    let shown = match &opinion.bay {
        Ok(drawn) => drawn.html.clone(),
        Err(why) => tag("p").class("notice doubt").say(&format!("The gear bay cannot be drawn: {why}.")).into(),
    };
    live("bay", tag("section")).with("id", "bay").with("aria-label", "The gear bay").hold(shown).into()
}

fn next(app: &App, sheet: &Sheet) -> Html {
    let opinion = &sheet.opinion;
    let told = match (opinion.enough, opinion.next.is_empty()) {
        (_, true) => "Every check is answered.",
        (true, _) => "Enough is known: no check is worth its minute. What would still tell most:",
        _ => "What changes the repair most for its minutes comes first; what has to come off first counts.",
    };
    let asked = opinion.next.iter().take(FIRST).filter_map(|next| {
        let entry = app.book().finding(&next.check)?;
        Some(
            Asked { entry, book: app.book(), job: sheet.job.number, reason: &next.reason, answered: None }
                .html()
                .into(),
        )
    });
    let told = [Html::from(tag("h2").say("Look next")), tag("p").say(told).into(), Html::of(asked)];
    live("next", tag("section")).with("id", "next").all(told).into()
}

fn causes(causes: &[Cause]) -> Html {
    let lines = causes.iter().map(|cause| {
        let share = format!("{:.3}", cause.present);
        let meter = tag("meter").with("min", "0").with("max", "1").with("value", &share).with("aria-hidden", "true");
        let head = tag("p").class("cause").hold(tag("strong").say(&chance(cause.present))).hold(meter);
        let told = tag("p").class("small").say(&cause.told);
        tag("li").hold(head).hold(tag("p").say(&cause.plain)).hold(told).into()
    });
    let told = "The chance that each is there, on what is known so far. Causes are probabilities, never accusations. ";
    let told = [
        Html::from(tag("h2").say("Causes")),
        tag("p").say(told).hold(explained("chance")).into(),
        tag("ol").class("plain-list").all(lines).into(),
    ];
    live("causes", tag("section")).with("id", "causes").all(told).into()
}

/// Every check, under the part where it is made; the last group asks about the truck and its driver.
fn by_part(app: &App, seat: &Seat, sheet: &Sheet) -> Html {
    let none = Vec::new();
    let parts = sheet.opinion.bay.as_ref().map_or(&none, |drawn| &drawn.parts);
    let group_of = |check: &str| part_of(check).and_then(|part| parts.iter().position(|drawn| is(drawn, part)));
    let group = |place: Option<usize>| -> Vec<Html> {
        let mut own: Vec<_> = app.book().findings().iter().filter(|entry| group_of(&entry.id) == place).collect();
        own.sort_by(|a, b| a.order.total_cmp(&b.order));
        own.into_iter().map(|entry| asked(app, seat, sheet, entry)).collect()
    };
    let groups = parts.iter().enumerate().map(|(place, name)| {
        let head = format!("{} {}", place + 1, crate::page::words::sentence(name));
        part(&anchor(place + 1), &head, group(Some(place)))
    });
    let rest = part("part-truck", "The truck and its driver", group(None));
    let told = [Html::from(tag("h2").say("Every check, by its part")), Html::of(groups), rest];
    tag("section").with("id", "checks").all(told).into()
}

fn part(id: &str, head: &str, checks: Vec<Html>) -> Html {
    let back = tag("a").class("back").with("href", "#bay").say("Back to the drawing");
    let told = match checks.is_empty() {
        true => tag("p").class("small").say("The fault book asks nothing here.").into(),
        false => Html::of(checks),
    };
    tag("section").class("part").with("id", id).hold(tag("h3").say(head)).hold(told).hold(back).into()
}

fn asked(app: &App, seat: &Seat, sheet: &Sheet, entry: &toothsayer_fault_book::Finding) -> Html {
    let answered = sheet.answered(&entry.id).map(|finding| {
        let who = sheet.people.iter().find(|person| Some(person.id) == finding.seen_by);
        let by = who.map_or(String::new(), |person| format!(", {}", person.name));
        (finding, format!("{}{by}", seat.clock.when(finding.seen_at)))
    });
    let asked = Asked { entry, book: app.book(), job: sheet.job.number, reason: "", answered }.folded();
    live(&format!("check-{}", entry.id), asked).into()
}
