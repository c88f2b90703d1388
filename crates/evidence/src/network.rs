//! The network: independent causes, modes and findings as noisy-OR children, trigger tables; checked once.

use crate::error::Error;
use crate::ids::{CauseId, ModeId};

/// Most causes in a network.
pub const MAX_CAUSES: usize = 64;
/// Most causes that may be undecided at once.
pub const MAX_UNDECIDED: usize = 28;
/// Most computed causes: a trigger table has a row for each of their subsets.
pub const MAX_COMPUTED: usize = 10;
/// Most modes.
pub const MAX_MODES: usize = 8;

/// What is known of a cause before any finding.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum State {
    /// Present with this probability.
    Prior(f64),
    /// Known to be present or absent.
    Known(bool),
}

/// One binary cause, independent of the others before evidence.
#[derive(Clone, Debug, PartialEq)]
pub struct Cause {
    /// Name, for messages.
    pub name: String,
    /// Prior, or what is known.
    pub state: State,
}

/// An arrow from a cause: if present, it turns the child on with this probability.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CauseLink {
    /// The parent.
    pub cause: CauseId,
    /// Probability that the parent alone turns the child on.
    pub probability: f64,
}

/// An arrow from a mode: if present, it turns the finding on with this probability.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ModeLink {
    /// The parent.
    pub mode: ModeId,
    /// Probability that the parent alone turns the child on.
    pub probability: f64,
}

/// One way to fail: P(off | causes) = (1 - leak) (1 - q(S)) prod over present linked causes (1 - p).
#[derive(Clone, Debug, PartialEq)]
pub struct Mode {
    /// Name, for messages.
    pub name: String,
    /// Probability without any cause.
    pub leak: f64,
    /// Links from causes.
    pub links: Vec<CauseLink>,
    /// q(S) for every subset S of the computed causes, bit i for the i-th of them, the empty set first;
    /// an empty list means that nothing is computed for this mode.
    pub trigger: Vec<f64>,
}

/// One thing that is seen or not: P(no | parents) = (1 - leak) prod over present parents (1 - p).
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// Name, for messages.
    pub name: String,
    /// Probability of "yes" without any parent.
    pub leak: f64,
    /// Links from causes.
    pub causes: Vec<CauseLink>,
    /// Links from modes.
    pub modes: Vec<ModeLink>,
}

/// The modes of a network with their trigger tables, checked; a second set of them describes another horizon.
#[derive(Clone, Debug, PartialEq)]
pub struct Modes {
    pub(crate) computed: Vec<CauseId>,
    pub(crate) rows: Vec<Mode>,
    pub(crate) n_causes: usize,
}

impl Modes {
    /// Checks the modes against a network of `n_causes` causes.
    pub fn new(n_causes: usize, computed: Vec<CauseId>, rows: Vec<Mode>) -> Result<Self, Error> {
        limit("computed causes", computed.len(), MAX_COMPUTED)?;
        limit("modes", rows.len(), MAX_MODES)?;
        places("the list of computed causes", "cause", computed.iter().map(|id| id.0), n_causes)?;
        for mode in &rows {
            check_mode(mode, computed.len(), n_causes)?;
        }
        Ok(Self { computed, rows, n_causes })
    }

    /// The causes whose joint effect is tabulated, by bit.
    pub fn computed(&self) -> &[CauseId] {
        &self.computed
    }

    /// The modes, in order.
    pub fn rows(&self) -> &[Mode] {
        &self.rows
    }

    /// How many modes there are.
    pub fn len(&self) -> usize {
        self.rows.len()
    }

    /// Whether there is no mode.
    pub fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }
}

/// What a network is made of.
#[derive(Clone, Debug, PartialEq)]
pub struct NetworkParts {
    /// The causes.
    pub causes: Vec<Cause>,
    /// The causes whose joint effect on the modes is tabulated, by bit.
    pub computed: Vec<CauseId>,
    /// The modes.
    pub modes: Vec<Mode>,
    /// The findings.
    pub findings: Vec<Finding>,
}

