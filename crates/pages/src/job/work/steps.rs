//! The steps of the work, each with its cautions, its clock, its torque and who signed for it.

use super::plan::{ASSUMED, Screwed, Step};
use super::{Work, clock};
use crate::page::html::{Html, tag};
use crate::page::shell::{helped, hidden, input, live};
use crate::page::words::{minutes, sentence};
use toothsayer_records::SignOff;

/// What somebody typed into a step's form that was not kept, and why not.
#[derive(Default)]
pub(crate) struct Typed {
    /// Which step.
    pub step: String,
    /// Which of its joints.
    pub joint: String,
    /// How tight.
    pub tightened: String,
    /// The note.
    pub note: String,
    /// What is wrong.
    pub wrong: Vec<String>,
}

pub(super) fn section(work: &Work, typed: &Typed) -> Html {
    let steps = work.steps();
    let all = !steps.is_empty() && steps.iter().all(|step| work.is_done(step));
    let told = "Every step is signed for.";
    let to_next = if all { tag("p").class("notice good").say(told).into() } else { Html::default() };
    let lines = steps.iter().enumerate().map(|(place, step)| one(work, &steps[..place], step, typed));
    let told = "A signature says who did it. It stays; whoever does a step again signs again. A clock that runs goes on \
                with the next step when you sign.";
    let told = [
        Html::from(tag("h2").say("Steps, in bench order")),
        tag("p").class("small").say(told).say(" ").hold(helped("work", "How the work is written down")).into(),
        to_next,
        tag("ol").class("steps").all(lines).into(),
    ];
    tag("section").with("id", "steps").all(told).into()
}

fn one(work: &Work, before: &[Step], step: &Step, typed: &Typed) -> Html {
    let place = before.len() + 1;
    let done = work.is_done(step);
    let took = work.took.get(&step.id).map_or(String::new(), |took| format!(", took {}", minutes(*took)));
    let head = tag("h3").say(&format!("{place} · {}", step.name));
    let time = format!("Planned {}{took}", minutes(step.minutes));
    let tools = match step.tools.is_empty() {
        true => String::new(),
        false => format!(" · {}", step.tools.join(", ")),
    };
    let told_before = |caution: &&String| before.iter().any(|one| one.cautions.contains(caution));
    let (again, new): (Vec<&String>, Vec<&String>) = step.cautions.iter().partition(told_before);
    let line = |caution: &&String| Html::from(tag("p").class("small caution").say(&sentence(caution)));
    let again = match again.is_empty() {
        true => Html::default(),
        false => {
            let head = tag("summary").say(&format!("Cautions as before ({})", again.len()));
            tag("details").hold(head).all(again.iter().map(line)).into()
        }
    };
    let cautions = new.iter().map(line).chain([again]);
    let figure = step.figure.as_ref().map(|figure| tag("p").hold(tag("strong").say(&sentence(figure))).into());
    let what = if step.what.is_empty() { Html::default() } else { tag("p").say(&step.what).into() };
    let told = [
        Html::from(head),
        tag("p").class("small").say(&format!("{time}{tools}")).into(),
        what,
        Html::of(cautions),
        figure.unwrap_or_default(),
        tag("div")
            .class("row deeds")
            .hold(signatures(work, step, place, typed))
            .hold(clock::of_step(work, step, place))
            .into(),
    ];
    let class = if done { "check answered" } else { "check" };
    live(&format!("step-{}", step.id), tag("li")).class(class).with("id", &format!("step-{place}")).all(told).into()
}

/// A form for each joint that is tightened, or one for the step.
fn signatures(work: &Work, step: &Step, place: usize, typed: &Typed) -> Html {
    let form = |joint: &str| Line { work, step, joint, place, typed }.html();
    match step.joints.is_empty() {
        true => form(""),
        false => Html::of(step.joints.iter().map(|joint| form(joint))),
    }
}

/// One signature, given or to be given.
struct Line<'a> {
    work: &'a Work,
    step: &'a Step,
    joint: &'a str,
    place: usize,
    typed: &'a Typed,
}

