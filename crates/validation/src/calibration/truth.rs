//! Trucks drawn from a network: which causes are there, how the teeth went, and what each check would show.

use toothsayer_evidence::{Cause, CauseLink, Drawn, Evidence, Finding, Mode, Network, NetworkParts, State};

/// A drawn truck.
#[derive(Clone, Debug)]
pub(super) struct Truth {
    /// Whether each cause is there.
    pub(super) causes: Vec<bool>,
    /// What each check would show.
    pub(super) answers: Vec<bool>,
}

impl Truth {
    /// A truck whose teeth went, drawn again until they did.
    pub(super) fn stripped(network: &Network, dice: &mut fastrand::Rng) -> Truth {
        loop {
            if let Some(Drawn { causes, answers, .. }) = Drawn::failed(network, &[], &mut || dice.f64()) {
                return Truth { causes, answers };
            }
        }
    }

    /// What is known when each check was made with a chance.
    pub(super) fn looked_at(&self, chance: f64, dice: &mut fastrand::Rng) -> Evidence {
        let answers = self.answers.iter().map(|answer| (dice.f64() < chance).then_some(*answer)).collect();
        Evidence { answers, some_mode: true }
    }
}

/// A book that is wrong about everything: causes twice as likely or half as likely in turn (odds), links a fifth
/// weaker, checks that show something without a cause half as often again.
pub(super) fn another_book(network: &Network) -> Result<Network, toothsayer_evidence::Error> {
    let odds = |prior: f64, times: f64| times * prior / (1.0 - prior + times * prior);
    let cause = |(place, cause): (usize, &Cause)| Cause {
        state: match cause.state {
            State::Prior(prior) => State::Prior(odds(prior, if place % 2 == 0 { 2.0 } else { 0.5 })),
            known => known,
        },
        ..cause.clone()
    };
    let weaker = |links: &[CauseLink]| {
        links.iter().map(|link| CauseLink { probability: 0.8 * link.probability, ..*link }).collect()
    };
    let finding = |finding: &Finding| Finding {
        leak: (1.5 * finding.leak).min(1.0),
        causes: weaker(&finding.causes),
        ..finding.clone()
    };
    let mode = |mode: &Mode| Mode { links: weaker(&mode.links), ..mode.clone() };
    Network::new(NetworkParts {
        causes: network.causes().iter().enumerate().map(cause).collect(),
        computed: network.modes().computed().to_vec(),
        modes: network.modes().rows().iter().map(mode).collect(),
        findings: network.findings().iter().map(finding).collect(),
    })
}
