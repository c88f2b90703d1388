//! A job's network as a file in the Bayesian Interchange Format (BIF 0.15), for any general library of such networks.

mod noisy_or;

use noisy_or::{NoisyOr, Parent};
use std::collections::BTreeSet;
use std::fmt::Write;
use toothsayer_evidence::{CauseLink, Evidence, Finding, Mode, ModeLink, Network, State};

/// The node that says whether some mode happened.
const STRIP: &str = "strip";

/// The text of a network: causes, modes and findings as variables of the states `no` and `yes`, and `strip`, which is
/// `yes` where some mode happened. A mode's table holds leak, links and q(S) together. What is known stands in comments:
/// `// evidence: NAME = yes`, decided causes among it. A node of more than twelve parents is split into nodes of its own
/// (`NAME__1` ...) whose "or" it is, which leaves every probability what it was.
///
/// Names are the network's, other characters than letters, digits, `-` and `_` replaced by `_`; a name that is taken
/// gets `_` behind it.
pub fn network_file(name: &str, network: &Network, evidence: &Evidence) -> String {
    let mut names = Names::default();
    let causes: Vec<String> = network.causes().iter().map(|cause| names.give(&cause.name)).collect();
    let modes: Vec<String> = network.modes().rows().iter().map(|mode| names.give(&mode.name)).collect();
    let findings: Vec<String> = network.findings().iter().map(|finding| names.give(&finding.name)).collect();
    let strip = names.give(STRIP);
    let computed: Vec<&str> = network.modes().computed().iter().map(|cause| causes[cause.0].as_str()).collect();
    let told = |(name, answer): (&String, &Option<bool>)| Some((name.clone(), (*answer)?));
    let mut known: Vec<(String, bool)> = findings.iter().zip(&evidence.answers).filter_map(told).collect();
    known.extend(evidence.some_mode.then(|| (strip.clone(), true)));
    let mut file = head(name);
    for (name, cause) in causes.iter().zip(network.causes()) {
        let prior = match cause.state {
            State::Prior(prior) => prior,
            State::Known(present) => f64::from(u8::from(present)),
        };
        if let State::Known(present) = cause.state {
            known.push((name.clone(), present));
        }
        NoisyOr::leaf(name, prior).write(&mut names, &mut file);
    }
    for (name, mode) in modes.iter().zip(network.modes().rows()) {
        of_mode(name, mode, &causes, &computed).write(&mut names, &mut file);
    }
    for (name, finding) in findings.iter().zip(network.findings()) {
        of_finding(name, finding, &causes, &modes).write(&mut names, &mut file);
    }
    NoisyOr { parents: modes.iter().map(|mode| Parent::sure(mode)).collect(), ..NoisyOr::leaf(&strip, 0.0) }
        .write(&mut names, &mut file);
    for (name, yes) in known {
        let _ = writeln!(file, "// evidence: {name} = {}", if yes { "yes" } else { "no" });
    }
    file
}

fn head(name: &str) -> String {
    let name: String = name.chars().filter(|letter| !letter.is_control() && *letter != '"').collect();
    format!("network \"{name}\" {{\n}}\n")
}

fn of_mode<'a>(name: &'a str, mode: &'a Mode, causes: &[String], computed: &[&str]) -> NoisyOr<'a> {
    let parents = mode.links.iter().map(|link| cause_link(link, causes)).collect();
    let table_parents = if mode.trigger.is_empty() { vec![] } else { computed.iter().map(|&id| id.into()).collect() };
    NoisyOr { name, leak: mode.leak, parents, table_parents, table: &mode.trigger }
}

fn of_finding<'a>(name: &'a str, finding: &Finding, causes: &[String], modes: &[String]) -> NoisyOr<'a> {
    let by_mode = |link: &ModeLink| Parent { name: modes[link.mode.0].clone(), probability: link.probability };
    let by_cause = finding.causes.iter().map(|link| cause_link(link, causes));
    NoisyOr {
        parents: by_cause.chain(finding.modes.iter().map(by_mode)).collect(),
        ..NoisyOr::leaf(name, finding.leak)
    }
}

fn cause_link(link: &CauseLink, causes: &[String]) -> Parent {
    Parent { name: causes[link.cause.0].clone(), probability: link.probability }
}

/// Names that are taken.
#[derive(Default)]
struct Names(BTreeSet<String>);

impl Names {
    /// A name that the format takes and nothing else has.
    fn give(&mut self, wanted: &str) -> String {
        let plain = |letter: char| letter.is_ascii_alphanumeric() || matches!(letter, '-' | '_');
        let mut name: String = wanted.chars().map(|letter| if plain(letter) { letter } else { '_' }).collect();
        if !name.starts_with(|first: char| first.is_ascii_alphabetic()) {
            name.insert(0, 'n');
        }
        while !self.0.insert(name.clone()) {
            name.push('_');
        }
        name
    }
}
