//! The bench sheet: the gear bay on top, what to look at next and why, the causes as they stand, every check by its part.

use crate::app::App;
use crate::door::guard::Seat;
use crate::job::built::visit::KINDS;
use crate::job::drawing::anchor;
use crate::job::finding::{Asked, Refused};
use crate::job::lead;
use crate::job::opinion::{Opinion, weigh};
use crate::job::parts::{is, part_of};
use crate::job::way::way;
use crate::page::html::{Html, tag};
use crate::page::shell::{Frame, explained, live, live_main, page, problems};
use crate::page::trouble::Trouble;
use crate::page::words::{chance, waits_for};
use axum::extract::{Extension, Path, State};
use axum::response::Response;
use std::sync::Arc;
use toothsayer_fault_book::Finding as Check;
use toothsayer_quantity::System;
use toothsayer_records::{
    Customer, Finding, Job, Person, Photo, Reach, Truck, everybody, export, findings_of, job_by_number, newest_change,
    photos_of,
};

/// Open checks that are asked at the top.
const FIRST: usize = 3;

/// A job with what its sheet tells.
struct Sheet<'a> {
    job: Job,
    truck: Truck,
    customer: Customer,
    findings: Vec<Finding>,
    people: Vec<Person>,
    photos: Vec<Photo>,
    system: System,
    refused: Option<&'a Refused>,
    /// What the program makes of it.
    opinion: Arc<Opinion>,
}

/// The page.
pub(crate) async fn show(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path(number): Path<i64>,
) -> Result<Response, Trouble> {
    sheet(&app, &seat, number, &[], None).await
}

/// The page, with what is wrong with a form that was sent, or with an answer that could not be kept.
pub(crate) async fn sheet(
    app: &App,
    seat: &Seat,
    number: i64,
    wrong: &[String],
    refused: Option<&Refused>,
) -> Result<Response, Trouble> {
    let changes = newest_change(app.store()).await?;
    let sheet = Sheet { refused, ..Sheet::read(app, number).await? };
    let job = &sheet.job;
    let title = format!("{} · {}", job.number, sheet.truck.name);
    let told = [
        way(seat, job.number, ""),
        head(app, seat, &sheet),
        live("problems", tag("div").hold(problems(wrong)).hold(not_kept(refused))).into(),
        warned(&sheet.opinion),
        bay(&sheet.opinion),
        next(app, seat, &sheet),
        causes(&sheet.opinion),
        by_part(app, seat, &sheet),
        lead::steps(job),
    ];
    Ok(page(&Frame::of(&title, seat), live_main(changes, told)))
}

impl Sheet<'_> {
    async fn read(app: &App, number: i64) -> Result<Self, Trouble> {
        let store = app.store();
        let job = job_by_number(store, number).await?;
        let truck: Truck = store.get(job.truck).await?;
        let customer = store.get(truck.customer).await?;
        let (text, system, own) = (export(store, &job).await?, app.system().await?, app.clone());
        let key = format!("{system:?}\n{text}");
        let opinion = app.desk.computed(&key, move |memo| weigh(&text, own.book(), system, memo)).await?;
        let (findings, people) = (findings_of(store, job.id).await?, everybody(store).await?);
        let photos = photos_of(store, job.id).await?;
        Ok(Self { job, truck, customer, findings, people, photos, system, refused: None, opinion })
    }

    /// A check as it is asked on this sheet.
    fn asked<'s>(&'s self, app: &'s App, seat: &Seat, entry: &'s Check, reason: &'s str) -> Asked<'s> {
        let answered = self.answered(&entry.id).map(|finding| {
            let who = self.people.iter().find(|person| Some(person.id) == finding.seen_by);
            let by = who.map_or(String::new(), |person| format!(", {}", person.name));
            (finding, format!("{}{by}", seat.clock.when(finding.seen_at)))
        });
        let of = |photo: &&Photo| answered.as_ref().is_some_and(|(finding, _)| photo.finding == Some(finding.id));
        Asked {
            entry,
            book: app.book(),
            job: self.job.number,
            reason,
            photos: self.photos.iter().filter(of).count(),
            answered,
            refused: self.refused.filter(|refused| refused.sent.check == entry.id),
            system: self.system,
        }
    }

    fn answered(&self, check: &str) -> Option<&Finding> {
        self.findings.iter().find(|finding| finding.asked == check)
    }
}

fn head(app: &App, seat: &Seat, sheet: &Sheet<'_>) -> Html {
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
    let past = tag("a").class("skip").with("href", "#next").say("Past the drawing, to what to look at next");
    live("bay", tag("section")).with("id", "bay").with("aria-label", "The gear bay").hold(past).hold(shown).into()
}

/// Where an answer was not kept, with the way to it: the form itself says why.
fn not_kept(refused: Option<&Refused>) -> Html {
    let Some(refused) = refused else { return Html::default() };
    let link = tag("a").with("href", &format!("#check-{}", refused.sent.check)).say("Go to the answer");
    tag("p").class("notice bad").say("An answer is not kept yet. ").hold(link).into()
}

/// What does not fit together in what was told and found.
fn warned(opinion: &Opinion) -> Html {
    let lines = opinion.warnings.iter().map(|one| tag("p").class("notice doubt").say(one).into());
    live("warnings", tag("div")).all(lines).into()
}

/// The open checks that tell most; where enough is known they are folded, as nobody needs them.
fn next(app: &App, seat: &Seat, sheet: &Sheet<'_>) -> Html {
    let opinion = &sheet.opinion;
    let told = match (opinion.enough, opinion.next.is_empty()) {
        (_, true) => "Every check is answered.",
        (true, _) => {
            "You can stop looking: no further check is worth its minutes. Those that would still tell most are folded."
        }
        _ => "What changes the repair most for its minutes comes first; what has to come off first counts.",
    };
    let asked = opinion.next.iter().take(FIRST).filter_map(|next| {
        let asked = sheet.asked(app, seat, app.book().finding(&next.check)?, &next.reason);
        Some(if opinion.enough { asked.folded().into() } else { asked.html().into() })
    });
    let told = [Html::from(tag("h2").say("Look next")), tag("p").say(told).into(), Html::of(asked)];
    live("next", tag("section")).with("id", "next").all(told).into()
}

fn causes(opinion: &Opinion) -> Html {
    let lines = opinion.causes.iter().map(|cause| {
        let share = format!("{:.3}", cause.weight);
        let meter = tag("meter").with("min", "0").with("max", "1").with("value", &share).with("aria-hidden", "true");
        let head = tag("p").class("cause").hold(tag("strong").say(&chance(cause.weight))).hold(meter);
        let told = tag("p").class("small").say(&cause.told);
        tag("li").hold(head).hold(tag("p").say(&cause.plain)).hold(told).into()
    });
    let told = format!("{} Causes are probabilities, never accusations. ", opinion.weighed);
    let told = [
        Html::from(tag("h2").say("Causes")),
        tag("p").say(&told).hold(explained("chance")).into(),
        tag("ol").class("plain-list").all(lines).into(),
    ];
    live("causes", tag("section")).with("id", "causes").all(told).into()
}

/// Every check, under the part where it is made; the last group asks about the truck and its driver.
fn by_part(app: &App, seat: &Seat, sheet: &Sheet<'_>) -> Html {
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

fn asked(app: &App, seat: &Seat, sheet: &Sheet<'_>, entry: &Check) -> Html {
    let name = format!("check-{}", entry.id);
    live(&name, sheet.asked(app, seat, entry, "").folded()).with("id", &name).into()
}
