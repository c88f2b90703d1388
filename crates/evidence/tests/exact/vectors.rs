//! Networks of up to sixteen causes against a plain sum over every vector, and larger ones against their own bound.

use crate::sample::{Dice, Size};
use toothsayer_evidence::{Evidence, Finding, Mode, Network, NetworkParts, Posterior, State};

/// The target of exactness; a few hundred thousand rounded products stay far below it.
const EXACT: f64 = 1e-9;

fn prior(parts: &NetworkParts, vector: usize) -> f64 {
    let side = |(place, cause): (usize, &toothsayer_evidence::Cause)| match (cause.state, vector >> place & 1 == 1) {
        (State::Prior(p), true) => p,
        (State::Prior(p), false) => 1.0 - p,
        (State::Known(known), present) => f64::from(u8::from(known == present)),
    };
    parts.causes.iter().enumerate().map(side).product()
}

fn off(leak: f64, links: &[toothsayer_evidence::CauseLink], vector: usize) -> f64 {
    let present = links.iter().filter(|link| vector >> link.cause.0 & 1 == 1);
    present.fold(1.0 - leak, |off, link| off * (1.0 - link.probability))
}

fn mode_off(mode: &Mode, vector: usize) -> f64 {
    off(mode.leak, &mode.links, vector) * (1.0 - mode.trigger[vector & (mode.trigger.len() - 1)])
}

fn answered(finding: &Finding, vector: usize, modes: usize) -> f64 {
    let present = finding.modes.iter().filter(|link| modes >> link.mode.0 & 1 == 1);
    present.fold(off(finding.leak, &finding.causes, vector), |off, link| off * (1.0 - link.probability))
}

/// P(vector, evidence), the modes summed one pattern after the other.
fn weight(parts: &NetworkParts, evidence: &Evidence, vector: usize) -> f64 {
    let before = prior(parts, vector);
    if before == 0.0 {
        return 0.0;
    }
    let silent: Vec<f64> = parts.modes.iter().map(|mode| mode_off(mode, vector)).collect();
    let patterns = usize::from(evidence.some_mode)..1 << parts.modes.len();
    let pattern = |modes: usize| {
        let happened = silent.iter().enumerate();
        let chance: f64 = happened.map(|(m, off)| if modes >> m & 1 == 1 { 1.0 - off } else { *off }).product();
        let seen = parts.findings.iter().zip(&evidence.answers).filter_map(|(finding, answer)| {
            answer.map(|yes| {
                let no = answered(finding, vector, modes);
                if yes { 1.0 - no } else { no }
            })
        });
        chance * seen.product::<f64>()
    };
    before * patterns.map(pattern).sum::<f64>()
}

#[track_caller]
fn check(what: &str, seed: u64, got: f64, expected: f64, tolerance: f64) {
    assert!((got - expected).abs() <= tolerance, "{what}, seed {seed}: got {got}, expected {expected}");
}

#[test]
fn up_to_sixteen_causes_the_posterior_is_the_plain_sum() {
    for (seed, causes) in [(1, 8), (2, 12), (3, 14), (4, 16)] {
        let size = Size { causes, computed: 4, modes: 3, findings: 10 };
        let mut dice = Dice(seed);
        let parts = crate::sample::parts(&mut dice, size);
        let evidence = crate::sample::evidence(&mut dice, size.findings);
        let network = Network::new(parts.clone()).unwrap();
        let posterior = Posterior::new(&network, evidence.clone()).unwrap();
        let weights: Vec<f64> = (0..1 << causes).map(|vector| weight(&parts, &evidence, vector)).collect();
        let total: f64 = weights.iter().sum();
        check("evidence", seed, posterior.evidence_probability() / total, 1.0, EXACT);
        assert_eq!(posterior.neglected(), 0.0);
        for (place, present) in posterior.present().into_iter().enumerate() {
            let with = weights.iter().enumerate().filter(|(vector, _)| vector >> place & 1 == 1);
            check("present", seed, present, with.map(|(_, w)| w).sum::<f64>() / total, EXACT);
        }
    }
}

/// Causes as rare as a bench finds them, more than every vector is visited of.
fn rare(seed: u64, causes: usize) -> (NetworkParts, Evidence) {
    let size = Size { causes, computed: 4, modes: 3, findings: 14 };
    let mut dice = Dice(seed);
    let mut parts = crate::sample::parts(&mut dice, size);
    parts.causes.iter_mut().for_each(|cause| cause.state = State::Prior(0.02 + 0.1 * dice.unit()));
    (parts, crate::sample::evidence(&mut dice, size.findings))
}

#[test]
fn beyond_sixteen_causes_the_error_stays_within_its_stated_bound() {
    for seed in 1..4 {
        let (parts, evidence) = rare(seed, 18);
        let network = Network::new(parts.clone()).unwrap();
        let posterior = Posterior::new(&network, evidence.clone()).unwrap();
        let weights: Vec<f64> = (0..1 << 18).map(|vector| weight(&parts, &evidence, vector)).collect();
        let total: f64 = weights.iter().sum();
        let missed = (total - posterior.evidence_probability()) / posterior.evidence_probability();
        let bound = posterior.neglected();
        assert!(missed <= bound + EXACT && bound < 0.05, "seed {seed}: missed {missed}, bound {bound}");
        for (place, present) in posterior.present().into_iter().enumerate() {
            let with = weights.iter().enumerate().filter(|(vector, _)| vector >> place & 1 == 1);
            check("present", seed, present, with.map(|(_, w)| w).sum::<f64>() / total, bound + EXACT);
        }
    }
}
