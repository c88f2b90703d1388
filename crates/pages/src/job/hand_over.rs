//! The hand-over: what the customer owes, what was signed for, the papers, the link, and what the customer reads.

use crate::app::App;
use crate::door::guard::Seat;
use crate::job::deal::Deal;
use crate::job::lead;
use crate::job::matter::Ground;
use crate::job::papers::{USUAL_RUNS_PER_WEEK, handed_over};
use crate::job::way::way;
use crate::job::work::LINE;
use crate::link::give::{self, Typed};
use crate::page::html::{Html, tag};
use crate::page::shell::{Frame, field, helped, input, page, problems};
use crate::page::trouble::Trouble;
use crate::page::words::{money, step_name, waits_for};
use axum::extract::{Extension, Path, State};
use axum::response::Response;
use toothsayer_records::{
    Customer, Deed, Job, JobState, Moment, Reach, SignOff, Truck, everybody, job_by_number, lines_of, links_of,
    sign_offs_of,
};
use toothsayer_report::{Date, PaperKind, RunsPerWeek, customer_parts};

/// The page.
pub(crate) async fn show(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path(number): Path<i64>,
) -> Result<Response, Trouble> {
    sheet(&app, &seat, number, &Typed::default(), &[]).await
}

/// The page, with a form for a link as it was typed and what is wrong with it.
pub(crate) async fn sheet(
    app: &App,
    seat: &Seat,
    number: i64,
    typed: &Typed,
    wrong: &[String],
) -> Result<Response, Trouble> {
    let job = job_by_number(app.store(), number).await?;
    let truck: Truck = app.store().get(job.truck).await?;
    let customer: Customer = app.store().get(truck.customer).await?;
    let links = links_of(app.store(), job.id).await?;
    let told = [
        way(seat, number, "/hand-over"),
        head(&job, &truck, &customer),
        problems(wrong),
        to_settle(app, seat, &job).await?,
        lead::steps_from(&job, "hand-over"),
        papers(number),
        if seat.may(Deed::Counter) { give::section(&job, &links, typed, &seat.clock) } else { Html::default() },
        signed(app, seat, &job).await?,
        reads(app, &job).await?,
    ];
    let title = format!("Hand-over of job {number}");
    Ok(page(&Frame::of(&title, seat), tag("main").with("id", "main").all(told).into()))
}

fn head(job: &Job, truck: &Truck, customer: &Customer) -> Html {
    let phone = if customer.phone.is_empty() { String::new() } else { format!(" · {}", customer.phone) };
    tag("header")
        .all([
            tag("p").class("kicker").say(waits_for(job.state)).into(),
            tag("h1").say(&format!("Hand-over · {} · {}", job.number, truck.name)).into(),
            tag("p").class("under").say(&format!("{}{phone} · tag {}", customer.name, truck.tag)).into(),
        ])
        .into()
}

/// What the customer owes and what for, or that nothing is agreed on yet.
fn due(job: &Job, deal: &Deal) -> Vec<(&'static str, String)> {
    let told = |minor: i64| money(minor, &job.currency);
    let looking = match deal.owes {
        0 => "Nothing".to_owned(),
        owes => format!("{}, the looking fee", told(owes)),
    };
    let work = format!("{}, the work that was agreed on", told(deal.owes));
    let is_over = matches!(job.state, JobState::Collected | JobState::Rechecked);
    match (deal.agreed(), is_over) {
        _ if deal.is_free => vec![("The customer owes", "Nothing: the shop or the maker pays".to_owned())],
        (Some(up_to), _) if deal.is_above() => {
            let ask = if deal.rose() {
                ": ask the customer again before the work goes on"
            } else {
                ", above what was agreed on"
            };
            vec![
                ("Agreed on", format!("Up to {}", told(up_to))),
                (if is_over { "The job came to" } else { "Now it comes to" }, format!("{}{ask}", told(deal.price))),
            ]
        }
        (Some(_), true) => vec![("The job came to", work)],
        (Some(_), false) => vec![("The customer owes", work)],
        (None, true) => vec![("The job came to", looking)],
        (None, false) if job.state == JobState::Declined || job.state == JobState::Ready => {
            vec![("The customer owes", looking)]
        }
        (None, false) => vec![("Agreed on", "Nothing yet".to_owned()), ("Without any work the customer owes", looking)],
    }
}

/// What is to be paid, and when the truck is looked at again.
async fn to_settle(app: &App, seat: &Seat, job: &Job) -> Result<Html, Trouble> {
    let deal = Deal::of(app.store(), job).await?;
    let collected = handed_over(app, job).await?;
    let from = collected.unwrap_or_else(Moment::now);
    let recheck = match recheck(seat.clock.day(from))? {
        Some(day) => format!("{day}: after the first run, at {USUAL_RUNS_PER_WEEK:.0} runs a week"),
        None => "After the first run".to_owned(),
    };
    let counted = if collected.is_some() { "Collected on" } else { "Counted from today" };
    let fact = |name: &str, value: &str| tag("div").hold(tag("dt").say(name)).hold(tag("dd").say(value)).into();
    let facts = due(job, &deal).into_iter().map(|(name, value)| fact(name, &value));
    let facts = facts.chain([fact("Recheck", &recheck), fact(counted, &seat.clock.day(from).to_string())]);
    Ok(tag("section")
        .with("id", "settle")
        .hold(tag("h2").say("To settle"))
        .hold(tag("dl").class("facts").all(facts))
        .into())
}

