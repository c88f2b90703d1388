//! Free lines: whatever else the truck needs, in the shop's own words, put down and taken away.

use crate::app::App;
use crate::door::guard::Seat;
use crate::job::alternatives::{Typed, sheet};
use crate::page::html::{Html, tag};
use crate::page::shell::{choice, field, hidden, input};
use crate::page::trouble::Trouble;
use crate::page::words::{money, typed_money};
use axum::extract::{Extension, Form, Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use serde::Deserialize;
use toothsayer_records::{Id, Job, Line, LineKind, Write, job_by_number, lines_of};

/// Letters of a line, pieces and minutes at most.
const LONGEST_TEXT: usize = 200;
const MOST_PIECES: i64 = 10_000;
const MOST_MINUTES: i64 = 10_000;

/// A line as it was typed.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct NewLine {
    text: String,
    kind: String,
    quantity: String,
    price: String,
    minutes: String,
}

/// A line that is to be taken away.
#[derive(Deserialize)]
pub(crate) struct Gone {
    line: String,
    version: i64,
}

/// The lines of a job, each with a way to take it away, and a form for one more.
pub(crate) fn section(job: &Job, lines: &[Line], typed: Option<&NewLine>, may: bool) -> Html {
    let listed = lines.iter().map(|line| one(job, line, may));
    let listed: Html = match lines.is_empty() {
        true => tag("p").class("small").say("Nothing so far.").into(),
        false => tag("ul").class("plain-list lines").all(listed).into(),
    };
    let form = if may { form(job, typed) } else { Html::default() };
    let told = "Work and parts that no repair above has, in your own words. They count whichever repair is taken.";
    let head = [Html::from(tag("h2").say("Lines of your own")), tag("p").say(told).into()];
    tag("section").with("id", "lines").all(head).hold(listed).hold(form).into()
}

fn one(job: &Job, line: &Line, may: bool) -> Html {
    let all = money(line.price.saturating_mul(line.quantity), &job.currency);
    let each = match line.quantity {
        1 => String::new(),
        count => format!(" ({count} at {})", money(line.price, &job.currency)),
    };
    let minutes = if line.minutes > 0 { format!(", {} min", line.minutes) } else { String::new() };
    let told = tag("span").hold(tag("strong").say(&format!("{}:", line.text))).say(&format!("{all}{each}{minutes}"));
    let gone =
        tag("form").with("method", "post").with("action", &format!("/jobs/{}/lines/take-away", job.number)).all([
            hidden("line", &line.id.to_string()),
            hidden("version", &line.version.to_string()),
            tag("button")
                .class("plain")
                .with("aria-label", &format!("Take away: {}", line.text))
                .say("Take away")
                .into(),
        ]);
    let gone = if may { gone.into() } else { Html::default() };
    tag("li").hold(told).hold(gone).into()
}

fn form(job: &Job, typed: Option<&NewLine>) -> Html {
    let usual = NewLine { quantity: "1".into(), ..NewLine::default() };
    let new = typed.unwrap_or(&usual);
    let text = |name: &'static str, value: &str| input("text", name).with("value", value).with("autocomplete", "off");
    let kinds = [("part", "a part"), ("work", "work")].map(|(value, words)| (value.to_owned(), words.to_owned()));
    let fields = tag("div").class("grid").all([
        field("What", text("text", &new.text).flag("required", true), ""),
        field("It is", choice("kind", &kinds, &new.kind), ""),
        field("How many", text("quantity", &new.quantity).with("inputmode", "numeric"), ""),
        field(&format!("Price of one, {}", job.currency), text("price", &new.price).with("inputmode", "decimal"), ""),
        field("Minutes of work", text("minutes", &new.minutes).with("inputmode", "numeric"), "If any."),
    ]);
    let form = tag("form").with("method", "post").with("action", &format!("/jobs/{}/lines", job.number));
    let form = form.hold(fields).hold(tag("button").class("plain").say("Add the line"));
    tag("details").flag("open", typed.is_some()).hold(tag("summary").say("Add a line")).hold(form).into()
}

impl NewLine {
    /// The line, or what is wrong with it.
    fn read(&self, write: &Write, job: &Job) -> Result<Line, Vec<String>> {
        let mut wrong = Vec::new();
        let text = self.text.trim();
        let letters = text.chars().count();
        if letters == 0 || letters > LONGEST_TEXT {
            wrong.push(format!("What it is has {letters} letters; 1 to {LONGEST_TEXT} are allowed."));
        }
        let mut count = |what: &str, typed: &str, usual: i64, [least, most]: [i64; 2]| match typed.trim() {
            "" => usual,
            typed => {
                let number = typed.parse::<i64>().ok().filter(|number| (least..=most).contains(number));
                number.unwrap_or_else(|| {
                    wrong.push(format!("{what}: “{typed}” is no whole number of {least} to {most}."));
                    usual
                })
            }
        };
        let quantity = count("How many", &self.quantity, 1, [1, MOST_PIECES]);
        let minutes = count("Minutes of work", &self.minutes, 0, [0, MOST_MINUTES]);
        let price = typed_money(&self.price, &job.currency);
        if price.is_none() {
            wrong.push(format!("Price of one: “{}” is no amount such as 4.50.", self.price));
        }
        let kind = if self.kind == "work" { LineKind::Work } else { LineKind::Part };
        match price.filter(|_| wrong.is_empty()) {
            Some(price) => Ok(Line { quantity, price, minutes, ..Line::new(write, job.id, kind, text) }),
            None => Err(wrong),
        }
    }
}

/// Adds a line.
pub(crate) async fn add(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path(number): Path<i64>,
    Form(new): Form<NewLine>,
) -> Result<Response, Trouble> {
    let write = seat.write(&app).await?;
    let job = job_by_number(&write, number).await?;
    match new.read(&write, &job) {
        Ok(line) => {
            write.add(line).await?;
            write.commit().await?;
            Ok(Redirect::to(&format!("/jobs/{number}/alternatives#lines")).into_response())
        }
        Err(wrong) => {
            drop(write);
            let typed = Typed { line: Some(&new), wrong: &wrong, ..Typed::default() };
            Ok((StatusCode::UNPROCESSABLE_ENTITY, sheet(&app, &seat, number, &typed).await?).into_response())
        }
    }
}

/// Takes a line away, if it is still as it stood on the page.
pub(crate) async fn take_away(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path(number): Path<i64>,
    Form(gone): Form<Gone>,
) -> Result<Response, Trouble> {
    let id: Id<Line> = Id::parse(&gone.line).map_err(|_| Trouble::NoPage)?;
    let write = seat.write(&app).await?;
    let job = job_by_number(&write, number).await?;
    let line = lines_of(&write, job.id).await?.into_iter().find(|line| line.id == id);
    let taken = match line {
        Some(line) if line.version == gone.version => write.take_line_away(&line).await?,
        // Somebody took it away already: that is what was wanted.
        None => true,
        Some(_) => false,
    };
    if taken {
        write.commit().await?;
        return Ok(Redirect::to(&format!("/jobs/{number}/alternatives#lines")).into_response());
    }
    drop(write);
    let wrong = ["Somebody else changed this line meanwhile: it now stands as told here.".to_owned()];
    let typed = Typed { wrong: &wrong, ..Typed::default() };
    Ok((StatusCode::CONFLICT, sheet(&app, &seat, number, &typed).await?).into_response())
}
