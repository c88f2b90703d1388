//! Alternatives: the repairs side by side with price, time and chance of a comeback, what was offered, what was answered.

use crate::app::App;
use crate::door::guard::Seat;
use crate::job::answering::Reply;
use crate::job::deal::{Asked, Deal};
use crate::job::go_ahead::Chosen;
use crate::job::lines::{self, NewLine};
use crate::job::offering::{Offering, Repair, offering};
use crate::job::way::way;
use crate::page::html::{Html, tag};
use crate::page::shell::{Frame, field, hidden, input, live, live_main, page, problems};
use crate::page::trouble::Trouble;
use crate::page::words::{chance, minutes, money, waits_for};
use axum::extract::{Extension, Path, State};
use axum::response::Response;
use std::sync::Arc;
use toothsayer_records::{
    Answer, Channel, Customer, Deed, GoAhead, Job, Offer, OfferAnswer, Reach, Truck, WallClock, export, job_by_number,
    newest_change,
};
use toothsayer_report::words::list;

/// What is told above the answer where offers are reckoned otherwise by now.
const NOT_AS_OFFERED: &str = "More is known now, or prices moved: offer anew. A yes goes only to what is still as it was \
    offered.";

/// What stands on the page.
struct Table {
    job: Job,
    offering: Arc<Offering>,
    truck: Truck,
    customer: Customer,
    deal: Deal,
}

/// What was typed and could not be kept.
#[derive(Default)]
pub(crate) struct Typed<'a> {
    /// The answer.
    pub reply: Option<&'a Reply>,
    /// The line.
    pub line: Option<&'a NewLine>,
    /// What is wrong.
    pub wrong: &'a [String],
}

/// The page.
pub(crate) async fn show(
    State(app): State<App>,
    Extension(seat): Extension<Seat>,
    Path(number): Path<i64>,
) -> Result<Response, Trouble> {
    sheet(&app, &seat, number, &Typed::default()).await
}

/// The page, with what could not be kept.
pub(crate) async fn sheet(app: &App, seat: &Seat, number: i64, typed: &Typed<'_>) -> Result<Response, Trouble> {
    // Counted before anything is read, so that nothing that changes meanwhile is missed.
    let changes = newest_change(app.store()).await?;
    let table = Table::read(app, number).await?;
    let may = seat.may(Deed::Counter);
    let told = [
        way(seat, number, "/alternatives"),
        table.head(),
        problems(typed.wrong),
        part("standing", table.standing(&seat.clock)),
        part("repairs", table.cards()),
        part("curve", table.comparison()),
        part("lines", lines::section(&table.job, &table.deal.lines, typed.line, may)),
        part("offer", table.offer(may)),
        part("answer", table.answer(typed.reply, may)),
    ];
    let title = format!("Alternatives for job {number}");
    Ok(page(&Frame::of(&title, seat), live_main(changes, told)))
}

/// A part that is shown anew where it changed.
fn part(name: &str, shown: Html) -> Html {
    live(name, tag("div").hold(shown)).into()
}

impl Table {
    /// Reads and weighs a job.
    async fn read(app: &App, number: i64) -> Result<Self, Trouble> {
        let store = app.store();
        let job = job_by_number(store, number).await?;
        let truck: Truck = store.get(job.truck).await?;
        let customer = store.get(truck.customer).await?;
        let (_, offering) = weighed(app, &job).await?;
        Ok(Self { deal: Deal::of(store, &job).await?, job, offering, truck, customer })
    }

    fn money(&self, minor: i64) -> String {
        money(minor, &self.job.currency)
    }

    fn head(&self) -> Html {
        tag("header")
            .all([
                tag("p").class("kicker").say(waits_for(self.job.state)).into(),
                tag("h1").say("Alternatives").into(),
                tag("p")
                    .class("under")
                    .say(&format!("{} · {} · {}", self.job.number, self.truck.name, self.customer.name))
                    .into(),
            ])
            .into()
    }

