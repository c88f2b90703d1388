//! A check as it is asked, and its answer as it is kept.

use crate::app::App;
use crate::counter::take_in::told;
use crate::door::guard::Seat;
use crate::job::bench;
use crate::page::html::{Html, Tag, tag};
use crate::page::shell::{field, hidden, input};
use crate::page::trouble::Trouble;
use crate::page::typed::decimal_comma;
use axum::extract::{Extension, Form, Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use serde::Deserialize;
use toothsayer_fault_book::{FaultBook, Finding as Check};
use toothsayer_job::Job as JobFile;
use toothsayer_quantity::{Kind, System, Unit, pretty};
use toothsayer_records::{Answer, Finding, Job, Saved, Write, export, findings_of, job_by_number};

/// Letters of a note at most.
const LONGEST_NOTE: usize = 1000;

/// What is said to the loser of a race.
const OTHER: &str = "Somebody else answered this meanwhile: look at their answer, then say yours again.";

/// A check to be asked.
pub(crate) struct Asked<'a> {
    /// The check.
    pub entry: &'a Check,
    /// Its book.
    pub book: &'a FaultBook,
    /// The job's number.
    pub job: i64,
    /// Why it comes next; empty where it stands in its place.
    pub reason: &'a str,
    /// The answer so far, with who gave it and when.
    pub answered: Option<(&'a Finding, String)>,
    /// Photos that were filed under the answer.
    pub photos: usize,
    /// An answer to it that could not be kept.
    pub refused: Option<&'a Refused>,
    /// The units that the shop sees.
    pub system: System,
}

/// An answer that could not be kept, and why.
pub(crate) struct Refused {
    /// As it was sent.
    pub sent: Sent,
    /// What is wrong.
    pub wrong: Vec<String>,
}

impl Asked<'_> {
    /// The question with its form, open.
    pub(crate) fn html(&self) -> Tag {
        tag("div").class(self.class()).hold(tag("h4").say(&self.entry.question)).hold(self.inside())
    }

    /// The question with its answer in one line, which opens to its form.
    pub(crate) fn folded(&self) -> Tag {
        let head = tag("summary").hold(tag("h4").say(&self.entry.question)).hold(self.answer());
        let is_open = self.refused.is_some();
        tag("details").class(self.class()).flag("open", is_open).hold(head).hold(self.inside()).hold(self.back())
    }

    fn class(&self) -> &'static str {
        if self.answered.is_some() { "check answered" } else { "check" }
    }

    /// How to look, what to mind, and the form.
    fn inside(&self) -> Html {
        let entry = self.entry;
        let cautions = entry.cautions.iter().filter_map(|id| self.book.caution(id));
        let cautions = cautions.map(|caution| tag("p").class("small caution").say(caution).into());
        Html::of([tag("p").say(&entry.how).into(), Html::of(cautions), self.reason(), self.form()])
    }

    fn reason(&self) -> Html {
        match self.reason {
            "" => Html::default(),
            reason => tag("p").class("small").say(reason).into(),
        }
    }

    fn answer(&self) -> Html {
        let Some((finding, by)) = &self.answered else { return Html::default() };
        let word = if finding.answer == Answer::Yes { "Yes" } else { "No" };
        let value = finding.value.as_ref().map_or(String::new(), |value| format!(", {value}"));
        let note = if finding.note.is_empty() { String::new() } else { format!(" “{}”", finding.note) };
        let told = tag("span").class("given").hold(tag("strong").say(&format!("{word}{value}")));
        told.say(&note).hold(tag("span").class("small").say(&format!(" {by}"))).into()
    }

    /// What goes on from an answer: back, or to its photo.
    fn back(&self) -> Html {
        let Some((finding, _)) = &self.answered else { return Html::default() };
        let photos = format!("/jobs/{}/photos?check={}", self.job, self.entry.id);
        let count =
            if self.photos == 0 { "Photo of this".to_owned() } else { format!("Photos of this ({})", self.photos) };
        tag("form")
            .with("method", "post")
            .with("action", &format!("/jobs/{}/findings/back", self.job))
            .with("data-send", "stay")
            .with("data-told", "Taken back.")
            .class("actions")
            .all([
                hidden("check", &self.entry.id),
                hidden("version", &finding.version.to_string()),
                tag("button").class("plain").say("Take the answer back").into(),
                tag("a").class("button plain").with("href", &photos).say(&count).into(),
            ])
            .into()
    }

    /// The form, with what stands in the answer so far, so that whoever answers again loses nothing of it.
    fn form(&self) -> Html {
        let now = self.answered.as_ref().map(|(finding, _)| *finding);
        let sent = self.refused.map(|refused| &refused.sent);
        let stands =
            |sent: Option<&String>, now: Option<&str>| sent.map_or(now.unwrap_or(""), String::as_str).to_owned();
        let value = stands(sent.map(|sent| &sent.value), now.and_then(|now| now.value.as_deref()));
        let note = stands(sent.map(|sent| &sent.note), now.map(|now| now.note.as_str()));
        let measured = self.entry.value.as_ref().map(|measured| {
            let label = match unit_of(measured.kind, self.system) {
                Some(unit) => format!("Measured, in {}", pretty(unit.symbol)),
                None => "Measured".to_owned(),
            };
            let box_ =
                input("text", "value").with("value", &value).with("inputmode", "text").with("autocomplete", "off");
            field(&label, box_, "")
        });
        let note = input("text", "note").with("value", &note).with("autocomplete", "off");
        let button = |value: &str, words: &str| tag("button").with("name", "answer").with("value", value).say(words);
        let wrong = self.refused.map_or(&[][..], |refused| &refused.wrong);
        let wrong = wrong.iter().map(|one| tag("p").class("wrong").with("role", "alert").say(one).into());
        tag("form")
            .with("method", "post")
            .with("action", &format!("/jobs/{}/findings", self.job))
            .with("data-send", "stay")
            .class("answer")
            .all([
                // The first button of a form is pressed by the Enter key: this one does nothing, as neither answer is meant.
                tag("button").flag("disabled", true).flag("hidden", true).say("Yes or no").into(),
                hidden("check", &self.entry.id),
                hidden("version", &now.map_or(0, |finding| finding.version).to_string()),
                measured.unwrap_or_default(),
                field("Note", note, ""),
                tag("div").class("two").hold(button("yes", "Yes")).hold(button("no", "No")).into(),
                Html::of(wrong),
            ])
            .into()
    }
}

