//! Changes tried on a truck: numbers from a form or a slider, and what the truck then bears.

use crate::app::App;
use crate::door::guard::Seat;
use crate::job::hold::{Hold, holds_word};
use crate::job::margin_table::{Column, Shown};
use crate::job::verdict::hold_of;
use crate::page::html::{Html, tag};
use crate::page::shell::{choice, field, input};
use crate::page::trouble::Trouble;
use crate::page::typed::{decimal_comma, refusal};
use crate::page::words::{sentence, speed};
use axum::extract::{Extension, Path, Query, State};
use axum::http::StatusCode;
use axum::http::header::CONTENT_TYPE;
use axum::response::{IntoResponse, Response};
use serde::Deserialize;
use std::sync::Arc;
use toothsayer_job::{Setting, SettingError, Sheet};
use toothsayer_quantity::{System, Unit};
use toothsayer_records::job_by_number;
use toothsayer_report::words::{margin_words, state_words, value, way};
use toothsayer_verdict::{Memo, Tried, Wanted};

/// Parts that are told of a tried truck: always as many, so that nothing moves on the page.
const SHOWN_PARTS: usize = 6;

/// One thing that can be tried.
struct Knob {
    /// Its name in the form.
    name: &'static str,
    /// Registry key.
    key: &'static str,
    /// Above its field.
    label: &'static str,
    /// Units, metric and US; empty for plain numbers.
    units: [&'static str; 2],
    /// Ends of the slider: fixed, as shares of what the truck has, or as steps from it.
    ends: Ends,
    /// The slider's step, in the unit.
    step: f64,
}

/// Where a slider ends.
enum Ends {
    /// In its unit.
    Fixed([f64; 2]),
    /// Shares of the present value.
    Shares([f64; 2]),
    /// More and fewer than the present value, and the fewest there can be.
    Around([f64; 2], f64),
}

/// What can be tried: each a setting of the controller, a part that is fitted, or how it is driven. Ends are what a bench
/// meets (common practice, no source); more cells than the truck has are offered only where their maker's limit is known.
static KNOBS: [Knob; 7] = [
    Knob {
        name: "brake",
        key: "controller.brake_strength",
        label: "Brake strength",
        units: ["%", "%"],
        ends: Ends::Fixed([10.0, 100.0]),
        step: 5.0,
    },
    Knob {
        name: "throttle",
        key: "controller.throttle_strength",
        label: "Throttle strength",
        units: ["%", "%"],
        ends: Ends::Fixed([20.0, 100.0]),
        step: 5.0,
    },
    Knob {
        name: "wheel",
        key: "wheels.mass",
        label: "Mass of one wheel",
        units: ["g", "oz"],
        ends: Ends::Shares([0.5, 2.5]),
        step: 1.0,
    },
    Knob {
        name: "tyre",
        key: "wheels.diameter",
        label: "Diameter of a wheel",
        units: ["mm", "in"],
        ends: Ends::Shares([0.7, 1.5]),
        step: 1.0,
    },
    Knob {
        name: "pinion",
        key: "gears.pinion.teeth",
        label: "Teeth of the pinion",
        units: ["", ""],
        ends: Ends::Around([6.0, 6.0], 9.0),
        step: 1.0,
    },
    Knob {
        name: "cells",
        key: "battery.cells",
        label: "Cells in series",
        units: ["", ""],
        ends: Ends::Around([3.0, 0.0], 1.0),
        step: 1.0,
    },
    Knob {
        name: "drop",
        key: "driver.drop_height",
        label: "Height of a landing",
        units: ["cm", "in"],
        ends: Ends::Shares([0.1, 3.0]),
        step: 1.0,
    },
];

/// The form, as it was typed; empty is what the truck has.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Wish {
    /// On which state.
    of: String,
    brake: String,
    throttle: String,
    wheel: String,
    tyre: String,
    pinion: String,
    cells: String,
    drop: String,
}

impl Wish {
    fn typed(&self, name: &str) -> &str {
        let text = match name {
            "brake" => &self.brake,
            "throttle" => &self.throttle,
            "wheel" => &self.wheel,
            "tyre" => &self.tyre,
            "pinion" => &self.pinion,
            "cells" => &self.cells,
            _ => &self.drop,
        };
        text.trim()
    }