    /// What was answered, and whether it still covers the price.
    fn standing(&self, clock: &WallClock) -> Html {
        let told = self.deal.answers.iter().rev().map(|one| tag("li").say(&self.answered(one, clock)).into());
        let answers = match self.deal.answers.is_empty() {
            true => Html::default(),
            false => tag("ul").all(told).into(),
        };
        let (class, words) = match (self.deal.taken(), self.deal.agreed()) {
            (_, Some(agreed)) if self.deal.rose() => (
                "bad",
                format!(
                    "The price rose to {}, above the {} that was agreed on: ask the customer again before the work goes on.",
                    self.money(self.deal.price),
                    self.money(agreed)
                ),
            ),
            _ if self.deal.rose() => {
                ("bad", "Nobody agreed to the work yet: ask the customer before it goes on.".into())
            }
            (Some(offer), _) if self.deal.is_gone(&self.offering) => (
                "bad",
                format!(
                    "Taken: {}, {} with all lines. The plan no longer has that repair as it was agreed on: offer anew \
                     before the work goes on.",
                    offer.name,
                    self.money(self.deal.price)
                ),
            ),
            (Some(offer), _) => {
                ("good", format!("Taken: {}, {} with all lines.", offer.name, self.money(self.deal.price)))
            }
            (None, _) if self.deal.is_open() => ("doubt", "Offered; the customer has not answered yet.".to_owned()),
            (None, _) if self.deal.offers.is_empty() => return Html::default(),
            (None, _) => ("plain", "Offered and not taken.".to_owned()),
        };
        let id = tag("section").with("id", "standing").class(&format!("notice {class}"));
        id.hold(tag("h2").class("plain").say("Where it stands")).hold(tag("p").say(&words)).hold(answers).into()
    }

    fn answered(&self, one: &GoAhead, clock: &WallClock) -> String {
        let by = match one.channel {
            Channel::Counter => "at the counter",
            Channel::Phone => "on the telephone",
            Channel::Link => "by the link",
        };
        let what = match one.answer {
            Answer::Yes => format!("yes, up to {}", self.money(one.up_to)),
            Answer::No => "no".to_owned(),
        };
        format!("{}: {what}, said {by} by {}", clock.when(one.at), one.said_by)
    }

    fn cards(&self) -> Html {
        let cards = self.offering.repairs.iter().map(|repair| self.card(repair));
        let told = match self.offering.strip_happened {
            true => {
                "Every one of them is a whole repair. New gears alone are among them, so that the customer sees what they \
                 would buy."
            }
            false => "Every one of them is a whole repair. No gears went, so that a check alone is among them.",
        };
        let head = [Html::from(tag("h2").say("The repairs")), tag("p").say(told).into()];
        tag("section").with("id", "repairs").all(head).hold(tag("div").class("repairs").all(cards)).into()
    }

    fn card(&self, repair: &Repair) -> Html {
        let mark = match repair.recommended {
            true => tag("p").class("kicker").say("What we recommend").into(),
            false => Html::default(),
        };
        let fact = |name: &str, value: &str| {
            let row = tag("div").hold(tag("dt").say(name)).hold(tag("dd").say(value));
            Html::from(row)
        };
        let with_lines = match self.deal.extra() {
            0 => Html::default(),
            extra => fact("With all lines", &self.money(repair.price.minor.saturating_add(extra))),
        };
        let runs = self.offering.horizon_runs;
        let facts = tag("dl").class("offer-facts").all([
            fact("Price", &repair.price.to_string()),
            with_lines,
            fact("Work", &minutes(repair.minutes)),
            fact(&format!("It comes back within {runs:.0} runs"), &chance(repair.comeback)),
        ]);
        let cures = match repair.cures.is_empty() {
            true if self.offering.strip_happened => "Cures: nothing beyond the gears.".to_owned(),
            true => "Cures: nothing.".to_owned(),
            false => format!("Cures: {}.", list(&repair.cures)),
        };
        let leaves = match repair.leaves.is_empty() {
            true => "Leaves: no cause that alone would likely come back.".to_owned(),
            false => format!("Leaves: {}.", list(&repair.leaves)),
        };
        let class = if repair.recommended { "repair best" } else { "repair" };
        tag("article")
            .class(class)
            .all([
                mark,
                tag("h3").say(&repair.name).into(),
                facts.into(),
                tag("p").say(&cures).into(),
                tag("p").say(&leaves).into(),
                caution(repair),
                more(repair),
            ])
            .into()
    }