/// The unit that a bare number is taken in, as the form tells it; none for a plain number.
fn unit_of(kind: Kind, system: System) -> Option<&'static Unit> {
    let inches = (kind, system) == (Kind::Length, System::Us);
    match kind {
        Kind::Number => None,
        _ if inches => Unit::find("in"),
        _ => Unit::of_kind(kind).next(),
    }
}

/// A measured value with its unit: a bare number is in the one that stands beside the field.
fn with_unit(typed: &str, kind: Option<Kind>, system: System) -> String {
    let typed = decimal_comma(typed.trim());
    match (typed.parse::<f64>(), kind.and_then(|kind| unit_of(kind, system))) {
        (Ok(_), Some(unit)) => format!("{typed} {}", unit.symbol),
        _ => typed.into_owned(),
    }
}

/// An answer as it was sent.
#[derive(Clone, Deserialize)]
pub(crate) struct Sent {
    pub check: String,
    pub answer: Answer,
    #[serde(default)]
    pub value: String,
    #[serde(default)]
    pub note: String,
    /// Of the answer that was on the page; 0 where there was none.
    pub version: i64,
}

/// Keeps an answer, if the job can be computed with it and nobody else answered meanwhile.
pub(crate) async fn keep(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path(number): Path<i64>,
    Form(sent): Form<Sent>,
) -> Result<Response, Trouble> {
    let kind = app.book().measured_kind(&sent.check);
    let value = with_unit(&sent.value, kind, app.system().await?);
    let wrong = kept(&app, &seat, number, &Sent { value, ..sent.clone() }).await?;
    if wrong.is_empty() {
        return Ok(Redirect::to(&format!("/jobs/{number}#next")).into_response());
    }
    // A check that the book lost has no form to say it in.
    let told = match app.book().finding(&sent.check) {
        None => bench::sheet(&app, &seat, number, &wrong, None).await?,
        Some(_) => bench::sheet(&app, &seat, number, &[], Some(&Refused { sent, wrong })).await?,
    };
    Ok((StatusCode::UNPROCESSABLE_ENTITY, told).into_response())
}

