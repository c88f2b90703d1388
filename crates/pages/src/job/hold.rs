//! Will it hold, of a job: the margins of every state with the step at which each part fails, the hardest blow over time,
//! and the states themselves to try changes on.

use crate::job::drawing::in_both_widths;
use crate::job::margin_table::{Column, Shown};
use crate::page::html::{Html, tag};
use crate::page::shell::explained;
use crate::page::trouble::Trouble;
use crate::page::words::sentence;
use toothsayer_fault_book::FaultBook;
use toothsayer_figures::worst_tooth_force;
use toothsayer_job::{Job, State};
use toothsayer_quantity::System;
use toothsayer_report::words::state_words;
use toothsayer_verdict::{Holds, Memo, Staged, StateMargins, Verdict};

/// Parts that are told: the tightest of the truck as it came.
const SHOWN_PARTS: usize = 9;

/// A job as it holds in each of its states.
pub(crate) struct Hold {
    /// What is told of them.
    pub told: Html,
    /// The states, to try changes on.
    pub stages: Vec<Staged>,
    /// The margins as they are, of each stage.
    pub margins: Vec<StateMargins>,
    /// Runs that endurance is asked for.
    pub horizon_runs: f64,
}

impl Hold {
    /// Weighs a job at point values.
    pub(crate) fn new(text: &str, book: &FaultBook, system: System, memo: &Memo) -> Result<Hold, Trouble> {
        let job = Job::parse(text, book)?;
        let verdict = Verdict::new(&job, book, memo)?;
        let margins = verdict.margins(None, memo)?;
        let told = Html::of([states(&margins), table(&margins), force(&verdict, &margins, system, memo)]);
        let (stages, horizon_runs) = (verdict.stages, job.shop.horizon_runs);
        Ok(Hold { told, stages, margins, horizon_runs })
    }

    /// A state by its word, or the one that changes are usually tried on: the truck as the repair leaves it.
    pub(crate) fn stage(&self, word: &str) -> Option<(&Staged, &StateMargins)> {
        let wanted = if word.is_empty() { State::Proposed.name() } else { word };
        let place = self.stages.iter().position(|stage| stage.state.name() == wanted)?;
        Some((self.stages.get(place)?, self.margins.get(place)?))
    }
}

/// Whether a state holds at point values, in a word, with its class.
pub(crate) fn holds_word(holds: Holds) -> (&'static str, &'static str) {
    match holds {
        Holds::Yes => ("holds", "good"),
        Holds::Unsure => ("holds at usual values", "doubt"),
        Holds::No => ("does not hold", "bad"),
    }
}

fn states(margins: &[StateMargins]) -> Html {
    let cards = margins.iter().map(|state| {
        let (word, class) = holds_word(state.holds);
        let least = state.least().map_or(String::new(), |margin| {
            format!("tightest: {}, {}", margin.part.replace('-', " "), toothsayer_report::words::margin_words(margin))
        });
        let told = tag("dd").say(word).hold(tag("span").class("under-cell").say(&least));
        tag("div").class(class).hold(tag("dt").say(&sentence(state_words(state.state)))).hold(told).into()
    });
    tag("dl").class("look states").all(cards).into()
}

fn table(margins: &[StateMargins]) -> Html {
    let columns: Vec<Column<'_>> =
        margins.iter().map(|state| Column { head: head(state.state), margins: state }).collect();
    let came = |state: State| margins.iter().position(|margins| margins.state == state);
    let by = came(State::Found).or_else(|| came(State::Built)).unwrap_or(0);
    let shown = Shown { name: "Margins by state", columns: &columns, by, most: SHOWN_PARTS, steps: true };
    let note = "A margin is what a part bears over what is asked of it: below 1 it fails. “Fails” tells the first step, from \
                the maker's truck to this driver, at which it does. ";
    Html::of([shown.html(), tag("p").class("small").say(note).hold(explained("margin")).into()])
}

/// A state above its column.
fn head(state: State) -> &'static str {
    match state {
        State::Stock => "as sold",
        State::Built => "as built",
        State::Found => "as found",
        State::Proposed => "repaired",
        State::After => "after the work",
    }
}

/// The hardest blow of the truck as it came.
fn force(verdict: &Verdict<'_>, margins: &[StateMargins], system: System, memo: &Memo) -> Html {
    let drawn = || -> Result<Html, Trouble> {
        let stage = verdict.stage(State::Found)?;
        let loaded = verdict.loaded(stage.state, memo)?;
        let truck = verdict.job.built.fields.word("truck.name").unwrap_or("Truck");
        let own = margins.iter().find(|margins| margins.state == stage.state).ok_or(Trouble::NoPage)?;
        in_both_widths(system, |frame| worst_tooth_force(truck, &loaded, own, frame))
    };
    let shown = drawn().unwrap_or_else(|why| {
        tag("p").class("notice doubt").say(&format!("The force over time cannot be drawn: {why}.")).into()
    });
    Html::of([tag("h3").say("The blow that leaves least").into(), shown])
}