    fn comparison(&self) -> Html {
        let mut notes = vec![format!(
            "It comes back: another strip within {:.0} runs. Every cause that may still be there counts; with all of them \
             cured {} would remain. Chances are computed from what is known of this truck and are estimates.",
            self.offering.horizon_runs,
            chance(self.offering.unavoidable)
        )];
        if !self.offering.unpriced.is_empty() {
            let parts = list(&self.offering.unpriced);
            notes.push(format!("Not in the sums, for their price is not known: {parts}. Add them as lines below."));
        }
        if !self.offering.assumed.is_empty() {
            let names = list(&self.offering.assumed);
            notes.push(format!("Usual values stand in for what the shop has not set: {names} (estimate, no source)."));
        }
        let notes = notes.iter().map(|note| tag("p").class("small").say(note).into());
        let head = tag("h2").say("Price against the chance that it comes back");
        tag("section").with("id", "curve").hold(head).hold(self.offering.drawing.clone()).all(notes).into()
    }

    fn offer(&self, may: bool) -> Html {
        let quote = format!("/jobs/{}/papers/quote.pdf", self.job.number);
        let print = tag("a").class("button plain").with("href", &quote).say("Print the quote");
        let head = Html::from(tag("h2").say("Offer"));
        let late = crate::job::go_ahead::to_question(self.job.state).is_none();
        let (told, words) = match (self.deal.offers.is_empty(), self.offering.is_offered(&self.deal.offers)) {
            _ if late => ("The work is done: there is nothing left to offer.", ""),
            (true, _) => (
                "What is offered is kept as it stands here, and the job waits for the answer.",
                "Offer these to the customer",
            ),
            (false, true) => ("These repairs are offered as they stand here.", ""),
            (false, false) => (
                "More is known now, or prices moved, and the repairs no longer cost what was offered.",
                "Offer anew, as above",
            ),
        };
        let form = match words.is_empty() || !may {
            true => Html::default(),
            false => tag("form")
                .with("method", "post")
                .with("action", &format!("/jobs/{}/offers", self.job.number))
                .all([
                    hidden("version", &self.job.version.to_string()),
                    hidden("shown", &self.offering.mark()),
                    tag("button").say(words).into(),
                ])
                .into(),
        };
        let actions = tag("div").class("actions").hold(form).hold(print);
        tag("section").with("id", "offer").hold(head).hold(tag("p").say(told)).hold(actions).into()
    }

    fn answer(&self, typed: Option<&Reply>, may: bool) -> Html {
        let late = crate::job::go_ahead::to_question(self.job.state).is_none();
        if self.deal.offers.is_empty() || late {
            return Html::default();
        }
        if !may {
            let told = "Answers are taken at the counter.";
            return tag("section").with("id", "answer").hold(tag("p").class("small").say(told)).into();
        }
        let usual = Reply { said_by: self.customer.name.clone(), ..Reply::default() };
        let reply = typed.unwrap_or(&usual);
        let offers: Vec<&Offer> = self.deal.offers.iter().filter(|offer| self.is_shown(offer)).collect();
        let anew = match self.deal.asked(&self.offering) {
            Asked::Anew => tag("p").class("notice doubt").say(NOT_AS_OFFERED).into(),
            _ => Html::default(),
        };
        let picks = offers.into_iter().map(|offer| self.pick(offer, reply));
        let channels = [("counter", "At the counter"), ("phone", "On the telephone")].map(|(value, words)| {
            let radio =
                input("radio", "channel").with("value", value).flag("checked", reply.channel_or_usual() == value);
            Html::from(tag("label").class("pick").hold(radio).hold(tag("span").say(words)))
        });
        let text =
            |name: &'static str, value: &str| input("text", name).with("value", value).with("autocomplete", "off");
        let form = tag("form").with("method", "post").with("action", &format!("/jobs/{}/answer", self.job.number));
        let form = form.class("narrow-form").all([
            hidden("version", &self.job.version.to_string()),
            hidden("lines", &self.deal.extra().to_string()),
            anew,
            tag("fieldset").hold(tag("legend").say("Which repair")).all(picks).into(),
            tag("fieldset").hold(tag("legend").say("How it was said")).all(channels).into(),
            field("Who said it", text("said_by", &reply.said_by).flag("required", true), ""),
            field(
                &format!("Up to which price, {}", self.job.currency),
                text("up_to", &reply.up_to).with("inputmode", "decimal"),
                "Leave it empty for what the repair costs; more where the customer gives some room.",
            ),
            field("Why not", text("reason", &reply.reason), "Only for a no, where they told."),
            tag("div")
                .class("actions")
                .hold(tag("button").with("name", "answer").with("value", "yes").say("The customer said yes"))
                .hold(
                    tag("button").class("plain").with("name", "answer").with("value", "no").say("The customer said no"),
                )
                .into(),
        ]);
        tag("section").with("id", "answer").hold(tag("h2").say("The customer's answer")).hold(form).into()
    }