/// Keeps an answer, or says why it cannot be kept.
pub(crate) async fn kept(app: &App, seat: &Seat, number: i64, sent: &Sent) -> Result<Vec<String>, Trouble> {
    let write = seat.write(app).await?;
    let job = job_by_number(&write, number).await?;
    let mut wrong = unfit(app, sent);
    if wrong.is_empty() {
        wrong = put(&write, &job, sent).await?;
    }
    if wrong.is_empty() {
        let text = export(&write, &job).await?;
        wrong = JobFile::parse(&text, app.book()).map_or_else(told, |_| Vec::new());
    }
    if wrong.is_empty() {
        write.commit().await?;
    }
    Ok(wrong)
}

/// An answer that is to be taken back.
#[derive(Deserialize)]
pub(crate) struct Back {
    check: String,
    version: i64,
}

/// Takes an answer back, as it stood on the page; one that is gone already is no trouble.
pub(crate) async fn take_back(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path(number): Path<i64>,
    Form(back): Form<Back>,
) -> Result<Response, Trouble> {
    let write = seat.write(&app).await?;
    let job = job_by_number(&write, number).await?;
    let answered = findings_of(&write, job.id).await?.into_iter().find(|finding| finding.asked == back.check);
    let taken = match answered {
        None => true,
        Some(finding) => write.take_back(&Finding { version: back.version, ..finding }).await?.saved().is_some(),
    };
    if taken {
        write.commit().await?;
        return Ok(Redirect::to(&format!("/jobs/{number}#next")).into_response());
    }
    drop(write);
    let told = bench::sheet(&app, &seat, number, &[OTHER.to_owned()], None).await?;
    Ok((StatusCode::UNPROCESSABLE_ENTITY, told).into_response())
}

fn unfit(app: &App, sent: &Sent) -> Vec<String> {
    let mut wrong = Vec::new();
    if app.book().finding(&sent.check).is_none() {
        wrong.push(format!("The fault book has no check “{}”.", sent.check));
    }
    let letters = sent.note.chars().count();
    if letters > LONGEST_NOTE {
        wrong.push(format!("The note has {letters} letters; up to {LONGEST_NOTE} are allowed."));
    }
    // PostgreSQL keeps no text with it.
    if sent.note.contains('\0') || sent.value.contains('\0') {
        wrong.push("The character U+0000 stands in no text: write it without.".to_owned());
    }
    wrong
}

/// Adds the answer, or puts it in the place of the one that stood on the page.
async fn put(write: &Write, job: &Job, sent: &Sent) -> Result<Vec<String>, Trouble> {
    let value = Some(sent.value.trim().to_owned()).filter(|value| !value.is_empty());
    let new =
        Finding { value, note: sent.note.trim().to_owned(), ..Finding::new(write, job.id, &sent.check, sent.answer) };
    let before = findings_of(write, job.id).await?.into_iter().find(|finding| finding.asked == sent.check);
    let other = || vec![OTHER.to_owned()];
    let Some(before) = before else {
        write.add(new).await?;
        return Ok(Vec::new());
    };
    if before.version != sent.version {
        let same = before.answer == new.answer && before.value == new.value && before.note == new.note;
        return Ok(if same { Vec::new() } else { other() });
    }
    let changed = Finding { id: before.id, version: before.version, changed: before.changed, ..new };
    match write.save(changed).await? {
        Saved::Saved(_) => Ok(Vec::new()),
        Saved::Clash { .. } => Ok(other()),
    }
}