/// The day after the first run at the usual rhythm; none past the end of the calendar.
fn recheck(from: Date) -> Result<Option<Date>, Trouble> {
    let rhythm = RunsPerWeek::new(USUAL_RUNS_PER_WEEK)?;
    Ok(rhythm.day(from, 1).ok())
}

fn papers(number: i64) -> Html {
    let line = |kind: &PaperKind| {
        let address = format!("/jobs/{number}/papers/{}.pdf", kind.name());
        let words = crate::page::words::sentence(&kind.name().replace('-', " "));
        let link = tag("a").class("button plain").with("href", &address).say(&format!("{words} (PDF)"));
        tag("li").hold(link).hold(tag("span").class("small").say(kind.told())).into()
    };
    let usual = format!("{USUAL_RUNS_PER_WEEK:.0}");
    let calendar = tag("form").class("answer").with("action", &format!("/jobs/{number}/care.ics")).all([
        field("Handed over on", input("date", "from"), "Empty: the day it was collected, else today."),
        field("Runs a week", input("text", "runs_per_week").with("value", &usual).with("inputmode", "decimal"), ""),
        tag("button").class("plain").say("Care calendar (file)").into(),
    ]);
    tag("section")
        .with("id", "papers")
        .hold(tag("h2").say("Papers"))
        .hold(tag("p").class("small").hold(helped("agree", "How a yes is asked for, and where the link is made")))
        .hold(tag("ul").class("plain-list papers").all(PaperKind::ALL.iter().map(line)))
        .hold(calendar)
        .into()
}

/// What was signed for at the bench.
async fn signed(app: &App, seat: &Seat, job: &Job) -> Result<Html, Trouble> {
    let (signs, people) = (sign_offs_of(app.store(), job.id).await?, everybody(app.store()).await?);
    let lines = lines_of(app.store(), job.id).await?;
    let line = |sign: &SignOff| {
        let own = lines.iter().find(|line| sign.step == format!("{LINE}{}", line.id));
        let name = own.map_or_else(|| step_name(app.book(), &sign.step), |line| line.text.clone());
        let newer = |other: &&SignOff| other.step == sign.step && other.joint == sign.joint;
        let again = if signs.iter().rfind(newer) == Some(sign) { "" } else { " (done again later)" };
        let tight = match (sign.joint.is_empty(), sign.tightened.is_empty()) {
            (false, false) => format!(": {} to {}{again}", sign.joint, sign.tightened),
            (true, false) => format!(": {}{again}", sign.tightened),
            _ => again.to_owned(),
        };
        let who = people.iter().find(|person| person.id == sign.who).map_or("", |person| person.name.as_str());
        let by = format!("{who}, {}", seat.clock.when(sign.at));
        tag("li")
            .hold(tag("strong").say(&name))
            .say(&tight)
            .hold(tag("span").class("small").say(&format!(" {by}")))
            .into()
    };
    let told = match signs.is_empty() {
        true => tag("p").say("Nobody has signed for a step of the work yet.").into(),
        false => Html::from(tag("ul").class("plain-list").all(signs.iter().map(line))),
    };
    Ok(tag("section").with("id", "signed").hold(tag("h2").say("Signed for at the bench")).hold(told).into())
}

/// What the customer reads, or why it cannot be told yet.
async fn reads(app: &App, job: &Job) -> Result<Html, Trouble> {
    let told = match read(app, job).await {
        Ok(CustomerRead { happened, work, details }) => Html::of([happened, work, details]),
        Err(Trouble::Records(error)) => return Err(error.into()),
        Err(trouble) => tag("p").class("notice doubt").say(&format!("This cannot be told yet: {trouble}.")).into(),
    };
    let head = Html::from(tag("p").class("kicker").say("What the customer reads"));
    Ok(tag("div").class("reads").hold(head).hold(told).into())
}

/// What the customer reads of a job, in pieces.
pub(crate) struct CustomerRead {
    /// What happened, in short.
    pub happened: Html,
    /// What is proposed, or was done.
    pub work: Html,
    /// What was seen and measured, and what to do next.
    pub details: Html,
}

/// What the customer reads: the same here and behind their link.
pub(crate) async fn read(app: &App, job: &Job) -> Result<CustomerRead, Trouble> {
    let (ground, own) = (Ground::of(app, job).await?, app.clone());
    let key = ground.key("customer");
    let make = move |memo: &_| ground.tell(own.book(), memo, customer_parts);
    let parts = app.desk.computed(&key, make).await?;
    let [happened, work, details] =
        [&parts.happened, &parts.work, &parts.details].map(|text| Html::written(text.clone()));
    Ok(CustomerRead { happened, work, details })
}
