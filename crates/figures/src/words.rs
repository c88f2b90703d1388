//! Margins and states in words.

use crate::theme::Role;
use toothsayer_job::State;
use toothsayer_quantity::{Kind, Money, System, digits, show};
use toothsayer_verdict::{Alternative, Limit, Margin, Plan, StateMargins};

/// How a margin stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Standing {
    Fails,
    Tight,
    Holds,
    /// Below 1, and no part of "holds".
    Aside(&'static str),
    NoLoad,
}

impl Standing {
    pub(crate) fn of(margin: &Margin) -> Standing {
        match margin.margin {
            None => Standing::NoLoad,
            Some(value) if value < 1.0 && margin.counts() => Standing::Fails,
            Some(value) if value < 1.0 && margin.limit == Limit::Flank => Standing::Aside("wears"),
            Some(value) if value < 1.0 => Standing::Aside("accident"),
            Some(value) if value < 1.3 => Standing::Tight,
            Some(_) => Standing::Holds,
        }
    }

    pub(crate) fn word(self) -> &'static str {
        match self {
            Standing::Fails => "fails",
            Standing::Tight => "tight",
            Standing::Holds => "holds",
            Standing::Aside(word) => word,
            Standing::NoLoad => "no load",
        }
    }

    pub(crate) fn role(self) -> Role {
        match self {
            Standing::Fails => Role::Bad,
            Standing::Tight | Standing::Aside(_) => Role::Doubt,
            Standing::Holds => Role::Good,
            Standing::NoLoad => Role::Quiet,
        }
    }
}

/// A state in words.
pub(crate) fn state_words(state: State) -> &'static str {
    match state {
        State::Stock => "as sold",
        State::Built => "as built",
        State::Found => "as found",
        State::Proposed => "with the recommended repair",
        State::After => "after the work",
    }
}

/// A margin's number, never 1.00 for what lies below 1.
pub(crate) fn number(value: f64) -> String {
    match value {
        value if value >= 100.0 => "over 100".into(),
        value if (0.995..1.0).contains(&value) => format!("{:.3}", value.min(0.999)),
        value => format!("{value:.2}"),
    }
}

/// "0.86 fails".
pub(crate) fn margin_words(margin: &Margin) -> String {
    let standing = Standing::of(margin);
    margin.margin.map_or(standing.word().to_owned(), |value| format!("{} {}", number(value), standing.word()))
}

/// The least margin of every part and limit, an accident only where nothing else is there.
pub(crate) fn worst_of_each(state: &StateMargins) -> Vec<&Margin> {
    let mut worst: Vec<&Margin> = Vec::new();
    let weight = |margin: &Margin| (margin.case == "wheel-stop", margin.margin.unwrap_or(f64::MAX));
    for margin in &state.margins {
        match worst.iter_mut().find(|known| known.part == margin.part && known.limit == margin.limit) {
            Some(known) if weight(margin) < weight(known) => *known = margin,
            Some(_) => {}
            None => worst.push(margin),
        }
    }
    worst
}

/// A word with its first letter large.
pub(crate) fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}

/// A probability in words.
pub(crate) fn chance(p: f64) -> String {
    match 100.0 * p {
        percent if percent < 0.5 => "under 1 %".into(),
        percent if percent > 99.5 => "over 99 %".into(),
        percent => format!("{percent:.0} %"),
    }
}

/// What is asked or borne, in the unit of its limit: a difference of temperatures has no zero to be counted from.
pub(crate) fn amount(limit: Limit, si: f64, system: System) -> String {
    match (limit.row().unit, system) {
        ("K", System::Metric) => format!("{} K", digits(si)),
        ("K", System::Us) => format!("{} °F", digits(1.8 * si)),
        ("Pa", _) => show(Kind::Pressure, si, system),
        ("m", _) => show(Kind::Length, si, system),
        ("N", _) => show(Kind::Force, si, system),
        ("N*m", _) => show(Kind::Torque, si, system),
        ("s", _) => show(Kind::Time, si, system),
        _ => digits(si),
    }
}

/// An alternative in words.
pub(crate) fn alternative_words(name: &str) -> String {
    name.replace('-', " ")
}

/// The alternatives that differ, each with its place in the plan: what cures the same as the recommended one is that one.
pub(crate) fn told_alternatives(plan: &Plan) -> Vec<(usize, &Alternative)> {
    let recommended = plan.recommended();
    let same = |one: &Alternative| recommended.is_some_and(|other| other.name != one.name && other.cures == one.cures);
    plan.alternatives.iter().enumerate().filter(|(_, one)| !same(one)).collect()
}

/// An amount in major units, for an axis; sums stay in minor ones.
pub(crate) fn major(money: Money) -> f64 {
    let text = money.to_string();
    text.split(' ').next().and_then(|number| number.parse().ok()).unwrap_or(0.0)
}
