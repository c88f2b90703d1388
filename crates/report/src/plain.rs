//! Chances and verdicts as a customer reads them: in words and heads, where the shop and its engineers read figures.

use crate::words::{name_words, sentence};
use toothsayer_job::{Job, State};
use toothsayer_verdict::{Alternative, Holds, Left, NEW_GEARS_ONLY, RECOMMENDED, SMALLEST_SOUND, STURDIEST};

/// Trucks of which some come back.
const TRUCKS: f64 = 100.0;

/// The word of the first row that a chance reaches.
fn word(p: f64, rows: &[(f64, &'static str)]) -> &'static str {
    rows.iter().find(|(from, _)| p >= *from).map_or("", |(_, word)| word)
}

/// Whether a cause is there.
pub(crate) fn there(p: f64) -> &'static str {
    word(p, &[(0.97, "it is there"), (0.6, "probably there"), (0.3, "perhaps there"), (0.0, "hardly there")])
}

/// Whether a cause took the teeth.
pub(crate) fn took(p: f64) -> &'static str {
    word(p, &[(0.6, "most likely the cause"), (0.35, "likely a cause"), (0.0, "perhaps a cause")])
}

/// Whether a cause that is there takes the next set.
pub(crate) fn takes(p: f64) -> &'static str {
    word(
        p,
        &[(0.6, "it would take the next set"), (0.3, "it may take the next set"), (0.0, "it could take the next set")],
    )
}

/// "motor loose in its mount (probably there; it may take the next set)".
pub fn left(left: &Left) -> String {
    format!("{} ({}; {})", left.name, there(left.present), takes(left.strips))
}

/// "about 16 in 100".
pub fn share(p: f64) -> String {
    match TRUCKS * p {
        trucks if trucks < 0.5 => "fewer than 1 in 100".to_owned(),
        trucks if trucks > 99.5 => "nearly all of 100".to_owned(),
        trucks => format!("about {trucks:.0} in 100"),
    }
}

/// "about 16 in 100 such trucks come back within 50 runs".
pub fn comes_back(p: f64, runs: f64) -> String {
    format!("{} such trucks come back within {runs:.0} runs", share(p))
}

/// Whether the truck holds as it leaves.
pub(crate) fn holds(state: State, holds: Holds) -> String {
    let when = match state {
        State::After => "As it was measured after the work",
        _ => "With this repair",
    };
    let told = match holds {
        Holds::Yes => "it holds.",
        Holds::Unsure => "it holds on all that is usual; it may fail.",
        Holds::No => "it does not hold yet: ask us what else would help.",
    };
    format!("{when} {told}")
}

/// What kind of repair each of these is that are one, in a sentence each.
pub fn kinds(same: &[&Alternative], job: &Job) -> Vec<String> {
    let told = |one: &&Alternative| match same.len() {
        1 => format!("{}.", sentence(kind(one.name, job))),
        _ => format!("{}: {}.", name_words(one.name, job), kind(one.name, job)),
    };
    same.iter().map(told).collect()
}

fn kind(name: &str, job: &Job) -> &'static str {
    match name {
        NEW_GEARS_ONLY if job.strip_happened() => "new gears, and nothing is done about what took the old ones",
        NEW_GEARS_ONLY => "the truck is checked, and nothing else is done",
        SMALLEST_SOUND => "the cheapest repair that cures what would surely take the next set",
        RECOMMENDED => "what we advise, for it costs least in the end with a comeback counted in",
        STURDIEST => "the least chance that it comes back",
        _ => "a repair of its own",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(p: f64, expected: &str) {
        assert_eq!(format!("{}; {}; {}; {}", there(p), took(p), takes(p), share(p)), expected);
    }

    #[test]
    fn every_chance_has_its_words() {
        check(0.0, "hardly there; perhaps a cause; it could take the next set; fewer than 1 in 100");
        check(0.45, "perhaps there; likely a cause; it may take the next set; about 45 in 100");
        check(0.69, "probably there; most likely the cause; it would take the next set; about 69 in 100");
        check(1.0, "it is there; most likely the cause; it would take the next set; nearly all of 100");
    }
}
