//! What would have to change for a truck to hold: the three smallest changes, with what each costs elsewhere.

use crate::page::html::{Html, tag};
use crate::page::trouble::Trouble;
use crate::page::words::{minutes, sentence, speed};
use toothsayer_fault_book::FaultBook;
use toothsayer_job::{Job, State};
use toothsayer_quantity::System;
use toothsayer_report::words::{list, margin_words, state_words, way};
use toothsayer_verdict::{Combination, Explore, Memo, SmallestChanges, Staged, Verdict, Wishes};

/// The least margin that is asked for: that it holds.
const JUST_HOLDS: f64 = 1.0;

/// The changes of a job's truck as it came.
pub(crate) fn of_job(text: &str, book: &FaultBook, system: System, memo: &Memo) -> Result<String, Trouble> {
    let job = Job::parse(text, book)?;
    let verdict = Verdict::new(&job, book, memo)?;
    of_stage(&job, verdict.stage(State::Found)?, book, system, memo)
}

/// The changes of a truck in one state.
pub(crate) fn of_stage(
    job: &Job,
    stage: &Staged,
    book: &FaultBook,
    system: System,
    memo: &Memo,
) -> Result<String, Trouble> {
    let wishes = Wishes { least_margin: JUST_HOLDS, top_speed: None, stop_within: None };
    let explore = Explore { job, book, truck: &stage.sheet, run_in: stage.run_in, wishes };
    let explored = explore.explore(memo, &|_, _| true)?;
    let now = &explored.present;
    let who = sentence(state_words(stage.state));
    let told = match &explored.answer {
        SmallestChanges::Holds => {
            tag("p").say(&format!(
                "{who} it holds at usual values, so no change is sought. What is not measured yet can still let it fail: \
                 measure first what firms the answer up."
            )).into()
        }
        SmallestChanges::Changes(changes) => {
            let lines = changes.iter().map(|one| tag("li").hold(told(one, now, system)).into());
            let head = format!("{who} it does not hold. Any one of these makes it, the smallest first:");
            Html::of([tag("p").say(&head).into(), tag("ol").all(lines).into()])
        }
        SmallestChanges::Nearest(nearest) => {
            let near = nearest.as_ref().filter(|one| !one.words.is_empty());
            let near = near.map_or(Html::default(), |one| {
                tag("div").hold(tag("p").say("What comes nearest:")).hold(told(one, now, system)).into()
            });
            let head = format!(
                "{who} it does not hold, and no gears, cells, wheels or settings alone make it: what is broken, loose or \
                 worn is put right first."
            );
            Html::of([tag("p").say(&head).into(), near])
        }
    };
    Ok(told.into_string())
}

/// A change with what it costs, and what it costs elsewhere.
fn told(one: &Combination, now: &Combination, system: System) -> Html {
    let speeds = [now, one].map(|one| speed(one.top_speed, system));
    let ways = [now, one].map(|one| way(&one.stop, system));
    let mut costs = vec![format!("{} and {} of work", one.price, minutes(one.minutes))];
    let unknown: Vec<String> = one.unlisted.iter().chain(&one.unpriced).cloned().collect();
    if !unknown.is_empty() {
        costs.push(format!("no price listed for {}", list(&unknown)));
    }
    for (what, [was, is]) in [("top speed", &speeds), ("way to a stop", &ways)] {
        if was != is {
            costs.push(format!("{what} {is} instead of {was}"));
        }
    }
    let tight = one.tightest();
    let tight = format!(" Tightest then: {}, {}.", tight.part.replace('-', " "), margin_words(tight));
    let longer = one.stop.distance.is_none_or(|after| now.stop.distance.is_some_and(|was| after > was));
    let caution = match longer {
        true => {
            tag("p").class("small caution").say("Caution: the way to a stop grows; venue and bystanders decide.").into()
        }
        false => Html::default(),
    };
    let words = tag("strong").say(&format!("{}:", sentence(&list(&one.words))));
    Html::of([tag("p").hold(words).say(&format!("{}.{tight}", costs.join("; "))).into(), caution])
}