/// A checked network.
#[derive(Clone, Debug, PartialEq)]
pub struct Network {
    pub(crate) causes: Vec<Cause>,
    pub(crate) modes: Modes,
    pub(crate) findings: Vec<Finding>,
}

impl Network {
    /// Checks every probability, place and table.
    pub fn new(parts: NetworkParts) -> Result<Self, Error> {
        let NetworkParts { causes, computed, modes, findings } = parts;
        limit("causes", causes.len(), MAX_CAUSES)?;
        let undecided = causes.iter().filter(|cause| matches!(cause.state, State::Prior(_))).count();
        limit("undecided causes", undecided, MAX_UNDECIDED)?;
        for cause in &causes {
            if let State::Prior(prior) = cause.state {
                probability(prior, || format!("prior of `{}`", cause.name))?;
            }
        }
        let modes = Modes::new(causes.len(), computed, modes)?;
        for finding in &findings {
            check_finding(finding, causes.len(), modes.len())?;
        }
        Ok(Self { causes, modes, findings })
    }

    /// The causes, in order.
    pub fn causes(&self) -> &[Cause] {
        &self.causes
    }

    /// The modes with their tables.
    pub fn modes(&self) -> &Modes {
        &self.modes
    }

    /// The findings, in order.
    pub fn findings(&self) -> &[Finding] {
        &self.findings
    }
}

fn check_mode(mode: &Mode, n_computed: usize, n_causes: usize) -> Result<(), Error> {
    let whose = format!("mode `{}`", mode.name);
    probability(mode.leak, || format!("leak of {whose}"))?;
    check_cause_links(&whose, &mode.links, n_causes)?;
    let need = 1 << n_computed;
    if !mode.trigger.is_empty() && mode.trigger.len() != need {
        return Err(Error::TableLength { mode: mode.name.clone(), got: mode.trigger.len(), need });
    }
    for (row, q) in mode.trigger.iter().enumerate() {
        probability(*q, || format!("trigger row {row} of {whose}"))?;
    }
    Ok(())
}

fn check_finding(finding: &Finding, n_causes: usize, n_modes: usize) -> Result<(), Error> {
    let whose = format!("finding `{}`", finding.name);
    probability(finding.leak, || format!("leak of {whose}"))?;
    check_cause_links(&whose, &finding.causes, n_causes)?;
    places(&whose, "mode", finding.modes.iter().map(|link| link.mode.0), n_modes)?;
    for link in &finding.modes {
        probability(link.probability, || format!("link from mode number {} to {whose}", link.mode.0))?;
    }
    Ok(())
}

fn check_cause_links(whose: &str, links: &[CauseLink], n_causes: usize) -> Result<(), Error> {
    places(whose, "cause", links.iter().map(|link| link.cause.0), n_causes)?;
    for link in links {
        probability(link.probability, || format!("link from cause number {} to {whose}", link.cause.0))?;
    }
    Ok(())
}

fn probability(value: f64, what: impl FnOnce() -> String) -> Result<(), Error> {
    if (0.0..=1.0).contains(&value) { Ok(()) } else { Err(Error::Probability { what: what(), value }) }
}

fn limit(what: &'static str, count: usize, limit: usize) -> Result<(), Error> {
    if count <= limit { Ok(()) } else { Err(Error::TooMany { what, count, limit }) }
}

fn places(whose: &str, what: &'static str, used: impl Iterator<Item = usize>, count: usize) -> Result<(), Error> {
    let mut seen = vec![false; count];
    for place in used {
        match seen.get_mut(place) {
            None => return Err(Error::NoSuch { whose: whose.to_owned(), what, place, count }),
            Some(true) => return Err(Error::Twice { whose: whose.to_owned(), what, place }),
            Some(slot) => *slot = true,
        }
    }
    Ok(())
}