impl Line<'_> {
    fn html(&self) -> Html {
        let joint = self.work.plan.joints.iter().find(|one| one.name == self.joint);
        let tight = joint.map_or_else(Html::default, tighten);
        let Some(sign) = self.work.signed(&self.step.id, self.joint) else {
            return tag("div").class("deed").hold(tight).hold(self.form("Done")).into();
        };
        let again = tag("summary").say("Sign again");
        let again = tag("details").flag("open", self.is_typed()).hold(again).hold(self.form("Done again"));
        tag("div").class("deed").hold(tight).hold(self.given(sign)).hold(again).into()
    }

    fn given(&self, sign: &SignOff) -> Html {
        let tightened = if sign.tightened.is_empty() { String::new() } else { format!(", {}", sign.tightened) };
        let note = if sign.note.is_empty() { String::new() } else { format!(" “{}”", sign.note) };
        let by = format!(" {}, {}", self.work.name_of(sign.who), self.work.seat.clock.when(sign.at));
        let told = tag("p").class("given").hold(tag("strong").say(&format!("Done{tightened}"))).say(&note);
        Html::of([told.hold(tag("span").class("small").say(&by)).into(), self.before(sign)])
    }

    /// Signatures that a newer one stands in the place of.
    fn before(&self, newest: &SignOff) -> Html {
        let own = |one: &&SignOff| one.step == self.step.id && one.joint == self.joint && one.id != newest.id;
        let line = |one: &SignOff| {
            let tightened = if one.tightened.is_empty() { "done" } else { &one.tightened };
            format!("{tightened} ({}, {})", self.work.name_of(one.who), self.work.seat.clock.when(one.at))
        };
        let told: Vec<String> = self.work.signs.iter().filter(own).map(line).collect();
        if told.is_empty() {
            return Html::default();
        }
        tag("p").class("small").say(&format!("Before that: {}.", told.join("; "))).into()
    }

    fn is_typed(&self) -> bool {
        self.typed.step == self.step.id && self.typed.joint == self.joint
    }

    fn form(&self, word: &str) -> Html {
        let mine = self.is_typed();
        let text = |name: &str, value: &str| {
            let value = if mine { value } else { "" };
            input("text", name).with("value", value).with("autocomplete", "off")
        };
        let labelled =
            |label: &str, box_| Html::from(tag("label").class("field").hold(tag("span").say(label)).hold(box_));
        let seen = self.work.signs.iter().filter(|one| one.step == self.step.id && one.joint == self.joint).count();
        let tight = match self.joint {
            "" if self.step.figure.is_none() => Html::default(),
            "" => labelled("Set to, or measured", text("tightened", &self.typed.tightened)),
            _ => labelled(
                "Tightened to",
                text("tightened", &self.typed.tightened)
                    .with("placeholder", self.work.torque_hint)
                    .flag("autofocus", mine),
            ),
        };
        let wrong = self.typed.wrong.iter().filter(|_| mine);
        let wrong = wrong.map(|one| tag("p").class("wrong").with("role", "alert").say(one).into());
        let form = tag("form").with("method", "post").with("action", &format!("/jobs/{}/sign", self.work.job.number));
        let form = form.with("data-send", "stay").with("id", &format!("sign-{}-{}", self.step.id, self.joint));
        let form = form.class("answer").all([
            hidden("step", &self.step.id),
            hidden("joint", self.joint),
            hidden("seen", &seen.to_string()),
            hidden("place", &self.place.to_string()),
            tight,
            labelled("Note", text("note", &self.typed.note).flag("autofocus", mine && self.joint.is_empty())),
            tag("button").with("aria-label", &format!("{word}: {}", self.named())).say(word).into(),
            Html::of(wrong),
        ]);
        form.into()
    }

    fn named(&self) -> String {
        if self.joint.is_empty() { self.step.name.clone() } else { format!("{}, {}", self.step.name, self.joint) }
    }
}

fn tighten(joint: &Screwed) -> Html {
    let told = format!("{}: {}", sentence(&joint.name), joint.tighten_to);
    let assumed = if joint.assumed { format!("; {ASSUMED}") } else { String::new() };
    let screws = format!("{}, into {}{assumed}", joint.screws, joint.into);
    let told = tag("p").hold(tag("strong").say(&told)).hold(tag("span").class("small").say(&format!(" {screws}")));
    told.into()
}
