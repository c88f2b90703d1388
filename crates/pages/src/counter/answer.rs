//! The answer to five facts: holds or not in a word, what fails first, what to measure, which pinion, how tight.

use crate::job::margin_table::{Column, Shown};
use crate::page::html::{Html, tag};
use crate::page::trouble::Trouble;
use crate::page::words::{minutes, sentence, speed};
use toothsayer_fault_book::FaultBook;
use toothsayer_job::{Job, Setting, State};
use toothsayer_quantity::System;
use toothsayer_report::torque_window;
use toothsayer_report::words::{margin_words, worst_of_each};
use toothsayer_verdict::{
    FIRST_DRAWS, Holds, Limit, Loaded, Margin, Memo, Narrow, Ranges, Staged, StateMargins, Tried, USUAL_SEED, Wanted,
    Windows, state_margins, windows,
};

/// Draws at most: at the counter somebody waits.
const MOST_DRAWS: u32 = 256;
/// Parts that are told.
const SHOWN_PARTS: usize = 7;
/// Margins closer than this share are the same to whoever chooses a pinion.
const TOLD_APART: f64 = 0.005;
/// Teeth fewer and more that are told of the pinion (common practice, no source).
const OTHER_PINIONS: [i32; 5] = [-2, -1, 0, 1, 2];

/// What is asked.
pub(crate) struct Asked<'a> {
    /// The facts as a job file.
    pub text: &'a str,
    /// The fault book.
    pub book: &'a FaultBook,
    /// Units that people see.
    pub system: System,
}

impl Asked<'_> {
    /// The truck in good order, with the windows of its joints.
    fn truck(&self, memo: &Memo) -> Result<(Job, Staged, Windows), Trouble> {
        let job = Job::parse(self.text, self.book)?;
        let stage = Staged { state: State::Built, sheet: job.built.clone(), run_in: false };
        let windows = windows(&Loaded::new(&stage.sheet, stage.run_in, memo)?)?;
        Ok((job, stage, windows))
    }
}

/// Whether it holds, with the margins, as HTML.
pub(crate) fn answer(asked: &Asked<'_>, memo: &Memo) -> Result<String, Trouble> {
    let (job, stage, windows) = asked.truck(memo)?;
    let watch = |_: u32, _: u32| true;
    let ranges =
        Ranges { first: FIRST_DRAWS, most: MOST_DRAWS, seed: USUAL_SEED, narrow: Narrow::WhereUnsure, watch: &watch };
    let stages = [stage];
    let margins = state_margins(&job, &stages, &windows, Some(&ranges), memo)?;
    let [built] = &margins[..] else { return Err(Trouble::Stopped) };
    let column = [Column { head: "margin", margins: built }];
    let table = Shown { name: "Margins", columns: &column, by: 0, most: SHOWN_PARTS, steps: false };
    let assumed = format!(
        "{} values are assumed, each with its range. A margin is what a part bears over what is asked of it: below 1 it fails.",
        job.assumptions().len()
    );
    let told = [first(built), table.html(), tag("p").class("small").say(&assumed).into()];
    Ok(Html::of(told).into_string())
}

/// Which pinion, and how tight, as HTML.
pub(crate) fn further(asked: &Asked<'_>, memo: &Memo) -> Result<String, Trouble> {
    let (job, stage, windows) = asked.truck(memo)?;
    Ok(Html::of([pinions(&job, &stage, asked.system, memo), tight(&job, &windows, asked.system)]).into_string())
}

/// The answer in a word, what is tightest, and what would settle it.
fn first(built: &StateMargins) -> Html {
    let (word, class, told) = match built.holds {
        Holds::Yes => ("It holds", "good", "Every part bears what is asked of it, and surely enough."),
        Holds::Unsure => ("Not sure", "doubt", "It holds at usual values; within what is not known yet it may fail."),
        Holds::No => ("It does not hold", "bad", "At usual values a part bears less than is asked of it."),
    };
    let least = built.least().map(|margin| {
        let what = if margin.fails() { "Fails first" } else { "Tightest" };
        format!("{what}: {}, {} ({}).", margin.part.replace('-', " "), margin_words(margin), margin.limit.row().plain)
    });
    let settle = built.settle().and_then(toothsayer_inputs::find).map(|input| {
        format!("What would firm it up most: {}. {}, {}.", input.help, sentence(input.measure), minutes(input.minutes))
    });
    let lines = [Some(told.to_owned()), least, settle].into_iter().flatten();
    let lines = lines.map(|line| tag("p").say(&line).into());
    tag("div").class(&format!("notice {class} verdict-word")).hold(tag("h2").class("plain").say(word)).all(lines).into()
}

