//! Cases drawn from a network: which causes are there, how it failed, and what each finding would show.

use crate::network::{Cause, CauseLink, Finding, Mode, Modes, Network, State};

/// A drawn case.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Drawn {
    /// Whether each cause is there.
    pub causes: Vec<bool>,
    /// Whether it failed in each mode.
    pub modes: Vec<bool>,
    /// What each finding would show.
    pub answers: Vec<bool>,
}

impl Drawn {
    /// Any case. `dice` gives numbers of [0, 1), evenly spread.
    pub fn any(network: &Network, dice: &mut impl FnMut() -> f64) -> Drawn {
        let (causes, modes) = parents(network, &[], dice);
        Self::seen(network, causes, modes, dice)
    }

    /// A case that failed in some mode, drawn again until one does: a network in which nothing can fail gives none.
    /// `left` marks causes that are there for certain, by their place.
    pub fn failed(network: &Network, left: &[bool], dice: &mut impl FnMut() -> f64) -> Option<Drawn> {
        let found =
            (0..MOST_DRAWS).map(|_| parents(network, left, dice)).find(|(_, modes)| modes.iter().any(|mode| *mode));
        found.map(|(causes, modes)| Self::seen(network, causes, modes, dice))
    }

    fn seen(network: &Network, causes: Vec<bool>, modes: Vec<bool>, dice: &mut impl FnMut() -> f64) -> Drawn {
        let shows = |finding: &Finding| dice() < 1.0 - quiet(finding, &causes, &modes);
        Drawn { answers: network.findings().iter().map(shows).collect(), causes, modes }
    }
}

/// Draws until it is given up: a network that fails once in ten thousand cases still gives one.
const MOST_DRAWS: usize = 1_000_000;

fn parents(network: &Network, left: &[bool], dice: &mut impl FnMut() -> f64) -> (Vec<bool>, Vec<bool>) {
    let left = left.iter().copied().chain(std::iter::repeat(false));
    let causes: Vec<bool> =
        network.causes().iter().zip(left).map(|(cause, left)| left || is_there(cause, dice)).collect();
    let modes = network.modes();
    let failed = modes.rows().iter().map(|mode| dice() < modes.chance(mode, &causes)).collect();
    (causes, failed)
}

fn is_there(cause: &Cause, dice: &mut impl FnMut() -> f64) -> bool {
    match cause.state {
        State::Prior(prior) => dice() < prior,
        State::Known(known) => known,
    }
}

fn silent(links: &[CauseLink], causes: &[bool]) -> f64 {
    let there = links.iter().filter(|link| causes.get(link.cause.0).copied().unwrap_or(false));
    there.map(|link| 1.0 - link.probability).product()
}

fn quiet(finding: &Finding, causes: &[bool], modes: &[bool]) -> f64 {
    let there = finding.modes.iter().filter(|link| modes[link.mode.0]);
    let by_modes: f64 = there.map(|link| 1.0 - link.probability).product();
    (1.0 - finding.leak) * silent(&finding.causes, causes) * by_modes
}

impl Modes {
    /// P(mode | causes) = 1 - (1 - leak)(1 - q(S)) prod (1 - p), over the causes that are there.
    pub fn chance(&self, mode: &Mode, causes: &[bool]) -> f64 {
        let computed = self.computed().iter().enumerate();
        let there = computed.filter(|(_, cause)| causes.get(cause.0).copied().unwrap_or(false));
        let set: usize = there.map(|(bit, _)| 1 << bit).sum();
        let triggered = mode.trigger.get(set).copied().unwrap_or(0.0);
        1.0 - (1.0 - mode.leak) * (1.0 - triggered) * silent(&mode.links, causes)
    }

    /// P(some mode | causes).
    pub fn chance_of_some(&self, causes: &[bool]) -> f64 {
        1.0 - self.rows().iter().map(|mode| 1.0 - self.chance(mode, causes)).product::<f64>()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ids::{CauseId, ModeId};
    use crate::network::{ModeLink, NetworkParts};

    /// Two causes, one of them computed; a mode; a finding that only the mode shows.
    fn network() -> Network {
        let cause = |name: &str, state| Cause { name: name.into(), state };
        let link = CauseLink { cause: CauseId(0), probability: 0.5 };
        let mode = Mode { name: "broken".into(), leak: 0.1, links: vec![link], trigger: vec![0.0, 0.8] };
        let shows = ModeLink { mode: ModeId(0), probability: 1.0 };
        Network::new(NetworkParts {
            causes: vec![cause("loose", State::Prior(0.3)), cause("heavy", State::Known(true))],
            computed: vec![CauseId(1)],
            modes: vec![mode],
            findings: vec![Finding { name: "teeth gone".into(), leak: 0.0, causes: vec![], modes: vec![shows] }],
        })
        .unwrap()
    }

    #[test]
    fn a_modes_chance_is_the_product_written_out() {
        let network = network();
        for (causes, expected) in [
            ([false, false], 0.1),
            ([true, false], 1.0 - 0.9 * 0.5),
            ([false, true], 1.0 - 0.9 * 0.2),
            ([true, true], 1.0 - 0.9 * 0.2 * 0.5),
        ] {
            let found = network.modes().chance_of_some(&causes);
            assert!((found - expected).abs() < 1e-12, "{causes:?}: {found}");
        }
    }

    #[test]
    fn drawn_cases_follow_the_network() {
        let network = network();
        // Numbers of the golden ratio's multiples fill [0, 1) evenly.
        let mut place = 0_u32;
        let mut dice = || {
            place += 1;
            (f64::from(place) * 0.618_033_988_749_894_9).fract()
        };
        let drawn: Vec<Drawn> = (0..2_000).map(|_| Drawn::any(&network, &mut dice)).collect();
        assert!(drawn.iter().all(|case| case.causes[1] && case.answers[0] == case.modes[0]));
        let failed = Drawn::failed(&network, &[true], &mut dice).unwrap();
        assert!(failed.modes[0] && failed.causes[0]);
        let never = Mode { leak: 0.0, links: vec![], trigger: vec![], ..network.modes().rows()[0].clone() };
        let parts = NetworkParts { causes: vec![], computed: vec![], modes: vec![never], findings: vec![] };
        assert_eq!(Drawn::failed(&Network::new(parts).unwrap(), &[], &mut dice), None);
    }
}
