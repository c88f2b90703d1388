//! Figures in words, one wording for the screen and for paper: states, margins, chances, minutes, values with units.

pub use toothsayer_figures::words::{
    amount, chance, margin_role, margin_words, name_words, names, number, repairs, sentence, step_words, value,
    worst_of_each,
};

use std::fmt::Display;
use toothsayer_fault_book::FaultBook;
use toothsayer_job::{Fields, Finding, Setting, Sheet, State};
use toothsayer_quantity::{Kind, System};
use toothsayer_verdict::{FailsAt, Holds, Shortfall, Stopping, WorkFigure};

/// A state in words.
pub fn state_words(state: State) -> &'static str {
    match state {
        State::Stock => "as sold",
        State::Built => "as built and in good order",
        State::Found => "as found",
        State::Proposed => "with the recommended repair",
        State::After => "as measured after the work",
    }
}

/// Whether a state holds, in words.
pub fn holds_words(holds: Holds) -> &'static str {
    match holds {
        Holds::Yes => "holds",
        Holds::Unsure => "holds on the usual values, but not surely",
        Holds::No => "does not hold",
    }
}

/// Minutes of work.
pub fn minutes(minutes: f64) -> String {
    let whole = minutes.round() as i64;
    if whole < 60 { format!("{whole} min") } else { format!("{} h {:02} min", whole / 60, whole % 60) }
}

/// A way to a stop, to a metre or a foot where it is long: nobody drives finer.
pub fn way(stop: &Stopping, system: System) -> String {
    let metres = stop.distance.map(|distance| distance.to_m());
    metres.map_or("more than 1 km".into(), |metres| match system {
        System::Metric if metres < 10.0 => format!("{metres:.1} m"),
        System::Metric => format!("{metres:.0} m"),
        System::Us => format!("{:.0} ft", metres / 0.3048),
    })
}

/// "a, b and c".
pub fn list(items: &[impl Display]) -> String {
    match items {
        [] => String::new(),
        [one] => one.to_string(),
        [init @ .., last] => {
            let init: Vec<String> = init.iter().map(ToString::to_string).collect();
            format!("{} and {last}", init.join(", "))
        }
    }
}

/// What a weaker brake does to the way to a stop.
pub fn brake_words([before, after]: &[Stopping; 2], system: System) -> String {
    let from = value(Kind::Speed, before.from.to_m_per_s(), system);
    let [was, grows] = [before, after].map(|stop| way(stop, system));
    let told = match before.distance == after.distance {
        true => format!("stays {was}, for the tyres' grip decides it"),
        false => format!("is {was} before and {grows} after"),
    };
    format!(
        "it lowers the brake: the way to a stop from {from} {told}, on the level and without the driver's reaction; venue \
         and bystanders decide."
    )
}

/// A figure that work is done to.
pub fn figure_words(figure: &WorkFigure, system: System) -> String {
    match figure {
        WorkFigure::MeshPlay { low, high } => {
            let [low, high] = [low, high].map(|play| value(Kind::Length, play.to_m(), system));
            format!("play at the pitch circle {low} to {high} (common practice, no source)")
        }
        WorkFigure::SetScrew { size, torque } => {
            format!("set screw {size}: {} with a proper driver", value(Kind::Torque, torque.to_n_m(), system))
        }
    }
}

/// What was measured for a finding, with its unit.
pub fn measured(finding: &Finding, book: &FaultBook, system: System) -> Option<String> {
    let kind = book.measured_kind(&finding.check).unwrap_or(Kind::Number);
    finding.value.map(|si| format!("measured {}", value(kind, si, system)))
}

/// " in launch", where the case is one.
pub fn in_case(case: &str) -> String {
    if case == "any" { String::new() } else { format!(" in {}", case.replace('-', " ")) }
}

/// "Mesh, engagement (teeth ride over each other) in launch: holds as sold ..., and falls short in the condition found (0.98)."
pub fn shortfall_words(one: &Shortfall) -> String {
    let row = one.limit.row();
    let held = held(one);
    let holds = if held.is_empty() { String::new() } else { format!("holds {}, and ", list(&held)) };
    let (step, margin) = match one.fails_at {
        FailsAt::Stock => ("already as sold", one.stock.or(one.came)),
        FailsAt::Parts => ("with the parts and settings that were fitted", one.built.or(one.came)),
        FailsAt::Condition => ("in the condition found", one.came),
        FailsAt::Driving => ("with the driving that the file tells", one.came),
    };
    let margin = margin.map_or(String::new(), |margin| format!(" ({})", number(margin)));
    let (part, case) = (sentence(&one.part.replace('-', " ")), in_case(one.case));
    format!("{part}, {} ({}){case}: {holds}falls short {step}{margin}.", row.name, row.plain)
}

/// The steps before, at which it held.
fn held(one: &Shortfall) -> Vec<String> {
    let told = |words: &str, margin: Option<f64>| margin.map(|margin| format!("{words} ({})", number(margin)));
    match one.fails_at {
        FailsAt::Stock => Vec::new(),
        FailsAt::Parts => told("as sold", one.stock).into_iter().collect(),
        FailsAt::Condition => [told("as sold", one.stock), told("as built", one.built)].into_iter().flatten().collect(),
        FailsAt::Driving => vec!["with a driver who is usual for its class".to_owned()],
    }
}

/// The value under a key as people write it.
pub fn field(fields: &Fields, key: &str, system: System) -> String {
    let kind = toothsayer_inputs::find(key).map(toothsayer_inputs::Input::kind);
    match (fields.number(key), kind, fields.word(key)) {
        (Some(si), Some(kind), _) => value(kind, si, system),
        (_, _, Some(word)) => word.to_owned(),
        _ => "not given".into(),
    }
}

/// The fields that a change belongs to.
pub fn fields_of<'a>(sheet: &'a Sheet, setting: &Setting) -> Option<&'a Fields> {
    match &setting.joint {
        Some(name) => sheet.joints.iter().find(|joint| joint.name == *name).map(|joint| &joint.fields),
        None => Some(&sheet.fields),
    }
}

/// "mass 410 g, as sold 300 g", for each value of a change that the file gives.
pub fn moved(stock: &Sheet, built: &Sheet, setting: &Setting, system: System) -> Vec<String> {
    let (Some(before), Some(after)) = (fields_of(stock, setting), fields_of(built, setting)) else {
        return Vec::new();
    };
    let over = fields_of(&setting.over, setting).unwrap_or(after);
    let stated = |key: &&str| {
        let assumed = over.numbers.get(key).map(|entry| entry.origin.is_assumed());
        !assumed.or(over.words.get(key).map(|word| word.origin.is_assumed())).unwrap_or(true)
    };
    let told = |key: &'static str| {
        let name = key.split_once('.').map_or(key, |(_, name)| name).replace(['.', '_'], " ");
        format!("{name} {}, as sold {}", field(after, key, system), field(before, key, system))
    };
    over.keys().filter(stated).map(told).collect()
}