    /// The changes that are wanted, or what is wrong with them.
    fn settings(&self, truck: &Sheet, system: System) -> Result<Vec<Setting>, Vec<String>> {
        let (mut settings, mut wrong) = (Vec::new(), Vec::new());
        for knob in KNOBS.iter().filter(|knob| !self.typed(knob.name).is_empty()) {
            let text = decimal_comma(self.typed(knob.name));
            if knob.now(truck, system).is_some_and(|now| text.parse() == Ok(now)) {
                continue;
            }
            match Setting::parse(&format!("{}={text} {}", knob.key, knob.unit(system)), truck) {
                Ok(_) if text.parse::<f64>().is_err() => wrong.push(format!("{}: “{text}” is no number.", knob.label)),
                Ok(setting) => settings.push(setting),
                Err(error) => wrong.push(knob.refusal(&error)),
            }
        }
        if wrong.is_empty() { Ok(settings) } else { Err(wrong) }
    }
}

impl Knob {
    /// What is wrong with what was typed, by the knob's label instead of its key.
    fn refusal(&self, problem: &SettingError) -> String {
        let message = problem.message.replace(&format!("`{}`", self.key), self.label);
        let told = if message.starts_with(self.label) { message } else { format!("{}: {message}", self.label) };
        refusal(&told, &problem.hint)
    }

    fn unit(&self, system: System) -> &'static str {
        self.units[usize::from(system == System::Us)]
    }

    /// What the truck has, in the knob's unit, to its step's fineness.
    fn now(&self, truck: &Sheet, system: System) -> Option<f64> {
        let si = truck.fields.number(self.key)?;
        let in_unit = Unit::find(self.unit(system)).map_or(si, |unit| unit.from_si(si));
        Some((10.0 * in_unit).round() / 10.0)
    }

    /// The slider's ends; `most` is the maker's limit where one is known.
    fn ends(&self, now: f64, most: Option<f64>) -> [f64; 2] {
        let [low, high] = match self.ends {
            Ends::Fixed(ends) => ends,
            Ends::Shares([low, high]) => [(low * now).floor().max(self.step), (high * now).ceil()],
            Ends::Around([fewer, more], fewest) => [(now - fewer).max(fewest), now + more],
        };
        let high = most.map_or(high, |most| most.max(high));
        [low.min(now), high.max(now)]
    }
}

/// The form with what is tried, and below it what the truck then bears.
pub(crate) fn section(number: i64, hold: &Hold, wish: &Wish, system: System, told: Html) -> Html {
    let Some((stage, _)) = hold.stage(&wish.of) else { return Html::default() };
    let states: Vec<(String, String)> =
        hold.stages.iter().map(|stage| (stage.state.name().to_owned(), sentence(state_words(stage.state)))).collect();
    let most_cells = stage.sheet.fields.number("controller.max_cells");
    let knobs = KNOBS.iter().filter_map(|knob| {
        let now = knob.now(&stage.sheet, system)?;
        let most = most_cells.filter(|_| knob.name == "cells");
        Some(knob_field(knob, now, wish.typed(knob.name), knob.ends(now, most), system))
    });
    let form = tag("form")
        .with("action", &format!("/jobs/{number}/verdict#try"))
        .with("data-hold", &format!("/jobs/{number}/hold"))
        .hold(field("Tried on the truck", choice("of", &states, stage.state.name()), ""))
        .hold(tag("div").class("knobs").all(knobs))
        .hold(tag("button").class("plain").say("Try it"));
    let head = Html::of([
        tag("h2").say("What if").into(),
        tag("p").say("Change a number and see what the truck then bears. Nothing of it is kept.").into(),
    ]);
    let held = tag("div").with("id", "held").with("aria-live", "polite").hold(told);
    tag("section").with("id", "try").hold(head).hold(form).hold(held).into()
}

fn knob_field(knob: &Knob, now: f64, typed: &str, [low, high]: [f64; 2], system: System) -> Html {
    let unit = knob.unit(system);
    let label = if unit.is_empty() { knob.label.to_owned() } else { format!("{}, {unit}", knob.label) };
    let shown = if typed.is_empty() { now.to_string() } else { typed.to_owned() };
    let number = input("number", knob.name)
        .with("value", &shown)
        .with("min", &low.to_string())
        .with("max", &high.to_string())
        .with("step", "any")
        .with("data-step", &knob.step.to_string())
        .with("inputmode", "decimal");
    let hint = format!("It has {now}{}{unit}.", if unit.is_empty() { "" } else { " " });
    tag("div").class("knob").hold(field(&label, number, &hint)).hold(tag("span").class("slide")).into()
}

