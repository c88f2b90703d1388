//! How long it takes to weigh 24 causes by 60 findings, with the information of every open finding.

use std::time::Instant;
use toothsayer_evidence::{
    Cause, CauseId, CauseLink, Error, Evidence, Finding, FindingId, Mode, ModeId, ModeLink, Network, NetworkParts,
    Posterior, State,
};

const CAUSES: usize = 24;
const COMPUTED: usize = 8;
const MODES: usize = 6;
const FINDINGS: usize = 60;

/// Causes as rare, and links as many, as in a bench's book; six causes are known, as a build decides them.
fn network() -> Result<Network, Error> {
    let cause = |place: usize| Cause {
        name: format!("cause {place}"),
        state: if place >= CAUSES - 6 {
            State::Known(place.is_multiple_of(2))
        } else {
            State::Prior(0.02 + 0.005 * (place % 17) as f64)
        },
    };
    let link = |place: usize, probability: f64| CauseLink { cause: CauseId(place % CAUSES), probability };
    let mode = |place: usize| Mode {
        name: format!("mode {place}"),
        leak: 0.01,
        links: (0..4).map(|n| link(COMPUTED + place * 3 + n, 0.3)).collect(),
        trigger: (0..1_usize << COMPUTED).map(|set| 1.0 - 0.8_f64.powi(set.count_ones() as i32)).collect(),
    };
    let finding = |place: usize| Finding {
        name: format!("finding {place}"),
        leak: 0.04,
        causes: (0..3).map(|n| link(place * 5 + n * 7, 0.8)).collect(),
        modes: (0..1)
            .filter(|_| place.is_multiple_of(5))
            .map(|_| ModeLink { mode: ModeId(place % MODES), probability: 0.8 })
            .collect(),
    };
    Network::new(NetworkParts {
        causes: (0..CAUSES).map(cause).collect(),
        computed: (0..COMPUTED).map(CauseId).collect(),
        modes: (0..MODES).map(mode).collect(),
        findings: (0..FINDINGS).map(finding).collect(),
    })
}

fn main() -> Result<(), Error> {
    let network = network()?;
    let evidence = Evidence { some_mode: true, ..Evidence::none(FINDINGS) };
    let evidence = evidence.with(FindingId(3), true).with(FindingId(7), false).with(FindingId(11), false);
    for round in 1..=3 {
        let start = Instant::now();
        let posterior = Posterior::new(&network, evidence.clone())?;
        let weighed = start.elapsed();
        let bits: f64 = posterior.bits().into_iter().flatten().sum();
        println!(
            "round {round}: {CAUSES} causes, {FINDINGS} findings: posterior {weighed:.1?}, with every open finding's bits \
             {:.1?} ({bits:.3} bits in all, at most {:.1e} neglected)",
            start.elapsed(),
            posterior.neglected()
        );
    }
    Ok(())
}