    /// Offers that can still be said yes to: those of the last time, and what was taken, as they are reckoned now.
    fn is_shown(&self, offer: &Offer) -> bool {
        let of_last_time = offer.answer != OfferAnswer::Declined || !self.deal.is_open();
        of_last_time && self.offering.repair_of(offer).is_some()
    }

    fn pick(&self, offer: &Offer, reply: &Reply) -> Html {
        let chosen = Chosen::of(offer).text();
        let recommended = self.offering.repairs.iter().any(|repair| repair.recommended && repair.name == offer.name);
        let checked = match reply.offer.is_empty() {
            true => self.deal.taken().map_or(recommended, |taken| taken.id == offer.id),
            false => reply.offer == chosen,
        };
        let radio = input("radio", "offer").with("value", &chosen).flag("checked", checked);
        let comes_back =
            offer.comeback_ppm.map_or(String::new(), |ppm| format!(", comes back {}", chance(ppm as f64 / 1e6)));
        let told = format!("{}: {}{comes_back}", offer.name, self.money(offer.price.saturating_add(self.deal.extra())));
        tag("label").class("pick").hold(radio).hold(tag("span").say(&told)).into()
    }
}

/// A job's file with the repairs that come from it.
pub(crate) async fn weighed(app: &App, job: &Job) -> Result<(String, Arc<Offering>), Trouble> {
    let (text, system, own) = (export(app.store(), job).await?, app.system().await?, app.clone());
    let (key, asked) = (format!("{system:?}\n{text}"), text.clone());
    let offering = app.desk.computed(&key, move |memo| offering(&asked, own.book(), system, memo)).await?;
    Ok((text, offering))
}

/// What a repair does to the way to a stop, where it lowers the brake.
pub(crate) fn caution(repair: &Repair) -> Html {
    let Some(brake) = &repair.brake else { return Html::default() };
    tag("p").class("small caution").say(&format!("Caution: {brake}")).into()
}

/// What is done, and with what, behind a fold.
fn more(repair: &Repair) -> Html {
    let items = |texts: &[String]| Html::from(tag("ul").all(texts.iter().map(|text| tag("li").say(text).into())));
    let parts = match repair.parts.is_empty() {
        true => Html::default(),
        false => Html::of([Html::from(tag("h4").say("Parts")), items(&repair.parts)]),
    };
    let [low, high] = repair.comeback_range.map(chance);
    let range = match low == high {
        true => Html::default(),
        false => {
            let told = format!(
                "Were every blow as soft or as hard as model and inputs leave open, {low} to {high} would come back."
            );
            tag("p").class("small").say(&told).into()
        }
    };
    let steps = tag("ol").all(repair.steps.iter().map(|text| tag("li").say(text).into()));
    let summary = tag("summary").say(&format!("What is done ({} steps)", repair.steps.len()));
    tag("details").hold(summary).hold(steps).hold(parts).hold(range).into()
}
