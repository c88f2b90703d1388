//! Margins, states, chances and values in words: one wording for the drawings, the papers, the pages and the screen.

use crate::theme::Role;
use toothsayer_job::{Job, State};
use toothsayer_quantity::{Kind, Money, System, digits, show};
use toothsayer_verdict::{Alternative, FailsAt, Limit, Margin, NEW_GEARS_ONLY, RECOMMENDED, SMALLEST_SOUND, Verdict};

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

/// A plain number of three digits; a big one as what it is, and never 1.00 for what lies below 1.
pub fn number(value: f64) -> String {
    match value {
        value if value >= 100.0 => "over 100".into(),
        value if (0.995..1.0).contains(&value) => format!("{:.3}", value.min(0.999)),
        value => format!("{value:.2}"),
    }
}

/// The colour's role of a margin, beside its word.
pub fn margin_role(margin: &Margin) -> Role {
    Standing::of(margin).role()
}

/// At which step a part fails first.
pub fn step_words(step: FailsAt) -> &'static str {
    match step {
        FailsAt::Stock => "already as sold",
        FailsAt::Parts => "with the parts and settings fitted",
        FailsAt::Condition => "in the condition found",
        FailsAt::Driving => "only with this driving",
    }
}

/// "0.86 fails".
pub fn margin_words(margin: &Margin) -> String {
    let standing = Standing::of(margin);
    margin.margin.map_or(standing.word().to_owned(), |value| format!("{} {}", number(value), standing.word()))
}

/// The least counted margin of every part and limit, an accident aside where a usual case is there.
pub fn worst_of_each(margins: &[Margin]) -> Vec<&Margin> {
    let mut worst: Vec<&Margin> = Vec::new();
    let weight = |margin: &Margin| (margin.case == "wheel-stop", margin.margin.unwrap_or(f64::MAX));
    for margin in margins {
        match worst.iter_mut().find(|known| known.part == margin.part && known.limit == margin.limit) {
            Some(known) if weight(margin) < weight(known) => *known = margin,
            Some(_) => {}
            None => worst.push(margin),
        }
    }
    worst
}

/// A word with its first letter large.
pub fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}

/// A probability in words.
pub fn chance(p: f64) -> String {
    match 100.0 * p {
        percent if percent < 0.5 => "under 1 %".into(),
        percent if percent > 99.5 => "over 99 %".into(),
        percent => format!("{percent:.0} %"),
    }
}

/// What a limit's demand and capacity measure.
fn kind_of(limit: Limit) -> Kind {
    match limit.row().unit {
        "Pa" => Kind::Pressure,
        "m" => Kind::Length,
        "N" => Kind::Force,
        "N*m" => Kind::Torque,
        "s" => Kind::Time,
        _ => Kind::Number,
    }
}

/// What is asked or borne, in the unit of its limit: a difference of temperatures has no zero to be counted from.
pub fn amount(limit: Limit, si: f64, system: System) -> String {
    match (limit.row().unit, system) {
        ("K", System::Metric) => format!("{} K", digits(si)),
        ("K", System::Us) => format!("{} °F", digits(1.8 * si)),
        _ => value(kind_of(limit), si, system),
    }
}

/// A value in the units that people see; forces too small to feel are none.
pub fn value(kind: Kind, si: f64, system: System) -> String {
    let nothing = kind == Kind::Force && si.abs() < 0.05;
    show(kind, if nothing { 0.0 } else { si }, system)
}

/// An alternative's name in words.
pub fn name_words(name: &str, job: &Job) -> &'static str {
    match name {
        NEW_GEARS_ONLY if job.strip_happened() => "New gears only",
        NEW_GEARS_ONLY => "Check only",
        SMALLEST_SOUND => "Smallest sound",
        RECOMMENDED => "Recommended",
        _ => "Sturdiest",
    }
}

/// Alternatives that are the same repair, together.
pub fn repairs(alternatives: &[Alternative]) -> Vec<Vec<&Alternative>> {
    let mut repairs: Vec<Vec<&Alternative>> = Vec::new();
    for one in alternatives {
        match repairs.iter_mut().find(|same| same[0].cures == one.cures) {
            Some(same) => same.push(one),
            None => repairs.push(vec![one]),
        }
    }
    repairs
}

/// The names of one repair.
pub fn names(same: &[&Alternative], job: &Job) -> String {
    let words = same.iter().enumerate().map(|(place, one)| match place {
        0 => name_words(one.name, job).to_owned(),
        _ => name_words(one.name, job).to_lowercase(),
    });
    words.collect::<Vec<_>>().join(", ")
}

/// A repair that is drawn: its place in the plan, and its names.
pub(crate) struct Drawn<'a> {
    pub place: usize,
    pub one: &'a Alternative,
    pub name: String,
}

/// The repairs that differ, each under all its names.
pub(crate) fn drawn_repairs<'a>(verdict: &'a Verdict<'_>) -> Vec<Drawn<'a>> {
    let alternatives = &verdict.plan.alternatives;
    let place = |one: &Alternative| alternatives.iter().position(|other| other.name == one.name).unwrap_or(0);
    let drawn = |same: Vec<&'a Alternative>| {
        let one = *same.first()?;
        Some(Drawn { place: place(one), one, name: names(&same, verdict.job) })
    };
    repairs(alternatives).into_iter().filter_map(drawn).collect()
}

/// An amount in major units, for an axis; sums stay in minor ones.
pub(crate) fn major(money: Money) -> f64 {
    let text = money.to_string();
    text.split(' ').next().and_then(|number| number.parse().ok()).unwrap_or(0.0)
}