/// What a tried truck bears, as a part of the page: what a slider asks for.
pub(crate) async fn show(
    State(app): State<App>,
    Extension(_): Extension<Seat>,
    Path(number): Path<i64>,
    Query(wish): Query<Wish>,
) -> Result<Response, Trouble> {
    let (status, told) = tried(&app, number, &wish).await?;
    Ok((status, [(CONTENT_TYPE, "text/html; charset=utf-8")], told.into_string()).into_response())
}

/// What a tried truck bears, or what is wrong with what was typed.
pub(crate) async fn tried(app: &App, number: i64, wish: &Wish) -> Result<(StatusCode, Html), Trouble> {
    let job = job_by_number(app.store(), number).await?;
    let system = app.system().await?;
    let (key, hold) = hold_of(app, &job).await?;
    let told = |wrong: &[String]| {
        let lines = wrong.iter().map(|one| tag("p").say(one).into());
        (StatusCode::UNPROCESSABLE_ENTITY, tag("div").class("notice bad").all(lines).into())
    };
    let Some((stage, _)) = hold.stage(&wish.of) else { return Ok(told(&["The job has no such state.".to_owned()])) };
    let settings = match wish.settings(&stage.sheet, system) {
        Ok(settings) => settings,
        Err(wrong) => return Ok(told(&wrong)),
    };
    let (state, wanted) = (stage.state.name().to_owned(), hold.clone());
    let key = format!("{state}\n{settings:?}\n{key}");
    let answer = app.desk.computed(&key, move |memo| bears(&wanted, &state, &settings, system, memo)).await;
    match answer {
        Ok(html) => Ok((StatusCode::OK, Html::written(html.as_str().to_owned()))),
        Err(Trouble::Verdict(error)) => Ok(told(&[format!("That cannot be computed: {error}.")])),
        Err(other) => Err(other),
    }
}

fn bears(hold: &Arc<Hold>, state: &str, settings: &[Setting], system: System, memo: &Memo) -> Result<String, Trouble> {
    let (stage, before) = hold.stage(state).ok_or(Trouble::NoPage)?;
    let with = |settings| Wanted {
        before: &stage.sheet,
        state: stage.state,
        run_in: stage.run_in,
        settings,
        horizon_runs: hold.horizon_runs,
    };
    let (now, then) = (with(&[]).at_points(memo)?, with(settings).at_points(memo)?);
    let columns = [Column { head: "tried", margins: &then.margins }, Column { head: "now", margins: before }];
    let table = Shown { name: "Margins of what is tried", columns: &columns, by: 0, most: SHOWN_PARTS, steps: false };
    Ok(Html::of([answer(&then, settings.is_empty()), passed(&then, system), drives(&now, &then, system), table.html()])
        .into_string())
}

/// Holds or not, first.
fn answer(then: &Tried, unchanged: bool) -> Html {
    let (word, class) = holds_word(then.margins.holds);
    let least = then.margins.least().map_or(String::new(), |margin| {
        format!(
            " Tightest: {}, {} ({}).",
            margin.part.replace('-', " "),
            margin_words(margin),
            margin.limit.row().plain
        )
    });
    let with = if unchanged { "As it is, it " } else { "With that it " };
    let told = tag("p").say(with).hold(tag("strong").say(&format!("{word}."))).say(&least);
    tag("div").class(&format!("notice {class}")).hold(told).into()
}

/// What makers do not allow is not to be fitted.
fn passed(then: &Tried, system: System) -> Html {
    let passed = then.limits.iter().filter(|limit| limit.passed() == Some(true));
    let told = passed.map(|limit| {
        let [here, most] = [limit.value, limit.limit.unwrap_or(0.0)].map(|si| value(limit.kind, si, system));
        tag("p")
            .class("bad")
            .say(&format!("Not to be fitted: {} would be {here}, and the maker allows {most}.", limit.what))
            .into()
    });
    Html::of(told)
}

fn drives(now: &Tried, then: &Tried, system: System) -> Html {
    let [before, after] = [now, then].map(|tried| way(&tried.stop, system));
    let longer = match (now.stop.distance, then.stop.distance) {
        (Some(now), Some(then)) => then.to_m() > 1.01 * now.to_m(),
        (now, then) => now.is_some() && then.is_none(),
    };
    let caution = if longer { " A longer way to a stop: venue and bystanders decide." } else { "" };
    let top = [now, then].map(|tried| speed(tried.top_speed, system));
    let from = [now, then].map(|tried| speed(tried.stop.from, system));
    let told = format!(
        "Top speed {} (now {}). Way to a stop {after} from {} (now {before} from {}), on the level and without the driver's \
         reaction.{caution}",
        top[1], top[0], from[1], from[0]
    );
    tag("p").class("small").say(&told).into()
}