/// Other pinions: whether it holds with them, what they move most, and how fast it is then.
fn pinions(job: &Job, stage: &Staged, system: System, memo: &Memo) -> Html {
    let now = job.built.fields.number("gears.pinion.teeth").unwrap_or(0.0) as i32;
    let all: Vec<(i32, Tried)> =
        OTHER_PINIONS.iter().filter_map(|more| Some((now + more, tried(job, stage, now + more, memo)?))).collect();
    let moved = moved(&all);
    let row = |(teeth, tried): &(i32, Tried)| {
        let (word, class) = crate::job::hold::holds_word(tried.margins.holds);
        let least = worst_of_each(&tried.margins.margins).into_iter().filter(|margin| moved.contains(&of(margin)));
        let least = least
            .filter(|margin| margin.counts() && margin.margin.is_some())
            .min_by(|a, b| a.margin.partial_cmp(&b.margin).unwrap_or(std::cmp::Ordering::Equal));
        let least = least.map_or(String::new(), |margin| {
            format!("{}, {}: {}", margin.part.replace('-', " "), margin.limit.row().plain, margin_words(margin))
        });
        let name = if *teeth == now { format!("{teeth} teeth, as asked") } else { format!("{teeth} teeth") };
        let cells = [
            Html::from(tag("td").hold(tag("strong").say(&name))),
            tag("td").with("data-head", "it").hold(tag("strong").class(class).say(word)).into(),
            tag("td").with("data-head", LEAST).say(&least).into(),
            tag("td").with("data-head", "top speed").say(&speed(tried.top_speed, system)).into(),
        ];
        tag("tr").all(cells).into()
    };
    let rows: Vec<Html> = all.iter().map(row).collect();
    let table = plain_table("Other pinions", &["pinion", "it", LEAST, "top speed"], rows);
    let note = "At usual values, the mesh set to the same backlash. Each must reach within the mount's slots.";
    Html::of([tag("h2").say("Which pinion").into(), table, tag("p").class("small").say(note).into()])
}

/// Above the column of what a pinion moves.
const LEAST: &str = "tightest of what it moves";

/// A part with its limit.
fn of(margin: &Margin) -> (String, Limit) {
    (margin.part.clone(), margin.limit)
}

/// The parts and limits whose margin is not the same with every pinion.
fn moved(all: &[(i32, Tried)]) -> Vec<(String, Limit)> {
    let worst = |tried: &Tried| -> Vec<((String, Limit), Option<f64>)> {
        worst_of_each(&tried.margins.margins).into_iter().map(|margin| (of(margin), margin.margin)).collect()
    };
    let Some((_, first)) = all.first() else { return Vec::new() };
    let others: Vec<_> = all.iter().skip(1).map(|(_, tried)| worst(tried)).collect();
    let differs = |(key, value): &((String, Limit), Option<f64>)| {
        others.iter().any(|other| other.iter().any(|(own, now)| own == key && differ(*value, *now)))
    };
    worst(first).into_iter().filter(differs).map(|(key, _)| key).collect()
}

/// Whether two margins are told apart.
fn differ(one: Option<f64>, other: Option<f64>) -> bool {
    match (one, other) {
        (Some(one), Some(other)) => (one - other).abs() > TOLD_APART * one.abs().max(other.abs()),
        (one, other) => one.is_some() != other.is_some(),
    }
}

/// The truck with another pinion; none where it cannot be built.
fn tried(job: &Job, stage: &Staged, teeth: i32, memo: &Memo) -> Option<Tried> {
    let setting = Setting::parse(&format!("gears.pinion.teeth={teeth}"), &stage.sheet).ok()?;
    let wanted = Wanted {
        before: &stage.sheet,
        state: stage.state,
        run_in: stage.run_in,
        settings: std::slice::from_ref(&setting),
        horizon_runs: job.shop.horizon_runs,
    };
    wanted.at_points(memo).ok()
}

/// How tight each joint is to be, and no tighter.
fn tight(job: &Job, windows: &Windows, system: System) -> Html {
    let rows = job.built.joints.iter().filter_map(|joint| {
        let window = windows.get(&joint.name)?;
        let how = match window.is_open() {
            true => torque_window(window.low, window.high, system),
            false => "no torque does: what it needs is more than its thread bears".to_owned(),
        };
        let screws = joint.fields.number("joints.screws").map_or(String::new(), |count| format!("{count:.0} x "));
        let word = |key: &str| joint.fields.word(key).unwrap_or("").to_owned();
        let what = format!("{screws}{} {} in {}", word("joints.size"), word("joints.class"), word("joints.thread_in"));
        let cells = [
            Html::from(tag("td").hold(tag("strong").say(&sentence(&joint.name)))),
            tag("td").with("data-head", "screws, as assumed").say(&what).into(),
            tag("td").with("data-head", "how tight").hold(tag("strong").say(&how)).into(),
        ];
        Some(Html::from(tag("tr").all(cells)))
    });
    let rows: Vec<Html> = rows.collect();
    let note = "For the screws that its class usually has; the maker's printed value comes first. Thread locker on metal \
                threads only.";
    let table = plain_table("How tight", &["joint", "screws, as assumed", "how tight"], rows);
    Html::of([tag("h2").say("How tight, and no tighter").into(), table, tag("p").class("small").say(note).into()])
}

fn plain_table(name: &str, heads: &[&str], rows: Vec<Html>) -> Html {
    let heads = heads.iter().map(|text| tag("th").with("scope", "col").say(text).into());
    let table = tag("table").hold(tag("thead").hold(tag("tr").all(heads))).hold(tag("tbody").all(rows));
    let group = tag("div").class("scrolls").with("role", "group").with("aria-label", name);
    group.with("tabindex", "0").hold(table).into()
}
