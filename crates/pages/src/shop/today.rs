//! Today: the open jobs by what they wait for, what is promised first at the top.

use crate::app::App;
use crate::door::guard::Seat;
use crate::page::html::{Html, tag};
use crate::page::shell::{Frame, live, live_main, page};
use crate::page::trouble::Trouble;
use crate::page::words::waits_for;
use axum::extract::{Extension, State};
use axum::response::Response;
use std::collections::HashSet;
use toothsayer_records::{
    Customer, Deed, Id, Job, JobState, Moment, Reach, Truck, WallClock, newest_change, risen, today,
};

/// Jobs that are listed at most; a bench has a dozen.
const MOST: u32 = 100;

/// The page.
pub(crate) async fn show(State(app): State<App>, Extension(seat): Extension<Seat>) -> Result<Response, Trouble> {
    let changes = newest_change(app.store()).await?;
    let jobs = today(app.store(), MOST).await?;
    let risen: HashSet<Id<Job>> = risen(app.store(), MOST).await?.into_iter().map(|job| job.id).collect();
    // Whose price rose above the yes waits for another one, wherever the work is.
    let waits = |job: &Job| if risen.contains(&job.id) { JobState::WaitingForAnswer } else { job.state };
    let cards: Vec<_> = jobs.iter().map(waits).zip(cards(&app, &seat.clock, &jobs).await?).collect();
    let groups = JobState::ALL.into_iter().filter_map(|state| {
        let own: Vec<Html> = cards.iter().filter(|(of, _)| *of == state).map(|(_, card)| card.clone()).collect();
        let head = format!("{} ({})", waits_for(state), own.len());
        (!own.is_empty())
            .then(|| Html::from(tag("section").hold(tag("h2").say(&head)).hold(tag("ul").class("cards").all(own))))
    });
    let listed = [empty(&seat, jobs.is_empty()), Html::of(groups), rest(jobs.len())];
    let told = [tag("h1").say("Today").into(), live("jobs", tag("div")).all(listed).into()];
    Ok(page(&Frame::of("Today", &seat), live_main(changes, told)))
}

fn empty(seat: &Seat, nothing: bool) -> Html {
    if !nothing {
        return Html::default();
    }
    let link = tag("a").class("button").with("href", "/take-in").say("Take a truck in");
    let link = if seat.may(Deed::Counter) { tag("p").hold(link).into() } else { Html::default() };
    Html::of([tag("p").say("No job is open.").into(), link])
}

fn rest(shown: usize) -> Html {
    let told = format!("The first {MOST} open jobs are shown; find the others by name or number.");
    if shown < MOST as usize { Html::default() } else { tag("p").class("small").say(&told).into() }
}

/// Jobs as cards that lead to their sheets. Whose they are is asked once for all of them.
pub(crate) async fn cards(app: &App, clock: &WallClock, jobs: &[Job]) -> Result<Vec<Html>, Trouble> {
    let trucks = app.store().several(&jobs.iter().map(|job| job.truck).collect::<Vec<_>>()).await?;
    let customers = app.store().several(&trucks.iter().map(|truck| truck.customer).collect::<Vec<_>>()).await?;
    let whose = trucks.iter().zip(&customers);
    Ok(jobs.iter().zip(whose).map(|(job, (truck, customer))| card(app, clock, job, truck, customer)).collect())
}

fn card(app: &App, clock: &WallClock, job: &Job, truck: &Truck, customer: &Customer) -> Html {
    let complaint = app.book().complaint(&job.complaint).map_or(job.complaint.as_str(), |entry| entry.name.as_str());
    let due = job.due.map_or(Html::default(), |due| promised(job, due, clock));
    let link = tag("a").with("href", &format!("/jobs/{}", job.number)).all([
        tag("strong").say(&format!("{} · {}", job.number, truck.name)).into(),
        tag("span").say(&format!("{} · {complaint}", customer.name)).into(),
        tag("span").class("small").say(&format!("in since {}", clock.day(job.taken_in))).into(),
        due,
    ]);
    tag("li").hold(link).into()
}

/// The promise, and whether it is broken: a truck that can be collected waits for its customer alone.
fn promised(job: &Job, due: Moment, clock: &WallClock) -> Html {
    let kept = matches!(job.state, JobState::Ready | JobState::Collected | JobState::Rechecked | JobState::Declined);
    match kept || due >= Moment::now() {
        true => tag("span").class("small").say(&format!("promised for {}", clock.day(due))).into(),
        false => tag("span").class("late").say(&format!("Late: promised for {}", clock.day(due))).into(),
    }
}
