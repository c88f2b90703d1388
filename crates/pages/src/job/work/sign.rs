//! Signing for a step: who did it, how tight the joint was made; a torque that the joint does not bear needs its reason.

use super::plan::{Step, WorkPlan};
use super::steps::Typed;
use super::{Work, anchor, clock, with_typed};
use crate::app::App;
use crate::door::guard::Seat;
use crate::page::trouble::Trouble;
use crate::page::typed::{decimal_comma, refusal};
use crate::page::words::sentence;
use axum::extract::{Extension, Form, Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use serde::Deserialize;
use toothsayer_quantity::{Kind, System, Torque, parse};
use toothsayer_records::{Error, Signed, sign_offs_of};
use toothsayer_report::words::value;
use toothsayer_verdict::Tightened;

/// Letters of a note, and of a torque, at most.
const LONGEST_NOTE: usize = 1000;
const LONGEST_TORQUE: usize = 40;

/// The form.
#[derive(Deserialize)]
pub(crate) struct Sent {
    step: String,
    #[serde(default)]
    joint: String,
    #[serde(default)]
    tightened: String,
    #[serde(default)]
    note: String,
    /// Signatures that stood under it on the page.
    seen: usize,
    place: usize,
}

/// Keeps a signature, unless somebody else signed meanwhile or the joint does not bear the torque.
pub(crate) async fn sign(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path(number): Path<i64>,
    Form(sent): Form<Sent>,
) -> Result<Response, Trouble> {
    let sent = Sent { tightened: decimal_comma(&sent.tightened).into_owned(), ..sent };
    let work = Work::read(&app, &seat, number).await?;
    let steps = work.steps();
    let place = steps.iter().position(|step| step.id == sent.step);
    let wrong = match place {
        Some(place) => unfit(&work.plan, &steps[place], &sent, app.system().await?),
        None => vec!["The work of this job has no such step any more: look at the steps again.".to_owned()],
    };
    let (Some(place), true) = (place, wrong.is_empty()) else { return again(&app, &seat, number, sent, wrong).await };
    match keep(&app, &work, &steps, place, &sent).await? {
        None => Ok(Redirect::to(&anchor(number, sent.place + 1)).into_response()),
        Some(clash) => again(&app, &seat, number, sent, vec![clash]).await,
    }
}

async fn again(app: &App, seat: &Seat, number: i64, sent: Sent, wrong: Vec<String>) -> Result<Response, Trouble> {
    let Sent { step, joint, tightened, note, .. } = sent;
    let typed = Typed { step, joint, tightened, note, wrong: wrong.clone() };
    let told = with_typed(app, seat, number, &wrong, &typed).await?;
    Ok((StatusCode::UNPROCESSABLE_ENTITY, told).into_response())
}

/// Keeps it, or says who was faster.
async fn keep(app: &App, work: &Work, steps: &[Step], place: usize, sent: &Sent) -> Result<Option<String>, Trouble> {
    let write = work.seat.write(app).await?;
    let (step, tightened, note) = (&steps[place], sent.tightened.trim(), sent.note.trim());
    let all = sign_offs_of(&write, work.job.id).await?;
    let under: Vec<_> = all.iter().filter(|one| one.step == step.id && one.joint == sent.joint).collect();
    if let Some(last) = under.last().filter(|_| under.len() != sent.seen) {
        // The same form sent twice counts once.
        let same = last.who == work.seat.person.id && last.tightened == tightened && last.note == note;
        let name = work.name_of(last.who);
        let told = format!(
            "{name} signed for this meanwhile, {}: sign again only if you did it again.",
            work.seat.clock.when(last.at)
        );
        return Ok((!same).then_some(told));
    }
    match clock::to_the_bench(&write, work.job.number).await {
        Ok(_) => {}
        Err(Error::Refused(refusal)) => {
            return Ok(Some(format!("{}: {}.", sentence(&refusal.to_string()), refusal.hint())));
        }
        Err(other) => return Err(other.into()),
    }
    write.sign(Signed { job: work.job.id, step: &step.id, joint: &sent.joint, tightened, note }).await?;
    let missing = step.joints.iter().any(|joint| *joint != sent.joint && work.signed(&step.id, joint).is_none());
    if !missing {
        let open = |next: &&Step| next.id != step.id && !work.is_done(next);
        let next = steps[place..].iter().find(open).or_else(|| steps.iter().find(open));
        clock::go_on(&write, work, step, next).await?;
    }
    write.commit().await?;
    Ok(None)
}

/// What is wrong with what was typed.
fn unfit(plan: &WorkPlan, step: &Step, sent: &Sent, system: System) -> Vec<String> {
    let letters = sent.note.chars().count();
    let mut wrong = Vec::new();
    if letters > LONGEST_NOTE {
        wrong.push(format!("The note has {letters} letters; up to {LONGEST_NOTE} are allowed."));
    }
    let known = if step.joints.is_empty() { sent.joint.is_empty() } else { step.joints.contains(&sent.joint) };
    if !known {
        wrong.push(format!("This step tightens no joint “{}”.", sent.joint));
    } else if !sent.joint.is_empty() {
        wrong.extend(torque(plan, sent, system).err());
    } else if sent.tightened.trim().chars().count() > LONGEST_TORQUE {
        wrong.push(format!("Set to, or measured: up to {LONGEST_TORQUE} letters are allowed."));
    }
    wrong
}

/// Whether the torque may stay without a word, or with the note that stands beside it.
fn torque(plan: &WorkPlan, sent: &Sent, system: System) -> Result<(), String> {
    let typed = sent.tightened.trim();
    if typed.chars().count() > LONGEST_TORQUE {
        return Err(format!("How tight: write a torque such as 3.4 N*m; up to {LONGEST_TORQUE} letters are allowed."));
    }
    if typed.is_empty() {
        return Err("How tight is missing: write the torque that the driver was set to, such as 3.4 N*m.".to_owned());
    }
    let read = parse(Kind::Torque, typed).map_err(|error| refusal(&error.to_string(), &error.hint()))?;
    if read.si <= 0.0 {
        return Err(format!("{typed} tightens nothing: write the torque that the driver was set to."));
    }
    let applied = Torque::n_m(read.si);
    let joint = plan.joints.iter().find(|joint| joint.name == sent.joint);
    let (Some(joint), Some(window)) = (joint, plan.windows.get(&sent.joint)) else { return Ok(()) };
    let shown = |torque: Torque| value(Kind::Torque, torque.to_n_m(), system);
    let told = match Tightened::of(applied, window, joint.printed) {
        Tightened::Within => return Ok(()),
        Tightened::Above { .. } => format!(
            "{} is above what {} bears ({}). Loosen it, look at thread and head, and tighten it again",
            shown(applied),
            joint.name,
            joint.tighten_to
        ),
        Tightened::Below { .. } => format!(
            "{} is below what {} needs to hold ({}). Tighten it again",
            shown(applied),
            joint.name,
            joint.tighten_to
        ),
        Tightened::NoneDoes => format!("No torque both holds {} and spares it: change the joint first", joint.name),
    };
    if sent.note.trim().is_empty() { Err(format!("{told}; or say in the note why it stays so.")) } else { Ok(()) }
}
